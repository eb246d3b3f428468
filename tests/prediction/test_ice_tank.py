"""The loop stepped while ice melts: against closed forms, a plain march of the same equations, and published times."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from configurator.brief.tables import IceKind
from configurator.foundations.freezing import WATER_FREEZES_K
from configurator.physics.ice import LATENT_HEAT, heat_to_melt
from configurator.prediction import ice_tank
from configurator.prediction.conditions import Conditions, Piece
from configurator.prediction.ice_tank import IceFilling, IceStep, IceTank, Vessel, ice_steps
from configurator.prediction.march import march
from configurator.prediction.report import thermal_report
from tests.prediction.made_kits import Made, conditions, moment, plain_kit, shelf

CUBES = IceFilling("ice cubes", 10.0, 260.0, 15.0, 0.4, WATER_FREEZES_K, WATER_FREEZES_K + 25, 3, 2700.0)
PASS = (Piece(moment(0.4, 0.0), 4.0), Piece(moment(1.0, 40.0), 9.0))


def iced(*pieces: Piece, ice: IceFilling = CUBES, **changes: Any) -> Conditions:
    """A drag pass, on water of 2 degC with ice in it."""
    return conditions(*(pieces or PASS), ice=ice, start_k=WATER_FREEZES_K + 2, **changes)


def drag(reservoir_m3: float = 30e-3) -> Made:
    """A core that takes much heat, no front, and a tank of so much water and ice."""
    return plain_kit(600.0, None, reservoir_m3=reservoir_m3)


def vessel_and_tank(kg: float, total_kg: float, per_kg: float, g: float, hot_k: float) -> tuple[Vessel, IceTank]:
    """Water and ice of 4186 J/(kg K) in one stirred vessel that a core of G warms."""
    capacity = total_kg * 4186.0
    vessel = Vessel(np.array([[[-g / capacity]]]), np.array([[g * hot_k / capacity]]))
    return vessel, IceTank(kg, LATENT_HEAT, (per_kg, per_kg), np.array([capacity]), np.array([4186.0]))


def run_to_end(vessel: Vessel, tank: IceTank, seconds: float, start_k: float, **how: Any) -> list[IceStep]:
    """Every step."""
    return list(ice_steps(vessel, tank, True, seconds, np.array([[start_k]]), np.array([tank.start_kg]), **how))


def test_a_well_stirred_tank_holds_0_degc_until_its_ice_is_gone_then_warms() -> None:
    """10 kg of ice among 15 kg, core of 176 W/K, charge of 150 degC: 10 x 333427 / 26400 = 126.298 s at 0 degC, then
    150 (1 - exp(-176 t / (15 x 4186))): 12.097699 degC after 30 s, 42.845042 degC after 120 s. Recomputed in
    independent code; the closed form is for an endless conductance, here 4 MW/K to each kilogram.
    """
    vessel, tank = vessel_and_tank(10.0, 15.0, 4e6, 176.0, WATER_FREEZES_K + 150)
    gone_s = 10 * LATENT_HEAT / (176 * 150)
    assert gone_s == pytest.approx(126.298, abs=1e-3)
    before = run_to_end(vessel, tank, 126.2, WATER_FREEZES_K)
    assert 0.0 < before[-1].kg[0] < 0.02
    assert all(abs(step.state[0, 0] - WATER_FREEZES_K) < 0.1 for step in before), "the last grams have little surface"
    assert all(abs(step.state[0, 0] - WATER_FREEZES_K) < 2e-3 for step in before[:200])
    for after_s, expected in ((30, 12.097699), (120, 42.845042)):
        steps = run_to_end(vessel, tank, gone_s + after_s, WATER_FREEZES_K)
        assert steps[-1].kg[0] == 0.0
        assert steps[-1].state[0, 0] - WATER_FREEZES_K == pytest.approx(expected, abs=2e-3)


def plain_march(
    m: NDArray[np.float64], b: NDArray[np.float64], tank: IceTank, state: NDArray[np.float64], kg: float, seconds: float
) -> tuple[NDArray[np.float64], float, float]:
    """State, ice, and when the ice was gone: the equations as they are, by fourth-order Runge-Kutta of 5 ms.

    Published: the classical scheme, any textbook of numerical methods; from memory.
    """
    full, c, h = float(tank.full_j_per_k[0]), float(tank.liquid_j_per_kg_k[0]), tank.heat_j_per_kg
    dt, gone = 5e-3, math.inf

    def slope(x: NDArray[np.float64], left: float) -> tuple[NDArray[np.float64], float]:
        g = tank.per_kg[1] * tank.start_kg * (max(left, 0.0) / tank.start_kg) ** (2 / 3)
        above = x[0] - WATER_FREEZES_K
        dx = m @ x + b
        of_tank = full - c * max(left, 0.0)
        dx[0] = (dx[0] * full - g * above * (1 + c * above / h)) / of_tank
        return dx, -g * above / h

    for index in range(round(seconds / dt)):
        a1, k1 = slope(state, kg)
        a2, k2 = slope(state + dt / 2 * a1, kg + dt / 2 * k1)
        a3, k3 = slope(state + dt / 2 * a2, kg + dt / 2 * k2)
        a4, k4 = slope(state + dt * a3, kg + dt * k3)
        state = state + dt / 6 * (a1 + 2 * a2 + 2 * a3 + a4)
        kg = kg + dt / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
        if kg <= 1e-6 and gone == math.inf:
            gone, kg = (index + 1) * dt, 0.0
    return state, max(kg, 0.0), gone


@pytest.mark.parametrize(("kg", "per_kg", "litres"), [(10.0, 260.0, 30), (10.0, 650.0, 18), (4.0, 33.0, 12)])
def test_a_pass_is_that_of_a_plain_march_of_the_same_equations(kg: float, per_kg: float, litres: float) -> None:
    at = iced(ice=replace(CUBES, start_kg=kg, stirred=per_kg, band=0.0))
    found = drag(litres * 1e-3).predict(at)
    assert found.tank is not None
    state, left = found.start[0].copy(), kg
    for piece in at.pieces:
        load = found.loads[piece.moment]
        state, left, _ = plain_march(load.m[0], load.b[0], found.tank, state, left, piece.seconds)
    assert found.course.end[0] == pytest.approx(state, abs=0.02)
    assert found.course.ice_kg[0] == pytest.approx(left, abs=2e-3)


@pytest.mark.parametrize(("kg", "per_kg"), [(0.3, 650.0), (1.0, 260.0), (0.5, 3000.0)])
def test_the_moment_when_the_ice_is_gone(kg: float, per_kg: float) -> None:
    """Half a second of step holds it to what a plain march of 5 ms finds, and no step ends with less than none."""
    vessel, tank = vessel_and_tank(kg, 12.0, per_kg, 500.0, WATER_FREEZES_K + 120)
    seconds = 120.0
    state, _, gone_s = plain_march(vessel.m[0], vessel.b[0], tank, np.array([WATER_FREEZES_K + 20.0]), kg, seconds)
    assert 1.0 < gone_s < seconds - 5
    steps = run_to_end(vessel, tank, seconds, WATER_FREEZES_K + 20.0)
    assert all(step.kg[0] >= 0.0 for step in steps)
    assert steps[int((gone_s - 0.6) / 0.5)].kg[0] > 0.0
    assert steps[math.ceil((gone_s + 0.6) / 0.5)].kg[0] < 1e-6
    assert steps[math.ceil((gone_s + 1.1) / 0.5)].kg[0] == 0.0
    assert steps[-1].state[0, 0] == pytest.approx(state[0], abs=0.02)


def test_the_end_of_the_ice_is_found_to_a_millisecond() -> None:
    """What melts up to it, by the step's own sum, is all of the ice but what melts in a millisecond."""
    vessel, tank = vessel_and_tank(1.0, 12.0, 650.0, 500.0, WATER_FREEZES_K + 120)
    state, kg = np.array([[WATER_FREEZES_K + 20.0]]), np.array([0.05])
    held = ice_tank._held(vessel, tank, 650.0, kg, state[:, 0])
    at = float(ice_tank._until_gone(held, tank, 20.0, state, kg)[0])
    early, late = (
        float(held.melted(ice_tank.integrals(held.m, held.b, state, s), s, tank)[0]) for s in (at - 1e-3, at)
    )
    assert early < 0.05 <= late
    assert 0.1 < at < 19.9


