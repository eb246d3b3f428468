"""Faults put into the best-first search on purpose: what it lists then is not what looking at everything lists."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from configurator.prediction.least_worst import _Window
from configurator.search import best_first
from configurator.search.best_so_far import BestSoFar
from configurator.search.bounds import Bounds
from configurator.search.groups import Listed
from configurator.search.heat_bounds import HeatBounds
from configurator.search.rows import RowMaker
from tests.oracles import test_planted_faults as planted
from tests.oracles.comparison import judged, shelf
from tests.oracles.hostile_shelves import hostile
from tests.oracles.looked_for import ALL, EVERY, FIRST, THREE, Ask, Asked, listed_apart, unlike_the_judge

Patch = pytest.MonkeyPatch


def _coldest_coolant_5_k_too_warm(patch: Patch) -> None:
    """The margin that a core has at best is told 5 K too small."""
    real = Bounds._margins
    patch.setattr(Bounds, "_margins", lambda bounds, *told: real(bounds, *told) - 5.0)


def _heat_bound_5_k_too_tight(patch: Patch) -> None:
    """The margin of a core with an exchanger likewise."""
    real = HeatBounds._margin
    patch.setattr(HeatBounds, "_margin", lambda heat, coolest_k: real(heat, coolest_k + 5.0))


def _what_the_charge_takes_up_forgotten(patch: Patch) -> None:
    """A charge that the coolant warms in a rest is taken to leave it alone."""

    def given(window, x_k, warmest_k):
        each = (one.seconds * one.rate_w_per_k * np.maximum(one.in_k - x_k, 0.0) for one in window.charges)
        return sum(each, np.zeros_like(x_k))

    patch.setattr(_Window, "given", given)


def _room_alone_halved(patch: Patch) -> None:
    """A part alone is taken to have half of the room that it has."""
    real, real_of_some = Bounds.room_mm, RowMaker.room_mm
    patch.setattr(Bounds, "room_mm", lambda bounds, *told: _half(real(bounds, *told)))
    patch.setattr(RowMaker, "room_mm", lambda rows, *told: _half(real_of_some(rows, *told)))


def _half(room_mm: float) -> float:
    return room_mm / 2 if room_mm > 0 else room_mm


def _room_of_two_5_mm_too_small(patch: Patch) -> None:
    """Two in one zone are taken to have less room together than they have."""
    real = RowMaker.rooms_of_two
    patch.setattr(RowMaker, "rooms_of_two", lambda rows, *told: real(rows, *told) - 5.0)


def _runs_take_eight_times_as_much(patch: Patch) -> None:
    """No loop is taken to have the flow that it has."""
    real = HeatBounds.runs_pa
    patch.setattr(HeatBounds, "runs_pa", lambda heat, *ways: 8 * real(heat, *ways))


def _joints_counted_twice(patch: Patch) -> None:
    """A kit is taken to cost its joints twice at least."""
    real = Bounds.joints_cents
    patch.setattr(Bounds, "joints_cents", lambda bounds, *ways: 2 * real(bounds, *ways))


def _layout_of_twins_ignored(patch: Patch) -> None:
    """Twins are taken for the same choice as one core and one exchanger."""
    real = best_first.BestFirst.__init__

    def made(search, *told, **more):
        real(search, *told, **more)
        search._twins = False

    patch.setattr(best_first.BestFirst, "__init__", made)


def _own_choice_counts_with_all_variants(patch: Patch) -> None:
    """A kit that comes after another of its choice is left out where every kit is asked for."""
    real = BestSoFar.take

    def take(best, kit):
        real(best, kit)
        if not kit.missed:
            own = best.__dict__.setdefault("own", {})
            own[kit.choice] = min(own.get(kit.choice, best.order(kit)), best.order(kit))

    patch.setattr(BestSoFar, "take", take)

    def of_choice(best, choice):
        known = best.__dict__.get("own", {}).get(choice)
        return None if known is None else known[:-1]

    patch.setattr(BestSoFar, "of_choice", of_choice)


def _last_group_forgotten(patch: Patch) -> None:
    """Of each list of several groups the last is never opened."""
    real = Listed.__len__
    patch.setattr(Listed, "__len__", lambda listed: real(listed) - (real(listed) > 1))


def _one_too_few(patch: Patch) -> None:
    """The search ends with one kit fewer than were asked for."""
    real = BestSoFar.__init__
    patch.setattr(BestSoFar, "__init__", lambda best, order, top, **more: real(best, order, max(top - 1, 1), **more))


def _first_batch_alone(patch: Patch) -> None:
    """The search ends once as many kits as were asked for are known, whatever is still to come."""
    patch.setattr(best_first.BestFirst, "_after_the_last", lambda search, key: search._best.last is not None)


COOLEST, ROOMIEST = Ask(1, order="margin"), Ask(1, order="clearance")
EACH_CHEAPEST = Ask(EVERY, all_variants=False, order="price")

OF_ITS_OWN: tuple[tuple[Callable[[Patch], None], Ask, int], ...] = (
    (_coldest_coolant_5_k_too_warm, COOLEST, 135),
    (_heat_bound_5_k_too_tight, COOLEST, 225),
    (_what_the_charge_takes_up_forgotten, THREE, 181),
    (_room_alone_halved, ROOMIEST, 7),
    (_room_of_two_5_mm_too_small, ALL, 46),
    (_runs_take_eight_times_as_much, COOLEST, 210),
    (_joints_counted_twice, THREE, 10),
    (_layout_of_twins_ignored, EACH_CHEAPEST, 8),
    (_own_choice_counts_with_all_variants, THREE, 23),
    (_last_group_forgotten, ALL, 3),
    (_one_too_few, THREE, 28),
    (_first_batch_alone, FIRST, 10),
)
"""Each fault, what is asked for, and a hostile shelf that shows it."""

ELSEWHERE = {planted._tie_dropped, planted._one_too_few}
"""Faults of the answer, which is made of what either search finds."""


@pytest.mark.parametrize(
    ("fault", "ask", "shown_on"), OF_ITS_OWN, ids=[fault.__name__.strip("_") for fault, _, _ in OF_ITS_OWN]
)
def test_a_fault_of_the_best_first_is_found(
    fault: Callable[[Patch], None], ask: Ask, shown_on: int, monkeypatch: Patch
) -> None:
    job = Asked(hostile(shown_on))
    job.whole()
    sound = job.best_first(ask)
    assert listed_apart(job, ask, sound) == []
    fault(monkeypatch)
    assert listed_apart(job, ask, job.best_first(ask)) != []


@pytest.mark.parametrize(
    ("fault", "shown_on"),
    [(fault, shown_on) for fault, _, shown_on in planted.FAULTS if fault not in ELSEWHERE],
    ids=[fault.__name__.strip("_") for fault, _, _ in planted.FAULTS if fault not in ELSEWHERE],
)
def test_a_fault_of_both_searches_is_found(fault: Callable[[Patch], None], shown_on: int, monkeypatch: Patch) -> None:
    fault(monkeypatch)
    job = Asked(shelf(shown_on))
    assert unlike_the_judge(judged(shown_on), job, ALL, job.best_first(ALL)) != []
