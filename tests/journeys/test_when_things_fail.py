"""When things fail: suction of the pump, a stopped pump, a cracked core, half the air, less coolant.

Counted again by hand from what the answer and its trace print, from the brief and from the parts as they are written;
nothing of the package is used. Vapour of water by Antoine's constants (mmHg and degC; published in handbooks, from
memory), air by the altitude: ISO 2533.
"""

from __future__ import annotations

import math
import re
from functools import cache

import pytest

from tests.independent.boiling import boils_c
from tests.independent.plain import si
from tests.journeys.checks import check, flowing
from tests.journeys.kitwright import Run, Tree, shelf_part, shipped, shipped_part, suggest
from tests.journeys.test_cautions import brief, shelf

AIR_PA = 101325.0
HEAT_OF_METAL = 900.0
"""Aluminium, J/(kg K); published, handbook value, from memory."""


STRONG = {"engine__boost": "1.4 bar", "engine__charger_efficiency": "55 %"}
"""Boost above all that the coolant may see, from a charger that heats it well."""


def vapour_pa(t_c: float) -> float:
    a, b, c = (8.07131, 1730.63, 233.426) if t_c < 100 else (8.14019, 1810.94, 244.485)
    return float(133.322 * 10 ** (a - b / (c + t_c)))


def water_car(**changes: object) -> Tree:
    """The plain car on water, its heights known."""
    return brief(coolant__kinds=["water"], site__coldest="5 degC", **changes)


@pytest.fixture(scope="module")
def run() -> Run:
    """The plain car's only kit, on water, with its course."""
    return suggest(water_car(), "--json", shelf=shelf(), trace=True)


@pytest.fixture(scope="module")
def kit(run: Run) -> Tree:
    """The kit itself."""
    assert run.code == 0, run.err or run.out[:2000]
    return run.kits[0]


@cache
def other(**changes: str) -> Tree:
    """Kit 1 of the same car and shelf, with a change of the brief."""
    return suggest(water_car(**changes), "--json", shelf=shelf()).kits[0]


def codes(of: Tree) -> set[str]:
    return {caution["code"] for caution in of["cautions"]}


def test_the_suction_margin_is_the_sum_of_what_is_printed(kit: Tree) -> None:
    (pump,) = kit["pumps"]
    heights = kit["fit"]["heights_mm"]
    above = heights["reservoir"][0] / 1000 - sum(heights["pump"]) / 2000
    assert pump["reservoir_above_m"] == pytest.approx(above, abs=1e-3)
    assert pump["coolant_c"] == kit["thermal"]["coolant_worst_c"]
    assert pump["vapour_pressure_pa"] == pytest.approx(vapour_pa(pump["coolant_c"]), rel=0.01)
    run_in = next(joint for joint in kit["joints"] if joint["to"].startswith("pump"))
    assert pump["suction_loss_pa"] == run_in["loss_pa"]
    by_hand = AIR_PA + 985 * 9.81 * above - run_in["loss_pa"] - vapour_pa(pump["coolant_c"])
    assert pump["suction_margin_pa"] == pytest.approx(by_hand, abs=300)
    cap = si(shelf_part(kit["parts"]["cap"][0])["opens"])
    assert pump["suction_margin_under_cap_pa"] - pump["suction_margin_pa"] == pytest.approx(cap, abs=2)
    assert pump["suction_margin_pa"] > 20e3 and "suction-margin" not in codes(kit)


def test_a_higher_site_takes_from_the_suction_what_the_air_loses(kit: Tree) -> None:
    """ISO 2533: 79.495 kPa at 2000 m. The charge is hotter there, so the coolant is too: counted out."""
    low, high = kit["pumps"][0], other(site__altitude="2000 m")["pumps"][0]
    hotter = high["vapour_pressure_pa"] - low["vapour_pressure_pa"]
    assert low["suction_margin_pa"] - high["suction_margin_pa"] - hotter == pytest.approx(AIR_PA - 79495, abs=200)


def test_hot_coolant_is_warned_of_and_the_caps_pressure_does_not_hide_it() -> None:
    """20 kPa, common practice, no source: water at 96 degC has 13.7 kPa left at sea level, less the hose's loss."""
    hot = other(coolant__start="96 degC")
    (pump,) = hot["pumps"]
    assert pump["coolant_c"] >= 96 and pump["suction_margin_pa"] < 15e3 < 20e3 < pump["suction_margin_under_cap_pa"]
    (text,) = (caution["text"] for caution in hot["cautions"] if caution["code"] == "suction-margin")
    assert f"{pump['suction_margin_pa'] / 1e3:.0f} kPa above boiling" in text
    assert pump["npsh_required_pa"] == 20000 and not pump["npsh_required_stated"]


