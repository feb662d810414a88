"""The rules of a treatment as show files and lists write them.

One key a rule, named as the field of the treatment, and one convertor a key.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import cast

from fourply.errors import BadInput, BadLength
from fourply.files.accents import GROOVES, INLAY, LAYOUT, LINES, SINK, TITLE
from fourply.files.convertors import (
    DEGREES,
    FLAG,
    GRID,
    LENGTH,
    NAME,
    TEXT,
    WHOLE,
    Convertor,
    Reading,
    measured,
    members,
    one_of,
    parse_length_in,
    parse_ratio,
    parse_size,
    plain,
    print_length,
    print_size,
    words,
)
from fourply.files.mats import MATS
from fourply.files.shapes import SHAPE
from fourply.measure.notation import parse_length
from fourply.measure.size import Edges, Size
from fourply.trade.treatment import (
    OPENING_FIELDS,
    BorderMeans,
    Bottom,
    BottomRule,
    HingeKind,
    Layer,
    Service,
    WindowFrom,
)

MOST_OPENINGS = 60
"""So many sheets may hang in one mat."""

_EDGES = ("top", "right", "bottom", "left")
_EDGE = re.compile(r"(top|right|bottom|left)[\s:=]+([^,;]+)(?:[,;]\s*|$)", re.IGNORECASE)


def _parse_edges(raw: object, reading: Reading) -> Edges | None:
    given: dict[str, object] = raw if isinstance(raw, dict) else _edges_in(words(raw))
    if not given:
        return None
    return Edges(**members(given, _EDGES, parse_length_in, reading))


def _edges_in(text: str) -> dict[str, object]:
    if text.lower() in {"", "none"}:
        return {}
    found = {name.lower(): length.strip() for name, length in _EDGE.findall(text)}
    if "".join(_EDGE.split(text)[::3]).strip():
        raise BadInput(text, "write top 3 in, right 3 in, bottom 4 in, left 3 in")
    return dict(found)


def _print_edges(edges: Edges | None) -> str:
    return ", ".join(f"{name} {print_length(length)}" for name, length in edges.named()) if edges else "none"


def _parse_outer(raw: object, reading: Reading) -> Size | None:
    return None if isinstance(raw, str) and raw.strip().lower() in {"", "none"} else parse_size(raw, reading)


_BARE_BOTTOMS = MappingProxyType(
    {rule.value: rule for rule in BottomRule if rule not in {BottomRule.AMOUNT, BottomRule.RATIO, BottomRule.WIDTH}}
)


def _parse_bottom(raw: object, reading: Reading) -> Bottom:
    """Return the rule from `optical`, `+1/2 in` (more than the top), `x 4/3` (times the top), `3 1/2 in` (as wide)."""
    text = measured(raw)
    if plain(text) in _BARE_BOTTOMS:
        return Bottom(_BARE_BOTTOMS[plain(text)])
    if text.startswith("+"):
        return Bottom(BottomRule.AMOUNT, amount=parse_length(text[1:], reading.unit))
    if found := re.fullmatch(r"[x×]\s*(.+)|(.+)\s+times", text):
        return _bottom_ratio(text, parse_ratio(found[1] or found[2]))
    try:
        return Bottom(BottomRule.WIDTH, amount=parse_length(text, reading.unit))
    except BadLength as bad:
        expected = f"write {', '.join(_BARE_BOTTOMS)}, +1/2 in, x 4/3, or a width such as 3 1/2 in"
        raise BadInput(text, expected) from bad


def _bottom_ratio(text: str, ratio: Fraction) -> Bottom:
    try:
        return Bottom(BottomRule.RATIO, ratio=ratio)
    except ValueError as bad:
        raise BadInput(text, str(bad)) from bad


def _print_bottom(bottom: Bottom) -> str:
    match bottom.rule:
        case BottomRule.AMOUNT:
            return f"+{print_length(bottom.amount)}"
        case BottomRule.RATIO:
            return f"x {bottom.ratio.numerator}/{bottom.ratio.denominator}"
        case BottomRule.WIDTH:
            return print_length(bottom.amount)
        case _:
            return str(bottom.rule.value)


def _parse_openings(raw: object, reading: Reading) -> tuple[Layer, ...]:
    if isinstance(raw, str) and plain(raw) in {"", "none"}:
        return ()
    if not isinstance(raw, list) or len(raw) > MOST_OPENINGS or not all(isinstance(item, dict) for item in raw):
        expected = f"tables, one for each opening in order, at most {MOST_OPENINGS}"
        raise BadInput(str(raw)[:200], f'{expected}, such as [{{}}, {{ shape = "oval" }}]')
    return tuple(_opening(item, f"opening {number}", reading) for number, item in enumerate(raw, start=1))


def _opening(raw: Mapping[str, object], called: str, reading: Reading) -> Layer:
    values = {}
    for key, said in raw.items():
        if key == "name":
            continue
        if key not in OPENING_FIELDS:
            raise BadInput(key, f"what may differ from opening to opening: {', '.join(OPENING_FIELDS)}")
        try:
            values[key] = TREATMENT[key].parse(said, reading)
        except BadInput as bad:
            raise BadInput(f"{key} = {bad.found}", bad.expected) from bad
    return Layer(TEXT.parse(raw.get("name", called), reading), values)


def _print_openings(openings: tuple[Layer, ...]) -> list[dict[str, object]]:
    return [
        {"name": layer.name} | {key: TREATMENT[key].print(value) for key, value in layer.values.items()}
        for layer in openings
    ]


_LENGTHS = (
    *("overlap", "overlap_least", "border", "inset", "fallout_trim", "allowance", "points"),
    *("paper_sides", "paper_top", "paper_bottom", "float_gap", "float_lift", "float_setback"),
)
_NAMES = ("frame", "group", "mount", "backing", "glazing", "spacer", "fillet", "moulding", "moulding_sides")

TREATMENT: Mapping[str, Convertor[object]] = MappingProxyType(
    cast(
        "dict[str, Convertor[object]]",
        dict.fromkeys(_LENGTHS, LENGTH)
        | dict.fromkeys(_NAMES, NAME)
        | {
            "window": one_of(WindowFrom),
            "bottom": Convertor(_parse_bottom, _print_bottom),
            "borders": Convertor(_parse_edges, _print_edges),
            "border_means": one_of(BorderMeans),
            "outer": Convertor(_parse_outer, lambda size: print_size(size) if size else "none"),
            "mats": MATS,
            "bevel_deg": DEGREES,
            "stack_cut": FLAG,
            "frame_sides": WHOLE,
            "hinge": one_of(HingeKind),
            "service": one_of(Service),
            "grid": GRID,
            "shape": SHAPE,
            "layout": LAYOUT,
            "openings": Convertor(_parse_openings, _print_openings),
            "grooves": GROOVES,
            "lines": LINES,
            "title": TITLE,
            "inlay": INLAY,
            "sink": SINK,
        },
    )
)
"""Every rule of a treatment by its field's name."""

AT_WORK: Mapping[str, str] = MappingProxyType(
    {key: key for key in TREATMENT if key != "title"} | {"title_opening": "title"}
)
"""The rule that each key of a work states: a work has a title already, so that opening is called by its whole name."""
