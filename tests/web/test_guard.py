"""What is let in: hosts, origins, sizes, depth, rate; what every answer carries; what a broken shop says."""

from __future__ import annotations

import json
import logging
import sqlite3
from pathlib import Path

import pytest
from fastapi import FastAPI
from hypothesis import given
from hypothesis import strategies as st
from starlette.testclient import TestClient
from tests.web.shops import AT, BASE, FILE, SHOW, app_at, client_at, made

from fourply.errors import NewerStore, Unavailable
from fourply.web.guard import POLICY, Guard, Rates, Refused, check_json
from fourply.web.parts import LOOPBACK, Limits
from fourply.wiring import store

WIDE = {"value": {"name": "wide", "rules": {"name": "any", "values": {}}}}


@pytest.mark.parametrize("host", ["127.0.0.1:8421", "localhost:8421", "localhost", "[::1]:8421", "LOCALHOST:1"])
def test_this_machine_is_let_in(client: TestClient, host: str) -> None:
    assert client.get(f"{AT}/shows", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host", ["example.org", "example.org:8421", "127.0.0.1.example.org", "", "[::2]:8421", "127.0.0.1@x"]
)
def test_a_name_of_a_stranger_is_turned_away(client: TestClient, host: str) -> None:
    answer = client.get(f"{AT}/shows", headers={"Host": host})
    assert (answer.status_code, answer.json()["type"]) == (421, "/problems/wrong-host")


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://example.org"},
        {"Origin": "null"},
        {"Origin": "http://127.0.0.1:9999"},
        {"Origin": "http://localhost:8421"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
)
def test_a_page_of_another_origin_changes_nothing(client: TestClient, headers: dict[str, str]) -> None:
    answer = client.post(f"{AT}/treatments", json=WIDE, headers=headers)
    assert (answer.status_code, answer.json()["type"]) == (403, "/problems/cross-origin")
    assert client.get(f"{AT}/treatments").json()["total"] == 0
    assert client.get(f"{AT}/treatments", headers=headers).status_code == 200


@pytest.mark.parametrize("headers", [{"Origin": BASE}, {"Sec-Fetch-Site": "same-origin"}, {}])
def test_its_own_pages_may_change_things(client: TestClient, headers: dict[str, str]) -> None:
    assert client.post(f"{AT}/treatments", json=WIDE, headers=headers).status_code == 201


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x"])
def test_what_a_form_can_send_is_not_taken(client: TestClient, kind: str) -> None:
    answer = client.post(f"{AT}/treatments", content=json.dumps(WIDE).encode(), headers={"Content-Type": kind})
    assert answer.status_code == 415


@pytest.mark.parametrize("path", ["/openapi.json", f"{AT}/shows", f"{AT}/nowhere", "/static/none.css", f"{AT}/shows/x"])
def test_every_answer_carries_the_policy(client: TestClient, path: str) -> None:
    headers = client.get(path).headers
    assert headers["Content-Security-Policy"] == POLICY
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert "unsafe" not in POLICY
    assert "Access-Control-Allow-Origin" not in headers


def test_a_refusal_carries_the_policy_too(client: TestClient) -> None:
    assert client.get("/", headers={"Host": "example.org"}).headers["Content-Security-Policy"] == POLICY


def test_a_body_has_a_limit(tmp_path: Path) -> None:
    limits = Limits(json_bytes=1000, file_bytes=2000, rate=1e9, burst=1e9)
    with client_at(tmp_path, limits) as client:
        show = made(client, "/shows", {"value": SHOW})["id"]
        large = {"value": {"name": "w" * 1000, "rules": {"name": "any", "values": {}}}}
        answer = client.post(f"{AT}/treatments", json=large)
        assert (answer.status_code, answer.json()["expected"]) == (413, 1000)
        at = f"{AT}/shows/{show}/lists/read"
        assert client.post(at, content=b"x" * 2001, headers=FILE).status_code == 413
        unsized = (b"No,Width,Height\n" for _ in range(1000))
        assert client.post(at, content=unsized, headers=FILE).status_code == 413
        assert client.post(at, content=b"No,Width,Height\n1,8,9\n", headers=FILE).status_code == 200


