"""What is said before any kit: that a plain air-to-air cooler would do better, that only ice can, or that no loop can.

Parts are shipped ones; the figures are recomputed from the answer's own.
"""

from __future__ import annotations

import pytest

from tests.journeys.kitwright import Run, Tree, example, opened, shipped_part, small_shelf, suggest

CORE, FRONT, PUMP, TANK = "core-260-short", "exchanger-350-slim", "pump-40-small", "reservoir-8-cube"
BEST_USUAL = 0.80
"""The most that an air-to-air cooler usually takes of the charge's heat over the air: common practice, no source."""


@pytest.fixture(scope="module")
def shelf() -> Tree:
    return small_shelf(
        cores=[shipped_part(CORE)], exchangers=[shipped_part(FRONT)], pumps=[shipped_part(PUMP)],
        reservoirs=[shipped_part(TANK)],
    )  # fmt: skip


def asked(shelf: Tree, **changes: object) -> Run:
    return suggest(opened(example("hatch", **changes)), "--json", "--no-ways-out", shelf=shelf)


LASTS: Tree = {"stretches": [{"lasts": "20 min", "share": "70 %", "speed": "90 km/h"}], "total": "20 min"}


def test_a_drive_that_lasts_behind_an_open_front_is_one_for_plain_air_to_air(shelf: Tree) -> None:
    run = asked(shelf, driving=LASTS, aim__charge_air="60 degC")
    fork, kit = run.answer["fork"], run.answer["closest"][0]
    assert run.code == 1
    assert fork["code"] == "air-to-air"
    assert fork["charge_out_loop_c"] == pytest.approx(kit["thermal"]["charge_out_worst_c"], abs=0.01)
    assert fork["charge_out_other_low_c"] < fork["charge_out_other_high_c"] < fork["charge_out_loop_c"]
    # No cooler is taken for better than a usual one with all the air it wants; 70 % of the power heats less than all.
    air, full = 24.0, kit["thermal"]["charge_in_c"]
    assert fork["charge_out_other_low_c"] > air + (1 - BEST_USUAL) * 0.6 * (full - air)
    for words in ("air-to-air", "charge pipes", "Slim exchanger", "nose"):
        assert words in fork["text"]


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"driving": LASTS, "bay__runs": {"nose-bulkhead": "2.6 m"}},
        {"driving": LASTS, "bay__zones__nose__air": {"face_speed": "0.5 m/s"}},
    ],
    ids=["a climb of 90 s", "long pipes", "hardly any air"],
)
def test_it_is_not_said_where_the_drive_is_short_the_pipes_long_or_the_air_poor(shelf: Tree, changes: Tree) -> None:
    assert asked(shelf, **changes).answer["fork"] is None


def test_an_aim_near_the_air_needs_ice_and_ice_can_do_it(shelf: Tree) -> None:
    run = asked(shelf, aim__charge_air="30 degC")
    fork = run.answer["fork"]
    assert (run.code, fork["code"]) == (1, "only-ice")
    assert fork["charge_out_other_low_c"] <= 30.0 < fork["charge_out_loop_c"]
    # The bound is one: however much front and coolant there is, the charge stays above it.
    large = small_shelf(
        cores=[shipped_part(CORE)], exchangers=[shipped_part(FRONT)], pumps=[shipped_part(PUMP)],
        reservoirs=[shipped_part(TANK, coolant__volume="30 L")],
    )  # fmt: skip
    best = asked(large, aim__charge_air="30 degC").answer["closest"][0]
    assert best["thermal"]["charge_out_worst_c"] > fork["charge_out_loop_c"]
    assert "Without ice no loop will do" in suggest(
        opened(example("hatch", aim__charge_air="30 degC")), "--no-ways-out", shelf=shelf
    ).out.replace("\n", " ")


def test_an_aim_below_what_ice_brings_is_for_no_liquid_loop(shelf: Tree) -> None:
    run = asked(shelf, aim__charge_air="2 degC", site__air="0 degC")
    assert run.answer["fork"]["code"] == "no-loop"
    assert "No liquid loop will do" in run.answer["fork"]["text"]
