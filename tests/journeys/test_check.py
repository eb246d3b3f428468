"""Do these parts go together? The example kits and boxes made from them, through the command line."""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from tests.journeys.checks import KITS, bought, check, flowing, kit_file
from tests.journeys.kitwright import example, opened, shipped, shipped_part, small_shelf, suggest

SECTIONS = ("cores", "exchangers", "pumps", "reservoirs")
EXAMPLES = sorted(path.stem for path in KITS.glob("*.yaml"))


def made(name: str, **changes: Any) -> dict[str, Any]:
    """An example kit with keys changed; None takes a key away."""
    kit = kit_file(name)
    kit.update(changes)
    return {key: value for key, value in kit.items() if value is not None}


def rules(answer: dict[str, Any]) -> set[str]:
    return {rule["rule"] for rule in answer["broken"]}


def test_every_example_has_its_answer() -> None:
    """Exit codes: 0 yes, 1 no, 4 unproven. The first sentence says the same."""
    outcomes = {name: check(name, "--json") for name in EXAMPLES}
    found = {name: (ran.answer["outcome"], ran.code) for name, ran in outcomes.items()}
    assert found["good"] == ("fits_together", 0)
    assert found["look-alike"] == ("does_not", 1)
    assert found["quick-connect-cap-1.1"] == found["quick-connect-cap-0.5"] == ("fits_together", 0)
    words = {"fits_together": "Yes: ", "does_not": "No: ", "unproven": "Unproven: "}
    for name in EXAMPLES:
        told = check(name)
        first = told.out.splitlines()[0].replace("No as they are: ", "No: ")
        assert words[found[name][0]] in first and told.code == found[name][1]
        *lines, following = told.out.splitlines()
        assert max(map(len, lines)) <= 80 and "\x1b" not in told.out
        assert following.startswith("Next: ") and "kitwright check " in following


def test_the_good_box_needs_what_its_four_runs_and_two_pipes_lack() -> None:
    """Counted by hand: 4 ports of -12, two barbs of 19 mm are there, so two of 25 mm are wanted; two couplers."""
    answer = check("good", "--json").answer
    assert len(answer["joints"]) == 6
    buys = bought(answer)
    assert "barb-orb-12-19" not in buys and "hose-rubber-25" not in buys
    assert buys["barb-orb-12-25"] == 2
    assert sum(count for part, count in buys.items() if part.startswith("coupler")) == 2
    assert sum(count for part, count in buys.items() if part.startswith("clamp-t-bolt")) == 4
    assert sum(count for part, count in buys.items() if part.startswith("clamp-worm")) == 8
    assert [line["quantity"] for line in answer["to_buy"] if line["item"] == "O-ring -12, EPDM"] == [4]


def before_the_pump(answer: dict[str, Any]) -> str:
    """The hose from reservoir to pump."""
    return next(joint["hose"] for joint in answer["joints"] if joint["from"].startswith("reservoir"))


def test_a_plain_wide_hose_of_the_box_is_kept_off_the_pumps_suction() -> None:
    """Over 19 mm it is sucked flat there: common practice, no source. Elsewhere it serves."""
    answer = check(made("good", parts=[p for p in kit_file("good")["parts"] if p != "hose-wired-25"]), "--json").answer
    assert before_the_pump(answer) == "hose-wired-25" and "hose-wired-25" in bought(answer)
    assert "hose-rubber-25" not in answer["spare"]
    said = [caution["text"] for caution in answer["cautions"] if caution["code"] == "suction-hose"]
    assert any("Rubber heater hose, 1 inch" in text and "reservoir to pump" in text for text in said)
    whole = check("good", "--json").answer
    assert before_the_pump(whole) == "hose-wired-25" and "hose-wired-25" not in bought(whole)


