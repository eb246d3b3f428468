"""The best kits known so far, held against sorting all that were counted."""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.search.best_so_far import BestSoFar


@dataclass(frozen=True)
class Kit:
    """A kit as far as it is counted."""

    price: int
    ids: tuple[str, ...]
    choice: str = "x"
    missed: tuple[str, ...] = ()
    mass: int = 0


def key(kit: Kit) -> tuple[int, int, tuple[str, ...]]:
    """By price, then by mass, then by ids."""
    return (kit.price, kit.mass, kit.ids)


KITS = st.lists(
    st.builds(
        Kit,
        st.integers(1, 5),
        st.tuples(st.sampled_from("abcdefghijkl")),
        st.sampled_from("xyz"),
        st.sampled_from(((), (), (), ("aim",))),
        st.integers(1, 2),
    ),
    max_size=14,
    unique_by=lambda kit: kit.ids,
)


@pytest.mark.parametrize("all_variants", [True, False])
@pytest.mark.parametrize("near_ones", [True, False])
@given(kits=KITS, top=st.integers(1, 4))
def test_the_last_is_that_of_sorting_all(all_variants: bool, near_ones: bool, kits: list[Kit], top: int) -> None:
    best = BestSoFar(key, top, all_variants=all_variants, near_ones=near_ones)
    counted: list[Kit] = []
    for kit in kits:
        best.take(kit)
        counted += [kit] if near_ones or not kit.missed else []
        in_order = sorted(counted, key=key)
        first: dict[object, Kit] = {}
        for one in in_order:
            first.setdefault(one.ids if all_variants else one.choice, one)
        asked_for = list(first.values())[:top]
        assert best.last == (key(asked_for[-1])[:-1] if len(asked_for) == top else None)
        for choice in "xyz":
            own = None if all_variants or choice not in first else key(first[choice])[:-1]
            assert best.of_choice(choice) == own


def test_the_last_never_moves_back() -> None:
    best = BestSoFar(key, 2)
    lasts = []
    for price, choice in ((5, "x"), (4, "y"), (9, "z"), (1, "y"), (2, "z"), (3, "x")):
        best.take(Kit(price, (f"{price}",), choice))
        lasts.append(best.last)
    assert lasts == [None, (5, 0), (5, 0), (5, 0), (2, 0), (2, 0)]
