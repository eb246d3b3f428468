"""The drag car with an ice tank in the boot: what must be true of its answers whatever parts are on the shelf."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any

import pytest

from tests.journeys.kitwright import Run, Tree, example, shipped_part, small_shelf, suggest, written

LATENT_KJ_PER_KG = 333.427
"""Heat that melts ice at 0 degC: IAPWS R10-06 beside R6-95; computed with a reference library."""

CORE, PUMP = "core-350-sturdy", "pump-80-race"


def drag(**changes: Any) -> Tree:
    """900 kW, 2 bar, 30 degC: three passes 45 min apart; an aim that turns no kit away."""
    given = {
        "engine__power": "900 kW", "engine__boost": "2 bar", "engine__charger": "turbo",
        "engine__charger_outlet": None, "engine__throttle": None,
        "aim": {"charge_air": "150 degC"}, "limits": None, "ice": {"kind": "cubes", "mass": "10 kg"},
    }  # fmt: skip
    return example("drag", **{**given, **changes})


def tank(water_l: float, ice_kg: float = 10.0, **changes: Any) -> Tree:
    """An ice tank that holds so many litres of water beside so much ice: floating ice displaces what it weighs."""
    name = f"tank-{water_l:g}-{ice_kg:g}"
    return shipped_part("reservoir-20-ice", id=name, coolant__volume=f"{water_l + ice_kg:g} L", **changes)


def shelf(*tanks: Tree, **sections: list[Tree]) -> Tree:
    """One core, one pump, the tanks given."""
    given = {"cores": [shipped_part(CORE)], "pumps": [shipped_part(PUMP)], "exchangers": []}
    return small_shelf(reservoirs=list(tanks), caps=[shipped_part("cap-45-vented")], **{**given, **sections})


def told(brief: Tree, on: Tree, **how: bool) -> tuple[Tree, Run]:
    """The only kit of a shelf."""
    run = suggest(brief, "--json", shelf=on, **how)
    assert run.code == 0, run.err or run.out[:3000]
    return run.kits[0], run


def of_ice(kind: str, kg: float, litres: float, **changes: Any) -> Tree:
    """The kit with so much of a kind of ice in so many litres of water."""
    brief = drag(ice={"kind": kind, "mass": f"{kg:g} kg"}, **changes)
    return told(brief, shelf(tank(litres, kg)))[0]


# --- water and ice ----------------------------------------------------------------------------------------------------


def test_more_water_beside_the_same_ice_ends_colder() -> None:
    kits = [of_ice("cubes", 10, litres) for litres in (8, 20, 35)]
    ends = [kit["thermal"]["coolant_end_c"] for kit in kits]
    charges = [kit["thermal"]["charge_out_worst_c"] for kit in kits]
    assert ends[0] > ends[1] > ends[2]
    assert charges[0] > charges[1] - 0.5 and charges[1] > charges[2] - 0.5
    for litres, kit in zip((8, 20, 35), kits, strict=True):
        assert kit["ice"]["water_start_kg"] == pytest.approx(litres, abs=0.1)
        assert kit["ice"]["tank_end_c"] == kit["thermal"]["coolant_end_c"]


def test_crushed_ice_melts_faster_than_cubes_and_cubes_than_bagged_ones() -> None:
    melted = [of_ice(kind, 10, 20)["ice"]["melted_pass_kg"] for kind in ("crushed", "cubes", "cubes-in-bag")]
    assert melted[0] > melted[1] > melted[2] > 0


@pytest.mark.parametrize("kind", ["block", "crushed", "cubes", "cubes-in-bag"])
def test_what_ice_takes_reads_well_of_every_kind(kind: str) -> None:
    """Some kinds are named in the singular, others in the plural."""
    brief = drag(ice={"kind": kind, "mass": "10 kg"})
    (one,) = (one["text"] for one in told(brief, shelf(tank(20)))[1].answer["assumed"] if "W/K" in one["text"])
    assert re.fullmatch(r"the water gives [a-z ]+ \d+ W/K for each kilogram of whole pieces \([a-z ]+\), less as they "
                        r"shrink", one)  # fmt: skip


def test_little_melts_in_a_pass_and_never_more_than_there_is() -> None:
    for kind in ("crushed", "cubes"):
        ice = of_ice(kind, 10, 20)["ice"]
        assert 0.2 < ice["melted_pass_kg"] < 2.0
        assert ice["left_after_pass_kg"] == pytest.approx(10 - ice["melted_pass_kg"], abs=0.002)
    pull = {"stretches": [{"lasts": "100 s", "share": "60 %", "speed": "200 km/h"}], "total": "100 s"}
    few = of_ice("crushed", 0.1, 20, driving=pull, aim={"charge_air": "200 degC"})["ice"]
    assert (few["melted_pass_kg"], few["left_after_pass_kg"], few["refill_after_passes"]) == (0.1, 0.0, 0)


def test_a_speck_of_ice_is_no_ice() -> None:
    iced = of_ice("cubes", 0.001, 20)
    bare = drag(ice=None, coolant={"kinds": ["water"], "start": "2 degC"}, without=["exchanger"])
    kit, _ = told(bare, shelf(tank(20, 0.001)))
    assert kit["ice"] is None
    for figure in ("charge_out_worst_c", "coolant_end_c", "margin_low_k"):
        assert kit["thermal"][figure] == pytest.approx(iced["thermal"][figure], abs=0.05)


# --- the sums ---------------------------------------------------------------------------------------------------------


def test_pulling_down_takes_m_c_dt_over_latent_heat_and_warming_to_the_end() -> None:
    """20 L of water alone from 25 to 2 degC take 5.62 kg; the rest of the loop and its metal come on top."""
    alone = 20 * 0.997 * 4.186 * 23 / (LATENT_KJ_PER_KG + 4.186 * 2)
    assert alone == pytest.approx(5.62, abs=0.01)
    brief = drag(ice={"kind": "cubes", "mass": "10 kg", "water": "25 degC"})
    kit, run = told(brief, shelf(tank(20)), trace=True)
    c = run.trace[0]["coolant_j_per_kg_k"] / 1000
    water = kit["ice"]["pull_down_kg"] * (LATENT_KJ_PER_KG + c * 2) / (c * 23)
    in_loop = kit["coolant_l"]
    metal = water - in_loop
    assert 20 < in_loop < 32
    assert kit["ice"]["pull_down_kg"] > alone
    parts = sum(float(shipped_part(part)["mass"].split()[0]) for part in (CORE, "reservoir-20-ice"))
    assert 0 < metal < parts * 1.0 / c * 1.2, "metal holds about 0.9 kJ/(kg K)"


def test_too_much_ice_is_named_and_the_most_that_goes_in_is_the_way_out() -> None:
    """Heaped ice of 917 kg/m3 (IAPWS R10-06) fills a tank to 0.6 of its room: common practice, no source."""
    run = suggest(drag(ice={"kind": "cubes", "mass": "45 kg"}), "--json", shelf=shelf(tank(20), tank(10)))
    assert run.code == 1 and run.answer["conflict"]["rules"] == ["ice"]
    (way,) = run.answer["nearest"]
    assert (way["change"], way["from"], way["unit"]) == ("ice", 45, "kg")
    said = " ".join(suggest(drag(ice={"kind": "cubes", "mass": "45 kg"}), shelf=shelf(tank(20), tank(10))).out.split())
    assert "no reservoir passes by itself (2 × too small for the ice)." in said
    assert "exchanger" not in said.partition(".")[0]
    for mass, code in ((way["to"], 0), (way["to"] + 0.1, 1)):
        less = drag(ice={"kind": "cubes", "mass": f"{mass:.1f} kg"})
        assert suggest(less, "--json", "--no-ways-out", shelf=shelf(tank(20), tank(10))).code == code


def test_an_event_is_the_pull_down_and_every_pass() -> None:
    kit, run = told(drag(), shelf(tank(20)), trace=True)
    ice, energy = kit["ice"], kit["energy"]
    c = run.trace[0]["coolant_j_per_kg_k"]
    heat = energy["charge_j"] + energy["condensate_j"] + energy["pump_j"] - energy["rejected_j"]
    assert energy["condensate_j"] > 0.05 * energy["charge_j"]
    assert ice["per_pass_kg"] == pytest.approx(heat / (LATENT_KJ_PER_KG * 1000 + c * 2), rel=2e-3)
    assert ice["passes"] == 3
    assert ice["per_event_kg"] == pytest.approx(ice["pull_down_kg"] + 3 * ice["per_pass_kg"], abs=0.003)
    assert ice["refill_after_passes"] == int(10 / ice["per_pass_kg"])
    (line,) = [line for line in kit["lines"] if line["item"].startswith("ice cubes for one event")]
    brought = ice["pull_down_kg"] + 2 * ice["per_pass_kg"] + ice["start_kg"]  # and the last pass leaves the rest
    assert ice["brought_kg"] == pytest.approx(brought, abs=0.003) and brought > ice["per_event_kg"]
    assert brought <= line["quantity"] < brought + 1
    assert (line["unit"], line["bring_yourself"]) == ("kg", True)


def test_colder_ice_is_less_ice() -> None:
    warm = of_ice("cubes", 10, 20)["ice"]
    cold = told(drag(ice={"kind": "cubes", "mass": "10 kg", "temperature": "-18 degC"}), shelf(tank(20)))[0]["ice"]
    for figure in ("pull_down_kg", "per_pass_kg", "melted_pass_kg"):
        assert cold[figure] < warm[figure] * 0.96


def test_the_energy_closes_with_what_the_trace_says_of_the_ice() -> None:
    """Ice: latent heat, and melt water warmed to its tank; summed over the trace, 0.1 %."""
    kit, run = told(drag(), shelf(tank(20)), trace=True)
    energy, rows = kit["energy"], run.trace
    came = energy["charge_j"] + energy["condensate_j"] + energy["pump_j"]
    went = energy["rejected_j"] + energy["ice_j"] + energy["stored_coolant_j"] + energy["stored_metal_j"]
    assert came == pytest.approx(went, rel=1e-3)
    assert energy["closure"] < 1e-3
    summed = sum(
        (a["ice_kg"] - b["ice_kg"])
        * (LATENT_KJ_PER_KG * 1000 + a["coolant_j_per_kg_k"] * (a["reservoir_c"] + b["reservoir_c"]) / 2)
        for a, b in pairwise(rows)
    )
    assert energy["ice_j"] == pytest.approx(summed, rel=1e-3)
    assert energy["ice_j"] > 0.05 * came, "without it the sum would stand open"
    assert rows[0]["ice_kg"] == 10 and rows[-1]["ice_kg"] == pytest.approx(kit["ice"]["left_after_pass_kg"], abs=1e-3)


def test_the_screen_says_kilograms_what_is_left_and_when_to_refill() -> None:
    kit, _ = told(drag(), shelf(tank(20)))
    screen = " ".join(suggest(drag(), shelf=shelf(tank(20))).out.split())
    ice = kit["ice"]
    assert f"a pass melts {ice['melted_pass_kg']:.1f} kg and leaves {ice['left_after_pass_kg']:.1f} kg" in screen
    assert f"ice for the event {ice['per_event_kg']:.1f} kg melt" in screen
    there = ice["pull_down_kg"] + ice["start_kg"] + (ice["passes"] - 1) * ice["per_pass_kg"]
    assert f"{there:.1f} kg have to be there for each pass to begin with {ice['start_kg']:.1f} kg" in screen
    assert f"after {ice['refill_after_passes']} passes at the latest" in screen


# --- the folklore of ice ----------------------------------------------------------------------------------------------


def test_in_a_short_run_more_water_and_crushed_ice_beat_more_cubes() -> None:
    more_cubes = of_ice("cubes", 20, 20)
    more_water, crushed = of_ice("cubes", 10, 35), of_ice("crushed", 10, 20)
    for kit in (more_water, crushed):
        assert kit["thermal"]["coolant_end_c"] < more_cubes["thermal"]["coolant_end_c"]
        assert kit["thermal"]["charge_out_worst_c"] <= more_cubes["thermal"]["charge_out_worst_c"] + 0.05


def test_in_a_long_run_more_cubes_beat_more_water_and_crushed_ice() -> None:
    """The claim turned round: where all ice melts, cold that is there decides, not how fast it comes."""
    pull = {"stretches": [{"lasts": "75 s", "share": "100 %", "speed": "200 km/h"}], "total": "75 s"}
    more_cubes = of_ice("cubes", 20, 20, driving=pull)
    more_water, crushed = of_ice("cubes", 10, 35, driving=pull), of_ice("crushed", 10, 20, driving=pull)
    for kit in (more_water, crushed):
        assert kit["thermal"]["coolant_end_c"] > more_cubes["thermal"]["coolant_end_c"]


# --- what is refused --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("fitted", [False, True])
def test_a_front_exchanger_in_circuit_is_out_by_the_kilowatts_that_it_adds(fitted: bool) -> None:
    """G x (air - coolant): at 30 K a front of 270 to 320 W/K brings in 8 to 9.5 kW, this one some 5 kW."""
    front = shipped_part("exchanger-440-double")
    brief = drag(site__air="32 degC", own=[{"id": front["id"], "fitted": True}] if fitted else [])
    nose: Tree = {"wide": "700 mm", "high": "400 mm", "deep": "90 mm", "open": ["front", "back"]}
    brief["bay"]["zones"]["nose"] = {**nose, "takes": ["exchanger"], "air": {"face_speed": "6 m/s"}}
    kit, run = told(brief, shelf(tank(20), exchangers=[front]))
    assert "exchanger" not in kit["parts"]
    (out,) = [reason for reason in run.answer["exclusions"] if reason["part"] == front["id"]]
    assert (out["code"], out["unit"]) == ("warms-ice", "W")
    assert 3e3 < out["found"] < 25e3
    assert f"{out['found'] / 1000:.1f} kW" in out["text"] and "bypass" in out["text"]
    warm = {"kinds": ["water"], "start": "12 degC"}
    other = suggest({**brief, "coolant": warm}, "--json", shelf=shelf(tank(20), exchangers=[front]))
    (less,) = [reason for reason in other.answer["exclusions"] if reason["part"] == front["id"]]
    assert 0.6 < less["found"] / out["found"] < 0.85, "20 K in the place of 30"
    bare = {**brief, "ice": None, "own": [], "coolant": {"kinds": ["water"], "start": "2 degC"}}
    left_in = suggest({key: value for key, value in bare.items() if value is not None}, "--json",
                      shelf=shelf(tank(20), exchangers=[front]), trace=True)  # fmt: skip
    assert left_in.kits[0]["parts"]["exchanger"] == [front["id"]]
    g = left_in.trace[-1]["exchanger_w_per_k"]
    assert out["found"] == pytest.approx(g * 30, rel=0.25), "in circuit, at the flow of this loop and not 30 L/min"


@pytest.mark.parametrize(
    ("coolant", "key"),
    [
        ({"kinds": ["ethylene glycol"]}, "coolant.kinds"),
        ({"kinds": ["water", "ethylene glycol"], "glycol_by_volume": "20 %"}, "coolant.glycol_by_volume"),
    ],
)
def test_glycol_in_an_ice_tank_is_refused(coolant: Tree, key: str) -> None:
    run = suggest(drag(coolant=coolant), "--json", shelf=shelf(tank(20)))
    assert run.code == 3
    (problem,) = run.answer["problems"]
    assert problem["key"] == key and "glycol" in problem["text"] and problem["line"] > 1


def test_ice_on_a_night_of_frost_is_no_kit_and_never_a_mixture() -> None:
    kinds = {"kinds": ["water", "ethylene glycol"]}
    run = suggest(drag(site__coldest="-8 degC", coolant=kinds), "--json", shelf=shelf(tank(20)))
    assert run.code == 1 and run.answer["conflict"]["rules"] == ["freeze"]
    assert "glycol" in run.answer["conflict"]["text"]
    mild, _ = told(drag(coolant=kinds), shelf(tank(20)))
    assert {caution["code"] for caution in mild["cautions"]} & {"toxic-glycol", "drain-water"} == {"drain-water"}


@pytest.mark.parametrize("kind", ["dry ice", "dry-ice", "CO2"])
def test_dry_ice_is_refused_with_its_reasons(kind: str) -> None:
    run = suggest(drag(ice={"kind": kind, "mass": "10 kg"}), "--json", shelf=shelf(tank(20)))
    assert run.code == 3
    (problem,) = run.answer["problems"]
    assert problem["key"] == "ice.kind"
    assert "bursts" in problem["text"] and "suffocates" in problem["text"]


def test_a_kind_misspelt_is_met_with_the_nearest() -> None:
    run = suggest(drag(ice={"kind": "crushd", "mass": "10 kg"}), shelf=shelf(tank(20)))
    assert run.code == 3
    assert "did you mean 'crushed'" in run.err


@pytest.mark.parametrize(
    "change",
    [{"temperature": "3 degC"}, {"water": "-4 degC"}, {"mass": "0 kg"}, {"mass": 10}],
)
def test_ice_that_cannot_be_is_bad_input(change: Tree) -> None:
    run = suggest(drag(ice={"kind": "cubes", "mass": "10 kg", **change}), "--json", shelf=shelf(tank(20)))
    assert run.code == 3
    assert [problem["key"] for problem in run.answer["problems"]] == [f"ice.{next(iter(change))}"]


def test_a_loop_with_ice_does_not_start_frozen() -> None:
    run = suggest(drag(coolant={"kinds": ["water"], "start": "-1 degC"}), "--json", shelf=shelf(tank(20)))
    assert (run.code, run.answer["problems"][0]["key"]) == (3, "coolant.start")


def test_a_core_that_does_not_hold_the_boost_is_refused() -> None:
    """2 bar with a quarter of overshoot: 2.5 bar."""
    weak = shipped_part(CORE, id="core-weak", charge__working="2.4 bar")
    kit, run = told(drag(), shelf(tank(20), cores=[weak, shipped_part(CORE)]))
    assert kit["parts"]["core"] == [CORE]
    (out,) = [reason for reason in run.answer["exclusions"] if reason["part"] == "core-weak"]
    assert (out["code"], out["limit"]) == ("rating-below-pressure", 2.5e5)


def test_only_a_tank_that_takes_ice_and_holds_it_is_offered() -> None:
    plain = shipped_part("reservoir-12-vented")
    run = suggest(drag(), "--json", shelf=shelf(tank(20), tank(3, 2, name="Small tank"), plain))
    assert {tuple(kit["parts"]["reservoir"]) for kit in run.kits} == {("tank-20-10",)}
    codes = {reason["part"]: reason for reason in run.answer["exclusions"]}
    assert codes["reservoir-12-vented"]["code"] == "not-for-ice"
    small = codes["tank-3-2"]
    assert small["code"] == "ice-over-tank" and small["found"] > small["limit"] > 0.005
    sealed = shelf({**shipped_part("reservoir-8-cube"), "ice": True})
    assert suggest(drag(), "--json", shelf=sealed).code == 3, "a sealed tank that takes ice is no tank"


# --- what is flagged --------------------------------------------------------------------------------------------------


def test_a_kit_without_a_strainer_is_flagged_and_one_with_a_screen_is_not() -> None:
    bare = tank(20)
    del bare["screen"]
    for given, flagged in ((bare, True), (tank(20), False)):
        kit, _ = told(drag(), shelf(given))
        assert ("no-strainer" in {caution["code"] for caution in kit["cautions"]}) == flagged
        assert any(line["item"].startswith("strainer") for line in kit["lines"])


def test_a_tank_below_the_core_is_offered_with_its_bleed_and_its_caution() -> None:
    kit, _ = told(drag(), shelf(tank(20)))
    heights = kit["fit"]["heights_mm"]
    assert heights["reservoir"][1] < heights["core"][1]
    assert {"reservoir-below", "drains-back"} <= {caution["code"] for caution in kit["cautions"]}
    assert any("bleed" in line["item"] and line["place"] == "core" for line in kit["lines"])


def test_every_iced_kit_says_how_its_tank_is_kept_safe() -> None:
    kit, _ = told(drag(), shelf(tank(20)))
    (text,) = [caution["text"] for caution in kit["cautions"] if caution["code"] == "ice-tank"]
    for word in ("vented", "crash", "seal", "drain", "dry ice"):
        assert word in text
    bare = drag(ice=None, without=["exchanger"])
    dry, _ = told(bare, shelf(tank(20)))
    assert not {caution["code"] for caution in dry["cautions"]} & {"ice-tank", "wet-charge", "no-strainer"}
    assert (dry["ice"], dry["energy"]["ice_j"]) == (None, 0.0)


def test_ice_that_does_not_last_is_flagged() -> None:
    kit = of_ice("crushed", 2, 20)
    assert kit["ice"]["refill_after_passes"] < 3
    assert "ice-short" in {caution["code"] for caution in kit["cautions"]}
    assert "ice-short" not in {caution["code"] for caution in of_ice("crushed", 14, 20)["cautions"]}


def test_a_shelf_of_ones_own_takes_the_shipped_kinds_of_ice_or_states_its_own() -> None:
    own = {"id": "cubes", "name": "small cubes", "stirred": "400 W/K/kg", "still": "25 W/K/kg", "band": "30 %",
           "standing": "measured", "source": "invented"}  # fmt: skip
    on = {**shelf(tank(20)), "ice": [own]}
    assert "400 W/K/kg" in written(on)
    mine, _ = told(drag(), on)
    theirs, _ = told(drag(), shelf(tank(20)))
    assert mine["ice"]["melted_pass_kg"] > theirs["ice"]["melted_pass_kg"]
    assert mine["ice"]["kind"] == "small cubes"
