"""Cutter files: what is written reads back, every fault by its line, rubbish never more than faults."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.bench.cutters import INCH, MM, PINNED, measured, mid

from fourply.bench.calibration import accept, calibrate
from fourply.bench.constants import NAMES, Calibration, Constant, Name
from fourply.bench.cutter import Direction, Side, StopDatum
from fourply.bench.profile import (
    Arm,
    Blade,
    BoardFace,
    Cuts,
    Guide,
    Head,
    HeadKind,
    Index,
    OvalScale,
    Position,
    Profile,
    Scale,
    Stops,
)
from fourply.files import codec
from fourply.files.cells import dead_cell
from fourply.files.cutters import read_cutter, starter_cutters, write_cutter
from fourply.files.toml_text import toml_text
from fourply.measure.length import ZERO, Length
from fourply.measure.notation import Unit

ROOT = Path(__file__).resolve().parent.parent.parent
STARTER = write_cutter(starter_cutters()["metric cutter"]).decode()

names = (
    st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=12)
    .map(str.strip)
    .filter(lambda text: bool(text) and not dead_cell(text))
)
lengths = st.integers(1, 10**9).map(Length)
signed = st.integers(-(10**7), 10**7).map(Length)
floats = st.floats(-5, 5)
constants = st.builds(Constant, floats, st.floats(0, 5))


@st.composite
def guides(draw: st.DrawFn) -> Guide:
    least, more = draw(lengths), draw(lengths)
    pinned = draw(st.lists(st.integers(least.nm, (least + more).nm).map(Length), max_size=4))
    scale = Scale.PINNED if pinned else draw(st.sampled_from([Scale.CONTINUOUS, Scale.STEPS]))
    strips = tuple(draw(st.lists(lengths, max_size=3)))
    return Guide(least, least + more, draw(lengths), draw(st.sampled_from(Side)), scale, tuple(pinned), strips)


@st.composite
def heads(draw: st.DrawFn) -> Head:
    marks = draw(st.lists(names, max_size=3, unique=True))
    positions = tuple(Position(mark, draw(lengths)) for mark in marks)
    boards = draw(st.lists(names, max_size=3, unique=True)) if marks else []
    return Head(
        draw(names),
        draw(st.sampled_from(HeadKind)),
        draw(st.sampled_from(Index)),
        draw(st.sampled_from([45.0, 52.0, 60.5, 90.0])),
        draw(st.sampled_from(Direction)),
        draw(signed),
        draw(signed),
        draw(st.sampled_from(BoardFace)),
        draw(st.sampled_from(OvalScale)),
        Blade(draw(names), positions, draw(st.none() | lengths)),
        tuple(Cuts(board, draw(st.sampled_from(marks))) for board in boards),
    )


@st.composite
def calibrations(draw: st.DrawFn) -> Calibration:
    found = {name: draw(constants) for name in NAMES}
    found[Name.GAIN] = Constant(draw(st.floats(0.6, 1.9)), 0.001)
    found[Name.ANGLE] = Constant(draw(st.floats(1, 90)), 0.1)
    day = draw(st.dates()).isoformat()
    together = (draw(floats), draw(floats), draw(floats))
    return Calibration.of(
        day, found, together=together, readings=draw(st.integers(0, 99)), left_out=tuple(draw(st.lists(names)))
    )


profiles = st.builds(
    Profile,
    names,
    guides(),
    lengths,
    lengths,
    lengths,
    st.lists(heads(), min_size=1, max_size=3, unique_by=lambda head: head.name).map(tuple),
    st.builds(Stops, st.booleans(), st.booleans(), st.sampled_from(StopDatum)),
    st.none() | st.builds(Arm, lengths, st.booleans()),
    st.sampled_from([0.0, 0.1, 0.25]),
    st.sampled_from(Unit),
    st.lists(calibrations(), max_size=3).map(lambda found: tuple(sorted(found, key=lambda each: each.date))),
)


@settings(max_examples=60)
@given(profiles)
def test_a_cutter_reads_back_as_it_was_written(profile: Profile) -> None:
    read = read_cutter("a.toml", write_cutter(profile))
    assert [str(fault) for fault in read.faults] == []
    assert read.profile == profile


@settings(max_examples=30)
@given(profiles)
def test_a_cutter_goes_through_the_codec(profile: Profile) -> None:
    assert codec.load(Profile, codec.save(profile), "a") == profile


def test_a_calibrated_cutter_reads_back() -> None:
    for profile in (MM, INCH, PINNED):
        known = accept(profile, calibrate(profile, measured([mid("a, b", Length.mm(60), Length.mm(61))])))
        assert read_cutter("a.toml", write_cutter(known)).profile == known


def test_the_starter_cutters_are_whole_and_plain() -> None:
    found = starter_cutters()
    assert sorted(found) == ["inch cutter", "metric cutter"]
    assert [profile.unit for _, profile in sorted(found.items())] == [Unit.INCH, Unit.MM]
    assert all(profile.calibration is None and profile.bevel for profile in found.values())


def changed(pattern: str, to: str) -> list[str]:
    text, count = re.subn(pattern, to, STARTER, count=1, flags=re.MULTILINE)
    assert count == 1
    read = read_cutter("a.toml", text.encode())
    assert read.profile is None
    return [str(fault) for fault in read.faults]


@pytest.mark.parametrize(
    ("pattern", "to", "told"),
    [
        ("^schema = 1", "schema = 2", "schema: '2'; this version reads schema 1: a newer one can read it"),
        ("^schema = 1", "", "schema: nothing; schema = 1"),
        ("^bar = .*", 'baar = "1 m"', "baar: 'baar'; perhaps bar"),
        ("^least = .*", 'laest = "1 in"', "guide.laest: 'laest'; perhaps least"),
        ("^least = .*", 'least = "nonsense"', "guide.least: 'nonsense'; write a length such as"),
        ("^least = .*", 'least = "5 m"', "the greatest border of a guide is above the least"),
        ("^least = .*", "", "least too"),
        ("^side = .*", 'side = "middle"', "guide.side: 'middle'; write one of left, right"),
        ("^scale = .*", 'scale = "pinned"', "pinned borders are given for a pinned guide"),
        ("^scale = .*", 'pinned = "3 in"', "guide.pinned: '3 in'; write a list such as"),
        ("^datum = .*", 'datum = "wall"', "write one of board edge, bar"),
        ("^kind = .*", "", "kind too"),
        ("^kind = .*", 'kind = "bevel"\nblades = 3', "heads.bevel.blades: 'blades'; perhaps blade"),
        ("^angle_deg = .*", "angle_deg = 7", "from 20 to 90 degrees"),
        (r"^\[guide\]", "[giude]", "giude: 'giude'; perhaps guide"),
        (r"^\[heads\.bevel\.blade\]", "[heads.bevel.cuts]\nx = '2'\n[heads.bevel.blade]", "no position '2' for x"),
        (r"\Z", '[[calibrations]]\ndate = "2026-13-01"\n', "write a date such as 2026-03-01"),
        (r"\Z", "[[calibrations]]\ndate = 2026-03-01\ngain = [1.0]\n", "a value and its standard error"),
        (r"\Z", "[[calibrations]]\ndate = 2026-03-01\ngain = [nan, 0]\n", "write a number such as 1.004"),
        (r"\Z", "[[calibrations]]\ndate = 2026-03-01\ngain = [1, 0]\n", "offset, skew, start"),
        ("^name = .*", 'name = " "', "a cutter has a name"),
    ],
)  # fmt: skip
def test_a_fault_says_where_and_what_would_be_right(pattern: str, to: str, told: str) -> None:
    faults = changed(pattern, to)
    assert any(told in fault and fault.startswith("a.toml") for fault in faults), faults


def test_a_fault_names_its_line() -> None:
    (fault,) = changed("^step = .*", 'step = "zero"')
    line = STARTER.splitlines().index('step = "0.5 mm"') + 1
    assert fault.startswith(f"a.toml, row {line}, guide.step: 'zero'")


keys = st.sampled_from(
    [
        *("schema", "name", "unit", "bar", "guide", "least", "step", "heads", "bevel", "kind", "blade", "positions"),
        *("cuts", "calibrations", "date", "gain", "arm", "stops", "far", "pinned", "together", "left_out", "x"),
    ]
)
values = st.recursive(
    st.sampled_from(
        ['"1 in"', '"-3"', "1", "-1", "nan", "1e400", "2026-03-01", "true", '""', '"bevel"', "[]", '"8-Mar"']
    ),
    lambda inner: (
        st.lists(inner, max_size=3).map(lambda each: f"[{', '.join(each)}]")
        | st.lists(st.tuples(keys, inner), max_size=3, unique_by=lambda pair: pair[0]).map(
            lambda pairs: "{" + ", ".join(f"{key} = {value}" for key, value in pairs) + "}"
        )
    ),
    max_leaves=6,
)
lines = st.one_of(
    st.tuples(keys, values).map(lambda pair: f"{pair[0]} = {pair[1]}"),
    st.lists(keys, min_size=1, max_size=3).map(lambda path: f"[{'.'.join(path)}]"),
    keys.map(lambda key: f"[[{key}]]"),
)


@settings(max_examples=300)
@given(st.lists(lines, max_size=12).map("\n".join), st.sampled_from(["", "schema = 1\n"]))
def test_rubbish_gives_faults_and_no_other_error(text: str, head: str) -> None:
    read = read_cutter("a.toml", (head + text).encode())
    assert (read.profile is None) == bool(read.faults)


@settings(max_examples=200)
@given(st.data())
def test_a_spoilt_file_gives_faults_or_a_cutter(data: st.DataObject) -> None:
    found = STARTER.splitlines()
    for _ in range(data.draw(st.integers(1, 3))):
        found[data.draw(st.integers(0, len(found) - 1))] = data.draw(lines | st.text(max_size=9))
    read = read_cutter("a.toml", "\n".join(found).encode("utf-8", "replace"))
    assert (read.profile is None) == bool(read.faults)


@given(st.binary(max_size=60))
def test_bytes_give_faults_and_no_other_error(data: bytes) -> None:
    assert read_cutter("a.toml", data).faults


def test_text_of_any_kind_is_written_so_that_it_reads_back() -> None:
    odd = replace(MM, name='a "b" \\ \t é 川')
    assert read_cutter("a.toml", write_cutter(odd)).profile == odd
    assert toml_text({"a b": [True, 1.5, "x"]}) == '"a b" = [true, 1.5, "x"]\n'


def test_the_published_schema_is_that_of_the_values() -> None:
    published = json.loads((ROOT / "docs" / "schemas" / "cutter.json").read_text("utf-8"))
    assert published == codec.json_schema(Profile), "run scripts/cutter_schema.py"


def test_a_length_of_nothing_is_no_blade() -> None:
    with pytest.raises(ValueError, match="above nothing"):
        Position("1", ZERO)
