"""The path of a window shape, as drawing programs write it: the path data of SVG 1.1, section 8.3, one closed subpath.

A path comes from a file that anybody wrote, so everything is bounded and a fault names the place in the text. What is
read is an outline about the middle of its own box, its longer side 100 mm: its size follows from the window.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field

from fourply.errors import BadFile, BadInput
from fourply.trade.shapes.free import CROSSING_MM, Free
from fourply.trade.shapes.outline import Cubic, Outline, Piece, Point, Segment, Sweep

LONGEST = 20_000
"""So many characters a path may have."""
MOST_PIECES = 500
"""So many pieces a path may have."""
MOST_POINTS = 20_000
"""So many straight lines its curves may need."""
THINNEST = 1e-6
"""A path encloses more than this part of the square on its longer side."""
LONGER_SIDE_MM = 100.0
"""How large the outline is made, whatever unit the path was drawn in."""
LARGEST = 1e6
"""No coordinate may be larger, either way."""

_TOKEN = re.compile(r"[\s,]*(?:([MmLlHhVvCcSsQqTtAaZz])|([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?))")
_FLAG = re.compile(r"[\s,]*([01])")
_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7}
_SHORTEST = 1e-9


def parse_path(text: str, *, source: str = "path") -> Outline:
    """Return the outline of SVG path data: clockwise, about the middle of its box, the longer side 100 mm.

    An open end is closed by a straight line, as a fill would be. Raises BadFile, naming `source` and the place, for
    text that is no path, for more than one subpath, for a path that crosses itself or encloses nothing, and for one
    longer than the limits.

    >>> outline = parse_path("M 10 10 h 80 v 40 h -80 z")
    >>> outline.bounds(), outline.area
    ((-50.0, -25.0, 50.0, 25.0), 5000.0)
    >>> parse_path("M 0 0 L 10 x")
    Traceback (most recent call last):
    ...
    fourply.errors.BadFile: path: 'x' at character 12; a number
    """
    if len(text) > LONGEST:
        raise BadFile(source, f"a path of {len(text)} characters", f"at most {LONGEST} characters")
    pieces = _Reader(text, source).read()
    try:
        return _checked(pieces)
    except BadInput as bad:
        raise BadFile(source, bad.found, bad.expected) from None


def _checked(pieces: list[Piece]) -> Outline:
    """Return the outline turned clockwise, centred and scaled; raises BadInput where it cannot be cut."""
    area = math.fsum(piece.swept for piece in pieces)
    spans = [[bound for piece in pieces for bound in piece.range(axis)] for axis in (0, 1)]
    longer = max(max(span) - min(span) for span in spans)
    if abs(area) <= THINNEST * longer * longer:
        raise BadInput("a path that encloses next to nothing", "a closed path round an area")
    outline = Outline(tuple(pieces if area > 0 else map(_reversed, reversed(pieces)))).scaled(LONGER_SIDE_MM / longer)
    if len(outline.flatten(CROSSING_MM)) > MOST_POINTS:
        raise BadInput("a path with too many bends", "a simpler path")
    return Free(outline.centred()).path


def _reversed(piece: Piece) -> Piece:
    match piece:
        case Segment(start, end):
            return Segment(end, start)
        case Cubic(start, c1, c2, end):
            return Cubic(end, c2, c1, start)
        case Sweep(cx, cy, rx, ry, start, sweep):
            return Sweep(cx, cy, rx, ry, start + sweep, -sweep)
    raise TypeError(piece)


@dataclass(slots=True)
class _Reader:
    """Reads path data from left to right, one command after another."""

    text: str
    source: str
    at: int = 0
    began: int = 0
    relative: bool = False
    point: Point = (0.0, 0.0)
    start: Point = (0.0, 0.0)
    handle: Point | None = None
    handle_of: str = ""
    pieces: list[Piece] = field(default_factory=list)

    def read(self) -> list[Piece]:
        command, closed = self._command(), False
        if command not in ("M", "m"):
            raise self._bad("a path that does not begin with M", "M and the first point", self.began)
        while command:
            if closed or (command in "Mm" and self.pieces):
                raise self._bad("a second subpath", "one closed path", self.began)
            if command in "Zz":
                closed = True
            else:
                self._run(command)
            command = self._command()
        if not self.pieces:
            raise self._bad("a path without a piece", "lines or curves after the first point")
        self._line(self.start)
        return self.pieces

    def _command(self) -> str:
        match = _TOKEN.match(self.text, self.at)
        if match is None:
            if self.text[self.at :].strip(" \t\r\n\f,"):
                raise self._bad_here("a command: M L H V C S Q T A Z")
            return ""
        if match[1] is None:
            raise self._bad_here("a command: M L H V C S Q T A Z")
        self.at, self.began = match.end(), match.start(1)
        return match[1]

    def _run(self, command: str) -> None:
        """Read a command's numbers, as often as they are repeated."""
        upper, first = command.upper(), True
        self.relative = command.islower()
        while first or self._more():
            values = self._numbers(upper)
            kind = "L" if upper == "M" and not first else upper
            _DRAW[kind](self, values)
            if kind not in "CSQT":
                self.handle = None
            self.handle_of = kind
            first = False
            if len(self.pieces) > MOST_PIECES:
                raise self._bad(f"more than {MOST_PIECES} pieces", "a simpler path")

    def _more(self) -> bool:
        match = _TOKEN.match(self.text, self.at)
        return match is not None and match[2] is not None

    def _numbers(self, upper: str) -> list[float]:
        flags = (3, 4) if upper == "A" else ()
        return [self._flag() if at in flags else self._number() for at in range(_COUNTS[upper])]

    def _number(self) -> float:
        match = _TOKEN.match(self.text, self.at)
        if match is None or match[2] is None:
            raise self._bad_here("a number")
        value = float(match[2])
        if not abs(value) <= LARGEST:
            raise self._bad_here(f"a number up to {LARGEST:.0f}")
        self.at = match.end()
        return value

    def _flag(self) -> float:
        match = _FLAG.match(self.text, self.at)
        if match is None:
            raise self._bad_here("a flag, 0 or 1")
        self.at = match.end()
        return float(match[1])

    def to(self, x: float, y: float) -> Point:
        """Return the point meant, from the last one where the command is relative."""
        return (self.point[0] + x, self.point[1] + y) if self.relative else (x, y)

    def _line(self, end: Point) -> None:
        if math.dist(self.point, end) > _SHORTEST:
            self.pieces.append(Segment(self.point, end))
            self.point = end

    def line(self, end: Point) -> None:
        """Draw a straight line; one without length is left out."""
        self._line(end)

    def cubic(self, c1: Point, c2: Point, end: Point) -> None:
        """Draw a cubic; one without length is left out."""
        if max(math.dist(self.point, other) for other in (c1, c2, end)) > _SHORTEST:
            self.pieces.append(Cubic(self.point, c1, c2, end))
            self.point = end

    def reflected(self, kinds: str) -> Point:
        """Return the last handle on the other side of the point, or the point where the last piece had none."""
        if self.handle is None or self.handle_of not in kinds:
            return self.point
        return 2 * self.point[0] - self.handle[0], 2 * self.point[1] - self.handle[1]

    def _bad(self, found: str, expected: str, at: int | None = None) -> BadFile:
        place = self.at if at is None else at
        return BadFile(self.source, f"{found} at character {place + 1}", expected)

    def _bad_here(self, expected: str) -> BadFile:
        rest = self.text[self.at :]
        skipped = len(rest) - len(rest.lstrip(" \t\r\n\f,"))
        word = rest[skipped : skipped + 12].split()[:1]
        self.at += skipped
        return self._bad(f"{word[0]!r}" if word else "the end", expected)


