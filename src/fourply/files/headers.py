"""Which column of a list is which, from headers as people write them.

A header carries more than a name: `Width (mm)`, `w_in` and `Size (H x W), cm` state a unit and an order too. What is
not known is kept, as a note on its work, and reported once, so that nothing that somebody typed is lost.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from fourply.errors import BadInput
from fourply.files.tables import Row, Table
from fourply.measure.dimensions import Order
from fourply.measure.notation import Unit, straight
from fourply.trade.treatment import FIELDS

_SEARCHED_ROWS = 15
_MOST_CHARACTERS = 120

_UNIT_AT_END = re.compile(
    r"""(?P<rest>.*?)(?:[\s_,/-]*[(\[]\s*|[\s_,/-]+)(?:in\s)?(?P<unit>mm|cm|m|in|inch|inches|ft|foot|feet|metre|meter|"|')\.?[)\]\s]*"""
)
_BY = r"\s*(?:x|×|by|/)\s*"
_ORDER = re.compile(rf"[(\[]?\b(?:(w)(?:idth)?{_BY}h(?:eight)?|(h)(?:eight)?{_BY}w(?:idth)?)\b[)\]]?")

_WORK_ALIASES = MappingProxyType(
    {
        "id": "id|no|nr|number|num|inventory|inventory no|inventory number|inv|inv no|accession|accession no"
        "|accession number|cat|cat no|catalogue no|catalogue number|catalog no|ref|reference|work no|item|item no|#",
        "title": "title|name|work|work title|title of work|artwork",
        "maker": "maker|artist|by|author|photographer|artist name|creator|printmaker",
        "medium": "medium|media|technique",
        "size": "size|dimensions|dims|dimension|sheet|sheet size|paper size|support|support size|art size|measurements",
        "width": "width|w|wide|sheet width|sheet w|paper width|support width|art width|art w",
        "height": "height|h|high|sheet height|sheet h|paper height|support height|art height|art h",
        "image_size": "image|image size|image dimensions|plate|plate size|picture size",
        "image_width": "image width|image w|plate width|picture width|iw",
        "image_height": "image height|image h|plate height|picture height|ih",
        "image_left": "image left|image from left|left margin|margin left",
        "image_top": "image top|image from top|top margin|margin top",
        "orientation": "orientation",
        "copies": "copies|quantity|qty|count|how many",
        "notes": "notes|note|remarks|comment|comments|instructions",
        "treatment": "treatment|framing|style|finish",
        "skew_deg": "skew|out of square|skew degrees",
        "thickness": "thickness|sheet thickness|paper thickness",
        "with": "with|in mat with|same mat as|in the mat of|in one mat with|hangs with|mat shared with",
    }
)
_RULE_ALIASES = MappingProxyType(
    {
        "window": "window|window from|measured from",
        "border": "border|margin|margins|mat width|border width|border all round",
        "bottom": "bottom|bottom border|bottom margin|weighting",
        "borders": "four borders",
        "outer": "outer|outer size|mat size|mount size|package size|frame size|finished size",
        "frame": "frame|ready made frame|ready frame",
        "mats": "mats|mat|board|boards|mat board|matboard|window mat|mat colour|mat color",
        "mount": "mount board|mounting board|undermount|back mat",
        "moulding": "moulding|molding|frame moulding|profile",
        "moulding_sides": "side moulding|moulding of the sides",
        "glazing": "glazing|glass",
        "overlap": "overlap|cover",
        "float_gap": "gap",
        "bevel_deg": "bevel|bevel angle",
        "hinge": "hinges|hinging",
        "shape": "shape|window shape|opening shape|shape of window|cut out",
        "grooves": "grooves|groove|v groove|v grooves",
        "lines": "lines|ruled lines|wash lines",
        "title_opening": "title opening|title window",
        "layout": "layout|arrangement|layout of openings",
        "sink": "sink|sink mat",
    }
)


def by_alias(aliases: Mapping[str, str]) -> dict[str, str]:
    """Return the key of every alias, from the aliases of every key with bars between them."""
    return {alias: key for key, text in aliases.items() for alias in text.split("|")}


WORK_HEADERS: Mapping[str, str] = MappingProxyType(
    {field.replace("_", " "): field for field in FIELDS} | by_alias(_RULE_ALIASES) | by_alias(_WORK_ALIASES)
)


@dataclass(frozen=True, slots=True)
class Column:
    """What a header says: its key (empty where it is not known), its unit and order where it names them."""

    header: str
    key: str
    unit: Unit | None = None
    order: Order | None = None


def read_header(header: str, keys: Mapping[str, str] = WORK_HEADERS) -> Column:
    """Return what a header says; `keys` gives the key of every plain header that is known.

    >>> read_header("Size (H x W), cm").order, read_header("w_in").key
    (<Order.HEIGHT_WIDTH: 'height x width'>, 'width')
    """
    text = " ".join(straight(header[:_MOST_CHARACTERS]).lower().split())
    unit = None
    if found := _UNIT_AT_END.fullmatch(text):
        text, unit = found["rest"], Unit.named(found["unit"])
    order = None
    if found := _ORDER.search(text):
        order = Order.WIDTH_HEIGHT if found[1] else Order.HEIGHT_WIDTH
        text = text.replace(found[0], " ")
    # A header that is nothing but an order (`W x H`) is a size.
    return Column(header, keys.get(_key(text) or ("size" if order else ""), ""), unit, order)


def _key(text: str) -> str:
    return " ".join(re.sub("[^a-z0-9#]+", " ", text).replace("#", " # ").split())


@dataclass(frozen=True, slots=True)
class Headed:
    """The rows of a list below its header, each column by what it is."""

    file: str
    header_row: int
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    notes: tuple[str, ...] = ()

    @property
    def unknown(self) -> tuple[str, ...]:
        """The headers that are not known."""
        return tuple(column.header for column in self.columns if not column.key and column.header)


def find_header(table: Table, keys: Mapping[str, str] = WORK_HEADERS) -> Headed:
    """Return the rows under the header, the row near the top that names most columns; raises BadInput for none.

    What stands above (a title across merged cells) is passed over, and so is the header where it is repeated.
    """
    best, at = _most_known(table.rows[:_SEARCHED_ROWS], keys)
    if not any(column.key for column in best):
        seen = " | ".join(cell for cell in table.rows[0].cells if cell)[:200] if table.rows else ""
        raise BadInput(seen, "a row of headers such as number, title, width (in), height (in)")
    header = table.rows[at].cells
    rows = tuple(row for row in table.rows[at + 1 :] if row.cells != header)
    return Headed(table.file, table.rows[at].number, _once_each(best), rows, table.notes)


def with_columns(table: Table, columns: Sequence[Column], header_row: int) -> Headed:
    """Return the rows below a row by its number in the file (0: all), each column being what a person says it is."""
    header = next((row.cells for row in table.rows if row.number == header_row), None)
    rows = tuple(row for row in table.rows if row.number > header_row and row.cells != header)
    return Headed(table.file, header_row, _once_each(columns), rows, table.notes)


def _most_known(rows: Sequence[Row], keys: Mapping[str, str]) -> tuple[tuple[Column, ...], int]:
    read = [tuple(read_header(cell, keys) for cell in row.cells) for row in rows]
    counts = [len({column.key for column in columns} - {""}) for columns in read]
    at = max(range(len(rows)), key=lambda number: (counts[number], -number), default=0)
    return (read[at] if read else ()), at


def _once_each(columns: Sequence[Column]) -> tuple[Column, ...]:
    """Return the columns, a second one of the same kind as unknown, since only one can count."""
    seen: set[str] = set()
    kept = []
    for column in columns:
        kept.append(Column(column.header, "") if column.key in seen else column)
        seen.add(column.key)
    return tuple(kept)
