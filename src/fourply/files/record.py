"""One row of a list, or one table of a show file, read as a work.

Both say the same things under the same keys, so both become a record first: what was given, under which key, where.
Everything that cannot be read is collected, so that a person sees all faults of a row at once.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from fourply.errors import BadInput, BadLength
from fourply.files.convertors import DEGREES, ID, LENGTH, SIZE, TEXT, WHOLE, Reading, measured, one_of, words
from fourply.files.faults import Fault
from fourply.files.rules import AT_WORK, TREATMENT
from fourply.measure.dimensions import PARTS, Label, Order, is_museum, read_dimensions, sheet_of
from fourply.measure.length import ZERO, Length
from fourply.measure.notation import Unit
from fourply.measure.size import Rect, Size
from fourply.trade.treatment import Layer
from fourply.trade.work import Artwork, Keep, Readings, Source, Work, Zone

ART_KEYS = (
    *("size", "width", "height", "image_size", "image_width", "image_height", "image_left", "image_top"),
    *("orientation", "skew_deg", "thickness", "zones"),
)
"""What is said of a sheet."""
WORK_KEYS = (*("id", "title", "maker", "medium", "copies", "notes", "treatment", "with", "opening"), *ART_KEYS)
OPENING_KEYS = ("title", "maker", "medium", "notes", *ART_KEYS)
"""What is said of a further sheet of a work, beside the rules that may differ there."""
SIZE_KEYS = frozenset({"size", "width", "height", "image_size", "image_width", "image_height"})
_MOST_ZONES = 50
_MOST_COPIES = 10_000
_MOST_READINGS = 12


@dataclass(frozen=True, slots=True)
class Given:
    """What somebody wrote: as it stands, its column or key as they know it, what unit and order its header names."""

    raw: object
    column: str
    unit: Unit | None = None
    order: Order | None = None


@dataclass(frozen=True, slots=True)
class Record:
    """What was given of one work by key; `extra` is what no key is known for, by header.

    `size_column` is where a person would look for a size that is missing; `openings` are the further sheets of a work
    that is written out.
    """

    source: Source
    given: Mapping[str, Given]
    extra: tuple[tuple[str, str], ...] = ()
    size_column: str = "size"
    openings: tuple[Record, ...] = ()


@dataclass(frozen=True, slots=True)
class Listed:
    """A work as listed: the treatment that it names, and the rules that stand at the work itself.

    `inside` is the number of the work in whose mat it hangs; `openings` are the rules of each opening of its own mat,
    where there are several.
    """

    work: Work
    treatment: str
    own: Layer
    inside: str = ""
    openings: tuple[Layer, ...] = ()


@dataclass(frozen=True, slots=True)
class _Sheet:
    width: Readings
    height: Readings
    image: Size | None = None
    is_image: bool = False


def read_record(record: Record, reading: Reading, art: Artwork | None = None) -> Listed | tuple[Fault, ...]:
    """Return the work of a record, or everything in it that cannot be read; `art` is its sheet where it names none.

    Its further openings are not looked at here.
    """
    row = _Row(record, reading)
    art = art or row.artwork()
    own = {AT_WORK[key]: row.value(key, TREATMENT[AT_WORK[key]].parse) for key in record.given if key in AT_WORK}
    ident = row.value("id", ID.parse) or ""
    title = row.value("title", TEXT.parse) or ""
    copies = row.copies()
    maker, medium, treatment = (row.value(key, TEXT.parse) or "" for key in ("maker", "medium", "treatment"))
    inside = row.value("with", ID.parse) or ""
    notes = row.notes()
    if row.faults or art is None:
        return tuple(dict.fromkeys(row.faults))
    work = Work(ident or "?", title, art, maker, medium, copies, notes, record.source)
    return Listed(work, treatment, Layer(f"work {ident}", own), inside)


class _Row:
    """A record while it is being read, with the faults found so far."""

    def __init__(self, record: Record, reading: Reading) -> None:
        self.record = record
        self.reading = reading
        self.faults: list[Fault] = []

    def fault(self, column: str, found: str, expected: str) -> None:
        """Enter a fault."""
        self.faults.append(Fault(self.record.source.file, self.record.source.row, column, found, expected))

    def value[T](self, key: str, parse: Callable[[object, Reading], T]) -> T | None:
        """Return what stands under key, None where nothing does or where it cannot be read."""
        given = self.record.given.get(key)
        if given is None:
            return None
        try:
            return parse(given.raw, self._reading(given))
        except BadInput as bad:
            self.fault(given.column, bad.found, bad.expected)
            return None

    def _reading(self, given: Given) -> Reading:
        return replace(self.reading, unit=given.unit or self.reading.unit, order=given.order or self.reading.order)

    def copies(self) -> int:
        """Return how many alike are wanted."""
        copies = self.value("copies", WHOLE.parse)
        if copies is not None and not 1 <= copies <= _MOST_COPIES:
            self.fault(self.record.given["copies"].column, str(copies), f"write a number from 1 to {_MOST_COPIES}")
        return copies or 1

    def notes(self) -> str:
        """Return the notes, and after them what stands in columns that are not known."""
        own = self.value("notes", TEXT.parse)
        return "; ".join(([own] if own else []) + [f"{header}: {text}" for header, text in self.record.extra])

    def artwork(self) -> Artwork | None:
        """Return the art, None where there is a fault in what is said of it."""
        sheet = self._sheet()
        skew = self.value("skew_deg", DEGREES.parse) or 0.0
        thickness = self.value("thickness", LENGTH.parse)
        zones = self.value("zones", _parse_zones) or ()
        if sheet is None or self.faults:
            return None
        image = self._image_place(sheet)
        try:
            art = Artwork(sheet.width, sheet.height, image, skew, zones=zones, sheet_is_image=sheet.is_image)
            return art if thickness is None else replace(art, thickness=thickness)
        except ValueError as bad:
            self.fault("", "what is said of the sheet and its image", str(bad))
            return None

    def _sheet(self) -> _Sheet | None:
        before = len(self.faults)
        width, height = self.value("width", _parse_readings), self.value("height", _parse_readings)
        sheet = self._sized() if width is None and height is None else None
        if width is not None and height is not None:
            sheet = _Sheet(width, height)
        image = self._image()
        if sheet is None and image is not None and not {"width", "height", "size"} & self.record.given.keys():
            sheet = _Sheet(Readings.of(image.width), Readings.of(image.height), is_image=True)
        elif sheet is not None and image is not None:
            sheet = replace(sheet, image=image)
        if sheet is None and len(self.faults) == before:
            self.fault(self.record.size_column, "", "the width and height of the sheet, or of the image")
        if sheet is not None:
            self._check_orientation(Size(sheet.width.least, sheet.height.least))
        return sheet

    def _sized(self) -> _Sheet | None:
        given = self.record.given.get("size")
        if given is None:
            return None
        try:
            return self._sheet_in(given)
        except BadInput as bad:
            self.fault(given.column, bad.found, bad.expected)
            return None

    def _sheet_in(self, given: Given) -> _Sheet:
        reading = self._reading(given)
        if isinstance(given.raw, str) and (is_museum(given.raw) or (reading.order and _TWICE.search(given.raw))):
            return _museum_sheet(measured(given.raw), reading)
        order = reading.order or self._order_by_orientation(given)
        size = SIZE.parse(given.raw, replace(reading, order=order))
        return _Sheet(Readings.of(size.width), Readings.of(size.height))

    def _order_by_orientation(self, given: Given) -> Order | None:
        """Return the order in which the pair has the shape that the list states, None where it states none."""
        shape = self.value("orientation", _parse_shape)
        if shape not in {"portrait", "landscape"} or not isinstance(given.raw, str):
            return None
        size = SIZE.parse(given.raw, replace(self._reading(given), order=Order.WIDTH_HEIGHT))
        return Order.WIDTH_HEIGHT if _shape(size) == shape else Order.HEIGHT_WIDTH

    def _check_orientation(self, size: Size) -> None:
        stated = self.value("orientation", _parse_shape)
        if stated not in {None, _shape(size)}:
            column = self.record.given["orientation"].column
            self.fault(column, str(stated), f"the size is {_shape(size)}: put right whichever is wrong")

    def _image(self) -> Size | None:
        width, height = self.value("image_width", LENGTH.parse), self.value("image_height", LENGTH.parse)
        if width and height:
            return Size(width, height)
        if (width is None) != (height is None):
            self.fault("image size", "one of its two sides", "the width and the height of the image")
        return self.value("image_size", SIZE.parse)

    def _image_place(self, sheet: _Sheet) -> Rect | None:
        """Return where the image lies; in the middle of the sheet where nobody measured its margins."""
        if sheet.image is None:
            return None
        left, top = self.value("image_left", LENGTH.parse), self.value("image_top", LENGTH.parse)
        middle_left = (sheet.width.least - sheet.image.width) // 2
        middle_top = (sheet.height.least - sheet.image.height) // 2
        return Rect(middle_left if left is None else left, middle_top if top is None else top, sheet.image)


_TWICE = re.compile(r"\(\s*\d|[;\n]")
"""A size that is stated again in brackets or on another line is in the form of museum records, label or not."""


def _museum_sheet(text: str, reading: Reading) -> _Sheet:
    stated = read_dimensions(text, reading.unit, reading.order or Order.HEIGHT_WIDTH)
    sheet = sheet_of(text, stated)
    size = sheet.extent.size
    images = [each.extent.size for each in stated if each.label is Label.IMAGE and each is not sheet]
    image = images[0] if len(images) == 1 else None
    return _Sheet(Readings.of(size.width), Readings.of(size.height), image, is_image=sheet.label in PARTS)


def _parse_readings(raw: object, reading: Reading) -> Readings:
    """Return the least and the most of `16 1/4; 16 5/16` or `406 to 407`."""
    text = measured(raw)
    parts = re.split(r"\s*;\s*|\s+to\s+", text)
    if len(parts) > _MOST_READINGS:
        raise BadLength(text, f"write at most {_MOST_READINGS} readings")
    lengths = [LENGTH.parse(part, reading) for part in parts]
    if min(lengths) <= ZERO:
        raise BadLength(text, "the side of a sheet is above nothing")
    return Readings.of(*lengths)


def _parse_shape(raw: object, _: Reading) -> str:
    text = words(raw)
    shape = _SHAPE_WORDS.get(text.lower())
    if shape is None:
        raise BadInput(text, "write portrait, landscape or square")
    return shape


_SHAPE_WORDS = {
    **dict.fromkeys(("portrait", "upright", "vertical", "tall", "p", "v"), "portrait"),
    **dict.fromkeys(("landscape", "horizontal", "wide", "l", "h"), "landscape"),
    "square": "square",
}


def _shape(size: Size) -> str:
    if size.width == size.height:
        return "square"
    return "portrait" if size.width < size.height else "landscape"


_ZONE_SIDES = ("left", "top", "width", "height")
_KEEP = one_of(Keep)


def _parse_zones(raw: object, reading: Reading) -> tuple[Zone, ...]:
    if not isinstance(raw, list) or len(raw) > _MOST_ZONES:
        raise BadInput(str(raw)[:200], 'write zones as tables: {name = "signature", left = …, top = …, …}')
    return tuple(_zone(item, reading) for item in raw)


def _zone(raw: object, reading: Reading) -> Zone:
    if not isinstance(raw, dict) or not set(_ZONE_SIDES) <= set(raw) <= {*_ZONE_SIDES, "name", "keep"}:
        raise BadInput(str(raw)[:200], f"write {', '.join(_ZONE_SIDES)}, and a name and keep where you like")
    sides: dict[str, Length] = {side: LENGTH.parse(raw[side], reading) for side in _ZONE_SIDES}
    if not (sides["width"] and sides["height"]):
        raise BadInput(str(raw)[:200], "a zone is above nothing both ways")
    keep = _KEEP.parse(raw.get("keep", "show"), reading)
    return Zone(TEXT.parse(raw.get("name", "zone"), reading), Rect.at(**sides), keep)
