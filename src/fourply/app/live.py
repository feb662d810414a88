"""One work of a kept show resolved on the spot, as it is or as it would be; nothing is kept.

What a show is put together from is remembered until something of the show or of the shop changes, so that an answer
comes while a hand still moves.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass, field, replace
from threading import Lock
from types import MappingProxyType

from fourply.app.keep import Desk, read, show_head
from fourply.app.keep_new import CannotMake
from fourply.app.keep_shows import parts_of
from fourply.app.keep_works import typed_work
from fourply.app.ports_store import SHOP, Kind, Record
from fourply.app.shows import Opened, layer_of, resolved
from fourply.bench.cutter import NOMINAL, Cutter
from fourply.errors import Unknown
from fourply.files.convertors import Reading
from fourply.files.entries import Entry
from fourply.files.faults import Fault
from fourply.files.kept import KeptWork
from fourply.files.record import Listed
from fourply.files.show import Parts, Show, settled

_SHOWS = 16
_NEW = "new"


@dataclass(frozen=True, slots=True)
class Change:
    """What is to be otherwise than kept: what was typed of the work, by the keys of a show file; its named treatment.

    `rules` are text as in a show file and lie over all others. `given` None leaves the work as it is. `cutter` is what
    its mats are cut on.
    """

    given: Mapping[str, object] | None = None
    treatment: str | None = None
    rules: Mapping[str, str] = MappingProxyType({})
    cutter: Cutter = NOMINAL


NOTHING = Change()


@dataclass(frozen=True, slots=True)
class Found:
    """A show in which the one work is resolved (with those of its group), and the number of what it hangs in."""

    opened: Opened
    number: str

    @property
    def faults(self) -> tuple[Fault, ...]:
        """Why it cannot be made; none where it can."""
        made = any(package.work.id == self.number for package in self.opened.packages)
        return () if made else self.opened.faults

    def made(self) -> Found:
        """Return it where it can be made; raises CannotMake."""
        if self.faults:
            raise CannotMake(self.faults)
        return self


@dataclass
class _Kept:
    """What a show is put together from, as of an entry of its history and one of the shop's."""

    stamp: tuple[int, int]
    parts: Parts
    _settled: Show | None = field(default=None, repr=False)
    _together: dict[str, list[Listed]] = field(default_factory=dict, repr=False)

    def __post_init__(self) -> None:
        for each in self.parts.works:
            self._together.setdefault(each.inside or each.work.id, []).append(each)

    def near(self, host: str, but: Container[str]) -> list[Listed]:
        """Return the work of a number and those that hang in its mat, but for some."""
        return [each for each in self._together.get(host, ()) if each.work.id not in but]

    def entries(self) -> tuple[Entry, ...]:
        """Return every work with its treatment, settled when it is first asked for."""
        if self._settled is None:
            self._settled = settled(self.parts)
        return self._settled.entries


class Live:
    """Resolves works of one store."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._shows: OrderedDict[str, _Kept] = OrderedDict()
        self._loading: dict[str, Lock] = {}

    def work(self, desk: Desk, work: str, change: Change = NOTHING) -> Found:
        """Return a kept work resolved, as it would be with a change; raises Unknown, BadInput for rules."""
        record = read(desk, work, Kind.WORK)
        if not isinstance(record.value, KeptWork):
            raise Unknown(Kind.WORK.value, work, ())
        return self._found(desk, record.scope, record.value.listed, change)

    def typed(self, desk: Desk, show: str, change: Change) -> Found:
        """Return a work that is not kept, resolved in a show; raises Unknown, BadInput for rules."""
        return self._found(desk, show, None, change)

    def as_listed(self, desk: Desk, show: str, listed: Listed) -> Found:
        """Return a work of a show resolved as it is listed here, whatever is kept of it; raises Unknown."""
        return self._found(desk, show, listed, NOTHING)

    def several(self, desk: Desk, show: str, works: Sequence[Record], cutter: Cutter = NOMINAL) -> Opened:
        """Return these works of a show resolved, and why those that cannot be made cannot; raises Unknown."""
        of = self._kept(desk, show)
        listed = [each.value.listed for each in works if isinstance(each.value, KeptWork)]
        hosts = dict.fromkeys(each.inside or each.work.id for each in listed)
        together = tuple(each for host in hosts for each in of.near(host, ()))
        opened = resolved(_with_groups(settled(replace(of.parts, works=together)), of), {}, cutter)
        return replace(opened, packages=tuple(each for each in opened.packages if each.work.id in hosts))

    def parts(self, desk: Desk, show: str) -> Parts:
        """Return what a show is put together from; raises Unknown."""
        return self._kept(desk, show).parts

    def _found(self, desk: Desk, show: str, kept: Listed | None, change: Change) -> Found:
        parts = (of := self._kept(desk, show)).parts
        listed: Listed | tuple[Fault, ...] | None = kept
        if change.given is not None or kept is None:
            number = kept.work.id if kept else _NEW
            listed = typed_work(show_head(desk, show).show, {"id": number, **(change.given or {})})
        if not isinstance(listed, Listed):
            return Found(Opened(parts.show, (), listed or ()), _NEW)
        listed = _changed(listed, change, parts.show)
        host = listed.inside or listed.work.id
        was = kept.work.id if kept else host
        near = of.near(host, {was, listed.work.id})
        show_now = settled(replace(parts, works=(listed, *near)))
        return Found(resolved(_with_groups(show_now, of), {}, change.cutter), host)

    def _kept(self, desk: Desk, show: str) -> _Kept:
        store = desk.store
        with self._lock:
            loading = self._loading.setdefault(show, Lock())
        with loading:  # of many who ask at once for what has changed, one loads it
            stamp = (store.undoable(show).last, store.undoable(SHOP).last)
            found = self._shows.get(show)
            if found is None or found.stamp != stamp:
                try:
                    found = _Kept(stamp, parts_of(desk, show))
                except Unknown:
                    self._loading.pop(show, None)
                    raise
        with self._lock:
            self._shows[show] = found
            self._shows.move_to_end(show)
            while len(self._shows) > _SHOWS:
                gone, _ = self._shows.popitem(last=False)
                self._loading.pop(gone, None)
        return found


def _changed(listed: Listed, change: Change, show: Show) -> Listed:
    if change.treatment is not None:
        listed = replace(listed, treatment=change.treatment)
    if change.rules:
        layer = layer_of(change.rules, Reading(show.unit, show.order, show.currency))
        listed = replace(listed, own=replace(listed.own, values={**listed.own.values, **layer.values}))
    return listed


def _with_groups(show: Show, kept: _Kept) -> Show:
    """Return a show of some works with the others of their groups, whose size they share."""
    groups = {entry.treatment.group for entry in show.entries} - {""}
    if not groups:
        return show
    here = {entry.work.id for entry in show.entries}
    others = [each for each in kept.entries() if each.treatment.group in groups and each.work.id not in here]
    return replace(show, entries=(*show.entries, *others))
