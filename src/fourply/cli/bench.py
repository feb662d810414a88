"""`./run bench`: the order of work of a show, in the terminal and as a file for programs."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from fourply.bench.steps import Block, Fall, Handling, Kind, Steps, Tally
from fourply.cli.options import SHOW, OnCutter, Reading, on_cutter
from fourply.cli.options import reading as with_reading
from fourply.cli.planned import plan_show
from fourply.cli.steps_words import minutes, setting, strike
from fourply.working.words import Words

_FAULTS = 2


@click.command("bench")
@click.argument("show", type=SHOW)
@with_reading
@on_cutter
@click.option("--times", type=click.Path(path_type=Path, exists=True, dir_okay=False), help="Table of times (TOML).")
@click.option("--json", "out", type=click.Path(path_type=Path, dir_okay=False), help="File for the steps as JSON.")
@click.option("--pdf", type=click.Path(path_type=Path, dir_okay=False), help="File for the bench list to print.")
@click.option("--paper", type=click.Choice(("a4", "letter")), help="Its paper; that of the region unless named.")
@click.option("--steps", type=click.IntRange(min=1), help="Search for each plan; the same steps give the same plan.")
def command(
    show: Path | str,
    reading: Reading,
    *,
    on: OnCutter,
    times: Path | None,
    out: Path | None,
    pdf: Path | None,
    paper: str | None,
    steps: int | None,
) -> int:
    """Print the order of work of SHOW: one block for each thing that is set, and the pieces that are done with it set.

    Below stand its totals beside those of the orders that come to mind, and what no order can beat.
    """
    from fourply.app.bench_printing import print_bench  # noqa: PLC0415
    from fourply.app.ordering import load_times, steps_json  # noqa: PLC0415 (imported when called)
    from fourply.app.papers import Papers  # noqa: PLC0415
    from fourply.app.writing import write_file  # noqa: PLC0415

    planned = plan_show(show, reading, on.cutter(), load_times(times), steps)
    if planned is None:
        return _FAULTS
    found, how, cutting, ordered = planned.show, planned.how, planned.cutting, planned.steps
    for line in _lines(ordered, planned.words):
        click.echo(planned.say(line))
    if out is not None:
        write_file(out, steps_json(ordered).encode())
        click.echo(f"steps as JSON: {out}")
    if pdf is not None:
        papers = Papers.of_show(found, paper, how.cutter)
        write_file(pdf, print_bench(found.packages, ordered, papers))
        click.echo(f"bench list to print: {pdf}")
    return _FAULTS if found.faults or cutting.unplanned else 0


def _lines(steps: Steps, words: Words) -> Iterator[str]:
    yield click.style(f"{steps.show or 'Order of work'}, on the {steps.cutter}", bold=True)
    yield f"times: {steps.times}"
    for block in steps.blocks:
        yield from _block(block, words)
    yield ""
    yield from _totals(steps)


def _block(block: Block, words: Words) -> Iterator[str]:
    what = setting(block.setting, block.changed, words) or block.kind.value
    kind = "" if block.kind in (Kind.CUT, Kind.BLANK) else f"  {block.kind.value}"
    yield ""
    yield f"{block.number:>3}  {what}{kind}  {click.style(f'{minutes(block.ends)} when done', dim=True)}"
    for caution in block.cautions:
        yield f"     {click.style('! ' + caution, fg='yellow')}"
    for handling in block.handlings:
        yield f"     {_handling(handling, words)}"
        for fall in handling.falls:
            yield f"       {_fall(fall, words)}"


def _handling(handling: Handling, words: Words) -> str:
    times = f"{handling.copies} times " if handling.copies > 1 else ""
    who = f"{handling.work} {handling.name}".strip()
    held = ", still on the cutter" if handling.held else ""
    what = ", ".join(dict.fromkeys(strike(each) for each in handling.strikes))
    label = f" ({handling.label})" if handling.label else ""
    return f"{times}{who}{label} {words.size(handling.size)}{held}: {what}"


def _fall(fall: Fall, words: Words) -> str:
    size = f" {words.size(fall.size)}" if fall.size else ""
    label = f", marked {fall.label}" if fall.label else ""
    return f"{fall.what}{size}{label}: {fall.goes}"


def _totals(steps: Steps) -> Iterator[str]:
    yield "windows       guide  stops  heads  boards  pieces laid  turned   time"
    for tally in (steps.window, *steps.obvious):
        yield _tally(tally)
    best = "no order takes less" if steps.proved else f"no order takes less than {minutes(steps.bound)}"
    yield f"{best}, by this table of times"
    yield ""
    for stage in steps.stages:
        yield f"{stage.name:<10} {minutes(stage.seconds):>8}  between {minutes(stage.low)} and {minutes(stage.high)}"
    if len(steps.people) > 1:
        alone, together = steps.blocks[-1].ends, max(person.seconds for person in steps.people)
        names = " and ".join(f"one {person.name}" for person in steps.people)
        yield f"blanks and mats by one person {minutes(alone)}, by two ({names}) {minutes(together)}"


def _tally(tally: Tally) -> str:
    return (
        f"{tally.name:<13} {tally.guides:>5}  {tally.stops:>5}  {tally.heads:>5}  {tally.boards:>6}"
        f"  {tally.handled:>11}  {tally.turned:>6}  {minutes(tally.seconds)}"
    )
