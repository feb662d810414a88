"""Every rule of a treatment as a form shows it: in groups, with what holds, where it comes from, what may be chosen."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from typing import Any

from fourply.app.design_edit import Designed, choices, named_treatments
from fourply.app.design_groups import rule_text
from fourply.app.design_parts import parts_json, shape_picks
from fourply.files.convertors import Reading
from fourply.files.rules import TREATMENT
from fourply.measure.rounding import GRIDS
from fourply.trade.treatment import (
    BorderMeans,
    HingeKind,
    Service,
    WindowFrom,
)

type Data = dict[str, Any]

GROUPS: Mapping[str, tuple[str, ...]] = {
    "Window": (
        *("window", "shape", "overlap", "overlap_least", "paper_sides", "paper_top", "paper_bottom"),
        *("float_gap", "float_lift", "float_setback", "layout", "openings"),
    ),
    "Borders": ("border", "bottom", "borders", "border_means", "outer", "group", "grid"),
    "Mats": ("mats", "bevel_deg", "inset", "stack_cut", "fallout_trim"),
    "Accents": ("grooves", "lines", "inlay", "title", "sink"),
    "Frame": ("moulding", "moulding_sides", "frame", "frame_sides", "allowance", "points", "service"),
    "Stack": ("glazing", "spacer", "fillet", "mount", "hinge", "backing"),
}
"""Every rule of a treatment, where the form has it."""
_EXAMPLES: Mapping[str, tuple[str, str]] = {
    "shape": ("oval, arch rise 2 in, clipped 1 in, stepped 1/4 in + 1/4 in", "oval, arch rise 50 mm, clipped 25 mm"),
    "layout": ("row, column or grid 3, gutter 1 in", "row, column or grid 3, gutter 25 mm"),
    "openings": ('[{}, { shape = "oval" }]', '[{}, { shape = "oval" }]'),
    "bottom": ("equal, optical, +1/2 in, x 4/3, 3 1/2 in", "equal, optical, +12 mm, x 4/3, 90 mm"),
    "borders": ("top 3 in, right 3 in, bottom 4 in, left 3 in", "top 70 mm, right 70 mm, bottom 90 mm, left 70 mm"),
    "outer": ("16 in w x 20 in h", "400 mm w x 500 mm h"),
    "mats": ("white 4-ply + red 4-ply @ 1/4 in", "white 4-ply + red 4-ply @ 6 mm"),
    "grooves": ("1/2 in + 3/4 in", "12 mm + 20 mm"),
    "lines": ("1/4 in + 3/8 in", "6 mm + 10 mm"),
    "inlay": ("red 4-ply @ 1/2 in, 1/4 in wide", "red 4-ply @ 12 mm, 6 mm wide"),
    "title": ("3 in w x 1/2 in h, drop 1 in", "75 mm w x 12 mm h, drop 25 mm"),
    "sink": ("white 8-ply, clearance 1/8 in", "white 8-ply, clearance 3 mm"),
    "moulding_sides": ("the name of another moulding for left and right",) * 2,
}
"""How a rule may be written, in inches and in millimetres."""
_KINDS: Mapping[str, type[Enum]] = {
    "window": WindowFrom,
    "border_means": BorderMeans,
    "service": Service,
    "hinge": HingeKind,
}
_MAY_BE_NONE = frozenset({"glazing", "backing", "moulding", "moulding_sides", "spacer", "fillet", "frame"})


def rules_json(designed: Designed) -> Data:
    """Return the form: treatments that may be named, and every rule in its group."""
    own = designed.listed.own.values
    show = designed.parts.show
    materials = choices(show.materials)

    def rule(key: str) -> Data:
        under = designed.under.values[key]
        return {
            "key": key,
            "says": key.replace("_", " ").capitalize().replace("deg", "angle, degrees"),
            "text": rule_text(key, own.get(key, under)),
            "own": key in own,
            "under": rule_text(key, under),
            "example": _EXAMPLES.get(key, ("", ""))[show.unit.is_metric],
            "choices": _choices(key, materials),
            "parts": parts_json(key, own.get(key, under), show.materials, show.unit),
        }

    return {
        "treatment": designed.listed.treatment,
        "treatments": named_treatments(designed.parts),
        "of": designed.under.name.removeprefix("treatment "),
        "shapes": shape_picks(Reading(show.unit, show.order, show.currency)),
        "groups": [{"title": title, "rules": [rule(key) for key in keys]} for title, keys in GROUPS.items()],
    }


def _choices(key: str, materials: Mapping[str, Any]) -> list[Data]:
    """Return what a rule may be, each with its colour where it has one; nothing where it is typed."""
    if key in _KINDS:
        return [{"name": str(each.value), "colour": ""} for each in _KINDS[key]]
    if key == "grid":
        return [{"name": name, "colour": ""} for name in GRIDS]
    if key == "stack_cut":
        return [{"name": name, "colour": ""} for name in ("yes", "no")]
    if key not in materials or key not in TREATMENT:
        return []
    found = [{"name": name, "colour": colour} for name, colour in materials[key]]
    return [{"name": "none", "colour": ""}, *found] if key in _MAY_BE_NONE else found
