"""The table of check values, row by row, through the program's public ways in.

The rows stand in check_values.toml. A figure of a package is asked of `resolve`; a function is asked alone only where
no package carries its result.
"""

from __future__ import annotations

import math
import tomllib
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from tests.trade import set_up_values
from tests.trade.cases import MATERIALS, MOULDING, WIDE, art, but, made

from fourply.errors import BadInput
from fourply.measure.dimensions import Order, parse_pair
from fourply.measure.length import Length
from fourply.measure.names import size_named
from fourply.measure.notation import Unit, parse_length
from fourply.measure.rounding import GRIDS, NANOMETRE, from_mm
from fourply.measure.size import Edges, Rect, Size
from fourply.planning.boards import plan_boards
from fourply.planning.budget import Budget
from fourply.planning.problem import Piece, Problem, Stock
from fourply.planning.problem import Rect as Blank
from fourply.planning.stick_problem import Rail, Stick, StickProblem
from fourply.planning.sticks import plan_sticks
from fourply.trade.accents import GrooveRule
from fourply.trade.formulas import (
    bevel_run,
    margin_mismatch,
    optical_top_share,
    pixels_to_length,
    rail_stock,
    slant,
    trade_estimate,
)
from fourply.trade.materials import Board, Glazing, Materials, Pane
from fourply.trade.package import Frame, Package
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.shapes.stepped import Stepped
from fourply.trade.treatment import INCH, Bevel, Bottom, BottomRule, MatRule, RevealMeans, Treatment, WindowFrom
from fourply.trade.work import Artwork

type Inputs = Mapping[str, Any]
type Result = Length | Size | float | bool
type Results = Mapping[str, Result]
"""What a kind of row gives, by name."""
type Stated = str | float | bool
"""How the table writes a result."""


@dataclass(frozen=True)
class Row:
    id: str
    states: str
    kind: str
    expected: Mapping[str, Stated]
    tolerance: str | float
    source: str
    inputs: Inputs


def rows() -> list[Row]:
    table = tomllib.loads(Path(__file__).with_name("check_values.toml").read_text("utf-8"))
    return [Row(**({"inputs": {}} | row)) for row in table["row"]]


ROWS = rows()


def nm(text: str) -> Length:
    return parse_length(text, Unit.MM)


def pair(text: str) -> Size:
    return parse_pair(text, Unit.MM, Order.WIDTH_HEIGHT).size


# ── a package from the words of a row ────────────────────────────────────────────────────────────────────────────


def package(inputs: Inputs) -> Package:
    given = dict(inputs)
    boards = {f"mat {at}": _board(f"mat {at}", mat) for at, mat in enumerate(given.get("mats", [{}]), start=1)}
    materials = replace(MATERIALS, boards={**MATERIALS.boards, **boards})
    sheet = _art(given)
    mats = tuple(_mat(f"mat {at}", mat) for at, mat in enumerate(given.pop("mats", [{}]), start=1))
    materials, names = _bought(given, materials)
    return made(but(_rules(given), mats=mats, **names), sheet, materials)


def _art(given: dict[str, Any]) -> Artwork:
    size = pair(given.pop("art", "10 x 13 in"))
    more: dict[str, Any] = {}
    if image := given.pop("image", None):
        at = pair(given.pop("image_at"))
        more["image"] = Rect(at.width, at.height, pair(image))
    if thickness := given.pop("thickness", None):
        more["thickness"] = nm(thickness)
    return art(size.width, size.height, skew_deg=given.pop("skew_deg", 0.0), **more)


def _board(name: str, mat: Mapping[str, str]) -> Board:
    return Board(name, nm(mat.get("caliper", "1/16 in")), WIDE)


def _mat(name: str, mat: Mapping[str, str]) -> MatRule:
    means = RevealMeans.FLAT if "strip" in mat else RevealMeans.GUIDE
    reveal = nm(mat.get("strip", mat.get("reveal", "0 in")))
    return MatRule(name, reveal, means, Bevel(mat.get("bevel", "normal")))


