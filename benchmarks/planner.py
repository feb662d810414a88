"""How good cutting plans are, how soon, and how that grows: boards beside a general solver, sticks, size of the job.

    benchmarks/planner.py boards FOLDER [--seconds 5] [--peer]   instances as docs/formats.md gives them
    benchmarks/planner.py sticks                                 triplets, whose optimum is known by construction
    benchmarks/planner.py scale [--seconds 10]                   10 to 3 000 blanks of one board

A framer pays for board, so what counts is cost over what is proved to be needed, and how long one waits for it. Every
plan is counted only after the referee has passed it. The peer (packingsolver, three stages, any time, one run) gets the
same sheets, offcuts and fallouts.
"""

from __future__ import annotations

import argparse
import platform
import random
import resource
import time
from collections.abc import Iterator
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
Trace = list[tuple[float, int]]


def traced(problem: Problem, seconds: float) -> tuple[Plan, Trace]:
    """Plan a problem; return the plan and when each better cost was first told."""
    began = time.perf_counter()
    trace: Trace = []

    def told(cost: int, _bound: int) -> bool:
        if not trace or cost < trace[-1][1]:
            trace.append((time.perf_counter() - began, cost))
        return True

    return plan_boards(problem, Budget(seconds=seconds, clock=time.perf_counter, began=began), told), trace


def at(trace: Trace, seconds: float) -> str:
    """Return the cost that was known by then."""
    known = [cost for when, cost in trace if when <= seconds]
    return str(known[-1]) if known else "–"


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
    began = time.perf_counter()

    def found(output: object) -> None:
        solution = output.solution  # type: ignore[attr-defined]
        if solution.full() and (not trace or solution.cost() < trace[-1][1]):
            trace.append((time.perf_counter() - began, round(solution.cost())))

    parameters = peer_of.OptimizeParameters()
    parameters.time_limit = seconds
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


def boards(folder: Path, seconds: float, *, with_peer: bool) -> None:
    """Print a row for each instance."""
    marks = [mark for mark in MARKS if mark <= seconds]
    extra = [f"peer {mark} s" for mark in marks] if with_peer else []
    print("| instance | " + " | ".join([*(f"{m} s" for m in marks), "cost", "bound", "proved", "s", *extra]) + " |")
    print("| --- |" + " --- |" * (len(marks) + 4 + len(extra)))
    for path in sorted(folder.glob("*_*.json")):
        if path.name == "best_known.json":
            continue
        problem = read_instance(path)
        plan, trace = traced(problem, seconds)
        peers = peer(problem, seconds) if with_peer else []
        cells = [at(trace, mark) for mark in marks]
        cells += [str(plan.cost), str(plan.lower_bound), "yes" if plan.proved else "", f"{plan.seconds or 0:.2f}"]
        cells += [at(peers, mark) for mark in marks] if with_peer else []
        print(f"| {path.stem} | " + " | ".join(cells) + " |", flush=True)


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


def sticks() -> None:
    """Print a row for each size of the triplet suite."""
    print("| rails | seed | optimum | cost | bound | s |\n| --- | --- | --- | --- | --- | --- |")
    for count in (60, 120, 249, 501):
        for seed in range(3):
            plan = plan_sticks(triplets(seed, count), Budget(seconds=20, clock=time.perf_counter))
            print(f"| {count} | {seed} | {count // 3} | {plan.cost} | {plan.lower_bound} | {plan.seconds or 0:.2f} |")


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
    print("| blanks | first plan s | cost | bound | gap | s | peak MB |\n| --- | --- | --- | --- | --- | --- | --- |")
    for count in (10, 30, 100, 300, 1000, 3000):
        plan, trace = traced(job(1, count), seconds)
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        cells = [f"{trace[0][0]:.2f}", plan.cost, plan.lower_bound, f"{plan.gap:.4f}", f"{plan.seconds or 0:.1f}", peak]
        print(f"| {count} | " + " | ".join(str(cell) for cell in cells) + " |", flush=True)


def main() -> None:
    """Run what the command line asks for."""
    parser = argparse.ArgumentParser(description="how good cutting plans are, and how soon")
    parser.add_argument("what", choices=["boards", "sticks", "scale"])
    parser.add_argument("folder", nargs="?", type=Path)
    parser.add_argument("--seconds", type=float, default=5.0)
    parser.add_argument("--peer", action="store_true")
    asked = parser.parse_args()
    warm()
    print(f"Python {platform.python_version()}, {platform.machine()}, one run each\n")
    if asked.what == "boards" and asked.folder:
        boards(asked.folder, asked.seconds, with_peer=asked.peer)
    elif asked.what == "sticks":
        sticks()
    elif asked.what == "scale":
        scale(asked.seconds)
    else:
        parser.error("boards needs a FOLDER of instances")


if __name__ == "__main__":
    main()
