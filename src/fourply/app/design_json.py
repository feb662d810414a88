"""The design of one work as data for a page: what is drawn, what is measured, what can be held, what is found.

The page draws from this and reckons nothing: every length, word and colour comes from here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from fourply.app.design_edit import Designed, Edit
from fourply.app.design_groups import groups
from fourply.app.design_handles import Handle, border_figure, handles
from fourply.app.design_places import in_front, in_section
from fourply.app.live_json import front_json
from fourply.app.remedies import Remedy
from fourply.drawing.shapes import Box, rectangle
from fourply.measure.size import Edges, Rect
from fourply.sheets.front_colours import fills
from fourply.sheets.front_view import front_view, rims_of
from fourply.sheets.section_place import section_place
from fourply.sheets.section_view import section_view
from fourply.sheets.view import SectionView
from fourply.trade.findings import Finding, Level
from fourply.trade.package import Package
from fourply.trade.parts import mat_name
from fourply.trade.treatment import WindowFrom
from fourply.working.explain import explain
from fourply.working.words import Words
from fourply.working.working import Figures

type Data = dict[str, Any]

_WOOD = "#d8c29a"


def design_json(designed: Designed) -> Data:
    """Return what a page needs to draw a work and all that is said beside it."""
    faults = [fault.to_json() for fault in designed.found.faults]
    package = designed.package
    listed = designed.listed
    head = {
        "number": listed.work.id,
        "title": listed.work.title,
        "treatment": listed.treatment,
        "changes": len(listed.own.values),
        "version": designed.record.version,
        "done": designed.done,
        "faults": faults,
    }
    if package is None:
        return head | {"front": None, "section": None, "groups": [], "handles": [], "findings": []}
    words = Words(metric=designed.parts.show.unit.is_metric)
    front, section, held = front_view(package, words), section_view(package, words), handles(package)
    seen = {"fills": [each._asdict() for each in fills(package, front.outlines)], "sheets": [*_sheets(package)]}
    return head | {
        "front": front_json(front) | seen,
        "section": _section(package, section, words),
        "groups": groups(designed, package, words),
        "handles": [*_handles(held, words)],
        "findings": [*_findings(package, held, words)],
    }


def _handles(held: Iterable[Handle], words: Words) -> Iterator[Data]:
    for each in held:
        yield {
            "name": each.name,
            "says": each.says,
            "outline": each.outline,
            "rule": each.rule,
            "value": words.write(each.value),
            "now": each.value.as_mm,
            "figure": each.figure,
            "at": each.at,
            "way": each.way,
        }


def _findings(package: Package, held: Sequence[Handle], words: Words) -> Iterator[Data]:
    for each in package.findings:
        if each.level is not Level.HOLDS:
            yield {
                "rule": each.rule,
                "level": each.level.value,
                "place": each.place,
                "says": each.sentence(words.write),
                "remedy": each.advice(words.write),
                "at": in_front(package, held, each.place),
                "deep": in_section(each.place),
            }


# ── the front view in colour ─────────────────────────────────────────────────────────────────────────────────────


def _sheets(package: Package) -> Iterator[Data]:
    """Yield where the sheets and their images lie; of what a mat covers nothing is seen."""
    rims = rims_of(package)
    for place in package.arts:
        floats = package.treatment.window is WindowFrom.FLOAT
        yield {
            "sheet": rectangle(_box(place.sheet, rims)) if floats else None,
            "image": _box(place.image or place.sheet, rims)._asdict(),
            "whole": place.image is None,
        }


def _box(place: Rect, rims: Edges) -> Box:
    left, top = (rims.left + place.left).as_mm, (rims.top + place.top).as_mm
    return Box(left, top, left + place.size.width.as_mm, top + place.size.height.as_mm)


# ── the section ──────────────────────────────────────────────────────────────────────────────────────────────────


def _section(package: Package, view: SectionView, words: Words) -> Data:
    place = section_place(package)
    hole = place.hole(package.mats[0])
    border = hole.borders.bottom
    materials = {layer.name: layer.material for layer in package.stack.layers}
    colours = {mat_name(mat): mat.board.colour for mat in package.mats}
    return {
        "layers": [_layer(each.name, each.areas, materials, colours) for each in view.layers],
        "rail": view.rail,
        "wood": package.frame.moulding.colour if package.frame else _WOOD,
        "moulding": package.frame.moulding.name if package.frame else "",
        "bottom": view.bottom,
        "low": view.cut_low,
        "high": view.cut_high,
        "top": view.top,
        "depths": [[dim._asdict() for dim in tier] for tier in view.depths],
        "beside": [each._asdict() for each in view.beside],
        "point": view.point,
        "notes": view.notes,
        "border": {
            "start": 0.0,
            "end": border.as_mm,
            "text": words.write(border),
            "figure": border_figure(package, "bottom"),
        },
    }


def _layer(said: str, areas: Iterable[object], materials: Mapping[str, str], colours: Mapping[str, str]) -> Data:
    name = max((each for each in materials if said.startswith(each)), key=len, default=said.rpartition(" ")[0])
    thickness = said.removeprefix(name).strip()
    material = materials.get(name, "")
    return {
        "kind": "mat" if name in colours else name,
        "label": name,
        "thickness": thickness,
        "material": "" if material in {name, ""} else material,
        "colour": colours.get(name, ""),
        "areas": areas,
    }


# ── what would put it right ──────────────────────────────────────────────────────────────────────────────────────


def remedies_json(found: Iterable[tuple[Finding, Iterable[Remedy]]]) -> Data:
    """Return what would put each finding right: the words of a button, and the change that it makes."""
    return {
        "remedies": [
            {"rule": finding.rule, "place": finding.place, "says": each.says, "change": _change(each.edit)}
            for finding, offered in found
            for each in offered
        ]
    }


def _change(edit: Edit) -> Data:
    return {"handle": edit.handle, "text": edit.text, "rules": dict(edit.rules), "back": edit.back}


# ── why ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def why_json(designed: Designed, figure: str) -> Data:
    """Return the working of one figure: its terms with their values, the sum, the reason; raises Unknown."""
    package, words = designed.package, Words(metric=designed.parts.show.unit.is_metric)
    figures: Figures = package.figures if package else {}
    lines = {line.figure: line for line in explain(figures, figure, words.write)}
    line, working = lines[figure], figures[figure]
    return {
        "figure": figure,
        "value": words.with_unit(working.value),
        "arithmetic": line.arithmetic,
        "reason": line.reason,
        "source": line.source,
        "terms": [
            {
                "label": name.replace("_", " "),
                "figure": operand,
                "value": lines[operand].value,
                "says": lines[operand].arithmetic or lines[operand].reason,
                "given": not lines[operand].arithmetic,
            }
            for name, operand in working.operands
            if operand in lines
        ],
    }
