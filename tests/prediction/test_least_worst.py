"""The bound from heat that must go somewhere: no predicted loop is under it, and with nowhere else to go it is near.

Sources: conservation of energy, and the second law: what a loop has been given it holds or has given off, and nothing
in it is warmer than what warmed it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from random import Random

import numpy as np
import pytest

from configurator.prediction.bench import HOSE_LEAST_M3, Bench, Loop, make_columns
from configurator.prediction.conditions import Conditions, Piece, Standing
from configurator.prediction.coolest import coolest_behind_k, free_flow
from configurator.prediction.estimates import HOSE_J_PER_KG_K
from configurator.prediction.fronts import Fronts, in_turn
from configurator.prediction.least_worst import LeastWorst, bounded_by_heat, last_with_too_much
from configurator.prediction.predict import predict
from configurator.prediction.stages import CORE_ALONE, CORE_THEN_EXCHANGER, Stage, Stages, piping
from configurator.prediction.zone_air import ZoneAir
from tests.prediction.made_kits import (
    HALF_GLYCOL,
    WATER,
    Made,
    conditions,
    moment,
    plain_kit,
    plain_surface,
    run,
    whole_bench,
)

LOOPS = 16
SPANS = (1e-6, *np.geomspace(0.05, 1.0, 10))
TWO_IN_TURN: Stages = (Stage("core"), Stage("exchanger"), Stage("exchanger"))
TWO_ABREAST: Stages = (Stage("core"), Stage("exchanger", 2))
LAYOUTS = {"one": CORE_THEN_EXCHANGER, "two in turn": TWO_IN_TURN, "two abreast": TWO_ABREAST}
AIRS = (ZoneAir(0.25, 0.0, 0.0, 0.0), ZoneAir(0.08, 0.0, 12.0, 0.0), ZoneAir(0.4, 3.0, 0.0, 0.0))

PULL, REST = Piece(moment(1.0, 30.0), 9.0), Piece(moment(0.1, 14.0), 6.0)
DRIVES = {
    "one short pull": (Piece(moment(1.0, 20.0), 8.0),),
    "a minute": (Piece(moment(), 60.0),),
    "ten minutes": (Piece(moment(1.0, 15.0), 600.0),),
    "pulls and rests": (PULL, REST) * 12,
    "a rest first": (Piece(moment(0.05, 0.0, fan=True), 30.0), Piece(moment(1.0, 40.0), 20.0)) * 2,
    "stopped on the way": (PULL, Piece(moment(0.05, 20.0, pump=False), 8.0)) * 5,
    "steps up": (Piece(moment(0.3), 20.0), Piece(moment(0.7), 20.0), Piece(moment(1.0), 15.0)),
}
STARTS = {"as the air": 298.15, "chilled": 276.15, "soaked": 328.15}


def loops_of(
    bench: Bench, random: Random, count: int, stages: Stages = CORE_THEN_EXCHANGER, shadows: tuple[float, ...] = ()
) -> list[Loop]:
    """Random loops of a bench in short and long hose, all in the same air."""
    airs = tuple(random.choice(AIRS) for _ in range(sum(one.abreast for one in stages[1:])))
    if not Fronts(stages, airs, shadows or (0.0, 0.0)).bounded:
        airs = airs[::-1]
    parts = (bench.cores, bench.exchangers, bench.pumps, bench.reservoirs)
    return [
        Loop(
            *(random.randrange(len(of)) for of in parts),
            tuple(
                run(random.uniform(0.2, 4.0), random.choice((13e-3, 19e-3, 25e-3, 38e-3)))
                for _ in piping(stages).shares
            ),
            (), airs[0], stages, airs, shadows=shadows,
        )
        for _ in range(count)
    ]  # fmt: skip


def fronts_of(loop: Loop) -> Fronts:
    """What the bound is told of a loop's exchangers."""
    return Fronts(loop.stops, loop.airs or (loop.air,), loop.shadows or (0.0, 0.0))


