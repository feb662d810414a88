"""The figures of a work in groups, as they stand beside its drawing: each row with its paths and what it is set by.

A row whose rule is the work's own says so, and what its treatment would have.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fourply.app.design_edit import Designed
from fourply.app.design_handles import SIDES, border_figure
from fourply.files.rules import TREATMENT
from fourply.trade.package import Package
from fourply.trade.parts import mat_name
from fourply.trade.treatment import BorderMeans
from fourply.working.words import Words

type Data = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its label, the paths of the figures in it, and the rules that set it; `join` stands between.

    What is `money` is told with the currency of the show.
    """

    label: str
    paths: tuple[str, ...]
    rules: tuple[str, ...] = ()
    join: str = " × "
    money: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Rows under a heading, with a word on what they are measured to and the rules that have no row of their own."""

    title: str
    rows: tuple[Row, ...]
    note: str = ""
    rules: tuple[str, ...] = ()


def groups(designed: Designed, package: Package, words: Words) -> list[Data]:
    """Return the groups as data, those without any figure left out."""
    own, figures, currency = designed.listed.own.values, package.figures, designed.parts.show.currency

    def row(each: Row) -> Data:
        end = f" {currency}" if each.money else ""
        return {
            "label": each.label,
            "figures": [{"path": path, "text": words.write(figures[path].value) + end} for path in each.paths],
            "join": each.join,
            "rules": each.rules,
        }

    found = []
    for group in _groups(package, words):
        rows = [row(each) for each in group.rows if each.paths and all(path in figures for path in each.paths)]
        said = [*dict.fromkeys([key for each in group.rows for key in each.rules] + [*group.rules])]
        here = [_here(key, own[key], designed) for key in said if key in own]
        if rows or here:
            found.append({"key": group.title, "title": group.title, "note": group.note, "rows": rows, "here": here})
    return found


def _here(key: str, value: object, designed: Designed) -> Data:
    """Return what is said of one rule that is the work's own."""
    under = designed.under
    return {
        "rule": key,
        "says": f"{key.replace('_', ' ')} {rule_text(key, value)}",
        "under": rule_text(key, under.values[key]),
        "of": under.name.removeprefix("treatment "),
    }


def _groups(package: Package, words: Words) -> Iterator[Group]:
    yield Group("Window", tuple(_window(package)), rules=("shape", "window", "openings", "layout"))
    yield Group("Borders", tuple(_borders(package, words)), _measured(package), ("borders", "border_means", "outer"))
    yield Group("Mats", tuple(_mats(package)), rules=("mats", "bevel_deg", "stack_cut"))
    yield Group("Accents", tuple(_accents(package)), rules=("grooves", "lines", "inlay", "title", "sink"))
    yield Group("Frame", tuple(_frame()), rules=("moulding", "moulding_sides", "frame_sides", "frame", "service"))
    yield Group("Stack", tuple(_stack()), rules=("mount", "hinge"))


def _window(package: Package) -> Iterator[Row]:
    last, several = package.mats[-1], len(package.arts) > 1
    for number, place in enumerate(package.arts, start=1):
        s, end = place.scope, f" {number}" if several else ""
        yield Row(f"Art, sheet{end}", (f"{s}art.width", f"{s}art.height"))
        yield Row(f"Image{end}", (f"{s}image.width", f"{s}image.height"))
        yield Row(f"Overlap{end}", (f"{s}treatment.overlap",), ("overlap", "overlap_least"))
        yield Row(
            f"Gap round the sheet{end}", (f"{s}treatment.float_gap",), ("float_gap", "float_lift", "float_setback")
        )
        paper = tuple(f"{s}treatment.paper_{side}" for side in ("sides", "top", "bottom"))
        yield Row(
            f"Paper beside, above, below{end}", paper, tuple(f"paper_{x}" for x in ("sides", "top", "bottom")), ", "
        )
        yield Row(f"Opening{end} at sight", (f"{s}{last.path}.opening.width", f"{s}{last.path}.opening.height"))
        yield Row(f"Opening{end} at face", (f"{s}{last.path}.face.width", f"{s}{last.path}.face.height"))


def _measured(package: Package) -> str:
    seen = package.treatment.border_means is BorderMeans.VISIBLE
    return "seen beside the lip" if seen else "to the back line of the top mat"


def _borders(package: Package, words: Words) -> Iterator[Row]:
    figures = package.figures
    seen = package.treatment.border_means is BorderMeans.VISIBLE
    paths = {side: f"frame.visible.{side}" if seen else border_figure(package, side) for side in SIDES}
    alike: dict[str, list[str]] = {}
    for side in ("top", "left", "right", "bottom"):
        if paths[side] in figures:
            alike.setdefault(words.write(figures[paths[side]].value), []).append(side)
    for sides in alike.values():
        rules = ("bottom",) if sides == ["bottom"] else ("border", "bottom") if "bottom" in sides else ("border",)
        yield Row(_sides(sides), (paths[sides[0]],), rules)
    yield Row("Package", ("outer.width", "outer.height"))


