"""Records over the API: versions, keys, lists, undo; each answer as it is documented."""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from starlette.testclient import TestClient
from tests.web.shops import AT, BORDER, SHOW, Seeds, made

WIDE = {"name": "wide", "rules": BORDER}


def renamed(name: str) -> dict[str, Any]:
    return {"value": {**WIDE, "name": name}}


def put(client: TestClient, path: str, body: object, version: int, **more: str) -> Any:
    return client.put(f"{AT}{path}", json=body, headers={"If-Match": f'"{version}"', **more})


def test_a_record_is_made_read_changed_and_copied(client: TestClient) -> None:
    answer = client.post(f"{AT}/treatments", json={"value": WIDE})
    assert (answer.status_code, answer.headers["ETag"]) == (201, '"1"')
    at = answer.headers["Location"].removeprefix(AT)
    assert client.get(f"{AT}{at}").json()["value"]["rules"]["values"] == {"border": "3 in"}
    changed = put(client, at, renamed("wider"), 1)
    assert (changed.status_code, changed.headers["ETag"], changed.json()["name"]) == (200, '"2"', "wider")
    copied = client.post(f"{AT}{at}/copy", json={"name": "widest"})
    assert (copied.status_code, copied.json()["version"]) == (201, 1)
    assert client.get(f"{AT}/treatments").json()["total"] == 2


def test_what_has_not_changed_is_not_sent_again(client: TestClient) -> None:
    ident = made(client, "/treatments", {"value": WIDE})["id"]
    answer = client.get(f"{AT}/treatments/{ident}", headers={"If-None-Match": '"1"'})
    assert (answer.status_code, answer.content) == (304, b"")
    assert client.get(f"{AT}/treatments/{ident}", headers={"If-None-Match": '"2"'}).status_code == 200


def test_a_change_without_a_version_is_not_taken(client: TestClient) -> None:
    ident = made(client, "/treatments", {"value": WIDE})["id"]
    answer = client.put(f"{AT}/treatments/{ident}", json=renamed("x"))
    assert (answer.status_code, answer.json()["type"]) == (428, "/problems/version-needed")
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert client.get(f"{AT}/treatments/{ident}").json()["version"] == 1


def test_a_stale_change_is_answered_with_both_versions(client: TestClient) -> None:
    at = f"/treatments/{made(client, '/treatments', {'value': WIDE})['id']}"
    assert put(client, at, renamed("first"), 1).status_code == 200
    answer = put(client, at, renamed("second"), 1)
    told = answer.json()
    assert (answer.status_code, told["type"]) == (412, "/problems/stale")
    assert (told["yours"]["name"], told["theirs"]["value"]["name"], told["theirs"]["version"]) == ("second", "first", 2)
    assert put(client, at, renamed("second"), told["theirs"]["version"]).status_code == 200


def test_of_many_at_once_one_changes_it(client: TestClient) -> None:
    at = f"/treatments/{made(client, '/treatments', {'value': WIDE})['id']}"
    with ThreadPoolExecutor(8) as pool:
        codes = list(pool.map(lambda n: put(client, at, renamed(f"n{n}"), 1).status_code, range(8)))
    assert sorted(codes) == [200, *[412] * 7]


def test_the_same_key_does_nothing_twice(client: TestClient) -> None:
    key = {"Idempotency-Key": "a-1"}
    first = client.post(f"{AT}/treatments", json={"value": WIDE}, headers=key)
    again = client.post(f"{AT}/treatments", json={"value": WIDE}, headers=key)
    assert (again.status_code, again.json()) == (201, first.json())
    at = f"/treatments/{first.json()['id']}"
    changed = [put(client, at, renamed("x"), 1, **{"Idempotency-Key": "a-2"}) for _ in range(2)]
    assert [each.status_code for each in changed] == [200, 200]
    assert changed[1].json()["version"] == 2
    assert client.get(f"{AT}/history").json()["total"] == 2
    other = client.post(f"{AT}/treatments", json=renamed("y"), headers=key)
    assert (other.status_code, other.json()["type"]) == (422, "/problems/key-reused")


def turned(client: TestClient, scope: str, way: str) -> Any:
    """Undo or redo what is the last entry now."""
    tag = client.get(f"{AT}/scopes/{scope}/undoable").headers["ETag"]
    return client.post(f"{AT}/scopes/{scope}/{way}", headers={"If-Match": tag})


