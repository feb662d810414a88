"""Shows: layers of rules, lists beside them, and faults by their place."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from fourply.errors import BadFile
from fourply.files.show import Show, load_show, read_show
from fourply.files.works import Asked
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.size import Edges, Rect
from fourply.trade.treatment import INCH, METRIC
from fourply.trade.work import Keep, Source

HEAD = '[show]\nunit = "in"\norder = "width x height"\n'
LIST = b"No.,W,H,Treatment,Border\n1,16,20,,\n2,11,14,wide,\n3,8,10,wide,2\n"


def read(text: str, files: Mapping[str, bytes] = {"works.csv": LIST}, asked: Asked = Asked()) -> Show:  # noqa: B008
    def fetch(name: str) -> bytes:
        if name not in files:
            raise BadFile(name, "No such file", "a file that can be read")
        return files[name]

    return read_show("show.toml", text.encode(), fetch, asked)


def faults(show: Show) -> list[tuple[str, int, str, str]]:
    return [(fault.file, fault.row, fault.column, fault.found) for fault in show.faults]


def test_the_last_layer_wins_field_by_field_and_each_value_knows_its_layer() -> None:
    show = read(HEAD + 'works = "works.csv"\n[defaults]\nborder = 3\noverlap = "3/16"\n[treatments.Wide]\nborder = 4\n')
    assert not show.faults
    borders = [(entry.treatment.border, entry.treatment.origin("border")) for entry in show.entries]
    assert borders == [
        (Length.inches(3), "show default"),
        (Length.inches(4), "treatment Wide"),
        (Length.inches(2), "work 3"),
    ]
    assert all(entry.treatment.origin("overlap") == "show default" for entry in show.entries)
    assert all(entry.treatment.origin("mats") == "shop default" for entry in show.entries)


def test_works_can_be_written_out_after_those_of_the_lists() -> None:
    show = read(
        HEAD
        + """works = ["works.csv"]
        [treatments.wide]
        border = 4
        [[work]]
        id = "X"
        size = "12 x 9"
        copies = 2
        borders = { top = 1, right = 2, bottom = 3, left = 4 }
        zones = [{ name = "seal", left = 1, top = 2, width = 3, height = 4, keep = "cover" }]
        """
    )
    assert not show.faults
    assert [entry.work.id for entry in show.entries] == ["1", "2", "3", "X"]
    work, treatment = show.entries[-1].work, show.entries[-1].treatment
    assert work.source == Source("show.toml", 7)
    assert work.copies == 2
    assert treatment.borders == Edges(Length.inches(1), Length.inches(2), Length.inches(3), Length.inches(4))
    (zone,) = work.art.zones
    assert (zone.name, zone.keep) == ("seal", Keep.COVER)
    assert zone.place == Rect.at(Length.inches(1), Length.inches(2), Length.inches(3), Length.inches(4))


def test_lists_without_numbers_do_not_share_them() -> None:
    plain = b"W,H\n16,20\n"
    show = read(HEAD + 'works = ["a.csv", "b.csv"]\n[[work]]\nsize = "A4"\n', {"a.csv": plain, "b.csv": plain})
    assert [entry.work.id for entry in show.entries] == ["w1", "w2.1", "w3.1"]


def test_a_number_in_two_lists_is_a_fault_of_the_second() -> None:
    one = b"No.,W,H\n1,16,20\n"
    show = read(HEAD + 'works = ["a.csv", "b.csv"]\n', {"a.csv": one, "b.csv": one})
    assert faults(show) == [("b.csv", 2, "id", "1")]


def test_materials_are_found_whatever_the_case_of_their_names() -> None:
    show = read(
        HEAD
        + """[defaults]
        mats = "White 4-Ply + BLACK 4-ply @ 1/4"
        [treatments.a]
        glazing = "Clear Glass"
        [[work]]
        size = "A4"
        treatment = "A"
        moulding = "Oak  1"
        """
    )
    assert not show.faults
    treatment = show.entries[0].treatment
    assert [mat.board for mat in treatment.mats] == ["white 4-ply", "black 4-ply"]
    assert (treatment.glazing, treatment.moulding) == ("clear glass", "oak 1")


@pytest.mark.parametrize(
    ("unit", "shop", "currency"), [("in", INCH, "USD"), ("mm", METRIC, "EUR"), ("cm", METRIC, "EUR")]
)
def test_the_unit_decides_the_shops_defaults_and_materials(unit: str, shop: object, currency: str) -> None:
    show = read(f'[show]\nunit = "{unit}"\n')
    assert show.shop == shop
    assert show.currency == currency
    assert show.shop.mount in show.materials.boards


def test_what_is_asked_on_the_command_line_goes_before_the_file() -> None:
    show = read(HEAD + '[[work]]\nsize = "16 x 20"\n', asked=Asked(Unit.CM, Order.HEIGHT_WIDTH))
    assert show.entries[0].work.art.least.width == Length.mm(200)


def test_a_show_may_name_the_paper_that_it_is_printed_on() -> None:
    assert read(HEAD + 'paper = "A4"\n').paper == "a4"
    assert read(HEAD).paper is None


def test_own_materials_are_laid_over_the_starter_set() -> None:
    own = b'[boards.plum]\ncaliper = "0.06"\nsheets = [{ size = "32 x 40", cost = 9.5 }]\n'
    show = read(HEAD + 'materials = "own.toml"\n[defaults]\nmats = "plum"\n[[work]]\nsize = "A4"\n', {"own.toml": own})
    assert not show.faults
    assert {"plum", "white 4-ply"} <= show.materials.boards.keys()
    assert show.entries[0].treatment.mats[0].board == "plum"


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("[show\n", ("show.toml", 1, "", "Expected ']'")),
        (HEAD + "[shwo]\n", ("show.toml", 4, "shwo", "shwo")),
        ('[show]\ntitle = "A"\n', ("show.toml", 1, "show", "no unit")),
        ('[show]\nunit = "ell"\n', ("show.toml", 2, "show.unit", "ell")),
        (HEAD + 'paper = "A5"\n', ("show.toml", 4, "show.paper", "a5")),
        (HEAD + 'colour = "red"\n', ("show.toml", 4, "show.colour", "colour")),
        (HEAD + "order = 2\n", ("show.toml", 4, "", "Cannot overwrite")),
        ("schema = 9\n" + HEAD, ("show.toml", 1, "schema", "9")),
        (HEAD + 'works = "none.csv"\n', ("show.toml", 4, "show.works", "none.csv")),
        (HEAD + "works = 7\n", ("show.toml", 4, "show.works", "7")),
        (HEAD + 'materials = "none.toml"\n', ("show.toml", 4, "show.materials", "none.toml")),
        (HEAD + '[defaults]\nborder = "thick"\n', ("show.toml", 5, "defaults.border", "thick")),
        (HEAD + "[defaults]\nboarder = 3\n", ("show.toml", 5, "defaults.boarder", "boarder")),
        (HEAD + "[defaults]\nmats = 7.5\nouter = 'none'\n", ("show.toml", 5, "defaults.mats", "7.5")),
        (HEAD + "[defaults.mats]\n", ("show.toml", 4, "defaults.mats", "{}")),
        (HEAD + '[defaults]\nmount = "plum"\n', ("show.toml", 5, "defaults.mount", "plum")),
        (HEAD + "[defaults]\nframe_sides = 2\n", ("show.toml", 4, "defaults", "frame_sides")),
        (HEAD + '[treatments.a]\nmats = "plum"\n', ("show.toml", 5, "treatments.a.mats", "plum")),
        (HEAD + "[treatments]\na = 3\n", ("show.toml", 5, "treatments.a", "3")),
        (HEAD + "[[work]]\nboarder = 3\n", ("show.toml", 5, "work.0.boarder", "boarder")),
        (HEAD + '[[work]]\nsize = "big"\n', ("show.toml", 4, "size", "big")),
        (HEAD + '[[work]]\nsize = "A4"\ntreatment = "wide"\n', ("show.toml", 4, "treatment", "wide")),
        (HEAD + '[[work]]\nsize = "A4"\nmoulding = "plum"\n', ("show.toml", 4, "moulding", "plum")),
        (HEAD + '[[work]]\nsize = "A4"\nframe_sides = 2\n', ("show.toml", 4, "", "the rules of")),
        (HEAD + '[[work]]\nsize = "A4"\nzones = 3\n', ("show.toml", 4, "zones", "3")),
        (
            HEAD + '[[work]]\nsize = "A4"\nzones = [{ left = 1, top = 1, width = 0, height = 1 }]\n',
            ("show.toml", 4, "zones", "{'left': 1"),
        ),
        (HEAD + '[[work]]\nsize = "A4"\nzones = [{ left = 1 }]\n', ("show.toml", 4, "zones", "{'left': 1}")),
    ],
)
def test_what_is_wrong_is_a_fault_by_its_line_and_key(text: str, place: tuple[str, int, str, str]) -> None:
    show = read(text)
    assert not show.entries
    (only,) = faults(show)
    assert only[:3] == place[:3]
    assert only[3].startswith(place[3])


def test_no_work_is_made_where_the_shows_own_rules_are_wrong() -> None:
    assert not read(HEAD + 'works = "works.csv"\n[defaults]\nborder = "thick"\n').entries


def test_good_works_are_made_beside_bad_ones() -> None:
    show = read(HEAD + 'works = "works.csv"\n')  # two of the three name a treatment that is not there
    assert [entry.work.id for entry in show.entries] == ["1"]
    assert faults(show) == [("works.csv", 3, "treatment", "wide"), ("works.csv", 4, "treatment", "wide")]


def test_a_bare_list_is_a_show_with_the_shops_defaults() -> None:
    show = read_show("Spring.csv", b"No.,W (mm),H (mm)\n1,300,400\n2,x,400\n", lambda _: b"", Asked())
    assert (show.title, show.unit, show.shop) == ("Spring", Unit.MM, METRIC)
    assert [entry.treatment for entry in show.entries] == [METRIC]
    assert faults(show) == [("Spring.csv", 3, "W (mm)", "x")]


def test_a_show_file_that_is_no_text_is_one_fault() -> None:
    show = read_show("show.toml", b"\x00\x01\x02", lambda _: b"", Asked())
    assert faults(show) == [("show.toml", 0, "", "bytes that are no text")]


def test_a_bare_list_that_cannot_be_read_is_a_show_of_faults() -> None:
    show = read_show("Spring.csv", b"%PDF", lambda _: b"", Asked())
    assert faults(show) == [("Spring.csv", 0, "", "a PDF")]


def test_a_show_is_loaded_with_the_files_beside_it(tmp_path: Path) -> None:
    (tmp_path / "show.toml").write_text(HEAD + 'works = "works.csv"\n[treatments.wide]\nborder = 4\n')
    (tmp_path / "works.csv").write_bytes(LIST)
    show = load_show(tmp_path / "show.toml", Asked())
    assert len(show.entries) == 3
    assert not show.faults


def test_a_show_that_is_not_there_is_a_fault(tmp_path: Path) -> None:
    assert faults(load_show(tmp_path / "none.toml", Asked())) == [("none.toml", 0, "", "No such file or directory")]
