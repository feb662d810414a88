"""The formulas of cuts, each with its reason and its source, as data."""

from __future__ import annotations

from functools import cache

from fourply.working.working import Rule

GUIDE = Rule("guide.set", "border", "The guide is set to the border at the back line.")
GUIDE_ON_TOP = Rule(
    "guide.on_top",
    "border",
    "The under-mat is taped to the top mat and registers on the top mat's edge, so the guide is its whole border.",
)
GUIDE_OWN_EDGE = Rule(
    "guide.own_edge",
    "border - inset",
    "The under-mat is cut by itself and registers on its own edge, which lies inside the package by the inset.",
)
GUIDE_ON_BLANK = Rule(
    "guide.on_blank",
    "border + (blank - outer) / 2",
    "The blank of a frame with more or fewer than four sides is a larger square round the package.",
)
GUIDE_ON_BLANK_INSET = Rule(
    "guide.on_blank_inset", "border + (blank - outer) / 2 - inset", "The same, on an under-mat cut by itself."
)
GUIDE_STEP = Rule(
    "guide.step",
    "edge + inset",
    "Stepped corners are rectangles one inside the other; this one lies so far inside the outermost.",
    "common practice",
)
STOP_FROM_BAR = Rule(
    "stop.from_bar",
    "edge - crossing",
    "Read from the bar, the far stop is the length of the edge that is cut less the border beyond it.",
)
CROSSING_REACH = Rule("stop.reach", "edge + reach", "The straight part ends where the corner begins.")
BLADE = Rule(
    "blade.past",
    "crossing - run - constant",
    "The corner on the face lies one run past the crossing of the pencil lines, and the cutter's constant beyond.",
)
OPPOSITE = Rule(
    "blade.past_reverse",
    "crossing + run - constant",
    "A reverse bevel's corner on the face lies one run short of the crossing of the pencil lines.",
)
BLADE_CORNER = Rule(
    "blade.past_corner", "crossing - past - constant", "The corner on the face lies so far past the pencil crossing."
)
BLADE_FLUSH = Rule(
    "blade.flush",
    "crossing - constant",
    "The line runs on without a corner, or the blade stands upright: nothing is cut past the mark.",
)
LEAN = Rule("blade.lean", "0 - run", "A reverse bevel leans inward: its face edge lies inside the back line.")
PAST_CORNER = Rule(
    "blade.corner",
    "run * tan(turn / 2)",
    "Where two lines meet, the corner on the face lies this far past the pencil's; a turn of 90 degrees gives the run.",
)
PAST_STEP = Rule(
    "blade.step",
    "0 - run",
    "At a corner that sticks out into the opening the face edge ends one run short of the crossing; what still holds "
    "at the back is freed by hand.",
)
PAST_SPRING = Rule(
    "blade.spring",
    "sqrt(max(0, (radius + run) * (radius + run) - (width / 2 + run) * (width / 2 + run)))"
    " - sqrt(max(0, radius * radius - width * width / 4))",
    "An arc on the face has the same centre and a radius longer by the run; the upright side meets it higher up.",
)
PAST_FOOT = Rule(
    "blade.foot",
    "sqrt(max(0, (radius + run) * (radius + run) - (radius - rise - run) * (radius - rise - run))) - width / 2",
    "An arc that stands on the foot without shoulders meets it further out on the face.",
)
PAST_SCOOP = Rule(
    "blade.scoop",
    "sqrt(max(0, radius * radius - inset * inset))"
    " - sqrt(max(0, (radius - run) * (radius - run) - (inset + run) * (inset + run)))",
    "A scoop on the face has the same centre and a radius shorter by the run.",
)

