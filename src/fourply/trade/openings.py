"""The openings of a stack of mats, from the window outwards: back, face and sight of each, and what shows of it.

The window is the sight of the innermost mat (or of a fillet in it). Each mat above opens wider by its reveal, which a
person gives as the difference of two guide settings or as the flat strip of colour they want to see.
"""

from __future__ import annotations

from dataclasses import dataclass

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import down, half_even, to_grid, up
from fourply.measure.size import Size
from fourply.trade import rules
from fourply.trade.formulas import bevel_run, slant
from fourply.trade.materials import Board, Fillet, Materials
from fourply.trade.package import Opening
from fourply.trade.treatment import Bevel, MatRule, RevealMeans, Treatment, WindowFrom
from fourply.trade.window import window_path
from fourply.working.ledger import Ledger
from fourply.working.working import Rule

_SIDES = ("width", "height")

_FROM_STRIP: dict[tuple[Bevel, Bevel], Rule] = {
    (Bevel.NORMAL, Bevel.NORMAL): rules.REVEAL_FROM_STRIP,
    (Bevel.REVERSE, Bevel.NORMAL): rules.REVEAL_FROM_STRIP_REVERSE_ABOVE,
    (Bevel.NORMAL, Bevel.REVERSE): rules.REVEAL_FROM_STRIP_REVERSE_UNDER,
    (Bevel.REVERSE, Bevel.REVERSE): rules.REVEAL_FROM_STRIP_REVERSE_BOTH,
}
"""The rule for a reveal given as a strip, by the bevel of the mat above and of the under-mat."""


@dataclass(frozen=True, slots=True)
class Opened:
    """One mat with its opening: what is known before there are borders. The reveal and strip beside the mat above."""

    rule: MatRule
    board: Board
    run: Length
    opening: Opening
    reveal: Length
    strip: Length


def open_mats(
    ledger: Ledger, window: Size, treatment: Treatment, materials: Materials, *, fillet: Fillet | None
) -> tuple[Opened, ...]:
    """Return every mat of the treatment with its opening round the window, the top mat first."""
    ledger.given("bevel.angle_deg", treatment.bevel_deg, treatment.origin("bevel_deg"))
    boards = [materials.board(rule.board) for rule in treatment.mats]
    runs = [_enter_run(ledger, number, board, treatment.bevel_deg) for number, board in enumerate(boards, start=1)]
    last = len(boards)
    openings = [_innermost(ledger, treatment, window, run=runs[-1], fillet=fillet)]
    reveals = [ZERO]
    for number in range(last - 1, 0, -1):
        reveal = _reveal(ledger, number, treatment, runs)
        above = treatment.mats[number - 1].bevel
        openings.insert(0, _above(ledger, number, above, openings[0], run=runs[number - 1], reveal=reveal))
        reveals.insert(1, reveal)
    _enter_window(ledger, treatment, openings[-1], fillet)
    strips = [ZERO, *(_strip(ledger, number, openings) for number in range(2, last + 1))]
    return tuple(Opened(*each) for each in zip(treatment.mats, boards, runs, openings, reveals, strips, strict=True))


def _enter_run(ledger: Ledger, number: int, board: Board, angle_deg: float) -> Length:
    origin = f"board {board.name}" + ("" if board.measured else " (nominal, not measured)")
    ledger.given(f"mat.{number}.caliper", board.caliper, origin)
    ledger.figure(
        f"mat.{number}.slant",
        slant(board.caliper, angle_deg),
        rules.SLANT,
        caliper=f"mat.{number}.caliper",
        angle="bevel.angle_deg",
    )
    return ledger.figure(
        f"mat.{number}.run",
        bevel_run(board.caliper, angle_deg),
        rules.RUN,
        caliper=f"mat.{number}.caliper",
        angle="bevel.angle_deg",
    )


def _innermost(ledger: Ledger, treatment: Treatment, window: Size, *, run: Length, fillet: Fillet | None) -> Opening:
    number, bevel = len(treatment.mats), treatment.mats[-1].bevel
    wanted = window_path(treatment)
    sight, names = window, {side: f"{wanted}.{side}" for side in _SIDES}
    if fillet is not None:
        ledger.given("fillet.shown", fillet.shown, f"fillet {fillet.name}")
        sight = window.grown(fillet.shown)
        names = {side: f"fillet.{side}" for side in _SIDES}
        for side in _SIDES:
            operands = {"window": f"{wanted}.{side}", "shown": "fillet.shown"}
            ledger.figure(names[side], _side(sight, side), rules.BACK_AROUND_FILLET, **operands)
    backs = []
    for side in _SIDES:
        inner, path = _side(sight, side), f"mat.{number}.back.{side}"
        if bevel is Bevel.NORMAL:
            backs.append(ledger.figure(path, inner, rules.BACK_IS_SIGHT, window=names[side]))
            continue
        covers = treatment.window is WindowFrom.SHEET
        back = to_grid(inner + 2 * run, treatment.grid, down if covers else up)
        operands = {"sight": names[side], "run": f"mat.{number}.run", "grid": "grid"}
        rule = rules.BACK_OF_REVERSE if covers else rules.BACK_OF_REVERSE_CLEAR
        backs.append(ledger.figure(path, back, rule, **operands))
    return _faced(ledger, number, Size(*backs), run, bevel)


