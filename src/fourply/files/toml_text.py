"""Values to TOML that the reader gives back unchanged: the other half of `toml`, for the files that fourply writes."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\r": "\\r", "\t": "\\t"}

type Table = Mapping[str, object]


def toml_text(values: Table) -> str:
    """Return a table as TOML: plain keys first, tables and repeated tables under their headings.

    >>> print(toml_text({"name": "a", "guide": {"step": "1 mm"}}), end="")
    name = "a"
    <BLANKLINE>
    [guide]
    step = "1 mm"
    """
    return "\n".join(_lines((), values)).lstrip("\n") + "\n"


def _lines(place: tuple[str, ...], table: Table) -> Iterator[str]:
    tables = {key: value for key, value in table.items() if _is_table(value) or _is_tables(value)}
    for key, value in table.items():
        if key not in tables:
            yield f"{_key(key)} = {_value(value)}"
    for key, value in tables.items():
        inner = (*place, key)
        heading = ".".join(_key(part) for part in inner)
        for each in [value] if _is_table(value) else value:  # type: ignore[attr-defined]
            yield ""
            yield f"[{heading}]" if _is_table(value) else f"[[{heading}]]"
            yield from _lines(inner, each)


def _is_table(value: object) -> bool:
    return isinstance(value, Mapping)


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(_is_table(each) for each in value)


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else _text(key)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, Sequence) and not isinstance(value, str):
        return f"[{', '.join(_value(each) for each in value)}]"
    return _text(str(value))


def _text(text: str) -> str:
    return f'"{"".join(_sign(sign) for sign in text)}"'


def _sign(sign: str) -> str:
    if sign in _ESCAPES:
        return _ESCAPES[sign]
    return sign if sign.isprintable() else f"\\U{ord(sign):08X}"