def bounds_and_worst(
    bench: Bench, drive: Conditions, loops: Sequence[Loop], end: int, spans: Sequence[float] = SPANS
) -> tuple[np.ndarray, np.ndarray]:
    """Of each loop the bound of its core, exchanger, span of flow, tank and hoses, and its predicted worst charge [K].

    `spans`: the ends of the spans, as shares of the most that any pump drives.
    """
    ends = np.array(spans) * free_flow(bench)
    known = {fronts: LeastWorst(bench, drive, fronts, end, ends) for fronts in {fronts_of(loop) for loop in loops}}
    found = predict(bench, make_columns(bench, list(loops)), drive, end)
    per_m3 = LeastWorst.most_per_m3(drive)
    bounds = []
    for loop, flow in zip(loops, found.flow_m3_per_s, strict=True):
        tank = bench.reservoir_m3[loop.reservoir] * per_m3 + bench.reservoir_metal_j_per_k[loop.reservoir]
        hoses = sum(max(one.volume_m3, HOSE_LEAST_M3) * per_m3 + one.hose_kg * HOSE_J_PER_KG_K for one in loop.runs)
        pair = np.array([loop.core]), np.array([loop.exchanger])
        span = int(np.searchsorted(ends, flow)) - 1
        assert ends[span] <= flow <= ends[span + 1]
        bounds.append(known[fronts_of(loop)].coolest_k(float(tank), float(hoses), *pair)[span, 0, 0])
    return np.array(bounds), found.course.charge_out_worst_k


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize("drive", DRIVES)
def test_no_loop_is_cooler_than_its_bound(drive: str, start: str) -> None:
    """And in most the bound says more than the coldest coolant at the most flow does."""
    bench, random = whole_bench(), Random(f"least worst {drive} {start}")
    at = conditions(*DRIVES[drive], start_k=STARTS[start], coolant=random.choice((HALF_GLYCOL, WATER)))
    assert bounded_by_heat(at)
    loops = loops_of(bench, random, LOOPS)
    for end in (0, -1):
        bounds, worst = bounds_and_worst(bench, at, loops, end)
        assert (worst - bounds).min() >= 0.0
        told = (at, at.coldest_coolant_k, free_flow(bench), 1, end)
        coldest = np.array([coolest_behind_k(bench.core_surfaces[loop.core], *told) for loop in loops])
        assert (bounds >= coldest - 1e-6).all()
        assert (bounds > coldest + 1.0).mean() > (0.3 if drive == "one short pull" else 0.8)


