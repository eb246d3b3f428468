"""The charge in front of the core: pressure ratio of both kinds of charger, temperature, losses."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from configurator.foundations.air import density
from configurator.prediction.charge import Charge, charge_at
from configurator.prediction.conditions import Conditions
from tests.prediction.made_kits import conditions, plain_surface

NONE = np.zeros(1)


def charge(at: Conditions, share: float = 1.0, sign: float = 0.0, pipes: Any = NONE, **core: Any) -> Charge:
    return charge_at(at, share, plain_surface(600.0, **core), pipes, pipes, sign)


def test_a_charger_that_holds_its_outlet_works_at_boost_alone() -> None:
    """(ambient + boost)/(ambient - inlet loss): a definition; what the core takes does not touch it."""
    at = conditions(boost_held_at_throttle=False)
    for loss in (1e3, 20e3):
        found = charge(at, charge_loss_pa=loss)
        assert float(found.pressure_ratio[0]) == pytest.approx((101325 + 1.2e5) / (101325 - 3000), rel=1e-12)


def test_a_charger_that_holds_the_throttle_works_against_the_losses_too() -> None:
    at = conditions()
    found = charge(at)
    behind = 101325 + 1.2e5 + float(found.loss_pa[0])
    assert float(found.pressure_ratio[0]) == pytest.approx(behind / (101325 - 3000), rel=1e-6)
    assert float(found.loss_pa[0]) == pytest.approx(float(found.core_loss_pa[0]) + at.pipe_loss_pa, rel=1e-12)
    held_at_outlet = charge(replace(at, boost_held_at_throttle=False))
    assert float(found.pressure_ratio[0]) > float(held_at_outlet.pressure_ratio[0])
    assert float(found.in_k[0]) > float(held_at_outlet.in_k[0])


def test_loss_and_ratio_settle_each_other() -> None:
    """The loss that comes out is the one that its own density and ratio give."""
    found = charge(conditions(), charge_loss_pa=15e3, pipes=np.array([3e5]))
    behind = 101325 + 1.2e5 + float(found.loss_pa[0])
    here = float(density(behind, float(found.in_k[0])))
    assert float(found.core_loss_pa[0]) == pytest.approx(15e3 * (0.22 / 0.2) ** 1.8 * 2.0 / here, rel=1e-4)
    assert float(found.before_loss_pa[0]) == pytest.approx(3e5 * 0.22**2 / (2 * here), rel=1e-4)


def test_temperature_follows_from_the_isentropic_efficiency() -> None:
    """T1 298.15 K, ratio 2.0, efficiency 0.70: T2 = 391.434 K; the textbook formula with gamma 1.4, recomputed."""
    at = conditions(
        inlet_k=298.15, inlet_loss_pa=0.0, boost_pa=101325.0, boost_held_at_throttle=False, charger_efficiency=0.70
    )
    found = charge(at)
    assert float(found.pressure_ratio[0]) == pytest.approx(2.0)
    assert float(found.in_k[0]) == pytest.approx(391.434, abs=5e-4)


def test_without_boost_the_charge_is_no_warmer_than_the_inlet() -> None:
    at = conditions(boost_pa=0.0, inlet_loss_pa=0.0, boost_held_at_throttle=False)
    assert float(charge(at).in_k[0]) == pytest.approx(at.inlet_k, rel=1e-12)
    lossy = replace(at, inlet_loss_pa=3000.0)
    assert float(charge(lossy).in_k[0]) > at.inlet_k + 1.0


@pytest.mark.parametrize("factor", [0.5, 2.0])
def test_loss_rises_with_flow_to_the_power_of_1_8(factor: float) -> None:
    """At equal density; finned surfaces lose so. Common practice, no source."""
    at = conditions(boost_held_at_throttle=False)
    more = replace(at, air_kg_per_s=at.air_kg_per_s * factor)
    ratio = float(charge(more).core_loss_pa[0] / charge(at).core_loss_pa[0])
    assert ratio == pytest.approx(factor**1.8, rel=1e-9)


def test_loss_falls_as_the_charge_gets_denser() -> None:
    at = conditions(boost_held_at_throttle=False)
    losses = []
    for boost in (0.6e5, 1.2e5, 1.8e5):
        found = charge(replace(at, boost_pa=boost))
        losses.append(float(found.core_loss_pa[0]) * float(density(101325 + boost, float(found.in_k[0]))))
    assert losses == pytest.approx([losses[0]] * 3, rel=1e-9)


def test_a_stated_loss_to_the_throttle_stands_for_all_losses() -> None:
    at = conditions(loss_to_throttle_pa=9e3)
    for loss in (1e3, 20e3):
        found = charge(at, charge_loss_pa=loss)
        assert float(found.loss_pa[0]) == pytest.approx(9e3)
        assert float(found.pressure_ratio[0]) == pytest.approx((101325 + 1.2e5 + 9e3) / (101325 - 3000))


def test_the_band_of_loss_moves_the_loss_of_the_core_alone() -> None:
    at = conditions(boost_held_at_throttle=False)
    low, middle, high = (charge(at, sign=sign, loss_band=0.25, pipes=np.array([3e5])) for sign in (-1.0, 0.0, 1.0))
    assert float(low.core_loss_pa[0] / middle.core_loss_pa[0]) == pytest.approx(0.75)
    assert float(high.core_loss_pa[0] / middle.core_loss_pa[0]) == pytest.approx(1.25)
    assert float(high.before_loss_pa[0]) == pytest.approx(float(middle.before_loss_pa[0]))


def test_the_core_limits_no_charge_flow() -> None:
    """No part has a flow of charge that it refuses: ten times the flow gives a finite charge and a larger loss."""
    at = conditions()
    found = charge(replace(at, air_kg_per_s=10 * at.air_kg_per_s))
    assert np.isfinite(found.in_k[0])
    assert float(found.core_loss_pa[0]) > 10 * float(charge(at).core_loss_pa[0])


def test_part_load_has_its_own_flow_and_boost() -> None:
    at = conditions(boost_held_at_throttle=False)
    light = charge(at, 0.2)
    assert light.air_kg_per_s == pytest.approx(0.2 * 0.22)
    assert float(light.pressure_ratio[0]) == pytest.approx(101325 / (101325 - 3000 * 0.04), rel=1e-9)
    assert float(light.in_k[0]) < float(charge(at).in_k[0])
