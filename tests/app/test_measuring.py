"""What was measured is put in where a work is given it, and the work comes out as if it had been so from the start."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.trade.cases import FRAMED, MATERIALS, PLAIN, art, but, inch, length, made, mm, work

from fourply.app.measuring import measured_anew
from fourply.errors import BadInput
from fourply.measure.length import Length
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.trade.treatment import MatRule

FRAME = but(FRAMED, moulding_sides="wide oak")
TWO = but(PLAIN, mats=(MatRule("white"), MatRule("grey", inch(1, 4))))


@pytest.mark.parametrize(
    ("package", "path", "value"),
    [
        (made(TWO), "mat.1.caliper", mm(17, 10)),
        (made(TWO), "mat.2.caliper", mm(17, 10)),
        (made(TWO), "stack.under_mat", mm(17, 10)),
        (made(), "stack.mount_board", mm(17, 10)),
        (made(), "stack.glazing", mm(3)),
        (made(), "stack.backing", inch(1, 4)),
        (made(but(PLAIN, spacer="spacer")), "stack.spacer", inch(3, 16)),
        (made(FRAME), "moulding.width", inch(7, 8)),
        (made(FRAME), "moulding.lip", inch(5, 16)),
        (made(FRAME), "moulding_sides.width", inch(15, 8)),
        (made(FRAME), "moulding.rabbet_depth", inch(1, 2)),
        (made(), "art.width", inch(9)),
        (made(), "art.height", inch(10)),
        (made(), "art.thickness", mm(1)),
        (made(), "treatment.overlap", inch(1, 4)),
        (made(), "treatment.border", inch(4)),
        (made(), "mat.1.border.left", inch(13, 4)),
    ],
)
def test_what_a_work_is_given_can_be_put_in(package: Package, path: str, value: Length) -> None:
    anew, put = measured_anew(package, MATERIALS, {path: value})
    assert put == {path}
    assert length(anew, path) == value != length(package, path)


def test_a_board_measured_is_that_board_everywhere_in_the_work() -> None:
    anew, _ = measured_anew(made(), MATERIALS, {"mat.1.caliper": mm(17, 10)})
    boards = {**MATERIALS.boards, "white": replace(MATERIALS.boards["white"], caliper=mm(17, 10))}
    fresh = resolve(anew.work, PLAIN, replace(MATERIALS, boards=boards))
    assert {path: each.value for path, each in anew.figures.items()} == {
        path: each.value for path, each in fresh.figures.items()
    }
    assert length(anew, "stack.mount_board") == mm(17, 10)


def test_each_sheet_of_several_is_measured_by_itself() -> None:
    package = resolve(replace(work(art(inch(6), inch(8))), others=(art(inch(6), inch(8)),)), PLAIN, MATERIALS)
    anew, put = measured_anew(package, MATERIALS, {"opening.2.art.width": inch(5)})
    assert put == {"opening.2.art.width"}
    assert (length(anew, "opening.1.art.width"), length(anew, "opening.2.art.width")) == (inch(6), inch(5))
    assert measured_anew(package, MATERIALS, {"mat.1.border.top": inch(4)}) == (package, frozenset())


def test_what_follows_from_other_figures_is_left_as_it_is() -> None:
    package = made()
    assert measured_anew(package, MATERIALS, {"mat.1.blank.width": inch(9)}) == (package, frozenset())


def test_one_board_of_two_calipers_is_not_put_in() -> None:
    package = made(but(PLAIN, mats=(MatRule("white"), MatRule("white", inch(1, 4)))))
    found = {"mat.1.caliper": mm(15, 10), "mat.2.caliper": mm(17, 10)}
    assert measured_anew(package, MATERIALS, found) == (package, frozenset())


@pytest.mark.parametrize("path", ["art.width", "mat.1.caliper", "stack.glazing", "moulding.width"])
def test_a_length_that_cannot_be_is_refused_with_its_figure(path: str) -> None:
    with pytest.raises(BadInput, match=path.replace(".", r"\.")):
        measured_anew(made(FRAMED), MATERIALS, {path: Length(0)})
