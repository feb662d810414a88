"""A work resolved anew with what somebody measured of it: its sheet, its borders, its rules, the boards and the frame.

Most of what is measured goes into a work from outside: a caliper from the materials, a sheet from the list, a border
from the treatment. With that the work is resolved anew, so that its findings are those of what is really there. A
figure that follows from others (a blank that came out small) cannot be put in.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace

from fourply.errors import BadInput
from fourply.measure.length import Length
from fourply.trade.materials import Materials
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.trade.treatment import Treatment
from fourply.trade.work import Readings, Work

_CALIPER = re.compile(r"mat\.(\d+)\.caliper")
_ART = re.compile(r"(?:opening\.(\d+)\.)?art\.(width|height|thickness)")
_BORDER = re.compile(r"mat\.1\.border\.(top|right|bottom|left)")
_MOULDING = re.compile(r"moulding(_sides)?\.(width|lip|rabbet_depth)")
_LAYERS = (("boards", "caliper"), ("glazings", "thickness"), ("backings", "thickness"), ("spacers", "depth"))
_LENGTHS = frozenset(each.name for each in fields(Treatment) if each.type == "Length")


@dataclass(frozen=True, slots=True)
class _Given:
    """What a work is resolved from."""

    work: Work
    treatment: Treatment
    materials: Materials


def measured_anew(
    package: Package, materials: Materials, measured: Mapping[str, Length]
) -> tuple[Package, frozenset[str]]:
    """Return the work resolved with what was measured, as far as that is put in from outside, and its figures.

    A material measured in one place is that material in every place of the work. Where two measurements contradict
    each other so that they cannot all be put in, none is. Raises BadInput where a length cannot be, BadTreatment where
    the work cannot be made with what was measured.
    """
    given, put = _Given(package.work, package.treatment, materials), set[str]()
    for path, value in measured.items():
        try:
            more = _put(given, package, path, value)
        except ValueError as bad:
            raise BadInput(path, str(bad)) from bad
        if more is not None:
            given = more
            put.add(path)
    if not put:
        return package, frozenset()
    anew = resolve(given.work, given.treatment, given.materials)
    taken = all(path in anew.figures and anew.figures[path].value == measured[path] for path in put)
    return (anew, frozenset(put)) if taken else (package, frozenset())


def _put(given: _Given, package: Package, path: str, value: Length) -> _Given | None:
    """Return what the work is resolved from with one figure put in, None where the figure follows from others."""
    if caliper := _CALIPER.fullmatch(path):
        return _material(given, package.mats[int(caliper[1]) - 1].board.name, value)
    if path.startswith("stack."):
        names = (layer.material for layer in package.stack.layers if f"stack.{_slug(layer.name)}" == path)
        return _material(given, next(names, ""), value)
    if moulding := _MOULDING.fullmatch(path):
        return _moulding(given, package, moulding[2], value, beside=bool(moulding[1]))
    if art := _ART.fullmatch(path):
        return _art(given, int(art[1] or 1) - 1, art[2], value)
    return _rule(given, package, path, value)


def _rule(given: _Given, package: Package, path: str, value: Length) -> _Given | None:
    """Return it with a rule of the treatment put in; a border of the top mat is one where a work has one opening."""
    put: dict[str, object] = {}
    rule = path.removeprefix("treatment.")
    if rule != path and rule in _LENGTHS:
        put = {rule: value}
    elif (border := _BORDER.fullmatch(path)) and len(package.arts) == 1:
        side = {border[1]: value}
        put = {"borders": replace(given.treatment.borders or package.mats[0].borders, **side)}
    return replace(given, treatment=replace(given.treatment, **put)) if put else None  # type: ignore[arg-type]


def _material(given: _Given, name: str, value: Length) -> _Given | None:
    for kind, what in _LAYERS:
        known = getattr(given.materials, kind)
        if name in known:
            put: dict[str, object] = {kind: {**known, name: replace(known[name], **{what: value})}}
            return replace(given, materials=replace(given.materials, **put))  # type: ignore[arg-type]
    return None


def _moulding(given: _Given, package: Package, what: str, value: Length, *, beside: bool) -> _Given | None:
    if package.frame is None:
        return None
    side = next((rail.moulding for rail in package.frame.rails if rail.side == "left"), package.frame.moulding)
    name = side.name if beside else package.frame.moulding.name
    put = {what: value}
    moulding = replace(given.materials.moulding(name), **put)  # type: ignore[arg-type]
    mouldings = {**given.materials.mouldings, name: moulding}
    return replace(given, materials=replace(given.materials, mouldings=mouldings))


def _art(given: _Given, at: int, what: str, value: Length) -> _Given:
    arts = list(given.work.arts)
    put = {what: value if what == "thickness" else Readings.of(value)}
    arts[at] = replace(arts[at], **put)  # type: ignore[arg-type]
    return replace(given, work=replace(given.work, art=arts[0], others=tuple(arts[1:])))


def _slug(name: str) -> str:
    return name.replace(" ", "_").replace("-", "_")
