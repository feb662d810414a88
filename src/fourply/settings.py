"""What a machine is set to, outside any show: where a shop keeps what is its own.

The folder is the one that the caller names, else that of FOURPLY_DATA, else the usual place of the system for the data
of programs (XDG base directories: from memory).
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

_VARIABLE = "FOURPLY_DATA"
_DATABASE = "FOURPLY_DATABASE"


def data_folder(given: Path | None = None, environment: Mapping[str, str] = os.environ) -> Path:
    """Return the folder of the shop's data; it need not exist yet.

    >>> data_folder(None, {"FOURPLY_DATA": "shop"}).name
    'shop'
    """
    if given is not None:
        return given
    if named := environment.get(_VARIABLE):
        return Path(named)
    if base := environment.get("XDG_DATA_HOME"):
        return Path(base) / "fourply"
    return Path(environment.get("HOME", "~")).expanduser() / ".local" / "share" / "fourply"


def database_address(environment: Mapping[str, str] = os.environ) -> str | None:
    """Return the address of the database that FOURPLY_DATABASE names; None for a file in the folder of the data.

    >>> database_address({"FOURPLY_DATABASE": "postgresql://bench@shop/fourply"})
    'postgresql://bench@shop/fourply'
    """
    return environment.get(_DATABASE) or None
