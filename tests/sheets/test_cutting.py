"""A cutting sheet shows every piece, every cut and what becomes of the rest, and nothing stands on anything."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from tests.bench.test_straight_cuts import trees
from tests.sheets.samples import DOUBLE, INCHES, MATERIALS, MILLIMETRES, SHOW, art, inch
from tests.sheets.test_ticket import PAPERS, faults, texts

from fourply.drawing.page import A4, LETTER
from fourply.drawing.shapes import bounds
from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.planning.plan import Board, Node, Plan, Source, Way
from fourply.planning.problem import Box, Cutter, Kind, Piece, Problem, Rect, Stock
from fourply.sheets.board_view import BoardView, Use
from fourply.sheets.cutting import compose_boards, compose_cutting
from fourply.sheets.cutting_view import CutJob, board_views, windows_of
from fourply.trade.parts import FlatPart, Stuff, flat_parts
from fourply.trade.resolve import resolve
from fourply.trade.work import Work
from fourply.working.words import Words

SIZES = ((11, 14), (8, 10), (5, 7))
TRIM = inch(1, 8).nm


def strip(box: Box, pieces: list[FlatPart], *, kept: bool) -> Node:
    """Return a strip of a board with pieces one over the other, from the bottom up; `kept` says what the rest is."""
    rows: list[Node] = []
    y = box.y
    for part in pieces:
        w, h = part.size.width.nm, part.size.height.nm
        piece = Node(Box(box.x, y, w, h), piece=part.key)
        beside = Node(Box(box.x + w, y, box.w - w, h)) if w < box.w else None
        rows.append(Node(Box(box.x, y, box.w, h), Way.V, (piece, beside)) if beside else piece)
        y += h
    rest = Node(Box(box.x, y, box.w, box.y + box.h - y), kept=kept)
    return Node(box, Way.H, (*rows, rest))


def job(words: Words) -> CutJob:
    """Return a plan made by hand: two sheets of white board for three works, and a fallout that feeds the third."""
    packages = [
        resolve(Work(f"{at:02}", "", art(inch(w), inch(h))), replace(DOUBLE, grooves=()), MATERIALS)
        for at, (w, h) in enumerate(SIZES, start=1)
    ]
    parts = {part.key: part for each in packages for part in flat_parts(each) if part.material == "white 4-ply"}
    problem = Problem(
        pieces=tuple(
            Piece(
                key=part.key,
                w=part.size.width.nm,
                h=part.size.height.nm,
                fallouts=tuple(Rect(size.width.nm, size.height.nm) for size in part.fallouts),
            )
            for part in parts.values()
        ),
        stock=(Stock(key="sheet", w=inch(32).nm, h=inch(40).nm, cost=1000),),
        cutter=Cutter(trim=TRIM),
        keep=Rect(inch(6).nm, inch(8).nm),
    )
    wide, high = inch(32).nm - 2 * TRIM, inch(40).nm - 2 * TRIM
    first, second = ([parts[key] for key in keys] for keys in (("01/mat.1", "02/mat.1"), ("02/mount", "03/mat.1")))
    left = first[0].size.width.nm
    whole = Box(TRIM, TRIM, wide, high)
    halves = (Box(TRIM, TRIM, left, high), Box(TRIM + left, TRIM, wide - left, high))
    fallout = parts["01/mat.1"].fallouts[0]
    from_fallout = Box(0, 0, fallout.width.nm, fallout.height.nm)
    sheet = Source(Kind.SHEET, "sheet")
    plan = Plan(
        (
            Board(
                sheet, Node(whole, Way.V, (strip(halves[0], first, kept=False), strip(halves[1], second, kept=True)))
            ),
            Board(sheet, strip(whole, [parts["01/mount"]], kept=True)),
            Board(Source(Kind.FALLOUT, "01/mat.1"), strip(from_fallout, [parts["03/mount"]], kept=False)),
        ),
        cost=2000,
        lower_bound=1000,
        engine="by hand",
    )
    return CutJob(SHOW, "white 4-ply", parts, problem, plan, words, windows_of(packages))


def boards(words: Words) -> tuple[BoardView, ...]:
    return board_views(job(words))


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.name)
@pytest.mark.parametrize("words", [INCHES, MILLIMETRES], ids=["inch", "metric"])
def test_nothing_stands_on_anything_or_leaves_the_page(words: Words, paper: object) -> None:
    assert faults(compose_boards(boards(words), A4 if paper is A4 else LETTER)) == []


def test_every_piece_is_placed_once_and_listed_with_its_size() -> None:
    views = boards(INCHES)
    asked = job(INCHES)
    placed = Counter(f"{row.name} {row.note}" for view in views for row in view.piece_rows)
    assert placed == Counter(f"{part.work} {part.name}" for part in asked.parts.values())
    for view in views:
        shown = texts(compose_cutting(view, LETTER))
        assert all(row.figure in shown for row in view.piece_rows)


def test_what_a_fallout_feeds_is_said_where_it_falls_out() -> None:
    views = boards(INCHES)
    fed = {
        piece.fallout.words
        for view in views
        for piece in view.pieces
        if piece.fallout and piece.fallout.use is Use.FEEDS
    }
    from_fallouts = {f"{row.name} {row.note}" for view in views if view.small for row in view.piece_rows}
    assert {word for words in fed for word in words.removeprefix("feeds ").split(", ")} == from_fallouts != set()


def test_the_layout_is_drawn_to_the_scale_that_it_states() -> None:
    view = boards(INCHES)[0]
    (page,) = compose_cutting(view, LETTER)
    stated = next(label.text for label in page.labels if label.text.startswith("1:"))
    real = int(stated.removeprefix("1:").split(".")[0])
    outlines = [bounds(path.steps) for path in page.paths if path.stroke and path.stroke.role == "visible"]
    assert any(
        abs(box.width * real - view.width) < 0.05 and abs(box.height * real - view.height) < 0.05 for box in outlines
    )


def test_cuts_in_the_list_and_on_the_drawing_carry_the_same_numbers() -> None:
    for view in boards(INCHES):
        assert [row.number for row in view.cuts] == [line.number for line in view.lines_cut]
        shown = Counter(label.text for page in compose_cutting(view, LETTER) for label in page.labels)
        assert all(shown[row.number] >= 2 for row in view.cuts)


def test_the_parts_of_the_area_add_up_to_the_whole() -> None:
    for view in boards(INCHES):
        total = sum(float(figure.removesuffix(" %")) for _, figure in view.left_over)
        assert total == pytest.approx(100, abs=0.16)


def test_boards_cut_alike_share_a_page() -> None:
    one = replace(job(INCHES).plan.boards[0], copies=3)
    asked = job(INCHES)
    (view,) = board_views(replace(asked, plan=replace(asked.plan, boards=(one,))))
    assert "cut 3 alike" in texts(compose_cutting(view, LETTER))


def views_of(tree: Node, unit: Length) -> BoardView:
    """Return the view of a made-up board, a length of 1 being `unit`."""

    def scaled(node: Node) -> Node:
        box = Box(*(side * unit.nm for side in (node.box.x, node.box.y, node.box.w, node.box.h)))
        return Node(box, node.cut, tuple(map(scaled, node.children)), node.piece, node.turned, node.kept)

    tree = scaled(tree)
    placed = [node for node in tree.walk() if node.piece]
    parts = {
        node.piece: FlatPart(
            node.piece, "7", "top mat", "", Stuff.BOARD, "white", Size(Length(node.box.w), Length(node.box.h)), 1
        )
        for node in placed
        if node.piece
    }
    stock = Stock(key="sheet", w=tree.box.w, h=tree.box.h, cost=1)
    pieces = tuple(Piece(key=key, w=part.size.width.nm, h=part.size.height.nm) for key, part in parts.items())
    problem = Problem(pieces=pieces or (Piece(key="none", w=1, h=1),), stock=(stock,))
    plan = Plan((Board(Source(Kind.SHEET, "sheet"), tree),), 1, 1, "made up")
    (view,) = board_views(CutJob("Show", "white", parts, problem, plan, INCHES, {}))
    return view


@settings(
    max_examples=50,
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow],
)
@given(trees(), st.sampled_from([inch(1, 8), inch(1, 4)]), st.sampled_from(PAPERS))
def test_any_layout_makes_a_clean_sheet(tree: Node, unit: Length, paper: object) -> None:
    view = views_of(tree, unit)
    page = A4 if paper is A4 else LETTER
    assert faults(compose_cutting(view, page)) == []
    assert faults(compose_boards([replace(view, small=True)], page)) == []