def _bought(given: dict[str, Any], materials: Materials) -> tuple[Materials, dict[str, str]]:
    """Return the materials with what the row states of them, and the names to ask for them by."""
    names = {"mount": "white", "glazing": "", "backing": ""}
    if glazing := given.pop("glazing", None):
        stated = Glazing("stated", Pane.GLASS, nm(glazing), WIDE)
        materials, names = replace(materials, glazings={"stated": stated}), names | {"glazing": "stated"}
    if mount := given.pop("mount", None):
        board = Board("stated", nm(mount), WIDE)
        materials, names = replace(materials, boards={**materials.boards, "stated": board}), names | {"mount": "stated"}
    if backing := given.pop("backing", None):
        foam = replace(materials.backing("foam"), thickness=nm(backing))
        materials, names = replace(materials, backings={"foam": foam}), names | {"backing": "foam"}
    for field in ("moulding", "moulding_sides"):
        if moulding := given.pop(field, None):
            lengths: dict[str, Any] = {key: nm(text) for key, text in moulding.items()}
            mouldings = {**materials.mouldings, field: replace(MOULDING, **lengths)}
            materials, names = replace(materials, mouldings=mouldings), names | {field: field}
    return materials, names


def _rules(given: dict[str, Any]) -> Treatment:
    values: dict[str, Any] = {}
    for field, stated in given.items():
        match field:
            case "window":
                values[field] = WindowFrom(stated)
            case "outer":
                values[field] = pair(stated)
            case "grooves":
                values[field] = (GrooveRule(nm(stated)),)
            case "borders":
                values[field] = Edges(*map(nm, stated))
            case "bottom":
                values[field] = _bottom(stated)
            case "grid":
                values[field] = {**GRIDS, "1 nm": NANOMETRE}[stated]
            case "bevel_deg" | "frame_sides":
                values[field] = stated
            case _:
                values[field] = nm(stated)
    return but(INCH, **values)


def _bottom(text: str) -> Bottom:
    rule, _, amount = text.partition(" ")
    if rule == "ratio":
        return Bottom(BottomRule.RATIO, ratio=Fraction(amount))
    return Bottom(BottomRule(rule), nm(amount)) if amount else Bottom(BottomRule(rule))


def framed(inputs: Inputs) -> Frame:
    frame = package(inputs).frame
    assert frame is not None
    return frame


# ── one function for each kind of row ────────────────────────────────────────────────────────────────────────────


def of_package(row: Row) -> Results:
    found = package(row.inputs)
    open_ = {check.rule for check in found.checks}
    results: dict[str, Result] = {}
    for name in row.expected:
        if name.startswith("finding "):
            results[name] = name.removeprefix("finding ") in open_
        else:
            value = found.figures[name].value
            assert isinstance(value, Length | float)
            results[name] = value
    return results


def of_length(row: Row) -> Results:
    return {text: nm(text) for text in row.expected}


def of_size(row: Row) -> Results:
    return {name: size_named(name) for name in row.expected}


def of_ratio(row: Row) -> Results:
    return {name: size_named(name).height.nm / size_named(name).width.nm for name in row.expected}


def of_mean_of_shorts(row: Row) -> Results:
    (name,) = row.expected
    one, two = (size_named(each).width for each in row.inputs["sizes"])
    assert size_named(name).width.as_mm == round(math.sqrt(one.as_mm * two.as_mm))
    return {name: size_named(name).width}


def _problem(row: Row, copies: int) -> Problem:
    blank, sheet = pair(row.inputs["blank"]), pair(row.inputs["sheet"])
    return Problem(
        pieces=(Piece(key="blank", w=blank.width.nm, h=blank.height.nm, copies=copies),),
        stock=(Stock(key="sheet", w=sheet.width.nm, h=sheet.height.nm, cost=1, copies=1),),
        keep=Blank(1, 1),
    )


