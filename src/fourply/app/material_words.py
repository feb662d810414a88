"""How the fields of a material are called on a form, with what is wanted and an example.

A key that nothing is said of here still becomes a field, called by its own words.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from fourply.files.kinds import Kind
from fourply.files.material_text import Shape, TextField, text_fields


@dataclass(frozen=True, slots=True)
class Field:
    """A field as a form shows it: what it is called, an example, a word on it, names that may be picked for it."""

    key: str
    label: str
    shape: Shape
    example: str = ""
    note: str = ""
    choices: tuple[str, ...] = ()
    needed: bool = False


@dataclass(frozen=True, slots=True)
class _Says:
    """A label, an example in inches and one in millimetres ("" for the same), a note."""

    label: str
    inch: str = ""
    mm: str = ""
    note: str = ""


ONE: Mapping[str, str] = {
    "boards": "board",
    "mouldings": "moulding",
    "glazings": "glazing",
    "backings": "backing",
    "spacers": "spacer",
    "fillets": "fillet",
    "frames": "ready-made frame",
    "hardware": "hardware",
}
"""What one material of each table is called."""
MANY: Mapping[str, str] = {
    "boards": "Boards",
    "mouldings": "Mouldings",
    "glazings": "Glazing",
    "backings": "Backing",
    "spacers": "Spacers",
    "fillets": "Fillets",
    "frames": "Ready-made frames",
    "hardware": "Hardware",
}
"""What those of a table are called together."""
_SAYS: Mapping[str, _Says] = {
    "caliper": _Says("Caliper", "0.055", "1.4", "How thick it is. Bevels are worked out from it, so measure yours."),
    "sheets": _Says(
        "Sheets",
        "32x40 at 11.00",
        "815x1120 at 9.00",
        "One size a line with its cost; add “, 3 in stock” where few are left.",
    ),
    "sticks": _Says(
        "Sticks",
        "10 ft at 32.00",
        "3 m at 32.00",
        "One length a line with its cost; add “, 3 in stock” where few are left.",
    ),
    "colour": _Says("Colour", "#efe9dc", "", "As it is seen from the front."),
    "core": _Says("Colour of the core", "#ffffff", "", "What a bevel shows."),
    "ply": _Says("Ply", "4-ply", "", "The trade’s name for how thick it is."),
    "measured": _Says("Measured", note="The caliper is our own measurement."),
    "oriented": _Says("Never turned", note="Grain or pattern runs one way, so pieces are not turned on the sheet."),
    "width": _Says("Width", "1", "25", "Across the face."),
    "lip": _Says("Rabbet width", "1/4", "6", "How far the lip lies over the package."),
    "rabbet_depth": _Says("Rabbet depth", "3/4", "20", "From the lip to the back of the stick."),
    "height": _Says("Height", "1 1/4", "32", "How far the stick stands off the wall."),
    "kerf": _Says("Kerf", "1/8", "3", "What the saw takes at each mitre; nothing for a chopper."),
    "chop.rate": _Says("Chop", "3.20 per ft", "10.50 per m", "Rails cut to size by the supplier, for a length."),
    "chop.charge": _Says("for each frame", "6.00"),
    "chop.least": _Says("the least", "14.00", "", "The least that a frame costs."),
    "chop.mitres": _Says("added for mitres", "8", "200", "Eight widths where it is empty."),
    "chop.step": _Says("billed in steps of", "1 ft", "10"),
    "join": _Says("Join", "11.00", "", "To have them joined as well, for each frame."),
    "profile": _Says(
        "Profile of the face",
        "0 across, 1 high",
        "0 across, 25 high",
        "For pictures: a point a line, from the outer edge to the sight edge. Without any a plain one is drawn.",
    ),
    "kind": _Says("Made of"),
    "thickness": _Says("Thickness", "3/32", "2"),
    "size": _Says("Sold for", "16x20", "400x500", "The package that it takes."),
    "moulding": _Says("Moulding", note="The name of a moulding above, for how it looks and how deep it is."),
    "cost": _Says("Cost", "9.80"),
    "per_frame": _Says("For each frame", "2"),
    "supplier": _Says("Supplier", note="A price list of this supplier changes it."),
    "number": _Says("Their number"),
    "spacers.depth": _Says("Depth", "1/4", "6", "From the glazing to the mat."),
    "spacers.width": _Says("Width", "1/4", "6", "Seen from above, under the lip."),
    "fillets.shown": _Says("Width that shows", "1/4", "6"),
    "fillets.lip": _Says("Lip", "1/4", "6", "How far it lies under the mat."),
    "fillets.thickness": _Says("Thickness", "1/8", "3"),
}
_LOOK = ("colour", "core", "profile")
_SUPPLY = ("sheets", "sticks", "cost", "per_frame", "chop", "join")


def field_groups(kind: Kind, mouldings: Sequence[str], *, metric: bool) -> Iterator[tuple[str, tuple[Field, ...]]]:
    """Yield the fields of a kind under their headings; `mouldings` are those that a ready-made frame may be of."""
    found = [_field(kind.table, each, mouldings, metric=metric) for each in text_fields(kind)]
    of = {each.key: each.key.partition(".")[0] for each in found}
    name = Field("name", "Name", Shape.LINE, needed=True)
    yield "What it is", (name, *(each for each in found if of[each.key] not in {*_LOOK, *_SUPPLY}))
    yield "How it looks", tuple(each for each in found if of[each.key] in _LOOK)
    about = tuple(_field(kind.table, TextField(key, Shape.LINE), (), metric=metric) for key in ("supplier", "number"))
    yield "What it costs", (*(each for each in found if of[each.key] in _SUPPLY), *about)


def _field(table: str, field: TextField, mouldings: Sequence[str], *, metric: bool) -> Field:
    usual = _Says(field.key.replace(".", ", ").replace("_", " ").capitalize())
    says = _SAYS.get(f"{table}.{field.key}") or _SAYS.get(field.key, usual)
    example = says.mm if metric and says.mm else says.inch
    choices = tuple(mouldings) if field.key == "moulding" else field.choices
    return Field(field.key, says.label, field.shape, example, says.note, choices, field.needed)


def labels_of(kind: Kind, keys: Sequence[str]) -> tuple[str, ...]:
    """Return what keys of a material are called in a sentence.

    >>> from fourply.files.material_text import kind_named
    >>> labels_of(kind_named("mouldings"), ("name", "lip", "chop"))
    ('name', 'rabbet width', 'chop')
    """
    found = []
    for key in keys:
        says = _SAYS.get(f"{kind.table}.{key}") or _SAYS.get(key)
        found.append((says.label if says else key.replace("_", " ")).lower())
    return tuple(found)
