"""A material cut through, as its measures say: areas in their colours, outlines, dimensions, true to one another.

Lengths are millimetres from the top left of the section; what goes on beyond the drawing ends in a wavy line.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fourply.drawing.dimension import Dim, Side
from fourply.drawing.shapes import Point
from fourply.measure.length import Length
from fourply.sheets.preview_frame import profile
from fourply.sheets.view import Filling
from fourply.trade.materials import Backing, Board, Fillet, Glazing, Moulding, ReadyFrame, Spacer
from fourply.working.words import Words

_GLASS, _ACRYLIC, _BACKING, _STRIP, _FRAME = "#dfe9e4", "#e4ecee", "#d9cfbb", "#e9e6df", "#d8c29a"
_LONGER = 3.0  # a sheet is shown so many times as long as it is thick
_PAPER = 0.14  # the face paper is drawn as so much of the board: its true thickness is a hair

type Outline = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Cut:
    """One part that is cut through: its outline, its colour, how it is hatched; `wood` shows growth rings."""

    outline: Outline
    colour: str
    filling: Filling = Filling.EMPTY
    wood: bool = False


@dataclass(frozen=True, slots=True)
class SampleView:
    """A section with its size, its parts, its dimensions by side (inner tier first).

    `face` is the paper on its face with the colour of that; `broken` says that it goes on to the left; `front` that it
    is no section but seen from the front.
    """

    width: float
    height: float
    cuts: tuple[Cut, ...]
    dims: Mapping[Side, tuple[tuple[Dim, ...], ...]]
    face: tuple[Outline, str] | None = None
    broken: bool = False
    front: bool = False


def section_of(item: object, run: Length | None, words: Words) -> SampleView | None:  # noqa: PLR0911 (one return a kind)
    """Return a material cut through, None for what has no section; `run` is that of a board's bevel."""
    match item:
        case Board():
            return _board(item, run, words)
        case Moulding():
            return _moulding(item, words)
        case Glazing():
            return _sheet(item.thickness, _GLASS if item.kind.value == "glass" else _ACRYLIC, Filling.EMPTY, words)
        case Backing():
            return _sheet(item.thickness, _BACKING, Filling.WIDE, words)
        case Spacer():
            across, down = Dim(0.0, item.width.as_mm, words.write(item.width)), item.depth
            return _block(item.width.as_mm, down, _STRIP, {Side.TOP: ((across,),)}, words)
        case Fillet():
            return _fillet(item, words)
        case ReadyFrame():
            return _package(item, words)
        case _:
            return None


def _board(board: Board, run: Length | None, words: Words) -> SampleView:
    """Return the edge of a window in a board: the face above, its bevel at the right, going down and outwards."""
    thick, bevel = board.caliper.as_mm, run.as_mm if run else 0.0
    face = _LONGER * thick
    wide = face + bevel
    outline = ((0.0, 0.0), (face, 0.0), (wide, thick), (0.0, thick))
    below = ((Dim(face, wide, words.write(run), foot=thick, end_foot=0.0),),) if run else ()
    dims = {Side.LEFT: ((Dim(0.0, thick, words.write(board.caliper)),),), Side.BOTTOM: below}
    paper = _PAPER * thick
    skin = ((0.0, 0.0), (face, 0.0), (face + _PAPER * bevel, paper), (0.0, paper))
    return SampleView(wide, thick, (Cut(outline, board.core),), dims, (skin, board.colour), broken=True)


def _moulding(moulding: Moulding, words: Words) -> SampleView:
    """Return a stick cut across: its face above, its outer edge at the left, the rabbet under the lip at the right."""
    width, height, lip = moulding.width.as_mm, moulding.height.as_mm, moulding.lip.as_mm
    depth = moulding.rabbet_depth.as_mm
    inner = width - lip
    face = [(at, height - (max(high, depth) if at > inner else high)) for at, high in profile(moulding)]
    rabbet = [(width, height - depth), (inner, height - depth), (inner, height)] if lip else [(width, height)]
    outline = _without_repeats((*face, *rabbet, (0.0, height)))
    deep = Dim(height - depth, height, words.write(moulding.rabbet_depth), end_foot=lip)
    dims = {
        Side.TOP: ((Dim(0.0, width, words.write(moulding.width)),),),
        Side.LEFT: ((Dim(0.0, height, words.write(moulding.height)),),),
        Side.RIGHT: ((deep,),),
        Side.BOTTOM: ((Dim(inner, width, words.write(moulding.lip), end_foot=depth),),) if lip else (),
    }
    return SampleView(width, height, (Cut(outline, moulding.colour, wood=True),), dims)


def _without_repeats(points: Outline) -> Outline:
    return tuple(point for at, point in enumerate(points) if at == 0 or point != points[at - 1])


def _sheet(thickness: Length, colour: str, filling: Filling, words: Words) -> SampleView:
    thick = thickness.as_mm
    wide = 2 * _LONGER * thick
    outline = ((0.0, 0.0), (wide, 0.0), (wide, thick), (0.0, thick))
    dims = {Side.RIGHT: ((Dim(0.0, thick, words.write(thickness)),),)}
    return SampleView(wide, thick, (Cut(outline, colour, filling),), dims, broken=True)


def _block(
    wide: float, down: Length, colour: str, dims: Mapping[Side, tuple[tuple[Dim, ...], ...]], words: Words
) -> SampleView:
    high = down.as_mm
    outline = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    all_dims = {**dims, Side.RIGHT: ((Dim(0.0, high, words.write(down)),),)}
    return SampleView(wide, high, (Cut(outline, colour, Filling.RISING),), all_dims)


def _fillet(fillet: Fillet, words: Words) -> SampleView:
    """Return a fillet cut across: at the left what lies under the mat, at the right what shows."""
    lip = fillet.lip.as_mm
    wide = lip + fillet.shown.as_mm
    across = (Dim(0.0, lip, f"lip {words.write(fillet.lip)}"), Dim(lip, wide, f"shown {words.write(fillet.shown)}"))
    return _block(wide, fillet.thickness, fillet.colour, {Side.BOTTOM: (across,)}, words)


def _package(frame: ReadyFrame, words: Words) -> SampleView:
    """Return the package that a ready-made frame takes, seen from the front."""
    wide, high = frame.size.width.as_mm, frame.size.height.as_mm
    outline = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    dims = {
        Side.TOP: ((Dim(0.0, wide, words.write(frame.size.width)),),),
        Side.LEFT: ((Dim(0.0, high, words.write(frame.size.height)),),),
    }
    return SampleView(wide, high, (Cut(outline, _FRAME),), dims, front=True)
