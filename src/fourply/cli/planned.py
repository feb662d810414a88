"""A show with its plans and its order of work, as `bench` prints it and `again` changes it."""

from __future__ import annotations

import time
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fourply.app.search import budget_for
from fourply.cli.options import Reading, opened
from fourply.cli.parts import parts
from fourply.cli.report import progress
from fourply.cli.stopping import Stoppable
from fourply.working.words import Words

if TYPE_CHECKING:
    from fourply.app.cutting import Cutting
    from fourply.app.ordering import How
    from fourply.app.shows import Opened
    from fourply.bench.cutter import Cutter
    from fourply.bench.steps import Steps
    from fourply.bench.times import Times


@dataclass(frozen=True, slots=True)
class Planned:
    """A show with its plans and its order of work."""

    show: Opened
    how: How
    cutting: Cutting
    steps: Steps

    @property
    def words(self) -> Words:
        """The words of the show's reader."""
        return Words(metric=self.show.show.unit.is_metric)

    def say(self, text: str) -> str:
        """Return a line of fourply's own in the terms of the show's reader."""
        from fourply.app.wording import Wording  # noqa: PLC0415 (imported when called)

        return Wording.of(self.show.show, self.show.packages).say(text)

    @property
    def cutter(self) -> Cutter:
        """The cutter that it is set on."""
        return self.how.cutter

    @property
    def times(self) -> Times:
        """The table of times."""
        return self.how.times


def plan_show(show: Path | str, reading: Reading, cutter: Cutter, times: Times, steps: int | None) -> Planned | None:
    """Return a show planned and put in order, its faults said; None, and said too, where no work can be made."""
    from fourply.app.cutting import Means, plan_cutting  # noqa: PLC0415 (imported when called)
    from fourply.app.ordering import How, order_work  # noqa: PLC0415

    found = opened(show, reading, cutter)
    for fault in found.faults:
        click.echo(f"{click.style('fault', fg='red')}  {fault}", err=True)
    if not found.packages:
        click.echo("No work can be made.", err=True)
        return None
    with progress(quiet=False) as told:
        means = Means(budget_for(steps, None, time.perf_counter), Stoppable(parts().compute(None, None)), told)
        cutting = plan_cutting(found.packages, found.show.materials, means)
    how = How(times, cutter)
    return Planned(found, how, cutting, order_work(found.show.title, found.packages, cutting, how))
