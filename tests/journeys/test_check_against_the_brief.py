"""What lies in a box against what the brief of its car says: judged all the same, and said so."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.journeys.checks import bought, check, flowing, kit_file, run
from tests.journeys.kitwright import Tree, example, shipped, shipped_part, suggest, written

OTHER_FRONT = "exchanger-700-broad"


def car(**changes: Tree | str | list[str] | list[Tree]) -> Tree:
    return {**example("hatch"), **changes}


def assumed(brief: Tree) -> str:
    return " ".join(row["text"] for row in check(kit_file("good"), "--json", brief=brief).answer["assumed"])


def test_a_part_of_the_box_in_the_place_of_one_that_stays_is_a_no_as_why_says(tmp_path: Path) -> None:
    """Both stand in one place: `why` has the box's part out, and so has `check`, which judges it all the same."""
    brief = car(own=[{"id": OTHER_FRONT, "fitted": True}], bay="unmeasured")
    parts = ["reservoir-6-vented", "cap-45-vented", "pump-46-small", "core-210-short", "exchanger-395-slim"]
    ran = check({"kit": "another front", "parts": parts}, "--json", brief=brief)
    (rule,) = ran.answer["broken"]
    assert (ran.code, rule["rule"], rule["subjects"]) == (1, "place-taken", ["exchanger-395-slim", OTHER_FRONT])
    assert "exchanger-395-slim" in ran.answer["in_car"]["parts"] and ran.answer["commissioning"] is None
    (tmp_path / "brief.yaml").write_text(written(brief), encoding="utf-8")
    of_why = run("why", str(tmp_path / "brief.yaml"), "exchanger-395-slim", "--json")
    assert (of_why.code, of_why.answer["parts"][0]["code"]) == (1, "place-taken")
    assert of_why.answer["parts"][0]["text"] in rule["text"]
    told = flowing(check({"kit": "another front", "parts": parts}, brief=brief).out)
    head, _, rest = told.partition("Tightest")
    assert "No: these parts go together, but not beside what stays in this car." in head
    staying = shipped_part(OTHER_FRONT)["name"]
    assert f"{staying} stays in the car, and the box holds another exchanger: Slim exchanger, 395 wide is" in head
    assert "Take one of them off." in head and f"take `fitted: true` off '{OTHER_FRONT}' in the brief" in rest
    free = car(own=[{"id": OTHER_FRONT}], bay="unmeasured")
    assert check({"kit": "another front", "parts": parts}, "--json", brief=free).code == 0


def test_a_hose_that_stays_in_the_car_takes_no_place() -> None:
    parts = ["reservoir-6-vented", "cap-45-vented", "pump-46-small", "core-210-short", "exchanger-395-slim"]
    brief = car(own=[{"id": "hose-rubber-25", "fitted": True}], bay="unmeasured")
    ran = check({"kit": "a hose", "parts": [*parts, "hose-rubber-19"]}, "--json", brief=brief)
    assert "place-taken" not in {rule["rule"] for rule in ran.answer["broken"]}


def test_a_part_of_the_box_that_the_brief_does_not_want_is_told() -> None:
    held = kit_file("good")["parts"][0]
    assert "the brief does not want" in assumed(car(without=[held]))
    assert "the brief does not want" not in assumed(car())


def test_a_stated_cap_that_is_refused_is_not_to_be_brought_and_another_is_named() -> None:
    box = {**kit_file("good"), "cap": "7 psi"}
    box["parts"] = [part for part in box["parts"] if "cap" not in part and "reservoir" not in part]
    ran = check({**box, "parts": [*box["parts"], "reservoir-6-vented"]}, "--json")
    told = next(verdict["text"] for verdict in ran.answer["broken"] if "vented" in verdict["text"])
    assert "fit one such as 'cap-45-vented' (vented)" in told
    assert not any("cap that opens" in line["item"] for line in ran.answer["to_buy"])


def box_of(brief: Tree) -> Tree:
    """A kit file of the pieces on the bill of the first kit told for a brief: all but hose and wire."""
    lines = suggested(brief)["lines"]
    pieces = [line for line in lines if line["part"] and line["unit"] == "piece"]
    return {"kit": "as suggested", "parts": [line["part"] for line in pieces for _ in range(round(line["quantity"]))]}


