"""Frames as they can be bought: which the supplier may chop or join, at what price, and what the shop's own work costs.

A frame that is bought costs what the supplier asks and what is still done in the shop; one that is cut costs its part
of the sticks and all of the shop's work. No work counts where the shop has no price for an hour of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.planning.mix_problem import RailSet
from fourply.trade.materials import CuttingRules
from fourply.trade.money import Money
from fourply.trade.package import Frame, Package
from fourply.trade.service import whole_hundredths
from fourply.trade.treatment import Service


@dataclass(frozen=True, slots=True)
class Labour:
    """What the shop's own work on one frame costs, in hundredths: to cut its rails, to join them."""

    chop: int = 0
    join: int = 0

    @classmethod
    def of(cls, rules: CuttingRules, currency: str) -> Labour:
        """Return what the rules say; nothing without a rate, or with one in another currency than the moulding's."""
        rate = rules.labour_rate
        if rate is None or rate.currency != currency:
            return cls()
        return cls(*(_hundredths(rate, minutes) for minutes in (rules.chop_minutes, rules.join_minutes)))


def _hundredths(rate: Money, minutes: int) -> int:
    return int(whole_hundredths(Fraction(rate.amount) * minutes / 60) * 100)


NO_LABOUR = Labour()


@dataclass(frozen=True, slots=True)
class Wanted:
    """The frames of one work: how they are to be bought, what the supplier asks for one, its rails, their length."""

    work: str
    copies: int
    size: Size
    moulding: str
    service: Service
    chop: Money | None
    join: Money | None
    rails: tuple[str, ...]
    net: Length

    @property
    def unpriced(self) -> bool:
        """Whether it is to be bought in a way for which there is no price."""
        return self.price(self.service) is None and self.service in {Service.CHOP, Service.JOIN}

    def price(self, service: Service) -> Money | None:
        """Return what the supplier asks for one frame in this way; None for what is not offered."""
        return {Service.CHOP: self.chop, Service.JOIN: self.join}.get(service)

    def hundredths(self, service: Service, labour: Labour) -> int | None:
        """Return what one frame costs bought in this way, with what is left to do in the shop."""
        price = self.price(service)
        return None if price is None else price.cents + (labour.join if service is Service.CHOP else 0)

    def bought(self, labour: Labour) -> Service:
        """Return the way to buy that costs least, a chop where they are alike."""
        chop, join = (self.hundredths(service, labour) for service in (Service.CHOP, Service.JOIN))
        return Service.JOIN if chop is not None and join is not None and join < chop else Service.CHOP

    def rail_set(self, service: Service, labour: Labour, *, must: bool = False) -> RailSet:
        """Return the set of its rails at what buying costs more than the shop's own work."""
        cost = self.hundredths(service, labour) or 0
        return RailSet(key=self.work, rails=self.rails, cost=cost - labour.chop - labour.join, must=must)


def wanted_frames(packages: Iterable[Package]) -> Mapping[str, tuple[Wanted, ...]]:
    """Return the frames of one moulding and four rails that the packages want, by moulding."""
    found: dict[str, list[Wanted]] = {}
    for each in _wanted(packages):
        found.setdefault(each.moulding, []).append(each)
    return {moulding: tuple(frames) for moulding, frames in found.items()}


def _wanted(packages: Iterable[Package]) -> Iterator[Wanted]:
    for package in packages:
        frame, work = package.frame, package.work
        if frame is None or not _plain(frame) or package.treatment.frame:
            continue
        yield Wanted(
            work.id,
            work.copies,
            package.outer,
            frame.moulding.name,
            package.treatment.service,
            frame.chop,
            frame.join,
            tuple(f"{work.id}/frame.rail.{rail.side}" for rail in frame.rails),
            Length(sum(rail.long_point.nm for rail in frame.rails)),
        )


def _plain(frame: Frame) -> bool:
    return frame.sides == 4 and all(rail.moulding.name == frame.moulding.name for rail in frame.rails)


@dataclass(frozen=True, slots=True)
class Bought:
    """Frames that are bought ready cut: of which work, how many, in which way, what one costs (None: not known)."""

    wanted: Wanted
    copies: int
    service: Service
    price: Money | None
