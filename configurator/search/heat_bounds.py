"""What margin a core and an exchanger can have at best, with any of some pumps and reservoirs, in hoses of some size.

Figures are rounded to a few sizes so that they come up again and are found once: capacities up, flows up.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from configurator.parts.kit import Joint
from configurator.physics.operating_point import head
from configurator.prediction.bench import HOSE_LEAST_M3, Bench
from configurator.prediction.coolest import free_flow
from configurator.prediction.estimates import HOSE_J_PER_KG_K
from configurator.prediction.least_worst import LeastWorst, bounded_by_heat
from configurator.prediction.stages import CORE_THEN_EXCHANGER
from configurator.prediction.zone_air import ZoneAir
from configurator.search.circuit import circuit_of
from configurator.search.job import Job

Array = NDArray[np.float64]
Places = NDArray[np.intp]

SPANS = 10
_NO_FLOW, _FIRST_SPAN = 1e-6, 0.05
_FINER, _COARSER = 1.25, 1.6
"""Capacities of tanks and of hoses are rounded up to powers of these: finer where they weigh more."""
_NOISE_K = 1e-6


@dataclass(frozen=True)
class Around:
    """What lies around a core and an exchanger: pumps and reservoirs by place, capacity of the hoses, outside air."""

    pumps: Places
    reservoirs: Places
    hoses_j_per_k: float
    air: ZoneAir


class HeatBounds:
    """The bounds of one job whose loops are core and exchanger in turn, and whose drive says enough."""

    def __init__(self, job: Job, bench: Bench) -> None:
        """Nothing is found yet. Ask `serve` first."""
        self._conditions = job.conditions
        self._bench = bench
        ends = np.concatenate([[_NO_FLOW], np.geomspace(_FIRST_SPAN, 1.0, SPANS)])
        self._flows = ends * free_flow(bench)
        pumps = np.arange(len(bench.pumps))
        self._heads = head(bench.curves, pumps[:, None], self._flows[None, :-1])
        self._of_air: dict[tuple[ZoneAir, int], LeastWorst] = {}
        self._tables: dict[tuple[object, ...], Array] = {}

    @staticmethod
    def serve(job: Job) -> bool:
        """Whether they say anything of a job."""
        return bounded_by_heat(job.conditions) and circuit_of(job.brief, job.layout).stages == CORE_THEN_EXCHANGER

    def of_pairs(self, cores: Places, exchangers: Places, around: Around, end: int) -> Array:
        """The margin of each pair at best, with any of the pumps and the reservoirs, shape (cores, exchangers) [K]."""
        largest = float(self._tank_j_per_k(around).max())
        coolest = self._table(cores, exchangers, around, largest, end)
        heads = self._heads[around.pumps].max(axis=0)
        loses = self._loses_pa(cores, exchangers, around.air, end)
        driven = np.where(heads[:, None, None] >= loses, coolest, np.inf)
        return self._margin(np.minimum(driven.min(axis=0), coolest[0]))

    def of_loops(self, cores: Places, exchangers: Places, at: tuple[int, int], around: Around, end: int) -> Array:
        """The margin of one of the pairs at best, with each pump and reservoir, shape (pumps, reservoirs) [K]."""
        loses = self._loses_pa(cores, exchangers, around.air, end)[:, at[0], at[1]]
        driven = self._heads[around.pumps] >= loses
        found = np.empty((len(around.pumps), len(around.reservoirs)))
        for place, tank in enumerate(self._tank_j_per_k(around)):
            coolest = self._table(cores, exchangers, around, float(tank), end)[:, at[0], at[1]]
            found[:, place] = np.minimum(np.where(driven, coolest, np.inf).min(axis=1), coolest[0])
        return self._margin(found)

    def hoses_j_per_k(self, best: Sequence[Joint], tight: Sequence[Joint]) -> float:
        """The most that runs and what is in them hold, each made in either of two ways [J/K]."""
        return sum(max(self._run_j_per_k(run) for run in ways) for ways in zip(best, tight, strict=True))

    def _run_j_per_k(self, run: Joint) -> float:
        return max(run.volume_m3, HOSE_LEAST_M3) * self._per_m3 + run.hose_kg * HOSE_J_PER_KG_K

    def _tank_j_per_k(self, around: Around) -> Array:
        held = self._bench.reservoir_m3[around.reservoirs] * self._per_m3
        return np.asarray(held + self._bench.reservoir_metal_j_per_k[around.reservoirs])

    @property
    def _per_m3(self) -> float:
        """The most that a cubic metre of this coolant holds [J/K m3]."""
        return LeastWorst.most_per_m3(self._conditions)

    def _margin(self, coolest_k: Array) -> Array:
        return np.asarray(np.round(self._conditions.ceiling_k - coolest_k + _NOISE_K, 2))

    def _least_worst(self, air: ZoneAir, end: int) -> LeastWorst:
        if (air, end) not in self._of_air:
            self._of_air[air, end] = LeastWorst(self._bench, self._conditions, air, end, self._flows)
        return self._of_air[air, end]

    def _loses_pa(self, cores: Places, exchangers: Places, air: ZoneAir, end: int) -> Array:
        """What core and exchanger take at the lower end of each span, shape (spans, cores, exchangers) [Pa]."""
        found = self._least_worst(air, end)
        return np.asarray(found.core_loss_pa[cores].T[:, :, None] + found.exchanger_loss_pa[exchangers].T[:, None, :])

    def _table(self, cores: Places, exchangers: Places, around: Around, tank_j_per_k: float, end: int) -> Array:
        """The coolest charge by span of flow, core and exchanger [K], for tank and hoses rounded up."""
        tank, hoses = _rounded(tank_j_per_k, _FINER), _rounded(around.hoses_j_per_k, _COARSER)
        key = (cores.tobytes(), exchangers.tobytes(), around.air, end, tank, hoses)
        if key not in self._tables:
            found = self._least_worst(around.air, end)
            spans = [found.coolest_k(span, tank, hoses, cores, exchangers) for span in range(SPANS)]
            self._tables[key] = np.stack(spans)
        return self._tables[key]


def _rounded(figure: float, ratio: float) -> float:
    """The next power of a ratio."""
    return ratio ** math.ceil(math.log(max(figure, 1.0), ratio))
