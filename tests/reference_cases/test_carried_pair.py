"""A liquid-coupled pair from its sizes, carried from the files to the printed answer.

Source: Kays & London, Compact Heat Exchangers, 3rd ed., ch. 2, liquid-coupled indirect-transfer exchangers; both
exchangers cross-flow, both streams unmixed (from memory; all figures recomputed). Charge 252.5 W/K at 140 degC,
coolant 1080 W/K, outside air 1609.6 W/K at 25 degC, UA 600 and 1500 W/K: effectiveness 0.84428 and 0.60496,
conductances 213.18 and 653.36 W/K, charge out at 53.994 degC, 0.74788 of all that could be cooled.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from tests.reference_cases.carried import Told, carried

FLUID = "fluid: ethylene glycol 40 %"


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Told:
    """The pair as parts with one measured point each; a pump that gives its flow and hardly any other.

    40 % of ethylene glycol near 46 degC carries 3.734 MJ/(m3 K), so 1080 W/K are 17.36 L/min; 1.6 kg/s through
    0.27 m2 at 25 degC are 5.005 m/s; a ratio of 2 at an efficiency of 0.5678 heats 25 degC to 140 degC.
    """
    folder: Path = tmp_path_factory.mktemp("pair")
    return carried(
        folder,
        power="250 kW", air="25 degC", face_speed="5.005 m/s",
        coolant="{kinds: [ethylene glycol], glycol_by_volume: 40 %}",
        core_point="air: 0.25 kg/s, charge_in: 140 degC, charge_pressure: 1 bar, coolant: 17.36 L/min, "
        f"coolant_in: 38 degC, {FLUID}, effectiveness: 84.428 %, charge_loss: 1 kPa, coolant_loss: 10 kPa",
        exchanger_point="face_speed: 5.005 m/s, air_in: 25 degC, coolant: 17.36 L/min, coolant_in: 58 degC, "
        f"{FLUID}, effectiveness: 40.591 %, coolant_loss: 10 kPa",
        curve="{flow: 0 L/min, head: 60 kPa}, {flow: 17.2 L/min, head: 59 kPa}, {flow: 17.5 L/min, head: 1 kPa}",
    )  # fmt: skip


def unmixed(ntu: float, ratio: float) -> float:
    """Exact effectiveness of cross-flow, both unmixed, as its series of gamma functions.

    1/(C* N) sum over n of (1 - e^-N sum_{k<=n} N^k/k!)(1 - e^-C*N sum_{k<=n} (C*N)^k/k!). Published: Mason 1955, as in
    Kays & London (from memory; it gives their table's 0.588 at N 1, C* 0.25).
    """
    x, y = ntu, ratio * ntu

    def rest(z: float, n: int) -> float:
        return 1.0 - math.exp(-z) * sum(z**k / math.factorial(k) for k in range(n + 1))

    return sum(rest(x, n) * rest(y, n) for n in range(60)) / y


def test_the_series_is_the_one_of_the_table() -> None:
    """Kays & London's table, both unmixed: N 1 at C* 0.25, 0.5, 1: 0.588, 0.547, 0.476 (from memory)."""
    for ratio, value in ((0.25, 0.588011), (0.5, 0.547490), (1.0, 0.476222)):
        assert unmixed(1.0, ratio) == pytest.approx(value, abs=1e-6)


def test_the_answer_lies_where_the_recomputed_one_does(told: Told) -> None:
    """Within 1 %: air's heat capacity and the glycol's are the product's own tables, not the round figures above."""
    assert told.thermal["air_kg_per_s"] == pytest.approx(0.25, rel=1e-4)
    assert told.thermal["charge_in_c"] == pytest.approx(140.0, abs=0.02)
    assert told.trace[0]["core_w_per_k"] == pytest.approx(213.18, rel=0.01)
    assert told.trace[0]["exchanger_w_per_k"] == pytest.approx(653.36, rel=0.01)
    cooled = (140.0 - told.thermal["charge_out_full_power_c"]) / (140.0 - 25.0)
    assert cooled == pytest.approx((140.0 - 53.993707) / 115.0, rel=0.01)


def rates(told: Told) -> tuple[float, float]:
    """Capacity rates of charge and coolant by the printed figures [W/K]."""
    row = told.trace[-1]
    coolant = row["coolant_l_per_min"] / 60e3 * row["coolant_kg_per_m3"] * row["coolant_j_per_kg_k"]
    effectiveness = (row["charge_in_c"] - row["charge_out_c"]) / (row["charge_in_c"] - row["feed_c"])
    return row["core_w_per_k"] / effectiveness, coolant


def test_charge_out_follows_from_the_printed_conductances(told: Told) -> None:
    """1/G = 1/G1 + 1/G2 - 1/CL, q = G (Th - Tc), charge out = Th - q/C1, to the last printed digit of the trace.

    After ten minutes nothing moves any more. Full power for ever is told with the liquid as it is then, the trace with
    the liquid as it is on average over the event: 0.3 K are allowed between the two.
    """
    row = told.trace[-1]
    charge, coolant = rates(told)
    g = 1 / (1 / row["core_w_per_k"] + 1 / row["exchanger_w_per_k"] - 1 / coolant)
    heat = g * (row["charge_in_c"] - 25.0)
    assert row["charge_out_c"] == pytest.approx(row["charge_in_c"] - heat / charge, abs=1e-3)
    assert told.thermal["charge_out_full_power_c"] == pytest.approx(row["charge_out_c"], abs=0.3)
    assert told.thermal["charge_out_worst_c"] == pytest.approx(row["charge_out_c"], abs=0.006)
    # Outside the case: without the last term the relation is another one, and the print is far from it.
    wrong = 1 / (1 / row["core_w_per_k"] + 1 / row["exchanger_w_per_k"])
    assert abs(row["charge_out_c"] - (row["charge_in_c"] - wrong * 115.0 / charge)) > 5.0


def test_the_printed_conductances_follow_from_the_sizes(told: Told) -> None:
    """UA 600 and 1500 W/K by the exact relation at the printed capacity rates; 1 %, for the liquid is a little warmer
    or colder than at the measured points, and its film with it.
    """
    row = told.trace[-1]
    charge, coolant = rates(told)
    assert charge == pytest.approx(0.25 * 1010.0, rel=5e-3)  # air near 80 degC: 1010 J/(kg K), CoolProp
    assert coolant == pytest.approx(1080.0, rel=0.01)
    core = unmixed(600 / charge, charge / coolant) * charge
    air = 1.6 * 1006.0
    exchanger = unmixed(1500 / coolant, coolant / air) * coolant
    assert row["core_w_per_k"] == pytest.approx(core, rel=0.01)
    assert row["exchanger_w_per_k"] == pytest.approx(exchanger, rel=0.01)