def suggested(brief: Tree) -> Tree:
    kit: Tree = suggest(brief, "--json").answer["kits"][0]
    return kit


def lengths_m(joints: list[Tree]) -> dict[tuple[str, str], float]:
    return {(joint["from"], joint["to"]): joint["hose_length_m"] for joint in joints if joint["hose"]}


@pytest.mark.parametrize("name", ["hatch", "drag", "retro", "commuter", "wagon"])
def test_the_kit_that_is_suggested_is_checked_with_the_same_hoses(name: str) -> None:
    """Of stated runs once 3.3 m were to be bought in the place of 9.9 m; a car with parts that stay was told No."""
    brief = example(name)
    ran = check(box_of(brief), "--json", brief=brief)
    assert ran.code == 0
    assert lengths_m(ran.answer["joints"]) == lengths_m(suggested(brief)["joints"])
    assert not ran.answer["spare"]


def test_a_part_that_stays_may_be_left_out_of_the_box_and_one_written_in_the_brief_named_in_it() -> None:
    brief = example("wagon")
    named = box_of(brief)
    without = {**named, "parts": [part for part in named["parts"] if part != "core-in-manifold"]}
    answers = [check(box, "--json", brief=brief) for box in (without, named)]
    assert [ran.code for ran in answers] == [0, 0]
    assert answers[0].answer["joints"] == answers[1].answer["joints"]
    assert "[core-in-manifold]" in " ".join(row["text"] for row in answers[0].answer["assumed"])
    assert check(named).code == 3


def test_a_piece_of_the_box_serves_once() -> None:
    """One straight barb and three elbows: once the barb was put at all four ends, three more of it to be bought.

    In a bay that nobody has measured, where no run has to turn tighter.
    """
    brief = car(bay="unmeasured")
    box = box_of(example("hatch"))
    barb, elbows = "barb-orb-12-19", ["elbow-orb-12-19"] * 3
    box["parts"] = [part for part in box["parts"] if part not in {barb, *elbows}]

    def asked(*pieces: str) -> tuple[list[str], list[float]]:
        """The pieces at the ends of the hoses, and how many more of the straight one are to be bought."""
        answer = check({**box, "parts": [*box["parts"], *pieces]}, "--json", brief=brief).answer
        through = [part for joint in answer["joints"] for part in joint["through"] if joint["hose"]]
        return sorted(through), [line["quantity"] for line in answer["to_buy"] if line["part"] == barb]

    assert asked(barb, *elbows) == ([barb, *elbows], [])
    assert asked(*elbows) == ([barb, *elbows], [1])
    assert asked(barb) == ([barb] * 4, [3])


SEALED = ["pump-46-small", "core-210-short", "exchanger-395-slim", "reservoir-5-square"]
"""A box whose reservoir wants a cap and that holds none."""


def test_a_cap_that_is_to_be_bought_counts_in_what_the_coolant_side_has_to_hold() -> None:
    """By hand, in bar: 0.3 of cap and a tenth, 0.44 of the pump at no flow, 0.05 of liquid; the exchanger holds 1.6."""
    answer = check({"kit": "no cap", "boost": "0.9 bar", "parts": SEALED}, "--json").answer
    assert bought(answer)["cap-45-0.3"] == 1
    side = answer["pressure"]["coolant"]
    assert side["design_pa_gauge"] == pytest.approx(0.82e5, abs=500)
    assert side["margin"] == pytest.approx(1.60 / 0.82, abs=0.01)
    assert answer["coolant_from"]["opens_pa_gauge"] == 30_000
    assert "cap-45-0.3" not in {part["part"] for part in answer["parts"]}
    stays = check({"kit": "core", "boost": "0.9 bar", "parts": ["core-210-short"]}, "--json", brief=example("commuter"))
    side = stays.answer["pressure"]["coolant"]
    assert bought(stays.answer)["cap-32-0.5"] == 1
    assert side["design_pa_gauge"] == pytest.approx(1.02e5, abs=500)


