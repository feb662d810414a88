"""A show: its works, how they are to be treated, from what materials.

A show is a TOML file with defaults, named treatments, and works in lists beside it or written out; or it is a bare
list, and the shop's defaults do. Works that can be read are made whatever is wrong with others; where the show's own
rules are wrong none is, because every size would follow from them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path, PurePath

from fourply.errors import BadFile, BadInput, FourplyError
from fourply.files.convertors import CURRENCY, NAME, ORDER, SCHEMA, TEXT, UNIT, Fetch, Reading, plain, words
from fourply.files.entries import NO_DEFAULTS, Entry, Rules, settle_works, unknown_names, with_known_names
from fourply.files.faults import Fault
from fourply.files.materials import read_materials, starter
from fourply.files.record import OPENING_KEYS, WORK_KEYS, Given, Listed, Record
from fourply.files.rules import AT_WORK, MOST_OPENINGS, TREATMENT
from fourply.files.tables import load_bytes
from fourply.files.toml import Document, Located, Place, parse_toml
from fourply.files.works import Asked, read_records, read_works
from fourply.measure.dimensions import Order
from fourply.measure.notation import Unit
from fourply.trade.materials import Materials
from fourply.trade.treatment import INCH, METRIC, OPENING_FIELDS, Layer, Treatment, settle
from fourply.trade.work import Source
from fourply.working.letterhead import NO_LETTERHEAD, Letterhead
from fourply.working.terms import Terms

_SHOW_KEYS = ("title", "unit", "order", "currency", "paper", "terms", "works", "materials")
_TOP_KEYS = ("schema", "show", "defaults", "treatments", "work")
_PAPERS = ("a4", "letter")
_MOST_LISTS = 50


@dataclass(frozen=True, slots=True)
class Show:
    """A show as read: what can be made, the faults of what cannot, and notes on how it was read.

    `paper` is what its sheets are printed on, None where the show leaves that to its region. `terms` are its readers'
    words of the trade; `letterhead` is what a shop has printed on every page: above at the left and right, at the foot.
    """

    title: str
    unit: Unit
    order: Order | None
    currency: str
    materials: Materials
    entries: tuple[Entry, ...] = ()
    faults: tuple[Fault, ...] = ()
    notes: tuple[str, ...] = ()
    paper: str | None = None
    terms: Terms = Terms.MAT
    letterhead: Letterhead = NO_LETTERHEAD

    @property
    def shop(self) -> Treatment:
        """The shop's defaults in the show's system of units."""
        return METRIC if self.unit.is_metric else INCH


@dataclass(frozen=True, slots=True)
class Parts:
    """What a show is put together from: the show without an entry, its rules, its works as listed."""

    show: Show
    rules: Rules
    works: tuple[Listed, ...] = ()


def settled(parts: Parts) -> Show:
    """Return the show with every work that its rules can be settled for; the faults of the others after its own."""
    entries, faults = settle_works(parts.works, parts.rules)
    return replace(parts.show, entries=entries, faults=(*parts.show.faults, *faults))


def load_show(path: Path, asked: Asked) -> Show:
    """Return the show in a TOML file, or in a bare list; what is wrong is among its faults, never raised."""
    return settled(load_parts(path, asked))


def load_parts(path: Path, asked: Asked) -> Parts:
    """Return what the show in a TOML file, or in a bare list, is put together from."""

    def fetch(name: str) -> bytes:
        return load_bytes(path.parent / name)

    try:
        data = load_bytes(path)
    except BadFile as bad:
        return _empty(path.name, asked, Fault.of_file(bad))
    return read_parts(path.name, data, fetch, asked)


def read_show(file: str, data: bytes, fetch: Fetch, asked: Asked) -> Show:
    """Return the show in the content of a file, the lists that it names coming from `fetch`."""
    return settled(read_parts(file, data, fetch, asked))


def read_parts(file: str, data: bytes, fetch: Fetch, asked: Asked) -> Parts:
    """Return what the show in the content of a file is put together from."""
    if PurePath(file).suffix.lower() != ".toml":
        return _bare_list(file, data, asked)
    try:
        document = parse_toml(file, data)
    except BadFile as bad:
        return _empty(file, asked, Fault.of_file(bad))
    if isinstance(document, Fault):
        return _empty(file, asked, document)
    return _ShowReader(document, fetch, asked).read()


def _empty(file: str, asked: Asked, *faults: Fault) -> Parts:
    unit = asked.unit or Unit.INCH
    show = Show(PurePath(file).stem, unit, asked.order, _currency(unit), Materials(), faults=faults)
    return Parts(show, Rules(show.shop, show.materials))


def _currency(unit: Unit) -> str:
    return "EUR" if unit.is_metric else "USD"


def _bare_list(file: str, data: bytes, asked: Asked) -> Parts:
    listed = read_works(file, data, asked)
    if listed.unit is None:
        return _empty(file, asked, *listed.faults)
    materials = starter(metric=listed.unit.is_metric)
    show = Show(PurePath(file).stem, listed.unit, asked.order, _currency(listed.unit), materials)
    show = replace(show, faults=listed.faults, notes=listed.notes)
    return Parts(show, Rules(show.shop, materials), listed.works)


class _ShowReader:
    """A show file while it is being read."""

    def __init__(self, document: Document, fetch: Fetch, asked: Asked) -> None:
        self.located = Located(document)
        self.fetch = fetch
        self.asked = asked
        self.notes: list[str] = []

    def read(self) -> Parts:
        """Return the parts of the show; without a work where its own rules are wrong."""
        show = self._head()
        reading = Reading(show.unit, show.order, show.currency, self.fetch)
        named = {plain(layer.name.removeprefix("treatment ")): layer for layer in self._treatments(reading, show)}
        rules = Rules(show.shop, show.materials, self._defaults(reading, show), named)
        self._check(rules)
        if self.located.faults:
            return Parts(replace(show, faults=tuple(self.located.faults), notes=tuple(self.notes)), rules)
        works, unread = self._works(reading)
        show = replace(show, faults=(*self.located.faults, *unread), notes=tuple(self.notes))
        return Parts(show, rules, tuple(works))

    def _head(self) -> Show:
        located, document = self.located, self.located.document
        located.known((), document.values, _TOP_KEYS)
        located.known(("show",), located.table(("show",)), _SHOW_KEYS)
        start = Reading(self.asked.unit or Unit.INCH)
        located.value(("schema",), SCHEMA.parse, start)
        unit = self.asked.unit or located.value(("show", "unit"), UNIT.parse, start)
        if unit is None:
            if ("show", "unit") not in document.lines:
                located.fault(("show",), "no unit", 'the unit of bare numbers: unit = "in", "mm" or "cm"')
            unit = Unit.INCH
        order = self.asked.order or located.value(("show", "order"), ORDER.parse, start)
        currency = located.value(("show", "currency"), CURRENCY.parse, start) or _currency(unit)
        title = located.value(("show", "title"), TEXT.parse, start) or PurePath(document.file).stem
        paper = located.value(("show", "paper"), _parse_paper, start)
        terms = located.value(("show", "terms"), _parse_terms, start) or Terms.MAT
        materials = self._materials(Reading(unit, order, currency))
        return Show(title, unit, order, currency, materials, paper=paper, terms=terms)

    def _materials(self, reading: Reading) -> Materials:
        base = starter(metric=reading.unit.is_metric)
        name = self.located.value(("show", "materials"), NAME.parse, reading)
        if not name:
            return base
        data = self._fetched(("show", "materials"), name)
        if data is None:
            return base
        read = read_materials(name, data, reading, base=base)
        self.located.faults.extend(read.faults)
        self.notes.extend(read.notes)
        return read.materials

    def _fetched(self, place: Place, name: str) -> bytes | None:
        try:
            return self.fetch(name)
        except BadFile as bad:
            self.located.fault(place, name, f"{bad.found}; {bad.expected}")
            return None

    def _defaults(self, reading: Reading, show: Show) -> Layer:
        return with_known_names(self._layer(("defaults",), NO_DEFAULTS.name, reading), show.materials)

    def _treatments(self, reading: Reading, show: Show) -> Iterator[Layer]:
        for name in self.located.table(("treatments",)):
            layer = self._layer(("treatments", name), f"treatment {name}", reading)
            yield with_known_names(layer, show.materials)

    def _layer(self, place: Place, name: str, reading: Reading) -> Layer:
        table = self.located.table(place)
        self.located.known(place, table, (*TREATMENT, "title_opening"))
        values = {}
        for key in table:
            rule = AT_WORK.get(key, key)
            before = len(self.located.faults)
            value = self.located.value((*place, key), TREATMENT[rule].parse, reading) if rule in TREATMENT else None
            if rule in TREATMENT and len(self.located.faults) == before:
                values[rule] = value
        return Layer(name, values)

    def _check(self, rules: Rules) -> None:
        """Enter a fault for every rule of the show that cannot be followed, so that no work has to repeat it."""
        places: dict[Place, list[Layer]] = {("defaults",): [rules.defaults]}
        places |= {
            ("treatments", layer.name.removeprefix("treatment ")): [rules.defaults, layer]
            for layer in rules.named.values()
        }
        for place, layers in places.items():
            try:
                treatment = settle(rules.shop, layers)
            except (FourplyError, ValueError) as bad:
                self.located.fault(place, ", ".join(layers[-1].values), str(bad))
                continue
            for key, unknown in unknown_names(treatment, rules.materials):
                if key in layers[-1].values:
                    self.located.fault((*place, key), unknown.found, unknown.expected)

    def _works(self, reading: Reading) -> tuple[list[Listed], list[Fault]]:
        """Return the works of all lists and of the file itself, no number twice."""
        found: list[Listed] = []
        wrong: list[Fault] = []
        lists = self._lists()
        for at, name in enumerate(lists, start=1):
            data = self._fetched(("show", "works"), name)
            if data is not None:
                listed = read_works(name, data, Asked(reading.unit, reading.order, _prefix(at)))
                found.extend(listed.works)
                wrong.extend(listed.faults)
                self.notes.extend(listed.notes)
        works, faults = read_records([*self._written_out()], reading, _prefix(len(lists) + 1))
        wrong.extend(faults)
        return [*_once_each([*found, *works], wrong)], wrong

    def _lists(self) -> Sequence[str]:
        raw = self.located.table(("show",)).get("works", [])
        listed: list[object] = raw if isinstance(raw, list) else [raw]
        names = [name for name in listed if isinstance(name, str) and 0 < len(name) < 500]
        if len(names) != len(listed) or len(names) > _MOST_LISTS:
            self.located.fault(("show", "works"), str(raw)[:200], 'the name of a list: works = "works.csv"')
            return ()
        return names

    def _written_out(self) -> Iterator[Record]:
        keys = (*WORK_KEYS, *AT_WORK)
        for at, table in enumerate(self.located.tables(("work",))):
            place = ("work", at)
            self.located.known(place, table, keys)
            if set(table) <= set(keys):
                plain_keys = {key: raw for key, raw in table.items() if key != "opening"}
                openings = tuple(self._openings(place, table.get("opening", [])))
                yield replace(self._record(place, plain_keys), openings=openings)

    def _openings(self, work: Place, raw: object) -> Iterator[Record]:
        """Yield the further openings of a work; one with a key that is not known is passed over."""
        if not isinstance(raw, list) or len(raw) > MOST_OPENINGS or not all(isinstance(table, dict) for table in raw):
            expected = f"tables, at most {MOST_OPENINGS}: [[work.opening]]"
            self.located.fault((*work, "opening"), str(raw)[:200], expected)
            return
        keys = (*OPENING_KEYS, *OPENING_FIELDS)
        for at, table in enumerate(raw):
            place = (*work, "opening", at)
            self.located.known(place, table, keys)
            if set(table) <= set(keys):
                yield self._record(place, table)

    def _record(self, place: Place, table: Mapping[str, object]) -> Record:
        document = self.located.document
        given = {key: Given(raw, key) for key, raw in table.items()}
        return Record(Source(document.file, document.line(place)), given)


def _parse_paper(raw: object, _: Reading) -> str:
    text = words(raw).lower()
    if text not in _PAPERS:
        raise BadInput(text, f"write {' or '.join(_PAPERS)}")
    return text


def _parse_terms(raw: object, _: Reading) -> Terms:
    text = words(raw).lower()
    try:
        return Terms(text)
    except ValueError:
        raise BadInput(text, f"write {' or '.join(each.value for each in Terms)}") from None


def _prefix(at: int) -> str:
    """Return what begins the numbers made for the works of the first, second, … list: w1, w2.1."""
    return "w" if at == 1 else f"w{at}."


def _once_each(works: Sequence[Listed], faults: list[Fault]) -> Iterator[Listed]:
    """Yield the works, and enter a fault for each whose number another list has."""
    seen: dict[str, Source] = {}
    for listed in works:
        source, number = listed.work.source, listed.work.id
        if number in seen:
            expected = f"a number that no other work has; {seen[number]} has it"
            faults.append(Fault(source.file, source.row, "id", number, expected))
        else:
            seen[number] = source
            yield listed
