"""A loop with a reservoir warming up under a constant load, carried from the files to the printed course.

The case: three stirred nodes, core 3600 J/K, front exchanger 5400 J/K, reservoir 21600 J/K after it; charge 220 W/K at
150 degC, outside air at 30 degC, coolant 1200 W/K, conductances on inlet difference 176 and 720 W/K, all at 30 degC to
begin with. Charge out after 1, 5, 10, 20, 60 and 120 s: 54.003, 54.235, 55.001, 56.862, 60.914 and 62.299 degC, in
the end 62.551 degC (by matrix exponential and by an adaptive solver, the same; recomputed).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.reference_cases.carried import Told, carried

COURSE = {1: 54.003321, 5: 54.235149, 10: 55.000506, 20: 56.862274, 60: 60.913667, 120: 62.299036}
NODES = ("reservoir_c", "feed_c", "core_c", "hose_after_core_c", "exchanger_c", "hose_after_exchanger_c")
HOSE_M3 = math.pi / 4 * 0.019**2 * 0.1
LITRES_AND_KG = {"core": (0.4, 2.16), "exchanger": (0.5, 3.70), "reservoir": (5.0, 1.005)}


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Told:
    """The case as parts. Water near 40 degC carries 4.147 MJ/(m3 K), aluminium 900 J/(kg K)."""
    folder: Path = tmp_path_factory.mktemp("march")
    stores = {}
    for part, (litres, kg) in LITRES_AND_KG.items():
        stores |= {f"{part}_volume": f"{litres} L", f"{part}_mass": f"{kg} kg"}
    return carried(
        folder, **stores, power="217.6 kW", efficiency="55.328 %", air="30 degC", face_speed="4.743 m/s", lasts="120 s",
        coolant="{kinds: [water]}",
        core_point="air: 0.2176 kg/s, charge_in: 150 degC, charge_pressure: 1 bar, coolant: 17.36 L/min, "
        "coolant_in: 40 degC, fluid: water, effectiveness: 80 %, charge_loss: 1 kPa, coolant_loss: 10 kPa",
        exchanger_point="face_speed: 4.743 m/s, air_in: 30 degC, coolant: 17.36 L/min, coolant_in: 50 degC, "
        "fluid: water, effectiveness: 48 %, coolant_loss: 10 kPa",
        curve="{flow: 0 L/min, head: 60 kPa}, {flow: 17.2 L/min, head: 59 kPa}, {flow: 17.5 L/min, head: 1 kPa}",
    )  # fmt: skip


def at(told: Told, seconds: float) -> dict[str, float]:
    """The trace's record at a time."""
    return next(row for row in told.trace if abs(row["time_s"] - seconds) < 1e-6)


def test_the_course_lies_where_the_recomputed_one_does(told: Told) -> None:
    """Within 0.5 K: four short hoses (2 % of the heat capacity) and the product's own tables come on top."""
    for seconds, charge_out in COURSE.items():
        assert at(told, seconds)["charge_out_c"] == pytest.approx(charge_out, abs=0.5)
    assert told.thermal["charge_out_full_power_c"] == pytest.approx(62.550607, abs=0.5)


def slope(x: Sequence[float], row: dict[str, float], capacities: Sequence[float]) -> list[float]:
    """dT/dt of every node: what flows in, and what core and exchanger give to the liquid that enters them."""
    rate = row["coolant_l_per_min"] / 60e3 * row["coolant_kg_per_m3"] * row["coolant_j_per_kg_k"]
    into = [rate * (x[i - 1] - x[i]) for i in range(6)]
    into[1] += row["pump_heat_w"]
    into[2] += row["core_w_per_k"] * (row["charge_in_c"] - x[1])
    into[4] -= row["exchanger_w_per_k"] * (x[3] - row["air_into_exchanger_c"])
    return [heat / capacity for heat, capacity in zip(into, capacities, strict=True)]


def capacities_of(row: dict[str, float]) -> list[float]:
    """Heat capacity of every node from the parts as they were written, and the coolant as it was filled in [J/K]."""
    per_m3 = row["filled_kg_per_m3"] * row["coolant_j_per_kg_k"]
    part = {name: litres / 1e3 * per_m3 + 900.0 * kg for name, (litres, kg) in LITRES_AND_KG.items()}
    hose = HOSE_M3 * per_m3
    return [part["reservoir"], 2 * hose, part["core"], hose, part["exchanger"], hose]


def test_the_printed_course_is_that_of_its_own_figures(told: Told) -> None:
    """Fourth-order Runge-Kutta with steps of 0.025 s in plain Python, from the printed flows and conductances alone."""
    first = told.trace[0]
    stores = capacities_of(first)
    x, h, now = [first[name] for name in NODES], 0.025, 0.0
    assert x == [30.0] * 6
    seen = 0
    for row in told.trace:
        while now < row["time_s"] - 1e-9:
            k1 = slope(x, first, stores)
            k2 = slope([a + h / 2 * b for a, b in zip(x, k1, strict=True)], first, stores)
            k3 = slope([a + h / 2 * b for a, b in zip(x, k2, strict=True)], first, stores)
            k4 = slope([a + h * b for a, b in zip(x, k3, strict=True)], first, stores)
            x = [a + h / 6 * (p + 2 * q + 2 * r + s) for a, p, q, r, s in zip(x, k1, k2, k3, k4, strict=True)]
            now += h
        assert [row[name] for name in NODES] == pytest.approx(x, abs=0.01)
        left = (row["charge_in_c"] - row["charge_out_c"]) / (row["charge_in_c"] - row["feed_c"])
        assert left == pytest.approx(0.80, abs=0.01)
        seen += 1
    assert seen >= 240


def test_a_tenth_less_water_is_another_course(told: Told) -> None:
    """The other side: the printed temperatures are not those of a loop with another heat capacity."""
    first = told.trace[0]
    stores = [0.9 * capacity for capacity in capacities_of(first)]
    x, h = [30.0] * 6, 0.025
    for _ in range(round(20 / h)):
        x = [a + h * b for a, b in zip(x, slope(x, first, stores), strict=True)]
    assert abs(at(told, 20)["core_c"] - x[2]) > 0.2
