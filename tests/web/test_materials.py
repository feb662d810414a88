"""Materials at the desk: typed, changed, copied, put away, taken back; their looks, their list, what they are in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import MISSING, fields
from html import unescape
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from starlette.testclient import TestClient
from tests.web.design_shop import Caller, caller_at
from tests.web.shops import AT, png

from fourply.files.convertors import Reading
from fourply.files.kinds import KINDS
from fourply.files.material_text import kind_named, length_text, read_item, text_fields, written
from fourply.files.materials import starter
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit, parse_length

ASH = {
    "name": "ash cushion",
    "width": "1 1/2",
    "lip": "3/16",
    "rabbet_depth": "3/4",
    "height": "32mm",
    "sticks": "10 ft at 32.00\n8 ft at 27.50, 3 in stock",
    "colour": "#c9a66b",
    "chop.rate": "3.20 per ft",
    "supplier": "Weir & Co",
}


@pytest.fixture
def caller(tmp_path: Path) -> Iterator[Caller]:
    with caller_at(tmp_path) as caller:
        yield caller


def sent(client: TestClient, address: str, /, **data: str) -> str:
    """Return where a form leads to."""
    answer = client.post(address, data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text[-900:]
    return str(answer.headers["location"])


def kept(client: TestClient, table: str, /, **data: str) -> str:
    """Return the address of a new material."""
    return sent(client, f"/materials/new/{table}", **data).partition("?")[0]


def value(client: TestClient, address: str) -> dict[str, object]:
    found: dict[str, object] = client.get(f"{AT}{address}").json()
    return found


def field(html: str, key: str) -> str:
    """Return what stands in a field of a form."""
    area = re.search(rf'name="{re.escape(key)}"[^>]*>([^<]*)</textarea>', html)
    line = re.search(rf'name="{re.escape(key)}" value="([^"]*)"', html)
    found = area or line
    assert found, key
    return unescape(found[1])


def fault(html: str, key: str) -> str:
    found = re.search(rf'id="e-{re.escape(key)}">([^<]*)<', html)
    return unescape(found[1]) if found else ""


def same(html: str) -> dict[str, str]:
    """Return everything that a form would send as it stands."""
    form = html[html.index('id="material"') : html.index("</form>", html.index('id="material"'))]
    names = re.findall(r'<(?:input|textarea)[^>]*name="([\w.]+)"', form)
    ticks = set(re.findall(r'type="checkbox"[^>]*name="([\w.]+)"', form))
    on = set(re.findall(r'type="checkbox"[^>]*name="([\w.]+)"[^>]* checked', form))
    return {name: field(form, name) for name in names if name != "file" and name not in ticks - on}


def entries(client: TestClient) -> list[str]:
    return [each["label"] for each in client.get(f"{AT}/history?limit=200").json()["items"]]


def test_every_key_of_every_kind_is_a_field_of_its_form(caller: Caller) -> None:
    for kind in KINDS:
        html = caller.client.get(f"/materials/new/{kind.table}").text
        typed = {each.key for each in text_fields(kind)}
        assert {key.partition(".")[0] for key in typed} == set(kind.keys)
        for key in ("name", "supplier", "number", "file", *typed):
            assert re.search(rf'name="{re.escape(key)}"', html), (kind.table, key)


@pytest.mark.parametrize("metric", [False, True])
@pytest.mark.parametrize("order", Order)
def test_every_material_is_written_as_text_that_is_read_back(metric: bool, order: Order) -> None:  # noqa: FBT001
    reading = Reading(Unit.MM if metric else Unit.INCH, order)
    for base in (starter(metric=False), starter(metric=True)):
        for kind in KINDS:
            for name, item in getattr(base, kind.table).items():
                assert read_item(kind, name, written(item, reading), reading) == item


@given(st.integers(1, 10**10), st.sampled_from(Unit))
def test_any_length_is_written_exactly(nm: int, unit: Unit) -> None:
    assert parse_length(length_text(Length(nm), unit), unit) == Length(nm)


def test_a_moulding_is_typed_kept_and_undone(caller: Caller) -> None:
    client = caller.client
    address = kept(client, "mouldings", **ASH)
    item = value(client, address)["value"]["item"]["moulding"]  # type: ignore[index]
    # by hand: 1 1/2 in = 38.1 mm, 3/16 in = 4.7625 mm, 8 ft = 2438.4 mm
    assert (item["width"], item["lip"], item["height"]) == (38_100_000, 4_762_500, 32_000_000)
    assert [(each["length"], each["cost"]["amount"], each["copies"]) for each in item["sticks"]] == [
        (3_048_000_000, "32.00", None),
        (2_438_400_000, "27.50", 3),
    ]
    html = client.get(address).text
    assert field(html, "sticks") == "120 in at 32.00\n96 in at 27.50, 3 in stock"
    assert "Undo “new moulding ash cushion”" in html
    assert entries(client)[0] == "new moulding ash cushion"


def test_what_cannot_be_read_is_told_beside_its_field_and_nothing_is_lost(caller: Caller) -> None:
    client = caller.client
    before = entries(client)
    typed = {**ASH, "width": "wide", "lip": "", "sticks": "10 ft at 32.00\n8 ft 27", "chop.rate": "3.20", "name": ""}
    answer = client.post("/materials/new/mouldings", data=typed)
    assert answer.status_code == 422
    for key, says in (
        ("width", "write a length"),
        ("lip", "has to be known"),
        ("sticks", "line 2: write a length and what it costs"),
        ("chop-rate", "per ft"),
        ("name", "a name"),
    ):
        assert says in fault(answer.text, key), key
    assert {key: field(answer.text, key) for key in typed} == typed
    assert entries(client) == before


@pytest.mark.parametrize(
    ("changed", "key", "says"),
    [
        ({"lip": "2"}, "lip", "within the width"),
        ({"rabbet_depth": "3"}, "rabbet_depth", "not deeper than"),
        ({"profile": "0, 1\n1, 1"}, "profile", "runs from 0 across to the width"),
        ({"chop.rate": "", "chop.charge": "6.00"}, "chop-rate", "rate is needed"),
        ({"chop.rate": "", "join": "6.00"}, "join", "needs the prices of chop too"),
        ({"width": "0"}, "width", "above nothing"),
        ({"name": "oak 1" * 200}, "name", "at most 500"),
    ],
)
def test_measures_that_do_not_go_together_are_told_where_they_are(
    caller: Caller, changed: dict[str, str], key: str, says: str
) -> None:
    answer = caller.client.post("/materials/new/mouldings", data={**ASH, **changed})
    assert answer.status_code == 422
    assert says in fault(answer.text, key)


def test_a_name_that_the_shop_has_is_refused_beside_the_name(caller: Caller) -> None:
    kept(caller.client, "mouldings", **ASH)
    answer = caller.client.post("/materials/new/mouldings", data={**ASH, "name": "Ash  Cushion"})
    assert "another of this name" in fault(answer.text, "name")


def test_one_of_the_starter_set_is_taken_over_and_changed(caller: Caller) -> None:
    client = caller.client
    html = client.get("/materials/new/boards?starter=white%204-ply").text
    assert field(html, "sheets") == "32 x 40 in at 11.00\n40 x 60 in at 24.00"
    address = kept(client, "boards", **same(html))
    changed = sent(client, address, **{**same(client.get(address).text), "caliper": "0.056", "measured": "yes"})
    assert "Kept" in changed
    assert entries(client)[:2] == ["caliper, measured of white 4-ply", "take over board white 4-ply"]
    lines = client.get("/materials?kind=boards").text
    assert lines.count("white 4-ply</a>") == 2  # bright white is the other
    assert "caliper 0.056 in" in lines
    assert client.post("/undo", data={"scope": "shop", "last": _last(client), "back": address}).status_code == 200
    assert field(client.get(address).text, "caliper") == "0.055 in"


def _last(client: TestClient) -> str:
    found = re.search(r'name="last" value="(\d+)"', client.get("/materials").text)
    assert found
    return found[1]


def test_a_form_sent_as_it_stands_changes_nothing(caller: Caller) -> None:
    client = caller.client
    address = kept(client, "mouldings", **ASH)
    before = value(client, address)
    sent(client, address, **same(client.get(address).text))
    assert value(client, address) == before


def test_what_another_changed_meanwhile_is_shown_beside_what_was_typed(caller: Caller) -> None:
    client = caller.client
    address = kept(client, "mouldings", **ASH)
    mine, theirs = same(client.get(address).text), same(client.get(address).text)
    sent(client, address, **{**theirs, "kerf": "1/8", "width": "1 3/8"})
    answer = client.post(address, data={**mine, "width": "1 5/8"})
    assert answer.status_code == 409
    assert field(answer.text, "width") == "1 5/8"
    assert (fault(answer.text, "width"), fault(answer.text, "kerf")) == (
        "kept meanwhile: 1 3/8 in",
        "kept meanwhile: 1/8 in",
    )
    assert field(client.get(address).text, "width") == "1 3/8 in"
    sent(client, address, **{**same(answer.text), "kerf": "1/8"})
    assert [field(client.get(address).text, key) for key in ("width", "kerf")] == ["1 5/8 in", "1/8 in"]


def test_a_material_is_taken_back_to_an_earlier_state(caller: Caller) -> None:
    client = caller.client
    address = kept(client, "mouldings", **ASH)
    sent(client, address, **{**same(client.get(address).text), "width": "2", "colour": "#000000"})
    html = client.get(address).text
    assert html.count("Take it back to this state</button>") == 1
    assert "width, colour of ash cushion" in html
    sent(client, f"{address}/back", version="2", state="1")
    assert field(client.get(address).text, "width") == "1 1/2 in"
    assert "changed%20meanwhile" in sent(client, f"{address}/back", version="2", state="1")


def test_a_copy_is_a_form_that_keeps_nothing_before_it_is_sent(caller: Caller) -> None:
    client = caller.client
    address = kept(client, "mouldings", **ASH)
    form = client.get(f"/materials/new/mouldings?like={address.rpartition('/')[2]}").text
    assert field(form, "name") == "ash cushion copy"
    assert len(entries(client)) == 2  # the demo show, and the moulding
    kept(client, "mouldings", **same(form))
    assert field(client.get(f"/materials/new/mouldings?like={address.rpartition('/')[2]}").text, "name").endswith(
        "copy 2"
    )


def test_what_is_made_of_a_material_is_told_and_its_name_stays(caller: Caller) -> None:
    client = caller.client
    html = client.get("/materials/new/boards?starter=white%208-ply").text
    address = kept(client, "boards", **same(html))
    page = client.get(address).text
    assert f'href="/shows/{caller.shop.show}"' in page
    works = re.search(r"(\d+) works are made of it and stay so", page)
    assert works
    made = [caller.design(number) for number in caller.shop.works]
    assert int(works[1]) == sum('"white 8-ply"' in str(each).replace("'", '"') for each in _treatments(caller))
    assert made
    answer = client.post(address, data={**same(page), "name": "white thick"})
    assert "copy it under the new name" in fault(answer.text, "name")
    sent(client, address, **{**same(page), "name": "White 8-ply"})
    sent(client, f"{address}/archive", version="2", away="yes")
    assert f'href="{address}"' not in client.get("/materials").text
    assert f'href="{address}"' in client.get("/materials?away=1").text
    assert "put away" in client.get(address).text
    sent(client, f"{address}/archive", version="3", away="no")
    assert f'href="{address}"' in client.get("/materials").text
    assert "changed%20meanwhile" in sent(client, f"{address}/archive", version="3", away="yes")


def _treatments(caller: Caller) -> list[object]:
    """Return the rules that hold for each work, as the design page has them."""
    found = []
    for number in caller.shop.works:
        rules = caller.design(number)["rules"]["groups"]
        found.append([each["text"] for group in rules for each in group["rules"]])
    return [[f'"{name}"' for text in each for name in re.split(r" \+ | @ ", text)] for each in found]


def test_the_list_is_filtered_sorted_counted(caller: Caller) -> None:
    client = caller.client
    kept(client, "mouldings", **ASH)

    def names(query: str) -> list[str]:
        return re.findall(r'<th scope="row"><a href="[^"]*">(.*?)</a>', client.get(f"/materials?{query}").text)

    mouldings = names("kind=mouldings")
    assert "ash cushion" in mouldings
    assert names("kind=mouldings&sort=name&down=1") == mouldings[::-1]
    assert names("kind=mouldings&sort=supplier")[0] == "ash cushion"
    assert names("q=weir") == ["ash cushion"]
    assert names("kind=nothing") == names("")
    page = client.get("/materials?kind=mouldings&sort=works").text
    works = [int(each or 0) for each in re.findall(r'c-works">(\d*)', page)]
    assert works == sorted(works, reverse=True)
    assert works[0] > 0
    assert re.search(rf"Mouldings <span>{len(mouldings)}</span>", page)


def test_a_sample_follows_what_is_typed_and_keeps_nothing(caller: Caller) -> None:
    client = caller.client
    before = entries(client)
    drawn = client.post("/materials/sample/mouldings", data=ASH)
    assert drawn.status_code == 200
    assert "Cut through, 1:1" in drawn.text
    figures = re.sub(r"<[^>]*>", "", drawn.text).split("\n")
    assert {"1 ¹⁄₂", "³⁄₁₆", "³⁄₄", "1.26"} <= set(figures)  # 32 mm is 1.26 in to a thousandth
    outline = [
        float(x) for x in re.findall(r"[ML](-?[\d.]+) ", re.findall(r'd="([^"]*)" fill="#c9a66b"', drawn.text)[0])
    ]
    assert round(max(outline) - min(outline), 1) == 38.1  # 1 1/2 in, drawn 1:1
    assert client.post("/materials/sample/mouldings", data={**ASH, "width": "x"}).status_code == 204
    board = client.post(
        "/materials/sample/boards", data={"name": "a", "caliper": "0.055", "colour": "#102030", "core": "#405060"}
    )
    assert "#102030" in board.text
    assert 'fill="#405060"' in board.text
    assert client.post("/materials/sample/hardware", data={"name": "a"}).text.count("<svg") == 0
    assert entries(client) == before


def test_a_picture_is_its_look_and_one_entry_of_the_history(caller: Caller) -> None:
    client = caller.client
    before = len(entries(client))
    broken = client.post("/materials/new/boards", data={"name": "marbled"}, files={"file": ("a.png", b"nonsense")})
    assert (broken.status_code, bool(fault(broken.text, "file"))) == (422, True)
    again = client.post("/materials/new/boards", data={"name": "marbled"}, files={"file": ("a.png", png())})
    assert again.status_code == 422  # the caliper is not known, and the picture is not lost
    address = kept(client, "boards", **{**same(again.text), "caliper": "1.5mm", "sheets": "32x40 at 30"})
    assert len(entries(client)) == before + 1
    html = client.get(address).text
    assert "data:image/jpeg;base64," in html
    (look,) = re.findall(r'src="(/materials/pictures/[0-9a-f]{64})"', client.get("/materials?q=marbled").text)
    assert client.get(look).headers["content-type"] == "image/jpeg"
    assert client.get(f"/materials/pictures/{'0' * 64}").status_code == 404
    sent(client, address, **{**same(html), "picture": ""})
    assert "/materials/pictures/" not in client.get("/materials?q=marbled").text
    assert entries(client)[0] == "picture of marbled"


def test_forms_of_what_there_is_not_say_so(caller: Caller) -> None:
    for address in ("/materials/new/nothing", "/materials/nothing", "/materials/new/boards?starter=nothing"):
        answer = caller.client.get(address)
        assert answer.status_code in {404, 422}
        assert answer.headers["content-type"].startswith("text/html")


def test_hostile_text_is_shown_as_text(caller: Caller) -> None:
    hostile = '"><script>alert(1)</script>'
    address = kept(caller.client, "hardware", name=hostile, cost="1", supplier=hostile)
    for page in (address, "/materials"):
        assert "<script>alert" not in caller.client.get(page).text


def test_defaults_of_a_kind_stand_in_an_empty_form(caller: Caller) -> None:
    html = caller.client.get("/materials/new/boards").text
    usual = {each.name: each.default for each in fields(kind_named("boards").value) if each.default is not MISSING}
    assert field(html, "colour") == usual["colour"]


def priced(client: TestClient, rows: str, **said: str) -> str:
    """Return what a supplier's list would change, as its page shows it."""
    answer = client.post("/materials/prices", data={"pasted": rows, **said})
    assert answer.status_code == 200
    return re.sub(r"\s+", " ", unescape(re.sub(r"<(?!input)[^>]*>", " ", answer.text)))


