"""The form of a kind of material: its fields under their headings, what an empty one holds, what others keep there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields

from fourply.app.keep import Desk
from fourply.app.keep_materials import base_of
from fourply.app.keep_settings import shop_settings
from fourply.app.material_saying import ABOUT, reading_of, said_of
from fourply.app.material_words import Field, field_groups
from fourply.app.ports_store import SHOP, Kind
from fourply.files.kept import KeptMaterial
from fourply.files.kinds import Kind as Table
from fourply.files.material_text import Shape, kind_named
from fourply.measure.notation import Unit
from fourply.trade.materials import Moulding


@dataclass(frozen=True, slots=True)
class Form:
    """A form: the table of its kind, its groups of fields, what an empty one holds, what bare numbers are."""

    table: str
    groups: tuple[tuple[str, tuple[Field, ...]], ...]
    usual: Mapping[str, str]
    bare: str

    @property
    def keys(self) -> tuple[str, ...]:
        """Every field that it sends."""
        return (*ABOUT, *(each.key for _, group in self.groups for each in group if each.key not in ABOUT))


def form_of(desk: Desk, table: str) -> Form:
    """Return the form of a kind of material by its table; raises BadInput for another."""
    kind, reading = kind_named(table), reading_of(desk)
    names = _mouldings(desk) if "moulding" in kind.keys else ()
    groups = tuple(field_groups(kind, names, metric=reading.unit.is_metric))
    unit = {Unit.INCH: "inches", Unit.FOOT: "feet"}.get(reading.unit, reading.unit.value)
    order = reading.order.value if reading.order else ""
    pairs = order.replace(" x ", " × ")
    bare = f"Bare numbers are {unit} and {reading.currency}, pairs are {pairs}; 3/16, 0.055 and 60mm are read too."
    return Form(table, groups, _usual(kind, groups), bare)


def _usual(kind: Table, groups: tuple[tuple[str, tuple[Field, ...]], ...]) -> Mapping[str, str]:
    """Return what a new material starts from: the colours and the count that such a material usually has."""
    known = {each.name: each.default for each in fields(kind.value) if each.default is not MISSING}
    colours = {each.key for _, group in groups for each in group if each.shape is Shape.COLOUR}
    return {key: str(value) for key, value in known.items() if key in colours or type(value) is int}


def _mouldings(desk: Desk) -> tuple[str, ...]:
    """Return the names of the mouldings that a ready-made frame may be of."""
    own = (each.value for each in desk.store.every(Kind.MATERIAL, SHOP))
    names = {each.item.name for each in own if isinstance(each, KeptMaterial) and isinstance(each.item, Moulding)}
    return tuple(sorted(names | base_of(metric=shop_settings(desk).value.unit.is_metric).mouldings.keys()))


def form_says(desk: Desk, theirs: KeptMaterial, said: Mapping[str, str]) -> Mapping[str, str]:
    """Return what others keep by now where it is not what was typed, by field; at least one."""
    now = said_of(desk, theirs)
    differ = {key: text for key, text in now.items() if not _alike(text, said.get(key, ""))}
    return differ or {"name": now["name"]}


def _alike(one: str, other: str) -> bool:
    return one.split() == other.split() or {one, other} <= {"", "no"}