def test_a_cap_that_the_parts_do_not_hold_is_neither_bought_nor_named_to_be_fitted() -> None:
    """By hand: the weak exchanger sees 0.82 bar under the lowest cap, 0.49 bar without one.

    A cap that they hold is to be bought, and nothing is wrong; one that they do not hold is none to fit.
    """
    for rated, held in (("0.85 bar", True), ("0.8 bar", False)):
        weak = {**shipped_part("exchanger-395-slim"), "id": "weak", "kind": "exchanger"}
        weak["coolant"] = {**weak["coolant"], "working": rated}
        parts = [part for part in SEALED if "exchanger" not in part]
        answer = check({"kit": "weak", "boost": "0.9 bar", "parts": [*parts, weak]}, "--json").answer
        told = {rule["rule"]: rule["text"] for rule in answer["broken"]}
        assert ("cap-45-0.3" in bought(answer)) is held
        assert ("open-neck" in told) is not held
        assert held or "'cap-45-0.3' (0.30 bar), is more than these parts hold" in told["open-neck"]
        assert ("rating-below-pressure" in told) is not held


def test_where_no_cap_suits_a_sealed_reservoir_what_one_adds_is_not_known() -> None:
    kinds = ("pumps", "cores", "exchangers", "reservoirs", "hoses", "clamps", "adapters")
    shelf = {kind: shipped(kind) for kind in kinds}
    box = {"kit": "no caps", "boost": "0.9 bar", "parts": SEALED}
    told = flowing(check(box, shelf=shelf).out)
    assert "(pump at no flow 0.44, liquid above 0.05, what the cap adds not known)" in told


@pytest.mark.parametrize("clamp", ["clamp-steady-30-42", "clamp-worm-32-50"])
def test_clamps_of_the_box_that_close_are_used_before_the_cheapest_of_the_shelf(clamp: str) -> None:
    """Hose of 25 mm with a wall of 4.5 mm is 34 mm outside as fitted: eight places for a clamp on four runs."""
    parts = ["core-210-short", "exchanger-395-slim", "pump-46-small", "reservoir-6-vented", "cap-45-vented"]
    for count in (8, 3, 10):
        box = {"kit": "clamps", "boost": "0.9 bar", "parts": [*parts, *[clamp] * count]}
        answer = check({**box, "charger_outlet": "57 mm", "throttle": "64 mm"}, "--json").answer
        taken = [need for joint in answer["joints"] for need in joint["needs"] if need["part"] == clamp]
        assert sum(need["quantity"] for need in taken) == min(count, 8)
        assert clamp not in bought(answer)
        assert (answer["spare"], answer["spare_counts"]) == (([clamp], {clamp: 2}) if count > 8 else ([], {}))
        assert bought(answer).get("clamp-worm-25-40", 0) == 8 - min(count, 8)
        assert sum(held for part, held in bought(answer).items() if "t-bolt" in part) == 4


def of_unknown(part: str, kind: str, medium: str, *names: str, **written: str) -> Tree:
    """A part of the shelf with ends of which nobody knows what they are."""
    told = {**shipped_part(part), "id": f"my-{kind}", "kind": kind}
    unknown = {"form": "unknown", "size": "21 mm", **written}
    ends = [
        {key: end[key] for key in ("name", "face", "at")} | unknown if end["name"] in names else end
        for end in told[medium]["ends"]
    ]
    return {**told, medium: {**told[medium], "ends": ends}}


