"""The event in time: worst moments found between steps, steps of any length alike, rounds repeated for ever."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from configurator.physics.lumps import step
from configurator.prediction import march as course
from configurator.prediction.bench import Loop, make_columns, one_below_another
from configurator.prediction.conditions import Conditions, Piece
from configurator.prediction.march import FEED, Pieces, march, steps_of
from configurator.prediction.predict import predict
from configurator.prediction.zone_air import ZoneAir
from tests.prediction.made_kits import Made, conditions, kit, moment, place, plain_kit, run, whole_bench

BURSTS = (
    Piece(moment(1.0, 30.0), 8.0),
    Piece(moment(0.05, 10.0), 5.3),
    Piece(moment(0.02, 15.0, pump=False), 3.1),
    Piece(moment(1.0, 20.0), 6.0),
)
RAMP_DOWN = (
    Piece(moment(1.0, 5.0), 31.0),
    Piece(moment(1.0, 60.0), 33.0),
    Piece(moment(0.95, 60.0), 20.0),
)
"""Slow, then fast at equal power: the feed goes on warming after the change and tops between two steps."""

DRIVES = {"bursts": BURSTS * 6, "ramp down": RAMP_DOWN, "one long pull": (Piece(moment(), 95.0),)}


def one_by_one(made: Made, at: Conditions, longest_s: float) -> tuple[float, float, NDArray[np.float64]]:
    """Worst charge out, warmest coolant and the end, by a plain fourth-order Runge-Kutta march of small steps.

    Published: the classical scheme, any textbook of numerical methods; from memory.
    """
    found = made.predict(at)
    state = found.start[0].copy()
    worst, warmest = -np.inf, float(state.max())
    for piece in at.pieces:
        load = found.loads[piece.moment]
        m, b = load.m[0], load.b[0]
        count = int(np.ceil(piece.seconds / longest_s))
        h = piece.seconds / count
        for index in range(count + 1):
            worst = max(worst, float(load.charge_out(state[None, FEED])[0]))
            warmest = max(warmest, float(state.max()))
            if index < count:
                k1 = m @ state + b
                k2 = m @ (state + h / 2 * k1) + b
                k3 = m @ (state + h / 2 * k2) + b
                k4 = m @ (state + h * k3) + b
                state = state + h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    return worst, warmest, state


QUICK = kit("core-400-sturdy", "exchanger-700-broad", reservoir="reservoir-0.7-bottle")
"""Little coolant and a large front exchanger: temperatures that turn within seconds."""


@pytest.mark.parametrize("drive", DRIVES.values(), ids=DRIVES)
@pytest.mark.parametrize("made", [kit(), QUICK], ids=["slow", "quick"])
def test_worst_moment_and_end_agree_with_a_fine_march(made: Made, drive: tuple[Piece, ...]) -> None:
    at = conditions(*drive)
    found = made.predict(at).course
    worst, warmest, end = one_by_one(made, at, 0.02)
    assert float(found.charge_out_worst_k[0]) == pytest.approx(worst, abs=0.02)
    assert float(found.coolant_worst_k[0]) == pytest.approx(warmest, abs=0.1)
    assert found.end[0] == pytest.approx(end, abs=1e-6)


def test_a_top_between_two_steps_is_read_off_a_parabola() -> None:
    """sin has its top of 1 at pi/2: three values 2 s apart miss it by 0.02, their parabola by far less."""
    t = np.array([-2.3, -0.3, 1.7]) * 0.5 + np.pi / 2
    top = float(course._tops(np.sin(t)[:, None])[0, 0])
    assert top == pytest.approx(1.0, abs=0.01)
    assert abs(top - 1.0) < abs(float(np.sin(t[1])) - 1.0) + 0.02
    rising = course._tops(np.array([[1.0], [2.0], [3.5]]))
    assert float(rising[0, 0]) == 2.0


@pytest.mark.parametrize("drive", DRIVES.values(), ids=DRIVES)
@pytest.mark.parametrize("made", [kit(), QUICK], ids=["slow", "quick"])
def test_half_the_step_moves_nothing(monkeypatch: pytest.MonkeyPatch, made: Made, drive: tuple[Piece, ...]) -> None:
    at = conditions(*drive)
    whole = made.predict(at).course
    monkeypatch.setattr(course, "STEP_S", course.STEP_S / 2)
    half = made.predict(at).course
    assert half.charge_out_worst_k == pytest.approx(whole.charge_out_worst_k, abs=0.02)
    assert half.end == pytest.approx(whole.end, abs=1e-8)


def test_steps_of_a_minute_would_move_something(monkeypatch: pytest.MonkeyPatch) -> None:
    """The other side: a step far too long loses the worst moment, so the step's length is not idle."""
    made, at = QUICK, conditions(*RAMP_DOWN)
    whole = made.predict(at).course.charge_out_worst_k
    monkeypatch.setattr(course, "STEP_S", 60.0)
    assert abs(float(made.predict(at).course.charge_out_worst_k[0] - whole[0])) > 0.05


