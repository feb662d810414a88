"""`--regen` writes the golden drawings anew; look at them before they are kept."""

from __future__ import annotations

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--regen", action="store_true", help="write the golden drawings of the sheets anew")
