"""Every kit of every example held against rules typed again; and the checker itself against planted faults."""

from __future__ import annotations

import copy
from collections.abc import Callable

import pytest

from tests.independent.kit_checker import faults
from tests.independent.plain import NAMES, answer_of, brief_of
from tests.independent.room_checker import room_faults
from tests.journeys.kitwright import Tree, example, suggest


@pytest.mark.parametrize("name", NAMES)
def test_every_kit_of_an_example_is_sound(name: str) -> None:
    brief = brief_of(name)
    run = answer_of(name)
    assert len(run.kits) >= 5
    wrong = {kit["rank"]: found for kit in run.kits if (found := faults(brief, kit))}
    assert wrong == {}


@pytest.mark.parametrize("name", ["wagon", "roadster"])
def test_the_room_round_twins_is_free(name: str) -> None:
    brief = {**example(name), "layouts": ["twin-exchangers-parallel", "twin-exchangers-series"]}
    kits = suggest(brief, "--json", "--all-variants", "--top", "60").kits
    assert len(kits) >= 10 and all("exchanger-2" in kit["zones"] for kit in kits)
    assert {kit["rank"]: found for kit in kits if (found := list(room_faults(brief, kit)))} == {}


def joint_to(kit: Tree, slot: str) -> Tree:
    """The coolant joint that ends at a slot."""
    return next(joint for joint in kit["joints"] if joint["hose"] and joint["to"].startswith(slot))


def warned_of(kit: Tree, code: str) -> None:
    """Puts a caution on a kit."""
    kit["cautions"].append({"code": code, "text": "made up"})


def placed(kit: Tree, slot: str) -> Tree:
    """Where a slot's part sits."""
    return next(place for place in kit["fit"]["placements"] if place["slot"] == slot)


def line_of(kit: Tree, item: str) -> Tree:
    """The first line of the bill for an item."""
    return next(line for line in kit["lines"] if line["item"] == item)


def without_line(item: str) -> Callable[[Tree], None]:
    """Takes a line off the bill."""

    def change(kit: Tree) -> None:
        gone = line_of(kit, item)
        kit["lines"].remove(gone)
        kit["price_cents"] -= gone["price_cents"]

    return change


def moved(slot: str, axis: int, by: float) -> Callable[[Tree], None]:
    """Moves a part."""

    def change(kit: Tree) -> None:
        placed(kit, slot)["at_mm"][axis] += by

    return change


def onto(slot: str, other: str) -> Callable[[Tree], None]:
    """Puts a part where another one is."""

    def change(kit: Tree) -> None:
        placed(kit, slot)["at_mm"] = list(placed(kit, other)["at_mm"])

    return change


FAULTS: list[tuple[str, str, Callable[[Tree], None]]] = [
    ("an adapter forgotten", "joint:", lambda kit: joint_to(kit, "core")["through"].clear()),
    ("an adapter of another thread", "joint:", lambda kit: joint_to(kit, "core").update(through=["barb-npt-1-2-19"])),
    ("another hose", "joint:", lambda kit: joint_to(kit, "core").update(hose="hose-rubber-12.7")),
    ("a plain hose before the pump", "suction:", lambda kit: joint_to(kit, "pump").update(hose="hose-rubber-25")),
    ("a run left out", "joint:", lambda kit: kit["joints"].remove(joint_to(kit, "core"))),
    ("clamps forgotten", "joint:", lambda kit: joint_to(kit, "core").update(needs=[])),
    ("a weak core", "rating:", lambda kit: kit["parts"].update(core=["core-330-drum"])),
    ("a margin made up", "rating:", lambda kit: kit["pressure"]["coolant"].update(margin=9.9)),
    ("another figure cold", "rating:", lambda kit: kit["pressure"]["charge"].update(rating_cold_pa_gauge=310_000)),
    ("a core not hot enough", "temperature:", lambda kit: kit["parts"].update(core=["core-150-light"])),
    ("a margin to boiling made up", "boiling:", lambda kit: kit["thermal"].update(boil_margin_k=60.0)),
    ("a coolant that boils", "boiling:", lambda kit: kit["thermal"].update(boil_margin_k=-1.0)),
    ("a suction margin made up", "failures:", lambda kit: kit["pumps"][0].update(suction_margin_pa=90_000)),
    ("a warning of suction for nothing", "failures:", lambda kit: warned_of(kit, "suction-margin")),
    ("a core that boils later", "failures:", lambda kit: kit["failures"]["pump_stopped"].update(boils_after_s=300.0)),
    ("a core that holds more heat", "failures:",
     lambda kit: kit["failures"]["pump_stopped"].update(core_j_per_k=99_000.0)),
    ("a leak the other way", "failures:",
     lambda kit: kit["failures"]["cracked_core"]["idle"].update(goes="charge into coolant")),
    ("too much coolant for the air", "air:", lambda kit: kit.update(coolant_l=40.0)),
    ("a part outside", "place:", moved("core", 0, 400.0)),
    ("a part in an obstacle", "place:", moved("core", 1, 60.0)),
    ("two parts in one place", "place:", onto("pump", "reservoir")),
    ("a turn that is not allowed", "place:", lambda kit: placed(kit, "reservoir").update(up="-z")),
    ("a size of another turn", "place:", lambda kit: placed(kit, "core")["size_mm"].reverse()),
    ("a part without a place", "place:", lambda kit: kit["fit"]["placements"].remove(placed(kit, "pump"))),
    ("a hose with a wide bend", "reach:", lambda kit: joint_to(kit, "pump").update(hose="hose-rubber-19")),
    ("an end that faces a wall", "reach:", lambda kit: placed(kit, "pump").update(front="-x")),
    ("a hose that another part stands before", "reach:", onto("pump", "reservoir")),
    ("a pump above the liquid", "height:", moved("pump", 2, 200.0)),
    ("a price that does not add up", "price:", lambda kit: kit.update(price_cents=kit["price_cents"] + 1)),
    ("a line at another price", "price:", lambda kit: line_of(kit, "core").update(price_cents=100)),
    ("no relay", "bill:", without_line("relay")),
    ("too little hose", "bill:", lambda kit: line_of(kit, "hose").update(quantity=0.1)),
    ("an adapter not bought", "bill:", without_line("adapter")),
    ("another mass", "mass:", lambda kit: kit.update(mass_dry_g=kit["mass_dry_g"] - 50)),
    ("a missed aim", "limit:", lambda kit: kit["thermal"].update(charge_out_worst_c=80.5)),
    ("too much current", "limit:", lambda kit: kit.update(current_a=20.1)),
]


