"""Finned surfaces from their geometry: one unit for all lengths, degrees for angles, bounds and trends."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.physics.compact_surfaces import (
    fin_efficiency,
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


def test_louvres_in_millimetres_and_in_metres_are_the_same_fin() -> None:
    in_mm = {key: 1e3 * value for key, value in LOUVRES.items()}
    re = np.array([60.0, 180.0, 900.0])
    np.testing.assert_allclose(
        louvred_j(re, angle_deg=28.0, **in_mm),
        louvred_j(re, angle_deg=28.0, **LOUVRES),
        rtol=1e-12,
    )


def test_a_fin_is_perfect_without_flow_and_falls_with_length() -> None:
    assert fin_efficiency(0.0, 180.0, 1e-4, 4e-3) == pytest.approx(1.0)
    found = fin_efficiency(120.0, 180.0, 1e-4, np.array([1e-3, 4e-3, 8e-3, 0.1]))
    assert np.all(np.diff(found) < 0.0)
    assert found[-1] == pytest.approx(1.0 / (np.sqrt(2.0 * 120.0 / (180.0 * 1e-4)) * 0.1), rel=1e-3)
