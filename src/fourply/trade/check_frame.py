"""Checks on the frame: depth, lip, sticks, corners."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import product

from fourply.measure.length import ZERO, Length
from fourply.trade.findings import Finding, Level
from fourply.trade.materials import Spacer
from fourply.trade.package import Frame, Package, Stack
from fourply.working.working import length_of

BOARD_TOLERANCE = Length.mm(1, 10)
"""How far a board of one lot may be from its caliper (Saitzyk, Art Hardware, 1987)."""
GLASS_TOLERANCE = Length.mm(2, 10)
"""How far 2 to 6 mm glass may be from its thickness (from memory: EN 572)."""

LEAST_CLEARANCE = Length.mm(1)
MOST_CLEARANCE = Length.mm(6)
"""1 to 3 mm inside the rebate, taken for each side (Fine Art Trade Guild, conservation-level framing)."""


def check_frame(package: Package) -> Iterator[Finding]:
    """Yield what the checks on the frame find."""
    frame = package.frame
    if frame is None:
        return
    yield from _depth(package, package.stack)
    yield from _lip(package, frame)
    yield from _spacers(package, frame)
    yield from _allowance(package)
    yield from _rails(frame)
    if frame.sides != 4:
        yield from _polygon_corners(package, frame)


def tolerance(stack: Stack) -> Length:
    """Return how far the stack may be from its sum by the tolerances of its materials alone."""
    per_layer = {"glazing": GLASS_TOLERANCE, "art": ZERO}
    return Length(sum(per_layer.get(layer.name, BOARD_TOLERANCE).nm for layer in stack.layers))


def _depth(package: Package, stack: Stack) -> Iterator[Finding]:
    if stack.spare is None or stack.rabbet is None:
        return
    points = package.treatment.points
    short, within = points - stack.spare, tolerance(stack)
    numbers = (
        ("depth", stack.depth),
        ("rabbet", stack.rabbet),
        ("spare", stack.spare),
        ("points", points),
        ("short", short),
        ("needed", stack.depth + points),
    )
    place = "stack.spare"
    if stack.spare < -within:
        says = "The stack of {depth} is deeper than the rabbet of {rabbet}."
        remedy = "Take a moulding with a rabbet of {needed}, a thinner backing, or build the back out."
        yield Finding("depth.over", Level.FAULT, place, says, remedy, numbers)
    elif short <= ZERO:
        yield Finding("depth", Level.HOLDS, place, "{spare} is left for points.", numbers=numbers)
    elif short <= within:
        says = "Tight: {spare} is left for points and {points} is wanted."
        yield Finding("depth.tight", Level.TIGHT, place, says, "Measure the rabbet and the stack.", numbers)
    else:
        left = "Only {spare} is" if stack.spare > ZERO else "Nothing is"
        says = f"{left} left for points; {{points}} is wanted."
        remedy = "Take a rabbet of {needed}, or a backing thinner by {short}."
        yield Finding("depth.short", Level.CAUTION, place, says, remedy, numbers)


def _allowance(package: Package) -> Iterator[Finding]:
    allowance, place = package.treatment.allowance, "treatment.allowance"
    numbers = (("allowance", allowance), ("least", LEAST_CLEARANCE), ("most", MOST_CLEARANCE))
    if allowance < LEAST_CLEARANCE:
        says = "The package has only {allowance} of play in the rabbet; under {least} the boards warp."
        yield Finding("allowance.tight", Level.CAUTION, place, says, "Give it more.", numbers)
    elif allowance > MOST_CLEARANCE:
        says = "The package has {allowance} of play in the rabbet; more than {most} lets it slip from behind the lip."
        yield Finding("allowance.loose", Level.NOTE, place, says, "Shim it, or give it less.", numbers)


def _lip(package: Package, frame: Frame) -> Iterator[Finding]:
    seen = {side: length_of(package.figures, f"frame.visible.{side}") for side in ("top", "right", "bottom", "left")}
    side = min(seen, key=lambda name: seen[name])
    numbers = (("bottom", seen["bottom"]), ("top", seen["top"]), ("lip", _lip_at(frame, side)))
    if seen[side] <= ZERO:
        says = f"The lip of {{lip}} covers the whole {side} border: the frame hides part of the window."
        yield Finding("lip.hides", Level.FAULT, f"frame.visible.{side}", says, "Widen the borders.", numbers)
    else:
        says = "Of the mat {bottom} shows at the bottom and {top} at the top, when it rests on the rail."
        yield Finding("lip", Level.HOLDS, "frame.visible.bottom", says, numbers=numbers)


def _lip_at(frame: Frame, side: str) -> Length:
    return next((rail.moulding.lip for rail in frame.rails if rail.side == side), frame.moulding.lip)


def _spacers(package: Package, frame: Frame) -> Iterator[Finding]:
    hidden = frame.least_lip - package.treatment.allowance // 2
    for strips in package.strips:
        if isinstance(strips.spacer, Spacer) and strips.spacer.width > hidden:
            numbers = (("width", strips.spacer.width), ("hidden", hidden))
            says = "The spacer is {width} wide and the lip hides {hidden}: it shows."
            yield Finding("spacer.shows", Level.CAUTION, "spacer.width", says, "Take a narrower spacer.", numbers)


def _rails(frame: Frame) -> Iterator[Finding]:
    for rail in frame.rails:
        sticks = [stick.length for stick in rail.moulding.sticks]
        if sticks and rail.long_point > max(sticks):
            numbers = (("rail", rail.long_point), ("stick", max(sticks)))
            which = "Each" if rail.count > 1 else f"The {rail.side}"
            says = f"{which} rail of {{rail}} is longer than the longest stick, {{stick}}."
            place = f"frame.rail.{rail.side}.long_point"
            yield Finding("rail.too_long", Level.FAULT, place, says, "Take a longer stick.", numbers)
    depths = {(rail.moulding.rabbet_depth, rail.moulding.height) for rail in frame.rails}
    if len(depths) > 1:
        says = "The two mouldings differ in height or in depth of rabbet."
        remedy = "Shim the shallower one, or choose two of one series."
        yield Finding("rail.unlike", Level.CAUTION, "frame.rail.top.long_point", says, remedy)


def _polygon_corners(package: Package, frame: Frame) -> Iterator[Finding]:
    """Find a window whose corners reach behind the rails of a frame of n equal sides, one of them at the bottom."""
    window, middle = package.art.window, package.outer.width.as_mm / 2
    corners = product((window.left, window.right), (window.top, window.bottom))
    places = [(x.as_mm - middle, y.as_mm - middle) for x, y in corners]
    normals = [2 * math.pi * side / frame.sides + math.pi / 2 for side in range(frame.sides)]
    reach = max(x * math.cos(normal) + y * math.sin(normal) for (x, y), normal in product(places, normals))
    if reach > frame.sight.width.as_mm / 2:
        says = "The corners of the window reach behind the rails."
        yield Finding("polygon.corners", Level.FAULT, "window.width", says, "Take a larger outer size.")
