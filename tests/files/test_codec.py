"""Values to JSON and back, and the schema that says what they look like."""

from __future__ import annotations

import json
from dataclasses import fields, replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.files import drawn

from fourply.errors import BadFile
from fourply.files import codec
from fourply.files.codec import Json, decode, encode, json_schema, load, save
from fourply.files.kept import ShopSettings
from fourply.files.materials import starter
from fourply.measure.length import Length
from fourply.measure.size import Rect, Size
from fourply.trade.accents import GrooveRule, InlayRule, LineRule, TitleRule
from fourply.trade.materials import Materials
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.treatment import FIELDS, INCH, METRIC, Bottom, BottomRule, Layer, MatRule, Treatment
from fourply.trade.work import Artwork, Keep, Readings, Source, Work, Zone
from fourply.working.working import GIVEN, Value, Working

PLACE = Rect.at(Length.mm(1), Length.mm(2), Length.mm(3), Length.mm(4))
WORK = Work(
    "A-1",
    "Weir",
    Artwork(
        Readings.of(Length.mm(200), Length.mm(202)),
        Readings.of(Length.mm(300)),
        PLACE,
        0.25,
        zones=(Zone("seal", PLACE, Keep.COVER),),
    ),
    copies=2,
    source=Source("list.csv", 7),
)
LAYER = Layer(
    "work A-1", {"border": Length.mm(60), "mats": (MatRule("plum", Length.mm(5)),), "outer": None, "bevel_deg": 52.5}
)


def there_and_back[T](kind: type[T], value: T) -> T:
    return load(kind, json.loads(json.dumps(save(value))), "a.json")


@pytest.mark.parametrize("value", [WORK, LAYER, INCH, METRIC, starter(metric=False), starter(metric=True)])
def test_a_value_comes_back_the_same(value: object) -> None:
    assert there_and_back(type(value), value) == value


def test_a_resolved_package_comes_back_with_all_its_workings() -> None:
    package = resolve(WORK, METRIC, starter(metric=True))
    assert there_and_back(Package, package) == package


def test_a_package_of_several_shaped_openings_comes_back_with_all_its_workings() -> None:
    treatment = Treatment(
        mats=(MatRule("white 4-ply"), MatRule("red 4-ply", Length.inches(1, 4))),
        openings=(Layer("opening 1", {}), Layer("opening 2", {"shape": ShapeRule(ShapeKind.OVAL)})),
        grooves=(GrooveRule(Length.inches(1, 2)),),
        lines=(LineRule(Length.inches(1, 4), Length.mm(1)),),
        title=TitleRule(Size(Length.inches(2), Length.inches(1, 2))),
        inlay=InlayRule("blue 4-ply", Length.inches(1), Length.inches(1, 4)),
    )
    work = replace(WORK, others=(replace(WORK.art, name="back"),))
    package = resolve(work, treatment, starter(metric=False))
    assert [hole.opening.shape.words for hole in package.mats[0].holes] == ["rectangle", "oval", "rectangle"]
    assert there_and_back(Package, package) == package


@settings(suppress_health_check=[HealthCheck.too_slow], deadline=None, max_examples=25)
@given(drawn.treatments())
def test_any_treatment_comes_back_the_same_by_itself_and_as_a_layer(treatment: Treatment) -> None:
    assert there_and_back(Treatment, treatment) == treatment
    layer = Layer("all", {key: getattr(treatment, key) for key in FIELDS})
    assert there_and_back(Layer, layer) == layer


def test_the_layers_of_a_treatment_are_kept() -> None:
    treatment = Treatment(origins={"border": "show default"})
    assert there_and_back(Treatment, treatment).origin("border") == "show default"


values = st.one_of(
    st.integers(-(2**53), 2**53),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(max_size=20),
    st.integers(-(2**53), 2**53).map(Length),
    st.fractions(max_denominator=10**9).filter(lambda ratio: len(str(ratio)) < 100),
)


@given(values)
def test_a_figure_keeps_its_type_and_its_value(value: Value) -> None:
    back = there_and_back(Working, Working(value, GIVEN)).value
    assert (back, type(back)) == (value, type(value))


@pytest.mark.parametrize(
    ("value", "data"),
    [
        (Size(Length(3), Length(4)), {"width": 3, "height": 4}),
        (Bottom(BottomRule.RATIO, ratio=Fraction(4, 3)), {"rule": "ratio", "amount": 0, "ratio": "4/3"}),
        (Layer("a", {"border": Length.mm(60)}), {"name": "a", "values": {"border": "60 mm"}}),
    ],
)
def test_json_is_plain(value: object, data: object) -> None:
    assert encode(value) == data


