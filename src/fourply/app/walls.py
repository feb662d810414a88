"""A show as it hangs: its works in their frames, worked out as far as somebody looks, and remembered.

A wall of a thousand works must open at once, so only those that are looked at are resolved; what a change leaves as it
was is not worked out again. A preview goes by the content of its work: as long as that stays, so does its address.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from threading import Lock

from fourply.app.along import Along, along, progress
from fourply.app.keep import Desk, show_head
from fourply.app.keep_pictures import pictures_of
from fourply.app.keep_shows import parts_of
from fourply.app.picturing import placed
from fourply.app.ports_store import SHOP, Kind, Record
from fourply.app.wording import Wording
from fourply.errors import FourplyError, Unknown
from fourply.files.entries import Entry
from fourply.files.kept import KeptShow, KeptWork
from fourply.files.show import Show, settled
from fourply.measure.notation import Marks
from fourply.render import scene_svg
from fourply.sheets.wall import dots, finished, seen_dots, standing
from fourply.trade.package import Package
from fourply.trade.resolve import resolve_show
from fourply.working.words import Words

_SHOWS = 16
_PREVIEWS = 3000
_PICTURE_DOTS = 480


@dataclass(frozen=True, slots=True)
class Hung:
    """A work on the wall: what it is called, its sizes in words and in dots, how far it is, what is to be looked at.

    `size` is of the finished work; "" where it cannot be made, and `why` says so. `inside` is the number of the work in
    whose mat it hangs. `stamp` changes with whatever its preview shows.
    """

    record: Record
    number: str
    title: str
    maker: str
    sheet: str
    size: str
    width: int
    height: int
    along: Along
    treatment: str
    changes: tuple[str, ...]
    findings: tuple[str, ...]
    why: str
    inside: str
    stamp: str


@dataclass
class _Wall:
    """A show as of an entry of its history and one of the shop's, with what was resolved of it."""

    stamp: tuple[int, int]
    head: KeptShow
    show: Show
    records: tuple[Record, ...]
    entries: dict[str, Entry]
    treatments: tuple[str, ...] = ()
    made: dict[str, Package | str] = field(default_factory=dict)
    ground: str = ""