def test_a_wide_hose_that_says_nothing_of_vacuum_leaves_the_box_unproven() -> None:
    unsaid = {**shipped_part("hose-rubber-25", id="my-hose"), "kind": "hose"}
    del unsaid["vacuum"]
    parts = [part for part in kit_file("good")["parts"] if not str(part).startswith("hose")]
    ran = check(made("good", parts=[*parts, unsaid]), "--json")
    assert (ran.answer["outcome"], ran.code) == ("unproven", 4)
    (rule,) = ran.answer["unknown"]
    assert (rule["rule"], rule["subjects"]) == ("suction-hose", ["my-hose", "reservoir to pump"])
    assert before_the_pump(ran.answer) == "my-hose"


def test_where_nobody_sells_a_hose_for_the_suction_the_place_is_a_no() -> None:
    plain = [hose for hose in shipped("hoses") if "wired" not in hose["id"]]
    parts = [part for part in kit_file("good")["parts"] if part != "hose-wired-25"]
    sold = [shipped_part(part) for part in parts if not str(part).startswith(("hose", "barb"))]
    of_kind = {kind: [part for part in sold if part["id"].startswith(kind[:-1])] for kind in SECTIONS}
    answer = check(made("good", parts=parts), "--json", shelf=small_shelf(**of_kind, hoses=plain)).answer
    (rule,) = answer["broken"]
    assert rule["rule"] == "suction-hose" and rule["text"].startswith("reservoir to pump: 'hose-rubber-25'")


def test_the_half_inch_npt_barbs_must_not_go_into_the_dash_10_ports() -> None:
    """1/2 NPT and 7/8-14 both have 14 turns to the inch (published, ASME B1.20.1 and SAE J1926-1): a look-alike."""
    ran = check("look-alike", "--json")
    answer = ran.answer
    assert rules(answer) == {"look-alike-thread"}
    (look,) = [look for look in answer["look_alikes"] if look["trap"]]
    assert (look["part"], look["other"]) == ("barb-npt-1-2-19", "exchanger-380-slim")
    assert bought(answer)["barb-orb-10-19"] == 2
    told = flowing(check("look-alike").out)
    assert "NPT 1/2 to 19 mm barb in the box seems to fit Slim exchanger, 380 wide" in told
    assert "leave it out" in told and "thrown out" in told
    without = made("look-alike", parts=kit_file("look-alike")["parts"][:5])
    assert check(without, "--json").answer["outcome"] == "fits_together"


@pytest.mark.parametrize(("cap", "design", "margin"), [("1.1", 1.95, 1.06), ("0.5", 1.29, 1.60)])
def test_the_quick_connect_limits_with_either_cap(cap: str, design: float, margin: float) -> None:
    """By hand: 1.1 x cap + 0.7 bar of dead head + 0.4 m at 0.1 bar/m. 206 kPa: published scope of SAE J3207."""
    answer = check(f"quick-connect-cap-{cap}", "--json").answer
    side = answer["pressure"]["coolant"]
    assert side["limited_by"] == "clip-19-barb" and " to " in side["place"]
    assert side["design_pa_gauge"] == pytest.approx(design * 1e5, abs=500)
    assert side["rating_pa_gauge"] == 206_000
    assert side["margin"] == pytest.approx(margin, abs=0.005)
    codes = {caution["code"] for caution in answer["cautions"]}
    assert ("thin-margin" in codes) is (margin < 1.25)
    screen = flowing(check(f"quick-connect-cap-{cap}").out)
    assert ("1.06 times: LITTLE; 1.25 and more is usual" in screen) is (margin < 1.25)


def test_a_higher_cap_than_the_quick_connect_stands_is_a_no_with_the_cap_that_would_do() -> None:
    """By hand: 1.1 x 1.3 + 0.74 = 2.17 bar is above 2.06; (2.06 - 0.74) / 1.1 = 1.2 bar."""
    answer = check(made("quick-connect-cap-1.1", cap="1.3 bar"), "--json").answer
    assert answer["outcome"] == "does_not"
    clips = [rule["text"] for rule in answer["broken"] if "clip-19-barb" in rule["text"]]
    assert clips and all("2.17 bar" in text for text in clips)


