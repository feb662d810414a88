"""Works over the API: typed, resolved, explained, drawn; live without being kept; lists, prices, pictures, plans."""

from __future__ import annotations

import io
import json
from typing import Any
from zipfile import ZipFile

import pytest
from starlette.testclient import TestClient
from tests.web.shops import AT, FILE, LIST, SHOW, Seeds, made, png

from fourply.app.documents import value_json
from fourply.files.cutters import starter_cutters

type Shop = tuple[TestClient, Seeds]


def test_a_typed_work_is_kept_and_changed(client: TestClient) -> None:
    show = made(client, "/shows", {"value": SHOW})["id"]
    work = made(client, "/works/typed", {"scope": show, "given": {"id": "7", "size": "9 x 12", "border": "3"}})
    values = work["value"]["listed"]["own"]["values"]
    assert values["border"]
    changed = client.put(
        f"{AT}/works/{work['id']}/typed",
        json={"given": {"id": "7", "title": "Weir", "size": "10 x 12"}},
        headers={"If-Match": '"1"'},
    ).json()
    assert (changed["title"], changed["value"]["place"]) == ("Weir", 1)
    # derived: 10 in are 254 000 000 nm
    assert changed["value"]["listed"]["work"]["art"]["width"]["least"] == 254_000_000


def test_all_that_is_wrong_with_a_typed_work_is_told(client: TestClient) -> None:
    show = made(client, "/shows", {"value": SHOW})["id"]
    given = {"id": "7", "size": "9 by about 12", "copies": "many"}
    answer = client.post(f"{AT}/works/typed", json={"scope": show, "given": given})
    assert answer.status_code == 422
    assert {each["where"] for each in answer.json()["errors"]} == {"size", "copies"}


def test_several_works_change_together_or_none(client: TestClient) -> None:
    show = made(client, "/shows", {"value": SHOW})["id"]
    works = [made(client, "/works/typed", {"scope": show, "given": {"id": n, "size": "9 x 12"}}) for n in ("1", "2")]
    wishes = [{"id": each["id"], "version": 1, "value": {**each["value"], "stage": "ready"}} for each in works]
    stale = [wishes[0], {**wishes[1], "version": 9}]
    assert client.post(f"{AT}/works/change", json={"scope": show, "works": stale}).status_code == 412
    assert client.get(f"{AT}/works?state=ready").json()["total"] == 0
    assert client.post(f"{AT}/works/change", json={"scope": show, "works": wishes}).status_code == 200
    assert client.get(f"{AT}/works?state=ready").json()["total"] == 2
    tag = client.get(f"{AT}/scopes/{show}/undoable").headers["ETag"]
    assert client.post(f"{AT}/scopes/{show}/undo", headers={"If-Match": tag}).status_code == 200
    assert client.get(f"{AT}/works?state=ready").json()["total"] == 0


def test_a_work_is_resolved_and_explained(shop: Shop) -> None:
    client, seeds = shop
    found = client.get(f"{AT}/works/{seeds['works']}/package").json()
    figure = found["work"]["package"]["figures"]["outer.width"]
    # derived: the window 9 - 2 * 1/8, borders 2 1/2 each: 13 3/4 in
    assert (figure["value"], figure["rule"] in found["rules"]) == (349_250_000, True)
    answers = client.get(f"{AT}/works/{seeds['works']}/why?figure=outer.width").json()["items"]
    assert answers[0]["sentence"] == "2 1/2 in + 8 3/4 in + 2 1/2 in = 13 3/4 in"
    told = client.get(f"{AT}/works/{seeds['works']}/why?figure=outer.wdth")
    assert (told.status_code, "outer.width" in told.json()["detail"]) == (422, True)


