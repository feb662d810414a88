"""A real browser for the journeys: Chromium without a window, where there is one."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")


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
        browser = playwright.chromium.launch(executable_path=chromium(), args=["--no-sandbox"])
        try:
            yield browser
        finally:
            browser.close()
