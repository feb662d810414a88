"""What to buy, what to pull from the shelf before starting, what will be left.

Sheets and sticks come from the plans; hardware is counted by the frame. A chop order is the other way to get rails:
it says which size it gives, since a frame ordered by the wrong one does not fit.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum

from fourply.app.cutting import Cutting, FlatCutting, LongCutting, stock_place
from fourply.app.framing import Bought
from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.planning.problem import Kind
from fourply.trade.formulas import rail_stock, trade_estimate
from fourply.trade.materials import Materials, Moulding, Offcut, Offer, Stick
from fourply.trade.money import Money
from fourply.trade.package import Package
from fourply.trade.parts import Stuff
from fourply.trade.treatment import Service


class Do(Enum):
    """What is to be done about a line."""

    BUY = "buy"
    PULL = "pull from the rack"
    KEEP = "left over, keep"


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the list: so many of a material in a size; a stick has a length only, hardware neither."""

    do: Do
    stuff: str
    material: str
    size: Size | None
    length: Length | None
    quantity: int
    each: Money | None
    place: str = ""

    @property
    def cost(self) -> Money | None:
        """What the line costs; None for what is not bought."""
        return self.each * self.quantity if self.each and self.do is Do.BUY else None


class ChopSize(Enum):
    """Which size a chop order gives."""

    RABBET = "rabbet"
    PACKAGE = "package"
    SIGHT = "sight"
    OUTSIDE = "outside"


@dataclass(frozen=True, slots=True)
class Chop:
    """One frame as a chop order: the four ways to state its size, and the moulding it takes.

    An order by the `package` leaves the allowance to the supplier, who adds it unless told otherwise; the others have
    it in them already. Sizes are width by height as the work hangs, which `orientation` says in a word.
    """

    work: str
    copies: int
    moulding: str
    sizes: tuple[tuple[ChopSize, Size], ...]
    net: Length
    estimate: Length
    price: Money | None = None
    joined: Money | None = None

    @property
    def orientation(self) -> str:
        """Upright, landscape or square: which way up the frame hangs."""
        size = dict(self.sizes)[ChopSize.PACKAGE]
        return "square" if size.width == size.height else "portrait" if size.width < size.height else "landscape"


def what_to_buy(packages: Iterable[Package], cutting: Cutting, materials: Materials) -> tuple[Line, ...]:
    """Return the list: bought sheets and sticks, hardware, what comes from the rack, what is left over."""
    lines: list[Line] = []
    for flat in cutting.flats:
        lines += _flat(flat, materials)
    for long in cutting.longs:
        lines += _long(long, materials)
    lines += _bought(cutting)
    frames = sum(package.work.copies for package in packages if package.frame)
    lines += [
        Line(Do.BUY, "hardware", each.name, None, None, each.per_frame * frames, each.cost)
        for each in materials.hardware.values()
        if frames
    ]
    order = list(Do)
    return tuple(sorted(lines, key=lambda line: order.index(line.do)))


def _bought(cutting: Cutting) -> Iterator[Line]:
    """Yield a line for all frames that are bought alike: one size of one moulding, in one way."""
    alike: dict[tuple[Service, str, Size, Money | None], list[Bought]] = {}
    for framing in cutting.framings:
        for each in framing.bought:
            key = (each.service, framing.moulding, each.wanted.size, each.price)
            alike.setdefault(key, []).append(each)
    for (service, moulding, size, price), frames in alike.items():
        works = ", ".join(each.wanted.work for each in frames)
        copies = sum(each.copies for each in frames)
        yield Line(
            Do.BUY, service.value, moulding, size, None, copies, price, f"by the size of the package, for {works}"
        )


def chops(packages: Iterable[Package]) -> Iterator[Chop]:
    """Yield every frame as a chop order."""
    for package in packages:
        frame = package.frame
        if frame is None:
            continue
        sizes = (
            (ChopSize.RABBET, frame.rabbet),
            (ChopSize.PACKAGE, package.outer),
            (ChopSize.SIGHT, frame.sight),
            (ChopSize.OUTSIDE, frame.outside),
        )
        rails = tuple(rail.long_point for rail in frame.rails for _ in range(rail.count))
        outer, width = package.outer, frame.moulding.width
        estimate = trade_estimate(outer.width, outer.height, width, Length.inches(1, 4))
        net = rail_stock(rails, frame.moulding.kerf)
        yield Chop(
            package.work.id, package.work.copies, frame.moulding.name, sizes, net, estimate, frame.chop, frame.join
        )


def _flat(cutting: FlatCutting, materials: Materials) -> Iterator[Line]:
    offers, stuff = _offers(cutting, materials), cutting.stuff.value
    for source, count in sorted(cutting.plan.uses().items(), key=lambda use: use[0].key):
        if source.kind is Kind.SHEET:
            offer = offers[stock_place(source)]
            yield Line(Do.BUY, stuff, cutting.material, offer.size, None, count, offer.cost)
        elif source.kind is Kind.RACK:
            offcut: Offcut = materials.rack[stock_place(source)]
            yield Line(Do.PULL, stuff, cutting.material, offcut.size, None, count, None, offcut.place)
    for board, box in cutting.plan.remnants():
        size = Size(Length(box.w), Length(box.h))
        yield Line(Do.KEEP, stuff, cutting.material, size, None, cutting.plan.boards[board].copies, None)


def _offers(cutting: FlatCutting, materials: Materials) -> tuple[Offer, ...]:
    if cutting.stuff is Stuff.BOARD:
        return materials.board(cutting.material).sheets
    if cutting.stuff is Stuff.GLAZING:
        return materials.glazing(cutting.material).sheets
    return materials.backing(cutting.material).sheets


def _long(cutting: LongCutting, materials: Materials) -> Iterator[Line]:
    sticks, stuff = _sticks(cutting, materials), cutting.stuff.value
    counts: dict[int, int] = {}
    for cut in cutting.plan.sticks:
        number = int(cut.stick.split()[-1]) - 1
        counts[number] = counts.get(number, 0) + cut.copies
    for number, count in sorted(counts.items()):
        stick = sticks[number]
        yield Line(Do.BUY, stuff, cutting.material, None, stick.length, count, stick.cost)
    for _, nm in cutting.plan.leftovers():
        yield Line(Do.KEEP, stuff, cutting.material, None, Length(nm), 1, None)


def _sticks(cutting: LongCutting, materials: Materials) -> tuple[Stick, ...]:
    if cutting.stuff is Stuff.MOULDING:
        moulding: Moulding = materials.moulding(cutting.material)
        return moulding.sticks
    if cutting.stuff is Stuff.SPACER:
        return materials.spacer(cutting.material).sticks
    return materials.fillet(cutting.material).sticks
