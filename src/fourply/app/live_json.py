"""A resolved work as JSON for a screen: its figures in words, its findings, its drawings in real millimetres.

A path is a list of steps, each opening with its letter: ["M", x, y], ["L", x, y], ["C", x1, y1, x2, y2, x, y],
["A", cx, cy, rx, ry, start, sweep] (an upright ellipse, degrees, clockwise on screen), ["Z"].
"""

from __future__ import annotations

from collections.abc import Iterable

from fourply.app.bench_figures import all_figures
from fourply.app.live import Found
from fourply.drawing.dimension import Dim
from fourply.drawing.scene import Area, Hair, Patch, Scene, Shadow
from fourply.files.results import rule_data, work_data
from fourply.sheets.front_view import front_view
from fourply.sheets.preview import preview
from fourply.sheets.view import FrontView
from fourply.trade.package import Package
from fourply.working.words import Words
from fourply.working.working import Rule

type Data = dict[str, object]


def live_json(found: Found) -> Data:
    """Return what a screen needs of a work while it is worked on: figures in words, findings, both drawings."""
    if found.faults:
        return {"work": None, "findings": [], "figures": {}, "front": None, "preview": None, **_faults(found)}
    package, words = found.opened.package(found.number), _words(found)
    return {
        "work": package.work.id,
        "findings": _findings(package, words),
        "figures": {path: words.with_unit(working.value) for path, working in package.figures.items()},
        "front": front_json(front_view(package, words)),
        "preview": scene_json(preview(package)),
        **_faults(found),
    }


def package_json(found: Found) -> Data:
    """Return everything that is known of a work, as `show.json` has it, with the rules of its figures."""
    if found.faults:
        return {"work": None, "rules": {}, **_faults(found)}
    package, words = found.opened.package(found.number), _words(found)
    rules: dict[str, Rule] = {}
    data = work_data(package, all_figures(package), rules, words.write)
    return {"work": data, "rules": {rule.id: rule_data(rule) for rule in rules.values()}, **_faults(found)}


def _faults(found: Found) -> Data:
    return {"faults": [fault.to_json() for fault in found.faults]}


def _words(found: Found) -> Words:
    return Words(metric=found.opened.show.unit.is_metric)


def _findings(package: Package, words: Words) -> list[Data]:
    return [
        {
            "rule": each.rule,
            "level": each.level.value,
            "place": each.place,
            "says": each.sentence(words.write),
            "remedy": each.advice(words.write),
        }
        for each in package.findings
    ]


def front_json(view: FrontView) -> Data:
    """Return the front view as JSON."""
    sides = {"bottom": view.bottom, "left": view.left, "top": view.top, "right": view.right}
    return {
        "width": view.width,
        "height": view.height,
        "outlines": [{"edge": each.edge.value, "steps": each.steps} for each in view.outlines],
        "dimensions": {side: [_tier(tier) for tier in tiers] for side, tiers in sides.items()},
        "windows": [each._asdict() for each in view.windows],
    }


def _tier(dims: Iterable[Dim]) -> list[Data]:
    return [dim._asdict() for dim in dims]


def scene_json(scene: Scene) -> Data:
    """Return the picture as JSON: what is seen of it, shadows, then patches, the later over the earlier."""
    return {
        "title": scene.title,
        "seen": scene.seen,
        "ground": scene.ground,
        "shadows": [_shadow(each) for each in scene.shadows],
        "patches": [_patch(each) for each in scene.patches],
    }


def _shadow(shadow: Shadow) -> Data:
    return shadow._asdict()


def _patch(patch: Patch) -> Data:
    what = "area" if isinstance(patch, Area) else "hair" if isinstance(patch, Hair) else "field"
    return {"is": what, **patch._asdict()}
