"""The car left standing after its drive: the bay soaks core and hoses, pump and fan stop or run on for a while.

The engine is off, so no charge flows. The bay's heat goes into the lumps of core and hoses, each by its own outside;
reservoir and front exchanger are taken to stand apart from it. While the pump runs the lumps are a ring as in the
drive; with it off each soaks alone. Nothing changes within either phase, so both are stepped exactly.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from configurator.foundations.numbers import Array, Numbers
from configurator.physics.lumps import moved, step
from configurator.prediction.bench import Columns
from configurator.prediction.conditions import RESTART, RUNS_ON, STANDS, Conditions, Moment, Standing
from configurator.prediction.march import Load
from configurator.prediction.stages import stage_lump

LOOKS = 30
"""How often temperatures are looked at in each phase; the steps themselves are exact at any length."""


@dataclass(frozen=True)
class Stood:
    """What a standstill did, per row: the state at its end, the warmest coolant in it, and the restart [K].

    `restart_k`: the first charge behind the core as the engine idles again, with the core as it has stood.
    `pull_away_k`: the same if full power follows at once.
    """

    end: Array
    coolant_worst_k: Array
    core_k: Array
    restart_k: Array
    pull_away_k: Array


def soak_w_per_k(columns: Columns, standing: Standing, end: Numbers) -> Array:
    """Conductance from the bay to each lump, shape (rows, lumps) [W/K]: outside of the cores, bore of the hoses.

    `end` -1: the bay warms the loop more by its band; +1: less.
    """
    outside = np.zeros((columns.count, 2 + 2 * len(columns.stages)))
    bores = np.pi * columns.run_bore_m * columns.run_length_m
    for run, lump in columns.piping.moving:
        outside[:, lump] += bores[:, run]
    for at, stage in enumerate(columns.stages):
        if stage.kind == "core":
            outside[:, stage_lump(at)] = stage.abreast * columns.core_outside_m2
    return np.asarray(standing.w_per_m2_k * (1 - np.reshape(end, (-1, 1)) * standing.band) * outside)


def soaked(load: Load, capacities: Array, soak: Array, bay_k: float) -> Load:
    """A load with the bay's heat in it: each lump gains G (bay - lump)."""
    lumps = np.arange(capacities.shape[1])
    m = load.m.copy()
    m[:, lumps, lumps] -= soak / capacities
    return replace(load, m=m, b=load.b + soak * bay_k / capacities)


def phases(standing: Standing, after_run_s: Array) -> Iterator[tuple[Moment, Array]]:
    """First pump and fan run on, then all stands: each moment with the seconds that it lasts, per row."""
    runs_on = np.minimum(after_run_s, standing.seconds)
    yield RUNS_ON, runs_on
    yield STANDS, standing.seconds - runs_on


def stand(loads: Mapping[Moment, Load], conditions: Conditions, after_run_s: Array, state: Array) -> Stood | None:
    """Let every row stand from the state that the drive left, shape (rows, lumps); None where nobody asks."""
    if conditions.standing is None:
        return None
    hottest = state.max(axis=1)
    for moment, seconds in phases(conditions.standing, after_run_s):
        load = loads[moment]
        phi, shift = step(load.m, load.b, seconds / LOOKS)
        for _ in range(LOOKS):
            state = moved(phi, shift, state)
            hottest = np.maximum(hottest, state.max(axis=1))
    idle, full = loads[RESTART], loads[conditions.hardest_at_full_power]
    core = idle.cores(state)
    return Stood(state, hottest, core, idle.charge_out(core), full.charge_out(full.cores(state)))