def test_two_cores_lie_side_by_side_between_two_wyes() -> None:
    """By hand: six ports of -12 (two a core, two at the exchanger), two wyes, eight runs of two clamped ends each."""
    answer = check("two-cores", "--json").answer
    assert (answer["outcome"], answer["broken"], answer["unknown"]) == ("fits_together", [], [])
    assert len(answer["layouts"]) == 2 and all("two cores" in layout for layout in answer["layouts"])
    joined = {(joint["from"].split(".")[0], joint["to"].split(".")[0]) for joint in answer["joints"]}
    assert joined == {
        ("reservoir", "pump"), ("pump", "wye-1"), ("wye-1", "core-1"), ("wye-1", "core-2"), ("core-1", "wye-2"),
        ("core-2", "wye-2"), ("wye-2", "exchanger"), ("exchanger", "reservoir"),
    }  # fmt: skip
    buys = bought(answer)
    assert buys["wye-25"] == 2 and buys["barb-orb-12-25"] == 6
    assert sum(count for part, count in buys.items() if part.startswith("clamp")) == 16


def test_two_cores_with_a_brief_have_the_figures_of_both() -> None:
    brief = example("road", bay="unmeasured")
    both = check("two-cores", "--json", brief=brief).answer["in_car"]
    parts = kit_file("two-cores")["parts"]
    one = check(made("two-cores", parts=[*parts[:4], parts[5]]), "--json", brief=brief).answer["in_car"]
    assert both["parts"].count("core-175-short") == 2 and one["parts"].count("core-175-short") == 1
    assert both["thermal"]["charge_out_worst_c"] < one["thermal"]["charge_out_worst_c"]


def test_two_cores_that_differ_have_no_layout_and_stay_unproven() -> None:
    parts = kit_file("two-cores")["parts"]
    answer = check(made("two-cores", parts=[*parts[:4], "core-210-short", parts[5]]), "--json").answer
    assert answer["outcome"] == "unproven" and [rule["rule"] for rule in answer["unknown"]] == ["no-layout"]
    assert "that differ" in answer["unknown"][0]["text"]


def test_a_sealed_loop_without_a_cap_is_judged_with_one_of_the_shelf_and_buys_it() -> None:
    kit = made("two-cores", parts=["reservoir-5-square", "pump-60-medium", "core-175-short", "exchanger-440-double"])
    answer = check(kit, "--json").answer
    assert (answer["outcome"], answer["broken"]) == ("fits_together", [])
    assert {part: count for part, count in bought(answer).items() if part.startswith("cap")} == {"cap-45-0.3": 1}


@pytest.mark.parametrize(
    ("changes", "rule"),
    [
        ({"cap": "2 bar"}, "cap-above-rating"),
        ({"parts": ["reservoir-6-vented", "cap-45-0.5", "pump-46-small", "core-210-short", "exchanger-395-slim"],
          "cap": None}, "vented-under-pressure-cap"),
        ({"boost": "3.5 bar"}, "rating-below-pressure"),
    ],
)  # fmt: skip
def test_a_rule_of_the_loop_broken_is_a_no(changes: dict[str, Any], rule: str) -> None:
    ran = check(made("quick-connect-cap-0.5", **changes), "--json")
    assert ran.code == 1 and rule in rules(ran.answer)


@pytest.mark.parametrize("kind", ["fan", "timer"])
def test_a_box_of_two_voltages_is_a_no_with_both(kind: str) -> None:
    other = {**shipped(f"{kind}s")[0], "kind": kind, "id": "other"}
    for volts, code in ((12, 0), (24, 1)):
        ran = check(made("good", parts=[*kit_file("good")["parts"], {**other, "volts": volts}]), "--json")
        assert ran.code == code
        told = [rule for rule in ran.answer["broken"] if rule["rule"] == "voltages-differ"]
        assert len(told) == code
    assert told[0]["text"] == "'other' is for 24 V, 'pump-46-small' for 12 V: a kit is of one voltage"


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"parts": ["reservoir-6-vented", "cap-45-vented", "core-210-short"]}, "there is no pump"),
        ({"parts": ["pump-46-small", "core-210-short"]}, "there is no reservoir"),
        ({"boost": None}, "the boost is not stated"),
        ({"parts": ["reservoir-6-vented", "cap-45-vented", "pump-46-small", "core-300-square", "exchanger-395-slim"],
          "charger_outlet": None, "throttle": None}, "states no pressure"),
    ],
)  # fmt: skip
def test_what_nobody_knows_is_neither_yes_nor_no(changes: dict[str, Any], says: str) -> None:
    ran = check(made("good", **changes), "--json")
    assert ran.code == 4 and ran.answer["outcome"] == "unproven"
    assert says in " ".join(rule["text"] for rule in ran.answer["unknown"])
    assert says in flowing(check(made("good", **changes)).out)


