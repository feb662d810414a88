"""What a shop keeps: each decision as one value with a document of its own, and what it is found by.

What follows from decisions (packages, figures, drawings) is never kept. A value is written through the codec; `Facts`
are the few of its members that lists are sorted, filtered and searched by.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import Enum
from types import MappingProxyType

from fourply.bench.profile import Profile
from fourply.errors import BadInput
from fourply.files.codec import Json, load, save
from fourply.files.convertors import plain
from fourply.files.entries import NO_DEFAULTS
from fourply.files.record import Listed
from fourply.measure.dimensions import Order
from fourply.measure.notation import Unit
from fourply.measure.size import Size
from fourply.trade.materials import (
    Backing,
    Board,
    CuttingRules,
    Fillet,
    Glazing,
    Hardware,
    Moulding,
    Offcut,
    ReadyFrame,
    Spacer,
)
from fourply.trade.treatment import Layer
from fourply.working.letterhead import Letterhead
from fourply.working.terms import Terms

SHOP = "shop"
"""The scope of what belongs to no show."""
SHOP_DEFAULTS = Layer("shop default", MappingProxyType({}))


class Kind(Enum):
    """What a record is about."""

    SHOW = "show"
    WORK = "work"
    TREATMENT = "treatment"
    MATERIAL = "material"
    RACK = "rack"
    CUTTER = "cutter"
    PLAN = "plan"
    PICTURE = "picture"
    SETTINGS = "settings"


class Stage(Enum):
    """How far a show or a work has come."""

    TO_DO = "to do"
    IN_HAND = "in hand"
    READY = "ready"
    DELIVERED = "delivered"


@dataclass(frozen=True, slots=True)
class KeptShow:
    """What is said of a show as a whole; its works, treatments and own materials are records of its scope.

    `defaults` are the show's layer; `cutting` is None where the shop's rules hold. Title and client are free text.
    """

    title: str
    unit: Unit
    order: Order | None
    currency: str
    paper: str | None = None
    defaults: Layer = NO_DEFAULTS
    cutting: CuttingRules | None = None
    client: str = ""
    due: date | None = None
    stage: Stage = Stage.TO_DO
    notes: str = ""

    def __post_init__(self) -> None:
        _named("a show", self.title)


MOST_VARIANTS = 4
"""How many designs of one work are kept side by side, the present one among them."""


@dataclass(frozen=True, slots=True)
class Variant:
    """A design of a work that is put aside: the treatment that it names and its own rules; `slot` counts from 0."""

    slot: int
    name: str
    treatment: str
    own: Layer
    openings: tuple[Layer, ...] = ()

    def __post_init__(self) -> None:
        if not 0 <= self.slot < MOST_VARIANTS:
            msg = f"a slot from 0 to {MOST_VARIANTS - 1}"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class KeptWork:
    """One work of a show as listed, at its place in the list.

    `pictures` are the content hashes of its pictures, one for each sheet in the order of the openings, "" for none.
    What is listed is the present design, in the slot `slot` under the name `variant`; `variants` are the others.
    """

    listed: Listed
    place: int = 0
    due: date | None = None
    stage: Stage = Stage.TO_DO
    pictures: tuple[str, ...] = ()
    variants: tuple[Variant, ...] = ()
    slot: int = 0
    variant: str = ""

    def __post_init__(self) -> None:
        slots = [self.slot, *(each.slot for each in self.variants)]
        if len(set(slots)) != len(slots) or not 0 <= self.slot < MOST_VARIANTS:
            msg = f"each variant in a slot of its own, from 0 to {MOST_VARIANTS - 1}"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class KeptTreatment:
    """A treatment that works may name: its rules over the defaults."""

    name: str
    rules: Layer

    def __post_init__(self) -> None:
        _named("a treatment", self.name)


type AnyMaterial = Board | Moulding | Glazing | Backing | Spacer | Fillet | ReadyFrame | Hardware
"""Whatever has a name in the materials."""


@dataclass(frozen=True, slots=True)
class KeptMaterial:
    """One material, the shop's or a show's own; `supplier` and `number` are what it is ordered by.

    `picture` is the content hash of a picture of how it looks, "" for none.
    """

    item: AnyMaterial
    supplier: str = ""
    number: str = ""
    picture: str = ""

    def __post_init__(self) -> None:
        _named("a material", self.item.name)


@dataclass(frozen=True, slots=True)
class KeptOffcut:
    """A piece in the rack, with the number that is written on it."""

    piece: Offcut
    number: str = ""


@dataclass(frozen=True, slots=True)
class Leftover:
    """So many pieces of a size that cutting a plan leaves over of a material, worth keeping."""

    material: str
    size: Size
    copies: int


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """A cutting plan, proposed, accepted or cut: the text of its plan.json.

    `basis` is the last entry in the show's history when it was made: a later one may have changed what it stands on.
    `answers` is what planners answered, from which its papers are made again ("" where that was not kept); `takes` are
    the records of the pieces that it pulls from the rack, `leaves` what it leaves for it; `cutter` is the record of the
    cutter that it was made for; `summary` says in a line what it comes to.
    """

    name: str
    document: str
    basis: int
    accepted: bool = False
    answers: str = ""
    takes: tuple[str, ...] = ()
    leaves: tuple[Leftover, ...] = ()
    cutter: str = ""
    summary: str = ""
    cut: bool = False

    @property
    def state(self) -> str:
        """How far it has come: proposed, accepted, cut."""
        return "cut" if self.cut else "accepted" if self.accepted else "proposed"


@dataclass(frozen=True, slots=True)
class KeptPicture:
    """A picture by its content: SHA-256 in hex, media type, size in pixels and bytes, what it was called."""

    hash: str
    media: str
    width: int
    height: int
    size: int
    name: str = ""


@dataclass(frozen=True, slots=True)
class ShopSettings:
    """What a shop starts every show from; `defaults` lie over the defaults of the unit's system.

    `terms` are the words of its region. Address, phone, web and note are printed on every page with the name.
    """

    name: str = ""
    unit: Unit = Unit.INCH
    order: Order | None = None
    currency: str = "USD"
    paper: str | None = None
    defaults: Layer = SHOP_DEFAULTS
    cutting: CuttingRules | None = None
    terms: Terms = Terms.MAT
    address: str = ""
    phone: str = ""
    web: str = ""
    note: str = ""

    @property
    def letterhead(self) -> Letterhead:
        """What is printed on every page."""
        return Letterhead.of((self.name, self.address), (self.phone, self.web), self.note)


type Kept = (
    KeptShow | KeptWork | KeptTreatment | KeptMaterial | KeptOffcut | Profile | KeptPlan | KeptPicture | ShopSettings
)

VALUES: Mapping[Kind, type[Kept]] = MappingProxyType(
    {
        Kind.SHOW: KeptShow,
        Kind.WORK: KeptWork,
        Kind.TREATMENT: KeptTreatment,
        Kind.MATERIAL: KeptMaterial,
        Kind.RACK: KeptOffcut,
        Kind.CUTTER: Profile,
        Kind.PLAN: KeptPlan,
        Kind.PICTURE: KeptPicture,
        Kind.SETTINGS: ShopSettings,
    }
)
"""The one type of value that a record of each kind has."""
_KINDS = {value: kind for kind, value in VALUES.items()}


def kind_of(value: Kept) -> Kind:
    """Return the kind of record that a value is kept as."""
    return _KINDS[type(value)]


def to_document(value: Kept) -> dict[str, Json]:
    """Return the versioned document of a value."""
    return save(value)


def from_document(kind: Kind, document: object, where: str) -> Kept:
    """Return the value of a document; raises BadFile, with `where` as the name of what it stands in."""
    return load(VALUES[kind], document, where)


@dataclass(frozen=True, slots=True)
class Facts:
    """What a record is found by; "" and 0 where a value has no such thing.

    `unique` is what no other live record of its kind in the same scope may have, as it is compared ("" for anything
    goes); a show's is compared with every other show's.
    """

    name: str = ""
    title: str = ""
    maker: str = ""
    due: date | None = None
    state: str = ""
    place: int = 0
    words: tuple[str, ...] = ()
    unique: str = ""


def facts(value: Kept) -> Facts:  # noqa: PLR0911 (one return a kind)
    """Return what a value is found by.

    >>> facts(KeptTreatment("Quay", NO_DEFAULTS)).unique
    'quay'
    """
    match value:
        case KeptShow():
            words = (value.notes,)
            return Facts(
                value.title, value.title, value.client, value.due, value.stage.value, 0, words, plain(value.title)
            )
        case KeptWork():
            return _work_facts(value)
        case KeptTreatment():
            return Facts(value.name, unique=plain(value.name))
        case KeptMaterial():
            what = type(value.item).__name__.lower()
            words = (value.number,)
            return Facts(
                value.item.name, "", value.supplier, state=what, words=words, unique=f"{what}/{plain(value.item.name)}"
            )
        case KeptOffcut():
            piece = value.piece
            return Facts(value.number, piece.material, words=(piece.place,), unique=plain(value.number))
        case Profile():
            return Facts(value.name, unique=plain(value.name))
        case KeptPlan():
            return Facts(value.name, state=value.state)
        case KeptPicture():
            return Facts(value.hash, value.name, state=value.media, unique=value.hash)
        case ShopSettings():
            return Facts(value.name, unique="settings")


def _work_facts(kept: KeptWork) -> Facts:
    work = kept.listed.work
    words = (work.medium, work.notes, kept.listed.treatment, *(art.name for art in work.arts))
    return Facts(work.id, work.title, work.maker, kept.due, kept.stage.value, kept.place, words, work.id.strip())


def folded(text: str) -> str:
    """Return text as it is searched: lower case, no accents.

    >>> folded("Étude, ÉTÉ")
    'etude, ete'
    """
    before = None
    while text != before:  # what stands for a letter may come apart into one that has a lower case
        before, parted = text, unicodedata.normalize("NFKD", text.casefold())
        text = "".join(letter for letter in parted if not unicodedata.combining(letter))
    return text


def _named(what: str, name: str) -> None:
    if not name.strip() or len(name) > 500:
        raise BadInput(name, f"{what} has a name of at most 500 characters")
