"""The order in which kits are offered: total, from the kit alone, in steps of 2 K and of 5 mm."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import permutations
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.ranking.order import ORDERS, STEPS, deciding_step, default_key, ranked
from configurator.ranking.short_list import one_per_choice, picks


@dataclass(frozen=True)
class Kit:
    """All that the order and the short list look at."""

    proven: bool = True
    margin_low_k: float = 7.0
    clearance_mm: float = 12.0
    price_cents: int = 100_000
    mass_g: int = 9_000
    ids: tuple[str, ...] = ("a",)
    choice: str = "core a"


# Few values each, so that ties are common.
KITS = st.builds(
    Kit,
    st.booleans(),
    st.sampled_from((-1.0, 1.99, 2.0, 6.0, 6.5, 20.0)),
    st.sampled_from((0.0, 4.5, 5.0, 25.0, 40.0)),
    st.sampled_from((100_000, 100_001)),
    st.sampled_from((9_000, 9_001)),
    st.tuples(st.sampled_from("abcdef")),
    st.sampled_from(("one", "two")),
)
DISTINCT = st.lists(KITS, min_size=2, max_size=7, unique_by=lambda kit: kit.ids)
ENOUGH = st.sampled_from((0.0, 6.0, 7.0, float("inf")))


@pytest.mark.parametrize("order", ORDERS)
@given(kits=DISTINCT, enough=ENOUGH, data=st.data())
def test_the_order_of_the_input_never_matters(order: str, kits: list[Kit], enough: float, data: st.DataObject) -> None:
    shuffled = data.draw(st.permutations(kits))
    assert ranked(shuffled, order, enough) == ranked(kits, order, enough)


@pytest.mark.parametrize("order", ORDERS)
@given(kits=DISTINCT, enough=ENOUGH)
def test_no_two_kits_have_one_place_and_a_pair_stands_as_in_the_whole(
    order: str, kits: list[Kit], enough: float
) -> None:
    keys = [ORDERS[order](kit, enough) for kit in kits]
    assert len(set(keys)) == len(keys)
    whole = ranked(kits, order, enough)
    for first, second in permutations(kits, 2):
        if whole.index(first) < whole.index(second):
            assert ranked([second, first], order, enough) == [first, second]


@pytest.mark.parametrize("order", ORDERS)
@given(kits=st.lists(KITS, min_size=1, max_size=7), enough=ENOUGH)
def test_the_key_of_columns_is_that_of_each_kit_alone(order: str, kits: list[Kit], enough: float) -> None:
    names = ("proven", "margin_low_k", "clearance_mm", "price_cents", "mass_g")
    columns = SimpleNamespace(ids=(), **{name: np.array([getattr(kit, name) for kit in kits]) for name in names})
    steps = [np.broadcast_to(step, len(kits)).tolist() for step in ORDERS[order](columns, enough)[:-1]]
    assert [*zip(*steps, strict=True)] == [ORDERS[order](kit, enough)[:-1] for kit in kits]


@given(one=KITS, other=KITS, enough=st.sampled_from((0.0, 6.0, 8.0)))
def test_of_two_kits_with_enough_margin_and_equal_room_the_cheaper_is_first(
    one: Kit, other: Kit, enough: float
) -> None:
    cheap = replace(one, proven=True, margin_low_k=enough, price_cents=99_999, ids=("z",))
    dear = replace(other, proven=True, margin_low_k=enough + 13.0, clearance_mm=one.clearance_mm, ids=("a",))
    assert ranked([dear, cheap], "default", enough) == [cheap, dear]


@pytest.mark.parametrize("order", ORDERS)
@given(one=KITS, other=KITS)
def test_unproven_kits_stand_after_every_proven_one(order: str, one: Kit, other: Kit) -> None:
    unproven, proven = replace(one, proven=False, ids=("a",)), replace(other, proven=True, ids=("b",))
    assert ranked([unproven, proven], order, 6.0) == [proven, unproven]


@pytest.mark.parametrize(
    ("less", "more", "apart"),
    [
        (2.0, 3.99, False),
        (3.99, 4.0, True),
        (-0.01, 0.0, True),
        (-2.0, -0.01, False),
        (-2.01, -2.0, True),
        (0.0, 1.99, False),
    ],
)
def test_margin_counts_in_whole_steps_of_2_k(less: float, more: float, apart: bool) -> None:
    cheap, cool = Kit(margin_low_k=less, price_cents=1), Kit(margin_low_k=more, price_cents=2)
    assert ranked([cheap, cool], "default", 50.0) == ([cool, cheap] if apart else [cheap, cool])


@pytest.mark.parametrize(
    ("less", "more", "apart"),
    [
        (5.0, 9.5, False),
        (9.5, 10.0, True),
        (4.5, 5.0, True),
        (20.0, 24.5, False),
        (24.5, 25.0, True),
        (25.0, 400.0, False),
    ],
)
def test_room_counts_in_steps_of_5_mm_up_to_25_mm(less: float, more: float, apart: bool) -> None:
    cheap, roomy = Kit(clearance_mm=less, price_cents=1), Kit(clearance_mm=more, price_cents=2)
    assert ranked([cheap, roomy], "default", 6.0) == ([roomy, cheap] if apart else [cheap, roomy])


@pytest.mark.parametrize(("enough", "apart"), [(6.0, False), (7.9, False), (8.0, True), (float("inf"), True)])
def test_margin_beyond_enough_counts_no_further(enough: float, apart: bool) -> None:
    cheap, cool = Kit(margin_low_k=6.0, price_cents=1), Kit(margin_low_k=30.0, price_cents=2)
    assert ranked([cheap, cool], "default", enough) == ([cool, cheap] if apart else [cheap, cool])


def test_margin_comes_before_room_before_price_before_ids() -> None:
    best = Kit(margin_low_k=4.0, clearance_mm=0.0, price_cents=9, ids=("z",))
    second = Kit(margin_low_k=2.0, clearance_mm=10.0, price_cents=8, ids=("y",))
    third = Kit(margin_low_k=2.0, clearance_mm=5.0, price_cents=1, ids=("x",))
    fourth = Kit(margin_low_k=2.0, clearance_mm=5.0, price_cents=2, ids=("a",))
    last = Kit(margin_low_k=2.0, clearance_mm=5.0, price_cents=2, ids=("b",))
    assert ranked([last, fourth, third, second, best], "default", 6.0) == [best, second, third, fourth, last]


def test_other_orders_put_their_own_figure_first() -> None:
    cool = Kit(margin_low_k=9.0, clearance_mm=1.0, price_cents=5, mass_g=5, ids=("a",))
    roomy = Kit(margin_low_k=1.0, clearance_mm=9.0, price_cents=6, mass_g=6, ids=("b",))
    cheap = Kit(margin_low_k=2.0, clearance_mm=2.0, price_cents=1, mass_g=7, ids=("c",))
    light = Kit(margin_low_k=3.0, clearance_mm=3.0, price_cents=7, mass_g=1, ids=("d",))
    kits = [cool, roomy, cheap, light]
    first = {order: ranked(kits, order, 0.0)[0] for order in ORDERS}
    assert (first["margin"], first["clearance"], first["price"], first["mass"]) == (cool, roomy, cheap, light)


def test_the_key_hangs_on_the_kit_alone() -> None:
    assert default_key(Kit(choice="one"), 6.0) == default_key(Kit(choice="two", mass_g=1), 6.0)


def test_the_short_list_takes_the_first_kit_of_each_choice() -> None:
    kits = [
        Kit(ids=(name,), choice=choice) for name, choice in (("a", "x"), ("b", "y"), ("c", "x"), ("d", "z"), ("e", "y"))
    ]
    assert [kit.ids for kit in one_per_choice(kits)] == [("a",), ("b",), ("d",)]
    assert one_per_choice([]) == []


def test_picks_mark_the_coolest_the_roomiest_and_the_least_costly() -> None:
    listed = [
        Kit(margin_low_k=4.0, clearance_mm=3.0, price_cents=7),
        Kit(margin_low_k=9.0, clearance_mm=8.0, price_cents=8),
        Kit(margin_low_k=2.0, clearance_mm=1.0, price_cents=6),
    ]
    assert picks(listed) == ((), ("coolest", "roomiest"), ("least costly",))


def test_of_equals_the_earlier_is_marked_and_one_kit_is_everything() -> None:
    assert picks([Kit(), Kit()]) == (("coolest", "roomiest", "least costly"), ())
    assert picks([Kit(clearance_mm=0.0), Kit(clearance_mm=0.0)]) == (("coolest", "least costly"), ())
    assert picks([]) == ()


@pytest.mark.parametrize(
    ("second", "step"),
    [
        (Kit(proven=False, price_cents=1), "proven"),
        (Kit(margin_low_k=5.9, price_cents=1), "margin"),
        (Kit(margin_low_k=6.1, clearance_mm=9.9, price_cents=1), "room"),
        (Kit(clearance_mm=10.1, price_cents=100_001), "price"),
        (Kit(ids=("b",)), "ids"),
        (Kit(), None),
    ],
)
def test_the_step_that_puts_one_kit_before_another(second: Kit, step: str | None) -> None:
    """Margins of 6 K and more count alike where 6 K are enough, and so do 10 and 12 mm."""
    assert deciding_step(Kit(), second, 6.0) == step
    assert step is None or (step in STEPS and ranked([second, Kit()], "default", 6.0)[0] == Kit())
