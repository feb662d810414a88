"""The order of work of whole shows: what is set when, what comes before what, what it costs beside other orders."""

from __future__ import annotations

import itertools
import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fourply.app.cutting import Cutting, Means, plan_cutting
from fourply.app.one import one_work
from fourply.app.ordering import How, load_times, order_work, steps_json
from fourply.app.shows import Opened, open_show
from fourply.bench.cutter import NOMINAL, Cutter, StopDatum
from fourply.bench.next_step import what_next
from fourply.bench.profile import Profile
from fourply.bench.settings import settings as settings_of
from fourply.bench.steps import Kind, Steps
from fourply.compute.here import here
from fourply.files.codec import load
from fourply.files.cutters import starter_cutters
from fourply.files.works import Asked
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.planning.budget import Budget

ASKED = Asked(Unit.INCH, Order.WIDTH_HEIGHT)
TIMES = load_times(None)
HEAD = "No.,Width (in),Height (in),Copies,Border,Bottom,Mats,Moulding,Shape\n"
BARE = {"glazing": "none", "backing": "none"}


def inch(whole: int, part: int = 0, of: int = 1) -> Length:
    return Length.inches(whole * of + part, of)


def planned(opened: Opened) -> Cutting:
    return plan_cutting(opened.packages, opened.show.materials, Means(Budget(steps=16), here))


def ordered(opened: Opened, on: Cutter | Profile = NOMINAL, effort: int = 4000) -> Steps:
    return order_work(opened.show.title, opened.packages, planned(opened), How(TIMES, on, effort))


def listed(folder: Path, *rows: str, **rules: str) -> Opened:
    path = folder / "list.csv"
    path.write_text(HEAD + "\n".join(rows) + "\n", encoding="utf-8")
    opened = open_show(path, ASKED, BARE | rules)
    assert opened.faults == ()
    return opened


WEIGHTED = {"border": "2 in", "bottom": "+1/4 in", "moulding": "none", "mats": "white 4-ply"} | BARE


def test_cv091_each_cut_has_the_guide_and_both_stops_of_the_published_routine() -> None:
    # CV091, the published routine for a bottom-weighted mat; left-hand guide, seen from the back.
    steps = ordered(one_work("12 x 15", "", ASKED, WEIGHTED))
    found = {
        strike.side: (block.setting.guide, block.setting.far, block.setting.near)
        for block in steps.blocks
        if block.kind is Kind.CUT
        for handling in block.handlings
        for strike in handling.strikes
    }
    two, more = inch(2), inch(2, 1, 4)
    assert found == {
        "top": (two, two, two),
        "left": (two, more, two),
        "bottom": (more, two, two),
        "right": (two, two, more),
    }


def test_cv092_twelve_alike_take_2_guide_settings_where_one_by_one_takes_25(tmp_path: Path) -> None:
    # CV092, derived: 1 setting and 24 changes one by one in the order top, left, bottom, right; 1 and 1 together.
    steps = ordered(listed(tmp_path, "1,12,15,12,2,+1/4,white 4-ply,none,"))
    by_name = {tally.name: tally.guides for tally in steps.obvious}
    assert (steps.window.guides, by_name["mat by mat"]) == (2, 25)


def test_stops_read_from_the_bar_are_set_more_often_on_boards_of_different_length(tmp_path: Path) -> None:
    opened = listed(tmp_path, "1,12,15,1,2,equal,white 4-ply,none,", "2,9,20,1,2,equal,white 4-ply,none,")
    edge, bar = ordered(opened), ordered(opened, replace(NOMINAL, stops=StopDatum.BAR))
    assert edge.window.stops == 2
    assert bar.window.stops == 1 + 4  # the near stop stays; a far stop for each length of edge


# ── what holds for every show ────────────────────────────────────────────────────────────────────────────────────

