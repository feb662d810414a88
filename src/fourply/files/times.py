"""Tables of times: the seeds that are shipped, and a person's own laid over them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from importlib import resources
from pathlib import Path

from fourply.bench.times import ENTRIES, Time, Times
from fourply.errors import BadFile, BadInput
from fourply.files.convertors import SCHEMA, TEXT, Reading
from fourply.files.faults import Fault
from fourply.files.tables import load_bytes
from fourply.files.toml import Located, parse_toml
from fourply.measure.notation import Unit

SPREAD = 0.2
"""How far a time that is given as a bare number may be off: a fifth, since no stopwatch says it (our own)."""
_KEYS = ("seconds", "low", "high")
_SEEDS = "times.toml"
_EXPECTED = "seconds from 0 to 86400, or { seconds = 45, low = 20, high = 90 }"


def seed_times() -> Times:
    """Return the times that are shipped: seeds from common practice that nobody has measured."""
    data = resources.files("fourply.files").joinpath("starter", _SEEDS).read_bytes()
    return read_times(_SEEDS, data, base=None)


def load_times(path: Path | None) -> Times:
    """Return the times of a file laid over the seeds, the seeds where there is none; raises BadFile with every fault.

    The name says how many of the times are the file's own.
    """
    seeds = seed_times()
    return seeds if path is None else read_times(path.name, load_bytes(path), base=seeds)


def read_times(file: str, data: bytes, *, base: Times | None) -> Times:
    """Return the times that a file states, the others those of `base`; raises BadFile with every fault."""
    document = parse_toml(file, data)
    if isinstance(document, Fault):
        raise BadFile(file, str(document), "a table of times")
    located, reading = Located(document), Reading(Unit.MM)
    located.value(("schema",), SCHEMA.parse, reading)
    name = located.value(("name",), TEXT.parse, reading) or file
    located.known((), document.values, ("schema", "name", "times"))
    located.known(("times",), located.table(("times",)), tuple(ENTRIES))
    own = dict(_entries(located, reading))
    if located.faults:
        raise BadFile(file, "; ".join(str(fault) for fault in located.faults), "a table of times")
    if base is None:
        return Times(name, own)
    others = len(ENTRIES) - len(own)
    trust = f"{name}, {others} of {len(ENTRIES)} times from the {base.name}" if others else name
    return Times(trust, dict(base.entries) | own)


def _entries(located: Located, reading: Reading) -> Iterator[tuple[str, Time]]:
    for entry in located.table(("times",)):
        place = ("times", entry)
        found = located.value(place, _parse, reading) if entry in ENTRIES else None
        if found is not None:
            yield entry, found


def _parse(raw: object, _: Reading) -> Time:
    if isinstance(raw, Mapping):
        wrong = [key for key in raw if key not in _KEYS]
        if wrong or "seconds" not in raw:
            raise BadInput(", ".join(wrong) or "no seconds", _EXPECTED)
        numbers = {key: _number(value) for key, value in raw.items()}
    else:
        seconds = _number(raw)
        numbers = {"seconds": seconds, "low": seconds * (1 - SPREAD), "high": min(86_400.0, seconds * (1 + SPREAD))}
    try:
        return Time(numbers["seconds"], numbers.get("low"), numbers.get("high"))
    except ValueError as bad:
        raise BadInput(str(raw)[:80], f"{_EXPECTED}; {bad}") from bad


def _number(raw: object) -> float:
    if isinstance(raw, bool) or not isinstance(raw, int | float | Decimal):
        raise BadInput(str(raw)[:80], _EXPECTED)
    return float(raw)
