"""How a material looks, drawn from its measures and colours, or from its picture where it has one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fourply.app.keep import Desk
from fourply.app.keep_settings import shop_settings
from fourply.errors import BadInput, Unknown
from fourply.files.kept import KeptMaterial
from fourply.measure.length import Length
from fourply.measure.notation import Marks
from fourply.render import photo, scene_svg, svg
from fourply.sheets.sample import HIGH, WIDE, samples
from fourply.trade.formulas import bevel_run
from fourply.trade.materials import Board
from fourply.trade.treatment import INCH, METRIC
from fourply.working.words import Words

_DOTS = 720
_SHOWN = round(WIDE * 96 / 25.4), round(HIGH * 96 / 25.4)
"""How large a sample is on a screen, in dots: true size where a dot is a ninety-sixth of an inch."""


@dataclass(frozen=True, slots=True)
class Look:
    """One sample: its caption, its colours and its lines, each an SVG element to stand over the other ("" for none)."""

    caption: str
    colours: str
    lines: str


def looks(desk: Desk, kept: KeptMaterial) -> tuple[Look, ...]:
    """Return the samples of a material, none for what has no look."""
    words = Words(metric=shop_settings(desk).value.unit.is_metric, marks=Marks.TYPOGRAPHIC)
    photographs = _photograph(desk, kept.picture)
    found = samples(kept.item, _run(desk, kept.item), words, pictured=bool(photographs))
    return tuple(
        Look(
            each.caption,
            scene_svg.render(each.scene, photographs, size=_SHOWN).decode(),
            svg.render(each.drawing).decode() if each.drawing else "",
        )
        for each in found
    )


def _photograph(desk: Desk, content: str) -> Mapping[int, bytes]:
    if not content:
        return {}
    try:
        return {0: photo.fit(desk.store.pictures.read(content), (WIDE, HIGH), longest=_DOTS)}
    except (Unknown, BadInput):  # a picture that is gone is as none
        return {}


def _run(desk: Desk, item: object) -> Length | None:
    """Return the run of a board's bevel at the shop's usual angle, None for anything else."""
    if not isinstance(item, Board):
        return None
    settings = shop_settings(desk).value
    usual = METRIC if settings.unit.is_metric else INCH
    return bevel_run(item.caliper, float(str(settings.defaults.values.get("bevel_deg", usual.bevel_deg))))
