"""Length, chop and join compared by cost, from a show file to the lists, with values worked by hand.

All values are derived: a frame 16 x 20 in of a moulding 1 in wide with a lip of 1/4 in and an allowance of 1/8 in has
rails of 17 5/8 and 21 5/8 in. Three of each are 117 3/4 in, so a stick of 120 in holds them and no fourth of either:
one frame takes one stick, two or three take two, four take three. A stick costs 20.00. A chop is billed 2 * (16 + 20)
+ 8 * 1 = 80 in, at 1.50 a foot 10.00, and 4.00 for the frame: 14.00; joined it is 23.00.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.trade.evaluate import fault

from fourply.app.buying import chops, what_to_buy
from fourply.app.comparing import SHOW, WAYS, Comparison, compare
from fourply.app.cutting import Cutting, Means, plan_cutting
from fourply.app.shows import Opened, open_show
from fourply.app.whereabouts import bought_rails, whereabouts
from fourply.app.why import why
from fourply.bench.cutter import NOMINAL
from fourply.cli.main import run
from fourply.compute.here import here
from fourply.files.works import Asked
from fourply.measure.length import Length
from fourply.planning.budget import Budget
from fourply.sheets.ticket_view import Context, ticket_view
from fourply.trade.parts import Stuff
from fourply.wiring import parts
from fourply.working.words import Words

CHOP = 'chop = { rate = "1.50 per ft", charge = "4.00" }\njoin = "9.00"\n'
SHEETS = '[boards."white 4-ply"]\ncaliper = "0.055"\nsheets = [{ size = "48 x 96", cost = "30" }]\n'


def shown(folder: Path, services: str = "cccc", *, chop: str = CHOP, cutting: str = "", stick: str = "120") -> Opened:
    """Return a show of frames 16 x 20 in, each bought as its letter says: cheapest, length, (k) chop, join."""
    names = {"c": "cheapest", "l": "length", "k": "chop", "j": "join"}
    works = "".join(
        f'[[work]]\nid = "{number}"\ntitle = "Weir"\nsize = "6 x 8"\nservice = "{names[each]}"\n'
        for number, each in enumerate(services, start=1)
    )
    (folder / "own.toml").write_text(
        f'unit = "in"\norder = "width x height"\n[cutting]\nend_trim = "0"\n{cutting}\n'
        f'[mouldings.plum]\nwidth = "1"\nlip = "1/4"\nrabbet_depth = "5/8"\nheight = "1"\n'
        f'sticks = [{{ length = "{stick}", cost = "20.00" }}]\n{chop}{SHEETS}',
        encoding="utf-8",
    )
    (folder / "show.toml").write_text(
        '[show]\nunit = "in"\norder = "width x height"\nmaterials = "own.toml"\n'
        f'[defaults]\nmoulding = "plum"\nouter = "16 x 20"\n{works}',
        encoding="utf-8",
    )
    opened = open_show(folder / "show.toml", Asked())
    assert not opened.faults
    return opened


def planned(opened: Opened) -> Cutting:
    return plan_cutting(opened.packages, opened.show.materials, Means(Budget(steps=200), here))


def compared(opened: Opened) -> Comparison:
    return compare(planned(opened))[0]


def amounts(**totals: str) -> dict[str, Decimal]:
    return {way: Decimal(amount) for way, amount in totals.items()}


def bought(cutting: Cutting) -> dict[str, tuple[str, str]]:
    return {
        each.wanted.work: (each.service.value, f"{each.price.amount:f}" if each.price else "")
        for framing in cutting.framings
        for each in framing.bought
    }


def rails(cutting: Cutting) -> int:
    """Return what the sticks of mouldings cost in the plan that is carried out."""
    return sum(long.plan.cost for long in cutting.longs if long.stuff is Stuff.MOULDING)


def test_the_best_mix_costs_less_than_any_way_alone(tmp_path: Path) -> None:
    found = compared(shown(tmp_path))
    assert found.totals == amounts(length="60", chop="56", join="92", mix="54")
    assert found.cheapest == "mix"
    assert found.why == (
        "all length 60.00 USD; all chop 56.00 USD; all join 92.00 USD; the best mix 54.00 USD: "
        "the best mix costs least (1 as chop; the others from length)"
    )


def test_what_is_cheapest_is_what_is_bought_and_cut(tmp_path: Path) -> None:
    opened = shown(tmp_path)
    cutting = planned(opened)
    assert bought(cutting) == {"1": ("chop", "14.00")}
    assert rails(cutting) == 4000
    lines = what_to_buy(opened.packages, cutting, opened.show.materials)
    (line,) = (line for line in lines if line.stuff == "chop")
    assert (line.material, line.quantity, str(line.cost.amount if line.cost else ""), line.place) == (
        "plum",
        1,
        "14.00",
        "by the size of the package, for 1",
    )
    places = whereabouts(cutting)
    assert places["1/frame.rail.top"] == "bought as chop"
    assert places["2/frame.rail.top"].startswith("stick ")


def test_a_ticket_says_that_rails_are_bought(tmp_path: Path) -> None:
    opened = shown(tmp_path, "lk")
    bought = bought_rails(planned(opened))
    notes = []
    for package in opened.packages:
        context = Context("show", "ticket", NOMINAL, Words(metric=False), {}, bought)
        notes += [row.note for row in ticket_view(package, context).pieces if row.name.startswith("Rails")]
    assert notes == ["plum, long points", "plum, long points, bought as chop"]


def test_some_copies_of_a_work_may_be_bought(tmp_path: Path) -> None:
    # as four works alike: one of the four is a chop
    opened = shown(tmp_path, "c")
    toml = (tmp_path / "show.toml").read_text(encoding="utf-8").replace('title = "Weir"', 'title = "Weir"\ncopies = 4')
    (tmp_path / "show.toml").write_text(toml, encoding="utf-8")
    opened = open_show(tmp_path / "show.toml", Asked())
    cutting = planned(opened)
    assert compare(cutting)[0].totals == amounts(length="60", chop="56", join="92", mix="54")
    assert set(bought_rails(cutting).values()) == {"1 of 4 bought as chop"}
    assert whereabouts(cutting)["1/frame.rail.top"] == "stick 1, 1 of 4 bought as chop"
    (line,) = (line for line in what_to_buy(opened.packages, cutting, opened.show.materials) if line.stuff == "chop")
    assert line.quantity == 1


def test_labour_counts_where_it_has_a_price(tmp_path: Path) -> None:
    # derived: at 30.00 an hour 6 minutes are 3.00 and 5 are 2.50; length 60 + 4 * 5.50, chop 56 + 4 * 2.50; bought
    # singly 40 + 14 + 3 * 5.50 + 2.50 = 73, and three 20 + 42 + 5.50 + 3 * 2.50 = 75: all chop at 66 is least
    found = compared(shown(tmp_path, cutting='labour_rate = "30.00"'))
    assert found.totals == amounts(length="82", chop="66", join="92", mix="66")
    assert found.cheapest == "chop"
    dear = compared(shown(tmp_path, cutting='labour_rate = "150.00"'))
    # derived: at 150.00 an hour 15.00 and 12.50; length 60 + 110, chop 56 + 50, join 92
    assert dear.totals == amounts(length="170", chop="106", join="92", mix="92")
    assert dear.cheapest == "join"


def test_without_prices_every_frame_is_cut_from_length_as_before(tmp_path: Path) -> None:
    cutting = planned(shown(tmp_path, chop=""))
    assert compare(cutting) == ()
    assert bought(cutting) == {}
    assert rails(cutting) == 6000


def test_a_work_can_say_how_its_frame_is_bought(tmp_path: Path) -> None:
    assert bought(planned(shown(tmp_path, "llll"))) == {}
    cutting = planned(shown(tmp_path, "lkjl"))
    assert bought(cutting) == {"2": ("chop", "14.00"), "3": ("join", "23.00")}
    assert rails(cutting) == 4000
    assert compare(cutting)[0].totals == amounts(length="60", chop="56", join="92", mix="54")


def test_what_is_asked_for_without_a_price_is_bought_all_the_same(tmp_path: Path) -> None:
    opened = shown(tmp_path, "lj", chop="")
    cutting = planned(opened)
    assert bought(cutting) == {"2": ("join", "")}
    assert rails(cutting) == 2000
    (line,) = (line for line in what_to_buy(opened.packages, cutting, opened.show.materials) if line.stuff == "join")
    assert line.cost is None


def test_a_frame_longer_than_every_stick_is_bought_where_it_can_be(tmp_path: Path) -> None:
    found = compared(shown(tmp_path, "c", stick="20"))
    assert found.totals == {"length": None} | amounts(chop="14", join="23", mix="14")
    assert "length alone does not do" in found.why
    cut = planned(shown(tmp_path, "l", stick="20"))
    assert {each.part.name for each in cut.unplanned} == {"right rail", "left rail"}


def test_a_frame_from_length_bears_its_part_of_the_sticks(tmp_path: Path) -> None:
    # derived: four frames alike share 60.00
    found = compared(shown(tmp_path))
    assert [frame.length for frame in found.frames] == [Decimal("15.00")] * 4
    assert [frame.chop for frame in found.frames] == [Decimal("14.00")] * 4
    assert [frame.join for frame in found.frames] == [Decimal("23.00")] * 4


@pytest.mark.parametrize("step", ["", ', step = "1/2 ft"'])
def test_every_figure_of_a_price_is_its_formula(tmp_path: Path, step: str) -> None:
    terms = f'chop = {{ rate = "1.37 per ft", charge = "4.00"{step} }}\njoin = "9.00"\n'
    figures = shown(tmp_path, "c", chop=terms).packages[0].figures
    assert [said for path in figures if (said := fault(figures, path))] == []


def test_every_figure_of_a_comparison_is_its_formula(tmp_path: Path) -> None:
    for each in compare(planned(shown(tmp_path, cutting='labour_rate = "31.00"'))):
        assert [said for path in each.figures if (said := fault(each.figures, path))] == []
    assert each.of == SHOW
    assert {f"{way}.total" for way in WAYS} <= each.figures.keys()


@pytest.mark.parametrize(
    ("terms", "chop", "join"),
    [
        ('chop = "1.50 per ft"', "10.00", None),
        ('chop = { rate = "1.50 per ft", least = "12" }', "12.00", None),
        ('chop = { rate = "1.50 per ft", mitres = "0" }', "9.00", None),
        # derived: 80 in is 6 2/3 ft, billed as 7
        ('chop = { rate = "1.50 per ft", step = "1/2 ft" }', "10.50", None),
        # derived: 80 in is 2.032 m; 10.16 exactly at 5.00, and 10.161 up to 10.17 at 5.0005
        ('chop = "5 per m"', "10.16", None),
        ('chop = "5.0005 per m"', "10.17", None),
        ('chop = "1.50 / ft"\njoin = "3.25"', "10.00", "13.25"),
    ],
)
def test_a_chop_is_billed_by_the_size_ordered_and_its_mitres(
    tmp_path: Path, terms: str, chop: str, join: str | None
) -> None:
    (order,) = chops(shown(tmp_path, "c", chop=terms + "\n").packages)
    assert order.price is not None
    assert order.price.amount == Decimal(chop)
    assert (order.joined.amount if order.joined else None) == (Decimal(join) if join else None)


@pytest.mark.parametrize(("outer", "billed"), [("11 x 14", Length.inches(66)), ("16 x 20", Length.inches(90))])
def test_billed_lengths_that_shops_state(tmp_path: Path, outer: str, billed: Length) -> None:
    # common practice: a 2 in moulding round 11 x 14 is 5.5 ft, round 16 x 20 it is 7 1/3 ft, billed as 7.5
    opened = shown(tmp_path, "c", chop='chop = { rate = "1 per ft", step = "1/2 ft" }\n')
    toml = (tmp_path / "own.toml").read_text(encoding="utf-8").replace('width = "1"', 'width = "2"')
    (tmp_path / "own.toml").write_text(toml, encoding="utf-8")
    opened = open_show(tmp_path / "show.toml", Asked(), {"outer": outer})
    assert opened.packages[0].figures["frame.chop.billed"].value == billed


def test_why_answers_for_what_a_chop_costs(tmp_path: Path) -> None:
    answers = why(shown(tmp_path, "c"), "1", "frame.join.price")
    assert answers[0].sentence == "14.00 + 9.00 = 23.00"
    said = {answer.figure: answer.sentence for answer in answers}
    assert said["frame.chop.price"] == "ceil(100 · max(80 in ÷ 12 in · 1.50 + 4.00, 0)) ÷ 100 = 14.00"
    assert said["frame.chop.billed"] == "2 · (16 in + 20 in) + 8 in = 80 in"


@pytest.mark.parametrize("rule", [{"frame_sides": "6", "outer": "20 x 20"}, {"moulding_sides": "ash 3/4"}])
def test_a_chop_is_four_rails_of_one_moulding(tmp_path: Path, rule: Mapping[str, str]) -> None:
    shown(tmp_path, "c")
    assert chops_of(tmp_path, rule) == [None]
    opened = open_show(tmp_path / "show.toml", Asked(), {**rule, "service": "chop"})
    assert [fault.expected for fault in opened.faults] == ["write length: chops are four rails of one moulding"]


def chops_of(folder: Path, rule: Mapping[str, str]) -> list[object]:
    opened = open_show(folder / "show.toml", Asked(), rule)
    assert compare(planned(opened)) == ()
    return [order.price for order in chops(opened.packages)]


def test_the_lists_of_a_show_say_how_its_frames_are_bought(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shown(tmp_path)
    out = tmp_path / "out"
    assert run(["make", str(tmp_path / "show.toml"), "--out", str(out), "--steps", "60"], parts()) == 0
    assert "the best mix 54.00 USD: the best mix costs least" in capsys.readouterr().out
    service, orders, buy = (table(out / name) for name in ("service.csv", "chops.csv", "buy.csv"))
    assert [row["what"] for row in service] == ["show", "moulding", *["frame"] * 4]
    assert [row["chosen"] for row in service[2:]] == ["chop", "length", "length", "length"]
    assert service[2]["why"].endswith("= 15.00")
    first = {row["size given"]: (row["width"], row["height"]) for row in orders if row["work"] == "1"}
    assert first == {
        "package": ("16 in", "20 in"),
        "rabbet": ("16 1/8 in", "20 1/8 in"),
        "sight": ("15 5/8 in", "19 5/8 in"),
        "outside": ("17 5/8 in", "21 5/8 in"),
    }
    assert {(row["service"], row["orientation"], row["chop"], row["join"]) for row in orders if row["work"] == "1"} == {
        ("chop", "portrait", "14.00", "23.00")
    }
    assert [
        (row["quantity"], row["cost"]) for row in buy if row["what"] in {"moulding", "chop"} and row["do"] == "buy"
    ] == [
        ("2", "40.00"),
        ("1", "14.00"),
    ]
    frames = json.loads((out / "plan.json").read_text(encoding="utf-8"))["frames"]
    assert frames["bought"] == [{"work": "1", "copies": 1, "moulding": "plum", "service": "chop", "each": "14.00 USD"}]
    assert frames["compared"][0]["totals"] == {"length": "60.00", "chop": "56.00", "join": "92.00", "mix": "54.00"}


def table(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


TERMS = st.tuples(st.integers(50, 300), st.integers(0, 800)).map(
    lambda drawn: f'chop = {{ rate = "{drawn[0] / 100:.2f} per ft", charge = "{drawn[1] / 100:.2f}" }}\njoin = "5"\n'
)


@settings(deadline=None, max_examples=12)
@given(
    frames=st.integers(1, 5),
    terms=TERMS,
    labour=st.sampled_from(["", 'labour_rate = "24.00"']),
    stick=st.sampled_from(["90", "120", "200"]),
)
def test_the_mix_never_costs_more_than_one_way_and_length_is_the_stick_plan(
    tmp_path_factory: pytest.TempPathFactory, *, frames: int, terms: str, labour: str, stick: str
) -> None:
    folder = tmp_path_factory.mktemp("show")
    found = compared(shown(folder, "c" * frames, chop=terms, cutting=labour, stick=stick))
    totals = {way: total for way, total in found.totals.items() if total is not None}
    assert totals["mix"] == min(totals.values())
    assert totals[found.cheapest] == totals["mix"]
    alone = planned(shown(folder, "l" * frames, chop="", stick=stick))
    assert found.figures["length.sticks"].value == Decimal(rails(alone)).scaleb(-2)
