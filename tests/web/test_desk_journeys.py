"""The desk in a real browser: from a list to a changed table and back, by mouse and by keyboard alone."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.web.browser import browsing
from tests.web.design_shop import Shop, served, shop_at

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning")
PASTED = "number\ttitle\twidth (in)\theight (in)\n1\tThe long quay\t9 1/2\t12\n2\tEbb\tnonsense\t12\n3\tWeir\t8\t9\n"


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with browsing() as browser:
        yield browser


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[tuple[Shop, str]]:
    shop = shop_at(tmp_path)
    with served(shop) as address:
        yield shop, address


@pytest.fixture
def page(browser: Any, shop: tuple[Shop, str]) -> Iterator[Any]:
    """A page at the list of shows, on which nothing may go wrong unseen."""
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    page = context.new_page()
    page.set_default_timeout(8000)
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.on("console", lambda told: faults.append(told.text) if "Content Security" in told.text else None)
    page.goto(shop[1])
    yield page
    context.close()
    assert faults == []


def undo_says(page: Any, words: str) -> None:
    page.wait_for_function("(words) => document.querySelector('[data-undo]')?.title.includes(words)", arg=words)


def test_list_becomes_a_show_a_cell_is_changed_and_taken_back(page: Any) -> None:
    page.get_by_role("link", name="Bring in a list").first.click()
    page.get_by_label("or rows, pasted").fill(PASTED)
    page.get_by_role("button", name="Look at it").click()
    assert page.locator("td.wrong").count() == 1
    assert "write a length" in page.locator("td.wrong").inner_text()
    page.get_by_label("Title of the show").fill("Quay")
    page.get_by_role("button", name="Keep 2 works").click()
    page.wait_for_selector(".hung[data-work]")
    assert page.locator(".hung[data-work]").count() == 2
    page.get_by_role("link", name="Table", exact=True).click()
    cell = page.get_by_label("Width of 1")
    cell.fill("wide")
    cell.press("Tab")
    page.wait_for_selector(".says.wrong")
    assert cell.input_value() == "wide"
    cell.fill("10 1/4")
    cell.press("Enter")
    undo_says(page, "width of 1 to 10 1/4")
    assert page.locator(".says.wrong").count() == 0
    page.locator("[data-undo]").click()
    page.wait_for_url("**says=**")
    assert page.get_by_label("Width of 1").input_value() == "9 1/2"


def test_undo_reaches_across_pages(page: Any, shop: tuple[Shop, str]) -> None:
    show = shop[0].show
    page.goto(f"{shop[1]}/shows/{show}/table")
    page.get_by_label("Title of TM-01").fill("Ebb")
    page.get_by_label("Title of TM-01").press("Enter")
    undo_says(page, "title of TM-01")
    page.goto(f"{shop[1]}/shows/{show}")
    assert "Ebb" in page.locator(".hung").first.inner_text()
    page.keyboard.press("Control+z")
    page.wait_for_url("**says=**")
    assert "Ebb" not in page.locator(".hung").first.inner_text()


def test_several_are_changed_by_mouse(page: Any, shop: tuple[Shop, str]) -> None:
    page.goto(f"{shop[1]}/shows/{shop[0].show}")
    for number in ("TM-01", "TM-02"):
        page.locator(f".hung:has(.no:text-is('{number}')) input").check()
    assert page.locator("[data-selected]").inner_text() == "TM-01, TM-02 selected"
    page.get_by_label("Treatment").select_option("double")
    page.get_by_role("button", name="Change them together").click()
    undo_says(page, "double for TM-01, TM-02")
    assert page.locator(".hung.chosen").count() == 2


def test_keyboard_alone_walks_the_wall_selects_changes_and_takes_back(page: Any, shop: tuple[Shop, str]) -> None:
    keys = page.keyboard
    page.goto(f"{shop[1]}/shows/{shop[0].show}")
    keys.press("ArrowRight")
    assert focused(page).startswith("TM-01")
    keys.press("ArrowRight")
    assert focused(page).startswith("TM-02")
    keys.press("x")
    keys.press("Shift+ArrowRight")
    assert page.locator("[data-selected]").inner_text() == "TM-02, TM-03 selected"
    keys.press("ArrowDown")
    below = focused(page)
    assert not below.startswith("TM-03")
    keys.press("ArrowUp")
    assert focused(page) != below
    while page.evaluate("document.activeElement?.name") != "treatment":
        keys.press("Tab")
    keys.type("double")
    while page.evaluate("document.activeElement?.hasAttribute('data-change')") is not True:
        keys.press("Tab")
    keys.press("Enter")
    undo_says(page, "double for TM-02, TM-03")
    keys.press("Control+z")
    page.wait_for_url("**Taken**")
    keys.press("t")
    page.wait_for_url("**/table")
    keys.press("w")
    page.wait_for_selector(".hung[data-work]")
    keys.press("ArrowRight")
    keys.press("Enter")
    page.wait_for_url("**/design")


def focused(page: Any) -> str:
    return str(page.evaluate("document.activeElement.getAttribute('aria-label')"))


def test_keyboard_alone_types_a_new_work_and_finds_it(page: Any, shop: tuple[Shop, str]) -> None:
    keys = page.keyboard
    page.goto(f"{shop[1]}/shows/{shop[0].show}")
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


def test_stale_cell_in_a_second_window_loses_nothing(page: Any, shop: tuple[Shop, str]) -> None:
    at = f"{shop[1]}/shows/{shop[0].show}/table"
    other = page.context.new_page()
    for each in (page, other):
        each.goto(at)
    page.get_by_label("Title of TM-01").fill("Theirs")
    page.get_by_label("Title of TM-01").press("Enter")
    undo_says(page, "Theirs")
    mine = other.get_by_label("Title of TM-01")
    mine.fill("Mine")
    mine.press("Enter")
    other.wait_for_selector(".says.wrong")
    assert "Theirs" in other.locator(".says.wrong").inner_text()
    assert mine.input_value() == "Mine"
    mine.press("Enter")
    undo_says(other, "Mine")


@pytest.mark.parametrize("width", [390, 820, 1440])
def test_no_page_is_wider_than_the_window(page: Any, shop: tuple[Shop, str], width: int) -> None:
    show = f"/shows/{shop[0].show}"
    page.set_viewport_size({"width": width, "height": 844})
    for address in (
        "/",
        show,
        f"{show}/table",
        f"{show}/about",
        "/bring",
        "/materials",
        "/settings",
        "/find?q=mill",
        "/keys",
    ):
        page.goto(f"{shop[1]}{address}")
        page.wait_for_load_state("networkidle")
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, address


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_finds_nothing(browser: Any, shop: tuple[Shop, str], theme: str) -> None:
    """FOURPLY_AXE names the file of axe-core (axe.min.js)."""
    axe = os.environ.get("FOURPLY_AXE")
    if not axe:
        pytest.skip("FOURPLY_AXE does not name axe-core's file")
    context = browser.new_context(viewport={"width": 1440, "height": 900}, color_scheme=theme, bypass_csp=True)
    page = context.new_page()
    show = f"/shows/{shop[0].show}"
    found = []
    for address in (
        "/",
        show,
        f"{show}/table",
        f"{show}/about",
        "/bring",
        "/materials",
        "/materials/prices",
        "/settings",
        "/find?q=mill",
        "/keys",
    ):
        page.goto(f"{shop[1]}{address}")
        page.wait_for_load_state("networkidle")
        page.add_script_tag(path=axe)
        violations = page.evaluate("axe.run().then((result) => result.violations)")
        found += [(address, each["id"], each["nodes"][0]["html"][:160], len(each["nodes"])) for each in violations]
    context.close()
    assert found == []
