"""A person's own list of materials out of a spreadsheet.

One row a sheet size or stick length: rows of the same kind and name are one material with several. The columns are
the keys of the materials file, under the headers that people use for them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, fields, replace
from types import MappingProxyType

from fourply.errors import BadFile, BadInput
from fourply.files.convertors import LENGTH, SIZE, Reading, plain
from fourply.files.faults import Fault
from fourply.files.headers import Column, Headed, by_alias, find_header
from fourply.files.kinds import CHOP_KEYS, KINDS, OFFER_KEYS, RACK_KEYS, STICK_KEYS, build
from fourply.files.tables import read_table
from fourply.trade.materials import Materials, Offcut

_HEADERS: Mapping[str, str] = MappingProxyType(
    by_alias(
        {
            "kind": "kind|type|category|what",
            "name": "name|material|description|item",
            "thickness": "thickness|caliper",
            "size": "size|sheet|sheet size|dimensions",
            "length": "length|stick|stick length",
            "cost": "cost|price|price each|cost each",
            "copies": "copies|in stock|stock|quantity|qty",
            "ply": "ply",
            "colour": "colour|color",
            "core": "core|core colour|core color",
            "measured": "measured",
            "oriented": "oriented|direction|directional|grain",
            "width": "width|face|face width",
            "lip": "lip|rabbet lip|rebate lip|rabbet width",
            "rabbet_depth": "rabbet depth|rebate depth|rabbet|rebate",
            "height": "height|moulding height",
            "kerf": "kerf|saw kerf",
            "depth": "depth",
            "shown": "shown|visible",
            "moulding": "moulding|molding",
            "place": "place|location|rack place",
            "per_frame": "per frame",
            "rate": "chop|chop price|chop rate|chop per|chop price per",
            "charge": "chop charge|chop fee|charge per chop",
            "least": "least chop|least chop charge|minimum chop|minimum chop charge|chop minimum",
            "mitres": "chop mitres|mitre allowance|miter allowance",
            "step": "chop step|chop billed in steps of",
            "join": "join|join charge|joining|joining charge|join price",
        }
    )
)
_KIND_WORDS: Mapping[str, str] = MappingProxyType(
    by_alias(
        {
            "boards": "board|boards|mat board|matboard|mount board|mountboard",
            "mouldings": "moulding|mouldings|molding|moldings",
            "glazings": "glass|acrylic",
            "backings": "backing|backings|backing board",
            "spacers": "spacer|spacers",
            "fillets": "fillet|fillets|slip",
            "frames": "frame|frames|ready made frame",
            "hardware": "hardware",
            "rack": "offcut|offcuts|rack",
        }
    )
)
_EXPECTED_KINDS = "one of board, moulding, glass, acrylic, backing, spacer, fillet, frame, hardware, offcut"
_NONE = Materials()
_BY_TABLE = MappingProxyType({kind.table: kind for kind in KINDS})
_OWN_NAMES = MappingProxyType({("boards", "thickness"): "caliper"})


_MEASURES = frozenset(key for kind in KINDS for key, convertor in kind.keys.items() if convertor in (LENGTH, SIZE)) | {
    "size",
    "length",
    "thickness",
    "mitres",
    "step",
}


def read_stock_list(
    file: str, data: bytes, reading: Reading, *, base: Materials, known: Materials = _NONE
) -> tuple[Materials, tuple[Fault, ...], tuple[str, ...]]:
    """Return the materials of a CSV or XLSX list laid over `base`, the faults of the others, and notes.

    What has to be known of a material and no row says is as `known` has it under the same name: a list of prices need
    not repeat measures.
    """
    try:
        headed = find_header(read_table(file, data), _HEADERS)
    except BadFile as bad:
        return base, (Fault.of_file(bad),), ()
    except BadInput as bad:
        return base, (Fault(file, 0, "", bad.found, "a row of headers such as kind, name, size, cost"),), ()
    notes = headed.notes + ((f"{file}: left out: {', '.join(headed.unknown)}",) if headed.unknown else ())
    faults = [_lacking(headed)] if not {"kind", "name"} <= {column.key for column in headed.columns} else []
    entries = [] if faults else list(_entries(headed, reading, faults))
    tables: dict[str, dict[str, object]] = {kind.table: dict(getattr(base, kind.table)) for kind in KINDS}
    rack = [*_built(headed, [_known_too(each, known) for each in entries], reading, tables, faults)]
    materials = Materials(rack=tuple(rack), cutting=base.cutting, **tables)  # type: ignore[arg-type]
    return materials, tuple(faults), notes


def _lacking(headed: Headed) -> Fault:
    found = ", ".join(column.header for column in headed.columns if column.header)[:200]
    return Fault(headed.file, headed.header_row, "", found, "columns kind and name among the headers")


type _Entry = tuple[int, str, str, dict[str, object]]
"""The row, the table, the name, and what is said of a material by key."""


def _known_too(entry: _Entry, known: Materials) -> _Entry:
    """Return an entry with what has to be known of its material, and it does not say, from the one of that name."""
    row, table, name, given = entry
    named = {} if table == "rack" else getattr(known, table)
    item = next((each for each in named.values() if plain(each.name) == plain(name)), None)
    if item is None:
        return entry
    needed = [each.name for each in fields(item) if each.default is MISSING and each.name in _BY_TABLE[table].keys]
    printed = {key: _BY_TABLE[table].keys[key].print(getattr(item, key)) for key in needed if not given.get(key)}
    return row, table, name, given | printed


def _entries(headed: Headed, reading: Reading, faults: list[Fault]) -> Iterator[_Entry]:
    """Yield one entry a material, rows of the same kind and name together; a piece in the rack stands alone."""
    merged: dict[tuple[str, str], _Entry] = {}
    for row in headed.rows:
        cells = {column.key: (column, row.cell(at)) for at, column in enumerate(headed.columns) if row.cell(at)}
        try:
            table, given = _given(cells, reading)
        except BadInput as bad:
            faults.append(Fault(headed.file, row.number, _column_of(cells, bad), bad.found, bad.expected))
            continue
        name = cells["name"][1] if "name" in cells else ""
        if table == "rack":
            yield row.number, table, name, given
        elif (table, name) in merged:
            _merge(merged[table, name][3], given)
        else:
            merged[table, name] = (row.number, table, name, given)
    yield from merged.values()


def _column_of(cells: Mapping[str, tuple[Column, str]], bad: BadInput) -> str:
    return next((column.header for column, text in cells.values() if text == bad.found), "")


def _given(cells: Mapping[str, tuple[Column, str]], reading: Reading) -> tuple[str, dict[str, object]]:
    """Return the table that a row belongs to and its values by the keys of that table."""
    word = cells["kind"][1] if "kind" in cells else ""
    table = _KIND_WORDS.get(plain(word))
    if table is None:
        raise BadInput(word, "one of board, moulding, glass, acrylic, backing, spacer, fillet, frame, hardware, offcut")
    if "name" not in cells:
        raise BadInput("", "the name of the material")
    given = {
        _OWN_NAMES.get((table, key), key): _in_own_unit(key, column, text, reading)
        for key, (column, text) in cells.items()
        if key and key not in {"kind", "name"}
    }
    if table == "glazings":
        given["kind"] = plain(word)
    if table == "rack":
        given["material"] = cells["name"][1]
        return table, {key: value for key, value in given.items() if key in RACK_KEYS}
    return table, _with_offers(table, given)


def _in_own_unit(key: str, column: Column, text: str, reading: Reading) -> object:
    """Return a cell whose header names a unit or an order as text that carries them itself."""
    own = replace(reading, unit=column.unit or reading.unit, order=column.order or reading.order)
    if key == "rate" and column.unit and not re.search(r"per|/", text):
        return f"{text} per {column.unit.value}"
    if own == reading or key not in _MEASURES:
        return text
    return SIZE.print(SIZE.parse(text, own)) if key == "size" else LENGTH.print(LENGTH.parse(text, own))


def _with_offers(table: str, given: Mapping[str, object]) -> dict[str, object]:
    """Return the values with sheet or stick, cost and number gathered as the one offer that a row is."""
    keys = _BY_TABLE[table].keys
    values = {key: value for key, value in given.items() if key in keys}
    for name, offer_keys in (("sheets", OFFER_KEYS), ("sticks", STICK_KEYS)):
        if name in keys:
            offer = {key: value for key, value in given.items() if key in offer_keys and key not in keys}
            sized = {"size", "length"} & offer.keys()
            if offer and not sized:
                raise BadInput("", f"the {next(iter(offer_keys))} that this is the price of")
            values[name] = [offer] if sized else []
    chop = {key: value for key, value in given.items() if key in CHOP_KEYS}
    if "chop" in keys and chop:
        values["chop"] = chop
    return values


def _merge(first: dict[str, object], later: Mapping[str, object]) -> None:
    for key, value in later.items():
        have = first.get(key)
        if isinstance(have, list) and isinstance(value, list):
            first[key] = [*have, *value]
        else:
            first.setdefault(key, value)


def _built(
    headed: Headed, entries: list[_Entry], reading: Reading, tables: dict[str, dict[str, object]], faults: list[Fault]
) -> Iterator[Offcut]:
    """Enter every material in its table, and yield the pieces of the rack."""
    for row, table, name, given in entries:
        try:
            if table == "rack":
                yield build(Offcut, RACK_KEYS, given, reading)
            else:
                kind = _BY_TABLE[table]
                tables[table][name] = build(kind.value, kind.keys, given, reading, name=name)
        except BadInput as bad:
            faults.append(Fault(headed.file, row, name, bad.found, bad.expected))
