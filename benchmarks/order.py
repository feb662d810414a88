"""How much an order of work saves: the demo and a generated show of mats, held against the orders that come to mind.

Run it with the project's Python: `python benchmarks/order.py [--mats N] [--write]`; `--write` puts what it finds into
`order.md` beside it.
"""

from __future__ import annotations

import argparse
import random
import tempfile
import time
from pathlib import Path

from fourply.app.cutting import Cutting, Means, plan_cutting
from fourply.app.demo import copy_demo
from fourply.app.ordering import EFFORT, QUICK, How, load_times, order_work
from fourply.app.reading import asked_for
from fourply.app.shows import Opened, open_show
from fourply.bench.steps import Steps, Tally
from fourply.compute.here import here
from fourply.planning.budget import Budget

BORDERS = ("2 1/4", "2 1/2", "2 3/4", "3", "3 1/4", "3 1/2")
BOTTOMS = ("equal", "+1/4", "+1/2")
MATS = ("white 4-ply", "white 4-ply", "cream 4-ply", "white 8-ply", "cream 4-ply + red 4-ply @ 1/4")


def generated(folder: Path, mats: int) -> Path:
    """Return a list of works as a mixed exhibition has them: some thirty sizes, six borders, double mats among them."""
    chance = random.Random(4711)  # noqa: S311 (an invented show)
    sizes = [(chance.randrange(28, 88) / 4, chance.randrange(28, 88) / 4) for _ in range(30)]
    rows = ["No.,Width (in),Height (in),Border,Bottom,Mats,Moulding,Glazing,Backing"]
    for number in range(mats):
        width, height = chance.choice(sizes)
        rest = (chance.choice(BORDERS), chance.choice(BOTTOMS), chance.choice(MATS))
        rows.append(f"{number + 1},{width},{height},{','.join(rest)},none,none,none")
    path = folder / "generated.csv"
    path.write_text("\n".join(rows) + "\n")
    return path


def planned(path: Path) -> tuple[Opened, Cutting]:
    """Return a show and its plans, made by steps so that they repeat."""
    opened = open_show(path, asked_for("in", "width x height"))
    for fault in opened.faults[:3]:
        print(fault)
    return opened, plan_cutting(opened.packages, opened.show.materials, Means(Budget(steps=40), here))


def row(name: str, tally: Tally, base: Tally) -> str:
    """Return one line of the table: counts and minutes, and each as a ratio to this order's."""

    def ratio(what: str) -> str:
        mine = getattr(base, what)
        return f"{getattr(tally, what) / mine:.2f}" if mine else "–"

    changes = tally.guides + tally.stops + tally.heads + tally.boards
    mine = base.guides + base.stops + base.heads + base.boards
    return (
        f"| {name} | {tally.guides} | {tally.stops} | {tally.heads + tally.boards} | {tally.handled} | "
        f"{tally.seconds / 60:.0f} | {changes / mine:.2f} | {ratio('handled')} | {ratio('seconds')} |"
    )


HEAD = (
    "| order | guide | stops | heads, boards | pieces laid | minutes | changes, ratio | laid, ratio | time, ratio |",
    "| --- | --: | --: | --: | --: | --: | --: | --: | --: |",
)


def table(steps: Steps, took: dict[str, float]) -> list[str]:
    """Return the table of one show."""
    lines = [*HEAD, row("this order", steps.window, steps.window)]
    lines += [row(tally.name, tally, steps.window) for tally in steps.obvious]
    taken = ", ".join(f"{name} {seconds:.2f} s" for name, seconds in took.items())
    part = steps.bound / steps.window.seconds
    least = f"No order takes less than {steps.bound / 60:.0f} min: {part:.2f} of this one."
    return [*lines, "", f"{least} Found in: {taken} of processor time."]


def measured(opened: Opened, cutting: Cutting) -> list[str]:
    """Return the table of a show, ordered with the effort of `make` and with that of `bench`."""
    times, took = load_times(None), {}
    for name, effort in (("make", QUICK), ("bench", EFFORT)):
        began = time.process_time()
        steps = order_work(opened.show.title, opened.packages, cutting, How(times, effort=effort))
        took[name] = time.process_time() - began
    return table(steps, took)


def main() -> None:
    """Measure, print, and write where asked."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--mats", type=int, default=250, help="Works of the generated show.")
    asked.add_argument("--write", action="store_true", help="Write order.md.")
    given = asked.parse_args()
    lines = ["# What an order of work saves", "", *INTRODUCTION, ""]
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        for name, path in (
            ("The demo show", copy_demo(place / "demo", metric=False)),
            (f"A generated show of {given.mats} works", generated(place, given.mats)),
        ):
            opened, cutting = planned(path)
            mats = sum(len(package.mats) * package.work.copies for package in opened.packages)
            lines += [f"## {name}, {mats} mats", "", *measured(opened, cutting), ""]
    text = "\n".join(lines)
    print(text)
    if given.write:
        Path(__file__).with_suffix(".md").write_text(text)


INTRODUCTION = (
    "The windows of a show by the seeds of the table of times, which nobody has measured: the ratios say more than the",
    "minutes. Ratios are to this order, so 1.50 means half as much again. Blanking, hand work and framing are not in",
    "them. `python benchmarks/order.py --write` makes this page again.",
)

if __name__ == "__main__":
    main()
