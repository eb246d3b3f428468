"""A pump against its loop, carried from the files to the printed flow.

The case: ethylene glycol of 50 % by mass at 40 degC (1053.44 kg/m3, 2.1033 mPa s; Melinder through CoolProp), 6.0 m of
19 mm bore with a roughness of 1.5 um, sum of K 8.0, exchangers that take 20 kPa at 20 L/min and more by the square, a
pump of 60 kPa (1 - (Q / 40 L/min)²): 22.4677 L/min and 41070 Pa, with Colebrook's friction factor (recomputed).

Half by mass is 47.29 % by volume (densities 1112.5 and 998.2 kg/m3 at 20 degC). The product's table is by volume and of
another source, inhibited glycol (ASHRAE): the two differ by 0.5 % in density and 2 to 8 % in viscosity, so 3 % of flow
are allowed; the flow goes with about a tenth of what the viscosity does.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from tests.reference_cases.carried import Told, carried

MIXTURE = "fluid: ethylene glycol 47.29 %"
LEAST_LOAD = {"power": "1 kW", "boost": "0 bar", "air": "40 degC", "face_speed": "5 m/s"}
"""A charge of 1 g/s without boost in air of 40 degC: the coolant stays at 40 degC."""

BEND_K = 0.342
"""A smooth bend of 19 mm bore and 1.5 bores radius, Crane TP-410 (from memory); one at each end of each run."""

CURVE = ", ".join(
    f"{{flow: {q} L/min, head: {60 * (1 - (q / 40) ** 2):.6g} kPa}}" for q in (0, 4, 8, 12, 16, 20, 24, 28, 32, 36, 40)
)


def case(folder: Path, *, run_m: float = 1.5, factor: float = 1.0 - BEND_K) -> Told:
    """Four runs of `run_m` with an adapter at each end; every factor K is on the 19 mm bore."""
    return carried(
        folder, **LEAST_LOAD, run=f"{run_m} m", adapter_factor=factor, lasts="60 s",
        coolant="{kinds: [ethylene glycol], glycol_by_volume: 47.29 %}",
        core_point="air: 0.25 kg/s, charge_in: 140 degC, charge_pressure: 1 bar, coolant: 20 L/min, "
        f"coolant_in: 40 degC, {MIXTURE}, effectiveness: 80 %, charge_loss: 1 kPa, coolant_loss: 10 kPa",
        exchanger_point="face_speed: 5 m/s, air_in: 25 degC, coolant: 20 L/min, coolant_in: 40 degC, "
        f"{MIXTURE}, effectiveness: 40 %, coolant_loss: 10 kPa",
        curve=CURVE,
    )  # fmt: skip


def by_hand(length_m: float, factors: float, density: float, viscosity: float) -> float:
    """The flow [L/min] by halving, with Colebrook's friction factor by repeated insertion."""
    low, high = 1.0, 40.0
    for _ in range(60):
        q = (low + high) / 2
        v = q / 60e3 / (math.pi / 4 * 0.019**2)
        re, root = density * v * 0.019 / viscosity, 0.15
        for _ in range(50):
            root = 1 / (-2 * math.log10(1.5e-6 / 0.019 / 3.7 + 2.51 / (re * root)))
        loss = (root**2 * length_m / 0.019 + factors) * density * v**2 / 2 + 20e3 * (q / 20) ** 2
        low, high = (q, high) if 60e3 * (1 - (q / 40) ** 2) > loss else (low, q)
    return low


def test_the_sums_by_hand_give_the_recomputed_figure() -> None:
    assert by_hand(6.0, 8.0, 1053.44, 2.1033e-3) == pytest.approx(22.467737, abs=1e-5)


def test_the_printed_flow_is_that_of_the_case(tmp_path: Path) -> None:
    told = case(tmp_path)
    assert told.trace[-1]["feed_c"] == pytest.approx(40.0, abs=0.2)
    assert told.trace[-1]["coolant_kg_per_m3"] == pytest.approx(1053.44, rel=0.01)
    assert told.thermal["coolant_flow_l_per_min"] == pytest.approx(22.467737, rel=0.03)
    hoses = [joint for joint in told.kit["joints"] if joint["hose"]]
    assert sum(joint["hose_length_m"] for joint in hoses) == pytest.approx(6.0)
    assert all(len(joint["through"]) == 2 for joint in hoses)


def test_thrice_the_hose_is_another_case_and_follows_too(tmp_path: Path) -> None:
    """The other side: 18 m and a sum of K of 4.74 give another flow, as the same sums by hand say."""
    told = case(tmp_path, run_m=4.5, factor=0.25)
    flow = told.thermal["coolant_flow_l_per_min"]
    assert flow == pytest.approx(by_hand(18.0, 8 * (0.25 + BEND_K), 1053.44, 2.1033e-3), rel=0.03)
    assert abs(flow / 22.467737 - 1) > 0.05
