"""What would do where there is a choice: adapter, coolant kind, no front exchanger; named, and proved by running it."""

from __future__ import annotations

import copy
from dataclasses import replace
from importlib import import_module
from typing import Any
from unittest.mock import patch

import pytest

from configurator.parts.layouts import Layout
from configurator.parts.own import OwnPart
from configurator.parts.shelf import make_catalogue
from configurator.presentation.ways_facts import conflict_json, nearest_json, ways_told
from configurator.questions.answer import Answer
from configurator.questions.suggest import suggest
from tests.oracles.shelves import LAYOUT, Shelf
from tests.oracles.try_everything import every_kit
from tests.search.small_shelves import BRIEF, core, shelf

FROST = {"air": "20 degC", "coldest": "-15 degC"}
FORMS: dict[str, dict[str, Any]] = {
    "hose:25mm": {"form": "hose", "size": "25 mm"},
    "orb:-12:male": {"form": "orb", "size": "-12", "sex": "male"},
    "orb:-10:male": {"form": "orb", "size": "-10", "sex": "male"},
    "spigot:19mm:barb": {"form": "spigot", "size": "19 mm", "barb": True},
}


def threaded(*sizes: str) -> dict[str, Any]:
    """The core with ports for a threaded fitting in place of its spigots."""
    made = copy.deepcopy(core())
    for end, size in zip(made["coolant"]["ends"], sizes, strict=True):
        del end["barb"]
        end.update(form="orb", size=size, sex="female")
    return made


def banning(*kinds: str) -> dict[str, Any]:
    made = copy.deepcopy(core())
    made["coolant"]["bans"] = list(kinds)
    return made


def bought(index: int, near: str, far: str) -> dict[str, Any]:
    """An adapter as a shop has it, of its own length, price and rating."""
    ends = [{"name": name, **FORMS[code]} for name, code in (("a", near), ("b", far))]
    return {
        "kind": "adapter",
        "id": f"bought-{index}",
        "name": "bought",
        "shape": "adapter",
        "medium": "coolant",
        "mass": "55 g",
        "price": 17,
        "length": "46 mm",
        "through": {"working": "8 bar", "hottest": "125 degC", "coldest": "-40 degC", "ends": ends},
    }


def told(of: Shelf) -> Answer:
    return suggest(of.brief, of.driving, of.own, "", of.catalogue, of.tables)


def rules(answer: Answer) -> list[str]:
    conflict = conflict_json(answer)
    assert conflict is not None
    return list(conflict["rules"])


@pytest.mark.parametrize(
    ("made", "pairs"),
    [
        (threaded("-12", "-12"), [("orb:-12:male", "spigot:19mm:barb")]),
        (threaded("-12", "-10"), [("orb:-12:male", "spigot:19mm:barb"), ("orb:-10:male", "spigot:19mm:barb")]),
    ],
)
def test_the_missing_adapters_are_named_and_once_on_the_shelf_there_is_a_kit(
    made: dict[str, Any], pairs: list[tuple[str, str]]
) -> None:
    answer = told(shelf(made))
    assert rules(answer) == ["adapter"]
    (way,) = nearest_json(answer)
    named = [(one["change"], one["from"], one["to"]) for one in (way, *way["and"])]
    assert way["least"] is None and "smaller" not in way["text"]  # a choice has no amount
    assert named == [("adapter", *pair) for pair in pairs]
    parts = [bought(index, *pair) for index, pair in enumerate(pairs)]
    with_them = shelf(made, *parts)
    assert told(with_them).kits and every_kit(with_them)
    for less in range(len(parts)):
        without_one = shelf(made, *(part for index, part in enumerate(parts) if index != less))
        assert not told(without_one).kits and not every_kit(without_one)


def test_a_step_from_a_wide_spigot_is_named_and_once_on_the_shelf_there_is_a_kit() -> None:
    """A sleeve that slips over the spigot: the judge knows no such adapter, so the program is asked again."""
    answer = told(shelf(core(spigot="25 mm")))
    (way,) = nearest_json(answer)
    assert (rules(answer), way["from"], way["to"]) == (["adapter"], "hose:25mm", "spigot:19mm:barb")
    assert told(shelf(core(spigot="25 mm"), bought(0, way["from"], way["to"]))).kits


def test_the_adapter_is_told_from_what_end_to_what_end() -> None:
    (way,) = nearest_json(told(shelf(threaded("-12", "-12"))))
    assert way["text"].startswith("one adapter from orb -12 male to hose barb 19 mm (")
    assert "price and mass come on top" in way["text"]


def test_a_missing_adapter_is_named_where_a_limit_would_stop_its_kits_too() -> None:
    answer = told(shelf(threaded("-12", "-12"), limits={"price": 100}))
    assert rules(answer) == ["adapter"] and not nearest_json(answer)


def test_where_an_adapter_alone_would_not_do_none_is_offered() -> None:
    answer = told(shelf(threaded("-12", "-12"), aim={"charge_air": "21 degC"}))
    assert all(way["change"] != "adapter" for way in nearest_json(answer))


