"""The loop stepped through its event by a plain Runge-Kutta march, and the steady loop by its closed formula."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import pytest

from tests.independent.plain import LOOP, answer_of, brief_of, capacity_rate, stores
from tests.journeys.kitwright import Tree, example, shipped_part, small_shelf, suggest

CARS = ("hatch", "wagon")
SIDES = ("front", "back", "left", "right", "up", "down")
FEED, CORE, FRONT = LOOP.index("feed"), LOOP.index("core"), LOOP.index("exchanger")


def warming(state: Sequence[float], row: Any, capacity: Sequence[float]) -> list[float]:
    """dT/dt of each lump [K/s]: every lump takes what the one before it sends; core, front and pump add theirs."""
    rate = capacity_rate(row)
    heat = [rate * (state[at - 1] - state[at]) for at in range(len(state))]
    heat[FEED] += row["pump_heat_w"]
    heat[CORE] += row["core_w_per_k"] * (row["charge_in_c"] - state[FEED])
    heat[FRONT] -= row["exchanger_w_per_k"] * (state[FRONT - 1] - row["air_into_exchanger_c"])
    return [q / c for q, c in zip(heat, capacity, strict=True)]


def stepped(state: list[float], row: Any, capacity: Sequence[float], seconds: float) -> list[float]:
    """One step of the classical fourth-order Runge-Kutta rule (any textbook; from memory)."""

    def ahead(slope: Sequence[float], by: float) -> list[float]:
        return [x + by * k for x, k in zip(state, slope, strict=True)]

    k1 = warming(state, row, capacity)
    k2 = warming(ahead(k1, seconds / 2), row, capacity)
    k3 = warming(ahead(k2, seconds / 2), row, capacity)
    k4 = warming(ahead(k3, seconds), row, capacity)
    mean = [(a + 2 * b + 2 * c + d) / 6 for a, b, c, d in zip(k1, k2, k3, k4, strict=True)]
    return ahead(mean, seconds)


def marched(name: str) -> list[list[float]]:
    """Every lump's temperature at every time of the trace, from its first row and its conductances alone [degC]."""
    run, brief = answer_of(name), brief_of(name)
    liquid, metal = stores(brief, run.kits[0], run.trace[0])
    capacity = [a + b for a, b in zip(liquid, metal, strict=True)]
    state = [run.trace[0][f"{lump}_c"] for lump in LOOP]
    course = [state]
    for now, then in pairwise(run.trace):
        seconds = then["time_s"] - now["time_s"]
        if seconds > 0:
            for _ in range(2):
                state = stepped(state, now, capacity, seconds / 2)
        course.append(state)
    return course


@pytest.mark.parametrize("name", CARS)
def test_a_plain_march_finds_the_same_temperatures(name: str) -> None:
    run, course = answer_of(name), marched(name)
    for lump, at in zip(LOOP, range(len(LOOP)), strict=True):
        apart = max(abs(row[f"{lump}_c"] - state[at]) for row, state in zip(run.trace, course, strict=True))
        assert apart < 0.05, lump
    thermal = run.kits[0]["thermal"]
    assert course[-1][0] == pytest.approx(thermal["coolant_end_c"], abs=0.05)
    assert max(max(state) for state in course) == pytest.approx(thermal["coolant_worst_c"], abs=0.05)


def air_cp(celsius: float) -> float:
    """Specific heat of dry air [J/(kg K)], read between 300, 350 and 400 K.

    Incropera & DeWitt, table A.4 (published; from memory): 1007, 1009, 1014.
    """
    kelvin = celsius + 273.15
    if kelvin < 350:
        return 1007 + 2 * (kelvin - 300) / 50
    return 1009 + 5 * (kelvin - 350) / 50


