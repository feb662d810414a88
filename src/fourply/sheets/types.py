"""The sizes of type on paper, chosen once, so that all sheets speak in one voice.

Nothing is smaller than 6.6 pt: below that a 200 dpi printer closes the fractions.
"""

from __future__ import annotations

from fourply.drawing.lettering import Type

NUMBER = Type(44, bold=True)
TITLES = (Type(18, bold=True), Type(15, bold=True), Type(12.5, bold=True))
LINE = Type(10)
CONTEXT = Type(8.5)
HEADING = Type(11.5, bold=True)
CAPTION = Type(7.6)
TEXT = Type(8.5)
STRONG = Type(8.5, bold=True)
STEP = Type(8.9, bold=True)
GUIDE = Type(18, bold=True)
GUIDE_LEFT = Type(18)
END = Type(8.5, bold=True)
END_LEFT = Type(8.5)
PIECE = Type(9, bold=True)
SIZE = Type(13, bold=True)
SIGHT = Type(13, bold=True)
SMALL = Type(7.2)
SIDE = Type(7.6, bold=True)
WORKING = Type(7)
LEAST = Type(6.6)
STOP = Type(20, bold=True)
STOP_LEFT = Type(20)