def test_a_work_that_cannot_be_made_says_why(client: TestClient) -> None:
    show = made(client, "/shows", {"value": SHOW})["id"]
    given = {"id": "7", "size": "9 x 12", "mats": "no such board"}
    work = made(client, "/works/typed", {"scope": show, "given": given})["id"]
    found = client.get(f"{AT}/works/{work}/package").json()
    assert (found["work"], found["faults"][0]["column"]) == (None, "mats")
    answer = client.get(f"{AT}/works/{work}/front.svg")
    assert (answer.status_code, answer.json()["type"]) == (422, "/problems/cannot-make")
    overview = client.get(f"{AT}/shows/{show}/overview").json()
    assert (overview["works"], overview["fault_count"]) == ([], 1)


@pytest.mark.parametrize(
    ("name", "media", "begins"),
    [
        ("front.svg", "image/svg+xml", b"<"),
        ("section.svg?paper=a4", "image/svg+xml", b"<"),
        ("preview.svg", "image/svg+xml", b"<"),
        ("preview.png?pixels=200", "image/png", b"\x89PNG"),
        ("ticket.pdf", "application/pdf", b"%PDF"),
        ("template.pdf?side=front", "application/pdf", b"%PDF"),
        ("cuts.zip?kind=svg&follow=face", "application/zip", b"PK"),
    ],
)
def test_sheets_of_a_work(shop: Shop, name: str, media: str, begins: bytes) -> None:
    client, seeds = shop
    answer = client.get(f"{AT}/works/{seeds['works']}/{name}")
    assert (answer.status_code, answer.headers["Content-Type"].partition(";")[0]) == (200, media)
    assert answer.content.startswith(begins)


def test_cut_files_are_packed_by_board(shop: Shop) -> None:
    client, seeds = shop
    packed = ZipFile(io.BytesIO(client.get(f"{AT}/works/{seeds['works']}/cuts.zip").content))
    assert packed.testzip() is None
    assert all(name.endswith("back-sight.dxf") for name in packed.namelist())


def test_live_keeps_nothing_and_draws(shop: Shop) -> None:
    client, seeds = shop
    before = client.get(f"{AT}/history").json()["total"]
    found = client.post(f"{AT}/live", json={"work": seeds["works"], "rules": {"border": "3 in"}}).json()
    assert (found["work"], found["faults"], found["figures"]["outer.width"]) == ("7", [], "14 3/4 in")
    # derived: 14 3/4 in are 374.65 mm
    assert found["front"]["width"] == pytest.approx(374.65)
    assert {each["edge"] for each in found["front"]["outlines"]} >= {"edge of the package", "the window"}
    dims = {dim["figure"] for tier in found["front"]["dimensions"]["bottom"] for dim in tier}
    assert "mat.1.border.left" in dims
    assert found["preview"]["patches"]
    assert client.get(f"{AT}/history").json()["total"] == before


def test_live_of_a_work_that_is_not_kept(shop: Shop) -> None:
    client, seeds = shop
    wish = {"show": seeds["shows"], "given": {"size": "9 x 12"}, "treatment": "wide"}
    assert client.post(f"{AT}/live", json=wish).json()["figures"]["outer.width"] == "14 3/4 in"
    why = client.post(f"{AT}/live/why", json={**wish, "figure": "outer.width"}).json()["items"]
    assert why[0]["sentence"] == "3 in + 8 3/4 in + 3 in = 14 3/4 in"
    unread = client.post(f"{AT}/live", json={**wish, "given": {"size": "9 x"}}).json()
    assert (unread["work"], unread["faults"][0]["column"]) == (None, "size")
    assert client.post(f"{AT}/live", json={"rules": {}}).status_code == 422
    wrong = client.post(f"{AT}/live", json={**wish, "rules": {"border": "x"}})
    assert (wrong.status_code, wrong.json()["found"]) == (422, "border = x")


def test_live_follows_what_is_kept(client: TestClient) -> None:
    show = made(client, "/shows", {"value": SHOW})["id"]
    work = made(client, "/works/typed", {"scope": show, "given": {"id": "1", "size": "9 x 12", "group": "pair"}})["id"]

    def outer() -> str:
        found: str = client.post(f"{AT}/live", json={"work": work}).json()["figures"]["outer.width"]
        return found

    assert outer() == "13 3/4 in"
    made(client, "/works/typed", {"scope": show, "given": {"id": "2", "size": "11 x 12", "group": "pair"}})
    # derived: the other of its group needs 11 - 1/4 + 5 = 15 3/4 in
    assert outer() == "15 3/4 in"