def test_a_list_of_prices_need_not_repeat_what_the_shop_knows(caller: Caller) -> None:
    client = caller.client
    sand = {"name": "sand 4-ply", "caliper": "0.056", "measured": "yes", "sheets": "32x40 at 9.00\n40x60 at 20.00"}
    address = kept(client, "boards", **sand, colour="#aabbcc")
    rows = "name\tcaliper\tsheet\tprice\nsand 4-ply\t0.055\t32 x 40\t9.80\nwhite 8-ply\t\t32 x 40\t28.00\n"
    page = priced(client, rows, kind="board", supplier="Weir & Co")
    assert "32 x 40 in 9.00 USD → 9.80 USD 40 x 60 in at 20.00 USD → no longer" in page
    assert "caliper" not in page.partition("What would change")[2].partition("Supplier")[0]
    assert "white 8-ply new 32 x 40 in at 28.00 USD" in page
    before = len(entries(client))
    fields = {"pasted": rows, "kind": "board", "supplier": "Weir & Co", "keep": "yes"}
    assert "1%20material%20changed" in sent(client, "/materials/prices", **fields, take="board/sand 4 ply")
    assert len(entries(client)) == before + 1
    item = value(client, address)["value"]["item"]["board"]  # type: ignore[index]
    # by hand: 0.056 in = 1.4224 mm stays as it was measured
    assert (item["caliper"], item["colour"], item["sheets"][0]["cost"]["amount"]) == (1_422_400, "#aabbcc", "9.80")


def test_a_price_without_its_size_is_told_and_no_size_is_lost(caller: Caller) -> None:
    page = priced(caller.client, "name\tprice\nwhite 4-ply\t12.00\n", kind="board")
    assert "the size that this is the price of" in page
    assert "no longer" not in page


def test_two_materials_of_one_name_are_chosen_apart(caller: Caller) -> None:
    client = caller.client
    rows = "kind\tname\tthickness\tsize\tprice\nboard\tplain\t1.4mm\t32x40\t9\nbacking\tplain\t5mm\t32x40\t4\n"
    sent(client, "/materials/prices", pasted=rows, keep="yes", take="backing/plain")
    assert client.get(f"{AT}/materials?text=plain").json()["total"] == 1
