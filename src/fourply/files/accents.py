"""What is done to a mat beside its window, and how several windows lie, as show files and lists write it.

Each kind has a short text that a cell of a list can hold, and a table with everything that can be said of it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from fourply.errors import BadInput
from fourply.files.convertors import (
    FLAG,
    LENGTH,
    SIZE,
    TEXT,
    WHOLE,
    Convertor,
    Reading,
    measured,
    members,
    one_of,
    parse_length_in,
    parse_signed,
    plain,
    print_length,
    print_signed,
    print_size,
    words,
)
from fourply.files.shapes import SHAPE
from fourply.measure.length import Length
from fourply.trade.accents import (
    Align,
    Arrange,
    Gaps,
    GrooveRule,
    InlayRule,
    LayoutRule,
    LineRule,
    Round,
    SinkRule,
    TitleRule,
)

PEN = Length.mm(1, 2)
"""The width of a ruled line whose pen nobody names (common practice)."""

_INK = LineRule(PEN, PEN).colour
_MOST = 20
_NONE = frozenset({"", "none", "0", "-", "no"})


def _is_none(raw: object) -> bool:
    return isinstance(raw, str | int) and not isinstance(raw, bool) and plain(str(raw)[:9]) in _NONE


def _made[T](kind: Callable[..., T], found: object, *values: object, **named: object) -> T:
    """Return a rule, its own complaint said as what would be right."""
    try:
        return kind(*values, **named)
    except BadInput:
        raise
    except ValueError as bad:
        raise BadInput(str(found)[:200], str(bad)) from bad


def _table(raw: object, needed: Sequence[str], more: Sequence[str], example: str) -> Mapping[str, object]:
    """Return a table that has all keys that are needed and none but those; raises BadInput with an example."""
    if not isinstance(raw, dict) or not set(needed) <= set(raw) <= {*needed, *more}:
        found = ", ".join(str(key) for key in raw) if isinstance(raw, dict) else str(raw)
        raise BadInput(found[:200], f"write {example}")
    return raw


def _listed(raw: object) -> Sequence[object]:
    """Return the items of a list, or the parts of a text between its plus signs; none for `none`."""
    if _is_none(raw):
        return ()
    items: Sequence[object] = raw if isinstance(raw, list) else re.split(r"\s*\+\s*", measured(raw))
    if len(items) > _MOST:
        raise BadInput(f"{len(items)} of them", f"at most {_MOST}")
    return items


# ── grooves and lines ────────────────────────────────────────────────────────────────────────────────────────────

_ROUND = one_of(Round)
_GROOVE = '1/2 in + 3/4 in, or tables: { distance = "1/2 in", shave = "-1/64 in", shape = "oval", round = "all" }'
_LINE = '1/4 in + 3/8 in, or tables: { distance = "1/4 in", width = "1/4 in", colour = "#c9b68a", wash = true }'


def _parse_grooves(raw: object, reading: Reading) -> tuple[GrooveRule, ...]:
    return tuple(_groove(item, reading) for item in _listed(raw))


def _groove(raw: object, reading: Reading) -> GrooveRule:
    if not isinstance(raw, dict):
        return _made(GrooveRule, raw, parse_length_in(raw, reading))
    table = _table(raw, ("distance",), ("shave", "shape", "round"), _GROOVE)
    return _made(
        GrooveRule,
        ", ".join(table),
        parse_length_in(table["distance"], reading),
        parse_signed(table.get("shave", 0), reading),
        SHAPE.parse(table["shape"], reading) if "shape" in table else None,
        _ROUND.parse(table.get("round", "window"), reading),
    )


def _print_grooves(grooves: tuple[GrooveRule, ...]) -> object:
    if all(groove == GrooveRule(groove.distance) for groove in grooves):
        return " + ".join(print_length(groove.distance) for groove in grooves) or "none"
    return [
        {"distance": print_length(each.distance), "shave": print_signed(each.shave), "round": each.round.value}
        | ({"shape": SHAPE.print(each.shape)} if each.shape else {})
        for each in grooves
    ]


def _parse_lines(raw: object, reading: Reading) -> tuple[LineRule, ...]:
    return tuple(_line(item, reading) for item in _listed(raw))


def _line(raw: object, reading: Reading) -> LineRule:
    if not isinstance(raw, dict):
        return _made(LineRule, raw, parse_length_in(raw, reading), PEN)
    table = _table(raw, ("distance",), ("width", "colour", "wash"), _LINE)
    wash = FLAG.parse(table.get("wash", False), reading)
    if wash and "width" not in table:
        raise BadInput(", ".join(table), "the width of the band of wash too")
    colour = words(table.get("colour", _INK))
    if not re.fullmatch("#[0-9a-fA-F]{6}", colour):
        raise BadInput(colour, "write a colour such as #c9b68a")
    width = parse_length_in(table["width"], reading) if "width" in table else PEN
    return _made(LineRule, ", ".join(table), parse_length_in(table["distance"], reading), width, colour, wash)


def _print_lines(lines: tuple[LineRule, ...]) -> object:
    if not lines:
        return "none"
    return [
        {
            "distance": print_length(line.distance),
            "width": print_length(line.width),
            "colour": line.colour,
            "wash": line.wash,
        }
        for line in lines
    ]


# ── title, inlay, sink ───────────────────────────────────────────────────────────────────────────────────────────

_TITLE = '3 x 1/2 in, or a table such as { size = "3 x 1/2 in", drop = "1 in" }'
_INLAY = "red 4-ply @ 1/2 in, 1/4 in wide, or a table of board, distance and width"
_SINK = "white 8-ply, clearance 1/8 in, or a table of board and clearance"


def _parse_title(raw: object, reading: Reading) -> TitleRule | None:
    if _is_none(raw):
        return None
    if isinstance(raw, dict):
        table = _table(raw, ("size",), ("drop",), _TITLE)
        drop = parse_length_in(table["drop"], reading) if "drop" in table else None
        return TitleRule(SIZE.parse(table["size"], reading), drop)
    size, _, dropped = measured(raw).partition(", drop ")
    return TitleRule(SIZE.parse(size, reading), parse_length_in(dropped, reading) if dropped else None)


def _print_title(title: TitleRule | None) -> str:
    if title is None:
        return "none"
    return print_size(title.size) + (f", drop {print_length(title.drop)}" if title.drop is not None else "")


def _parse_inlay(raw: object, reading: Reading) -> InlayRule | None:
    if _is_none(raw):
        return None
    table = raw
    if not isinstance(raw, dict):
        found = re.fullmatch(r"(?P<board>[^@]+?)\s*@\s*(?P<distance>[^@]+?)\s*,\s+(?P<width>[^@]+?)\s+wide", words(raw))
        table = found.groupdict() if found else raw
    table = _table(table, ("board", "distance", "width"), (), _INLAY)
    lengths = (parse_length_in(table[key], reading) for key in ("distance", "width"))
    return _made(InlayRule, ", ".join(str(each) for each in table.values()), _board(table, reading), *lengths)


def _print_inlay(inlay: InlayRule | None) -> object:
    if inlay is None:
        return "none"
    return {"board": inlay.board, "distance": print_length(inlay.distance), "width": print_length(inlay.width)}


def _parse_sink(raw: object, reading: Reading) -> SinkRule | None:
    if _is_none(raw):
        return None
    table = raw
    if not isinstance(raw, dict):
        found = re.fullmatch(r"(?P<board>.+?)\s*,\s*clearance\s+(?P<clearance>.+)", words(raw), re.IGNORECASE)
        table = found.groupdict() if found else raw
    table = _table(table, ("board", "clearance"), (), _SINK)
    return SinkRule(_board(table, reading), LENGTH.parse(table["clearance"], reading))


def _print_sink(sink: SinkRule | None) -> object:
    return "none" if sink is None else {"board": sink.board, "clearance": print_length(sink.clearance)}


def _board(table: Mapping[str, object], reading: Reading) -> str:
    name = TEXT.parse(table["board"], reading)
    if not name:
        raise BadInput("", "the name of a board")
    return name


# ── layout ───────────────────────────────────────────────────────────────────────────────────────────────────────

_LAYOUT = "row, column, grid 3 or auto, with gutter 1 in, even or fill, and top, centre or base where you like"
_FREE = 'a table: { arrange = "free", places = [{ left = "0", top = "0" }, { left = "9 in", top = "-1 in" }] }'
_WORDS: Mapping[str, tuple[str, object]] = (
    {each.value: ("arrange", each) for each in Arrange if each not in {Arrange.GRID, Arrange.FREE}}
    | {each.value: ("gaps", each) for each in Gaps}
    | {each.value: ("align", each) for each in Align}
    | {"center": ("align", Align.CENTRE)}
)
_NEXT = re.compile(rf"\s*,\s*(?!\d)|\s+(?=(?:gutter|grid|{'|'.join(_WORDS)})\b)", re.IGNORECASE)
_KEYS = ("arrange", "gutter", "gaps", "align", "columns", "places")


def _parse_layout(raw: object, reading: Reading) -> LayoutRule:
    if isinstance(raw, dict):
        return _layout_of(raw, reading)
    text = measured(raw)
    said: dict[str, object] = {}
    for part in filter(None, _NEXT.split(text)):
        for key, value in _part(part, text, reading).items():
            if key in said:
                raise BadInput(text, f"say one thing once: write {_LAYOUT}")
            said[key] = value
    if not said:
        raise BadInput(text, f"write {_LAYOUT}")
    return _made(LayoutRule, text, **said)


def _part(part: str, text: str, reading: Reading) -> dict[str, object]:
    first, _, rest = " ".join(part.split()).partition(" ")
    match first.lower():
        case "gutter" if rest:
            return {"gutter": parse_length_in(rest, reading)}
        case "grid" if rest:
            return {"arrange": Arrange.GRID, "columns": WHOLE.parse(re.sub(r"\s*columns?$", "", rest), reading)}
        case word if word in _WORDS and not rest:
            key, value = _WORDS[word]
            return {key: value}
        case "free":
            raise BadInput(text, f"write {_FREE}")
    raise BadInput(text, f"write {_LAYOUT}")


def _layout_of(raw: Mapping[str, object], reading: Reading) -> LayoutRule:
    table = _table(raw, (), _KEYS, f"{_LAYOUT}; or {_FREE}")
    parsers: Mapping[str, Callable[[object, Reading], object]] = {
        "arrange": one_of(Arrange).parse,
        "gutter": parse_length_in,
        "gaps": one_of(Gaps).parse,
        "align": one_of(Align).parse,
        "columns": WHOLE.parse,
        "places": _places,
    }
    return _made(LayoutRule, ", ".join(table), **{key: parsers[key](value, reading) for key, value in table.items()})


def _places(raw: object, reading: Reading) -> tuple[tuple[Length, Length], ...]:
    if not isinstance(raw, list) or len(raw) > 60:
        raise BadInput(str(raw)[:200], f"write {_FREE}, at most 60 places")
    return tuple(_place(item, reading) for item in raw)


def _place(raw: object, reading: Reading) -> tuple[Length, Length]:
    if isinstance(raw, list) and len(raw) == 2:
        raw = dict(zip(("left", "top"), raw, strict=True))
    if not isinstance(raw, dict):
        raise BadInput(str(raw)[:200], 'a place such as { left = "9 in", top = "-1 in" }')
    sides = members(raw, ("left", "top"), parse_signed, reading)
    return sides["left"], sides["top"]


def _print_layout(layout: LayoutRule) -> object:
    if layout.arrange is Arrange.FREE:
        return {
            "arrange": layout.arrange.value,
            "gutter": print_length(layout.gutter),
            "align": layout.align.value,
            "places": [{"left": print_signed(left), "top": print_signed(top)} for left, top in layout.places],
        }
    columns = f" {layout.columns}" if layout.arrange is Arrange.GRID else ""
    said = [layout.arrange.value + columns, f"gutter {print_length(layout.gutter)}", layout.align.value]
    return ", ".join(said if layout.gaps is Gaps.GIVEN else [*said, layout.gaps.value])


GROOVES: Convertor[tuple[GrooveRule, ...]] = Convertor(_parse_grooves, _print_grooves)
LINES: Convertor[tuple[LineRule, ...]] = Convertor(_parse_lines, _print_lines)
TITLE: Convertor[TitleRule | None] = Convertor(_parse_title, _print_title)
INLAY: Convertor[InlayRule | None] = Convertor(_parse_inlay, _print_inlay)
SINK: Convertor[SinkRule | None] = Convertor(_parse_sink, _print_sink)
LAYOUT: Convertor[LayoutRule] = Convertor(_parse_layout, _print_layout)
