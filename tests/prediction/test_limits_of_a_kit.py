"""The hottest air of a kit: found among many loops at once, and the one that each loop has alone."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from configurator.prediction.bench import Loop, ZoneAir, make_columns
from configurator.prediction.conditions import Conditions, Piece
from configurator.prediction.limits_of_a_kit import limiting_air_k, time_to_plateau_s
from configurator.prediction.predict import predict
from tests.prediction.made_kits import Made, conditions, kit, moment, place, run, whole_bench

AIR = ZoneAir(0.25, 0.0, 0.0, 0.0)
CHOICES = (
    ("core-210-short", "exchanger-380-slim"),
    ("core-400-sturdy", "exchanger-700-broad"),
    ("core-160-short", "exchanger-350-slim"),
)
LOOPS = [
    Loop(
        place("cores", core), place("exchangers", front), place("pumps", "pump-46-small"),
        place("reservoirs", "reservoir-6-vented"), tuple(run() for _ in range(4)), (), AIR,
    )
    for core, front in CHOICES
]  # fmt: skip


def in_air(air_k: float) -> Conditions:
    """A minute and a half at full power that starts at the air's temperature, 345 K at most."""
    drive = (Piece(moment(), 90.0),)
    return replace(
        conditions(*drive), ambient_k=air_k, inlet_k=air_k + 5.0, start_k=air_k, ceiling_k=345.0, humidity=0.5
    )


def by_halving(made: Made) -> float:
    """The air at which the margin is none, by halving between -40 and 60 degC [K]."""
    low, high = 233.15, 333.15
    while high - low > 1e-4:
        middle = (low + high) / 2
        at = in_air(middle)
        cool = float(made.predict(at).judged_k[0]) < at.ceiling_k
        low, high = (middle, high) if cool else (low, middle)
    return low


def test_all_loops_at_once_find_what_halving_finds_of_each() -> None:
    found = limiting_air_k(whole_bench(), LOOPS, in_air, 298.15)
    for (core, front), air_k in zip(CHOICES, found, strict=True):
        assert air_k == pytest.approx(by_halving(kit(core, front)), abs=0.02)


@pytest.mark.parametrize("start_k", [250.0, 298.15, 330.0])
def test_company_and_where_it_starts_change_nothing(start_k: float) -> None:
    together = limiting_air_k(whole_bench(), LOOPS, in_air, 298.15)
    for loop, air_k in zip(LOOPS, together, strict=True):
        assert limiting_air_k(whole_bench(), [loop], in_air, start_k) == [pytest.approx(air_k, abs=1e-9)]


def test_an_aim_that_no_air_or_any_air_keeps_has_none() -> None:
    for ceiling_k in (200.0, 600.0):
        found = limiting_air_k(
            whole_bench(), LOOPS[:1], lambda air_k, of=ceiling_k: replace(in_air(air_k), ceiling_k=of), 298.15
        )
        assert found == [None]


def test_a_line_over_forty_kelvins_would_not_be_good_enough() -> None:
    """Why whole kelvins: over 40 K the margin bends by more than the 0.02 K asked."""
    made = kit(*CHOICES[0])
    margins = [345.0 - float(made.predict(in_air(air_k)).judged_k[0]) for air_k in (280.0, 300.0, 320.0)]
    assert not math.isclose(margins[1], (margins[0] + margins[2]) / 2, abs_tol=0.02)


def test_a_loop_in_which_nothing_flows_does_not_take_the_others_time_to_their_plateau() -> None:
    """A loop that stands still has no plateau: it alone has no time to one, wherever it lies among the rows."""
    at, columns = conditions(), make_columns(whole_bench(), LOOPS)
    alone = time_to_plateau_s(predict(whole_bench(), columns, at), at)
    assert None not in alone
    for still in range(len(LOOPS)):
        share = np.where(np.arange(len(LOOPS)) == still, 0.0, 1.0)
        standing = predict(whole_bench(), replace(columns, flow_share=share), at)
        wanted = [None if row == still else seconds for row, seconds in enumerate(alone)]
        assert time_to_plateau_s(standing, at) == wanted
