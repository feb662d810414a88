"""The openings of a stack of mats, from the window outwards: back, face and sight of each, and what shows of it.

The window is the sight of the innermost mat (or of a fillet in it). Each mat above opens wider by its reveal, which a
person gives as the difference of two guide settings or as the flat strip of colour they want to see. Sizes are those
of the box round an opening; its shape says how it is cut.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import Grid, down, from_mm, half_even, to_grid, up
from fourply.measure.size import Size
from fourply.trade import opening_rules, rules
from fourply.trade.clearance import clearance
from fourply.trade.formulas import bevel_run, slant
from fourply.trade.materials import Board, Fillet, Materials
from fourply.trade.package import Opening
from fourply.trade.shapes.ellipse import Ellipse
from fourply.trade.shapes.free import Free
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.regular import Regular
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.shapes.shape import Shape
from fourply.trade.treatment import Bevel, MatRule, RevealMeans, Treatment, WindowFrom
from fourply.trade.window import window_path
from fourply.working.ledger import Ledger
from fourply.working.working import Rule

_SIDES = ("width", "height")

_FROM_STRIP: dict[tuple[Bevel, Bevel], Rule] = {
    (Bevel.NORMAL, Bevel.NORMAL): rules.REVEAL_FROM_STRIP,
    (Bevel.REVERSE, Bevel.NORMAL): rules.REVEAL_FROM_STRIP_REVERSE_ABOVE,
    (Bevel.NORMAL, Bevel.REVERSE): rules.REVEAL_FROM_STRIP_REVERSE_UNDER,
    (Bevel.REVERSE, Bevel.REVERSE): rules.REVEAL_FROM_STRIP_REVERSE_BOTH,
}
"""The rule for a reveal given as a strip, by the bevel of the mat above and of the under-mat."""


_POLYGON_FACE = {Bevel.NORMAL: opening_rules.FACE_POLYGON, Bevel.REVERSE: opening_rules.FACE_POLYGON_REVERSE}


@dataclass(frozen=True, slots=True)
class Sheet:
    """The board of one mat with the run of its bevel: what all its openings share."""

    board: Board
    run: Length


@dataclass(frozen=True, slots=True)
class Opened:
    """One opening of one mat: what is known before there are borders. The reveal and strip beside the mat above.

    A mat that is set back out of sight has a reveal below nothing and no strip.
    """

    number: int
    rule: MatRule
    run: Length
    opening: Opening
    reveal: Length
    strip: Length


def enter_boards(ledger: Ledger, treatment: Treatment, materials: Materials) -> tuple[Sheet, ...]:
    """Return the board and run of every mat, the top mat first."""
    ledger.given("bevel.angle_deg", treatment.bevel_deg, treatment.origin("bevel_deg"))
    boards = (materials.board(rule.board) for rule in treatment.mats)
    return tuple(
        Sheet(board, _enter_run(ledger, number, board, treatment.bevel_deg))
        for number, board in enumerate(boards, start=1)
    )


def open_mats(
    ledger: Ledger, window: Size, treatment: Treatment, sheets: tuple[Sheet, ...], *, fillet: Fillet | None
) -> tuple[Opened, ...]:
    """Return one opening through all mats round the window, that of the top mat first.

    Raises BadTreatment where an opening closes or a shape does not fit.
    """
    return _Opening(ledger, treatment, sheets, fillet).through(window)


def _enter_run(ledger: Ledger, number: int, board: Board, angle_deg: float) -> Length:
    origin = f"board {board.name}" + ("" if board.measured else " (nominal, not measured)")
    ledger.given(f"mat.{number}.caliper", board.caliper, origin)
    names = {"caliper": f"mat.{number}.caliper", "angle": "bevel.angle_deg"}
    ledger.figure(f"mat.{number}.slant", slant(board.caliper, angle_deg), rules.SLANT, **names)
    return ledger.figure(f"mat.{number}.run", bevel_run(board.caliper, angle_deg), rules.RUN, **names)


class _Opening:
    """One opening while it is taken from the window out through the mats."""

    def __init__(self, ledger: Ledger, treatment: Treatment, sheets: tuple[Sheet, ...], fillet: Fillet | None) -> None:
        self.ledger, self.treatment, self.fillet = ledger, treatment, fillet
        self.mats, self.runs = treatment.mats, [sheet.run for sheet in sheets]

    def through(self, window: Size) -> tuple[Opened, ...]:
        last = len(self.mats)
        openings = {last: self._innermost(window)}
        reveals = {1: ZERO}
        seen = [number for number, mat in enumerate(self.mats, start=1) if not mat.setback]
        for above, under in reversed(list(pairwise(seen))):
            reveals[under] = self._reveal(above, under)
            openings[above] = self._above(above, under, openings[under], reveals[under])
        self._enter_window(openings[last])
        strips = {under: self._strip(above, under, openings, reveals[under]) for above, under in pairwise(seen)}
        for number in range(2, last):
            if self.mats[number - 1].setback:
                reveals[number] = self._set_back(number)
                openings[number] = self._grown(number, number - 1, openings[number - 1], -reveals[number])
        return tuple(
            Opened(n, mat, self.runs[n - 1], openings[n], reveals[n], strips.get(n, ZERO))
            for n, mat in enumerate(self.mats, start=1)
        )

    def _rule(self, number: int) -> ShapeRule | None:
        own = self.mats[number - 1].shape
        return own or (self.treatment.shape if number == len(self.mats) else None)

    def _innermost(self, window: Size) -> Opening:
        number = len(self.mats)
        rule, bevel = self._rule(number) or ShapeRule(), self.mats[-1].bevel
        sight, names = self._inside_of(window)
        if self.fillet is not None and rule.kind is not ShapeKind.RECTANGLE:
            found = "a fillet is made of straight rails, and the window is not a rectangle"
            raise BadTreatment("fillet", found, "a rectangular window, or no fillet")
        if bevel is Bevel.REVERSE:
            return self._innermost_reverse(rule, sight, names)
        shape = rule.fit(sight)
        if shape.size == sight:
            for side in _SIDES:
                self.ledger.figure(
                    f"mat.{number}.back.{side}", _side(sight, side), rules.BACK_IS_SIGHT, window=names[side]
                )
        elif shape.size.width == shape.size.height == min(sight.width, sight.height):
            for side in _SIDES:
                path = f"mat.{number}.back.{side}"
                self.ledger.figure(path, _side(shape.size, side), opening_rules.BACK_OF_SHAPE, **names)
        else:
            self._in_room(number, shape, sight, names)
        return self._faced(number, shape)

    def _inside_of(self, window: Size) -> tuple[Size, dict[str, str]]:
        """Return the sight of the innermost mat and the paths of its sides: the window, or what goes round a fillet."""
        wanted, fillet = window_path(self.treatment), self.fillet
        if fillet is None:
            return window, {side: f"{wanted}.{side}" for side in _SIDES}
        self.ledger.given("fillet.shown", fillet.shown, f"fillet {fillet.name}")
        sight = window.grown(fillet.shown)
        for side in _SIDES:
            operands = {"window": f"{wanted}.{side}", "shown": "fillet.shown"}
            self.ledger.figure(f"fillet.{side}", _side(sight, side), rules.BACK_AROUND_FILLET, **operands)
        return sight, {side: f"fillet.{side}" for side in _SIDES}

    def _in_room(self, number: int, shape: Shape, sight: Size, names: dict[str, str]) -> None:
        """Enter the box of a shape that cannot fill its room on both sides."""
        for side in _SIDES:
            share = _side(shape.size, side).nm / _side(sight, side).nm
            self.ledger.given(f"mat.{number}.room.share.{side}", share, f"shape {shape.words}")
            operands = {"room": names[side], "share": f"mat.{number}.room.share.{side}"}
            self.ledger.figure(
                f"mat.{number}.back.{side}", _side(shape.size, side), opening_rules.BACK_IN_ROOM, **operands
            )

    def _innermost_reverse(self, rule: ShapeRule, sight: Size, names: dict[str, str]) -> Opening:
        """Return the innermost opening of a reverse bevel: its back line, marked on the grid, decides the sight."""
        number, run = len(self.mats), self.runs[-1]
        covers = self.treatment.window is WindowFrom.SHEET
        backs = []
        for side in _SIDES:
            back = to_grid(_side(sight, side) + 2 * run, self.treatment.grid, down if covers else up)
            operands = {"sight": names[side], "run": f"mat.{number}.run", "grid": "grid"}
            wanted = rules.BACK_OF_REVERSE if covers else rules.BACK_OF_REVERSE_CLEAR
            path = f"mat.{number}.back.{side}"
            if rule.kind is ShapeKind.RECTANGLE:
                backs.append(self.ledger.figure(path, back, wanted, **operands))
            else:
                backs.append(self.ledger.figure(f"mat.{number}.room.{side}", back, wanted, **operands))
        room = Size(*backs)
        shape = rule.fit(room)
        if rule.kind is not ShapeKind.RECTANGLE:
            self._in_room(number, shape, room, {side: f"mat.{number}.room.{side}" for side in _SIDES})
        return self._faced(number, shape)

    def _above(self, number: int, under: int, below: Opening, reveal: Length) -> Opening:
        """Return the opening of a mat that shows the mat under it by the reveal."""
        rule = self._rule(number)
        if rule is None or type(below.shape) is _GROW_ALIKE.get(rule.kind):
            return self._grown(number, under, below, reveal)
        names = {"under": "", "reveal": f"mat.{under}.reveal"}
        if rule.kind is ShapeKind.CIRCLE:
            return self._faced(number, rule.fit(self._circle_round(number, under, below, reveal)))
        sides = []
        for side in _SIDES:
            path, names["under"] = f"mat.{number}.back.{side}", f"mat.{under}.back.{side}"
            length = _side(below.back, side)
            if rule.kind is ShapeKind.OVAL:
                value = _up((length + 2 * reveal).as_mm * math.sqrt(2), self.treatment.grid)
                sides.append(self.ledger.figure(path, value, opening_rules.BACK_ROUND_UNDER, **names, grid="grid"))
            else:
                sides.append(self.ledger.figure(path, length + 2 * reveal, rules.BACK_OVER_UNDER, **names))
        shape = rule.fit(Size(*sides))
        if shape.size != Size(*sides):
            found = f"a {shape.words} cannot be drawn round an opening of these proportions"
            raise BadTreatment(f"mat.{number}.shape", found, "a shape that takes any width and height")
        return self._faced(number, shape)

    def _circle_round(self, number: int, under: int, below: Opening, reveal: Length) -> Size:
        across = _up(
            math.hypot(below.back.width.as_mm, below.back.height.as_mm) + 2 * reveal.as_mm, self.treatment.grid
        )
        names = {side: f"mat.{under}.back.{side}" for side in _SIDES} | {"reveal": f"mat.{under}.reveal"}
        for side in _SIDES:
            path = f"mat.{number}.back.{side}"
            self.ledger.figure(path, across, opening_rules.CIRCLE_ROUND_UNDER, **names, grid="grid")
        return Size(across, across)

    def _grown(self, number: int, under: int, below: Opening, reveal: Length) -> Opening:
        """Return the opening of the same kind with every guide set wider by the reveal."""
        shape = below.shape.grown(reveal)
        path = f"mat.{under}.reveal" if number < under else f"treatment.setback.{number}"
        self._box(f"mat.{number}.back", f"mat.{under}.back", below.shape, shape.size, (reveal, path))
        return self._faced(number, shape)

    def _box(self, path: str, before: str, shape: Shape, size: Size, by: tuple[Length, str]) -> None:
        """Enter the box of a shape moved out: twice the distance wider where its sides are flat, by proportion else."""
        distance, named = by
        plain = size == _moved(shape.size, distance)
        for side in _SIDES:
            names = {"under": f"{before}.{side}", "reveal": named}
            if plain:
                self.ledger.figure(f"{path}.{side}", _side(size, side), rules.BACK_OVER_UNDER, **names)
            elif isinstance(shape, Regular):
                names["share"] = self._share(shape, f"{before}.share.{side}", side)
                self.ledger.figure(f"{path}.{side}", _side(size, side), opening_rules.GROWN_POLYGON, **names)
            else:
                self.ledger.given(f"{path}.{side}", _side(size, side), f"parallel of the {shape.words}")

    def _share(self, shape: Regular, path: str, side: str) -> str:
        """Enter how much wider than across its flats the box of a polygon is; returns the figure's path."""
        self.ledger.given(path, _side(shape.size, side).nm / shape.across.nm, f"shape {shape.words}")
        return path

    def _faced(self, number: int, shape: Shape) -> Opening:
        bevel, run, back = self.mats[number - 1].bevel, self.runs[number - 1], shape.size
        out, rule = (run, rules.FACE_NORMAL) if bevel is Bevel.NORMAL else (-run, rules.FACE_REVERSE)
        face = _face_box(shape, out)
        if face is None:
            raise BadTreatment(f"mat.{number}.face.width", "the bevel closes the opening", "a larger window")
        for side in _SIDES:
            path, names = f"mat.{number}.face.{side}", {"back": f"mat.{number}.back.{side}", "run": f"mat.{number}.run"}
            if face == _moved(back, out):
                self.ledger.figure(path, _side(face, side), rule, **names)
            elif isinstance(shape, Regular):
                names["share"] = self._share(shape, f"mat.{number}.share.{side}", side)
                self.ledger.figure(path, _side(face, side), _POLYGON_FACE[bevel], **names)
            else:
                self.ledger.given(path, _side(face, side), f"parallel of the {shape.words}, one run away")
        opening = Opening(back, face, bevel, shape, run)
        outline = "back" if bevel is Bevel.NORMAL else "face"
        for side in _SIDES:
            path = f"mat.{number}.opening.{side}"
            self.ledger.figure(path, _side(opening.sight, side), rules.OPENING, sight=f"mat.{number}.{outline}.{side}")
        return opening

    def _enter_window(self, innermost: Opening) -> None:
        """Enter the window anew where a reverse bevel, marked on the grid, or a shape decides it."""
        if window_path(self.treatment) == "window":
            return
        number, fillet = len(self.mats), self.fillet
        for side in _SIDES:
            sight, path = _side(innermost.sight, side), f"mat.{number}.opening.{side}"
            if fillet is None:
                rule = rules.WINDOW_IN_REVERSE if innermost.bevel is Bevel.REVERSE else opening_rules.WINDOW_OF_SHAPE
                self.ledger.figure(f"window.{side}", sight, rule, opening=path)
                continue
            operands = {"opening": path, "shown": "fillet.shown"}
            self.ledger.figure(f"window.{side}", sight - 2 * fillet.shown, rules.WINDOW_IN_FILLET, **operands)

    def _reveal(self, above: int, under: int) -> Length:
        """Return the guide difference between mat `above` and the next one that is seen under it."""
        treatment, ledger = self.treatment, self.ledger
        rule = treatment.mats[under - 1]
        path, origin = f"mat.{under}.reveal", treatment.origin("mats")
        if rule.means is RevealMeans.GUIDE:
            return ledger.given(path, rule.reveal, origin)
        bevels = (treatment.mats[above - 1].bevel, rule.bevel)
        ledger.given(f"mat.{under}.strip_wanted", rule.reveal, origin)
        names = {"strip": f"mat.{under}.strip_wanted", "run": f"mat.{under}.run", "grid": "grid"}
        reveal = rule.reveal + (self.runs[under - 1] if rule.bevel is Bevel.NORMAL else -self.runs[under - 1])
        if bevels[0] is Bevel.REVERSE:
            reveal, names = reveal + self.runs[above - 1], names | {"above": f"mat.{above}.run"}
        reveal = to_grid(reveal, treatment.grid, half_even)
        return ledger.figure(path, max(reveal, ZERO), _FROM_STRIP[bevels], **names)

    def _set_back(self, number: int) -> Length:
        """Return the reveal, below nothing, of a mat that is set back behind the one above it."""
        setback = self.mats[number - 1].setback
        path = f"treatment.setback.{number}"
        self.ledger.given(path, setback, self.treatment.origin("mats"))
        return self.ledger.figure(f"mat.{number}.reveal", -setback, opening_rules.SETBACK, setback=path)

    def _strip(self, number: int, under: int, openings: dict[int, Opening], reveal: Length) -> Length:
        above, below = openings[number], openings[under]
        path = f"mat.{under}.strip"
        if type(above.shape) is not type(below.shape):
            return self._strip_between(under, above, below)
        if isinstance(below.shape, Regular | Free):
            return self._slanted(number, under, openings, reveal)
        strip = (above.sight.width - below.face.width) // 2
        operands = {"sight": f"mat.{number}.opening.width", "face": f"mat.{under}.face.width"}
        narrowest = below.shape.narrowest(reveal)
        if narrowest >= reveal:
            return self.ledger.figure(path, strip, rules.STRIP, **operands)
        self.ledger.figure(f"mat.{under}.strip_on_axes", strip, rules.STRIP, **operands)
        least = f"mat.{under}.reveal_narrowest"
        self.ledger.given(least, narrowest, f"shape {below.shape.words}")
        operands = {"strip": f"mat.{under}.strip_on_axes", "reveal": f"mat.{under}.reveal", "least": least}
        return self.ledger.figure(path, strip - (reveal - narrowest), opening_rules.NARROWEST, **operands)

    def _slanted(self, number: int, under: int, openings: dict[int, Opening], reveal: Length) -> Length:
        """Return the strip between two shapes whose boxes grow by more or less than their flats move."""
        above, below = openings[number], openings[under]
        into = max(ZERO, -above.towards_face)
        names = {
            "reveal": f"mat.{under}.reveal",
            "sight_in": f"mat.{number}.sight_in",
            "face_out": f"mat.{under}.face_out",
        }
        self.ledger.given(names["sight_in"], into, f"{above.bevel.value} bevel")
        self.ledger.given(names["face_out"], below.towards_face, f"{below.bevel.value} bevel")
        strip = reveal - into - below.towards_face
        return self.ledger.figure(f"mat.{under}.strip", strip, opening_rules.STRIP_SLANTED, **names)

    def _strip_between(self, under: int, above: Opening, below: Opening) -> Length:
        """Return the narrowest strip between two unlike shapes, as their outlines show it."""
        named = f"the {above.shape.words} and the {below.shape.words} at their nearest"
        least = from_mm(clearance(above.back_outline(), below.back_outline()), math.floor)
        self.ledger.given(f"mat.{under}.reveal_narrowest", least, f"back lines of {named}")
        strip = from_mm(clearance(above.sight_outline(), below.face_outline()), math.floor)
        return self.ledger.given(f"mat.{under}.strip", strip, f"sight and face of {named}")


_GROW_ALIKE = {ShapeKind.RECTANGLE: Rectangle, ShapeKind.OVAL: Ellipse, ShapeKind.CIRCLE: Ellipse}
"""Kinds that need nothing but a size: named again for the mat above they ask for the same shape grown."""


def _moved(size: Size, by: Length) -> Size | None:
    """Return the size with so much more on every side, None where nothing is left."""
    return size.grown(by) if min(size.width, size.height) + 2 * by > ZERO else None


def _face_box(shape: Shape, by: Length) -> Size | None:
    """Return the box of the bevel's other edge, None where it closes; exact where the sides are flat.

    Raises BadTreatment, in the words of the shape, where it has no such edge: a bay closes, a scoop is used up.
    """
    moved = _moved(shape.size, by)
    if isinstance(shape, Rectangle) or moved is None:
        return moved
    edge = shape.parallel(by)
    if not isinstance(shape, Regular | Free):
        return moved
    left, top, right, bottom = edge.bounds()
    return Size(from_mm(right - left), from_mm(bottom - top))


def _up(mm: float, grid: Grid) -> Length:
    return to_grid(from_mm(mm), grid, up)


def _side(size: Size, side: str) -> Length:
    return size.width if side == "width" else size.height
