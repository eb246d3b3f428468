"""Laws of boiling over its range, each beside a case just outside it where it fails."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.foundations.boiling import boiling_point_k
from configurator.foundations.coolants import Coolant, Kind
from configurator.physics.atmosphere import standard_atmosphere

GLYCOLS: st.SearchStrategy[Kind] = st.sampled_from(("ethylene glycol", "propylene glycol"))
SHARES = st.floats(0.01, 0.58)
CAPS_PA = st.floats(0.0, 2e5)
METRES = st.floats(0.0, 3000.0)


def boils_k(kind: Kind, share: float, cap_pa: float, altitude_m: float) -> float:
    return boiling_point_k(Coolant(kind, share), float(standard_atmosphere(altitude_m).pressure_pa) + cap_pa)


@given(GLYCOLS, SHARES, CAPS_PA, METRES, st.floats(100.0, 1e5))
def test_more_cap_boils_hotter(kind: Kind, share: float, cap: float, metres: float, more: float) -> None:
    assert boils_k(kind, share, cap + more, metres) > boils_k(kind, share, cap, metres)
    assert boils_k("water", 0.0, cap + more, metres) > boils_k("water", 0.0, cap, metres)


def test_outside_above_the_critical_pressure_no_cap_makes_it_boil_hotter() -> None:
    """Water has no boiling point above 22.064 MPa (published, IAPWS)."""
    water = Coolant("water", 0.0)
    assert boiling_point_k(water, 21.9e6) < boiling_point_k(water, 22.0e6)
    assert boiling_point_k(water, 30e6) == pytest.approx(boiling_point_k(water, 23e6), abs=1e-8)


@given(GLYCOLS, SHARES, CAPS_PA, METRES, st.floats(10.0, 1000.0))
def test_a_higher_site_boils_colder(kind: Kind, share: float, cap: float, metres: float, more: float) -> None:
    assert boils_k(kind, share, cap, metres + more) < boils_k(kind, share, cap, metres)


def test_outside_a_cap_that_makes_up_for_the_thin_air_keeps_the_boiling_point() -> None:
    """A cap counts from the air around it: the law holds at one cap, not at one absolute pressure."""
    thin = float(standard_atmosphere(0.0).pressure_pa - standard_atmosphere(2000.0).pressure_pa)
    assert boils_k("water", 0.0, 0.5e5 + thin, 2000.0) == pytest.approx(boils_k("water", 0.0, 0.5e5, 0.0))


@given(GLYCOLS, SHARES, CAPS_PA, METRES, st.floats(0.005, 0.02))
def test_more_glycol_boils_hotter(kind: Kind, share: float, cap: float, metres: float, more: float) -> None:
    assert boils_k(kind, share + more, cap, metres) > boils_k(kind, share, cap, metres)
    assert boils_k(kind, share, cap, metres) > boils_k("water", 0.0, cap, metres)


def test_outside_no_share_above_six_tenths_is_answered() -> None:
    with pytest.raises(ValueError, match="by volume"):
        Coolant("ethylene glycol", 0.61)
