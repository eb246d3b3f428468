"""A plain air-to-air cooler in place of a front: with air to spare its usual effectiveness, else what its fins give."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from configurator.prediction.air_to_air import USUAL, air_to_air_worst_k
from configurator.prediction.conditions import Piece
from configurator.prediction.exchange import charge_of
from configurator.prediction.zone_air import ZoneAir
from tests.prediction.made_kits import conditions, kit, moment

CALM, STORM = ZoneAir(0.0, 0.2, 0.0, 0.0), ZoneAir(0.0, 5000.0, 0.0, 0.0)


@pytest.mark.parametrize("end", [-1, 0, 1])
def test_with_air_without_end_it_takes_its_usual_share(end: int) -> None:
    """Effectiveness = 1 - exp(-NTU) where the other stream does not warm: Kays & London, ch. 2, C* = 0."""
    made, drive = kit(air=STORM), conditions()
    charge_in = charge_of(made.columns, drive, 1.0, 0).in_k
    out = air_to_air_worst_k(made.bench, made.columns, drive, end)
    taken = (charge_in - out) / (charge_in - drive.ambient_k)
    assert taken == pytest.approx(np.full(1, USUAL[end]), rel=5e-3)


def test_with_hardly_any_air_it_takes_no_more_than_that_air_can_carry() -> None:
    made, drive = kit(air=CALM), conditions()
    charge = charge_of(made.columns, drive, 1.0, 0)
    out = air_to_air_worst_k(made.bench, made.columns, drive)
    assert made.columns.exchanger is not None
    carries = 0.2 * made.columns.exchanger.face_area_m2 * 1.19 * 1007.0
    assert charge.rate_w_per_k * (charge.in_k - out) <= carries * (charge.in_k - drive.ambient_k)
    assert out > 0.8 * charge.in_k


def test_it_stores_nothing_and_the_slowest_hard_moment_counts() -> None:
    """A burst is as warm as the hour; preheat and slow air are warmer; the ends lie about the middle."""
    made = kit()
    burst, hour = (conditions(Piece(moment(1.0, 20.0), seconds)) for seconds in (5.0, 3600.0))
    slow = conditions(Piece(moment(1.0, 20.0), 60.0), Piece(moment(1.0, 5.0), 60.0))
    warm = replace(made, columns=replace(made.columns, preheat_k=made.columns.preheat_k + 10.0))

    def worst(of: object, at: object, end: int = 0) -> float:
        return float(air_to_air_worst_k(of.bench, of.columns, at, end)[0])  # type: ignore[attr-defined,arg-type]

    assert worst(made, burst) == worst(made, hour) < worst(made, slow)
    assert worst(made, hour) < worst(warm, hour)
    assert worst(made, hour, 1) < worst(made, hour) < worst(made, hour, -1)
