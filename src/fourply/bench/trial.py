"""A test cut: one window with four different borders, and everything that is read off it, box by box.

Four settings spread over the guide's reach give the scale, both ends of each cut the guide's turn, eight corners the
start and the stop, the core the angle, the diagonals of the blank how square it is: one board tells all of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fourply.bench.blade import BladeSetting, blade_for
from fourply.bench.cutter import Side
from fourply.bench.profile import Profile
from fourply.bench.readings import What
from fourply.bench.setting_out import NEXT
from fourply.bench.square import Worked, diagonal
from fourply.errors import BadInput
from fourply.measure.length import Length
from fourply.measure.rounding import Grid, down, from_mm, half_up, to_grid
from fourply.measure.size import Edges, Size
from fourply.trade.formulas import bevel_run

ROUND = ("top", "left", "bottom", "right")
_LEAST_BORDER = Length.inches(1, 2)  # narrower ones are hard to read at both ends
_LEAST_OPENING = Length.mm(60)
_BLANKS = {
    True: Size(Length.mm(300), Length.mm(400)),
    False: Size(Length.inches(12), Length.inches(16)),
}


@dataclass(frozen=True, slots=True)
class Box:
    """A place for one reading: its number on the sheet, what is read and where, what it needs beside it."""

    number: str
    what: What
    where: str
    setting: Length | None = None
    length: Length | None = None
    width: Length | None = None
    height: Length | None = None


@dataclass(frozen=True, slots=True)
class Trial:
    """What to cut for a test, in which blank and board, and the boxes to fill in.

    `far` names, for each side, the side at the far end of its cut. `start` and `stop` are how far past the pencil
    crossing the blade enters and leaves: the `run` of the bevel and what is known of the cutter.
    """

    profile: Profile
    blank: Size
    caliper: Length
    borders: Edges
    far: dict[str, str]
    run: Length
    start: Length
    stop: Length
    blade: BladeSetting
    diagonal: Worked
    boxes: tuple[Box, ...]

    def border(self, side: str) -> Length:
        """Return the setting of one side."""
        return _side(self.borders, side)


def trial(profile: Profile, caliper: Length) -> Trial:
    """Return a test cut for board of this caliper; raises BadInput where the cutter cannot make one."""
    blank = _blank(profile)
    one, two, three, four = _settings(profile, blank)
    borders = Edges(top=one, right=three, bottom=four, left=two)
    run = bevel_run(caliper, profile.known.angle.value)
    return Trial(
        profile,
        blank,
        caliper,
        borders,
        {side: NEXT[side][0 if profile.guide.side is Side.LEFT else 1] for side in ROUND},
        run,
        run + profile.start(caliper),
        run + profile.stop(caliper),
        blade_for(profile, caliper),
        diagonal(blank),
        tuple(_boxes(blank, borders)),
    )


def _blank(profile: Profile) -> Size:
    """Return the usual blank, or the largest of its shape that the bar and the arm take in one pass."""
    blank = _BLANKS[profile.unit.is_metric]
    limit = profile.bar if profile.arm is None else min(profile.bar, profile.arm.length)
    if blank.height <= limit:
        return blank
    grid = Grid("mark", Length.mm(10) if profile.unit.is_metric else Length.inches(1, 2))
    height = to_grid(limit, grid, down)
    return Size(to_grid(from_mm(height.as_mm * 0.75), grid, down), height)


def _settings(profile: Profile, blank: Size) -> tuple[Length, Length, Length, Length]:
    """Return four settings spread over as much of the reach as leaves an opening; the outer two share the long edge."""
    guide = profile.guide
    least, most = max(guide.least, _LEAST_BORDER), min(guide.greatest, (blank.width - _LEAST_OPENING).split(2)[0])
    if most < least:
        raise BadInput(profile.name, "a cutter whose borders leave an opening in its largest blank")
    wanted = [least + (most - least).split(3)[0] * part for part in range(4)]
    if guide.pinned:
        pins = [pin for pin in guide.pinned if pin <= most] or [min(guide.pinned)]
        found = [min((abs(pin - want), pin) for pin in pins)[1] for want in wanted]
    else:
        found = [max(least, to_grid(want, _marks(profile), half_up)) for want in wanted]
    return found[0], found[1], found[2], found[3]


def _marks(profile: Profile) -> Grid:
    """Return the divisions that settings of a test are on: plain ones, where the guide's own allow it."""
    plain, step = Length.mm(5) if profile.unit.is_metric else Length.inches(1, 8), profile.guide.step
    return Grid("mark", plain if plain.nm % step.nm == 0 else step)


def _side(borders: Edges, side: str) -> Length:
    return {"top": borders.top, "left": borders.left, "bottom": borders.bottom, "right": borders.right}[side]


def _boxes(blank: Size, borders: Edges) -> Iterator[Box]:
    number = 0

    def box(what: What, where: str, **more: Length) -> Box:
        nonlocal number
        number += 1
        return Box(str(number), what, where, **more)

    for side in ROUND:
        setting = _side(borders, side)
        one, two = NEXT[side]
        edge = blank.width if side in {"top", "bottom"} else blank.height
        length = edge - _side(borders, one) - _side(borders, two)
        yield box(What.MID, f"{side}, mid-length", setting=setting)
        yield box(What.FAR, f"{side}, far end", setting=setting, length=length)
        yield box(What.NEAR, f"{side}, near end", setting=setting, length=length)
    for side in ROUND:
        yield box(What.START, f"{side}, where the blade entered")
        yield box(What.STOP, f"{side}, where it left")
    yield box(What.CORE, "any side, square-on")
    yield box(What.DIAGONALS, "the blank, both", width=blank.width, height=blank.height)
