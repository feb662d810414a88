"""The formulas of shaped, grouped and decorated openings, each with its reason and its source, as data.

They stand beside those of `rules`, under the same terms.
"""

from __future__ import annotations

from fourply.working.working import Rounding, Rule

_PRACTICE = "common practice"
_DOWN, _UP, _NEAREST = Rounding.DOWN, Rounding.UP, Rounding.NEAREST

# Shapes

BACK_OF_SHAPE = Rule(
    "mat.back_of_shape",
    "min(width, height)",
    "A circle or octagon is as wide as it is high, so the smaller side of the window decides.",
)
BACK_IN_ROOM = Rule(
    "mat.back_in_room", "room * share", "The box of a regular or free shape that fills as much of the window as it can."
)
WINDOW_OF_SHAPE = Rule("window.of_shape", "opening", "The window is the sight of the innermost mat.")
GROWN_POLYGON = Rule(
    "mat.grown_polygon",
    "under + 2 * reveal * share",
    "A regular polygon grows about its middle, as its flats move out by the reveal.",
)
FACE_POLYGON = Rule(
    "mat.face_polygon",
    "back + 2 * run * share",
    "The coloured face ends one run further out on every flat.",
)
FACE_POLYGON_REVERSE = Rule(
    "mat.face_polygon_reverse",
    "back - 2 * run * share",
    "A reverse bevel leans inward: the face reaches past the back line on every flat.",
)
BACK_ROUND_UNDER = Rule(
    "mat.back_round_under",
    "(under + 2 * reveal) * sqrt(2)",
    "The least oval through the corners of what it stands round, each moved out by the reveal.",
    rounding=_UP,
)
CIRCLE_ROUND_UNDER = Rule(
    "mat.circle_round_under",
    "sqrt(width * width + height * height) + 2 * reveal",
    "The least circle that clears the corners of what it stands round, and the reveal beside it.",
    rounding=_UP,
)
SETBACK = Rule("mat.setback", "0 - setback", "A spacer mat lies back behind the mat above it, out of sight.")
BORDER_MIDDLE = Rule(
    "mat.border_middle",
    "border + (above - under) / 2 + drift",
    "The under-mat's opening lies in the middle of the one above; a box that is not as much above its middle as below "
    "it drifts as it grows.",
)
BORDER_BLOCK = Rule("mat.border_block", "border", "The opening that comes nearest to this edge.")
STRIP_SLANTED = Rule(
    "mat.strip_slanted",
    "reveal - sight_in - face_out",
    "Where flats slant, the strip is measured square to them: the reveal, less what the two bevels take of it.",
)
NARROWEST = Rule(
    "mat.strip_narrowest",
    "strip - (reveal - least)",
    "Two ovals with axes a constant apart come nearer to one another between the axes.",
    "derived; the parallel of an ellipse is no ellipse",
)

# Several openings

NEXT_AT = Rule("layout.next", "before + wide + gutter", "Past the opening before it and the gutter.")
IN_CELL = Rule(
    "layout.in_cell",
    "start + (room - size) / 2",
    "In the middle of its row or column.",
    rounding=_DOWN,
)
AT_START = Rule("layout.at_start", "start", "By the top of its row.")
AT_END = Rule("layout.at_end", "start + room - size", "On the base line of its row.")
BLOCK_FREE = Rule("layout.block_free", "offset + size", "To the far edge of the opening that reaches furthest.")
BORDER_OFFSET = Rule(
    "layout.border", "border + offset", "From the edge of the package: the border of the block and the place in it."
)
BORDER_REST = Rule("layout.rest", "outer - other - size", "What remains to the other edge.")
GUTTER_FILL = Rule(
    "layout.gutter_fill",
    "(outer - 2 * border - openings) / (count - 1)",
    "Equal gutters fill what the borders leave.",
    _PRACTICE,
    _DOWN,
)
GUTTER_EVEN = Rule(
    "layout.gutter_even",
    "(outer - openings) / (count + 1)",
    "Gutters and both borders alike.",
    _PRACTICE,
    _DOWN,
)
GUTTER_FACE = Rule(
    "layout.gutter_face",
    "gutter - 2 * run",
    "A bevel stands on both sides of the gutter, so its coloured face is narrower by two runs.",
)
TITLE_AT = Rule(
    "title.at",
    "(bottom - title) / 2",
    "The title's opening stands in the middle of the bottom border.",
    _PRACTICE,
    _DOWN,
)
TITLE_TOP = Rule("title.top", "outer - bottom + drop", "So far below the windows.")
TITLE_LEFT = Rule("title.left", "(outer - title) / 2", "In the middle from side to side.", _PRACTICE, _DOWN)

# Grooves, lines, inlays, sink mats

GROOVE_WIDTH_SHAVED = Rule(
    "groove.width_shaved", "2 * run + shave", "A shave that stays short of the arris makes the groove narrower."
)
GROOVE_DEPTH = Rule(
    "groove.depth",
    "caliper + shave / 2 * tan(angle)",
    "Two opposed bevels that meet before the back make a groove shallower than the board.",
)
GROOVE_STRIP_SHAVED = Rule(
    "groove.strip_shaved",
    "distance - 2 * run - shave",
    "What is left of the face between groove and window.",
)
GROOVE_SHAVED_SHORT = Rule(
    "groove.face_shaved_short",
    "back - 2 * (run + shave)",
    "The drop-out's face after its edges are shaved to the opposite slope, short of the arris.",
)
GROOVE_BORDER_BOX = Rule(
    "groove.border_box",
    "border - (groove - opening) / 2 + drift",
    "The groove's box lies round the window's; one that is not as much above its middle as below drifts as it grows.",
)
LINE_AT = Rule(
    "line.at", "border - run - distance", "The line lies so far outside the face edge, which lies one run outside."
)
LINE_AT_REVERSE = Rule(
    "line.at_reverse", "border + run - distance", "The line lies so far outside the face edge of a reverse bevel."
)
INLAY_INNER = Rule("inlay.inner", "border - distance", "The inner edge of the inlay: guide of the second cut.")
INLAY_OUTER = Rule(
    "inlay.outer", "border - distance - width", "The outer edge of the inlay: guide of the first cut, in both boards."
)
INLAY_BLANK = Rule(
    "inlay.blank",
    "opening + 2 * (distance + width + hold)",
    "The insert's blank reaches past the band so that it can be held while it is cut.",
    _PRACTICE,
)
INLAY_GUIDE = Rule("inlay.guide", "hold", "The band's outer edge on the insert's own blank.")
INLAY_GUIDE_INNER = Rule("inlay.guide_inner", "hold + width", "The band's inner edge on the insert's own blank.")
SINK_LAYERS = Rule("sink.layers", "ceil(art / caliper)", "As many boards as the art is thick, one more for the rest.")
SINK_HEIGHT = Rule("sink.height", "layers * caliper", "Whole boards: at or above the face of the art.")
SINK_OPENING = Rule(
    "sink.opening",
    "sheet + 2 * clearance",
    "The art lies in the sink with room all round; the largest measured size counts.",
    _PRACTICE,
    _UP,
)
SINK_AT = Rule(
    "sink.at",
    "offset - (opening - sheet) / 2",
    "Round the place of the sheet on its mount board.",
    rounding=_DOWN,
)
