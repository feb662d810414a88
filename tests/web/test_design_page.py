"""The design page in a real browser: its rules, and drawings that stay on the page."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from tests.web.browser import settled, too_wide, window
from tests.web.design_shop import served, shop_at
from tests.web.desks import Desk
from tests.web.hands import Mouse

PAST = """() => [...document.querySelectorAll(".views text")].filter((each) => {
  const box = each.getBoundingClientRect();
  return box.width && (box.left < 0 || box.right > innerWidth);
}).map((each) => each.textContent)"""
"""The words of the drawings that reach past the page."""


@pytest.fixture
def desk(browser: Browser, tmp_path: Path) -> Iterator[Desk]:
    """Somebody at the list of shows."""
    shop = shop_at(tmp_path)
    with served(shop) as at, window(browser) as page:
        page.goto(at)
        yield Desk(page, Mouse(page), shop, at)


def test_rule_is_typed_refused_beside_its_field_and_given_back(desk: Desk) -> None:
    desk.go(desk.shop.page("TM-16"))
    desk.page.locator("[data-rules] summary").click()
    field = desk.page.locator("#rule-shape")
    field.fill("ovle")
    field.press("Enter")
    desk.page.wait_for_selector("#rule-shape[aria-invalid=true]")
    assert field.input_value() == "ovle", "what was typed stays"
    field.fill("oval")
    field.press("Enter")
    desk.kept("shape oval")
    desk.page.locator(".rule.own", has_text="Shape").get_by_text("Back to").click()
    desk.kept("shape as its treatment has it")
    assert desk.design("TM-16")["changes"] == 0


@pytest.mark.parametrize("width", [390, 820, 1440])
def test_nothing_reaches_past_the_page(desk: Desk, width: int) -> None:
    desk.page.set_viewport_size({"width": width, "height": 900})
    for number in ("TM-03", "TM-08", "TM-13", "TM-14"):
        desk.go(desk.shop.page(number))
        desk.page.locator("[data-handle]").first.wait_for()
        settled(desk.page)
        assert too_wide(desk.page) == 0
        assert desk.page.evaluate(PAST) == []
