"""How long shaped, grouped and decorated designs take: worked out, drawn from the front, cut through, each as SVG.

    .venv-test/bin/python benchmarks/designs.py [DESIGNS]

A shop that tries shapes and arrangements sees each of them drawn, so a design has to come at once, and a whole show of
them in seconds. The designs are of every kind of shape in turn, every third one with two to six windows, no two of one
size; the same ones are made every time. They run in one process, then shared by two.
"""

from __future__ import annotations

import os
import platform
import random
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from typing import Any, NamedTuple

from fourply.drawing.record import Recorder
from fourply.drawing.shapes import Box
from fourply.errors import FourplyError
from fourply.files.materials import starter
from fourply.files.svgpath import parse_path
from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.render import svg
from fourply.sheets.front import front_drawing
from fourply.sheets.section import compose_section
from fourply.sheets.section_view import section_view
from fourply.trade.accents import Arrange, GrooveRule, InlayRule, LayoutRule, LineRule, Round, TitleRule
from fourply.trade.resolve import resolve
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.treatment import INCH, Layer, MatRule, Treatment
from fourply.trade.work import Artwork, Readings, Work
from fourply.working.words import Words

DESIGNS = 1000
RUNS = 3
PATHS = tuple(
    parse_path(text, source="benchmark")
    for text in (
        "M4 0 L8 4 L4 12 L0 4 Z",
        "M5 1.5 C6 -0.5 10 -0.5 10 3 C10 6 6.5 7.5 5 9.5 C3.5 7.5 0 6 0 3 C0 -0.5 4 -0.5 5 1.5 Z",
        "M0 0 H8 V7 Q8 9 6 9 H2 Q0 9 0 7 Z",
    )
)
_BOARDS = ("white 4-ply", "cream 4-ply", "blue 4-ply", "grey 4-ply")
_WORDS = Words(metric=False)

type Design = tuple[Work, Treatment]


def designs(count: int) -> Iterator[Design]:
    """Yield so many designs, the same ones every time."""
    draw = random.Random(count)  # noqa: S311 (a benchmark, not a secret)
    kinds = list(ShapeKind)
    for number in range(count):
        shape = _shape(draw, kinds[number % len(kinds)])
        sheets = [_sheet(draw, 5, 9) for _ in range(draw.randint(2, 6))] if number % 3 == 0 else [_sheet(draw, 8, 24)]
        several = len(sheets) > 1
        work = Work(str(number), "", sheets[0], others=tuple(sheets[1:]))
        layers = (Layer("opening 1", {}), Layer("opening 2", {"shape": _shape(draw, draw.choice(kinds))}))
        yield (
            work,
            replace(
                INCH,
                border=_eighths(draw, 18, 32),
                shape=shape,
                mats=tuple(MatRule(draw.choice(_BOARDS), _eighths(draw, 1, 3)) for _ in range(draw.randint(1, 3))),
                moulding=draw.choice(("", "ash 3/4", "oak 1")),
                layout=LayoutRule(draw.choice((Arrange.ROW, Arrange.COLUMN, Arrange.AUTO)), Length.inches(3)),
                openings=layers if several else (),
                **_accents(draw),
            ),
        )


def _accents(draw: random.Random) -> dict[str, Any]:
    accents: dict[str, Any] = {}
    if draw.random() < 0.4:
        accents["grooves"] = (GrooveRule(_eighths(draw, 4, 8), round=draw.choice(list(Round))),)
    if draw.random() < 0.3:
        accents["lines"] = (
            LineRule(_eighths(draw, 1, 3), Length.mm(1, 2)),
            LineRule(_eighths(draw, 4, 5), Length.mm(4)),
        )
    if draw.random() < 0.2:
        accents["title"] = TitleRule(Size(Length.inches(3), Length.inches(1, 2)))
    if draw.random() < 0.2:
        accents["inlay"] = InlayRule("grey 4-ply", _eighths(draw, 9, 10), Length.inches(1, 4))
    return accents


def _shape(draw: random.Random, kind: ShapeKind) -> ShapeRule:
    small = _eighths(draw, 3, 8)
    numbers: dict[ShapeKind, dict[str, Any]] = {
        ShapeKind.ARCH: {"rise": _eighths(draw, 6, 14)},
        ShapeKind.ELLIPTICAL_ARCH: {"rise": _eighths(draw, 6, 14)},
        ShapeKind.CLIPPED: {"leg": small},
        ShapeKind.ROUNDED: {"radius": small},
        ShapeKind.SCOOPED: {"radius": _eighths(draw, 8, 11)},
        ShapeKind.STEPPED: {"steps": (_eighths(draw, 2, 4), _eighths(draw, 2, 4))},
        ShapeKind.POLYGON: {"sides": draw.randint(3, 12)},
        ShapeKind.FREE: {"path": draw.choice(PATHS)},
    }
    return ShapeRule(kind, **numbers.get(kind, {}))


def _sheet(draw: random.Random, least: int, most: int) -> Artwork:
    width, height = (Readings.of(Length.inches(draw.randint(least * 64, most * 64), 64)) for _ in "wh")
    return Artwork(width, height)


def _eighths(draw: random.Random, least: int, most: int) -> Length:
    return Length.inches(draw.randint(least, most), 8)


class Told(NamedTuple):
    """How many designs came out, how many were refused, the bytes of SVG, the seconds of each stage."""

    drawn: int
    refused: int
    size: int
    seconds: tuple[float, float, float]


def run(part: tuple[int, int, int]) -> Told:
    """Return what is to be told of every so-manieth design of so many, from one of the first on."""
    count, first, step = part
    materials = starter(metric=False)
    drawn = refused = size = 0
    resolving = fronts = sections = 0.0
    for work, treatment in list(designs(count))[first::step]:
        began = time.perf_counter()
        try:
            package = resolve(work, treatment, materials)
        except FourplyError:
            refused += 1
            continue
        resolved = time.perf_counter()
        size += len(svg.render(front_drawing(package, _WORDS)))
        fronted = time.perf_counter()
        pen = Recorder()
        compose_section(pen, Box(4, 3, 86, 102), section_view(package, _WORDS))
        size += len(svg.render(pen.drawing(90, 105)))
        drawn += 1
        resolving += resolved - began
        fronts += fronted - resolved
        sections += time.perf_counter() - fronted
    return Told(drawn, refused, size, (resolving, fronts, sections))


def main() -> None:
    """Print the table."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else DESIGNS
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}, best of {RUNS}")
    print("| processes | designs | refused | seconds | worked out | front | section | MB of SVG |")
    print("| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |")
    for processes in (1, 2):
        seconds, parts = min((_shared(count, processes) for _ in range(RUNS)), key=lambda run: run[0])
        stages = " | ".join(f"{sum(stage):.1f}" for stage in zip(*(part.seconds for part in parts), strict=True))
        drawn, refused, size = (sum(each) for each in zip(*(part[:3] for part in parts), strict=True))
        print(f"| {processes} | {drawn} | {refused} | {seconds:.1f} | {stages} | {size / 1e6:.1f} |")


def _shared(count: int, processes: int) -> tuple[float, list[Told]]:
    began = time.perf_counter()
    with ProcessPoolExecutor(processes) as pool:
        parts = list(pool.map(run, [(count, at, processes) for at in range(processes)]))
    return time.perf_counter() - began, parts


if __name__ == "__main__":
    main()
