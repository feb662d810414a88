"""The bench list as people get it: whole shows ordered, printed and read back."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pdfplumber
import pytest

from fourply.app.bench_printing import bench_pages
from fourply.app.cutting import Means, plan_cutting
from fourply.app.demo import copy_demo
from fourply.app.ordering import QUICK, How, load_times, order_work
from fourply.app.papers import Papers
from fourply.app.search import budget_for
from fourply.app.shows import open_show
from fourply.bench.cutter import NOMINAL, Cutter, Side, StopDatum
from fourply.bench.profile import Profile
from fourply.bench.steps import Kind, Steps
from fourply.cli.main import run
from fourply.drawing.check import collisions, crossed, strays
from fourply.drawing.record import Drawing
from fourply.drawing.text import clean
from fourply.files.cutters import starter_cutters
from fourply.files.works import Asked
from fourply.sheets.cutter_words import scale_words
from fourply.wiring import compute, parts

LIST = "No.,Title,Width (in),Height (in)\nA-1,Low water,14 1/2,11 1/4\nA-2,High water,10,13\n"
_BAR = Cutter(guide=Side.RIGHT, stops=StopDatum.BAR)


def _without_stops() -> Profile:
    profile = starter_cutters()["metric cutter"]
    return replace(profile, stops=replace(profile.stops, far=False, near=False))


def listed(path: Path, on: Profile | Cutter) -> tuple[tuple[Drawing, ...], Steps, Papers]:
    """Return the bench list of a show with what it rests on."""
    opened = open_show(path, Asked())
    how = How(load_times(None), on, QUICK // 10)
    papers = replace(Papers.of_region(metric=opened.show.unit.is_metric), cutter=how.cutter)
    cutting = plan_cutting(opened.packages, opened.show.materials, Means(budget_for(20, None, lambda: 0.0), compute(1)))
    steps = order_work(opened.show.title, opened.packages, cutting, how)
    return tuple(bench_pages(opened.packages, steps, papers)), steps, papers


@pytest.mark.parametrize("metric", [False, True], ids=["inches", "metric"])
@pytest.mark.parametrize(
    "on", [NOMINAL, _BAR, "metric cutter", "without stops"], ids=["nominal", "bar", "shop", "pencil"]
)
def test_the_list_of_the_demo_is_clean_and_has_all_that_is_set(metric: bool, on: Cutter | str, tmp_path: Path) -> None:  # noqa: FBT001
    show = copy_demo(tmp_path / "demo", metric=metric)
    named = {**starter_cutters(), "without stops": _without_stops()}
    pages, steps, papers = listed(show, on if isinstance(on, Cutter) else named[on])
    assert [fault for page in pages for fault in (*collisions(page), *strays(page, margin=10), *crossed(page))] == []
    written = {label.text for page in pages for label in page.labels}
    settings = [block.setting for block in steps.blocks]
    words = scale_words(papers.cutter, papers.words)  # the guide's; the squaring arm is read in those of the show
    guides = {length for each in settings for length in (each.guide, each.far, each.near) if length}
    assert {clean(words.mark(length)) for length in guides} - written == set()
    assert {clean(papers.words.mark(each.stop)) for each in settings if each.stop} - written == set()
    assert {handling.work for block in steps.blocks for handling in block.handlings} - written - {""} == set()
    said = " ".join(label.text for page in pages for label in page.labels)
    assert {text for block in steps.blocks for text in block.cautions if text not in said} <= _long(steps)
    assert (on == "without stops") is any(block.kind is Kind.MARK for block in steps.blocks)


def _long(steps: Steps) -> set[str]:
    """Return cautions that may take more than one line, of which words alone cannot be found in a page's texts."""
    return {text for block in steps.blocks for text in block.cautions if len(text) > 60}


def test_bench_writes_a_file_to_print_with_every_guide_and_work(tmp_path: Path) -> None:
    show, out = tmp_path / "list.csv", tmp_path / "bench.pdf"
    show.write_text(LIST, encoding="utf-8")
    assert run(["bench", str(show), "--steps", "20", "--pdf", str(out), "--paper", "a4"], parts()) == 0
    with pdfplumber.open(out) as opened:
        read = " ".join(page.extract_text() for page in opened.pages)
        assert (round(opened.pages[0].width), round(opened.pages[0].height)) == (595, 842)
    assert "Bench list" in read
    assert "A-1" in read
    assert "A-2" in read
    assert "far end" in read
    assert "guide 1 of" in read
