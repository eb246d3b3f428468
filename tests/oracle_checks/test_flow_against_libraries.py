"""Atmosphere, charger, pipes, pump curves and lumps against general-purpose libraries."""

from __future__ import annotations

import warnings

import fluids
import fluids.fittings
import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from scipy.integrate import solve_ivp
from scipy.interpolate import PchipInterpolator
from scipy.linalg import expm
from scipy.optimize import brentq

from configurator.foundations.air import specific_heat
from configurator.physics.atmosphere import standard_atmosphere
from configurator.physics.compression import outlet_temperature
from configurator.physics.lumps import exponential, integrals, ring, step
from configurator.physics.operating_point import curve_slopes, head, operating_flow, stack_curves
from configurator.physics.pipe_flow import (
    area,
    bend_factor,
    contraction_factor,
    expansion_factor,
    friction_factor,
    pipe_loss,
    reynolds,
)

pytestmark = pytest.mark.oracle

EARTH_RADIUS_M = 6_356_766.0


@pytest.mark.parametrize("geopotential_m", [-400.0, 0.0, 500.0, 1000.0, 2000.0, 4500.0, 10_900.0])
def test_atmosphere_is_that_of_fluids_at_the_same_geopotential(geopotential_m: float) -> None:
    """fluids takes geometric altitude, Z = r H/(r - H); r from ISO 2533 (from memory)."""
    other = fluids.ATMOSPHERE_1976(EARTH_RADIUS_M * geopotential_m / (EARTH_RADIUS_M - geopotential_m))
    ours = standard_atmosphere(geopotential_m)
    assert float(ours.temperature_k) == pytest.approx(other.T, rel=1e-9)
    assert float(ours.pressure_pa) == pytest.approx(other.P, rel=2e-6)
    assert float(ours.density) == pytest.approx(other.rho, rel=2e-6)


def test_metres_of_a_map_taken_as_geopotential_cost_a_fiftieth_of_a_percent_at_3000_m() -> None:
    off = float(standard_atmosphere(3000.0).pressure_pa) / fluids.ATMOSPHERE_1976(3000.0).P - 1.0
    assert off == pytest.approx(-0.00018, abs=0.00002)


@pytest.mark.parametrize("inlet_k", [263.15, 288.15, 313.15])
@pytest.mark.parametrize("ratio", [1.2, 1.8, 2.4, 3.0])
@pytest.mark.parametrize("efficiency", [0.55, 0.75])
def test_outlet_temperature_is_that_of_the_real_gas(inlet_k: float, ratio: float, efficiency: float) -> None:
    """CoolProp: isentropic end state by entropy, then the enthalpy rise over the efficiency.

    One constant gamma reads high, the more the hotter the outlet: 0.4 % of T2, 0.6 % above 500 K.
    """
    h1, s1 = (PropsSI(x, "T", inlet_k, "P", 1e5, "Air") for x in ("H", "S"))
    h2s = PropsSI("H", "P", 1e5 * ratio, "S", s1, "Air")
    h2 = h1 + (h2s - h1) / efficiency
    real = PropsSI("T", "P", 1e5 * ratio, "H", h2, "Air")
    ours = float(outlet_temperature(inlet_k, ratio, efficiency))
    assert ours == pytest.approx(real, rel=4e-3 if real < 500.0 else 6e-3)
    assert ours > real - 0.1
    power = float(specific_heat((inlet_k + ours) / 2)) * (ours - inlet_k)
    assert power == pytest.approx(h2 - h1, rel=1.5e-2)


@pytest.mark.parametrize("roughness", [0.0, 1e-5, 1e-3, 2e-2])
def test_friction_factor_is_colebrook_as_fluids_solves_it(roughness: float) -> None:
    re = np.geomspace(4000.0, 1e7, 60)
    other = [fluids.friction.Colebrook(x, roughness, tol=-1) for x in re]
    assert friction_factor(re, roughness) == pytest.approx(other, rel=1e-9)


def test_loss_of_a_hose_is_that_of_fluids_away_from_the_uncertain_range() -> None:
    """Laminar below its switch at Re 2040, turbulent above 4000; in between the two differ by design."""
    bore, length, rough, rho = 0.019, 2.5, 1.5e-6, 1060.0
    compared = 0
    for litres in (1.0, 3.0, 8.0, 20.0, 45.0, 90.0):
        for mu in (5e-4, 2e-3, 9e-3):
            flow = litres * 1e-3 / 60
            re = float(reynolds(flow, bore, rho, mu))
            if 2000.0 < re < 4000.0:
                continue
            f = fluids.friction_factor(Re=re, eD=rough / bore, Method="Colebrook" if re > 4000.0 else None)
            other = fluids.core.dP_from_K(f * length / bore, rho, flow / (np.pi * bore**2 / 4))
            assert float(pipe_loss(flow, length, bore, rough, rho, mu)) == pytest.approx(other, rel=1e-8)
            compared += 1
    assert compared >= 14


@pytest.mark.parametrize("ratio", [0.3, 0.5, 0.7, 0.9])
def test_steps_of_bore_are_those_of_fluids(ratio: float) -> None:
    assert float(expansion_factor(ratio**2)) == pytest.approx(fluids.diffuser_sharp(ratio, 1.0), rel=1e-12)
    crane = fluids.fittings.contraction_conical_Crane(Di1=1.0, Di2=ratio, angle=180)
    assert float(contraction_factor(ratio**2)) == pytest.approx(crane, rel=1e-12)