@pytest.mark.parametrize(
    ("of", "named", "kinds"),
    [
        (shelf(coolant={"kinds": ["water"]}, site=FROST), ["freeze", "coolant kinds"], 2),
        (shelf(banning("ethylene glycol"), site=FROST), ["coolant kinds"], 1),
        (shelf(banning("water"), coolant={"kinds": ["water"]}), ["coolant kinds"], 2),
        (shelf(coolant={"kinds": ["water"]}, site={**FROST, "coldest": "-58 degC"}), ["freeze"], 0),
        (shelf(banning("ethylene glycol", "propylene glycol"), site=FROST), [], 0),
        (shelf(banning("propylene glycol"), coolant={"kinds": ["water"]}, site=FROST), ["freeze", "coolant kinds"], 1),
    ],
)
def test_another_coolant_is_a_way_out_if_the_circuit_allows_it_and_the_night_stands(
    of: Shelf, named: list[str], kinds: int
) -> None:
    answer = told(of)
    assert not every_kit(of) and answer.outcome == "no_kit"
    assert rules(answer) == named
    ways = [way for way in nearest_json(answer) if way["change"] == "coolant kinds"]
    assert len(ways) == kinds
    parts = [part for part in of.written["parts"] if part["id"] == "core"]
    for kind in ("water", "ethylene glycol", "propylene glycol"):
        changed = shelf(*parts, **{**of.written["brief"], "coolant": {"kinds": [kind]}})
        some = bool(told(changed).kits)
        assert some == bool(every_kit(changed)) == (kind in {way["to"] for way in ways})
    assert all("if your circuit allows it" in way["text"] for way in ways)


TANK_ALONE = 490
"""A price that kits without the front exchanger keep, and none with it."""
NO_NOSE = {"zones": {name: zone for name, zone in BRIEF["bay"]["zones"].items() if name != "nose"}}
FRONT_TEXT = (
    "no front exchanger (`without: [exchanger]`): then nothing takes the heat out of the coolant but standing for "
    "hours, and a drive soon after another starts as warm as that one ended"
)


def fronts(answer: Answer) -> list[dict[str, Any]]:
    return [way for way in nearest_json(answer) if way["change"] == "front exchanger"]


def no_front(**changes: Any) -> Answer:
    """The answer once the way is written in the brief; trying everything agrees that there is a kit."""
    of = shelf(without=["exchanger"], **changes)
    assert every_kit(of)
    return told(of)


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ({"limits": {"price": TANK_ALONE}}, ["price", "front exchanger"]),
        ({"bay": NO_NOSE}, ["front exchanger"]),
        ({"bay": NO_NOSE, "limits": {"price": TANK_ALONE}}, ["front exchanger"]),
        ({"gone": ("exchanger",)}, ["front exchanger"]),
    ],
)
def test_a_loop_without_a_front_exchanger_is_a_way_out_where_it_alone_makes_a_kit(
    changes: dict[str, Any], named: list[str]
) -> None:
    """A car with no gap for a front exchanger was told that nothing of the brief stands in the way."""
    assert not every_kit(shelf(**changes))
    answer = told(shelf(**changes))
    assert rules(answer) == named
    (way,) = fronts(answer)
    assert (way["from"], way["to"], way["unit"]) == ("in the loop", "left out", "")
    assert way["least"] is None and way["zone"] is None
    assert way["text"] == FRONT_TEXT and FRONT_TEXT in ways_told(answer)[1]
    assert no_front(**changes).kits
    conflict = conflict_json(answer)
    assert conflict is not None and "No change of the brief" not in conflict["text"]
    assert ("Put an exchanger on the shelf" in conflict["text"]) is ("gone" in changes)


def test_each_demand_of_a_conflict_with_a_front_exchanger_is_needed_for_it() -> None:
    assert told(shelf(limits={})).kits and no_front(limits={"price": TANK_ALONE}).kits


def test_on_a_large_shelf_a_loop_without_a_front_exchanger_is_a_way_out_too() -> None:
    of = shelf(limits={"price": TANK_ALONE})
    with (
        patch.object(import_module("configurator.questions.suggest"), "LOOKED_AT_WHOLE", 0),
        patch.object(import_module("configurator.questions.searches"), "LOOKED_AT_WHOLE", 0),
    ):
        answer = told(of)
    assert answer.best_alone is not None and fronts(answer)


@pytest.mark.parametrize(
    "changes",
    [
        {"limits": {"price": TANK_ALONE}, "wanted": ["exchanger"]},
        {"limits": {"price": 100}},
        {"limits": {"price": 100}, "without": ["exchanger"]},
        {"aim": {"charge_air": "25 degC"}},
    ],
)
def test_no_way_without_a_front_exchanger_where_it_is_wanted_or_makes_no_kit(
    changes: dict[str, Any],
) -> None:
    answer = told(shelf(**changes))
    assert answer.outcome == "no_kit"
    assert not fronts(answer) and "front exchanger" not in rules(answer)
    assert "front exchanger" not in (answer.ways_out.not_tried if answer.ways_out else ())


def test_no_way_without_a_front_exchanger_where_it_stays_in_the_car_or_every_loop_has_one() -> None:
    dear = shelf(limits={"price": TANK_ALONE})
    stays = told(replace(dear, own=(OwnPart(dear.catalogue["exchanger"], True),)))
    assert fronts(told(dear)) and stays.outcome == "no_kit" and not fronts(stays)
    slots = [{**slot, "least": 1} if slot["kind"] == "exchanger" else slot for slot in LAYOUT["slots"]]
    always = make_catalogue(dear.catalogue.parts.values(), [Layout.model_validate({**LAYOUT, "slots": slots})])
    answer = told(replace(dear, catalogue=always))
    assert answer.outcome == "no_kit" and not fronts(answer)
