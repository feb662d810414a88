"""The strong planner: column generation and branching, proved to the last step where the budget allows.

It starts from the greedy plan, so that there is a plan at any moment. A small job is settled from the list of all its
patterns without compiled code.
"""

from __future__ import annotations

from dataclasses import replace

from fourply.errors import CannotHonour
from fourply.planning.bounds import area_bound
from fourply.planning.budget import Budget, Progress
from fourply.planning.everyset import every_column
from fourply.planning.grid import Grid, grid_of
from fourply.planning.layouts import laid_best
from fourply.planning.pace import Pace
from fourply.planning.parts import plan_at_once
from fourply.planning.patterns import Accept, Column, column, size_of, tree_of, turned
from fourply.planning.plan import Board, Plan
from fourply.planning.problem import Kind, Problem
from fourply.planning.realise import fits_rules
from fourply.planning.slots import cost_of
from fourply.planning.strips import strips_of
from fourply.planning.wishes import rank

ENGINE = "columns"
SMALL = 12
_MOST_JOINS = 12_000
_FIRST_GUESSES = 4
_FIRST_PIECES = 600

Choice = list[tuple[Column, int]]


def plan_by_columns(problem: Problem, budget: Budget, progress: Progress | None = None) -> Plan:
    """Return the best plan that column generation finds within the budget, and the bound that it proves.

    Raises BadInput where a piece fits no stock or the stock does not suffice.
    """
    pace = Pace(budget, progress)
    first = plan_at_once(problem, _first_budget(problem, budget), progress)
    grid = grid_of(problem)
    floor = area_bound(problem)
    pace.tell(first.cost, floor)
    if not grid.items or pace.stopped:
        return _finished(first, floor, pace)
    start = _as_columns(grid, first)
    if first.proved:
        return _finished(_preferred(grid, first, [start] if start else []), floor, pace)
    accept = accepting(problem, grid)
    small = _small(grid, pace, first) if grid.count <= SMALL and (accept is None or strips_of(grid).exact) else None
    if small is None:
        small = _large(grid, pace, (start, first, floor), accept)
    choices, bound = small
    if start and start not in choices:
        choices = [*choices, start]
    return _finished(_preferred(grid, first, choices), max(bound, floor), pace)


def _preferred(grid: Grid, first: Plan, choices: list[Choice]) -> Plan:
    """Return the cheapest of these plans, and of those as cheap the one that the wishes would have."""
    laid = [made for choice in choices if (made := _laid_out(grid, choice)) is not None]
    return min([first, *laid], key=lambda plan: (plan.cost, rank(plan.boards, grid.problem.wishes)))


def _laid_out(grid: Grid, choice: Choice) -> Plan | None:
    try:
        boards = laid_best(grid, choice)
    except CannotHonour:
        return None
    return Plan(boards, cost_of(grid.problem, boards), 0, ENGINE)


def _first_budget(problem: Problem, budget: Budget) -> Budget:
    """Return the budget of the greedy start: fewer plans for a large job, none after the deadline but the first."""
    guesses = max(1, min(_FIRST_GUESSES, _FIRST_PIECES // problem.demand))
    return replace(budget, steps=min(guesses, budget.steps or guesses))


def _finished(plan: Plan, bound: int, pace: Pace) -> Plan:
    bound = min(plan.cost, bound)
    pace.tell(plan.cost, bound)
    return Plan(plan.boards, plan.cost, bound, ENGINE, pace.steps, pace.seconds)


def accepting(problem: Problem, grid: Grid) -> Accept | None:
    """Return the test that patterns must pass; None where every pattern can be cut."""
    mixed = not problem.oriented and any(not p.turnable for p in problem.pieces)
    damaged = any(home.part is not None for kind in grid.stock for home in kind.homes)
    if problem.cutter.free and not mixed and not damaged and all(p.lot is None for p in problem.pieces):
        return None
    return _Accept(grid)


class _Accept:
    """Whether a pattern can be cut on this grid."""

    def __init__(self, grid: Grid) -> None:
        self.grid = grid

    def __call__(self, one: Column) -> Column | None:
        return one if fits_rules(self.grid, one) else None


def _as_columns(grid: Grid, plan: Plan) -> Choice | None:
    """Return the boards of a plan as columns of the grid; None where some board is none (damaged or locked ones)."""
    codes: dict[tuple[str, bool], int] = {}
    for at, item in enumerate(grid.items):
        for piece, _, flipped in item.pieces:
            for lies in (False, True):
                codes[piece.key, lies] = 2 * at + (int(lies ^ flipped) if item.turns else 0)
    kinds = {home.source: at for at, kind in enumerate(grid.stock) for home in kind.homes if home.slot is None}
    damaged = {s.key for s in grid.problem.stock if s.zones}
    if grid.locked or any(b.source.kind is not Kind.FALLOUT and b.source.key in damaged for b in plan.boards):
        return None
    return [(_as_column(grid, board, kinds[board.source], codes), board.copies) for board in plan.boards]


def _as_column(grid: Grid, board: Board, kind: int, codes: dict[tuple[str, bool], int]) -> Column:
    tree = tree_of(board.tree, codes) or ()
    w, h = size_of(grid, tree)
    if w > grid.stock[kind].w or h > grid.stock[kind].h:
        tree = turned(tree, [item.turns for item in grid.items])
    return column(grid, kind, tree)


def _small(grid: Grid, pace: Pace, first: Plan) -> tuple[list[Choice], int] | None:
    """Settle a small job from all its patterns; None where they are too many."""
    from fourply.planning.master import Effort, choose, row_limits  # noqa: PLC0415 — heavy, and only needed here

    columns = every_column(grid, _MOST_JOINS)
    if columns is None:
        return None
    pace.spend(1 + len(columns) // 100)
    own = first.cost - grid.sunk
    whole = choose(
        columns,
        [i.want for i in grid.items],
        row_limits(grid),
        own - grid.step + 0.5,
        Effort(100_000, pace.left, lambda: pace.spend(0)),
    )
    if not whole.done:
        return None
    if whole.use is None:
        return [], first.cost
    choice = [(one, n) for one, n in zip(columns, whole.use, strict=True) if n]
    return [choice], sum(one.cost * n for one, n in choice) + grid.sunk


def _large(
    grid: Grid, pace: Pace, start: tuple[Choice | None, Plan, int], accept: Accept | None
) -> tuple[list[Choice], int]:
    """Search by column generation; return the best choices, all of one cost, and the bound."""
    from fourply.planning.branch import Search  # noqa: PLC0415 — NumPy, HiGHS and the compiler
    from fourply.planning.colgen import Workshop  # noqa: PLC0415

    choice, plan, floor = start
    shop = Workshop(grid, pace, accept)
    search = Search(shop, choice or [], plan.cost - grid.sunk, floor - grid.sunk)
    search.run()
    return [choice for choice in (search.best, *search.ties) if choice], search.bound + grid.sunk
