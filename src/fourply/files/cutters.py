"""Cutters as files: one TOML file for each, read with every fault by its line, written so that it reads back the same.

A person writes most of it by hand; the calibrations are written by the program, which leaves no comment behind, since
it writes the whole file anew.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import MISSING, dataclass, fields
from importlib import resources

from fourply.bench.constants import Calibration
from fourply.bench.profile import Arm, Blade, Cuts, Guide, Head, Position, Profile, Stops
from fourply.errors import BadFile, BadInput
from fourply.files import cutter_keys as keys
from fourply.files.convertors import LENGTH, SCHEMA_VERSION, TEXT, UNIT, Reading
from fourply.files.cutter_keys import Keys
from fourply.files.faults import Fault
from fourply.files.toml import Located, Place, parse_toml
from fourply.files.toml_text import toml_text
from fourply.measure.notation import Unit

_MOST_CALIBRATIONS = 1_000


@dataclass(frozen=True, slots=True)
class CutterRead:
    """The cutter of a file, None where it has faults."""

    profile: Profile | None
    faults: tuple[Fault, ...] = ()


def read_cutter(file: str, data: bytes) -> CutterRead:
    """Return the cutter that a file states, or every fault that keeps it from being one."""
    try:
        document = parse_toml(file, data)
    except BadFile as bad:
        return CutterRead(None, (Fault.of_file(bad),))
    if isinstance(document, Fault):
        return CutterRead(None, (document,))
    located = Located(document)
    if located.value(("schema",), keys.CUTTER_KEYS["schema"].parse, Reading(Unit.MM)) is None:
        if "schema" not in document.values:
            located.fault(("schema",), "", f"schema = {SCHEMA_VERSION}")
        return CutterRead(None, tuple(located.faults))  # what a newer version says cannot be judged
    unit = located.value(("unit",), UNIT.parse, Reading(Unit.MM)) or Unit.MM
    profile = _Reader(located, Reading(unit)).cutter()
    return CutterRead(None if located.faults else profile, tuple(located.faults))


class _Reader:
    """Reads the tables of one file; what cannot be read is None, its fault entered."""

    def __init__(self, located: Located, reading: Reading) -> None:
        self._located = located
        self._reading = reading

    def cutter(self) -> Profile | None:
        values = self._located.document.values
        given: dict[str, object] = {
            "guide": self._part(Guide, ("guide",), keys.GUIDE_KEYS, needed=True),
            "stops": self._part(Stops, ("stops",), keys.STOP_KEYS, needed=True),
            "arm": self._part(Arm, ("arm",), keys.ARM_KEYS),
            "heads": tuple(self._heads()),
            "calibrations": tuple(self._calibrations()),
        }
        if self._located.faults:
            self._located.known((), values, (*keys.CUTTER_KEYS, *keys.CUTTER_TABLES))
            return None
        return self._built(Profile, (), values, keys.CUTTER_KEYS, given)

    def _part[T](self, kind: type[T], place: Place, known: Keys, *, needed: bool = False) -> T | None:
        table = self._located.table(place)
        return self._built(kind, place, table, known, {}) if table or needed else None

    def _heads(self) -> Iterator[Head | None]:
        for name in self._located.table(("heads",)):
            place = ("heads", name)
            table = self._located.table(place)
            blade = self._located.table((*place, "blade"))
            given = {
                "name": name,
                "blade": self._blade((*place, "blade"), blade),
                "cuts": tuple(self._cuts((*place, "cuts"))),
            }
            yield self._built(Head, place, table, keys.HEAD_KEYS, given)

    def _blade(self, place: Place, table: Mapping[str, object]) -> Blade | None:
        positions = tuple(self._positions((*place, "positions")))
        return self._built(Blade, place, table, keys.BLADE_KEYS, {"positions": positions})

    def _positions(self, place: Place) -> Iterator[Position | None]:
        for mark in self._located.table(place):
            extension = self._located.value((*place, mark), LENGTH.parse, self._reading)
            yield (
                None
                if extension is None
                else self._made(Position, (*place, mark), {"mark": mark, "extension": extension})
            )

    def _cuts(self, place: Place) -> Iterator[Cuts | None]:
        for board in self._located.table(place):
            position = self._located.value((*place, board), TEXT.parse, self._reading)
            yield None if position is None else Cuts(board, position)

    def _calibrations(self) -> Iterator[Calibration | None]:
        tables = self._located.tables(("calibrations",))
        if len(tables) > _MOST_CALIBRATIONS:
            self._located.fault(("calibrations",), f"{len(tables)} of them", f"at most {_MOST_CALIBRATIONS}")
            return
        for at, table in enumerate(tables):
            yield self._built(Calibration, ("calibrations", at), table, keys.CALIBRATION_KEYS, {})

    def _built[T](
        self, kind: type[T], place: Place, table: Mapping[str, object], known: Keys, given: Mapping[str, object]
    ) -> T | None:
        """Return the value of a table, `given` holding what its inner tables made."""
        before = len(self._located.faults)
        self._located.known(place, table, (*known, *given))
        values = dict(given)
        for key, convertor in known.items():
            if key in table:
                try:
                    values[key] = convertor.parse(table[key], self._reading)
                except BadInput as bad:
                    self._located.fault((*place, key), bad.found, bad.expected)
        if any(
            value is None or (isinstance(value, tuple) and None in value)
            for key, value in values.items()
            if key != "arm"
        ):
            return None  # an inner table has its own fault
        values.pop("schema", None)
        if len(self._located.faults) > before:
            return None
        return self._made(kind, place, values)

    def _made[T](self, kind: type[T], place: Place, values: Mapping[str, object]) -> T | None:
        missing = [
            each.name
            for each in fields(kind)  # type: ignore[arg-type]
            if each.default is MISSING and each.default_factory is MISSING and each.name not in values
        ]
        if missing:
            self._located.fault(place, ", ".join(values)[:200], f"{', '.join(missing)} too")
            return None
        try:
            return kind(**values)
        except ValueError as bad:
            self._located.fault(place, str(place[-1]) if place else "the cutter", str(bad))
            return None


def write_cutter(profile: Profile) -> bytes:
    """Return the file of a cutter, which reads back as the same cutter."""
    table: dict[str, object] = {"schema": SCHEMA_VERSION, **_printed(profile, keys.CUTTER_KEYS)}
    table["guide"] = _printed(profile.guide, keys.GUIDE_KEYS)
    table["stops"] = _printed(profile.stops, keys.STOP_KEYS)
    if profile.arm is not None:
        table["arm"] = _printed(profile.arm, keys.ARM_KEYS)
    table["heads"] = {head.name: _head(head) for head in profile.heads}
    if profile.calibrations:
        table["calibrations"] = [_printed(each, keys.CALIBRATION_KEYS) for each in profile.calibrations]
    return toml_text(table).encode()


def _head(head: Head) -> dict[str, object]:
    blade = _printed(head.blade, keys.BLADE_KEYS)
    positions = {each.mark: LENGTH.print(each.extension) for each in head.blade.positions}
    cuts = {each.board: each.position for each in head.cuts}
    table = _printed(head, keys.HEAD_KEYS) | {"blade": blade | ({"positions": positions} if positions else {})}
    return table | ({"cuts": cuts} if cuts else {})


def _printed(value: object, known: Keys) -> dict[str, object]:
    given = {key: getattr(value, key) for key in known if key != "schema"}
    return {key: known[key].print(found) for key, found in given.items() if found is not None and found != ()}


def starter_cutters() -> Mapping[str, Profile]:
    """Return the starter cutters by name: plain and unbranded, one for each system of measure."""
    found = {}
    for name in ("cutter-inch.toml", "cutter-metric.toml"):
        read = read_cutter(name, resources.files("fourply.files").joinpath("starter", name).read_bytes())
        if read.profile is None:
            raise BadFile(name, str(read.faults[0]), "a whole starter cutter")
        found[read.profile.name] = read.profile
    return found