def test_what_a_pump_states_that_it_needs_is_held_against_it(kit: Tree) -> None:
    needs = f"{kit['pumps'][0]['suction_margin_pa'] / 1e3 + 5:.1f} kPa"
    stated = suggest(water_car(), "--json", shelf=shelf(shipped_part("pump-50-medium", npsh_required=needs))).kits[0]
    assert stated["pumps"][0]["npsh_required_stated"]
    text = next(caution["text"] for caution in stated["cautions"] if caution["code"] == "suction-margin")
    assert f"it needs {float(needs.split()[0]):.0f} kPa" in text


def test_the_core_boils_when_its_heat_by_hand_says_so(run: Run, kit: Tree) -> None:
    """Metal and coolant of the core as they are written; the exponential as any textbook has it."""
    told, core = kit["failures"]["pump_stopped"], shelf_part(kit["parts"]["core"][0])
    assert told["charge_out_c"] == kit["thermal"]["charge_in_c"]
    cap = si(shelf_part(kit["parts"]["cap"][0])["opens"])
    assert told["boils_at_c"] == pytest.approx(boils_c(kit, AIR_PA + cap), abs=1)
    held = HEAT_OF_METAL * si(core["mass"]) + si(core["coolant"]["volume"]) * 985 * 4185
    assert told["core_j_per_k"] == pytest.approx(held, rel=0.02)
    warmest = max(row["core_c"] for row in run.trace)
    assert told["coolant_start_c"] == pytest.approx(warmest, abs=0.5)
    left = told["charge_out_c"] - told["boils_at_c"]
    by_hand = told["core_j_per_k"] / told["charge_w_per_k"] * math.log((left + told["boils_at_c"] - warmest) / left)
    assert told["boils_after_s"] == pytest.approx(by_hand, rel=0.02)


def test_the_charge_gives_no_more_than_its_stream_carries_and_no_less_than_with_the_pump_running() -> None:
    """1.01 kJ/(kg K) of air; published, handbook value, from memory. A steady run at full power, by its trace."""
    flat_out = {"stretches": [{"lasts": "60 s", "share": "100 %", "speed": "120 km/h"}], "total": "60 s"}
    told = suggest(water_car(driving=flat_out), "--json", shelf=shelf(), trace=True)
    stands, row = told.kits[0]["failures"]["pump_stopped"]["charge_w_per_k"], told.trace[-1]
    assert row["share"] == 1.0
    assert row["core_w_per_k"] < stands < row["air_kg_per_s"] * 1015


def test_a_very_hot_charge_boils_the_core_in_its_heat_over_the_power() -> None:
    """The hand formula C (T_boil - T_0) / Q, with the mean of Q between start and boiling: within 5 %."""
    told = other(**STRONG)["failures"]["pump_stopped"]
    rise = told["boils_at_c"] - told["coolant_start_c"]
    power = told["charge_w_per_k"] * (told["charge_out_c"] - (told["boils_at_c"] + told["coolant_start_c"]) / 2)
    assert told["boils_after_s"] == pytest.approx(told["core_j_per_k"] * rise / power, rel=0.05)


def test_a_charge_that_is_cooler_than_boiling_never_boils_it() -> None:
    mild = other(engine__boost="0.3 bar")
    told = mild["failures"]["pump_stopped"]
    assert told["charge_out_c"] < told["boils_at_c"] and told["boils_after_s"] is None
    text = next(caution["text"] for caution in mild["cautions"] if caution["code"] == "pump-stops")
    assert "boils" not in text and "switch" in text


def test_a_stopped_pump_cools_no_kit(kit: Tree) -> None:
    kits = (kit, other(engine__boost="0.3 bar"), other(site__altitude="2000 m"), other(coolant__start="96 degC"))
    cooled = [one for one in kits if one["thermal"]["coolant_worst_c"] <= one["thermal"]["charge_in_c"]]
    assert len(cooled) >= 3, "but for coolant that starts hotter than the charge, a kit cools it"
    for one in cooled:
        heat, stopped = one["thermal"], one["failures"]["pump_stopped"]["charge_out_c"]
        assert stopped >= max(heat["charge_out_worst_c"], heat["charge_out_full_power_c"]) - 0.01


def test_the_caution_has_alarm_relief_and_catch_bottle(kit: Tree) -> None:
    text = next(caution["text"] for caution in kit["cautions"] if caution["code"] == "pump-stops")
    assert all(word in text for word in ("boils", "flow or pressure switch", "the cap's way out", "catch bottle"))