def _sides(sides: Sequence[str]) -> str:
    """Return what sides together are called.

    >>> _sides(["top", "left", "right"]), _sides(["left", "right"]), _sides(["bottom"])
    ('Top and sides', 'Sides', 'Bottom')
    """
    if len(sides) == len(SIDES):
        return "All four"
    found = ["sides" if each == "left" else each for each in sides if each != "right" or "left" not in sides]
    if "left" in sides and "right" not in sides:
        found = list(sides)
    return " and ".join(found).capitalize()


def _mats(package: Package) -> Iterator[Row]:
    for mat in package.mats:
        name = mat_name(mat)
        if mat.number > 1 and not mat.hidden:
            scope = mat.holes[0].scope
            yield Row(f"Guide difference, {name}", (f"{scope}{mat.path}.reveal",), ("mats",))
            yield Row(f"Flat strip of {mat.board.name}", (f"{scope}{mat.path}.strip",))
        yield Row(f"{name.capitalize()}, blank", (f"{mat.path}.blank.width", f"{mat.path}.blank.height"))


def _accents(package: Package) -> Iterator[Row]:
    for number, groove in enumerate(package.mats[0].all_grooves, start=1):
        end = f" {number}" if len(package.mats[0].all_grooves) > 1 else ""
        yield Row(f"Groove{end}, outside window", (f"treatment.groove.{number}.distance",), ("grooves",))
        yield Row(f"Strip inside groove{end}", (f"{groove.path}.strip",))
    for number, _ in enumerate(package.treatment.lines, start=1):
        yield Row(f"Line {number}, outside face", (f"treatment.line.{number}.distance",), ("lines",))
    yield Row("Inlay, outside window", ("treatment.inlay.distance",), ("inlay",))
    yield Row("Inlay, width", ("treatment.inlay.width",), ("inlay",))
    yield Row("Title opening", ("title.window.width", "title.window.height"), ("title",))


def _frame() -> Iterator[Row]:
    yield Row("Rabbet", ("frame.rabbet.width", "frame.rabbet.height"), ("allowance",))
    yield Row("Sight", ("frame.sight.width", "frame.sight.height"))
    yield Row("Outside", ("frame.outside.width", "frame.outside.height"))
    yield Row("Depth used", ("stack.depth",))
    yield Row("Depth of the rabbet", ("moulding.rabbet_depth",))
    yield Row("Spare for the points", ("stack.spare",), ("points",))
    yield Row("Cut to size, by the supplier", ("frame.chop.price",), money=True)


def _stack() -> Iterator[Row]:
    yield Row("Glass to art", ("art.to_glazing",), ("spacer", "fillet"))
    yield Row("Glazing", ("glazing.width", "glazing.height"), ("glazing",))
    yield Row("Backing", ("backing.width", "backing.height"), ("backing",))


# ── rules as text ────────────────────────────────────────────────────────────────────────────────────────────────


def rule_text(key: str, value: object) -> str:
    """Return a rule as text that is read back as the same rule.

    >>> from fourply.trade.treatment import INCH
    >>> rule_text("mats", INCH.mats), rule_text("bottom", INCH.bottom), rule_text("stack_cut", True)
    ('white 4-ply', 'equal', 'yes')
    """
    printed = TREATMENT[key].print(value)
    if key == "mats" and isinstance(printed, list):
        return " + ".join(_mat_text(each) for each in printed)
    return _text(printed)


def _mat_text(mat: Mapping[str, object]) -> str:
    reveal = "" if mat["reveal"] == "0 in" else f" @ {mat['reveal']}"
    flat = " flat" if mat["means"] == "flat" and reveal else ""
    reverse = " reverse" if mat["bevel"] == "reverse" else ""
    more = f", {mat['shape']}" if isinstance(mat.get("shape"), str) else ""
    more += f", set back {mat['setback']}" if "setback" in mat else ""
    return f"{mat['board']}{reveal}{flat}{reverse}{more}"


def _text(printed: object) -> str:
    """Return a printed rule on one line: tables as TOML writes them in line."""
    if isinstance(printed, bool):
        return "yes" if printed else "no"
    if isinstance(printed, dict | list):
        return _toml(printed)
    return str(printed)


def _toml(value: object) -> str:
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{key} = {_toml(each)}' for key, each in value.items())} }}"
    if isinstance(value, Iterable) and not isinstance(value, str):
        return f"[{', '.join(_toml(each) for each in value)}]"
    if isinstance(value, bool):
        return "true" if value else "false"
    return json.dumps(value, ensure_ascii=False)
