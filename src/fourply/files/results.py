"""What a show comes to, as files: every figure with its working, the plans, what to buy.

`show.json` and `plan.json` are for programs, the lists for people and their spreadsheets. Figures stand under their
paths; a rule that many figures share is written once. A cell that a spreadsheet would take for a formula is written as
text.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence

from fourply.files.faults import Fault
from fourply.files.instances import plan_to_data, problem_to_data
from fourply.measure.length import Length
from fourply.planning.plan import Plan
from fourply.planning.problem import Problem
from fourply.planning.stick_problem import StickPlan, StickProblem
from fourply.trade.findings import Finding
from fourply.trade.package import Package
from fourply.working.explain import Write
from fourply.working.working import Figures, Rule, Value, Working

SCHEMA = 1

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


type Shown = tuple[Package, Figures]
"""A package with all its figures, those of the bench among them."""


def show_json(
    head: Mapping[str, object], shown: Iterable[Shown], faults: Iterable[Fault], write: Write
) -> Iterator[str]:
    """Yield the text of `show.json` piece by piece; `head` is what is said of the show as a whole.

    A figure names its rule by id; where it has a formula of its own (a sum over its own layers) it says that too.
    """
    rules: dict[str, Rule] = {}
    yield _opened({"schema": SCHEMA, "kind": "show", "lengths": "nm", **head})
    yield ',\n"works": ['
    for number, (package, figures) in enumerate(shown):
        yield ("," if number else "") + "\n" + json.dumps(work_data(package, figures, rules, write), ensure_ascii=False)
    yield "\n]"
    yield ',\n"faults": ' + json.dumps([fault.to_json() for fault in faults], ensure_ascii=False)
    yield ',\n"rules": ' + json.dumps({rule.id: rule_data(rule) for rule in rules.values()}, ensure_ascii=False)
    yield "\n}\n"


def _opened(members: Mapping[str, object]) -> str:
    return json.dumps(members, ensure_ascii=False)[:-1]


def work_data(package: Package, figures: Figures, rules: dict[str, Rule], write: Write) -> dict[str, object]:
    """Return a package as data: its openings, its figures, its findings; rules met for the first time go to `rules`."""
    work = package.work
    return {
        "id": work.id,
        "title": work.title,
        "maker": work.maker,
        "medium": work.medium,
        "copies": work.copies,
        "source": {"file": work.source.file, "row": work.source.row},
        "package": {
            "materials": _materials(package),
            "openings": [_opening(package, at) for at in range(len(package.mats[0].holes))],
            "figures": figures_data(figures, rules),
        },
        "findings": [_finding(finding, write) for finding in package.findings],
    }


def _opening(package: Package, at: int) -> dict[str, object]:
    """Return one opening through all mats: the sheet in it, the shape in each mat, what its figures begin with."""
    hole, arts = package.mats[0].holes[at], package.work.arts
    return {
        "art": None if hole.title else arts[at].name,
        "title": hole.title,
        "shapes": [mat.holes[at].opening.shape.words for mat in package.mats],
        "figures": hole.scope,
    }


def _materials(package: Package) -> dict[str, object]:
    return {
        "mats": [mat.board.name for mat in package.mats],
        "mount": package.mount.name,
        "glazing": package.glazing.name if package.glazing else None,
        "backing": package.backing.name if package.backing else None,
        "rails": {rail.side: rail.moulding.name for rail in package.frame.rails} if package.frame else None,
        "strips": {strips.role: strips.spacer.name for strips in package.strips},
    }


def figures_data(figures: Figures, rules: dict[str, Rule]) -> dict[str, object]:
    """Return every figure as data: its value (lengths in nanometres), its rule, its operands by path, its origin.

    Rules that are met for the first time are entered in `rules`.
    """
    return {path: _figure(working, rules) for path, working in figures.items()}


def _figure(working: Working, rules: dict[str, Rule]) -> dict[str, object]:
    rule = working.rule
    data: dict[str, object] = {"value": _value(working.value), "rule": rule.id}
    if isinstance(working.value, Length):
        data["mm"] = working.value.as_mm
    if working.operands:
        data["operands"] = dict(working.operands)
    if rules.setdefault(rule.id, rule).formula != rule.formula:
        data["formula"] = rule.formula
    if working.origin:
        data["origin"] = working.origin
    return data


def _value(value: Value) -> int | float | str:
    if isinstance(value, Length):
        return value.nm
    return value if isinstance(value, int | float | str) else str(value)


def rule_data(rule: Rule) -> dict[str, str]:
    """Return a rule as data: its formula, how it is rounded, why, on whose word."""
    return {"formula": rule.formula, "rounding": rule.rounding.value, "reason": rule.reason, "source": rule.source}


def _finding(finding: Finding, write: Write) -> dict[str, object]:
    return {
        "rule": finding.rule,
        "level": finding.level.value,
        "place": finding.place,
        "says": finding.sentence(write),
        "remedy": finding.advice(write),
        "numbers": {name: _value(value) for name, value in finding.numbers},
    }


def plan_json(
    boards: Iterable[tuple[str, str, Problem, Plan]],
    sticks: Iterable[tuple[str, str, StickProblem, StickPlan]],
    unplanned: Iterable[tuple[str, str]],
    frames: object = None,
) -> str:
    """Return the text of `plan.json`: each plan with its kind of material, its name, its problem.

    `frames` says, as data, which frames are bought cut to size and how the ways of buying them compare.

    Glazing stands under `panes`; boards and backing under `boards`.
    """
    flat = [(kind, _board_data(material, problem, plan)) for kind, material, problem, plan in boards]
    return json.dumps(
        {
            "schema": SCHEMA,
            "kind": "plan",
            "lengths": "nm",
            "boards": [data | {"stuff": kind} for kind, data in flat if kind != "glazing"],
            "panes": [data | {"stuff": kind} for kind, data in flat if kind == "glazing"],
            "sticks": [_stick_data(*each) for each in sticks],
            "unplanned": [{"piece": key, "why": why} for key, why in unplanned],
            "frames": frames,
        },
        ensure_ascii=False,
    )


def _board_data(material: str, problem: Problem, plan: Plan) -> dict[str, object]:
    return {
        "material": material,
        "pieces": [piece.key for piece in problem.pieces],
        "problem": problem_to_data(problem),
        "plan": plan_to_data(problem, plan),
    }


def _stick_data(kind: str, material: str, problem: StickProblem, plan: StickPlan) -> dict[str, object]:
    return {
        "stuff": kind,
        "material": material,
        "rails": [{"key": rail.key, "length": rail.length, "copies": rail.copies} for rail in problem.rails],
        "stock": [
            {"key": stick.key, "length": stick.length, "cost": stick.cost, "copies": stick.copies}
            for stick in problem.sticks
        ],
        "kerf": problem.kerf,
        "start_trim": problem.start_trim,
        "cost": plan.cost,
        "lower_bound": plan.lower_bound,
        "proved": plan.proved,
        "sticks": [
            {
                "stick": cut.stick,
                "copies": cut.copies,
                "rails": [{"rail": rail.rail, "start": rail.start, "length": rail.length} for rail in cut.rails],
                "left": cut.left,
            }
            for cut in plan.sticks
        ],
    }


def list_csv(header: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Return a list for a spreadsheet, with a byte order mark so that its signs are read; cells are never formulas.

    >>> list_csv(("what",), [("=1+1",)]).splitlines()[1]
    "'=1+1"
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(header)
    writer.writerows([_cell(cell) for cell in row] for row in rows)
    return "\ufeff" + out.getvalue()


def _cell(cell: object) -> str:
    text = "" if cell is None else str(cell)
    return f"'{text}" if text.startswith(_FORMULA_STARTS) else text
