"""A change to the design of one kept work, as a hand makes it: a handle moved, a value typed, a rule said or left.

What a change makes is resolved without being kept as often as is wished; keeping it is one entry of the history.
"""

from __future__ import annotations

import json
import tomllib
from collections import OrderedDict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from threading import Lock
from types import MappingProxyType

from fourply.app.design_handles import Handle, handle_named, moved, typed
from fourply.app.design_parts import PartEdit, with_part
from fourply.app.keep import Desk, read
from fourply.app.live import Found, Live
from fourply.app.ports_store import SHOP, Kind, Put, Query, Record
from fourply.app.wording import Wording
from fourply.errors import BadInput, BadTreatment, Unknown
from fourply.files.convertors import Reading, plain
from fourply.files.kept import KeptWork
from fourply.files.record import Listed
from fourply.files.rules import TREATMENT
from fourply.files.show import Parts
from fourply.measure.length import Length
from fourply.measure.rounding import from_mm
from fourply.trade.materials import Materials
from fourply.trade.package import Package
from fourply.trade.treatment import Layer, settle
from fourply.working.words import Words

_INCH, _MM = Length.inches(1, 16), Length.mm(1)
_KEPT_IN_MIND = 32


@dataclass(frozen=True, slots=True)
class Edit:
    """What is to be otherwise: a named treatment, rules as text, rules given back to the layer below, a part, a handle.

    A handle goes `steps` of its fine step outwards, or `by_mm` to the nearest such step, or to the `text` that was
    typed; `alone` where equal borders are not to follow. It goes from where it was seen, which somebody may have
    changed meanwhile: `seen_mm`, None for where it is.
    """

    treatment: str | None = None
    rules: Mapping[str, object] = MappingProxyType({})
    back: tuple[str, ...] = ()
    part: PartEdit | None = None
    handle: str = ""
    steps: int = 0
    by_mm: float = 0.0
    text: str = ""
    alone: bool = False
    seen_mm: float | None = None


NO_EDIT = Edit()


@dataclass(frozen=True, slots=True)
class Designed:
    """A work as a change makes it: its record as kept, what is listed now, the work resolved, what was done.

    `under` is what would hold without the work's own rules; the handle is the one in hand, as it was before.
    """

    record: Record
    listed: Listed
    found: Found
    parts: Parts
    under: Layer
    done: str = ""
    handle: Handle | None = None

    @property
    def package(self) -> Package | None:
        """The resolved work; None where it cannot be made."""
        return None if self.found.faults else self.found.opened.package(self.found.number)

    @property
    def wording(self) -> Wording:
        """The terms in which the work is told, and what of it was typed."""
        typed = (self.listed.treatment, *named_treatments(self.parts))
        return Wording.of(self.parts.show, self.found.opened.packages, typed)


