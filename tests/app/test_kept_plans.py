"""Kept plans: their papers made again as they were, what the rack promised them, what cutting leaves in the rack."""

from __future__ import annotations

import base64
import json
import zlib
from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.planning.cases import problems

from fourply.app import keep
from fourply.app.answers import Answer, Answers, Question, Recorder
from fourply.app.cutting import Means
from fourply.app.demo import keep_demo
from fourply.app.keep import Desk
from fourply.app.keep_plans import accept_plan, cut_plan, plan_of, rename_plan
from fourply.app.keep_rack import next_number, promised, rack_for
from fourply.app.keep_works import add_work, typed_work
from fourply.app.planning_kept import Planned, PlanWish, papers_of_plan, plan_kept
from fourply.app.ports import Task, silent
from fourply.app.ports_store import SHOP, Done, Kind, Note, Put, Record
from fourply.app.solving import Flat, FlatSolved, solve
from fourply.compute.here import here
from fourply.errors import BadFile, BadInput, BadPlan, PlanOutgrown, RackTaken, Stale
from fourply.files.kept import KeptOffcut, KeptPlan, KeptShow, KeptWork
from fourply.files.record import Listed
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.size import Size
from fourply.planning.budget import Budget
from fourply.planning.problem import Problem
from fourply.store.engine import sqlite_url
from fourply.store.sql_store import SqlStore
from fourply.trade.materials import Offcut
from fourply.trade.money import Money

BOARD = "white 4-ply"
STEPS = 30


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    store = SqlStore(sqlite_url(tmp_path / "shop.sqlite"), tmp_path)
    yield Desk(store, "ann")
    store.close()


def show_at(desk: Desk, title: str = "Tide", *works: str) -> str:
    """Keep a show with works of 9 x 12 under these numbers."""
    head = KeptShow(title, Unit.INCH, Order.WIDTH_HEIGHT, "USD")
    show = keep.create_show(desk, head).id
    for number in works or ("1",):
        listed = typed_work(head, {"id": number, "width": "9", "height": "12"})
        assert isinstance(listed, Listed)
        add_work(desk, show, KeptWork(listed))
    return show


def in_rack(desk: Desk, number: str, width: int, height: int, scope: str = SHOP) -> Record:
    """Keep a piece in the rack, free of cost."""
    piece = Offcut(BOARD, Size(Length.inches(width), Length.inches(height)), Money(Decimal(0), "USD"))
    return keep.create(desk, scope, KeptOffcut(piece, number))


def planned(desk: Desk, show: str, name: str = "plan") -> Planned:
    return plan_kept(desk, show, PlanWish(name), lambda: Means(Budget(steps=STEPS), here, silent))


def accepted(desk: Desk, show: str) -> Record:
    plan = planned(desk, show).plan
    return accept_plan(desk, plan.id, plan.version)


def packed(text: str) -> str:
    return base64.b85encode(zlib.compress(text.encode())).decode()


def unpacked(answers: str) -> str:
    return zlib.decompress(base64.b85decode(answers)).decode()


def numbers_in(desk: Desk, show: str) -> list[str]:
    return sorted(each.value.number for each in rack_for(desk, show) if isinstance(each.value, KeptOffcut))


@pytest.mark.parametrize("metric", [True, False])
def test_papers_of_a_plan_are_made_again_to_the_byte(desk: Desk, *, metric: bool) -> None:
    first = planned(desk, keep_demo(desk, metric=metric).id)
    again = papers_of_plan(desk, first.plan.id, None, here, silent)
    assert sorted(again.files) == sorted(first.files)
    assert [name for name in first.files if again.files[name] != first.files[name]] == []
    assert again.totals == first.totals
    other = papers_of_plan(desk, first.plan.id, "a4" if not metric else "letter", here, silent)
    assert other.files["plan.json"] == first.files["plan.json"]
    assert other.files["tickets.pdf"] != first.files["tickets.pdf"], "another paper"
    kept = plan_of(first.plan)
    assert str(first.totals["works"]) in kept.summary


def test_plan_is_not_printed_for_a_show_that_is_cut_otherwise(desk: Desk) -> None:
    show = show_at(desk)
    plan = planned(desk, show).plan
    head = keep.show_head(desk, show)
    keep.change(desk, show, replace(head.show, notes="Hang it low."), head.record.version)
    papers_of_plan(desk, plan.id, None, here, silent)  # what changes no piece changes no plan
    listed = typed_work(head.show, {"id": "2", "width": "5", "height": "7"})
    assert isinstance(listed, Listed)
    add_work(desk, show, KeptWork(listed))
    with pytest.raises(PlanOutgrown, match=BOARD) as caught:
        papers_of_plan(desk, plan.id, None, here, silent)
    assert BOARD in caught.value.materials
    keep.undo(desk, show)
    papers_of_plan(desk, plan.id, None, here, silent)


