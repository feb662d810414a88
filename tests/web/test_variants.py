"""Up to four designs of one work: put aside, taken, named, taken away, seen side by side."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient
from tests.web.browser import browsing
from tests.web.design_shop import Caller, Shop, caller_at, served, shop_at

NUMBER = "TM-14"


@pytest.fixture
def caller(tmp_path: Path) -> Iterator[Caller]:
    """Somebody who asks a shop of their own."""
    with caller_at(tmp_path) as found:
        yield found


def at(caller: Caller) -> str:
    return f"/works/{caller.shop.works[NUMBER]}/variants"


def post(caller: Caller, to: str = "", **fields: str) -> str:
    """Send a form of the strip with the version as it is; returns the page that it leads to."""
    fields = {"version": str(caller.design(NUMBER)["version"])} | fields
    answer = caller.client.post(f"{at(caller)}{to}", data=fields)
    assert answer.status_code == 200, answer.text
    return answer.text


def strip(caller: Caller) -> list[tuple[str, str, bool]]:
    """Return letter, name and presence of each variant in the strip."""
    html = caller.client.get(caller.shop.page(NUMBER)).text
    found = re.findall(r'<li( class="present")?>.*?<b>(\w)</b> <span class="name">(.*?)</span>', html, re.DOTALL)
    return [(letter, name, bool(present)) for present, letter, name in found]


def undo(caller: Caller) -> None:
    page = caller.client.get(caller.shop.page(NUMBER)).text
    form = re.search(r'<form[^>]*action="([^"]*undo[^"]*)".*?</form>', page, re.DOTALL)
    assert form is not None
    fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form[0]))
    assert caller.client.post(form[1], data=fields).status_code == 200


def border(caller: Caller) -> str:
    return next(str(each["value"]) for each in caller.design(NUMBER)["handles"] if each["name"] == "border.bottom")


def change(caller: Caller, text: str) -> None:
    kept = caller.keep(NUMBER, caller.design(NUMBER)["version"], handle="border.bottom", text=text)
    assert kept["status"] == 200
    assert "data-variants" in kept["variants"]


def test_design_put_aside_comes_back_and_the_one_left_stays(caller: Caller) -> None:
    """What is taken is as it was put aside; what was present stands in its slot; each is one entry to undo."""
    before = border(caller)
    post(caller, name="Narrow")
    change(caller, "6 1/2")
    assert strip(caller) == [("A", "triple, bottom", True), ("B", "Narrow", False)]
    post(caller, "/1", act="take")
    assert border(caller) == before
    assert strip(caller) == [("A", "triple, bottom", False), ("B", "Narrow", True)]
    post(caller, "/0", act="take")
    assert border(caller) == "6 1/2"
    undo(caller)
    assert border(caller) == before


def test_only_four_stand_side_by_side(caller: Caller) -> None:
    """The fifth is refused with a clear word, and the first free slot is taken again."""
    for _ in range(3):
        post(caller)
    assert [letter for letter, _, _ in strip(caller)] == ["A", "B", "C", "D"]
    assert "take one away first" in post(caller, name="one more")
    post(caller, "/2", act="drop")
    assert [letter for letter, _, _ in strip(caller)] == ["A", "B", "D"]
    post(caller, name="again")
    assert ("C", "again", False) in strip(caller)


def test_names_are_changed_shown_as_words_and_given_back(caller: Caller) -> None:
    """A name is text, whatever is in it; an empty one leaves the usual."""
    post(caller)
    for slot, letter in enumerate("AB"):
        html = post(caller, f"/{slot}", act="name", name="<b>wide</b>")
        assert "&lt;b&gt;wide&lt;/b&gt;" in html
        assert "<b>wide</b>" not in html
        post(caller, f"/{slot}", act="name", name="")
        assert {each: name for each, name, _ in strip(caller)}[letter] == "triple"
    assert "at most 60" in post(caller, "/1", act="name", name="x" * 61)


@pytest.mark.parametrize(
    ("to", "fields", "says"),
    [
        ("/0", {"act": "drop"}, "take another first"),
        ("/3", {"act": "take"}, "no variant is called"),
        ("/9", {"act": "take"}, "no variant is called"),
        ("/1", {"act": "burn"}, "take, name or drop"),
        ("/1", {"act": "take", "version": "1"}, "changed"),
        ("", {"version": "x"}, "changed"),
    ],
)
def test_what_cannot_be_done_is_said_and_nothing_changes(
    caller: Caller, to: str, fields: dict[str, str], says: str
) -> None:
    """The page comes again with what is wrong; the strip is as it was."""
    post(caller, name="other")
    before, version = strip(caller), caller.design(NUMBER)["version"]
    html = post(caller, to, **fields)
    assert says in html
    assert (strip(caller), caller.design(NUMBER)["version"]) == (before, version)


def test_side_by_side_shows_what_differs_and_nothing_else(caller: Caller) -> None:
    """Every figure listed differs in at least one; what is as in the present design is not marked."""
    assert "There is one design" in caller.client.get(at(caller)).text
    post(caller, name="before")
    change(caller, "6 1/2")
    html = caller.client.get(at(caller)).text
    rows = re.findall(r'<tr><th scope="row">(.*?)</th>(.*?)</tr>', html, re.DOTALL)
    cells = {label: re.findall(r"<td([^>]*)>(.*?)</td>", row, re.DOTALL) for label, row in rows}
    assert "Bottom" in cells
    for values in cells.values():
        assert len({text for _, text in values}) == 2
        assert [bool(marked) for marked, _ in values] == [False, True]
    assert "Glass to art" not in cells


def test_pictures_of_variants_are_at_one_scale_and_each_its_own(caller: Caller) -> None:
    """Addresses go by what is seen; the same design has the same picture."""
    post(caller, name="before")
    same = [caller.client.get(f"{at(caller)}/{slot}.svg").text for slot in (0, 1)]
    assert same[0] == same[1]
    change(caller, "6 1/2")
    other = [caller.client.get(f"{at(caller)}/{slot}.svg").text for slot in (0, 1)]
    assert other[0] != other[1] == same[1]
    sizes = re.findall(r'<img src="[^"]*" width="(\d+)" height="(\d+)"', caller.client.get(at(caller)).text)
    assert sizes[0][0] == sizes[1][0]
    assert int(sizes[0][1]) > int(sizes[1][1])
    assert caller.client.get(f"{at(caller)}/3.svg").status_code == 404


def test_variants_are_copied_with_their_show_and_read_over_the_api(caller: Caller) -> None:
    """A copy of the show has the same variants; a record says them."""
    post(caller, name="Narrow")
    client: TestClient = caller.client
    copied = client.post(f"/api/v1/shows/{caller.shop.show}/copy", json={"name": "again"}).json()["id"]
    for scope in (caller.shop.show, copied):
        works = client.get("/api/v1/works", params={"scope": scope, "name": NUMBER}).json()["items"]
        assert [each["name"] for each in works[0]["value"]["variants"]] == ["Narrow"]


# ── in a browser ─────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Any, str, Shop]]:
    """A browser, and a shop that is served."""
    with browsing() as browser:
        shop = shop_at(tmp_path_factory.mktemp("variants"))
        with served(shop) as address:
            yield browser, address, shop


@pytest.mark.parametrize(("hand", "number"), [("mouse", "TM-15"), ("keyboard", "TM-12")])
def test_journey_from_one_design_to_two_and_back(desk: tuple[Any, str, Shop], hand: str, number: str) -> None:
    """A design is put aside, changed, the other taken, by mouse or by keyboard alone; what is in hand is kept first."""
    browser, address, shop = desk
    page = browser.new_page(viewport={"width": 1440, "height": 900})
    page.goto(f"{address}{shop.page(number)}")
    handle = page.locator('[data-handle="border.bottom"]')
    was = handle.get_attribute("aria-valuetext")
    if hand == "mouse":
        page.locator("#variant-new").click()
        page.keyboard.type("Before")
        page.locator("[data-keep-variant]").click()
    else:
        page.keyboard.press("v")
        page.keyboard.type("Before")
        page.keyboard.press("Enter")
    page.locator(".variants li").nth(1).wait_for()
    page.locator('[data-handle="border.bottom"]').focus()
    page.keyboard.press("Shift+ArrowDown")
    page.locator(f'[data-handle="border.bottom"]:not([aria-valuetext="{was}"])').wait_for()
    if hand == "mouse":
        page.locator('[data-variant="b"]').click()
    else:
        page.keyboard.press("Enter")
        page.locator("[data-kept]").get_by_text("bottom border").wait_for()
        page.locator('[data-handle="border.bottom"]').evaluate("each => each.blur()")
        page.keyboard.press("b")
    page.locator('[data-variant="b"][aria-current]').wait_for()
    assert page.locator('[data-handle="border.bottom"]').get_attribute("aria-valuetext") == was
    page.keyboard.press("a")
    page.locator('[data-variant="a"][aria-current]').wait_for()
    assert page.locator('[data-handle="border.bottom"]').get_attribute("aria-valuetext") != was
    page.close()
