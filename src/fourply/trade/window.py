"""The window: how large the innermost sight is to be, from the sheet, from the image, or round a floated sheet.

Sizes here are at the sight line. They are brought to the marking grid in the direction that keeps the promise: down
where the mat must cover the sheet, up where the image or a floated sheet must be clear.
"""

from __future__ import annotations

from fourply.errors import BadTreatment
from fourply.measure.length import Length
from fourply.measure.rounding import down, to_grid, up
from fourply.measure.size import Size
from fourply.trade import rules
from fourply.trade.formulas import skew_drift
from fourply.trade.shapes.rule import ShapeKind
from fourply.trade.treatment import Bevel, Treatment, WindowFrom
from fourply.trade.work import Artwork
from fourply.working.ledger import Ledger


def enter_rule(ledger: Ledger, treatment: Treatment, name: str) -> Length:
    """Enter a length of the treatment as a given figure, with the layer it came from; returns it."""
    value = getattr(treatment, name)
    if not isinstance(value, Length):
        raise TypeError(name)
    return ledger.given(f"treatment.{name}", value, treatment.origin(name))


def enter_art(ledger: Ledger, art: Artwork, origin: str) -> None:
    """Enter what was measured of a sheet, with where it was read."""
    ledger.given("art.width", art.width.least, f"{origin}, least measured" if _differ(art) else origin)
    ledger.given("art.height", art.height.least, f"{origin}, least measured" if _differ(art) else origin)
    if _differ(art):
        ledger.given("art.width_most", art.width.most, f"{origin}, most measured")
        ledger.given("art.height_most", art.height.most, f"{origin}, most measured")
    if art.image is not None:
        ledger.given("image.width", art.image.size.width, origin)
        ledger.given("image.height", art.image.size.height, origin)
        ledger.given("image.left", art.image.left, origin)
        ledger.given("image.top", art.image.top, origin)
    ledger.given("art.thickness", art.thickness, origin)


def settle_window(ledger: Ledger, art: Artwork, treatment: Treatment) -> Size:
    """Return the wanted sight of the window; raises BadTreatment where there is none."""
    window = {
        WindowFrom.SHEET: _from_sheet,
        WindowFrom.IMAGE: _from_image,
        WindowFrom.FLOAT: _from_float,
    }[treatment.window]
    return window(ledger, art, treatment)


_OF_ITS_OWN = frozenset({ShapeKind.CIRCLE, ShapeKind.OCTAGON, ShapeKind.POLYGON, ShapeKind.FREE})
"""Kinds whose proportions are their own, so that they may fill a window one way only."""


def window_path(treatment: Treatment) -> str:
    """Return the start of the wanted window's path.

    With a reverse bevel the marking grid has the last word on the window, with a shape that cannot take any width and
    height the shape has.
    """
    innermost = treatment.mats[-1]
    shape = innermost.shape or treatment.shape
    fills = shape.kind not in _OF_ITS_OWN
    return "window" if innermost.bevel is Bevel.NORMAL and fills else "window.wanted"


def _differ(art: Artwork) -> bool:
    return art.least != art.most


def _from_sheet(ledger: Ledger, art: Artwork, treatment: Treatment) -> Size:
    path = window_path(treatment)
    overlap = enter_rule(ledger, treatment, "overlap")
    grid = treatment.grid
    names = {"sheet": "art.width", "overlap": "treatment.overlap"}
    width, rule = art.width.least - 2 * overlap, rules.COVERED
    if art.skew_deg:
        ledger.given("art.skew_deg", art.skew_deg, "measured")
        drift = ledger.figure(
            "window.skew",
            skew_drift(art.height.least, art.skew_deg),
            rules.SKEW,
            length="art.height",
            skew="art.skew_deg",
        )
        width, rule, names = width - drift, rules.COVERED_SKEWED, names | {"drift": "window.skew"}
    height = art.height.least - 2 * overlap
    _require(min(width, height) >= grid.step, "the overlap covers the whole sheet", "a smaller overlap")
    return Size(
        ledger.figure(f"{path}.width", to_grid(width, grid, down), rule, **names, grid="grid"),
        ledger.figure(
            f"{path}.height",
            to_grid(height, grid, down),
            rules.COVERED,
            sheet="art.height",
            overlap="treatment.overlap",
            grid="grid",
        ),
    )


def _from_image(ledger: Ledger, art: Artwork, treatment: Treatment) -> Size:
    path = window_path(treatment)
    if art.image is None:
        raise BadTreatment("window", "the image's size is not known", "give it, or measure the window from the sheet")
    sides = enter_rule(ledger, treatment, "paper_sides")
    top = enter_rule(ledger, treatment, "paper_top")
    bottom = enter_rule(ledger, treatment, "paper_bottom")
    return Size(
        ledger.figure(
            f"{path}.width",
            to_grid(art.image.size.width + 2 * sides, treatment.grid, up),
            rules.SHOWN_ACROSS,
            image="image.width",
            paper="treatment.paper_sides",
            grid="grid",
        ),
        ledger.figure(
            f"{path}.height",
            to_grid(art.image.size.height + top + bottom, treatment.grid, up),
            rules.SHOWN_ALONG,
            image="image.height",
            top="treatment.paper_top",
            bottom="treatment.paper_bottom",
            grid="grid",
        ),
    )


def _from_float(ledger: Ledger, art: Artwork, treatment: Treatment) -> Size:
    path = window_path(treatment)
    gap = enter_rule(ledger, treatment, "float_gap")
    suffix = "_most" if _differ(art) else ""
    names = {"gap": "treatment.float_gap", "grid": "grid"}
    width, height = (to_grid(side + 2 * gap, treatment.grid, up) for side in (art.width.most, art.height.most))
    return Size(
        ledger.figure(f"{path}.width", width, rules.FLOATED, sheet=f"art.width{suffix}", **names),
        ledger.figure(f"{path}.height", height, rules.FLOATED, sheet=f"art.height{suffix}", **names),
    )


def _require(holds: bool, found: str, expected: str) -> None:  # noqa: FBT001
    if not holds:
        raise BadTreatment("window", found, expected)