@pytest.mark.parametrize(
    ("body", "kind"),
    [
        (b"[" * 100 + b"]" * 100, "too-deep"),
        (b'{"a":' * 5000, "too-deep"),
        (b'"\xff"', "bad-text"),
        (b'{"value": "\\ud800"}', "bad-text"),
    ],
)
def test_json_that_no_reader_may_be_given(client: TestClient, body: bytes, kind: str) -> None:
    answer = client.post(f"{AT}/treatments", content=body, headers={"Content-Type": "application/json"})
    assert (answer.status_code, answer.json()["type"]) == (400, f"/problems/{kind}")


def test_what_is_no_json_is_told_where(client: TestClient) -> None:
    answer = client.post(f"{AT}/treatments", content=b'{"value": ', headers={"Content-Type": "application/json"})
    assert (answer.status_code, answer.json()["type"]) == (422, "/problems/bad-request")


def depth(value: object) -> int:
    """Return how deep JSON is nested."""
    if isinstance(value, dict):
        return 1 + max((depth(each) for each in value.values()), default=0)
    return 1 + max((depth(each) for each in value), default=0) if isinstance(value, list) else 0


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(st.characters(codec="utf-8")),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(st.characters(codec="utf-8")), inner, max_size=3)
    ),
)


@given(value=JSON, ascii_only=st.booleans())
def test_depth_is_that_of_the_value(value: object, *, ascii_only: bool) -> None:
    body = json.dumps(value, ensure_ascii=ascii_only).encode()
    check_json(body, depth(value))
    if depth(value):
        with pytest.raises(Refused):
            check_json(body, depth(value) - 1)


def test_too_many_requests_are_told_to_wait(tmp_path: Path) -> None:
    with client_at(tmp_path, Limits(rate=0.001, burst=3)) as client:
        answers = [client.get(f"{AT}/shows") for _ in range(4)]
    assert [each.status_code for each in answers] == [200, 200, 200, 429]
    assert answers[3].headers["Retry-After"]


@given(st.lists(st.floats(0, 2), max_size=60))
def test_nobody_gets_more_than_the_rate(pauses: list[float]) -> None:
    rates, now, taken = Rates(2, 5), 0.0, 0
    for pause in pauses:
        now += pause
        taken += rates.take("a", now)
    assert taken <= 5 + 2 * now + 1e-6


def test_our_own_fault_is_told_and_written_down(caplog: pytest.LogCaptureFixture) -> None:
    app = FastAPI()

    @app.get("/broken")
    def broken() -> None:
        raise ZeroDivisionError

    app.add_middleware(Guard, hosts=LOOPBACK, limits=Limits())
    with caplog.at_level(logging.ERROR):
        answer = TestClient(app, base_url=BASE).get("/broken")
    assert (answer.status_code, answer.json()["type"]) == (500, "/problems/our-fault")
    assert answer.headers["Content-Security-Policy"] == POLICY
    assert "ZeroDivisionError" in caplog.text


def test_a_shop_of_a_newer_fourply_is_refused_clearly(tmp_path: Path) -> None:
    store(tmp_path).close()
    with sqlite3.connect(tmp_path / "shop.sqlite") as database:
        database.execute("INSERT INTO fourply_schema VALUES (99)")
    database.close()
    with pytest.raises(NewerStore, match="newer fourply"):
        app_at(tmp_path)


def test_a_broken_shop_is_refused_clearly(tmp_path: Path) -> None:
    (tmp_path / "shop.sqlite").write_bytes(b"no database at all" * 100)
    with pytest.raises(Unavailable, match="restore"):
        app_at(tmp_path)


def test_a_shop_that_breaks_while_it_is_served_says_so(tmp_path: Path) -> None:
    with client_at(tmp_path) as client:
        made(client, "/shows", {"value": SHOW})
        client.app.state.room.parts.store.close()  # type: ignore[attr-defined]
        for end in ("", "-wal", "-shm"):
            (tmp_path / f"shop.sqlite{end}").write_bytes(b"rubbish " * 2000)
        answer = client.get(f"{AT}/shows")
        assert (answer.status_code, answer.json()["type"]) == (503, "/problems/unavailable")
        assert "restore" in answer.json()["detail"]