@pytest.mark.parametrize("kind", ["crushed", "cubes", "cubes-in-bag", "block"])
@pytest.mark.parametrize("litres", [16.5, 45])
def test_half_the_step_changes_nothing_that_is_told(kind: str, litres: float, monkeypatch: pytest.MonkeyPatch) -> None:
    of_kind = shelf()[1].ice[kind]
    long_pull = Piece(moment(1.0, 40.0), 60.0)
    at = iced(*PASS, long_pull, ice=replace(CUBES, stirred=float(of_kind.stirred), still=float(of_kind.still)))
    usual = drag(litres * 1e-3).predict(at)
    loads, tank = usual.loads, usual.tank
    halved = _with_steps(monkeypatch, ice_tank.ICE_STEP_S / 2, lambda: march(loads, at.pieces, usual.start, tank))
    assert usual.course.end[0] == pytest.approx(halved.end[0], abs=0.02)
    assert usual.course.charge_out_worst_k[0] == pytest.approx(halved.charge_out_worst_k[0], abs=0.02)
    assert usual.course.ice_kg[0] == pytest.approx(halved.ice_kg[0], abs=1e-3)
    coarse = _with_steps(monkeypatch, 20.0, lambda: march(loads, at.pieces, usual.start, tank))
    if kind == "crushed" and litres < 20:
        assert abs(coarse.end[0] - usual.course.end[0]).max() > 0.02, "with far too long steps the check would fail"


