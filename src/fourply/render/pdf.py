"""Drawings as the pages of a PDF that prints at its true size.

A viewer that shrinks a page to its margins spoils a template without a word, so every file asks for no scaling.
Fonts are embedded as subsets; the same drawings give the same bytes. A page's marks are written as PDF operators in
millimetres under one turned and scaled coordinate system, several times faster than call by call.

Figures of a fraction are set from the font's superior and inferior glyphs, but stand in the file as plain digits:
the font is loaded a second and third time with those glyphs in the digits' places. So `16 3⁄8` is found, copied and
read out as that.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable
from functools import lru_cache
from typing import TYPE_CHECKING

from fourply.drawing.ink import Ink, Stroke
from fourply.drawing.pen import Label, Path, Pen, Step
from fourply.drawing.record import Drawing, replay
from fourply.drawing.shapes import as_curves
from fourply.drawing.text import INFERIORS, SUPERIORS, Figures, Piece, pieces
from fourply.render.fonts import BOLD, REGULAR

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

_PER_MM = 72 / 25.4


def render(drawings: Iterable[Drawing], *, title: str = "") -> bytes:
    """Return a PDF with a page for each drawing, in their order; at least one is needed."""
    from reportlab import rl_config  # noqa: PLC0415 - heavy, and needed here alone
    from reportlab.pdfgen.canvas import Canvas  # noqa: PLC0415

    rl_config.useA85 = 0  # text armour for mail of the nineties: a quarter more bytes and half the time of writing
    file = io.BytesIO()
    canvas = Canvas(
        file, invariant=1, pageCompression=1, initialFontName=_font(bold=False, figures=Figures.FULL).fontName
    )
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setTitle(title)
    canvas.setCreator("fourply")
    pages, texts = 0, _Texts(canvas)
    for drawing in drawings:
        _page(canvas, drawing, texts)
        pages += 1
    if not pages:
        msg = "a PDF has one page or more"
        raise ValueError(msg)
    canvas.save()
    return file.getvalue()


def get_ready() -> None:
    """Load what writes a PDF, with its fonts: a tenth of a second, to be spent while something else is waited for."""
    import reportlab.pdfgen.canvas  # noqa: F401, PLC0415

    for figures in Figures:
        _font(bold=False, figures=figures)
        _font(bold=True, figures=figures)


def _page(canvas: Canvas, drawing: Drawing, texts: _Texts) -> None:
    width, height = drawing.width * _PER_MM, drawing.height * _PER_MM
    canvas.setPageSize((width, height))
    pen = _Operators(texts)
    replay(drawing.marks, pen)
    canvas.addLiteral(f"{_PER_MM:.9f} 0 0 {-_PER_MM:.9f} 0 {height:.6f} cm 1 J 1 j")
    canvas.addLiteral("\n".join(pen.operators))
    canvas.showPage()


class _Texts:
    """The texts of one file as its fonts encode them, each once: sheets say the same words again and again."""

    def __init__(self, canvas: Canvas) -> None:
        self._document = canvas._doc  # noqa: SLF001 - the one way to the subset that reportlab itself uses
        self._known: dict[tuple[TTFont, str], tuple[tuple[str, str], ...]] = {}

    def chunks(self, font: TTFont, text: str) -> tuple[tuple[str, str], ...]:
        """Return the text in parts, each with the name of its font in the file."""
        known = self._known.get((font, text))
        if known is None:
            parts = font.splitString(text, self._document)
            known = tuple((font.getSubsetInternalName(subset, self._document), part.hex()) for subset, part in parts)
            self._known[font, text] = known
        return known


class _Operators(Pen):
    """Turns marks into PDF operators; remembers the state it has set so as not to set it again."""

    def __init__(self, texts: _Texts) -> None:
        self.operators: list[str] = []
        self._texts = texts
        self._stroke: Stroke | None = None
        self._fill: Ink | None = None

    def path(self, path: Path) -> None:
        if path.stroke is not None and path.stroke != self._stroke:
            self._stroke = path.stroke
            dashes = " ".join(f"{dash:.3f}" for dash in path.stroke.dashes)
            cap = 0 if dashes else 1
            self.operators.append(f"{cap} J {path.stroke.width:.4f} w [{dashes}] 0 d {_rgb(path.stroke.ink)} RG")
        if path.fill is not None:
            self._ink(path.fill)
        how = {(True, True): "B*", (True, False): "S", (False, True): "f*", (False, False): "n"}
        self.operators.append(f"{_outline(path.steps)} {how[path.stroke is not None, path.fill is not None]}")

    def label(self, label: Label) -> None:
        self._ink(label.ink)
        turn = _turn(label.angle)
        for piece in pieces(label.text, bold=label.bold):
            self._piece(label, piece, turn)

    def _piece(self, label: Label, piece: Piece, turn: tuple[float, float]) -> None:
        cos, sin = turn
        across, rise = piece.across * label.size, piece.rise * label.size
        x = label.x + across * cos - rise * sin
        y = label.y - across * sin - rise * cos
        size = label.size * piece.scale
        font = _font(bold=label.bold, figures=piece.figures)
        shown = " ".join(f"{name} {size:.4f} Tf <{part}> Tj" for name, part in self._texts.chunks(font, piece.text))
        self.operators.append(f"BT {cos:.6f} {-sin:.6f} {-sin:.6f} {-cos:.6f} {x:.4f} {y:.4f} Tm {shown} ET")

    def _ink(self, ink: Ink) -> None:
        if ink is not self._fill:
            self._fill = ink
            self.operators.append(f"{_rgb(ink)} rg")


@lru_cache(maxsize=64)
def _rgb(ink: Ink) -> str:
    return " ".join(f"{int(ink.value[i : i + 2], 16) / 255:.4g}" for i in (1, 3, 5))


@lru_cache(maxsize=64)
def _turn(angle: float) -> tuple[float, float]:
    return math.cos(math.radians(angle)), math.sin(math.radians(angle))


def _outline(steps: Iterable[Step]) -> str:
    parts: list[str] = []
    for step in steps:
        match step:
            case ("M", x, y):
                parts.append(f"{x:.4f} {y:.4f} m")
            case ("L", x, y):
                parts.append(f"{x:.4f} {y:.4f} l")
            case ("Z",):
                parts.append("h")
            case ("C", *numbers):
                parts.append(" ".join(f"{n:.4f}" for n in numbers) + " c")
            case _:
                parts.extend(" ".join(f"{n:.4f}" for n in curve[1:]) + " c" for curve in as_curves(step))
    return " ".join(parts)


@lru_cache(maxsize=8)
def _font(*, bold: bool, figures: Figures) -> TTFont:
    from reportlab.pdfbase import pdfmetrics  # noqa: PLC0415
    from reportlab.pdfbase.ttfonts import TTFont  # noqa: PLC0415

    name = f"NotoSans-{'Bold' if bold else 'Regular'}{'' if figures is Figures.FULL else '-' + figures.name.title()}"
    font = TTFont(name, BOLD if bold else REGULAR)
    shapes = {Figures.FULL: "", Figures.SUPERIOR: SUPERIORS, Figures.INFERIOR: INFERIORS}[figures]
    font.face.name = name.encode()  # else two subsets would share a name in the file
    glyphs, widths = font.face.charToGlyph, font.face.charWidths
    for digit, shape in zip("0123456789", shapes, strict=False):
        glyphs[ord(digit)], widths[ord(digit)] = glyphs[ord(shape)], widths[ord(shape)]
    pdfmetrics.registerFont(font)
    return font
