"""The formulas of the trade, each with its reason and its source, as data.

A rule's formula is what a ticket prints and what a test evaluates again from the operands; the code beside it does the
arithmetic. Names in a formula are operands, given by the figure that uses the rule. Sources are named where a
standard, a textbook or a museum gives the rule; what any shop does is common practice; what follows from geometry is
derived.
"""

from __future__ import annotations

from fourply.working.working import Rounding, Rule

_PRACTICE = "common practice"
_DOWN, _UP, _NEAREST = Rounding.DOWN, Rounding.UP, Rounding.NEAREST

# Window

SKEW = Rule(
    "window.skew",
    "length * sin(skew)",
    "A sheet that is out of square drifts sideways by this much over its length, so the window gives it up.",
)
COVERED = Rule(
    "window.covered",
    "sheet - 2 * overlap",
    "The mat covers the edge of the sheet on both sides; the least measured size counts.",
    _PRACTICE,
    _DOWN,
)
COVERED_SKEWED = Rule(
    "window.covered_skewed",
    "sheet - 2 * overlap - drift",
    "The mat covers the edge of the sheet on both sides, and the drift of a sheet out of square besides.",
    _PRACTICE,
    _DOWN,
)
SHOWN_ACROSS = Rule(
    "window.shown_across",
    "image + 2 * paper",
    "Paper is left showing at both sides of the image.",
    _PRACTICE,
    _UP,
)
SHOWN_ALONG = Rule(
    "window.shown_along",
    "image + top + bottom",
    "Paper is left showing above and below the image.",
    _PRACTICE,
    _UP,
)
FLOATED = Rule(
    "window.floated",
    "sheet + 2 * gap",
    "A floated sheet shows every edge; the largest measured size must clear the mat.",
    _PRACTICE,
    _UP,
)

# Mats

RUN = Rule(
    "bevel.run",
    "caliper / tan(angle)",
    "How far the cut moves sideways through the board; also the width of core that shows.",
)
SLANT = Rule("bevel.slant", "caliper / sin(angle)", "The true width of the cut surface, as a ruler laid on it reads.")
BACK_IS_SIGHT = Rule("mat.back_is_sight", "window", "The back of a normal bevel is the inner outline: the sight.")
BACK_AROUND_FILLET = Rule(
    "mat.back_around_fillet",
    "window + 2 * shown",
    "The mat opens to the fillet, whose inner edge is the window.",
)
BACK_OF_REVERSE = Rule(
    "mat.back_of_reverse",
    "sight + 2 * run",
    "The back line of a reverse bevel lies outside the sight by its run; down, so that the sheet stays covered.",
    rounding=_DOWN,
)
BACK_OF_REVERSE_CLEAR = Rule(
    "mat.back_of_reverse_clear",
    "sight + 2 * run",
    "The back line of a reverse bevel lies outside the sight by its run; up, so that nothing shown is cut off.",
    rounding=_UP,
)
BACK_OVER_UNDER = Rule(
    "mat.back_over_under",
    "under + 2 * reveal",
    "The guide is set smaller by the reveal on each side than for the mat below.",
)
FACE_NORMAL = Rule(
    "mat.face_normal", "back + 2 * run", "The coloured face ends one run further out than the back line."
)
FACE_REVERSE = Rule(
    "mat.face_reverse", "back - 2 * run", "A reverse bevel leans inward: the face reaches past the back line."
)
OPENING = Rule("mat.opening", "sight", "An opening is given at its inner outline, the sight.")
WINDOW_IN_REVERSE = Rule("window.in_reverse", "opening", "The window is the sight of the innermost mat.")
WINDOW_IN_FILLET = Rule("window.in_fillet", "opening - 2 * shown", "The window is the inner edge of the fillet.")
STRIP = Rule(
    "mat.strip",
    "(sight - face) / 2",
    "The flat colour that shows of an under-mat, from the sight of the mat above to where its own bevel begins.",
)
REVEAL_FROM_STRIP = Rule(
    "mat.reveal_from_strip",
    "strip + run",
    "The guide difference is the flat strip and the run of the under-mat's bevel, which lies inside it.",
    rounding=_NEAREST,
)
REVEAL_FROM_STRIP_REVERSE_ABOVE = Rule(
    "mat.reveal_from_strip_reverse_above",
    "strip + run + above",
    "The guide difference is the flat strip and the run of both bevels: the reverse one above leans over it.",
    rounding=_NEAREST,
)
REVEAL_FROM_STRIP_REVERSE_UNDER = Rule(
    "mat.reveal_from_strip_reverse_under",
    "max(strip - run, 0)",
    "The under-mat's reverse bevel adds its run to the strip that shows.",
    rounding=_NEAREST,
)
REVEAL_FROM_STRIP_REVERSE_BOTH = Rule(
    "mat.reveal_from_strip_reverse_both",
    "max(strip - run + above, 0)",
    "The reverse bevel above leans over the strip, the one below adds to it.",
    rounding=_NEAREST,
)
BORDER_UNDER = Rule(
    "mat.border_under", "border + reveal", "The under-mat's guide is set wider than the mat above by the reveal."
)
BLANK = Rule("mat.blank", "outer", "The top mat is cut to the size of the package.", _PRACTICE)
BLANK_INSET = Rule(
    "mat.blank_inset",
    "outer - 2 * inset",
    "An under-mat is smaller than the top, so that its edges never touch the guide.",
    _PRACTICE,
)
FALLOUT = Rule(
    "mat.fallout",
    "opening - 2 * trim",
    "What falls out of the window, squared off by a trim on each side.",
    _PRACTICE,
    _DOWN,
)
FALLOUT_SCORED = Rule(
    "mat.fallout_scored",
    "opening - 2 * max(trim, reveal - run)",
    "The cut of the mat below scores the back of this fallout; what stays clean lies inside the score.",
    rounding=_DOWN,
)
FALLOUT_SCORED_REVERSE = Rule(
    "mat.fallout_scored_reverse",
    "opening - 2 * max(trim, reveal + run)",
    "The reverse cut of the mat below leans inward and scores the back of this fallout one run further in.",
    rounding=_DOWN,
)