@pytest.mark.parametrize(("what", "sort", "change"), FAULTS, ids=[what for what, _, _ in FAULTS])
def test_the_checker_finds_a_planted_fault(what: str, sort: str, change: Callable[[Tree], None]) -> None:
    kit = copy.deepcopy(answer_of("hatch").kits[0])
    change(kit)
    found = faults(brief_of("hatch"), kit)
    assert any(fault.startswith(sort) for fault in found), found


def test_where_only_an_elbow_has_room_a_straight_barb_is_found() -> None:
    """In every such kit of the hatch, and at each of its ends that look at a closed wall."""
    brief, shown, walls = brief_of("hatch"), 0, set()
    for kit in answer_of("hatch").kits:
        for at, joint in enumerate(kit["joints"]):
            if joint["through"] == ["elbow-orb-12-19"]:
                straight = copy.deepcopy(kit)
                straight["joints"][at]["through"] = ["barb-orb-12-19"]
                found = list(room_faults(brief, straight))
                assert all(fault.startswith("reach:") for fault in found)
                shown += bool(found)
                walls.update(fault.split(" mm ")[1] for fault in found)
    assert shown >= 10
    assert {"through the up wall of bulkhead", "through the back wall of side"} <= walls


BAY_FAULTS: list[tuple[str, str, Tree]] = [
    ("sides that ends do not face", "facing:", {"bay__zones__bulkhead__ends": {"charge": ["up"]}}),
    ("an opening too small", "way in:", {"bay__zones__bulkhead__way_in": {"wide": "139 mm", "high": "159 mm"}}),
    ("a wall in front of a hose", "reach:", {"bay__zones__side__open": []}),
    ("an obstacle in front of a pipe", "reach:", {"bay__obstacles": [
        {"name": "box", "in": "bulkhead", "from": {"back": "0 mm", "left": "0 mm", "floor": "0 mm"}, "wide": "200 mm",
         "high": "170 mm", "deep": "45 mm", "kind": "plain"}]}),
]  # fmt: skip


@pytest.mark.parametrize(("what", "sort", "change"), BAY_FAULTS, ids=[what for what, _, _ in BAY_FAULTS])
def test_the_checker_finds_a_kit_in_another_bay(what: str, sort: str, change: Tree) -> None:
    kit = answer_of("hatch").kits[0]
    assert not list(room_faults(brief_of("hatch"), kit))
    found = list(room_faults(example("hatch", layouts=["single"], **change), kit))
    assert any(fault.startswith(sort) for fault in found), found


def test_the_checker_finds_a_tank_below_a_core_that_nothing_bleeds() -> None:
    """As long as the core bleeds on top, a low tank is none of its faults; turned over, or on its side with its bleed
    at half height, it keeps its air.
    """
    brief, low = brief_of("hatch"), example("hatch", layouts=["single"], bay__zones__side__at={"up": "10 mm"})
    kit = copy.deepcopy(answer_of("hatch").kits[0])
    for up, wrong in (("+z", False), ("-z", True), ("+y", True)):
        placed(kit, "core").update(up=up, front="-x")
        assert not any(fault.startswith("height: 'core-") for fault in room_faults(brief, kit))
        assert any(fault.startswith("height: 'core-") for fault in room_faults(low, kit)) is wrong
