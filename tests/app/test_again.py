"""After a measurement: what rests on it changes and nothing else; a spoilt piece comes out of what is left."""

from __future__ import annotations

from pathlib import Path

import pytest

from fourply.app.again import measured, recut
from fourply.app.bench_figures import all_figures
from fourply.app.cutting import Cutting, Means, plan_cutting
from fourply.app.one import one_work
from fourply.app.ordering import How, load_times, order_work
from fourply.app.shows import Opened, open_show
from fourply.bench.steps import Kind, Steps
from fourply.compute.here import here
from fourply.errors import BadInput, Unknown
from fourply.files.works import Asked
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.planning.budget import Budget

ASKED = Asked(Unit.INCH, Order.WIDTH_HEIGHT)
TIMES = load_times(None)
RULES = {"border": "2 in", "bottom": "equal", "mats": "white 4-ply", "glazing": "none", "backing": "none"}


def opened(size: str = "9 x 12", **rules: str) -> Opened:
    return one_work(size, "", ASKED, RULES | rules)


def worked(shown: Opened) -> tuple[Cutting, Steps]:
    cutting = plan_cutting(shown.packages, shown.show.materials, Means(Budget(steps=16), here))
    return cutting, order_work("", shown.packages, cutting, How(TIMES, effort=500))


def number(shown: Opened) -> str:
    return shown.packages[0].work.id


def test_another_caliper_moves_the_blade_and_no_guide() -> None:
    shown = opened()
    cutting, steps = worked(shown)
    found = measured(shown, number(shown), {"mat.1.caliper": "0.070 in"}, cutting, steps)
    changed = found.again.figures
    assert "mat.1.run" in changed
    assert any(figure.endswith(".blade") for figure in changed)
    assert not any(figure.endswith((".guide", ".crossing")) for figure in changed)
    assert found.pieces == ()
    assert {block.kind for block in found.blocks} == {Kind.CUT}
    run = next(change.now for change in found.again.changed if change.figure == "mat.1.run")
    assert run == Length.inches(70, 1000)  # at 45 degrees the run is the caliper; derived


def test_a_blank_that_is_a_32nd_small_makes_its_piece_and_the_cuts_that_end_on_it_another() -> None:
    shown = opened(moulding="none")
    cutting, _ = worked(shown)
    was = all_figures(shown.packages[0])["mat.1.blank.width"].value
    assert isinstance(was, Length)
    found = measured(shown, number(shown), {"mat.1.blank.width": f"{(was - Length.inches(1, 32)).as_mm} mm"}, cutting)
    assert [piece.name for piece in found.pieces] == ["top mat", "mount board"]
    again = {change.figure: (change.was, change.now) for change in found.again.changed}
    before, now = again["cut.mat.1.top.length"]
    assert isinstance(before, Length)
    assert isinstance(now, Length)
    assert before - now == Length.inches(1, 32)  # across; up and down nothing changes
    assert not any("left" in figure or "right" in figure for figure in again)


def test_a_tight_rabbet_changes_the_frame_and_what_hangs_on_it() -> None:
    shown = opened(moulding="ash 3/4")
    cutting, steps = worked(shown)
    rabbet = all_figures(shown.packages[0])["frame.rabbet.width"].value
    assert isinstance(rabbet, Length)
    tight = {"frame.rabbet.width": f"{(rabbet - Length.inches(1, 16)).as_mm} mm"}
    found = measured(shown, number(shown), tight, cutting, steps)
    assert "frame.rail.top.long_point" in found.again.figures
    assert "frame.rail.left.long_point" not in found.again.figures


def test_a_measurement_that_is_as_expected_changes_nothing() -> None:
    shown = opened()
    cutting, steps = worked(shown)
    width = all_figures(shown.packages[0])["mat.1.blank.width"].value
    assert isinstance(width, Length)
    found = measured(shown, number(shown), {"mat.1.blank.width": f"{width.as_mm} mm"}, cutting, steps)
    assert (found.again.changed, found.pieces, found.blocks) == ((), (), ())


def test_a_figure_that_there_is_not_is_refused_by_name() -> None:
    shown = opened()
    cutting, _ = worked(shown)
    with pytest.raises(Unknown, match=r"mat\.9"):
        measured(shown, number(shown), {"mat.9.blank.width": "9 in"}, cutting)


def test_a_spoilt_mat_comes_out_of_what_is_left_of_its_sheet_for_nothing() -> None:
    shown = opened(mount="cream 4-ply")
    cutting, steps = worked(shown)
    key = f"{number(shown)}/mat.1"
    again = recut(cutting, key, TIMES, steps)
    assert (again.bought, again.cost) == (False, 0)
    assert again.size.holds(again.part.size) or again.size.turned().holds(again.part.size)
    assert again.seconds > 0
    assert again.windows > recut(cutting, key, TIMES).windows == 0


def test_a_spoilt_mat_that_nothing_left_holds_takes_a_sheet_at_its_price() -> None:
    shown = opened("24 x 32", mount="cream 4-ply")
    cutting, _ = worked(shown)
    again = recut(cutting, f"{number(shown)}/mat.1", TIMES)
    sheets = {
        each.key: each.cost for flat in cutting.flats if flat.material == "white 4-ply" for each in flat.problem.stock
    }
    assert again.bought
    assert again.cost == sheets[again.source]


def test_a_spoilt_piece_that_there_is_not_is_refused_by_name() -> None:
    cutting, _ = worked(opened())
    with pytest.raises(Unknown, match="99"):
        recut(cutting, "99/mat.1", TIMES)


def test_nothing_left_and_nothing_on_sale_is_said(tmp_path: Path) -> None:
    materials = tmp_path / "materials.toml"
    materials.write_text(
        'schema = 1\nunit = "in"\n[boards."lone"]\ncaliper = "1/16"\n'
        'sheets = [{ size = "32 x 40", cost = "9", copies = 1 }]\n'
    )
    (tmp_path / "w.csv").write_text("No.,Width (in),Height (in)\n1,24,32\n")
    show = tmp_path / "show.toml"
    show.write_text(
        '[show]\nunit = "in"\norder = "width x height"\nworks = "w.csv"\nmaterials = "materials.toml"\n'
        '[defaults]\nmats = "lone"\nmount = "cream 4-ply"\nmoulding = "none"\n'
        'glazing = "none"\nbacking = "none"\nborder = "2"\n'
    )
    shown = open_show(show, ASKED)
    assert shown.faults == ()
    cutting, _ = worked(shown)
    with pytest.raises(BadInput, match="top mat"):
        recut(cutting, "1/mat.1", TIMES)