# Groove

GROOVE_BORDER = Rule(
    "groove.border", "border - distance", "The groove's guide is set smaller than the window's by the distance."
)
GROOVE_WIDTH = Rule(
    "groove.width", "2 * run", "Two opposed bevels through the whole board meet at its back: one run each side."
)
GROOVE_STRIP = Rule(
    "groove.strip",
    "distance - 2 * run",
    "What is left of the face between groove and window: the distance less the groove's inner and the window's run.",
)
GROOVE_BACK = Rule(
    "groove.back", "opening + 2 * distance", "The groove's back line lies outside the window's by the distance."
)
GROOVE_CUT = Rule("groove.face_cut", "back + 2 * run", "The drop-out's face before shaving, one run wider each side.")
GROOVE_SHAVED = Rule(
    "groove.face_shaved", "back - 2 * run", "The drop-out's face after its edges are shaved to the opposite slope."
)

# Borders

BORDER = Rule("border.set", "border", "The border as it is set.", rounding=_NEAREST)
BORDER_FOR_LIP = Rule(
    "border.for_lip",
    "visible + lip - allowance / 2",
    "The lip hides its width less half the allowance of a package that lies centred in the rabbet.",
    rounding=_NEAREST,
)
BOTTOM_EQUAL = Rule("border.bottom_equal", "top", "All borders alike.")
BOTTOM_AMOUNT = Rule(
    "border.bottom_amount",
    "top + amount",
    "An opening with equal borders seems to sit low; a wider bottom lifts it. Taste, not law.",
    "The Museum (1917), p. 176",
    _NEAREST,
)
BOTTOM_RATIO = Rule(
    "border.bottom_ratio",
    "top * ratio",
    "An opening with equal borders seems to sit low; a wider bottom lifts it. Taste, not law.",
    "US Army subcourse SS0509, lesson 2",
    _NEAREST,
)
BOTTOM_OPTICAL = Rule(
    "border.bottom_optical",
    "top * (3 * outer - opening) / (outer + opening)",
    "The bottom that the optical-centre construction gives to this top border.",
    "derived from the construction in photographic textbooks",
    _NEAREST,
)
BOTTOM_RATIO_VISIBLE = Rule(
    "border.bottom_ratio_visible",
    "(top - hidden) * ratio + hidden",
    "The ratio holds for what is seen beside the lip, so what the lip hides is taken off first and added after.",
    _PRACTICE,
    _NEAREST,
)
HIDDEN = Rule(
    "border.hidden",
    "lip - allowance / 2",
    "What the lip hides of a border when the package lies centred in the rabbet.",
)
BOTTOM_GOLDEN = Rule(
    "border.bottom_golden",
    "top * ratio",
    "Top and bottom in golden section; strong for a mat.",
    "definition of the golden section",
    _NEAREST,
)
BORDER_CENTRED = Rule(
    "border.centred", "(outer - opening) / 2", "Centred from side to side in the given outer size.", rounding=_DOWN
)
BORDER_REST = Rule(
    "border.rest", "outer - opening - other", "What remains, so that borders and opening add up to the outer size."
)
TOP_EQUAL = Rule("border.top_equal", "(outer - opening) / 2", "Centred up and down.", rounding=_DOWN)
TOP_AMOUNT = Rule(
    "border.top_amount",
    "(outer - opening - amount) / 2",
    "The bottom is wider than the top by the amount.",
    _PRACTICE,
    _NEAREST,
)
TOP_RATIO = Rule(
    "border.top_ratio",
    "(outer - opening) / (1 + ratio)",
    "The bottom is the top times the ratio.",
    _PRACTICE,
    _NEAREST,
)
TOP_FROM_WIDTH = Rule(
    "border.top_from_width", "outer - opening - bottom", "What the given bottom leaves.", rounding=_NEAREST
)
TOP_OPTICAL = Rule(
    "border.top_optical",
    "(outer - opening) * (across + wide) / (4 * across)",
    "Optical-centre construction: diagonal from the opening in the corner to the middle of the strip below it.",
    "derived from the construction in photographic textbooks",
    _NEAREST,
)
TOP_CLAMPED = Rule(
    "border.top_clamped",
    "side",
    "The optical centre would make the top narrower than the sides; it is moved down to equal them.",
    "Lambrecht, on optical mat borders",
)
TOP_GOLDEN = Rule(
    "border.top_golden",
    "(outer - opening) * share",
    "Top and bottom in golden section.",
    "definition of the golden section",
    _NEAREST,
)
OUTER_ACROSS = Rule("outer.across", "left + opening + right", "Borders and opening make the outer size.")
OUTER_ALONG = Rule("outer.along", "top + opening + bottom", "Borders and opening make the outer size.")

