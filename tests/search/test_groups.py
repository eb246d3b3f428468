"""Lists of groups: in the order of what they may be at best, without those that have no room, columns multiplied."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.ranking.order import ORDERS
from configurator.search.bounds import Hoped
from configurator.search.groups import Alone, Group, Listed, below_each_other

Rows = list[tuple[float, float, float, int, int]]


def drawn(rows: Rows) -> Hoped:
    """Columns of groups."""
    return below_each_other([Hoped(*row) for row in rows])


ROWS = st.lists(
    st.tuples(
        st.sampled_from((-3.0, 0.0, 5.0, 30.0)),
        st.sampled_from((-4.0, 0.0, 1.99, 2.0, 9.0)),
        st.sampled_from((-1.0, 0.0, 4.5, 5.0, 25.0)),
        st.integers(100, 104),
        st.integers(7, 9),
    ),
    max_size=8,
)


def listed(hoped: Hoped, order: str, enough_k: float = 6.0) -> tuple[Listed, list[int]]:
    """A list of groups, and the places that it was asked to make."""
    made: list[int] = []

    def group(at: int, _: Hoped) -> Group:
        made.append(at)
        return Group({"core": (str(at),)}, None)

    return Listed(hoped, lambda scores: ORDERS[order](scores, enough_k), group), made


@pytest.mark.parametrize("order", ORDERS)
@given(rows=ROWS)
def test_the_most_hopeful_first_and_none_without_room(order: str, rows: Rows) -> None:
    groups, _ = listed(drawn(rows), order)
    keys = [groups.key(at) for at in range(len(groups))]
    assert keys == sorted(keys)
    places = [int(groups.group(at).parts["core"][0] or "") for at in range(len(groups))]
    assert sorted(places) == [at for at, row in enumerate(rows) if row[2] >= 0]
    for at, place in enumerate(places):
        alone = Hoped(*rows[place])
        assert keys[at] == tuple(float(step) for step in ORDERS[order](alone, 6.0)[:-1])
        assert groups.hoped(at) == alone


def test_a_group_is_made_when_it_is_asked_for() -> None:
    groups, made = listed(drawn([(1.0, 1.0, 5.0, 300, 1), (1.0, 1.0, 5.0, 100, 1), (1.0, 1.0, 5.0, 200, 1)]), "price")
    assert len(groups) == 3 and groups.key(0) < groups.key(1) and made == []
    groups.group(0)
    assert made == [1]


@pytest.mark.parametrize("order", ORDERS)
@given(rows=ROWS.filter(len), last=ROWS.filter(len))
def test_what_comes_after_the_last_is_forgotten_and_nothing_else(order: str, rows: Rows, last: Rows) -> None:
    """Up to a key, equal ones too; a list of one is cut as a single group is."""
    key = tuple(float(step) for step in ORDERS[order](Hoped(*last[0]), 6.0)[:-1])
    groups, _ = listed(drawn(rows), order)
    before = [(groups.key(at), groups.hoped(at), groups.group(at).parts) for at in range(len(groups))]
    groups.keep(groups.up_to(key))
    after = [(groups.key(at), groups.hoped(at), groups.group(at).parts) for at in range(len(groups))]
    assert after == [one for one in before if one[0] <= key]
    alone = Alone(Hoped(*rows[0]), lambda scores: ORDERS[order](scores, 6.0), lambda: Group({}, None))
    of_one, _ = listed(drawn(rows[:1]), order)
    assert len(alone) == len(of_one) and (not len(alone) or alone.key(0) == of_one.key(0))
    assert alone.up_to(key) == of_one.up_to(key)
    alone.keep(alone.up_to(key))
    assert len(alone) == of_one.up_to(key)


def test_no_groups_are_an_empty_list() -> None:
    groups, _ = listed(drawn([]), "default")
    assert len(groups) == 0


@given(one=ROWS, other=ROWS)
def test_columns_multiplied_are_every_pair_the_second_running_faster(one: Rows, other: Rows) -> None:
    """Margins and room are those of the worse, price and mass add up."""
    together = drawn(one).times(drawn(other))
    wanted = [
        (min(a[0], b[0]), min(a[1], b[1]), min(a[2], b[2]), a[3] + b[3], a[4] + b[4]) for a, b in product(one, other)
    ]
    given_rows = zip(
        together.margin_k, together.margin_low_k, together.clearance_mm, together.price_cents, together.mass_g,
        strict=True,
    )  # fmt: skip
    assert list(given_rows) == wanted


@given(rows=ROWS.filter(len))
def test_all_columns_as_one_group_are_beaten_by_none_of_them(rows: Rows) -> None:
    best = drawn(rows).at_best()
    for order, key in ORDERS.items():
        keys = [key(Hoped(*row), 6.0)[:-1] for row in rows]
        assert key(best, 6.0)[:-1] <= min(keys), order


@given(rows=ROWS.filter(len), margin=st.floats(-5, 40), less=st.floats(0, 10))
def test_bounds_are_drawn_tighter_and_the_low_margin_is_never_above_the_margin(
    rows: Rows, margin: float, less: float
) -> None:
    hoped = drawn(rows)
    bound = hoped.with_margins(margin, margin - less)
    low = np.minimum(hoped.margin_low_k, margin - less)
    assert (bound.margin_low_k == low).all() and (bound.margin_k == np.minimum(hoped.margin_k, margin)).all()
    assert (hoped.with_margins(margin, margin + less).margin_low_k <= margin).all()
    assert (hoped.with_room(3.0).clearance_mm == np.minimum(hoped.clearance_mm, 3.0)).all()
    assert (hoped.plus(7).price_cents == hoped.price_cents + 7).all()
