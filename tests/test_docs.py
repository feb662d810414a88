"""The documentation names everything that can be set, and the page of rules is that of the program."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path

import click
import pytest

from fourply.cli.main import group
from fourply.files import cutter_keys
from fourply.files.cutters import read_cutter
from fourply.files.kinds import CHOP_KEYS, CUTTING_KEYS, KINDS, RACK_KEYS
from fourply.files.measured import read_measured
from fourply.files.record import WORK_KEYS
from fourply.files.rules import TREATMENT
from fourply.files.show import read_show
from fourply.files.works import Asked
from fourply.measure.notation import Unit

ROOT = Path(__file__).parent.parent
SHOWS = (ROOT / "docs" / "shows.md").read_text(encoding="utf-8")
KEYS = sorted(
    {*TREATMENT, *WORK_KEYS, *RACK_KEYS, *CUTTING_KEYS, *CHOP_KEYS, *(key for kind in KINDS for key in kind.keys)}
)
COMMANDS = sorted(group.list_commands(click.Context(group)))


@pytest.mark.parametrize("key", KEYS)
def test_every_key_of_a_file_is_documented(key: str) -> None:
    assert f"`{key}`" in SHOWS


CUTTERS = (ROOT / "docs" / "cutters.md").read_text(encoding="utf-8")
CUTTER_KEYS = sorted(
    {
        key
        for name, value in vars(cutter_keys).items()
        if name.endswith(("_KEYS", "_TABLES", "FACTS"))
        for key in value
        if key not in {"guide", "stops", "arm", "heads", "calibrations"}
    }
)


@pytest.mark.parametrize("key", CUTTER_KEYS)
def test_every_key_of_a_cutter_is_documented(key: str) -> None:
    assert f"`{key}`" in CUTTERS


def test_the_examples_of_a_cutter_and_of_readings_are_read() -> None:
    cutter, readings = re.findall(r"^```toml\n(.*?)^```$", CUTTERS, re.MULTILINE | re.DOTALL)
    assert [str(fault) for fault in read_cutter("cutter.toml", cutter.encode()).faults] == []
    assert [str(fault) for fault in read_measured("readings.toml", readings.encode()).faults] == []


EXAMPLES = re.findall(r"^```toml\n(.*?)^```$", SHOWS, re.MULTILINE | re.DOTALL)
LIST = re.findall(r"^```\n(No\..*?)^```$", SHOWS, re.MULTILINE | re.DOTALL)
HEAD = '[show]\nunit = "in"\norder = "width x height"\nworks = []\n'
KITE = b'<svg xmlns="http://www.w3.org/2000/svg"><path d="M4 0 L8 4 L4 12 L0 4 Z"/></svg>'


@pytest.mark.parametrize("example", [each for each in EXAMPLES if "[mouldings" not in each])
def test_every_example_of_a_show_file_is_read(example: str) -> None:
    head = HEAD if example.startswith("[") else f"{HEAD}[defaults]\n"
    show = read_show("show.toml", (head + example).encode(), lambda _: KITE, Asked())
    assert [str(fault) for fault in show.faults] == []


def test_the_example_of_a_list_hangs_in_one_mat() -> None:
    (text,) = LIST
    show = read_show("list.csv", text.encode(), lambda _: b"", Asked(Unit.INCH))
    assert [str(fault) for fault in show.faults] == []
    assert [len(entry.work.arts) for entry in show.entries] == [3]


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
