"""The areas of a front view in the colours of what is seen there: the frame, each mat, its core, its accents."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from fourply.drawing.pen import Steps
from fourply.sheets.view import Edge, Outline
from fourply.trade.package import Mat, Package
from fourply.trade.treatment import WindowFrom

PAPER = "#f9f6ee"
_PARTS = {Edge.GROOVE, Edge.LINE, Edge.INLAY, Edge.FACE, Edge.BACK, Edge.WINDOW}


class Fill(NamedTuple):
    """An area filled even-odd in a colour; `kind` is wood, mat, core, line or window."""

    kind: str
    steps: Steps
    colour: str


def fills(package: Package, outlines: Iterable[Outline]) -> Iterator[Fill]:
    """Yield the areas between the outlines of a package's front view from the outside in, each over those before it."""
    drawn, frame = tuple(outlines), package.frame
    if frame is not None:
        yield from (Fill("wood", each.steps, frame.moulding.colour) for each in drawn if each.edge is Edge.OUTSIDE)
    seen = Edge.LIP if frame is not None else Edge.BLANK
    top = package.mats[0].board.colour
    yield from (Fill("mat", each.steps, top) for each in drawn if each.edge is seen)
    yield from _in_mats(package, drawn)


def _in_mats(package: Package, drawn: Iterable[Outline]) -> Iterator[Fill]:
    """Yield what is seen in the mats; the outlines of each come in the order in which the front view draws them."""
    steps = iter([each for each in drawn if each.edge in _PARTS])
    shown = [mat for mat in package.mats if not mat.hidden]
    for mat, under in zip(shown, [*shown[1:], None], strict=True):
        for _ in mat.all_grooves:
            yield Fill("core", (*next(steps).steps, *next(steps).steps), mat.board.core)
        for hole in mat.holes:
            for line in hole.lines:
                yield Fill("line", (*next(steps).steps, *next(steps).steps), line.rule.colour)
            first = next(steps)
            if first.edge is Edge.FACE:
                yield Fill("core", first.steps, mat.board.core)
                first = next(steps)
            yield Fill("mat" if under else "window", first.steps, _behind(package, under))
        if mat.number == 1 and package.inlay is not None:
            yield Fill("mat", (*next(steps).steps, *next(steps).steps), package.inlay.board.colour)


def _behind(package: Package, under: Mat | None) -> str:
    if under is not None:
        return under.board.colour
    return package.mount.colour if package.treatment.window is WindowFrom.FLOAT else PAPER
