"""What a supplier asks for frames cut to size, read from a materials file and from a spreadsheet."""

from __future__ import annotations

from decimal import Decimal

import pytest

from fourply.files.convertors import RATE, Reading
from fourply.files.kinds import KINDS
from fourply.files.materials import MaterialsRead, read_materials, starter
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.trade.materials import ChopTerms, Materials, Moulding
from fourply.trade.money import Money, Rate

READING = Reading(Unit.INCH, None, "USD")
FOOT, METRE = Length.inches(12), Length.mm(1000)
PROFILE = 'width = "1"\nlip = "1/4"\nrabbet_depth = "1/2"\nheight = "1"\n'
STICKS = 'sticks = [{ length = "9 ft", cost = "20.00" }]\n'
HEAD = "kind,name,width,lip,rabbet depth,height,length,price"
ROW = "moulding,plum,1,1/4,1/2,3/4,9 ft,20"


def usd(amount: str) -> Money:
    return Money(Decimal(amount), "USD")


def toml(lines: str, *, sticks: str = STICKS) -> MaterialsRead:
    data = f"[mouldings.plum]\n{PROFILE}{sticks}{lines}\n".encode()
    return read_materials("own.toml", data, READING, base=Materials())


def sheet(headers: str, cells: str) -> MaterialsRead:
    data = f"{HEAD},{headers}\n{ROW},{cells}\n".encode()
    return read_materials("own.csv", data, READING, base=Materials())


def plum(found: MaterialsRead) -> Moulding:
    assert not found.faults
    return found.materials.moulding("plum")


def test_every_term_of_a_chop_is_read() -> None:
    terms = '{ rate = "3.20 per ft", charge = "4", least = "12.50", mitres = "6", step = "1/2 ft" }'
    found = plum(toml(f'chop = {terms}\njoin = "9.00"'))
    rate = Rate(usd("3.20"), FOOT)
    assert found.chop == ChopTerms(rate, usd("4"), usd("12.50"), Length.inches(6), Length.inches(6))
    assert found.join == usd("9.00")


@pytest.mark.parametrize(
    ("text", "rate"),
    [
        ("3.20 per ft", Rate(usd("3.20"), FOOT)),
        ("3.20/foot", Rate(usd("3.20"), FOOT)),
        ("10,50 EUR per metre", Rate(Money(Decimal("10.50"), "EUR"), METRE)),
        ("USD 1 PER 100 mm", Rate(usd("1"), Length.mm(100))),
        ("2 / 1/2 ft", Rate(usd("2"), Length.inches(6))),
    ],
)
def test_a_rate_names_its_length_and_is_written_as_it_can_be_read(text: str, rate: Rate) -> None:
    assert RATE.parse(text, READING) == rate
    assert RATE.parse(RATE.print(rate), READING) == rate
    assert plum(toml(f'chop = "{text}"', sticks="sticks = []\n")).chop == ChopTerms(rate)


@pytest.mark.parametrize(
    ("lines", "found", "expected"),
    [
        ('chop = "3.20"', "3.20", "a price for a length such as 3.20 per ft"),
        ('chop = "3.20 per cake"', "3.20 per cake", "a price for a length"),
        ('chop = "much per ft"', "much per ft", "a price for a length"),
        ('chop = "3.20 per 0 in"', "3.20 per 0 in", "a price for a length"),
        ('chop = { charge = "4" }', "charge", "rate too"),
        ('chop = { rate = "3/ft", mitre = "8" }', "mitre", "perhaps mitres"),
        ('chop = { rate = "3/ft", step = "0" }', "rate, step", "step is above nothing"),
        ('join = "9"', "", "join needs the prices of chop too"),
        ('chop = "3 EUR per ft"', "", "in one currency"),
        ('chop = "3 per ft"\njoin = "9 EUR"', "", "in one currency"),
    ],
)
def test_terms_that_cannot_be_say_where_and_what_would_be_right(lines: str, found: str, expected: str) -> None:
    (fault,) = toml(lines).faults
    assert (fault.file, fault.column) == ("own.toml", "mouldings.plum")
    assert expected in fault.expected
    assert fault.found == found or not found


@pytest.mark.parametrize(
    ("headers", "cells", "rate"),
    [
        ("chop", "3.20 per ft", Rate(usd("3.20"), FOOT)),
        ("Chop price per ft", "3.20", Rate(usd("3.20"), FOOT)),
        ("Chop price per foot", "3.20", Rate(usd("3.20"), FOOT)),
        ("chop price (m)", "10.50", Rate(usd("10.50"), METRE)),
        ("chop price (m)", "3.20 per ft", Rate(usd("3.20"), FOOT)),
    ],
)
def test_a_spreadsheet_has_the_rate_in_its_cell_or_its_header(headers: str, cells: str, rate: Rate) -> None:
    found = plum(sheet(headers, cells))
    assert found.chop == ChopTerms(rate)
    assert found.width == Length.inches(1)


def test_a_spreadsheet_has_a_column_for_each_term() -> None:
    headers = "chop per ft,chop charge,least chop,mitre allowance (mm),chop step,join"
    found = plum(sheet(headers, "3.20,4,12.50,100,1/2 ft,9"))
    rate = Rate(usd("3.20"), FOOT)
    assert found.chop == ChopTerms(rate, usd("4"), usd("12.50"), Length.mm(100), Length.inches(6))
    assert found.join == usd("9")


@pytest.mark.parametrize(
    ("headers", "cells", "expected"),
    [
        ("chop", "3.20", "a price for a length such as 3.20 per ft"),
        ("chop charge", "4", "rate too"),
        ("join", "9", "join needs the prices of chop too"),
    ],
)
def test_a_spreadsheet_row_that_lacks_a_term_is_a_fault_of_that_row(headers: str, cells: str, expected: str) -> None:
    (fault,) = sheet(headers, cells).faults
    assert (fault.file, fault.row) == ("own.csv", 2)
    assert expected in fault.expected


def test_what_is_written_of_a_chop_reads_the_same() -> None:
    (chop,) = (kind.keys["chop"] for kind in KINDS if "chop" in kind.keys)
    terms = ChopTerms(Rate(usd("3.20"), FOOT), usd("4"), None, Length.inches(6))
    assert chop.parse(chop.print(terms), READING) == terms


@pytest.mark.parametrize("metric", [False, True])
def test_starter_mouldings_can_be_had_cut_and_joined(*, metric: bool) -> None:
    for moulding in starter(metric=metric).mouldings.values():
        assert moulding.chop is not None
        assert moulding.join is not None


def test_minutes_and_an_hour_of_work_are_read() -> None:
    data = b'[cutting]\nlabour_rate = "36 EUR"\nchop_minutes = 8\njoin_minutes = "4"\n'
    cutting = read_materials("own.toml", data, READING, base=Materials()).materials.cutting
    assert (cutting.labour_rate, cutting.chop_minutes, cutting.join_minutes) == (Money(Decimal(36), "EUR"), 8, 4)
