"""Compiling the few inner loops that need it: numba where it is there, plain Python where it is not.

Compiled code is kept in `.cache/numba` of a checkout that may be written to, else where numba keeps it by default.
Only the modules with such loops import this one, and they are imported only where a problem needs them.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from importlib.util import find_spec
from pathlib import Path
from typing import cast


def _cache_in_checkout() -> None:
    """Point numba at the checkout's own cache before it is first imported."""
    root = Path(__file__).resolve().parents[3]
    if "NUMBA_CACHE_DIR" not in os.environ and (root / "pyproject.toml").is_file() and os.access(root, os.W_OK):
        os.environ["NUMBA_CACHE_DIR"] = str(root / ".cache" / "numba")


AVAILABLE = find_spec("numba") is not None
"""Whether the inner loops run compiled; without it they are some 100 times slower."""


def compiled[F: Callable[..., object]](function: F) -> F:
    """Return the function compiled at its first call and kept on disk; unchanged without numba."""
    if not AVAILABLE:
        return function
    _cache_in_checkout()
    from numba import njit  # noqa: PLC0415 — half a second, so only where an inner loop is asked for

    return cast("F", njit(cache=True, nogil=True)(function))