def _move(reader: _Reader, values: list[float]) -> None:
    reader.point = reader.start = reader.to(values[0], values[1])


def _straight(reader: _Reader, values: list[float]) -> None:
    reader.line(reader.to(values[0], values[1]))


def _level(reader: _Reader, values: list[float]) -> None:
    reader.line((values[0] + (reader.point[0] if reader.relative else 0.0), reader.point[1]))


def _upright(reader: _Reader, values: list[float]) -> None:
    reader.line((reader.point[0], values[0] + (reader.point[1] if reader.relative else 0.0)))


def _curve(reader: _Reader, values: list[float]) -> None:
    c1, c2, end = (reader.to(values[at], values[at + 1]) for at in (0, 2, 4))
    reader.cubic(c1, c2, end)
    reader.handle = c2


def _smooth(reader: _Reader, values: list[float]) -> None:
    c1 = reader.reflected("CS")
    c2, end = (reader.to(values[at], values[at + 1]) for at in (0, 2))
    reader.cubic(c1, c2, end)
    reader.handle = c2


def _quadratic(reader: _Reader, values: list[float]) -> None:
    handle, end = (reader.to(values[at], values[at + 1]) for at in (0, 2))
    _raise(reader, handle, end)


def _smooth_quadratic(reader: _Reader, values: list[float]) -> None:
    _raise(reader, reader.reflected("QT"), reader.to(values[0], values[1]))


