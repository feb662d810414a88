from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import settings
from tests.store import server
from tests.web import browser

settings.register_profile("patient", settings.default, deadline=None)  # a loaded machine is no fault
settings.load_profile("patient")

# What need not be on the machine: what tests it, why it cannot be tested here, how that is changed.
BESIDE = (
    ("journeys through the pages in a browser", browser.why_not, "Debian: apt install chromium; or FOURPLY_CHROMIUM"),
    ("the records in PostgreSQL", server.why_not, f"Debian: apt install postgresql; or {server.GIVEN}"),
)


@pytest.fixture(scope="session")
def postgres() -> Iterator[str]:
    """The address of a PostgreSQL server; skips where there is none."""
    if why := server.why_not():
        pytest.skip(why)
    with server.server() as address:
        yield address


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say what was left out since it is not on this machine, and how to have it."""
    skipped = [str(each.longrepr) for each in terminalreporter.stats.get("skipped", ())]
    for what, why_not, way in BESIDE:
        why = why_not()
        count = sum(why in each for each in skipped) if why else 0
        if count:
            terminalreporter.write_line(f"Left out, {count} tests: {what}, {why} ({way})", yellow=True)
