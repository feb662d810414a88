"""How good cutting plans are, how soon, and how that grows: boards beside a general solver, sticks, size of the job.

    benchmarks/planner.py boards FOLDER [--seconds 5] [--peer] [--odd] [--data FILE]
                                              instances as docs/formats.md gives them; --odd with prices not rounded
    benchmarks/planner.py sticks              triplets, whose optimum is known by construction, and two known answers
    benchmarks/planner.py scale [--seconds 10]   10 to 10 000 blanks of one board
    benchmarks/planner_picture.py             draws what --data kept, for docs/planner.md

A framer pays for board, so what counts is cost over what is proved to be needed, and how long one waits for it. Every
plan is counted only after the referee has passed it. The peer (packingsolver, three stages, any time, one run) gets the
same sheets, offcuts and fallouts.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import random
import resource
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from fourply.files.instances import read_instance
from fourply.planning.boards import plan_boards
from fourply.planning.budget import Budget
from fourply.planning.plan import Plan
from fourply.planning.problem import Piece, Problem, Rect, Stock
from fourply.planning.stick_problem import Rail, Stick, StickProblem
from fourply.planning.sticks import plan_sticks
from fourply.planning.warm import warm

MARKS = (0.2, 1.0, 5.0)
CLOCK = time.process_time
"""Seconds are those of the processor, so that other work on the machine changes no figure."""
PATIENCE = 3.0
"""The peer keeps to the wall's clock: it may take longer by that one; what it finds later is not counted."""
Trace = list[tuple[float, int]]


def traced(problem: Problem, seconds: float) -> tuple[Plan, Trace]:
    """Plan a problem; return the plan and when each better cost was first told."""
    began = CLOCK()
    trace: Trace = []

    def told(cost: int, _bound: int) -> bool:
        if not trace or cost < trace[-1][1]:
            trace.append((CLOCK() - began, cost))
        return True

    return plan_boards(problem, Budget(seconds=seconds, clock=CLOCK, began=began), told), trace


def known(trace: Trace, seconds: float) -> int | None:
    """Return the cost that was known by then."""
    costs = [cost for when, cost in trace if when <= seconds]
    return costs[-1] if costs else None


def shown(cost: int | None) -> str:
    """Return a cost, or a dash where there was no complete plan."""
    return "–" if cost is None else str(cost)