def _with_steps(monkeypatch: pytest.MonkeyPatch, seconds: float, run: Any) -> Any:
    defaults = list(ice_steps.__defaults__ or ())
    assert defaults == [ice_tank.ICE_STEP_S]
    with monkeypatch.context() as patched:
        patched.setattr(ice_steps, "__defaults__", (seconds,))
        return run()


@pytest.mark.parametrize("end", [-1, 0, 1])
def test_next_to_no_ice_is_no_ice(end: int) -> None:
    at = conditions(*PASS, start_k=WATER_FREEZES_K + 2)
    bare, as_much_water = drag().predict(at, end), drag(20e-3).predict(at, end)
    speck = drag().predict(iced(ice=replace(CUBES, start_kg=1e-7)), end)
    assert speck.course.end == pytest.approx(bare.course.end, abs=1e-3)
    assert speck.course.charge_out_worst_k == pytest.approx(bare.course.charge_out_worst_k, abs=1e-3)
    assert 0.0 <= speck.course.ice_kg[0] <= 1e-7
    iced_course = drag().predict(iced(), end).course
    assert np.all(iced_course.end[0] < as_much_water.course.end[0] - 0.2), "and ten kilograms are not"


@pytest.mark.parametrize("kg", [0.05, 1.0, 10.0])
@pytest.mark.parametrize("pump", [True, False])
def test_energy_closes_with_ice_and_not_without_its_term(kg: float, pump: bool) -> None:
    at = iced(*PASS, Piece(moment(0.02, 0.0, pump=pump), 30.0), ice=replace(CUBES, start_kg=kg))
    made = drag()
    (thermal,), (ledger,) = thermal_report(made.bench, made.columns, at, at)
    assert ledger.closure < 1e-9
    assert thermal.ice is not None
    assert ledger.ice_j >= thermal.ice.melted_kg * LATENT_HEAT * 0.999
    assert 0.0 < thermal.ice.melted_kg <= kg
    assert thermal.ice.left_kg == pytest.approx(kg - thermal.ice.melted_kg)
    assert replace(ledger, ice_j=0.0).closure > 1e-3


def test_still_water_melts_less_than_stirred() -> None:
    standing = Piece(moment(0.02, 0.0, pump=False), 60.0)
    running = Piece(moment(0.02, 0.0), 60.0)
    left = [drag().predict(iced(piece)).course.ice_kg[0] for piece in (standing, running)]
    assert left[0] > left[1]


# --- published times --------------------------------------------------------------------------------------------------

BLOCK_KG, BLOCK_K, WATER_K = 0.33, WATER_FREEZES_K - 10, WATER_FREEZES_K + 10
PUBLISHED_MIN = {("bare", "flowing"): 3.5, ("bag", "flowing"): 27.5, ("bare", "still"): 75.5, ("bag", "still"): 105.0}
"""Slides of a university course in heat transfer: 0.33 kg of ice at -10 degC in water of 10 degC, flowing at 0.05 kg/s
or 5 L standing, bare or in a plastic bag; minutes until it is melted. Read as an excerpt; the shape is not told."""


def melt_minutes(kind: IceKind, how: str) -> float:
    """How long a kind of ice takes: flowing water stays at 10 degC, standing water cools."""
    per_kg = float(kind.stirred if how == "flowing" else kind.still)
    capacity = np.array([4186.0 * (1e5 if how == "flowing" else 5.0 + BLOCK_KG)])
    tank = IceTank(BLOCK_KG, float(heat_to_melt(BLOCK_K)), (per_kg, per_kg), capacity, np.array([4186.0]))
    vessel = Vessel(np.zeros((1, 1, 1)), np.zeros((1, 1)))
    now = 0.0
    for step in ice_steps(vessel, tank, True, 5e4, np.array([[WATER_K]]), np.array([BLOCK_KG]), 20.0):
        now += step.seconds
        if not step.kg.any():
            return now / 60
    return math.inf


@pytest.mark.parametrize(("surface", "how"), [key for key in PUBLISHED_MIN if key != ("bare", "flowing")])
def test_bag_and_standing_water_slow_ice_as_published(surface: str, how: str) -> None:
    """Ratios to bare ice in flowing water, within a factor of 1.5: the size of the pieces drops out."""
    kinds = shelf()[1].ice
    ratio = melt_minutes(kinds["cubes-in-bag" if surface == "bag" else "cubes"], how) / melt_minutes(
        kinds["cubes"], "flowing"
    )
    published = PUBLISHED_MIN[surface, how] / PUBLISHED_MIN["bare", "flowing"]
    assert 1 / 1.5 < ratio / published < 1.5


def test_finer_ice_melts_faster() -> None:
    kinds = shelf()[1].ice
    minutes = [melt_minutes(kinds[kind], "flowing") for kind in ("crushed", "cubes", "block", "cubes-in-bag")]
    assert minutes == sorted(minutes)
