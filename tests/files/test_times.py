"""Tables of times: the seeds, a person's own over them, every fault by its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from fourply.bench.steps import Use
from fourply.bench.times import ENTRIES, Time, Times
from fourply.errors import BadFile
from fourply.files.times import load_times, seed_times


def read(folder: Path, text: str) -> Times:
    path = folder / "ours.toml"
    path.write_text(text, encoding="utf-8")
    return load_times(path)


def test_the_seeds_have_every_entry_and_say_that_they_are_not_to_be_trusted() -> None:
    seeds = seed_times()
    assert seeds.entries.keys() == ENTRIES.keys()
    assert "low confidence" in seeds.name
    assert all(time.low is not None and time.high is not None for time in seeds.entries.values())


def test_what_a_person_measured_replaces_a_seed_and_the_rest_stays(tmp_path: Path) -> None:
    times = read(
        tmp_path, 'schema = 1\nname = "ours"\n[times]\nguide = 30\nlay = { seconds = 9, low = 6, high = 15 }\n'
    )
    assert times.entries["guide"] == Time(30.0, 24.0, 36.0)
    assert times.entries["lay"] == Time(9.0, 6.0, 15.0)
    assert times.entries["turn"] == seed_times().entries["turn"]
    assert times.name.startswith(f"ours, {len(ENTRIES) - 2} of {len(ENTRIES)} times from the seeds")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("schema = 1\n[times]\ngide = 30\n", "row 3.*perhaps guide"),
        ('schema = 1\n[times]\nguide = "quick"\n', "row 3, times.guide.*quick"),
        ("schema = 1\n[times]\nguide = -1\n", "row 3, times.guide"),
        ("schema = 1\n[times]\nguide = true\n", "row 3, times.guide"),
        ("schema = 1\n[times]\nguide = { low = 3 }\n", "no seconds"),
        ("schema = 1\n[times]\nguide = { seconds = 9, low = 12 }\n", "between low and high"),
        ("schema = 1\n[times]\nguide = { seconds = 9, hi = 12 }\n", "hi"),
        ("schema = 1\nspeed = 3\n", "row 2.*speed"),
        ("schema = 9\n", "row 1"),
        ("guide = \n", "TOML"),
    ],
)
def test_what_is_no_time_is_refused_where_it_stands(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(BadFile, match=f"(?s){said}"):
        read(tmp_path, text)


def test_many_uses_of_one_entry_are_as_uncertain_as_the_entry() -> None:
    times = Times("", {entry: Time(10, 5, 20) for entry in ENTRIES})
    assert times.within([Use("cut", 1)] * 100) == (1000, 500, 2000)
    expected, low, high = times.within([Use("cut", 3), Use("lay", 4)])
    assert (expected, low, high) == (70, 70 - 25, 70 + 50)  # 3-4-5: the two are wrong apart from one another