class Walls:
    """The walls of one store's shows."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._walls: OrderedDict[str, _Wall] = OrderedDict()
        self._previews: OrderedDict[str, bytes] = OrderedDict()
        self._far: dict[str, tuple[int, Mapping[Along, int]]] = {}
        self._opening: dict[str, Lock] = {}

    def works(self, desk: Desk, show: str) -> tuple[Record, ...]:
        """Return every work of a show in the order of its list; raises Unknown."""
        return self._wall(desk, show).records

    def hung(self, desk: Desk, show: str, records: Sequence[Record]) -> tuple[Hung, ...]:
        """Return these works of a show as they hang; raises Unknown."""
        wall = self._wall(desk, show)
        self._make(wall, [each.value.listed.work.id for each in records if isinstance(each.value, KeptWork)])
        return tuple(_hung(wall, each, each.value) for each in records if isinstance(each.value, KeptWork))

    def packages(self, desk: Desk, show: str, numbers: Sequence[str] = ()) -> tuple[Package, ...]:
        """Return the packages of these works, or of all, that can be made; raises Unknown."""
        wall = self._wall(desk, show)
        wanted = numbers or tuple(wall.entries)
        self._make(wall, wanted)
        return tuple(package for each in wanted if isinstance(package := wall.made.get(each), Package))

    def show(self, desk: Desk, show: str) -> Show:
        """Return a show with its works settled; raises Unknown."""
        return self._wall(desk, show).show

    def treatments(self, desk: Desk, show: str) -> tuple[str, ...]:
        """Return the names of the treatments that works of a show may name; raises Unknown."""
        return self._wall(desk, show).treatments

    def progress(self, desk: Desk, show: str, *, only_known: bool = False) -> Mapping[Along, int] | None:
        """Return how many works of a show have come at least so far; None where only what is known is asked for."""
        last = desk.store.undoable(show).last
        known = self._far.get(show)
        if known is not None and known[0] == last:
            return known[1]
        if only_known:
            return None
        found = progress(desk, show, show_head(desk, show).show)
        self._far[show] = (last, found)
        return found

    def preview(self, desk: Desk, record: Record) -> bytes:
        """Return a work in its frame as SVG, on nothing; raises Unknown where it cannot be made."""
        if not isinstance(record.value, KeptWork):
            raise Unknown(Kind.WORK.value, record.id, ())
        wall, number = self._wall(desk, record.scope), record.value.listed.work.id
        self._make(wall, [number])
        package = wall.made.get(number)
        if not isinstance(package, Package):
            raise Unknown("preview of work", number, ())
        key = _stamp(wall, record.value, number)
        with self._lock:
            found = self._previews.get(key)
        return found or self._drawn(desk, record.value, package, key)

    def _drawn(self, desk: Desk, work: KeptWork, package: Package, key: str) -> bytes:
        scene = standing(package)
        try:
            photographs = placed(scene, pictures_of(desk, work), _PICTURE_DOTS)
        except FourplyError:  # a picture too many or gone is told on its own page
            photographs = {}
        drawn = scene_svg.render(scene, photographs)
        with self._lock:
            self._previews[key] = drawn
            while len(self._previews) > _PREVIEWS:
                self._previews.popitem(last=False)
        return drawn

    def _wall(self, desk: Desk, show: str) -> _Wall:
        with self._lock:
            opening = self._opening.setdefault(show, Lock())
        with opening:  # of many who ask at once for what has changed, one reads it
            return self._latest(desk, show)

    def _latest(self, desk: Desk, show: str) -> _Wall:
        stamp = (desk.store.undoable(show).last, desk.store.undoable(SHOP).last)
        with self._lock:
            old = self._walls.get(show)
        if old is not None and old.stamp == stamp:
            return old
        wall = _opened(desk, show, stamp)
        if old is not None:
            _take_over(wall, old)
        with self._lock:
            self._walls[show] = wall
            self._walls.move_to_end(show)
            while len(self._walls) > _SHOWS:
                self._walls.popitem(last=False)
        return wall

    def _make(self, wall: _Wall, numbers: Iterable[str]) -> None:
        """Resolve what is wanted and not yet made, with all of a group where one of it is."""
        missing = {each for each in numbers if each in wall.entries and each not in wall.made}
        groups = {wall.entries[each].treatment.group for each in missing} - {""}
        chosen = [each for each in wall.entries.values() if each.work.id in missing or each.treatment.group in groups]
        packages, failed = resolve_show([(each.work, each.treatment) for each in chosen], wall.show.materials)
        wall.made |= {each.work.id: each for each in packages} | {each.work.id: str(each.error) for each in failed}


def _opened(desk: Desk, show: str, stamp: tuple[int, int]) -> _Wall:
    parts = parts_of(desk, show)
    found = settled(parts)
    records = desk.store.every(Kind.WORK, show)
    entries = {each.work.id: each for each in found.entries}
    ground = sha256(repr(found.materials).encode()).hexdigest()
    named = tuple(each.name.removeprefix("treatment ") for each in parts.rules.named.values())
    return _Wall(stamp, show_head(desk, show).show, found, records, entries, named, ground=ground)


def _take_over(wall: _Wall, old: _Wall) -> None:
    """Take what was made of works of which nothing has changed."""
    if wall.ground != old.ground:
        return
    for number, made in old.made.items():
        now, was = wall.entries.get(number), old.entries.get(number)
        if now is not None and now == was and not now.treatment.group:
            wall.made[number] = made


def _stamp(wall: _Wall, work: KeptWork, number: str) -> str:
    entry = wall.entries.get(number)
    size = made.outer if isinstance(made := wall.made.get(number), Package) else None  # what its group shares
    text = repr((entry and (entry.work, entry.treatment), size, work.pictures, wall.ground))
    return sha256(text.encode()).hexdigest()[:20]


def _hung(wall: _Wall, record: Record, kept: KeptWork) -> Hung:
    work, words = kept.listed.work, Words(metric=wall.show.unit.is_metric, marks=Marks.TYPOGRAPHIC)
    made = wall.made.get(work.id)
    size, stamp, why = "", "", ""
    findings: tuple[str, ...] = ()
    if isinstance(made, Package):
        width, height = seen_dots(made)
        size = words.size(finished(made))
        say = Wording.of(wall.show, (made,)).say
        findings = tuple(say(each.sentence(words.write)) for each in made.findings)
        stamp = _stamp(wall, kept, work.id)
    else:
        width, height = dots(work.art.most.width), dots(work.art.most.height)
        why = "" if kept.listed.inside in wall.entries else made or _why(wall, kept)
    return Hung(
        record,
        work.id,
        work.title,
        work.maker,
        words.size(work.art.most),
        size,
        width,
        height,
        along(kept, wall.head),
        kept.listed.treatment,
        tuple(key.replace("_", " ") for key in kept.listed.own.values),
        findings,
        why,
        kept.listed.inside,
        stamp,
    )


def _why(wall: _Wall, kept: KeptWork) -> str:
    source = kept.listed.work.source
    here = [each for each in wall.show.faults if (each.file, each.row) == (source.file, source.row)]
    named = [each for each in wall.show.faults if kept.listed.work.id in each.found]
    found = next(iter([*named, *here]), None)
    return f"{found.found}: {found.expected}" if found else "it cannot be made as it is"
