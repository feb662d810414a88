"""Drawings as pictures, for previews and for sending on.

A picture is made from the SVG, with the bundled fonts alone, so it is the same on every machine.
"""

from __future__ import annotations

from fourply.drawing.record import Drawing
from fourply.render import svg
from fourply.render.fonts import BOLD, FAMILY, REGULAR


def render(drawing: Drawing, *, dots_per_inch: float = 110.0) -> bytes:
    """Return the drawing as a PNG on white."""
    import resvg_py  # noqa: PLC0415 - needed here alone

    return bytes(
        resvg_py.svg_to_bytes(
            svg_string=svg.render(drawing).decode(),
            dpi=dots_per_inch,
            background="#ffffff",
            skip_system_fonts=True,
            font_files=[str(REGULAR), str(BOLD)],
            font_family=FAMILY,
        )
    )
