"""A template at full size: the key, then its tiles, on whichever way of turning the paper takes fewer.

What is drawn is true to size where it is printed at 100 %; each sheet carries rulers that prove it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fourply.drawing.clip import clip
from fourply.drawing.page import Paper
from fourply.drawing.record import Drawing, Recorder
from fourply.drawing.shapes import Box
from fourply.sheets.free import straight
from fourply.sheets.furniture import compose_foot
from fourply.sheets.template_key import compose_key, compose_more
from fourply.sheets.template_tile import Sheet, compose_tile, field, upright_ruler
from fourply.sheets.template_view import Edge, TemplateView
from fourply.sheets.tiling import Avoid, Tiling, tile

_EDGE = 1.0  # shown past the blank, so that its line is whole
_AXIS_WEIGHT = 10.0
_LONG = 20.0
_NOTE = "Full size when printed at 100 %, no scaling to page. Dimensions hold whatever the printer does."


def compose_template(view: TemplateView, paper: Paper) -> tuple[Drawing, ...]:
    """Return the pages of a template: key, further figures if any, tiles."""
    sheet = sheet_of(view, paper)
    title = f"{view.number} {view.title}: template, {view.side.value}".replace(" :", ":")
    pages = [*_key_pages(sheet, paper, title)]
    for each in sheet.printed:
        pen = Recorder()
        compose_tile(pen, sheet, each)
        pages.append(pen.drawing(sheet.paper.width, sheet.paper.height, title=f"{title}, tile {each.letter}"))
    return tuple(pages)


def _key_pages(sheet: Sheet, paper: Paper, title: str) -> Iterator[Drawing]:
    view, number = sheet.view, 1
    pen = Recorder()
    left = compose_key(pen, paper, sheet, "template: key")
    while True:
        compose_foot(
            pen, paper, _NOTE, f"{view.number} · key {number} · fourply" if number > 1 or any(left) else "fourply"
        )
        yield pen.drawing(paper.width, paper.height, title=title)
        if not any(left):
            return
        pen, number = Recorder(), number + 1
        left = compose_more(pen, paper, view, left, "template: key")


def sheet_of(view: TemplateView, paper: Paper) -> Sheet:
    """Return the tiles on the paper, upright or turned, whichever takes fewer, then whichever has the better seams.

    A strip for the upright ruler is given up where every tile has a free place for it.
    """
    found: list[tuple[int, float, int, Sheet]] = []
    for each in (paper, replace(paper, width=paper.height, height=paper.width)):
        for aside in (True, False):
            tiling = _tiling(view, field(each, aside=aside))
            lines = [traced.steps for traced in view.outlines]
            printed = tuple(one for one in tiling.tiles if any(clip(steps, one.kept) for steps in lines))
            found.append((len(printed), tiling.badness, len(found), Sheet(view, tiling, printed, each, aside)))
    found.sort(key=lambda entry: entry[:3])
    sheets = (sheet for *_, sheet in found)
    return next(sheet for sheet in sheets if all(upright_ruler(sheet, one) is not None for one in sheet.printed))


def _tiling(view: TemplateView, place: Box) -> Tiling:
    extent = view.extent.grown(_EDGE)
    across: list[Avoid] = [Avoid(mark.x, _AXIS_WEIGHT) for mark in view.marks]
    down: list[Avoid] = [Avoid(mark.y, _AXIS_WEIGHT) for mark in view.marks]
    for traced in view.outlines:
        if traced.edge is Edge.AXIS:
            continue
        for (x1, y1), (x2, y2) in straight(traced.steps):
            if x1 == x2 and abs(y2 - y1) >= _LONG:
                across.append(Avoid(x1))
            if y1 == y2 and abs(x2 - x1) >= _LONG:
                down.append(Avoid(y1))
    return tile(extent, (place.width, place.height), across, down)
