"""The section shows what it cuts: every mat with its bevel, every layer once, front to back."""

from __future__ import annotations

import pytest
from tests.trade.cases import FRAMED, but, inch, made

from fourply.sheets.section_view import section_view
from fourply.trade.treatment import Bevel, MatRule
from fourply.working.words import Words

WORDS = Words(metric=False)
RULES = (MatRule("white"), MatRule("grey", inch(1, 4)), MatRule("thin", inch(1, 8)), MatRule("white", inch(1, 8)))


@pytest.mark.parametrize("count", [1, 2, 3, 4])
@pytest.mark.parametrize("bevel", list(Bevel))
def test_every_mat_is_cut_at_a_slant_at_its_window(count: int, bevel: Bevel) -> None:
    rules = tuple(MatRule(rule.board, rule.reveal, rule.means, bevel) for rule in RULES[:count])
    view = section_view(made(but(FRAMED, mats=rules)), WORDS)
    slanted = [
        layer.name
        for layer in view.layers
        if any(
            start[0] != end[0] and start[1] != end[1]
            for area in layer.areas
            for start, end in zip(area, (*area[1:], area[0]), strict=True)
        )
    ]
    names = ("top mat", "under-mat", "second under-mat", "third under-mat")[:count]
    assert [name.rsplit(" ", 1)[0] for name in slanted] == list(names)


def test_the_layers_stand_front_to_back_as_they_are_stacked() -> None:
    package = made(but(FRAMED, mats=RULES[:2], spacer="spacer"))
    view = section_view(package, WORDS)
    assert [layer.name.rsplit(" ", 1)[0] for layer in view.layers] == [layer.name for layer in package.stack.layers]
