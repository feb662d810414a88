"""Papers of a show in the browser: made while the page says how far they are, left, come back to, opened, packed."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path
from time import monotonic, sleep
from typing import Any
from zipfile import ZipFile

import pytest
from starlette.testclient import TestClient
from tests.web.browser import browsing
from tests.web.design_shop import Caller, Shop, caller_at, served, shop_at

PATIENCE = 120


@pytest.fixture(scope="module")
def caller(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Caller]:
    with caller_at(tmp_path_factory.mktemp("papers")) as found:
        yield found


def made(client: TestClient, at: str) -> str:
    """Wait until the papers are made; returns the page."""
    until = monotonic() + PATIENCE
    while "data-job" in (html := client.get(at).text):
        assert monotonic() < until
        sleep(0.05)
    return html


def test_papers_are_made_opened_packed_and_grow_old(caller: Caller) -> None:
    client, at = caller.client, f"/shows/{caller.shop.show}/papers"
    assert "Nothing is made yet" in client.get(at).text
    assert client.get(f"{at}/all.zip").status_code == 404
    running = client.post(at, data={"paper": "a4"}).text
    assert "They are being made" in running
    assert client.post(at).text.count("data-job") == 1, "one at a time for a show"
    html = made(client, at)
    links = dict(re.findall(r'<a href="(/api/v1/jobs/[^"]*)"[^>]*>([^<]*)</a>', html))
    assert {"Tickets", "Cutting sheets", "Bench list", "Shopping list"} <= set(links.values())
    for link, called in links.items():
        answer = client.get(link)
        assert answer.status_code == 200, called
        assert answer.content.startswith(b"%PDF") == link.endswith(".pdf")
    assert "white 4-ply" in html
    assert re.search(r"\d+ of \d+", html)
    names = ZipFile(io.BytesIO(client.get(f"{at}/all.zip").content)).namelist()
    assert {"tickets.pdf", "plan.json"} <= set(names)
    assert any(name.startswith("drawings/") for name in names)
    assert "has changed since" not in html
    assert ">accepted<" in client.post(f"{at}/accept", data=plan_form(html)).text
    assert "has changed since" not in client.get(at).text
    kept = caller.keep("TM-02", caller.design("TM-02")["version"], rules={"border": "4 in"})
    assert kept["status"] == 200
    assert "has changed since" in client.get(at).text


def plan_form(html: str) -> dict[str, str]:
    """Return what the buttons of the first plan on the page send."""
    return dict(re.findall(r'name="(plan|version)" value="([^"]+)"', html)[:2])


def test_papers_of_a_kept_plan_come_back_when_the_server_does(tmp_path: Path) -> None:
    with caller_at(tmp_path) as caller:
        at = f"/shows/{caller.shop.show}/papers"
        caller.client.post(at)
        html = made(caller.client, at)
        before = ZipFile(io.BytesIO(caller.client.get(f"{at}/all.zip").content))
        caller.client.post(f"{at}/accept", data=plan_form(html))
    with caller_at(tmp_path) as caller:
        html = caller.client.get(at).text
        assert "All in one ZIP" not in html
        assert ">accepted<" in html
        caller.client.post(f"{at}/again", data=plan_form(html))
        made(caller.client, at)
        after = ZipFile(io.BytesIO(caller.client.get(f"{at}/all.zip").content))
        assert after.namelist() == before.namelist()
        assert [name for name in before.namelist() if after.read(name) != before.read(name)] == []
        caller.keep("TM-02", caller.design("TM-02")["version"], rules={"border": "4 in"})
        caller.client.post(f"{at}/again", data=plan_form(html))
        assert "no longer fits its show" in made(caller.client, at)


def test_plan_is_accepted_cut_and_put_away_and_the_rack_follows(tmp_path: Path) -> None:
    with caller_at(tmp_path) as caller:
        client, at = caller.client, f"/shows/{caller.shop.show}/papers"
        piece = {"material": "white 4-ply", "size": "24 x 30", "place": "shelf 2", "number": "3"}
        assert "shelf 2" in client.post("/rack", data=piece).text
        client.post(at)
        html = made(client, at)
        assert "accepted and not cut yet" in client.post(f"{at}/cut", data=plan_form(html)).text
        html = client.post(f"{at}/accept", data=plan_form(html)).text
        assert "What it takes from the rack, 1 piece" in html
        promised = client.get("/rack").text
        assert f'href="/shows/{caller.shop.show}/papers"' in promised
        html = client.post(f"{at}/cut", data=plan_form(html)).text
        assert ">cut<" in html
        rack = client.get("/rack").text
        assert "shelf 2" not in rack
        assert re.search(r">4</a></th>", rack), "the next number"
        assert ">3</a></th>" in client.get("/rack?away=1").text
        assert "Plans</h2>" not in client.post(f"{at}/away", data=plan_form(html)).text


def test_making_can_be_stopped(tmp_path: Path) -> None:
    with caller_at(tmp_path) as caller:
        at = f"/shows/{caller.shop.show}/papers"
        caller.client.post(at, data={"seconds": "30"})
        caller.client.post(f"{at}/stop")
        assert "Stopped; nothing was made" in made(caller.client, at)


def test_show_of_which_nothing_can_be_made_says_so(tmp_path: Path) -> None:
    with caller_at(tmp_path) as caller:
        caller.client.post("/shows", data={"title": "Bare"})
        show = re.findall(r'href="/shows/(\w+)"', caller.client.get("/?q=Bare").text)[0]
        at = f"/shows/{show}/papers"
        caller.client.post(at)
        assert "at least one work that can be made" in made(caller.client, at)


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[tuple[Any, str, Shop]]:
    with browsing() as browser:
        shop = shop_at(tmp_path / "shop")
        with served(shop) as address:
            yield browser, address, shop


@pytest.mark.parametrize("hand", ["mouse", "keyboard"])
def test_journey_from_the_wall_to_a_ticket(desk: tuple[Any, str, Shop], hand: str) -> None:
    """Papers are made, the page left and come back to, a ticket opened, by mouse or by the keys alone."""
    browser, address, shop = desk
    page = browser.new_page(viewport={"width": 1440, "height": 900})

    def press(role: str, name: str) -> None:
        found = page.get_by_role(role, name=name, exact=True).first
        if hand == "mouse":
            found.click()
        else:
            found.focus()
            page.keyboard.press("Enter")

    page.goto(f"{address}/shows/{shop.show}")
    press("link", "Papers")
    press("button", "Make them")
    page.wait_for_url("**/papers")
    press("link", "Wall")
    page.wait_for_url(f"**/shows/{shop.show}")
    press("link", "Papers")
    link = page.get_by_role("link", name="Tickets", exact=True)
    link.wait_for(timeout=PATIENCE * 1000)
    ticket = page.request.get(f"{address}{link.get_attribute('href')}")
    assert ticket.body().startswith(b"%PDF")
    page.close()
