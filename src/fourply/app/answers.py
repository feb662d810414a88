"""What planners were asked and what they answered, kept with a plan: from it every paper of the plan is made again.

`Recorder` stands before whatever does long work and notes each question with its answer. `Replay` stands in its place
later: it answers from the notes, and only where exactly the same is asked, so that a plan is never printed for a show
that has become another. What comes from notes is heard by the referees like what comes from planners.
"""

from __future__ import annotations

import base64
import json
import zlib
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import cast

from fourply.app.cutting import stock_place
from fourply.app.mixing import Mixed, Ways
from fourply.app.ports import Compute, Function, Task, Watch
from fourply.app.solving import Flat, FlatSolved, Long, solve
from fourply.errors import BadFile, BadPlan, FourplyError, PlanOutgrown
from fourply.files.codec import load, save
from fourply.files.kept import Leftover
from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.planning.mix_problem import MixProblem
from fourply.planning.mix_referee import check_mix
from fourply.planning.problem import Kind, Problem
from fourply.planning.referee import check
from fourply.planning.stick_problem import StickPlan, StickProblem
from fourply.planning.stick_referee import check_sticks
from fourply.trade.materials import Offcut

_MOST_BYTES = 256_000_000


@dataclass(frozen=True, slots=True)
class Question:
    """What was asked of one material; `ways` are its frames as they may be bought cut to size, None for none."""

    material: str
    problem: Problem | StickProblem
    ways: Ways | None = None

    @classmethod
    def of(cls, name: str, given: object) -> Question:
        """Return what a task asks, whatever its budget."""
        if isinstance(given, Flat):
            return cls(name, given.problem)
        if isinstance(given, Long):
            return cls(name, given.problem, given.ways)
        raise TypeError(name)


@dataclass(frozen=True, slots=True)
class Refusal:
    """That nothing of a material could be planned, and why."""

    why: str


@dataclass(frozen=True, slots=True)
class Answer:
    """A question and what came of it."""

    question: Question
    found: FlatSolved | StickPlan | Mixed | Refusal

    def hear(self) -> None:
        """Raise BadPlan where the answer is not one to its question."""
        match self.question.problem, self.found:
            case Problem() as asked, FlatSolved(problem, plan):
                if replace(asked, pieces=problem.pieces) != problem or not set(problem.pieces) <= set(asked.pieces):
                    raise BadPlan(f"{self.question.material}: the plan is of other pieces")
                check(problem, plan)
            case StickProblem() as asked, StickPlan() as plan:
                check_sticks(asked, plan)
            case StickProblem() as asked, Mixed() as mixed if self.question.ways is not None:
                _hear_mixed(asked, self.question.ways, mixed)
            case _, Refusal():
                pass
            case _:
                raise BadPlan(f"{self.question.material}: the plan is of another kind of material")


def _hear_mixed(asked: StickProblem, ways: Ways, mixed: Mixed) -> None:
    kept = {rail for each in ways.may for rail in each.rails}
    loose = tuple(rail for rail in asked.rails if rail.key not in kept)
    if mixed.length is not None:
        check_sticks(asked, mixed.length)
    if (mixed.rest is None) != (not loose):
        raise BadPlan("the rails that cannot be bought are not those that are cut")
    if mixed.rest is not None:
        check_sticks(replace(asked, rails=loose), mixed.rest)
    check_mix(MixProblem(asked, ways.may), mixed.best)
    check_mix(MixProblem(asked, ways.chosen), mixed.chosen)


