"""A real browser for the journeys: Chromium without a window, where there is one."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
PATIENCE = 60_000
"""How many milliseconds a page may take on a machine that is busy; what is waited for usually takes a few."""


def chromium() -> str | None:
    """Return where Chromium is, None where there is none; FOURPLY_CHROMIUM names another."""
    return os.environ.get("FOURPLY_CHROMIUM") or next(filter(None, map(shutil.which, NAMES)), None)


def why_not() -> str:
    """Return why there is no browser here, "" where there is one."""
    return "" if chromium() else "which need Chromium"


@contextmanager
def browsing() -> Iterator[Browser]:
    """Give a browser; skips where there is no Chromium."""
    if why := why_not():
        pytest.skip(why)
    from playwright.sync_api import sync_playwright  # noqa: PLC0415  # takes most of a second

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=["--no-sandbox"], timeout=2 * PATIENCE)
        try:
            yield browser
        finally:
            browser.close()


@contextmanager
def window(browser: Browser, *, theme: str = "light", strict: bool = False) -> Iterator[Page]:
    """Give a window of its own, in which no script may fail and nothing may be against the page's own rules.

    A strict one has nothing in its console either, and no request that fails or is refused; where somebody is meant to
    be refused, that is no fault.
    """
    context = browser.new_context(viewport={"width": 1440, "height": 900}, color_scheme=theme)  # type: ignore[arg-type]
    page = context.new_page()
    page.set_default_timeout(PATIENCE)
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.on(
        "console", lambda told: faults.append(told.text) if _is_fault(told.type, told.text, strict=strict) else None
    )
    if strict:
        page.on(
            "requestfailed", lambda one: faults.append(f"{one.url} {one.failure}") if _is_lost(one.failure) else None
        )
        page.on("response", lambda one: faults.append(f"{one.url} {one.status}") if one.status >= 400 else None)
    yield page
    context.close()
    assert faults == []


def _is_fault(kind: str, text: str, *, strict: bool) -> bool:
    return "Content Security" in text or (strict and kind in {"error", "warning"})


def _is_lost(failure: str | None) -> bool:
    return "ERR_ABORTED" not in (failure or "")  # what a page had asked for when it was left


@cache
def _axe() -> str:
    return resources.files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")


def violations(page: Page) -> list[str]:
    """Return what axe-core finds against WCAG 2.2 AA and good practice on the page as it stands."""
    page.evaluate(_axe() + "; null")
    found = page.evaluate("axe.run({rules: {'target-size': {enabled: true}}}).then((result) => result.violations)")
    return [
        f"{each['id']}: {node['html'][:160]} {node['failureSummary'][:160]}" for each in found for node in each["nodes"]
    ]


def too_wide(page: Page) -> int:
    """Return by how many dots the page reaches past its window."""
    return int(page.evaluate("Math.max(0, document.documentElement.scrollWidth - innerWidth)"))


def settled(page: Page) -> None:
    """Wait until nothing is fetched any more and every part that comes later is there."""
    page.wait_for_load_state("networkidle")
    page.evaluate("document.fonts.ready.then(() => null)")
