"""The shop's days in a real browser, each walked twice: by mouse, and by the keys alone."""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pdfplumber
import pytest
from playwright.sync_api import Browser, Page
from tests.web.browser import window
from tests.web.design_shop import Shop, figure, handle, served, shop_at
from tests.web.desks import Desk
from tests.web.hands import HANDS, Hand

LIST = "number\ttitle\twidth (in)\theight (in)\n1\tThe long quay\t9 1/2\t12\n2\tEbb\tnonsense\t12\n3\tWeir\t8\t9\n"


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[tuple[Shop, str]]:
    shop = shop_at(tmp_path)
    with served(shop) as at:
        yield shop, at


@pytest.fixture(params=HANDS, ids=lambda each: each.__name__.lower())
def desk(request: pytest.FixtureRequest, browser: Browser, shop: tuple[Shop, str]) -> Iterator[Desk]:
    """Somebody at the list of shows."""
    hand: Callable[[Page], Hand] = request.param
    with window(browser) as page:
        page.goto(shop[1])
        yield Desk(page, hand(page), *shop)


def everything_is_as_the_server_says(desk: Desk, design: dict[str, Any]) -> None:
    """Hold every figure on the design page against the one that is kept."""
    shown = {
        str(each.get_attribute("data-figure")): str(each.text_content())
        for each in desk.page.locator("button.why[data-figure]").all()
    }
    kept = {
        str(each["path"]): str(each["text"])
        for group in design["groups"]
        for row in group["rows"]
        for each in row["figures"]
    }
    assert {path: text.replace(" ", "") for path, text in shown.items()} == {
        path: text.replace(" ", "") for path, text in kept.items()
    }


# ── from a list to the tickets ───────────────────────────────────────────────────────────────────────────────────


def test_list_becomes_tickets(desk: Desk, tmp_path: Path) -> None:
    """A list with a fault is brought in, put right, designed and printed."""
    list_ = tmp_path / "quay.csv"
    list_.write_text("No,Title,W,Height (in)\n1,The long quay,9 1/2,12\n2,Ebb,nonsense,12\n3,Weir,8,9\n", "utf-8")
    hand, page = desk.hand, desk.page
    hand.press(desk.link("Bring in a list").first)
    hand.give(desk.field("A file, CSV or XLSX"), list_)
    hand.press(desk.button("Look at it"))
    hand.choose(page.get_by_label("W", exact=True), "width")
    desk.says("2 of 3 rows are works")
    page.locator("select:focus", has=page.get_by_text("width", exact=True)).wait_for()  # the column is still in hand
    assert "write a length" in page.locator("td.wrong").inner_text()
    hand.write(desk.field("Title of the show"), "Quay")
    hand.press(desk.button("Keep 2 works"))
    desk.says("The long quay")
    hand.write(desk.field("one more work"), "8 x 12 in")
    hand.write(desk.field("title"), "Ebb")
    hand.press(desk.button("Hang it"))
    page.locator(".hung", has_text="Ebb").wait_for()
    hand.press(page.locator(".hung a.open").first)
    hand.write_at(desk.handle("border.top"), "3 1/2")
    desk.kept("to 3 1/2")
    hand.press(desk.link("Wall").first)
    with page.expect_download() as printed:
        hand.press(desk.link("Tickets of all"))
    with pdfplumber.open(io.BytesIO(printed.value.path().read_bytes())) as tickets:
        words = "\n".join(each.extract_text() for each in tickets.pages)
    assert [each for each in ("The long quay", "Ebb", "Weir") if each not in words] == []


def test_fault_stands_in_its_cell_until_it_is_put_right(desk: Desk) -> None:
    hand, page = desk.hand, desk.page
    hand.press(desk.link("Bring in a list").first)
    hand.paste(desk.field("or rows, pasted from a spreadsheet"), LIST)
    hand.press(desk.button("Look at it"))
    desk.says("2 of 3 rows are works")
    assert page.locator("td.wrong").count() == 1
    wrong = page.locator("td.wrong").inner_text()
    assert "nonsense" in wrong
    assert "write a length" in wrong
    hand.write(desk.field("Title of the show"), "Quay")
    hand.press(desk.button("Keep 2 works"))
    desk.says("Weir")
    assert page.locator(".hung[data-work]").count() == 2
    hand.press(desk.link("Table"))
    hand.write(desk.field("Width of 1"), "wide")
    hand.leave()
    page.locator(".says.wrong").wait_for()
    assert desk.field("Width of 1").input_value() == "wide", "what was typed stays"
    hand.write(desk.field("Width of 1"), "10 1/4")
    hand.leave()
    desk.kept("width of 1 to 10 1/4")
    assert page.locator(".says.wrong").count() == 0
    desk.takes_back("width of 1 to 10 1/4")
    assert desk.field("Width of 1").input_value() == "9 1/2"


# ── the wall ─────────────────────────────────────────────────────────────────────────────────────────────────────


def test_several_works_are_changed_together(desk: Desk) -> None:
    hand, page = desk.hand, desk.page
    hand.press(desk.link("The Tide Mill: a river drawn"))
    for number in ("TM-01", "TM-02"):
        hand.press(page.locator(f".hung:has(.no:text-is('{number}')) input"))
    assert page.locator("[data-selected]").inner_text() == "TM-01, TM-02 selected"
    hand.choose(desk.field("Treatment"), "double")
    hand.press(desk.button("Change them together"))
    desk.kept("double for TM-01, TM-02")
    assert page.locator(".hung.chosen").count() == 2
    assert [desk.design(each)["treatment"] for each in ("TM-01", "TM-02")] == ["double", "double"]
    desk.takes_back("double for TM-01, TM-02")


