"""From a package to the pieces that must be cut: the waist between designing and planning.

Everything before this knows mats and frames; everything after knows pieces of a material with a size. Each piece keeps
a key that leads back to its work and its figures.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.trade.materials import Fillet
from fourply.trade.package import Mat, Package


class Stuff(Enum):
    """The kinds of material that are planned apart."""

    BOARD = "board"
    GLAZING = "glazing"
    BACKING = "backing"
    MOULDING = "moulding"
    SPACER = "spacer"
    FILLET = "fillet"


@dataclass(frozen=True, slots=True)
class FlatPart:
    """A rectangle of board, glazing or backing.

    `figure` is the start of its figures' paths; `fallouts` the rectangles of which one may be used once it is cut.
    """

    key: str
    work: str
    name: str
    figure: str
    stuff: Stuff
    material: str
    size: Size
    copies: int
    fallouts: tuple[Size, ...] = ()


@dataclass(frozen=True, slots=True)
class LongPart:
    """A rail or strip: `length` is what it takes of the stick (the long point of a rail); `count` alike a work.

    `short` is the short point of a mitred end and equals the length of a square one, whose `mitre_deg` is nothing.
    """

    key: str
    work: str
    name: str
    figure: str
    stuff: Stuff
    material: str
    length: Length
    short: Length
    mitre_deg: float
    count: int
    copies: int


def flat_parts(package: Package) -> Iterator[FlatPart]:
    """Yield every rectangle that the package asks for, front to back."""
    work, copies = package.work.id, package.work.copies
    if package.glazing and package.glazing_size:
        name = package.glazing.name
        yield FlatPart(f"{work}/glazing", work, "glazing", "glazing", Stuff.GLAZING, name, package.glazing_size, copies)
    for mat in package.mats:
        yield FlatPart(
            f"{work}/{mat.path}",
            work,
            mat_name(mat),
            f"{mat.path}.blank",
            Stuff.BOARD,
            mat.board.name,
            mat.blank,
            copies,
            _largest(mat.fallouts),
        )
    if package.inlay:
        inlay = package.inlay
        yield FlatPart(
            f"{work}/inlay", work, "inlay", "inlay.blank", Stuff.BOARD, inlay.board.name, inlay.blank, copies
        )
    if package.sink:
        sink, fallouts = package.sink, (package.sink.fallout,) if package.sink.fallout else ()
        name = "sink mat" if sink.layers == 1 else f"sink mat, {sink.layers} layers"
        yield FlatPart(
            f"{work}/sink",
            work,
            name,
            "mat.1.blank",
            Stuff.BOARD,
            sink.board.name,
            sink.blank,
            copies * sink.layers,
            fallouts,
        )
    for lift in package.lifts:
        key, mount = f"{work}/{lift.scope}lift", package.mount.name
        name = "lift" if lift.layers == 1 else f"lift, {lift.layers} layers"
        yield FlatPart(key, work, name, f"{lift.scope}lift", Stuff.BOARD, mount, lift.size, copies * lift.layers)
    blank = package.mats[0].blank
    yield FlatPart(f"{work}/mount", work, "mount board", "mat.1.blank", Stuff.BOARD, package.mount.name, blank, copies)
    if package.backing and package.backing_size:
        name = package.backing.name
        yield FlatPart(f"{work}/backing", work, "backing", "backing", Stuff.BACKING, name, package.backing_size, copies)


def long_parts(package: Package) -> Iterator[LongPart]:
    """Yield every rail and strip that the package asks for."""
    work, copies = package.work.id, package.work.copies
    for rail in package.frame.rails if package.frame else ():
        figure = f"frame.rail.{rail.side}"
        yield LongPart(
            f"{work}/{figure}",
            work,
            f"{rail.side} rail",
            figure,
            Stuff.MOULDING,
            rail.moulding.name,
            rail.long_point,
            rail.short_point,
            rail.mitre_deg,
            rail.count,
            copies,
        )
    for strips in package.strips:
        stuff = Stuff.SPACER if strips.role == "spacer" else Stuff.FILLET
        for side, length in strips.lengths:
            figure = f"{strips.role}.{side}" if stuff is Stuff.SPACER else f"{strips.role}.rail.{side}"
            name, mitre = f"{side} {strips.role}", 0.0 if stuff is Stuff.SPACER else 45.0
            of = strips.spacer
            short = length - 2 * (of.lip + of.shown) if isinstance(of, Fillet) else length
            yield LongPart(f"{work}/{figure}", work, name, figure, stuff, of.name, length, short, mitre, 1, copies)


def _largest(fallouts: tuple[tuple[Size, ...], ...]) -> tuple[Size, ...]:
    """Return what falls out of the largest of several openings: a plan can count on one of them."""
    return max(fallouts, key=lambda sizes: max((size.width.nm * size.height.nm for size in sizes), default=0))


def mat_name(mat: Mat) -> str:
    """Return what the bench calls a mat: top mat, under-mat, second under-mat, spacer mat."""
    return mat.name
