"""What of a work can be taken hold of in its front view, and which rule each handle changes by how much.

A handle stands on the outline that its rule moves. A border is held at its outer edge, where it grows outwards; what
lies beside the window at the line that it sets.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from fourply.drawing.shapes import Box
from fourply.errors import Unknown
from fourply.files.convertors import Reading, parse_length_in
from fourply.files.rules import TREATMENT
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Edges, Rect
from fourply.sheets.front_view import rims_of
from fourply.trade.accents import Round
from fourply.trade.package import Groove, Hole, Mat, Package
from fourply.trade.parts import mat_name
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.treatment import Bevel, BorderMeans, Bottom, BottomRule, Treatment, WindowFrom

SIDES = ("top", "right", "bottom", "left")
_WAYS = {"top": (0, -1), "right": (1, 0), "bottom": (0, 1), "left": (-1, 0)}
_LEAST = Length.inches(1, 64)
_ASIDE = 0.42  # the mark of the section may stand in the middle


@dataclass(frozen=True, slots=True)
class Handle:
    """One handle: its name, what it is called, which outline it moves, what it is set to, where it stands.

    `at` is in millimetres of the front view; its value grows on the `way`. `figure` is what is dimensioned by it.
    """

    name: str
    says: str
    outline: str
    rule: str
    value: Length
    figure: str
    at: tuple[float, float]
    way: tuple[int, int]


def handles(package: Package) -> tuple[Handle, ...]:
    """Return every handle of a work, clockwise from the top: borders, window, reveals, what lies on the top mat."""
    lie = Lie(package)
    return (*_borders(lie), *_window(lie), *_reveals(lie), *_accents(lie))


def handle_named(package: Package, name: str) -> Handle:
    """Return a handle by its name; raises Unknown."""
    every = handles(package)
    for each in every:
        if each.name == name:
            return each
    raise Unknown("handle", name, tuple(each.name for each in every))


def typed(package: Package, handle: Handle, text: str, reading: Reading) -> Mapping[str, object]:
    """Return the rules with a handle at what was typed; raises BadInput.

    At the bottom border whatever its rule understands may be typed too, such as `+1/2` or `x 4/3`.
    """
    if handle.name == "border.bottom" and package.treatment.borders is None:
        return {"bottom": TREATMENT["bottom"].parse(text, reading)}
    return moved(package, handle, parse_length_in(text, reading) - handle.value, alone=False)


def moved(package: Package, handle: Handle, by: Length, *, alone: bool) -> Mapping[str, object]:
    """Return the rules with a handle moved outwards by so much; `alone` where equal borders are not to follow."""
    treatment, to = package.treatment, max(ZERO, handle.value + by)
    kind, _, which = handle.name.partition(".")
    match kind:
        case "border":
            return _border(package, which, by, alone=alone)
        case "reveal":
            return {"mats": _with(treatment.mats, int(which) - 1, reveal=to)}
        case "groove":
            return {"grooves": _with(treatment.grooves, int(which) - 1, distance=max(_LEAST, to))}
        case "line":
            return {"lines": _with(treatment.lines, int(which) - 1, distance=to)}
        case "inlay" if treatment.inlay is not None:
            return {"inlay": replace(treatment.inlay, distance=max(_LEAST, to))}
        case _:
            return {handle.rule: to}


def _with(rules: tuple[Any, ...], at: int, **values: object) -> tuple[object, ...]:
    return (*rules[:at], replace(rules[at], **values), *rules[at + 1 :])


# ── borders ──────────────────────────────────────────────────────────────────────────────────────────────────────


def _borders(lie: Lie) -> Iterator[Handle]:
    """Yield the four borders of the top mat; none where the outer size is given and they follow from it."""
    treatment, edge = lie.package.treatment, lie.edge
    if treatment.outer is not None or treatment.frame:
        return
    middle = ((edge.left + edge.right) / 2, (edge.top + edge.bottom) / 2)
    places = {
        "top": (middle[0], edge.top),
        "right": (edge.right, middle[1]),
        "bottom": (edge.left + _ASIDE * (edge.right - edge.left), edge.bottom),
        "left": (edge.left, middle[1]),
    }
    now, outline = dict(stated(lie.package).named()), _border_outline(lie.package)
    for side in SIDES:
        rule = "borders" if treatment.borders else "bottom" if side == "bottom" else "border"
        figure = border_figure(lie.package, side)
        says = f"{side.title()} border"
        yield Handle(f"border.{side}", says, outline, rule, now[side], figure, places[side], _WAYS[side])


def _border_outline(package: Package) -> str:
    top = package.mats[0]
    if package.treatment.border_means is BorderMeans.VISIBLE:
        return "seen beside the lip"
    return "top mat, at sight" if top.opening.bevel is Bevel.NORMAL else "top mat, at the back line"


def border_figure(package: Package, side: str) -> str:
    """Return the path of the figure of a border of the top mat: that of the window that is nearest to this side."""
    holes = [hole for hole in package.mats[0].holes if not hole.title]
    hole = min(holes, key=lambda hole: dict(hole.borders.named())[side].nm)
    return f"{hole.scope}mat.1.border.{side}"


def stated(package: Package) -> Edges:
    """Return the borders as the treatment states them: as they are cut, or as they are seen beside the lip."""
    treatment, figures = package.treatment, package.figures
    if treatment.borders is not None:
        return treatment.borders
    cut = package.mats[0].borders
    if treatment.border_means is BorderMeans.CUT:
        return cut
    seen = {side: figures[path].value for side in SIDES if (path := f"frame.visible.{side}") in figures}
    lengths = {side: value for side, value in seen.items() if isinstance(value, Length)}
    return Edges(**lengths) if len(lengths) == len(SIDES) else cut


def _border(package: Package, side: str, by: Length, *, alone: bool) -> dict[str, object]:
    treatment, now = package.treatment, dict(stated(package).named())
    to = max(ZERO, now[side] + by)
    if treatment.borders is not None or (alone and side != "bottom"):
        alike = [each for each in SIDES if each == side or (not alone and now[each] == now[side])]
        return {"borders": Edges(**(now | dict.fromkeys(alike, to)))}
    if side != "bottom" or (treatment.bottom.rule is BottomRule.EQUAL and not alone):
        return {"border": max(ZERO, treatment.border + by)}
    return {"bottom": Bottom(BottomRule.WIDTH, amount=to)}


# ── the window and what lies beside it ───────────────────────────────────────────────────────────────────────────

_WINDOW: Mapping[WindowFrom, tuple[tuple[str, str, str, str], ...]] = {
    WindowFrom.SHEET: (("overlap", "Overlap", "of the window over the sheet", "right"),),
    WindowFrom.FLOAT: (("float_gap", "Gap", "from the sheet to the window", "right"),),
    WindowFrom.IMAGE: (
        ("paper_top", "Paper above", "from the image to the window", "top"),
        ("paper_sides", "Paper beside", "from the image to the window", "right"),
        ("paper_bottom", "Paper below", "from the image to the window", "bottom"),
    ),
}


def _window(lie: Lie) -> Iterator[Handle]:
    treatment, box = lie.package.treatment, lie.window
    scope = lie.package.arts[0].scope
    places = {
        "top": (box.left + 0.6 * box.width, box.top),
        "right": (box.right, box.top + 0.4 * box.height),
        "bottom": (box.left + 0.6 * box.width, box.bottom),
    }
    for rule, says, outline, side in _WINDOW[treatment.window]:
        across, down = _WAYS[side]
        way = (-across, -down) if rule == "overlap" else (across, down)
        yield Handle(
            f"window.{rule}",
            says,
            outline,
            rule,
            getattr(treatment, rule),
            f"{scope}treatment.{rule}",
            places[side],
            way,
        )


def _reveals(lie: Lie) -> Iterator[Handle]:
    package, above = lie.package, lie.package.mats[0]
    for mat in package.mats[1:]:
        if mat.hidden:
            continue
        hole = above.holes[0]
        at, way = lie.on(hole, hole.borders, 0.14 * mat.number)
        rule = package.treatment.mats[mat.number - 1]
        outline = f"guide, from the {mat_name(above)}" if rule.means.value == "guide" else "flat strip of colour"
        figure = f"{hole.scope}{mat.path}.reveal"
        yield Handle(
            f"reveal.{mat.number}", f"Reveal of the {mat_name(mat)}", outline, "mats", rule.reveal, figure, at, way
        )
        above = mat


def _accents(lie: Lie) -> Iterator[Handle]:
    package, top = lie.package, lie.package.mats[0]
    hole, treatment = top.holes[0], package.treatment
    for number, groove in _grooves(treatment, top, hole):
        at, way = lie.on(hole, groove.borders, 0.8)
        value = treatment.grooves[number - 1].distance
        yield Handle(
            f"groove.{number}",
            "Groove",
            "its back line, from the window's",
            "grooves",
            value,
            f"{groove.path}.strip",
            at,
            way,
        )
    for number, line in enumerate(hole.lines, start=1):
        at, way = lie.on(hole, line.borders, 0.7)
        yield Handle(
            f"line.{number}", "Line", "its near edge, from the face", "lines", line.rule.distance, line.path, at, way
        )
    if package.inlay is not None and treatment.inlay is not None:
        at, way = lie.on(hole, package.inlay.inner, 0.9)
        yield Handle(
            "inlay.1", "Inlay", "its near edge, from the back line", "inlay", treatment.inlay.distance, "inlay", at, way
        )


def _grooves(treatment: Treatment, top: Mat, hole: Hole) -> Iterator[tuple[int, Groove]]:
    """Yield the grooves round the first window, or round all, with the numbers of their rules."""
    made = {Round.WINDOW: iter(hole.grooves), Round.ALL: iter(top.grooves)}
    for number, rule in enumerate(treatment.grooves, start=1):
        groove = next(made[rule.round], None)
        if groove is not None:
            yield number, groove


class Lie:
    """Where the edges of a package lie in its front view, in millimetres."""

    def __init__(self, package: Package) -> None:
        self.package = package
        self.rims = rims_of(package)
        frame, outer = package.frame, package.outer
        left, top = self.rims.left.as_mm, self.rims.top.as_mm
        self.edge = Box(left, top, left + outer.width.as_mm, top + outer.height.as_mm)
        if frame is not None and frame.sides == 4:
            lips = {rail.side: rail.moulding.width.as_mm for rail in frame.rails}
            width, height = frame.outside.width.as_mm, frame.outside.height.as_mm
            self.edge = Box(lips["left"], lips["top"], width - lips["right"], height - lips["bottom"])
        self.window = self.around(package.arts[0].window)

    def around(self, place: Rect) -> Box:
        """Return where a place of the package lies in the view."""
        left, top = (self.rims.left + place.left).as_mm, (self.rims.top + place.top).as_mm
        return Box(left, top, left + place.size.width.as_mm, top + place.size.height.as_mm)

    def between(self, window: Box, side: str) -> tuple[float, float]:
        """Return the middle of the border between a window and the edge on one side."""
        middle = ((window.left + window.right) / 2, (window.top + window.bottom) / 2)
        return {
            "top": (middle[0], (self.edge.top + window.top) / 2),
            "right": ((window.right + self.edge.right) / 2, middle[1]),
            "bottom": (middle[0], (window.bottom + self.edge.bottom) / 2),
            "left": ((self.edge.left + window.left) / 2, middle[1]),
        }[side]

    def on(self, hole: Hole, borders: Edges, along: float) -> tuple[tuple[float, float], tuple[int, int]]:
        """Return a place on an outline by its borders and the way outwards: above, at the left where it is curved."""
        left, top = (self.rims.left + borders.left).as_mm, (self.rims.top + borders.top).as_mm
        width, height = (
            (self.package.outer.width - borders.across).as_mm,
            (self.package.outer.height - borders.along).as_mm,
        )
        if isinstance(hole.opening.shape, Rectangle):
            return (left + along * width, top), (0, -1)
        return (left, top + height / 2), (-1, 0)
