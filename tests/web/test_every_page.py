"""Every page in a real browser: its words and colours for everyone, nothing too wide, nothing that fails unseen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from starlette.testclient import TestClient
from tests.web.browser import settled, too_wide, violations, window
from tests.web.design_shop import BASE, Shop, served, shop_at
from tests.web.pages_of import GETS, PAGES, address

from fourply.app.keep import Desk
from fourply.app.keep_materials import start_shop

Served = tuple[Shop, str]
WIDTHS = (390, 820, 1440)
THEMES = ("light", "dark")


def _shop(folder: Path) -> Shop:
    shop = shop_at(folder)
    kept = shop.app.state.room.parts.store
    start_shop(Desk(kept), metric=False)
    kept.backup()
    return shop


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A shop that is only looked at."""
    shop = _shop(tmp_path_factory.mktemp("looked-at"))
    with served(shop) as at:
        yield shop, at


def faults(page: Page) -> list[str]:
    """Return what is wrong with a page as it stands, at each width."""
    found = []
    settled(page)
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
        found += [f"at {width}: {over} dots too wide" for over in [too_wide(page)] if over]
        found += [f"at {width}: {each}" for each in violations(page) if width != 820]  # between two that are looked at
    return found


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("path", [*PAGES, "/shows/nowhere", "/find?q=mill", "/?q=tide"])
def test_page_is_for_everyone(browser: Browser, shop: Served, path: str, theme: str) -> None:
    with window(browser, theme=theme, strict="nowhere" not in path) as page:
        page.goto(shop[1] + address(shop[0], path))
        assert faults(page) == []


def test_what_is_called_no_page_is_none(tmp_path: Path) -> None:
    shop = _shop(tmp_path)
    with TestClient(shop.app, base_url=BASE) as client:
        for path in set(GETS) - set(PAGES):
            answer = client.get(address(shop, path))
            assert not (answer.is_success and "<!doctype html>" in answer.text.lower()), path
    shop.app.state.room.parts.store.close()


def faults_in_cells(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/bring")
    page.get_by_label("or rows, pasted").fill(
        "number\ttitle\twidth (in)\theight (in)\n1\tEbb\twide\t12\n1\tWeir\t8\t\n"
    )
    page.get_by_role("button", name="Look at it").click()
    page.locator("td.wrong").first.wait_for()


def fault_in_a_list(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/bring")
    page.get_by_role("button", name="Look at it").click()
    page.locator(".message.wrong").wait_for()


def prices_looked_at(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/materials/prices")
    page.get_by_label("or rows, pasted").fill(
        "kind\tname\tsize\tprice\nboard\tnew board\t32 x 40\t12.00\nboard\tx\ty\tz\n"
    )
    page.get_by_role("button", name="Look at it").click()
    page.locator("#brought").wait_for()


def settings_refused(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/settings")
    page.get_by_label("Currency").fill("doubloons")
    page.get_by_role("button", name="Keep these").click()
    page.locator(".message.wrong").wait_for()


def material_refused(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/materials/new/boards")
    page.locator("#material button.next").click()
    page.locator(".message.wrong").wait_for()


def piece_in_hand(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/rack")
    if page.locator(".rack tbody tr").count() == 0:
        page.get_by_label("Material", exact=True).fill("white 4-ply")
        page.get_by_label("Size", exact=True).fill("12 x 30")
        page.get_by_role("button", name="Put it in").click()
    page.locator(".rack tbody th a").first.click()
    page.locator(".in-hand").wait_for()


def piece_refused(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/rack")
    page.get_by_label("Material", exact=True).fill("no such board")
    page.get_by_role("button", name="Put it in").click()
    page.locator(".says.wrong").first.wait_for()


def plan_accepted(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/shows/{shop[0].show}/papers")
    if page.get_by_text("accepted", exact=True).count() == 0:
        page.get_by_role("button", name="Make them").click()
        page.get_by_role("link", name="Tickets").wait_for(timeout=120_000)
        page.get_by_role("button", name="Accept").click()
    page.get_by_text("accepted", exact=True).wait_for()


def show_refused(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/shows/{shop[0].show}/about")
    page.get_by_label("Title").first.fill("")
    page.get_by_role("button", name="Keep these").click()
    page.locator(".says.wrong").first.wait_for()


def cell_refused(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/shows/{shop[0].show}/table")
    page.get_by_label("Width of TM-01").fill("wide")
    page.get_by_label("Width of TM-01").press("Enter")
    page.locator(".says.wrong").wait_for()


def works_selected(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/shows/{shop[0].show}")
    for key in ("ArrowRight", "x", "Shift+ArrowRight"):
        page.keyboard.press(key)
    page.get_by_text("TM-01, TM-02 selected").wait_for()


def size_refused(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/shows/{shop[0].show}")
    page.get_by_label("one more work").fill("wide")
    page.get_by_role("button", name="Hang it").click()
    page.locator("#new-says.wrong").wait_for()


def why_is_asked(page: Page, shop: Served) -> None:
    page.goto(shop[1] + shop[0].page("TM-14"))
    page.locator("[data-rules] summary").click()
    page.locator("button.why").nth(9).click()
    page.locator(".working").wait_for()


def value_refused(page: Page, shop: Served) -> None:
    page.goto(shop[1] + shop[0].page("TM-12"))
    page.locator('[data-handle="border.top"]').press("2")
    page.keyboard.type(" 7/")
    page.keyboard.press("Enter")
    page.locator("#typed[aria-invalid=true]").wait_for()


def rule_refused(page: Page, shop: Served) -> None:
    page.goto(shop[1] + shop[0].page("TM-16"))
    page.locator("[data-rules] summary").click()
    page.locator("#rule-shape").fill("ovle")
    page.locator("#rule-shape").press("Enter")
    page.locator("#rule-shape[aria-invalid=true]").wait_for()


def stale_shown(page: Page, shop: Served) -> None:
    at = shop[1] + shop[0].page("TM-08")
    page.goto(at)
    kept = page.request.get(f"{at}.json").json()
    handle = kept["handles"][0]
    text = "3 3/4" if handle["value"] != "3 3/4" else "3 7/8"
    answer = page.request.put(
        f"{at}.json", data={"handle": handle["name"], "text": text}, headers={"If-Match": f'"{kept["version"]}"'}
    )
    assert answer.ok, answer.text()
    page.locator(f'[data-handle="{handle["name"]}"]').focus()
    page.keyboard.type("4 1/8")
    page.keyboard.press("Enter")
    page.locator("[data-stale]").wait_for()


def archive_is_empty(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/?archived=1")


def nothing_found(page: Page, shop: Served) -> None:
    page.goto(f"{shop[1]}/find?q=nothing+has+this")


SCENES: tuple[Callable[[Page, Served], None], ...] = (
    faults_in_cells,
    fault_in_a_list,
    prices_looked_at,
    settings_refused,
    material_refused,
    show_refused,
    piece_in_hand,
    piece_refused,
    plan_accepted,
    cell_refused,
    works_selected,
    size_refused,
    why_is_asked,
    value_refused,
    rule_refused,
    stale_shown,
    archive_is_empty,
    nothing_found,
)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("scene", SCENES, ids=lambda each: each.__name__)
def test_what_a_page_says_in_between_is_for_everyone(
    browser: Browser, shop: Served, scene: Callable[[Page, Served], None], theme: str
) -> None:
    with window(browser, theme=theme) as page:
        scene(page, shop)
        assert faults(page) == []
