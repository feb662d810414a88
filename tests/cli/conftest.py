from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from fourply.cli.main import run
from fourply.wiring import parts

type Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    """Runs a command on an empty shop; returns its exit code and what it said on both ways out."""
    monkeypatch.setenv("FOURPLY_DATA", str(tmp_path / "data"))
    monkeypatch.delenv("FOURPLY_DATABASE", raising=False)

    def called(*arguments: str | Path) -> tuple[int, str, str]:
        code = run([str(argument) for argument in arguments], parts())
        said = capsys.readouterr()
        return code, said.out, said.err

    return called
