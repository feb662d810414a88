"""A real browser for the journeys: Chromium without a window, where there is one."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")


def chromium() -> str | None:
    """Return where Chromium is, None where there is none; FOURPLY_CHROMIUM names another."""
    return os.environ.get("FOURPLY_CHROMIUM") or next(filter(None, map(shutil.which, NAMES)), None)


@contextmanager
def browsing() -> Iterator[Any]:
    """Give a browser; skips where Playwright or Chromium is missing."""
    sync = pytest.importorskip("playwright.sync_api", reason="journeys need playwright")
    path = chromium()
    if path is None:
        pytest.skip("journeys need Chromium")
    with sync.sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        try:
            yield browser
        finally:
            browser.close()