def test_undo_takes_back_only_what_was_seen(client: TestClient) -> None:
    at = f"/treatments/{made(client, '/treatments', {'value': WIDE})['id']}"
    seen = client.get(f"{AT}/scopes/shop/undoable")
    put(client, at, renamed("of another"), 1)
    answer = client.post(f"{AT}/scopes/shop/undo", headers={"If-Match": seen.headers["ETag"]})
    assert (answer.status_code, answer.json()["theirs"]["label"]) == (412, "change treatment of another")
    assert client.post(f"{AT}/scopes/shop/undo").status_code == 428
    assert client.get(f"{AT}{at}").json()["name"] == "of another"
    assert turned(client, "shop", "undo").status_code == 200
    assert client.get(f"{AT}{at}").json()["name"] == "wide"


def test_undo_and_redo_are_entries_of_the_history(client: TestClient) -> None:
    at = f"/treatments/{made(client, '/treatments', {'value': WIDE})['id']}"
    put(client, at, renamed("x"), 1, **{"X-Who": "Ann"})
    assert client.get(f"{AT}/scopes/shop/undoable").json()["undo"]["who"] == "Ann"
    undone = turned(client, "shop", "undo").json()
    assert (undone["entry"]["act"], undone["records"][0]["name"]) == ("undo", "wide")
    assert client.get(f"{AT}{at}").json()["name"] == "wide"
    assert turned(client, "shop", "redo").json()["records"][0]["name"] == "x"
    answer = turned(client, "shop", "redo")
    assert (answer.status_code, answer.json()["type"]) == (409, "/problems/nothing-to-undo")
    acts = [each["act"] for each in client.get(f"{AT}/history?scope=shop").json()["items"]]
    assert acts == ["redo", "undo", "do", "do"]


def test_an_earlier_state_comes_back(client: TestClient) -> None:
    at = f"/treatments/{made(client, '/treatments', {'value': WIDE})['id']}"
    put(client, at, renamed("x"), 1)
    back = client.post(f"{AT}{at}/take-back", json={"version": 1}, headers={"If-Match": '"2"'}).json()
    assert (back["version"], back["name"]) == (3, "wide")
    versions = client.get(f"{AT}{at}/versions").json()["items"]
    assert [each["after"]["value"]["name"] for each in versions] == ["wide", "x", "wide"]
    seq = versions[1]["entry"]["seq"]
    assert client.get(f"{AT}/history/{seq}").json() == {"items": [versions[1]], "total": 1, "next": ""}


def test_versions_and_what_an_entry_did_are_read_page_by_page(client: TestClient) -> None:
    at = f"/treatments/{made(client, '/treatments', {'value': WIDE})['id']}"
    for version in range(1, 6):
        put(client, at, renamed(f"name {version}"), version)
    first = client.get(f"{AT}{at}/versions?limit=4").json()
    rest = client.get(f"{AT}{at}/versions?limit=4&before={first['next']}").json()
    assert [each["version"] for page in (first, rest) for each in page["items"]] == [6, 5, 4, 3, 2, 1]
    assert (first["total"], rest["total"], rest["next"]) == (6, 6, "")
    client.post(f"{AT}/materials/start", json={"metric": False})
    seq = client.get(f"{AT}/history?scope=shop&limit=1").json()["items"][0]["seq"]
    whole = client.get(f"{AT}/history/{seq}?limit=500").json()
    pages: list[object] = []
    after = ""
    while not pages or after:
        page = client.get(f"{AT}/history/{seq}?limit=7{after and f'&after={after}'}").json()
        pages += page["items"]
        after = page["next"]
    assert pages == whole["items"]
    assert len(pages) == whole["total"] > 7
    assert client.get(f"{AT}/history/{seq}?limit=501").status_code == 422


def test_what_is_archived_stands_in_no_list(client: TestClient) -> None:
    ident = made(client, "/treatments", {"value": WIDE})["id"]
    answer = put(client, f"/treatments/{ident}/archived", {"archived": True}, 1)
    assert (answer.status_code, answer.json()["archived"]) == (200, True)
    assert [client.get(f"{AT}/treatments?archived={which}").json()["total"] for which in ("no", "yes", "all")] == [
        0,
        1,
        1,
    ]
    assert client.get(f"{AT}/treatments/{ident}").json()["archived"] is True