def test_undo_reaches_across_pages(desk: Desk) -> None:
    hand, page = desk.hand, desk.page
    hand.press(desk.link("The Tide Mill: a river drawn"))
    hand.press(desk.link("Table"))
    hand.write(desk.field("Title of TM-01"), "Ebb")
    hand.leave()
    desk.kept("title of TM-01")
    hand.press(desk.link("Wall").first)
    page.locator(".hung", has_text="Ebb").first.wait_for()
    desk.takes_back("title of TM-01")
    assert "Ebb" not in page.locator(".hung").first.inner_text()


# ── one work ─────────────────────────────────────────────────────────────────────────────────────────────────────


def test_border_is_moved_kept_and_taken_back(desk: Desk) -> None:
    desk.go(desk.shop.page("TM-12"))
    before = desk.design("TM-12")
    assert figure(before, "mat.1.border.bottom") == "3 1/4"
    quarter = 96 / int(desk.page.locator("[data-front-scale]").inner_text().split(":")[1]) / 4  # 96 dots an inch
    desk.hand.pull(desk.handle("border.bottom"), quarter, "ArrowDown ArrowDown ArrowDown ArrowDown")
    desk.shows("mat.1.border.bottom", "31/2")  # derived: 3 1/4 + 1/4, set as a real fraction
    assert desk.design("TM-12")["version"] == before["version"], "nothing is kept while it moves"
    desk.hand.let_go()
    desk.kept("bottom border 3 1/4 to 3 1/2")
    after = desk.design("TM-12")
    assert after["version"] == before["version"] + 1
    assert figure(after, "mat.1.border.bottom") == "3 1/2"
    everything_is_as_the_server_says(desk, after)
    desk.hand.press(desk.page.locator("[data-undo]"))
    desk.shows("mat.1.border.bottom", "31/4")
    everything_is_as_the_server_says(desk, desk.design("TM-12"))
    assert figure(desk.design("TM-12"), "mat.1.border.bottom") == "3 1/4"


def test_value_is_typed_and_why_is_asked(desk: Desk) -> None:
    desk.go(desk.shop.page("TM-12"))
    desk.hand.write_at(desk.handle("border.top"), "2 7/")
    desk.page.locator("#typed[aria-invalid=true]").wait_for()
    assert desk.page.locator("#typed").input_value() == "2 7/", "what was typed stays"
    desk.page.keyboard.type("8")
    desk.page.keyboard.press("Enter")
    desk.kept("top border 2 3/4 to 2 7/8")
    everything_is_as_the_server_says(desk, desk.design("TM-12"))
    desk.hand.press(desk.page.locator('button.why[data-figure="mat.1.border.bottom"]'))
    desk.page.locator(".working .sum").wait_for()
    assert "3" in desk.page.locator(".working .sum b").inner_text()


# ── the whole shop ───────────────────────────────────────────────────────────────────────────────────────────────


def test_backup_is_made_and_put_back(desk: Desk) -> None:
    hand, page = desk.hand, desk.page
    hand.press(desk.link("Settings"))
    hand.press(desk.button("Back up now"))
    desk.says("Backed up, opened")
    desk.go(f"/shows/{desk.shop.show}/about")
    hand.write(desk.field("Title").first, "Other")
    hand.press(desk.button("Keep these"))
    desk.says("Kept.")
    hand.press(desk.link("Settings"))
    hand.press(page.get_by_role("link", name=re.compile(r"\d\d:\d\d")).first)
    hand.press(page.get_by_role("checkbox", name="Put the whole shop back"))
    hand.press(desk.button("Put it back"))
    desk.says("The shop is as")
    hand.press(desk.link("Shows"))
    desk.link("The Tide Mill: a river drawn").wait_for()
    assert page.get_by_text("Other", exact=True).count() == 0


# ── two windows ──────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("hand", HANDS, ids=lambda each: each.__name__.lower())
def test_stale_cell_loses_nothing(browser: Browser, shop: tuple[Shop, str], hand: Callable[[Page], Hand]) -> None:
    with window(browser) as one, window(browser) as two:
        theirs, mine = (Desk(page, hand(page), *shop) for page in (one, two))
        for each in (theirs, mine):
            each.go(f"/shows/{shop[0].show}/table")
        theirs.hand.write(theirs.field("Title of TM-01"), "Theirs")
        theirs.hand.leave()
        theirs.kept("Theirs")
        cell = mine.field("Title of TM-01")
        mine.hand.write(cell, "Mine")
        mine.hand.leave()
        mine.page.locator(".says.wrong", has_text="Theirs").wait_for()
        assert cell.input_value() == "Mine"
        mine.hand.reach(cell)
        mine.hand.leave()
        mine.kept("Mine")


@pytest.mark.parametrize("hand", HANDS, ids=lambda each: each.__name__.lower())
def test_stale_design_shows_both_and_loses_neither(
    browser: Browser, shop: tuple[Shop, str], hand: Callable[[Page], Hand]
) -> None:
    with window(browser) as one, window(browser) as two:
        theirs, mine = (Desk(page, hand(page), *shop) for page in (one, two))
        for each in (theirs, mine):
            each.go(shop[0].page("TM-12"))
        theirs.hand.write_at(theirs.handle("border.top"), "2 13/16")
        theirs.kept("top border 2 3/4 to 2 13/16")
        mine.hand.write_at(mine.handle("border.top"), "3")
        both = mine.page.locator("[data-stale]")
        both.wait_for()
        said = both.inner_text().replace("\n", " ")
        assert "Top border 213/16" in said
        assert "Top border 3" in said
        assert handle(mine.design("TM-12"), "border.top")["value"] == "2 13/16"
        mine.hand.press(mine.button("Keep yours over it"))
        mine.kept("top border 2 13/16 to 3")
        assert handle(mine.design("TM-12"), "border.top")["value"] == "3"