def of_yield(row: Row) -> Results:
    most, waste = 0, []
    for copies in range(1, 100):
        try:
            plan = plan_boards(_problem(row, copies), Budget(steps=100))
        except BadInput:
            break
        most, waste = copies, [box for _, box in plan.remnants()]
    return {"blanks": float(most), "waste": float(len(waste))}


def of_mismatch(row: Row) -> Results:
    found = package(row.inputs)
    outer, back = found.outer, found.mats[0].opening.back
    return {"mm": margin_mismatch((outer.width, outer.height), (back.width, back.height)).as_mm}


def of_pixels(row: Row) -> Results:
    width, height = (pixels_to_length(count, row.inputs["per_inch"]) for count in row.inputs["pixels"])
    return {"width": width, "height": height}


def of_optical_share(row: Row) -> Results:
    return {"share": float(optical_top_share(nm(row.inputs["outer"]), nm(row.inputs["opening"])))}


def of_slant(row: Row) -> Results:
    return {"slant": slant(nm(row.inputs["caliper"]), row.inputs["bevel_deg"])}


def of_run_change(row: Row) -> Results:
    one, two = (bevel_run(nm(caliper), row.inputs["bevel_deg"]) for caliper in row.inputs["calipers"])
    return {"change": two - one}


def of_angle(row: Row) -> Results:
    """Find the angle whose run is the measured one, by halving."""
    low, high = 20.0, 90.0
    for _ in range(50):
        middle = (low + high) / 2
        if bevel_run(nm(row.inputs["caliper"]), middle) > nm(row.inputs["run"]):
            low = middle
        else:
            high = middle
    return {"deg": low}


def of_estimate(row: Row) -> Results:
    outer = pair(row.inputs["outer"])
    return {"moulding": trade_estimate(outer.width, outer.height, nm(row.inputs["width"]), nm(row.inputs["spare"]))}


def of_sticks(row: Row) -> Results:
    rails = tuple(Rail(key=str(at), length=nm(text).nm) for at, text in enumerate(row.inputs["rails"]))
    stick = nm(row.inputs["stick"])
    problem = StickProblem(
        rails=rails, sticks=(Stick(key="s", length=stick.nm, cost=1),), kerf=nm(row.inputs["kerf"]).nm, keep=1
    )
    plan = plan_sticks(problem, Budget(steps=100))
    cut = [(one.rails[-1].start + one.rails[-1].length) for one in plan.sticks for _ in range(one.copies)]
    return {f"used {at}": Length(length) for at, length in enumerate(cut, start=1)}


def _long_points(inputs: Inputs) -> tuple[Length, ...]:
    return tuple(rail.long_point for rail in framed(inputs).rails for _ in range(rail.count))


def of_stock(row: Row) -> Results:
    return {"moulding": rail_stock(_long_points(row.inputs), Length(0))}


def of_kerfs(row: Row) -> Results:
    rails = _long_points({key: value for key, value in row.inputs.items() if key != "kerf"})
    return {"kerfs": rail_stock(rails, nm(row.inputs["kerf"])) - rail_stock(rails, Length(0))}


def of_mitres(row: Row) -> Results:
    return {rail.side: rail.mitre_deg for rail in framed(row.inputs).rails if rail.side in row.expected}


def _shape(row: Row, kind: ShapeKind, **numbers: Any) -> Any:
    return ShapeRule(kind, **numbers).fit(pair(row.inputs["size"]))


def of_oval(row: Row) -> Results:
    oval = _shape(row, ShapeKind.OVAL).grown(nm(row.inputs.get("grown", "0 in")))
    trammel, (one, two) = oval.trammel, oval.pins.split(2)
    assert one == two
    results = {"pins": oval.pins, "pin from centre": one, "loop": oval.loop}
    results |= {"long": trammel.long, "short": trammel.short, "between": trammel.between}
    apart = abs(oval.size.width - oval.size.height)
    return results | {"width": oval.size.width, "height": oval.size.height, "axes apart": apart}


