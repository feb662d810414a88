"""The documentation names everything that can be set, and the page of rules is that of the program."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import click
import pytest

from fourply.cli.main import group
from fourply.files.kinds import CHOP_KEYS, CUTTING_KEYS, KINDS, RACK_KEYS
from fourply.files.record import WORK_KEYS
from fourply.files.rules import TREATMENT

ROOT = Path(__file__).parent.parent
SHOWS = (ROOT / "docs" / "shows.md").read_text(encoding="utf-8")
KEYS = sorted(
    {*TREATMENT, *WORK_KEYS, *RACK_KEYS, *CUTTING_KEYS, *CHOP_KEYS, *(key for kind in KINDS for key in kind.keys)}
)
COMMANDS = sorted(group.list_commands(click.Context(group)))


@pytest.mark.parametrize("key", KEYS)
def test_every_key_of_a_file_is_documented(key: str) -> None:
    assert f"`{key}`" in SHOWS


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_documented(command: str) -> None:
    pages = "".join(page.read_text(encoding="utf-8") for page in (*(ROOT / "docs").glob("*.md"), ROOT / "README.md"))
    named = f"./run {command}" in pages
    assert named


@pytest.mark.parametrize("command", COMMANDS)
def test_every_option_of_a_command_says_what_it_does(command: str) -> None:
    found = group.get_command(click.Context(group), command)
    assert found is not None
    assert found.help
    for option in found.params:
        assert not isinstance(option, click.Option) or option.help or option.show_default, option.name


def test_the_page_of_rules_is_that_of_the_program() -> None:
    spec = importlib.util.spec_from_file_location("rules_page", ROOT / "scripts" / "rules_page.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    assert module.PAGE.read_text(encoding="utf-8") == module.page()
