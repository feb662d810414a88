"""Check values of setting up a cutter, through calibration and settings."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from tests.bench.cutters import INCH, measured, mid

from fourply.bench.blade import blade_for
from fourply.bench.calibration import accept, calibrate
from fourply.bench.long_cuts import long_cut
from fourply.bench.reach import Border, OutOfReach, Remedy, Setting, Way, set_for
from fourply.bench.readings import Reading, What
from fourply.bench.square import diagonal, guide_move
from fourply.measure.dimensions import Order, parse_pair
from fourply.measure.length import Length
from fourply.measure.notation import Unit, parse_length
from fourply.measure.rounding import from_mm
from fourply.measure.size import Size

type Inputs = Mapping[str, Any]
type Results = Mapping[str, Length | Size | float | bool]


def _nm(text: str) -> Length:
    return parse_length(text, Unit.MM)


def _size(text: str) -> Size:
    return parse_pair(text, Unit.MM, Order.WIDTH_HEIGHT).size


def _set_after(inputs: Inputs) -> Results:
    """Calibrate with borders at mid-length, then ask what to set."""
    cuts = [mid(str(at), _nm(setting), _nm(read)) for at, (setting, read) in enumerate(inputs["cuts"])]
    guide = replace(INCH.guide, step=_nm(inputs["step"]))
    profile = accept(INCH, calibrate(replace(INCH, guide=guide), measured(cuts)))
    found = set_for(replace(profile, guide=guide), Border(_nm(inputs["wanted"])))
    assert isinstance(found, Setting)
    return {
        "set": found.reading,
        "gain": profile.known.gain.value,
        "offset": profile.known.offset.value / 25.4,
    }


def _nearest(border: str) -> Way:
    found = set_for(INCH, Border(_nm(border)))
    assert isinstance(found, OutOfReach)
    return next(way for way in found.ways if way.remedy is Remedy.NEAREST)


def _opening_change(inputs: Inputs) -> Results:
    """Take the nearest border that can be set, which is off by what the row states."""
    found = _nearest(inputs["border"])
    return {"off": found.setting.left, "smaller": -found.opening}


def _skew(inputs: Inputs) -> Results:
    length, setting = _nm(inputs["length"]), Length.mm(76)
    ends = [
        Reading(what.value, what, _nm(inputs[key]), setting=setting, length=length)
        for key, what in (("far", What.FAR), ("near", What.NEAR))
    ]
    skew = calibrate(INCH, measured(ends)).calibration.skew.value
    return {"deg": abs(skew), "move mm": abs(guide_move(skew, length).length.as_mm)}


def _diagonals(inputs: Inputs) -> Results:
    blank, apart = _size(inputs["size"]), _nm(inputs["differ"]).split(2)
    across = diagonal(blank).length
    reading = Reading(
        "d", What.DIAGONALS, across + apart[1], width=blank.width, height=blank.height, second=across - apart[0]
    )
    skew = calibrate(INCH, measured([reading])).calibration.square.value
    return {"deg": skew, "off inches": blank.height.as_mm * math.sin(math.radians(skew)) / 25.4}


def _diagonal(inputs: Inputs) -> Results:
    return {"eighths": diagonal(_size(inputs["size"])).length.as_mm / 25.4 * 8}


def _four_cuts(inputs: Inputs) -> Results:
    reading = Reading("s", What.FOUR_CUTS, _nm(inputs["far"]), length=_nm(inputs["length"]), second=_nm(inputs["near"]))
    return {"deg": calibrate(INCH, measured([reading])).calibration.square.value}


def _extension(inputs: Inputs) -> Results:
    return {"extension": blade_for(replace(INCH, slip=_nm(inputs["slip"])), _nm(inputs["caliper"])).extension}


def _strip(inputs: Inputs) -> Results:
    guide = replace(INCH.guide, least=Length.inches(5, 2), strips=(_nm(inputs["strip"]),))
    found = set_for(replace(INCH, guide=guide), Border(_nm(inputs["border"])))
    assert isinstance(found, OutOfReach)
    return {"guide": found.ways[0].setting.reading}


def _two_pass(inputs: Inputs) -> Results:
    edge = INCH.bar + _nm(inputs["second"])
    found = long_cut(replace(INCH, turn_deg=inputs["turned"]), edge, edge, Size(edge, edge))
    assert found is not None
    return {"parting": from_mm(found.parting.as_mm)}


KINDS: Mapping[str, Callable[[Inputs], Results]] = {
    "set_after": _set_after,
    "opening_change": _opening_change,
    "skew": _skew,
    "diagonals": _diagonals,
    "diagonal": _diagonal,
    "four_cuts": _four_cuts,
    "extension": _extension,
    "strip": _strip,
    "two_pass": _two_pass,
}