def peer(problem: Problem, seconds: float) -> Trace:
    """Return when the general solver found which complete plan."""
    import packingsolver.rectangleguillotine as peer_of  # noqa: PLC0415

    unit = 396_875 if all(p.w % 396_875 == 0 and p.h % 396_875 == 0 for p in problem.pieces) else 100_000
    builder = peer_of.InstanceBuilder()
    builder.set_objective(peer_of.Objective.VariableSizedBinPacking)
    builder.set_number_of_stages(3)
    builder.set_cut_type(peer_of.CutType.NonExact)
    for w, h, cost, copies in offers(problem):
        builder.add_bin_type(w // unit, h // unit, cost=float(cost), copies=copies)
    for piece in problem.pieces:
        builder.add_item_type(
            piece.w // unit, piece.h // unit, oriented=not problem.may_turn(piece), copies=piece.copies
        )
    trace: Trace = []
    began = CLOCK()

    def found(output: object) -> None:
        solution = output.solution  # type: ignore[attr-defined]
        if solution.full() and (not trace or solution.cost() < trace[-1][1]):
            trace.append((CLOCK() - began, round(solution.cost())))

    parameters = peer_of.OptimizeParameters()
    parameters.time_limit = PATIENCE * seconds
    parameters.verbosity_level = 0
    parameters.new_solution_callback = found
    found(peer_of.optimize(builder.build(), parameters))
    return trace


def offers(problem: Problem) -> Iterator[tuple[int, int, int, int]]:
    """Yield every kind of stock as (w, h, cost, copies)."""
    for stock in problem.stock:
        yield stock.w, stock.h, stock.cost, problem.demand if stock.copies is None else stock.copies
    for parent in problem.pieces:
        if parent.fallouts:
            yield parent.fallouts[0].w, parent.fallouts[0].h, problem.fallout_cost, parent.copies


def odd(problem: Problem) -> Problem:
    """Return the problem at prices that are no round numbers: a bound can then not be raised to the next ten."""
    stock = tuple(replace(s, cost=s.cost * 1037 // 1000 + 7 * at) for at, s in enumerate(problem.stock))
    return replace(problem, stock=stock, fallout_cost=23)


def boards(folder: Path, asked: argparse.Namespace) -> None:
    """Print a row for each instance, and keep the figures where they are asked for."""
    marks = [mark for mark in MARKS if mark <= asked.seconds]
    extra = [f"peer {mark} s" for mark in marks] if asked.peer else []
    print("| instance | " + " | ".join([*(f"{m} s" for m in marks), "cost", "bound", "proved", "s", *extra]) + " |")
    print("| --- |" + " --- |" * (len(marks) + 4 + len(extra)))
    rows = []
    paths = [path for path in folder.glob("*_*.json") if path.name != "best_known.json"]
    for path in sorted(paths, key=lambda path: (path.stem.split("_")[1:], path.stem)):
        problem = odd(read_instance(path)) if asked.odd else read_instance(path)
        plan, trace = traced(problem, asked.seconds)
        peers = peer(problem, asked.seconds) if asked.peer else []
        own, other = [known(trace, mark) for mark in marks], [known(peers, mark) for mark in marks]
        rows.append(
            {
                "instance": path.stem,
                "own": own,
                "cost": plan.cost,
                "bound": plan.lower_bound,
                "proved": plan.proved,
                "seconds": round(plan.seconds or 0, 2),
                "peer": other,
            }
        )
        cells = [*map(shown, own), str(plan.cost), str(plan.lower_bound), "yes" if plan.proved else ""]
        cells += [f"{plan.seconds or 0:.2f}", *(map(shown, other) if asked.peer else [])]
        print(f"| {path.stem} | " + " | ".join(cells) + " |", flush=True)
    if asked.data:
        kept = {"machine": machine(), "marks": marks, "rows": rows}
        asked.data.write_text(json.dumps(kept, indent=1) + "\n", encoding="utf-8")


def machine() -> str:
    """Return what was measured on."""
    load = os.getloadavg()[0]
    cores = f"{platform.machine()}, {os.cpu_count()} cores, load {load:.1f}"
    return f"Python {platform.python_version()}, {cores}, one run, seconds of the processor"


def triplets(seed: int, count: int) -> StickProblem:
    """Return rails of which three fill each stick exactly, so that count / 3 sticks are needed and suffice."""
    rng = random.Random(seed)  # noqa: S311 — made-up lengths
    lengths: list[int] = []
    for _ in range(count // 3):
        first = rng.randrange(380, 491)
        second = rng.randrange(250, (1000 - first) // 2 + 1)
        lengths += [first, second, 1000 - first - second]
    rails = tuple(Rail(key=str(i), length=length) for i, length in enumerate(lengths))
    return StickProblem(rails=rails, sticks=(Stick(key="s", length=1000, cost=1),))


KNOWN = {
    # Chvátal, Linear Programming, 1983 (from memory); recomputed by integer programme: 453 rolls.
    "CUT-01": (100, 453, {45: 97, 36: 610, 31: 395, 14: 211}),
    # The thirteen widths of the usual encyclopedia example (from memory); recomputed: 73 rolls.
    "CUT-02": (
        5600,
        73,
        {
            1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
            2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20,
        },
    ),
}  # fmt: skip


def lengths(stick: int, wanted: dict[int, int]) -> StickProblem:
    """Return the problem of cutting these lengths, each so often, from sticks of one length."""
    rails = tuple(Rail(key=f"{n}.{i}", length=n) for n, count in wanted.items() for i in range(count))
    return StickProblem(rails=rails, sticks=(Stick(key="s", length=stick, cost=1),))


def sticks() -> None:
    """Print a row for each size of the triplet suite and for each known answer."""
    print("| rails | seed | optimum | cost | bound | s |\n| --- | --- | --- | --- | --- | --- |")
    suite = [
        (count, str(seed), count // 3, triplets(seed, count)) for count in (60, 120, 249, 501) for seed in range(3)
    ]
    suite += [(sum(d.values()), name, best, lengths(size, d)) for name, (size, best, d) in KNOWN.items()]
    for count, name, best, problem in suite:
        plan = plan_sticks(problem, Budget(seconds=20, clock=time.perf_counter))
        print(f"| {count} | {name} | {best} | {plan.cost} | {plan.lower_bound} | {plan.seconds or 0:.2f} |", flush=True)


def job(seed: int, count: int) -> Problem:
    """Return a job of mats on 1/8 in: blanks of 8 to 31 in, most with a fallout, two sheets, odd prices."""
    rng = random.Random(seed)  # noqa: S311 — made-up sizes
    eighth = 3_175_000
    pieces = []
    for i in range(count):
        w, h = rng.randrange(64, 200), rng.randrange(64, 250)
        inner = Rect((w - rng.randrange(32, 48)) * eighth, (h - rng.randrange(32, 48)) * eighth)
        fallouts = (inner,) if rng.random() < 0.8 else ()
        pieces.append(Piece(key=str(i), w=w * eighth, h=h * eighth, fallouts=fallouts))
    stock = (
        Stock(key="32x40", w=256 * eighth, h=320 * eighth, cost=1037),
        Stock(key="40x60", w=320 * eighth, h=480 * eighth, cost=2091),
    )
    return Problem(pieces=tuple(pieces), stock=stock, fallout_cost=23)


def scale(seconds: float) -> None:
    """Print a row for each size of job."""
    print("| blanks | first plan s | 5 s | cost | bound | gap | s | peak MB |\n" + "| --- " * 8 + "|")
    for count in (10, 30, 100, 300, 1000, 3000, 10_000):
        plan, trace = traced(job(1, count), seconds)
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        cells = [
            f"{trace[0][0]:.2f}",
            shown(known(trace, 5.0)),
            plan.cost,
            plan.lower_bound,
            f"{plan.gap:.4f}",
            f"{plan.seconds or 0:.1f}",
            peak,
        ]
        print(f"| {count} | " + " | ".join(str(cell) for cell in cells) + " |", flush=True)


def main() -> None:
    """Run what the command line asks for."""
    parser = argparse.ArgumentParser(description="how good cutting plans are, and how soon")
    parser.add_argument("what", choices=["boards", "sticks", "scale"])
    parser.add_argument("folder", nargs="?", type=Path)
    parser.add_argument("--seconds", type=float, default=5.0)
    parser.add_argument("--peer", action="store_true")
    parser.add_argument("--odd", action="store_true")
    parser.add_argument("--data", type=Path)
    asked = parser.parse_args()
    warm()
    print(f"{machine()}\n")
    if asked.what == "boards" and asked.folder:
        boards(asked.folder, asked)
    elif asked.what == "sticks":
        sticks()
    elif asked.what == "scale":
        scale(asked.seconds)
    else:
        parser.error("boards needs a FOLDER of instances")


if __name__ == "__main__":
    main()