@pytest.mark.parametrize("brief", [None, "hatch"])
def test_what_joins_an_end_that_nobody_knows_is_asked_and_no_piece_of_the_box_called_wrong(brief: str | None) -> None:
    """As `mate` does; the pieces that lie in the box may be just what it wants."""
    core = of_unknown("core-230-short", "core", "coolant", "in", "out", sex="female")
    parts = ["reservoir-1.5-slim", "cap-45-0.5", "pump-50-medium", "exchanger-380-slim", core]
    box = {"kit": "unknown", "boost": "0.9 bar", "parts": [*parts, "barb-npt-1-2-19", "barb-g-1-2-19"]}
    car_of = None if brief is None else example(brief)
    ran = check({**box, "charger_outlet": "57 mm", "throttle": "57 mm"}, "--json", brief=car_of)
    answer = ran.answer
    asked = [rule for rule in answer["unknown"] if rule["rule"] == "unknown-end"]
    mated = json.loads(run("mate", "unknown:21mm:female", "hose:19mm", "--json").out)
    assert [rule["subjects"] for rule in asked] == [["pump.out", "core.in"], ["core.out", "exchanger.in"]]
    assert all(mated["question"] in rule["text"] for rule in asked)
    assert not [rule for rule in answer["broken"] if rule["rule"] != "not-in-this-car"]
    assert "no adapter" not in " ".join(rule["text"] for rule in answer["broken"])
    assert answer["spare"] == [] and not any(look["trap"] for look in answer["look_alikes"])
    assert any(look["part"] == "barb-npt-1-2-19" for look in answer["look_alikes"])
    if brief is None:
        assert (answer["outcome"], ran.code) == ("unproven", 4)
        told = flowing(check({**box, "charger_outlet": "57 mm", "throttle": "57 mm"}).out)
        assert "what joins pump to core and core to exchanger is not known, see 'What nobody can say yet'" in told


def test_an_end_of_the_charge_that_nobody_knows_is_asked_for_beside_the_other_that_is_joined() -> None:
    core = of_unknown("core-230-short", "core", "charge", "in")
    parts = ["reservoir-1.5-slim", "cap-45-0.5", "pump-50-medium", "exchanger-380-slim", core]
    box = {"kit": "unknown", "boost": "0.9 bar", "charger_outlet": "57 mm", "throttle": "57 mm", "parts": parts}
    answer = check(box, "--json").answer
    (asked,) = answer["unknown"]
    assert (asked["rule"], answer["outcome"]) == ("unknown-end", "unproven")
    assert asked["text"].startswith("engine to core: 21 mm unknown end cannot be judged. Ask the customer: ")
    assert answer["unjoined"] == [{"medium": "charge", "place": "engine to core"}]
    assert [joint["to"] for joint in answer["joints"] if joint["medium"] == "charge"] == ["engine.throttle"]


def test_an_end_that_nobody_knows_beside_a_bypass_valve_is_asked_for() -> None:
    front = of_unknown("exchanger-395-slim", "exchanger", "coolant", "in", sex="female")
    parts = ["reservoir-20-ice", "cap-45-vented", "pump-60-medium", "core-260-short", front, "valve-25"]
    answer = check({"kit": "valve", "boost": "0.9 bar", "parts": parts}, "--json").answer
    assert [rule["rule"] for rule in answer["unknown"]] == ["unknown-end"] and not answer["broken"]


@pytest.mark.parametrize(
    ("other", "says"),
    [
        ("exchanger-440-double", "places for 2 cores and 2 front exchangers together:"),
        ("exchanger-395-slim", "places for 2 cores and 2 front exchangers that differ together:"),
    ],
)
def test_two_cores_and_two_exchangers_lack_a_layout_together_and_it_is_said_once(other: str, says: str) -> None:
    """There is one for either pair alone."""
    parts = ["reservoir-5-square", "cap-45-0.5", "pump-60-medium", "exchanger-440-double", *["core-175-short"] * 2]
    unknown = check({"kit": "pairs", "boost": "0.9 bar", "parts": [*parts, other]}, "--json").answer["unknown"]
    assert [rule["rule"] for rule in unknown] == ["no-layout"]
    assert says in unknown[0]["text"]
    assert unknown[0]["subjects"] == ["core-1", "core-2", "exchanger-1", "exchanger-2"]
    assert not check({"kit": "one pair", "boost": "0.9 bar", "parts": parts}, "--json").answer["unknown"]


HOSES_OF_A_CAR = "hoses as long as from zone to zone of the car"


def told_of_hoses(answer: Tree) -> str:
    return next(row["text"] for row in answer["assumed"] if row["about"] == "hoses")


