"""Works changed one field at a time or many at once, by what a person types; each time one entry of the history."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType

from fourply.app.along import stage_for
from fourply.app.keep import Desk, show_head
from fourply.app.keep_shows import parts_of
from fourply.app.keep_works import typed_work
from fourply.app.ports_store import Kind, Put, Record
from fourply.app.shows import layer_of
from fourply.errors import BadInput, Unknown
from fourply.files.convertors import Reading, plain, print_length
from fourply.files.entries import unknown_names, with_known_names
from fourply.files.kept import KeptShow, KeptWork
from fourply.files.record import Listed
from fourply.measure.notation import Unit
from fourply.trade.treatment import Layer, settle
from fourply.trade.work import Artwork, Readings, Work

NO_RULES: Mapping[str, str] = MappingProxyType({})


def edit_work(desk: Desk, record: str, field: str, text: str, expected: int) -> Record:
    """Change one field of a work from the version that the caller saw.

    Raises BadInput for what cannot be read there, Unknown for a field that there is not, Stale, Taken.
    """
    found, kept = _kept(desk, record)
    if field not in FIELDS:
        raise Unknown("field of a work", field, tuple(FIELDS))
    head = show_head(desk, found.scope).show
    if field == "treatment":
        text = treatment_named(desk, found.scope, text)
    new = FIELDS[field].change(kept, head, text)
    label = f"{field} of {kept.listed.work.id} to {text.strip() or 'nothing'}"
    return desk.commit([Put(record, new, expected, found.archived)], found.scope, label).record


def field_text(kept: KeptWork, head: KeptShow, field: str) -> str:
    """Return a field of a work as a person would type it; raises Unknown."""
    if field not in FIELDS:
        raise Unknown("field of a work", field, tuple(FIELDS))
    return FIELDS[field].write(kept, head)


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be otherwise with several works: a treatment by name ("" for none of its own), rules as text, a state.

    None leaves it as it is.
    """

    treatment: str | None = None
    rules: Mapping[str, str] = NO_RULES
    along: str | None = None


def change_many(desk: Desk, show: str, works: Sequence[tuple[str, int]], wish: Wish) -> tuple[Record, ...]:
    """Change works of a show together, each by its record and the version that was seen.

    What a work says otherwise itself stays. Raises BadInput where none is named or nothing is wished, Unknown for a
    treatment or material that there is not, Stale.
    """
    if not works:
        raise BadInput("no work", "at least one work, selected")
    if wish == Wish():
        raise BadInput("no change", "a treatment, a moulding or a state")
    head = show_head(desk, show).show
    treatment = None if wish.treatment is None else treatment_named(desk, show, wish.treatment)
    rules = _rules(desk, show, head, wish.rules)
    stage = None if wish.along is None else stage_for(wish.along)
    puts = []
    numbers = []
    for record, version in works:
        found, kept = _kept(desk, record)
        listed = kept.listed if treatment is None else replace(kept.listed, treatment=treatment)
        if rules.values:
            listed = replace(listed, own=replace(listed.own, values={**listed.own.values, **rules.values}))
        new = replace(kept, listed=listed, stage=stage or kept.stage)
        puts.append(Put(record, new, version, found.archived))
        numbers.append(listed.work.id)
    return desk.commit(puts, show, f"{_wished(wish)} for {_names(numbers)}").records


def _wished(wish: Wish) -> str:
    words = [*wish.rules.values()]
    if wish.treatment is not None:
        words.append(wish.treatment or "no treatment")
    if wish.along is not None:
        words.append(wish.along)
    return ", ".join(words)


def _names(numbers: Sequence[str]) -> str:
    few = 6
    return ", ".join(numbers) if len(numbers) <= few else f"{len(numbers)} works"


def treatment_named(desk: Desk, show: str, name: str) -> str:
    """Return a treatment that works of a show may name as it is written there, "" for none; raises Unknown."""
    if not name.strip():
        return ""
    known = tuple(treatment_names(desk, show))
    for each in known:
        if plain(each) == plain(name):
            return each
    raise Unknown("treatment", name, known)


def treatment_names(desk: Desk, show: str) -> tuple[str, ...]:
    """Return the names of the treatments that works of a show may name; raises Unknown."""
    return tuple(layer.name.removeprefix("treatment ") for layer in parts_of(desk, show).rules.named.values())


def _rules(desk: Desk, show: str, head: KeptShow, rules: Mapping[str, str]) -> Layer:
    """Return rules as a layer, having looked whether there is everything that they name."""
    layer = layer_of(rules, Reading(head.unit, head.order, head.currency))
    if layer.values:
        parts = parts_of(desk, show)
        layer = with_known_names(layer, parts.show.materials)
        for _, unknown in unknown_names(settle(parts.rules.shop, [layer]), parts.show.materials):
            raise unknown
    return layer


