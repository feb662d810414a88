"""Scenes as SVG: paths and photographs alone, no filter, gradient, clip or id, so it may stand in any page."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Mapping
from xml.sax.saxutils import escape

from fourply.drawing.scene import Area, Field, Hair, Scene
from fourply.drawing.shapes import rectangle
from fourply.drawing.text import clean
from fourply.render.svg import path_data

_PLACES = 2  # a hundredth of a millimetre: a fiftieth of a dot on any screen
_LAYERS = 24


def render(
    scene: Scene, photographs: Mapping[int, bytes] | None = None, *, size: tuple[int, int] | None = None
) -> bytes:
    """Return the scene as an SVG file in UTF-8, one user unit a millimetre, shown at its true size or in dots.

    `photographs` are JPEG files by the number of their field, already of its proportions.
    """
    found = photographs or {}
    seen = scene.seen
    width, height = _number(seen.width), _number(seen.height)
    shown = (
        f'width="{size[0]}" height="{size[1]}" preserveAspectRatio="none"'
        if size
        else (f'width="{width}mm" height="{height}mm"')
    )
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" {shown}'
        f' viewBox="{_number(seen.left)} {_number(seen.top)} {width} {height}" role="img" fill-rule="evenodd">'
    )
    title = f"<title>{escape(clean(scene.title))}</title>"
    ground = [Area(rectangle(seen), scene.ground)] if scene.ground else []
    behind = [*ground, *(layer for shadow in scene.shadows for layer in shadow.layers(_LAYERS))]
    elements = (_element(patch, found) for patch in (*behind, *scene.patches))
    return "\n".join([head, title, *elements, "</svg>\n"]).encode()


def _element(patch: Area | Hair | Field, photographs: Mapping[int, bytes]) -> str:
    match patch:
        case Area(steps, colour, opacity):
            return f'<path d="{path_data(steps, places=_PLACES)}" fill="{colour}"{_veil("fill", opacity)}/>'
        case Hair(steps, colour, width, opacity):
            line = f' stroke-width="{_number(width)}"{_veil("stroke", opacity)}'
            return f'<path d="{path_data(steps, places=_PLACES)}" fill="none" stroke="{colour}"{line}/>'
        case Field(number, box, colour):
            place = f'x="{_number(box.left)}" y="{_number(box.top)}" width="{_number(box.width)}"'
            place += f' height="{_number(box.height)}"'
            if number not in photographs:
                return f'<rect {place} fill="{colour}"/>'
            data = b64encode(photographs[number]).decode()
            return f'<image {place} preserveAspectRatio="none" href="data:image/jpeg;base64,{data}"/>'


def _veil(kind: str, opacity: float) -> str:
    return f' {kind}-opacity="{opacity:.4g}"' if opacity < 1 else ""


def _number(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