@pytest.mark.parametrize("pump", ["pump-50-medium", "pump-60-medium"])
def test_a_box_that_does_not_go_together_has_the_runs_of_its_car_where_one_zone_alone_takes_a_part(pump: str) -> None:
    """The drag car: core under the bonnet, tank and pump in the boot, 4.5 m between them; 0.5 m within a zone."""
    box = {"kit": "no ice tank", "parts": ["reservoir-8-cube", "cap-45-vented", pump, "core-260-short"]}
    answer = check(box, "--json", brief=example("drag")).answer
    assert answer["outcome"] == "does_not" and answer["in_car"]["parts"] is None
    lengths = lengths_m(answer["joints"])
    assert lengths["pump.out", "core.in"] == lengths["core.out", "reservoir.in"] == 4.5
    assert lengths.get(("reservoir.out", "pump.in"), 0.5) == 0.5
    assert told_of_hoses(answer).startswith(HOSES_OF_A_CAR) and "not known" not in told_of_hoses(answer)
    assert "coolant is not in this sum" in flowing(check(box, brief=example("drag")).out)


def test_where_no_zone_is_known_of_a_part_its_runs_are_told_as_usual_ones() -> None:
    """No zone takes the exchanger, and of two that take a core either might hold it."""
    loop = ["reservoir-20-ice", "pump-60-medium", "core-260-short", "cap-45-vented"]
    parts = [*loop, "exchanger-440-double", "valve-25"]
    brief = example("drag")
    told = told_of_hoses(check({"kit": "front", "parts": parts}, "--json", brief=brief).answer)
    assert told.startswith(HOSES_OF_A_CAR) and "1.5 m where a zone or its place is not known" in told
    brief["bay"]["zones"]["other"] = example("drag")["bay"]["zones"]["bonnet"]
    brief["bay"]["zones"]["other"]["at"]["back"] = "1500 mm"
    lengths = lengths_m(check({"kit": "front", "parts": parts}, "--json", brief=brief).answer["joints"])
    assert lengths["pump.out", "core.in"] == 1.5


def test_in_a_bay_that_is_not_measured_no_hose_is_told_to_go_from_zone_to_zone() -> None:
    ran = check(kit_file("good"), "--json", brief=example("hatch", bay="unmeasured"))
    assert ran.answer["in_car"]["parts"]
    assert set(lengths_m(ran.answer["joints"]).values()) == {1.5}
    assert told_of_hoses(ran.answer) == "every hose run 1.5 m long"


def neckless() -> Tree:
    """A tank of the shelf without its filler neck."""
    tank = shipped_part("reservoir-5-square", id="tank-mine")
    tank["coolant"]["ends"] = [end for end in tank["coolant"]["ends"] if end["form"] != "neck"]
    return {"kind": "reservoir", **tank}


def test_a_cap_that_is_only_stated_goes_on_a_neck_or_nowhere() -> None:
    """Once a sealed tank without a neck was a yes, with a cap to bring that nothing takes."""
    loop = ["pump-46-small", "core-210-short", "exchanger-395-slim"]
    for tank, cap, code, brings in (
        (neckless(), "0.5 bar", 1, None),
        ("reservoir-5-square", "0.5 bar", 0, "cap that opens at 0.50 bar"),
        ("reservoir-5-square", "0 bar", 0, "vented cap"),
        ("reservoir-6-vented", "0 bar", 0, "vented cap"),
    ):
        ran = check({"kit": "stated", "boost": "0.9 bar", "cap": cap, "parts": [*loop, tank]}, "--json")
        assert ran.code == code, (tank, cap)
        items = [line["item"] for line in ran.answer["to_buy"]]
        caps = [item for item in items if item.startswith(("cap that", "vented cap"))]
        assert caps == ([] if brings is None else [brings])
        told = " ".join(rule["text"] for rule in ran.answer["broken"])
        assert ("has no neck that a cap goes on: its hot coolant has nowhere to go" in told) is (code == 1)


def test_what_hoses_are_to_stand_is_said_where_no_brief_tells_it() -> None:
    alone = check(kit_file("good"), "--json").answer["assumed"]
    assert "hoses are to stand coolant of -20 degC to 100 degC" in [row["text"] for row in alone]
    assert "hoses are to stand" not in assumed(car())


