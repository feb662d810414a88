"""Made-up rubbish: every reader gives values and faults, and never another error."""

from __future__ import annotations

import io
import zipfile

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.files.books import workbook

from fourply.errors import BadFile, BadInput
from fourply.files.convertors import Reading
from fourply.files.materials import read_materials
from fourply.files.rules import TREATMENT
from fourply.files.show import read_show
from fourply.files.works import Asked, read_works
from fourply.measure.dimensions import Order
from fourply.measure.notation import Unit
from fourply.trade.materials import Materials
from fourply.trade.shapes.rule import ShapeRule

ASKED = Asked(Unit.INCH, Order.WIDTH_HEIGHT)
READING = Reading(Unit.INCH, Order.WIDTH_HEIGHT)
MATERIALS = Materials()

cells = st.sampled_from(
    [
        *("No.", "W", "H", "Size", "Border", "Mats", "Treatment", "Kind", "Name", "Board", "offcut", "Sheet size (cm)"),
        *("oval", "arch rise 2", "stepped 1 + 1", "grid 3, gutter 1", "a, oval + b @ 1", "a @ 1, 1 wide", "free a.svg"),
        *("16 3/8", "1/0", "8-Mar", "=A1", "#N/A", "support: 3 x 4", '"', "''", "\n", "-3", "1e9", "A4", "", "½"),
    ]
) | st.text(max_size=8)
lists = st.lists(st.lists(cells, max_size=6), max_size=6).map(lambda rows: "\n".join(",".join(row) for row in rows))
headed = lists.map(lambda text: "No.,W,H,Size,Border,Bottom,Mats,Outer,Image size,Qty,Skew,Borders\n" + text)
shaped = lists.map(lambda text: "No.,W,H,Shape,Same mat as,Layout,Lines,Grooves,Title opening,Inlay,Sink mat\n" + text)
stock = lists.map(lambda text: "Kind,Name,Size,Caliper,Cost,Length,Width,Lip\n" + text)
encodings = st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "utf-16-be"])

words = st.sampled_from(
    [
        *("show", "defaults", "treatments", "work", "works", "unit", "order", "materials", "border", "mats", "id"),
        *(
            "width",
            "height",
            "size",
            "zones",
            "outer",
            "boards",
            "rack",
            "cutting",
            "caliper",
            "sheets",
            "a",
            "opening",
        ),
        *("shape", "kind", "path", "leg", "steps", "sides", "layout", "arrange", "places", "openings", "with"),
        *(
            "title",
            "grooves",
            "lines",
            "distance",
            "shave",
            "wash",
            "inlay",
            "sink",
            "board",
            "title_opening",
            "setback",
        ),
    ]
)
toml_values = st.recursive(
    st.sampled_from(
        [
            '"oval"',
            '"free"',
            '"M0 0 H8 V6 Z"',
            '"a.svg"',
            '"grid 3"',
            '"A3 x"',
            '"1 + 2"',
            '"w1"',
            '"in"',
            '"16 x 20"',
            "3",
            "-1",
            "nan",
            "1e999",
            "true",
            '"width x height"',
            "2026-03-08",
            "''",
        ]
    )
    | st.text(alphabet="abc 1/2x", max_size=6).map(lambda text: f'"{text}"'),
    lambda each: (
        st.lists(each, max_size=3).map(lambda items: f"[{', '.join(items)}]")
        | st.dictionaries(words, each, max_size=3).map(
            lambda table: "{ " + ", ".join(f"{key} = {value}" for key, value in table.items()) + " }"
        )
    ),
    max_leaves=5,
)
toml_lines = (
    st.builds(lambda key, value: f"{key} = {value}", words, toml_values)
    | words.map(lambda word: f"[{word}]")
    | words.map(lambda word: f"[[{word}]]")
    | st.builds(lambda one, two: f"[{one}.{two}]", words, words)
    | st.sampled_from(["[[work]]", "[[work.opening]]", '[[work]]\nsize = "9 x 9"', '[[work.opening]]\nsize = "5 x 7"'])
)
tomls = st.lists(toml_lines, max_size=10).map("\n".join)
HEAD = '[show]\nunit = "in"\n'


def no_files(name: str) -> bytes:
    raise BadFile(name, "nothing", "a file")


def rubbish_files(name: str) -> bytes:
    return b"<svg><path d='M0 0 H8 V6 Z'/></svg>" if name.startswith("a") else name.encode()


