"""Every page: it opens, its links lead somewhere, whatever is typed into it stays text."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape

import pytest
from starlette.testclient import TestClient
from tests.web.design_shop import Caller, caller_at

HOSTILE = '"><script>alert(1)</script>{{ 7*7 }}'


@pytest.fixture(scope="module")
def looking(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Caller]:
    """Somebody who keeps nothing, shared by the tests that only look."""
    with caller_at(tmp_path_factory.mktemp("pages")) as caller:
        yield caller


@pytest.fixture
def caller(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Caller]:
    with caller_at(tmp_path_factory.mktemp("desk")) as caller:
        yield caller


def addresses(caller: Caller) -> list[str]:
    show = f"/shows/{caller.shop.show}"
    return [
        *("/", "/?archived=1", "/?sort=title", "/?q=tide", "/bring", f"/bring?show={caller.shop.show}", "/keys"),
        *(show, f"{show}/table", f"{show}/table?q=mill&sort=title&down=1", f"{show}/table?state=cut", f"{show}/about"),
        *(f"{show}/wall?after=10", f"{show}/totals", f"{show}/along"),
        *("/materials", "/materials?q=ash", "/materials/prices", "/settings", "/find", "/find?q=mill"),
    ]


def links(html: str) -> set[str]:
    return {unescape(each) for each in re.findall(r'(?:href|src|data-fetch)="(/[^"#]*)', html)}


def test_every_page_opens_and_all_its_links_lead_somewhere(looking: Caller) -> None:
    seen: set[str] = set()
    for address in addresses(looking):
        answer = looking.client.get(address)
        assert answer.status_code == 200, address
        assert answer.headers["content-type"].startswith("text/html")
        seen |= links(answer.text)
    heavy = {each for each in seen if each.endswith(".pdf")}
    assert heavy
    broken = [each for each in sorted(seen - heavy) if looking.client.get(each).status_code != 200]
    assert broken == []


def test_no_page_holds_anything_that_the_policy_forbids(looking: Caller) -> None:
    for address in addresses(looking):
        html = looking.client.get(address).text
        assert not re.search(r"\sstyle=|<style|\son\w+=|javascript:", html), address
        scripts = re.findall(r"<script([^>]*)>", html)
        assert all('src="/static/' in each for each in scripts), address


def test_pages_of_what_there_is_not_say_so(looking: Caller) -> None:
    for address in ("/shows/nothing", "/shows/nothing/table", "/works/nothing/abc.svg", "/bring?show=nothing"):
        answer = looking.client.get(address)
        assert answer.status_code in {404, 422}, address
        assert "There is none of this name" in answer.text
        assert answer.headers["content-type"].startswith("text/html")


def posted(on: TestClient, address: str, /, **fields: str) -> str:
    """Return where a form leads to."""
    answer = on.post(address, data=fields, follow_redirects=False)
    assert answer.status_code == 303, answer.text[-600:]
    return str(answer.headers["location"])


def test_hostile_words_are_shown_as_words(caller: Caller) -> None:
    client = caller.client
    show = posted(client, "/shows", title=HOSTILE, client=HOSTILE)
    answer = client.post(f"{show}/works", data={"size": "9 x 12", "title": HOSTILE})
    assert answer.status_code == 200
    work = answer.json()["to"].partition("#w-")[2]
    client.post(f"/works/{work}/set", data={"field": "notes", "value": HOSTILE, "version": "1"})
    for address in (
        "/",
        show,
        f"{show}/table",
        f"{show}/about",
        "/find?q=script",
        f"/?q={HOSTILE}",
        f"{show}?says={HOSTILE}",
    ):
        html = client.get(address).text
        assert "<script>" not in html, address
    assert HOSTILE.replace('"', "&#34;").replace("<", "&lt;").replace(">", "&gt;") in client.get(show).text


def test_show_is_begun_copied_archived_and_brought_back(caller: Caller) -> None:
    client = caller.client
    show = posted(client, "/shows", title="Low water", client="Weir Gallery", due="2026-12-03")
    assert "3 Dec 2026" in client.get("/").text
    copy = posted(client, f"{show}/copy", title="Low water, again").partition("?")[0]
    assert copy != show
    assert posted(client, f"{copy}/archive", version="1", archived="yes").startswith("/?says=")
    assert "Low water, again" not in client.get("/").text
    assert "Low water, again" in client.get("/?archived=1").text
    posted(client, f"{copy}/archive", version="2", archived="no")
    assert "Low water, again" in client.get("/").text


@pytest.mark.parametrize(
    ("fields", "beside"),
    [
        ({"title": ""}, "a title for the show"),
        ({"title": "x", "due": "soon"}, "a date such as 2026-12-03"),
        ({"title": "The Tide Mill: a river drawn"}, "another show has this title"),
    ],
)
def test_show_that_cannot_be_kept_says_why_beside_the_field(
    looking: Caller, fields: dict[str, str], beside: str
) -> None:
    answer = looking.client.post("/shows", data=fields)
    assert answer.status_code == 422
    assert beside in unescape(answer.text)
    assert 'aria-invalid="true"' in answer.text
    assert f'value="{fields["title"]}"' in answer.text


def test_what_is_said_of_a_show_changes_and_a_stale_form_loses_nothing(caller: Caller) -> None:
    at = f"/shows/{caller.shop.show}/about"
    posted(caller.client, at, version="1", title="The Tide Mill", notes="hang low")
    stale = caller.client.post(at, data={"version": "1", "title": "Another", "notes": "mine"})
    assert stale.status_code == 422
    assert "mine" in stale.text
    assert "The Tide Mill" in caller.client.get(at).text


def test_undo_takes_back_what_it_said_or_nothing(caller: Caller) -> None:
    client, show = caller.client, caller.shop.show
    work = caller.shop.works["TM-01"]
    html = client.get(f"/shows/{show}").text
    last = re.search(r'name="last" value="(\d+)"', html)
    assert last is not None
    client.post(f"/works/{work}/set", data={"field": "title", "value": "Ebb", "version": "1"})
    assert "changed%20meanwhile" in posted(client, "/undo", scope=show, last=last[1], back=f"/shows/{show}")
    now = re.search(r'name="last" value="(\d+)"', client.get(f"/shows/{show}").text)
    assert now is not None
    assert "Taken%20back" in posted(client, "/undo", scope=show, last=now[1], back=f"/shows/{show}")
    assert 'value="Ebb"' not in client.get(f"/shows/{show}/table").text
    again = re.search(r'name="last" value="(\d+)"', client.get(f"/shows/{show}").text)
    assert again is not None
    posted(client, "/redo", scope=show, last=again[1], back=f"/shows/{show}")
    assert 'value="Ebb"' in client.get(f"/shows/{show}/table").text


def test_undo_leads_nowhere_else(caller: Caller) -> None:
    for address in ("https://elsewhere.example/", "//elsewhere.example", "/\\elsewhere.example"):
        assert posted(caller.client, "/theme", theme="dark", back=address) == "/"


def test_theme_is_remembered(caller: Caller) -> None:
    assert "data-theme" not in caller.client.get("/").text
    posted(caller.client, "/theme", theme="dark", back="/keys")
    assert 'data-theme="dark"' in caller.client.get("/").text


def test_settings_are_kept_and_faults_stand_beside_their_field(caller: Caller) -> None:
    client = caller.client
    bad = client.post("/settings", data={"name": "Weir Lane", "border": "nonsense", "version": ""})
    assert bad.status_code == 422
    assert 'id="e-border"' in bad.text
    assert 'value="Weir Lane"' in bad.text
    posted(client, "/settings", name="Weir Lane", border="3 1/4", unit="in", version="")
    assert 'value="3 1/4 in"' in client.get("/settings").text
    assert "Backed%20up" in posted(client, "/settings/backups", act="make")


def test_search_finds_works_by_title_artist_and_number(looking: Caller) -> None:
    for words, work in (("sluice open", "TM-01"), ("TM-12", "TM-12"), ("varnum wheel", "TM-03")):
        html = looking.client.get("/find", params={"q": words}).text
        assert f"/works/{looking.shop.works[work]}/design" in html
    assert "Nothing has all of these words" in looking.client.get("/find?q=zzzz").text


PRICES = """Art no\tDescription\tsheet\tprice each\tthick (in)
7\tsand 4-ply\t32 x 40\t9.80\t0.055
8\tslate 4-ply\t32 x 40\tx\t0.055"""
RIGHT = {"kind": "board", "order": "width x height", "supplier": "Weir & Co"} | {
    f"column-{at}": key for at, key in enumerate(("", "name", "size", "cost", "thickness"))
}


def hidden(html: str) -> dict[str, str]:
    return {name: unescape(value) for name, value in re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', html)}


def test_price_list_is_put_right_looked_at_and_taken(caller: Caller) -> None:
    client = caller.client
    looked = client.post("/materials/prices", data={"pasted": PRICES, "supplier": "Weir & Co"})
    assert "columns kind and name" in looked.text
    right = client.post("/materials/prices", data={**hidden(looked.text), **RIGHT})
    assert "row 3, slate 4-ply" in right.text
    assert '<label for="t-1">sand 4-ply</label>' in right.text
    assert "9.80 USD" not in client.get("/materials?q=sand").text
    fields = {**hidden(right.text), **RIGHT, "take": "board/sand 4 ply", "keep": "yes"}
    assert "1%20material%20changed" in posted(client, "/materials/prices", **fields)
    assert "9.80 USD" in client.get("/materials?q=sand").text
    again = client.post("/materials/prices", data={**hidden(right.text), **RIGHT})
    assert "the shop has it all" in again.text or "What would change" in again.text
    assert '<label for="t-1">sand 4-ply</label>' not in again.text


def test_shelf_of_a_show_is_sent_once_until_the_show_changes(caller: Caller) -> None:
    """A show's first works stand in its line as a picture; the same again is not sent again, a change is."""
    shelf = f"/shows/{caller.shop.show}/shelf.svg"
    assert shelf in caller.client.get("/").text
    first = caller.client.get(shelf)
    assert first.headers["content-type"] == "image/svg+xml"
    assert "<path" in first.text
    tag = {"If-None-Match": first.headers["etag"]}
    assert caller.client.get(shelf, headers=tag).status_code == 304
    caller.keep("TM-01", caller.design("TM-01")["version"], rules={"border": "5 in"})
    again = caller.client.get(shelf, headers=tag)
    assert (again.status_code, again.text != first.text) == (200, True)


def test_shelf_of_a_show_without_works_is_empty(caller: Caller) -> None:
    """A show that has no work yet has an empty shelf, and none in the list."""
    posted(caller.client, "/shows", title="Bare walls")
    html = caller.client.get("/?q=Bare").text
    show = next(each for each in links(html) if re.fullmatch(r"/shows/[^/]+", each))
    assert "shelf.svg" not in html
    assert "<path" not in caller.client.get(f"{show}/shelf.svg").text
