"""Materials: the starter sets, a file of one's own, a spreadsheet of one's own."""

from __future__ import annotations

from decimal import Decimal

import pytest
from tests.files.books import workbook

from fourply.files.convertors import Reading
from fourply.files.kinds import KINDS
from fourply.files.materials import MaterialsRead, read_materials, starter
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.size import Size
from fourply.trade.materials import Materials, Offer, Pane, Stick
from fourply.trade.money import Money
from fourply.trade.treatment import INCH, METRIC, Treatment

READING = Reading(Unit.INCH, Order.WIDTH_HEIGHT, "USD")
ALL_KINDS = b"""
schema = 1
unit = "mm"
order = "height x width"
currency = "EUR"
[cutting]
trim = 4
longest_cut = "1200"
fallout_cost = 35
[boards.plum]
caliper = 1.5
colour = "#503050"
measured = true
oriented = true
sheets = [{ size = "1120 x 815", cost = "12.50", copies = 3 }]
[mouldings.beech]
width = 20
lip = 6
rabbet_depth = 16
height = 25
kerf = 3
sticks = [{ length = "2.7 m", cost = 20 }]
[glazings.pane]
kind = "acrylic"
thickness = 2
sheets = []
[backings.grey]
thickness = "2.5"
sheets = [{ size = "1220 x 2440" }]
[spacers.thin]
depth = 3
width = 4
sticks = []
[fillets.gilt]
shown = 6
lip = 6
thickness = 3
sticks = []
[frames.made]
size = "400 x 300"
moulding = "beech"
cost = 18
[hardware.hook]
cost = "0.40"
per_frame = 2
[[rack]]
material = "plum"
size = "500 x 400"
place = "rack 2"
"""


def read(data: bytes, file: str = "own.toml", base: Materials = Materials()) -> MaterialsRead:  # noqa: B008
    return read_materials(file, data, READING, base=base)


@pytest.mark.parametrize(("metric", "defaults"), [(False, INCH), (True, METRIC)])
def test_the_starter_set_has_every_material_of_the_shops_defaults(*, metric: bool, defaults: Treatment) -> None:
    materials = starter(metric=metric)
    assert defaults.mount in materials.boards
    assert {mat.board for mat in defaults.mats} <= materials.boards.keys()
    assert defaults.backing in materials.backings
    assert defaults.glazing in materials.glazings
    assert all(frame.moulding in materials.mouldings for frame in materials.frames.values())
    assert all(stick.sticks for stick in materials.mouldings.values())
    assert all(board.sheets for board in materials.boards.values())


@pytest.mark.parametrize(
    ("name", "least", "most"),
    [
        # Usual ranges by ply: common practice.
        ("white 2-ply", Length.inches(25, 1000), Length.inches(32, 1000)),
        ("white 4-ply", Length.inches(50, 1000), Length.inches(60, 1000)),
        ("white 6-ply", Length.inches(75, 1000), Length.inches(90, 1000)),
        ("white 8-ply", Length.inches(100, 1000), Length.inches(125, 1000)),
    ],
)
def test_starter_boards_have_usual_calipers(name: str, least: Length, most: Length) -> None:
    assert least <= starter(metric=False).board(name).caliper <= most


def test_every_kind_of_material_is_read_with_what_is_said_of_it() -> None:
    found = read(ALL_KINDS)
    assert not found.faults
    materials = found.materials
    plum = materials.board("plum")
    assert (plum.caliper, plum.measured, plum.oriented) == (Length.mm(3, 2), True, True)
    sheet = Size(Length.mm(815), Length.mm(1120))
    assert plum.sheets == (Offer(sheet, Money(Decimal("12.50"), "EUR"), 3),)
    assert materials.moulding("beech").sticks == (Stick(Length.mm(2700), Money(Decimal(20), "EUR")),)
    assert materials.glazing("pane").kind is Pane.ACRYLIC
    assert materials.backing("grey").sheets[0].cost == Money(Decimal(0), "EUR")
    assert materials.spacer("thin").depth == Length.mm(3)
    assert materials.fillet("gilt").shown == Length.mm(6)
    assert materials.frame("made").size == Size(Length.mm(300), Length.mm(400))
    assert materials.hardware["hook"].per_frame == 2
    assert [(offcut.material, offcut.place) for offcut in materials.rack] == [("plum", "rack 2")]
    assert (materials.cutting.trim, materials.cutting.longest_cut) == (Length.mm(4), Length.mm(1200))
    assert materials.cutting.fallout_cost == 35


