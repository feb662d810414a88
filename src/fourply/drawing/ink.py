"""The lines a drawing is made of, by their role, and the few inks they may have.

A sheet must hold on a bad printer: nothing is grey, a meaning is carried by width and dash. The widths and dashes
follow the habits of ISO 128-2 (from memory): one narrow and one wide line and steps between. An ink other than
black only repeats what the line already says.
"""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple


class Ink(Enum):
    """The inks; the value is the colour on white paper."""

    BLACK = "#000000"
    PAPER = "#ffffff"
    BLADE = "#b3261e"
    SAP = "#2f6b3a"
    SIGNAL = "#8a5a00"
    PENCIL = "#6a6f78"


class Stroke(NamedTuple):
    """A kind of line: its role, width and dashes in millimetres (no dashes: unbroken)."""

    role: str
    width: float
    dashes: tuple[float, ...] = ()
    ink: Ink = Ink.BLACK


VISIBLE = Stroke("visible", 0.5)
CUT = Stroke("cut", 0.7)
THIN = Stroke("thin", 0.25)
DIMENSION = Stroke("dimension", 0.18)
EXTENSION = Stroke("extension", 0.13)
HATCHING = Stroke("hatching", 0.13)
HIDDEN = Stroke("hidden", 0.25, (1.6, 0.8))
AXIS = Stroke("axis", 0.18, (4.0, 0.8, 0.5, 0.8))
RULE = Stroke("rule", 0.25)
HEAVY_RULE = Stroke("heavy-rule", 0.9)

ROLES = (VISIBLE, CUT, THIN, DIMENSION, EXTENSION, HATCHING, HIDDEN, AXIS, RULE, HEAVY_RULE)