@dataclass
class Designer:
    """Resolves works of one store as they are changed."""

    live: Live = field(default_factory=Live)
    _lock: Lock = field(default_factory=Lock, repr=False)
    _before: OrderedDict[tuple[object, ...], tuple[Parts, Found]] = field(default_factory=OrderedDict, repr=False)

    def see(self, desk: Desk, work: str, edit: Edit = NO_EDIT) -> Designed:
        """Return a work as a change would make it; nothing is kept. Raises Unknown, BadInput."""
        record = read(desk, work, Kind.WORK)
        if not isinstance(record.value, KeptWork):
            raise Unknown(Kind.WORK.value, work, ())
        parts = self.live.parts(desk, record.scope)
        reading = Reading(parts.show.unit, parts.show.order, parts.show.currency)
        kept = record.value.listed
        listed, done = ruled(kept, edit, reading)
        under = _under(listed, parts)
        if edit.part is not None:
            listed, done = _parted(listed, edit.part, under, parts)
        handle = None
        if edit.handle:
            package = self._package(desk, record, (listed, parts), edit)
            handle = handle_named(package, edit.handle)
            values = _held(package, handle, edit, reading)
            listed = replace(listed, own=replace(listed.own, values={**listed.own.values, **values}))
        found = self.live.as_listed(desk, record.scope, listed)
        designed = Designed(record, listed, found, parts, under, done, handle)
        return replace(designed, done=_said(designed, edit)) if handle else designed

    def of(self, desk: Desk, record: Record, listed: Listed) -> Designed:
        """Return a kept work as it would be if it were listed like this; raises Unknown."""
        parts = self.live.parts(desk, record.scope)
        found = self.live.as_listed(desk, record.scope, listed)
        return Designed(record, listed, found, parts, _under(listed, parts))

    def _package(self, desk: Desk, record: Record, of: tuple[Listed, Parts], edit: Edit) -> Package:
        """Return the work before the handle was moved, remembered while it is and nothing else changes."""
        listed, parts = of
        said = json.dumps([dict(edit.rules), edit.back, edit.treatment], default=str)
        key = (record.id, record.version, said)
        with self._lock:
            kept = self._before.get(key)
        if kept is not None and kept[0] is parts:
            found = kept[1]
        else:
            found = self.live.as_listed(desk, record.scope, listed)
            with self._lock:
                self._before[key] = (parts, found)
                while len(self._before) > _KEPT_IN_MIND:
                    self._before.popitem(last=False)
        if found.faults:
            raise BadInput(found.faults[0].found, found.faults[0].expected)
        return found.opened.package(found.number)

    def keep(self, desk: Desk, work: str, edit: Edit, expected: int) -> Record:
        """Keep what a change makes, from the version that was seen, as one entry of the history.

        Raises BadInput for what cannot be made, Stale with both versions, Unknown.
        """
        designed = self.see(desk, work, edit)
        if designed.found.faults:
            fault = designed.found.faults[0]
            raise BadInput(fault.found, fault.expected)
        record = designed.record
        if not isinstance(record.value, KeptWork):
            raise Unknown(Kind.WORK.value, work, ())
        value = replace(record.value, listed=designed.listed)
        label = f"{value.listed.work.id}: {designed.done or 'nothing'}"
        return desk.commit([Put(record.id, value, expected, record.archived)], record.scope, label).record


def ruled(kept: Listed, edit: Edit, reading: Reading) -> tuple[Listed, str]:
    """Return a work under another treatment, with rules said and given back, and what that is in words."""
    values, done = dict(kept.own.values), []
    if edit.treatment is not None and edit.treatment != kept.treatment:
        kept = replace(kept, treatment=edit.treatment)
        done.append(f"treatment {edit.treatment or 'of the show'}")
    done += [f"{called(key)} as its treatment has it" for key in edit.back if key in values]
    values = {key: value for key, value in values.items() if key not in edit.back}
    for key, raw in edit.rules.items():
        if key not in TREATMENT:
            raise Unknown("rule of a treatment", key, tuple(TREATMENT))
        try:
            values[key] = TREATMENT[key].parse(_raw(raw), reading)
        except BadInput:
            raise
        except (BadTreatment, ValueError) as bad:
            raise BadInput(str(raw)[:200], str(bad)) from bad
        done.append(f"{called(key)} {raw}" if isinstance(raw, str) else called(key))
    return replace(kept, own=replace(kept.own, values=values)), ", ".join(done)


def _parted(listed: Listed, edit: PartEdit, under: Layer, parts: Parts) -> tuple[Listed, str]:
    """Return a work with one part of a rule changed, and what that is in words."""
    reading = Reading(parts.show.unit, parts.show.order, parts.show.currency)
    now = listed.own.values.get(edit.rule, under.values.get(edit.rule))
    value, done = with_part(edit, now, parts.show.materials, reading)
    return replace(listed, own=replace(listed.own, values={**listed.own.values, edit.rule: value})), done


def called(key: str) -> str:
    """Return a rule's key as words."""
    return key.replace("_", " ")


def _raw(raw: object) -> object:
    """Return a table or list of tables that was written as text, else what was given."""
    if not isinstance(raw, str) or raw.lstrip()[:1] not in {"[", "{"}:
        return raw
    try:
        return tomllib.loads(f"it = {raw}")["it"]
    except (tomllib.TOMLDecodeError, KeyError, RecursionError) as bad:
        raise BadInput(raw[:200], 'a list such as [{ distance = "1/2 in" }]') from bad


