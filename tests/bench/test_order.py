"""The order of cuts as a bare question: held against every order there is, on cases small enough for that."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.bench.order import ANY, LOST, Item, Prices, Question
from fourply.bench.order_bound import bound
from fourply.bench.order_exact import best_order
from fourply.bench.order_found import find_order
from fourply.bench.order_search import search


@st.composite
def questions(draw: st.DrawFn, most: int = 7) -> Question:
    """Return a few items that need some of three parts in some state, a few of them after others."""
    parts, items = draw(st.integers(1, 3)), []
    values = st.sampled_from([0, 0, 1, 1, 2, ANY, LOST])
    for at in range(draw(st.integers(1, most))):
        after = draw(st.sets(st.integers(0, at - 1), max_size=1)) if at else set[int]()
        state = tuple(draw(values) for _ in range(parts))
        items.append(Item(draw(st.integers(0, 3)), draw(st.integers(0, 2)), state, tuple(after)))
    prices = Prices(
        tuple(draw(st.integers(1, 40)) for _ in range(parts)), draw(st.integers(0, 25)), draw(st.integers(0, 9))
    )
    return Question(tuple(items), prices)


def every_order(asked: Question, begun: tuple[int, ...] = ()) -> list[tuple[int, ...]]:
    """Return every order that keeps what comes before what."""
    if len(begun) == len(asked.items):
        return [begun]
    found = []
    for at, item in enumerate(asked.items):
        if at not in begun and set(item.after) <= set(begun):
            found += every_order(asked, (*begun, at))
    return found


@given(questions(most=5))
def test_the_order_of_few_items_is_the_best_of_all_orders_and_is_known_to_be(asked: Question) -> None:
    best = min(asked.count(order).cost for order in every_order(asked))
    found = find_order(asked)
    assert found.counted.cost == best == found.bound


@given(questions(most=5))
def test_no_order_is_below_the_bound(asked: Question) -> None:
    assert bound(asked) <= min(asked.count(order).cost for order in every_order(asked))


@given(questions(most=9))
def test_each_item_comes_once_and_late_enough_and_no_obvious_order_is_better(asked: Question) -> None:
    found = find_order(asked, effort=500)
    assert sorted(found.order) == list(range(len(asked.items)))
    assert asked.holds(found.order)
    assert found.bound <= found.counted.cost <= min(other.cost for other in found.obvious.values())
    assert found.counted == asked.count(found.order)


@given(questions(most=9))
def test_a_search_never_makes_an_order_dearer(asked: Question) -> None:
    start = list(asked.ready(range(len(asked.items))))
    order = search(asked, [(at,) for at in start], 400)
    assert asked.holds(order)
    assert asked.count(order).cost <= asked.count(start).cost


def test_what_can_be_proved_of_a_dozen_cuts_is_no_dearer_than_what_a_search_finds() -> None:
    items = tuple(Item(body, turn, (turn // 3, turn % 3)) for body in range(3) for turn in range(4))
    asked = Question(items, Prices((45, 15), 12, 6))
    order = best_order(asked, range(12), 20_000)
    assert order is not None
    assert asked.count(order).cost <= asked.count(search(asked, [(at,) for at in range(12)], 20_000)).cost


def test_looking_ends_where_its_effort_does() -> None:
    items = tuple(Item(body, turn, (body, turn)) for body in range(4) for turn in range(4))
    assert best_order(Question(items, Prices((45, 15), 12, 6)), range(16), 3) is None


def test_items_that_wait_for_one_another_are_no_question() -> None:
    with pytest.raises(ValueError, match="waits for itself"):
        Question((Item(0, 0, (0,), (1,)), Item(0, 0, (0,), (0,))), Prices((1,), 1, 1))


def test_what_is_lost_is_set_anew_and_what_is_not_needed_stays() -> None:
    items = (Item(0, 0, (5,)), Item(1, 0, (ANY,)), Item(2, 0, (5,)), Item(3, 0, (LOST,)), Item(4, 0, (5,)))
    assert Question(items, Prices((10,), 0, 0)).count(range(5)).parts == (2,)
