"""What a shop has printed on every page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

_BETWEEN = "  ·  "


@dataclass(frozen=True, slots=True)
class Letterhead:
    """What stands above a page at the left and at the right, and at its foot; what is empty is left out.

    >>> Letterhead.of(("Weir Lane Framing", ""), ("555 0100", "weir.example")).right
    '555 0100  ·  weir.example'
    """

    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    foot: str = ""

    @classmethod
    def of(cls, before: Iterable[str], after: Iterable[str], foot: str = "") -> Letterhead:
        """Return the letterhead of what is not empty."""
        return cls(tuple(filter(None, before)), tuple(filter(None, after)), foot)

    @property
    def left(self) -> str:
        """The line above the page at the left."""
        return _BETWEEN.join(self.before)

    @property
    def right(self) -> str:
        """The line above the page at the right."""
        return _BETWEEN.join(self.after)


NO_LETTERHEAD = Letterhead()