def of_narrowest(row: Row) -> Results:
    return {"reveal": _shape(row, ShapeKind.OVAL).narrowest(nm(row.inputs["grown"]))}


def _parallel_point(row: Row) -> tuple[float, float]:
    """Return the point whose nearest point of the oval has the parameter, found on the outline of the parallel."""
    outline = _shape(row, ShapeKind.OVAL).parallel(nm(row.inputs["by"]))
    (sweep,) = outline.pieces
    x, y = sweep.point((row.inputs["parameter"] - sweep.start) / sweep.sweep)
    return x, y


def of_parallel_point(row: Row) -> Results:
    x, y = _parallel_point(row)
    return {"x": from_mm(x), "y": from_mm(y)}


def of_parallel_in_ellipse(row: Row) -> Results:
    grown = pair(row.inputs["size"]).grown(nm(row.inputs["by"]))
    x, y = _parallel_point(row)
    return {"ratio": (2 * x / grown.width.as_mm) ** 2 + (2 * y / grown.height.as_mm) ** 2}


def of_arch(row: Row) -> Results:
    arch = _shape(row, ShapeKind.ARCH, rise=nm(row.inputs["rise"]))
    return {"radius": arch.radius, "arc": arch.arc}


def of_octagon(row: Row) -> Results:
    octagon = _shape(row, ShapeKind.OCTAGON)
    return {"corner cut": octagon.leg, "side": octagon.diagonal}


def _steps(row: Row) -> tuple[Length, ...]:
    return tuple(map(nm, row.inputs["steps"]))


def of_stepped(row: Row) -> Results:
    """Fit the box so that its innermost rectangle has the border, as a window that shows as much would."""
    outer, steps = pair(row.inputs["outer"]), _steps(row)
    box = outer.grown(Length(sum(step.nm for step in steps)) - nm(row.inputs["border"]))
    shape = ShapeRule(ShapeKind.STEPPED, steps=steps).fit(box)
    assert isinstance(shape, Stepped)
    widths = [rectangle.width for rectangle in shape.rectangles]
    return {f"setting {at}": (outer.width - width) // 2 for at, width in enumerate(widths, start=1)}


def of_stepped_cuts(row: Row) -> Results:
    return {"cuts": float(_shape(row, ShapeKind.STEPPED, steps=_steps(row)).cuts)}


def of_clipped(row: Row) -> Results:
    return {"leg": _shape(row, ShapeKind.CLIPPED, leg=nm(row.inputs["leg"])).grown(-nm(row.inputs["under"])).leg}


KINDS: Mapping[str, Callable[[Row], Results]] = {
    name.removeprefix("of_"): function for name, function in list(globals().items()) if name.startswith("of_")
} | {name: lambda row, of=of: of(row.inputs) for name, of in set_up_values.KINDS.items()}


# ── the rows ─────────────────────────────────────────────────────────────────────────────────────────────────────


def agrees(value: Result, expected: Stated, tolerance: str | float) -> bool:
    if isinstance(value, Size):
        wanted = pair(str(expected))
        off = max(abs(value.width - wanted.width), abs(value.height - wanted.height))
    elif isinstance(value, Length):
        off = abs(value - nm(str(expected)))
    else:
        return abs(value - float(expected)) <= (tolerance if isinstance(tolerance, int | float) else 0)
    return off <= (Length(0) if tolerance == "exact" else nm(str(tolerance)))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.id} {row.states}")
def test_the_program_gives_the_check_value(row: Row) -> None:
    results = KINDS[row.kind](row)

    wrong = {
        name: (results[name], expected)
        for name, expected in row.expected.items()
        if not agrees(results[name], expected, row.tolerance)
    }
    assert wrong == {}


def test_the_table_is_in_order_and_every_row_names_its_source() -> None:
    assert [row.id for row in ROWS] == sorted(row.id for row in ROWS)
    assert [row.id for row in ROWS if not row.source or not row.states] == []


def test_every_kind_of_row_is_used() -> None:
    assert set(Counter(row.kind for row in ROWS)) == set(KINDS)