def test_a_cracked_core_has_the_design_pressures_of_both_sides(kit: Tree) -> None:
    cracked, pressure = kit["failures"]["cracked_core"], kit["pressure"]
    boost, most = si(water_car()["engine"]["boost"]), pressure["coolant"]["design_most_pa_gauge"]
    assert cracked["boost"]["charge_pa_gauge"] == [boost, pressure["charge"]["design_pa_gauge"]]
    assert cracked["boost"]["coolant_pa_gauge"] == cracked["idle"]["coolant_pa_gauge"] == [0, most]
    assert cracked["idle"]["charge_pa_gauge"] == cracked["standstill"]["charge_pa_gauge"] == [0, 0]
    assert cracked["idle"]["goes"] == "coolant into engine"
    assert cracked["boost"]["goes"] == ("charge into coolant" if boost >= most else "either way")
    tank, core = kit["fit"]["heights_mm"]["reservoir"], kit["fit"]["heights_mm"]["core"]
    cap = si(shelf_part(kit["parts"]["cap"][0])["opens"])
    low, high = 10.0 * (tank[0] - core[1]), 1.1 * cap + 10.0 * (tank[1] - core[0])
    assert cracked["standstill"]["coolant_pa_gauge"] == pytest.approx([low, high], abs=20)
    assert cracked["height_known"]


def test_more_boost_turns_the_leak_into_the_coolant(kit: Tree) -> None:
    strong = other(**STRONG)["failures"]["cracked_core"]
    weak = other(engine__boost="0.3 bar")["failures"]["cracked_core"]
    assert (strong["boost"]["goes"], weak["boost"]["goes"]) == ("charge into coolant", "either way")
    assert strong["idle"] == weak["idle"] == kit["failures"]["cracked_core"]["idle"]


def test_half_the_air_is_the_same_kit_behind_half_the_opening(kit: Tree) -> None:
    """The grille's share of the road speed halved in the brief."""
    halved = water_car()
    halved["bay"]["zones"]["grille"]["air"]["share"] = "10 %"
    slow = suggest(halved, "--json", shelf=shelf()).kits[0]["thermal"]
    heat = kit["thermal"]
    assert heat["half_air_c"] == slow["charge_out_worst_c"]
    assert heat["half_air_margin_k"] == slow["margin_k"] <= heat["margin_k"]


def test_less_flow_is_between_the_kit_and_a_stopped_pump(kit: Tree) -> None:
    heat = kit["thermal"]
    stopped = kit["failures"]["pump_stopped"]["charge_out_c"]
    assert heat["charge_out_worst_c"] < heat["less_flow_c"] < stopped
    assert heat["less_flow_margin_k"] == pytest.approx(120.0 - heat["less_flow_c"], abs=0.011)


def test_without_a_front_exchanger_it_says_that_there_is_no_air_to_lose() -> None:
    bare = water_car(without=["exchanger"])
    told = suggest(bare, "--json", shelf=shelf())
    heat = told.kits[0]["thermal"]
    assert heat["half_air_c"] is None and heat["half_air_margin_k"] is None and heat["less_flow_c"] is not None
    assert "half the air speed no front exchanger" in flowing(suggest(bare, shelf=shelf()).out)


def test_the_screen_tells_all_of_it(kit: Tree) -> None:
    screen = flowing(suggest(water_car(), shelf=shelf()).out)
    told = kit["failures"]["pump_stopped"]
    suction = re.search(r"suction of the pump (\d+) kPa above boiling", screen)
    assert suction is not None
    assert float(suction[1]) == pytest.approx(kit["pumps"][0]["suction_margin_pa"] / 1e3, abs=0.6)
    assert f"charge out goes to {told['charge_out_c']:.0f} degC" in screen
    assert f"boils after {told['boils_after_s']:.0f} s" in screen
    assert "core cracked, idle coolant runs into the engine: hydraulic lock" in screen
    assert f"half the air speed charge at {kit['thermal']['half_air_c']:.0f} degC" in screen
    assert f"30 % less coolant flow charge at {kit['thermal']['less_flow_c']:.0f} degC" in screen


def test_a_box_of_the_same_parts_fails_the_same_way(kit: Tree) -> None:
    box = {"kit": "the same parts", "parts": [part for parts in kit["parts"].values() for part in parts]}
    told = check(box, "--json", brief=water_car(), shelf=shelf()).answer["in_car"]
    assert (told["pumps"], told["failures"]) == (kit["pumps"], kit["failures"])


def test_shipped_pumps_state_no_need_that_nobody_measured() -> None:
    assert all("npsh_required" not in pump for pump in shipped("pumps"))
