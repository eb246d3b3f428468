"""The tow car with its core in the manifold: what must be true at a load that lasts."""

from __future__ import annotations

import pytest

from tests.journeys.kitwright import Run, Tree, example, shipped_part, small_shelf, suggest

ALUMINIUM_J_PER_KG_K = 900.0
"""Handbook value of wrought aluminium; published, from memory."""

TANK_KG, CORE_KG = 3.6, 4.2


def towing(seconds: float) -> Tree:
    """45 % of full power at 65 km/h, without a break."""
    stretch = {"lasts": f"{seconds:g} s", "share": "45 %", "speed": "65 km/h"}
    brief = example("wagon", aim={"charge_air": "150 degC"}, limits=None)
    return {**brief, "driving": {"stretches": [stretch], "total": f"{seconds:g} s"}}


def run(litres: float, seconds: float) -> Run:
    """The wagon with so many litres in one and the same box."""
    tank = shipped_part(
        "reservoir-12-box",
        id="tank",
        size={"x": "190 mm", "y": "190 mm", "z": "280 mm"},
        coolant__volume=f"{litres:g} L",
        coolant__ends=shipped_part("reservoir-8-plain")["coolant"]["ends"],
        mass=f"{TANK_KG} kg",
    )
    on = small_shelf(
        exchangers=[shipped_part("exchanger-640-slim")], pumps=[shipped_part("pump-50-medium")], reservoirs=[tank]
    )
    done = suggest(towing(seconds), "--json", shelf=on, trace=True)
    assert done.code == 0, done.err or done.out[:2000]
    return done


def test_the_core_that_is_fitted_stays_and_costs_nothing() -> None:
    kit = run(3, 900).kits[0]
    assert kit["parts"]["core"] == ["core-in-manifold"]
    assert "core" not in {place["slot"] for place in kit["fit"]["placements"]}
    assert sum(line["price_cents"] for line in kit["lines"] if line["part"] == "core-in-manifold") == 0


@pytest.mark.parametrize("figure", ["charge_out_full_power_c", "charge_out_plateau_c"])
def test_what_lasts_for_ever_does_not_hang_on_volume(figure: str) -> None:
    """The steady coupled loop has no heat capacity in it (Kays & London, Compact Heat Exchangers, liquid-coupled
    exchangers; from memory)."""
    told = [run(litres, 900).kits[0]["thermal"][figure] for litres in (3, 6, 15)]
    assert told[0] == told[1] == told[2]


def test_after_three_time_constants_3_and_15_litres_end_alike() -> None:
    row = run(15, 900).trace[0]
    per_litre = row["coolant_kg_per_m3"] / 1000 * row["coolant_j_per_kg_k"]
    # C: 15 L in the tank and 4 L in hoses, core and front, and the metal of tank, core and a front of 2.7 kg
    capacity = 19 * per_litre + (TANK_KG + CORE_KG + 2.7) * ALUMINIUM_J_PER_KG_K
    seconds = round(3 * capacity / row["exchanger_w_per_k"])
    small, large = (run(litres, seconds).kits[0]["thermal"] for litres in (3, 15))
    assert abs(small["coolant_end_c"] - large["coolant_end_c"]) < 1.0
    assert abs(small["charge_out_worst_c"] - large["charge_out_worst_c"]) < 1.0


def test_long_before_that_more_litres_are_cooler() -> None:
    small, large = (run(litres, 60).kits[0]["thermal"] for litres in (3, 15))
    assert large["coolant_end_c"] < small["coolant_end_c"] - 3


def test_the_air_behind_the_condenser_comes_in_warmer() -> None:
    done = run(3, 900)
    assert done.kits[0]["zones"]["exchanger"] == "grille"
    assert done.trace[0]["air_into_exchanger_c"] == pytest.approx(43 + 10, abs=1e-6)
    brief = towing(900)
    del brief["bay"]["zones"]["grille"]["air"]["preheat"]
    on = small_shelf(
        exchangers=[shipped_part("exchanger-640-slim")],
        pumps=[shipped_part("pump-50-medium")],
        reservoirs=[shipped_part("reservoir-8-plain")],
    )
    unheated = suggest(brief, "--json", shelf=on).kits[0]
    assert unheated["thermal"]["charge_out_plateau_c"] == pytest.approx(
        done.kits[0]["thermal"]["charge_out_plateau_c"] - 10 * _share_of_air(done), abs=0.4
    )


def _share_of_air(done: Run) -> float:
    """How much of a kelvin in the air reaches the charge.

    Steady: q = G1 (Th - Tf) = G2 (Te - Ta) with Tf = Te - q / CL, so q (1/G1 + 1/G2 - 1/CL) = Th - Ta, and with
    out = Th - e (Th - Tf): d out / d Ta = e / (1 + G1 (1/G2 - 1/CL)).
    """
    row = done.trace[0]
    g1, g2 = row["core_w_per_k"], row["exchanger_w_per_k"]
    cl = row["coolant_l_per_min"] / 60e3 * row["coolant_kg_per_m3"] * row["coolant_j_per_kg_k"]
    effectiveness = (row["charge_in_c"] - row["charge_out_c"]) / (row["charge_in_c"] - row["feed_c"])
    return effectiveness / (1 + g1 * (1 / g2 - 1 / cl))
