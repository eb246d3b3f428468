"""Finned surfaces from their geometry: one unit for all lengths, degrees for angles, bounds and trends."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.physics.compact_surfaces import (
    fin_efficiency,
    louvred_f,
    louvred_j,
    offset_strip_diameter,
    offset_strip_f,
    offset_strip_j,
    offset_strip_ratios,
)

LOUVRES = {
    "fin_pitch": 1.4e-3,
    "louvre_pitch": 1.2e-3,
    "fin_length": 8.0e-3,
    "depth": 22.0e-3,
    "louvre_length": 6.6e-3,
    "tube_pitch": 9.9e-3,
    "thickness": 0.1e-3,
}


def test_the_diameter_tends_to_that_of_a_plain_channel() -> None:
    """Very thin, very long strips: a rectangle s × h, D = 2 s h / (s + h)."""
    s, h = 1.5e-3, 8.0e-3
    assert offset_strip_diameter(s, h, 1e-9, 1.0) == pytest.approx(2.0 * s * h / (s + h), rel=1e-5)


def test_ratios_are_those_of_the_published_surface() -> None:
    """Kays & London surface 1/8-15.61 (fig. 10-55): 15.61 fins/in, 0.25, 0.004 and 0.125 in."""
    inch = 0.0254
    spacing, height = inch / 15.61 - 0.004 * inch, (0.25 - 0.004) * inch
    ratios = offset_strip_ratios(spacing, height, 0.004 * inch, 0.125 * inch)
    np.testing.assert_allclose(ratios, [0.2442, 0.0320, 0.0666], atol=5.1e-5)


def test_offset_strips_lose_more_pressure_than_heat_would_ask() -> None:
    """Form drag: f/j lies well above Reynolds' analogy of 2 (Kays & London, ch. 10, from memory)."""
    ratios = offset_strip_ratios(1.5e-3, 8.0e-3, 0.1e-3, 3.0e-3)
    re = np.geomspace(120.0, 1e4, 30)
    quotient = offset_strip_f(re, *ratios) / offset_strip_j(re, *ratios)
    assert np.all((quotient > 3.0) & (quotient < 7.0))


def test_angles_are_in_degrees() -> None:
    """Chang & Wang 1997: (angle/90)^0.27, so 28 over 14 degrees is 2^0.27; radians would be far too low."""
    steep, shallow = (float(louvred_j(300.0, angle_deg=angle, **LOUVRES)) for angle in (28.0, 14.0))
    assert steep / shallow == pytest.approx(2.0**0.27)
    assert float(louvred_j(300.0, angle_deg=np.radians(28.0), **LOUVRES)) < 0.4 * steep


@pytest.mark.parametrize("function", [louvred_j, louvred_f])
def test_louvres_in_millimetres_and_in_metres_are_the_same_fin(function: object) -> None:
    in_mm = {key: 1e3 * value for key, value in LOUVRES.items()}
    re = np.array([60.0, 180.0, 900.0])
    np.testing.assert_allclose(
        function(re, angle_deg=28.0, **in_mm),  # type: ignore[operator]
        function(re, angle_deg=28.0, **LOUVRES),  # type: ignore[operator]
        rtol=1e-12,
    )


def test_the_two_fits_of_louvre_friction_meet_and_join_smoothly() -> None:
    """The two fits agree within 15 % where they meet (Re 130 to 230), and the loss never falls with flow."""
    re = np.arange(27.0, 5000.0, 1.0)
    f = louvred_f(re, angle_deg=28.0, **LOUVRES)
    assert np.max(np.abs(np.diff(np.log(f)))) < 0.06
    assert np.all(np.diff(f * re**2) > 0.0)
    slow, fast = f[re == 130.0][0], f[re == 230.0][0]
    assert (slow / fast) == pytest.approx((230.0 / 130.0) ** 0.65, rel=0.15)


def test_louvre_friction_below_the_fitted_range_is_that_of_its_edge() -> None:
    """Fitted from Re 27 (Chang et al. 2000, from memory): kept below it, and falling with the flow from there on."""
    f = louvred_f(np.array([1.0, 20.0, 27.0, 27.5, 28.0, 29.0]), angle_deg=28.0, **LOUVRES)
    assert f[0] == f[1] == f[2]
    assert np.all(np.diff(f[2:]) < 0.0)


def test_louvre_friction_over_heat_transfer_is_that_of_louvred_radiators() -> None:
    """f/j of 3 to 8 from Re 100 (common practice, no source)."""
    re = np.geomspace(100.0, 3000.0, 30)
    for change in ({}, {"fin_pitch": 2.0e-3}, {"louvre_pitch": 1.6e-3}, {"depth": 40e-3}):
        fin = {**LOUVRES, **change}
        quotient = louvred_f(re, angle_deg=28.0, **fin) / louvred_j(re, angle_deg=28.0, **fin)
        assert np.all((quotient > 3.0) & (quotient < 8.0)), change


def test_a_fin_is_perfect_without_flow_and_falls_with_length() -> None:
    assert fin_efficiency(0.0, 180.0, 1e-4, 4e-3) == pytest.approx(1.0)
    found = fin_efficiency(120.0, 180.0, 1e-4, np.array([1e-3, 4e-3, 8e-3, 0.1]))
    assert np.all(np.diff(found) < 0.0)
    assert found[-1] == pytest.approx(1.0 / (np.sqrt(2.0 * 120.0 / (180.0 * 1e-4)) * 0.1), rel=1e-3)
