"""Works that cannot be do not exist; readings keep the least and the most."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from tests.trade.cases import MATERIALS, PLAIN, SHEET, WORK, but, inch, made, mm, work

from fourply.measure.length import ZERO, Length
from fourply.measure.size import Rect, Size
from fourply.trade.resolve import resolve
from fourply.trade.treatment import WindowFrom
from fourply.trade.work import Artwork, Readings, Source


def test_readings_keep_the_least_and_the_most() -> None:
    assert Readings.of(mm(201), mm(199), mm(200)) == Readings(mm(199), mm(201))


@pytest.mark.parametrize(("least", "most"), [(ZERO, mm(1)), (mm(2), mm(1)), (Length(-1), mm(1))])
def test_readings_that_nobody_could_take_do_not_exist(least: Length, most: Length) -> None:
    with pytest.raises(ValueError, match="readings"):
        Readings(least, most)


@pytest.mark.parametrize(
    ("wrong", "word"),
    [
        ({"image": Rect.at(inch(9), ZERO, inch(2), inch(2))}, "image lies on the sheet"),
        ({"image": Rect.at(Length(-1), ZERO, inch(2), inch(2))}, "image lies on the sheet"),
        ({"skew_deg": 10.0}, "0 to 10 degrees"),
        ({"skew_deg": -0.1}, "0 to 10 degrees"),
        ({"thickness": Length(-1)}, "thickness"),
    ],
)
def test_an_artwork_that_cannot_be_does_not_exist(wrong: dict[str, Any], word: str) -> None:
    with pytest.raises(ValueError, match=word):
        replace(SHEET, **wrong)


@pytest.mark.parametrize(("wrong", "word"), [({"id": " "}, "number or name"), ({"copies": 0}, "at least one")])
def test_a_work_has_a_name_and_is_wanted(wrong: dict[str, Any], word: str) -> None:
    with pytest.raises(ValueError, match=word):
        replace(WORK, **wrong)


UNEVEN = Artwork(Readings.of(inch(10), inch(81, 8)), Readings.of(inch(13)))


def test_the_least_reading_sizes_a_window_and_the_most_a_float() -> None:
    assert made(but(overlap=ZERO), UNEVEN).window == Size(inch(10), inch(13))
    assert made(but(window=WindowFrom.FLOAT, float_gap=ZERO), UNEVEN).window == Size(inch(81, 8), inch(13))


@pytest.mark.parametrize(
    ("source", "text"), [(Source("list.csv", 4), "list.csv, row 4"), (Source("show.toml"), "show.toml")]
)
def test_a_source_says_where_a_work_was_read(source: Source, text: str) -> None:
    assert str(source) == text


@pytest.mark.parametrize(
    ("artwork", "source", "origin"),
    [
        (SHEET, Source(""), "measured"),
        (SHEET, Source("list.csv", 4), "list.csv, row 4"),
        (UNEVEN, Source("list.csv", 4), "list.csv, row 4, least measured"),
    ],
)
def test_a_measured_figure_tells_where_it_was_read(artwork: Artwork, source: Source, origin: str) -> None:
    package = resolve(replace(work(artwork), source=source), PLAIN, MATERIALS)

    assert package.figures["art.width"].origin == origin
