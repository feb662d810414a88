"""Whole shows in the store: kept from a file, opened as a file gives them, copied, found by name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType

from fourply.app.keep import Desk, called, new_id, show_head
from fourply.app.keep_materials import base_of, cutting_of, materials_of, own_materials
from fourply.app.keep_settings import shop_settings
from fourply.app.ports_store import SHOP, Kind, Put, Query, Record
from fourply.app.shows import Opened, resolved
from fourply.bench.cutter import NOMINAL, Cutter
from fourply.errors import BadFile, Unknown
from fourply.files.convertors import plain
from fourply.files.entries import Rules, with_known_names
from fourply.files.faults import Fault
from fourply.files.kept import KeptShow, KeptTreatment, KeptWork, facts
from fourply.files.show import Parts, Show, load_parts, settled
from fourply.files.works import Asked
from fourply.trade.treatment import INCH, METRIC, Layer, settle
from fourply.working.terms import Terms

__all__ = ["SHOP", "KeptFile", "copy_show", "find_show", "keep_file", "open_kept", "parts_of", "show_of"]

_COPIED = (Kind.TREATMENT, Kind.MATERIAL, Kind.RACK, Kind.WORK)


@dataclass(frozen=True, slots=True)
class KeptFile:
    """A show that was kept from a file, how many works it has, and the faults of those that could not be read."""

    record: Record
    title: str
    works: int
    faults: tuple[Fault, ...]
    notes: tuple[str, ...]


def keep_file(desk: Desk, path: Path, asked: Asked, title: str = "") -> KeptFile:
    """Keep the show in a file, or a bare list, under its own title or another.

    What its materials say otherwise than the shop's stays with the show. Works that cannot be read are left out and
    told. Raises Taken for a title that there is, BadFile where the show's own rules are wrong and no work is made.
    """
    parts = load_parts(path, asked)
    if not parts.works and parts.show.faults:
        first = parts.show.faults[0]
        raise BadFile(path.name, str(first), "then at least one work can be made")
    show = new_id()
    head = _head(desk, parts, title)
    values = (*_treatments(parts), *own_materials(desk, parts.show.materials, metric=parts.show.unit.is_metric))
    works = tuple(KeptWork(listed, place) for place, listed in enumerate(parts.works, start=1))
    puts = [Put(show, head), *(Put(new_id(), value) for value in (*values, *works))]
    done = desk.commit(puts, show, f"keep {called(head)} from {path.name}")
    notes = (*parts.show.notes, *_reworded(desk, parts.show))
    return KeptFile(done.record, head.title, len(works), settled(parts).faults, notes)


def _reworded(desk: Desk, show: Show) -> Iterator[str]:
    """Yield that a show is told in other terms than its file says, where it is."""
    terms = shop_settings(desk).value.terms
    if show.terms is not Terms.MAT and show.terms is not terms:
        yield f"terms = {show.terms.value!r} is not kept: a show in the shop has the shop's terms ({terms.says})"


def _head(desk: Desk, parts: Parts, title: str) -> KeptShow:
    show = parts.show
    cutting = show.materials.cutting
    of_shop = cutting_of(shop_settings(desk).value, base_of(metric=show.unit.is_metric))
    return KeptShow(
        title or show.title,
        show.unit,
        show.order,
        show.currency,
        show.paper,
        parts.rules.defaults,
        None if cutting == of_shop else cutting,
    )


def _treatments(parts: Parts) -> Iterator[KeptTreatment]:
    for layer in parts.rules.named.values():
        yield KeptTreatment(layer.name.removeprefix("treatment "), layer)


def find_show(desk: Desk, name: str) -> Record:
    """Return a show by its title, whatever its case, or by its id; raises Unknown with the nearest titles."""
    found = sorted(desk.store.find(Query(Kind.SHOW, name=name, archived=None)).items, key=lambda each: each.archived)
    if found:
        return found[0]
    try:
        return show_head(desk, name).record
    except Unknown:
        known = desk.store.find(Query(Kind.SHOW, limit=1000)).items
        raise Unknown(Kind.SHOW.value, name, tuple(facts(each.value).name for each in known)) from None


def show_of(desk: Desk, show: str) -> Show:
    """Return a kept show as a file would give it: its works settled, the faults of those that cannot be.

    The shop's treatments and materials lie under the show's own. Raises Unknown.
    """
    return settled(parts_of(desk, show))


def parts_of(desk: Desk, show: str) -> Parts:
    """Return what a kept show is put together from, as it all is at one instant; raises Unknown."""
    with desk.store.snapshot():
        return _parts(desk, show)


def _parts(desk: Desk, show: str) -> Parts:
    head = show_head(desk, show).show
    settings = shop_settings(desk).value
    materials = materials_of(desk, show, head, settings)
    shown = Show(head.title, head.unit, head.order, head.currency, materials, paper=head.paper)
    shown = replace(shown, terms=settings.terms, letterhead=settings.letterhead)
    shop = settle(METRIC if head.unit.is_metric else INCH, [with_known_names(settings.defaults, materials)])
    named = {plain(each.name): _layer(each) for each in (*_named(desk, SHOP), *_named(desk, show))}
    rules = Rules(
        shop,
        materials,
        with_known_names(head.defaults, materials),
        {name: with_known_names(layer, materials) for name, layer in named.items()},
    )
    works = [each.value for each in desk.store.every(Kind.WORK, show)]
    return Parts(shown, rules, tuple(each.listed for each in works if isinstance(each, KeptWork)))


def _named(desk: Desk, scope: str) -> Iterator[KeptTreatment]:
    for each in desk.store.every(Kind.TREATMENT, scope):
        if isinstance(each.value, KeptTreatment):
            yield each.value


def _layer(kept: KeptTreatment) -> Layer:
    return replace(kept.rules, name=f"treatment {kept.name}")


def open_kept(
    desk: Desk, show: str, settings: Mapping[str, str] = MappingProxyType({}), cutter: Cutter = NOMINAL
) -> Opened:
    """Return a kept show with every work resolved, as `open_show` does for a file; raises Unknown too."""
    return resolved(show_of(desk, show), settings, cutter)


def copy_show(desk: Desk, show: str, title: str) -> Record:
    """Keep a copy of a show with its treatments, own materials and works under another title; raises Taken, Unknown.

    Plans are not copied: they are of the old works.
    """
    new = new_id()
    with desk.store.snapshot():
        head = show_head(desk, show).show
        puts = _copied(desk, show, new, replace(head, title=title))
    return desk.commit(puts, new, f"copy {called(head)}").record


def _copied(desk: Desk, show: str, new: str, head: KeptShow) -> Sequence[Put]:
    members = [each for kind in _COPIED for each in desk.store.every(kind, show)]
    return [Put(new, head), *(Put(new_id(), each.value) for each in members)]
