"""Plans over the API: proposed, named, copied, printed again, accepted, cut; what hinders each is told."""

from __future__ import annotations

from typing import Any

from starlette.testclient import TestClient
from tests.web.shops import AT, made, seeded

HERE = f"{AT}/plans"


def plan(client: TestClient, ident: str) -> dict[str, Any]:
    found: dict[str, Any] = client.get(f"{HERE}/{ident}").json()
    return found


def at(version: int) -> dict[str, str]:
    return {"If-Match": f'"{version}"'}


def job(client: TestClient, answer: Any) -> dict[str, Any]:
    """Wait for the long work that an answer names; returns how it ended."""
    assert answer.status_code == 202, answer.text
    ident = answer.json()["id"]
    with client.stream("GET", f"{AT}/jobs/{ident}/events") as events:
        "".join(events.iter_text())
    found: dict[str, Any] = client.get(f"{AT}/jobs/{ident}").json()
    return found


def test_plan_goes_its_way(client: TestClient) -> None:
    seeds = seeded(client)
    ident, show = seeds["plans"], seeds["shows"]
    first = plan(client, ident)
    assert first["value"]["summary"].startswith("1 work")
    assert {"answers", "document"}.isdisjoint(first["value"])
    named = client.put(f"{HERE}/{ident}/name", json={"name": "Monday"}, headers=at(first["version"]))
    assert (named.status_code, named.json()["name"]) == (200, "Monday")
    copy = client.post(f"{HERE}/{ident}/copy", json={"name": "Tuesday"})
    assert (copy.status_code, copy.json()["value"]["accepted"]) == (201, False)
    early = client.post(f"{HERE}/{ident}/cut", headers=at(2))
    assert (early.status_code, early.json()["type"]) == (422, "/problems/bad-input")
    accepted = client.post(f"{HERE}/{ident}/accept", headers=at(2))
    assert accepted.json()["value"]["accepted"]
    assert client.get(f"{HERE}?scope={show}&state=accepted").json()["total"] == 1
    papers = job(client, client.post(f"{HERE}/{ident}/papers", json={}))
    assert papers["state"] == "done"
    assert [each for each in papers["files"] if each.endswith("cutting.pdf")]
    before = client.get(f"{AT}/rack").json()["total"]
    once = {**at(3), "Idempotency-Key": "cut it once"}
    cut = client.post(f"{HERE}/{ident}/cut", headers=once)
    assert (cut.status_code, cut.json()["value"]["cut"]) == (200, True)
    rack = client.get(f"{AT}/rack").json()
    assert rack["total"] != before
    assert client.post(f"{HERE}/{ident}/cut", headers=once).json() == cut.json()
    assert client.get(f"{AT}/rack").json() == rack
    assert client.get(f"{HERE}?state=cut").json()["total"] == 1


def test_show_that_is_cut_otherwise_is_told_as_a_problem(client: TestClient) -> None:
    seeds = seeded(client)
    given = {"id": "8", "title": "Lock", "size": "5 x 7"}
    made(client, "/works/typed", {"scope": seeds["shows"], "given": given})
    papers = job(client, client.post(f"{HERE}/{seeds['plans']}/papers", json={"paper": "a4"}))
    assert papers["state"] == "failed"
    assert papers["problem"]["type"] == "/problems/plan-outgrown"
    assert "no longer fits" in papers["problem"]["detail"]


def test_piece_that_another_plan_has_is_told_as_a_problem(client: TestClient) -> None:
    seeds = seeded(client)
    size = {"width": 609_600_000, "height": 762_000_000}
    cost = {"amount": "0.00", "currency": "USD"}
    large = {"piece": {"material": "white 4-ply", "size": size, "cost": cost}}
    piece = made(client, "/rack", {"value": large})
    planned = job(
        client, client.post(f"{AT}/shows/{seeds['shows']}/plans", json={"steps": 20, "name": "from the rack"})
    )
    ident = planned["result"]["plan"]
    assert plan(client, ident)["value"]["takes"] == [piece["id"]]
    gone = client.put(f"{AT}/rack/{piece['id']}/archived", json={"archived": True}, headers=at(piece["version"]))
    assert gone.status_code == 200
    refused = client.post(f"{HERE}/{ident}/accept", headers=at(1))
    assert (refused.status_code, refused.json()["type"]) == (409, "/problems/rack-taken")
