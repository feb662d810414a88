"""The printed sheets and drawings of a show, as bytes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from fourply.app.cutting import Cutting
from fourply.app.ports import Progress
from fourply.app.shows import Opened
from fourply.app.whereabouts import whereabouts
from fourply.bench.cutter import NOMINAL, Cutter
from fourply.drawing.page import A4, LETTER, Paper
from fourply.drawing.record import Drawing, Recorder
from fourply.measure.notation import Marks
from fourply.render import pdf, svg
from fourply.sheets.cutting import compose_boards
from fourply.sheets.cutting_view import CutJob, board_views, windows_of
from fourply.sheets.front import compose_front
from fourply.sheets.front_view import front_view
from fourply.sheets.furniture import content
from fourply.sheets.ticket import compose_ticket
from fourply.sheets.ticket_view import Context, ticket_view
from fourply.trade.package import Package
from fourply.working.words import Words


@dataclass(frozen=True, slots=True)
class Papers:
    """On what paper and in whose words sheets are printed, and for which cutter."""

    paper: Paper
    words: Words
    cutter: Cutter = NOMINAL

    @classmethod
    def of_region(cls, *, metric: bool, paper: str | None = None) -> Papers:
        """Return the papers of a region: A4 and millimetres, or Letter and inches, unless a paper is named."""
        named = {A4.name.lower(): A4, LETTER.name.lower(): LETTER}
        default = A4 if metric else LETTER
        return cls(named.get(paper or "", default), Words(metric=metric, marks=Marks.TYPOGRAPHIC))


def ticket_pages(opened: Opened, cutting: Cutting, papers: Papers, progress: Progress) -> bytes:
    """Return `tickets.pdf`: a page a work, more where one does not hold it."""
    sources = whereabouts(cutting)
    total = len(opened.packages)

    def drawings() -> Iterator[Drawing]:
        for number, package in enumerate(opened.packages, start=1):
            progress("tickets", number - 1, total)
            context = Context(opened.show.title, f"ticket {number} of {total}", papers.cutter, papers.words, sources)
            yield from compose_ticket(ticket_view(package, context), papers.paper)
        progress("tickets", total, total)

    return pdf.render(drawings(), title=f"{opened.show.title}: tickets")


def cutting_pages(opened: Opened, cutting: Cutting, papers: Papers, progress: Progress) -> bytes:
    """Return `cutting.pdf`: a page a board, glazing and backing sheets among them; identical boards share one."""
    windows = windows_of(opened.packages)

    def drawings() -> Iterator[Drawing]:
        for number, flat in enumerate(cutting.flats):
            progress("cutting", number, len(cutting.flats))
            show, words = opened.show.title, papers.words
            job = CutJob(show, flat.material, flat.parts, flat.problem, flat.plan, words, windows)
            yield from compose_boards(board_views(job), papers.paper)
        progress("cutting", len(cutting.flats), len(cutting.flats))

    return pdf.render(drawings(), title=f"{opened.show.title}: cutting")


def front_drawings(packages: Iterable[Package], papers: Papers, progress: Progress) -> Iterator[tuple[str, bytes]]:
    """Yield the front view of each work as an SVG with its file name."""
    packages = tuple(packages)
    taken: set[str] = set()
    for number, package in enumerate(packages):
        progress("drawings", number, len(packages))
        yield _free_name(package.work.id, taken), svg.render(_front(package, papers))
    progress("drawings", len(packages), len(packages))


def _front(package: Package, papers: Papers) -> Drawing:
    pen, paper = Recorder(), papers.paper
    compose_front(pen, content(paper), front_view(package, papers.words))
    return pen.drawing(paper.width, paper.height, title=f"{package.work.id} {package.work.title}")


def _free_name(work: str, taken: set[str]) -> str:
    """Return a file name for a work's number: letters and digits only, no two alike, no path in it."""
    base = re.sub(r"[^A-Za-z0-9-]+", "_", work)[:60].strip("_") or "work"
    name, more = base, 1
    while name.lower() in taken:
        more += 1
        name = f"{base}_{more}"
    taken.add(name.lower())
    return f"{name}-front.svg"
