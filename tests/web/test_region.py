"""What a shop says of its region and of itself: on every page and paper, and nowhere in what somebody typed."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pdfplumber
import pytest
from tests.web.design_shop import Caller, caller_at

OURS = re.compile(r"(?<![\w./])(?:mats?|matted|under-mats?|rabbets?)(?![\w/]|\.\w)", re.IGNORECASE)
TYPED = "The mat maker"
SHOWN = {"says", "remedy", "label", "title", "note", "notes", "reason", "outline"}


def say(caller: Caller, **settings: str) -> None:
    now = re.search(r'name="version" value="(\w*)"', caller.client.get("/settings").text)
    answer = caller.client.post(
        "/settings", data={"version": now[1] if now else "", **settings}, follow_redirects=False
    )
    assert answer.status_code == 303, answer.text


@pytest.fixture
def caller(tmp_path: Path) -> Iterator[Caller]:
    """Somebody at a shop whose terms are mount and rebate, with a work whose title has a mat."""
    with caller_at(tmp_path) as caller:
        say(caller, terms="mount")
        work = caller.shop.works["TM-14"]
        got = caller.client.get(f"/api/v1/works/{work}").json()
        got["value"]["listed"]["work"]["title"] = TYPED
        kept = caller.client.put(
            f"/api/v1/works/{work}", json={"value": got["value"]}, headers={"If-Match": f'"{got["version"]}"'}
        )
        assert kept.status_code == 200, kept.text
        yield caller


def pages(caller: Caller, works: int | None = None) -> list[str]:
    address = f"/api/v1/shows/{caller.shop.show}/tickets.pdf" if works is None else f"/api/v1/works/{works}/ticket.pdf"
    answer = caller.client.get(address)
    assert answer.status_code == 200, answer.text[:300]
    with pdfplumber.open(io.BytesIO(answer.content)) as pdf:
        return [str(page.extract_text()) for page in pdf.pages]


def shown(data: Any, key: str = "") -> Iterator[str]:
    """Yield the texts of a design that people read."""
    if isinstance(data, dict):
        for name, each in data.items():
            yield from shown(each, name)
    elif isinstance(data, list):
        for each in data:
            yield from shown(each, key)
    elif isinstance(data, str) and key in SHOWN:
        yield data


def test_every_ticket_is_in_the_terms_of_the_region(caller: Caller) -> None:
    text = "\n".join(pages(caller))
    assert re.search(r"\bmounts?\b", text)
    assert re.search(r"\brebate\b", text)
    assert TYPED in text, "what was typed stands"
    assert OURS.findall(text.replace(TYPED, "")) == []


def test_without_a_word_the_terms_are_mat_and_rabbet(caller: Caller) -> None:
    say(caller, terms="mat")
    text = "\n".join(pages(caller))
    assert {each.lower() for each in OURS.findall(text)} >= {"mat", "under-mat", "rabbet"}
    assert "rebate" not in text


@pytest.mark.parametrize("number", ["TM-01", "TM-12", "TM-14"])
def test_design_page_is_in_the_terms_of_the_region(caller: Caller, number: str) -> None:
    design = caller.design(number)
    read = [each for each in shown(design) if each != TYPED]
    assert [each for each in read if OURS.search(each)] == []
    assert any("mount" in each.lower() for each in read)
    assert design["handles"][0]["figure"].startswith("mat.1."), "paths of figures stay"
    figure = next(each["figure"] for each in design["handles"])
    answer = caller.client.post(f"{caller.shop.page(number).removesuffix('/design')}/why.json", json={"figure": figure})
    assert [each for each in shown(answer.json()) if OURS.search(each)] == []


def test_a_part_is_added_by_the_name_that_it_has_within(caller: Caller) -> None:
    design = caller.design("TM-01")
    mats = next(r for group in design["rules"]["groups"] for r in group["rules"] if r["key"] == "mats")
    more = mats["parts"]["more"][0]
    assert more["says"] == "an inner mount"
    part = {"rule": "mats", "act": "more", "name": more["name"]}
    assert len(caller.ask("TM-01", part=part)["section"]["layers"]) > len(design["section"]["layers"])


def test_pages_are_in_the_terms_of_the_region(caller: Caller) -> None:
    for address in (
        f"/shows/{caller.shop.show}",
        f"/shows/{caller.shop.show}/totals",
        "/materials/new/mouldings",
        "/settings",
    ):
        text = caller.client.get(address).text
        seen = re.sub(r"<select.*?</select>|<script.*?</script>|<[^>]*>", " ", text, flags=re.DOTALL).replace(TYPED, "")
        assert OURS.findall(seen) == [], address


def test_letterhead_is_on_every_page_and_bad_ones_are_told(caller: Caller) -> None:
    said = {"name": "Weir Lane Framing", "address": "3 Weir Lane", "phone": "555 0100", "note": "Closed on Mondays."}
    say(caller, **said)
    for text in pages(caller):
        for each in said.values():
            assert each in text
    bad = caller.client.post("/settings", data={"address": "x" * 121, "phone": "5", "version": ""})
    assert bad.status_code == 422
    assert "at most 120 characters" in bad.text
    assert "x" * 121 in bad.text, "nothing is lost"


def test_finest_fraction_of_new_works_is_that_of_the_shop(caller: Caller) -> None:
    before = caller.design("TM-16")
    say(caller, grid="1/8 in")
    rule = next(r for group in caller.design("TM-16")["rules"]["groups"] for r in group["rules"] if r["key"] == "grid")
    assert rule["text"] == "1/8 in"
    assert json.dumps(before["groups"]) != json.dumps(caller.design("TM-16")["groups"])
