"""What spreadsheets make of what was typed, and how it is recognised."""

from __future__ import annotations

import pytest

from fourply.files.cells import date_fault, dead_cell, is_month_text

# Derived: typed as a fraction in a cell of general format, in a locale with the month first or the day first.
DATES = [
    ("8-Mar", "3/8"),
    ("8-mrt", "3/8"),
    ("8. Mrz", "3/8"),
    ("08-mars", "3/8"),
    ("Mar-08", "3/8"),
    ("8-Mar-2026", "3/8"),
    ("2026-03-08", "3/8"),
    ("2026-03-08 00:00:00", "3/8"),
    ("3/8/2026", "3/8"),
    ("08.03.2026", "3/8"),
    ("1-Feb", "1/2"),
    ("2-Jan", "1/2"),
    ("4-Mar", "3/4"),
    ("16-Sep", "9/16"),
    ("May-32", "5/32"),
    ("1-May-1932", "5/32"),
    ("1-May-2002", "5-1/2"),
]


@pytest.mark.parametrize(("text", "meant"), DATES)
def test_a_fraction_that_became_a_date_is_recognised(text: str, meant: str) -> None:
    assert f"it was likely {meant}:" in date_fault(text)


def test_a_date_that_was_no_fraction_is_still_a_date() -> None:
    assert date_fault("25-Dec-2025") == (
        "the spreadsheet made a date of it: format the column as text and type it again"
    )


@pytest.mark.parametrize(
    "text", ["", "16 3/8", "16-3/8", "3/8", "41,5", "16 x 20", "8-Foo", "Mill-8", "x" * 50, "12-1873", "D24611"]
)
def test_what_is_no_date_is_left_alone(text: str) -> None:
    assert not date_fault(text)


@pytest.mark.parametrize(
    ("text", "is_month"), [("8-Mar", True), ("Mar-08", True), ("2026-03-08", False), ("16-3", False)]
)
def test_a_date_with_its_month_in_letters_is_told_from_a_number(text: str, *, is_month: bool) -> None:
    assert is_month_text(text) is is_month


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("=B4*2", "a formula without its result"),
        ("#N/A", "could not work out"),
        ("#DIV/0!", "could not work out"),
        ("#######", "could not work out"),
    ],
)
def test_formulas_and_error_values_are_recognised(text: str, says: str) -> None:
    assert says in dead_cell(text)


@pytest.mark.parametrize("text", ["", "#", "#12", "# 3", "16", "a = b"])
def test_other_cells_are_alive(text: str) -> None:
    assert not dead_cell(text)
