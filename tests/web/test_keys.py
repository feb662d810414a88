"""What the keys of the desk do besides Tab: each page has short ways."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from tests.web.browser import window
from tests.web.design_shop import served, shop_at
from tests.web.desks import Desk
from tests.web.hands import Keys


@pytest.fixture
def desk(browser: Browser, tmp_path: Path) -> Iterator[Desk]:
    """Somebody at the list of shows."""
    shop = shop_at(tmp_path)
    with served(shop) as at, window(browser) as page:
        page.goto(at)
        yield Desk(page, Keys(page), shop, at)


def focused(page: Page) -> str:
    return str(page.evaluate("document.activeElement.getAttribute('aria-label')"))


def test_keys_walk_the_wall_select_change_and_take_back(desk: Desk) -> None:
    page, keys = desk.page, desk.page.keyboard
    desk.go(f"/shows/{desk.shop.show}")
    keys.press("ArrowRight")
    assert focused(page).startswith("TM-01")
    keys.press("ArrowRight")
    assert focused(page).startswith("TM-02")
    keys.press("x")
    keys.press("Shift+ArrowRight")
    desk.says("TM-02, TM-03 selected")
    keys.press("ArrowDown")
    below = focused(page)
    assert not below.startswith("TM-03")
    keys.press("ArrowUp")
    assert focused(page) != below
    desk.hand.choose(desk.field("Treatment"), "double")
    desk.hand.press(desk.button("Change them together"))
    desk.kept("double for TM-02, TM-03")
    keys.press("Control+z")
    page.wait_for_url("**Taken**")
    keys.press("t")
    page.wait_for_url("**/table")
    keys.press("w")
    page.wait_for_selector(".hung[data-work]")
    keys.press("ArrowRight")
    keys.press("Enter")
    page.wait_for_url("**/design")


def test_keys_type_a_new_work_and_find_it(desk: Desk) -> None:
    page, keys = desk.page, desk.page.keyboard
    desk.go(f"/shows/{desk.shop.show}")
    keys.press("n")
    keys.type("wide")
    keys.press("Enter")
    page.wait_for_selector("#new-says.wrong")
    keys.press("Control+a")
    keys.type("9 1/2 x 12 in")
    keys.press("Tab")
    keys.type("Slack water")
    keys.press("Enter")
    page.wait_for_url("**#w-*")
    page.wait_for_selector(".hung:has-text('Slack water')")
    keys.press("/")
    page.wait_for_url("**/find")
    keys.type("slack water")
    keys.press("Enter")
    page.wait_for_selector(".hits a:has-text('Slack water')")


def test_keys_move_a_handle_let_go_of_it_and_ask_why(desk: Desk) -> None:
    desk.go(desk.shop.page("TM-12"))
    desk.handle("border.top").wait_for()
    keys = desk.page.keyboard
    keys.press("e")  # the first handle
    assert desk.page.evaluate("document.activeElement.dataset.handle") == "border.top"
    keys.press("ArrowUp")
    desk.shows("mat.1.border.top", "213/16")
    keys.press("Escape")
    desk.shows("mat.1.border.top", "23/4")
    assert desk.design("TM-12")["version"] == 1, "what was let go of is not kept"
    keys.press("Shift+ArrowUp")
    desk.shows("mat.1.border.top", "3")
    keys.press("Enter")
    desk.kept("top border 2 3/4 to 3")
    keys.type("2 7/")
    keys.press("Enter")
    desk.page.wait_for_selector("#typed[aria-invalid=true]")
    assert "2 7/" in desk.page.locator(".typed p").inner_text().replace("\n", "")
    keys.type("8")
    keys.press("Enter")
    desk.kept("top border 3 to 2 7/8")
    desk.page.wait_for_selector(".typed", state="hidden")
    assert desk.page.evaluate("document.activeElement.dataset.handle") == "border.top", "the handle is in hand again"
    desk.page.locator('button.why[data-figure="mat.1.border.bottom"]').focus()
    keys.press("Enter")
    desk.page.wait_for_selector(".working .sum")
    assert "3" in desk.page.locator(".working .sum b").inner_text()
    keys.press("]")
    desk.page.wait_for_url(f"**{desk.shop.page('TM-13')}")
