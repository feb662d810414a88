"""What is asked and answered where rails are cut from sticks or bought cut to size, whichever costs less in all.

A set is the rails of one frame: they are bought together or cut one by one. Its cost is what buying it costs more than
the work of cutting it in the shop; one that costs nothing or less is always bought.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fourply.errors import BadInput
from fourply.planning.stick_problem import StickPlan, StickProblem


@dataclass(frozen=True, slots=True, kw_only=True)
class RailSet:
    """Rails that can be bought together, each once a set; `must` says that they are."""

    key: str
    rails: tuple[str, ...]
    cost: int
    must: bool = False


@dataclass(frozen=True, slots=True)
class MixProblem:
    """Rails, sticks and sets. The rails of a set have equal copies and no group; no rail is in two sets."""

    sticks: StickProblem
    sets: tuple[RailSet, ...]

    def __post_init__(self) -> None:
        rails = {rail.key: rail for rail in self.sticks.rails}
        seen: set[str] = set()
        for each in self.sets:
            known = [rails[key] for key in each.rails if key in rails and key not in seen]
            if len(known) != len(each.rails) or len(set(each.rails)) != len(each.rails) or not known:
                raise BadInput(f"set {each.key}", "rails that there are, each in one set only")
            if len({rail.copies for rail in known}) > 1 or any(rail.group is not None for rail in known):
                raise BadInput(f"set {each.key}", "rails of equal copies that need not come from one stick")
            seen.update(each.rails)

    def copies(self) -> dict[str, int]:
        """Return how often each set is wanted."""
        copies = {rail.key: rail.copies for rail in self.sticks.rails}
        return {each.key: copies[each.rails[0]] for each in self.sets}


@dataclass(frozen=True, slots=True)
class Mix:
    """How often each set is bought (only those that are), and what is left to be cut with its plan; None for nothing.

    `cost` and `lower_bound` are of sets and sticks together; the bound of the plan is what follows from it.
    """

    bought: Mapping[str, int]
    problem: StickProblem | None
    plan: StickPlan | None
    cost: int
    lower_bound: int
    steps: int = 0

    @property
    def proved(self) -> bool:
        """Whether no choice can cost less."""
        return self.lower_bound >= self.cost
