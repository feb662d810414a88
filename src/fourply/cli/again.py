"""`./run again`: what a measurement changes in a show, and how a spoilt piece is cut again."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fourply.bench.steps import Block, Steps
from fourply.cli.options import SHOW, OnCutter, Reading, on_cutter
from fourply.cli.options import reading as with_reading
from fourply.cli.planned import Planned, plan_show
from fourply.cli.steps_words import setting, strike
from fourply.working.words import Words

if TYPE_CHECKING:
    from fourply.app.again import Measured, Origin, Recut
    from fourply.app.resetting import Reset
    from fourply.trade.findings import Finding
    from fourply.trade.parts import FlatPart, LongPart

_FAULTS = 2


@click.command("again")
@click.argument("show", type=SHOW)
@click.argument("work", required=False)
@click.argument("found", nargs=-1, metavar="[FIGURE=MEASURED]...")
@with_reading
@on_cutter
@click.option("--spoilt", metavar="PIECE", help='A piece to cut again, such as "TM-05/mat.1" or "TM-05 top mat".')
@click.option("--times", type=click.Path(path_type=Path, exists=True, dir_okay=False), help="Table of times (TOML).")
@click.option("--json", "out", type=click.Path(path_type=Path, dir_okay=False), help="File for the same as JSON.")
@click.option("--steps", type=click.IntRange(min=1), help="Search for each plan; the same steps give the same plan.")
def command(
    show: Path | str,
    work: str | None,
    found: tuple[str, ...],
    reading: Reading,
    *,
    on: OnCutter,
    spoilt: str | None,
    times: Path | None,
    out: Path | None,
    steps: int | None,
) -> int:
    """Print what changes in SHOW where figures of a WORK were measured, or how a spoilt piece is cut again.

    FIGURE is a path as `why` names it: mat.1.caliper=0.058, moulding.rabbet_depth="9/16", mat.1.blank.width="15 7/8".
    """
    if (spoilt is None) == (not found):
        raise click.UsageError("give a WORK with FIGURE=MEASURED, or --spoilt PIECE, one of the two")
    from fourply.app.ordering import load_times  # noqa: PLC0415 (imported when called)

    values = _values(found)
    planned = plan_show(show, reading, on.cutter(), load_times(times), steps)
    if planned is None:
        return _FAULTS
    if spoilt is not None:
        document = _tell_spoilt(planned, f"{work} {spoilt}" if work else spoilt)
    else:
        document = _tell_measured(planned, work or "", values)
    if out is not None:
        from fourply.app.writing import write_file  # noqa: PLC0415 (imported when called)

        write_file(out, document.encode())
        click.echo(f"the same as JSON: {out}")
    return _FAULTS if planned.show.faults or planned.cutting.unplanned else 0


def _values(found: tuple[str, ...]) -> dict[str, str]:
    values = {}
    for each in found:
        figure, equals, value = each.partition("=")
        if not equals or not figure.strip():
            raise click.UsageError(f"what was measured is given as FIGURE=MEASURED, not {each[:60]!r}")
        values[figure.strip()] = value.strip()
    return values


# ── what was measured ────────────────────────────────────────────────────────────────────────────────────────────


def _tell_measured(planned: Planned, work: str, values: dict[str, str]) -> str:
    from fourply.app.again import measured  # noqa: PLC0415 (imported when called)
    from fourply.app.again_json import measured_json  # noqa: PLC0415

    found = measured(planned.show, work, values, planned.cutting, planned.steps, cutter=planned.cutter)
    for line in _measured(found, planned):
        click.echo(planned.say(line))
    return measured_json(found, planned.cutting, planned.words)


def _measured(found: Measured, planned: Planned) -> Iterator[str]:
    words = planned.words
    if not found.again.figures:
        yield f"Nothing changes in {found.again.work}: this is what was expected."
        return
    yield click.style(f"Figures of {found.again.work} that change", bold=True)
    for change in found.again.changed:
        yield f"  {change.figure}: {words.with_unit(change.was)} → {words.with_unit(change.now)}"
    for figure in found.again.open:
        yield f"  {figure}: follows from no formula; resolve the work anew and look at it"
    yield from _findings(found, words)
    yield from _pieces(found, planned)
    yield from _blocks(found, planned.steps, words)


def _findings(found: Measured, words: Words) -> Iterator[str]:
    yield click.style("Findings", bold=True)
    if not found.looked:
        yield "  not looked for with a figure that follows from others"
    if found.looked and not found.appear and not found.vanish:
        yield "  as before"
    for what, findings in (("appears", found.appear), ("vanishes", found.vanish)):
        for each in findings:
            yield f"  {what}: {_finding(each, words)}"


def _finding(of: Finding, words: Words) -> str:
    return f"{of.level.value}: {of.sentence(words.write)} {of.advice(words.write)}".rstrip()


def _pieces(found: Measured, planned: Planned) -> Iterator[str]:
    from fourply.app.again import origins  # noqa: PLC0415 (imported when called)

    yield click.style("Pieces that come out of another size", bold=True)
    if not found.pieces:
        yield "  none"
    for part in found.pieces:
        sizes = ", ".join(_sizes(found, part, planned.words))
        places = ", ".join(_origin(each) for each in origins(planned.cutting, part)) or "no plan"
        yield f"  {part.work} {part.name}: {sizes}; to be cut from {places}"


def _sizes(found: Measured, part: FlatPart | LongPart, words: Words) -> Iterator[str]:
    for change in found.again.changed:
        if change.figure == part.figure or change.figure.startswith(f"{part.figure}."):
            what = change.figure.removeprefix(part.figure).replace(".", " ").replace("_", " ").strip() or "length"
            yield f"{what} {words.with_unit(change.was)} → {words.with_unit(change.now)}"


def _origin(of: Origin) -> str:
    return f"{of.material} {of.number} ({of.source})"


def _blocks(found: Measured, steps: Steps, words: Words) -> Iterator[str]:
    yield click.style(f"Blocks of the order that are set otherwise, on the {steps.cutter}", bold=True)
    if not found.resets:
        yield "  none"
    for (number, name), resets in groupby(found.resets, lambda each: (each.block, each.name)):
        yield f"  {number:>3}  {found.again.work} {name}: {'; '.join(_reset(each, words) for each in resets)}"


def _reset(of: Reset, words: Words) -> str:
    sides = f"{', '.join(of.sides)}: " if of.sides else ""
    return f"{sides}{of.what} {words.with_unit(of.was)} → {words.with_unit(of.now)}"


# ── what was spoilt ──────────────────────────────────────────────────────────────────────────────────────────────


def _tell_spoilt(planned: Planned, named: str) -> str:
    from fourply.app.again import piece_named, recut, still_to_do  # noqa: PLC0415 (imported when called)
    from fourply.app.again_json import recut_json  # noqa: PLC0415

    again = recut(planned.cutting, piece_named(planned.cutting, named), planned.times, planned.steps)
    for line in _recut(again, planned):
        click.echo(planned.say(line))
    to_do = still_to_do(again, planned.steps)
    click.echo(click.style("To be done again in it", bold=True))
    for block, strikes in ((block, handling.strikes) for block, handling in to_do):
        what = ", ".join(dict.fromkeys(strike(each) for each in strikes))
        click.echo(planned.say(f"  {block.number:>3}  {_block(block, planned.words)}: {what}"))
    if not to_do:
        click.echo("  nothing: it is cut to size only")
    return recut_json(again, planned.steps)


def _recut(again: Recut, planned: Planned) -> Iterator[str]:
    part, words = again.part, planned.words
    piece = f"{part.work} {part.name}, {words.size(part.size)} {words.unit.value} of {part.material}"
    yield click.style(piece, bold=True)
    left = "to be bought" if again.bought else "left over"
    yield f"  from {again.source}, {words.size(again.size)} {words.unit.value}, {left}"
    cost = f"{again.cost / 100:.2f} {planned.show.show.currency}" if again.cost else "nothing"
    yield f"  costs {cost}"
    yield f"  takes {again.seconds / 60:.1f} min to cut to size, {again.windows / 60:.1f} min for what is cut in it"


def _block(block: Block, words: Words) -> str:
    return setting(block.setting, block.changed, words) or block.kind.value
