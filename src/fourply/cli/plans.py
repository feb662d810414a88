"""`./run plans`: the cutting plans of a kept show, made, printed again, accepted, cut."""

from __future__ import annotations

import time
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fourply.app.search import budget_for
from fourply.cli.options import PAPERS
from fourply.cli.parts import parts
from fourply.cli.report import progress
from fourply.cli.shop import data_option, desk
from fourply.cli.stopping import Stoppable

if TYPE_CHECKING:
    from fourply.app.keep import Desk
    from fourply.app.plan_lines import PlanLine
    from fourply.app.planning_kept import Planned


@dataclass(frozen=True, slots=True)
class Wish:
    """What is wanted of a plan: a new one, its papers in a folder, that it be accepted, that it is cut."""

    new: bool = False
    accept: bool = False
    cut: bool = False
    out: Path | None = None
    paper: str | None = None
    steps: int | None = None
    seconds: float | None = None


@click.command("plans")
@click.argument("show")
@click.argument("name", required=False)
@click.option("--new", is_flag=True, help="Plan the show and keep it as the proposal NAME.")
@click.option("--accept", is_flag=True, help="Cut by this one: what it pulls from the rack is promised to it.")
@click.option("--cut", is_flag=True, help="It is cut: the rack loses what it pulled and gains what is worth keeping.")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), help="Folder for its papers.")
@click.option("--paper", type=click.Choice(PAPERS), help="Paper; that of the show unless named.")
@click.option("--steps", type=click.IntRange(min=1), help="Search for each plan; the same steps give the same plan.")
@click.option("--seconds", type=click.FloatRange(min=0.0, max=86_400.0), help="Deadline for each plan.")
@data_option
def command(show: str, name: str | None, *, data: Path | None, **wish: object) -> None:
    """List the plans of the kept SHOW, or do something with the one called NAME.

    The papers of a plan that is kept are made again as they were, from the same boards, cut alike.
    """
    wanted = Wish(**wish)  # type: ignore[arg-type]
    if name is None and wanted != Wish():
        raise click.UsageError("say which plan: ./run plans SHOW NAME")
    from fourply.app.keep_shows import find_show  # noqa: PLC0415 (imported when called)

    with desk(data) as found:
        ident = find_show(found, show).id
        if name is None:
            _list(found, ident)
        else:
            _do(found, ident, name, wanted)


def _list(found: Desk, show: str) -> None:
    from fourply.app.plan_lines import plan_lines  # noqa: PLC0415 (imported when called)

    lines = plan_lines(found, show)
    for line in lines:
        changed = "; the show has changed since" if line.changed else ""
        click.echo(f"{click.style(line.name, bold=True)}  {line.state}: {line.summary}{changed}")
    if not lines:
        click.echo("No plan is kept yet; make one with  ./run plans SHOW NAME --new")


def _do(found: Desk, show: str, name: str, wish: Wish) -> None:
    from fourply.app.keep_plans import accept_plan, cut_plan  # noqa: PLC0415 (imported when called)

    planned = _new(found, show, name, wish) if wish.new else None
    line = _named(found, show, name)
    if planned is not None:
        click.echo(f"Kept {line.name}: {line.summary}.")
    if wish.out is not None:
        planned = planned or _again(found, line, wish)
        _write(planned, wish.out)
    record = line.record
    if wish.accept:
        record = accept_plan(found, record.id, record.version)
        click.echo(f"Accepted {line.name}. Cut by this one.")
    if wish.cut:
        cut_plan(found, record.id, record.version)
        click.echo(f"{line.name} is cut. What is in the rack now:  ./run rack")
    if wish == Wish():
        _tell(line)


def _named(found: Desk, show: str, name: str) -> PlanLine:
    """Return the newest plan of a name; raises Unknown with those that there are."""
    from fourply.app.plan_lines import plan_named  # noqa: PLC0415 (imported when called)

    return plan_named(found, show, name)


def _new(found: Desk, show: str, name: str, wish: Wish) -> Planned:
    from fourply.app.cutting import Means  # noqa: PLC0415 (imported when called)
    from fourply.app.planning_kept import PlanWish, plan_kept  # noqa: PLC0415

    parts().prepare(None, None)
    with progress(quiet=False) as told:
        compute = Stoppable(parts().compute(None, None))
        budget = budget_for(wish.steps, wish.seconds, time.perf_counter)
        return plan_kept(found, show, PlanWish(name, wish.paper), lambda: Means(budget, compute, told))


def _again(found: Desk, line: PlanLine, wish: Wish) -> Planned:
    from fourply.app.planning_kept import papers_of_plan  # noqa: PLC0415 (imported when called)

    with progress(quiet=False) as told:
        compute = Stoppable(parts().compute(None, None))
        return papers_of_plan(found, line.record.id, wish.paper, compute, told)


def _write(planned: Planned, out: Path) -> None:
    from fourply.app.writing import write_file  # noqa: PLC0415 (imported when called)

    for name, content in planned.files.items():
        place = out / name
        place.parent.mkdir(parents=True, exist_ok=True)
        write_file(place, content)
    click.echo(f"{len(planned.files)} files in {out}")


def _tell(line: PlanLine) -> None:
    click.echo(f"{click.style(line.name, bold=True)}  {line.state}: {line.summary}")
    if line.changed:
        click.echo("The show has changed since it was made.")
    for word, pieces in (("from the rack", line.pulls), ("for the rack", line.leaves)):
        for piece in pieces:
            click.echo(f"  {word}  {piece}")
