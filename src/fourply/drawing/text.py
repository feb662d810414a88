"""Text that is measured before it is drawn: fractions, widths, lines.

Widths come from a table, so a page is laid out without opening a font, and every writer sets the same pieces at the
same places. A fraction is set from the font's superior and inferior figures at 126 % round the fraction slash: full
figures made small go too thin on a 200 dpi printer.
"""

from __future__ import annotations

import re
import unicodedata
from enum import Enum
from functools import lru_cache
from typing import NamedTuple

from fourply.drawing.noto import WIDTHS
from fourply.drawing.pen import Label
from fourply.drawing.shapes import Box

PT = 25.4 / 72
"""One typographic point in millimetres."""

MISSING = "\N{REPLACEMENT CHARACTER}"
SLASH = "⁄"
SUPERIORS = "⁰¹²³⁴⁵⁶⁷⁸⁹"
INFERIORS = "₀₁₂₃₄₅₆₇₈₉"
CAP_HEIGHT = 0.714
_RISE, _FALL = 0.76, 0.23  # of the size: above the base line for capitals and figures, below it for descenders
_FLAT_FALL = 0.02
_FLAT = frozenset("0123456789⁄× .–%ABCDEFGHIKLMNOPRSTUVWXYZabcdefhiklmnorstuvwxz")
_ENLARGED = 1.26
_SUPERIOR_RISE = 0.724 - _ENLARGED * 0.853  # the top of 3 at 724 and of superior 3 at 853 thousandths
_INFERIOR_RISE = -0.010 + _ENLARGED * 0.138  # likewise their feet
_BEFORE_FRACTION = 0.09
_FRACTION = re.compile(r"(?<![\d⁄])(\d+)⁄(\d+)(?![\d⁄])")
_GLUE = "\ue000"  # holds together what no line break may part: a number and its fraction, the two sides of a size
_TOGETHER = re.compile(r"(?<=\d) (?=\d+⁄)|(?<=[\d]) (?=×)|(?<=×) (?=\d)")
_LOOKS_LIKE = {
    **dict.fromkeys((0x00A0, 0x2007, 0x2009, 0x202F), " "),
    **dict.fromkeys((0x00AD, 0x200B, 0x200C, 0x200D, 0xFEFF), ""),
    0x2212: "–",  # the font has no minus sign
}


class Figures(Enum):
    """Which figures of the font a piece of text is set in."""

    FULL = 0
    SUPERIOR = 1
    INFERIOR = 2


class Piece(NamedTuple):
    """Text set in one go; offsets, rise and scale are in parts of the type size.

    `text` is what is read: for superior and inferior figures the plain digits.
    """

    text: str
    figures: Figures
    across: float
    rise: float
    scale: float


def _table() -> dict[str, tuple[int, int]]:
    words = WIDTHS.split()
    table = {}
    for i in range(0, len(words), 4):
        first, count, regular, bold = int(words[i], 16), *map(int, words[i + 1 : i + 4])
        table.update({chr(first + place): (regular, bold) for place in range(count)})
    return table


_WIDTHS = _table()
_ADVANCES = tuple({character: widths[bold] for character, widths in _WIDTHS.items()} for bold in (0, 1))
_DIGITS = {Figures.FULL: "", Figures.SUPERIOR: SUPERIORS, Figures.INFERIOR: INFERIORS}
_SETTING = {
    Figures.FULL: (0.0, 1.0),
    Figures.SUPERIOR: (_SUPERIOR_RISE, _ENLARGED),
    Figures.INFERIOR: (_INFERIOR_RISE, _ENLARGED),
}


def _advance(text: str, *, bold: bool) -> float:
    return sum(map(_ADVANCES[bold].__getitem__, text)) / 1000


def can_set(character: str) -> bool:
    """Tell whether the bundled font has the character.

    >>> can_set("ß"), can_set("川")
    (True, False)
    """
    return character in _WIDTHS


@lru_cache(maxsize=16384)
def clean(text: str) -> str:
    r"""Return text as it can be set on one line: composed, line breaks as spaces, what cannot be set as U+FFFD.

    >>> clean("Slack\tWater\x07 川")
    'Slack Water� �'
    """
    if text.isascii() and text.isprintable():  # most texts, and the font has them all
        return text
    composed = unicodedata.normalize("NFC", text).translate(_LOOKS_LIKE)
    return "".join(c if c in _WIDTHS else " " if c.isspace() else MISSING for c in composed)


