"""Formulas of the trade that stand alone: exact where lengths are exact, floats where an angle comes in.

The functions that resolve a work use these; so do the check values. Which edge is meant is said by each.
"""

from __future__ import annotations

import math
from fractions import Fraction

from fourply.measure.length import Length
from fourply.measure.rounding import from_mm

GOLDEN_SHARE = Fraction(381966, 1_000_000)
"""The smaller part of a golden section to six places, as it is used for the top of a vertical total."""


def bevel_run(caliper: Length, angle_deg: float) -> Length:
    """Return how far a cut at angle_deg to the face moves sideways through the board, to the nearest nm.

    >>> bevel_run(Length.mm(14, 10), 45.0).as_mm
    1.4
    """
    if angle_deg >= 90.0:
        return Length(0)
    return from_mm(caliper.as_mm / math.tan(math.radians(angle_deg)))


def slant(caliper: Length, angle_deg: float) -> Length:
    """Return the true width of the cut surface, to the nearest nm."""
    return from_mm(caliper.as_mm / math.sin(math.radians(angle_deg)))


def skew_drift(length: Length, skew_deg: float) -> Length:
    """Return how far the edge of a sheet out of square by skew_deg drifts over length, never too little."""
    return from_mm(length.as_mm * math.sin(math.radians(skew_deg)), math.ceil)


def optical_top_share(outer_width: Length, opening_width: Length) -> Fraction:
    """Return the top border's share of top and bottom by the optical-centre construction: 1/4 to 1/2.

    Both widths at the back line. The construction: the opening in the upper left corner; half the strip to its right;
    half the strip below it, out to the edge; the line from there to the opening's lower left corner.

    >>> optical_top_share(Length.inches(16), Length.inches(8))
    Fraction(3, 8)
    """
    return Fraction(outer_width.nm + opening_width.nm, 4 * outer_width.nm)


def margin_mismatch(outer: tuple[Length, Length], opening: tuple[Length, Length]) -> Length:
    """Return side borders together less top and bottom together; nothing where four equal borders are possible."""
    return (outer[0] - opening[0]) - (outer[1] - opening[1])


def polygon_side(across_flats: Length, sides: int) -> Length:
    """Return the side of a regular polygon that touches a circle of that diameter, to the nearest nm."""
    return from_mm(across_flats.as_mm * math.tan(math.pi / sides))


def polygon_rail(side: Length, beyond: Length, sides: int) -> Length:
    """Return the long point of one rail: the rabbet's side and what the mitres add, `beyond` being width less lip.

    >>> round(float(polygon_rail(Length.inches(10), Length.inches(5, 4), 8).as_inches), 3)
    11.036
    """
    return side + from_mm(2 * beyond.as_mm * math.tan(math.pi / sides))


def mitre_deg(width: Length, meets: Length) -> float:
    """Return the mitre, from a square cut, on a rail `width` wide that meets one `meets` wide at a right angle.

    >>> round(mitre_deg(Length.inches(3), Length.inches(2)), 2)
    33.69
    """
    return math.degrees(math.atan2(meets.nm, width.nm))


def joint_gap(width: Length, sides: int, error_deg: float) -> Length:
    """Return how far the last joint of a frame stands open where each of its 2 n mitres is cut wrong by error_deg.

    >>> round(float(joint_gap(Length.inches(2), 4, 0.25).as_inches), 3)
    0.099
    """
    joint = width.as_mm / math.cos(math.pi / sides)
    return from_mm(joint * math.tan(math.radians(2 * sides * error_deg)))


def united_inches(width: Length, height: Length) -> Fraction:
    """Return width and height together in inches, as mouldings and mats are often priced."""
    return (width + height).as_inches


def rail_stock(rails: tuple[Length, ...], kerf: Length) -> Length:
    """Return the moulding that rails use one after another: their long points and a mitred kerf for each cut."""
    along = from_mm(kerf.as_mm * math.sqrt(2)) * (2 * len(rails))
    return Length(sum(rail.nm for rail in rails)) + along


def trade_estimate(outer_width: Length, outer_height: Length, moulding_width: Length, spare: Length) -> Length:
    """Return the moulding that the trade estimates for a frame: perimeter, eight widths and a little."""
    return 2 * (outer_width + outer_height) + 8 * moulding_width + spare


def pixels_to_length(pixels: int, per_inch: int) -> Length:
    """Return how wide an image of that many pixels prints, to the nearest nm."""
    return Length(round(Fraction(pixels * 25_400_000, per_inch)))


def groove_depth(caliper: Length, run: Length, shave: Length) -> Length:
    """Return how deep a V-groove is whose shave stays short of the arris (`shave` below nothing) or reaches it.

    >>> round(float(groove_depth(Length.inches(1, 16), Length.inches(1, 16), Length.inches(-1, 32)).as_inches), 4)
    0.0469
    """
    if run.nm == 0:
        return caliper
    return min(caliper, caliper + Length(round(Fraction(shave.nm * caliper.nm, 2 * run.nm))))
