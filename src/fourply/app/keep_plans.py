"""Cutting plans in the store: proposed, accepted, cut; each says what it stands on."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from fourply.app.answers import Answers
from fourply.app.keep import Desk, new_id, read, show_head
from fourply.app.keep_rack import ACCEPTED, check_promise, into_rack, still_in_rack
from fourply.app.ports_store import Kind, Put, Record
from fourply.errors import BadInput, Stale, Unknown
from fourply.files.kept import KeptPlan
from fourply.trade.materials import Offcut
from fourply.trade.money import Money


def propose_plan(desk: Desk, show: str, plan: KeptPlan) -> Record:
    """Keep a plan of a show as proposed; raises Unknown for no such show."""
    show_head(desk, show)
    return desk.commit([Put(new_id(), plan)], show, f"propose plan {plan.name}").record


def plan_of(record: Record) -> KeptPlan:
    """Return the plan that a record keeps; raises Unknown for a record of another kind."""
    if not isinstance(record.value, KeptPlan):
        raise Unknown(Kind.PLAN.value, record.id, ())
    return record.value


def accept_plan(desk: Desk, plan: str, expected: int) -> Record:
    """Accept a plan, which promises it what it pulls from the rack; another that was accepted is a proposal again.

    Raises Stale, Unknown, RackTaken where the rack cannot keep that promise.
    """
    found = read(desk, plan, Kind.PLAN)
    check_promise(desk, found, _pulled(plan_of(found)))
    puts = [Put(plan, replace(plan_of(found), accepted=True), expected, found.archived)]
    puts += [
        Put(other.id, replace(other.value, accepted=False), other.version)
        for other in desk.store.every(Kind.PLAN, found.scope)
        if other.id != plan and isinstance(other.value, KeptPlan) and other.value.state == ACCEPTED
    ]
    return desk.commit(puts, found.scope, f"accept plan {plan_of(found).name}").record


def _pulled(plan: KeptPlan) -> tuple[Offcut, ...]:
    """Return the pieces of the rack that a plan is cut from, as they were when it was made."""
    if not plan.takes:
        return ()
    answers = Answers.read(plan.answers)
    return tuple(answers.rack[place] for place in answers.pulled())


def cut_plan(desk: Desk, plan: str, expected: int) -> Record:
    """Say that an accepted plan is cut: what it pulled leaves the rack, what is worth keeping goes into the shop's.

    The shop's rack and the plan are of two scopes: the rack changes first, once however often this is asked, and each
    can be undone in its own. Raises Stale, Unknown, BadInput for a plan that is not accepted or is cut already.
    """
    found = read(desk, plan, Kind.PLAN)
    if (before := desk.answered(found.scope)) is not None:
        return before.record
    kept = plan_of(found)
    marked = replace(kept, cut=True)
    if found.version != expected:
        raise Stale(plan, expected, marked, found)
    if kept.state != ACCEPTED:
        raise BadInput(kept.name, "a plan that is accepted and not cut yet")
    gone = [Put(each.id, each.value, each.version, archived=True) for each in still_in_rack(desk, kept.takes)]
    own = {each.id for each in desk.store.every(Kind.RACK, found.scope)}
    currency = show_head(desk, found.scope).show.currency
    pieces = [
        Offcut(each.material, each.size, Money(Decimal(0), currency))
        for each in kept.leaves
        for _ in range(each.copies)
    ]
    once = replace(desk, key=f"cut {plan} {expected}", request="cut")
    into_rack(once, [put for put in gone if put.id not in own], pieces, f"rack after cutting {kept.name}")
    puts = [Put(plan, marked, expected, found.archived), *(put for put in gone if put.id in own)]
    return desk.commit(puts, found.scope, f"cut plan {kept.name}").record


def rename_plan(desk: Desk, plan: str, name: str, expected: int) -> Record:
    """Give a plan another name; raises Stale, Unknown, BadInput for a blank one."""
    found = read(desk, plan, Kind.PLAN)
    if not name.strip():
        raise BadInput(name, "a name for the plan")
    put = Put(plan, replace(plan_of(found), name=name), expected, found.archived)
    return desk.commit([put], found.scope, f"change plan {name}").record


def stands_on_changes(desk: Desk, plan: Record) -> bool:
    """Tell whether anything but plans of the show has changed since a plan was made."""
    basis = plan_of(plan).basis
    return desk.store.changed_since(plan.scope, basis, Kind.PLAN)


def plan_document(desk: Desk, plan: str) -> str:
    """Return the text of a kept plan's plan.json; raises Unknown."""
    return plan_of(read(desk, plan, Kind.PLAN)).document