@dataclass(frozen=True, slots=True)
class Answers:
    """Everything that one planning of a show asked and was answered, and the rack as it then was."""

    rack: tuple[Offcut, ...]
    given: tuple[Answer, ...]

    def text(self) -> str:
        """Return it as it is kept: its document, packed, since the history holds a plan before and after each change.

        >>> Answers.read(Answers((), ()).text()).given
        ()
        """
        document = json.dumps(save(self), ensure_ascii=False, separators=(",", ":"))
        return base64.b85encode(zlib.compress(document.encode(), 9)).decode()

    @classmethod
    def read(cls, text: str) -> Answers:
        """Return what is kept; raises BadFile."""
        try:
            return load(cls, _unpacked(text), "plan")
        except RecursionError as bad:
            raise BadFile("plan", "a plan that is nested too deep", "one as a planner makes it") from bad

    def pulled(self) -> tuple[int, ...]:
        """Return which pieces of the rack are used, by their places in it; raises BadPlan for one that it has not."""
        boards = (each.found.plan.uses() for each in self.given if isinstance(each.found, FlatSolved))
        try:
            used = {stock_place(source) for uses in boards for source in uses if source.kind is Kind.RACK}
        except ValueError as bad:
            raise BadPlan("it is cut from a piece without a number") from bad
        if not all(0 <= place < len(self.rack) for place in used):
            raise BadPlan("it is cut from a piece that the rack did not have")
        return tuple(sorted(used))

    def leaves(self) -> tuple[Leftover, ...]:
        """Return what is worth keeping once everything is cut."""
        found: Counter[tuple[str, Size]] = Counter()
        for each in self.given:
            if isinstance(each.found, FlatSolved):
                plan = each.found.plan
                for board, box in plan.remnants():
                    found[each.question.material, Size(Length(box.w), Length(box.h))] += plan.boards[board].copies
        return tuple(Leftover(material, size, copies) for (material, size), copies in found.items())


def _unpacked(text: str) -> object:
    """Return the document in a text; raises BadFile for anything else, or one too large to be of a show."""
    unpacking = zlib.decompressobj()
    try:
        document = unpacking.decompress(base64.b85decode(text), _MOST_BYTES)
        found: object = json.loads(document)
    except (ValueError, zlib.error) as bad:
        raise BadFile("plan", "no answers of planners", "them as they were kept") from bad
    return found


class Recorder:
    """Does long work by another, and notes what was asked and answered."""

    def __init__(self, compute: Compute) -> None:
        self._compute = compute
        self.answers: list[Answer] = []

    def __call__[T, R](
        self, function: Function[T, R], tasks: Sequence[Task[T]], watch: Watch
    ) -> list[R | FourplyError]:
        """Return what the other makes of the tasks."""
        results = self._compute(function, tasks, watch)
        for task, result in zip(tasks, results, strict=True) if _plans(function) else ():
            found = result if isinstance(result, FlatSolved | StickPlan | Mixed) else Refusal(str(result))
            self.answers.append(Answer(Question.of(task.name, task.given), found))
        return results


class Replay:
    """Answers from notes what planners would be asked, and has all other work done.

    `plan` is what the plan is called, for whoever is told that it no longer fits.
    """

    def __init__(self, plan: str, answers: Answers, compute: Compute) -> None:
        self._plan = plan
        self._answers = answers
        self._compute = compute

    def __call__[T, R](
        self, function: Function[T, R], tasks: Sequence[Task[T]], watch: Watch
    ) -> list[R | FourplyError]:
        """Return what was answered to the same questions; raises PlanOutgrown where others are asked, BadPlan."""
        if not _plans(function):
            return self._compute(function, tasks, watch)
        asked = [Question.of(task.name, task.given) for task in tasks]
        changed = tuple(dict.fromkeys(self._changed(asked)))
        if changed:
            raise PlanOutgrown(self._plan, changed)
        results: list[R | FourplyError] = []
        for at, question in enumerate(asked):
            watch.waiting()
            answer = next(each for each in self._answers.given if each.question == question)
            answer.hear()
            results.append(_as_before(answer.found))
            watch.finished(at)
        return results

    def _changed(self, asked: Sequence[Question]) -> Iterator[str]:
        """Yield the materials of which something else is asked, or nothing any more."""
        known = [each.question for each in self._answers.given]
        yield from (each.material for each in asked if each not in known)
        yield from (each.material for each in known if each not in asked)


def _plans(function: object) -> bool:
    """Tell whether a function is the one that plans."""
    return function is solve


class _Refused(FourplyError):
    """A refusal told again."""


def _as_before[R](found: object) -> R | FourplyError:
    return _Refused(found.why) if isinstance(found, Refusal) else cast("R", found)