def test_the_order_of_the_list_does_not_matter() -> None:
    kit = kit_file("look-alike")
    kit["parts"] = kit["parts"][:5]
    answers = []
    for order in itertools.islice(itertools.permutations(kit["parts"]), 0, 120, 29):
        answer = check(made("look-alike", parts=list(order)), "--json").answer
        answers.append({key: answer[key] for key in ("outcome", "joints", "pressure", "to_buy", "parts")})
    assert all(answer == answers[0] for answer in answers)


def test_what_lies_in_the_box_is_used_before_the_shelf() -> None:
    """The shelf would take 25 mm barbs at the pump; with 19 mm hose and barbs in the box those are taken."""
    parts = ["reservoir-1-round", "cap-32-0.5", "pump-50-medium", "core-230-short", "exchanger-398-double"]
    small = ["hose-rubber-19", *["barb-orb-12-19"] * 4]
    buys = bought(check(made("good", parts=parts + small, boost="0.9 bar"), "--json").answer)
    assert not [part for part in buys if part.startswith(("hose", "barb"))]
    assert [part for part in buys if part.startswith("clamp")]


WIRING = {
    "fuse": {"rated": "7.5 A"}, "relay": {"rated": "30 A", "volts": 12}, "wire": {"area": "6 mm2"},
}  # fmt: skip
"""What serves pump-46-small, which draws 4.3 A of 12 V: 5.73 A of fuse, so the shelf's of 7.5 A; 6.45 A of relay."""


def wired(**changes: dict[str, Any]) -> dict[str, Any]:
    """The good box with a fuse, a relay and wire of its own, each as it serves or changed."""
    own = [
        {"kind": kind, "id": f"my-{kind}", "name": f"My {kind}", "price": 1, **piece, **changes.get(kind, {})}
        for kind, piece in WIRING.items()
    ]
    return check(made("good", parts=[*kit_file("good")["parts"], *own]), "--json").answer


def test_a_fuse_relay_and_wire_of_the_box_that_serve_its_pump_are_not_bought_again() -> None:
    answer = wired()
    assert not {line["item"] for line in answer["to_buy"]} & set(WIRING)
    assert answer["refused"] == []


@pytest.mark.parametrize(
    ("kind", "changes", "figures"),
    [
        ("fuse", {"rated": "3 A"}, (3.0, 4.3 / 0.75)),
        ("fuse", {"rated": "40 A"}, (40.0, 7.5)),
        ("relay", {"rated": "6 A"}, (6.0, 6.45)),
        ("relay", {"volts": 24}, (24.0, 12.0)),
        ("wire", {"area": "0.5 mm2"}, (0.0, 7.5)),
    ],
)
def test_one_that_does_not_serve_stays_on_the_bill_and_is_told_with_both_figures(
    kind: str, changes: dict[str, Any], figures: tuple[float, float]
) -> None:
    answer = wired(**{kind: changes})
    assert {line["item"] for line in answer["to_buy"]} & set(WIRING) == {kind}
    (refused,) = answer["refused"]
    assert (refused["rule"], refused["subjects"]) == ("serves-no-motor", [f"my-{kind}", "pump-46-small"])
    assert (refused["found"], refused["limit"]) == pytest.approx(figures)


def test_a_fuse_of_the_box_serves_one_motor_alone() -> None:
    """Pump and fan of one current want two."""
    fan = {**shipped("fans")[0], "kind": "fan", "id": "my-fan", "current": "4.3 A"}
    for count in (1, 2):
        answer = check(made("good", parts=[*kit_file("good")["parts"], fan, *["fuse-07.5"] * count]), "--json").answer
        assert sum(line["item"] == "fuse" for line in answer["to_buy"]) == 2 - count


