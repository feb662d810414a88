"""Whatever shapes and accents a package has, its ticket is clean."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from tests.bench.drawn import Case, shaped
from tests.sheets.samples import INCHES, MILLIMETRES
from tests.sheets.test_ticket import PAGES, faults

from fourply.bench.cutter import Cutter, Side, StopDatum
from fourply.drawing.page import A4, LETTER
from fourply.sheets.ticket import compose_ticket
from fourply.sheets.ticket_view import Context, ticket_view
from fourply.working.words import Words


@PAGES
@given(shaped(), st.sampled_from((INCHES, MILLIMETRES)), st.sampled_from(Side), st.sampled_from(StopDatum))
def test_whatever_shape_can_be_resolved_makes_a_clean_ticket(
    case: Case, words: Words, side: Side, datum: StopDatum
) -> None:
    context = Context("Show", "1 of 9", Cutter(guide=side, stops=datum), words)
    assert faults(compose_ticket(ticket_view(case.package, context), A4 if words.metric else LETTER)) == []