def test_a_list_comes_in_by_two_steps(client: TestClient) -> None:
    show = made(client, "/shows", {"value": SHOW})["id"]
    at = f"{AT}/shows/{show}/lists"
    read = client.post(f"{at}/read?file=quay.csv", content=LIST, headers=FILE).json()
    assert ([each["key"] for each in read["columns"]], read["works"]) == (["id", "title", "width", "height"], 1)
    assert (read["faults"][0]["row"], read["faults"][0]["column"]) == (3, "Width")
    assert client.get(f"{AT}/works").json()["total"] == 0
    columns = "column=id&column=title&column=height%7Ccm&column=width%7Ccm&header_row=1"
    corrected = client.post(f"{at}/read?file=quay.csv&{columns}", content=LIST, headers=FILE).json()
    assert [each["unit"] for each in corrected["columns"]] == [None, None, "cm", "cm"]
    kept = client.post(f"{at}/keep?file=quay.csv&{columns}", content=LIST, headers=FILE)
    assert (kept.status_code, kept.json()) == (201, {"kept": 1})
    work = client.get(f"{AT}/works").json()["items"][0]
    # derived: the columns were exchanged, 10 cm wide
    assert work["value"]["listed"]["work"]["art"]["width"]["least"] == 100_000_000
    again = client.post(f"{at}/keep?file=quay.csv", content=LIST, headers=FILE)
    assert again.status_code == 409


def test_a_list_can_be_kept_as_long_work(client: TestClient) -> None:
    show = made(client, "/shows", {"value": SHOW})["id"]
    rows = "".join(f"{n},Weir,8,10\n" for n in range(1, 501)).encode()
    answer = client.post(
        f"{AT}/shows/{show}/lists/keep",
        content=b"No,Title,Width,Height\n" + rows,
        headers={**FILE, "Prefer": "respond-async"},
    )
    assert answer.status_code == 202
    with client.stream("GET", f"{answer.headers['Location']}/events") as events:
        lines = [line for line in events.iter_lines() if line.startswith("data: ")]
    told = [json.loads(line.removeprefix("data: ")) for line in lines]
    assert (told[-1]["state"], told[-1]["result"]) == ("done", {"kept": 500})
    assert client.get(f"{AT}/works?limit=1").json()["total"] == 500


PRICES = b"""order = "width x height"
unit = "in"
[boards."white 4-ply"]
caliper = "0.055"
sheets = [{ size = "32 x 40", cost = "12.34" }]
"""


def test_prices_are_shown_before_they_are_kept(client: TestClient) -> None:
    made(client, "/materials/start", {"metric": False})
    read = client.post(f"{AT}/materials/prices/read?file=p.toml&supplier=Mill", content=PRICES, headers=FILE).json()
    (change,) = read["changes"]
    assert (change["version"], change["fields"]) == (1, ["sheets"])
    assert "12.34" in change["says"][0]
    chosen = {"supplier": "Mill", "changes": [{key: change[key] for key in ("record", "version", "value")}]}
    kept = client.post(f"{AT}/materials/prices/keep", json=chosen)
    assert (kept.status_code, kept.json()["items"][0]["version"]) == (201, 2)
    assert client.post(f"{AT}/materials/prices/keep", json=chosen).status_code == 412
    later = {**chosen, "changes": [{**chosen["changes"][0], "version": 2}]}  # type: ignore[dict-item]
    once = [client.post(f"{AT}/materials/prices/keep", json=later, headers={"Idempotency-Key": "k"}) for _ in range(2)]
    assert [(each.status_code, each.json()["items"][0]["version"]) for each in once] == [(201, 3)] * 2
    again = client.post(f"{AT}/materials/prices/read?file=p.toml&supplier=Mill", content=PRICES, headers=FILE).json()
    assert again["changes"] == []
    assert client.get(f"{AT}/materials?maker=Mill").json()["total"] == 1


