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
from fourply.trade.borders import Bordered, settle_borders
from fourply.trade.check_art import check_art
from fourply.trade.check_frame import check_frame
from fourply.trade.check_mats import check_mats
from fourply.trade.depth import clear_of_glazing, close_stack, stack_layers
from fourply.trade.findings import Finding
from fourply.trade.framing import frame_mouldings, make_frame, visible_borders
from fourply.trade.grooves import let_in
from fourply.trade.layout import arrange, open_title, place_openings
from fourply.trade.materials import Board, Fillet, Glazing, Materials, Spacer
from fourply.trade.mats import Placed, finish_mats
from fourply.trade.mounting import cut_strips, distance_to_wood, hinge, lift_board, place_art
from fourply.trade.openings import Opened, Sheet, enter_boards, open_mats
from fourply.trade.package import ArtPlace, Hole, Lift, Mat, Package
from fourply.trade.sink import sink
from fourply.trade.treatment import Bevel, Treatment, WindowFrom, for_opening
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
    ledger.given("grid", treatment.grid.step, treatment.origin("grid"))
    windows = [_Window(ledger, work, treatment, number) for number in range(1, len(work.arts) + 1)]
    glazing, spacer, fillet = _between(treatment, materials)
    for window in windows:
        window.measure()
    sheets = enter_boards(ledger, treatment, materials)
    for window in windows:
        window.open(sheets, fillet)
    bordered, placed = _lay_out(ledger, windows, treatment, materials)
    if treatment.title is not None:
        placed = (*placed, open_title(ledger, treatment, sheets, bordered))
    mats = finish_mats(ledger, sheets, placed, bordered, treatment)
    frame = make_frame(ledger, bordered.outer, treatment, materials)
    mount = materials.board(treatment.mount)
    arts = tuple(window.place(mats[-1], fillet) for window in windows)
    if frame is not None:
        visible_borders(ledger, bordered.borders, treatment, frame)
        for window, art in zip(windows, arts, strict=True):
            distance_to_wood(window.ledger, art, window.inner, treatment)
    sunk = sink(ledger, treatment, materials, arts, mats[0].blank)
    lying = [art for window, art in zip(windows, arts, strict=True) if not window.floats]
    layers = stack_layers(ledger, lying, mats, (glazing, spacer, fillet), sunk)
    backing = materials.backing(treatment.backing) if treatment.backing else None
    stack = close_stack(layers, mount, backing, frame)
    lifts = [window.lift(mount) for window in windows]
    for window, lift in zip(windows, lifts, strict=True):
        clear_of_glazing(window.ledger, window.art, mats, (spacer, fillet), lift=lift, floats=window.floats, sink=sunk)
    blank = mats[0].blank
    package = Package(
        work=work,
        treatment=treatment,
        outer=bordered.outer,
        mats=mats,
        arts=arts,
        mount=mount,
        hingings=tuple(hinge(each.ledger, each.treatment, each.art.least, bordered.outer) for each in windows),
        stack=stack,
        glazing=glazing,
        glazing_size=_pane(ledger, "glazing", blank) if glazing else None,
        backing=backing,
        backing_size=_pane(ledger, "backing", blank) if backing else None,
        frame=frame,
        strips=cut_strips(ledger, bordered.outer, mats[-1], spacer, fillet),
        lifts=tuple(lift for lift in lifts if lift is not None),
        figures=ledger.figures,
        checks=(),
        inlay=let_in(ledger, treatment, materials, mats[0]),
        sink=sunk,
    )
    return replace(package, checks=_checks(package))


class _Window:
    """One window of a work while it is resolved: its own sheet, its own rules, its own scope of figures."""

    def __init__(self, ledger: Ledger, work: Work, treatment: Treatment, number: int) -> None:
        self.art, self.number = work.arts[number - 1], number
        self.scope = "" if len(work.arts) == 1 else f"opening.{number}."
        self.ledger = ledger.scoped(self.scope) if self.scope else ledger
        self.treatment = for_opening(treatment, number)
        self.origin = str(work.source) or "measured"
        self.wanted: Size
        self.opened: tuple[Opened, ...]
        self.inner: Edges

    @property
    def floats(self) -> bool:
        """Whether all edges of its sheet show."""
        return self.treatment.window is WindowFrom.FLOAT

    def measure(self) -> None:
        """Enter the sheet and settle the wanted sight."""
        enter_art(self.ledger, self.art, self.origin)
        self.wanted = settle_window(self.ledger, self.art, self.treatment)

    def open(self, sheets: tuple[Sheet, ...], fillet: Fillet | None) -> None:
        """Open all mats round the window."""
        self.opened = open_mats(self.ledger, self.wanted, self.treatment, sheets, fillet=fillet)

    def place(self, innermost: Mat, fillet: Fillet | None) -> ArtPlace:
        """Return where the sheet lies behind its window in the innermost mat."""
        self.inner, window = _window_at(self.ledger, innermost, innermost.holes[self.number - 1], fillet)
        return place_art(self.ledger, self.art, self.treatment, window, self.inner, scope=self.scope)

    def lift(self, mount: Board) -> Lift | None:
        """Return what raises the sheet, where it floats."""
        return lift_board(self.ledger, self.art, self.treatment, mount, scope=self.scope)


def _lay_out(
    ledger: Ledger, windows: Sequence[_Window], treatment: Treatment, materials: Materials
) -> tuple[Bordered, tuple[Placed, ...]]:
    """Return the borders of the top mat and every window in its place."""
    mouldings, outer = frame_mouldings(treatment, materials), _given_outer(treatment, materials)
    sizes = [window.opened[0].opening.back for window in windows]
    if len(windows) == 1:
        bordered = settle_borders(ledger, sizes[0], treatment, outer=outer, mouldings=mouldings)
        return bordered, (Placed(ledger, "", windows[0].opened, bordered.borders),)
    arranged = arrange(ledger, sizes, treatment, outer)
    bordered = settle_borders(ledger, arranged.block, treatment, outer=outer, mouldings=mouldings)
    borders = place_openings(ledger, arranged, sizes, bordered)
    pairs = zip(windows, borders, strict=True)
    return bordered, tuple(Placed(window.ledger, window.scope, window.opened, edges) for window, edges in pairs)


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


def _window_at(ledger: Ledger, innermost: Mat, hole: Hole, fillet: Fillet | None) -> tuple[Edges, Size]:
    """Return the borders from the package's edge to a window, and the window."""
    opening = hole.opening
    into, operands, formula = Length(0), {}, "border"
    if opening.bevel is Bevel.REVERSE:
        into, operands, formula = innermost.run, {"run": f"{innermost.path}.run"}, "border + run"
    if fillet is not None:
        into, operands, formula = into + fillet.shown, operands | {"shown": "fillet.shown"}, f"{formula} + shown"
    rule = Rule("window.at", formula, "From the edge of the package to the window.")
    for name, border in hole.borders.named():
        border_path = f"{innermost.path}.border.{name}"
        ledger.figure(f"window.at.{name}", border + into, rule, border=border_path, **operands)
    return hole.borders.plus(into), opening.sight.grown(-fillet.shown) if fillet else opening.sight


def _pane(ledger: Ledger, name: str, size: Size) -> Size:
    for side, length in (("width", size.width), ("height", size.height)):
        outer = "outer.blank" if "outer.blank" in ledger else f"outer.{side}"
        ledger.figure(f"{name}.{side}", length, rules.PANE, outer=outer)
    return size


def _checks(package: Package) -> tuple[Finding, ...]:
    return (*check_art(package), *check_mats(package), *check_frame(package))
