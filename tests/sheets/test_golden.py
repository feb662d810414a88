"""The sheets look as they did when somebody last looked at them.

Run `pytest tests/sheets --regen` after a change that is meant, and look at what came out.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.sheets.bench_steps import job as bench_job
from tests.sheets.full_size import oval_view
from tests.sheets.samples import INCHES, MILLIMETRES, TICKETS
from tests.sheets.test_bench_list import PLAIN
from tests.sheets.test_cutting import boards

from fourply.bench.cutter import NOMINAL
from fourply.drawing.page import A4, LETTER
from fourply.drawing.record import Drawing
from fourply.render import svg
from fourply.sheets.bench_list import compose_bench
from fourply.sheets.bench_words import bench_view
from fourply.sheets.cutting import compose_boards
from fourply.sheets.front import front_drawing
from fourply.sheets.template import compose_template
from fourply.sheets.ticket import compose_ticket
from fourply.sheets.ticket_view import ticket_view

GOLDEN = Path(__file__).parent / "golden"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def tickets(name: str) -> tuple[Drawing, ...]:
    package, context = TICKETS[name]
    return compose_ticket(ticket_view(package, context), A4 if context.words.metric else LETTER)


DRAWINGS: dict[str, Callable[[], Drawing]] = {
    "ticket-front": lambda: tickets("double")[0],
    "ticket-back": lambda: tickets("double")[1],
    "ticket-metric": lambda: tickets("panorama")[0],
    "cutting-sheet": lambda: compose_boards(boards(INCHES), LETTER)[0],
    "bench-list": lambda: compose_bench(bench_view(bench_job(PLAIN[:3], NOMINAL)), LETTER)[1],
    "cutting-small": lambda: compose_boards(boards(MILLIMETRES), A4)[-1],
    "template-key": lambda: compose_template(oval_view(), LETTER)[0],
    "template-tile": lambda: compose_template(oval_view(), LETTER)[1],
    "front": lambda: front_drawing(TICKETS["triple"][0], INCHES),
}


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_sheet_is_as_it_was(name: str, request: pytest.FixtureRequest) -> None:
    drawn = svg.render(DRAWINGS[name]()).decode()
    file = GOLDEN / f"{name}.svg"
    if request.config.getoption("--regen", default=False):
        GOLDEN.mkdir(exist_ok=True)
        file.write_text(drawn, encoding="utf-8")
    kept = file.read_text(encoding="utf-8")
    assert NUMBER.sub("#", drawn) == NUMBER.sub("#", kept)
    numbers = zip(NUMBER.findall(drawn), NUMBER.findall(kept), strict=True)
    # another machine's sine may differ in the last digit written
    assert all(abs(float(here) - float(there)) < 0.001 for here, there in numbers)
