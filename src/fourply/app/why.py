"""Why a figure is what it is, in lines for a reader."""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace

from fourply.app.bench_figures import all_figures
from fourply.app.shows import Opened
from fourply.app.wording import Wording
from fourply.bench.cutter import NOMINAL, Cutter
from fourply.working.explain import Line, explain, line
from fourply.working.words import Words
from fourply.working.working import Figures


@dataclass(frozen=True, slots=True)
class Answer:
    """One figure answered: its path, the sentence of its value, its reason with the source, how deep it stands."""

    figure: str
    sentence: str
    reason: str
    depth: int
    line: Line

    def as_data(self) -> dict[str, object]:
        """Return the line as data for a program."""
        return asdict(self.line)


def why(opened: Opened, work: str, figure: str | None, cutter: Cutter = NOMINAL) -> tuple[Answer, ...]:
    """Return the answers for one figure and all it stands on, or one for every figure of the work, on a cutter.

    Raises Unknown for a work or figure that there is not.
    """
    figures, words = all_figures(opened.package(work), cutter), Words(metric=opened.show.unit.is_metric)
    say = Wording.of(opened.show, opened.packages).say
    every = answers(figures, figure, words) if figure else _each(figures, words)
    return tuple(replace(each, sentence=say(each.sentence), reason=say(each.reason)) for each in every)


def _each(figures: Figures, words: Words) -> tuple[Answer, ...]:
    return tuple(_answer(line(figures, path, words.with_unit)) for path in figures)


def answers(figures: Figures, figure: str, words: Words) -> tuple[Answer, ...]:
    """Return the answers for one figure and all it stands on; raises Unknown for one that is not there."""
    return tuple(_answer(each) for each in explain(figures, figure, words.with_unit))


def _answer(each: Line) -> Answer:
    if not each.arithmetic:
        return Answer(each.figure, f"{each.value} ({each.reason})", "", each.depth, each)
    source = f" [{each.source}]" if each.source else ""
    return Answer(each.figure, f"{each.arithmetic} = {each.value}", f"{each.reason}{source}", each.depth, each)
