"""Runs through a bypass valve, and through a wye to twins: pieces that stand the run, as narrow as their ends."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.run_refusal import RunConditions
from configurator.parts.kinds import Valve, Wye
from configurator.search.bypass_joints import BypassJoiner, Joints
from configurator.search.step_joints import StepJoiner
from tests.joining.made_parts import clamp, end, hose

WARM = RunConditions(hottest_k=373.15, coldest_k=253.15, design_pa_gauge=2e5)
HOSES = HoseJoiner([hose("h19", 19)], [], [clamp("c", 20, 40)])
SPIGOT = end("spigot 19 barb")


def three_ended(part_id: str, names: tuple[str, ...], bores: tuple[float, ...], **more: Any) -> dict[str, Any]:
    """A piece of three 19 mm barbs with bores in mm; `working` in bar, `hottest` and `coldest` in degC."""
    ends = [
        {"name": name, "form": "spigot", "size": "19 mm", "barb": True, "bore": f"{bore} mm"}
        for name, bore in zip(names, bores, strict=True)
    ]
    working = more.pop("working", 6)
    stands = {
        "working": working if working == "unknown" else f"{working} bar",
        "coldest": f"{more.pop('coldest', -40)} degC",
    }
    through = {**stands, "hottest": f"{more.pop('hottest', 120)} degC", "ends": ends}
    facts = {"id": part_id, "name": part_id, "price": 30, "mass": "250 g", "loss_factor": 1.0}
    return {**facts, "through": through, **more}


def valve(part_id: str, bores: tuple[float, ...] = (15, 15, 15), **more: Any) -> Valve:
    return Valve.model_validate(three_ended(part_id, ("in", "out", "bypass"), bores, **more))


def wye(part_id: str, bores: tuple[float, ...] = (15, 15, 15), **more: Any) -> Wye:
    written = {"shape": "wye", "medium": "coolant", **more}
    return Wye.model_validate(three_ended(part_id, ("stem", "left", "right"), bores, **written))


def bypassed(valves: list[Valve], wyes: list[Wye]) -> Joints | None:
    """An exchanger between a core and a tank, with a valve before it and a wye behind it."""
    joiner = BypassJoiner(HOSES, valves, wyes)
    return joiner.join(
        ("core", SPIGOT), ("exchanger", SPIGOT, SPIGOT), ("tank", SPIGOT), (0.5, 0.6, 0.7), WARM, "wye-1"
    )


def halved(wyes: list[Wye]) -> Joints | None:
    """A pump before two cores side by side."""
    starts, finishes = [("pump", SPIGOT)], [("core-1", SPIGOT), ("core-2", SPIGOT)]
    return StepJoiner(HOSES, wyes).join(starts, finishes, (0.5, 0.6), WARM, "wye-1")


@pytest.mark.parametrize("weak", [{"working": 1.9}, {"hottest": 99}, {"coldest": -19}])
def test_a_valve_or_wye_that_does_not_stand_the_run_is_passed_over_though_it_is_cheaper(weak: dict[str, Any]) -> None:
    """The run sees 2 bar and 100 to -20 degC. What stands just that is taken."""
    just = {"working": 2, "hottest": 100, "coldest": -20, "price": 40}
    runs = bypassed([valve("weak", **weak), valve("sound", **just)], [wye("weak-wye", **weak), wye("wye", **just)])
    assert runs is not None and [run.through for run in runs] == [("sound",), (), (), (), ("wye",)]
    assert bypassed([valve("weak", **weak)], [wye("wye")]) is bypassed([valve("valve")], [wye("weak", **weak)]) is None
    pair = halved([wye("weak-wye", **weak), wye("wye", **just)])
    assert pair is not None and [run.through for run in pair] == [("wye",), (), ()]
    assert halved([wye("weak-wye", **weak)]) is None


def test_five_runs_lead_round_an_exchanger_each_as_long_as_it_was_asked_for() -> None:
    """To the valve and from the wye 0.3 m (common practice, no source); the others as told."""
    runs = bypassed([valve("valve")], [wye("wye")])
    assert runs is not None
    assert [(run.start, run.finish, run.hose_length_m) for run in runs] == [
        ("core.end", "valve.in", 0.3),
        ("valve.out", "exchanger.end", 0.5),
        ("exchanger.end", "wye-1.left", 0.6),
        ("valve.bypass", "wye-1.right", 0.7),
        ("wye-1.stem", "tank.end", 0.3),
    ]
    assert [run.before_hose for run in runs] == [0, 0, 0, 0, 1]  # the valve behind its hose, the wye before its own


def test_a_trunk_is_as_narrow_as_the_narrowest_end_of_its_valve_or_wye() -> None:
    """What goes through the trunk goes through all of it: the narrowest end is its bore."""
    for of_valve, of_wye in (((12, 15, 15), (12, 15, 15)), ((15, 12, 15), (15, 12, 12)), ((15, 15, 12), (15, 12, 12))):
        runs = bypassed([valve("valve", of_valve)], [wye("wye", of_wye)])
        assert runs is not None
        assert (runs[0].bore_m, runs[-1].bore_m) == (pytest.approx(0.012), pytest.approx(0.012))
        pair = halved([wye("wye", of_wye)])
        assert pair is not None and pair[0].bore_m == pytest.approx(0.012)


def test_of_two_valves_that_cost_the_same_the_one_of_less_loss_is_taken_and_of_like_ones_the_cheaper() -> None:
    """The coolant goes one way or the other: what counts is the way that takes more."""
    wide, narrow = valve("b-wide"), valve("a-narrow", (15, 15, 10))
    runs = bypassed([narrow, wide], [wye("wye")])
    assert runs is not None and runs[0].through == ("b-wide",)
    cheap = bypassed([valve("a"), valve("b", price=20)], [wye("a-wye"), wye("b-wye", price=20)])
    assert cheap is not None and (cheap[0].through, cheap[-1].through) == (("b",), ("b-wye",))
    lossy = halved([wye("a", loss_factor=2.0), wye("b")])
    assert lossy is not None and lossy[0].through == ("b",)


def test_what_says_nothing_of_its_pressure_is_taken_last_whatever_it_costs() -> None:
    unsaid = {"working": "unknown", "price": 1}
    runs = bypassed([valve("a-unsaid", **unsaid), valve("sound")], [wye("a-wye", **unsaid), wye("wye")])
    assert runs is not None and (runs[0].through, runs[-1].through) == (("sound",), ("wye",))
    alone = bypassed([valve("a-unsaid", **unsaid)], [wye("wye")])
    assert alone is not None and alone[0].through == ("a-unsaid",)
    pair = halved([wye("a-unsaid", **unsaid), wye("wye")])
    assert pair is not None and pair[0].through == ("wye",)


def test_a_wye_with_an_end_that_no_hose_goes_on_joins_nothing() -> None:
    """Each of its three ends must be joined: stem and branches alike."""
    sound = three_ended("odd", ("stem", "left", "right"), (15, 15, 15), shape="wye", medium="coolant")
    for odd_ones in (["stem"], ["left", "right"]):
        ends = [{**end, "size": "45 mm"} if end["name"] in odd_ones else end for end in sound["through"]["ends"]]
        odd = Wye.model_validate({**sound, "through": {**sound["through"], "ends": ends}})
        assert halved([odd]) is bypassed([valve("valve")], [odd]) is None
    assert halved([Wye.model_validate(sound)]) is not None


@pytest.mark.parametrize("factor", [1.0, 1.2, 1.4, 1.6, 1.8, 2.0, 2.4, 3.0])
def test_half_of_the_flow_loses_a_quarter_in_each_branch(factor: float) -> None:
    """Loss goes with the square of the flow: a narrow branch weighs a quarter of what a lossy stem does."""
    wyes = [wye("narrow", (15, 12, 12)), wye("lossy", loss_factor=factor)]
    losses = {}
    for one in wyes:
        alone = halved([one])
        assert alone is not None
        losses[one.id] = alone[0].loss_per_m4 + max(run.loss_per_m4 for run in alone[1:]) / 4
    taken = halved(wyes)
    assert taken is not None and taken[0].through == (min(losses, key=losses.__getitem__),)


@pytest.mark.parametrize("bore", [9, 10, 11, 12, 13, 14, 15])
@pytest.mark.parametrize("factor", [1.0, 1.5, 2.0, 4.0])
def test_of_two_valves_that_of_less_loss_on_its_dearer_way_is_taken(bore: float, factor: float) -> None:
    valves = [valve("narrow-past", (15, 15, bore)), valve("lossy", loss_factor=factor)]
    losses = {}
    for one in valves:
        alone = bypassed([one], [wye("wye")])
        assert alone is not None
        to_valve, to_part, from_part, past, on = (run.loss_per_m4 for run in alone)
        losses[one.id] = to_valve + max(to_part + from_part, past) + on
    taken = bypassed(valves, [wye("wye")])
    least = min(losses.values())
    best = min(name for name, loss in losses.items() if loss < least * (1 + 1e-9))
    assert taken is not None and taken[0].through == (best,)
