"""What a whole wall comes to, and the few things that its page asks for besides the works."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fourply.app.keep import Desk
from fourply.app.ports_store import Kind, Record
from fourply.app.shows import Opened
from fourply.app.wording import Wording
from fourply.errors import Unknown
from fourply.files.kept import KeptWork
from fourply.files.show import Show
from fourply.measure.length import Length, total
from fourply.sheets.wall import SCALE, Tick, finished, rule_ticks
from fourply.trade.package import Package
from fourply.working.words import Words

__all__ = ["SCALE", "Totals", "free_number", "number_of", "opened", "ticks", "totals"]
_APART = Length.inches(4)
_APART_METRIC = Length.mm(100)


@dataclass(frozen=True, slots=True)
class Totals:
    """Frames, window mats, the length of wall that all take side by side, the net length of each moulding."""

    frames: int
    mats: int
    wall: str
    apart: str
    mouldings: Mapping[str, str]
    findings: Sequence[tuple[str, str]]


def totals(packages: Sequence[Package], show: Show) -> Totals:
    """Return what works come to that can be made, each as often as it is wanted."""
    metric, say = show.unit.is_metric, Wording.of(show, packages).say
    words = Words(metric=metric)
    apart = _APART_METRIC if metric else _APART
    widths = [finished(each).width for each in packages for _ in range(each.work.copies)]
    wall = total(widths) + apart * max(0, len(widths) - 1)
    rails: Counter[str] = Counter()
    for each in packages:
        for rail in each.frame.rails if each.frame else ():
            rails[rail.moulding.name] += rail.long_point.nm * rail.count * each.work.copies
    findings: dict[str, list[str]] = {}
    for each in packages:
        for finding in each.findings:
            findings.setdefault(finding.sentence(words.write), []).append(each.work.id)
    return Totals(
        sum(each.work.copies for each in packages if each.frame),
        sum(len(each.mats) * each.work.copies for each in packages),
        _long(wall, metric=metric),
        f"{words.write(apart)} {words.unit.value} apart",
        {name: _long(Length(nm), metric=metric) for name, nm in sorted(rails.items())},
        [(_few(numbers), say(sentence)) for sentence, numbers in findings.items()],
    )


def _few(numbers: Sequence[str]) -> str:
    """Return the numbers of works that have something in common, the first few of many.

    >>> _few(["1", "2"]), _few([*"12345"])
    ('1, 2', '1, 2, 3 and 2 more')
    """
    shown = list(dict.fromkeys(numbers))
    return ", ".join(shown) if len(shown) <= 4 else f"{', '.join(shown[:3])} and {len(shown) - 3} more"


def _long(length: Length, *, metric: bool) -> str:
    """Return a length by which nobody cuts: in feet and inches up to the next inch, in metres up to the next tenth.

    >>> _long(Length.inches(30), metric=False), _long(Length.mm(2540), metric=True)
    ('2 ft 6 in', '2.6 m')
    """
    if metric:
        tenths = -(-length.nm // Length.mm(100).nm)
        return f"{tenths // 10}.{tenths % 10} m"
    feet, inches = divmod(-(-length.nm // Length.inches(1).nm), 12)
    return f"{feet} ft {inches} in" if inches else f"{feet} ft"


def ticks(*, metric: bool) -> tuple[Tick, ...]:
    """Return the divisions of the rule along the wall."""
    return tuple(rule_ticks(metric=metric))


def opened(show: Show, packages: Sequence[Package]) -> Opened:
    """Return a show with these of its works."""
    return Opened(show, tuple(packages), show.faults)


def number_of(record: Record) -> str:
    """Return the number of a work; raises Unknown for another record."""
    if not isinstance(record.value, KeptWork):
        raise Unknown(Kind.WORK.value, record.id, ())
    return record.value.listed.work.id


def free_number(desk: Desk, show: str) -> str:
    """Return the next number that no work of a show has."""
    taken = {number_of(each) for each in desk.store.every(Kind.WORK, show, archived=None)}
    number = 1 + max((int(each) for each in taken if each.isdecimal() and len(each) < 9), default=0)
    return str(number)
