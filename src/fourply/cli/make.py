"""`./run make`: everything for the bench from a show or a list."""

from __future__ import annotations

import json
import time
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fourply.app.search import ENOUGH, SECONDS, budget_for
from fourply.cli.options import SHOW, OnCutter, Reading, on_cutter, opened
from fourply.cli.options import reading as with_reading
from fourply.cli.parts import parts
from fourply.cli.report import progress, tell_faults, tell_made
from fourply.cli.stopping import Stoppable

if TYPE_CHECKING:
    from fourply.app.shows import Opened
    from fourply.bench.cutter import Cutter

FAULTS = 2


@dataclass(frozen=True, slots=True)
class Wish:
    """How the caller wants a show made and told."""

    paper: str | None = None
    steps: int | None = None
    seconds: float | None = None
    workers: int | None = None
    cluster: str | None = None
    strict: bool = False
    quiet: bool = False
    as_json: bool = False
    on: OnCutter | None = None


@click.command("make")
@click.argument("show", type=SHOW)
@click.option("--out", required=True, type=click.Path(path_type=Path, file_okay=False), help="Folder for the files.")
@with_reading
@on_cutter
@click.option("--paper", type=click.Choice(("a4", "letter")), help="Paper; that of the region unless named.")
@click.option("--steps", type=click.IntRange(min=1), help="Search for each plan; the same steps give the same plan.")
@click.option(
    "--seconds",
    type=click.FloatRange(min=0.0, max=86_400.0),
    help=f"Deadline for each plan; {SECONDS:g} unless --steps is given.",
)
@click.option("--workers", type=click.IntRange(min=1, max=1024), help="Processes that plan; 1: none but this.")
@click.option("--cluster", metavar="ADDRESS", help="Plan on the Dask cluster there, such as tcp://127.0.0.1:8786.")
@click.option("--strict", is_flag=True, help="Make nothing where a row has a fault.")
@click.option("--quiet", is_flag=True, help="Print faults only.")
@click.option("--json", "as_json", is_flag=True, help="Print totals as JSON.")
def command(show: Path | str, out: Path, reading: Reading, **wish: object) -> int:
    """Make tickets, cutting plans, lists and figures of SHOW, a show file (TOML) or a list of works (CSV, XLSX)."""
    if wish["workers"] is not None and wish["cluster"] is not None:
        raise click.UsageError("--workers and --cluster are two different ways; name one")
    return make(show, out, reading, Wish(**wish))  # type: ignore[arg-type]


def make(show: Path | str, out: Path, reading: Reading, wish: Wish) -> int:
    """Make a show and tell what came of it; returns the exit code."""
    is_kept = isinstance(show, str)
    if not is_kept:  # a kept show is looked for first, since there may be none
        parts().prepare(wish.workers, wish.cluster)
    cutter = wish.on.cutter() if wish.on else None
    found = opened(show, reading, cutter)
    if is_kept:
        parts().prepare(wish.workers, wish.cluster)
    return make_opened(found, out, wish, cutter)


def make_opened(found: Opened, out: Path, wish: Wish, cutter: Cutter | None = None) -> int:
    """Make a show that has been opened and tell what came of it; returns the exit code."""
    from fourply.app.cutting import Means  # noqa: PLC0415 (imported when called)
    from fourply.app.make import make_show, totals  # noqa: PLC0415
    from fourply.app.papers import Papers  # noqa: PLC0415

    if not found.packages or (wish.strict and found.faults):
        tell_faults(found, None)
        click.echo("Nothing made." if found.packages else "No work can be made.", err=True)
        return FAULTS
    papers = Papers.of_show(found, wish.paper)
    papers = papers if cutter is None else replace(papers, cutter=cutter)
    with progress(quiet=wish.quiet or wish.as_json) as told:
        compute = Stoppable(parts().compute(wish.workers, wish.cluster))
        budget = budget_for(wish.steps, wish.seconds, time.perf_counter)
        enough = ENOUGH if wish.steps is None and wish.seconds is None else 0.0
        made = make_show(found, out, papers, Means(budget, compute, told, enough))
    tell_faults(found, made)
    sums = totals(found, made)
    if wish.as_json:
        click.echo(json.dumps(asdict(sums)))
    elif not wish.quiet:
        tell_made(found, made, sums)
    return FAULTS if found.faults or made.cutting.unplanned else 0
