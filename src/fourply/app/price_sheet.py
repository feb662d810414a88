"""A supplier's list with its columns put right: looked at before a price is taken."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass, replace

from fourply.app.keep import Desk
from fourply.app.keep_materials import PriceList, keep_prices, read_prices
from fourply.app.keep_settings import shop_settings
from fourply.app.ports_store import Record
from fourply.errors import BadFile, BadInput
from fourply.files.convertors import Reading
from fourply.files.faults import Fault
from fourply.files.headers import read_header
from fourply.files.tables import Row, read_table
from fourply.measure.dimensions import Order
from fourply.measure.notation import Unit

COLUMNS = (
    *("kind", "name", "thickness", "size", "length", "cost", "copies", "colour", "core", "ply", "width", "lip"),
    *("rabbet depth", "height", "kerf", "depth", "shown", "moulding", "per frame", "chop", "join"),
)
"""What a column of a supplier's list can be."""
KINDS = ("board", "moulding", "glass", "acrylic", "backing", "spacer", "fillet", "frame", "hardware")
_FIRST = 6
_LEFT_OUT = "note "
"""Stands before the header of a column that is left out, so that its own word is not taken for a key."""


@dataclass(frozen=True, slots=True)
class PriceSheet:
    """A supplier's list as it came; `columns` is what each of its columns is, None where they are to be recognised.

    `kind` is what all rows are where no column says it; `unit` that of bare numbers, "" for the shop's.
    """

    file: str
    data: bytes
    supplier: str = ""
    unit: str = ""
    order: str = ""
    kind: str = ""
    columns: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class Looked:
    """What a list would change, its headers with what each is taken for, first rows, how pairs and numbers are read."""

    prices: PriceList
    headers: tuple[tuple[str, str], ...]
    rows: tuple[Row, ...]
    order: str
    unit: str


def look(desk: Desk, sheet: PriceSheet) -> Looked:
    """Return what a supplier's list would change; nothing is kept. Raises BadInput for an unknown unit or column."""
    settings = shop_settings(desk).value
    unit = Unit.named(sheet.unit) if sheet.unit else settings.unit
    headers, data = _put_right(sheet)
    order = Order.named(sheet.order) if sheet.order else settings.order or Order.WIDTH_HEIGHT
    reading = Reading(unit, order, settings.currency)
    prices = read_prices(desk, sheet.file, data or sheet.data, reading, sheet.supplier)
    prices = replace(prices, faults=tuple(map(_as_given, prices.faults)), notes=_of_person(prices.notes))
    rows = _rows(sheet)
    return Looked(prices, headers, rows[1 : _FIRST + 1], order.value, unit.value)


def _as_given(fault: Fault) -> Fault:
    """Return a fault that names columns as the list has them."""
    return replace(fault, found=fault.found.replace(_LEFT_OUT, ""))


def _of_person(notes: Sequence[str]) -> tuple[str, ...]:
    return tuple(each.replace(_LEFT_OUT, "") for each in notes)


def take(desk: Desk, sheet: PriceSheet, keys: Sequence[str]) -> tuple[Record, ...]:
    """Keep those changes of a list that were chosen by their keys; raises Stale, BadInput for none."""
    chosen = [each for each in look(desk, sheet).prices.changes if each.key in set(keys)]
    if not chosen:
        raise BadInput("nothing", "at least one change, chosen")
    return keep_prices(desk, chosen, sheet.supplier)


def _rows(sheet: PriceSheet) -> tuple[Row, ...]:
    """Return the rows from the one with most cells near the top: what stands above is a title."""
    try:
        rows = read_table(sheet.file, sheet.data).rows
    except BadFile:
        return ()
    top = max(range(min(len(rows), 10)), key=lambda at: (sum(map(bool, rows[at].cells)), -at), default=0)
    return rows[top:]


def _put_right(sheet: PriceSheet) -> tuple[tuple[tuple[str, str], ...], bytes]:
    """Return the headers with what each is, and the list under these; b"" where it is read as it stands."""
    rows = _rows(sheet)
    if not rows:
        return (), b""
    given = rows[0].cells
    known = {each: each.replace(" ", "_") for each in COLUMNS}
    kinds = sheet.columns or tuple(_guessed(each) for each in given)
    wrong = [each for each in kinds if each and each not in known]
    if wrong or (sheet.kind and sheet.kind not in KINDS):
        raise BadInput(wrong[0] if wrong else sheet.kind, f"one of {', '.join(COLUMNS if wrong else KINDS)}")
    headers = tuple(zip(given, (*kinds, *("" for _ in given)), strict=False))
    out = io.StringIO()
    writer = csv.writer(out)
    added = [sheet.kind] if sheet.kind and "kind" not in kinds else []
    lines = {rows[0].number: [*(_header(*each) for each in headers), *(["kind"] if added else [])]}
    lines |= {row.number: [*(row.cell(at) for at in range(len(given))), *added] for row in rows[1:]}
    # each row stays at its number, so that faults name the rows of the list as it came
    writer.writerows(lines.get(at, []) for at in range(1, rows[-1].number + 1))
    return headers, out.getvalue().encode()


def _guessed(header: str) -> str:
    """Return what a header is by its own word, "" where it names none."""
    return read_header(header, _ALIASES).key.replace("_", " ")


def _header(given: str, kind: str) -> str:
    unit = read_header(given).unit
    return f"{kind} ({unit.value})" if kind and unit else kind or f"{_LEFT_OUT}{given}"


_ALIASES = {
    **{each: each for each in COLUMNS},
    **dict.fromkeys(("type", "category", "what"), "kind"),
    **dict.fromkeys(("material", "description", "item"), "name"),
    **dict.fromkeys(("caliper",), "thickness"),
    **dict.fromkeys(("price", "price each", "cost each"), "cost"),
    **dict.fromkeys(("sheet", "sheet size", "dimensions"), "size"),
    **dict.fromkeys(("stick", "stick length"), "length"),
    **dict.fromkeys(("color",), "colour"),
    **dict.fromkeys(("stock", "in stock", "quantity", "qty"), "copies"),
    **dict.fromkeys(("rabbet", "rebate", "rebate depth"), "rabbet depth"),
}
