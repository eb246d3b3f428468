"""The standard atmosphere: it hangs in its own weight, and takes numbers and arrays alike."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.foundations.units import STANDARD_GRAVITY
from configurator.physics.atmosphere import standard_atmosphere


def test_each_layer_carries_the_air_above_it() -> None:
    """dp/dH = -rho g (hydrostatics), by central differences: no formula of the atmosphere is used twice."""
    altitude = np.linspace(0.0, 10_000.0, 41)
    above, below = standard_atmosphere(altitude + 1.0), standard_atmosphere(altitude - 1.0)
    slope = (above.pressure_pa - below.pressure_pa) / 2.0
    assert slope == pytest.approx(-STANDARD_GRAVITY * standard_atmosphere(altitude).density, rel=1e-7)


def test_the_tropopause_is_met_at_its_published_state() -> None:
    """216.65 K and 22632.1 Pa at 11000 m: ISO 2533:1975, table (from memory; recomputed)."""
    top = standard_atmosphere(11_000.0)
    assert float(top.temperature_k) == pytest.approx(216.65, abs=1e-9)
    assert float(top.pressure_pa) == pytest.approx(22632.1, rel=1e-5)


def test_one_altitude_gives_what_it_gives_among_many() -> None:
    many = standard_atmosphere(np.array([0.0, 900.0, 2400.0]))
    alone = standard_atmosphere(900.0)
    assert np.shape(alone.pressure_pa) == ()
    assert [float(x) for x in alone] == [float(x[1]) for x in many]
