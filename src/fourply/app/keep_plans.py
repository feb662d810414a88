"""Cutting plans in the store: proposed, then accepted; each says what it stands on."""

from __future__ import annotations

from dataclasses import replace

from fourply.app.keep import Desk, new_id, read, show_head
from fourply.app.ports_store import Kind, Put, Record
from fourply.errors import Unknown
from fourply.files.kept import KeptPlan


def propose_plan(desk: Desk, show: str, name: str, document: str, basis: int) -> Record:
    """Keep a plan of a show as proposed; `document` is its plan.json, `basis` the show's last entry when it was opened.

    Raises Unknown for no such show.
    """
    show_head(desk, show)
    return desk.commit([Put(new_id(), KeptPlan(name, document, basis))], show, f"propose plan {name}").record


def accept_plan(desk: Desk, plan: str, expected: int) -> Record:
    """Accept a plan; those accepted before it are proposals again. Raises Stale, Unknown."""
    found = read(desk, plan, Kind.PLAN)
    if not isinstance(found.value, KeptPlan):
        raise Unknown(Kind.PLAN.value, plan, ())
    puts = [Put(plan, replace(found.value, accepted=True), expected, found.archived)]
    puts += [
        Put(other.id, replace(other.value, accepted=False), other.version)
        for other in desk.store.every(Kind.PLAN, found.scope)
        if other.id != plan and isinstance(other.value, KeptPlan) and other.value.accepted
    ]
    return desk.commit(puts, found.scope, f"accept plan {found.value.name}").record


def stands_on_changes(desk: Desk, plan: Record) -> bool:
    """Tell whether anything but plans of the show has changed since a plan was made."""
    if not isinstance(plan.value, KeptPlan):
        raise Unknown(Kind.PLAN.value, plan.id, ())
    basis = plan.value.basis
    before: int | None = None
    while True:
        page = desk.store.history(plan.scope, before=before)
        for entry in page.items:
            if entry.seq <= basis:
                return False
            if any(change.kind is not Kind.PLAN for change in desk.store.changes(entry.seq)):
                return True
        if not page.next:
            return False
        before = int(page.next)


def plan_document(desk: Desk, plan: str) -> str:
    """Return the text of a kept plan's plan.json; raises Unknown."""
    found = read(desk, plan, Kind.PLAN)
    if not isinstance(found.value, KeptPlan):
        raise Unknown(Kind.PLAN.value, plan, ())
    return found.value.document