def test_rack_that_has_grown_changes_nothing_for_a_plan(desk: Desk) -> None:
    in_rack(desk, "1", 16, 20)
    show = show_at(desk)
    plan = planned(desk, show)
    assert plan_of(plan.plan).takes
    in_rack(desk, "0", 18, 22)
    again = papers_of_plan(desk, plan.plan.id, None, here, silent)
    assert again.files == plan.files


def test_accepted_plan_is_promised_its_pieces(desk: Desk) -> None:
    piece = in_rack(desk, "1", 16, 20)
    tide, quay = show_at(desk, "Tide"), show_at(desk, "Quay")
    late = planned(desk, quay, "late").plan
    plan = accepted(desk, tide)
    assert plan_of(plan).takes == (piece.id,)
    assert promised(desk)[piece.id].id == plan.id
    assert (numbers_in(desk, tide), numbers_in(desk, quay)) == (["1"], [])
    with pytest.raises(RackTaken, match="piece 1"):
        accept_plan(desk, late.id, late.version)
    assert plan_of(planned(desk, quay).plan).takes == ()
    keep.undo(desk, tide)
    assert numbers_in(desk, quay) == ["1"]
    assert plan_of(accept_plan(desk, late.id, late.version)).accepted


@pytest.mark.parametrize("what", ["archived", "smaller", "other board"])
def test_plan_whose_piece_is_gone_is_not_accepted(desk: Desk, what: str) -> None:
    piece = in_rack(desk, "1", 16, 20)
    plan = planned(desk, show_at(desk)).plan
    assert isinstance(piece.value, KeptOffcut)
    if what == "archived":
        keep.archive(desk, piece.id, piece.version)
    else:
        size = Size(Length.inches(4), Length.inches(5))
        change = {"size": size} if what == "smaller" else {"material": "black 4-ply"}
        keep.change(desk, piece.id, replace(piece.value, piece=replace(piece.value.piece, **change)), piece.version)
    with pytest.raises(RackTaken, match="piece 1"):
        accept_plan(desk, plan.id, plan.version)


def test_cutting_moves_what_is_left_into_the_rack(desk: Desk) -> None:
    in_rack(desk, "7", 16, 20)
    show = show_at(desk, "Tide", "1", "2")
    own = in_rack(desk, "own", 16, 20, show)
    plan = accepted(desk, show)
    left = plan_of(plan).leaves
    assert left, "two blanks do not fill a sheet"
    done = cut_plan(desk, plan.id, plan.version)
    assert plan_of(done).state == "cut"
    assert promised(desk) == {}
    rack = [each.value for each in desk.store.every(Kind.RACK, SHOP) if isinstance(each.value, KeptOffcut)]
    assert sum(each.copies for each in left) == len([each for each in rack if each.number != "7"])
    assert {(each.material, each.size) for each in left} <= {(each.piece.material, each.piece.size) for each in rack}
    assert next_number(desk) == 8 + sum(each.copies for each in left)
    used = set(plan_of(plan).takes)
    assert used
    assert all(desk.store.read(piece).archived for piece in used)
    assert own.id in used or not desk.store.read(own.id).archived
    with pytest.raises(BadInput, match="not cut yet"):
        cut_plan(desk, plan.id, done.version)
    keep.undo(desk, SHOP)
    keep.undo(desk, show)
    again = cut_plan(desk, plan.id, desk.store.read(plan.id).version)
    assert plan_of(again).cut
    assert len(desk.store.every(Kind.RACK, SHOP)) == len(rack)


def test_cutting_is_refused_for_a_proposal_and_from_an_old_version(desk: Desk) -> None:
    show = show_at(desk)
    plan = planned(desk, show).plan
    with pytest.raises(BadInput, match="accepted"):
        cut_plan(desk, plan.id, plan.version)
    new = accept_plan(desk, plan.id, plan.version)
    with pytest.raises(Stale):
        cut_plan(desk, plan.id, plan.version)
    before = desk.store.every(Kind.RACK, SHOP)
    assert before == ()
    once = replace(desk, key="once", request="cut")
    assert cut_plan(once, plan.id, new.version) == cut_plan(once, plan.id, new.version)