@pytest.mark.parametrize("name", CARS)
def test_a_plain_march_finds_the_same_worst_charge(name: str) -> None:
    run, course = answer_of(name), marched(name)
    worst = -300.0
    for row, state in zip(run.trace, course, strict=True):
        rate = row["air_kg_per_s"] * air_cp((row["charge_in_c"] + run.trace[0]["air_into_exchanger_c"]) / 2)
        worst = max(worst, row["charge_in_c"] - row["core_w_per_k"] / rate * (row["charge_in_c"] - state[FEED]))
    # 0.3 K for the table of specific heats: 3 parts in 1000 of a fall of 100 K.
    assert worst == pytest.approx(run.kits[0]["thermal"]["charge_out_worst_c"], abs=0.3)
    # With each row's own share of the charge's heat, 0.05 K is left for the march.
    shares = [(r["charge_in_c"] - r["charge_out_c"]) / (r["charge_in_c"] - r["feed_c"]) for r in run.trace]
    out = [
        row["charge_in_c"] - share * (row["charge_in_c"] - state[FEED])
        for row, share, state in zip(run.trace, shares, course, strict=True)
    ]
    assert max(out) == pytest.approx(run.kits[0]["thermal"]["charge_out_worst_c"], abs=0.05)


def test_a_march_without_the_fronts_metal_is_not_the_same() -> None:
    """The march can fail: 10 kg of metal forgotten shows."""
    run, brief = answer_of("hatch"), brief_of("hatch")
    liquid, _ = stores(brief, run.kits[0], run.trace[0])
    state = [run.trace[0][f"{lump}_c"] for lump in LOOP]
    for now, then in pairwise(run.trace):
        if then["time_s"] > now["time_s"]:
            state = stepped(state, now, liquid, then["time_s"] - now["time_s"])
    assert abs(state[0] - run.kits[0]["thermal"]["coolant_end_c"]) > 0.5


def for_ever(speed: str) -> tuple[Tree, Any]:
    """The hatch at full power for 40 min, with a pump that leaves no heat in the coolant: kit and last row.

    At 5 degC and started warm: on a hot day its coolant boils.
    """
    stretch = {"lasts": "2400 s", "share": "100 %", "speed": speed}
    brief = example(
        "hatch", aim={"charge_air": "160 degC"}, limits=None, site__air="5 degC", coolant__start="60 degC"
    )
    for zone in brief["bay"]["zones"].values():
        zone["open"] = list(SIDES)
    brief["driving"] = {"stretches": [stretch], "total": "2400 s"}
    pump = shipped_part("pump-50-medium", id="pump-cool", heat_to_coolant="0.1 %")
    on = small_shelf(
        cores=[shipped_part("core-230-short")],
        exchangers=[shipped_part("exchanger-460-plain")],
        pumps=[pump],
        reservoirs=[shipped_part("reservoir-8-plain")],
    )
    run = suggest(brief, "--json", shelf=on, trace=True, how="apart")
    assert run.code == 0, run.err or run.out[:2000]
    return run.kits[0], run.trace[-1]


@pytest.mark.parametrize("speed", ["40 km/h", "60 km/h"])
def test_the_steady_loop_is_the_liquid_coupled_pair_of_the_book(speed: str) -> None:
    """1/G = 1/G1 + 1/G2 - 1/CL, heat = G (charge in - air in).

    Kays & London, Compact Heat Exchangers, 3rd ed., liquid-coupled indirect exchangers (from memory), derived: with
    G per kelvin of inlet difference, q = G1 (Th - Tf) = G2 (Te - Tc) and Te = Tf + q/CL.
    """
    kit, row = for_ever(speed)
    assert row["pump_heat_w"] < 0.1
    g1, g2, cl = row["core_w_per_k"], row["exchanger_w_per_k"], capacity_rate(row)
    coupled = 1 / (1 / g1 + 1 / g2 - 1 / cl)
    heat = coupled * (row["charge_in_c"] - row["air_into_exchanger_c"])
    charge_rate = g1 * (row["charge_in_c"] - row["feed_c"]) / (row["charge_in_c"] - row["charge_out_c"])
    expected = row["charge_in_c"] - heat / charge_rate
    assert row["charge_out_c"] == pytest.approx(expected, abs=0.02)
    # The printed figure takes the coolant at the steady state's mean, the trace at its event's: 0.1 K for that.
    assert kit["thermal"]["charge_out_full_power_c"] == pytest.approx(expected, abs=0.1)
    assert kit["thermal"]["charge_out_plateau_c"] == pytest.approx(expected, abs=0.1)
    # Without the liquid's own share, 1/CL, the figure would be another one.
    uncoupled = (row["charge_in_c"] - row["air_into_exchanger_c"]) / (1 / g1 + 1 / g2)
    assert abs(row["charge_in_c"] - uncoupled / charge_rate - expected) > 0.5
