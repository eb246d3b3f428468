"""The best first on a small shelf: what it lists, what it says while it looks, and what it says that it left out."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.questions.searches import Searched, kept, search
from configurator.ranking.order import ORDERS
from configurator.search.best_so_far import BestSoFar
from tests.oracles.looked_for import ALL, EACH_CHOICE, FIRST, SHORT, THREE, Ask, Asked, unlike_the_whole
from tests.search.small_shelves import cap, core, exchanger, job_of, pump, reservoir, shelf

PARTS = (
    {**core("core-b", long=180), "price": 200},
    {**core("core-c", spigot="16 mm"), "price": 1},
    {**exchanger("exchanger-b"), "price": 150, "mass": "3 kg"},
    {**exchanger("exchanger-c"), "price": 220, "mass": "1.5 kg"},
    {**pump("pump-b", dead_head=70), "price": 160, "mass": "0.8 kg"},
    {**reservoir("reservoir-b"), "price": 80},
    {**cap("cap-b"), "price": 7},
)
"""Beside one of each: cores that differ in room and price, one that no hose of the shelf joins, and dearer parts."""


@pytest.fixture(scope="module")
def asked() -> Asked:
    """The small shelf's job with these parts, and all its kits once they are found."""
    return Asked(shelf(*PARTS))


@pytest.mark.parametrize("ask", [ALL, EACH_CHOICE, FIRST, SHORT, THREE, *(Ask(2, order=order) for order in ORDERS)])
def test_it_lists_what_looking_at_everything_lists_and_leaves_out_no_group_wrongly(asked: Asked, ask: Ask) -> None:
    assert len(kept(asked.whole())) == 2 * 3 * 2 * 2 * 2
    assert unlike_the_whole(asked, ask, asked.best_first(ask)) == []


def test_in_a_bay_that_nobody_has_measured_it_lists_the_same_too() -> None:
    unmeasured = Asked(shelf(*PARTS, bay="unmeasured"))
    assert len(kept(unmeasured.whole())) == 2 * 3 * 2 * 2 * 2
    assert unlike_the_whole(unmeasured, SHORT, unmeasured.best_first(SHORT)) == []


def looked_for(*, top: int, all_variants: bool, **brief: Any) -> tuple[Searched, list[str]]:
    """One search for the cheapest kits, and what it tells while it looks."""
    told: list[str] = []
    job = job_of(shelf(*PARTS, **brief))
    best = BestSoFar(lambda scores: ORDERS["price"](scores, 6.0), top, all_variants=all_variants)
    (found,) = search(job, told.append, best=best)
    return found, told


def test_it_says_how_many_loops_it_has_predicted_and_that_it_left_out_what_cannot_come_first() -> None:
    found, told = looked_for(top=1, all_variants=True)
    proof = found.kits.proof
    assert proof is not None and proof.choices == 3 * 3 * 2 * 2
    words = [line for line in told if line.startswith("predicting loops ")]
    assert words[0].startswith("predicting loops 1 to ")
    assert words[-1].endswith(f" to {proof.predicted}")
    assert found.kits.loops == proof.predicted < 24
    assert proof.counts["behind the last"] > 0 and proof.least is not None


def test_where_one_kit_is_listed_for_each_choice_what_comes_after_its_own_choice_is_left_out() -> None:
    """Six choices of core and exchanger, each with two pumps and two reservoirs: the cheapest pump and reservoir do."""
    found, _ = looked_for(top=6, all_variants=False)
    proof = found.kits.proof
    assert proof is not None and proof.counts["behind its own choice"] > 0
    every, _ = looked_for(top=10**6, all_variants=True)
    assert every.kits.proof is not None and "behind its own choice" not in every.kits.proof.counts
    assert proof.predicted < every.kits.proof.predicted == 24


@pytest.mark.parametrize(
    ("limits", "why"), [({"price": 640}, "price"), ({"mass_dry": "5 kg"}, "mass"), ({"price": 10_000}, None)]
)
def test_what_must_break_a_limit_is_left_out_for_it(limits: dict[str, Any], why: str | None) -> None:
    found, _ = looked_for(top=10**6, all_variants=True, limits=limits)
    proof = found.kits.proof
    assert proof is not None
    assert set(proof.counts) == ({why} if why else set())
