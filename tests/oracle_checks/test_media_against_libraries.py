"""Air and coolants held against CoolProp and iapws; the coolant tables made anew from CoolProp."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
from CoolProp.CoolProp import HAPropsSI, PropsSI
from iapws import IAPWS97

from configurator.foundations import air
from configurator.foundations.boiling import boiling_point_k, vapour_pressure_pa
from configurator.foundations.coolants import Coolant, freezing_point_k, properties, valid_range
from configurator.foundations.moist_air import dew_point_at_pressure_k, saturation_pa
from configurator.physics.atmosphere import standard_atmosphere
from configurator.physics.condensate import latent_heat_j_per_kg
from configurator.physics.suction import suction_margin_pa

pytestmark = pytest.mark.oracle


def _maker() -> ModuleType:
    path = Path(__file__).with_name("make_coolant_tables.py")
    spec = importlib.util.spec_from_file_location("make_coolant_tables", path)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_coolant_tables_are_what_the_script_makes() -> None:
    maker = _maker()
    assert maker.text(maker.make()) == maker.TABLES.read_text(encoding="utf-8")


@pytest.mark.parametrize("pressure_pa", [1e5, 2e5, 3e5])
def test_air_keeps_to_the_reference_equation(pressure_pa: float) -> None:
    t_k = np.arange(250.0, 501.0, 10.0)

    def reference(letter: str) -> np.ndarray:
        return np.array([PropsSI(letter, "T", t, "P", pressure_pa, "Air") for t in t_k])

    np.testing.assert_allclose(air.specific_heat(t_k), reference("C"), rtol=5e-3)
    np.testing.assert_allclose(air.viscosity(t_k), reference("V"), rtol=2e-2)
    np.testing.assert_allclose(air.conductivity(t_k), reference("L"), rtol=2.5e-2)
    np.testing.assert_allclose(air.density(pressure_pa, t_k), reference("D"), rtol=5e-3)


@pytest.mark.parametrize("fluid,kind", [("AEG", "ethylene glycol"), ("APG", "propylene glycol")])
@pytest.mark.parametrize("share", [0.1, 0.13, 0.275, 0.33, 0.5, 0.58, 0.6])
def test_glycol_between_the_points_keeps_to_the_fitted_tables(fluid: str, kind: str, share: float) -> None:
    """Off the grid in share and temperature: what interpolation adds is small beside the spread of tables."""
    coolant = Coolant(kind, share)  # type: ignore[arg-type]
    name = f"INCOMP::{fluid}[{share}]"
    least, most = valid_range(coolant)
    t_k = np.arange(least + 0.4, most, 3.7)
    liquid = properties(coolant, t_k)
    found = {"D": liquid.density, "C": liquid.specific_heat, "V": liquid.viscosity, "L": liquid.conductivity}
    for letter, room in {"D": 5e-4, "C": 2e-3, "V": 2e-2, "L": 3e-3}.items():
        reference = np.array([PropsSI(letter, "T", t, "P", 3e5, name) for t in t_k])
        np.testing.assert_allclose(found[letter], reference, rtol=room, err_msg=letter)
    freezing = PropsSI("T_freeze", "T", 300.0, "P", 3e5, name)
    assert freezing_point_k(coolant) == pytest.approx(freezing, abs=0.2)


def test_water_keeps_to_the_industrial_formulation() -> None:
    t_k = np.arange(274.0, 400.0, 7.3)
    liquid = properties(Coolant("water", 0.0), t_k)
    reference = [IAPWS97(T=t, P=0.3) for t in t_k]
    np.testing.assert_allclose(liquid.density, [w.rho for w in reference], rtol=1e-3)
    np.testing.assert_allclose(liquid.specific_heat, [w.cp * 1e3 for w in reference], rtol=3e-3)
    np.testing.assert_allclose(liquid.viscosity, [w.mu for w in reference], rtol=2e-2)
    np.testing.assert_allclose(liquid.conductivity, [w.k for w in reference], rtol=1e-2)


@pytest.mark.parametrize("altitude_m", [0.0, 500.0, 1000.0, 2000.0, 3000.0])
def test_water_boils_where_the_industrial_formulation_has_it(altitude_m: float) -> None:
    """Caps from none to 1.4 bar over the air of the site; IAPWS-IF97, another equation than that of the package."""
    for cap_bar in np.arange(0.0, 1.41, 0.1):
        pressure = float(standard_atmosphere(altitude_m).pressure_pa) + float(cap_bar) * 1e5
        reference = IAPWS97(P=pressure / 1e6, x=0).T
        assert boiling_point_k(Coolant("water", 0.0), pressure) == pytest.approx(reference, abs=0.02)


def test_vapour_of_water_is_that_of_the_library() -> None:
    for t_k in np.arange(300.0, 440.0, 7.0):
        found = vapour_pressure_pa(Coolant("water", 0.0), float(t_k))
        assert found == pytest.approx(PropsSI("P", "T", float(t_k), "Q", 0, "Water"), rel=1e-3)


@pytest.mark.parametrize("t_c", [20.0, 60.0, 90.0, 98.0])
@pytest.mark.parametrize("above_m", [-0.3, 0.0, 0.5])
def test_the_suction_margin_is_the_sum_with_the_steam_tables(t_c: float, above_m: float) -> None:
    """Air of sea level, 3 kPa lost in the hose; vapour and density of water: IAPWS R7-97 by the library."""
    t_k, water = t_c + 273.15, IAPWS97(T=t_c + 273.15, x=0)
    by_hand = 101325.0 + water.rho * 9.80665 * above_m - 3000.0 - water.P * 1e6
    vapour, density = vapour_pressure_pa(Coolant("water", 0.0), t_k), properties(Coolant("water", 0.0), t_k).density
    assert suction_margin_pa(101325.0, above_m, 3000.0, vapour, float(density)) == pytest.approx(by_hand, abs=40.0)


def test_shares_by_mass_and_by_volume_are_told_apart() -> None:
    """50 % by volume of ethylene glycol is 52.7 % by mass; a fit by mass at 50 % freezes 1 K higher."""
    by_volume = freezing_point_k(Coolant("ethylene glycol", 0.5))
    by_mass = PropsSI("T_freeze", "T", 300.0, "P", 3e5, "INCOMP::MEG[0.5]")
    assert by_mass - by_volume > 1.0
    same_mixture = PropsSI("T_freeze", "T", 300.0, "P", 3e5, "INCOMP::MEG[0.5271]")
    assert same_mixture == pytest.approx(by_volume, abs=3.0)


@pytest.mark.parametrize(
    "kind,share,fluid,by_mass",
    [
        ("ethylene glycol", 0.3, "MEG", 0.3232),
        ("ethylene glycol", 0.5, "MEG", 0.5271),
        ("propylene glycol", 0.3, "MPG", 0.3079),
        ("propylene glycol", 0.5, "MPG", 0.5093),
    ],
)
def test_another_source_of_the_same_mixture_agrees(
    kind: str, share: float, fluid: str, by_mass: float
) -> None:
    """Melinder, IIR 2010, by mass (CoolProp MEG, MPG), at 20 degC.

    Shares converted with the densities of the pure liquids (1112.5, 1036, 998.2 kg/m3), contraction left out.
    """
    coolant = Coolant(kind, share)  # type: ignore[arg-type]
    liquid = properties(coolant, 293.15)
    name = f"INCOMP::{fluid}[{by_mass}]"
    found = {"D": liquid.density, "C": liquid.specific_heat, "V": liquid.viscosity, "L": liquid.conductivity}
    for letter, room in {"D": 1e-2, "C": 2e-2, "V": 8e-2, "L": 3e-2}.items():
        other = PropsSI(letter, "T", 293.15, "P", 101325.0, name)
        assert float(found[letter]) == pytest.approx(other, rel=room), letter
    freezing = PropsSI("T_freeze", "T", 293.15, "P", 101325.0, name)
    assert freezing_point_k(coolant) == pytest.approx(freezing, abs=3.0)


@pytest.mark.parametrize("t_c", [1.0, 15.0, 30.0, 45.0, 80.0])
def test_water_vapour_saturates_as_in_the_steam_tables(t_c: float) -> None:
    t_k = t_c + 273.15
    assert saturation_pa(t_k) == pytest.approx(IAPWS97(T=t_k, x=0).P * 1e6, rel=5e-4)


@pytest.mark.parametrize("air_c", [15.0, 25.0, 35.0])
@pytest.mark.parametrize("humidity", [0.3, 0.6, 0.9])
@pytest.mark.parametrize("times", [1.5, 2.0, 3.0])
def test_the_dew_point_of_compressed_air_is_that_of_real_moist_air(air_c: float, humidity: float, times: float) -> None:
    """Real moist air has its enhancement factor: within 0.15 K; all dew points here lie above freezing."""
    air_k, air_pa = air_c + 273.15, 101_325.0
    ratio = HAPropsSI("W", "T", air_k, "P", air_pa, "R", humidity)
    real = HAPropsSI("D", "T", air_k + 150.0, "P", times * air_pa, "W", ratio)
    assert dew_point_at_pressure_k(air_k, humidity, air_pa, times * air_pa) == pytest.approx(real, abs=0.15)


@pytest.mark.parametrize("t_c", [1.0, 15.0, 30.0, 45.0, 80.0])
def test_vapour_gives_off_the_latent_heat_of_the_steam_tables(t_c: float) -> None:
    t_k = t_c + 273.15
    latent = (IAPWS97(T=t_k, x=1).h - IAPWS97(T=t_k, x=0).h) * 1000.0
    assert float(latent_heat_j_per_kg(t_k)) == pytest.approx(latent, rel=4e-3)
