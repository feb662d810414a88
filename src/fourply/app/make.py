"""The main job: from a show to a folder with everything that the bench needs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from threading import Thread

from fourply.app.bench_figures import all_figures
from fourply.app.buying import Line, what_to_buy
from fourply.app.comparing import SHOW, Comparison, compare
from fourply.app.cutting import Cutting, Means, plan_cutting
from fourply.app.ordering import QUICK, How, load_times, order_work, steps_json
from fourply.app.papers import Papers
from fourply.app.ports import Progress, Standing
from fourply.app.service_lists import chops_csv, comparison_data, service_csv
from fourply.app.shows import Opened
from fourply.app.writing import write_file
from fourply.files.results import list_csv, plan_json, show_json
from fourply.measure.notation import Sign, Style, format_length, format_size
from fourply.trade.money import Money
from fourply.working.words import Words


@dataclass(frozen=True, slots=True)
class Made:
    """What was made: the files by name in the order in which a person wants them, and the cutting."""

    files: tuple[Path, ...]
    cutting: Cutting
    lines: tuple[Line, ...]
    compared: tuple[Comparison, ...] = ()


def make_show(opened: Opened, out: Path, papers: Papers, means: Means) -> Made:
    """Write every file of a show into the folder `out`, made where it is missing; files of the same name are replaced.

    Raises OSError where the folder cannot be written, NoWorkers where plans cannot be made where they should be.
    """
    out.mkdir(parents=True, exist_ok=True)
    materials, packages, progress = opened.show.materials, opened.packages, means.progress
    with _loading_what_prints(progress) as told:
        cutting = plan_cutting(packages, materials, replace(means, progress=told))
    from fourply.app.printing import front_drawings, print_sheets  # noqa: PLC0415 (just loaded)

    lines = what_to_buy(packages, cutting, materials)
    compared = compare(cutting)
    how = How(load_times(None), papers.cutter, QUICK)
    steps = order_work(opened.show.title, packages, cutting, how)
    tickets, boards, bench = print_sheets(opened, cutting, steps, papers, means)
    files = [
        write_file(out / "tickets.pdf", tickets),
        write_file(out / "cutting.pdf", boards),
        write_file(out / "bench.pdf", bench),
        write_file(out / "buy.csv", _buy_csv(lines, papers.words).encode()),
        write_file(out / "chops.csv", chops_csv(packages, cutting, papers.words).encode()),
        write_file(out / "service.csv", service_csv(compared, papers.words).encode()),
        write_file(out / "show.json", _show_json(opened, progress, papers)),
        write_file(out / "plan.json", _plan_json(cutting, compared).encode()),
        write_file(out / "steps.json", steps_json(steps).encode()),
    ]
    drawings = out / "drawings"
    drawings.mkdir(exist_ok=True)
    for name, svg in front_drawings(packages, papers, progress):
        files.append(write_file(drawings / name, svg))
    return Made(tuple(files), cutting, lines, compared)


@contextmanager
def _loading_what_prints(progress: Progress) -> Iterator[Progress]:
    """Give what passes on progress and, as soon as plans are being made, loads beside that what prints."""

    def load() -> None:
        from fourply.app import printing  # noqa: PLC0415

        printing.get_ready()

    thread = Thread(target=load, daemon=True)

    def told(stage: str, done: int, total: int, standing: Standing | None = None) -> None:
        if thread.ident is None and (done or standing):
            thread.start()
        progress(stage, done, total, standing)

    yield told
    if thread.ident is not None:
        thread.join()


def _show_json(opened: Opened, progress: Progress, papers: Papers) -> Iterator[str]:
    show = opened.show
    head = {
        "title": show.title,
        "unit": show.unit.value,
        "order": show.order.value if show.order else None,
        "notes": list(show.notes),
    }
    progress("figures", 0, 1)
    shown = ((package, all_figures(package, papers.cutter)) for package in opened.packages)
    yield from show_json(head, shown, opened.faults, papers.words.write)
    progress("figures", 1, 1)


def _plan_json(cutting: Cutting, compared: tuple[Comparison, ...]) -> str:
    return plan_json(
        ((each.stuff.value, each.material, each.problem, each.plan) for each in cutting.flats),
        ((each.stuff.value, each.material, each.problem, each.plan) for each in cutting.longs),
        ((each.part.key, each.why) for each in cutting.unplanned),
        comparison_data(cutting, compared),
    )


_BUY = ("do", "what", "material", "size", "quantity", "each", "cost", "currency", "where")


def _buy_csv(lines: Iterable[Line], words: Words) -> str:
    style = Style(words.unit, words.rule, sign=Sign.WORD, decimal=words.decimal)

    def row(line: Line) -> tuple[object, ...]:
        size = format_size(line.size, style) if line.size else format_length(line.length, style) if line.length else ""
        each = line.each if line.cost else None
        return (
            line.do.value,
            line.stuff,
            line.material,
            size,
            line.quantity,
            f"{each.amount:f}" if each else "",
            f"{line.cost.amount:f}" if line.cost else "",
            each.currency if each else "",
            line.place,
        )

    return list_csv(_BUY, (row(line) for line in lines))


@dataclass(frozen=True, slots=True)
class Totals:
    """What a run comes to; `cost` by currency, as exact text; `service` says how the ways of buying frames compare."""

    works: int
    faults: int
    findings: int
    unplanned: int
    plans: int
    proved: int
    cost: Mapping[str, str]
    service: tuple[str, ...] = ()


def totals(opened: Opened, made: Made) -> Totals:
    """Return what a run comes to, for the last lines of its report."""
    cost: dict[str, Money] = {}
    for line in made.lines:
        if line.cost:
            currency = line.cost.currency
            cost[currency] = cost[currency] + line.cost if currency in cost else line.cost
    plans = [each.plan for each in made.cutting.flats], [each.plan for each in made.cutting.longs]
    return Totals(
        works=len(opened.packages),
        faults=len(opened.faults),
        findings=sum(len(package.findings) for package in opened.packages),
        unplanned=len(made.cutting.unplanned),
        plans=len(plans[0]) + len(plans[1]),
        proved=sum(plan.proved for plan in plans[0]) + sum(plan.proved for plan in plans[1]),
        cost={currency: f"{money.amount:f}" for currency, money in cost.items()},
        service=tuple(each.why for each in made.compared if each.of == SHOW),
    )
