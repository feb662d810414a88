"""From a work and its treatment to every size: the heart of fourply.

`resolve` is pure: the same work, treatment and materials give the same package, with a working for every figure and a
finding for whatever should be looked at. `resolve_show` first settles what a group of works shares.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fourply.errors import FourplyError
from fourply.measure.length import Length
from fourply.measure.size import Edges, Size
from fourply.trade import rules
from fourply.trade.borders import settle_borders
from fourply.trade.check_art import check_art
from fourply.trade.check_frame import check_frame
from fourply.trade.check_mats import check_mats
from fourply.trade.depth import clear_of_glazing, close_stack, stack_layers
from fourply.trade.findings import Finding
from fourply.trade.framing import frame_mouldings, make_frame, visible_borders
from fourply.trade.materials import Fillet, Glazing, Materials, Spacer
from fourply.trade.mats import finish_mats
from fourply.trade.mounting import cut_strips, distance_to_wood, hinge, lift_board, place_art
from fourply.trade.openings import open_mats
from fourply.trade.package import Mat, Package
from fourply.trade.treatment import Bevel, Treatment, WindowFrom
from fourply.trade.window import enter_art, settle_window
from fourply.trade.work import Work
from fourply.working.ledger import Ledger
from fourply.working.working import Rule


@dataclass(frozen=True, slots=True)
class Unresolved:
    """A work that could not be resolved, and why."""

    work: Work
    error: FourplyError


def resolve(work: Work, treatment: Treatment, materials: Materials) -> Package:
    """Return every size of one work.

    Raises BadTreatment where no mat or frame can follow the rules, Unknown where a material is not there.
    """
    ledger = Ledger()
    enter_art(ledger, work)
    glazing, spacer, fillet = _between(treatment, materials)
    wanted = settle_window(ledger, work, treatment)
    opened = open_mats(ledger, wanted, treatment, materials, fillet=fillet)
    mouldings = frame_mouldings(treatment, materials)
    outer = _given_outer(treatment, materials)
    bordered = settle_borders(ledger, opened[0].opening.back, treatment, outer=outer, mouldings=mouldings)
    mats = finish_mats(ledger, opened, bordered.borders, bordered.outer, treatment)
    frame = make_frame(ledger, bordered.outer, treatment, materials)
    inner, window = _window_at(ledger, mats[-1], fillet)
    art = place_art(ledger, work.art, treatment, window, inner)
    if frame is not None:
        visible_borders(ledger, bordered.borders, treatment, frame)
        distance_to_wood(ledger, art, inner, treatment)
    layers = stack_layers(ledger, work, treatment, mats, (glazing, spacer, fillet))
    mount = materials.board(treatment.mount)
    backing = materials.backing(treatment.backing) if treatment.backing else None
    stack = close_stack(layers, mount, backing, frame)
    lift = lift_board(ledger, work.art, treatment, mount)
    floats = treatment.window is WindowFrom.FLOAT
    clear_of_glazing(ledger, work, mats, (spacer, fillet), lift=lift, floats=floats)
    blank = mats[0].blank
    package = Package(
        work=work,
        treatment=treatment,
        outer=bordered.outer,
        window=window,
        mats=mats,
        art=art,
        mount=mount,
        hinging=hinge(ledger, treatment, work.art.least, bordered.outer),
        stack=stack,
        glazing=glazing,
        glazing_size=_pane(ledger, "glazing", blank) if glazing else None,
        backing=backing,
        backing_size=_pane(ledger, "backing", blank) if backing else None,
        frame=frame,
        strips=cut_strips(ledger, bordered.outer, mats[-1], spacer, fillet),
        lift=lift,
        figures=ledger.figures,
        checks=(),
    )
    return replace(package, checks=_checks(package))


def resolve_show(
    works: Sequence[tuple[Work, Treatment]], materials: Materials
) -> tuple[tuple[Package, ...], tuple[Unresolved, ...]]:
    """Return the packages of a show and the works that could not be resolved.

    Works that name the same group get one outer size: the largest that any of them needs.
    """
    shared = _shared_sizes(works, materials)
    packages: list[Package] = []
    failed: list[Unresolved] = []
    for work, treatment in works:
        settled = _in_group(treatment, shared)
        try:
            packages.append(resolve(work, settled, materials))
        except FourplyError as error:
            failed.append(Unresolved(work, error))
    return tuple(packages), tuple(failed)


def _shared_sizes(works: Sequence[tuple[Work, Treatment]], materials: Materials) -> dict[str, Size]:
    shared: dict[str, Size] = {}
    for work, treatment in works:
        if not treatment.group:
            continue
        try:
            own = resolve(work, treatment, materials).outer
        except FourplyError:
            continue  # it is reported when the show itself is resolved
        so_far = shared.get(treatment.group, own)
        shared[treatment.group] = Size(max(own.width, so_far.width), max(own.height, so_far.height))
    return shared


def _in_group(treatment: Treatment, shared: dict[str, Size]) -> Treatment:
    if treatment.group not in shared:
        return treatment
    origins = dict(treatment.origins) | {"outer": f"group {treatment.group}: the largest that one of them needs"}
    return replace(treatment, outer=shared[treatment.group], origins=origins)


def _between(treatment: Treatment, materials: Materials) -> tuple[Glazing | None, Spacer | None, Fillet | None]:
    return (
        materials.glazing(treatment.glazing) if treatment.glazing else None,
        materials.spacer(treatment.spacer) if treatment.spacer else None,
        materials.fillet(treatment.fillet) if treatment.fillet else None,
    )


def _given_outer(treatment: Treatment, materials: Materials) -> Size | None:
    if treatment.outer is not None:
        return treatment.outer
    return materials.frame(treatment.frame).size if treatment.frame else None


def _window_at(ledger: Ledger, innermost: Mat, fillet: Fillet | None) -> tuple[Edges, Size]:
    """Return the borders from the package's edge to the window, and the window."""
    into, operands, formula = Length(0), {}, "border"
    if innermost.opening.bevel is Bevel.REVERSE:
        into, operands, formula = innermost.run, {"run": f"{innermost.path}.run"}, "border + run"
    if fillet is not None:
        into, operands, formula = into + fillet.shown, operands | {"shown": "fillet.shown"}, f"{formula} + shown"
    rule = Rule("window.at", formula, "From the edge of the package to the window.")
    for name, border in innermost.borders.named():
        border_path = f"{innermost.path}.border.{name}"
        ledger.figure(f"window.at.{name}", border + into, rule, border=border_path, **operands)
    sight = innermost.opening.sight
    return innermost.borders.plus(into), sight.grown(-fillet.shown) if fillet else sight


def _pane(ledger: Ledger, name: str, size: Size) -> Size:
    for side, length in (("width", size.width), ("height", size.height)):
        outer = "outer.blank" if "outer.blank" in ledger else f"outer.{side}"
        ledger.figure(f"{name}.{side}", length, rules.PANE, outer=outer)
    return size


def _checks(package: Package) -> tuple[Finding, ...]:
    return (*check_art(package), *check_mats(package), *check_frame(package))
