"""Figures worked out again from what was measured are those of resolving the work with that measured."""

from __future__ import annotations

from dataclasses import replace
from math import isclose

from hypothesis import HealthCheck, assume, given, reject, settings
from tests.trade.cases import MATERIALS, artworks, inch, lengths, treatments
from tests.trade.designs import Design, designs

from fourply.app.bench_figures import all_figures
from fourply.bench.again import work_again
from fourply.errors import FourplyError
from fourply.measure.length import Length
from fourply.trade.resolve import resolve
from fourply.trade.treatment import Treatment
from fourply.trade.work import Artwork, Work
from fourply.working.working import GIVEN, Figures, Value

FEW_NANOMETRES = Length(64)


def figures_of(design: Design, caliper: Length | None = None) -> Figures:
    """Return all figures of a design, with the caliper of its top mat's board as measured; rejects what cannot be."""
    work, treatment = design
    boards = dict(MATERIALS.boards)
    if caliper is not None:
        boards[treatment.mats[0].board] = replace(boards[treatment.mats[0].board], caliper=caliper)
    try:
        return all_figures(resolve(work, treatment, replace(MATERIALS, boards=boards)))
    except FourplyError:
        reject()


def given_anew(before: Figures, after: Figures) -> dict[str, Value]:
    """Return the figures that somebody gave, where they are given otherwise."""
    return {
        path: after[path].value
        for path, working in before.items()
        if working.rule == GIVEN and path in after and after[path].value != working.value
    }


def ways(figures: Figures) -> dict[str, object]:
    """Return by which rule and from what each figure was found."""
    return {path: (working.rule, working.operands) for path, working in figures.items()}


def alike(one: Value, other: Value) -> bool:
    """Tell whether two values are the same but for the floats that curves are worked out in."""
    if isinstance(one, Length) and isinstance(other, Length):
        return abs(one - other) <= FEW_NANOMETRES
    if isinstance(one, float) and isinstance(other, float):
        return isclose(one, other, rel_tol=1e-6, abs_tol=1e-9)
    return one == other


@given(designs(), lengths(inch(1, 32), inch(1, 8)))
@settings(max_examples=40, suppress_health_check=list(HealthCheck), deadline=None)
def test_what_a_caliper_changes_is_what_resolving_with_it_changes(design: Design, caliper: Length) -> None:
    before, after = figures_of(design), figures_of(design, caliper)
    again = work_again("1", before, given_anew(before, after))
    assume(ways(before) == ways(after))  # it goes by the same rules, and says so
    now = {change.figure: change.now for change in again.changed}
    for path, working in before.items():
        if path not in again.open:
            assert alike(now.get(path, working.value), after[path].value), path


@given(artworks(), treatments(), lengths(inch(1, 32), inch(1, 8)))
@settings(max_examples=40, suppress_health_check=list(HealthCheck), deadline=None)
def test_every_figure_of_straight_windows_is_worked_out_again(
    artwork: Artwork, treatment: Treatment, caliper: Length
) -> None:
    design = Work("1", "", artwork), treatment
    before, after = figures_of(design), figures_of(design, caliper)
    again = work_again("1", before, given_anew(before, after))
    assert again.open == ()
