"""A ticket holds: nothing on top of anything, nothing off the page, everything on it that must be."""

from __future__ import annotations

import io
from dataclasses import replace

import pdfplumber
import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st
from tests.sheets.samples import INCHES, MILLIMETRES, TICKETS
from tests.trade.cases import artworks, made, treatments

from fourply.bench.cutter import Cutter, Side, StopDatum
from fourply.drawing.check import collisions, crossed, strays
from fourply.drawing.page import A4, LETTER, Paper
from fourply.drawing.record import Drawing
from fourply.drawing.text import PT, clean
from fourply.errors import BadTreatment
from fourply.render import pdf
from fourply.sheets.furniture import with_letterhead
from fourply.sheets.ticket import compose_ticket
from fourply.sheets.ticket_view import Context, ticket_view
from fourply.sheets.view import FindingRow, FirstStep, TicketView, Weight, WorkingRow
from fourply.trade.treatment import Treatment
from fourply.trade.work import Artwork
from fourply.working.letterhead import Letterhead
from fourply.working.words import Words

PAPERS = (A4, LETTER)
VIEWS = {name: ticket_view(package, context) for name, (package, context) in TICKETS.items()}
# a page takes long to lay out, and a smaller page is no clearer: what fails is shown as it was found
PAGES = settings(
    max_examples=50,
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow],
)
texts_of_any_kind = st.text(st.characters(codec="utf-8"), max_size=90)


def faults(pages: tuple[Drawing, ...]) -> list[object]:
    return [fault for page in pages for fault in (*collisions(page), *strays(page, margin=10), *crossed(page))]


def texts(pages: tuple[Drawing, ...]) -> str:
    return " ".join(label.text for page in pages for label in page.labels)


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.name)
@pytest.mark.parametrize("name", VIEWS)
def test_nothing_stands_on_anything_or_leaves_the_page(name: str, paper: Paper) -> None:
    assert faults(compose_ticket(VIEWS[name], paper)) == []


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.name)
@pytest.mark.parametrize("name", VIEWS)
def test_a_letterhead_of_any_length_stands_clear_of_the_page(name: str, paper: Paper) -> None:
    long = Letterhead.of(
        ("Weir Lane Framing " * 6, "3 Weir Lane, " * 9), ("555 0100 " * 13, "weir.example " * 9), "x " * 60
    )
    pages = tuple(with_letterhead(page, long) for page in compose_ticket(VIEWS[name], paper))
    assert [
        fault for page in pages for fault in (*collisions(page), *strays(page, margin=6), *crossed(page))
    ] == []  # a printer reaches to within 6 mm of the edge


@PAGES
@given(
    artworks(), treatments(), st.sampled_from((INCHES, MILLIMETRES)), st.sampled_from(Side), st.sampled_from(StopDatum)
)
def test_whatever_can_be_resolved_makes_a_clean_ticket(
    artwork: Artwork,
    treatment: Treatment,
    words: Words,
    side: Side,
    datum: StopDatum,
) -> None:
    try:
        package = made(treatment, artwork)
    except BadTreatment:
        assume(False)  # noqa: FBT003
    context = Context("Show", "1 of 9", Cutter(guide=side, stops=datum), words)
    assert faults(compose_ticket(ticket_view(package, context), A4 if words.metric else LETTER)) == []


@PAGES
@given(
    texts_of_any_kind,
    texts_of_any_kind,
    texts_of_any_kind,
    st.lists(texts_of_any_kind, max_size=30),
    st.sampled_from(PAPERS),
)
def test_no_words_can_make_an_unclean_ticket(number: str, title: str, who: str, said: list[str], paper: Paper) -> None:
    view = replace(
        VIEWS["double"],
        number=number,
        title=title,
        lines=(who, title),
        corner=(who,),
        findings=tuple(FindingRow(Weight.CAUTION, text) for text in said),
        workings=tuple(WorkingRow(text, text) for text in said),
        fitting=tuple(said),
        first=tuple(FirstStep(text, text) for text in said[:3]),
    )
    assert faults(compose_ticket(view, paper)) == []


@pytest.mark.parametrize("name", VIEWS)
def test_no_type_is_smaller_than_the_least(name: str) -> None:
    for page in compose_ticket(VIEWS[name], LETTER):
        assert min(label.size for label in page.labels) / PT >= 6.6 - 1e-6


@pytest.mark.parametrize("name", VIEWS)
def test_every_piece_setting_and_line_is_on_the_ticket_once_it_is_asked_for(name: str) -> None:
    view = VIEWS[name]
    shown = texts(compose_ticket(view, LETTER))
    for piece in view.pieces:
        assert piece.size in shown
    for row in view.settings.rows:
        assert all(guide.text in shown for guide in row.guides)
    for text in [finding.text for finding in view.findings] + [row.arithmetic for row in view.workings]:
        assert text.split()[-1] in shown


def test_the_size_to_cut_is_the_largest_type_among_the_lists() -> None:
    (page, *_) = compose_ticket(VIEWS["double"], LETTER)
    sizes = {label.text: label.size for label in page.labels}
    assert sizes[VIEWS["double"].pieces[0].size] / PT >= 12.5


def test_what_has_no_room_goes_to_the_back_and_never_away() -> None:
    view = VIEWS["double"]
    many = replace(view, findings=tuple(FindingRow(Weight.NOTE, f"finding {i} of a good many") for i in range(150)))
    pages = compose_ticket(many, A4)
    assert len(pages) > 2
    assert all(f"finding {i} of a good many" in texts(pages) for i in range(150))
    assert faults(pages) == []


def test_more_settings_than_a_page_holds_go_on_further_pages() -> None:
    view = VIEWS["triple"]
    rows = tuple(replace(row, name=f"opening no. {i}") for i, row in enumerate(view.settings.rows * 5))
    pages = compose_ticket(replace(view, settings=replace(view.settings, rows=rows)), LETTER)
    assert all(texts(pages).count(f"opening no. {i} ") == 1 for i in range(20))
    assert faults(pages) == []


def test_what_is_amiss_stays_in_front_where_it_has_room() -> None:
    (front, *_) = compose_ticket(VIEWS["float"], LETTER)
    assert "touches the glazing" in texts((front,))


def test_a_title_that_cannot_be_set_is_shown_as_missing() -> None:
    view: TicketView = replace(VIEWS["stamp"], title="川の流れ")
    assert clean("川の流れ") in texts(compose_ticket(view, A4))


def test_real_fractions_are_read_back_from_the_page() -> None:
    page = pdfplumber.open(io.BytesIO(pdf.render(compose_ticket(VIEWS["double"], LETTER)))).pages[0]
    assert "16 1⁄2 × 19 3⁄4" in "".join(char["text"] for char in page.chars)
