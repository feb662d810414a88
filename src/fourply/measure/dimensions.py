"""Two lengths and three, as lists and museum records state them.

Nothing in `16 x 20` says which is the width, and the wrong guess spoils a mat, so the order is always stated: by the
list once, by letters at the numbers (`20 h x 16 w`), or by the form, since museum records give height first. A record
may carry several statements (`support: 325 x 445 mm`, `frame: …`); which of them is the sheet is decided by one rule
and never by taste: of two sheet sizes neither is chosen.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType
from typing import Self

from fourply.errors import BadLength, Unknown
from fourply.measure.length import ZERO, Length
from fourply.measure.notation import Unit, parse_with_unit, straight
from fourply.measure.size import Size

_MOST_CHARACTERS = 200
_MOST_IN_RECORD = 2_000
_PAIR = "write two lengths such as 16 x 20 in or 40 x 50 cm"
_RECORD = "write a size such as support: 325 x 445 mm"
_ORDER = 'say which number is the width: order = "width x height" or "height x width" in the show file, or --order'


class Order(Enum):
    """Which of two numbers comes first.

    >>> Order.named("H × W")
    <Order.HEIGHT_WIDTH: 'height x width'>
    """

    WIDTH_HEIGHT = "width x height"
    HEIGHT_WIDTH = "height x width"

    @classmethod
    def named(cls, text: str) -> Self:
        """Return the order that text states, in words or first letters; raises Unknown."""
        letters = re.sub("width", "w", re.sub("height", "h", re.sub("by|x|[^a-z]", "", text[:40].lower())))
        order = {"wh": cls.WIDTH_HEIGHT, "hw": cls.HEIGHT_WIDTH}.get(letters)
        if order is None:
            raise Unknown("order", text, [member.value for member in cls])
        return cls(order)


@dataclass(frozen=True, slots=True)
class Extent:
    """A size with the depth that may stand behind it, None where none was stated."""

    size: Size
    depth: Length | None = None


_TIMES = re.compile(r" ?(?:[x×✕✖*]|\bby\b) ?", re.IGNORECASE)
_LETTER = r"width|wide|w|height|high|tall|h|depth|deep|d"
_PART = re.compile(
    rf"(?:(?P<before>{_LETTER})\.?:? ?)?(?P<length>.*?)(?: ?\(?(?P<after>{_LETTER})\)?\.?)?"
    r"(?P<unit> ?(?:mm|cm|m|in|inch|inches|ft)\.?)?",
    re.IGNORECASE,
)
_AXES = MappingProxyType(
    {"wide": "w", "width": "w", "high": "h", "tall": "h", "height": "h", "deep": "d", "depth": "d"}
)


def parse_pair(text: str, unit: Unit, order: Order | None) -> Extent:
    """Return the size, and the depth if there is a third number; raises BadLength.

    A number without a unit takes that of the number after it, else before it, else `unit`. Without an order only a
    square or a pair with letters (`16 w x 20 h`) can be read.

    >>> parse_pair("40 x 50 cm", Unit.INCH, Order.WIDTH_HEIGHT).size.height.as_mm
    500.0
    """
    if len(text) > _MOST_CHARACTERS:
        raise BadLength(text, _PAIR)
    parts = _TIMES.split(_one_line(text))
    if not 2 <= len(parts) <= 3:
        raise BadLength(text, _PAIR)
    axes, lengths = _axes_and_lengths(text, parts, unit)
    width, height, depth = _placed(text, axes, lengths, order)
    if width <= ZERO or height <= ZERO:
        raise BadLength(text, "width and height are above nothing")
    return Extent(Size(width, height), depth)


def _one_line(text: str) -> str:
    """Return text in plain signs with every run of white space as one blank, so that no pattern has to search in it."""
    return " ".join(straight(text).split())


def _axes_and_lengths(text: str, parts: Sequence[str], unit: Unit) -> tuple[str, list[Length]]:
    """Return one letter a number (w, h, d, or a blank where none stands) and the lengths."""
    axes, bare = "", []
    for part in parts:
        found = _PART.fullmatch(part)
        letter = ((found["before"] or found["after"] or " ") if found else " ").lower()
        axes += _AXES.get(letter, letter)
        bare.append((found["length"] + (found["unit"] or "")).strip() if found else part)
    try:
        units = [parse_with_unit(each, unit)[1] for each in bare]
        said = [next((u for u in (*units[i:], *reversed(units[:i])) if u), unit) for i in range(len(units))]
        return axes, [parse_with_unit(each, own)[0] for each, own in zip(bare, said, strict=True)]
    except BadLength as bad:
        raise BadLength(text, bad.expected if bad.found else _PAIR) from bad


def _placed(
    text: str, axes: str, lengths: Sequence[Length], order: Order | None
) -> tuple[Length, Length, Length | None]:
    depth = lengths[2] if len(lengths) == 3 else None
    if axes.strip():
        named = dict(zip(axes, lengths, strict=True))
        if not {"w", "h"} <= named.keys() or len(named) != len(lengths):
            raise BadLength(text, "write a letter at each number (16 w x 20 h) or at none")
        return named["w"], named["h"], depth
    first, second = lengths[0], lengths[1]
    if order is None and first != second:
        raise BadLength(text, _ORDER)
    return (second, first, depth) if order is Order.HEIGHT_WIDTH else (first, second, depth)


# ── museum records ───────────────────────────────────────────────────────────────────────────────────────────────


class Label(Enum):
    """What a statement in a record is the size of."""

    SUPPORT = "support"
    SHEET = "sheet"
    OBJECT = "object"
    UNCONFIRMED = "unconfirmed"
    UNLABELLED = "unlabelled"
    IMAGE = "image"
    PLATE = "plate"
    FRAME = "frame"
    MOUNT = "mount"
    OTHER = "other"


SHEETS = frozenset({Label.SUPPORT, Label.SHEET, Label.OBJECT, Label.UNCONFIRMED, Label.UNLABELLED})
PARTS = frozenset({Label.IMAGE, Label.PLATE})
"""Sizes that count as the sheet, and sizes on it that are used, with a word of warning, where no sheet is stated."""

_LABELS = MappingProxyType(
    {label.value: label for label in Label if label not in {Label.UNLABELLED, Label.OTHER}}
    | {"paper": Label.SHEET, "overall": Label.OBJECT, "framed": Label.FRAME, "mat": Label.MOUNT}
    | {"plate mark": Label.PLATE, "platemark": Label.PLATE, "composition": Label.IMAGE}
)
_STATEMENT = re.compile(r"(?:(?P<label>[^\W\d][^\d:]*?) ?[: ] ?)?(?P<pair>\d[^()]*)(?:\((?P<again>[^()]*)\) ?)?")


@dataclass(frozen=True, slots=True)
class Dimension:
    """One statement of a record: of what (`words` as the record has them), and the size."""

    label: Label
    words: str
    extent: Extent


def read_dimensions(text: str, unit: Unit, order: Order = Order.HEIGHT_WIDTH) -> tuple[Dimension, ...]:
    """Return the statements of a museum record, height first unless `order` says otherwise; raises BadLength.

    Statements stand on lines of their own or between semicolons. The same size again in brackets, in another unit, is
    checked against the first.

    >>> read_dimensions("support: 325 x 445 mm", Unit.MM)[0].extent.size.width.as_mm
    445.0
    """
    lines = [_one_line(line) for line in re.split(r"[\n\r;]+", text) if line.strip()]
    if not lines or len(text) > _MOST_IN_RECORD:
        raise BadLength(text, _RECORD)
    return tuple(_statement(line, unit, order) for line in lines)


def _statement(line: str, unit: Unit, order: Order) -> Dimension:
    found = _STATEMENT.fullmatch(line)
    if found is None or len(line) > _MOST_CHARACTERS:
        raise BadLength(line, _RECORD)
    words = (found["label"] or "").strip(" ,.")
    extent = parse_pair(found["pair"], unit, order)
    if found["again"] is not None:
        _check_same(line, extent.size, parse_pair(found["again"], unit, order).size)
    first = re.sub(r"\(.*\)", "", words.lower()).strip()
    return Dimension(_LABELS.get(first, Label.OTHER) if words else Label.UNLABELLED, words, extent)


def _check_same(line: str, size: Size, again: Size) -> None:
    # Records round the second unit to a sixteenth of an inch or a millimetre: more than 2 mm apart is another size.
    apart = max(abs(size.width - again.width), abs(size.height - again.height))
    if apart > Length.mm(2):
        raise BadLength(line, f"the size in brackets differs by {apart.as_mm:.1f} mm: keep the one that is right")


def is_museum(text: str) -> bool:
    """Tell whether text carries a label of museum records, and so is height first.

    >>> is_museum("support: 325 x 445 mm"), is_museum("16 x 20")
    (True, False)
    """
    starts = (re.split(r"[\d:]", line, maxsplit=1)[0] for line in text[:_MOST_IN_RECORD].splitlines())
    return any(start.strip().lower() in _LABELS for start in starts)


def sheet_of(text: str, dimensions: Sequence[Dimension]) -> Dimension:
    """Return the one statement that the work is sized from; raises BadLength where there is none or more than one.

    A size of the sheet is taken before one of the image or plate; frame and mount sizes are ignored.

    >>> record = "image: 100 x 80 mm; frame: 300 x 250 mm"
    >>> sheet_of(record, read_dimensions(record, Unit.MM)).label
    <Label.IMAGE: 'image'>
    """
    for labels, what in ((SHEETS, "the sheet"), (PARTS, "the image or plate")):
        found = [dimension for dimension in dimensions if dimension.label in labels]
        if len(found) == 1:
            return found[0]
        if found:
            raise BadLength(text, f"{len(found)} sizes of {what} are stated: keep the one that is right")
    stated = ", ".join(dimension.words for dimension in dimensions)
    raise BadLength(text, f"the size of the sheet or image is needed, and only that of {stated} is stated")
