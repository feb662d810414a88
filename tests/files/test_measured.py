"""Readings off a test cut: the table that is printed reads back, every fault by its row, rubbish never more."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.bench.cutters import INCH, MM, PINNED

from fourply.bench.calibration import calibrate
from fourply.bench.profile import Profile
from fourply.bench.readings import What
from fourply.bench.trial import trial
from fourply.errors import Unknown
from fourply.files.measured import empty_table, read_measured
from fourply.measure.length import ZERO, Length

HEAD = "box,what,where,value,second,setting,length,caliper,width,height,used\n"
DAY = ",date,,2026-03-01\n,unit,,mm\n,rule,,0.5 mm\n"
TOML = 'date = 2026-03-01\nunit = "mm"\nrule = "0.5"\n'


def filled(profile: Profile) -> str:
    """Return the printed table filled in as a cutter without errors would have it."""
    made = trial(profile, Length.mm(15, 10))
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    for row in csv.reader(io.StringIO(empty_table(made))):
        match row[1]:
            case "date":
                row[3] = "2026-03-01"
            case "caliper":
                row[3] = "1.5 mm"
            case "border mid" | "border far" | "border near":
                row[3] = row[5]
            case "start" | "stop":
                row[3] = "0"
            case "core":
                row[3] = "1.5 mm"
            case "diagonals":
                row[3] = row[4] = f"{made.diagonal.length.as_mm} mm"
        writer.writerow(row)
    return out.getvalue()


@pytest.mark.parametrize("profile", [MM, INCH, PINNED], ids=lambda profile: profile.name)
def test_the_table_of_a_sheet_filled_in_reads_back(profile: Profile) -> None:
    read = read_measured("a.csv", filled(profile).encode())
    assert [str(fault) for fault in read.faults] == []
    assert read.measured is not None
    assert len(read.measured.readings) == 22
    found = calibrate(profile, read.measured)
    assert not found.misfits
    for name, value in (("gain", 1.0), ("offset", 0.0), ("skew", 0.0), ("start", 0.0), ("angle", 45.0)):
        constant = getattr(found.calibration, name)
        assert constant.value == pytest.approx(value, abs=2e-4), name


def test_the_empty_table_says_what_is_missing() -> None:
    read = read_measured("a.csv", empty_table(trial(MM, Length.mm(1))).encode())
    assert [str(fault) for fault in read.faults] == [
        "a.csv, row 4, date: nothing; date of these readings",
        "a.csv: 'no reading'; a value in at least one box",
    ]


def test_toml_says_the_same_as_a_table() -> None:
    table = f"{HEAD}{DAY},reading error,,0.2 mm\n3,border mid,top,60.5,,60\n4,start,,-0.5,,,,1.5 mm\n"
    toml = (
        f'{TOML}reading_error = 0.2\n[[readings]]\nbox = 3\nwhat = "border mid"\nvalue = 60.5\nsetting = 60\n'
        '[[readings]]\nbox = "4"\nwhat = "start"\nvalue = "-0.5"\ncaliper = "1.5 mm"\n'
    )
    one, two = read_measured("a.csv", table.encode()), read_measured("a.toml", toml.encode())
    assert one.faults == two.faults == ()
    assert one.measured == two.measured
    assert one.measured is not None
    assert [(each.name, each.what, each.value) for each in one.measured.readings] == [
        ("3", What.MID, Length.mm(605, 10)),
        ("4", What.START, Length.mm(-1, 2)),
    ]


def test_the_caliper_of_the_day_is_that_of_every_reading_without_its_own() -> None:
    table = f"{HEAD}{DAY},caliper,,1.4 mm\n1,start,,0\n2,stop,,0,,,,3 mm\n"
    read = read_measured("a.csv", table.encode())
    assert read.measured is not None
    assert [each.caliper for each in read.measured.readings] == [Length.mm(14, 10), Length.mm(3)]


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("1,border mid,,sixty,,60", "row 5, value: 'sixty'; write a length such as"),
        ("1,border mid,,60,,", "row 5, value: '60'; a reading of border mid has a setting above nothing"),
        ("1,border middle,,60,,60", "row 5, what: 'border middle'; write one of border mid, border far"),
        ("1,,,60,,60", "row 5, what: nothing; what of this reading"),
        ("1,diagonals,,,500,,,,300,400", "row 5, value: nothing; value of this reading"),
        ("1,diagonals,,500,,,,,300,400", "has a second above nothing"),
        ("1,diagonals,,900,100,,,,300,400", "not those of a blank of this width and height"),
        ("1,border mid,,-60,,60", "a reading of border mid is above nothing"),
        ("1,border mid,,60,,60\n1,border mid,,60,,60", "row 6, box: '1'; a name of its own"),
        ("1,border mid,,5-Mar,,60", "the spreadsheet made a date of it"),
        (",rule,,0 mm\n1,border mid,,60,,60", "the division of a rule is above nothing"),
        (",date,,soon\n1,border mid,,60,,60", "row 5, date: 'soon'; write a date such as 2026-03-01"),
        ("1,four cuts,,900,1,,20", "no strip of four cuts"),
    ],
)
def test_a_fault_of_a_table_says_where_and_what_would_be_right(row: str, told: str) -> None:
    read = read_measured("a.csv", f"{HEAD}{DAY}{row}\n".encode())
    assert read.measured is None
    assert any(told in str(fault) for fault in read.faults), read.faults


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("dat = 2026-03-01\n", "dat: 'dat'; perhaps date"),
        (f"{TOML}[[readings]]\nsett = 3\n", "sett: 'sett'; perhaps setting"),
        ("schema = 2\n", "this version reads schema 1"),
        (f"{TOML}readings = 3\n", "tables: [[readings]]"),
        ("= 3\n", "TOML: key = value"),
    ],
)
def test_a_fault_of_a_toml_file_says_where_and_what_would_be_right(text: str, told: str) -> None:
    read = read_measured("a.toml", text.encode())
    assert any(told in str(fault) for fault in read.faults), read.faults


def test_a_table_without_its_header_is_told_as_such() -> None:
    (fault,) = read_measured("a.csv", b"1,2\n3,4\n").faults
    assert "a row of headers: box, what" in str(fault)
    (fault,) = read_measured("a.csv", b"%PDF-1.7").faults
    assert "a PDF" in str(fault)
    (fault,) = read_measured("a.csv", f"{HEAD.replace('setting', 'seting')}{DAY}1,core,,2,,,,1".encode()).faults
    assert "perhaps setting" in str(fault)


def test_a_decision_on_a_reading_that_is_not_there_is_refused() -> None:
    table = f"{HEAD}{DAY}1,border mid,,60,,60\n".encode()
    read = read_measured("a.csv", table, kept=("1",))
    assert read.measured is not None
    assert read.measured.kept == ("1",)
    with pytest.raises(Unknown):
        read_measured("a.csv", table, left_out=("2",))


cells = st.sampled_from(
    [
        *(
            "border mid",
            "start",
            "core",
            "diagonals",
            "date",
            "rule",
            "unit",
            "mm",
            "60",
            "-1",
            "",
            "0",
            "1e9",
            "8-Mar",
        ),
        *("what", "value", "2026-03-01", "=A1", "four cuts", "½", '"', "0.5 mm"),
    ]
)


@settings(max_examples=200)
@given(
    st.lists(st.lists(cells, max_size=11).map(",".join), max_size=8).map("\n".join), st.sampled_from(["", HEAD + DAY])
)
def test_rubbish_gives_faults_and_no_other_error(text: str, head: str) -> None:
    read = read_measured("a.csv", (head + text).encode())
    assert (read.measured is None) == bool(read.faults)
    if read.measured is not None:
        assert all(each.value > ZERO or each.what in {What.START, What.STOP} for each in read.measured.readings)


@given(st.binary(max_size=60), st.sampled_from(["a.csv", "a.toml"]))
def test_bytes_give_faults_and_no_other_error(data: bytes, name: str) -> None:
    assert read_measured(name, data).faults
