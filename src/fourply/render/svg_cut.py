"""Drawings as SVG for machines that cut: outlines alone, in millimetres, a group for each layer.

A machine follows every line it finds, so nothing is drawn but what is cut: no text, no fill, no style but a hairline.
What a person must know stands where a machine does not look, in the title and the description. Y runs down from the
top left corner; one user unit is a millimetre. Arcs stay arcs, a quarter turn at most each, since SVG leaves it to the
reader to find their centre; lengths are written to a nanometre.
"""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from fourply.drawing.record import Drawing
from fourply.drawing.text import clean
from fourply.render.svg import path_data

_HAIRLINE = 0.01
_PLACES = 6


def render(drawing: Drawing) -> bytes:
    """Return the paths of a drawing as an SVG file in UTF-8; its lines of text become the description."""
    width, height = (f"{side:.{_PLACES}f}".rstrip("0").rstrip(".") for side in (drawing.width, drawing.height))
    lines = [
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
            f' viewBox="0 0 {width} {height}">'
        ),
        f"<title>{escape(clean(drawing.title))}</title>",
        f"<desc>{escape(chr(10).join(clean(label.text) for label in drawing.labels))}</desc>",
    ]
    for layer in dict.fromkeys(path.layer for path in drawing.paths):
        lines.append(f'<g id={quoteattr(layer or "0")} fill="none" stroke="#000000" stroke-width="{_HAIRLINE}">')
        lines.extend(
            f'<path d="{path_data(path.steps, places=_PLACES)}"/>' for path in drawing.paths if path.layer == layer
        )
        lines.append("</g>")
    return "\n".join([*lines, "</svg>\n"]).encode()
