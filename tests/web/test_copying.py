"""A treatment copied to other works as one entry, and a work's own rules given a name."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.web.browser import browsing
from tests.web.design_shop import Caller, Shop, caller_at, served, shop_at


@pytest.fixture
def caller(tmp_path: Path) -> Iterator[Caller]:
    with caller_at(tmp_path) as found:
        yield found


def rules(caller: Caller, number: str) -> tuple[str, set[str]]:
    """Return the treatment that a work names, and the rules that are its own."""
    said = caller.design(number)["rules"]
    return said["treatment"], {rule["key"] for group in said["groups"] for rule in group["rules"] if rule["own"]}


def copy(caller: Caller, number: str, to: list[str], own: str, version: int | None = None) -> str:
    chosen = [f"{caller.shop.works[each]}:{version or caller.design(each)['version']}" for each in to]
    at = f"/works/{caller.shop.works[number]}/copy"
    return caller.client.post(at, data={"work": chosen, "own": own}).text


def test_others_are_treated_alike_with_or_without_their_own(caller: Caller) -> None:
    """With its own rules theirs go, without they stay; both at once are one entry to undo."""
    caller.keep("TM-14", caller.design("TM-14")["version"], rules={"bottom": "5 in"})
    caller.keep("TM-02", caller.design("TM-02")["version"], rules={"overlap": "1/4 in"})
    assert rules(caller, "TM-02") == ("drawing", {"overlap"})
    html = copy(caller, "TM-14", ["TM-02", "TM-05"], "yes")
    assert "Undo “treatment of TM-14 for TM-02, TM-05”" in html
    assert rules(caller, "TM-02") == rules(caller, "TM-05") == ("triple", {"bottom"})
    before = rules(caller, "TM-06")
    copy(caller, "TM-14", ["TM-06"], "no")
    assert rules(caller, "TM-06") == ("triple", before[1])


@pytest.mark.parametrize(
    ("to", "version", "says"), [([], None, "at least one work"), (["TM-02"], 99, "changed elsewhere")]
)
def test_what_cannot_be_copied_is_said(caller: Caller, to: list[str], version: int | None, says: str) -> None:
    before = rules(caller, "TM-02")
    assert says in copy(caller, "TM-14", to, "yes", version)
    assert rules(caller, "TM-02") == before


def test_own_rules_become_a_treatment_with_a_name(caller: Caller) -> None:
    """What the work comes to stays as it is; a name that is there, and none, are refused with what was typed."""
    caller.keep("TM-14", caller.design("TM-14")["version"], rules={"bottom": "5 in"})
    front = caller.design("TM-14")["front"]
    at, page = f"/works/{caller.shop.works['TM-14']}/name", f"/works/{caller.shop.works['TM-14']}/copy"
    for name, says in (("cameo", "cameo"), ("  ", "a name for the treatment")):
        html = caller.client.post(at, data={"name": name, "version": caller.design("TM-14")["version"]})
        assert (html.status_code, says in html.text) == (422, True)
    done = caller.client.post(at, data={"name": "Deep foot", "version": caller.design("TM-14")["version"]})
    assert "Undo “TM-14: treatment Deep foot”" in done.text
    assert rules(caller, "TM-14") == ("Deep foot", set())
    assert caller.design("TM-14")["front"] == front
    assert "As a treatment" not in caller.client.get(page).text
    copy(caller, "TM-14", ["TM-15"], "yes")
    assert rules(caller, "TM-15") == ("Deep foot", set())


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[tuple[Any, str, Shop]]:
    with browsing() as browser:
        shop = shop_at(tmp_path / "shop")
        with served(shop) as address:
            yield browser, address, shop


@pytest.mark.parametrize("hand", ["mouse", "keyboard"])
def test_journey_from_one_design_to_others(desk: tuple[Any, str, Shop], hand: str) -> None:
    browser, address, shop = desk
    page = browser.new_page(viewport={"width": 1440, "height": 900})

    def press(role: str, name: str, key: str = "Enter") -> None:
        found = page.get_by_role(role, name=re.compile(name))
        if hand == "mouse":
            found.first.click()
        else:
            found.first.focus()
            page.keyboard.press(key)

    page.goto(f"{address}{shop.page('TM-14')}")
    press("link", "Copy this treatment")
    press("checkbox", "Copy to TM-01", "Space")
    press("checkbox", "Copy to TM-03", "Space")
    press("button", "Copy it to these")
    page.get_by_text("treatment of TM-14 for TM-01, TM-03").wait_for()
    page.close()
