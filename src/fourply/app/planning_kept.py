"""Planning a kept show: everything that `make` writes, as bytes by name, and its plan kept as a proposal.

The papers of a plan that is kept are made again from what planners answered, without planning anything.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import cast

from fourply.app.answers import Answers, Recorder, Replay
from fourply.app.cutters import kept_cutter
from fourply.app.cutting import Means
from fourply.app.keep import Desk, read
from fourply.app.keep_plans import plan_of, propose_plan
from fourply.app.keep_rack import rack_for
from fourply.app.keep_shows import open_kept
from fourply.app.make import Totals, make_show, totals
from fourply.app.papers import Papers
from fourply.app.ports import Compute, Progress
from fourply.app.ports_store import Kind, Record
from fourply.app.shows import Opened
from fourply.errors import BadInput
from fourply.files.kept import KeptPlan
from fourply.planning.budget import Budget

_PLAN = "plan.json"


@dataclass(frozen=True, slots=True)
class Planned:
    """What came of it: the plan as it is kept, every file by its name, and the totals as data."""

    plan: Record
    files: dict[str, bytes]
    totals: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class PlanWish:
    """What the proposal is called, on what paper sheets are printed, for which kept cutter (None: a nominal one)."""

    name: str
    paper: str | None = None
    cutter: str | None = None


def plan_kept(desk: Desk, show: str, wish: PlanWish, means: Callable[[], Means]) -> Planned:
    """Return what a kept show comes to, its plan kept as proposed; raises Unknown, BadInput.

    That is where nothing can be made. `means` is asked for once the show is open: seconds count from then.
    """
    cutter = kept_cutter(desk, wish.cutter)
    with desk.store.snapshot():
        basis, rack = desk.store.undoable(show).last, rack_for(desk, show)
        opened = open_kept(desk, show, cutter=cutter)
    if not opened.packages:
        raise BadInput(opened.show.title, "a show with at least one work that can be made")
    asked = means()
    recorder = Recorder(asked.compute)
    files, sums = _made(opened, Papers.of_show(opened, wish.paper, cutter), replace(asked, compute=recorder))
    answers = Answers(opened.show.materials.rack, tuple(recorder.answers))
    kept = KeptPlan(
        wish.name,
        files[_PLAN].decode(),
        basis,
        answers=answers.text(),
        takes=tuple(rack[place].id for place in answers.pulled()),
        leaves=answers.leaves(),
        cutter=wish.cutter or "",
        summary=_summary(sums),
    )
    return Planned(propose_plan(desk, show, kept), files, _data(sums))


def papers_of_plan(desk: Desk, plan: str, paper: str | None, compute: Compute, progress: Progress) -> Planned:
    """Return every file of a kept plan, made again as it was: the same boards, cut alike.

    Raises Unknown, BadInput for a plan without answers, PlanOutgrown where its show is cut otherwise by now, BadPlan
    where what is kept is no plan.
    """
    record = read(desk, plan, Kind.PLAN)
    kept = plan_of(record)
    if not kept.answers:
        raise BadInput(kept.name, "a plan made by this version of fourply or a later one; plan again")
    answers = Answers.read(kept.answers)
    cutter = kept_cutter(desk, kept.cutter or None)
    opened = open_kept(desk, record.scope, cutter=cutter)
    materials = replace(opened.show.materials, rack=answers.rack)
    opened = replace(opened, show=replace(opened.show, materials=materials))
    means = Means(Budget(steps=1), Replay(kept.name, answers, compute), progress)
    files, sums = _made(opened, Papers.of_show(opened, paper, cutter), means)
    return Planned(record, files, _data(sums))


def _made(opened: Opened, papers: Papers, means: Means) -> tuple[dict[str, bytes], Totals]:
    with TemporaryDirectory() as folder:
        out = Path(folder)
        made = make_show(opened, out, papers, means)
        files = {file.relative_to(out).as_posix(): file.read_bytes() for file in made.files}
    return files, totals(opened, made)


def _data(sums: Totals) -> dict[str, object]:
    return cast("dict[str, object]", asdict(sums))


def _summary(sums: Totals) -> str:
    """Return in a line what a plan comes to.

    >>> _summary(Totals(12, 0, 3, 0, 5, 4, {"EUR": "128.40"}))
    '12 works, 128.40 EUR to buy, 4 of 5 plans proved the best there is'
    """
    works = "1 work" if sums.works == 1 else f"{sums.works} works"
    cost = " and ".join(f"{cost} {currency}" for currency, cost in sums.cost.items())
    proved = f"{sums.proved} of {sums.plans} plans proved the best there is"
    return ", ".join(filter(None, (works, f"{cost} to buy" if cost else "", proved)))
