"""A type measures, fits and wraps what it sets; lines stand below one another."""

from __future__ import annotations

import pytest

from fourply.drawing.lettering import Type, write, write_lines
from fourply.drawing.record import Recorder
from fourply.drawing.text import PT

TEN = Type(10)


def test_sizes_are_given_in_points_and_drawn_in_millimetres() -> None:
    assert TEN.size == pytest.approx(3.5278, abs=0.0001)
    assert TEN.width("00") == pytest.approx(2 * 0.572 * 10 * PT)  # 0 is 572 thousandths wide


def test_a_bold_line_is_wider_than_a_light_one() -> None:
    assert Type(10, bold=True).width("Slack Water") > TEN.width("Slack Water")


def test_fitting_and_wrapping_use_the_size_of_the_type() -> None:
    assert TEN.fit("Slack Water, First State", 20) == "Slack Wat…"
    assert TEN.wrap("Slack Water, First State", 22) == ["Slack Water,", "First State"]


def test_lines_stand_one_lead_apart_and_the_next_base_line_is_returned() -> None:
    pen = Recorder()
    after = write_lines(pen, (5, 10), ["a", "b"], TEN)
    assert [label.y for label in pen.drawing(50, 50).labels] == pytest.approx([10, 10 + TEN.lead])
    assert after == pytest.approx(10 + 2 * TEN.lead)


def test_a_blank_line_leaves_no_mark() -> None:
    pen = Recorder()
    write(pen, (5, 10), " \t", TEN)
    assert pen.drawing(50, 50).labels == ()
