"""Sheets into blanks: the straight cuts of several sheets of one material, with the stop set as seldom as pays."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

from fourply.bench.order import ANY, Item, Prices, Question
from fourply.bench.order_found import find_order
from fourply.bench.steps import Fall, Handling, Head, Kind, Setting, Strike, Use
from fourply.bench.straight_cuts import Cut, chains, order_cuts
from fourply.bench.times import Times
from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.planning.plan import Node, Way
from fourply.trade.parts import FlatPart, Stuff


@dataclass(frozen=True, slots=True)
class Sheet:
    """A board of a cutting plan, `copies` of them cut alike; `number` is that of its page.

    `feeder` is the key of the piece whose fallout it is, empty where it is none; then `size` is what squaring leaves.
    """

    material: str
    stuff: Stuff
    number: int
    name: str
    size: tuple[int, int]
    tree: Node
    copies: int = 1
    feeder: str = ""

    @property
    def pieces(self) -> Iterator[Node]:
        """Yield the pieces cut from one copy."""
        return (node for node in self.tree.walk() if node.piece is not None)


@dataclass(frozen=True, slots=True)
class Draft:
    """A block before it has its place in the work; `needs` and `gives` are what two people wait for."""

    kind: Kind
    stage: str
    setting: Setting
    handlings: tuple[Handling, ...]
    uses: tuple[Use, ...]
    cautions: tuple[str, ...] = ()
    needs: frozenset[object] = frozenset()
    gives: frozenset[object] = frozenset()


@dataclass(frozen=True, slots=True)
class _Place:
    """A cut of one of the sheets: which sheet, which of its parts, the cut itself, whether it ends its part."""

    sheet: int
    chain: int
    cut: Cut
    ends: bool


def blank_drafts(sheets: Sequence[Sheet], parts: Mapping[str, FlatPart], times: Times, effort: int) -> Iterator[Draft]:
    """Yield the blocks that cut sheets of one material up."""
    places, question = _question(sheets, times)
    if not places:
        return
    order = find_order(question, effort, bounded=False).order
    labels = [_labels(sheet) for sheet in sheets]
    numbers = [_numbers(sheet) for sheet in sheets]
    stop: int | None = None
    fetched: set[int] = set()
    last: _Place | None = None
    for now, run in groupby(order, key=lambda at: places[at].cut.stop):
        together = [places[at] for at in run]
        handlings, uses, fresh = [], list[Use](), []
        if now and now != stop:
            uses.append(Use("square_stop", 1))
            stop = now
        for _, each in groupby(together, key=lambda place: (place.sheet, place.chain)):
            cuts = list(each)
            sheet = sheets[cuts[0].sheet]
            held = last is not None and (last.sheet, last.chain) == (cuts[0].sheet, cuts[0].chain)
            turns = _turns(cuts, last if held else None)
            if cuts[0].sheet not in fetched:
                fetched.add(cuts[0].sheet)
                uses.append(Use("sheet", sheet.copies))
            elif not held:
                uses.append(Use("part", sheet.copies))
            uses += [Use("part_turn", turns * sheet.copies), Use("straight", len(cuts) * sheet.copies)]
            falls = [fall for place in cuts for fall in _falls(place, sheet, parts, labels[place.sheet])]
            strikes = tuple(_strike(place, numbers[place.sheet]) for place in cuts)
            handlings.append(_handling(sheet, cuts[0], strikes, tuple(falls), (held, turns)))
            fresh += [node.piece for place in cuts for node in _freed(place) if node.piece is not None]
            last = cuts[-1]
        head = Head.GLASS if sheets[0].stuff is Stuff.GLAZING else Head.SQUARE
        setting = Setting(head, sheets[0].material, stop=Length(now) if now else None)
        yield Draft(
            Kind.BLANK,
            "blanks",
            setting,
            tuple(handlings),
            tuple(use for use in uses if use.count),
            ("Glass: gloves, and eyes covered.",) if head is Head.GLASS else (),
            gives=frozenset(fresh),
        )


def _question(sheets: Sequence[Sheet], times: Times) -> tuple[list[_Place], Question]:
    places: list[_Place] = []
    items: list[Item] = []
    for number, sheet in enumerate(sheets):
        first, found = list[int](), chains(sheet.tree, sheet.size, raw=bool(sheet.feeder))
        for at, chain in enumerate(found):
            first.append(len(items))
            for place, cut in enumerate(chain.cuts):
                after = (len(items) - 1,) if place else (first[chain.by[0]] + chain.by[1],) if chain.by else ()
                body = number * 10_000 + at
                items.append(Item(body, int(cut.way is Way.H), (cut.stop or ANY,), after))
                places.append(_Place(number, at, cut, place == len(chain.cuts) - 1))
    return places, Question(
        tuple(items), Prices((times.ticks("square_stop"),), times.ticks("part"), times.ticks("part_turn"))
    )


def _turns(cuts: Sequence[_Place], held: _Place | None) -> int:
    ways = [*([held.cut.way] if held else []), *(place.cut.way for place in cuts)]
    return sum(one is not other for one, other in pairwise(ways))


def _strike(place: _Place, numbers: Mapping[tuple[Way, int, int, int], int]) -> Strike:
    cut = place.cut
    what = "cut" if cut.stop else "clean edge"
    number = numbers.get((cut.way, cut.at, cut.start, cut.end), 0)
    return Strike(what, "upright" if cut.way is Way.V else "level", number=number, length=Length(cut.end - cut.start))


def _handling(
    sheet: Sheet, place: _Place, strikes: tuple[Strike, ...], falls: tuple[Fall, ...], lies: tuple[bool, int]
) -> Handling:
    part = place.cut.part.box
    whole = place.chain == 0 and place.cut.part is sheet.tree
    width, height = sheet.size if whole else (part.w, part.h)
    return Handling(
        work="",
        board="",
        name=sheet.name if whole else f"part of {sheet.name}",
        label=f"board {sheet.number}",
        size=Size(Length(width), Length(height)),
        strikes=strikes,
        copies=sheet.copies,
        held=lies[0],
        turns=lies[1],
        falls=falls,
    )


def _freed(place: _Place) -> Iterator[Node]:
    """Yield the leaves that are at their size after a cut: what comes off, and what is left by the last cut."""
    cut = place.cut
    if cut.off is not None and not cut.off.children:
        yield cut.off
    if place.ends:
        rest = cut.part
        while rest.children:
            rest = rest.children[-1]
        yield rest


def _falls(place: _Place, sheet: Sheet, parts: Mapping[str, FlatPart], labels: Mapping[int, str]) -> Iterator[Fall]:
    for node in _freed(place):
        size = Size(Length(node.box.w), Length(node.box.h))
        if node.piece is not None:
            part = parts[node.piece]
            yield Fall(f"{part.work} {part.name}", "to its work", labels[id(node)], part.size)
        elif node.kept:
            yield Fall("offcut", "to the rack", f"{sheet.material}, from board {sheet.number}", size)
        else:
            yield Fall("waste", "to the bin", "", size)


def _labels(sheet: Sheet) -> dict[int, str]:
    """Return what is written on each piece: the numbers of the cutting sheet."""
    return {id(node): f"board {sheet.number}, piece {at}" for at, node in enumerate(sheet.pieces, start=1)}


def _numbers(sheet: Sheet) -> dict[tuple[Way, int, int, int], int]:
    """Return the numbers of the cuts on the cutting sheet; those that square a fallout have none."""
    cuts = order_cuts(sheet.tree, sheet.size)
    return {(cut.way, cut.at, cut.start, cut.end): at for at, cut in enumerate(cuts, start=1)}
