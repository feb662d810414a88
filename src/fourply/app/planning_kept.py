"""Planning a kept show from afar: everything that `make` writes, as bytes by name, and its plan kept as a proposal."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import cast

from fourply.app.cutters import kept_cutter
from fourply.app.cutting import Means
from fourply.app.keep import Desk
from fourply.app.keep_plans import propose_plan
from fourply.app.keep_shows import open_kept
from fourply.app.make import make_show, totals
from fourply.app.papers import Papers
from fourply.app.ports_store import Record
from fourply.errors import BadInput

_PLAN = "plan.json"


@dataclass(frozen=True, slots=True)
class Planned:
    """What came of it: the proposal, every file by its name, and the totals as data."""

    plan: Record
    files: dict[str, bytes]
    totals: dict[str, object]


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
    basis = desk.store.undoable(show).last
    cutter = kept_cutter(desk, wish.cutter)
    opened = open_kept(desk, show, cutter=cutter)
    if not opened.packages:
        raise BadInput(opened.show.title, "a show with at least one work that can be made")
    papers = Papers.of_show(opened, wish.paper, cutter)
    with TemporaryDirectory() as folder:
        out = Path(folder)
        made = make_show(opened, out, papers, means())
        files = {file.relative_to(out).as_posix(): file.read_bytes() for file in made.files}
    plan = propose_plan(desk, show, wish.name, files[_PLAN].decode(), basis)
    return Planned(plan, files, cast("dict[str, object]", asdict(totals(opened, made))))
