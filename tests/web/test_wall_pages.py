"""The wall, the table and lists brought in, through their routes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from io import BytesIO

import pdfplumber
import pytest
from tests.web.design_shop import Caller, caller_at

from fourply.app.keep import Desk
from fourply.app.ports_store import Kind, Query

LIST = """number,title,artist,width (in),height (in),where
1,The long quay,Ada,9 1/2,12,store
2,Ebb,Ada,nonsense,12,
3,Flood,Bo,8,,attic
3,Weir,Bo,8,9,
"""


@pytest.fixture
def caller(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Caller]:
    with caller_at(tmp_path_factory.mktemp("wall")) as caller:
        yield caller


def sizes(html: str) -> dict[str, tuple[int, int]]:
    """Return how large each work stands on the wall in dots, by its number."""
    found = re.findall(r'aria-label="(TM-\w+) .*?<img [^>]*width="(\d+)" height="(\d+)"', html, re.DOTALL)
    return {number: (int(width), int(height)) for number, width, height in found}


def test_works_stand_at_an_inch_to_the_foot(caller: Caller) -> None:
    html = caller.client.get(f"/shows/{caller.shop.show}").text
    assert "Scale 1:12" in html
    # derived: TM-01 is 21 1/4 x 18 3/4 in outside (its ticket says so), eight dots an inch
    assert sizes(html)["TM-01"] == (170, 150)


def test_what_lies_in_the_mat_of_another_hangs_there_alone(caller: Caller) -> None:
    html = caller.client.get(f"/shows/{caller.shop.show}").text
    assert f'id="w-{caller.shop.works["TM-13"]}"' in html
    assert f'id="w-{caller.shop.works["TM-13b"]}"' not in html
    assert "in TM-13" in caller.client.get(f"/shows/{caller.shop.show}/table").text


def test_previews_are_drawings_that_may_be_kept_for_ever(caller: Caller) -> None:
    at = f"/shows/{caller.shop.show}"
    address = re.findall(r'src="(/works/[^"]+\.svg)"', caller.client.get(at).text)[0]
    answer = caller.client.get(address)
    assert answer.headers["content-type"] == "image/svg+xml"
    assert "immutable" in answer.headers["cache-control"]
    assert answer.text.startswith("<svg")
    change(caller, "TM-01", "width", "15")
    assert address not in caller.client.get(at).text


def test_what_a_change_leaves_as_it_was_keeps_its_preview(caller: Caller) -> None:
    at = f"/shows/{caller.shop.show}"
    before = set(re.findall(r'src="(/works/[^"]+\.svg)"', caller.client.get(at).text))
    change(caller, "TM-01", "width", "15")
    after = set(re.findall(r'src="(/works/[^"]+\.svg)"', caller.client.get(at).text))
    assert len(before - after) == 1


def change(caller: Caller, number: str, field: str, value: str, version: str = "1") -> dict[str, object]:
    fields = {"field": field, "value": value, "version": version}
    answer = caller.client.post(f"/works/{caller.shop.works[number]}/set", data=fields)
    return {"status": answer.status_code, **answer.json()}


@pytest.mark.parametrize(
    ("field", "typed", "shown"),
    [
        ("title", "Low water", "Low water"),
        ("width", "60mm", "60 mm"),
        ("width", "14 3/8; 14 7/16", "14 3/8; 14 7/16"),
        ("copies", "3", "3"),
        ("treatment", "DOUBLE", "double"),
        ("treatment", "", ""),
        ("state", "cut", "cut"),
        ("due", "2026-12-03", "2026-12-03"),
        ("number", "TM-01a", "TM-01a"),
        ("notes", "", ""),
    ],
)
def test_a_cell_is_changed_in_its_place(caller: Caller, field: str, typed: str, shown: str) -> None:
    answer = change(caller, "TM-01", field, typed)
    assert answer["status"] == 200
    assert answer["version"] == 2
    fields = answer["fields"]
    assert isinstance(fields, dict)
    assert fields[field] == shown
    undone = caller.shop.app.state.room.parts.store.undoable(caller.shop.show).undo
    assert undone is not None
    assert undone.label == f"{field} of TM-01 to {shown or 'nothing'}" or field in {"width", "treatment", "number"}


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("width", "wide", "write a length"),
        ("width", "", "the width of the sheet"),
        ("copies", "0", "a number from 1"),
        ("treatment", "gilded", "no treatment is called"),
        ("state", "sold", "one of measured"),
        ("due", "soon", "2026-12-03"),
        ("number", "TM-02", "called"),
        ("number", " ", "a number of its own"),
        ("colour", "red", "title"),
    ],
)
def test_a_cell_that_cannot_be_read_says_what_would_be_right(caller: Caller, field: str, typed: str, says: str) -> None:
    answer = change(caller, "TM-01", field, typed)
    assert answer["status"] == 422
    assert says in str(answer["says"])
    assert caller.shop.app.state.room.parts.store.read(caller.shop.works["TM-01"]).version == 1


def test_a_stale_cell_says_what_it_is_now_and_can_be_kept_again(caller: Caller) -> None:
    change(caller, "TM-01", "title", "Theirs")
    stale = change(caller, "TM-01", "title", "Mine")
    assert stale["status"] == 409
    assert "Theirs" in str(stale["says"])
    assert change(caller, "TM-01", "title", "Mine", str(stale["version"]))["status"] == 200


def test_several_are_changed_as_one_entry_and_what_is_their_own_stays(caller: Caller) -> None:
    chosen = [f"{caller.shop.works[number]}:1" for number in ("TM-01", "TM-02", "TM-06")]
    at = f"/shows/{caller.shop.show}"
    fields = {"work": chosen, "treatment": "double", "moulding": "=", "state": "cut"}
    answer = caller.client.post(f"{at}/treat", data=fields, headers={"Accept": "application/json"})
    assert answer.json()["says"] == "3 works changed"
    store = caller.shop.app.state.room.parts.store
    undone = store.undoable(caller.shop.show).undo
    assert undone is not None
    assert undone.label == "double, cut for TM-01, TM-02, TM-06"
    store.undo(Desk(store).note(caller.shop.show, ""))
    treatments = [
        store.read(caller.shop.works[number]).value.listed.treatment for number in ("TM-01", "TM-02", "TM-06")
    ]
    assert treatments == ["drawing", "drawing", "print"]


def test_of_several_none_is_changed_where_one_is_stale(caller: Caller) -> None:
    change(caller, "TM-02", "title", "Theirs")
    chosen = [f"{caller.shop.works[number]}:1" for number in ("TM-01", "TM-02")]
    at = f"/shows/{caller.shop.show}/treat"
    answer = caller.client.post(at, data={"work": chosen, "state": "cut"}, headers={"Accept": "application/json"})
    assert answer.status_code == 409
    assert caller.shop.app.state.room.parts.store.read(caller.shop.works["TM-01"]).version == 1


@pytest.mark.parametrize("fields", [{}, {"work": "nothing"}, {"work": "x:1", "state": "cut"}, {"moulding": "gold"}])
def test_a_change_of_nothing_says_so(caller: Caller, fields: dict[str, str]) -> None:
    at = f"/shows/{caller.shop.show}/treat"
    assert caller.client.post(at, data=fields, headers={"Accept": "application/json"}).status_code == 422


def test_totals_are_those_of_all_works(caller: Caller) -> None:
    html = caller.client.get(f"/shows/{caller.shop.show}/totals").text
    store = caller.shop.app.state.room.parts.store
    works = [each.value for each in store.every(Kind.WORK, caller.shop.show)]
    frames = sum(each.listed.work.copies for each in works if not each.listed.inside)
    assert re.search(rf"<dt>Frames</dt><dd>{frames}</dd>", html)


def test_tickets_of_some_are_theirs(caller: Caller) -> None:
    chosen = ",".join(caller.shop.works[number] for number in ("TM-01", "TM-06"))
    answer = caller.client.get(f"/shows/{caller.shop.show}/tickets.pdf?work={chosen}")
    assert answer.headers["content-disposition"] == 'attachment; filename="The-Tide-Mill-a-river-drawn-tickets.pdf"'
    with pdfplumber.open(BytesIO(answer.content)) as pdf:
        text = "".join(page.extract_text() for page in pdf.pages)
    assert "TM-01" in text
    assert "TM-06" in text
    assert "TM-03" not in text


def test_a_work_is_typed_on_the_wall(caller: Caller) -> None:
    at = f"/shows/{caller.shop.show}/works"
    answer = caller.client.post(at, data={"size": "9 1/2 x 12 in", "title": "Weir"})
    assert answer.status_code == 200
    record = caller.shop.app.state.room.parts.store.read(answer.json()["to"].partition("#w-")[2])
    art = record.value.listed.work.art
    assert (art.width.least.as_mm, art.height.least.as_mm) == (241.3, 304.8)
    bad = caller.client.post(at, data={"size": "wide", "title": "Weir"})
    assert bad.status_code == 422
    assert bad.json()["says"]


def test_a_list_is_looked_at_with_its_faults_in_their_cells_and_nothing_is_kept(caller: Caller) -> None:
    html = caller.client.post("/bring", files={"list": ("Spring/quay.csv", LIST.encode())}).text
    wrong = [unescape(each) for each in re.findall(r'<td class="wrong">(.*?)<', html)]
    assert wrong == ["nonsense", "8", "3"]
    assert "Keep 1 work" in html
    assert caller.shop.app.state.room.parts.store.find(Query(Kind.SHOW)).total == 1


def hidden(html: str) -> dict[str, str]:
    return {name: unescape(value) for name, value in re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', html)}


def test_a_list_is_kept_as_a_show_and_one_undo_takes_it_back(caller: Caller) -> None:
    looked = caller.client.post("/bring", files={"list": ("quay.csv", LIST.encode())}).text
    fields = {**hidden(looked), "columns": "0", "title": "Quay", "keep": "yes"}
    answer = caller.client.post("/bring", data=fields, follow_redirects=False)
    assert answer.status_code == 303
    show = answer.headers["location"].partition("?")[0].removeprefix("/shows/")
    store = caller.shop.app.state.room.parts.store
    assert [each.value.listed.work.title for each in store.every(Kind.WORK, show)] == ["The long quay"]
    store.undo(Desk(store).note(show, ""))
    assert store.find(Query(Kind.SHOW)).total == 1


def test_columns_are_put_right(caller: Caller) -> None:
    rows = "who\twhat\tacross\tdown\nAda\tThe long quay\t9 1/2\t12\n"
    looked = caller.client.post("/bring", data={"pasted": rows, "show": caller.shop.show}).text
    assert "No row can be read yet" in looked
    kinds = {f"column-{at}": key for at, key in enumerate(("maker", "title", "width", "height"))}
    fields = {**hidden(looked), **kinds, "header_row": "1"}
    assert "Keep 1 work" in caller.client.post("/bring", data=fields).text
    answer = caller.client.post("/bring", data={**fields, "keep": "yes"}, follow_redirects=False)
    assert answer.status_code == 303
    html = caller.client.get(f"/shows/{caller.shop.show}/table?q=quay").text
    assert 'value="The long quay"' in html
    assert 'value="9 1/2"' in html


@pytest.mark.parametrize(
    ("file", "data"), [("a.csv", b""), ("a.pdf", b"%PDF-1.7 x"), ("show.toml", b"[show]"), ("a.csv", b"\xff\xfe\x00")]
)
def test_what_is_no_list_says_so(caller: Caller, file: str, data: bytes) -> None:
    answer = caller.client.post("/bring", files={"list": (file, data)})
    assert answer.status_code in {200, 422}
    assert "Keep 1 work" not in answer.text
    assert 'class="message wrong"' in answer.text or 'class="small wrong"' in answer.text