def _kept(desk: Desk, record: str) -> tuple[Record, KeptWork]:
    found = desk.store.read(record)
    if not isinstance(found.value, KeptWork):
        raise Unknown(Kind.WORK.value, record, ())
    return found, found.value


# ── the fields ───────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Field:
    """How one field of a work is written and changed by text."""

    write: Callable[[KeptWork, KeptShow], str]
    change: Callable[[KeptWork, KeptShow, str], KeptWork]


def _typed(head: KeptShow, **given: str) -> Work:
    """Return a work of a sheet of any size of which this much was typed; raises BadInput."""
    found = typed_work(head, {"id": "1", "width": "9", "height": "9", **given})
    if not isinstance(found, Listed):
        raise BadInput(found[0].found, found[0].expected)
    return found.work


def _with_work(kept: KeptWork, work: Work) -> KeptWork:
    own = replace(kept.listed.own, name=f"work {work.id}")
    return replace(kept, listed=replace(kept.listed, work=work, own=own))


def _text(name: str) -> Field:
    def change(kept: KeptWork, head: KeptShow, text: str) -> KeptWork:
        found = _typed(head, **{name: text}) if text.strip() else None
        value = getattr(found, name) if found else ""
        if name == "id" and not value:
            raise BadInput("nothing", "a number of its own for every work")
        return _with_work(kept, replace(kept.listed.work, **{name: value}))  # type: ignore[arg-type]

    return Field(lambda kept, _: str(getattr(kept.listed.work, name)), change)


def _copies(kept: KeptWork, head: KeptShow, text: str) -> KeptWork:
    return _with_work(kept, replace(kept.listed.work, copies=_typed(head, copies=text or "1").copies))


def _side(name: str) -> Field:
    def write(kept: KeptWork, head: KeptShow) -> str:
        readings: Readings = getattr(kept.listed.work.art, name)
        sides = dict.fromkeys((readings.least, readings.most))
        return "; ".join(_plain(print_length(each), head.unit) for each in sides)

    def change(kept: KeptWork, head: KeptShow, text: str) -> KeptWork:
        if not text.strip():
            raise BadInput("nothing", f"the {name} of the sheet")
        found: Readings = getattr(_typed(head, **{name: text}).art, name)
        work = kept.listed.work
        return _with_work(kept, replace(work, art=_resized(work.art, name, found)))

    return Field(write, change)


def _resized(art: Artwork, name: str, readings: Readings) -> Artwork:
    try:
        if name == "width":
            return replace(art, width=readings, sheet_is_image=False)
        return replace(art, height=readings, sheet_is_image=False)
    except ValueError as bad:
        raise BadInput(f"{name} of the sheet", f"a larger one, since {bad}") from bad


def _plain(text: str, unit: Unit) -> str:
    """Return a length without its unit where that is the show's own."""
    return text.removesuffix(f" {unit.value}")


def _treated(kept: KeptWork, _: KeptShow, text: str) -> KeptWork:
    return replace(kept, listed=replace(kept.listed, treatment=text))


def _due(kept: KeptWork, _: KeptShow, text: str) -> KeptWork:
    return replace(kept, due=day(text))


def day(text: str) -> date | None:
    """Return a date as forms send it, None for nothing; raises BadInput.

    >>> day("2026-12-03"), day(" ")
    (datetime.date(2026, 12, 3), None)
    """
    try:
        return date.fromisoformat(text.strip()) if text.strip() else None
    except ValueError:
        raise BadInput(text, "a date such as 2026-12-03") from None


FIELDS: Mapping[str, Field] = MappingProxyType(
    {
        "number": _text("id"),
        "title": _text("title"),
        "maker": _text("maker"),
        "medium": _text("medium"),
        "width": _side("width"),
        "height": _side("height"),
        "copies": Field(lambda kept, _: str(kept.listed.work.copies), _copies),
        "treatment": Field(lambda kept, _: kept.listed.treatment, _treated),
        "notes": _text("notes"),
        "due": Field(lambda kept, _: kept.due.isoformat() if kept.due else "", _due),
        "state": Field(lambda kept, _: kept.stage.value, lambda kept, _, text: replace(kept, stage=stage_for(text))),
    }
)
"""What can be changed of a work by itself."""


def number(record: Record) -> str:
    """Return the number of a work; raises Unknown for another record."""
    return _work_of(record).listed.work.id


def text_of(record: Record, head: KeptShow, field: str) -> str:
    """Return a field of a work's record as a person would type it; raises Unknown."""
    return field_text(_work_of(record), head, field)


def _work_of(record: Record) -> KeptWork:
    if not isinstance(record.value, KeptWork):
        raise Unknown(Kind.WORK.value, record.id, ())
    return record.value
