"""Makes the gallery of the documentation from its show file: python scripts/gallery.py.

One work of `docs/gallery/gallery.toml` gives one drawing beside it and one entry of `docs/gallery.md`, which shows what
the file says of that work. A section stands beside the front view where the mats are cut in more than one way.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path

from fourply.app.shows import open_show
from fourply.drawing.ink import Ink
from fourply.drawing.pen import Path as Line
from fourply.drawing.record import Drawing, Recorder
from fourply.drawing.shapes import Box, rectangle
from fourply.files.works import Asked
from fourply.measure.notation import Marks
from fourply.render import svg
from fourply.sheets.front import compose_front
from fourply.sheets.front_view import front_view
from fourply.sheets.section import compose_section
from fourply.sheets.section_view import section_view
from fourply.trade.package import Package
from fourply.trade.treatment import Bevel
from fourply.working.words import Words

DOCS = Path(__file__).parent.parent / "docs"
SHOW = DOCS / "gallery" / "gallery.toml"
WORDS = Words(metric=False, marks=Marks.TYPOGRAPHIC)
_FRONT, _SECTION, _HIGH = 104.0, 90.0, 100.0
_UNSAID = re.compile(r"^(\[\[work\]\]|id = .*|title = .*|size = .*|)$")
_HEAD = """# Gallery

Every shape and every accent once, as the front view and, where the cut is worth a look, the section of a ticket. Under
each stands what the show file says of it, beside its size; all of it is one file, [gallery.toml](gallery/gallery.toml),
to read, copy and run:

```sh
./run make docs/gallery/gallery.toml --out bench
```

All keys are explained under [shows](shows.md#the-show-file). This page and its drawings are made from that file by
`scripts/gallery.py`.
"""


def main() -> None:
    """Write the drawings and the page."""
    opened = open_show(SHOW, Asked(None, None))
    if opened.faults:
        raise SystemExit("\n".join(str(fault) for fault in opened.faults))
    for package in opened.packages:
        (SHOW.parent / f"{package.work.id}.svg").write_bytes(svg.render(picture(package)))
    (DOCS / "gallery.md").write_text(page(opened.packages), encoding="utf-8")


def page(packages: Sequence[Package]) -> str:
    """Return the page: every work with its drawing and what the show file says of it."""
    entries = dict(_entries(SHOW.read_text(encoding="utf-8")))
    works = (package.work for package in packages)
    parts = (f"## {work.title}\n\n![{work.title}](gallery/{work.id}.svg)\n\n{entries[work.id]}\n" for work in works)
    return "\n".join((_HEAD, *parts))


def _entries(text: str) -> Iterator[tuple[str, str]]:
    """Yield the id of each work of the show file and what is to be shown of its lines."""
    for part in text.split("\n[[work]]\n")[1:]:
        found = re.search(r'^id = "(.*)"$', part, re.MULTILINE)
        if found is None:
            raise SystemExit("every work of the gallery has an id")
        several = "[[work.opening]]" in part
        lines = [line for line in part.splitlines() if line if several or not _UNSAID.match(line)]
        said = "\n".join(line for line in lines if not line.startswith(("id = ", "title = ")))
        yield found[1], f"```toml\n{said}\n```" if said else "Nothing need be said: this is what a window is."


def picture(package: Package) -> Drawing:
    """Return the drawing of one work, on white, since pages may be dark."""
    wide = _FRONT + (_SECTION if _is_worth_a_section(package) else 0.0)
    pen = Recorder()
    pen.path(Line(rectangle(Box(0, 0, wide, _HIGH)), None, Ink.PAPER))
    compose_front(pen, Box(3, 2, _FRONT - 3, _HIGH - 3), front_view(package, WORDS))
    if wide > _FRONT:
        compose_section(pen, Box(_FRONT + 2, 2, wide - 3, _HIGH - 3), section_view(package, WORDS))
    return pen.drawing(wide, _HIGH, title=package.work.title)


def _is_worth_a_section(package: Package) -> bool:
    top = package.mats[0]
    accents = (top.all_grooves, package.inlay, package.sink, package.lifts)
    return any(accents) or len(package.mats) > 1 or top.opening.bevel is Bevel.REVERSE


if __name__ == "__main__":
    main()