def _under(listed: Listed, parts: Parts) -> Layer:
    """Return what holds without the work's own rules: every value with the layer that it comes from."""
    rules = parts.rules
    layers = [rules.defaults]
    if (named := rules.named.get(plain(listed.treatment))) is not None:
        layers.append(named)
    treatment = settle(rules.shop, layers)
    name = named.name if named is not None else "show default"
    return Layer(name, {key: getattr(treatment, key) for key in TREATMENT})


def step(parts: Parts) -> Length:
    """Return what one press of an arrow key moves: 1/16 in, or 1 mm."""
    return _MM if parts.show.unit.is_metric else _INCH


def _held(package: Package, handle: Handle, edit: Edit, reading: Reading) -> Mapping[str, object]:
    if edit.text:
        return typed(package, handle, edit.text, reading)
    fine = _MM if reading.unit.is_metric else _INCH
    count = edit.steps + round(from_mm(edit.by_mm).nm / fine.nm)
    apart = Length(0) if edit.seen_mm is None else from_mm(edit.seen_mm) - handle.value
    return moved(package, handle, fine * count + apart, alone=edit.alone)


def _said(designed: Designed, edit: Edit) -> str:
    """Return what was done in words, the handle's value before and after."""
    handle, package = designed.handle, designed.package
    if handle is None or package is None:
        return designed.done
    words = Words(metric=designed.parts.show.unit.is_metric)
    try:
        now = words.write(handle_named(package, edit.handle).value)
    except Unknown:
        now = "nothing"
    said = f"{handle.says[:1].lower()}{handle.says[1:]} {words.write(handle.value)} to {now}"
    return f"{designed.done}, {said}" if designed.done else said


def neighbours(desk: Desk, record: Record) -> tuple[str, str]:
    """Return the ids of the works before and after one in its show's list, "" where there is none."""
    every = [each.id for each in desk.store.every(Kind.WORK, record.scope) if _is_designed(each)]
    at = every.index(record.id) if record.id in every else -1
    before = every[at - 1] if at > 0 else ""
    return before, every[at + 1] if 0 <= at < len(every) - 1 else ""


def host_of(desk: Desk, record: Record) -> str:
    """Return the id of the work in whose mat one hangs; its own where it hangs by itself."""
    inside = record.value.listed.inside if isinstance(record.value, KeptWork) else ""
    for each in desk.store.every(Kind.WORK, record.scope) if inside else ():
        if isinstance(each.value, KeptWork) and each.value.listed.work.id == inside:
            return each.id
    return record.id


def pictures_in(desk: Desk, record: Record) -> list[str]:
    """Return the ids of the pictures of a work's sheets in the order of the openings, "" for none."""
    hashes = record.value.pictures if isinstance(record.value, KeptWork) else ()
    found = (desk.store.find(Query(Kind.PICTURE, SHOP, name=each)).items if each else () for each in hashes)
    return [next((each.id for each in items), "") for items in found]


def _is_designed(record: Record) -> bool:
    return isinstance(record.value, KeptWork) and not record.value.listed.inside


def named_treatments(parts: Parts) -> Sequence[str]:
    """Return the names of the treatments that a work of a show may take."""
    return [layer.name.removeprefix("treatment ") for layer in parts.rules.named.values()]


def choices(materials: Materials) -> Mapping[str, Sequence[tuple[str, str]]]:
    """Return what can be chosen for each rule that names a material: names, each with its colour where it has one."""
    boards = [(each.name, each.colour) for each in materials.boards.values()]
    plain_of = {
        "backing": materials.backings,
        "glazing": materials.glazings,
        "spacer": materials.spacers,
        "frame": materials.frames,
    }
    mouldings = [(each.name, each.colour) for each in materials.mouldings.values()]
    return {
        "board": boards,
        "mount": boards,
        "moulding": mouldings,
        "moulding_sides": mouldings,
        "fillet": [(each.name, each.colour) for each in materials.fillets.values()],
    } | {key: [(name, "") for name in named] for key, named in plain_of.items()}
