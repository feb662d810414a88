"""What a planner of sticks is asked and answers: rails and strips from lengths of moulding or spacer.

A rail is its long-point length; the triangles between two mitred rails lie beyond the sight edge and cost no length.
`kerf` is all that is lost between one rail and the next (two saw cuts for mitres cut singly, none for a chopper).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from fourply.errors import BadInput


def _check(*, ok: bool, found: str, expected: str) -> None:
    if not ok:
        raise BadInput(found, expected)


def _length(name: str, nm: int, least: int = 1) -> None:
    ok = type(nm) is int and nm >= least
    _check(ok=ok, found=f"{name}: {nm!r}", expected=f"a whole number of nanometres from {least}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail:
    """A length wanted `copies` times; the rails of one `group` must all come from one stick, copy by copy."""

    key: str
    length: int
    copies: int = 1
    group: str | None = None

    def __post_init__(self) -> None:
        _length(f"rail {self.key}", self.length)
        ok = type(self.copies) is int and self.copies > 0
        _check(ok=ok, found=f"copies {self.copies!r}", expected="a positive whole number")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """A kind of stick: length, cost, how many (None: as many as wanted), damage as (start, length) along it.

    A `leftover` is in hand and has a clean end; a stick on sale loses the start trim.
    """

    key: str
    length: int
    cost: int
    copies: int | None = None
    leftover: bool = False
    defects: tuple[tuple[int, int], ...] = ()

    def __post_init__(self) -> None:
        _length(f"stick {self.key}", self.length)
        ok = type(self.cost) is int and self.cost >= 0 and (self.copies is None or self.copies >= 0)
        _check(ok=ok, found=f"cost {self.cost!r}, copies {self.copies!r}", expected="whole numbers")
        inside = all(s >= 0 and n > 0 and s + n <= self.length for s, n in self.defects)
        _check(ok=inside, found=f"damage off stick {self.key}", expected="damage on it")


@dataclass(frozen=True, slots=True, kw_only=True)
class StickProblem:
    """Rails, sticks, what each cut and each fresh end loses, and the least leftover worth keeping (all in nm)."""

    rails: tuple[Rail, ...]
    sticks: tuple[Stick, ...]
    kerf: int = 0
    start_trim: int = 0
    keep: int | None = None

    def __post_init__(self) -> None:
        _check(ok=bool(self.rails), found="no rail", expected="at least one rail to cut")
        for name, keys in (("rail", [r.key for r in self.rails]), ("stick", [s.key for s in self.sticks])):
            _check(ok=len(set(keys)) == len(keys), found=f"a key of a {name} twice", expected="different keys")
        _length("kerf", self.kerf, 0)
        _length("start trim", self.start_trim, 0)
        for group, copies in self.groups().items():
            _check(ok=len(copies) == 1, found=f"group {group} with unequal copies", expected="as many of each rail")

    def groups(self) -> dict[str, set[int]]:
        """Return the copies that the rails of each group have; one number where they can stay together."""
        found: dict[str, set[int]] = {}
        for rail in self.rails:
            if rail.group is not None:
                found.setdefault(rail.group, set()).add(rail.copies)
        return found

    def spans(self, stick: Stick) -> tuple[tuple[int, int], ...]:
        """Return the sound parts of a stick as (start, length), in order."""
        at = 0 if stick.leftover else self.start_trim
        found = []
        for start, length in sorted((*stick.defects, (stick.length, 0))):
            if start > at:
                found.append((at, start - at))
            at = max(at, start + length)
        return tuple(found)


@dataclass(frozen=True, slots=True)
class RailAt:
    """A rail in its place: where its long points begin on the stick."""

    rail: str
    start: int
    length: int


@dataclass(frozen=True, slots=True)
class CutStick:
    """`copies` sticks of one kind, all cut alike; `left` is the longest sound length that is left, None if useless."""

    stick: str
    rails: tuple[RailAt, ...]
    copies: int = 1
    left: int | None = None


@dataclass(frozen=True, slots=True)
class StickPlan:
    """A complete plan for sticks, its cost, and the cost that no plan can beat."""

    sticks: tuple[CutStick, ...]
    cost: int
    lower_bound: int
    engine: str
    steps: int = 0
    seconds: float | None = None

    @property
    def proved(self) -> bool:
        """Whether no plan can cost less."""
        return self.lower_bound >= self.cost

    def leftovers(self) -> Iterator[tuple[str, int]]:
        """Yield (key of the stick, length) for every leftover worth keeping."""
        for cut in self.sticks:
            for _ in range(cut.copies if cut.left is not None else 0):
                yield cut.stick, cut.left or 0

    def to_buy(self, problem: StickProblem) -> Counter[str]:
        """Return how many sticks of each kind are to be bought; leftovers are in hand."""
        fresh = {s.key for s in problem.sticks if not s.leftover}
        bought: Counter[str] = Counter()
        for cut in self.sticks:
            if cut.stick in fresh:
                bought[cut.stick] += cut.copies
        return bought
