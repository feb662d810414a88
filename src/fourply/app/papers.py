"""What a caller says of printed sheets before any is made."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from fourply.app.shows import Opened
from fourply.app.wording import PLAIN, Wording
from fourply.bench.cutter import NOMINAL, Cutter
from fourply.drawing.page import A4, LETTER, Paper
from fourply.drawing.record import Drawing
from fourply.measure.notation import Marks
from fourply.sheets.furniture import with_letterhead
from fourply.working.letterhead import NO_LETTERHEAD, Letterhead
from fourply.working.words import Words


@dataclass(frozen=True, slots=True)
class Papers:
    """On what paper, in whose words and terms sheets are printed, for which cutter, with what above and below."""

    paper: Paper
    words: Words
    cutter: Cutter = NOMINAL
    wording: Wording = PLAIN
    letterhead: Letterhead = NO_LETTERHEAD

    @classmethod
    def of_region(cls, *, metric: bool, paper: str | None = None) -> Papers:
        """Return the papers of a region: A4 and millimetres, or Letter and inches, unless a paper is named."""
        named = {A4.name.lower(): A4, LETTER.name.lower(): LETTER}
        default = A4 if metric else LETTER
        return cls(named.get(paper or "", default), Words(metric=metric, marks=Marks.TYPOGRAPHIC))

    @classmethod
    def of_show(cls, opened: Opened, paper: str | None = None, cutter: Cutter = NOMINAL) -> Papers:
        """Return the papers of a show, or those of another size of paper: a4 or letter."""
        show = opened.show
        region = cls.of_region(metric=show.unit.is_metric, paper=paper or show.paper)
        return cls(region.paper, region.words, cutter, Wording.of(show, opened.packages), show.letterhead)

    def pages(self, drawn: Iterable[Drawing]) -> Iterator[Drawing]:
        """Yield the pages of a sheet as they are printed: in the terms of their reader, with the shop's letterhead."""
        for each in drawn:
            yield with_letterhead(self.wording.drawing(each), self.letterhead)
