"""The cutters of a shop: kept as records, brought in and given out as files, set for a border, explained."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from fourply.app.keep import Desk, new_id, read
from fourply.app.ports_store import SHOP, Kind, Put, Record
from fourply.app.why import Answer, answers
from fourply.app.writing import write_file
from fourply.bench.calibration import drifts
from fourply.bench.cutter import NOMINAL, Cutter
from fourply.bench.profile import Profile, Scale
from fourply.bench.reach import Border, OutOfReach, Place, Remedy, Setting, Way, set_for
from fourply.bench.shop_cutter import shop_cutter
from fourply.errors import BadFile, BadInput, BadLength, Unknown
from fourply.files.convertors import plain
from fourply.files.cutters import CutterRead, read_cutter, starter_cutters, write_cutter
from fourply.files.faults import Fault
from fourply.files.tables import load_bytes
from fourply.measure.length import ZERO, Length
from fourply.measure.notation import parse_length
from fourply.working.words import Words

__all__ = ["Place", "Shop", "Told", "keep_cutter", "kept_shop", "set_border", "summary", "take_over"]


@dataclass(frozen=True, slots=True)
class Shop:
    """The cutters of a shop by name; `own` are the records of those that are its own, the others are to start from.

    `faults` are of files that lie there and may hold one of its own too.
    """

    cutters: Mapping[str, Profile] = field(default_factory=starter_cutters)
    own: Mapping[str, Record] = field(default_factory=dict)
    faults: tuple[Fault, ...] = ()

    def cutter(self, name: str) -> Profile:
        """Return the cutter of a name, whatever its case; raises Unknown.

        Raises BadFile where a file could not be read that may hold this cutter.
        """
        for profile in self.cutters.values():
            if plain(profile.name) == plain(name) and (profile.name in self.own or not self.faults):
                return profile
        if self.faults:
            raise BadFile(self.faults[0].file, str(self.faults[0]), "every cutter of the shop readable")
        raise Unknown("cutter", name, tuple(self.cutters))

    def on(self, name: str | None) -> Cutter:
        """Return the cutter of a name as settings see it, with the others of the shop; a nominal one for no name.

        Raises as `cutter` does, and BadInput for one that cuts no bevels.
        """
        if name is None:
            return NOMINAL
        profile = self.cutter(name)
        try:
            return shop_cutter(profile, tuple(self.cutters[each] for each in self.own))
        except ValueError as bad:
            raise BadInput(name, f"a cutter with a bevel head ({bad})") from bad


def kept_shop(desk: Desk, faults: tuple[Fault, ...] = ()) -> Shop:
    """Return the cutters that are kept, and those to start from under other names."""
    own, found = {}, {}
    for record in desk.store.every(Kind.CUTTER, SHOP):
        if isinstance(record.value, Profile):
            own[record.value.name], found[record.value.name] = record, record.value
    taken = {plain(name) for name in found}
    start = {name: each for name, each in starter_cutters().items() if plain(name) not in taken}
    return Shop(found | start, own, faults)


def kept_cutter(desk: Desk, cutter: str | None) -> Cutter:
    """Return a kept cutter as settings ask it, by its id; the nominal one where none is named. Raises Unknown."""
    return NOMINAL if cutter is None else kept_shop(desk).on(_profile(desk, cutter).name)


def _profile(desk: Desk, cutter: str) -> Profile:
    found = read(desk, cutter, Kind.CUTTER).value
    if not isinstance(found, Profile):
        raise Unknown(Kind.CUTTER.value, cutter, ())
    return found


def keep_cutter(desk: Desk, profile: Profile, was: Record | None) -> Record:
    """Keep a cutter in place of the record that it was made from, or as a new one; raises Stale, Taken."""
    if was is None:
        return desk.commit([Put(new_id(), profile)], SHOP, f"new cutter {profile.name}").record
    put = Put(was.id, profile, was.version, was.archived)
    return desk.commit([put], SHOP, f"cutter {profile.name}").record


def bring_cutter(desk: Desk, file: Path) -> tuple[Record | None, tuple[Fault, ...]]:
    """Keep the cutter of a file in place of the one of its name, or as a new one; None where it has faults.

    Raises BadFile for a file that cannot be read, Stale.
    """
    found = read_cutter(file.name, load_bytes(file))
    if found.profile is None or found.faults:
        return None, found.faults
    return keep_cutter(desk, found.profile, _of_name(kept_shop(desk), found.profile.name)), ()


def _of_name(shop: Shop, name: str) -> Record | None:
    return next((record for own, record in shop.own.items() if plain(own) == plain(name)), None)


def give_cutter(profile: Profile, file: Path) -> Path:
    """Write a cutter as a file that `bring_cutter` reads; raises OSError."""
    return write_file(file, write_cutter(profile))


@dataclass(frozen=True, slots=True)
class TakenOver:
    """The names of cutters that were taken over from files, and why others were not."""

    names: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()


def take_over(desk: Desk, folder: Path) -> TakenOver:
    """Keep the cutters that lie in a folder as files, each once: a file that is taken is renamed and stays.

    A file with faults, or whose name another cutter has, is left and told.
    """
    kept = {plain(name) for name in kept_shop(desk).own}
    taken: dict[Path, Profile] = {}
    faults: list[Fault] = []
    for path, read_one in _files(folder):
        faults += read_one.faults
        if read_one.profile is None:
            continue
        if (name := plain(read_one.profile.name)) in kept:
            faults.append(Fault(path.name, 0, "name", read_one.profile.name, "a name that no other cutter has"))
            continue
        kept.add(name)
        taken[path] = read_one.profile
    if taken:
        puts = [Put(new_id(), profile) for profile in taken.values()]
        desk.commit(puts, SHOP, f"take over {len(puts)} cutters from files" if len(puts) > 1 else "take over a cutter")
    for path in taken:
        path.rename(path.with_name(f"{path.name}.taken"))
    return TakenOver(tuple(profile.name for profile in taken.values()), tuple(faults))


def _files(folder: Path) -> Iterator[tuple[Path, CutterRead]]:
    for path in sorted(folder.glob("*.toml")):
        yield path, read_cutter(path.name, load_bytes(path))


def summary(shop: Shop, profile: Profile) -> tuple[str, ...]:
    """Return what there is to know of a cutter, a line each: what it reaches, when it was tested, what has moved."""
    return tuple(_summary(shop, profile, Words(metric=profile.unit.is_metric)))


def _summary(shop: Shop, profile: Profile, words: Words) -> Iterator[str]:
    guide, write = profile.guide, words.with_unit
    if guide.scale is Scale.PINNED:
        reach = "borders pinned at " + ", ".join(words.write(pin) for pin in guide.pinned)
    else:
        reach = f"borders {words.write(guide.least)} to {write(guide.greatest)} by {words.write(guide.step)}"
    yield f"{reach}, {guide.side.value}-hand guide, bar {write(profile.bar)}, board to {write(profile.deepest)}"
    lives = [(head.blade.name, head.blade.life) for head in profile.heads]
    worn = [f"{name} after {life.as_mm / 1000:g} m of cut" for name, life in lives if life is not None]
    if worn:
        yield f"change the {', the '.join(worn)}"
    if profile.name not in shop.own:
        yield "to start from; it becomes the shop's own when a calibration is accepted"
    found = profile.calibration
    if found is None:
        yield f"no test cut on file: ./run calibrate '{profile.name}'"
        return
    dates = ", ".join(each.date for each in profile.calibrations[:-1])
    yield f"calibrated {found.date} from {found.readings} readings" + (f", before that {dates}" if dates else "")
    moved = [drift.name.value.replace("_", " ") for drift in drifts(profile) if drift.beyond]
    if moved:
        yield f"moved since the calibration before by more than its error: {', '.join(moved)}"


# ── what to set ──────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Told:
    """What to set for a border, in sentences, with the working of the first; `reached` where the guide shows it."""

    sentences: tuple[str, ...]
    working: tuple[Answer, ...]
    reached: bool


def set_border(shop: Shop, profile: Profile, border: str, place: Place, length: str) -> Told:
    """Return what to set for a border as it is written, at a place of a cut of some length; raises BadLength."""
    words = Words(metric=profile.unit.is_metric)
    wanted = Border(
        _positive(border, profile), place, ZERO if not length.strip() else parse_length(length, profile.unit)
    )
    found = set_for(profile, wanted, tuple(shop.cutters[name] for name in shop.own))
    if isinstance(found, OutOfReach):
        first = found.ways[0].setting
        said = f"{words.with_unit(found.wanted)} cannot be set on {profile.name}."
        return Told((said, *_ways(found.ways, words)), answers(first.figures, "guide.reading", words), reached=False)
    return Told((_said(found, words),), answers(found.figures, "guide.reading", words), reached=True)


def _positive(text: str, profile: Profile) -> Length:
    length = parse_length(text, profile.unit)
    if length <= ZERO:
        raise BadLength(text, "a border is above nothing")
    return length


def _said(setting: Setting, words: Words) -> str:
    off = f"off by {words.write(setting.left)}" if setting.left else "nothing off"
    strip = f", with a strip of {words.write(setting.strip)}," if setting.strip else ""
    return (
        f"set {words.write(setting.reading)}{strip} to get {words.write(setting.wanted)} "
        f"({off}, within {words.write(setting.spread)} 95 times in 100)"
    )


def _ways(ways: Sequence[Way], words: Words) -> Iterator[str]:
    for way in ways:
        if way.remedy is Remedy.NEAREST:
            more = f": the border is {_more(way.setting.left, words)}, the opening {_more(way.opening, words)}"
            yield f"{way.remedy.value}: set {words.write(way.setting.reading)}{more}"
        else:
            on = f" ({way.cutter})" if way.remedy is Remedy.OTHER else ""
            yield f"{way.remedy.value}{on}: {_said(way.setting, words)}"


def _more(change: Length, words: Words) -> str:
    return f"{words.with_unit(abs(change))} {'wider' if change > ZERO else 'narrower'}"


def set_kept(desk: Desk, cutter: str, border: str, place: str, length: str) -> Told:
    """Return what to set on a kept cutter for a border as it is written, at `mid`, `far` or `near` of a cut.

    Raises BadLength, Unknown.
    """
    return set_border(kept_shop(desk), _profile(desk, cutter), border, Place[place.upper()], length)
