"""Calibrating a cutter: the sheet to print, the readings that come back, what they say in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from fourply.app.papers import Papers
from fourply.app.writing import file_name, write_file
from fourply.bench.calibration import Calibrated, Measured, accept, calibrate
from fourply.bench.constants import NAMES, UNITS, WITHIN_95, Constant, Name
from fourply.bench.fit import Misfit
from fourply.bench.next_reading import Next
from fourply.bench.profile import Profile
from fourply.bench.readings import What
from fourply.bench.square import guide_move
from fourply.bench.trial import trial
from fourply.files.faults import Fault
from fourply.files.measured import empty_table, read_measured
from fourply.files.tables import load_bytes
from fourply.measure.length import Length
from fourply.measure.notation import Unit, parse_length
from fourply.measure.rounding import from_mm
from fourply.render import pdf
from fourply.sheets.test_cut import compose_test_cut
from fourply.working.words import Words

__all__ = ["Found", "accept", "read_readings", "write_sheet"]

_USUAL = {True: Length.mm(14, 10), False: Length.inches(55, 1000)}
_MM_PER_INCH = 25.4
_DEGREES = (What.CORE, What.DIAGONALS, What.FOUR_CUTS)


@dataclass(frozen=True, slots=True)
class Found:
    """What readings say: constants with their intervals, what does not fit, what to read next, as lines of words.

    `calibrated` is None where the file has faults. Where readings do not fit, each constant has a second value: what it
    would be without them.
    """

    calibrated: Calibrated | None
    faults: tuple[Fault, ...] = ()
    constants: tuple[tuple[str, str, str], ...] = ()
    misfits: tuple[str, ...] = ()
    advice: tuple[str, ...] = ()


def write_sheet(profile: Profile, caliper: str, paper: str | None, out: Path) -> tuple[Path, Path]:
    """Write the sheet of a test cut as a PDF and the empty table for its readings into the folder `out`.

    Raises BadInput where the cutter cannot cut such board, OSError where a file cannot be written.
    """
    metric = profile.unit.is_metric
    made = trial(profile, parse_length(caliper, profile.unit) if caliper else _USUAL[metric])
    papers = Papers.of_region(metric=metric, paper=paper)
    pages = compose_test_cut(made, papers.words, papers.paper)
    out.mkdir(parents=True, exist_ok=True)
    name = file_name(profile.name)
    sheet = write_file(out / f"{name}-test-cut.pdf", pdf.render(pages, title=pages[0].title))
    return sheet, write_file(out / f"{name}-test-cut.csv", empty_table(made).encode())


def read_readings(profile: Profile, file: Path, left_out: tuple[str, ...], kept: tuple[str, ...]) -> Found:
    """Return what the readings of a file say of a cutter; raises BadInput where they make no cutter, BadFile."""
    read = read_measured(file.name, load_bytes(file), left_out=left_out, kept=kept)
    if read.measured is None:
        return Found(None, read.faults)
    words, found = Words(metric=profile.unit.is_metric), calibrate(profile, read.measured)
    constants = tuple(_rows(profile, read.measured, found, words))
    misfits = tuple(_misfit(each, read.measured, words) for each in found.misfits)
    return Found(found, (), constants, misfits, tuple(_advice(profile, found, words)))


def _rows(profile: Profile, measured: Measured, found: Calibrated, words: Words) -> Iterator[tuple[str, str, str]]:
    strangers = tuple(misfit.name for misfit in found.misfits)
    left_out = (*measured.left_out, *strangers)
    without = None
    if strangers and len(left_out) < len(measured.readings):
        without = calibrate(profile, replace(measured, left_out=left_out)).calibration
    for name in NAMES:
        value = _constant(name, found.calibration.constant(name), words)
        yield _named(name), value, "" if without is None else _constant(name, without.constant(name), words)


def _named(name: Name) -> str:
    return name.value.replace("_", " ")


def _constant(name: Name, constant: Constant, words: Words) -> str:
    """Return a constant with the half-width of its 95 % interval, lengths in the reader's unit."""
    inches = UNITS[name] == "mm" and not words.metric
    over, unit, digits = (_MM_PER_INCH, "in", 4) if inches else (1.0, UNITS[name].replace("mm per mm", ""), 3)
    if name is Name.GAIN:
        digits = 4
    value, spread = constant.value / over, WITHIN_95 * constant.error / over
    return f"{value:.{digits}f} ± {spread:.{digits}f} {unit}".rstrip().replace("-0.000 ", "0.000 ")


def _misfit(misfit: Misfit, measured: Measured, words: Words) -> str:
    what = next(reading.what for reading in measured.readings if reading.name == misfit.name)
    off = f"{abs(misfit.off):.2f} degrees" if what in _DEGREES else words.with_unit(from_mm(abs(misfit.off)))
    instead = f"; or it is {' or '.join(misfit.instead)}" if misfit.instead else ""
    more = "more" if misfit.off > 0 else "less"
    return (
        f"reading {misfit.name} ({what.value}) is {off} {more} than all others say, {abs(misfit.times):.0f} times its "
        f"error{instead}"
    )


def _advice(profile: Profile, found: Calibrated, words: Words) -> Iterator[str]:
    skew = found.calibration.skew
    if abs(skew.value) > WITHIN_95 * skew.error:
        length = min(profile.bar, _usual_length(profile.unit))
        move = guide_move(skew.value, length).length
        way = "out" if move.nm > 0 else "in"
        yield (
            f"The guide is not parallel to the bar: move its near end {way} by {words.write(abs(move))} over "
            f"{words.with_unit(length)} and cut the test again. Until then lay every board with its middle at the same "
            "place along the guide."
        )
    yield _next(found.next, words)


def _usual_length(unit: Unit) -> Length:
    return Length.mm(400) if unit.is_metric else Length.inches(16)


def _next(advised: Next, words: Words) -> str:
    at = words.with_unit(advised.at)
    do = {
        What.MID: f"the border at mid-length, the guide set to {at}",
        What.FAR: f"the border at both ends of a cut {at} long",
        What.START: f"the over- or undercut where the blade enters, in board of caliper {at}",
        What.STOP: f"the over- or undercut where the blade leaves, in board of caliper {at}",
        What.CORE: f"the width of core in board of caliper {at}",
        What.DIAGONALS: f"both diagonals of a blank {at} long",
    }[advised.what]
    now, then = (words.with_unit(from_mm(width)) for width in (advised.now, advised.then))
    return f"Next, read {do}: what {_named(advised.constant)} leaves open at the bench goes from ± {now} to ± {then}."
