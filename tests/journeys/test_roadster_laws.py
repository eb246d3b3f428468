"""The mid-engined roadster: two mouths far from the core, long hoses, and what follows from both."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from tests.journeys.kitwright import Tree, example, shipped, shipped_part, small_shelf, suggest

CORE, EXCHANGER, PUMP = "core-260-short", "exchanger-170-tall", "pump-46-small"
RESERVOIR = "reservoir-0.7-bottle"
PARALLEL, SERIES = "twin-exchangers-parallel", "twin-exchangers-series"


def spigots(part: Tree, bore: int) -> Tree:
    """The part with coolant spigots as wide inside as the hose: only the hose is compared."""
    for end in part["coolant"]["ends"]:
        if end["name"] in ("in", "out"):
            for key in ("sex", "bead", "swivel"):
                end.pop(key, None)
            end.update(form="spigot", size=f"{bore} mm", barb=True, bore=f"{bore} mm")
    return part


def quadratic(part_id: str, dead_head_kpa: float, free_l_per_min: float, bore: int) -> Tree:
    """A pump whose head falls with the square of its flow."""
    flows = [free_l_per_min * step / 30 for step in range(31)]
    curve = [
        {"flow": f"{flow:g} L/min", "head": f"{dead_head_kpa * (1 - (flow / free_l_per_min) ** 2):.6f} kPa"}
        for flow in flows
    ]
    return {**spigots(shipped_part(PUMP), bore), "id": part_id, "name": part_id, "curve": curve}


def shelf(bore: int, *pumps: Tree, exchanger: str = EXCHANGER) -> Tree:
    """One core, one exchanger, one reservoir, the pumps given, and hose of one bore that stands the pump's suction."""
    parts: dict[str, Any] = small_shelf(
        cores=[spigots(shipped_part(CORE), bore)],
        exchangers=[spigots(shipped_part(exchanger), bore)],
        pumps=list(pumps) or [spigots(shipped_part(PUMP), bore)],
        reservoirs=[spigots(shipped_part(RESERVOIR), bore)],
        hoses=[{**hose, "vacuum": True} for hose in shipped("hoses") if hose["id"] == f"hose-rubber-{bore}"],
        wyes=[],
    )
    for wye in shipped("wyes"):
        if wye["id"] == f"wye-{bore}":
            for end in wye["through"]["ends"]:
                end["bore"] = f"{bore} mm"
            parts["wyes"].append(wye)
    return parts


@cache
def kits(layout: str, bore: int) -> tuple[Tree, ...]:
    """Every kit of one layout on hose of one bore, however warm: the aim is put out of the way."""
    return found(layout, shelf(bore))


def found(layout: str, on: Tree, **changes: Any) -> tuple[Tree, ...]:
    """Every kit of one layout on a shelf."""
    brief = example("roadster", layouts=[layout], aim={"charge_air": "200 degC"}, limits=None, **changes)
    run = suggest(brief, "--json", "--all-variants", "--top", "50", shelf=on)
    assert run.code == 0, run.err or run.out[:1500]
    return tuple(run.kits)


def flow(layout: str, bore: int) -> float:
    """Coolant flow of the kits of one layout [L/min]; all hang on the same parts."""
    return max(float(kit["thermal"]["coolant_flow_l_per_min"]) for kit in kits(layout, bore))


def worst(layout: str, bore: int = 25) -> float:
    """Charge temperature of the coolest kit of a layout [degC]."""
    return min(float(kit["thermal"]["charge_out_worst_c"]) for kit in kits(layout, bore))


@pytest.mark.parametrize("layout", [PARALLEL, SERIES])
def test_two_exchangers_beat_one(layout: str) -> None:
    """An energy balance: with the same core more conductance to the air cools more. Order of size 3 to 12 K."""
    assert 3.0 < worst("single") - worst(layout) < 12.0


@pytest.mark.parametrize("layout", ["single", PARALLEL, SERIES])
def test_a_wider_hose_helps_out_of_a_narrow_one_and_hardly_beyond(layout: str) -> None:
    """Common practice, no source: a large gain out of a bore that is too small, little past it."""
    narrow, middle, wide = (flow(layout, bore) for bore in (16, 25, 32))
    assert middle - narrow >= 3 * (wide - middle) > 0
    assert wide / middle < 1.08


def test_in_one_series_main_the_step_out_of_the_narrow_hose_is_worth_a_quarter() -> None:
    assert flow(SERIES, 25) / flow(SERIES, 16) > 1.25


def test_the_better_of_two_pumps_turns_with_the_layout() -> None:
    """30 kPa / 100 L/min and 55 kPa / 35 L/min meet at 24.43 L/min and 28.2 kPa: 42.5 kPa at 30 L/min (recomputed)."""
    leads = {}
    for layout, bore in ((PARALLEL, 25), (SERIES, 16)):
        on = shelf(bore, quadratic("pump-low", 30.0, 100.0, bore), quadratic("pump-high", 55.0, 35.0, bore))
        flows: dict[str, float] = {}
        for kit in found(layout, on):
            flows[kit["parts"]["pump"][0]] = kit["thermal"]["coolant_flow_l_per_min"]
        assert set(flows) == {"pump-low", "pump-high"}
        leads[layout] = flows["pump-low"] - flows["pump-high"]
        least, most = sorted(flows.values())
        assert (least > 24.43) == (leads[layout] > 0) == (most > 24.43)
    assert leads[PARALLEL] > 0 > leads[SERIES]


@pytest.mark.parametrize(("metres", "low_head_leads"), [(3.3, True), (3.5, False)])
def test_the_better_pump_turns_where_the_loop_takes_42_5_kpa_at_30_l_per_min(
    metres: float, low_head_leads: bool
) -> None:
    """Finely round that loop, by the length of its hoses.

    At the crossing both pumps make 28.2 kPa at 24.43 L/min; a loss with the square carries that to 30 L/min:
    28.2 (30 / 24.43)^2 = 42.5 kPa. What a loop takes at the low-head pump's flow q is that pump's own
    30 (1 - (q / 100)^2) kPa.
    """
    on = shelf(25, quadratic("pump-low", 30.0, 100.0, 25), quadratic("pump-high", 55.0, 35.0, 25))
    lengths = dict.fromkeys(("left-engine", "right-engine", "left-rear", "right-rear", "left-right"), f"{metres} m")
    flows = {
        kit["parts"]["pump"][0]: kit["thermal"]["coolant_flow_l_per_min"]
        for kit in found(SERIES, on, bay__runs=lengths)
    }
    q = flows["pump-low"]
    at_30 = 30 * (1 - (q / 100) ** 2) * (30 / q) ** 2
    assert at_30 == pytest.approx(42.5, abs=0.5)
    assert (q > flows["pump-high"]) == (at_30 < 42.54) == low_head_leads


def test_the_example_ends_in_kits_with_two_mouths_in_use() -> None:
    run = suggest("roadster", "--json")
    assert run.code == 0
    twins = [kit for kit in run.kits if kit["layout"] in (PARALLEL, SERIES)]
    assert twins
    for kit in twins:
        assert len(kit["parts"]["exchanger"]) == 2 and len(set(kit["parts"]["exchanger"])) == 1
        assert {kit["zones"]["exchanger-1"], kit["zones"]["exchanger-2"]} == {"left", "right"}