@lru_cache(maxsize=16384)
def pieces(text: str, *, bold: bool = False) -> tuple[Piece, ...]:
    """Return text as pieces to set, with their places.

    >>> [piece.text for piece in pieces("16 3⁄8 in")]
    ['16 ', '3', '⁄', '8', ' in']
    """
    text = clean(text)
    made: list[Piece] = []
    across = 0.0
    at = 0
    for found in _FRACTION.finditer(text):
        before = text[at : found.start()]
        across = _add(made, before, Figures.FULL, across, bold=bold)
        if before[-1:] == " " and before[-2:-1].isdigit():
            across += _BEFORE_FRACTION - _advance(" ", bold=bold)
        across = _add(made, found[1], Figures.SUPERIOR, across, bold=bold)
        across = _add(made, SLASH, Figures.FULL, across, bold=bold)
        across = _add(made, found[2], Figures.INFERIOR, across, bold=bold)
        at = found.end()
    _add(made, text[at:], Figures.FULL, across, bold=bold)
    return tuple(made)


def _add(made: list[Piece], text: str, figures: Figures, across: float, *, bold: bool) -> float:
    if not text:
        return across
    rise, scale = _SETTING[figures]
    piece = Piece(text, figures, across, rise, scale)
    made.append(piece)
    return across + _advance(drawn(piece), bold=bold) * scale


def drawn(piece: Piece) -> str:
    """Return the characters whose shapes a piece shows: superior and inferior figures for its digits.

    >>> drawn(pieces("3⁄8")[0])
    '³'
    """
    figures = _DIGITS[piece.figures]
    return "".join(figures[int(c)] for c in piece.text) if figures else piece.text


@lru_cache(maxsize=16384)
def _ems(text: str, *, bold: bool) -> float:
    made = pieces(text, bold=bold)
    return made[-1].across + _advance(drawn(made[-1]), bold=bold) * made[-1].scale if made else 0.0


def width(text: str, size: float, *, bold: bool = False) -> float:
    """Return how wide a line of text is, in the unit of `size`.

    >>> width("00", 1000)
    1144.0
    """
    return _ems(text, bold=bold) * size


def box(label: Label) -> Box:
    """Return the upright box of a label that lies level or reads from the right (an angle of 0 or 90)."""
    across = width(label.text, label.size, bold=label.bold)
    rise = _RISE * label.size
    fall = (_FLAT_FALL if _FLAT.issuperset(label.text) else _FALL) * label.size
    if label.angle:
        return Box(label.x - rise, label.y - across, label.x + fall, label.y)
    return Box(label.x, label.y - rise, label.x + across, label.y + fall)


def fit(text: str, room: float, size: float, *, bold: bool = False) -> str:
    """Return the text, or as much of it as fits in `room` with an ellipsis.

    >>> fit("Slack Water", 30, 10)
    'Slac…'
    """
    text = clean(text)
    if width(text, size, bold=bold) <= room:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if width(text[:middle].rstrip() + "…", size, bold=bold) <= room:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + "…"


def wrap(text: str, room: float, size: float, *, bold: bool = False) -> list[str]:
    """Return the text as lines that fit in `room`, broken at spaces, within a word only where it is too long.

    >>> wrap("Groove before window", 60, 10)
    ['Groove', 'before', 'window']
    """
    lines: list[str] = []
    current, across = "", 0.0
    blank = width(" ", size, bold=bold)
    for glued in _TOGETHER.sub(_GLUE, clean(text)).split():
        word = glued.replace(_GLUE, " ")
        wide = width(word, size, bold=bold)
        if current and across + blank + wide <= room:
            current, across = f"{current} {word}", across + blank + wide
            continue
        lines.extend([current] if current else [])
        while wide > room and len(word) > 1:
            head = _fitting_head(word, room, size, bold=bold)
            lines.append(head)
            word = word[len(head) :].lstrip()
            wide = width(word, size, bold=bold)
        current, across = word, wide
    return [*lines, current] if current else lines


def _fitting_head(text: str, room: float, size: float, *, bold: bool) -> str:
    end = len(text) - 1
    while end > 1 and width(text[:end], size, bold=bold) > room:
        end -= 1
    return text[:end]