def _enter_window(ledger: Ledger, treatment: Treatment, innermost: Opening, fillet: Fillet | None) -> None:
    """Enter the window anew where a reverse bevel, marked on the grid, decides it."""
    if innermost.bevel is Bevel.NORMAL:
        return
    number = len(treatment.mats)
    for side in _SIDES:
        sight, path = _side(innermost.sight, side), f"mat.{number}.opening.{side}"
        if fillet is None:
            ledger.figure(f"window.{side}", sight, rules.WINDOW_IN_REVERSE, opening=path)
            continue
        operands = {"opening": path, "shown": "fillet.shown"}
        ledger.figure(f"window.{side}", sight - 2 * fillet.shown, rules.WINDOW_IN_FILLET, **operands)


def _above(ledger: Ledger, number: int, bevel: Bevel, under: Opening, *, run: Length, reveal: Length) -> Opening:
    backs = [
        ledger.figure(
            f"mat.{number}.back.{side}",
            _side(under.back, side) + 2 * reveal,
            rules.BACK_OVER_UNDER,
            under=f"mat.{number + 1}.back.{side}",
            reveal=f"mat.{number + 1}.reveal",
        )
        for side in _SIDES
    ]
    return _faced(ledger, number, Size(*backs), run, bevel)


def _faced(ledger: Ledger, number: int, back: Size, run: Length, bevel: Bevel) -> Opening:
    sign, rule = (1, rules.FACE_NORMAL) if bevel is Bevel.NORMAL else (-1, rules.FACE_REVERSE)
    faces = []
    for side in _SIDES:
        face = _side(back, side) + 2 * sign * run
        if face.nm <= 0:
            raise BadTreatment(f"mat.{number}.face.{side}", "the bevel closes the opening", "a larger window")
        operands = {"back": f"mat.{number}.back.{side}", "run": f"mat.{number}.run"}
        ledger.figure(f"mat.{number}.face.{side}", face, rule, **operands)
        faces.append(face)
    opening = Opening(back, Size(*faces), bevel)
    outline = "back" if bevel is Bevel.NORMAL else "face"
    for side in _SIDES:
        path = f"mat.{number}.opening.{side}"
        ledger.figure(path, _side(opening.sight, side), rules.OPENING, sight=f"mat.{number}.{outline}.{side}")
    return opening


def _reveal(ledger: Ledger, above: int, treatment: Treatment, runs: list[Length]) -> Length:
    """Return the guide difference between mat `above` and the one under it."""
    under = above + 1
    rule = treatment.mats[under - 1]
    path, origin = f"mat.{under}.reveal", treatment.origin("mats")
    if rule.means is RevealMeans.GUIDE:
        return ledger.given(path, rule.reveal, origin)
    bevels = (treatment.mats[above - 1].bevel, rule.bevel)
    ledger.given(f"mat.{under}.strip_wanted", rule.reveal, origin)
    names = {"strip": f"mat.{under}.strip_wanted", "run": f"mat.{under}.run", "grid": "grid"}
    reveal = rule.reveal + (runs[under - 1] if rule.bevel is Bevel.NORMAL else -runs[under - 1])
    if bevels[0] is Bevel.REVERSE:
        reveal, names = reveal + runs[above - 1], names | {"above": f"mat.{above}.run"}
    reveal = to_grid(reveal, treatment.grid, half_even)
    return ledger.figure(path, max(reveal, ZERO), _FROM_STRIP[bevels], **names)


def _strip(ledger: Ledger, number: int, openings: list[Opening]) -> Length:
    above, under = openings[number - 2], openings[number - 1]
    strip = (above.sight.width - under.face.width) // 2
    operands = {"sight": f"mat.{number - 1}.opening.width", "face": f"mat.{number}.face.width"}
    return ledger.figure(f"mat.{number}.strip", strip, rules.STRIP, **operands)


def _side(size: Size, side: str) -> Length:
    return size.width if side == "width" else size.height
