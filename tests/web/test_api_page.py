"""The examples of docs/api.md, asked one after the other."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from starlette.testclient import TestClient

PAGE = (Path(__file__).parent.parent.parent / "docs" / "api.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```text\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)


class Block(NamedTuple):
    """An example in its parts."""

    first: str
    headers: dict[str, str]
    body: str


def block(text: str) -> Block:
    head, _, body = text.partition("\n\n")
    first, *lines = head.strip().splitlines()
    return Block(first, dict(line.split(": ", 1) for line in lines), body)


def filled(text: str, names: dict[str, str]) -> str:
    return re.sub(r"\{(\w+)\}", lambda found: names.get(found[1], found[0]), text)


def hold(shown: Any, found: Any, names: dict[str, str]) -> None:
    """Hold what is shown against what was found, of which it may leave out members; takes note of new names."""
    if isinstance(shown, dict):
        for key, each in shown.items():
            assert key in found, key
            hold(each, found[key], names)
    elif isinstance(shown, list):
        assert len(found) >= len(shown)
        for each, other in zip(shown, found, strict=False):
            hold(each, other, names)
    elif isinstance(shown, str) and (name := re.fullmatch(r"\{(\w+)\}", shown)):
        assert names.setdefault(name[1], found) == found
    else:
        assert found == (pytest.approx(shown) if isinstance(shown, float) else shown)


def test_every_example_answers_as_it_says(client: TestClient) -> None:
    names: dict[str, str] = {}
    assert len(BLOCKS) > 20
    for sent, answered in zip(BLOCKS[::2], BLOCKS[1::2], strict=True):
        asked, shown = block(filled(sent, names)), block(answered)
        method, path = asked.first.split(" ", 1)
        kind = {"Content-Type": "application/json"} if asked.body else {}
        answer = client.request(method, path, content=asked.body.encode() or None, headers=kind | asked.headers)
        assert f"HTTP {answer.status_code}" == shown.first, answer.text
        assert {name: answer.headers.get(name) for name in shown.headers} == shown.headers
        hold(json.loads(shown.body), answer.json(), names)


def test_every_kind_of_problem_is_documented() -> None:
    source = Path(__file__).parent.parent.parent / "src" / "fourply" / "web"
    text = "".join((source / name).read_text(encoding="utf-8") for name in ("problems.py", "guard.py"))
    kinds = set(re.findall(r'"([a-z]+-[a-z-]+|taken|stale|unknown|unavailable)", (?:HTTP|\n)', text))
    assert len(kinds) > 10
    unnamed = {"worker-lost", "no-workers", "no-backup", "refused"}  # of long work alone
    assert {kind for kind in kinds - unnamed if f"`{kind}`" not in PAGE} == set()


def test_every_collection_is_documented(client: TestClient) -> None:
    paths = client.get("/openapi.json").json()["paths"]
    collections = {path.split("/")[3] for path in paths}
    assert {each for each in collections if each not in PAGE} == set()
