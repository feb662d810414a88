"""Columns known by their headers."""

from __future__ import annotations

import pytest

from fourply.errors import BadInput
from fourply.files.headers import Column, find_header, read_header
from fourply.files.tables import read_table
from fourply.measure.dimensions import Order
from fourply.measure.notation import Unit
from fourply.trade.treatment import FIELDS


@pytest.mark.parametrize(
    ("header", "key", "unit"),
    [
        ("id", "id", None),
        ("No.", "id", None),
        ("#", "id", None),
        ("Inventory No.", "id", None),
        ("accession", "id", None),
        ("TITLE", "title", None),
        ("Artist", "maker", None),
        ("by", "maker", None),
        ("Medium", "medium", None),
        ("Width", "width", None),
        ("w", "width", None),
        ("Width (mm)", "width", Unit.MM),
        ("Width [cm]", "width", Unit.CM),
        ("Width in mm", "width", Unit.MM),
        ("width, inches", "width", Unit.INCH),
        ('Width "', "width", Unit.INCH),
        ("w_in", "width", Unit.INCH),
        ("H in", "height", Unit.INCH),
        ("Sheet\nheight (in.)", "height", Unit.INCH),
        ("Dimensions", "size", None),
        ("Sheet size (cm)", "size", Unit.CM),
        ("Support", "size", None),
        ("Image Width (mm)", "image_width", Unit.MM),
        ("Image size", "image_size", None),
        ("Overlap (mm)", "overlap", Unit.MM),
        ("Border", "border", None),
        ("Bottom border", "bottom", None),
        ("Treatment", "treatment", None),
        ("Board", "mats", None),
        ("Moulding", "moulding", None),
        ("Molding", "moulding", None),
        ("Glazing", "glazing", None),
        ("Qty", "copies", None),
        ("Copies", "copies", None),
        ("Remarks", "notes", None),
        ("Orientation", "orientation", None),
        ("float gap", "float_gap", None),
        ("Year", "", None),
        ("Paper", "", None),
        ("", "", None),
        ("mm", "", None),
    ],
)
def test_headers_are_known_in_their_obvious_forms(header: str, key: str, unit: Unit | None) -> None:
    assert read_header(header) == Column(header, key, unit)


@pytest.mark.parametrize(
    ("header", "order", "unit"),
    [
        ("Size (W x H)", Order.WIDTH_HEIGHT, None),
        ("Size (H × W), cm", Order.HEIGHT_WIDTH, Unit.CM),
        ("Dimensions height by width in mm", Order.HEIGHT_WIDTH, Unit.MM),
        ("W x H", Order.WIDTH_HEIGHT, None),
    ],
)
def test_a_header_may_state_the_order_of_a_pair(header: str, order: Order, unit: Unit | None) -> None:
    assert read_header(header) == Column(header, "size", unit, order)


@pytest.mark.parametrize("field", FIELDS)
def test_every_rule_of_a_treatment_can_be_a_column(field: str) -> None:
    assert read_header(field).key == field


def test_what_stands_above_the_header_is_passed_over() -> None:
    table = read_table("list.csv", b"Summer show,,\nby the lake,,\n\nNo.,Width,Height\n1,2,3\n")
    headed = find_header(table)
    assert headed.header_row == 4
    assert [row.number for row in headed.rows] == [5]


def test_a_header_that_is_repeated_is_no_work() -> None:
    headed = find_header(read_table("list.csv", b"No.,Width\n1,2\nNo.,Width\n2,3\n"))
    assert [row.number for row in headed.rows] == [2, 4]


def test_of_two_columns_of_a_kind_the_first_counts_and_the_other_is_unknown() -> None:
    headed = find_header(read_table("list.csv", b"No.,Width (in),Width (mm),Colour\n1,2,3,red\n"))
    assert [column.key for column in headed.columns] == ["id", "width", "", ""]
    assert headed.unknown == ("Width (mm)", "Colour")


@pytest.mark.parametrize("data", [b"", b"\n\n", b"1,2,3\n4,5,6\n"])
def test_a_list_without_headers_is_refused_with_an_example(data: bytes) -> None:
    with pytest.raises(BadInput, match="a row of headers such as number, title, width"):
        find_header(read_table("list.csv", data))