@given(st.binary(max_size=300))
def test_any_bytes_as_a_list(data: bytes) -> None:
    found = read_works("list.csv", data, ASKED)
    assert all(fault.file == "list.csv" and fault.expected for fault in found.faults)


@given(lists | headed | shaped, encodings)
def test_any_cells_as_a_list_of_works(text: str, encoding: str) -> None:
    found = read_works("list.csv", text.encode(encoding, "surrogatepass"), ASKED)
    assert all(fault.file == "list.csv" and fault.expected for fault in found.faults)


@given(stock, encodings)
def test_any_cells_as_a_list_of_materials(text: str, encoding: str) -> None:
    found = read_materials("list.csv", text.encode(encoding, "surrogatepass"), READING, base=MATERIALS)
    assert all(fault.file == "list.csv" and fault.expected for fault in found.faults)


@given(tomls | st.text(max_size=100))
def test_any_toml_as_a_show(text: str) -> None:
    for start in ("", HEAD):
        for files in (no_files, rubbish_files):
            show = read_show("show.toml", (start + text).encode("utf-8", "replace"), files, Asked())
            assert all(fault.expected for fault in show.faults)


NEW_KEYS = st.sampled_from(["shape", "mats", "layout", "openings", "grooves", "lines", "title", "inlay", "sink"])
letters = st.text(alphabet="aovlrc 1/2,.+@-fM", max_size=14)
raws = st.recursive(
    st.none() | st.booleans() | st.integers(-9, 9) | st.floats() | letters | cells,
    lambda each: st.lists(each, max_size=3) | st.dictionaries(words, each, max_size=4),
    max_leaves=8,
)


@settings(max_examples=300)
@given(NEW_KEYS, raws)
def test_anything_under_a_key_of_shapes_and_accents(key: str, raw: object) -> None:
    try:
        value = TREATMENT[key].parse(raw, READING)
    except BadInput:
        return
    assert TREATMENT[key].parse(TREATMENT[key].print(value), READING) == value or key in {"shape", "mats", "openings"}


PATHS = st.text(alphabet="MmLlHhVvCcSsQqTtAaZz0123456789 .,-+e", max_size=40)


@given(PATHS.map(lambda text: "M0 0 " + text))
def test_any_path_data_as_a_shape(text: str) -> None:
    try:
        rule = TREATMENT["shape"].parse({"kind": "free", "path": text}, READING)
    except BadInput:
        return
    assert isinstance(rule, ShapeRule)
    assert rule.path is not None


@given(tomls | st.text(max_size=100))
def test_any_toml_as_materials(text: str) -> None:
    found = read_materials("own.toml", text.encode("utf-8", "replace"), READING, base=MATERIALS)
    assert all(fault.expected for fault in found.faults)


BOOK = workbook([["No.", "W", "H"], [1, 16.375, "=B2"], [2, "16 3/8", True]])


@given(st.lists(st.tuples(st.integers(0, len(BOOK) - 1), st.integers(0, 255)), min_size=1, max_size=8))
def test_any_spoilt_workbook(changes: list[tuple[int, int]]) -> None:
    data = bytearray(BOOK)
    for at, value in changes:
        data[at] = value
    found = read_works("list.xlsx", bytes(data), ASKED)
    assert found.works or found.faults


SHEET_PIECES = st.sampled_from(
    [
        *('<row r="2">', "<row>", "</row>", '<c r="A1">', '<c r="B2" t="s">', '<c t="e">', '<c s="9">', "<c>", "</c>"),
        *("<f>", "</f>", "<v>", "</v>", "<is>", "<t>", "</t>", "</is>", "1", "No.", "W", "H", '<c r="ZZZ9999999"/>'),
    ]
)


@settings(max_examples=60)
@given(inside=st.lists(SHEET_PIECES, max_size=20).map("".join), wrap=st.booleans())
def test_any_sheet_in_a_sound_workbook(inside: str, *, wrap: bool) -> None:
    part = f'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>{inside}'
    part += "</sheetData></worksheet>" if wrap else ""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(BOOK)) as old, zipfile.ZipFile(stream, "w") as new:
        for name in old.namelist():
            new.writestr(name, part if name.endswith("sheet1.xml") else old.read(name))
    found = read_works("list.xlsx", stream.getvalue(), ASKED)
    assert all(fault.file == "list.xlsx" for fault in found.faults)
