"""The checks of a drawing see each fault they are for."""

from __future__ import annotations

from fourply.drawing.check import collisions, crossed, strays
from fourply.drawing.ink import VISIBLE, Ink
from fourply.drawing.pen import Label, Path, Steps
from fourply.drawing.record import Drawing, Mark
from fourply.drawing.shapes import Box, circle, line, rectangle

HERE = Label(50, 50, "16 3⁄8", 4)


def page(*marks: Mark) -> Drawing:
    return Drawing(100, 100, marks)


def test_labels_on_one_another_are_found() -> None:
    assert collisions(page(HERE, Label(58, 51, "over", 4))) == [("16 3⁄8", "over")]
    assert collisions(page(HERE, Label(50, 55, "below", 4))) == []


def test_labels_over_the_edge_are_found() -> None:
    assert strays(page(HERE, Label(95, 50, "far", 4))) == ["far"]
    assert strays(page(HERE), margin=49) == ["16 3⁄8"]


def test_a_line_through_a_label_is_found_unless_it_is_covered() -> None:
    through = Path(line(0, 49, 100, 49), VISIBLE)
    cover = Path(circle(52, 49, 9), None, Ink.PAPER)
    assert crossed(page(through, HERE)) == ["16 3⁄8"]
    assert crossed(page(HERE, through)) == ["16 3⁄8"]
    assert crossed(page(through, cover, HERE)) == []
    elsewhere = Path(circle(52, 20, 9), None, Ink.PAPER)
    assert crossed(page(through, elsewhere, HERE)) == ["16 3⁄8"]


def test_a_frame_round_a_label_does_not_cross_it() -> None:
    assert crossed(page(Path(rectangle(Box(45, 40, 70, 60)), VISIBLE), HERE)) == []


def test_white_text_on_black_may_be_crossed() -> None:
    assert crossed(page(Path(line(0, 49, 100, 49), VISIBLE), HERE._replace(ink=Ink.PAPER))) == []


def test_a_line_is_seen_on_either_side_of_what_covers_its_middle() -> None:
    through = Path(line(0, 49, 100, 49), VISIBLE)
    cover = Path(rectangle(Box(30, 40, 45, 60)), None, Ink.PAPER)
    left = HERE._replace(x=10)
    assert crossed(page(through, cover, HERE, left)) == ["16 3⁄8", "16 3⁄8"]
    assert crossed(page(Path(line(0, 49, 40, 49), VISIBLE), cover, HERE)) == []
    assert crossed(page(Path(line(35, 49, 100, 49), VISIBLE), cover, left)) == []
    assert crossed(page(Path(line(32, 49, 44, 49), VISIBLE), cover, HERE, left)) == []


def test_curves_are_seen_where_they_run_and_nowhere_else() -> None:
    around, through = Path(circle(54, 48, 20), VISIBLE), Path(circle(54, 68, 20), VISIBLE)
    assert crossed(page(around, HERE)) == []
    assert crossed(page(through, HERE)) == ["16 3⁄8"]
    bow = Path((("M", 50.0, 30.0), ("C", 53.0, 40.0, 53.0, 55.0, 50.0, 70.0)), VISIBLE)
    assert crossed(page(bow, HERE)) == ["16 3⁄8"]


def test_the_line_that_closes_a_path_is_seen() -> None:
    corner: Steps = (("M", 40.0, 49.0), ("L", 40.0, 90.0), ("L", 90.0, 90.0), ("L", 90.0, 49.0))
    assert crossed(page(Path(corner, VISIBLE), HERE)) == []
    assert crossed(page(Path((*corner, ("Z",)), VISIBLE), HERE)) == ["16 3⁄8"]
