"""One work, typed rather than listed."""

from __future__ import annotations

from collections.abc import Mapping

from fourply.app.shows import Opened, resolved
from fourply.errors import BadInput
from fourply.files.convertors import Reading
from fourply.files.entries import Entry
from fourply.files.materials import starter
from fourply.files.record import Given, Record, read_record
from fourply.files.show import Show
from fourply.files.works import Asked
from fourply.measure.notation import Unit
from fourply.trade.treatment import INCH, METRIC
from fourply.trade.work import Source

NUMBER = "1"


def one_work(size: str, title: str, asked: Asked, settings: Mapping[str, str]) -> Opened:
    """Return a show of one work of the shop's starter materials; raises BadInput where its size cannot be read.

    The unit of bare numbers is inches unless it is stated. The size reads like a cell of a list.
    """
    unit = asked.unit or Unit.INCH
    given = {"id": NUMBER, "title": title, "size": size}
    record = Record(Source("command line"), {key: Given(raw, key, None, None) for key, raw in given.items() if raw})
    listed = read_record(record, Reading(unit, asked.order))
    if isinstance(listed, tuple):
        raise BadInput(listed[0].found, listed[0].expected)
    metric = unit.is_metric
    show = Show(
        title or "one work",
        unit,
        asked.order,
        "EUR" if metric else "USD",
        starter(metric=metric),
        (Entry(listed.work, METRIC if metric else INCH),),
    )
    return resolved(show, settings)
