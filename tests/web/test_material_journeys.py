"""Materials in a real browser: made by mouse and by keyboard, the sample following, undone; picked for a work."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.web.browser import browsing
from tests.web.design_shop import Shop, served, shop_at

pytestmark = pytest.mark.filterwarnings("ignore::DeprecationWarning")


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
    """The list of materials, on which nothing may go wrong unseen."""
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    page = context.new_page()
    page.set_default_timeout(20_000)
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.on("console", lambda told: faults.append(told.text) if "Content Security" in told.text else None)
    page.goto(f"{shop[1]}/materials")
    yield page
    context.close()
    assert faults == []


def sample_says(page: Any, words: str) -> None:
    page.locator(".samples").filter(has_text=words).wait_for()


def test_a_moulding_is_made_by_mouse_its_sample_follows_and_undo_takes_it_back(page: Any) -> None:
    page.get_by_role("link", name="Moulding", exact=True).click()
    page.get_by_label("Name", exact=True).fill("ash cushion")
    for label, text in (("Width", "1 1/2"), ("Rabbet width", "3/16"), ("Rabbet depth", "3/4"), ("Height", "x")):
        page.get_by_label(label, exact=True).fill(text)
    page.get_by_label("Sticks").fill("10 ft at 32.00")
    page.get_by_role("button", name="Keep it").click()
    page.wait_for_selector('#f-height[aria-invalid="true"]')
    assert page.get_by_label("Width", exact=True).input_value() == "1 1/2"
    page.get_by_label("Height", exact=True).fill("1 1/4")
    sample_says(page, "Cut through, 1:1")
    page.get_by_label("Width", exact=True).fill("3")
    sample_says(page, "Cut through, 1:2")
    page.get_by_label("Colour, picked").fill("#334455")
    assert page.get_by_label("Colour", exact=True).input_value() == "#334455"
    page.wait_for_selector('.samples path[fill="#334455"]')
    page.get_by_role("button", name="Keep it").click()
    page.wait_for_selector("[data-undo]")
    assert page.locator("[data-undo]").get_attribute("title") == "Undo new moulding ash cushion"
    page.get_by_role("link", name="Materials", exact=True).click()
    assert page.get_by_role("link", name="ash cushion").count() == 1
    page.locator("[data-undo]").click()
    page.get_by_role("status").get_by_text("Taken back: new moulding ash cushion").wait_for()
    assert page.get_by_role("link", name="ash cushion").count() == 0


def test_a_board_is_made_and_taken_back_by_keyboard_alone(page: Any) -> None:
    page.keyboard.press("n")
    page.keyboard.press("Enter")
    page.wait_for_selector("#f-name")
    page.focus("#f-name")
    page.keyboard.type("marbled")
    page.keyboard.press("Tab")
    page.keyboard.type("0.06")
    page.focus("#f-sheets")
    page.keyboard.type("32x40 at 30.00")
    page.keyboard.press("Control+Enter")
    page.wait_for_selector("text=Its history")
    page.focus("#f-caliper")
    page.keyboard.press("Control+a")
    page.keyboard.type("1/16")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=caliper of marbled")
    back = page.get_by_role("button", name="Take it back to this state: new board marbled")
    back.focus()
    page.keyboard.press("Enter")
    page.get_by_role("status").get_by_text("Taken back to that state").wait_for()
    assert page.locator("#f-caliper").input_value() == "0.06 in"


def test_mouldings_are_picked_on_the_design_page_by_their_colour(page: Any, shop: tuple[Shop, str]) -> None:
    page.goto(f"{shop[1]}{shop[0].page('TM-01')}")
    page.get_by_text("Every rule of this work").click()
    row = page.get_by_role("group", name="Colours for Moulding, now")
    row.first.get_by_role("button", name="oak 1").click()
    page.locator("[data-undo][title*='moulding oak 1']").wait_for(state="attached")
    assert row.first.get_by_role("button", name="oak 1").get_attribute("aria-pressed") == "true"


@pytest.mark.parametrize("width", [390, 820, 1440])
def test_no_page_of_materials_is_wider_than_the_window(page: Any, shop: tuple[Shop, str], width: int) -> None:
    page.set_viewport_size({"width": width, "height": 844})
    for address in ("/materials?sort=works", "/materials/new/mouldings?starter=oak%201", "/materials/new/hardware"):
        page.goto(f"{shop[1]}{address}")
        page.wait_for_load_state("networkidle")
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, address


def test_look_and_name_and_price_stand_on_one_line(page: Any) -> None:
    """The middle of a look is the middle of the small letters of its name, to a dot; base lines are one."""
    off = page.evaluate(
        """() => [...document.querySelectorAll('.materials tbody tr')].map((row) => {
          const look = row.querySelector('.look'), cells = row.querySelectorAll('th a, td.c-measures, td.c-supplier');
          const base = (cell) => { const mark = document.createElement('span'); mark.style.display = 'inline-block';
            cell.prepend(mark); const at = mark.getBoundingClientRect().bottom; mark.remove(); return at; };
          const bases = [...cells].map(base), box = look?.getBoundingClientRect();
          return [Math.max(...bases) - Math.min(...bases), box ? (box.top + box.bottom) / 2 - (bases[0] - 5) : 0];
        })"""
    )
    assert len(off) > 20
    assert all(spread < 0.01 and abs(middle) <= 1 for spread, middle in off)
