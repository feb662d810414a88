"""Materials as files: what a shop can use.

A person's own file is laid over the starter set that is shipped: same names replace, others are added.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from importlib import resources
from pathlib import PurePath

from fourply.errors import BadFile, BadInput
from fourply.files.convertors import CURRENCY, ORDER, SCHEMA, UNIT, Reading
from fourply.files.faults import Fault
from fourply.files.kinds import CUTTING_KEYS, KINDS, RACK_KEYS, SETTINGS, Kind, build
from fourply.files.stocklist import read_stock_list
from fourply.files.toml import Located, Place, parse_toml
from fourply.measure.notation import Unit
from fourply.trade.materials import CuttingRules, Materials, Offcut


@dataclass(frozen=True, slots=True)
class MaterialsRead:
    """The materials that could be read, the faults of the others, and what a person should know of both."""

    materials: Materials
    faults: tuple[Fault, ...] = ()
    notes: tuple[str, ...] = ()


def read_materials(
    file: str, data: bytes, reading: Reading, *, base: Materials, known: Materials | None = None
) -> MaterialsRead:
    """Return the materials of a file, TOML or a list, over `base`; `reading` holds where it states nothing else.

    A name that the file gives replaces that of the base, others are added; the rack is the file's own alone.
    What a list leaves out that has to be known is as `known` has it under the same name.
    """
    if PurePath(file).suffix.lower() != ".toml":
        return MaterialsRead(*read_stock_list(file, data, reading, base=base, known=known or Materials()))
    try:
        document = parse_toml(file, data)
    except BadFile as bad:
        return MaterialsRead(base, (Fault.of_file(bad),))
    if isinstance(document, Fault):
        return MaterialsRead(base, (document,))
    located = Located(document)
    located.known((), document.values, SETTINGS)
    located.value(("schema",), SCHEMA.parse, reading)
    reading = Reading(
        located.value(("unit",), UNIT.parse, reading) or reading.unit,
        located.value(("order",), ORDER.parse, reading) or reading.order,
        located.value(("currency",), CURRENCY.parse, reading) or reading.currency,
    )
    tables = {kind.table: {**getattr(base, kind.table), **dict(_kind(located, kind, reading))} for kind in KINDS}
    rack = tuple(_rack(located, reading))
    materials = Materials(rack=rack, cutting=_cutting(located, reading, base), **tables)
    return MaterialsRead(materials, tuple(located.faults))


def _cutting(located: Located, reading: Reading, base: Materials) -> CuttingRules:
    given = located.table(("cutting",))
    located.known(("cutting",), given, tuple(CUTTING_KEYS))
    values = {
        key: located.value(("cutting", key), CUTTING_KEYS[key].parse, reading) for key in given if key in CUTTING_KEYS
    }
    known = {key: value for key, value in values.items() if value is not None}
    return replace(base.cutting, **known)  # type: ignore[arg-type]


def _kind(located: Located, kind: Kind, reading: Reading) -> Iterator[tuple[str, object]]:
    for name, raw in located.table((kind.table,)).items():
        built = _built(located, (kind.table, name), kind, raw, reading)
        if built is not None:
            yield name, built


def _built(located: Located, place: Place, kind: Kind, raw: object, reading: Reading) -> object | None:
    if not isinstance(raw, dict):
        located.fault(place, str(raw)[:200], f"a table with {', '.join(kind.keys)}")
        return None
    try:
        return build(kind.value, kind.keys, raw, reading, name=place[-1])
    except BadInput as bad:
        located.fault(place, bad.found, bad.expected)
        return None


def _rack(located: Located, reading: Reading) -> Iterator[Offcut]:
    rack = Kind("rack", Offcut, RACK_KEYS)
    for at, raw in enumerate(located.tables(("rack",))):
        try:
            yield build(rack.value, rack.keys, raw, reading)
        except BadInput as bad:
            located.fault(("rack", at), bad.found, bad.expected)


def starter(*, metric: bool) -> Materials:
    """Return the starter set of materials: plain, unbranded, at round prices that a shop puts right."""
    name = "metric.toml" if metric else "inch.toml"
    data = resources.files("fourply.files").joinpath("starter", name).read_bytes()
    unit = Unit.MM if metric else Unit.INCH
    read = read_materials(name, data, Reading(unit), base=Materials())
    if read.faults:
        raise BadFile(name, str(read.faults[0]), "a whole starter set")
    return read.materials
