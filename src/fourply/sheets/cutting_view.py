"""A plan as its cutting sheets: one view a board, in the words of the bench."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from fourply.bench.straight_cuts import Cut, order_cuts
from fourply.drawing.shapes import Box as Area
from fourply.measure.length import NM_PER_MM, Length
from fourply.measure.size import Rect, Size
from fourply.planning.plan import Board, Node, Plan, Way
from fourply.planning.problem import Box, Kind, Problem
from fourply.sheets.board_view import (
    BoardView,
    CutLine,
    CutRow,
    Fallout,
    PlacedPiece,
    Rest,
    TableRow,
    Use,
)
from fourply.trade.package import Package
from fourply.trade.parts import FlatPart
from fourply.working.words import Words

_TURNED = ", turned"


@dataclass(frozen=True, slots=True)
class CutJob:
    """All that the cutting sheets of one material rest on.

    `windows` gives, by key of a piece, the window cut in it, from the piece's top left as it hangs.
    """

    show: str
    material: str
    parts: Mapping[str, FlatPart]
    problem: Problem
    plan: Plan
    words: Words
    windows: Mapping[str, Rect]


def windows_of(packages: Iterable[Package]) -> dict[str, Rect]:
    """Return the window of every mat by the key of its piece, from the top left of its own blank."""
    found: dict[str, Rect] = {}
    for package in packages:
        for mat in package.mats:
            left, top = mat.borders.left - mat.inset, mat.borders.top - mat.inset
            found[f"{package.work.id}/{mat.path}"] = Rect(left, top, mat.opening.back)
    return found


def board_views(job: CutJob) -> tuple[BoardView, ...]:
    """Return a view for every board of the plan, in the order in which they are cut."""
    feeds = _feeds(job)
    return tuple(_board(job, number, board, feeds) for number, board in enumerate(job.plan.boards, start=1))


def _feeds(job: CutJob) -> dict[str, list[str]]:
    """Return, by key of a piece, the names of what is cut from its fallout."""
    feeds: dict[str, list[str]] = {}
    for board in job.plan.boards:
        if board.source.kind is Kind.FALLOUT:
            for node in board.tree.walk():
                if node.piece is not None:
                    feeds.setdefault(board.source.key, []).append(_name(job, node.piece))
    return feeds


def _board(job: CutJob, number: int, board: Board, feeds: Mapping[str, list[str]]) -> BoardView:
    width, height = _size(job, board)
    leaves = [node for node in board.tree.walk() if not node.children]
    placed = [node for node in leaves if node.piece is not None]
    numbers = {id(node): str(at) for at, node in enumerate(placed, start=1)}
    cuts = order_cuts(board.tree, (width, height))
    pieces = tuple(_piece(job, node, numbers[id(node)], feeds) for node in placed)
    rests = tuple(_rest(job, node) for node in leaves if node.piece is None)
    size = job.words.size(Size(Length(width), Length(height)))
    return BoardView(
        number=str(number),
        title=job.material,
        lines=tuple(_lines(job, board, size, len(placed))),
        corner=tuple(_corner(job, number, board.copies)),
        small=board.source.kind is not Kind.SHEET,
        width=_mm(width),
        height=_mm(height),
        width_figure=_mark(job, width),
        height_figure=_mark(job, height),
        chain=_chain(job, board.tree),
        upright=board.tree.cut is Way.H,
        pieces=pieces,
        rests=rests,
        lines_cut=tuple(_line(cut, at) for at, cut in enumerate(cuts, start=1)),
        cuts=tuple(_row(job, cut, at, numbers) for at, cut in enumerate(cuts, start=1)),
        piece_rows=tuple(_piece_row(job, node, numbers[id(node)]) for node in placed),
        fallout_rows=tuple(_fallout_rows(pieces)),
        left_over=tuple(_left_over(board, (width, height))),
        notes=tuple(_notes(job, board, rests)),
    )


def _corner(job: CutJob, number: int, copies: int) -> Iterator[str]:
    yield f"board {number} of {len(job.plan.boards)}"
    if copies > 1:
        yield f"cut {copies} alike"


def _size(job: CutJob, board: Board) -> tuple[int, int]:
    """Return the width and height of what a board is cut from."""
    source = board.source
    if source.kind is Kind.FALLOUT:
        rect = next(piece for piece in job.problem.pieces if piece.key == source.key).fallouts[source.choice]
        return rect.w, rect.h
    stock = next(stock for stock in job.problem.stock if stock.key == source.key)
    return stock.w, stock.h


def _lines(job: CutJob, board: Board, size: str, count: int) -> Iterator[str]:
    source = board.source
    names = {
        Kind.SHEET: "A full sheet",
        Kind.RACK: "An offcut from the rack",
        Kind.FALLOUT: f"The fallout of {_name(job, source.key)}" if source.kind is Kind.FALLOUT else "",
    }
    yield f"{names[source.kind]}, {size}. {count} {'piece' if count == 1 else 'pieces'}."
    unit = "millimetres" if job.words.metric else "inches"
    yield " · ".join(part for part in (job.show, f"all sizes width × height, {unit}") if part)


def _name(job: CutJob, key: str) -> str:
    part = job.parts[key]
    return f"{part.work} {part.name}"


def _mm(nm: int) -> float:
    return nm / NM_PER_MM


def _mark(job: CutJob, nm: int) -> str:
    return job.words.mark(Length(nm))


def _area(box: Box) -> Area:
    return Area(_mm(box.x), _mm(box.y), _mm(box.x + box.w), _mm(box.y + box.h))


def _box_size(job: CutJob, box: Box) -> str:
    return job.words.size(Size(Length(box.w), Length(box.h)))


def _chain(job: CutJob, tree: Node) -> tuple[tuple[float, float, str], ...]:
    if tree.cut is Way.V:
        return tuple((_mm(n.box.x), _mm(n.box.x + n.box.w), _mark(job, n.box.w)) for n in tree.children)
    return tuple((_mm(n.box.y), _mm(n.box.y + n.box.h), _mark(job, n.box.h)) for n in tree.children)


def _piece(job: CutJob, node: Node, number: str, feeds: Mapping[str, list[str]]) -> PlacedPiece:
    key = node.piece or ""
    part = job.parts[key]
    name = _name(job, key) + (_TURNED if node.turned else "")
    size, fallout = job.words.size(part.size), _fallout(job, node, part, feeds)
    return PlacedPiece(number, _area(node.box), name, part.work, size, fallout)


def _fallout(job: CutJob, node: Node, part: FlatPart, feeds: Mapping[str, list[str]]) -> Fallout | None:
    window = job.windows.get(part.key)
    if window is None:
        return None
    box = _area(node.box)
    left, top = window.left.as_mm, window.top.as_mm
    wide, high = window.size.width.as_mm, window.size.height.as_mm
    if node.turned:  # a quarter turn: what was up lies at the left
        place = Area(box.left + top, box.top + left, box.left + top + high, box.top + left + wide)
    else:
        place = Area(box.left + left, box.bottom - top - high, box.left + left + wide, box.bottom - top)
    size = job.words.size(part.fallouts[0]) if part.fallouts else ""
    if part.key in feeds:
        works = dict.fromkeys(name.split(" ")[0] for name in feeds[part.key])
        return Fallout(place, Use.FEEDS, f"feeds {', '.join(feeds[part.key])}", size, f"feeds {', '.join(works)}")
    if _worth_keeping(job, part):
        return Fallout(place, Use.KEEP, "keep", size)
    return Fallout(place, Use.WASTE, "waste", "")


def _worth_keeping(job: CutJob, part: FlatPart) -> bool:
    least = job.problem.keep
    return least is not None and any(
        (size.width.nm >= least.w and size.height.nm >= least.h)
        or (size.width.nm >= least.h and size.height.nm >= least.w)
        for size in part.fallouts
    )


def _rest(job: CutJob, node: Node) -> Rest:
    return Rest(_area(node.box), node.kept, _box_size(job, node.box))


def _line(cut: Cut, number: int) -> CutLine:
    at, start, end = _mm(cut.at), _mm(cut.start), _mm(cut.end)
    ends = ((at, start), (at, end)) if cut.way is Way.V else ((start, at), (end, at))
    return CutLine(str(number), *ends)


def _row(job: CutJob, cut: Cut, number: int, numbers: Mapping[int, str]) -> CutRow:
    edge = "left" if cut.way is Way.V else "bottom"
    if not cut.stop:
        gives = f"{_mark(job, cut.at)} off, clean edge"
        return CutRow(str(number), "trim", reset=False, part=f"{edge} edge", gives=gives)
    held, whole = _held(cut.part, numbers), len(_inside(cut.part, numbers)) == len(numbers)
    off = cut.part if cut.off is None else cut.off
    pieces = _held(off, numbers)
    gives = f"{'piece' if pieces.isdigit() else 'pieces'} {pieces}" if pieces else "waste"
    if cut.off is None:
        gives = f"trims {pieces}"
    elif not pieces and any(leaf.kept for leaf in off.walk()):
        gives = "remnant, keep"
    part = f"from {edge}" + (f" of {held}" if held and not whole else "")
    return CutRow(str(number), _mark(job, cut.stop), cut.reset, part, gives)


def _inside(node: Node, numbers: Mapping[int, str]) -> list[str]:
    return [numbers[id(leaf)] for leaf in node.walk() if id(leaf) in numbers]


def _held(node: Node, numbers: Mapping[int, str]) -> str:
    """Return the numbers of the pieces in a part, a run of three or more as first and last.

    A board's pieces are numbered in the order of its tree, so those of one part always follow one another.
    """
    inside = _inside(node, numbers)
    return f"{inside[0]}–{inside[-1]}" if len(inside) > 2 else ", ".join(inside)


def _piece_row(job: CutJob, node: Node, number: str) -> TableRow:
    part = job.parts[node.piece or ""]
    return TableRow(number, part.work, part.name, job.words.size(part.size))


def _fallout_rows(pieces: Iterable[PlacedPiece]) -> Iterator[TableRow]:
    for piece in pieces:
        if piece.fallout:
            fallout, name = piece.fallout, piece.name.removesuffix(_TURNED)
            yield TableRow(fallout.use.value, name, fallout.words, fallout.size or "–")


def _left_over(board: Board, size: tuple[int, int]) -> Iterator[tuple[str, str]]:
    """Yield what becomes of the board's area, in parts of the whole."""
    whole = size[0] * size[1]
    leaves = [node for node in board.tree.walk() if not node.children]
    used = sum(node.box.w * node.box.h for node in leaves if node.piece is not None)
    kept = sum(node.box.w * node.box.h for node in leaves if node.kept)
    yield "pieces", _percent(Fraction(used, whole))
    if kept:
        yield "remnants kept", _percent(Fraction(kept, whole))
    yield "waste and trim", _percent(1 - Fraction(used + kept, whole))


def _percent(part: Fraction) -> str:
    return f"{float(part) * 100:.1f} %"


def _notes(job: CutJob, board: Board, rests: Iterable[Rest]) -> Iterator[tuple[str, str]]:
    kept = [rest.size for rest in rests if rest.kept]
    if kept:
        yield (
            "Remnants" if len(kept) > 1 else "Remnant",
            f"{', '.join(kept)}: write the size on it, put it in the rack.",
        )
    if board.source.kind is Kind.SHEET:
        box = board.tree.box
        needs = job.words.size(Size(Length(box.x + box.w), Length(box.y + box.h)))
        yield "Check", f"This layout needs a true sheet of {needs} at least: measure it first."
    elif board.source.kind is Kind.FALLOUT:
        yield (
            "When",
            f"Ready once the window of {_name(job, board.source.key)} is cut. Make a clean edge first.",
        )
