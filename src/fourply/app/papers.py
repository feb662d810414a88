"""What a caller says of printed sheets before any is made."""

from __future__ import annotations

from dataclasses import dataclass

from fourply.bench.cutter import NOMINAL, Cutter
from fourply.drawing.page import A4, LETTER, Paper
from fourply.measure.notation import Marks
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
