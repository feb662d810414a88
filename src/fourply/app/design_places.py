"""Where in the drawings of a work a finding is shown: beside what it concerns."""

from __future__ import annotations

from collections.abc import Iterable

from fourply.app.design_handles import SIDES, Handle, Lie
from fourply.trade.package import Package

_ALONG = 0.82  # beside the handle in the middle of the edge
_DEPTH = ("stack.", "glazing.", "backing.", "spacer.")


def in_section(place: str) -> bool:
    """Tell whether a place lies in the depth of the package, which only the section shows.

    >>> in_section("stack.spare"), in_section("opening.2.art.to_glazing"), in_section("mat.1.border.top")
    (True, True, False)
    """
    return place.startswith(_DEPTH) or place.endswith(".to_glazing")


def in_front(package: Package, held: Iterable[Handle], place: str) -> tuple[float, float] | None:
    """Return the point of the front view, in millimetres, beside which a finding at this place is shown.

    That is where the handle stands that sets it, else the side that it names, else the window or the edge that it
    belongs to; None for what only the section shows.
    """
    if in_section(place):
        return None
    for handle in held:
        if handle.figure == place:
            return handle.at
    lie, side = Lie(package), place.rpartition(".")[2]
    art = next((each for each in package.arts if each.scope and place.startswith(each.scope)), package.arts[0])
    window = lie.around(art.window)
    if place.startswith(("outer.", "frame.", "moulding.", "treatment.allowance")) or ".blank." in place:
        return lie.edge.left + _ALONG * lie.edge.width, lie.edge.top
    if ".border." in place and side in SIDES:
        return lie.between(window, side)
    box = window
    middle = ((box.left + box.right) / 2, (box.top + box.bottom) / 2)
    return {
        "top": (middle[0], box.top),
        "right": (box.right, middle[1]),
        "bottom": (middle[0], box.bottom),
        "left": (box.left, middle[1]),
    }.get(side, (box.right, box.top))