ROWS = st.lists(
    st.tuples(
        st.sampled_from(["9,12", "12,9", "8,10"]),
        st.sampled_from([1, 1, 2]),
        st.sampled_from(["2", "2 1/2"]),
        st.sampled_from(["equal", "+1/4"]),
        st.sampled_from(["white 4-ply", "white 8-ply", "cream 4-ply + red 4-ply @ 1/4"]),
        st.sampled_from(["", "", "oval", "clipped 1 in", "stepped 1/4 in"]),
    ),
    min_size=1,
    max_size=4,
)
GROOVES = st.sampled_from([{}, {"grooves": "1/2 in"}, {"stack_cut": "no"}])


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(ROWS, GROOVES)
def test_every_cut_of_every_show_is_made_once_and_none_before_its_time(
    tmp_path: Path, rows: list[tuple[str, int, str, str, str, str]], rules: dict[str, str]
) -> None:
    lines = [f"{at},{size},{n},{b},{low},{mats},none,{shape}" for at, (size, n, b, low, mats, shape) in enumerate(rows)]
    opened = listed(tmp_path, *lines, **rules)
    steps = ordered(opened, effort=500)
    made: dict[tuple[str, str], list[int]] = {}
    for block in steps.blocks:
        for handling in block.handlings:
            for strike in handling.strikes:
                if strike.figure:
                    made.setdefault((handling.work, strike.figure), []).extend([block.number] * handling.copies)
    wanted = {
        (package.work.id, task.figure): package.work.copies * operation.copies
        for package in opened.packages
        for operation in settings_of(package, NOMINAL).operations
        for task in operation.tasks
    }
    assert {key: len(blocks) for key, blocks in made.items()} == wanted
    for package in opened.packages:
        operations = [each for each in settings_of(package, NOMINAL).operations if each.tasks]
        if package.work.copies == 1 and package.treatment.stack_cut:
            last = 0  # one stack: every operation of it comes wholly after the one before
            for operation in operations:
                blocks = [made[package.work.id, task.figure][0] for task in operation.tasks]
                assert last <= min(blocks)
                last = max(blocks)
    assert steps.bound <= steps.window.seconds <= min(tally.seconds for tally in steps.obvious)
    assert steps.blocks[-1].ends == pytest.approx(sum(block.seconds for block in steps.blocks))


def test_windows_take_as_long_as_their_blocks(tmp_path: Path) -> None:
    rows = ("1,9,12,2,2,+1/4,white 4-ply,none,", "2,9,12,1,2,equal,cream 4-ply + red 4-ply @ 1/4,none,")
    steps = ordered(listed(tmp_path, *rows, fallout_trim="4 in"))
    windows = [block for block in steps.blocks if block.kind in (Kind.CUT, Kind.OVAL)]
    assert sum(block.seconds for block in windows) == pytest.approx(steps.window.seconds)


def test_an_under_mat_is_cut_after_it_is_taped_on_and_the_slip_sheet_is_spoken_of(tmp_path: Path) -> None:
    steps = ordered(listed(tmp_path, "1,9,12,1,2,equal,cream 4-ply + red 4-ply @ 1/4,none,"))
    order = [(block.kind, handling.board) for block in steps.blocks for handling in block.handlings if handling.board]
    top, taped, under = (
        order.index(each) for each in ((Kind.CUT, "mat.1"), (Kind.STACK, "mat.2"), (Kind.CUT, "mat.2"))
    )
    assert top < taped < under
    stack = next(block for block in steps.blocks if block.kind is Kind.STACK)
    assert any("Slip sheet out" in caution for caution in stack.cautions)


def test_a_fallout_is_squared_and_cut_up_after_it_fell_out_and_before_the_mats_from_it(tmp_path: Path) -> None:
    opened = listed(
        tmp_path, "1,22,28,1,3,equal,white 4-ply,none,", "2,8,10,1,2,equal,white 4-ply,none,", mount="cream 4-ply"
    )
    board = next(flat for flat in planned(opened).flats if flat.material == "white 4-ply")
    assert [each.source.kind.value for each in board.plan.boards] == ["sheet", "fallout"]
    steps = ordered(opened)
    freed = max(block.number for block in steps.blocks if block.kind is Kind.CUT and block.handlings[0].work == "1")
    blanks = [block for block in steps.blocks if block.handlings[0].name.endswith("fallout of 1 top mat")]
    cut = min(block.number for block in steps.blocks if block.kind is Kind.CUT and block.handlings[0].work == "2")
    assert freed < blanks[0].number <= blanks[-1].number < cut
    assert [strike.operation for strike in blanks[0].handlings[0].strikes] == ["clean edge", "clean edge"]
    falls = [fall for block in steps.blocks for handling in block.handlings for fall in handling.falls]
    assert any("stock for 2 top mat" in fall.goes for fall in falls)


def test_every_blank_is_named_with_the_numbers_of_the_cutting_sheet_and_every_piece_comes_off(tmp_path: Path) -> None:
    rows = [f"{at},{8 + at},{10 + at},1,2,equal,white 4-ply,none," for at in range(6)]
    opened = listed(tmp_path, *rows)
    labels = {
        fall.label
        for block in ordered(opened).blocks
        if block.kind is Kind.BLANK and block.setting.board == "white 4-ply"
        for handling in block.handlings
        for fall in handling.falls
        if fall.label.startswith("board") and "piece" in fall.label
    }
    flat = next(flat for flat in planned(opened).flats if flat.material == "white 4-ply")
    counts = [sum(node.piece is not None for node in board.tree.walk()) for board in flat.plan.boards]
    assert labels == {f"board {at}, piece {n}" for at, of in enumerate(counts, 1) for n in range(1, of + 1)}


