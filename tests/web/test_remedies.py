"""What would put a finding right: offered on the design page, tried before, kept at a press, undone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from tests.web.browser import window
from tests.web.design_shop import Caller, caller_at, served, shop_at
from tests.web.desks import Desk
from tests.web.hands import Mouse

SPOILT: dict[str, dict[str, str]] = {
    "border.repeats_moulding": {"border": "1", "bottom": "equal"},
    "border.bottom_light": {"bottom": "2"},
    "overlap.small": {"overlap": "1/32"},
    "allowance.tight": {"allowance": "0"},
    "strip.thin": {"mats": "white 4-ply + grey 4-ply @ 1/16"},
}


@pytest.fixture
def caller(tmp_path: Path) -> Iterator[Caller]:
    """Somebody who changes designs."""
    with caller_at(tmp_path) as caller:
        yield caller


def rules_found(design: dict[str, object]) -> list[str]:
    findings = design["findings"]
    assert isinstance(findings, list)
    return [each["rule"] for each in findings]


@pytest.mark.parametrize("rule", SPOILT)
def test_every_remedy_that_is_offered_puts_its_finding_right(caller: Caller, rule: str) -> None:
    spoilt = caller.keep("TM-01", caller.design("TM-01")["version"], rules=SPOILT[rule])
    assert rule in rules_found(spoilt)
    found = caller.client.get(f"{caller.shop.page('TM-01').removesuffix('/design')}/remedies.json").json()["remedies"]
    mine = [each for each in found if each["rule"] == rule]
    assert mine, "something is offered"
    lines = (
        "at sight",
        "at the back line",
        "seen beside the lip",
        "over the sheet",
        "guide",
        "flat strip",
        "allowance",
    )
    for each in mine:
        assert "Set" not in each["says"] or any(line in each["says"] for line in lines), "a length says to what line"
    for each in mine:
        cured = caller.ask("TM-01", **each["change"])
        assert rules_found(cured).count(rule) < rules_found(spoilt).count(rule), each["says"]
        bad = {one["rule"] for one in cured["findings"] if one["level"] in {"fault", "caution"}}
        assert bad <= {one["rule"] for one in spoilt["findings"]}, "nothing worse comes instead"


def test_of_a_work_without_findings_nothing_is_offered(caller: Caller) -> None:
    assert rules_found(caller.design("TM-01")) == []
    answer = caller.client.get(f"{caller.shop.page('TM-01').removesuffix('/design')}/remedies.json")
    assert answer.json() == {"remedies": []}


def test_every_finding_has_its_place_in_one_of_the_drawings(caller: Caller) -> None:
    places = 0
    for number in caller.shop.works:
        design = caller.client.get(f"{caller.shop.page(number)}.json").json()
        for each in design["findings"]:
            places += 1
            if each["deep"]:
                assert each["at"] is None
            else:
                assert 0 <= each["at"][0] <= design["front"]["width"]
                assert 0 <= each["at"][1] <= design["front"]["height"]
    assert places


def test_what_a_supplier_asks_for_rails_has_its_currency(caller: Caller) -> None:
    rows = [row for group in caller.design("TM-01")["groups"] for row in group["rows"]]
    asked = [row["figures"][0]["text"] for row in rows if row["label"] == "Cut to size, by the supplier"]
    assert [text.partition(" ")[2] for text in asked] == ["USD"]


@pytest.mark.parametrize("hand", ["mouse", "keyboard"])
def test_journey_from_a_sign_in_the_drawing_to_its_remedy_and_back(browser: Browser, tmp_path: Path, hand: str) -> None:
    """A caution is seen beside its border, read, put right at a press, and the press undone."""
    shop = shop_at(tmp_path)
    with served(shop) as at, window(browser) as page:
        page.goto(at)
        desk = Desk(page, Mouse(page), shop, at)
        desk.go(shop.page("TM-01"))
        page.locator("[data-rules] summary").click()
        page.locator("#rule-bottom").fill("2")
        page.locator("#rule-bottom").press("Enter")
        desk.kept("bottom 2")
        sign = page.locator('[data-sign="border.bottom_light"]')
        sign.wait_for()
        told, cure = page.locator(".finding:focus"), page.locator(".offered button").first
        cure.wait_for()
        if hand == "mouse":
            sign.click()
            told.get_by_text("sit low").wait_for()
            cure.click()
        else:
            sign.focus()
            page.keyboard.press("Enter")
            told.get_by_text("sit low").wait_for()
            page.keyboard.press("Tab")
            page.keyboard.press("Enter")
        sign.wait_for(state="detached")
        assert "border.bottom_light" not in rules_found(desk.design("TM-01"))
        page.keyboard.press("Control+z")
        sign.wait_for()
        assert "border.bottom_light" in rules_found(desk.design("TM-01"))
