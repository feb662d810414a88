"""Window shapes as people write them: `oval`, `arch rise 2 in`, `stepped 1/4 in + 1/4 in`, a table, a drawn path.

A free shape is the path of a drawing or path data itself. A file is fetched through the show that names it and from
nowhere else, so whoever cannot fetch cannot name one.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from pathlib import PurePosixPath
from types import MappingProxyType
from typing import Any

from fourply.errors import BadFile, BadInput
from fourply.files.convertors import (
    WHOLE,
    Convertor,
    Reading,
    measured,
    parse_length_in,
    plain,
    print_length,
    words,
)
from fourply.files.drawing_file import path_in
from fourply.files.svgpath import LONGEST, parse_path
from fourply.measure.length import ZERO, Length
from fourply.trade.shapes.outline import Cubic, Outline, Piece, Segment, Sweep
from fourply.trade.shapes.rule import FIELDS, NEEDED, ShapeKind, ShapeRule

_POLYGONS = MappingProxyType(
    {"triangle": 3, "pentagon": 5, "hexagon": 6, "heptagon": 7, "decagon": 10, "dodecagon": 12}
)
_KINDS: Mapping[str, ShapeKind] = MappingProxyType(
    {kind.value: kind for kind in ShapeKind}
    | {"ellipse": ShapeKind.OVAL, "round": ShapeKind.CIRCLE, "rectangular": ShapeKind.RECTANGLE}
    | dict.fromkeys(_POLYGONS, ShapeKind.POLYGON)
)
_NAMES = "|".join(name.replace(" ", r"[\s_-]+") for name in sorted(_KINDS, key=len, reverse=True))
STARTS = rf"(?:{_NAMES})(?![\w-])"
"""What every shape in text begins with, as a regular expression without regard to case."""
_TEXT = re.compile(rf"(?P<name>{STARTS})\s*(?P<rest>.*)", re.IGNORECASE | re.DOTALL)
_NUMBER = re.compile(r"(?:(?P<field>rise|shoulder|leg|radius)\s+)?(?P<length>\S.*)", re.IGNORECASE)
_PATH = re.compile(r"\s*[Mm][\s\d.,+\-eEMmLlHhVvCcSsQqTtAaZz]*")
_AND = re.compile(r"\s*\+\s*|\s+and\s+", re.IGNORECASE)
_MOST_STEPS = 12

_EXAMPLES: Mapping[ShapeKind, str] = MappingProxyType(
    {
        ShapeKind.ARCH: "arch rise 2 in, arch shoulder 8 in or arch alone",
        ShapeKind.ELLIPTICAL_ARCH: "elliptical arch rise 2 in or elliptical arch shoulder 8 in",
        ShapeKind.CLIPPED: "clipped 1 in",
        ShapeKind.ROUNDED: "rounded 1/2 in",
        ShapeKind.SCOOPED: "scooped 3/4 in",
        ShapeKind.STEPPED: "stepped 1/4 in + 1/4 in",
        ShapeKind.POLYGON: "polygon 6 or hexagon",
        ShapeKind.FREE: 'path data such as { kind = "free", path = "M0 0 H8 V6 Z" }, or the name of an SVG file there',
    }
)


def _parse_shape(raw: object, reading: Reading) -> ShapeRule:
    if isinstance(raw, dict):
        return _of_table(raw, reading)
    text = measured(raw)
    found = _TEXT.fullmatch(text)
    if found is None:
        raise BadInput(text, f"write one of {', '.join(kind.value for kind in ShapeKind)}, such as arch rise 2 in")
    name, rest = plain(found["name"]), found["rest"].strip()
    kind = _KINDS[name]
    if not rest:
        return _bare(text, kind, name)
    if not FIELDS[kind] or name in _POLYGONS:
        raise BadInput(text, f"write {name} alone: it takes no number")
    return ShapeRule(kind, **_numbers(text, kind, rest, reading))


def _bare(text: str, kind: ShapeKind, name: str) -> ShapeRule:
    if name in _POLYGONS:
        return ShapeRule(kind, sides=_POLYGONS[name])
    if kind in NEEDED:
        raise BadInput(text, f"write {_EXAMPLES[kind]}")
    return ShapeRule(kind)


def _numbers(text: str, kind: ShapeKind, rest: str, reading: Reading) -> dict[str, Any]:
    if kind is ShapeKind.FREE:
        return {"path": _parse_outline(rest, reading)}
    if kind is ShapeKind.POLYGON:
        return {"sides": WHOLE.parse(re.sub(r"^of\s+|\s*sides$", "", rest), reading)}
    if kind is ShapeKind.STEPPED:
        return {"steps": _parse_steps(rest, reading)}
    found = _NUMBER.fullmatch(rest)
    name = found["field"].lower() if found and found["field"] else FIELDS[kind][0]
    if found is None or name not in FIELDS[kind] or (len(FIELDS[kind]) > 1 and not found["field"]):
        raise BadInput(text, f"write {_EXAMPLES[kind]}")
    return {name: _above_nothing(found["length"], reading)}


def _above_nothing(raw: object, reading: Reading) -> Length:
    length = parse_length_in(raw, reading)
    if length == ZERO:
        raise BadInput(words(raw), "a number above nothing, or a shape without it")
    return length


def _parse_steps(raw: object, reading: Reading) -> tuple[Length, ...]:
    parts: list[object] = raw if isinstance(raw, list) else [*_AND.split(measured(raw))]
    if not 1 <= len(parts) <= _MOST_STEPS:
        raise BadInput(f"{len(parts)} steps", f"write 1 to {_MOST_STEPS} steps such as 1/4 in + 1/4 in")
    return tuple(parse_length_in(part, reading) for part in parts)


def _of_table(raw: Mapping[str, object], reading: Reading) -> ShapeRule:
    found = ", ".join(str(key) for key in raw)[:200]
    name = plain(words(raw.get("kind", "")))
    if name not in _KINDS:
        raise BadInput(name or found, f"a kind: one of {', '.join(kind.value for kind in ShapeKind)}")
    kind = _KINDS[name]
    if set(raw) - {"kind", *FIELDS[kind]}:
        takes = " or ".join(FIELDS[kind]) or "no number"
        raise BadInput(found, f"write kind and no more than it takes: {name} takes {takes}")
    if len(raw) == 1:
        return _bare(name, kind, name)
    return ShapeRule(kind, **{key: _MEMBERS[key](value, reading) for key, value in raw.items() if key != "kind"})


# ── free paths ───────────────────────────────────────────────────────────────────────────────────────────────────


def _parse_outline(raw: object, reading: Reading) -> Outline:
    if not isinstance(raw, str) or len(raw) > LONGEST:
        raise BadInput(str(raw)[:40], f"write {_EXAMPLES[ShapeKind.FREE]}")
    text = raw.strip()
    if _PATH.fullmatch(text):
        return _read_path(text, "path")
    if not text.lower().endswith(".svg"):
        raise BadInput(text, f"write {_EXAMPLES[ShapeKind.FREE]}")
    data = _fetched(text, reading)
    try:
        return _read_path(path_in(text, data), text)
    except BadFile as bad:
        raise BadInput(f"{text}: {bad.found}", bad.expected) from bad


def _read_path(text: str, source: str) -> Outline:
    try:
        return parse_path(text, source=source)
    except BadFile as bad:
        raise BadInput(f"{source}: {bad.found}", bad.expected) from bad
    except (ArithmeticError, ValueError) as bad:
        raise BadInput(f"{source}: numbers that lead nowhere", "a simpler path") from bad


def _fetched(name: str, reading: Reading) -> bytes:
    """Return the content of a drawing beside the show; a name that leads elsewhere is not followed."""
    outside = PurePosixPath(name).is_absolute() or ".." in PurePosixPath(name).parts or re.search(r"[\\:\0]", name)
    if outside:
        raise BadInput(name, "the name of a drawing beside the show file, or in a folder there")
    if reading.fetch is None:
        raise BadInput(name, "path data, or a treatment of the show file: only a show file can name a drawing")
    try:
        return reading.fetch(name)
    except BadFile as bad:
        raise BadInput(name, f"{bad.found}; {bad.expected}") from bad


def _print_path(outline: Outline) -> str:
    """Return path data of an outline, to the nanometre."""
    x, y = outline.pieces[0].first
    return " ".join((f"M{_figure(x)} {_figure(y)}", *_commands(outline.pieces), "Z"))


def _commands(pieces: tuple[Piece, ...]) -> Iterator[str]:
    for piece in pieces:
        match piece:
            case Segment():
                yield _command("L", piece.end)
            case Cubic():
                yield _command("C", piece.c1, piece.c2, piece.end)
            case Sweep() if not piece.away:
                parts = math.ceil(abs(piece.sweep) / 120)
                flags = f"0 0 {int(piece.sweep > 0)}"
                for part in range(1, parts + 1):
                    x, y = piece.point(part / parts)
                    yield f"A{_figure(piece.rx)} {_figure(piece.ry)} {flags} {_figure(x)} {_figure(y)}"
            case _:
                yield from (_command("L", point) for point in piece.flat(1e-3))


def _command(letter: str, *points: tuple[float, float]) -> str:
    return letter + " ".join(f"{_figure(x)} {_figure(y)}" for x, y in points)


def _figure(mm: float) -> str:
    text = f"{mm:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


# ── printing ─────────────────────────────────────────────────────────────────────────────────────────────────────


def _print_shape(rule: ShapeRule) -> object:
    if rule.path is not None:
        return {"kind": rule.kind.value, "path": _print_path(rule.path)}
    steps = " + ".join(print_length(step) for step in rule.steps)
    named = [f"{name} {print_length(getattr(rule, name))}" for name in ("rise", "shoulder") if getattr(rule, name)]
    lengths = [print_length(length) for length in (rule.leg, rule.radius) if length]
    sides = [str(rule.sides)] if rule.sides else []
    return " ".join(filter(None, (rule.kind.value, *named, *lengths, *sides, steps)))


_MEMBERS: Mapping[str, Any] = MappingProxyType(
    dict.fromkeys(("leg", "radius", "rise", "shoulder"), _above_nothing)
    | {"steps": _parse_steps, "sides": WHOLE.parse, "path": _parse_outline}
)

SHAPE: Convertor[ShapeRule] = Convertor(_parse_shape, _print_shape)
