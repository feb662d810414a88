"""The rule that a window's shape follows from: its kind and the numbers a person gives, before there is a size.

One rule serves many works; the size of each window makes a shape of it, or says why none can be made.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from typing import Final

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.trade.shapes.arch import Arch, EllipticalArch
from fourply.trade.shapes.corners import Clipped, Rounded, Scooped
from fourply.trade.shapes.ellipse import Ellipse
from fourply.trade.shapes.free import Free
from fourply.trade.shapes.outline import Outline
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.regular import SIDES_LEAST, SIDES_MOST, Regular
from fourply.trade.shapes.shape import Shape
from fourply.trade.shapes.stepped import Stepped


class ShapeKind(Enum):
    """The kinds of window shape, by the words that people write for them."""

    RECTANGLE = "rectangle"
    OVAL = "oval"
    CIRCLE = "circle"
    ARCH = "arch"
    ROUND_ARCH = "round arch"
    ELLIPTICAL_ARCH = "elliptical arch"
    CLIPPED = "clipped"
    OCTAGON = "octagon"
    ROUNDED = "rounded"
    SCOOPED = "scooped"
    STEPPED = "stepped"
    POLYGON = "polygon"
    FREE = "free"


@dataclass(frozen=True, slots=True)
class ShapeRule:
    """A kind of shape and its numbers; each kind takes only its own (FIELDS), the others stay nothing.

    An arch takes its rise or its shoulder, the other is what the height leaves; neither means no shoulder. Raises
    BadTreatment for a number that is missing, below nothing, or not this kind's.

    >>> rule = ShapeRule(ShapeKind.ARCH, rise=Length.mm(60))
    >>> rule.fit(Size(Length.mm(200), Length.mm(250))).words
    'segmental arch'
    """

    kind: ShapeKind = ShapeKind.RECTANGLE
    leg: Length = ZERO
    radius: Length = ZERO
    rise: Length = ZERO
    shoulder: Length = ZERO
    steps: tuple[Length, ...] = ()
    sides: int = 0
    path: Outline | None = None

    def __post_init__(self) -> None:
        allowed, needed = FIELDS[self.kind], NEEDED.get(self.kind)
        for name in ("leg", "radius", "rise", "shoulder", "steps", "sides", "path"):
            value = getattr(self, name)
            if value and name not in allowed:
                takes = f"it takes {' or '.join(allowed)}" if allowed else "it takes no number"
                raise BadTreatment(f"shape.{name}", f"a {name} for kind {self.kind.value}", takes)
            if not value and name == needed:
                raise BadTreatment(f"shape.{name}", "nothing", f"kind {self.kind.value} needs it")
        if min(self.leg, self.radius, self.rise, self.shoulder, *self.steps) < ZERO or self.sides < 0:
            raise BadTreatment("shape", "a number below nothing", "numbers above nothing")
        if self.steps and min(self.steps) == ZERO:
            raise BadTreatment("shape.steps", "a step of nothing", "steps above nothing")
        if self.rise and self.shoulder:
            raise BadTreatment("shape.shoulder", "a rise and a shoulder", "one of them; the other follows")
        if self.sides and not SIDES_LEAST <= self.sides <= SIDES_MOST:
            raise BadTreatment("shape.sides", f"{self.sides} sides", f"{SIDES_LEAST} to {SIDES_MOST} sides")

    def fit(self, size: Size) -> Shape:
        """Return the shape of this size; raises BadTreatment, with what would be right, where there is none.

        A circle, an octagon and a polygon are as large as the smaller side allows, a free path keeps its proportions:
        their own box (`shape.size`) may be smaller than the size. All others fill it.
        """
        return _FITS[self.kind](self, size)

    def rise_in(self, size: Size) -> Length:
        """Return the rise of an arch in a window of this size."""
        if self.rise:
            return self.rise
        if self.kind is ShapeKind.ROUND_ARCH:
            return size.width // 2
        if self.shoulder >= size.height:
            found = f"a shoulder of {self.shoulder.as_mm:g} mm"
            raise BadTreatment(
                "shape.shoulder", found, f"less than the height of the opening, {size.height.as_mm:g} mm"
            )
        return size.height - self.shoulder


FIELDS: dict[ShapeKind, tuple[str, ...]] = {
    ShapeKind.RECTANGLE: (),
    ShapeKind.OVAL: (),
    ShapeKind.CIRCLE: (),
    ShapeKind.ARCH: ("rise", "shoulder"),
    ShapeKind.ROUND_ARCH: (),
    ShapeKind.ELLIPTICAL_ARCH: ("rise", "shoulder"),
    ShapeKind.CLIPPED: ("leg",),
    ShapeKind.OCTAGON: (),
    ShapeKind.ROUNDED: ("radius",),
    ShapeKind.SCOOPED: ("radius",),
    ShapeKind.STEPPED: ("steps",),
    ShapeKind.POLYGON: ("sides",),
    ShapeKind.FREE: ("path",),
}
"""The numbers that each kind takes."""

NEEDED: dict[ShapeKind, str] = {
    ShapeKind.CLIPPED: "leg",
    ShapeKind.ROUNDED: "radius",
    ShapeKind.SCOOPED: "radius",
    ShapeKind.STEPPED: "steps",
    ShapeKind.POLYGON: "sides",
    ShapeKind.FREE: "path",
}
"""The number that a kind cannot do without."""

RECTANGULAR: Final = ShapeRule()
"""The rule of most windows."""


def _circle(rule: ShapeRule, size: Size) -> Shape:
    del rule
    across = min(size.width, size.height)
    return Ellipse(Size(across, across))


def _free(rule: ShapeRule, size: Size) -> Shape:
    if rule.path is None:
        raise BadTreatment("shape.path", "nothing", "a closed path")
    return Free.within(rule.path, size)


_FITS: dict[ShapeKind, Callable[[ShapeRule, Size], Shape]] = {
    ShapeKind.RECTANGLE: lambda _, size: Rectangle(size),
    ShapeKind.OVAL: lambda _, size: Ellipse(size),
    ShapeKind.CIRCLE: _circle,
    ShapeKind.ARCH: lambda rule, size: Arch(size, rule.rise_in(size)),
    ShapeKind.ROUND_ARCH: lambda rule, size: Arch(size, rule.rise_in(size)),
    ShapeKind.ELLIPTICAL_ARCH: lambda rule, size: EllipticalArch(size, rule.rise_in(size)),
    ShapeKind.CLIPPED: lambda rule, size: Clipped(size, rule.leg),
    ShapeKind.OCTAGON: lambda _, size: Clipped.octagon(min(size.width, size.height)),
    ShapeKind.ROUNDED: lambda rule, size: Rounded(size, rule.radius),
    ShapeKind.SCOOPED: lambda rule, size: Scooped(size, rule.radius),
    ShapeKind.STEPPED: lambda rule, size: Stepped(size, rule.steps),
    ShapeKind.POLYGON: lambda rule, size: Regular.within(rule.sides, size),
    ShapeKind.FREE: _free,
}
