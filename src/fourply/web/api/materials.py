"""Materials: the starter set, and a supplier's price list with its changes shown first."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query, Response
from pydantic import Field

from fourply.app.documents import record_json
from fourply.app.keep_materials import start_shop
from fourply.app.prices_from_afar import chosen_prices, prices_of
from fourply.app.reading import asked_for
from fourply.app.shop_json import prices_json
from fourply.web.answering import JsonAnswer
from fourply.web.api.asking import CREATING, USUAL, AtDesk, Ident, Reading, Strict, Text, problems
from fourply.web.api.files import BODY, Data, InOrder, InUnit, Name
from fourply.web.api.shapes import answers

router = APIRouter(prefix="/materials", tags=["materials"])


class Start(Strict):
    """Which starter set."""

    metric: bool


class Chosen(Strict):
    """One change of a price list that is to be kept: the record and its version, null for a new material."""

    record: Ident | None = None
    version: Annotated[int, Field(ge=1, le=2**31 - 1)] | None = None
    value: dict[str, Any]


class Prices(Strict):
    """The changes of a price list that are to be kept, together."""

    supplier: Text = ""
    changes: Annotated[list[Chosen], Field(min_length=1, max_length=5000)]


@router.post("/start", status_code=201, responses=answers("Records", 201) | CREATING, operation_id="start_materials")
def start(desk: AtDesk, wish: Start) -> Response:
    """Keep the starter set as the shop's own; what the shop has by the same name stays."""
    found = start_shop(desk, metric=wish.metric)
    return JsonAnswer({"items": [record_json(each) for each in found]}, 201)


@router.post("/prices/read", responses=answers("Prices") | USUAL, openapi_extra=BODY, operation_id="read_prices")
def read(  # noqa: PLR0917 (each is a part of the address)
    desk: Reading,
    data: Data,
    file: Name = "prices.csv",
    supplier: Annotated[str, Query(max_length=200)] = "",
    unit: InUnit = None,
    order: InOrder = None,
) -> Response:
    """Return what a supplier's list (TOML, CSV, XLSX) would change; nothing is kept."""
    return JsonAnswer(prices_json(prices_of(desk, file, data, asked_for(unit, order), supplier)))


@router.post(
    "/prices/keep", status_code=201, responses=answers("Records", 201) | problems(409, 412), operation_id="keep_prices"
)
def keep(desk: AtDesk, wish: Prices) -> Response:
    """Keep the changes that were chosen, each from the version that was seen."""
    changes = [(each.record, each.version, each.value) for each in wish.changes]
    found = chosen_prices(desk, changes, wish.supplier)
    return JsonAnswer({"items": [record_json(each) for each in found]}, 201)
