"""Lists, price lists and whole shows as JSON, for a screen on which somebody decides."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from fourply.app.documents import record_json, value_json
from fourply.app.keep_materials import PriceChange, PriceList
from fourply.app.keep_works import Asked, Column, Recognised
from fourply.app.shows import Opened
from fourply.errors import BadInput
from fourply.files.codec import encode
from fourply.files.faults import Fault
from fourply.files.kinds import KINDS
from fourply.measure.dimensions import Order
from fourply.measure.notation import Unit
from fourply.trade.materials import Materials
from fourply.working.words import Words

type Data = dict[str, object]

MOST_FAULTS = 1000
"""How many faults of a list are told; more than that are put right in the list itself."""


def recognised_json(found: Recognised) -> Data:
    """Return how a list is understood as JSON: its columns and first rows, how many works, what is wrong."""
    read = found.read
    return {
        "columns": [_column(each) for each in found.columns],
        "header_row": found.header_row,
        "rows": found.rows,
        "works": len(read.works),
        "unit": read.unit.value if read.unit else None,
        "notes": read.notes,
        **faults_json(read.faults),
    }


def _column(column: Column) -> Data:
    return {
        "header": column.header,
        "key": column.key,
        "unit": column.unit.value if column.unit else None,
        "order": column.order.value if column.order else None,
    }


def faults_json(faults: Sequence[Fault]) -> Data:
    """Return how many faults there are, and the first thousand of them."""
    return {"fault_count": len(faults), "faults": [each.to_json() for each in faults[:MOST_FAULTS]]}


def put_right(asked: Asked, columns: Iterable[str], header_row: int) -> Asked:
    """Return what is asked of a list with columns as a person has put them right; raises BadInput.

    Each is a key, or nothing, then a unit and an order where the column says one: `size|cm|height x width`.

    >>> put_right(Asked(), ["id", "size|cm"], 1).columns[1].unit
    <Unit.CM: 'cm'>
    """
    found = tuple(_put_right(each) for each in columns)
    return Asked(asked.unit, asked.order, asked.prefix, found, header_row)


def _put_right(text: str) -> Column:
    parts = [part.strip() for part in text.split("|")]
    if len(parts) > 3:
        raise BadInput(text, "a column is KEY, KEY|UNIT or KEY|UNIT|ORDER")
    key, unit, order = (*parts, "", "")[:3]
    return Column("", key, Unit.named(unit) if unit else None, Order.named(order) if order else None)


def prices_json(prices: PriceList) -> Data:
    """Return what a price list would change, and what it no longer names."""
    return {
        "supplier": prices.supplier,
        "changes": [_change(each) for each in prices.changes],
        "missing": [record_json(each) for each in prices.missing],
        "notes": prices.notes,
        **faults_json(prices.faults),
    }


def _change(change: PriceChange) -> Data:
    return {
        "record": change.old.id if change.old else None,
        "version": change.old.version if change.old else None,
        "fields": change.fields,
        "says": change.words,
        "value": value_json(change.new),
    }


def materials_json(materials: Materials) -> Data:
    """Return everything that a show may use, by kind and name."""
    return {kind.table: _table(getattr(materials, kind.table)) for kind in KINDS}


def _table(items: Mapping[str, object]) -> Data:
    return {name: encode(item) for name, item in items.items()}


def overview_json(opened: Opened) -> Data:
    """Return how works of a show come out: outer size, findings, and the faults of those that cannot be made."""
    words = Words(metric=opened.show.unit.is_metric)
    works = [
        {
            "number": package.work.id,
            "outer": words.size(package.outer),
            "findings": [
                {"rule": each.rule, "level": each.level.value, "says": each.sentence(words.write)}
                for each in package.findings
            ],
        }
        for package in opened.packages
    ]
    return {"title": opened.show.title, "unit": words.unit.value, "works": works, **faults_json(opened.faults)}
