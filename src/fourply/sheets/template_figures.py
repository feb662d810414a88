"""The setting-out figures of a template: a group for each mat and each of its openings, for inlay, sink and art.

Every figure was worked out with the package or is asked of its shape; openings of a mat that are set out alike share
one group. The same construction by pins and string or by trammel is in any textbook of technical drawing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.trade.package import Groove, Hole, Inlay, Line, Mat, Package, Sink
from fourply.trade.parts import mat_name
from fourply.trade.shapes.arch import Arch, EllipticalArch
from fourply.trade.shapes.corners import Clipped, Rounded, Scooped
from fourply.trade.shapes.ellipse import Ellipse
from fourply.trade.shapes.regular import Regular
from fourply.trade.shapes.shape import Shape
from fourply.trade.shapes.stepped import Stepped
from fourply.trade.treatment import Bevel
from fourply.working.words import Words


class Row(NamedTuple):
    """One figure of the setting-out: what it is, the figure, whether the hand copies it."""

    name: str
    figure: str
    strong: bool = False


class Group(NamedTuple):
    """The figures that belong together: of a mat, of an opening, of the art."""

    heading: str
    rows: tuple[Row, ...]


class Ways(NamedTuple):
    """An oval that is drawn two ways: whose it is, its axes and pins in millimetres, the words beside each way."""

    name: str
    width: float
    height: float
    pins: float
    apart: str
    by_pins: str
    by_trammel: str


def figure_groups(package: Package, words: Words) -> tuple[Group, ...]:
    """Return all groups of figures of a package, in the order of work."""
    return tuple(_groups(package, words))


def _groups(package: Package, words: Words) -> Iterator[Group]:
    for mat in package.mats:
        yield from _of_mat(package, mat, words)
    if package.inlay:
        yield _of_inlay(package.inlay, words)
    if package.sink:
        yield _of_sink(package.sink, words)
    arts = [
        (
            str(at),
            (Row("edge of the art", size(art.sheet.size, words)), Row("window, sight", size(art.window.size, words))),
        )
        for at, art in enumerate(package.arts, start=1)
    ]
    yield from _shared("Art", arts)


def _of_mat(package: Package, mat: Mat, words: Words) -> Iterator[Group]:
    """Yield the figures of a mat: one group where it has one opening, else one of the mat and those of its openings."""
    reverse = "" if mat.opening.bevel is Bevel.NORMAL else ", reverse bevel"
    name = mat_name(mat).capitalize()
    own = [Row("blank", size(mat.blank, words), strong=True)]
    for groove in mat.grooves:
        own += _groove(groove, "groove round all" if len(mat.holes) > 1 else "groove", words)
    openings = [(hole, _opening(package, mat, hole, words)) for hole in mat.holes]
    if len(openings) == 1:
        own += openings[0][1]
    yield Group(f"{name}, {mat.board.name}{reverse}", tuple(own))
    if len(openings) > 1:
        numbered = [("title" if hole.title else str(hole.number), tuple(rows)) for hole, rows in openings]
        yield from _shared(f"{name}, opening", numbered)
        yield Group(f"{name}, as it hangs", tuple(_place(hole, words) for hole in mat.holes))


def _place(hole: Hole, words: Words) -> Row:
    which = "title" if hole.title else f"opening {hole.number}"
    return Row(f"{which} from left, top", f"{words.write(hole.borders.left)}, {words.write(hole.borders.top)}")


def _shared(heading: str, numbered: Sequence[tuple[str, tuple[Row, ...]]]) -> Iterator[Group]:
    """Yield one group for all that have the same rows, its heading with their numbers."""
    alike: dict[tuple[Row, ...], list[str]] = {}
    for number, rows in numbered:
        alike.setdefault(rows, []).append(number)
    for rows, numbers in alike.items():
        which = f" {', '.join(numbers)}" if len(numbered) > 1 else ""
        yield Group(f"{heading}{which}".replace("opening title", "title"), rows)


def _opening(package: Package, mat: Mat, hole: Hole, words: Words) -> list[Row]:
    opening = hole.opening
    rows = [
        Row("opens, back line", size(opening.back, words), strong=True),
        Row("opens, face", size(opening.face, words)),
        *shape_rows(opening.shape, words),
    ]
    if hole.reveal < ZERO:
        rows.append(Row("set back by", words.write(-hole.reveal)))
    elif mat.number > 1:
        rows += _reveal(package, mat, hole, words)
    for at, groove in enumerate(hole.grooves):
        letter = f" {chr(ord('a') + at)}" if len(hole.grooves) > 1 else ""
        rows += _groove(groove, f"groove{letter}", words)
    return rows + [_ruled(line, words) for line in hole.lines]


def _reveal(package: Package, mat: Mat, hole: Hole, words: Words) -> Iterator[Row]:
    """Yield the reveal and the flat strip, both on the axes and at the narrowest where these differ."""
    path = f"{hole.scope}{mat.path}"
    narrowest = package.figures.get(f"{path}.reveal_narrowest")
    on_axes = package.figures.get(f"{path}.strip_on_axes")
    yield Row("reveal on the axes" if narrowest else "reveal", words.write(hole.reveal))
    if narrowest:
        yield Row("reveal, narrowest", words.write(narrowest.value))
    if on_axes:
        yield Row("flat strip on the axes", words.write(on_axes.value))
    yield Row("flat strip, narrowest" if narrowest else "flat strip", words.write(hole.strip))


def _groove(groove: Groove, name: str, words: Words) -> Iterator[Row]:
    yield Row(f"{name}, back line", size(groove.back, words), strong=True)
    yield Row("its strip to the window", words.write(groove.strip))
    yield Row("its width seen", words.write(groove.width))
    yield Row("its face is shaved to", size(groove.face_shaved, words))
    yield from (Row(f"{name}: {row.name}", row.figure) for row in shape_rows(groove.shape, words))


def _ruled(line: Line, words: Words) -> Row:
    kind = "wash" if line.rule.wash else "ruled line"
    return Row(f"{kind} {words.write(line.rule.width)} wide, from face", words.write(line.rule.distance))


def _of_inlay(inlay: Inlay, words: Words) -> Group:
    outer, inner = inlay.shape.grown(inlay.width), inlay.shape
    rows = (
        Row("blank", size(inlay.blank, words), strong=True),
        Row("outer edge, back line", size(outer.size, words), strong=True),
        Row("inner edge, back line", size(inner.size, words), strong=True),
        Row("width of the band", words.write(inlay.width)),
        Row("blank past the band", words.write(inlay.hold)),
        *(Row(f"inner edge: {row.name}", row.figure) for row in shape_rows(inner, words)),
    )
    return Group(f"Inlay, {inlay.board.name}", rows)


def _of_sink(sink: Sink, words: Words) -> Group:
    alike = "" if sink.layers == 1 else f", {sink.layers} alike"
    rows = (
        Row("blank", size(sink.blank, words), strong=True),
        Row("opening, square through", size(sink.opening.size, words), strong=True),
        Row("opening from top, as it hangs", words.write(sink.opening.top)),
        Row("opening from left, as it hangs", words.write(sink.opening.left)),
    )
    return Group(f"Sink mat, {sink.board.name}{alike}", rows)


# ── shapes ───────────────────────────────────────────────────────────────────────────────────────────────────────


def shape_rows(shape: Shape, words: Words) -> Iterator[Row]:
    """Yield what sets out a shape beside the size of its box; nothing for a rectangle or a free path."""
    match shape:
        case Ellipse():
            yield from _oval(shape, words)
        case Arch():
            yield Row("radius", words.write(shape.radius))
            yield Row("centre below the crown", words.write(shape.radius))
            yield from _springs(shape, words)
        case EllipticalArch():
            yield from _springs(shape, words)
            whole = Ellipse(Size(shape.size.width, 2 * shape.rise))
            yield from (row._replace(name=f"top: {row.name}") for row in _oval(whole, words))
        case Clipped():
            yield Row("leg of the corner", words.write(shape.leg))
            yield Row("side" if shape.is_octagon else "corner cut", words.write(shape.diagonal))
        case Rounded():
            yield Row("radius, centre as far in", words.write(shape.radius))
        case Scooped():
            yield Row("radius of the scoop", words.write(shape.radius))
            yield Row("its centre inside the corner", words.write(shape.inset))
        case Stepped():
            yield from _nested(shape, words)
        case Regular():
            yield Row("across flats" if shape.sides % 2 == 0 else "circle inside", words.write(shape.across))
            yield Row("side", words.write(shape.side))


def _oval(oval: Ellipse, words: Words) -> Iterator[Row]:
    trammel = oval.trammel
    if not trammel.between:
        yield Row("radius", words.write(trammel.long))
        return
    yield Row("pins apart", words.write(oval.pins))
    yield Row("each pin from the centre", words.write(oval.pins // 2))
    yield Row("loop round both pins", words.write(oval.loop))
    yield Row("trammel, half axes", f"{words.write(trammel.long)} and {words.write(trammel.short)}")
    yield Row("axis difference", words.write(abs(oval.size.width - oval.size.height)))
    yield Row("sliders apart", words.write(trammel.between))


def _springs(shape: Arch | EllipticalArch, words: Words) -> Iterator[Row]:
    yield Row("springs below the crown", words.write(shape.rise))
    yield Row("springs above the foot", words.write(shape.shoulder))


def _nested(shape: Stepped, words: Words) -> Iterator[Row]:
    """Yield the rectangles one inside the other, each cut between the lines of its opposite number."""
    numbers = [str(number) for number in range(1, len(shape.rectangles) + 1)]
    for number, rectangle in zip(numbers, shape.rectangles, strict=True):
        yield Row(f"rectangle {number}", size(rectangle, words))
    yield Row(f"{', '.join(numbers)} end on the lines of", ", ".join(reversed(numbers)))
    for number, step in zip(numbers, shape.steps, strict=False):
        yield Row(f"step inwards from {number}, all sides", words.write(step))


# ── two ways ─────────────────────────────────────────────────────────────────────────────────────────────────────


def two_ways(package: Package, words: Words) -> Ways | None:
    """Return the first oval of the innermost mat that has one, nothing where no window is an oval."""
    for mat in reversed(package.mats):
        for hole in mat.holes:
            oval = hole.opening.shape
            if isinstance(oval, Ellipse) and oval.trammel.between:
                which = f", opening {hole.number}" if len(mat.holes) > 1 else ""
                return _ways(f"{mat_name(mat)}{which}", oval, words)
    return None


def _ways(name: str, oval: Ellipse, words: Words) -> Ways:
    pins, pin, loop = (words.write(length) for length in (oval.pins, oval.pins // 2, oval.loop))
    long, short, between = (words.write(length) for length in _settings(oval))
    return Ways(
        name,
        oval.size.width.as_mm,
        oval.size.height.as_mm,
        oval.pins.as_mm,
        pins,
        f"pins {pins} apart on the longer axis, {pin} each side of the centre; loop {loop} round both, drawn taut",
        f"pencil to the slider on the shorter axis {long}, to that on the longer {short}; sliders {between} apart",
    )


def _settings(oval: Ellipse) -> tuple[Length, Length, Length]:
    return oval.trammel.long, oval.trammel.short, oval.trammel.between


def size(of: Size, words: Words) -> str:
    """Return a size as it is: a template is not rounded to the marks of a rule."""
    return f"{words.write(of.width)} × {words.write(of.height)}"