def test_the_starter_set_asked_for_again_by_the_same_key_is_answered_as_at_first(client: TestClient) -> None:
    def start(key: str) -> list[dict[str, Any]]:
        asked = client.post(f"{AT}/materials/start", json={"metric": False}, headers={"Idempotency-Key": key})
        assert asked.status_code == 201
        found: list[dict[str, Any]] = asked.json()["items"]
        return found

    first = start("one")
    assert len(first) > 20
    assert start("one") == first
    assert start("two") == []
    assert client.get(f"{AT}/history").json()["total"] == 1
    other = client.post(f"{AT}/materials/start", json={"metric": True}, headers={"Idempotency-Key": "one"})
    assert (other.status_code, other.json()["type"]) == (422, "/problems/key-reused")


def test_a_picture_is_kept_once_by_its_content(client: TestClient) -> None:
    first = client.post(f"{AT}/pictures?file=../../a.png", content=png(), headers=FILE)
    again = client.post(f"{AT}/pictures?file=b.png", content=png(), headers=FILE)
    assert first.json() == again.json()
    assert (first.json()["title"], first.json()["value"]["media"]) == ("a.png", "image/png")
    found = client.get(f"{AT}/pictures/{first.json()['id']}/content")
    assert (found.headers["Content-Type"], found.content) == ("image/png", png())
    wrong = client.post(f"{AT}/pictures?file=c.png", content=b"no picture", headers=FILE)
    assert (wrong.status_code, wrong.json()["type"]) == (422, "/problems/bad-input")


def test_a_show_is_planned_as_long_work(shop: Shop) -> None:
    client, seeds = shop
    job = client.get(f"{AT}/jobs/{seeds['jobs']}").json()
    assert (job["state"], job["result"]["totals"]["works"], job["result"]["plan"]) == ("done", 1, seeds["plans"])
    names = {each.rpartition("/files/")[2]: each for each in job["files"]}
    assert {"tickets.pdf", "cutting.pdf", "bench.pdf", "buy.csv", "steps.json", "drawings/7-front.svg"} <= names.keys()
    assert client.get(names["cutting.pdf"]).content.startswith(b"%PDF")
    assert client.get(names["steps.json"]).json()["schema"] == "fourply/steps/1"
    assert client.get(f"{AT}/jobs/{seeds['jobs']}/files/other.pdf").status_code == 404
    assert client.get(f"{AT}/jobs").json()["items"][0]["id"] == seeds["jobs"]
    document = client.get(f"{AT}/plans/{seeds['plans']}/document").json()
    assert document["kind"] == "plan"
    plan = client.get(f"{AT}/plans?scope={seeds['shows']}").json()["items"][0]
    accepted = client.post(f"{AT}/plans/{plan['id']}/accept", headers={"If-Match": f'"{plan["version"]}"'})
    assert accepted.json()["value"]["accepted"] is True


def test_tickets_and_materials_of_a_show(shop: Shop) -> None:
    client, seeds = shop
    assert client.get(f"{AT}/shows/{seeds['shows']}/tickets.pdf").content.startswith(b"%PDF")
    materials = client.get(f"{AT}/shows/{seeds['shows']}/materials").json()
    assert "white 4-ply" in materials["boards"]


