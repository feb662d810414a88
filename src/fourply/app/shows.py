"""Opening a show: read, laid under what the caller sets, every work resolved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from fourply.bench.cutter import NOMINAL, Cutter
from fourply.bench.shop_cutter import ShopCutter, bevel_angle
from fourply.errors import BadInput, FourplyError, Unknown
from fourply.files.convertors import Reading
from fourply.files.entries import unknown_names
from fourply.files.faults import Fault
from fourply.files.rules import AT_WORK, TREATMENT
from fourply.files.show import Show, load_show
from fourply.files.works import Asked
from fourply.trade.package import Package
from fourply.trade.resolve import Unresolved, resolve_show
from fourply.trade.treatment import FIELDS, Layer, Treatment, settle


@dataclass(frozen=True, slots=True)
class Opened:
    """A show with the packages of all works that can be made, and the faults of those that cannot."""

    show: Show
    packages: tuple[Package, ...]
    faults: tuple[Fault, ...]

    def package(self, work: str) -> Package:
        """Return the package of one work by its number; raises Unknown."""
        for package in self.packages:
            if package.work.id == work:
                return package
        raise Unknown("work", work, tuple(package.work.id for package in self.packages))


def open_show(
    path: Path, asked: Asked, settings: Mapping[str, str] = MappingProxyType({}), cutter: Cutter = NOMINAL
) -> Opened:
    """Return a show or a bare list with every work resolved.

    `settings` are rules of the treatment as text; they hold for every work, over all that the show says. The angle of
    the bevels is that of the `cutter` wherever the show and these say nothing. Raises BadInput for a setting that
    cannot be read, Unknown for one that there is not.
    """
    return resolved(load_show(path, asked), settings, cutter)


def resolved(show: Show, settings: Mapping[str, str], cutter: Cutter = NOMINAL) -> Opened:
    """Return a show that has been read with every work resolved; raises as `open_show` does."""
    layer = layer_of(settings, Reading(show.unit, show.order, show.currency))
    for key, unknown in unknown_names(_under(show.shop, layer), show.materials):
        if key in layer.values:
            raise unknown
    works = [(entry.work, on_cutter(_under(entry.treatment, layer), cutter)) for entry in show.entries]
    packages, failed = resolve_show(works, show.materials)
    return Opened(show, packages, (*show.faults, *(_fault(each) for each in failed)))


def on_cutter(treatment: Treatment, cutter: Cutter) -> Treatment:
    """Return the treatment with the bevel angle of the cutter, where nobody has said another."""
    if not isinstance(cutter, ShopCutter) or "bevel_deg" in treatment.origins:
        return treatment
    angle, origin = bevel_angle(cutter.profile)
    return _under(treatment, Layer(origin, {"bevel_deg": angle}))


def layer_of(settings: Mapping[str, str], reading: Reading) -> Layer:
    """Return rules of a treatment, given as text, as a layer; raises BadInput, Unknown for a rule that there is not."""
    values = {}
    for named, text in settings.items():
        key = AT_WORK.get(named, named)
        if key not in TREATMENT:
            raise Unknown("rule of a treatment", key, FIELDS)
        try:
            values[key] = TREATMENT[key].parse(text, reading)
        except BadInput as bad:
            raise BadInput(f"{named} = {bad.found}", bad.expected) from bad
    return Layer("command line", values)


def _under(treatment: Treatment, layer: Layer) -> Treatment:
    """Return the treatment with the layer over all others."""
    if not layer.values:
        return treatment
    try:
        return settle(treatment, [layer])
    except ValueError as bad:
        raise BadInput(", ".join(layer.values), str(bad)) from bad


def _fault(failed: Unresolved) -> Fault:
    source, error = failed.work.source, failed.error
    found, expected = str(error), "a work that can be made"
    if isinstance(error, BadInput):
        found, expected = getattr(error, "found", found), error.expected
    return Fault(source.file, source.row, _column(error), f"work {failed.work.id}: {found}", expected)


def _column(error: FourplyError) -> str:
    return str(getattr(error, "figure", getattr(error, "kind", "")))
