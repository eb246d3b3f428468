"""Short words of a kit: whether its parts can be had, and how near the nearest one comes."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from configurator.presentation.coolant_words import celsius_kept, plateau_told_k
from configurator.presentation.no_kit_words import margin_words, reached_words
from configurator.presentation.stock_words import stock_words
from configurator.questions.too_few import TooFew


@pytest.mark.parametrize(
    ("to_order", "unsaid", "words"),
    [
        ((), (), "all in stock"),
        (("pump",), (), "all in stock but the pump"),
        ((), ("cap",), "all in stock but the cap (stock not stated)"),
        (("pump", "core"), ("cap",), "all in stock but the pump and the core and the cap (stock not stated)"),
        (("pump",), ("cap", "core", "fan"), "all in stock but the pump and 3 parts whose stock is not stated"),
    ],
)
def test_what_nobody_states_is_not_told_to_be_in_stock(
    to_order: tuple[str, ...], unsaid: tuple[str, ...], words: str
) -> None:
    """An ice tank and a pump without `stock` were told to be in stock."""
    kit: Any = SimpleNamespace(to_order=to_order, stock_unsaid=unsaid, parts=(), short=())
    assert stock_words(kit) == words


@pytest.mark.parametrize(
    ("short", "words"),
    [
        ([TooFew("elbow", 4, 2, "piece")], "the pump and elbow (2 of 4 there)"),
        ([TooFew("pump-1", 1, 0, "piece"), TooFew("hose-19", 5.5, 4, "m")], "the pump and hose-19 (4 of 5.5 m there)"),
        (
            [TooFew(one, 4, 2, "piece") for one in "abc"],
            "the pump and 3 lines of the bill that take more than there is",
        ),
    ],
)
def test_what_runs_short_is_told_once(short: list[TooFew], words: str) -> None:
    """Of the pump that is to be ordered it is said already; many are counted, for the bill names them."""
    kit: Any = SimpleNamespace(to_order=("pump",), stock_unsaid=(), parts=(("pump", "pump-1"),), short=short)
    assert stock_words(kit) == f"all in stock but {words}"


@pytest.mark.parametrize(
    ("charge", "ceiling", "words"),
    [(61.2, 55.0, "61 degC"), (20.3, 20.0, "20.30 degC"), (20.6, 20.4, "21 degC"), (64.4, 64.45, "64.40 degC"),
     (20.003, 20.0, "20.003 degC")],
)
def test_a_charge_over_the_ceiling_is_never_told_as_the_ceiling(charge: float, ceiling: float, words: str) -> None:
    """A kit that missed 20 degC was told to reach 20 degC."""
    assert reached_words(charge + 273.15, ceiling + 273.15) == words


@pytest.mark.parametrize(
    ("celsius", "words"), [(46.51, "46 degC"), (46.0, "46 degC"), (46.999, "46 degC"), (-3.2, "-4 degC")]
)
def test_the_hottest_air_is_told_as_a_day_that_still_keeps_the_aim(celsius: float, words: str) -> None:
    """46.51 degC was told as 47 degC, at which the aim is missed."""
    assert celsius_kept(celsius + 273.15) == words


@pytest.mark.parametrize(
    ("margin_k", "words"),
    [(-0.004, "+0.0 K"), (-0.0, "+0.0 K"),
     (-0.03, "-0.03 K"), (-0.051, "-0.1 K"), (0.0, "+0.0 K"), (0.03, "+0.0 K"), (-9.04, "-9.0 K")],
)
def test_a_margin_that_is_missed_is_never_told_as_none(margin_k: float, words: str) -> None:
    assert margin_words(margin_k) == words


@pytest.mark.parametrize(
    ("worst_k", "plateau_k", "told_k"),
    [(333.67, 333.60, 333.67), (333.60, 333.67, 333.67), (340.0, 333.6, 333.6), (333.6, 333.6, 333.6)],
)
def test_a_plateau_is_not_told_under_a_worst_that_nearly_is_it(
    worst_k: float, plateau_k: float, told_k: float
) -> None:
    """A kit was told to reach 61 degC, and 60 degC if its drive never ends; one that starts hot may well."""
    thermal: Any = SimpleNamespace(charge_out_worst_k=worst_k, charge_out_plateau_k=plateau_k)
    assert plateau_told_k(thermal) == told_k
