"""The stack of mats as people write it: `white 4-ply, oval + red 4-ply @ 1/4 in flat reverse`, or a list of tables.

After the board and its reveal a mat takes, each behind a comma, a shape of its own or how far it is set back.
"""

from __future__ import annotations

import itertools
import re

from fourply.errors import BadInput, BadLength
from fourply.files.convertors import LENGTH, TEXT, Convertor, Reading, one_of, print_length, words
from fourply.files.shapes import SHAPE, STARTS
from fourply.measure.length import ZERO, Length
from fourply.measure.notation import parse_length
from fourply.trade.shapes.rule import ShapeRule
from fourply.trade.treatment import Bevel, MatRule, RevealMeans

_MEANS = one_of(RevealMeans)
_BEVEL = one_of(Bevel)
_PARTS = frozenset({"board", "reveal", "means", "bevel", "shape", "setback"})
_MAT = re.compile(
    r"(?P<board>[^@]+?)(?:\s*@\s*(?P<reveal>[^@]*?))?(?P<flat>\s+flat)?(?P<reverse>\s+reverse)?", re.IGNORECASE
)
_QUALITY = re.compile(rf"\s*,\s*(?=set\s+back\b|{STARTS})", re.IGNORECASE)
_SET_BACK = re.compile(r"set\s+back\s*(?P<by>.*)", re.IGNORECASE | re.DOTALL)
_EXPECTED = "write boards such as white 4-ply + red 4-ply @ 1/4 in"
_MOST = 20


def _parse_mats(raw: object, reading: Reading) -> tuple[MatRule, ...]:
    if isinstance(raw, list):
        return tuple(_mat_of(item, reading) for item in raw[:_MOST])
    text = words(raw)
    parts = [part.strip() for part in text.split("+")]
    for part, after in itertools.pairwise(parts):
        if re.search(r",\s*stepped\b[^@]*$", part, re.IGNORECASE) and _is_length(after, reading):
            raise BadInput(text, "join steps in a mat with and: white 4-ply, stepped 1/4 in and 1/4 in + red 4-ply")
    return tuple(_mat_in(part, reading) for part in parts)


def _is_length(text: str, reading: Reading) -> bool:
    try:
        parse_length(text, reading.unit)
    except BadLength:
        return False
    return True


def _mat_of(raw: object, reading: Reading) -> MatRule:
    if not isinstance(raw, dict):
        return _mat_in(words(raw), reading)
    if "board" not in raw or set(raw) - _PARTS:
        raise BadInput(", ".join(str(key) for key in raw)[:200], f"write {', '.join(sorted(_PARTS))}")
    return _made(
        TEXT.parse(raw["board"], reading),
        LENGTH.parse(raw.get("reveal", 0), reading),
        _MEANS.parse(raw.get("means", "guide"), reading),
        _BEVEL.parse(raw.get("bevel", "normal"), reading),
        shape=SHAPE.parse(raw["shape"], reading) if "shape" in raw else None,
        setback=LENGTH.parse(raw.get("setback", 0), reading),
    )


def _mat_in(text: str, reading: Reading) -> MatRule:
    left, at, right = text.partition("@")
    (board, *before), (reveal, *after) = _QUALITY.split(left), _QUALITY.split(right)
    found = _MAT.fullmatch(board.strip() + (f" @ {reveal.strip()}" if at else ""))
    if found is None or not board.strip():
        raise BadInput(text, _EXPECTED)
    shape, setback = _qualities(text, [*before, *after], reading)
    return _made(
        found["board"].strip(),
        parse_length(found["reveal"], reading.unit) if found["reveal"] else ZERO,
        RevealMeans.FLAT if found["flat"] else RevealMeans.GUIDE,
        Bevel.REVERSE if found["reverse"] else Bevel.NORMAL,
        shape=shape,
        setback=setback,
    )


def _qualities(text: str, said: list[str], reading: Reading) -> tuple[ShapeRule | None, Length]:
    shape, setback = None, ZERO
    for each in said:
        back = _SET_BACK.fullmatch(each.strip())
        if (back and setback) or (not back and shape):
            raise BadInput(text, "one shape and one distance that it is set back")
        if back:
            setback = parse_length(back["by"], reading.unit)
        else:
            shape = SHAPE.parse(each, reading)
    return shape, setback


def _made(
    board: str, reveal: Length, means: RevealMeans, bevel: Bevel, *, shape: ShapeRule | None, setback: Length
) -> MatRule:
    try:
        return MatRule(board, reveal, means, bevel, shape, setback)
    except ValueError as bad:
        raise BadInput(board, str(bad)) from bad


def _print_mats(mats: tuple[MatRule, ...]) -> list[dict[str, object]]:
    return [
        {"board": mat.board, "reveal": print_length(mat.reveal), "means": mat.means.value, "bevel": mat.bevel.value}
        | ({"shape": SHAPE.print(mat.shape)} if mat.shape else {})
        | ({"setback": print_length(mat.setback)} if mat.setback else {})
        for mat in mats
    ]


MATS: Convertor[tuple[MatRule, ...]] = Convertor(_parse_mats, _print_mats)
