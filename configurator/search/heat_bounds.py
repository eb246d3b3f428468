"""What margin a core and an exchanger can have at best, with any of some pumps and reservoirs, in hoses of some size.

Figures are rounded to a few sizes so that they come up again and are found once: capacities up, flows up.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from configurator.foundations.coolants import properties
from configurator.foundations.numbers import Array
from configurator.parts.kit import Joint
from configurator.physics.operating_point import head
from configurator.physics.pipe_flow import LAMINAR_TO, pipe_loss, reynolds
from configurator.prediction.bench import HOSE_LEAST_M3, Bench
from configurator.prediction.coolest import free_flow
from configurator.prediction.estimates import HOSE_J_PER_KG_K
from configurator.prediction.fronts import Fronts, in_turn
from configurator.prediction.least_worst import LeastWorst, bounded_by_heat, tried_at_k
from configurator.prediction.stages import piping
from configurator.prediction.zone_air import shadows, zone_air
from configurator.search.circuit import circuit_of
from configurator.search.job import Job

Places = NDArray[np.intp]

SPANS = 10
_NO_FLOW, _FIRST_SPAN = 1e-6, 0.05
_FINER, _COARSER = 1.3, 2.0
"""Capacities of tanks and of hoses are rounded up to powers of these: finer where they weigh more."""
_NOISE_K = 1e-6


@dataclass(frozen=True)
class Around:
    """Cores and exchangers of one skeleton and what lies around them: pumps and reservoirs, all by place on the bench.

    `hoses_j_per_k`: what the hoses hold at most; `runs_pa`: what all runs take at least, at the lower end of each span
    of flow; `fronts`: what of the exchangers the bench does not say; `of`: the pair in question, by place among them.
    """

    cores: Places
    exchangers: Places
    pumps: Places
    reservoirs: Places
    hoses_j_per_k: float
    runs_pa: Array
    fronts: Fronts
    of: tuple[int, int] = (0, 0)

    def pair(self, core: int, exchanger: int) -> Around:
        """The same with one pair in question."""
        return replace(self, of=(core, exchanger))


class HeatBounds:
    """The bounds of one job whose loops are a core and one or two exchangers, and whose drive says enough."""

    def __init__(self, job: Job, bench: Bench) -> None:
        """Nothing is found yet."""
        self.job = job
        self._bench = bench
        self._stages = circuit_of(job.brief, job.layout).stages
        self.serves = bounded_by_heat(job.conditions) and in_turn(self._stages) and bool(bench.exchangers)
        """Whether they say anything of this job."""
        self._per_m3 = LeastWorst.most_per_m3(job.conditions)
        liquid = properties(job.conditions.coolant, tried_at_k(job.conditions))
        self._coolant = (liquid.density.min(), liquid.viscosity.min(), liquid.viscosity.max())
        ends = np.concatenate([[_NO_FLOW], np.geomspace(_FIRST_SPAN, 1.0, SPANS)])
        self._flows = ends * free_flow(bench)
        pumps = np.arange(len(bench.pumps))
        self._heads = head(bench.curves, pumps[:, None], self._flows[None, :-1])
        self._of_fronts: dict[tuple[Fronts, int], LeastWorst] = {}
        self._tables: dict[tuple[object, ...], NDArray[np.float32]] = {}
        self._runs_pa: dict[int, tuple[Array, Joint]] = {}

    def of_pairs(self, lies: Around, end: int) -> Array:
        """The margin of each pair at best, with any of the pumps and reservoirs, shape (cores, exchangers) [K]."""
        coolest = self._table(lies, float(self._tank_j_per_k(lies).max()), end)
        heads = self._heads[lies.pumps].max(axis=0)
        driven = heads[:, None, None] >= self._loses_pa(lies, end)
        return self._margin(np.minimum(np.where(driven, coolest, np.inf).min(axis=0), coolest[0]))

    def of_loops(self, lies: Around, end: int) -> Array:
        """The margin of the pair in question at best, with each pump and reservoir, shape (pumps, reservoirs) [K]."""
        core, exchanger = lies.of
        driven = self._heads[lies.pumps] >= self._loses_pa(lies, end)[:, core, exchanger]
        found = np.empty((len(lies.pumps), len(lies.reservoirs)), dtype=np.float32)
        for place, tank in enumerate(self._tank_j_per_k(lies)):
            coolest = self._table(lies, float(tank), end)[:, core, exchanger]
            found[:, place] = np.minimum(np.where(driven, coolest, np.inf).min(axis=1), coolest[0])
        return self._margin(found)

    def fronts(self, zones: Sequence[str]) -> Fronts:
        """The exchangers that sit in some zones, whichever in which; two in one zone may stand in line there."""
        bay, named = self.job.brief.bay, sorted(zones)
        share = shadows(bay, named) if len(set(named)) == len(named) else (1.0, 1.0)
        return Fronts(self._stages, tuple(zone_air(bay, zone) for zone in named), share)

    def hoses_j_per_k(self, best: Sequence[Joint], tight: Sequence[Joint]) -> float:
        """The most that runs and what is in them hold, each made in either of two ways [J/K]."""
        return sum(max(self._run_j_per_k(run) for run in ways) for ways in zip(best, tight, strict=True))

    def runs_pa(self, best: Sequence[Joint], tight: Sequence[Joint]) -> Array:
        """The least that runs take at the lower end of each span of flow, each made in either of two ways [Pa].

        Of runs of half the flow, those of twins side by side, it is not said.
        """
        none = np.zeros(len(self._flows) - 1)
        whole = [(best[run], tight[run]) for run in piping(self._stages).trunk]
        return sum((np.minimum(*map(self._run_pa, ways)) for ways in whole), none)

    def _run_pa(self, run: Joint) -> Array:
        """What one run takes at least.

        The loss falls as the coolant warms, but rises where that makes it turbulent: it is least in the thinnest
        coolant there may be, or in that which is about to turn.
        """
        if id(run) not in self._runs_pa:  # the joint is kept beside it, so that its identity stays its own
            flow, density, thin, thick = self._flows[:-1], *self._coolant
            turning = reynolds(flow, run.hose_bore_m, density, 1.0) / LAMINAR_TO
            wall = np.minimum(*(
                pipe_loss(flow, run.hose_length_m, run.hose_bore_m, run.roughness_m, density, viscosity)
                for viscosity in (thin, np.clip(turning, thin, thick))
            ))  # fmt: skip
            self._runs_pa[id(run)] = (wall + run.loss_per_m4 * density * flow**2 / 2, run)
        return self._runs_pa[id(run)][0]

    def _run_j_per_k(self, run: Joint) -> float:
        return max(run.volume_m3, HOSE_LEAST_M3) * self._per_m3 + run.hose_kg * HOSE_J_PER_KG_K

    def _tank_j_per_k(self, lies: Around) -> Array:
        held = self._bench.reservoir_m3[lies.reservoirs] * self._per_m3
        return np.asarray(held + self._bench.reservoir_metal_j_per_k[lies.reservoirs])

    def _margin(self, coolest_k: NDArray[np.floating[Any]]) -> Array:
        return np.asarray(np.round(self.job.conditions.ceiling_k - coolest_k.astype(np.float64) + _NOISE_K, 2))

    def _least_worst(self, fronts: Fronts, end: int) -> LeastWorst:
        if (fronts, end) not in self._of_fronts:
            self._of_fronts[fronts, end] = LeastWorst(self._bench, self.job.conditions, fronts, end, self._flows)
        return self._of_fronts[fronts, end]

    def _loses_pa(self, lies: Around, end: int) -> Array:
        """What a loop takes at least at the lower end of each span, shape (spans, cores, exchangers) [Pa]."""
        found = self._least_worst(lies.fronts, end)
        core, exchanger = found.core_loss_pa[lies.cores].T, found.exchanger_loss_pa[lies.exchangers].T
        return np.asarray(core[:, :, None] + exchanger[:, None, :] + lies.runs_pa[:, None, None])

    def _table(self, lies: Around, tank_j_per_k: float, end: int) -> NDArray[np.float32]:
        """The coolest charge by span of flow, core and exchanger [K], for tank and hoses rounded up."""
        of_pumps = float(self._bench.pump_m3[lies.pumps].max()) * self._per_m3
        tank, hoses = _rounded(tank_j_per_k, _FINER), _rounded(lies.hoses_j_per_k + of_pumps, _COARSER)
        key = (lies.cores.tobytes(), lies.exchangers.tobytes(), lies.fronts, end, tank, hoses)
        if key not in self._tables:
            found = self._least_worst(lies.fronts, end)
            self._tables[key] = _as_half(found.coolest_k(tank, hoses, lies.cores, lies.exchangers))
        return self._tables[key]


def _as_half(coolest_k: Array) -> NDArray[np.float32]:
    """In half the memory, for many wait at once: no warmer, and at most 0.0001 K cooler."""
    return np.nextafter(coolest_k.astype(np.float32), np.float32(-np.inf))


def _rounded(figure: float, ratio: float) -> float:
    """The next power of a ratio."""
    return ratio ** math.ceil(math.log(max(figure, 1.0), ratio))