# Frame and package

RABBET = Rule(
    "frame.rabbet",
    "outer + allowance",
    "The rabbet is larger than the package, or the boards warp; the trade adds 1/8 in in all.",
    "FACTS, ordering of chops and frames",
)
SIGHT = Rule("frame.sight", "rabbet - 2 * lip", "The lip hides its width on each side.")
OUTSIDE = Rule(
    "frame.outside",
    "rabbet + 2 * (width - lip)",
    "From the rabbet wall to the outside of the moulding it is width less lip, on each side.",
)
LONG_POINT = Rule(
    "frame.long_point",
    "rabbet + 2 * (width - lip)",
    "A rail's outer edge is as long as the frame is outside; width and lip are those of the rails it meets.",
)
SHORT_POINT = Rule("frame.short_point", "rabbet - 2 * lip", "A rail's inner edge is as long as the sight.")
POLYGON_LONG = Rule(
    "frame.polygon_long",
    "(rabbet + 2 * (width - lip)) * tan(half_angle)",
    "The side of a regular polygon from its width across flats, outside.",
)
POLYGON_SHORT = Rule(
    "frame.polygon_short",
    "(rabbet - 2 * lip) * tan(half_angle)",
    "The side of a regular polygon from its width across flats, at the sight.",
)
POLYGON_BLANK = Rule(
    "outer.polygon_blank",
    "outer / cos(half_angle)",
    "A square that holds the polygon whichever way it lies; its corners are clipped to the frame.",
    rounding=_UP,
)
MITRE = Rule("frame.mitre", "180 / sides", "The corners of a regular frame share half a turn.", "geometry")
MITRE_MEETS = Rule(
    "frame.mitre_meets",
    "atan(meets / width)",
    "From a square cut: the joint runs from the inner corner to the outer one of both rails.",
)
JOINT_GAP = Rule(
    "frame.joint_gap",
    "width / cos(half_angle) * tan(2 * sides * error)",
    "What a saw this little out of true leaves open at the last joint: the error of every cut adds up there.",
)
VISIBLE = Rule(
    "frame.visible_border",
    "border - (lip - allowance / 2)",
    "What is seen of the border beside the lip when the package lies centred.",
)
VISIBLE_BOTTOM = Rule(
    "frame.visible_bottom", "border - lip", "The package rests on the bottom rail, so the lip hides all its width."
)
VISIBLE_TOP = Rule(
    "frame.visible_top",
    "border - lip + allowance",
    "The package rests on the bottom rail, so the whole allowance shows at the top.",
)
PANE = Rule("pane.size", "outer", "Cut to the package; never larger, since a glass a trifle over is hard to trim.")
DEPTH = Rule("stack.depth", "layers", "All layers, front to back.")
SPARE = Rule("stack.spare", "rabbet - depth", "What is left behind the backing for points.")