@pytest.mark.parametrize(
    ("kind", "data", "says"),
    [
        (Size, {"width": 3}, "the document has no height"),
        (Size, {"width": 3, "height": 4.5}, "height is '4.5'; expected a whole number"),
        (Size, {"width": 3, "height": 2**60}, "height"),
        (Size, {"width": 3, "height": True}, "height"),
        (Size, {"width": 0, "height": 4}, "above nothing"),
        (Size, {"width": 3, "height": 4, "depth": 5}, "depth is '5'; expected one of width, height"),
        (Size, [3, 4], "the document is a list"),
        (Bottom, {"rule": "heavy"}, "rule is 'heavy'; expected one of equal"),
        (Bottom, {"rule": []}, "rule is a list"),
        (Bottom, {"ratio": "1/0"}, "ratio is '1/0'; expected a ratio"),
        (Bottom, {"ratio": "1e9"}, "expected a ratio"),
        (Bottom, {"ratio": 1}, "expected text"),
        (Layer, {"name": "a", "values": {"boarder": "1"}}, "values.boarder"),
        (Layer, {"name": "a", "values": {"border": "thick"}}, "values.border is 'thick'"),
        (Working, {"value": 3, "rule": {}}, "expected an object"),
        (Working, {"value": {"weight": 3}, "rule": {}}, "expected one of length"),
        (Working, {"value": {"number": "3"}, "rule": {}}, "expected a number"),
        (
            Working,
            {"value": {"count": 3}, "rule": {"id": "a", "formula": "", "reason": ""}, "operands": [["a"]]},
            "2 items",
        ),
        (Materials, {"boards": {"a": {"name": "a"}}}, "boards.a has no caliper"),
    ],
)
def test_what_is_wrong_is_refused_with_its_place(kind: type, data: object, says: str) -> None:
    with pytest.raises(BadFile) as refused:
        decode(kind, data, "a.json")
    assert says in str(refused.value)
    assert str(refused.value).startswith("a.json: ")


@pytest.mark.parametrize(
    ("document", "says"),
    [
        ({"schema": "fourply/frame/1", "value": {}}, "expected fourply/size/1"),
        ({"schema": "fourply/size/2", "value": {}}, "a newer fourply wrote this"),
        ({"value": {}}, "has no schema"),
        ({"schema": "fourply/size/1"}, "has no value"),
        ([], "expected an object"),
    ],
)
def test_another_kind_or_a_newer_version_is_refused(document: object, says: str) -> None:
    with pytest.raises(BadFile, match=says):
        load(Size, document, "a.json")


def test_an_earlier_version_is_brought_up_to_date_step_by_step(monkeypatch: pytest.MonkeyPatch) -> None:
    """A size was once one text, then two called across and along; every step is taken, the newest is written."""

    def parted(value: Json) -> Json:
        across, along = str(value).split(" x ")
        return {"across": int(across), "along": int(along)}

    def renamed(value: Json) -> Json:
        assert isinstance(value, dict)
        return {"width": value["across"], "height": value["along"]}

    monkeypatch.setitem(codec.UPGRADES, Size, (parted, renamed))
    size = Size(Length(5), Length(7))
    assert save(size)["schema"] == "fourply/size/3"
    assert '"fourply/size/3"' in json.dumps(json_schema(Size))
    old: dict[int, object] = {1: "5 x 7", 2: {"across": 5, "along": 7}, 3: {"width": 5, "height": 7}}
    for version, value in old.items():
        assert load(Size, {"schema": f"fourply/size/{version}", "value": value}, "a.json") == size
    for other in ("0", "4", "x", "", "01"):
        with pytest.raises(BadFile, match="expected version 3"):
            load(Size, {"schema": f"fourply/size/{other}", "value": "5 x 7"}, "a.json")


def test_a_field_that_was_not_there_yet_has_its_default() -> None:
    """A document written before a field with a default was added is read as if it said the default."""
    document = save(ShopSettings(name="Quay"))
    value = document["value"]
    assert isinstance(value, dict)
    for each in fields(ShopSettings):
        if each.name != "name":
            del value[each.name]
    assert load(ShopSettings, document, "a.json") == ShopSettings(name="Quay")


@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
        lambda each: (
            st.lists(each)
            | st.dictionaries(st.sampled_from(["id", "title", "art", "width", "least", "most", "zones"]), each)
        ),
        max_leaves=12,
    )
)
def test_any_json_is_a_value_or_a_bad_file(data: object) -> None:
    try:
        work = decode(Work, data, "a.json")
    except BadFile:
        return
    assert isinstance(work, Work)


def test_the_schema_names_every_field_and_what_must_be_there() -> None:
    schema = json_schema(Size)
    assert schema["$defs"] == {
        "Size": {
            "type": "object",
            "properties": {
                "width": {"type": "integer", "description": "nanometres"},
                "height": {"type": "integer", "description": "nanometres"},
            },
            "required": ["width", "height"],
            "additionalProperties": False,
        }
    }


@pytest.mark.parametrize("kind", [Work, Treatment, Layer, Materials, Package])
def test_every_kind_of_document_has_a_schema_without_loose_ends(kind: type) -> None:
    text = json.dumps(json_schema(kind))
    named = {part.partition('"')[0] for part in text.split("#/$defs/")[1:]}
    assert named == set(json.loads(text)["$defs"])
