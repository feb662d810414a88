"""What is kept comes back the same from its document, and is found by what it is called."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal
from types import MappingProxyType

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.files import drawn

from fourply.errors import BadFile, BadInput
from fourply.files.codec import json_schema
from fourply.files.cutters import starter_cutters
from fourply.files.kept import (
    MOST_VARIANTS,
    VALUES,
    Facts,
    Kept,
    KeptMaterial,
    KeptOffcut,
    KeptPicture,
    KeptPlan,
    KeptShow,
    KeptTreatment,
    KeptWork,
    Kind,
    ShopSettings,
    Stage,
    Variant,
    facts,
    folded,
    from_document,
    kind_of,
    to_document,
)
from fourply.files.materials import starter
from fourply.files.record import Listed
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.size import Size
from fourply.trade.materials import CuttingRules, Offcut
from fourply.trade.money import Money
from fourply.trade.treatment import FIELDS, Layer, Treatment
from fourply.trade.work import Artwork, Readings, Work

MATERIALS = [
    KeptMaterial(next(iter(getattr(starter(metric=False), table).values())), "Weir Supply", "W-7")
    for table in ("boards", "mouldings", "glazings", "backings", "spacers", "fillets", "frames", "hardware")
]
OTHERS = [
    KeptOffcut(Offcut("white", Size(Length.mm(5), Length.mm(6)), Money(Decimal("1.5"), "EUR"), "top left"), "17"),
    *starter_cutters().values(),
    KeptPlan("one", '{"boards": []}', 7, accepted=True),
    KeptPicture("0" * 64, "image/png", 30, 20, 999, "tide.png"),
    ShopSettings("Weir Lane", Unit.MM, Order.HEIGHT_WIDTH, "EUR", "a4", Layer("x", {"border": Length.mm(60)})),
]

texts = st.text(max_size=40)
names = texts.filter(lambda text: bool(text.strip()))
days = st.none() | st.dates()
stages = st.sampled_from(Stage)


@st.composite
def layers(draw: st.DrawFn) -> Layer:
    treatment: Treatment = draw(drawn.treatments())
    some = draw(st.sets(st.sampled_from(FIELDS)))
    return Layer(draw(texts), {key: getattr(treatment, key) for key in sorted(some)})


@st.composite
def works(draw: st.DrawFn) -> KeptWork:
    sides = st.builds(Readings.of, drawn.sides, drawn.sides)
    arts = draw(st.lists(st.builds(Artwork, sides, sides, name=texts), min_size=1, max_size=3))
    work = Work(draw(names), draw(texts), arts[0], draw(texts), draw(texts), draw(st.integers(1, 99)), draw(texts))
    listed = Listed(work, draw(texts), draw(layers()), draw(texts), tuple(draw(st.lists(layers(), max_size=2))))
    slots = draw(st.permutations(range(MOST_VARIANTS)))[: draw(st.integers(1, MOST_VARIANTS))]
    aside = tuple(Variant(slot, draw(texts), draw(texts), draw(layers())) for slot in slots[1:])
    pictures = tuple(draw(st.lists(texts)))
    return KeptWork(
        listed, draw(st.integers(0, 2**40)), draw(days), draw(stages), pictures, aside, slots[0], draw(texts)
    )


@st.composite
def shows(draw: st.DrawFn) -> KeptShow:
    cutting = draw(st.none() | st.builds(CuttingRules, trim=drawn.lengths, longest_cut=st.none() | drawn.sides))
    return KeptShow(
        draw(names),
        draw(st.sampled_from(Unit)),
        draw(st.none() | st.sampled_from(Order)),
        draw(st.sampled_from(["USD", "EUR"])),
        draw(st.sampled_from([None, "a4", "letter"])),
        draw(layers()),
        cutting,
        draw(texts),
        draw(days),
        draw(stages),
        draw(texts),
    )


def there_and_back(value: Kept) -> Kept:
    return from_document(kind_of(value), json.loads(json.dumps(to_document(value))), "a.json")


@settings(suppress_health_check=[HealthCheck.too_slow], deadline=None, max_examples=25)
@given(st.one_of(works(), shows(), st.builds(KeptTreatment, names, layers())))
def test_whatever_is_decided_comes_back_the_same(value: Kept) -> None:
    assert there_and_back(value) == value


@pytest.mark.parametrize("value", [*MATERIALS, *OTHERS], ids=lambda value: type(value).__name__)
def test_a_value_of_every_kind_comes_back_the_same(value: Kept) -> None:
    assert there_and_back(value) == value


@pytest.mark.parametrize("kind", Kind)
def test_every_kind_has_a_schema(kind: Kind) -> None:
    assert json_schema(VALUES[kind])["type"] == "object"


def test_a_day_that_is_none_is_told() -> None:
    show = KeptShow("Tide", Unit.MM, None, "EUR", due=date(2026, 3, 14))
    document = json.loads(json.dumps(to_document(show)).replace("2026-03-14", "14 March"))
    with pytest.raises(BadFile, match="2026-03-14"):
        from_document(Kind.SHOW, document, "a.json")


def test_what_has_no_name_is_not_kept() -> None:
    with pytest.raises(BadInput):
        KeptTreatment(" \n", Layer("x", MappingProxyType({})))
    with pytest.raises(BadInput):
        KeptShow("x" * 501, Unit.MM, None, "EUR")


@pytest.mark.parametrize("value", [*MATERIALS, *OTHERS], ids=lambda value: type(value).__name__)
def test_every_value_is_found_by_something(value: Kept) -> None:
    assert facts(value) != Facts()


@given(st.text())
def test_folding_twice_is_folding_once(text: str) -> None:
    assert folded(folded(text)) == folded(text)
