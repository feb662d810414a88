"""Loads all that a server needs, by serving an empty shop once: what is forked from this process is up at once."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from tests.web.shops import AT, SHOW, client_at

with TemporaryDirectory() as _folder, client_at(Path(_folder)) as _client:
    _show = _client.post(f"{AT}/shows", json={"value": SHOW}).json()["id"]
    _client.post(f"{AT}/works/typed", json={"scope": _show, "given": {"id": "1", "size": "9 x 12"}})
    _client.get(f"{AT}/works?scope={_show}")