@pytest.mark.parametrize("metric", [False, True])
def test_every_material_prints_and_reads_back(*, metric: bool) -> None:
    materials = starter(metric=metric)
    for kind in KINDS:
        for name, material in getattr(materials, kind.table).items():
            for key, convertor in kind.keys.items():
                value = getattr(material, key)
                assert convertor.parse(convertor.print(value), Reading(Unit.M)) == value, (name, key)


def test_a_number_of_sheets_prints_and_reads_back() -> None:
    sheets = KINDS[0].keys["sheets"]
    offers = (Offer(Size(Length.mm(3), Length.mm(4)), Money(Decimal(5), "EUR"), 6),)
    assert sheets.parse(sheets.print(offers), READING) == offers


def test_ones_own_file_replaces_names_and_adds_others() -> None:
    base = starter(metric=False)
    own = b"""
    boards."white 4-ply" = { caliper = "0.058", measured = true, sheets = [] }
    boards.plum = { caliper = "0.06", sheets = [] }
    """
    found = read(own, base=base).materials
    assert found.board("white 4-ply").measured
    assert found.boards.keys() == base.boards.keys() | {"plum"}
    assert found.mouldings == base.mouldings
    assert found.cutting == base.cutting


@pytest.mark.parametrize(
    ("data", "row", "column", "expected"),
    [
        (b"[board]\n", 1, "board", "perhaps boards"),
        (b"[boards.a]\ncaliper = 1\n", 1, "boards.a", "sheets too"),
        (b"[boards.a]\nsheets = []\ncalliper = 1\n", 1, "boards.a", "perhaps caliper"),
        (b"[boards.a]\nsheets = []\ncaliper = 0\n", 1, "boards.a", "above nothing"),
        (b"[boards.a]\nsheets = 3\ncaliper = 1\n", 1, "boards.a", "a list of tables"),
        (b"[boards.a]\nsheets = [{}]\ncaliper = 1\n", 1, "boards.a", "size too"),
        (b"boards.a = 3\n", 1, "boards.a", "a table with caliper"),
        (b"boards = 3\n", 1, "boards", "a table: [boards]"),
        (b"rack = 3\n", 1, "rack", "tables: [[rack]]"),
        (b"[[rack]]\nsize = 'A4'\n", 1, "rack.0", "material too"),
        (b"[glazings.a]\nkind = 'jelly'\nthickness = 1\nsheets = []\n", 1, "glazings.a", "glass, acrylic"),
        (b"[cutting]\ntrimm = 1\n", 2, "cutting.trimm", "perhaps trim"),
        (b"[cutting]\ntrim = 'x'\n", 2, "cutting.trim", "a length such as"),
        (b"schema = 2\n", 1, "schema", "a newer one"),
        (b"unit = 'ell'\n", 1, "unit", "in, ft, mm"),
        (b"currency = 'gold'\n", 1, "currency", "capital letters"),
        (b"[boards\n", 1, "", "TOML"),
        (b"\0\1\2", 0, "", "CSV"),
    ],
)
def test_what_is_wrong_is_a_fault_with_its_line(data: bytes, row: int, column: str, expected: str) -> None:
    (fault,) = read(data).faults
    assert (fault.row, fault.column) == (row, column)
    assert expected in fault.expected


LIST = """
Kind,Name,Caliper,Sheet size,Price,Stock,Color,Face (mm),Lip (mm),Rabbet (mm),Height (mm),Stick,Grain,Bin,Rack place
Mat board,plum,0.06,32 x 40,12.50,,#503050,,,,,,yes,7,
Mat board,plum,0.06,40 x 60,30.00,2,,,,,,,,,
Moulding,beech,,,20,,,20,6,16,25,8 ft,,,
Glass,pane,3/32,32 x 40,18,,,,,,,,,,
Hardware,hook,,,0.40,,,,,,,,,,
Offcut,plum,,16 x 12,0.50,,,,,,,,,,rack 2
Offcut,plum,,8 x 12,0.50,,,,,,,,,,rack 3
"""