def test_cutting_that_ends_half_way_is_done_whole_when_it_is_asked_again(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    in_rack(desk, "7", 16, 20)
    plan = accepted(desk, show_at(desk, "Tide", "1", "2"))
    commit, count = SqlStore.commit, iter(range(9))

    def once(store: SqlStore, puts: Sequence[Put], note: Note) -> Done:
        if next(count):
            raise KeyboardInterrupt
        return commit(store, puts, note)

    monkeypatch.setattr(SqlStore, "commit", once)
    with pytest.raises(KeyboardInterrupt):
        cut_plan(desk, plan.id, plan.version)
    monkeypatch.undo()
    rack = desk.store.every(Kind.RACK, SHOP)
    assert not plan_of(desk.store.read(plan.id)).cut
    assert plan_of(cut_plan(desk, plan.id, plan.version)).cut
    assert desk.store.every(Kind.RACK, SHOP) == rack


def test_plan_can_be_renamed_and_copied_as_a_proposal(desk: Desk) -> None:
    plan = accepted(desk, show_at(desk))
    named = rename_plan(desk, plan.id, "for Monday", plan.version)
    copy = keep.copy(desk, plan.id, "another")
    assert (plan_of(named).name, plan_of(copy).state) == ("for Monday", "proposed")
    with pytest.raises(BadInput):
        rename_plan(desk, plan.id, "  ", named.version)
    papers_of_plan(desk, copy.id, None, here, silent)


def test_what_is_kept_of_answers_is_heard_by_the_referee(desk: Desk) -> None:
    show = show_at(desk)
    plan = planned(desk, show).plan
    kept = plan_of(plan)

    def spoilt(answers: str) -> str:
        return keep.change(desk, plan.id, replace(kept, answers=answers), desk.store.read(plan.id).version).id

    document = json.loads(unpacked(kept.answers))
    boards = next(each["found"]["flatsolved"] for each in document["value"]["given"] if "flatsolved" in each["found"])
    boards["plan"]["cost"] += 1
    with pytest.raises(BadPlan):
        papers_of_plan(desk, spoilt(packed(json.dumps(document))), None, here, silent)
    for text in ("{", "{}", "[" * 100_000, '{"schema": "fourply/answers/1", "value": {"rack": 3, "given": []}}'):
        for answers in (text, packed(text)):
            with pytest.raises(BadFile):
                papers_of_plan(desk, spoilt(answers), None, here, silent)
    with pytest.raises(BadInput, match="plan again"):
        papers_of_plan(desk, spoilt(""), None, here, silent)


def test_plan_that_names_what_it_was_not_cut_from_is_not_accepted(desk: Desk) -> None:
    in_rack(desk, "1", 16, 20)
    plan = planned(desk, show_at(desk)).plan
    kept = plan_of(plan)
    text = unpacked(kept.answers)
    for answers in map(packed, (text.replace('"key":"rack 1"', '"key":"rack 9"'), text.replace("rack 1", "rack"))):
        wrong = keep.change(desk, plan.id, replace(kept, answers=answers), desk.store.read(plan.id).version)
        with pytest.raises(BadPlan):
            accept_plan(desk, wrong.id, wrong.version)
    old = keep.change(desk, plan.id, KeptPlan("old", "{}", 0), desk.store.read(plan.id).version)
    assert accept_plan(desk, old.id, old.version).value != old.value


class _Unwatched:
    def standing(self, task: int, cost: int, bound: int) -> None: ...
    def finished(self, task: int) -> None: ...
    def waiting(self) -> None: ...


@settings(max_examples=25, deadline=None)
@given(problem=problems(), swap=st.booleans())
def test_answers_come_back_from_their_text_and_are_answers_to_their_question_alone(
    problem: Problem, *, swap: bool
) -> None:
    recorder = Recorder(here)
    recorder(solve, [Task("board", Flat(problem, Budget(steps=3)), problem.demand)], _Unwatched())
    answers = Answers((), tuple(recorder.answers))
    assert Answers.read(answers.text()) == answers
    (answer,) = answers.given
    answer.hear()
    if swap and isinstance(answer.found, FlatSolved):
        pieces = tuple(replace(each, copies=each.copies + 1) for each in problem.pieces)
        with pytest.raises(BadPlan):
            Answer(Question("board", replace(problem, pieces=pieces)), answer.found).hear()
