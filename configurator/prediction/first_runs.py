"""What one loop does in its first runs on the garage floor: cold, at idle, and in a pull; what a log of them shows.

All starts at the temperature of the outside air, without ice: its tank is filled as far as leaves room for that. Idle
and pull are marched like any drive.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Any, Final

import numpy as np

from configurator.physics.lumps import moved, step
from configurator.prediction.bench import Bench, Columns
from configurator.prediction.conditions import RESTART, Conditions, Moment, Piece, Standing
from configurator.prediction.predict import Prediction, predict
from configurator.prediction.stages import feed_lump, stage_lump
from configurator.prediction.standstill import soak_w_per_k, soaked

IDLE_S: Final = 900.0
PULL_S: Final = 10.0
"""How long the car idles, and how long a pull takes. Common practice, no source."""

SETTLED: Final = 3.0
"""Fillings of the core and its metal after which coolant out has all but settled: e^-3 is 5 %."""


@dataclass(frozen=True)
class Banded:
    """A predicted figure with the ends of the kit's bands."""

    nominal: float
    low: float
    high: float


@dataclass(frozen=True)
class FirstRuns:
    """What a log of the first runs should show: flows [m3/s], temperatures [K], heat [W], pressure [Pa].

    `flow_cold`, `flow_warm`: at the outside air, and at the mean temperature of the brief's drive. `idle_*`: after 15
    minutes, with the bay as cool as the outside air; the high end with the bay as warm as after a hard drive. `pull_*`:
    at the end of a pull. `rate_w_per_k`: heat that the coolant carries per kelvin of its rise. `settles_s`: how long
    full power must last until coolant and charge move the same heat.
    """

    air_k: float
    warm_k: float
    flow_cold: Banded
    flow_warm: Banded
    idle_into_k: Banded
    idle_out_k: Banded
    idle_charge_k: Banded
    pull_into_k: Banded
    pull_out_k: Banded
    pull_charge_in_k: Banded
    pull_charge_k: Banded
    pull_charge_w: Banded
    pull_coolant_w: Banded
    core_effectiveness: Banded
    front_effectiveness: tuple[Banded, ...]
    charge_loss_pa: Banded
    rate_w_per_k: Banded
    settles_s: Banded


def first_runs(
    bench: Bench, columns: Columns, conditions: Conditions, hotter: Conditions, bay: Standing
) -> FirstRuns:
    """The first runs of one loop (one row). `hotter`: the same with the common errors; `bay`: a hot one."""
    drive = predict(bench, columns, conditions)
    warm_k = float(drive.properties_at_k[0])
    if conditions.ice is not None:
        columns = replace(columns, reservoir_m3=columns.reservoir_m3 - conditions.ice.displaced_m3)
    dry = replace(conditions, ice=None, standing=None, start_k=conditions.ambient_k)
    pull = replace(dry, pieces=(Piece(dry.hardest_at_full_power, PULL_S),))
    rest = replace(dry, pieces=(Piece(RESTART, IDLE_S),))
    ends = [_one_end(bench, columns, pull, rest, bay, warm_k, end) for end in (0, -1, +1)]
    told: dict[str, Any] = {name: _banded([end[name] for end in ends]) for name in ends[0] if name != "front"}
    nominal = told["pull_charge_in_k"].nominal
    worse = float(predict(bench, columns, replace(pull, charger_efficiency=hotter.charger_efficiency)).full.in_k[0])
    told["pull_charge_in_k"] = Banded(nominal, nominal - (worse - nominal), worse)
    fronts = tuple(_banded(list(values)) for values in zip(*(end["front"] for end in ends), strict=True))
    warmest = [end["idle_hot"] for end in ends]
    for place, name in enumerate(("idle_into_k", "idle_out_k", "idle_charge_k")):
        told[name] = replace(told[name], high=max(told[name].high, *(hot[place] for hot in warmest)))
    known = {field.name for field in fields(FirstRuns)}
    return FirstRuns(
        air_k=conditions.ambient_k,
        warm_k=warm_k,
        front_effectiveness=fronts,
        **{name: value for name, value in told.items() if name in known},
    )


def _one_end(
    bench: Bench, columns: Columns, pull: Conditions, rest: Conditions, bay: Standing, warm_k: float, end: int
) -> dict[str, Any]:
    """Every figure at one end of the bands."""
    cold = predict(bench, columns, pull, end, np.full(1, pull.ambient_k))
    warm = predict(bench, columns, pull, end, np.full(1, warm_k))
    idle = predict(bench, columns, rest, end)
    idle_into, idle_out, idle_charge = _looked_at(idle, idle.course.end)
    soak = soak_w_per_k(columns, bay, end)
    load = soaked(idle.loads[RESTART], idle.capacities, soak, bay.bay_k)
    phi, shift = step(load.m, load.b, IDLE_S)
    hot = moved(phi, shift, idle.start)
    run = predict(bench, columns, pull, end)
    into, out, charge = _looked_at(run, run.course.end)
    charge_in, rate = float(run.full.in_k[0]), float(run.capacity_rate[0])
    core = max(stage_lump(one.stage) for one in run.exchanges[pull.hardest_at_full_power].cores)
    return {
        "flow_cold": float(cold.flow_m3_per_s[0]),
        "flow_warm": float(warm.flow_m3_per_s[0]),
        "idle_into_k": idle_into,
        "idle_out_k": idle_out,
        "idle_charge_k": idle_charge,
        "idle_hot": _looked_at(idle, hot),
        "pull_into_k": into,
        "pull_out_k": out,
        "pull_charge_in_k": charge_in,
        "pull_charge_k": charge,
        "pull_charge_w": float(run.full.rate_w_per_k[0]) * (charge_in - charge),
        "pull_coolant_w": rate * (out - into),
        "core_effectiveness": (charge_in - charge) / (charge_in - into),
        "front": _fronts(pull.hardest_at_full_power, run),
        "charge_loss_pa": float(run.full.loss_pa[0]),
        "rate_w_per_k": rate,
        "settles_s": SETTLED * float(run.capacities[0, core]) / rate,
    }


def _looked_at(prediction: Prediction, state: Any) -> tuple[float, float, float]:
    """Coolant into the first core and out of the last, and the charge behind them [K], as the drive ends."""
    moment = prediction.drive.pieces[-1].moment
    load, cores = prediction.drive.loads[moment], prediction.drive.exchanges[moment].cores
    into = min(feed_lump(core.stage) for core in cores)
    out = max(stage_lump(core.stage) for core in cores)
    return float(state[0, into]), float(state[0, out]), float(load.charge_out(load.feed(state))[0])


def _fronts(moment: Moment, prediction: Prediction) -> list[float]:
    """Effectiveness of each exchanger in a moment: (air out - air in) / (coolant in - air in)."""
    fronts = prediction.exchanges[moment].exchangers
    rates = [float(np.asarray(front.air_w_per_k)[0]) for front in fronts]
    pairs = zip(fronts, rates, strict=True)
    return [float(front.w_per_k[0]) / rate if rate > 0.0 else 0.0 for front, rate in pairs]


def _banded(values: Sequence[float]) -> Banded:
    """The first is nominal."""
    return Banded(values[0], min(values), max(values))