def test_a_name_is_taken_once(client: TestClient) -> None:
    first = made(client, "/shows", {"value": SHOW})
    answer = client.post(f"{AT}/shows", json={"value": {**SHOW, "title": "QUAY"}})
    assert (answer.status_code, answer.json()["holder"]) == (409, first["id"])


def test_lists_are_paged_searched_sorted_and_filtered(client: TestClient) -> None:
    show = made(client, "/shows", {"value": SHOW})["id"]
    titles = ["Étude", "Weir", "Sluice", "Mill race", "Lock"]
    for number, title in enumerate(titles, start=1):
        given = {
            "id": str(number),
            "title": title,
            "size": "9 x 12",
            "maker": "A. Person" if number % 2 else "B. Other",
        }
        made(client, "/works/typed", {"scope": show, "given": given})

    def numbers(query: str) -> list[str]:
        return [each["name"] for each in client.get(f"{AT}/works?scope={show}&{query}").json()["items"]]

    assert numbers("text=ETUDE") == ["1"]
    assert numbers("sort=title") == ["1", "5", "4", "3", "2"]
    assert numbers("sort=name&descending=true") == ["5", "4", "3", "2", "1"]
    assert numbers("maker=B.%20Other") == ["2", "4"]
    assert numbers("state=delivered") == []
    seen: list[str] = []
    after, pages = "", 0
    while pages < 9:
        page = client.get(f"{AT}/works", params={"scope": show, "limit": 2, "after": after}).json()
        assert page["total"] == 5
        seen += [each["name"] for each in page["items"]]
        pages, after = pages + 1, page["next"]
        if not after:
            break
    assert (seen, pages) == (["1", "2", "3", "4", "5"], 3)


@pytest.mark.parametrize(
    ("path", "body", "where", "expected"),
    [
        ("/treatments", {"value": WIDE, "scop": "shop"}, "body.scop", "Extra inputs"),
        ("/works/typed", {"scope": "shop", "given": 3}, "body.given", "dictionary"),
        ("/materials/start", {"metric": "yes"}, "body.metric", "boolean"),
    ],
)
def test_a_wrong_request_is_told_where(client: TestClient, path: str, body: object, where: str, expected: str) -> None:
    answer = client.post(f"{AT}{path}", json=body)
    fault = answer.json()["errors"][0]
    assert (answer.status_code, fault["where"]) == (422, where)
    assert expected in fault["expected"]


def test_a_wrong_value_is_told_where(client: TestClient) -> None:
    value = {"name": "wide", "rules": {"name": "any", "values": {"border": "three"}}}
    told = client.post(f"{AT}/treatments", json={"value": value}).json()
    assert told["type"] == "/problems/bad-file"
    assert "rules.values.border" in told["detail"]


def test_there_is_no_such_thing(client: TestClient, shop: tuple[TestClient, Seeds]) -> None:
    answer = client.get(f"{AT}/works/nothing")
    assert (answer.status_code, answer.json()["type"]) == (404, "/problems/unknown")
    seen, seeds = shop
    assert seen.get(f"{AT}/works/{seeds['shows']}").status_code == 404
    assert client.get(f"{AT}/nowhere").json()["type"] == "/problems/not-found"
    assert client.delete(f"{AT}/works/x").status_code == 405


def test_settings_begin_at_version_0(client: TestClient) -> None:
    found = client.get(f"{AT}/settings")
    assert (found.headers["ETag"], found.json()["value"]["unit"]) == ('"0"', "in")
    value = {**found.json()["value"], "name": "Weir Lane", "unit": "mm"}
    assert put(client, "/settings", {"value": value}, 0).json()["version"] == 1
    assert put(client, "/settings", {"value": value}, 0).status_code == 412
    assert client.get(f"{AT}/settings").json()["value"]["name"] == "Weir Lane"


def test_the_description_is_openapi(client: TestClient) -> None:
    found = client.get("/openapi.json").json()
    assert found["openapi"].startswith("3.1")
    text = json.dumps(found)
    names = {part.split('"')[0] for part in text.split("#/components/schemas/")[1:]}
    assert names - found["components"]["schemas"].keys() == set()
    ids = [each["operationId"] for path in found["paths"].values() for each in path.values()]
    assert len(ids) == len(set(ids))
