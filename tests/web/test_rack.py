"""The rack in the browser: pieces put in, found by words and by what they hold, changed, put away, had back."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from tests.web.design_shop import caller_at

AT = "/rack"


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    with caller_at(tmp_path) as caller:
        yield caller.client


def put(client: TestClient, size: str, material: str = "white 4-ply", **said: str) -> str:
    """Put a piece in; returns the page that follows."""
    return client.post(AT, data={"material": material, "size": size, **said}).text


def numbers(html: str) -> list[str]:
    return re.findall(r">([^<]*)</a></th>", html)


def piece(html: str, number: str) -> dict[str, str]:
    """Return the id of the piece of that number, as its form sends it."""
    (ident,) = re.findall(rf'href="/rack\?piece=(\w+)[^"]*">{number}<', html)
    return {"piece": ident, "version": "1"}


def test_empty_rack_says_what_it_is_for(client: TestClient) -> None:
    html = client.get(AT).text
    assert "The rack is empty" in html
    assert 'value="1"' in html, "the number for the next piece"


def test_pieces_are_put_in_by_size_and_found_by_what_they_hold(client: TestClient) -> None:
    put(client, "12 x 30", number="7", place="shelf 2")
    put(client, "16 x 20", number="8")
    html = put(client, "9 x 12", "Black 4-Ply", number="9")
    assert numbers(html) == ["9", "8", "7"], "by material, the smallest first"
    assert "black 4-ply" in html, "the name as the shop has it"
    assert numbers(client.get(f"{AT}?holds=29+x+11").text) == ["7"]
    assert numbers(client.get(f"{AT}?holds=11+x+29").text) == ["7"], "turned or not"
    assert numbers(client.get(f"{AT}?holds=10+x+12").text) == ["8", "7"]
    assert numbers(client.get(f"{AT}?q=SHELF").text) == ["7"]
    assert numbers(client.get(f"{AT}?q=black").text) == ["9"]
    assert "No piece is so" in client.get(f"{AT}?holds=40+x+60").text
    wrong = client.get(f"{AT}?holds=nonsense").text
    assert "is not" in wrong or "cannot be used" in wrong
    assert numbers(wrong) == ["9", "8", "7"], "and nothing is hidden"


@pytest.mark.parametrize(
    ("said", "where"),
    [
        ({"material": "no such board", "size": "9 x 12"}, "e-material"),
        ({"material": "white 4-ply", "size": ""}, "e-size"),
        ({"material": "white 4-ply", "size": "9"}, "e-size"),
        ({"material": "white 4-ply", "size": "0 x 3"}, "e-size"),
        ({"material": "white 4-ply", "size": "9 x 12", "number": "n" * 90}, "e-number"),
        ({"material": "white 4-ply", "size": "9 x 12", "place": "<b>" * 60}, "e-place"),
    ],
)
def test_what_cannot_be_kept_is_told_beside_its_field_and_not_lost(
    client: TestClient, said: dict[str, str], where: str
) -> None:
    answer = client.post(AT, data=said)
    assert answer.status_code == 422
    assert f'id="{where}"' in answer.text
    assert f'value="{said["size"]}"' in answer.text
    assert "<b><b>" not in answer.text
    assert "The rack is empty" in client.get(AT).text


def test_number_that_another_piece_has_is_told(client: TestClient) -> None:
    put(client, "12 x 30", number="7")
    answer = client.post(AT, data={"material": "white 4-ply", "size": "9 x 12", "number": "7"})
    assert answer.status_code == 422
    assert "there is a rack called" in answer.text or "give it another" in answer.text


def test_piece_is_changed_put_away_and_had_back(client: TestClient) -> None:
    html = put(client, "12 x 30 1/16", number="7")
    form = piece(html, "7")
    shown = client.get(f"{AT}?piece={form['piece']}").text
    assert 'value="12 x 30 1/16 in"' in shown, "exactly as it is"
    html = put(client, "12 x 14", number="7", place="door", **form)
    assert "door" in html
    stale = client.post(AT, data={"material": "white 4-ply", "size": "1 x 1", **form})
    assert "changed elsewhere" in stale.text
    assert 'value="12 x 14 in"' in stale.text
    form["version"] = "2"
    assert "The rack is empty" in client.post(f"{AT}/away", data=form).text
    assert numbers(client.get(f"{AT}?away=1").text) == ["7"]
    client.post(f"{AT}/away", data={**form, "version": "3", "back": "yes"})
    assert numbers(client.get(AT).text) == ["7"]
    assert f"/rack?piece={form['piece']}" in client.get("/find?q=door").text


def test_piece_that_there_is_not_is_no_fault_of_ours(client: TestClient) -> None:
    assert "A piece more" in client.get(f"{AT}?piece=nobody").text
    assert client.post(f"{AT}/away", data={"piece": "nobody", "version": "1"}).status_code == 200
    assert client.post(AT, data={"piece": "nobody", "material": "white 4-ply", "size": "9 x 12"}).status_code == 422
