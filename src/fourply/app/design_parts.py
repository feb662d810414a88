"""Rules that are made of parts (mats, grooves, lines, an inlay, a title, a sink) as a form shows and changes them.

A part is set, added or taken away by itself; the rule that comes of it is read as one from a show file is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Any

from fourply.errors import BadInput, Unknown
from fourply.files.convertors import Reading, print_length, print_signed, print_size
from fourply.files.rules import TREATMENT
from fourply.files.shapes import SHAPE
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.size import Size
from fourply.sheets.outlines import steps_of
from fourply.trade.accents import GrooveRule, Round, TitleRule
from fourply.trade.materials import Materials
from fourply.trade.shapes.rule import ShapeKind
from fourply.trade.treatment import Bevel, MatRule, RevealMeans

type Data = dict[str, Any]
type Table = dict[str, Any]


class Act(Enum):
    """What is done to a part of a rule."""

    SET = "set"
    MORE = "more"
    LESS = "less"


@dataclass(frozen=True, slots=True)
class PartEdit:
    """A change to one part of a rule: a member of the part `at` set to a text, one more of a name, that one less.

    An empty text leaves the member to what is usual.
    """

    rule: str
    act: Act
    at: int = 0
    name: str = ""
    text: str = ""


@dataclass(frozen=True, slots=True)
class Member:
    """What can be said of a part: its key in a show file, its label, how it is written, what it may be."""

    key: str
    says: str
    text: Callable[[Any], str]
    choices: tuple[str, ...] = ()
    example: str = ""


@dataclass(frozen=True, slots=True)
class Made:
    """What a rule is made of: what one part is called, its members, and tables for one more by their names."""

    one: str
    members: tuple[Member, ...]
    fresh: Callable[[Sequence[Any], Materials, Unit], Mapping[str, Table]]
    most: int = 20
    least: int = 0


def _shape(part: MatRule | GrooveRule) -> str:
    printed = SHAPE.print(part.shape) if part.shape else ""
    return printed if isinstance(printed, str) else ""


def _shave(groove: GrooveRule) -> str:
    return print_signed(groove.shave) if groove.shave else ""


def _drop(title: TitleRule) -> str:
    return "" if title.drop is None else print_length(title.drop)


def _amount(unit: Unit, inch: str, mm: str) -> str:
    return mm if unit.is_metric else inch


def _further(distances: Iterable[Length], unit: Unit, first: str) -> str:
    """Return where the next one goes: a little outside the outermost, or where the first usually lies."""
    outermost = max(distances, default=None)
    if outermost is None:
        return first
    return print_length(outermost + (Length.mm(6) if unit.is_metric else Length.inches(1, 4)))


def _fresh_groove(grooves: Sequence[Any], _: Materials, unit: Unit) -> Mapping[str, Table]:
    return {
        "a groove": {"distance": _further((each.distance for each in grooves), unit, _amount(unit, "1/2 in", "12 mm"))}
    }


def _fresh_line(lines: Sequence[Any], _: Materials, unit: Unit) -> Mapping[str, Table]:
    at = _further((each.distance + each.width for each in lines), unit, _amount(unit, "1/8 in", "3 mm"))
    wash = {"distance": at, "width": _amount(unit, "1/4 in", "6 mm"), "colour": "#c9b68a", "wash": True}
    return {"a line": {"distance": at}, "a band of wash": wash}


def _fresh_mat(mats: Sequence[Any], materials: Materials, unit: Unit) -> Mapping[str, Table]:
    board = _other_board(materials, mats[-1].board)
    return {"an under-mat": {"board": board, "reveal": _amount(unit, "1/4 in", "6 mm")}}


def _fresh_inlay(_: Sequence[Any], materials: Materials, unit: Unit) -> Mapping[str, Table]:
    distance, width = _amount(unit, "3/4 in", "20 mm"), _amount(unit, "1/4 in", "6 mm")
    return {"an inlay": {"board": _other_board(materials, ""), "distance": distance, "width": width}}


def _fresh_title(_: Sequence[Any], __: Materials, unit: Unit) -> Mapping[str, Table]:
    return {"a title": {"size": _amount(unit, "3 in w x 1/2 in h", "75 mm w x 12 mm h")}}


def _fresh_sink(_: Sequence[Any], materials: Materials, unit: Unit) -> Mapping[str, Table]:
    thickest = max(materials.boards.values(), key=lambda board: board.caliper)
    return {"a sink": {"board": thickest.name, "clearance": _amount(unit, "1/8 in", "3 mm")}}


def _other_board(materials: Materials, than: str) -> str:
    """Return the first board that is not the one named."""
    return next((board.name for board in materials.boards.values() if board.name != than), than)


_DISTANCE = Member("distance", "from the window", lambda part: print_length(part.distance))
_WIDTH = Member("width", "width", lambda part: print_length(part.width))
_BOARD = Member("board", "board", lambda part: str(part.board))
_SHAPE = Member("shape", "shape of its own", _shape, example="oval")

MADE: Mapping[str, Made] = {
    "mats": Made(
        "mat",
        (
            _BOARD,
            Member("reveal", "reveal", lambda mat: print_length(mat.reveal)),
            Member("means", "reveal is", lambda mat: str(mat.means.value), tuple(each.value for each in RevealMeans)),
            Member("bevel", "bevel", lambda mat: str(mat.bevel.value), tuple(each.value for each in Bevel)),
            _SHAPE,
            Member("setback", "set back", lambda mat: print_length(mat.setback) if mat.setback else ""),
        ),
        _fresh_mat,
        least=1,
    ),
    "grooves": Made(
        "groove",
        (
            _DISTANCE,
            Member("shave", "shave", _shave, example="-1/64 in"),
            _SHAPE,
            Member("round", "runs round", lambda groove: str(groove.round.value), tuple(each.value for each in Round)),
        ),
        _fresh_groove,
    ),
    "lines": Made(
        "line",
        (
            _DISTANCE,
            _WIDTH,
            Member("colour", "colour", lambda line: str(line.colour)),
            Member("wash", "wash", lambda line: "yes" if line.wash else "no", ("no", "yes")),
        ),
        _fresh_line,
    ),
    "inlay": Made("inlay", (_BOARD, _DISTANCE, _WIDTH), _fresh_inlay, 1),
    "title": Made(
        "title",
        (
            Member("size", "opening", lambda title: print_size(title.size)),
            Member(
                "drop", "below the windows", lambda title: print_length(title.drop) if title.drop else "", (), "1 in"
            ),
        ),
        _fresh_title,
        1,
    ),
    "sink": Made(
        "sink", (_BOARD, Member("clearance", "clearance", lambda sink: print_length(sink.clearance))), _fresh_sink, 1
    ),
}
"""The rules that are made of parts."""


def _parts(value: object) -> Sequence[Any]:
    """Return the parts of a rule: all of several, the one there is, or none."""
    if value is None:
        return ()
    return value if isinstance(value, tuple) else (value,)


def _tables(made: Made, parts: Sequence[Any]) -> list[Table]:
    found = ({each.key: each.text(part) for each in made.members} for part in parts)
    return [{key: text for key, text in table.items() if text} for table in found]


def parts_json(key: str, value: object, materials: Materials, unit: Unit) -> Data | None:
    """Return what a rule is made of, with what each part may be and what can be added; None where it is one thing."""
    made = MADE.get(key)
    if made is None:
        return None
    parts = _parts(value)
    boards = [{"name": board.name, "colour": board.colour} for board in materials.boards.values()]

    def member(each: Member, part: object) -> Data:
        named = [{"name": name, "colour": ""} for name in each.choices]
        return {
            "key": each.key,
            "says": each.says,
            "text": each.text(part),
            "example": each.example,
            "choices": boards if each.key == "board" else named,
            "colour": each.key == "colour",
        }

    return {
        "each": [
            {
                "says": _called(made, key, at),
                "members": [member(each, part) for each in made.members if _applies(key, at, each)],
                "less": len(parts) > made.least and not (key == "mats" and at == 0),
            }
            for at, part in enumerate(parts)
        ],
        "more": [{"name": each, "says": each} for each in made.fresh(parts, materials, unit) if len(parts) < made.most],
    }


def _applies(key: str, at: int, member: Member) -> bool:
    """Return whether a member says anything of a part: the top mat has no reveal."""
    return key != "mats" or at > 0 or member.key not in {"reveal", "means"}


def _called(made: Made, key: str, at: int) -> str:
    if key == "mats":
        return "Top mat" if at == 0 else f"Under-mat {at}"
    return made.one.capitalize() if made.most == 1 else f"{made.one.capitalize()} {at + 1}"


def with_part(edit: PartEdit, value: object, materials: Materials, reading: Reading) -> tuple[object, str]:
    """Return a rule with one part changed, and what that is in words; raises Unknown, BadInput."""
    made = MADE.get(edit.rule)
    if made is None:
        raise Unknown("rule made of parts", edit.rule, tuple(MADE))
    parts = _parts(value)
    tables, said = _tables(made, parts), ""
    if edit.act is Act.MORE:
        fresh = made.fresh(parts, materials, reading.unit)
        if edit.name not in fresh or len(parts) >= made.most:
            raise Unknown("part to add", edit.name, tuple(fresh) if len(parts) < made.most else ())
        tables, said = [*tables, fresh[edit.name]], f"{edit.name} added"
    elif not 0 <= edit.at < len(tables):
        raise BadInput(f"{made.one} {edit.at + 1}", f"one of the {len(tables)} that are there")
    elif edit.act is Act.LESS:
        tables, said = [*tables[: edit.at], *tables[edit.at + 1 :]], f"without {_in_words(made, edit)}"
    else:
        tables[edit.at] = _set(made, tables[edit.at], edit)
        said = f"{_in_words(made, edit)}, {_labels(made)[edit.name]} {edit.text or 'as usual'}"
    raw: object = tables if made.most > 1 else next(iter(tables), "none")
    return TREATMENT[edit.rule].parse(raw or "none", reading), said


def _in_words(made: Made, edit: PartEdit) -> str:
    called = _called(made, edit.rule, edit.at)
    return called[:1].lower() + called[1:]


def _labels(made: Made) -> Mapping[str, str]:
    return {each.key: each.says for each in made.members}


def _set(made: Made, table: Table, edit: PartEdit) -> Table:
    if edit.name not in _labels(made):
        raise Unknown(f"member of a {made.one}", edit.name, tuple(_labels(made)))
    rest = {key: text for key, text in table.items() if key != edit.name}
    return rest | {edit.name: edit.text} if edit.text else rest


# ── shapes to pick ───────────────────────────────────────────────────────────────────────────────────────────────

_SAMPLES: Mapping[ShapeKind, tuple[str, str]] = {
    ShapeKind.ARCH: ("arch rise 2 in", "arch rise 50 mm"),
    ShapeKind.ELLIPTICAL_ARCH: ("elliptical arch rise 2 in", "elliptical arch rise 50 mm"),
    ShapeKind.CLIPPED: ("clipped 1 in", "clipped 25 mm"),
    ShapeKind.ROUNDED: ("rounded 1/2 in", "rounded 12 mm"),
    ShapeKind.SCOOPED: ("scooped 3/4 in", "scooped 20 mm"),
    ShapeKind.STEPPED: ("stepped 1/4 in + 1/4 in", "stepped 6 mm + 6 mm"),
    ShapeKind.POLYGON: ("hexagon", "hexagon"),
}
_SHOWN = Size(Length.mm(140), Length.mm(112))
"""The window that the small pictures of the shapes show; 25 mm of a corner are seen in it."""


def shape_picks(reading: Reading) -> list[Data]:
    """Return every shape that can be picked without a drawing: its name, what is then written, its outline."""
    found = []
    for kind in ShapeKind:
        if kind is ShapeKind.FREE:
            continue
        inch, mm = _SAMPLES.get(kind, (kind.value, kind.value))
        text = _amount(reading.unit, inch, mm)
        shape = SHAPE.parse(text, reading).fit(_SHOWN)
        found.append({"name": kind.value, "text": text, "outline": steps_of(shape.outline())})
    return found
