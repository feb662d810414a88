"""Use cases on the store: what is kept opens as its file does; every change can be seen and taken back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from fourply.app import keep
from fourply.app.demo import copy_demo, demo_pages
from fourply.app.hanging import fit_words, picture_of, sheets_of
from fourply.app.keep import Desk
from fourply.app.keep_lists import show_lines
from fourply.app.keep_materials import keep_prices, read_prices, start_shop
from fourply.app.keep_pictures import keep_picture, pictures_of
from fourply.app.keep_plans import accept_plan, propose_plan, stands_on_changes
from fourply.app.keep_settings import change_settings, shop_settings
from fourply.app.keep_shows import copy_show, find_show, keep_file, open_kept, show_of
from fourply.app.keep_works import (
    WORK_KEYS_OF_COLUMNS,
    add_work,
    change_work,
    change_works,
    copy_work,
    keep_list,
    recognise_list,
    typed_work,
)
from fourply.app.ports_store import SHOP, Kind, Query, Record, Sort
from fourply.app.shows import open_show
from fourply.errors import BadInput, NothingToUndo, Stale, Taken, Unknown
from fourply.files.convertors import Reading
from fourply.files.headers import Column
from fourply.files.kept import (
    KeptMaterial,
    KeptOffcut,
    KeptPlan,
    KeptShow,
    KeptTreatment,
    KeptWork,
    ShopSettings,
    Stage,
)
from fourply.files.record import Listed
from fourply.files.works import Asked
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.size import Size
from fourply.store.engine import sqlite_url
from fourply.store.sql_store import SqlStore
from fourply.trade.materials import Board, Offcut, Offer
from fourply.trade.money import Money
from fourply.trade.treatment import Layer

LIST = b"No.,Title,Width (in),Height (in)\nA-1,Low water,14 1/2,11 1/4\nA-2,High water,10,13\nA-3,No size,-,13\n"
SHOW = """
[show]
title = "Quay"
unit = "in"
materials = "own.toml"
[defaults]
border = "3 in"
[treatments.Plum]
mats = "plum 4-ply"
[[work]]
id = "P-1"
title = "One"
width = "9"
height = "12"
treatment = "plum"
[[work]]
id = "P-2"
width = "nonsense"
height = "12"
"""
OWN = """
[boards."plum 4-ply"]
caliper = "1/16 in"
sheets = [{size = "32 x 40", cost = "9.80"}]
[[rack]]
material = "plum 4-ply"
size = "20 x 16"
cost = "1"
"""


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    store = SqlStore(sqlite_url(tmp_path / "shop.sqlite"), tmp_path)
    yield Desk(store, "ann")
    store.close()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    (tmp_path / "own.toml").write_text('order = "width x height"\n' + OWN, encoding="utf-8")
    path = tmp_path / "quay.toml"
    path.write_text(SHOW, encoding="utf-8")
    return path


@pytest.fixture
def show(desk: Desk) -> str:
    return keep.create_show(desk, KeptShow("Tide", Unit.INCH, Order.WIDTH_HEIGHT, "USD")).id


def typed(number: str, size: str = "9") -> KeptWork:
    head = KeptShow("Tide", Unit.INCH, None, "USD")
    listed = typed_work(head, {"id": number, "title": f"Work {number}", "width": size, "height": "12"})
    assert isinstance(listed, Listed)
    return KeptWork(listed)


def numbers(desk: Desk, show: str) -> list[str]:
    return [entry.work.id for entry in show_of(desk, show).entries]


def work_of(record: Record) -> KeptWork:
    assert isinstance(record.value, KeptWork)
    return record.value


# ── shows ────────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("metric", [False, True])
def test_a_kept_show_opens_as_its_file_does(desk: Desk, tmp_path: Path, *, metric: bool) -> None:
    path = copy_demo(tmp_path / "demo", metric=metric)
    kept, from_file = open_kept(desk, keep_file(desk, path, Asked()).record.id), open_show(path, Asked())
    assert kept.packages == from_file.packages
    assert replace(kept.show, notes=()) == replace(from_file.show, notes=())


def test_what_a_show_says_of_materials_stays_with_it(desk: Desk, file: Path) -> None:
    kept = keep_file(desk, file, Asked())
    assert [fault.column for fault in kept.faults] == ["width"]
    assert kept.works == 1
    opened, from_file = open_kept(desk, kept.record.id), open_show(file, Asked())
    assert opened.packages == from_file.packages
    assert opened.show.materials == from_file.show.materials
    assert len(opened.show.materials.rack) == 1
    assert opened.packages[0].treatment.origin("mats") == "treatment Plum"
    assert not desk.store.every(Kind.MATERIAL, SHOP)


def test_a_show_whose_own_rules_are_wrong_is_not_kept(desk: Desk, tmp_path: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_text('[show]\nunit = "in"\n[defaults]\nmount = "no such board"\n', encoding="utf-8")
    with pytest.raises(BadInput, match="no such board"):
        keep_file(desk, path, Asked())
    assert not desk.store.history().total


def test_two_shows_of_one_title_are_told_apart_by_a_title_of_ones_own(desk: Desk, file: Path) -> None:
    keep_file(desk, file, Asked())
    with pytest.raises(Taken, match="Quay"):
        keep_file(desk, file, Asked())
    assert keep_file(desk, file, Asked(), "Quay again").title == "Quay again"
    assert [line.title for line in show_lines(desk)] == ["Quay", "Quay again"]


def test_a_show_is_found_by_title_in_any_case_or_by_id(desk: Desk, show: str) -> None:
    assert find_show(desk, "TIDE").id == find_show(desk, show).id == show
    with pytest.raises(Unknown, match="Tide"):
        find_show(desk, "Tid")


def test_a_copy_of_a_show_opens_as_the_show_and_goes_its_own_way(desk: Desk, file: Path) -> None:
    kept = keep_file(desk, file, Asked()).record.id
    copied = copy_show(desk, kept, "Quay 2").id
    assert open_kept(desk, copied).packages == open_kept(desk, kept).packages
    work = desk.store.every(Kind.WORK, copied)[0]
    keep.archive(desk, work.id, work.version)
    assert (numbers(desk, copied), numbers(desk, kept)) == ([], ["P-1"])
    keep.undo(desk, copied)
    assert numbers(desk, copied) == ["P-1"]


def test_shows_are_listed_by_title_by_due_date_and_by_change(desk: Desk) -> None:
    for title, due in (("Weir 10", date(2026, 5, 1)), ("Weir 9", date(2026, 4, 1)), ("Älv", None)):
        keep.create_show(desk, KeptShow(title, Unit.MM, None, "EUR", client="Ann", due=due))
    assert [line.title for line in show_lines(desk)] == ["Älv", "Weir 9", "Weir 10"]
    assert [line.title for line in show_lines(desk, sort="due")] == ["Weir 9", "Weir 10", "Älv"]
    assert [line.title for line in show_lines(desk, "weir ANN", "changed")] == ["Weir 9", "Weir 10"]
    with pytest.raises(BadInput):
        keep.create_show(desk, KeptShow(" ", Unit.MM, None, "EUR"))


# ── works ────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_work_is_typed_in_changed_copied_and_taken_back(desk: Desk, show: str) -> None:
    record = add_work(desk, show, typed("A-1"))
    changed = change_work(desk, record.id, replace(typed("B-1", "10"), stage=Stage.READY), record.version)
    copied = copy_work(desk, record.id, "B-2")
    assert numbers(desk, show) == ["B-1", "B-2"]
    assert work_of(changed).listed.own.name == "work B-1"
    assert work_of(copied).place > work_of(record).place
    back = keep.take_back(desk, record.id, 1, changed.version)
    assert (back.value, back.version) == (record.value, 3)
    assert [change.version for change in keep.states(desk, record.id).items] == [3, 2, 1]
    assert keep.undo(desk, show).record.value == changed.value
    with pytest.raises(Unknown):
        keep.take_back(desk, record.id, 99, 4)


def test_a_stale_change_is_refused_with_both_versions_and_nothing_is_changed(desk: Desk, show: str) -> None:
    one, two = (add_work(desk, show, typed(number)) for number in ("1", "2"))
    change_work(desk, one.id, typed("1", "10"), one.version)
    with pytest.raises(Stale) as stale:
        change_works(desk, show, [(two.id, two.version, typed("2", "11")), (one.id, one.version, typed("1", "11"))])
    assert stale.value.mine == replace(typed("1", "11"), place=1)
    assert stale.value.theirs == keep.read(desk, one.id, Kind.WORK)
    assert keep.read(desk, two.id, Kind.WORK) == two
    with pytest.raises(Stale):
        keep.archive(desk, one.id, 1)


def test_no_number_stands_twice_in_a_show(desk: Desk, show: str) -> None:
    first = add_work(desk, show, typed("A-1"))
    with pytest.raises(Taken, match="A-1"):
        add_work(desk, show, typed("A-1"))
    keep.archive(desk, first.id, first.version)
    add_work(desk, show, typed("A-1", "10"))
    with pytest.raises(Taken):
        keep.archive(desk, first.id, 2, archived=False)


def test_what_cannot_be_read_of_a_typed_work_is_told_by_field() -> None:
    head = KeptShow("Tide", Unit.INCH, None, "USD")
    faults = typed_work(head, {"id": "1", "width": "x", "height": "12", "border": "-1", "copies": "0", "title": ""})
    assert isinstance(faults, tuple)
    assert {fault.column for fault in faults} >= {"width", "border", "copies"}
    assert isinstance(typed_work(head, {}), tuple)


def test_a_list_is_recognised_put_right_and_kept(desk: Desk, show: str) -> None:
    found = recognise_list(desk, show, "list.csv", LIST)
    assert [column.key for column in found.columns] == ["id", "title", "width", "height"]
    assert [fault.row for fault in found.read.faults] == [4]
    assert found.rows[0] == ("A-1", "Low water", "14 1/2", "11 1/4")
    assert not desk.store.every(Kind.WORK, show)
    sideways = (Column("No.", "id"), Column("Title", "title"), Column("W", "height", Unit.CM), Column("H", "width"))
    right = Asked(Unit.INCH, columns=sideways, header_row=1)
    keep_list(desk, show, "list.csv", LIST, right)
    arts = {entry.work.id: entry.work.art.least for entry in show_of(desk, show).entries}
    assert arts["A-2"] == Size(Length.inches(13), Length.mm(100))
    assert "height" in WORK_KEYS_OF_COLUMNS


def test_a_list_without_headers_is_read_with_the_columns_that_a_person_names(desk: Desk, show: str) -> None:
    data = b"A-1,14 x 11\nA-2,10 x 13\n"
    assert recognise_list(desk, show, "bare.csv", data).read.faults
    columns = (Column("", "id"), Column("", "size"))
    asked = Asked(Unit.INCH, Order.WIDTH_HEIGHT, columns=columns)
    assert len(keep_list(desk, show, "bare.csv", data, asked)) == 2
    assert numbers(desk, show) == ["A-1", "A-2"]


def test_works_without_numbers_get_some_that_the_show_does_not_have(desk: Desk, show: str) -> None:
    data = b"Title,Width (in),Height (in)\nOne,9,12\nTwo,9,12\n"
    for _ in range(3):
        keep_list(desk, show, "list.csv", data)
    assert len(set(numbers(desk, show))) == 6
    with pytest.raises(BadInput):
        keep_list(desk, show, "list.csv", b"nothing,of,the kind\n")
    keep.undo(desk, show)
    assert len(numbers(desk, show)) == 4


def test_works_are_found_by_what_stands_in_them(desk: Desk, show: str) -> None:
    keep_list(desk, show, "list.csv", LIST)
    add_work(desk, show, replace(typed("B"), stage=Stage.READY, due=date(2026, 4, 1)))

    def found(**asked: object) -> list[str]:
        query = Query(Kind.WORK, show, **asked)  # type: ignore[arg-type]
        return [work_of(each).listed.work.id for each in keep.find(desk, query).items]

    assert found() == ["A-1", "A-2", "B"]
    assert found(text="WATER low") == ["A-1"]
    assert found(state="ready") == ["B"]
    assert found(sort=Sort.DUE) == ["B", "A-1", "A-2"]
    assert found(sort=Sort.TITLE, descending=True) == ["B", "A-1", "A-2"]
    with pytest.raises(BadInput):
        found(after="nonsense")
    with pytest.raises(BadInput):
        found(limit=0)


# ── the shop ─────────────────────────────────────────────────────────────────────────────────────────────────────


def board(name: str, cost: str, **more: object) -> KeptMaterial:
    offer = Offer(Size(Length.inches(32), Length.inches(40)), Money(Decimal(cost), "USD"))
    return KeptMaterial(Board(name, Length.inches(1, 16), (offer,), **more), "Weir Supply")  # type: ignore[arg-type]


def test_a_price_list_shows_its_changes_before_they_are_kept(desk: Desk) -> None:
    grey = keep.create(desk, SHOP, board("Grey", "9.80", colour="#888888", measured=True))
    gone = keep.create(desk, SHOP, board("Mauve", "9.80"))
    keep.create(desk, SHOP, board("Same", "5"))
    data = (
        b"kind,name,size,cost,caliper\nboard,GREY,32 x 40,11.20,1/16 in\nboard,New,32 x 40,4,1/16 in\n"
        b"board,Same,32 x 40,5,1/16 in\nboard,Odd,32 x 40,x,1/16 in\n"
    )
    reading = Reading(Unit.INCH, Order.WIDTH_HEIGHT, "USD")
    prices = read_prices(desk, "prices.csv", data, reading, "Weir Supply")
    assert [(each.name, each.fields) for each in prices.changes] == [("Grey", ("sheets",)), ("New", ())]
    assert "9.80 USD -> " in prices.changes[0].words[0]
    assert [each.id for each in prices.missing] == [gone.id]
    assert [fault.row for fault in prices.faults] == [5]
    assert keep.read(desk, grey.id, Kind.MATERIAL) == grey
    keep_prices(desk, prices.changes, prices.supplier)
    assert keep.read(desk, grey.id, Kind.MATERIAL).value == board("Grey", "11.20", colour="#888888", measured=True)
    assert not read_prices(desk, "prices.csv", data, reading, "Weir Supply").changes
    with pytest.raises(Stale):
        keep_prices(desk, prices.changes[:1])
    keep.undo(desk, SHOP)
    assert keep.read(desk, grey.id, Kind.MATERIAL).value == grey.value


def test_the_shop_lies_under_its_shows(desk: Desk, show: str) -> None:
    settings = ShopSettings("Weir Lane", defaults=Layer("shop default", {"border": Length.inches(4)}))
    change_settings(desk, settings, None)
    white = keep.create(desk, SHOP, board("white 4-ply", "99"))
    keep.create(desk, SHOP, KeptTreatment("Plain", Layer("x", {"bevel_deg": 60.0})))
    keep.create(
        desk, SHOP, KeptOffcut(Offcut("white 4-ply", Size(Length(5), Length(6)), Money(Decimal(1), "USD")), "7")
    )
    work = typed("A-1")
    add_work(desk, show, replace(work, listed=replace(work.listed, treatment="plain")))
    opened = open_kept(desk, show)
    assert opened.packages[0].treatment.border == Length.inches(4)
    assert opened.packages[0].treatment.origin("bevel_deg") == "treatment Plain"
    assert opened.show.materials.boards["white 4-ply"] == white.value.item  # type: ignore[union-attr]
    assert len(opened.show.materials.rack) == 1
    keep.archive(desk, white.id, white.version)  # offered no more, and what names it is still made of it
    assert open_kept(desk, show).packages == opened.packages
    with pytest.raises(Stale):
        change_settings(desk, ShopSettings("Other"), None)
    record = shop_settings(desk).record
    assert record is not None
    assert change_settings(desk, ShopSettings("Other"), record.version).version == 2


def test_the_starter_set_is_kept_once(desk: Desk) -> None:
    keep.create(desk, SHOP, board("white 4-ply", "99"))
    kept = start_shop(desk, metric=False)
    assert kept
    assert not start_shop(desk, metric=False)
    page = keep.find(desk, Query(Kind.MATERIAL, SHOP, name="white 4-ply"))
    assert [each.value for each in page.items] == [board("white 4-ply", "99")]


def test_a_record_is_copied_under_another_name(desk: Desk) -> None:
    grey = keep.create(desk, SHOP, board("Grey", "9.80"))
    assert keep.copy(desk, grey.id, "Grey 2").value == board("Grey 2", "9.80")
    with pytest.raises(Taken):
        keep.copy(desk, grey.id, "GREY")
    with pytest.raises(BadInput):
        keep.copy(desk, grey.id, " ")
    with pytest.raises(Unknown):
        keep.create(desk, "no such show", board("X", "1"))


def test_a_picture_is_known_by_its_content_and_lies_beside_the_records(desk: Desk, tmp_path: Path) -> None:
    from PIL import Image  # noqa: PLC0415

    path = tmp_path / "tide.jpg"
    Image.new("RGB", (30, 20), "#336699").save(path, "PNG")  # the name lies; the content counts
    record = keep_picture(desk, path.read_bytes(), "../../etc/tide.jpg")
    picture = record.value
    assert (picture.media, picture.width, picture.height) == ("image/png", 30, 20)  # type: ignore[union-attr]
    assert picture.name == "tide.jpg"  # type: ignore[union-attr]
    assert keep_picture(desk, path.read_bytes(), "again.png") == record
    work = replace(typed("1"), pictures=(picture.hash,))  # type: ignore[union-attr]
    assert pictures_of(desk, work) == (path.read_bytes(),)
    assert sorted(each.name for each in (tmp_path / "pictures").rglob("*.*")) == []
    for bad in (b"", b"<svg/>", path.read_bytes()[:40], b"GIF89a" + bytes(100)):
        with pytest.raises(BadInput):
            keep_picture(desk, bad)


def test_one_plan_of_a_show_is_accepted_and_knows_what_it_stands_on(desk: Desk, show: str) -> None:
    add_work(desk, show, typed("1"))
    basis = desk.store.undoable(show).last
    first, second = (propose_plan(desk, show, KeptPlan(name, "{}", basis)) for name in ("one", "two"))
    accept_plan(desk, first.id, first.version)
    accept_plan(desk, second.id, second.version)
    states = {each.value.name: each.value.accepted for each in desk.store.every(Kind.PLAN, show)}  # type: ignore[union-attr]
    assert states == {"one": False, "two": True}
    assert not stands_on_changes(desk, second)
    add_work(desk, show, typed("2"))
    assert stands_on_changes(desk, second)
    assert isinstance(second.value, KeptPlan)


def test_undo_is_of_one_show_and_says_when_there_is_nothing(desk: Desk, show: str) -> None:
    other = keep.create_show(desk, KeptShow("Other", Unit.MM, None, "EUR")).id
    add_work(desk, show, typed("1"))
    keep.undo(desk, other)
    with pytest.raises(NothingToUndo):
        keep.undo(desk, other)
    assert numbers(desk, show) == ["1"]
    keep.redo(desk, other)
    assert keep.show_head(desk, other).show.title == "Other"


def test_the_same_key_does_a_thing_once(desk: Desk, show: str) -> None:
    once = replace(desk, key="k1", request="POST")
    assert add_work(once, show, typed("1")) == add_work(once, show, typed("1"))
    first = desk.store.every(Kind.WORK, show)[0]
    away = replace(desk, key="k2")
    assert keep.archive(away, first.id, 1) == keep.archive(away, first.id, 1)


def test_ids_sort_as_they_were_made() -> None:
    made = [keep.new_id() for _ in range(10_000)]
    assert made == sorted(set(made))


def test_demo_is_kept_once_with_a_picture_for_every_sheet(tmp_path: Path) -> None:
    store = SqlStore(sqlite_url(tmp_path / "shop.sqlite"), tmp_path)
    desk = Desk(store)
    pages = demo_pages(desk)
    assert [what for what, _ in pages] == ["wall", "design"]
    assert demo_pages(desk) == pages
    shows = store.find(Query(Kind.SHOW)).items
    assert len(shows) == 2
    sheets = [sheet for show in shows for sheet in sheets_of(desk, show.id)]
    assert len({sheet.picture for sheet in sheets} - {""}) == len(sheets) == 34
    for sheet in sheets:
        found = picture_of(desk, sheet.picture)
        assert found is not None
        assert fit_words(found, sheet.size) == "", sheet.number
    store.close()


def test_terms_that_a_file_says_otherwise_than_the_shop_are_told(desk: Desk, tmp_path: Path) -> None:
    text = '[show]\nunit = "in"\n{}\n[[work]]\nid = "1"\nwidth = "9"\nheight = "12"\n'
    (tmp_path / "own.toml").write_text(text.format('terms = "mount"'), encoding="utf-8")
    (tmp_path / "none.toml").write_text(text.format(""), encoding="utf-8")
    told = keep_file(desk, tmp_path / "own.toml", Asked(), "Own").notes
    assert any("the shop's terms (mat, rabbet)" in each for each in told)
    assert not any("terms" in each for each in keep_file(desk, tmp_path / "none.toml", Asked(), "None").notes)
