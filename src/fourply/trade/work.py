"""What is brought in: a work, and the art that it holds.

A sheet is seldom square and never exactly its nominal size, so each of its sizes is a least and a most: the least
decides how far a window may reach, the most decides what must clear it. A work is one framed piece.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from fourply.measure.length import ZERO, Length
from fourply.measure.size import Rect, Size


class Keep(Enum):
    """What must become of a protected zone."""

    SHOW = "show"
    COVER = "cover"


@dataclass(frozen=True, slots=True)
class Zone:
    """A part of the sheet that must be seen or must be hidden: a signature, a plate mark, a stain.

    `place` is measured from the top left of the sheet.
    """

    name: str
    place: Rect
    keep: Keep = Keep.SHOW


@dataclass(frozen=True, slots=True)
class Readings:
    """One measure taken in several places: the least and the most of them."""

    least: Length
    most: Length

    def __post_init__(self) -> None:
        if not ZERO < self.least <= self.most:
            msg = "readings are above nothing, the least not above the most"
            raise ValueError(msg)

    @classmethod
    def of(cls, *lengths: Length) -> Readings:
        """Return the readings of one or more measurements.

        >>> Readings.of(Length.mm(200), Length.mm(202)).least.as_mm
        200.0
        """
        return cls(min(lengths), max(lengths))


@dataclass(frozen=True, slots=True)
class Artwork:
    """A sheet with its image. `image` is the image's place on the sheet, from its top left.

    `skew_deg` is how far the sheet is from square. A paper of 0.3 mm is assumed until it is measured. `sheet_is_image`
    says that only the image's size was known. `name` tells the sheets of one work apart.
    """

    width: Readings
    height: Readings
    image: Rect | None = None
    skew_deg: float = 0.0
    thickness: Length = Length.mm(3, 10)
    zones: tuple[Zone, ...] = ()
    sheet_is_image: bool = False
    name: str = ""

    def __post_init__(self) -> None:
        sheet = Rect.at(ZERO, ZERO, self.width.most, self.height.most)
        if self.image is not None and not self.image.inside(sheet):
            msg = "the image lies on the sheet"
            raise ValueError(msg)
        if not 0.0 <= self.skew_deg < 10.0:
            msg = "a sheet is out of square by 0 to 10 degrees"
            raise ValueError(msg)
        if self.thickness < ZERO:
            msg = "a thickness is not below nothing"
            raise ValueError(msg)

    @property
    def least(self) -> Size:
        """The smallest measured size: what a window may count on."""
        return Size(self.width.least, self.height.least)

    @property
    def most(self) -> Size:
        """The largest measured size: what must be cleared."""
        return Size(self.width.most, self.height.most)


@dataclass(frozen=True, slots=True)
class Source:
    """Where a work was read: file and row (0 for none)."""

    file: str
    row: int = 0

    def __str__(self) -> str:
        return f"{self.file}, row {self.row}" if self.row else self.file


@dataclass(frozen=True, slots=True)
class Work:
    """One framed piece: its number in the list, its art, how many alike are wanted.

    A mat with several openings holds `others` besides, in the order of the openings.
    """

    id: str
    title: str
    art: Artwork
    maker: str = ""
    medium: str = ""
    copies: int = 1
    notes: str = ""
    source: Source = Source("")
    others: tuple[Artwork, ...] = ()

    def __post_init__(self) -> None:
        if not self.id.strip():
            msg = "a work has a number or name of its own"
            raise ValueError(msg)
        if self.copies < 1:
            msg = "at least one of a work is wanted"
            raise ValueError(msg)

    @property
    def arts(self) -> tuple[Artwork, ...]:
        """Every sheet that the work holds, in the order of the openings."""
        return (self.art, *self.others)
