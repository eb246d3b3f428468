"""What the parts of a box stand of heat and cold, against the car that they go into."""

from __future__ import annotations

from tests.journeys.checks import Ran, check
from tests.journeys.kitwright import Tree, example, shelf_part, shipped_part, suggest

LOOP = ["core-260-short", "exchanger-350-slim", "reservoir-8-cube", "cap-45-vented"]


def box(*parts: str | Tree) -> Tree:
    return {"kit": "of the box", "boost": "1.4 bar", "parts": [*LOOP, *parts]}


def pump(**coolant: str) -> Tree:
    """A pump of the shelf that says what it stands."""
    changes = {f"coolant__{key}": kelvin for key, kelvin in coolant.items()}
    return {"kind": "pump", **shipped_part("pump-40-small", id="pump-mine", **changes)}


def broken(ran: Ran) -> str:
    return " ".join(rule["text"] for rule in ran.answer["broken"])


def test_a_part_that_does_not_stand_the_coolant_of_the_car_is_a_no() -> None:
    """Once a pump for 50 degC in coolant of 60 degC was a yes that "misses what the brief asks"."""
    for hottest, code in (("50 degC", 1), ("120 degC", 0)):
        ran = check(box(pump(hottest=hottest)), "--json", brief=example("hatch"))
        assert ran.code == code
        assert ("its coolant reaches 60 degC, pump-mine stands 50 degC" in broken(ran)) is (code == 1)


def test_a_part_that_does_not_stand_the_cold_of_the_night_is_out_and_in_a_box_a_no() -> None:
    brief = example("hatch", site__coldest="-35 degC")
    for coldest, code in (("-25 degC", 1), ("-35 degC", 0)):
        mine = pump(coldest=coldest)
        ran = check(box(mine), "--json", brief=brief)
        assert ran.code == code
        told = "pump-mine stands cold down to -25 degC, it meets -35 degC here"
        assert (told in broken(ran).replace(mine["name"], "pump-mine")) is (code == 1)
        asked = suggest({**brief, "own": [mine]}, "--json").answer
        out = {one["part"]: one for one in asked["exclusions"] if one["code"] == "too-cold"}
        assert (mine["id"] in out) is (code == 1)


def test_hose_of_the_box_is_held_against_the_night_of_the_brief() -> None:
    """Once every hose was to stand -20 degC: too much for a mild night, and too little for a hard one."""
    hose = {"kind": "hose", **shipped_part("hose-rubber-19", id="hose-mine")}
    for stands, night, serves in (
        ("-10 degC", "-5 degC", True),
        ("-25 degC", "-35 degC", False),
        ("-25 degC", "-20 degC", True),
    ):
        brief = example("hatch", site__coldest=night)
        ran = check(box("pump-40-small", hose | {"coldest": stands}), "--json", brief=brief)
        assert ({joint["hose"] for joint in ran.answer["joints"]} >= {"hose-mine"}) is serves, (stands, night)


def test_a_core_that_stands_less_than_the_charge_that_is_assumed_is_not_proven_without_a_brief() -> None:
    """150 degC before the core is what couplers are judged at too."""
    parts = ["core-150-light", "exchanger-170-tall", "pump-35-common", "reservoir-1.5-slim", "cap-45-0.5"]
    light = {"kit": "light", "boost": "1.2 bar", "charger_outlet": "45 mm", "throttle": "45 mm", "parts": parts}
    ran = check(light, "--json")
    stands = shelf_part("core-150-light")["charge"]["hottest"]
    assert ran.code == 4
    assert f"'core-150-light' stands charge of {stands}, and 150 degC is assumed to reach it" in " ".join(
        rule["text"] for rule in ran.answer["unknown"]
    )


def test_coolant_that_starts_colder_than_a_part_stands_leaves_it_out() -> None:
    """Once a pump for -4 degC was in a kit whose coolant starts at -15 degC."""
    mine = pump(coldest="-4 degC")
    cold = {"kinds": ["ethylene glycol"], "start": "-15 degC"}
    for coolant, out in ((cold, True), ({**cold, "start": "-4 degC"}, False)):
        asked = suggest(example("hatch", site__coldest="-3 degC", coolant=coolant) | {"own": [mine]}, "--json").answer
        codes = {one["part"]: one["code"] for one in asked["exclusions"]}
        assert (codes.get(mine["id"]) == "too-cold") is out
        said = [row["text"] for row in asked["assumed"] if row["about"] == "coldest"]
        assert said == (["the coolant starts at -15 degC: the antifreeze is for that"] if out else [])


def test_a_shelf_that_does_not_stand_the_cold_is_told_with_both_figures() -> None:
    run = suggest(example("hatch", site__coldest="-42 degC", coolant={"kinds": ["ethylene glycol"]}), "--no-ways-out")
    said = " ".join(run.out.split())
    assert run.code == 1
    assert "would not stand the cold: down to -40 degC at best, here it is -42 degC" in said


def test_parts_whose_coolant_alone_freezes_go_together() -> None:
    frosty = example("hatch", coolant={"kinds": ["ethylene glycol"], "glycol_by_volume": "10 %"})
    ran = check(box("pump-40-small"), brief=frosty)
    assert ran.code == 1
    assert "No: these parts go together, but make no kit for this car." in " ".join(ran.out.split())