@pytest.mark.parametrize("shadows", [(0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (0.0, 0.4)], ids=str)
@pytest.mark.parametrize("layout", ["two in turn", "two abreast"])
@pytest.mark.parametrize("start", STARTS)
def test_no_loop_of_two_exchangers_is_cooler_than_its_bound(
    start: str, layout: str, shadows: tuple[float, float]
) -> None:
    """Each in air of its own, or one in the air of the other, whichever is the warmer."""
    bench, random = whole_bench(), Random(f"least worst of two {start} {layout} {shadows}")
    said = []
    for drive in DRIVES.values():
        at = conditions(*drive, start_k=STARTS[start], coolant=random.choice((HALF_GLYCOL, WATER)))
        loops = loops_of(bench, random, LOOPS, LAYOUTS[layout], shadows)
        for end in (0, -1):
            bounds, worst = bounds_and_worst(bench, at, loops, end)
            assert (worst - bounds).min() >= 0.0
            told = (at, at.coldest_coolant_k, free_flow(bench), 1, end)
            coldest = np.array([coolest_behind_k(bench.core_surfaces[loop.core], *told) for loop in loops])
            said.append((bounds > coldest + 1.0).mean())
    assert np.mean(said) > 0.7


@pytest.mark.parametrize("layout", ["two in turn", "two abreast"])
def test_no_made_loop_of_two_exchangers_is_cooler_than_its_bound(layout: str) -> None:
    """Exchangers from next to none to past any part, the first far the better in cold air, or in hot."""
    random = Random(f"made least worst of two {layout}")
    whole = whole_bench()
    bench = replace(
        whole,
        core_surfaces=tuple(plain_surface(ua) for ua in (30.0, 400.0, 3000.0)),
        exchanger_surfaces=tuple(plain_surface(ua, face_area_m2=0.25) for ua in (5.0, 500.0, 20e3)),
        cores=whole.cores[:3],
        exchangers=whole.exchangers[:3],
        pump_heat_w=np.zeros_like(whole.pump_heat_w),
        reservoir_m3=np.geomspace(0.2e-3, 0.2, len(whole.reservoirs)),
    )
    cold, hot = AIRS[0], ZoneAir(0.3, 0.0, 45.0, 0.0)
    lies = [((cold, hot), (0.0, 0.0)), ((cold, hot), (0.0, 1.0)), ((hot, cold), (0.6, 0.0)), ((hot, hot), (0.0, 1.0))]
    for at, drive in enumerate(DRIVES.values()):
        begun = conditions(*drive, start_k=tuple(STARTS.values())[at % len(STARTS)])
        for airs, shadows in lies:
            assert Fronts(LAYOUTS[layout], airs, shadows).bounded
            loops = loops_of(bench, random, LOOPS, LAYOUTS[layout], shadows)
            loops = [replace(loop, air=airs[0], airs=airs) for loop in loops]
            bounds, worst = bounds_and_worst(bench, begun, loops, 0)
            assert (worst - bounds).min() >= 0.0


def test_a_rear_exchanger_said_to_lack_what_warms_the_front_one_has_no_bound() -> None:
    """By that it would meet air colder than outside, and the coolant could become colder than all that it met."""
    cold, hot = AIRS[0], ZoneAir(0.3, 0.0, 45.0, 0.0)
    assert not Fronts(TWO_IN_TURN, (hot, cold), (0.0, 1.0)).bounded
    assert not Fronts(TWO_IN_TURN, (cold, hot), (0.1, 0.0)).bounded
    assert Fronts(TWO_IN_TURN, (hot, cold), (0.0, 0.0)).bounded


def test_loops_of_which_the_bound_says_something() -> None:
    """One core and what it can be cooled by; not two cores, none to cool it, nor one that a valve shuts out."""
    assert all(in_turn(stages) for stages in LAYOUTS.values())
    twin_cores: Stages = (Stage("core", 2), Stage("exchanger"))
    for stages in (CORE_ALONE, twin_cores, (Stage("core", valve="through"), Stage("exchanger"))):
        assert not in_turn(stages)


def test_no_made_loop_is_cooler_than_its_bound() -> None:
    """Conductances from next to none to past any part, pumps that warm nothing, tanks of a cup and of a barrel."""
    random = Random("made least worst")
    whole = whole_bench()
    bench = replace(
        whole,
        core_surfaces=tuple(plain_surface(ua) for ua in (30.0, 120.0, 400.0, 900.0, 3000.0)),
        exchanger_surfaces=tuple(plain_surface(ua, face_area_m2=0.25) for ua in (5.0, 80.0, 500.0, 2000.0, 20e3)),
        cores=whole.cores[:5],
        exchangers=whole.exchangers[:5],
        pump_heat_w=np.zeros_like(whole.pump_heat_w),
        reservoir_m3=np.geomspace(0.2e-3, 0.2, len(whole.reservoirs)),
    )
    for at, drive in enumerate(DRIVES.values()):
        begun = conditions(*drive, start_k=tuple(STARTS.values())[at % len(STARTS)])
        bounds, worst = bounds_and_worst(bench, begun, loops_of(bench, random, 2 * LOOPS), 0)
        assert (worst - bounds).min() >= 0.0


def _narrow(bench: Bench, flow: float) -> tuple[float, ...]:
    """One span close about a flow, so that little is left open."""
    share = flow / free_flow(bench)
    return (0.995 * share, 1.005 * share, 1.0)


def _near(made: Made, drive: Conditions) -> float:
    """How far the bound of a made loop is under its prediction [K]."""
    flow = float(made.predict(drive).flow_m3_per_s[0])
    bounds, worst = bounds_and_worst(*_alone(made, drive), 0, _narrow(made.bench, flow))
    return float(worst[0] - bounds[0])


def _alone(made: Made, drive: Conditions) -> tuple[Bench, Conditions, list[Loop]]:
    """A made loop on a bench of its one core and one exchanger."""
    bench = replace(made.bench, cores=made.bench.cores[:1], exchangers=made.bench.exchangers[:1])
    runs = tuple(run() for _ in range(4))
    return bench, drive, [Loop(0, 0, int(made.columns.pump[0]), 0, runs, (), AIRS[0], CORE_THEN_EXCHANGER)]


@pytest.mark.parametrize(("ua_core", "ua_exchanger"), [(600.0, 1500.0), (300.0, 200.0), (900.0, 700.0)])
def test_in_a_drive_without_end_the_bound_is_the_steady_state(ua_core: float, ua_exchanger: float) -> None:
    """What the charge gives up the exchanger gives off: what the loop stores no longer counts, and nothing is open."""
    made = plain_kit(ua_core, ua_exchanger, pump_heat_w=0.0)
    assert 0.0 <= _near(made, conditions(Piece(moment(), 5e3))) <= 2.0


@pytest.mark.parametrize("ua_exchanger", [1.0, 100.0, 600.0])
@pytest.mark.parametrize("share", [0.1, 0.3, 0.5])
def test_what_the_charge_takes_up_in_rests_is_not_given_to_the_coolant(share: float, ua_exchanger: float) -> None:
    """A loop with hardly an exchanger is cooled by the charge itself at low power: once by 9 K more than allowed."""
    made = plain_kit(900.0, ua_exchanger, pump_heat_w=0.0)
    rest = Piece(moment(share, 14.0), 20.0)
    assert 0.0 <= _near(made, conditions(*(PULL, rest) * 60)) <= 25.0


def test_with_a_tank_that_never_warms_the_bound_is_the_coldest_coolant() -> None:
    """A tank of 100 m3 feeds the core as cold as it starts."""
    made = plain_kit(600.0, 1500.0, pump_heat_w=0.0, reservoir_m3=100.0)
    assert 0.0 <= _near(made, conditions(Piece(moment(), 60.0))) <= 2.0


def test_where_nothing_takes_heat_from_the_loop_the_bound_rises_with_the_drive() -> None:
    """With next to no exchanger the loop must hold it all: more heat given, a bound nearer to the charge that comes."""
    made = plain_kit(600.0, 1.0, pump_heat_w=0.0)
    drives = [conditions(Piece(moment(), seconds)) for seconds in (30.0, 120.0, 3600.0)]
    bounds = [float(bounds_and_worst(*_alone(made, drive), 0)[0][0]) for drive in drives]
    assert bounds[0] + 10 < bounds[1] < bounds[2] - 10
    in_k = float(made.predict(drives[-1]).loads[drives[-1].hardest].charge_in_k[0])
    assert in_k - 15 < bounds[2] < in_k


def test_a_drive_of_which_nothing_is_said() -> None:
    """Engine or pump off at the start, ice, a standstill: no bound."""
    assert not bounded_by_heat(conditions(Piece(moment(pump=False), 20.0), PULL))
    assert not bounded_by_heat(conditions(Piece(replace(moment(), engine=False), 20.0), PULL))
    assert not bounded_by_heat(conditions(PULL, standing=Standing(300.0, 343.15, 15.0, 0.4)))
    assert bounded_by_heat(conditions(PULL))


def test_where_a_falling_function_ends_to_be_over_0_is_found_from_below() -> None:
    """Functions of straight pieces, bent both ways, made so that the place is known."""
    draw = np.random.default_rng(7)
    low = np.full(400, 300.0)
    high = low + draw.uniform(5.0, 200.0, 400)
    ends, kinks = (draw.uniform(low, high, shape) for shape in ((400,), (3, 400)))
    above, below = draw.uniform(0.0, 5.0, (2, 3, 400))

    def falling(x: np.ndarray) -> np.ndarray:
        bent = above * np.maximum(kinks - x, 0.0) - below * np.maximum(x - kinks, 0.0)
        return np.asarray(bent.sum(axis=0) - 0.2 * x)

    found = last_with_too_much(lambda x: falling(x) - falling(ends), low, high)
    assert (found <= ends).all()
    assert ((ends - found) / (high - low)).max() < 0.02
    assert (last_with_too_much(lambda x: falling(x) - falling(low) - 1.0, low, high) == low).all()
