"""The table of settings where windows are no rectangles or a mat has several: complete, legible, clean."""

from __future__ import annotations

import pytest
from tests.sheets.shaped import SHAPED

from fourply.bench.settings import settings
from fourply.drawing.check import collisions, crossed, strays
from fourply.drawing.page import A4, LETTER
from fourply.drawing.record import Drawing
from fourply.drawing.text import PT
from fourply.sheets.ticket import compose_ticket
from fourply.sheets.ticket_view import ticket_view

VIEWS = {name: ticket_view(package, context) for name, (package, context) in SHAPED.items()}


def pages(name: str) -> tuple[Drawing, ...]:
    return compose_ticket(VIEWS[name], A4 if SHAPED[name][1].words.metric else LETTER)


def texts(drawn: tuple[Drawing, ...]) -> str:
    return " ".join(label.text for page in drawn for label in page.labels)


def lines(name: str) -> str:
    return " ".join(line for row in VIEWS[name].settings.rows for line in row.lines)


@pytest.mark.parametrize("name", VIEWS)
def test_nothing_collides_and_no_type_is_smaller_than_the_least(name: str) -> None:
    drawn = pages(name)
    assert [fault for page in drawn for fault in (*collisions(page), *strays(page, margin=10), *crossed(page))] == []
    assert min(label.size for page in drawn for label in page.labels) / PT >= 6.6 - 1e-6


@pytest.mark.parametrize("name", VIEWS)
def test_every_setting_and_every_word_of_the_lines_is_on_a_page(name: str) -> None:
    shown = texts(pages(name))
    words = shown.split()
    for row in VIEWS[name].settings.rows:
        assert all(guide.text in shown for guide in row.guides)
        assert all(words.count(word) for line in row.lines for word in line.split())


@pytest.mark.parametrize("name", VIEWS)
def test_every_operation_has_a_row_in_the_order_of_work(name: str) -> None:
    package, context = SHAPED[name]
    operations = settings(package, context.cutter).operations
    rows = list(dict.fromkeys(row.name for row in VIEWS[name].settings.rows))
    assert [row.lower().partition(", ")[0] for row in rows] == [
        operation.name.lower().partition(", ")[0] for operation in operations
    ]


def test_an_oval_says_how_it_is_set_out() -> None:
    (row, _) = VIEWS["oval"].settings.rows
    assert row.guides == ()
    for word in ("centre left", "half axes", "difference", "pins", "loop"):
        assert word in row.lines[0]


def test_stepped_corners_have_a_row_for_each_rectangle_the_outermost_first() -> None:
    rows = VIEWS["stepped"].settings.rows
    assert [row.note for row in rows] == [
        "step 1 of 3",
        "step 2 of 3",
        "fallout goes back",
        "step 1 of 3",
        "step 2 of 3",
        "through the stack",
    ]


def test_an_arch_leaves_the_top_to_its_arc_and_shows_where_the_blade_differs() -> None:
    row = VIEWS["arch"].settings.rows[0]
    assert [bool(guide.text) for guide in row.guides] == [False, True, True, True]
    assert [end.name for end in row.ends] == ["pencil and stop", "blade"]
    assert row.lines[0].startswith("Arc: radius")


def test_points_say_from_which_edge_they_are_measured() -> None:
    assert any("as the board lies" in line for line in VIEWS["clipped"].settings.legend)
    assert not any("as the board lies" in line for line in VIEWS["sink"].settings.legend)


def test_openings_alike_share_their_workings_and_each_sheet_has_its_place() -> None:
    view = VIEWS["nine in a grid"]
    assert [row.name for row in view.workings if row.name.startswith("window")] == ["window 1 to 9"]
    assert sum(step.startswith("Sheet ") for step in view.fitting) == 9
    assert [label for label in view.measured if label.startswith("art ")] == [f"art {n}" for n in range(1, 10)]


def test_openings_that_differ_have_workings_of_their_own() -> None:
    names = [row.name for row in VIEWS["three in a row"].workings]
    assert {"window 1", "window 2", "window 3", "top mat opening, title"} <= set(names)


def test_each_page_says_how_its_rows_are_read() -> None:
    for page in pages("nine in a grid")[:2]:
        assert "Stops are read from the board edge." in texts((page,))


def test_a_groove_with_steps_says_which_ends_are_cut() -> None:
    notes = [row.note for row in VIEWS["stepped with a groove"].settings.rows if row.name == "V-groove"]
    assert notes == ["step 1 of 3", "step 2, far ends", "step 2, near ends", "step 3, far ends", "step 3, near ends"]


def test_lines_and_wash_are_said_once() -> None:
    assert lines("three in a row").count("from the face edge") == 2
