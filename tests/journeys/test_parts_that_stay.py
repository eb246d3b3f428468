"""A front exchanger that stays in the car is cooled by the air that the brief names for its place."""

from __future__ import annotations

from copy import deepcopy
from functools import cache
from pathlib import Path

import pytest

from tests.journeys import made_parts
from tests.journeys.kitwright import EXAMPLES, Tree, command, example, opened, shipped_part, small_shelf, suggest

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
def warmest(air: str, *, stays: bool, second_zone: bool = False, front_in: str = "") -> tuple[float, str]:
    """The warmest charge of the one kit [degC], and what the answer assumes of the air."""
    brief = opened(example("hatch", aim={"charge_air": "140 degC"}, driving="track", limits=None))
    nose = brief["bay"]["zones"]["nose"]
    nose["air"] = {"kind": "ram", "share": air}
    if second_zone:
        brief["bay"]["zones"]["spare"] = {key: value for key, value in deepcopy(nose).items() if key != "at"}
    if front_in:
        brief["bay"]["front_in"] = front_in
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


def test_where_several_zones_take_one_the_zone_that_is_named_counts() -> None:
    stays, told = warmest("40 %", stays=True, second_zone=True, front_in="spare")
    assert stays == warmest("40 %", stays=True)[0]
    assert told.endswith("the air of 'spare', as `front_in` says")


def test_a_zone_that_takes_no_exchanger_may_be_where_one_stays() -> None:
    stays, told = warmest("40 %", stays=True, front_in="side")
    assert stays == warmest("15 %", stays=True, second_zone=True)[0]  # nothing is said of that zone's air
    assert "the air of 'side'" in told


def test_the_screen_says_which_parts_stay_and_that_their_mass_is_left_out() -> None:
    lines = [" ".join(line.split()) for line in suggest("commuter").out.splitlines()]
    stay = {line.split(" ")[0] for line in lines if line.endswith("stays in the car")}
    assert stay <= {"reservoir", "exchanger", "pump"} and len(stay) >= 2  # a long name wraps
    assert any(line.startswith("mass ") and line.endswith("without the parts that stay") for line in lines)
    assert "stays in the car" not in suggest("hatch").out
    assert "without the parts that stay" not in suggest("hatch").out


def test_the_sheet_says_which_parts_stay(tmp_path: Path) -> None:
    page = tmp_path / "commuter.html"
    assert command("sheet", EXAMPLES / "commuter.yaml", "-o", page).code == 0
    assert "; reservoir and pump and exchanger stay: under" in page.read_text(encoding="utf-8")


def test_the_runs_to_what_stays_are_said_to_be_assumed() -> None:
    """1.5 m each, no zone being known for it; they are on the bill, and once nobody said whence."""
    told = {row["about"]: row["text"] for row in suggest("wagon", "--json").answer["assumed"]}["hoses"]
    assert told == "hose runs estimated: to what stays 1.5 m, within wing 0.5 m"
    assert "what stays" not in str(suggest("hatch", "--json").answer["assumed"])
