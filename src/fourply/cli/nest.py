"""`./run nest`: plan one board instance."""

from __future__ import annotations

import json
import time
from pathlib import Path

import click

from fourply.cli.report import known, standing
from fourply.cli.stopping import gently


@click.command("nest")
@click.argument("instance", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option("--seconds", type=click.FloatRange(min=0.0, max=86_400.0), help="Deadline, from the problem read.")
@click.option("--steps", type=click.IntRange(min=1), help="Steps of search; the same steps give the same plan.")
@click.option("--out", type=click.Path(path_type=Path, dir_okay=False), help="File for the plan.")
@click.option("--json", "as_json", is_flag=True, help="Print cost and bound as JSON.")
@click.option("--quiet", is_flag=True, help="Print nothing but faults.")
def command(
    instance: Path, seconds: float | None, steps: int | None, out: Path | None, *, as_json: bool, quiet: bool
) -> None:
    """Plan the cutting of one board INSTANCE (a JSON file) and say how near the plan is to the best possible.

    Ctrl-C ends the search and keeps the best plan found so far; pressed again it ends the program.
    """
    from fourply.app.nest import nest  # noqa: PLC0415 (imported when called)

    with gently() as stopped, standing(quiet=quiet or as_json) as show:

        def told(cost: int, bound: int) -> bool:
            show(cost, bound)
            return not stopped()

        plan = nest(instance, out, steps=steps, seconds=seconds, clock=time.perf_counter, told=told)
        early = stopped()
    facts = {
        "cost": plan.cost,
        "lower_bound": plan.lower_bound,
        "proved": plan.proved,
        "steps": plan.steps,
        "seconds": plan.seconds,
        "engine": plan.engine,
        "stopped": early,
    }
    if as_json:
        click.echo(json.dumps(facts))
    elif not quiet:
        if early:
            click.echo("Stopped; this is the best plan found so far.")
        says = known(plan.cost, plan.lower_bound)
        click.echo(f"cost {plan.cost}, {says} (bound {plan.lower_bound}); {plan.steps} steps by {plan.engine}")
