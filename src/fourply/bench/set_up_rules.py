"""The formulas of setting up a cutter, each with its reason and its source, as data."""

from __future__ import annotations

from fourply.working.working import Rounding, Rule

READING = Rule(
    "guide.reading",
    "(wanted - offset - tan(skew) * along) / gain",
    "The scale is set so that the border comes out as wanted there, by what the test cuts say of it.",
    "derived",
    Rounding.NEAREST,
)
LEFT = Rule(
    "guide.left",
    "reading * gain + offset + tan(skew) * along - wanted",
    "What is off, since the scale shows no finer division.",
)
WITH_STRIP = Rule(
    "guide.with_strip",
    "border + strip",
    "A strip of known width lies between guide and board, so the guide is set wider by it.",
    "common practice",
)
GIVES = Rule(
    "guide.gives",
    "reading * gain + offset + tan(skew) * along",
    "The border that this setting gives at mid-length, by what the test cuts say of the scale.",
)
GIVES_WITH_STRIP = Rule(
    "guide.gives_with_strip",
    "reading * gain + offset + tan(skew) * along - strip",
    "The border that this setting gives at mid-length, with the strip between guide and board.",
)
BY_CALIPER = Rule(
    "cutter.by_caliper",
    "constant + by_caliper * (caliper - common)",
    "A blade comes down at a slant, so where it enters and leaves changes with the thickness of the board.",
)
INDEX_LINE = Rule(
    "stop.index",
    "blade + run",
    "The index line is one that is set to the pencil line: it stands short of the blade by the run of the bevel.",
    "common practice",
)
STOP_EDGE = Rule(
    "stop.edge",
    "index",
    "The stop holds the head where its index line belongs, read from the edge.",
    "derived",
    Rounding.NEAREST,
)
STOP_BAR = Rule(
    "stop.bar",
    "edge - index",
    "Read from the bar, the far stop is the length of the edge that is cut less the place of the index line.",
    "derived",
    Rounding.NEAREST,
)
OVAL_SIGHT = Rule("oval.sight", "axis", "The oval cutter's scale reads the sight edge, which is the back line.")
OVAL_FACE = Rule(
    "oval.face", "axis + 2 * out", "The edge that the oval cutter's scale reads is that of the face, one run outside."
)
OPENING = Rule(
    "guide.opening", "0 - 2 * off", "A border that is off on both sides changes the opening by twice as much."
)
MOVE = Rule(
    "guide.move",
    "length * tan(skew)",
    "So far one end of the guide is moved to make it parallel to the bar over this length.",
)
BITE = Rule(
    "blade.bite", "slip / 3", "The point goes into the slip sheet by about a third of its thickness.", "common practice"
)
EXTENSION = Rule("blade.extension", "(caliper + bite) / sin(angle)", "The blade is measured along its slant.")
DIAGONAL = Rule(
    "blank.diagonal", "sqrt(width * width + height * height)", "Both are so long where the blank is square."
)
FIRST_PASS = Rule("pass.first", "min(edge, bar)", "The first pass takes as much as the bar reaches.")
SECOND_PASS = Rule("pass.second", "edge - first", "The second pass takes the rest.")
PARTING = Rule(
    "pass.parting",
    "second * tan(turn)",
    "If the board is turned by so much when it is laid again, the edges part by this at the end of the second pass.",
)
