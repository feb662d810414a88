"""Where a show stands while it is worked: the next block, and what is still to come."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from fourply.bench.steps import Block, Stage, Steps, Use
from fourply.bench.times import Times


@dataclass(frozen=True, slots=True)
class Next:
    """The first block that is not done, None where all are; the time that is left by stage, of blocks alone."""

    block: Block | None
    left: tuple[Stage, ...]


def what_next(steps: Steps, done: Collection[int], times: Times) -> Next:
    """Return where a show stands once the blocks of these numbers are done."""
    open_ = [block for block in steps.blocks if block.number not in done]
    uses: dict[str, list[Use]] = {}
    for block in open_:
        uses.setdefault(block.stage, []).extend(block.uses)
    left = tuple(Stage(name, *times.within(each)) for name, each in uses.items())
    return Next(open_[0] if open_ else None, left)
