"""Every rule of a treatment as a form shows it: in groups, with what holds, where it comes from, what may be chosen."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from typing import Any

from fourply.app.design_edit import Designed, choices, named_treatments
from fourply.app.design_groups import rule_text
from fourply.files.rules import TREATMENT
from fourply.measure.rounding import GRIDS
from fourply.trade.shapes.rule import ShapeKind
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
_EXAMPLES: Mapping[str, str] = {
    "shape": "oval, arch rise 2 in, clipped 1 in, stepped 1/4 in + 1/4 in",
    "layout": "row, column or grid 3, gutter 1 in",
    "openings": '[{}, { shape = "oval" }]',
    "bottom": "equal, optical, +1/2 in, x 4/3, 3 1/2 in",
    "borders": "top 3 in, right 3 in, bottom 4 in, left 3 in",
    "outer": "16 in w x 20 in h",
    "mats": "white 4-ply + red 4-ply @ 1/4 in",
    "grooves": '1/2 in, or [{ distance = "1/2 in", shape = "oval" }]',
    "lines": '1/4 in, or [{ distance = "1/4 in", width = "1/4 in", colour = "#c9b68a", wash = true }]',
    "inlay": "red 4-ply @ 1/2 in, 1/4 in wide",
    "title": "3 in w x 1/2 in h, drop 1 in",
    "sink": "white 8-ply, clearance 1/8 in",
    "moulding_sides": "the name of another moulding for left and right",
}
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
    materials = choices(designed.parts.show.materials)

    def rule(key: str) -> Data:
        under = designed.under.values[key]
        return {
            "key": key,
            "says": key.replace("_", " ").capitalize().replace("deg", "angle, degrees"),
            "text": rule_text(key, own.get(key, under)),
            "own": key in own,
            "under": rule_text(key, under),
            "example": _EXAMPLES.get(key, ""),
            "choices": _choices(key, materials),
        }

    return {
        "treatment": designed.listed.treatment,
        "treatments": named_treatments(designed.parts),
        "of": designed.under.name.removeprefix("treatment "),
        "boards": [{"name": name, "colour": colour} for name, colour in materials["board"]],
        "shapes": [kind.value for kind in ShapeKind if kind is not ShapeKind.FREE],
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
