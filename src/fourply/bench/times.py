"""How long things take at a bench: a table that a person replaces by what a stopwatch says.

Nothing here is measured until somebody measures it. Each entry has the time that is expected and two between which it
most likely lies; what an entry is wrong by it is wrong by each time it is used, so a sum is as uncertain as its entries
are together, not as its many uses would make it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from fourply.bench.steps import Use

ENTRIES: Mapping[str, str] = MappingProxyType(
    {
        "guide": "set the guide",
        "stop": "set one stop of a bevel cut",
        "head": "change the head, or the blade to the other slope",
        "board": "set the blade for another board or a stack, with a test corner",
        "guide_off": "take the guide off for the squaring arm, or put it back",
        "oval": "set an oval cutter",
        "lay": "lay a mat on the cutter and take it off",
        "turn": "turn a mat that lies on the cutter",
        "cut": "one bevel cut, without its length",
        "cut_metre": "each metre of bevel cut",
        "mark": "one pencil line along the guide",
        "oval_cut": "cut one oval",
        "hand_cut": "set out and cut one slant or arc",
        "template_cut": "cut along a template",
        "shave": "shave a groove's drop-out, put it back, tape it",
        "inlay": "set an inlay in and tape it",
        "rule": "rule a line or band of wash round a window",
        "stack": "tape an under-mat's blank on, its fallout back",
        "sheet": "fetch a sheet, lay it on the straight cutter, put what is left away",
        "part": "lay a part of a sheet for its next cuts",
        "part_turn": "turn a sheet or a part of one",
        "square_stop": "set the stop of a straight cut",
        "straight": "one straight cut",
        "hinge": "hinge one sheet",
        "chop": "chop the rails of one frame",
        "join": "join one frame",
        "pane": "cut and clean one pane",
        "fit": "fit one frame: points, dust cover, hangers",
    }
)
"""Every entry of the table, and what it times."""


@dataclass(frozen=True, slots=True)
class Time:
    """Seconds: expected, and between which two they most likely lie.

    >>> Time(60, high=90).spread
    (0, 30)
    """

    seconds: float
    low: float | None = None
    high: float | None = None

    def __post_init__(self) -> None:
        low, high = self.within
        if not all(math.isfinite(each) and 0 <= each <= 86_400 for each in (low, self.seconds, high)):
            raise ValueError("a time is from nothing to a day, in seconds")
        if not low <= self.seconds <= high:
            raise ValueError("the time expected lies between low and high")

    @property
    def within(self) -> tuple[float, float]:
        """Between which it most likely lies; at itself where nothing is said."""
        return (self.seconds if self.low is None else self.low, self.seconds if self.high is None else self.high)

    @property
    def spread(self) -> tuple[float, float]:
        """How far below and above the expected time it may lie."""
        low, high = self.within
        return self.seconds - low, high - self.seconds


@dataclass(frozen=True, slots=True)
class Times:
    """A table of times: a time for every entry, and in words what it rests on."""

    name: str
    entries: Mapping[str, Time]

    def __post_init__(self) -> None:
        missing = [entry for entry in ENTRIES if entry not in self.entries]
        if missing:
            raise ValueError(f"the table of times has no {', '.join(missing)}")

    def ticks(self, entry: str) -> int:
        """Return an entry in whole milliseconds."""
        return round(1000 * self.entries[entry].seconds)

    def seconds(self, uses: Iterable[Use]) -> float:
        """Return what all uses together take."""
        return math.fsum(use.count * self.entries[use.entry].seconds for use in uses)

    def within(self, uses: Iterable[Use]) -> tuple[float, float, float]:
        """Return what all uses together take, and between which two that most likely lies.

        >>> times = Times("", {entry: Time(60, 30, 100) for entry in ENTRIES})
        >>> [round(each) for each in times.within([Use("guide", 1), Use("stop", 1), Use("guide", 2)])]
        [240, 145, 366]
        """
        counts: dict[str, float] = {}
        for use in uses:
            counts[use.entry] = counts.get(use.entry, 0.0) + use.count
        expected = math.fsum(count * self.entries[entry].seconds for entry, count in counts.items())
        below, above = (
            math.hypot(*(count * self.entries[entry].spread[side] for entry, count in counts.items()))
            for side in (0, 1)
        )
        return expected, expected - below, expected + above
