"""What is true to size: templates for the hand and files for machines that cut, of one work of a show."""

from __future__ import annotations

from enum import Enum
from pathlib import Path

from fourply.app.papers import Papers
from fourply.app.shows import Opened
from fourply.app.writing import file_name, write_file
from fourply.render import dxf, pdf, svg_cut
from fourply.sheets.cut_drawing import Follow, board_drawings, work_drawing
from fourply.sheets.template import compose_template
from fourply.sheets.template_view import View, template_view
from fourply.working.words import Words

__all__ = ["Follow", "Format", "View", "write_cut_files", "write_template"]


class Format(Enum):
    """The formats of files for machines; the value is the end of their names."""

    DXF = "dxf"
    SVG = "svg"


_WRITERS = {Format.DXF: dxf.render, Format.SVG: svg_cut.render}


def write_template(opened: Opened, work: str, view: View, papers: Papers, out: Path | None) -> tuple[Path, int]:
    """Write the full-size template of a work as a PDF; returns the file and how many pages it has.

    Without `out` it is named after the work and the view, in the present folder. Raises Unknown for a work that is
    not there, OSError where the file cannot be written.
    """
    package = opened.package(work)
    seen = papers.wording.view(template_view(package, papers.words, view, show=opened.show.title))
    pages = [papers.wording.drawing(each) for each in compose_template(seen, papers.paper)]
    path = out or Path(f"{file_name(work)}-template-{view.value}.pdf")
    return write_file(path, pdf.render(pages, title=pages[0].title)), len(pages)


def write_cut_files(
    opened: Opened, work: str, kind: Format, seen: tuple[View, Follow], out: Path
) -> tuple[tuple[Path, str], ...]:
    """Write a file for each board of a work into the folder `out`, and one with all of them in their places.

    `seen` is the side from which the mats are seen and the line of a bevel that the machine follows. Returns each file
    with what it is. Raises as `write_template` does.
    """
    package = opened.package(work)
    words, (view, follow) = Words(metric=opened.show.unit.is_metric), seen
    out.mkdir(parents=True, exist_ok=True)

    title = opened.show.title
    drawings = list(board_drawings(package, words, view, follow, show=title))
    if len(drawings) > 1:
        drawings.append(("all boards", work_drawing(package, words, view, follow, show=title)))
    end = f"{view.value}-{follow.value}.{kind.value}"
    return tuple(
        (write_file(out / f"{file_name(work)}-{name.replace(' ', '-')}-{end}", _WRITERS[kind](drawing)), drawing.title)
        for name, drawing in drawings
    )
