"""`./run nest`: plan one board instance."""

from __future__ import annotations

import json
import time
from pathlib import Path

import click


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
    """Plan the cutting of one board INSTANCE (a JSON file) and say how near the plan is to the best possible."""
    from fourply.app.nest import nest  # noqa: PLC0415 (imported when called)

    plan = nest(instance, out, steps=steps, seconds=seconds, clock=time.perf_counter, told=None)
    facts = {
        "cost": plan.cost,
        "lower_bound": plan.lower_bound,
        "proved": plan.proved,
        "steps": plan.steps,
        "seconds": plan.seconds,
        "engine": plan.engine,
    }
    if as_json:
        click.echo(json.dumps(facts))
    elif not quiet:
        open_ = f"at most {100 * plan.gap:.2f} % of it could still be saved"
        known = "proved to be the least" if plan.proved else open_
        click.echo(f"cost {plan.cost}, {known} (bound {plan.lower_bound}); {plan.steps} steps by {plan.engine}")
