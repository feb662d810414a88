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
from fourply.measure.length import ZERO
from fourply.measure.notation import parse_length
from fourply.measure.size import Edges, Size
from fourply.trade.accents import GrooveRule
from fourply.trade.treatment import (
    Bevel,
    BorderMeans,
    Bottom,
    BottomRule,
    HingeKind,
    MatRule,
    RevealMeans,
    Service,
    WindowFrom,
)

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


_MEANS = one_of(RevealMeans)
_BEVEL = one_of(Bevel)
_MAT_PARTS = frozenset({"board", "reveal", "means", "bevel"})
_MAT = re.compile(
    r"(?P<board>[^@]+?)(?:\s*@\s*(?P<reveal>[^@]*?))?(?P<flat>\s+flat)?(?P<reverse>\s+reverse)?", re.IGNORECASE
)


def _parse_mats(raw: object, reading: Reading) -> tuple[MatRule, ...]:
    """Return the stack, top mat first, from `white 4-ply + red 4-ply @ 1/4 in flat reverse` or a list of tables."""
    if isinstance(raw, list):
        return tuple(_mat_of(item, reading) for item in raw[:20])
    text = words(raw)
    return tuple(_mat_in(part.strip(), reading) for part in text.split("+"))


def _mat_of(raw: object, reading: Reading) -> MatRule:
    if not isinstance(raw, dict):
        return _mat_in(words(raw), reading)
    if "board" not in raw or set(raw) - _MAT_PARTS:
        raise BadInput(", ".join(str(key) for key in raw)[:200], f"write {', '.join(sorted(_MAT_PARTS))}")
    return MatRule(
        TEXT.parse(raw["board"], reading),
        LENGTH.parse(raw.get("reveal", 0), reading),
        _MEANS.parse(raw.get("means", "guide"), reading),
        _BEVEL.parse(raw.get("bevel", "normal"), reading),
    )


def _mat_in(text: str, reading: Reading) -> MatRule:
    found = _MAT.fullmatch(text)
    if found is None:
        raise BadInput(text, "write boards such as white 4-ply + red 4-ply @ 1/4 in")
    return MatRule(
        found["board"].strip(),
        parse_length(found["reveal"], reading.unit) if found["reveal"] else ZERO,
        RevealMeans.FLAT if found["flat"] else RevealMeans.GUIDE,
        Bevel.REVERSE if found["reverse"] else Bevel.NORMAL,
    )


def _print_mats(mats: tuple[MatRule, ...]) -> list[dict[str, object]]:
    return [
        {
            "board": mat.board,
            "reveal": print_length(mat.reveal),
            "means": mat.means.value,
            "bevel": mat.bevel.value,
        }
        for mat in mats
    ]


def _parse_grooves(raw: object, reading: Reading) -> tuple[GrooveRule, ...]:
    text = measured(raw)
    if plain(text) in {"", "none", "0"}:
        return ()
    distances = [parse_length(part, reading.unit) for part in text.split("+")]
    try:
        return tuple(GrooveRule(distance) for distance in distances)
    except ValueError as bad:
        raise BadInput(text, str(bad)) from bad


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
            "mats": Convertor(_parse_mats, _print_mats),
            "bevel_deg": DEGREES,
            "stack_cut": FLAG,
            "frame_sides": WHOLE,
            "hinge": one_of(HingeKind),
            "service": one_of(Service),
            "grid": GRID,
            "grooves": Convertor(
                _parse_grooves,
                lambda grooves: " + ".join(print_length(groove.distance) for groove in grooves) or "none",
            ),
        },
    )
)
"""Every rule of a treatment by its field's name."""