def _raise(reader: _Reader, handle: Point, end: Point) -> None:
    """Draw a quadratic as the cubic that it is."""
    c1, c2 = (
        (point[0] + 2 * (handle[0] - point[0]) / 3, point[1] + 2 * (handle[1] - point[1]) / 3)
        for point in (reader.point, end)
    )
    reader.cubic(c1, c2, end)
    reader.handle = handle


def _elliptical(reader: _Reader, values: list[float]) -> None:
    rx, ry, turn, large, sweep = values[:5]
    end = reader.to(values[5], values[6])
    if math.dist(reader.point, end) <= _SHORTEST:
        return
    if min(abs(rx), abs(ry)) <= _SHORTEST:
        reader.line(end)
        return
    reader.pieces += arc_pieces(reader.point, (abs(rx), abs(ry), turn), (bool(large), bool(sweep)), end)
    reader.point = end


def arc_pieces(start: Point, ellipse: tuple[float, float, float], flags: tuple[bool, bool], end: Point) -> list[Piece]:
    """Return an arc from end points to middle and angles, as SVG 1.1, appendix F.6, has it: (rx, ry, turn), flags.

    An upright ellipse or a circle stays an arc; a turned ellipse becomes cubics, each an eighth of a turn (within
    5e-6 of its axes).
    """
    rx, ry, turn = ellipse
    turned = 0.0 if rx == ry else math.radians(turn % 180)
    cosine, sine = math.cos(turned), math.sin(turned)
    dx, dy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    x, y = cosine * dx + sine * dy, cosine * dy - sine * dx
    over = (x / rx) ** 2 + (y / ry) ** 2
    if over > 1:
        rx, ry, over = rx * math.sqrt(over), ry * math.sqrt(over), 1.0
    aside = math.sqrt(1 / over - 1) * (1 if flags[0] != flags[1] else -1)
    mx, my = aside * rx * y / ry, -aside * ry * x / rx
    cx = cosine * mx - sine * my + (start[0] + end[0]) / 2
    cy = sine * mx + cosine * my + (start[1] + end[1]) / 2
    first = math.degrees(math.atan2((y - my) / ry, (x - mx) / rx))
    last = math.degrees(math.atan2((-y - my) / ry, (-x - mx) / rx))
    sweep = (last - first) % 360 - (0 if flags[1] else 360)
    if turned == 0.0:
        return [Sweep(cx, cy, rx, ry, first, sweep)]
    return _turned_arc((cx, cy), (rx, ry, turned), first, sweep)


def _turned_arc(centre: Point, ellipse: tuple[float, float, float], first: float, sweep: float) -> list[Piece]:
    rx, ry, turned = ellipse
    cosine, sine = math.cos(turned), math.sin(turned)

    def place(x: float, y: float) -> Point:
        return centre[0] + cosine * rx * x - sine * ry * y, centre[1] + sine * rx * x + cosine * ry * y

    parts = max(1, math.ceil(abs(sweep) / 45))
    step = math.radians(sweep / parts)
    reach = 4 / 3 * math.tan(step / 4)
    pieces: list[Piece] = []
    for part in range(parts):
        a = math.radians(first) + part * step
        b = a + step
        c1 = (math.cos(a) - reach * math.sin(a), math.sin(a) + reach * math.cos(a))
        c2 = (math.cos(b) + reach * math.sin(b), math.sin(b) - reach * math.cos(b))
        ends = (math.cos(a), math.sin(a)), (math.cos(b), math.sin(b))
        pieces.append(Cubic(place(*ends[0]), place(*c1), place(*c2), place(*ends[1])))
    return pieces


_DRAW: dict[str, Callable[[_Reader, list[float]], None]] = {
    "M": _move,
    "L": _straight,
    "H": _level,
    "V": _upright,
    "C": _curve,
    "S": _smooth,
    "Q": _quadratic,
    "T": _smooth_quadratic,
    "A": _elliptical,
}
