"""The house rules that a machine can read, on every file that git keeps."""

from __future__ import annotations

import ast
import re
import subprocess
import tomllib
from pathlib import Path

import pytest

import fourply

ROOT = Path(__file__).resolve().parent.parent
BINARY = {".ico", ".jpg", ".npz", ".pdf", ".png", ".ttf", ".webp", ".woff2", ".xlsx"}
# Tables of data may be longer than the wall; each stands alone in its file.
TABLES = frozenset({"src/fourply/trade/rules.py"})
WALL = 400

REGISTRY = re.compile(
    r"pypi\.org|python[h]osted|npm[j]s|yarn[p]kg|crates\.io|proxy\.golang|conda\.anaconda|deb\.debian|archive\.ubuntu"
    r"|https?://\S+/(?:simple|packages)/|index-url\s+\S*://|\"resolved\":"
)
MACHINE = re.compile(r"(?<![\w.)}])/(?:root|home/\w+|Users/\w+|tmp|work)/|\b[A-Z]:\\Users\\")


def kept() -> list[Path]:
    """Return the files that git keeps and that are still there."""
    try:
        listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True)
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("needs git and a checkout")
    paths = (ROOT / name for name in listed.stdout.decode().split("\0") if name)
    return [path for path in paths if path.is_file()]


def texts() -> list[tuple[str, bytes]]:
    return [
        (path.relative_to(ROOT).as_posix(), path.read_bytes()) for path in kept() if path.suffix.lower() not in BINARY
    ]


def places(pattern: re.Pattern[str]) -> list[str]:
    """Return file:line of each line that the pattern is found in."""
    return [
        f"{name}:{number}"
        for name, text in texts()
        for number, line in enumerate(text.decode("utf-8", "replace").splitlines(), 1)
        if pattern.search(line)
    ]


def sources() -> list[tuple[str, str]]:
    return [(name, text.decode()) for name, text in texts() if name.startswith("src/") and name.endswith(".py")]


def test_text_is_utf8_with_plain_line_ends() -> None:
    def fault(text: bytes) -> str:
        try:
            text.decode("utf-8")
        except UnicodeDecodeError:
            return "not UTF-8"
        if text.startswith(b"\xef\xbb\xbf"):
            return "a byte order mark"
        if b"\r" in text:
            return "a carriage return"
        return "" if text.endswith(b"\n") or not text else "no line end at the end"

    assert [f"{name}: {fault(text)}" for name, text in texts() if fault(text)] == []


def test_no_file_names_a_package_registry() -> None:
    assert places(REGISTRY) == []


def test_no_file_names_a_place_on_one_machine() -> None:
    assert places(MACHINE) == []


@pytest.mark.parametrize(
    ("pattern", "line", "found"),
    [
        (REGISTRY, "see https://files." + "python" + "hosted.org/x", True),
        (REGISTRY, "--extra-index" + "-url https" + "://example.org", True),
        (REGISTRY, "numpy==2.5.5 --hash=sha256:00", False),
        (MACHINE, "/ho" + "me/ann/fourply", True),
        (MACHINE, 'open("/t' + 'mp/x")', True),
        (MACHINE, "/usr/local/bin/python3, $HOME/.pyenv, docs/ho" + "me/page.md", False),
    ],
)
def test_the_patterns_find_what_they_are_for(pattern: re.Pattern[str], line: str, *, found: bool) -> None:
    assert bool(pattern.search(line)) is found


def test_no_journey_waits_by_a_script_that_the_pages_forbid() -> None:
    """A function that is waited for is read by eval, which the pages refuse unless it holds at the first look."""
    assert places(re.compile(r"\.wait_for_" + r"function\(")) == []


def test_source_has_no_assert() -> None:
    found = [
        f"{name}:{node.lineno}"
        for name, text in sources()
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Assert)
    ]

    assert found == []


def test_no_source_file_is_over_the_wall() -> None:
    lines = {name: len(text.splitlines()) for name, text in sources() if name not in TABLES}

    assert {name: count for name, count in lines.items() if count > WALL} == {}


def test_version_is_one() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]

    assert fourply.__version__ == project["version"]


def test_the_locks_agree() -> None:
    def pins(name: str) -> set[str]:
        return set(re.findall(r"^[\w.-]+==\S+", (ROOT / name).read_text("utf-8"), re.MULTILINE))

    for other in ("requirements-cluster.lock", "requirements-postgres.lock", "requirements-test.lock"):
        assert pins("requirements-core.lock") - pins(other) == set()
