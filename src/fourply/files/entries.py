"""Works and rules into entries: each work with the treatment that all layers make for it.

The shop's defaults, the show's, a named treatment, the work itself: later ones win. Every name of a material is held
against the materials here, where file and row are still known.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from fourply.errors import FourplyError, Unknown
from fourply.files.convertors import plain
from fourply.files.faults import Fault
from fourply.files.openings import hang_together, merged
from fourply.files.record import Listed
from fourply.trade.accents import InlayRule, SinkRule
from fourply.trade.materials import Materials
from fourply.trade.treatment import Layer, Treatment, settle
from fourply.trade.work import Work

NO_DEFAULTS = Layer("show default", MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class Entry:
    """One work with its treatment, settled from all layers."""

    work: Work
    treatment: Treatment


@dataclass(frozen=True, slots=True)
class Rules:
    """How the works of a show are treated: the shop's defaults, the show's, its named treatments, its materials.

    `named` is by the name as it is compared.
    """

    shop: Treatment
    materials: Materials
    defaults: Layer = NO_DEFAULTS
    named: Mapping[str, Layer] = MappingProxyType({})


def settle_works(works: Sequence[Listed], rules: Rules) -> tuple[tuple[Entry, ...], tuple[Fault, ...]]:
    """Return the works whose treatment can be settled, with what hangs in their mats, and the faults of the others."""
    together, apart = hang_together(works)
    entries: list[Entry] = []
    faults = list(apart)
    for listed in together:
        found = _settled(listed, rules)
        if isinstance(found, Fault):
            faults.append(found)
        else:
            entries.append(found)
    return tuple(entries), tuple(faults)


def _settled(listed: Listed, rules: Rules) -> Entry | Fault:
    source = listed.work.source
    layers = [rules.defaults]
    if listed.treatment:
        named = rules.named.get(plain(listed.treatment))
        if named is None:
            known = ", ".join(layer.name.removeprefix("treatment ") for layer in rules.named.values())
            expected = f"one of {known}" if known else "the name of a treatment in the show file, which has none"
            return Fault(source.file, source.row, "treatment", listed.treatment, expected)
        layers.append(named)
    try:
        treatment = settle(rules.shop, [*layers, with_known_names(listed.own, rules.materials)])
        if any(layer.values for layer in listed.openings):
            openings = Layer(listed.own.name, {"openings": merged(treatment.openings, listed.openings)})
            treatment = settle(treatment, [with_known_names(openings, rules.materials)])
    except (FourplyError, ValueError) as bad:
        return Fault(source.file, source.row, "", f"the rules of {listed.work.id}", str(bad))
    for key, unknown in unknown_names(treatment, rules.materials):
        return Fault(source.file, source.row, key.replace("_", " "), unknown.found, unknown.expected)
    return Entry(listed.work, treatment)


_TABLES = MappingProxyType(
    {
        "mount": "boards",
        "backing": "backings",
        "glazing": "glazings",
        "spacer": "spacers",
        "fillet": "fillets",
        "moulding": "mouldings",
        "moulding_sides": "mouldings",
        "frame": "frames",
    }
)


def with_known_names(layer: Layer, materials: Materials) -> Layer:
    """Return the layer with every material by the name that the materials have for it, whatever case was written."""
    values = dict(layer.values)
    for key in values.keys() & _TABLES.keys():
        values[key] = _known(getattr(materials, _TABLES[key]), str(values[key]))
    mats = values.get("mats")
    if isinstance(mats, tuple):
        values["mats"] = tuple(replace(mat, board=_known(materials.boards, mat.board)) for mat in mats)
    for key in ("inlay", "sink"):
        rule = values.get(key)
        if isinstance(rule, InlayRule | SinkRule):
            values[key] = replace(rule, board=_known(materials.boards, rule.board))
    openings = values.get("openings")
    if isinstance(openings, tuple):
        values["openings"] = tuple(with_known_names(opening, materials) for opening in openings)
    return replace(layer, values=values)


def _known(table: Mapping[str, object], name: str) -> str:
    if not name or name in table:
        return name
    return next((known for known in table if plain(known) == plain(name)), name)


def named_materials(treatment: Treatment) -> Iterator[tuple[str, str, str]]:
    """Yield every material that a treatment names: the rule, the table that it stands in, its name."""
    boards = (
        ("mount", (treatment.mount,)),
        ("mats", tuple(mat.board for mat in treatment.mats)),
        ("inlay", (treatment.inlay.board,) if treatment.inlay else ()),
        ("sink", (treatment.sink.board,) if treatment.sink else ()),
        ("openings", tuple(_boards(treatment.openings))),
    )
    for key, names in boards:
        yield from ((key, "boards", name) for name in names if name)
    for key, table in _TABLES.items():
        if table != "boards" and (name := getattr(treatment, key)):
            yield key, table, name


def unknown_names(treatment: Treatment, materials: Materials) -> Iterator[tuple[str, Unknown]]:
    """Yield the rule and the error for every name of a material that the materials do not have."""
    find = {
        "boards": materials.board,
        "backings": materials.backing,
        "glazings": materials.glazing,
        "spacers": materials.spacer,
        "fillets": materials.fillet,
        "mouldings": materials.moulding,
        "frames": materials.frame,
    }
    for key, table, name in named_materials(treatment):
        try:
            find[table](name)
        except Unknown as bad:
            yield key, bad


def _boards(openings: Sequence[Layer]) -> Iterator[str]:
    for opening in openings:
        mats = opening.values.get("mats")
        if isinstance(mats, tuple):
            yield from (mat.board for mat in mats)