def test_overview_comes_in_pages_and_groups_hold_across_them(client: TestClient) -> None:
    show = made(client, "/shows", {"value": SHOW})["id"]
    sizes = ("9 x 12", "5 x 7", "bad", "8 x 10", "11 x 14")
    for number, size in enumerate(sizes, start=1):
        mats = "no such board" if size == "bad" else "white 4-ply"
        given = {"id": str(number), "size": size.replace("bad", "6 x 6"), "group": "wall", "mats": mats}
        made(client, "/works/typed", {"scope": show, "given": given})
    found, after, faults = [], "", 0
    while True:
        page = client.get(f"{AT}/shows/{show}/overview", params={"limit": 2, "after": after}).json()
        assert page["total"] == 5
        found += [(each["number"], each["outer"]) for each in page["works"]]
        faults += page["fault_count"]
        after = page["next"]
        if not after:
            break
    assert [number for number, _ in found] == ["1", "2", "4", "5"]
    assert len({outer for _, outer in found}) == 1, "a group shares its outer size"
    assert faults == 1


def test_many_tickets_are_long_work(client: TestClient) -> None:
    show = made(client, "/shows", {"value": SHOW})["id"]
    rows = "\n".join(f"{number},Weir,8,10" for number in range(101))
    kept = client.post(f"{AT}/shows/{show}/lists/keep", content=f"No,Title,Width,Height\n{rows}\n", headers=FILE)
    assert kept.json()["kept"] == 101
    refused = client.get(f"{AT}/shows/{show}/tickets.pdf")
    assert (refused.status_code, "respond-async" in refused.json()["detail"]) == (422, True)
    job = client.get(f"{AT}/shows/{show}/tickets.pdf", headers={"Prefer": "respond-async"})
    assert job.status_code == 202
    at = job.headers["Location"]
    with client.stream("GET", f"{at}/events") as events:
        told = "".join(events.iter_text())
    assert '"stage": "tickets"' in told
    assert client.get(f"{at}/files/tickets.pdf").content.startswith(b"%PDF")


def test_a_cutter_says_what_to_set(client: TestClient) -> None:
    profile = next(iter(starter_cutters().values()))
    cutter = made(client, "/cutters", {"value": value_json(profile)})["id"]
    told = client.post(f"{AT}/cutters/{cutter}/setting", json={"border": "2 1/2 in"}).json()
    assert told["reached"]
    assert told["sentences"][0].startswith("set ")
    show = made(client, "/shows", {"value": SHOW})["id"]
    made(client, "/works/typed", {"scope": show, "given": {"id": "7", "size": "9 x 12"}})
    job = client.post(f"{AT}/shows/{show}/plans", json={"steps": 20, "cutter": cutter}).headers["Location"]
    with client.stream("GET", f"{job}/events") as events:
        assert '"state": "done"' in "".join(events.iter_text())
    assert client.get(f"{job}/files/steps.json").json()["value"]["cutter"] == profile.name
    work = client.get(f"{AT}/works?scope={show}").json()["items"][0]["id"]
    nominal, on = (client.get(f"{AT}/works/{work}/ticket.pdf{query}") for query in ("", f"?cutter={cutter}"))
    assert (on.status_code, on.content != nominal.content) == (200, True)
    assert client.get(f"{AT}/works/{work}/ticket.pdf?cutter=none-such").status_code == 422
    wrong = client.post(f"{AT}/cutters/{cutter}/setting", json={"border": "wide"})
    assert (wrong.status_code, wrong.json()["type"]) == (422, "/problems/bad-length")


def test_a_copied_show_has_its_works(client: TestClient) -> None:
    show = made(client, "/shows", {"value": SHOW})["id"]
    made(client, "/works/typed", {"scope": show, "given": {"id": "7", "size": "9 x 12"}})
    copy = client.post(f"{AT}/shows/{show}/copy", json={"name": "Quay again"}).json()
    assert client.get(f"{AT}/works?scope={copy['id']}").json()["items"][0]["name"] == "7"
    work = client.get(f"{AT}/works?scope={copy['id']}").json()["items"][0]
    other = client.post(f"{AT}/works/{work['id']}/copy", json={"name": "8"}).json()
    assert (other["name"], other["value"]["place"]) == ("8", 2)
    kept = client.post(f"{AT}/works", json={"scope": show, "value": {**work["value"], "place": 0}})
    assert (kept.status_code, kept.json()["type"]) == (409, "/problems/taken")
