"""Heat inside coolant channels: continuity in the flow, the tabulated entry of flat channels, and trends."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.physics.channel_heat import (
    laminar_friction_constant,
    nusselt,
    nusselt_laminar,
    nusselt_turbulent,
)
from configurator.physics.pipe_flow import LAMINAR_TO, TURBULENT_FROM


@pytest.mark.parametrize("aspect", [0.02, 0.3, 1.0])
@pytest.mark.parametrize("pr", [3.0, 15.0, 80.0])
def test_nothing_jumps_from_a_trickle_to_full_flow(aspect: float, pr: float) -> None:
    re = np.arange(1.0, 12_000.0, 1.0)
    found = nusselt(re, pr, 0.01, aspect)
    assert np.max(np.abs(np.diff(found))) < 0.01 * found.max()
    assert np.all(np.diff(found) > 0.0)


def test_the_blend_is_a_straight_line_between_its_edges() -> None:
    re = np.linspace(LAMINAR_TO, TURBULENT_FROM, 11)
    found = nusselt(re, 8.0, 0.01, 0.1)
    assert found[0] == pytest.approx(float(nusselt_laminar(LAMINAR_TO, 8.0, 0.01, 0.1)))
    assert found[-1] == pytest.approx(float(nusselt_turbulent(TURBULENT_FROM, 8.0)))
    np.testing.assert_allclose(np.diff(found, 2), 0.0, atol=1e-9)


def test_entry_of_flat_channels_within_3_4_per_cent_of_the_tabulated_mean() -> None:
    """Parallel plates, even heat flux, mean Nusselt number (Shah & London 1978, from memory).

    With x = L/(D Re Pr): 2.236 x^-1/3 to x = 0.001; 2.236 x^-1/3 + 0.9 to 0.01; 8.235 + 0.0364/x above. The
    table jumps by 4 to 5 % at its own joints.
    """
    x = np.geomspace(1e-4, 3.0, 2000)
    entry = 2.236 * np.cbrt(1.0 / x)
    table = np.where(x <= 1e-3, entry, np.where(x <= 1e-2, entry + 0.9, 8.235 + 0.0364 / x))
    np.testing.assert_allclose(nusselt_laminar(1.0 / x, 1.0, 1.0, 1e-9), table, rtol=0.034)


def test_a_long_round_tube_ends_at_the_developed_value() -> None:
    """3.66 at even wall temperature (any textbook), 4 % above it where Gz = 2.3."""
    assert nusselt_laminar(1e-9, 5.0, 1e-3, 1.0) == pytest.approx(3.66)
    assert nusselt_laminar(2.3, 1.0, 1.0, 1.0) == pytest.approx(3.66 * 1.04, rel=5e-3)


def test_a_short_channel_moves_more_heat_than_a_long_one_in_laminar_flow() -> None:
    for aspect in (0.05, 1.0):
        found = nusselt(800.0, 30.0, np.array([0.002, 0.01, 0.05]), aspect)
        assert np.all(np.diff(found) > 0.0)


def test_friction_falls_from_the_slit_to_the_square_and_round_stands_apart() -> None:
    """Shah & London 1978 (from memory): 96 for a slit, 56.91 for a square, 64 for a circle."""
    found = laminar_friction_constant(np.array([1e-9, 0.2, 0.5, 0.999999]))
    assert np.all(np.diff(found) < 0.0)
    assert found[0] == pytest.approx(96.0)
    assert found[-1] == pytest.approx(56.91, abs=0.05)
    assert laminar_friction_constant(1.0) == 64.0


def test_shapes_broadcast() -> None:
    found = nusselt(np.array([[500.0], [3000.0], [9000.0]]), 10.0, 0.01, np.array([0.1, 1.0]))
    assert found.shape == (3, 2)
    assert found[2, 0] == found[2, 1]
    assert found[0, 0] != found[0, 1]
