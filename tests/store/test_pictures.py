"""Pictures lie under what is in them, and are found by nothing else."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

import pytest

from fourply.errors import Unknown
from fourply.store.pictures import PictureFolder


def test_the_same_bytes_are_kept_once(tmp_path: Path) -> None:
    pictures = PictureFolder(tmp_path / "pictures")
    content = pictures.keep(b"tide")
    assert content == pictures.keep(b"tide") == sha256(b"tide").hexdigest()
    assert pictures.read(content) == b"tide"
    assert [path.name for path in tmp_path.rglob("*") if path.is_file()] == [content]
    assert [*pictures.all()] == [content]


@pytest.mark.parametrize("name", ["../shop.sqlite", "", "A" * 64, "0" * 63, "0" * 64, "/" + "0" * 63])
def test_nothing_else_is_found(tmp_path: Path, name: str) -> None:
    (tmp_path / "shop.sqlite").write_text("secret", encoding="utf-8")
    with pytest.raises(Unknown):
        PictureFolder(tmp_path / "pictures").read(name)
