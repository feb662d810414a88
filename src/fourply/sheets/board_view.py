"""Exactly what a cutting sheet shows, ready to be set: places in real millimetres from the board's lower left, y up."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from fourply.drawing.shapes import Box


class Use(Enum):
    """What becomes of what falls out of a window."""

    FEEDS = "feeds"
    KEEP = "keep"
    WASTE = "waste"


class Fallout(NamedTuple):
    """What falls out of a piece: where, what becomes of it, in words and in fewer words, its size."""

    box: Box
    use: Use
    words: str
    size: str
    brief: str = ""


class PlacedPiece(NamedTuple):
    """A piece on the board by its number: where, its name and its work alone, its size; its fallout if it has one."""

    number: str
    box: Box
    name: str
    work: str
    size: str
    fallout: Fallout | None = None


class Rest(NamedTuple):
    """What is left of the board: where, whether it is kept, its size."""

    box: Box
    kept: bool
    size: str


class CutLine(NamedTuple):
    """A cut on the drawing: its number and its two ends."""

    number: str
    start: tuple[float, float]
    end: tuple[float, float]


class CutRow(NamedTuple):
    """A cut in the list: its number, what the stop reads, whether it is reset; on which part, and what it gives."""

    number: str
    stop: str
    reset: bool
    part: str
    gives: str


class TableRow(NamedTuple):
    """A row of one of the tables at the foot: what, more about it, its figure."""

    sign: str
    name: str
    note: str
    figure: str


@dataclass(frozen=True, slots=True)
class BoardView:
    """One board, or several cut alike: what it is, its layout, its cuts in order, its tables.

    A `small` one (an offcut, a fallout) shares its page. `chain` is the first division of the board: distances along
    its width, or its height where `upright`.
    """

    number: str
    title: str
    lines: tuple[str, ...]
    corner: tuple[str, ...]
    small: bool
    width: float
    height: float
    width_figure: str
    height_figure: str
    chain: tuple[tuple[float, float, str], ...]
    upright: bool
    pieces: tuple[PlacedPiece, ...]
    rests: tuple[Rest, ...]
    lines_cut: tuple[CutLine, ...]
    cuts: tuple[CutRow, ...]
    piece_rows: tuple[TableRow, ...]
    fallout_rows: tuple[TableRow, ...]
    left_over: tuple[tuple[str, str], ...]
    notes: tuple[tuple[str, str], ...]
