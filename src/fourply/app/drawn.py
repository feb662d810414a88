"""What is drawn of one work, as bytes: its ticket, its views, its templates, its files for machines."""

from __future__ import annotations

import io
from pathlib import Path
from tempfile import TemporaryDirectory
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from fourply.app.full_size import Follow, Format, View, write_cut_files, write_template
from fourply.app.papers import Papers
from fourply.app.ports import Progress, silent
from fourply.app.printing import TicketOrder, front_drawings, print_pages
from fourply.app.shows import Opened
from fourply.drawing.record import Recorder
from fourply.render import svg
from fourply.sheets.furniture import content
from fourply.sheets.section import compose_section
from fourply.sheets.section_view import section_view

__all__ = ["Follow", "Format", "View", "cut_files", "front", "papers_of", "section", "template", "tickets"]


def papers_of(opened: Opened, paper: str | None = None) -> Papers:
    """Return the papers of a show, or those of another size of paper: a4 or letter."""
    return Papers.of_show(opened, paper)


def tickets(opened: Opened, papers: Papers, progress: Progress = silent) -> bytes:
    """Return the tickets of every work of a show as a PDF; where pieces are cut from is left open."""

    def tell(done: int, total: int) -> bool:
        progress("tickets", done, total)
        return True

    return print_pages(TicketOrder(opened.show.title, opened.packages, {}, papers, {}), tell)


def ticket(opened: Opened, work: str, papers: Papers) -> bytes:
    """Return the ticket of one work as a PDF; raises Unknown."""
    order = TicketOrder(opened.show.title, (opened.package(work),), {}, papers, {})
    return print_pages(order, lambda _, __: True)


def front(opened: Opened, work: str, papers: Papers) -> bytes:
    """Return the front view of a work with its dimensions as an SVG; raises Unknown."""
    return next(data for _, data in front_drawings((opened.package(work),), papers, silent))


def section(opened: Opened, work: str, papers: Papers) -> bytes:
    """Return the section through the bottom edge of a work as an SVG; raises Unknown."""
    package, pen, paper = opened.package(work), Recorder(), papers.paper
    compose_section(pen, content(paper), papers.wording.view(section_view(package, papers.words)))
    return svg.render(papers.wording.drawing(pen.drawing(paper.width, paper.height, title=f"{work} section")))


def template(opened: Opened, work: str, view: View, papers: Papers) -> bytes:
    """Return the full-size template of a work as a PDF; raises Unknown."""
    with TemporaryDirectory() as folder:
        file, _ = write_template(opened, work, view, papers, Path(folder) / "template.pdf")
        return file.read_bytes()


def cut_files(opened: Opened, work: str, kind: Format, seen: tuple[View, Follow]) -> bytes:
    """Return the files of a work for a machine, packed in one (ZIP); raises Unknown."""
    packed = io.BytesIO()
    with TemporaryDirectory() as folder, ZipFile(packed, "w", ZIP_DEFLATED) as archive:
        for file, _ in write_cut_files(opened, work, kind, seen, Path(folder)):
            archive.writestr(ZipInfo(file.name), file.read_bytes())  # without a date: the same cuts, the same bytes
    return packed.getvalue()