SPOT = Rule("spot.edge", "edge", "On the line of the guide.")
SPOT_IN = Rule("spot.in", "edge + reach", "So far inside the line of the guide.")
SPOT_MIDDLE = Rule("spot.middle", "edge + width / 2", "Half of the opening inside the line of the guide.")
VERTEX_ACROSS = Rule(
    "spot.vertex_across",
    "edge + width / 2 - outer * sin(turn)",
    "From the middle of the polygon, on the circle through its corners.",
)
VERTEX_LOW = Rule(
    "spot.vertex_low",
    "edge + across / 2 - outer * cos(turn)",
    "From the flat at the bottom to the centre, then on the circle through the corners.",
)
VERTEX_HIGH = Rule(
    "spot.vertex_high",
    "edge + height - across / 2 + outer * cos(turn)",
    "The height of the polygon less the way from its flat at the bottom.",
)
BOX = Rule("cut.box", "edge - one - other", "What the guide leaves between two sides.")

LEG_LINE = Rule("cut.leg", "leg * sqrt(2)", "A corner clipped at 45 degrees.")
SLANT_LENGTH = Rule("cut.slant", "line + 2 * past", "The pencil line and what the blade adds at both ends.")
POLYGON_SIDE = Rule("cut.side", "across * tan(turn / 2)", "The side of a regular polygon.", "any textbook of geometry")
POLYGON_OUTER = Rule(
    "cut.outer",
    "across / 2 / cos(turn / 2)",
    "The radius of the circle through its corners.",
    "any textbook of geometry",
)
POLYGON_REACH = Rule("cut.reach", "(width - side) / 2", "A side in the middle of the box leaves so much beside it.")
SCOOP_REACH = Rule(
    "cut.scoop_reach", "inset + sqrt(radius * radius - inset * inset)", "How much of a side the scoop takes."
)
ARCH_RADIUS = Rule(
    "cut.arch_radius",
    "(width * width / 4 + rise * rise) / (2 * rise)",
    "The circle through both springing points and the crown.",
    "any textbook of geometry",
)
ARC_LINE = Rule("cut.arc", "radius * turn", "An arc is its radius times its angle in radians.")
STEP_REST = Rule("cut.step_rest", "box - inset", "From the other side as far as the step.")
STEP_INSET = Rule("cut.step_inset", "before + step", "The next rectangle lies one step further inside.")

SEMI_AXIS = Rule("oval.semi", "axis / 2", "From the pencil of a trammel to one slider.", "any textbook of drawing")
AXIS_DIFFERENCE = Rule("oval.difference", "long - short", "The sliders of a trammel.", "any textbook of drawing")
PINS = Rule(
    "oval.pins", "sqrt(long * long - short * short)", "The foci: where the pins stand.", "any textbook of drawing"
)
PIN = Rule("oval.pin", "pins / 2", "Each pin from the centre.", "any textbook of drawing")
LOOP = Rule("oval.loop", "long + pins", "A closed loop of string round both pins.", "any textbook of drawing")

SLIVER = Rule(
    "shave.sliver", "width", "What is shaved off is as wide at the face as the groove, and nothing at the back."
)
SHAVE_RECTANGLE = Rule("shave.rectangle", "2 * (width + height)", "All round the back of the drop-out.")
SINK_REST = Rule("sink.rest", "outer - at - opening", "What the sink's opening leaves on the other side.")

LENGTH_FLUSH = Rule("cut.length_flush", "edge - far - near", "From mark to mark.")
LENGTH_ONE = Rule("cut.length_one", "edge - far - near + past", "From mark to mark, and past the corner at one end.")
LENGTH_PAST = Rule(
    "cut.length", "edge - far - near + past_far + past_near", "From mark to mark, and past the corner at both ends."
)
CURVED = Rule(
    "cut.curved", "perimeter - straight", "What is left of the face edge when its straight parts are taken off."
)
LAYERS = Rule("cut.layers", "each * layers", "Boards cut alike.")


@cache
def sum_of(count: int) -> Rule:
    """Return the rule of a sum of so many cuts.

    >>> sum_of(2).formula
    'cut_1 + cut_2'
    """
    return Rule("cut.sum", " + ".join(f"cut_{at}" for at in range(1, count + 1)), "One cut after the other.")


SUM = sum_of(2)