@pytest.mark.parametrize("made", [kit(), kit("core-150-light", "exchanger-170-tall"), plain_kit()])
def test_a_pattern_repeated_four_hundred_times_is_the_pattern_for_ever(made: Made) -> None:
    at = conditions(*BURSTS)
    found = made.predict(at)
    for_ever = Pieces.of(found.loads, BURSTS).start_for_ever
    repeated = march(found.loads, BURSTS * 400, found.start).end
    assert repeated == pytest.approx(for_ever, abs=1e-6)
    twice = march(found.loads, BURSTS, for_ever).end
    assert twice == pytest.approx(for_ever, abs=1e-8)


def test_the_worst_moment_of_settled_rounds_is_the_first_of_them() -> None:
    """The arithmetic of later rounds moves nothing; the moment is as warm as any, and the drive before is cooler."""
    made = kit()
    found = made.predict(conditions(*BURSTS))
    short, long = (march(found.loads, BURSTS * rounds, found.start) for rounds in (300, 400))
    assert float(short.worst_at_s[0]) == float(long.worst_at_s[0]) < 300 * sum(piece.seconds for piece in BURSTS)
    load = found.loads[BURSTS[0].moment]
    there = float(load.charge_out(load.feed(long.state_at_worst))[0])
    assert there == pytest.approx(float(long.charge_out_worst_k[0]), abs=2e-3)
    earlier = march(found.loads, BURSTS * 20, found.start)
    assert float(earlier.charge_out_worst_k[0]) < there


@pytest.mark.parametrize("rows", [1, 50, 300])
def test_steps_of_many_moments_are_those_of_each_alone(rows: int) -> None:
    """Few rows: all moments at once; many: a few, or one after the other."""
    columns = one_below_another([kit().columns] * rows)
    loads = predict(whole_bench(), columns, conditions(*BURSTS), np.linspace(-1.0, 1.0, rows)).loads
    found = steps_of(loads, BURSTS, {})
    assert [round(seconds, 3) for _, seconds in found] == [2.0, 1.767, 1.55, 2.0]
    for (at, seconds), (phi, shift) in found.items():
        alone = step(loads[at].m[-1], loads[at].b[-1], seconds)
        assert phi[-1] == pytest.approx(alone[0], abs=1e-8)
        assert shift[-1] == pytest.approx(alone[1], abs=1e-6)
    known = dict(list(found.items())[:2])
    assert set(steps_of(loads, BURSTS, known)) == set(found) - set(known)


def test_one_round_is_not_for_ever() -> None:
    found = kit().predict(conditions(*BURSTS))
    once = march(found.loads, BURSTS, found.start).end
    assert np.abs(once - Pieces.of(found.loads, BURSTS).start_for_ever).max() > 5.0


def test_without_an_exchanger_a_round_has_no_for_ever() -> None:
    """Heat that goes nowhere: the tank warms until it is as hot as the charge; only the charge's own idle cools it."""
    found = kit(exchanger=None).predict(conditions(Piece(moment(), 10.0)))
    for_ever = Pieces.of(found.loads, (Piece(moment(), 10.0),)).start_for_ever
    load = found.loads[moment()]
    above = float(for_ever[0, FEED] - load.charge_in_k[0])
    pump_w = 51.6  # 12 V and 4.3 A of this pump, all of it heat
    assert above == pytest.approx(pump_w / float(load.core_w_per_k[0]), rel=0.05)


def test_a_row_has_the_same_course_alone_and_in_company() -> None:
    def loop(core: str, pump: str) -> Loop:
        where: list[Any] = [place("cores", core), place("exchangers", "exchanger-380-slim"), place("pumps", pump)]
        return Loop(*where, place("reservoirs", "reservoir-6-vented"), (run(),) * 4, (), ZoneAir(0.25, 0, 0, 0))

    loops = [loop("core-210-short", "pump-46-small"), loop("core-150-light", "pump-100-bilge")]
    bench, at = whole_bench(), conditions(*BURSTS)
    together = predict(bench, make_columns(bench, loops), at).course.charge_out_worst_k
    alone = [float(predict(bench, make_columns(bench, [one]), at).course.charge_out_worst_k[0]) for one in loops]
    assert list(together) == pytest.approx(alone, abs=1e-9)


def test_the_wall_of_a_hose_stores_heat_beside_its_liquid() -> None:
    """1.2 m at 0.3 kg/m and 800 J/(kg K), half of filled rubber's 1.6 kJ/(kg K): 288 J/K a run (by hand)."""
    bare, walled = kit(), kit(runs=[replace(run(), hose_kg=0.36)] * 4)
    at_k = np.full(1, 320.0)
    without, with_it = (predict(m.bench, m.columns, conditions(), 0, at_k).capacities[0] for m in (bare, walled))
    assert with_it - without == pytest.approx([0.0, 2 * 288.0, 0.0, 288.0, 0.0, 288.0], abs=1e-6)
    warmest, cooler = (float(made.predict(conditions()).course.charge_out_worst_k[0]) for made in (bare, walled))
    assert cooler < warmest
