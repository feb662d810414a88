"""The shop's rack: its pieces as a list says them, and a piece as a person types it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from fourply.app.keep import Desk, change, create, read
from fourply.app.keep_materials import shop_materials
from fourply.app.keep_rack import next_number, promised
from fourply.app.material_saying import reading_of
from fourply.app.ports_store import SHOP, Kind, Record
from fourply.errors import BadInput, Taken, Unknown
from fourply.files.convertors import SIZE, plain
from fourply.files.kept import KeptOffcut, KeptShow
from fourply.files.material_text import Misread, size_text
from fourply.measure.notation import Marks
from fourply.measure.size import Size
from fourply.trade.materials import Materials, Offcut
from fourply.trade.money import Money
from fourply.working.words import Words

__all__ = ["FIELDS", "Misread", "RackLine", "Wanted", "choices", "rack_lines", "said_of", "say"]

FIELDS = ("number", "material", "size", "place")
"""What is typed of a piece."""
_LONGEST = 80


@dataclass(frozen=True, slots=True)
class RackLine:
    """One piece: its number, what it is of and how that looks, its size in words, where it lies.

    `show` and `title` are of the show whose accepted plan it is promised to, "" for none.
    """

    record: Record
    number: str
    material: str
    colour: str
    core: str
    size: Size
    says: str
    place: str
    show: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which pieces are wanted: words in them, a size that they hold (as it is typed, "" for any), or those put away."""

    words: str = ""
    holds: str = ""
    archived: bool = False


def rack_lines(desk: Desk, wanted: Wanted, marks: Marks = Marks.TYPOGRAPHIC) -> tuple[RackLine, ...]:
    """Return the pieces of the shop's rack, by material and size, the smallest first; raises BadInput for no size."""
    words = Words(metric=reading_of(desk).unit.is_metric, marks=marks)
    holds = SIZE.parse(wanted.holds, reading_of(desk)) if wanted.holds.strip() else None
    materials = shop_materials(desk)
    found = [
        line
        for line in _lines(desk, materials, words, archived=wanted.archived)
        if _has(line, wanted.words) and (holds is None or _holds(line, holds, materials))
    ]
    return tuple(
        sorted(found, key=lambda line: (plain(line.material), line.size.width.nm * line.size.height.nm, line.says))
    )


def _lines(desk: Desk, materials: Materials, words: Words, *, archived: bool) -> Iterator[RackLine]:
    held = {} if archived else promised(desk)
    titles: dict[str, str] = {}
    for record in desk.store.every(Kind.RACK, SHOP, archived=None if archived else False):
        kept = record.value
        if record.archived is not archived or not isinstance(kept, KeptOffcut):
            continue
        piece, board = kept.piece, materials.boards.get(kept.piece.material)
        colours = (board.colour or "", board.core or "") if board else ("", "")
        line = RackLine(record, kept.number, piece.material, *colours, piece.size, words.size(piece.size), piece.place)
        plan = held.get(record.id)
        if plan is not None:
            title = titles.setdefault(plan.scope, _title(desk, plan.scope))
            line = replace(line, show=plan.scope, title=title)
        yield line


def _title(desk: Desk, show: str) -> str:
    head = desk.store.read(show).value
    return head.title if isinstance(head, KeptShow) else show


def _has(line: RackLine, words: str) -> bool:
    text = plain(f"{line.number} {line.material} {line.says} {line.place} {line.title}")
    return all(word in text for word in plain(words).split())


def _holds(line: RackLine, size: Size, materials: Materials) -> bool:
    board = materials.boards.get(line.material)
    may_turn = board is None or not board.oriented
    return line.size.holds(size) or (may_turn and line.size.holds(size.turned()))


# ── a piece as it is typed ───────────────────────────────────────────────────────────────────────────────────────


def choices(desk: Desk) -> tuple[str, ...]:
    """Return what a piece can be of: boards, glazings, backings."""
    materials = shop_materials(desk)
    return tuple(dict.fromkeys((*materials.boards, *materials.glazings, *materials.backings)))


def said_of(desk: Desk, record: Record | None) -> dict[str, str]:
    """Return a piece as a person would type it; for a new one only the number that is next."""
    if record is None:
        return dict.fromkeys(FIELDS, "") | {"number": str(next_number(desk))}
    kept = _kept(record)
    piece = kept.piece
    texts = (kept.number, piece.material, size_text(piece.size, reading_of(desk)), piece.place)
    return dict(zip(FIELDS, texts, strict=True))


def say(desk: Desk, said: Mapping[str, str], piece: str = "", expected: int = 0) -> Record:
    """Keep a piece as it is typed, or change the one of that id; raises Misread, Stale, Unknown."""
    before = _kept(read(desk, piece, Kind.RACK)) if piece else None
    kept = _typed(desk, said, before)
    try:
        return change(desk, piece, kept, expected) if piece else create(desk, SHOP, kept)
    except Taken as bad:
        raise Misread({"number": str(bad)}) from bad


def _kept(record: Record) -> KeptOffcut:
    if not isinstance(record.value, KeptOffcut):
        raise Unknown(Kind.RACK.value, record.id, ())
    return record.value


def _typed(desk: Desk, said: Mapping[str, str], before: KeptOffcut | None) -> KeptOffcut:
    """Return what is typed as a piece, which costs what it did before; raises Misread with everything that is wrong."""
    reading, faults = reading_of(desk), {}
    texts = {name: " ".join(said.get(name, "").split()) for name in FIELDS}
    for name in ("number", "place"):
        if len(texts[name]) > _LONGEST:
            faults[name] = f"at most {_LONGEST} characters"
    known = {plain(name): name for name in choices(desk)}
    material = known.get(plain(texts["material"]), "")
    if not material:
        faults["material"] = "a board, glazing or backing of the shop, by its name"
    size = None
    try:
        size = SIZE.parse(texts["size"], reading)
    except BadInput as bad:
        faults["size"] = str(bad) if texts["size"] else "its width and height, such as 12 x 30"
    if faults or not isinstance(size, Size):
        raise Misread(faults)
    cost = before.piece.cost if before else Money(Decimal(0), reading.currency)
    return KeptOffcut(Offcut(material, size, cost, texts["place"]), texts["number"])