@pytest.mark.parametrize("bore_mm", [13.0, 19.0, 25.0, 38.0])
@pytest.mark.parametrize("radii", [1.0, 1.5, 2.0, 4.0])
def test_bends_are_near_those_of_fluids(bore_mm: float, radii: float) -> None:
    """Crane's bends as fluids has them (fT of the nominal pipe): 8 %. Rennels, whose bends are smooth: 45 %."""
    ours = float(bend_factor(bore_mm * 1e-3, radii))
    bend = {"Di": bore_mm * 1e-3, "angle": 90.0, "bend_diameters": radii}
    assert ours == pytest.approx(fluids.bend_rounded(**bend, method="Crane"), rel=0.08)
    rennels = fluids.bend_rounded(**bend, Re=3e4, roughness=1.5e-6, method="Rennels")
    assert ours == pytest.approx(rennels, rel=0.45)


PUMPS = [
    ([0.0, 8.0, 16.0, 24.0, 32.0], [70.0, 64.0, 51.0, 30.0, 0.0]),
    ([0.0, 10.0, 30.0, 31.0], [50.0, 49.9, 10.0, 9.9]),
    ([0.0, 20.0], [30.0, 0.0]),
    ([0.0, 5.0, 6.0, 20.0, 70.0, 75.0], [90.0, 60.0, 58.0, 57.0, 10.0, 0.0]),
]


@pytest.mark.parametrize(("flows", "heads"), PUMPS)
def test_pump_curve_is_scipy_s_monotone_cubic(flows: list[float], heads: list[float]) -> None:
    other = PchipInterpolator(flows, heads)
    fine = np.linspace(0.0, flows[-1], 500)
    assert head(stack_curves([(flows, heads)]), 0, fine) == pytest.approx(other(fine), rel=1e-12, abs=1e-11)


def test_slopes_are_scipy_s_for_any_points() -> None:
    random = np.random.default_rng(8)
    for count in (2, 3, 4, 9, 30):
        for _ in range(40):
            x, y = np.cumsum(random.uniform(0.1, 5.0, count)), random.uniform(-3.0, 9.0, count)
            ours = curve_slopes(x, y)
            assert ours == pytest.approx(PchipInterpolator(x, y).derivative()(x), rel=1e-9, abs=1e-9)


def test_operating_flow_is_the_root_that_scipy_finds() -> None:
    points = ([x * 1e-3 / 60 for x in PUMPS[0][0]], [x * 1e3 for x in PUMPS[0][1]])
    curves = stack_curves([points])
    other = PchipInterpolator(*points)
    for length, mu in ((1.0, 7e-4), (4.0, 2e-3), (9.0, 1e-2)):

        def loss(q: np.ndarray, length: float = length, mu: float = mu) -> np.ndarray:
            steps = 6.0 / area(0.016) ** 2 * 1050.0 * q**2 / 2
            return pipe_loss(q, length, 0.016, 1.5e-6, 1050.0, mu) + steps

        found = operating_flow(lambda q: head(curves, 0, q), loss, np.array(points[0][-1]))
        root = brentq(
            lambda q, loss=loss: float(other(q)) - float(loss(np.array(q))), 1e-9, points[0][-1], xtol=1e-17
        )
        assert float(found) == pytest.approx(root, rel=1e-9)


def rings(count: int, lumps: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    random = np.random.default_rng(lumps)
    rate = random.uniform(300.0, 4000.0, count)
    capacities = random.uniform(200.0, 30000.0, (count, lumps))
    couplings = random.uniform(0.0, 0.6, (count, lumps)) * rate[:, None]
    to, heat = random.uniform(280.0, 430.0, (count, lumps)), random.uniform(0.0, 300.0, (count, lumps))
    m, b = ring(capacities, rate, couplings, to, heat)
    return m, b, random.uniform(0.01, 120.0, count)


@pytest.mark.parametrize("lumps", [1, 2, 3, 6, 9])
def test_exponential_is_scipy_s(lumps: int) -> None:
    """Both scale and square; they agree within 1e-12 of the largest entry."""
    m, _, seconds = rings(100, lumps)
    a = m * seconds[:, None, None]
    other = expm(a)
    largest = np.abs(other).max(axis=(-2, -1), keepdims=True)
    norm = np.abs(a).sum(axis=-1).max(axis=-1)
    assert np.max(np.abs(exponential(a, norm) - other) / largest) < 1e-12


@pytest.mark.parametrize("lumps", [2, 3, 6])
def test_step_and_integral_are_those_of_an_adaptive_solver(lumps: int) -> None:
    """scipy's Radau at 1e-10, the integral carried as further unknowns: within 1e-5 K and 1e-6 of it."""
    m, b, seconds = rings(5, lumps)
    x0 = np.linspace(290.0, 330.0, lumps)
    for i in range(5):

        def rates(_t: float, y: np.ndarray, i: int = i) -> np.ndarray:
            return np.concatenate((m[i] @ y[:lumps] + b[i], y[:lumps]))

        start = np.concatenate((x0, np.zeros(lumps)))
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            march = solve_ivp(rates, (0.0, float(seconds[i])), start, method="Radau", rtol=1e-10, atol=1e-9)
        phi, shift = step(m[i], b[i], float(seconds[i]))
        assert phi @ x0 + shift == pytest.approx(march.y[:lumps, -1], abs=1e-5)
        assert integrals(m[i], b[i], x0, float(seconds[i])) == pytest.approx(march.y[lumps:, -1], rel=1e-6)
