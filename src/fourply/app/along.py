"""How far a work has come, as a framer says it: measured, designed, cut, framed, hung."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from enum import Enum
from types import MappingProxyType

from fourply.app.keep import Desk
from fourply.app.ports_store import Kind
from fourply.errors import BadInput
from fourply.files.kept import KeptShow, KeptWork, Stage


class Along(Enum):
    """How far a work is; each is further than the one before it."""

    MEASURED = "measured"
    DESIGNED = "designed"
    CUT = "cut"
    FRAMED = "framed"
    HUNG = "hung"

    @property
    def strokes(self) -> int:
        """How many of the five strokes are drawn tall.

        >>> Along.CUT.strokes
        3
        """
        return list(Along).index(self) + 1


_REACHED: Mapping[Stage, Along] = MappingProxyType(
    {Stage.IN_HAND: Along.CUT, Stage.READY: Along.FRAMED, Stage.DELIVERED: Along.HUNG}
)
_STAGES: Mapping[Along, Stage] = MappingProxyType({along: stage for stage, along in _REACHED.items()})


def along(work: KeptWork, show: KeptShow) -> Along:
    """Return how far a work is: designed as soon as the show, a treatment or the work itself says how."""
    listed = work.listed
    if work.stage in _REACHED:
        return _REACHED[work.stage]
    ruled = listed.treatment or listed.own.values or any(each.values for each in listed.openings)
    return Along.DESIGNED if ruled or show.defaults.values else Along.MEASURED


def stage_for(word: str) -> Stage:
    """Return the stage that a word of a framer means; raises BadInput.

    >>> stage_for("framed")
    <Stage.READY: 'ready'>
    """
    try:
        return _STAGES.get(Along(word.strip().lower()), Stage.TO_DO)
    except ValueError:
        raise BadInput(word, f"one of {', '.join(each.value for each in Along)}") from None


def progress(desk: Desk, show: str, head: KeptShow) -> Mapping[Along, int]:
    """Return how many works of a show have come at least so far."""
    found = Counter(
        along(each.value, head) for each in desk.store.every(Kind.WORK, show) if isinstance(each.value, KeptWork)
    )
    return {each: sum(found[other] for other in Along if other.strokes >= each.strokes) for each in Along}