def test_a_missing_adapter_is_a_no_that_names_it() -> None:
    """No shelf: the two parts of -12 ports have no barb between them and their hose."""
    shelf = {
        "hoses": [shipped_part("hose-rubber-19")],
        "clamps": [shipped_part("clamp-worm-20-32")],
        "cores": [shipped_part("core-230-short")],
        "exchangers": [shipped_part("exchanger-398-double")],
    }
    box = {"kit": "x", "parts": ["core-230-short", "exchanger-398-double"], "boost": "1 bar"}
    answer = check(box, "--json", shelf=shelf).answer
    assert answer["outcome"] == "does_not"
    assert "core to exchanger" in answer["broken"][0]["text"] and "O-ring boss -12" in answer["broken"][0]["text"]


def test_with_a_brief_the_heat_is_what_suggest_says_of_the_same_parts() -> None:
    best = suggest("hatch", "--json").kits[0]
    parts = [part for ids in best["parts"].values() for part in ids]
    ran = check({"kit": "the best", "parts": parts}, "--json", brief=example("hatch"))
    told = ran.answer["in_car"]
    assert ran.code == 0 and told["missed"] == [] and sorted(told["parts"]) == sorted(parts)
    assert told["thermal"] == best["thermal"]
    assert told["clearance_mm"] == best["fit"]["clearance_mm"]


def test_of_what_kit_file_and_brief_both_say_of_the_engine_the_brief_counts_and_that_is_said() -> None:
    car = example("hatch", engine__charger_outlet="51 mm", engine__throttle=None)
    engine = {"boost": "0.9 bar", "charger_outlet": "57 mm", "throttle": "64 mm", "charger_outlets": 1}
    told = check(made("good", **engine), "--json", brief=car).answer
    said = {one["about"]: one["text"] for one in told["assumed"]}
    assert said["boost"] == "boost 1.40 bar, as the brief says, not 0.90 bar, as the kit file does"
    assert said["charger outlet"] == "charger outlet 51 mm, as the brief says, not 57 mm, as the kit file does"
    assert not {"throttle", "charger outlets"} & said.keys()
    pipes = check(made("good", **engine), brief=car).out
    assert "51 mm" in pipes and not check(made("good", **engine)).out.count("51 mm")
    alike = check(made("good", boost="140 kPa"), "--json", brief=example("hatch")).answer
    assert "boost" not in {one["about"] for one in alike["assumed"]}


def test_with_a_brief_a_part_that_is_too_large_is_a_no_in_this_car() -> None:
    parts = ["reservoir-6-vented", "cap-45-vented", "pump-46-small", "core-318-long", "exchanger-620-double"]
    ran = check({"kit": "too large", "parts": parts}, brief=example("hatch"))
    assert ran.code == 1 and "misses the zone 'nose' by 160 mm" in flowing(ran.out)


def test_with_a_brief_what_a_weak_part_breaks_in_the_car_beside_its_rating_is_told_at_once() -> None:
    parts = ["reservoir-6-vented", "cap-45-vented", "pump-46-small", "core-150-light", "exchanger-620-double"]
    ran = check({"kit": "weak, hot and large", "parts": parts}, brief=example("hatch"))
    told = flowing(ran.out)
    assert ran.code == 1 and "'core-150-light' (core) holds 1.60 bar, may see 1.75 bar" in told
    assert "in this car: Small core with plastic tanks, 150 long stands 120 degC, the charge arrives at 168" in told
    assert "misses the zone 'nose' by 160 mm" in told and told.count("in this car: Small core") == 1
    assert "charge temperature, flow and fit are not reckoned, for these parts make no kit as they are." in told