@pytest.mark.parametrize(("name", "rank"), [("hatch", 1), ("hatch", 3), ("commuter", 1), ("wagon", 2)])
def test_a_kit_in_a_box_is_joined_by_the_pieces_with_which_it_fits(name: str, rank: int) -> None:
    """Straight barbs and stiff hose where the zone is too full for them would not go in."""
    kit = suggest(name, "--json").answer["kits"][rank - 1]
    box = {"kit": "the same", "parts": [part for ids in kit["parts"].values() for part in ids]}
    ran = check(box, "--json", brief=example(name))

    def pieces(joints: list[Tree]) -> set[tuple[str, str, str]]:
        coolant = (one for one in joints if one["hose"] is not None)
        return {(one["from"], one["hose"], " ".join(one["through"])) for one in coolant}

    assert (ran.code, pieces(ran.answer["joints"])) == (0, pieces(kit["joints"]))


HIGH_TANK = ["reservoir-8-cube", "pump-35-common", "core-260-short", "exchanger-380-slim", "cap-45-0.9"]
"""1.1 x 0.9 bar of cap, 0.55 of the pump at no flow and 0.05 of half a metre are 1.59 bar; the exchanger holds 1.6."""


def tank_at(up_mm: int) -> Tree:
    """The hatch with its tank's zone so high: 0.38 m more and 0.3 less is the nose's floor.

    Roomier, so that the core stands upright with its bleed on top.
    """
    brief = example("hatch")
    brief["bay"]["zones"]["side"].update(at={"up": f"{up_mm} mm"}, deep="300 mm")
    brief["bay"]["zones"]["bulkhead"]["high"] = "420 mm"
    return brief


def test_the_heights_of_the_car_are_in_what_the_coolant_side_of_a_box_may_see() -> None:
    """By hand: 0.99 + 0.55 bar and 1.58 m of liquid are 1.698 bar. At 400 mm 0.48 m, for which 0.5 is taken."""
    box = {"kit": "high tank", "parts": HIGH_TANK}
    low, high = (check(box, "--json", brief=tank_at(up)).answer for up in (400, 1500))
    assert (low["outcome"], high["outcome"]) == ("fits_together", "does_not")
    assert low["pressure"]["coolant"]["design_pa_gauge"] == 159000
    assert high["pressure"]["coolant"]["design_pa_gauge"] == 169800
    assert {rule["rule"] for rule in high["broken"]} == {"rating-below-pressure"}
    assert "head" not in {row["about"] for row in (*low["assumed"], *high["assumed"])}


def test_a_stated_head_counts_before_the_heights_of_the_car() -> None:
    box = {"kit": "high tank", "parts": HIGH_TANK, "head": "0.4 m"}
    ran = check(box, "--json", brief=tank_at(1500))
    assert (ran.code, ran.answer["pressure"]["coolant"]["design_pa_gauge"]) == (0, 158000)
    assert set(ran.answer["in_car"]["parts"]) >= set(HIGH_TANK)
    higher = check({**box, "head": "1.5 m"}, "--json", brief=tank_at(400))
    assert (higher.code, higher.answer["in_car"]["parts"] is None) == (1, True)


def test_kits_are_suggested_for_the_liquid_of_a_tank_high_above_them() -> None:
    """The same parts: a kit with the tank at 400 mm, none under that cap with it at 1500 mm."""
    for up, found in ((400, True), (1500, False)):
        brief = tank_at(up)
        brief["wanted"] = HIGH_TANK[:-1]
        ran = suggest(brief, "--json", "--all-variants")
        kits = [kit for kit in ran.kits if {part for held in kit["parts"].values() for part in held} == {*HIGH_TANK}]
        assert bool(kits) is found
        if kits:
            assert kits[0]["pressure"]["coolant"]["design_pa_gauge"] == 159000
        assert "head" not in {row["about"] for row in ran.answer["assumed"]}
    assert "head" in {row["about"] for row in suggest(example("hatch"), "--json").answer["assumed"]}
