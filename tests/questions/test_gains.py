"""Which of many changes a short table tells: the best of each kind, the cheapest that is worth it, what breaks a limit.

What is worth telling is a choice of this product: common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from configurator.questions.gains import NOTHING_K, Gain, with_shown

PUMP = Gain(
    kind="pump", part="pump-a", replaced="pump-z", along=(), change=None, larger=False, runs=0, moved=(),
    layout="single", twins=(), margin_k=2.0, plateau_k=-1.0, recovery_s=0.0, clearance_mm=0.0, price_cents=10_000,
    mass_dry_g=0, current_a=0.0, breaks=(), newly=(),
)  # fmt: skip


def shown(*gains: Gain) -> set[str | None]:
    """The parts of the changes that are told, of changes given most margin first."""
    return {gain.part for gain in with_shown(gains) if gain.shown}


def pump(part: str, margin_k: float, cents: int, *breaks: str) -> Gain:
    return replace(PUMP, part=part, margin_k=margin_k, price_cents=cents, breaks=breaks, newly=breaks)


def test_the_best_and_the_cheapest_that_brings_a_kelvin_are_told_and_no_other() -> None:
    assert shown(pump("best", 5.0, 900), pump("middle", 3.0, 500), pump("cheap", 1.0, 100), pump("poor", 0.9, 10)) == {
        "best", "cheap",
    }  # fmt: skip


def test_where_little_is_to_be_had_half_of_it_is_worth_telling() -> None:
    assert shown(pump("best", 1.2, 900), pump("half", 0.6, 100), pump("less", 0.55, 10)) == {"best", "half"}


@pytest.mark.parametrize(("margin_k", "told"), [(NOTHING_K, {"a"}), (NOTHING_K - 0.01, set()), (-3.0, set())])
def test_what_buys_nothing_has_no_row(margin_k: float, told: set[str]) -> None:
    assert shown(pump("a", margin_k, 100)) == told


def test_what_breaks_a_limit_is_told_beside_the_best_that_breaks_none_where_it_buys_a_kelvin_more() -> None:
    assert shown(pump("dear", 6.0, 9000, "price"), pump("best", 5.0, 900)) == {"dear", "best"}
    assert shown(pump("dear", 5.9, 9000, "price"), pump("best", 5.0, 900)) == {"best"}
    assert shown(pump("dear", 5.9, 9000, "price")) == {"dear"}


def test_a_limit_that_the_kit_misses_already_speaks_against_no_change() -> None:
    still = replace(pump("still", 5.0, 900), breaks=("aim",), newly=())
    assert shown(still, pump("less", 2.0, 950)) == {"still"}


def test_margin_for_100_is_told_of_what_costs_and_buys() -> None:
    assert pump("a", 3.0, 15_000).kelvin_per_100 == pytest.approx(2.0)
    assert pump("a", 3.0, -100).kelvin_per_100 is None
    assert pump("a", -3.0, 100).kelvin_per_100 is None
    assert replace(PUMP, price_cents=None).kelvin_per_100 is None