# Mounting

COVER = Rule(
    "art.covered",
    "sheet - window - other",
    "What the window does not show of the sheet, less what is covered on the other side.",
)
COVER_CENTRED = Rule("art.covered_centred", "(sheet - window) / 2", "The sheet lies centred behind the window.")
COVER_IMAGE_ACROSS = Rule(
    "art.covered_image_across",
    "image - (window - wide) / 2",
    "How far the image lies in on the sheet, less half the paper that shows at its two sides.",
)
COVER_IMAGE = Rule(
    "art.covered_image", "image - paper", "How far the image lies in on the sheet, less the paper that shows."
)
ART_AT = Rule(
    "art.at", "border - covered", "The sheet's edge from the edge of the mount board: window less what is covered."
)
TO_WOOD = Rule(
    "art.to_wood",
    "border - covered + allowance / 2",
    "From the edge of the art to the wall of the rabbet, the package lying centred sideways.",
    "FACTS, clause 10",
)
TO_WOOD_TOP = Rule(
    "art.to_wood_top",
    "border - covered + allowance",
    "From the edge of the art to the wall of the rabbet; the whole allowance is at the top.",
    "FACTS, clause 10",
)
TO_WOOD_BOTTOM = Rule(
    "art.to_wood_bottom",
    "border - covered",
    "From the edge of the art to the wall of the rabbet; the package rests on the bottom rail.",
    "FACTS, clause 10",
)
HINGE_END = Rule(
    "hinge.from_end",
    "sheet / 6",
    "Near the upper corners, so that the sheet hangs flat and can move.",
    _PRACTICE,
    _NEAREST,
)
HINGE_MIDDLE = Rule("hinge.middle", "sheet / 2", "One more in the middle of a wide sheet.", _PRACTICE, _NEAREST)
HINGE_OTHER = Rule("hinge.other_end", "sheet - other", "The same distance from the other end.")
LIFT = Rule(
    "lift.size",
    "sheet - 2 * setback",
    "The lift board stays out of sight behind the floated sheet.",
    _PRACTICE,
    _DOWN,
)
LIFT_LAYERS = Rule(
    "lift.layers",
    "ceil(lift / caliper)",
    "So many layers of the mount board make the lift that is wanted, or a little more.",
)
LIFT_RISE = Rule("lift.rise", "layers * caliper", "How far the sheet is raised by whole layers of board.")
CLEAR_OF_GLASS = Rule(
    "art.to_glass",
    "room - taken",
    "Mats and spacer hold the glazing off the face of the art.",
    "FACTS, clause 10",
)
SPACER = Rule("spacer.length", "outer - width", "Laid pinwheel fashion: each strip butts against the next.", _PRACTICE)
FILLET_LONG = Rule(
    "fillet.long_point", "opening + 2 * lip", "A fillet is cut to the mat opening with no allowance, lip outside."
)
