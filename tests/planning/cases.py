"""Small problems of every kind, drawn by Hypothesis, shared by the planners' tests."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from fourply.planning.problem import Box, Cutter, Kind, Piece, Problem, Rect, Stock

SIDES = st.integers(8, 60)


@st.composite
def pieces(draw: st.DrawFn, most: int = 6, *, plain: bool = False) -> tuple[Piece, ...]:
    found = []
    for at in range(draw(st.integers(1, most))):
        w, h = draw(SIDES), draw(SIDES)
        rects = draw(st.lists(st.tuples(st.integers(4, 50), st.integers(4, 50)), max_size=1 if plain else 2))
        fallouts = tuple(Rect(min(a, w - 1), min(b, h - 1)) for a, b in rects)
        free = (
            Rect(w + draw(st.integers(0, 4)), h + draw(st.integers(0, 4)))
            if not plain and draw(st.booleans())
            else None
        )
        copies = 1 if draw(st.booleans()) else draw(st.integers(1, 2))
        found.append(Piece(key=f"p{at}", w=w, h=h, copies=copies, fallouts=fallouts, most=free))
    return tuple(found)


@st.composite
def problems(draw: st.DrawFn, most: int = 6, *, plain: bool = False) -> Problem:
    """Return a problem that can always be planned: one kind of sheet is plenty and larger than every piece."""
    stock = [
        Stock(key="s", w=draw(st.integers(75, 110)), h=draw(st.integers(75, 110)), cost=draw(st.integers(50, 150)))
    ]
    if draw(st.booleans()):
        stock.append(Stock(key="t", w=150, h=120, cost=draw(st.integers(100, 350))))
    for at in range(draw(st.integers(0, 2))):
        zones = (
            (Box(draw(st.integers(0, 9)), draw(st.integers(0, 9)), 5, 6),) if not plain and draw(st.booleans()) else ()
        )
        size = (draw(st.integers(15, 70)), draw(st.integers(15, 70)))
        stock.append(Stock(key=f"r{at}", w=size[0], h=size[1], cost=7, kind=Kind.RACK, copies=1, zones=zones))
    cutter = Cutter()
    if not plain:
        kerf, trim = draw(st.integers(0, 3)), draw(st.integers(0, 2))
        cutter = Cutter(kerf=kerf, trim=trim, least_strip=draw(st.integers(0, 3)), least_held=draw(st.integers(0, 8)))
    return Problem(
        pieces=draw(pieces(most, plain=plain)),
        stock=tuple(stock),
        fallout_cost=draw(st.integers(0, 9)),
        oriented=draw(st.booleans()),
        cutter=cutter,
        keep=Rect(10, 10),
    )


@st.composite
def broken(draw: st.DrawFn) -> Problem:
    """Return a small problem of panes: no strip narrower than some may be broken off, and sizes differ by little."""
    strip = draw(st.integers(2, 5))
    base = draw(st.integers(strip, 12))
    side = st.one_of(st.integers(strip, 16), st.integers(base, base + strip))
    sizes = draw(st.lists(st.tuples(side, side, st.integers(1, 2)), min_size=1, max_size=3))
    pieces = tuple(
        Piece(key=f"p{at}", w=w, h=h, copies=n, fallouts=(Rect(w - 1, h - 1),) if n == 2 and min(w, h) > 1 else ())
        for at, (w, h, n) in enumerate(sizes)
    )
    longest = max(max(w, h) for w, h, _ in sizes)
    sheets = [Stock(key="s", w=longest + strip + draw(st.integers(0, 9)), h=longest + strip, cost=50)]
    if draw(st.booleans()):
        size = draw(st.integers(strip, 20)), draw(st.integers(strip, 20))
        sheets.append(Stock(key="r", w=size[0], h=size[1], cost=7, kind=Kind.RACK, copies=1))
    return Problem(
        pieces=pieces,
        stock=tuple(sheets),
        fallout_cost=3,
        oriented=draw(st.booleans()),
        cutter=Cutter(least_strip=strip, least_held=draw(st.integers(0, strip))),
    )


@st.composite
def ruled(draw: st.DrawFn) -> Problem:
    """Return a small problem for a cutter with a longest cut and a least piece that can be held, strips or not."""
    problem = draw(broken())
    side = max(max(p.w, p.h) for p in problem.pieces)
    sheet = problem.stock[0]
    cutter = Cutter(
        least_strip=draw(st.sampled_from((0, problem.cutter.least_strip))),
        least_held=draw(st.integers(0, 9)),
        longest_cut=draw(st.integers(side, max(side, sheet.w, sheet.h))),
    )
    return replace(problem, cutter=cutter)
