"""An iced loop that keeps its front exchanger behind a bypass valve: what must be true of it, through the command."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from tests.independent.kit_checker import faults
from tests.independent.plain import si
from tests.independent.test_bill import missing
from tests.journeys.checks import Ran, check
from tests.journeys.kitwright import Run, Tree, example, shelf_part, shipped, shipped_part, small_shelf, suggest

CORE, PUMP, FRONT, VALVE = "core-350-sturdy", "pump-80-race", "exchanger-440-double", "valve-25"
FITTED = {"own": [{"id": FRONT, "fitted": True}]}
ASKED = {"layouts": ["bypass"]}
BOX = ["reservoir-20-ice", "cap-45-vented", PUMP, CORE, FRONT]


def iced(**changes: Any) -> Tree:
    """The drag car with a front in the air: 6 m/s at its face, 32 degC, and a tank at 2 degC."""
    brief = example("drag", **{"site__air": "32 degC", "limits": None, **changes})
    nose = {"wide": "700 mm", "high": "400 mm", "deep": "90 mm", "open": ["front", "back", "left", "right"]}
    brief["bay"]["zones"]["nose"] = {**nose, "takes": ["exchanger"], "air": {"face_speed": "6 m/s"}}
    brief["bay"]["runs"].update({"bonnet-nose": "0.8 m", "nose-boot": "4.5 m"})
    return brief


def shelf(**sections: list[Tree]) -> Tree:
    """One core, pump, tank and front; every coolant wye and every valve."""
    given = {
        "cores": [shipped_part(CORE)], "pumps": [shipped_part(PUMP)], "exchangers": [shipped_part(FRONT)],
        "reservoirs": [shipped_part("reservoir-20-ice")], "caps": [shipped_part("cap-45-vented")],
        "wyes": [wye for wye in shipped("wyes") if wye["medium"] == "coolant"], "valves": shipped("valves"),
    }  # fmt: skip
    return small_shelf(**{**given, **sections})


@cache
def fitted() -> Run:
    """The car whose front exchanger stays, with ice."""
    run = suggest(iced(**FITTED), "--json", shelf=shelf())
    assert run.code == 0, run.err or run.out[:3000]
    return run


def of_layout(run: Run, layout: str) -> Tree:
    (kit,) = [kit for kit in run.kits if kit["layout"] == layout]
    return kit


# --- heat -------------------------------------------------------------------------------------------------------------


def test_on_bypass_the_charge_is_as_cool_as_without_an_exchanger() -> None:
    """Only valve and wye take a little of the flow."""
    plain, hybrid = of_layout(fitted(), "single"), of_layout(fitted(), "bypass")
    assert "exchanger" not in plain["parts"] and hybrid["parts"]["exchanger"] == [FRONT]
    for figure in ("charge_out_worst_c", "coolant_end_c", "margin_low_k"):
        assert hybrid["thermal"][figure] == pytest.approx(plain["thermal"][figure], abs=0.3)
    flows = [kit["thermal"]["coolant_flow_l_per_min"] for kit in (hybrid, plain)]
    assert 0.9 * flows[1] < flows[0] < flows[1]
    assert hybrid["ice"]["melted_pass_kg"] == pytest.approx(plain["ice"]["melted_pass_kg"], rel=0.1), (
        "the bypass is 0.6 m of hose longer, and its water and wall take some of the heat"
    )


def test_nothing_is_rejected_on_bypass_and_the_energy_closes() -> None:
    energy = of_layout(fitted(), "bypass")["energy"]
    assert energy["rejected_j"] == 0.0 and energy["ice_j"] > 0
    assert abs(energy["closure"]) < 1e-6
    given = energy["charge_j"] + energy["condensate_j"] + energy["pump_j"]
    taken = energy["ice_j"] + energy["stored_coolant_j"] + energy["stored_metal_j"]
    assert given == pytest.approx(taken, rel=1e-5)


def test_the_answer_says_what_the_exchanger_would_add_and_how_the_valve_stands() -> None:
    hybrid = of_layout(fitted(), "bypass")
    told = hybrid["bypass"]
    assert told["valve"] == VALVE and told["shut_out"] is True
    assert 3e3 < told["would_add_w"] < 9.5e3
    assert "valve-on-bypass" in {caution["code"] for caution in hybrid["cautions"]}
    assert of_layout(fitted(), "single")["bypass"] is None
    words = " ".join(suggest(iced(**FITTED), shelf=shelf()).out.split())
    assert f"{told['would_add_w'] / 1000:.1f} kW" in words and "valve must stand on bypass" in words


def test_fronts_of_ordinary_size_would_add_8_to_9_5_kw_at_30_k() -> None:
    """Common practice, no source: 270 to 320 W/K, at 30 K between air and tank 8 to 9.5 kW; here 0.07 to 0.10 m2."""
    fronts = [shipped_part(f"exchanger-{name}") for name in ("520-plain", "620-double", "640-slim")]
    run = suggest(iced(), "--json", shelf=shelf(exchangers=fronts))
    watts = [out["found"] for out in run.answer["exclusions"] if out["code"] == "warms-ice"]
    assert len(watts) == 3 and 8e3 < sum(watts) / 3 < 9.5e3
    assert min(watts) > 7e3 and max(watts) < 10.5e3


def test_on_the_road_the_exchanger_is_in_circuit_as_any_other() -> None:
    warm = {"ice": None, "coolant": {"kinds": ["water"], "start": "32 degC"}}
    road = suggest(iced(**warm, **ASKED), "--json", shelf=shelf(), trace=True)
    plain = suggest(iced(**warm), "--json", shelf=shelf())
    (kit,), (other,) = road.kits, plain.kits
    assert kit["layout"] == "bypass" and other["layout"] == "single"
    assert kit["bypass"] == {"valve": VALVE, "shut_out": False, "would_add_w": None}
    assert {"valve-open"} == {caution["code"] for caution in kit["cautions"]} & {"valve-open", "valve-on-bypass"}
    assert kit["energy"]["rejected_j"] > 0 and abs(kit["energy"]["closure"]) < 1e-6
    assert kit["thermal"]["charge_out_worst_c"] == pytest.approx(other["thermal"]["charge_out_worst_c"], abs=0.3)
    assert road.trace[-1]["exchanger_w_per_k"] > 50


# --- joints, bill, filling --------------------------------------------------------------------------------------------

PLACES = [
    ("reservoir", "pump"), ("pump", "core"), ("core", "valve"), ("valve", "exchanger"), ("exchanger", "wye-1"),
    ("valve", "wye-1"), ("wye-1", "reservoir"),
]  # fmt: skip
STANDS = {("valve", "exchanger"), ("exchanger", "wye-1")}


def test_every_end_of_valve_and_wye_is_joined_and_a_kit_is_sound() -> None:
    """`faults` mates, rates, clamps, prices and weighs it again from the YAML alone; `missing` reads its bill."""
    brief = iced(**ASKED)
    run = suggest(brief, "--json", shelf=shelf())
    (kit,) = run.kits
    runs = [joint for joint in kit["joints"] if joint["hose"]]
    ends = [(joint["from"].split("."), joint["to"].split(".")) for joint in runs]
    assert [(one[0], other[0]) for one, other in ends] == PLACES
    assert {end[1] for pair in ends for end in pair if end[0] == "valve"} == {"in", "out", "bypass"}
    assert [found for found in faults(brief, kit) if not found.startswith(("boil", "fail"))] == []
    assert missing(kit) == []


def test_what_stands_takes_no_pressure_and_what_flows_does() -> None:
    for joint in of_layout(fitted(), "bypass")["joints"]:
        if joint["hose"]:
            place = (joint["from"].split(".")[0], joint["to"].split(".")[0])
            assert (joint["loss_pa"] == 0.0) == (place in STANDS), place


def test_the_bill_holds_valve_wye_and_a_clamp_for_each_end_of_a_hose() -> None:
    """By hand: seven hoses, fourteen ends, beside the clamps of two charge couplers."""
    plain, hybrid = of_layout(fitted(), "single"), of_layout(fitted(), "bypass")
    bought = {line["part"]: line for line in hybrid["lines"] if line["part"]}
    assert bought[VALVE]["price_cents"] == round(shelf_part(VALVE)["price"] * 100)
    assert any(part.startswith("wye-") for part in bought)
    clamps = [sum(line["quantity"] for line in kit["lines"] if line["item"] == "clamp"
                  and line["group"] == "coolant side") for kit in (hybrid, plain)]  # fmt: skip
    assert clamps == [14, 6]
    assert hybrid["price_cents"] > plain["price_cents"] + 3890 and hybrid["mass_dry_g"] > plain["mass_dry_g"] + 380


def test_what_stands_in_the_exchanger_and_its_hoses_is_filled_all_the_same() -> None:
    plain, hybrid = of_layout(fitted(), "single"), of_layout(fitted(), "bypass")
    hoses = [sum(joint["hose_length_m"] * si(shelf_part(joint["hose"])["bore"]) ** 2 * 785.4
                 for joint in kit["joints"] if joint["hose"]) for kit in (hybrid, plain)]  # fmt: skip
    inside = shelf_part(FRONT)["coolant"].get("volume")
    more = hybrid["coolant_l"] - plain["coolant_l"] - (hoses[0] - hoses[1])
    assert more == pytest.approx(si(inside) * 1000, abs=0.1) if inside else 0.2 < more < 2.5


# --- who gets one -----------------------------------------------------------------------------------------------------


def test_nobody_who_does_not_ask_gets_a_valve() -> None:
    """The exchanger does nothing in the event and costs money: the ordinary iced answer stays what it is."""
    run = suggest(iced(), "--json", "--all-variants", "--top", "50", shelf=shelf())
    assert {kit["layout"] for kit in run.kits} == {"single"}
    (out,) = [reason for reason in run.answer["exclusions"] if reason["part"] == FRONT]
    assert out["code"] == "warms-ice" and "bypass" in out["text"]
    assert out["found"] == pytest.approx(of_layout(fitted(), "bypass")["bypass"]["would_add_w"], rel=0.6)
    assert fitted().kits[0]["layout"] == "single", "the plain loop comes first: it costs less"


@pytest.mark.parametrize("without", [["exchanger"], ["valve"], ["wye"]])
def test_without_exchanger_valve_or_wye_there_is_no_bypass(without: list[str]) -> None:
    run = suggest(iced(**FITTED, without=without), "--json", shelf=shelf())
    assert [kit["layout"] for kit in run.kits] == ["single"]


@pytest.mark.parametrize("change", [{"working": "0.5 bar"}, {"hottest": "60 degC"}])
def test_a_valve_that_does_not_stand_the_loop_is_not_taken(change: Tree) -> None:
    """The loop behind the pump may see 0.9 bar and more, and hoses and pieces have to stand 100 degC."""
    weak = shipped_part(VALVE, **{f"through__{key}": value for key, value in change.items()})
    run = suggest(iced(**FITTED), "--json", shelf=shelf(valves=[weak]))
    assert [kit["layout"] for kit in run.kits] == ["single"]


def test_a_valve_of_two_ends_is_bad_input() -> None:
    valve = shipped_part(VALVE)
    valve["through"]["ends"].pop()
    assert suggest(iced(), shelf=shelf(valves=[valve])).code == 3


# --- a box of parts ---------------------------------------------------------------------------------------------------


def boxed(*more: str, brief: Tree | None = None) -> Ran:
    kit = {"kit": "box", "boost": "1.5 bar", "charger_outlet": "76 mm", "throttle": "76 mm", "parts": [*BOX, *more]}
    return check(kit, "--json", brief=brief, shelf=shelf())


def test_a_box_without_a_valve_is_a_no_by_the_kilowatts_and_with_one_a_yes() -> None:
    bare, valved = boxed(brief=iced()), boxed(VALVE, brief=iced())
    assert (bare.code, bare.answer["outcome"]) == (1, "does_not")
    (rule,) = [rule for rule in bare.answer["broken"] if rule["rule"] == "not-in-this-car"]
    assert "kW" in rule["text"] and "bypass" in rule["text"]
    assert (valved.code, valved.answer["outcome"]) == (0, "fits_together")
    assert valved.answer["in_car"]["layout"] == "bypass"
    codes = {caution["code"] for caution in valved.answer["cautions"]}
    assert codes & {"valve-on-bypass", "valve-open"} == {"valve-on-bypass"}


def test_the_same_boxes_are_sound_on_the_road_and_without_a_car() -> None:
    road = iced(ice=None)
    for told in (boxed(brief=road), boxed(VALVE, brief=road), boxed(), boxed(VALVE)):
        assert told.code == 0, told.answer["broken"]
    answer = boxed(VALVE).answer
    made = [tuple(joint[side].split(".")[0] for side in ("from", "to")) for joint in answer["joints"] if joint["hose"]]
    assert made == PLACES and VALVE not in answer["spare"]
    assert VALVE not in {line["part"] for line in answer["to_buy"]}, "it lies in the box"


def test_a_valve_for_the_exchanger_that_is_in_the_car() -> None:
    kit = {"kit": "box", "boost": "1.5 bar", "parts": [*BOX[:-1], VALVE]}
    told = check(kit, "--json", brief=iced(**FITTED), shelf=shelf())
    assert told.code == 0 and told.answer["in_car"]["layout"] == "bypass"


def test_no_other_front_is_offered_for_one_that_the_valve_shuts_out() -> None:
    """By the pieces that went with it a front that no coolant enters once was told to bring 1.1 K."""
    sold = [shipped_part("exchanger-350-slim"), shipped_part("exchanger-395-slim")]
    pumps = [shipped_part(PUMP), shipped_part("pump-60-medium")]
    iced_by = iced(**ASKED)
    run = suggest(iced_by, "--json", "--improve", shelf=shelf(exchangers=sold, pumps=pumps))
    kinds = {gain["kind"] for gain in run.answer["improve"]}
    assert kinds >= {"pump", "ice"} and not kinds & {"exchanger", "second exchanger", "duct"}
