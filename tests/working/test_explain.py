"""Figures into lines: what comes first, how deep, and what stands on them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fourply.errors import Unknown
from fourply.measure.length import Length
from fourply.working.explain import Line, explain, line
from fourply.working.ledger import Ledger
from fourply.working.working import Figures, Rounding, Rule, Value


def write(value: Value) -> str:
    return f"{value.nm}nm" if isinstance(value, Length) else str(value)


def figures() -> Figures:
    """Return a window from a sheet, borders round it, and an outer size that stands on both."""
    ledger = Ledger()
    ledger.given("art.width", Length(100), "list.csv, row 4")
    ledger.given("treatment.overlap", Length(3), "shop default")
    covered = Rule("covered", "sheet - 2 * overlap", "The mat covers the edge.", "common practice")
    ledger.figure("window.width", Length(94), covered, sheet="art.width", overlap="treatment.overlap")
    ledger.given("treatment.border", Length(20), "show Quay")
    ledger.given("ratio", Fraction(4, 3), "show Quay")
    ledger.given("grid", Length(5), "shop default")
    wider = Rule("wider", "border * ratio / 1", "It seems to sit low.", "a book", Rounding.UP)
    ledger.figure("bottom", Length(30), wider, border="treatment.border", ratio="ratio", grid="grid")
    whole = Rule("whole", "max(window, 0) + border + bottom", "All of it.")
    ledger.figure("outer", Length(144), whole, window="window.width", border="treatment.border", bottom="bottom")
    return ledger.figures


def test_a_figure_comes_before_what_it_stands_on_each_once() -> None:
    lines = explain(figures(), "outer", write)

    assert [(each.figure, each.depth) for each in lines] == [
        ("outer", 0),
        ("window.width", 1),
        ("art.width", 2),
        ("treatment.overlap", 2),
        ("treatment.border", 1),
        ("bottom", 1),
        ("ratio", 2),
        ("grid", 2),
    ]


def test_a_line_tells_names_values_reason_and_source() -> None:
    assert line(figures(), "window.width", write, depth=1) == Line(
        figure="window.width",
        value="94nm",
        arithmetic="100nm – 2 · 3nm",
        formula="art.width – 2 · treatment.overlap",
        reason="The mat covers the edge.",
        source="common practice",
        depth=1,
    )


def test_a_given_figure_tells_who_gave_it() -> None:
    assert line(figures(), "art.width", write) == Line("art.width", "100nm", "", "", "list.csv, row 4", "")


def test_a_given_figure_without_an_origin_says_what_given_means() -> None:
    ledger = Ledger()
    ledger.given("a", 1, "")

    assert line(ledger.figures, "a", write).reason == "Measured, chosen or set."


def test_a_rounded_figure_tells_what_it_was_and_the_way() -> None:
    assert line(figures(), "bottom", write).arithmetic == "20nm · 4/3 ÷ 1 = 27nm, up to 5nm"


def test_functions_keep_their_names() -> None:
    assert line(figures(), "outer", write).arithmetic == "max(94nm, 0) + 20nm + 30nm"


def test_a_figure_that_is_not_there_is_named_with_those_that_are() -> None:
    with pytest.raises(Unknown, match="outr") as unknown:
        explain(figures(), "outr", write)

    assert "outer" in unknown.value.known
