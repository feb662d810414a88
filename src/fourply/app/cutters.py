"""The cutters of a shop: found in its folder, set for a border, explained."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from fourply.app.why import Answer, answers
from fourply.app.writing import file_name, write_file
from fourply.bench.calibration import drifts
from fourply.bench.cutter import NOMINAL, Cutter
from fourply.bench.profile import Profile, Scale
from fourply.bench.reach import Border, OutOfReach, Place, Remedy, Setting, Way, set_for
from fourply.bench.shop_cutter import shop_cutter
from fourply.errors import BadFile, BadInput, BadLength, Unknown
from fourply.files.convertors import plain
from fourply.files.cutters import read_cutter, starter_cutters, write_cutter
from fourply.files.faults import Fault
from fourply.files.tables import load_bytes
from fourply.measure.length import ZERO, Length
from fourply.measure.notation import parse_length
from fourply.working.words import Words

__all__ = ["Place", "Shop", "Told", "keep_cutter", "open_shop", "set_border", "summary"]


@dataclass(frozen=True, slots=True)
class Shop:
    """The cutters of a shop by name; `own` are the files of those that are its own, the others are to start from."""

    folder: Path
    cutters: Mapping[str, Profile]
    own: Mapping[str, Path]
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


def open_shop(data: Path) -> Shop:
    """Return the cutters in the folder `cutters` of a shop's data, and those to start from under other names."""
    folder = data / "cutters"
    own: dict[str, Path] = {}
    found: dict[str, Profile] = {}
    faults: list[Fault] = []
    for path in sorted(folder.glob("*.toml")):
        read = read_cutter(path.name, load_bytes(path))
        faults += read.faults
        if read.profile is not None and plain(read.profile.name) in map(plain, found):
            faults.append(Fault(path.name, 0, "name", read.profile.name, "a name that no other cutter has"))
        elif read.profile is not None:
            found[read.profile.name], own[read.profile.name] = read.profile, path
    start = {name: each for name, each in starter_cutters().items() if plain(name) not in map(plain, found)}
    return Shop(folder, found | start, own, tuple(faults))


def keep_cutter(shop: Shop, profile: Profile) -> Path:
    """Write the file of a cutter, the one that it came from or a new one; raises OSError."""
    path = shop.own.get(profile.name) or _new_file(shop.folder, file_name(profile.name))
    path.parent.mkdir(parents=True, exist_ok=True)
    return write_file(path, write_cutter(profile))


def _new_file(folder: Path, name: str) -> Path:
    """Return the place of a file that is not there yet: another cutter may have taken the name."""
    numbered = (folder / f"{name}{f'-{number}' if number > 1 else ''}.toml" for number in count(1))
    return next(path for path in numbered if not path.exists())


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
