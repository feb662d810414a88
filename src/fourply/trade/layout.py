"""How several openings lie in one mat: rows, columns, grids, free places, or the arrangement that takes least board.

Sizes are those of the top mat's back boxes, and every place is an offset from the block that holds them all. Openings
stand in tracks: rows, or columns where they lie upright; in a grid they stand in columns of rows besides. Offsets
follow from the sizes before and the gutters, so that "why?" can be asked of each.

`auto` tries every way to break the openings, in their order, into rows and into columns. It takes the one with the
smallest outer size for the given gutter, or, in a given outer size, the one with the widest equal gaps.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import NamedTuple

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length, total
from fourply.measure.rounding import down, to_grid
from fourply.measure.size import Edges, Size
from fourply.trade import opening_rules as rules
from fourply.trade.accents import Align, Arrange, Gaps, LayoutRule
from fourply.trade.borders import Bordered
from fourply.trade.mats import Placed
from fourply.trade.openings import Sheet, open_mats
from fourply.trade.shapes.rule import ShapeRule
from fourply.trade.treatment import Bevel, Treatment
from fourply.trade.window import window_path
from fourply.working.ledger import Ledger
from fourply.working.working import Rule

MOST_AUTO = 14
"""More openings than this are laid out in a grid as square as can be: the ways to break them grow too many."""

type Tracks = tuple[tuple[int, ...], ...]
"""The openings of each row or column by their index."""


class Way(NamedTuple):
    """One way to lay out openings: in these tracks, which are rows, or columns where they lie `upright`."""

    tracks: Tracks
    upright: bool


@dataclass(frozen=True, slots=True)
class Arranged:
    """The block of openings, the left and top of each in it, and the gutters from side to side and up and down."""

    block: Size
    offsets: tuple[tuple[Length, Length], ...]
    gutters: tuple[Length, Length]


def arrange(ledger: Ledger, sizes: Sequence[Size], treatment: Treatment, outer: Size | None) -> Arranged:
    """Return how the openings lie; the block is entered as the back of the top mat.

    Sizes are entered already as `opening.N.mat.1.back`. Raises BadTreatment where gutters are to fill an outer size
    that nobody gave, or where there is no room for them.
    """
    rule = treatment.layout
    if rule.gaps is not Gaps.GIVEN and outer is None:
        raise BadTreatment("layout", f"gaps are to {rule.gaps.value}", "an outer size or a ready-made frame too")
    if rule.arrange is Arrange.FREE:
        return _free(ledger, sizes, rule)
    way = _way(len(sizes), rule)
    if rule.arrange is Arrange.AUTO:
        way, gutter = _best(sizes, treatment, outer)
        rule = replace(rule, gutter=gutter, gaps=Gaps.GIVEN)
    return _Laying(ledger, sizes, replace(treatment, layout=rule), outer, way).lay()


def place_openings(ledger: Ledger, arranged: Arranged, sizes: Sequence[Size], bordered: Bordered) -> tuple[Edges, ...]:
    """Return the borders of every opening of the top mat from the edges of the package, each entered in its scope."""
    outer, edges = bordered.outer, []
    for number, (size, (x, y)) in enumerate(zip(sizes, arranged.offsets, strict=True), start=1):
        scoped = ledger.scoped(f"opening.{number}.")
        left, top = bordered.borders.left + x, bordered.borders.top + y
        for name, value in (("left", left), ("top", top)):
            operands = {"border": f"mat.1.border.{name}", "offset": f"offset.{name}"}
            scoped.figure(f"mat.1.border.{name}", value, rules.BORDER_OFFSET, **operands)
        right, bottom = outer.width - left - size.width, outer.height - top - size.height
        for name, side, other, value in (("right", "width", "left", right), ("bottom", "height", "top", bottom)):
            operands = {"outer": f"outer.{side}", "other": f"mat.1.border.{other}", "size": f"mat.1.back.{side}"}
            scoped.figure(f"mat.1.border.{name}", value, rules.BORDER_REST, **operands)
        edges.append(Edges(top, right, bottom, left))
    return tuple(edges)


def open_title(ledger: Ledger, treatment: Treatment, sheets: tuple[Sheet, ...], bordered: Bordered) -> Placed:
    """Return the opening of a title through all mats, in its place below the windows.

    Raises BadTreatment where the bottom border has no room for it.
    """
    rule = treatment.title
    if rule is None:
        raise BadTreatment("title", "no title is asked for", "a title with its size")
    scope, origin = "title.", treatment.origin("title")
    scoped = ledger.scoped(scope)
    plain = replace(treatment, shape=ShapeRule(), mats=tuple(replace(mat, shape=None) for mat in treatment.mats))
    scoped.given(f"{window_path(plain)}.width", rule.size.width, origin)
    scoped.given(f"{window_path(plain)}.height", rule.size.height, origin)
    opened = open_mats(scoped, rule.size, plain, sheets, fillet=None)
    size, outer, bottom = opened[0].opening.back, bordered.outer, bordered.borders.bottom
    operands = {"bottom": "mat.1.border.bottom", "title": "mat.1.back.height", "grid": "grid"}
    if rule.drop is None:
        drop = to_grid((bottom - size.height) // 2, treatment.grid, down)
        scoped.figure("drop", drop, rules.TITLE_AT, **operands)
    else:
        drop = scoped.given("drop", rule.drop, origin)
    top = outer.height - bottom + drop
    rest = outer.height - top - size.height
    left = to_grid((outer.width - size.width) // 2, treatment.grid, down)
    if min(drop, rest, left) <= ZERO:
        raise BadTreatment("title", "the bottom border has no room for the title's opening", "a wider bottom border")
    scoped.figure(
        "mat.1.border.top", top, rules.TITLE_TOP, outer="outer.height", bottom="mat.1.border.bottom", drop="drop"
    )
    names = {"outer": "outer.width", "title": "mat.1.back.width", "grid": "grid"}
    scoped.figure("mat.1.border.left", left, rules.TITLE_LEFT, **names)
    names = {"outer": "outer.width", "other": "mat.1.border.left", "size": "mat.1.back.width"}
    right = scoped.figure("mat.1.border.right", outer.width - left - size.width, rules.BORDER_REST, **names)
    names = {"outer": "outer.height", "other": "mat.1.border.top", "size": "mat.1.back.height"}
    scoped.figure("mat.1.border.bottom", rest, rules.BORDER_REST, **names)
    return Placed(scoped, scope, opened, Edges(top, right, rest, left), title=True)


def _way(count: int, rule: LayoutRule) -> Way:
    if rule.arrange is Arrange.COLUMN:
        return Way((tuple(range(count)),), upright=True)
    columns = rule.columns if rule.arrange is Arrange.GRID else count
    return Way(_broken(count, range(columns, count, columns)), upright=False)


def _broken(count: int, at: Sequence[int]) -> Tracks:
    """Return the indices broken into tracks before each index of `at`."""
    starts = (0, *at)
    return tuple(tuple(range(a, b)) for a, b in zip(starts, (*at, count), strict=True))


def _free(ledger: Ledger, sizes: Sequence[Size], rule: LayoutRule) -> Arranged:
    if len(rule.places) != len(sizes):
        found = f"{len(rule.places)} places for {len(sizes)} openings"
        raise BadTreatment("layout.places", found, "one place for each opening")
    left, top = (min(place[axis] for place in rule.places) for axis in (0, 1))
    offsets = tuple((x - left, y - top) for x, y in rule.places)
    for number, offset in enumerate(offsets, start=1):
        for name, length in zip(("left", "top"), offset, strict=True):
            ledger.given(f"opening.{number}.offset.{name}", length, "placed freely")
    block = []
    for axis, side, start in ((0, "width", "left"), (1, "height", "top")):
        ends = [offset[axis] + _side(size, side) for offset, size in zip(offsets, sizes, strict=True)]
        last = ends.index(max(ends)) + 1
        names = {"offset": f"opening.{last}.offset.{start}", "size": f"opening.{last}.mat.1.back.{side}"}
        block.append(ledger.figure(f"mat.1.back.{side}", max(ends), rules.BLOCK_FREE, **names))
    return Arranged(Size(*block), offsets, (ZERO, ZERO))


def _best(sizes: Sequence[Size], treatment: Treatment, outer: Size | None) -> tuple[Way, Length]:
    """Return the way and the gutter of the arrangement that `auto` takes."""
    best: tuple[tuple[int, ...], Way, Length] | None = None
    for tracks in _ways(len(sizes)):
        for way in (Way(tracks, upright=False), Way(tracks, upright=True)):
            gutter = _widest_gap(sizes, way, treatment, outer) if outer else treatment.layout.gutter
            if gutter < ZERO:
                continue
            width, height = _extent(sizes, way, gutter)
            edge = 2 * treatment.border.nm
            area = (width + edge) * (height + edge)
            key = (-gutter.nm if outer else area, abs(width - height), len(tracks), int(way.upright))
            if best is None or key < best[0]:
                best = (key, way, gutter)
    if best is None:
        raise BadTreatment("outer", "the openings do not fit the outer size in any arrangement", "a larger outer size")
    return best[1:]


def _ways(count: int) -> Iterator[Tracks]:
    """Yield every way to break so many openings, in their order, into tracks."""
    if count > MOST_AUTO:
        columns = next(n for n in range(1, count + 1) if n * n >= count)
        yield _broken(count, range(columns, count, columns))
        return
    for parts in range(count):
        for at in combinations(range(1, count), parts):
            yield _broken(count, at)


def _widest_gap(sizes: Sequence[Size], way: Way, treatment: Treatment, outer: Size) -> Length:
    """Return the gap that can be left alike round and between all openings, below nothing where they do not fit."""
    tracks = way.tracks
    along, deep = ("height", "width") if way.upright else ("width", "height")
    room = [
        (_side(outer, along) - total([_side(sizes[i], along) for i in track])) // (len(track) + 1) for track in tracks
    ]
    depth = total([max(_side(sizes[i], deep) for i in track) for track in tracks])
    room.append((_side(outer, deep) - depth) // (len(tracks) + 1))
    return to_grid(min(room), treatment.grid, down)


def _extent(sizes: Sequence[Size], way: Way, gutter: Length) -> tuple[int, int]:
    """Return width and height of the block in nm."""
    tracks = way.tracks
    along, deep = ("height", "width") if way.upright else ("width", "height")
    long = max(sum(_side(sizes[i], along).nm for i in track) + (len(track) - 1) * gutter.nm for track in tracks)
    high = sum(max(_side(sizes[i], deep).nm for i in track) for track in tracks) + (len(tracks) - 1) * gutter.nm
    return (high, long) if way.upright else (long, high)


class _Laying:
    """Openings while they are laid in tracks: `u` runs along a track, `v` from one track to the next."""

    def __init__(
        self, ledger: Ledger, sizes: Sequence[Size], treatment: Treatment, outer: Size | None, way: Way
    ) -> None:
        self.ledger, self.sizes, self.treatment = ledger, sizes, treatment
        self.outer, self.rule, self.tracks = outer, treatment.layout, way.tracks
        self.u, self.v = ("height", "width") if way.upright else ("width", "height")

    def lay(self) -> Arranged:
        """Return the block with every offset entered."""
        longest = max(self.tracks, key=len)
        by_u = {self.u: self._gutter(self.u, list(longest)), self.v: ZERO}
        deepest = [max(track, key=lambda i: _side(self.sizes[i], self.v)) for track in self.tracks]
        by_u[self.v] = self._gutter(self.v, deepest)
        self._faces(by_u)
        block = {self.v: self._depths(by_u[self.v]), self.u: ZERO}
        if self.rule.arrange is Arrange.GRID:
            block[self.u] = self._columns(by_u[self.u])
        else:
            block[self.u] = self._lengths(by_u[self.u])
        for track in range(len(self.tracks)):
            self._across(track)
        offsets = tuple(
            (self.ledger.length(f"opening.{n}.offset.left"), self.ledger.length(f"opening.{n}.offset.top"))
            for n in range(1, len(self.sizes) + 1)
        )
        return Arranged(Size(block["width"], block["height"]), offsets, (by_u["width"], by_u["height"]))

    def _gutter(self, side: str, chain: list[int]) -> Length:
        """Enter and return the gutter in one direction; `chain` are the openings that stand in the way of it."""
        path, origin = f"layout.gutter.{side}", self.treatment.origin("layout")
        if len(chain) < 2:
            return ZERO
        if self.rule.gaps is Gaps.GIVEN or self.outer is None:
            return self.ledger.given(path, self.rule.gutter, origin)
        summed = total([_side(self.sizes[i], side) for i in chain])
        self._sum(f"layout.openings.{side}", summed, [f"opening.{i + 1}.mat.1.back.{side}" for i in chain])
        self.ledger.given(f"outer.{side}", _side(self.outer, side), self.treatment.origin("outer"))
        count = self.ledger.given(f"layout.count.{side}", len(chain), "openings beside one another")
        names = {"outer": f"outer.{side}", "openings": f"layout.openings.{side}", "count": f"layout.count.{side}"}
        if self.rule.gaps is Gaps.EVEN:
            gutter = (_side(self.outer, side) - summed) // (count + 1)
            rule = rules.GUTTER_EVEN
        else:
            self.ledger.given("treatment.border", self.treatment.border, self.treatment.origin("border"))
            gutter = (_side(self.outer, side) - 2 * self.treatment.border - summed) // (count - 1)
            rule, names = rules.GUTTER_FILL, names | {"border": "treatment.border"}
        gutter = to_grid(gutter, self.treatment.grid, down)
        if gutter < ZERO:
            raise BadTreatment(path, "the openings do not fit beside one another", "a larger outer size")
        return self.ledger.figure(path, gutter, rule, **names, grid="grid")

    def _faces(self, gutters: dict[str, Length]) -> None:
        """Enter how much coloured face the gutters keep between normal bevels."""
        if self.treatment.mats[0].bevel is not Bevel.NORMAL:
            return
        for side, gutter in gutters.items():
            path = f"layout.gutter.{side}"
            if path in self.ledger:
                names = {"gutter": path, "run": "mat.1.run"}
                face = gutter - 2 * self.ledger.length("mat.1.run")
                self.ledger.figure(f"layout.gutter.face.{side}", face, rules.GUTTER_FACE, **names)

    def _depths(self, gutter: Length) -> Length:
        """Enter where each track starts and how deep it is; returns the block's side across the tracks."""
        start, parts = ZERO, []
        for t, track in enumerate(self.tracks, start=1):
            members = [f"opening.{i + 1}.mat.1.back.{self.v}" for i in track]
            depth = max(_side(self.sizes[i], self.v) for i in track)
            self._most(f"track.{t}.depth", depth, members)
            if t == 1:
                self.ledger.given("track.1.start", ZERO, "the block's edge")
            else:
                start += gutter
                self._next(f"track.{t}.start", start, f"track.{t - 1}.start", f"track.{t - 1}.depth", self.v)
            start += depth
            parts.append(f"track.{t}.depth")
        self._sum(f"mat.1.back.{self.v}", start, parts, gutters=(len(parts) - 1, f"layout.gutter.{self.v}"))
        return start

    def _lengths(self, gutter: Length) -> Length:
        """Enter the openings of every track one after another, each track in the middle of the block."""
        lengths = []
        for t, track in enumerate(self.tracks, start=1):
            parts = [f"opening.{i + 1}.mat.1.back.{self.u}" for i in track]
            length = total([_side(self.sizes[i], self.u) for i in track]) + (len(track) - 1) * gutter
            self._sum(f"track.{t}.length", length, parts, gutters=(len(parts) - 1, f"layout.gutter.{self.u}"))
            lengths.append(length)
        block = max(lengths)
        self._most(f"mat.1.back.{self.u}", block, [f"track.{t}.length" for t in range(1, len(lengths) + 1)])
        for t, track in enumerate(self.tracks):
            at = ZERO
            for place, i in enumerate(track):
                path = self._offset(i, self.u)
                if place == 0:
                    size = (f"track.{t + 1}.length", lengths[t])
                    at = self._middle(path, (ZERO, block), ("track.1.start", f"mat.1.back.{self.u}"), size)
                else:
                    before = track[place - 1]
                    at += _side(self.sizes[before], self.u) + gutter
                    self._next(path, at, self._offset(before, self.u), self._size(before, self.u), self.u)
        return block

    def _columns(self, gutter: Length) -> Length:
        """Enter the openings of a grid in the middle of their columns."""
        start, parts = ZERO, []
        for c in range(max(len(track) for track in self.tracks)):
            members = [track[c] for track in self.tracks if c < len(track)]
            width = max(_side(self.sizes[i], self.u) for i in members)
            self._most(f"column.{c + 1}.width", width, [self._size(i, self.u) for i in members])
            if c == 0:
                self.ledger.given("column.1.start", ZERO, "the block's edge")
            else:
                start += gutter
                self._next(f"column.{c + 1}.start", start, f"column.{c}.start", f"column.{c}.width", self.u)
            for i in members:
                self._in_cell(i, self.u, (start, width), (f"column.{c + 1}.start", f"column.{c + 1}.width"))
            start += width
            parts.append(f"column.{c + 1}.width")
        self._sum(f"mat.1.back.{self.u}", start, parts, gutters=(len(parts) - 1, f"layout.gutter.{self.u}"))
        return start

    def _across(self, track: int) -> None:
        """Enter where the openings of a track stand in its depth."""
        start, depth = (self.ledger.length(f"track.{track + 1}.{name}") for name in ("start", "depth"))
        names = {"start": f"track.{track + 1}.start", "room": f"track.{track + 1}.depth"}
        for i in self.tracks[track]:
            spare = depth - _side(self.sizes[i], self.v)
            path = self._offset(i, self.v)
            match self.rule.align:
                case Align.TOP:
                    self.ledger.figure(path, start, rules.AT_START, start=names["start"])
                case Align.CENTRE:
                    self._in_cell(i, self.v, (start, depth), (names["start"], names["room"]))
                case Align.BASE:
                    self.ledger.figure(path, start + spare, rules.AT_END, **names, size=self._size(i, self.v))

    def _in_cell(self, index: int, side: str, cell: tuple[Length, Length], named: tuple[str, str]) -> None:
        size = (self._size(index, side), _side(self.sizes[index], side))
        self._middle(self._offset(index, side), cell, named, size)

    def _middle(
        self, path: str, cell: tuple[Length, Length], named: tuple[str, str], size: tuple[str, Length]
    ) -> Length:
        """Enter and return where something of a size starts in the middle of a cell, given by its start and room."""
        start, room = cell
        if size[1] == room:
            return self.ledger.figure(path, start, rules.AT_START, start=named[0])
        at = to_grid(start + (room - size[1]) // 2, self.treatment.grid, down)
        names = {"start": named[0], "room": named[1], "size": size[0], "grid": "grid"}
        return self.ledger.figure(path, at, rules.IN_CELL, **names)

    def _next(self, path: str, at: Length, before: str, wide: str, side: str) -> None:
        self.ledger.figure(path, at, rules.NEXT_AT, before=before, wide=wide, gutter=f"layout.gutter.{side}")

    def _most(self, path: str, value: Length, members: Sequence[str]) -> None:
        names = {f"size_{n}": member for n, member in enumerate(members, start=1)}
        formula = f"max({', '.join(names)})" if len(names) > 1 else "size_1"
        self.ledger.figure(path, value, Rule("layout.most", formula, "The largest decides."), **names)

    def _sum(self, path: str, value: Length, parts: Sequence[str], gutters: tuple[int, str] = (0, "")) -> None:
        names = {f"size_{n}": part for n, part in enumerate(parts, start=1)}
        formula = " + ".join(names)
        if gutters[0]:
            formula, names = f"{formula} + {gutters[0]} * gutter", names | {"gutter": gutters[1]}
        self.ledger.figure(path, value, Rule("layout.sum", formula, "One after another."), **names)

    def _offset(self, index: int, side: str) -> str:
        return f"opening.{index + 1}.offset.{'left' if side == 'width' else 'top'}"

    def _size(self, index: int, side: str) -> str:
        return f"opening.{index + 1}.mat.1.back.{side}"


def _side(size: Size, side: str) -> Length:
    return size.width if side == "width" else size.height
