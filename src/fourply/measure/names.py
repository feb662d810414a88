"""Sizes that have a name: papers, photographs, boards, ready-made frames.

A name is nominal: the sheet on the bench is trimmed to within 1.5 to 3 mm of it, and a photograph called 8x10 may be
cropped by whoever printed it. So a name is only ever a start that a measurement replaces. Sizes are upright (width
below height); the ISO series follows from A0 and B0 by the halving rule of ISO 216: the next long side is this short
side, the next short side half this long side, rounded down to a millimetre.
"""

from __future__ import annotations

import re
from fractions import Fraction
from types import MappingProxyType

from fourply.errors import Unknown
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.size import Size


def _halved(letter: str, width: int, height: int) -> dict[str, Size]:
    sizes = {}
    for number in range(11):
        sizes[f"{letter}{number}"] = Size(Length.mm(width), Length.mm(height))
        width, height = height // 2, width
    return sizes


def _family(name: str, unit: Unit, pairs: str) -> dict[str, Size]:
    """Return sizes named `photo 8x10 in` from a name, a unit and `8x10 11x14`."""
    return {f"{name} {pair} {unit.value}": _size(pair, unit) for pair in pairs.split()}


def _letters(name: str, letters: str, pairs: str) -> dict[str, Size]:
    """Return sizes in inches named `ANSI A`, one letter a pair."""
    sizes = (_size(pair, Unit.INCH) for pair in pairs.split())
    return {f"{name} {letter}": size for letter, size in zip(letters.split(), sizes, strict=True)}


def _size(pair: str, unit: Unit) -> Size:
    width, height = (Length(int(Fraction(number) * unit.nm)) for number in pair.split("x"))
    return Size(width, height)


ISO = MappingProxyType(_halved("A", 841, 1189) | _halved("B", 1000, 1414))
DRAWING = MappingProxyType(
    _letters("ANSI", "A B C D E F", "8.5x11 11x17 17x22 22x34 34x44 28x40")
    | _letters("Arch", "A B C D E1 E", "9x12 12x18 18x24 24x36 30x42 36x48")
)
ARTISTS = MappingProxyType(
    {
        "imperial": _size("22x30", Unit.INCH),
        "half imperial": _size("15x22", Unit.INCH),
        "quarter imperial": _size("11x15", Unit.INCH),
        "double elephant": _size("27x40", Unit.INCH),
        "A3+": _size("329x483", Unit.MM),
    }
)
PHOTOS = MappingProxyType(
    _family("photo", Unit.INCH, "3.5x5 4x6 5x7 8x10 8x12 11x14 12x16 16x20 18x24 20x24 20x30 24x30 24x36 30x40")
    | _family("photo", Unit.CM, "9x13 10x15 13x18 18x24 20x30 24x30 30x40 40x50 50x70 60x80 70x100")
)
FRAMES = MappingProxyType(
    _family("frame", Unit.INCH, "5x7 8x10 11x14 12x16 16x20 18x24 20x24 22x28 24x30 24x36 30x40")
    | _family("frame", Unit.CM, "13x18 18x24 20x30 24x30 30x40 40x50 50x70 60x80 70x100")
)
BOARDS = MappingProxyType(
    _family("board", Unit.INCH, "32x40 40x60 48x96")
    | _family("board", Unit.CM, "80x120 81x102 100x140 120x160")
    | _family("board", Unit.MM, "815x1120 1120x1630")
)
MUSEUM_MATS = MappingProxyType(_family("museum mat", Unit.INCH, "8x10 14x18 16x22 20x24 22x28 28x36 28x40"))

NAMED = MappingProxyType({**ISO, **DRAWING, **ARTISTS, **PHOTOS, **FRAMES, **BOARDS, **MUSEUM_MATS})
"""Every size by its usual name."""


def _key(name: str) -> str:
    return re.sub(r"[\s._-]", "", name[:40]).lower().replace("×", "x")


_BY_KEY = MappingProxyType({_key(name): size for name, size in NAMED.items()})


def size_named(name: str) -> Size:
    """Return the size of that name, whatever its case and blanks; raises Unknown.

    >>> size_named("a4").height.as_mm, size_named("ARCH-C").width.as_inches
    (297.0, Fraction(18, 1))
    """
    try:
        return _BY_KEY[_key(name)]
    except KeyError:
        raise Unknown("size", name, (*ISO, *DRAWING, *ARTISTS)) from None
