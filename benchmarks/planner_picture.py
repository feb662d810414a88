"""Draws how far plans are above their proved bounds, beside a general solver, and writes the table below it.

    benchmarks/planner_picture.py    reads benchmarks/planner.json; writes docs/pictures/planner.png, docs/planner.md

The figures are those that `benchmarks/planner.py boards FOLDER --peer --data benchmarks/planner.json` kept.
"""

from __future__ import annotations

import json
from math import sqrt
from pathlib import Path
from typing import Any

from fourply.drawing.ink import EXTENSION, THIN, Ink
from fourply.drawing.lettering import Anchor, Type, write
from fourply.drawing.pen import Path as Mark
from fourply.drawing.record import Drawing, Recorder
from fourply.drawing.shapes import Box, circle, line, rectangle
from fourply.render import png

ROOT = Path(__file__).parent.parent
DATA = ROOT / "benchmarks" / "planner.json"
PICTURE = ROOT / "docs" / "pictures" / "planner.png"
PAGE = ROOT / "docs" / "planner.md"
TABLE = "<!-- table -->"

PANEL, ROW, LEFT, TOP, GAP = 48.0, 4.4, 30.0, 22.0, 5.0
TICKS = (0, 1, 5, 20, 50)
MOST, NONE = 50.0, 0.97
TEXT, SMALL, HEAD = Type(8), Type(7), Type(9, bold=True)


def across(excess: float | None) -> float:
    """Return where so many per cent above the bound stand in a panel; None is where there was no plan."""
    return PANEL * (NONE if excess is None else 0.76 * sqrt(min(excess, MOST) / MOST) + 0.03)


def excess(cost: int | None, bound: int) -> float | None:
    """Return by how many per cent a cost exceeds the bound."""
    return None if cost is None else 100.0 * (cost / bound - 1)


def drawn(data: dict[str, Any]) -> Drawing:
    """Return the picture: a panel for each time, a line for each instance, a dot for each planner."""
    pen = Recorder()
    rows, marks = data["rows"], data["marks"]
    width, height = LEFT + len(marks) * (PANEL + GAP), TOP + len(rows) * ROW + 6
    pen.path(Mark(rectangle(Box(0, 0, width, height)), None, Ink.PAPER))
    legend(pen)
    for at, mark in enumerate(marks):
        x = LEFT + at * (PANEL + GAP)
        write(pen, (x + PANEL / 2, 12), f"after {mark:g} s", HEAD, anchor=Anchor.MIDDLE)
        scale(pen, x, TOP + len(rows) * ROW)
        for number, row in enumerate(rows):
            y = TOP + (number + 0.5) * ROW
            own, peer = (across(excess(row[who][at], row["bound"])) for who in ("own", "peer"))
            pen.path(Mark(line(x + min(own, peer), y, x + max(own, peer), y), EXTENSION))
            pen.path(Mark(circle(x + peer, y, 1.1), THIN, Ink.PAPER))
            pen.path(Mark(circle(x + own, y, 0.9), None, Ink.BLACK))
    for number, row in enumerate(rows):
        write(pen, (LEFT - 3, TOP + (number + 0.5) * ROW + 1), name(row), SMALL, anchor=Anchor.END)
    return pen.drawing(width, height, title="Cost above the proved bound, per instance, after 0.2, 1 and 5 s")


def legend(pen: Recorder) -> None:
    """Say which dot is whose."""
    pen.path(Mark(circle(2.5, 4.2, 0.9), None, Ink.BLACK))
    write(pen, (5, 5.2), "fourply", TEXT)
    pen.path(Mark(circle(22.5, 4.2, 1.1), THIN, Ink.PAPER))
    write(pen, (25, 5.2), "general solver (packingsolver)", TEXT)
    write(pen, (76, 5.2), "cost above the proved bound; the left edge is the bound itself", TEXT)


def scale(pen: Recorder, x: float, foot: float) -> None:
    """Draw a panel's lines for the per cents, and its last column for those without a complete plan."""
    for tick in TICKS:
        at = x + across(tick)
        pen.path(Mark(line(at, TOP - 1, at, foot), EXTENSION))
        write(pen, (at, TOP - 2), f"{tick} %" if tick else "0", SMALL, anchor=Anchor.MIDDLE)
    write(pen, (x + across(None), TOP - 2), "none", SMALL, anchor=Anchor.MIDDLE)


def name(row: dict[str, Any]) -> str:
    """Return the kind of show and its number of blanks."""
    kind, count, *_ = row["instance"].split("_")
    return f"{kind} {int(count)}"


def table(data: dict[str, Any]) -> str:
    """Return the figures as a table for the page."""
    times = [f"{mark:g} s" for mark in data["marks"]]
    lines = [f"Measured with {data['machine']}.", "", "| show | " + " | ".join([*times, "bound", "proved after"])]
    lines[-1] += " | " + " | ".join(f"general {time}" for time in times) + " |"
    lines.append("| --- |" + " ---: |" * (2 * len(times) + 2))
    for row in data["rows"]:
        proved = f"{row['seconds']:.2f} s" if row["proved"] else "–"
        cells = [*row["own"], row["bound"], proved, *row["peer"]]
        lines.append(f"| {name(row)} | " + " | ".join("–" if cell is None else str(cell) for cell in cells) + " |")
    return "\n".join(lines) + "\n"


def main() -> None:
    """Draw the picture and renew the table of the page."""
    data = json.loads(DATA.read_text(encoding="utf-8"))
    PICTURE.write_bytes(png.render(drawn(data), dots_per_inch=130))
    head = PAGE.read_text(encoding="utf-8").partition(TABLE)[0]
    PAGE.write_text(f"{head}{TABLE}\n\n{table(data)}", encoding="utf-8")


if __name__ == "__main__":
    main()
