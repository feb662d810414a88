"""What to buy, pull and keep, counted against the plans by hand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from fourply.app.buying import ChopSize, Do, chops, what_to_buy
from fourply.app.cutting import Cutting, Means, plan_cutting
from fourply.app.one import one_work
from fourply.app.printing import _free_name
from fourply.app.shows import Opened, open_show
from fourply.app.whereabouts import whereabouts
from fourply.compute.here import here
from fourply.files.works import Asked
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.size import Size
from fourply.planning.budget import Budget
from fourply.trade.materials import Materials, Offcut
from fourply.trade.money import Money

ASKED = Asked(Unit.INCH, Order.WIDTH_HEIGHT)
FRAMED = {"moulding": "ash 3/4", "mats": "cream 4-ply", "mount": "white 4-ply"}


def opened(size: str = "12 x 15", **settings: str) -> Opened:
    return one_work(size, "Weir", ASKED, FRAMED | settings)


def planned(shown: Opened, materials: Materials | None = None) -> Cutting:
    return plan_cutting(shown.packages, materials or shown.show.materials, Means(Budget(steps=16), here))


def cut(shown: Opened, materials: Materials | None = None) -> tuple[Counter[tuple[str, str]], dict[str, str]]:
    cutting = planned(shown, materials)
    lines = what_to_buy(shown.packages, cutting, materials or shown.show.materials)
    counts: Counter[tuple[str, str]] = Counter()
    for line in lines:
        counts[line.do.name, line.material] += line.quantity
    return counts, dict(whereabouts(cutting))


def test_one_framed_work_takes_a_sheet_of_each_material() -> None:
    counts, _ = cut(opened())
    for material in ("cream 4-ply", "white 4-ply", "clear glass", "foam board", "ash 3/4"):
        assert counts["BUY", material] == 1


def test_hardware_is_counted_by_the_frame() -> None:
    shown = opened()
    per_frame = {each.name: each.per_frame for each in shown.show.materials.hardware.values()}
    counts, _ = cut(shown)
    assert {name: counts["BUY", name] for name in per_frame} == per_frame


def test_an_offcut_that_serves_is_pulled_and_not_bought() -> None:
    shown = opened()
    outer = shown.packages[0].outer
    offcut = Offcut("cream 4-ply", Size(outer.width, outer.height), Money(Decimal("0.50"), "USD"), "slot 3")
    materials = replace(shown.show.materials, rack=(offcut,))
    counts, found = cut(shown, materials)
    assert counts["PULL", "cream 4-ply"] == 1
    assert counts["BUY", "cream 4-ply"] == 0
    assert found["1/mat.1"] == "board 1, piece 1"


def test_what_is_left_over_is_worth_keeping() -> None:
    shown = opened()
    cutting = planned(shown)
    kept = [line for line in what_to_buy(shown.packages, cutting, shown.show.materials) if line.do is Do.KEEP]
    rules = shown.show.materials.cutting
    least = sorted((rules.keep_width, rules.keep_height))
    assert kept
    for line in kept:
        assert line.cost is None
        if line.size:
            assert all(a >= b for a, b in zip(sorted((line.size.width, line.size.height)), least, strict=True))


def test_a_piece_that_no_sheet_holds_is_named_and_the_rest_is_planned() -> None:
    shown = opened("38 x 58")
    cutting = planned(shown)
    left = {each.part.key for each in cutting.unplanned}
    assert "1/mat.1" in left
    assert whereabouts(cutting)["1/mat.1"] == "no plan holds it"
    assert any(long.material == "ash 3/4" for long in cutting.longs)


def test_a_chop_order_says_which_size_it_gives() -> None:
    shown = opened()
    package = shown.packages[0]
    (chop,) = chops(shown.packages)
    sizes = dict(chop.sizes)
    assert sizes[ChopSize.PACKAGE] == package.outer
    assert sizes[ChopSize.RABBET].width == package.outer.width + Length.inches(1, 8)
    assert sizes[ChopSize.SIGHT].width == sizes[ChopSize.RABBET].width - 2 * Length.inches(1, 4)
    assert chop.net <= chop.estimate  # the trade's estimate has a margin built in


@pytest.mark.parametrize("ids", [("../../etc/passwd", "a/b", "a_b", "A_B", "", "\x00", "ünïcode", "CON." * 90)])
def test_file_names_hold_no_path_and_are_all_different(ids: Sequence[str]) -> None:
    taken: set[str] = set()
    names = [_free_name(each, taken) for each in ids]
    assert len({name.lower() for name in names}) == len(names)
    for name in names:
        assert Path(name).name == name
        assert ".." not in name
        assert len(name) < 90


def test_settings_win_over_the_show_and_say_so(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("title,width (in),height (in),border\nWeir,10,12,2\n", encoding="utf-8")
    shown = open_show(path, Asked(), {"border": "3 in"})
    assert shown.packages[0].mats[0].borders.top == Length.inches(3)
    assert shown.packages[0].figures["treatment.border"].origin == "command line"
