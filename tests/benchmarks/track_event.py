"""Kits a second through twenty minutes on track, beside scipy's LSODA: python tests/benchmarks/track_event.py [KITS]

Every kit is a core, a front exchanger and a pump of the shipped shelf, on the drive of the example `track` (8 s on, 5 s
off). The opponent gets the same rates of change, ready made, and integrates one kit a call with rtol 1e-6, restarted
at every edge between stretches; it is timed on OPPONENT of the kits. Its worst charge temperatures are asserted to be
ours within 0.05 K before any figure is printed. Two opponents: `solve_ivp(method="LSODA")`, and `odeint`, the same
integrator without the loop in Python round it. Times depend on the machine and are never asserted.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from itertools import islice, product

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import odeint, solve_ivp

from configurator.files.load_brief import load_brief
from configurator.parts.kinds import Pump
from configurator.prediction.bench import Loop, ZoneAir, make_columns
from configurator.prediction.conditions import Conditions, choose_coolant, make_conditions
from configurator.prediction.march import march
from configurator.prediction.predict import Prediction, predict
from tests.prediction.made_kits import ROOT, cores, exchangers, place, run, shelf, whole_bench

OPPONENT = 20
RTOL = ATOL = 1e-6
LOOKS = 9
"""How often the opponent looks for the worst moment within a stretch."""

Array = NDArray[np.float64]


def track() -> Conditions:
    """What the example brief asks."""
    catalogue, tables = shelf()
    loaded = load_brief(ROOT / "examples" / "track.yaml", catalogue, tables)
    coolant = choose_coolant(loaded.brief)
    assert coolant is not None
    return make_conditions(loaded.brief, loaded.driving, tables, coolant)


def loops(count: int) -> list[Loop]:
    """The first so many of core x exchanger x pump."""
    pumps = shelf()[0].of(Pump)
    air, runs = ZoneAir(0.25, 0.0, 0.0, 0.0), tuple(run() for _ in range(4))
    reservoir = place("reservoirs", "reservoir-6-vented")
    choices = product(range(len(cores())), range(len(exchangers())), range(len(pumps)))
    return [Loop(core, front, pump, reservoir, runs, (), air) for core, front, pump in islice(choices, count)]


def by_solve_ivp(m: Array, b: Array, state: Array, times: Array) -> Array:
    """States at `times`, the first being where it starts."""
    found = solve_ivp(
        lambda _, y: m @ y + b, (times[0], times[-1]), state, "LSODA", t_eval=times, rtol=RTOL, atol=ATOL,
        jac=lambda _, y: m,
    )  # fmt: skip
    return np.asarray(found.y.T)


def by_odeint(m: Array, b: Array, state: Array, times: Array) -> Array:
    """The same by the older interface."""
    return np.asarray(odeint(lambda y, _: m @ y + b, state, times, Dfun=lambda y, _: m, rtol=RTOL, atol=ATOL))


def worst(
    found: Prediction, at: Conditions, row: int, solver: Callable[[Array, Array, Array, Array], Array]
) -> float:
    """The opponent's worst charge temperature of one kit [K]."""
    state, highest = found.start[row], -np.inf
    for piece in at.pieces:
        load = found.loads[piece.moment]
        states = solver(load.m[row], load.b[row], state, np.linspace(0.0, piece.seconds, LOOKS))
        feed = load.feed(states)
        out = load.charge_in_k[row] - load.effectiveness[row] * (load.charge_in_k[row] - feed)
        highest, state = max(highest, float(out.max())), states[-1]
    return highest


def seconds(work: Callable[[], object]) -> float:
    """Wall-clock time of some work."""
    started = time.perf_counter()
    work()
    return time.perf_counter() - started


def main(count: int) -> None:
    """Assert that all agree, then print who took how long."""
    at, bench = track(), whole_bench()
    columns = make_columns(bench, loops(count))
    found = predict(bench, columns, at)
    rows = np.linspace(0, columns.count - 1, OPPONENT).astype(int)
    for solver in (by_solve_ivp, by_odeint):
        apart = max(abs(worst(found, at, row, solver) - float(found.course.charge_out_worst_k[row])) for row in rows)
        assert apart <= 0.05, f"{solver.__name__}: {apart:.3f} K apart"
        print(f"{solver.__name__}: same worst temperatures, at most {apart:.4f} K apart over {OPPONENT} kits")
    whole = columns.count / seconds(lambda: predict(bench, columns, at))
    alone = columns.count / seconds(lambda: march(found.loads, at.pieces, found.start))
    driven = sum(piece.seconds for piece in at.pieces)
    print(f"{columns.count} kits, {len(at.pieces)} stretches, {driven:g} s of driving")
    print(f"kitwright: {whole:.0f} kits a second, all of the prediction; {alone:.0f} the march alone")
    for solver in (by_solve_ivp, by_odeint):
        rate = OPPONENT / seconds(lambda s=solver: [worst(found, at, row, s) for row in rows])
        print(f"{solver.__name__}: {rate:.2f} kits a second; ratio {whole / rate:.0f}, march alone {alone / rate:.0f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000)
