"""Arches: a flat foot, upright shoulders where there are any, and a top of one arc.

The arc's centre stays where it is when the opening grows, and the foot goes down as far as the crown goes up. The
radius from width and rise is the sagitta formula of any textbook of geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import down, from_mm
from fourply.measure.size import Size
from fourply.trade.shapes.ellipse import narrowest_band
from fourply.trade.shapes.offset import parallel
from fourply.trade.shapes.outline import Outline, Segment, Sweep, joined
from fourply.trade.shapes.shape import Shape, grown_size, half


@dataclass(frozen=True, slots=True)
class Arch(Shape):
    """An arch of one circular arc: `rise` from where it springs to its crown, at most half the width.

    Half the width makes it semicircular. What the height has more than the rise are its shoulders; without any the arc
    meets the foot in two sharp corners. Raises BadTreatment where the rise is not so.

    >>> arch = Arch(Size(Length.inches(8), Length.inches(2)), Length.inches(2))
    >>> float(arch.radius.as_inches), round(float(arch.arc.as_inches), 3)
    (5.0, 9.273)
    """

    size: Size
    rise: Length

    def __post_init__(self) -> None:
        _check_rise(self.size, self.rise)
        if 2 * self.rise > self.size.width:
            expected = f"at most half the width ({self.size.width.as_mm / 2:g} mm), or an elliptical arch"
            raise BadTreatment("shape.rise", f"a rise of {self.rise.as_mm:g} mm", expected)

    @property
    def words(self) -> str:
        """The name of its kind."""
        return "semicircular arch" if self.size.width - 2 * self.rise <= Length(1) else "segmental arch"

    @property
    def straight(self) -> bool:
        """Its top needs a circle cutter."""
        return False

    @property
    def shoulder(self) -> Length:
        """The height of the upright sides."""
        return self.size.height - self.rise

    @property
    def radius(self) -> Length:
        """The radius of the arc, to the nanometre; its centre lies so far below the crown."""
        return from_mm(self._radius)

    @property
    def _radius(self) -> float:
        width, rise = self.size.width.as_mm, self.rise.as_mm
        return (width * width / 4 + rise * rise) / (2 * rise)

    @property
    def half_angle_deg(self) -> float:
        """Half the angle of the arc at its centre, in degrees."""
        return math.degrees(_half_angle(self.size.width.as_mm / 2, self._radius))

    @property
    def arc(self) -> Length:
        """The length of the arc, to the nanometre."""
        return from_mm(2 * self._radius * math.radians(self.half_angle_deg))

    def _parallel(self, mm: float) -> tuple[float, float, float]:
        """Return half the width, the height and the rise of the parallel so far outside."""
        height, radius, wide = self.size.height.as_mm + 2 * mm, self._radius + mm, self.size.width.as_mm / 2 + mm
        if min(height, radius) <= 0:
            raise BadTreatment("shape", "the arch closes", "a larger arch, or less on every side")
        if self.shoulder > ZERO and wide > 0:
            rise = radius - math.sqrt(max(0.0, radius * radius - wide * wide))
            if rise <= height:
                return wide, height, rise
        if height <= radius:
            return math.sqrt(height * (2 * radius - height)), height, height
        return radius, height, radius

    def beside(self, mm: float) -> Outline:
        """Return the true parallel: the arc about the same centre."""
        (wide, high, rise), radius = self._parallel(mm), self._radius + mm
        turn = math.degrees(math.atan2(wide, radius - rise))  # an arc sine is not exact next to a half circle
        return _arched(Sweep(0.0, radius - high / 2, radius, radius, -90.0 - turn, 2 * turn), wide, high, rise)

    def grown(self, by: Length) -> Arch:
        """Return the parallel arch, its width and rise to the nanometre."""
        wide, _, rise = self._parallel(by.as_mm)
        width, height = from_mm(2 * wide), self.size.height + 2 * by
        whole = height if rise == height.as_mm else min(from_mm(rise), height, width // 2)
        return Arch(Size(width, height), whole)


@dataclass(frozen=True, slots=True)
class EllipticalArch(Shape):
    """An arch whose top is half an ellipse, half the width by `rise`.

    Raises BadTreatment where the rise is not above nothing, or is more than the height.

    >>> EllipticalArch(Size(Length.mm(200), Length.mm(250)), Length.mm(60)).grown(Length.mm(5)).shoulder.as_mm
    195.0
    """

    size: Size
    rise: Length

    def __post_init__(self) -> None:
        _check_rise(self.size, self.rise)

    @property
    def words(self) -> str:
        """The name of its kind."""
        return "elliptical arch"

    @property
    def straight(self) -> bool:
        """Its top needs an oval cutter."""
        return False

    @property
    def shoulder(self) -> Length:
        """The height of the upright sides."""
        return self.size.height - self.rise

    def beside(self, mm: float) -> Outline:
        """Return the true parallel; its top is no ellipse."""
        (wide, high), rise = half(self.size), self.rise.as_mm
        if self.shoulder.as_mm + mm < 0 or mm < -min(wide * wide / rise, rise * rise / wide):
            return parallel(self.outline(), mm)
        top = Sweep(0.0, rise - high, wide, rise, -180.0, 180.0, mm)
        return _arched(top, wide + mm, 2 * (high + mm), rise + mm)

    def grown(self, by: Length) -> EllipticalArch:
        """Return the arch with both axes of its top and its shoulders grown."""
        size, rise = grown_size(self.size, by), self.rise + by
        if not ZERO < rise <= size.height:
            found = f"{by.as_mm:g} mm on every side leaves a rise of {rise.as_mm:g} mm in {size.height.as_mm:g} mm"
            raise BadTreatment("shape.shoulder", found, f"shoulders of {-by.as_mm:g} mm or more, and a higher rise")
        return EllipticalArch(size, rise)

    def narrowest(self, by: Length) -> Length:
        """Return the narrowest of the band between this arch and the grown one, rounded down."""
        grown = self.grown(by)
        axes = [(each.size.width.as_mm / 2, each.rise.as_mm) for each in (self, grown)]
        inner, outer = axes if by > ZERO else axes[::-1]
        return min(abs(by), from_mm(narrowest_band(inner, outer), down))


def _check_rise(size: Size, rise: Length) -> None:
    if not ZERO < rise <= size.height:
        expected = f"a rise above nothing, at most the height of the opening ({size.height.as_mm:g} mm)"
        raise BadTreatment("shape.rise", f"a rise of {rise.as_mm:g} mm", expected)


def _half_angle(wide: float, radius: float) -> float:
    return math.asin(min(1.0, wide / radius))


def _arched(top: Sweep, wide: float, high: float, rise: float) -> Outline:
    """Return the outline under a top that runs from left to right; its box has its middle at the origin."""
    spring, foot = rise - high / 2, high / 2
    right = Segment((wide, spring), (wide, foot))
    left = Segment((-wide, foot), (-wide, spring))
    return joined((top, right, Segment(right.end, left.start), left))