def test_a_cutter_without_stops_gets_pencil_lines_before_its_cuts(tmp_path: Path) -> None:
    start = next(iter(starter_cutters().values()))
    profile = replace(start, stops=replace(start.stops, far=False, near=False))
    steps = ordered(listed(tmp_path, "1,9,12,3,2,+1/4,white 4-ply,none,"), profile)
    marks = [block for block in steps.blocks if block.kind is Kind.MARK]
    cuts = [block for block in steps.blocks if block.kind is Kind.CUT]
    assert {block.setting.guide for block in marks} == {inch(2), inch(2, 1, 4)}
    assert all(block.setting.far is None and block.setting.near is None for block in (*marks, *cuts))
    guides = [block.setting.guide for block in steps.blocks if block.setting.guide is not None]
    assert [guide for guide, _ in itertools.groupby(guides)] == [inch(2), inch(2, 1, 4), inch(2)]
    assert marks[0].number < min(block.number for block in cuts)
    assert sum(len(handling.strikes) * handling.copies for block in marks for handling in block.handlings) == 12


def test_an_arm_that_needs_the_guide_off_has_it_counted(tmp_path: Path) -> None:
    start = next(iter(starter_cutters().values()))
    assert start.arm is not None
    opened = listed(
        tmp_path, "1,22,28,1,3,equal,white 4-ply,none,", "2,8,10,1,2,equal,white 4-ply,none,", mount="cream 4-ply"
    )
    off = ordered(opened, replace(start, arm=replace(start.arm, guide_off=True)))
    on = ordered(opened, replace(start, arm=replace(start.arm, guide_off=False)))
    times = [use.count for block in off.blocks for use in block.uses if use.entry == "guide_off"]
    assert sum(times) == 4  # off for the sheets, on for the large mat, off for its fallout, on again
    assert not any(use.entry == "guide_off" for block in on.blocks for use in block.uses)
    assert off.window.seconds > on.window.seconds


def test_two_people_are_never_slower_and_nobody_begins_before_what_is_needed_is_there(tmp_path: Path) -> None:
    rows = [f"{at},{8 + at},{10 + at},1,2,equal,cream 4-ply + red 4-ply @ 1/4,none," for at in range(4)]
    steps = ordered(listed(tmp_path, *rows))
    alone = sum(block.seconds for block in steps.blocks)
    assert max(person.seconds for person in steps.people) <= alone
    assert sorted(number for person in steps.people for number in person.blocks) == list(
        range(1, len(steps.blocks) + 1)
    )
    begins = dict(pair for person in steps.people for pair in zip(person.blocks, person.begins, strict=True))
    taped = next(block for block in steps.blocks if block.kind is Kind.STACK)
    tops = [block for block in steps.blocks if block.kind is Kind.CUT and block.number < taped.number]
    assert all(begins[block.number] + block.seconds <= begins[taped.number] + 1e-6 for block in tops)


def test_the_same_show_has_the_same_order_and_its_document_reads_back(tmp_path: Path) -> None:
    opened = listed(tmp_path, "1,9,12,2,2,+1/4,white 4-ply,none,", "2,9,12,1,2,equal,white 8-ply,none,oval")
    steps = ordered(opened)
    assert ordered(opened) == steps
    assert load(Steps, json.loads(steps_json(steps)), "steps.json") == steps


def test_what_is_next_is_the_first_block_that_is_not_done_and_the_time_left_is_that_of_the_others(
    tmp_path: Path,
) -> None:
    steps = ordered(listed(tmp_path, "1,9,12,1,2,+1/4,white 4-ply,none,"))
    half = {block.number for block in steps.blocks[: len(steps.blocks) // 2]}
    at = what_next(steps, half, TIMES)
    assert at.block == steps.blocks[len(half)]
    rest = [block for block in steps.blocks if block.number not in half]
    assert sum(stage.seconds for stage in at.left) == pytest.approx(sum(block.seconds for block in rest))
    assert all(stage.low < stage.seconds < stage.high for stage in at.left)
    everything = {block.number for block in steps.blocks}
    assert what_next(steps, everything, TIMES).block is None