def test_a_spreadsheet_of_materials_is_read_one_row_a_size() -> None:
    found = read(LIST.encode(), "own.csv")
    assert not found.faults
    plum = found.materials.board("plum")
    assert (plum.caliper, plum.colour, plum.oriented) == (Length.inches(6, 100), "#503050", True)
    assert [(offer.size.width, offer.copies) for offer in plum.sheets] == [
        (Length.inches(32), None),
        (Length.inches(40), 2),
    ]
    beech = found.materials.moulding("beech")
    assert (beech.width, beech.lip, beech.height) == (Length.mm(20), Length.mm(6), Length.mm(25))
    assert [stick.length for stick in beech.sticks] == [Length.inches(96)]
    assert found.materials.glazing("pane").kind is Pane.GLASS
    assert found.materials.hardware["hook"].cost == Money(Decimal("0.40"), "USD")
    assert [(offcut.place, offcut.size.width) for offcut in found.materials.rack] == [
        ("rack 2", Length.inches(16)),
        ("rack 3", Length.inches(8)),
    ]
    assert found.notes == ("own.csv: left out: Bin",)


def test_a_workbook_of_materials_is_read_too() -> None:
    data = workbook(
        [["Kind", "Name", "Caliper (mm)", "Size (H x W) mm", "Cost"], ["Board", "plum", 1.5, "1120 x 815", 12]]
    )
    plum = read(data, "own.xlsx").materials.board("plum")
    assert plum.caliper == Length.mm(3, 2)
    assert plum.sheets[0].size == Size(Length.mm(815), Length.mm(1120))


@pytest.mark.parametrize(
    ("text", "row", "column", "expected"),
    [
        ("Kind,Size\nBoard,A4\n", 1, "", "columns kind and name"),
        ("Kind,Name\nJelly,a\n", 2, "Kind", "one of board, moulding"),
        ("Kind,Name\n,a\n", 2, "", "one of board, moulding"),
        ("Kind,Name\nBoard,\n", 2, "", "the name of the material"),
        ("Kind,Name,Size\nBoard,a,A4\n", 2, "a", "caliper too"),
        ("Kind,Name,Caliper (in)\nBoard,a,thick\n", 2, "a", "a length such as"),
        ("Kind,Name,Caliper (mm)\nBoard,a,thick\n", 2, "Caliper (mm)", "a length such as"),
        ("1,2\n3,4\n", 0, "", "a row of headers such as kind"),
    ],
)
def test_a_bad_row_of_materials_is_a_fault(text: str, row: int, column: str, expected: str) -> None:
    (fault,) = read(text.encode(), "own.csv").faults
    assert (fault.row, fault.column) == (row, column)
    assert expected in fault.expected


def test_a_spreadsheet_that_is_none_is_one_fault() -> None:
    found = read(b"%PDF", "own.csv")
    assert [fault.found for fault in found.faults] == ["a PDF"]
    assert found.materials == Materials()


PROFILED = """
unit = "mm"
[mouldings.cove]
width = 20
lip = 6
rabbet_depth = 16
height = 25
sticks = []
profile = %s
"""


def test_a_profile_is_read_and_written_as_it_was() -> None:
    points = '[{ across = 0, height = 25 }, { across = "10 mm", height = "18.5" }, { across = 20, height = 9 }]'
    (cove,) = read((PROFILED % points).encode()).materials.mouldings.values()
    mm = Length.mm
    assert cove.profile == ((mm(0), mm(25)), (mm(10), mm(37, 2)), (mm(20), mm(9)))
    (kind,) = (kind for kind in KINDS if kind.table == "mouldings")
    assert kind.keys["profile"].parse(kind.keys["profile"].print(cove.profile), READING) == cove.profile


@pytest.mark.parametrize(
    "points",
    [
        "7",
        "[7]",
        "[{ across = 0 }]",
        "[{ across = 0, height = 25 }]",
        "[{ across = 0, height = 25 }, { across = 20, height = 26 }]",
        "[{ across = 0, height = 25 }, { across = 21, height = 9 }]",
        f"[{'{ across = 0, height = 25 }, ' * 101}]",
    ],
)
def test_a_profile_that_cannot_be_is_a_fault(points: str) -> None:
    found = read((PROFILED % points).encode())
    assert not found.materials.mouldings
    assert found.faults[0].column.startswith("mouldings.cove")


def test_a_fillet_has_a_colour() -> None:
    data = b'[fillets.gilt]\nshown = 6\nlip = 6\nthickness = 3\nsticks = []\ncolour = "#A08040"\n'
    assert read(data).materials.fillets["gilt"].colour == "#a08040"
