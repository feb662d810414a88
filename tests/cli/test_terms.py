"""A show file that says `terms`: what is printed and what is said has them, what was typed stands."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pdfplumber
import pytest

from fourply.cli.main import run
from fourply.wiring import parts

type Run = Callable[..., str]

SHOW = """
[show]
title = "The mat maker"
unit = "in"
terms = "TERMS"
[defaults]
mats = "white 4-ply + red 4-ply @ 1/4 in"
mount = "cream 4-ply"
moulding = "ash 3/4"
[[work]]
id = "A-1"
title = "A rabbet on a mat"
width = "12"
height = "15"
"""
TYPED = ("The mat maker", "A rabbet on a mat")
MAT = re.compile(r"(?<![\w./])(?:mats?|matted|under-mats?|mount boards?|rabbets?)(?![\w/]|\.\w)", re.IGNORECASE)
MOUNT = re.compile(r"\b(?:undermounts?|inner mounts?|rebates?)\b", re.IGNORECASE)
STEPS = ("--steps", "16")


@pytest.fixture(params=["mat", "mount"])
def terms(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture
def show(tmp_path: Path, terms: str) -> str:
    path = tmp_path / "show.toml"
    path.write_text(SHOW.replace("TERMS", terms), encoding="utf-8")
    return str(path)


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    monkeypatch.setenv("FOURPLY_DATA", str(tmp_path / "shop"))

    def called(*arguments: str) -> str:
        assert run([*arguments], parts()) == 0
        return capsys.readouterr().out

    return called


def ours(text: str) -> str:
    """Return a text without what was typed, each thing of which must be in no other words; white space is one space."""
    text = " ".join(text.split())
    for each in TYPED:
        text = text.replace(each, "")
    return text


def check(text: str, terms: str, name: str) -> None:
    here, other = (MAT, MOUNT) if terms == "mat" else (MOUNT, MAT)
    assert other.findall(ours(text)) == [], name
    assert here is MOUNT or here.search(text), name


def test_every_paper_and_drawing(call: Run, show: str, tmp_path: Path, terms: str) -> None:
    out = tmp_path / "out"
    call("make", show, "--out", str(out), *STEPS)
    for name in ("tickets.pdf", "cutting.pdf", "bench.pdf"):
        with pdfplumber.open(out / name) as made:
            text = " ".join(str(page.extract_text()) for page in made.pages)
        check(text, terms, name)
        assert TYPED[0] in text or name != "tickets.pdf"
    check(re.sub(r"<[^>]*>", " ", (out / "drawings" / "A-1-front.svg").read_text(encoding="utf-8")), terms, "front")


def test_what_the_terminal_says(call: Run, show: str, terms: str) -> None:
    check(call("bench", show, *STEPS), terms, "bench")
    check(call("why", show, "A-1", "frame.rabbet.width"), terms, "why")


def test_a_piece_is_spoilt_by_the_name_that_the_list_has(call: Run, show: str, terms: str) -> None:
    listed = call("bench", show, *STEPS)
    name = {"mat": "A-1 under-mat", "mount": "A-1 inner mount"}[terms]
    assert name in listed
    told = call("again", show, "--spoilt", name, *STEPS)
    assert told.startswith(name)
    check(told, terms, "again")