def test_what_the_car_has_against_a_part_is_not_what_ice_a_bypass_or_a_fan_would_have() -> None:
    """Boxes that lack only a cap; with one they are kits, so the car has nothing against their parts."""
    ice = ["reservoir-28-ice", "pump-80-race", "core-260-short", "exchanger-395-slim", "valve-19"]
    fan = ["reservoir-6-vented", "pump-46-small", "core-210-short", "exchanger-395-slim", "fan-140"]
    drag, hatch = opened(example("drag")), example("hatch", bay="unmeasured")
    drag["bay"]["zones"]["nose"] = {"wide": "500 mm", "high": "400 mm", "deep": "200 mm", "takes": ["exchanger"]}
    drag = opened(drag)
    hatch["aim"]["after"] = "5 min standstill"
    for parts, brief in ((ice, drag), (fan, hatch)):
        told = flowing(check({"kit": "no cap", "boost": "0.9 bar", "parts": parts}, brief=brief).out)
        assert "in this car: " not in told, told[:900]
        whole = {"kit": "cap", "boost": "0.9 bar", "parts": [*parts, "cap-45-vented"]}
        assert check(whole, "--json", brief=brief).answer["broken"] == []


@pytest.mark.parametrize(("pump", "joins"), [("pump-50-medium", True), ("pump-60-medium", False)])
def test_what_cannot_be_mended_in_a_car_with_ice_is_told_beside_a_joint_that_fails(pump: str, joins: bool) -> None:
    """The medium pump has an inlet of 1 inch, which the barbs of a -12 port starve."""
    box = {"kit": "no ice tank", "parts": ["reservoir-8-cube", "cap-45-vented", pump, "core-260-short"]}
    for more, says in (
        ([], "Cubic 8 litre tank, -12 ports is no ice tank"),
        (["exchanger-395-slim", "valve-25"], "No zone of the bay takes a part of this kind (exchanger)"),
    ):
        ran = check({**box, "parts": [*box["parts"], *more]}, "--json", brief=example("drag"))
        told = " ".join(rule["text"] for rule in ran.answer["broken"])
        assert f"in this car: {says}" in told and ran.code == 1
        assert ("suction-step" in rules(ran.answer)) is not joins
    warm = check({**box, "parts": [*box["parts"], "exchanger-395-slim"]}, "--json", brief=example("drag"))
    texts = [rule["text"] for rule in warm.answer["broken"]]
    assert any("Slim exchanger, 395 wide" in text and "W" in text for text in texts) and len(set(texts)) == len(texts)


def test_a_box_that_misses_the_aim_goes_together_and_says_so() -> None:
    best = suggest("hatch", "--json").kits[0]
    parts = [part for ids in best["parts"].values() for part in ids]
    ran = check({"kit": "short", "parts": parts}, brief=example("hatch", aim__charge_air="45 degC"))
    assert ran.code == 0 and "It misses what the brief asks: aim" in flowing(ran.out)


def test_couplers_are_lined_where_the_charge_is_oily() -> None:
    """Silicone swells in oil (published, SAE J20: poor oil resistance): the box says it, or the brief."""
    for name, wanted in (("good", False), ("oily", True)):
        buys = bought(check(made("good", oily=name == "oily"), "--json").answer)
        couplers = [shipped_part(part)["name"] for part in buys if part.startswith("coupler")]
        assert len(couplers) == 2 and all(("Lined" in words) is wanted for words in couplers), couplers
    brief = example("hatch", engine__oily=True)
    buys = bought(check(made("good"), "--json", brief=brief).answer)
    assert all("Lined" in shipped_part(part)["name"] for part in buys if part.startswith("coupler"))


def test_a_box_without_its_pump_is_judged_by_the_charge_of_the_car_and_says_what_is_not_reckoned() -> None:
    """As hot a charge reaches the coupler as with the pump in the box."""
    parts = ["reservoir-8-cube", "cap-45-vented", "core-260-short", "exchanger-350-slim"]
    told = [
        check({"kit": "hatch", "boost": "1.4 bar", "parts": parts + pump}, "--json", brief=example("hatch")).answer
        for pump in ([], ["pump-40-small"])
    ]
    without, with_pump = (one["pressure"]["charge"] for one in told)
    assert without == with_pump
    assert {one["rule"] for one in told[0]["not_checked"]} == {"heat, fit in the bay, coolant"}
    assert not told[1]["not_checked"]
