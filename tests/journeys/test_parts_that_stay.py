"""A front exchanger that stays in the car is cooled by the air that the brief names for its place."""

from __future__ import annotations

from copy import deepcopy
from functools import cache

import pytest

from tests.journeys import made_parts
from tests.journeys.kitwright import Tree, example, opened, shipped_part, small_shelf, suggest

FRONT = "exchanger-395-slim"


def shelf() -> Tree:
    """One core, one pump, one tank and one front exchanger."""
    return small_shelf(
        cores=[shipped_part("core-230-short")],
        pumps=[shipped_part("pump-50-medium")],
        exchangers=[shipped_part(FRONT)],
        reservoirs=[made_parts.tank(3)],
    )


@cache
def warmest(air: str, *, stays: bool, second_zone: bool = False) -> tuple[float, str]:
    """The warmest charge of the one kit [degC], and what the answer assumes of the air."""
    brief = opened(example("hatch", aim={"charge_air": "140 degC"}, driving="track", limits=None))
    nose = brief["bay"]["zones"]["nose"]
    nose["air"] = {"kind": "ram", "share": air}
    if second_zone:
        brief["bay"]["zones"]["spare"] = deepcopy(nose)
    if stays:
        brief["own"] = [{"id": FRONT, "fitted": True}]
    (kit, *_) = (run := suggest(brief, "--json", shelf=shelf())).kits
    assumed = [one["text"] for one in run.answer["assumed"] if "front exchanger that stays" in one["text"]]
    return float(kit["thermal"]["charge_out_worst_c"]), " ".join(assumed)


@pytest.mark.parametrize("air", ["15 %", "40 %"])
def test_it_gets_the_air_of_the_zone_that_takes_an_exchanger(air: str) -> None:
    stays, told = warmest(air, stays=True)
    bought, _ = warmest(air, stays=False)
    assert stays == pytest.approx(bought, abs=0.5)  # what differs is the hose to it
    assert "gets the air of 'nose'" in told


def test_more_air_cools_it_better() -> None:
    assert warmest("40 %", stays=True)[0] < warmest("15 %", stays=True)[0] - 1


def test_where_several_zones_take_one_a_usual_air_is_taken_and_said() -> None:
    stays, told = warmest("40 %", stays=True, second_zone=True)
    assert stays == warmest("15 %", stays=True)[0]
    assert "gets 15 % of road speed" in told
