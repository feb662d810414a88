"""A sink mat: boards with an opening round thick art, so that window and mount board lie flat."""

from __future__ import annotations

from collections.abc import Sequence

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import down, to_grid, up
from fourply.measure.size import Rect, Size
from fourply.trade import opening_rules, rules
from fourply.trade.materials import Materials
from fourply.trade.package import ArtPlace, Sink
from fourply.trade.treatment import Treatment
from fourply.working.ledger import Ledger


def sink(
    ledger: Ledger, treatment: Treatment, materials: Materials, places: Sequence[ArtPlace], blank: Size
) -> Sink | None:
    """Return the boards round the art, None where the treatment has none or the art is no thicker than nothing.

    Raises BadTreatment where the art reaches the edge of the package, or where a work holds several sheets.
    """
    rule, grid = treatment.sink, treatment.grid
    if rule is None:
        return None
    if len(places) > 1:
        raise BadTreatment("sink", "a sink mat round several sheets", "a work of its own for each thick sheet")
    (place,) = places
    board, art = materials.board(rule.board), place.art
    ledger.given("sink.caliper", board.caliper, f"board {board.name}")
    ledger.given("treatment.sink.clearance", rule.clearance, treatment.origin("sink"))
    operands = {"art": "art.thickness", "caliper": "sink.caliper"}
    layers = ledger.figure(
        "sink.layers", -(-art.thickness.nm // board.caliper.nm), opening_rules.SINK_LAYERS, **operands
    )
    height = ledger.figure(
        "sink.height", layers * board.caliper, opening_rules.SINK_HEIGHT, layers="sink.layers", caliper="sink.caliper"
    )
    opening = Size(
        *(
            _opening(ledger, art_side, side, rule.clearance, treatment)
            for side, art_side in (("width", art.most.width), ("height", art.most.height))
        )
    )
    at = []
    for name, side, offset, size, sheet in (
        ("left", "width", place.sheet.left, opening.width, place.sheet.size.width),
        ("top", "height", place.sheet.top, opening.height, place.sheet.size.height),
    ):
        names = {
            "offset": f"art.offset.{name}",
            "opening": f"sink.opening.{side}",
            "sheet": f"art.{side}",
            "grid": "grid",
        }
        value = to_grid((2 * offset - (size - sheet)) // 2, grid, down)  # a half goes down like all the rest
        at.append(ledger.figure(f"sink.at.{name}", value, opening_rules.SINK_AT, **names))
    hole = Rect(at[0], at[1], opening)
    if not layers:
        return None
    if not hole.inside(Rect(ZERO, ZERO, blank)) or min(hole.left, hole.top) <= ZERO:
        raise BadTreatment("sink", "the art reaches the edge of the boards round it", "wider borders, or no sink mat")
    sides = [to_grid(side - 2 * treatment.fallout_trim, grid, down) for side in (opening.width, opening.height)]
    fallout = Size(*sides) if min(sides) > ZERO else None
    if fallout is not None:
        for side, length in zip(("width", "height"), sides, strict=True):
            names = {"opening": f"sink.opening.{side}", "trim": "treatment.fallout_trim", "grid": "grid"}
            ledger.figure(f"sink.fallout.{side}", length, rules.FALLOUT, **names)
    return Sink(board, layers, height, blank, hole, fallout)


def _opening(ledger: Ledger, art_side: Length, side: str, clearance: Length, treatment: Treatment) -> Length:
    most = f"art.{side}_most"
    names = {
        "sheet": most if most in ledger else f"art.{side}",
        "clearance": "treatment.sink.clearance",
        "grid": "grid",
    }
    value = to_grid(art_side + 2 * clearance, treatment.grid, up)
    return ledger.figure(f"sink.opening.{side}", value, opening_rules.SINK_OPENING, **names)
