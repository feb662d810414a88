"""Pictures beside the database: files called by the SHA-256 of what is in them, never by a name that came from outside.

A picture is never changed and never removed, so backups of the database need no copy of it.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from tempfile import NamedTemporaryFile

from fourply.errors import Unknown

_HASH = re.compile(r"[0-9a-f]{64}")


def sync(folder: Path) -> None:
    """Return once the names in a folder are on disk too."""
    opened = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


class PictureFolder:
    """The pictures of a shop in a folder, 256 folders below it."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def keep(self, data: bytes) -> str:
        """Keep bytes and return their hash; they are on disk when this returns."""
        content = sha256(data).hexdigest()
        path = self._path(content)
        if not path.exists():
            path.parent.mkdir(parents=True, exist_ok=True)
            with NamedTemporaryFile(dir=path.parent, suffix=".part", delete=False) as part:
                part.write(data)
                part.flush()
                os.fsync(part.fileno())
            Path(part.name).replace(path)
            for folder in (path.parent, self._folder):
                sync(folder)
        return content

    def read(self, content: str) -> bytes:
        """Return the bytes of a hash; raises Unknown."""
        if not _HASH.fullmatch(content):
            raise Unknown("picture", content, ())
        try:
            return self._path(content).read_bytes()
        except FileNotFoundError:
            raise Unknown("picture", content, ()) from None

    def all(self) -> Iterator[str]:
        """Yield the hash of every picture, in order."""
        yield from sorted(path.name for path in self._folder.glob("??/*") if _HASH.fullmatch(path.name))

    def _path(self, content: str) -> Path:
        return self._folder / content[:2] / content
