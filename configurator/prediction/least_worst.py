"""The least that the worst charge temperature of a drive can be behind a core, with a front exchanger: a bound for many
pairs at once, whatever pump, reservoir and hoses go with them.

Suppose that the charge never leaves a loop's core warmer than X. Then from the start of the drive to any moment

- the charge has given up at least the integral of its capacity rate times (Tin - X), which went into the coolant;
- the coolant fed to the core was never warmer than F = Tin - (Tin - X) / effectiveness, at any share of power;
- so no coolant of the loop was warmer than M, the warmer of the start and what a core makes of coolant at F;
- so the exchanger gave off at most its conductance times (M - Tair), and the loop stores at most C (M - Tstart).

Where the first is more than the last two together, X cannot be. The least X for which it is not is found by halving,
from below. A flow is taken to lie somewhere in one of several spans, with the better of both ends in each relation; the
liquid's properties likewise. What is left out (the pump's heat, condensing water, pressure lost in couplers) only makes
a real charge warmer.

Sources: conservation of energy, and the second law; no figure of its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from configurator.foundations.coolants import properties
from configurator.prediction.bench import Bench, Loop, make_columns
from configurator.prediction.conditions import Conditions, Moment, Piece
from configurator.prediction.exchange import Exchanges
from configurator.prediction.predict import stage_loss_pa
from configurator.prediction.stages import CORE_THEN_EXCHANGER
from configurator.prediction.zone_air import ZoneAir

Array = NDArray[np.float64]
Places = NDArray[np.intp]

_WARMEST_K = 400.0
_TEMPERATURES = 6
_HALVINGS = 10
_MOST_SPANS_OF_TIME = 2


@dataclass(frozen=True)
class _InMoment:
    """What one moment does at best [W/K], by core or exchanger and span of flow; and the charge, by core."""

    in_k: Array
    rate_w_per_k: Array
    core_most: Array
    core_least: Array
    exchanger_most: Array
    air_k: float

    def of(self, cores: Places, exchangers: Places) -> _InMoment:
        """The same of some cores and exchangers, with axes (span of flow, core, exchanger)."""
        return replace(
            self,
            in_k=self.in_k[cores, None],
            rate_w_per_k=self.rate_w_per_k[cores, None],
            core_most=self.core_most[cores].T[:, :, None],
            core_least=self.core_least[cores].T[:, :, None],
            exchanger_most=self.exchanger_most[exchangers].T[:, None, :],
        )


@dataclass(frozen=True)
class _Held:
    """What a loop can hold at most: its tank, its hoses, and each core with each exchanger [J/K]."""

    tank_j_per_k: float
    hoses_j_per_k: float
    parts_j_per_k: Array


def bounded_by_heat(conditions: Conditions) -> bool:
    """Whether this bound says anything of a drive: it begins with the engine and pump on, without ice or standstill."""
    first = conditions.pieces[0].moment
    return conditions.ice is None and conditions.standing is None and first.pump and first.engine


def tried_at_k(conditions: Conditions) -> Array:
    """At which the coolant's properties are tried [K]."""
    return np.linspace(conditions.coldest_coolant_k, _WARMEST_K, _TEMPERATURES)


class LeastWorst:
    """The bound for every core and exchanger of a bench, the exchanger in one zone's air, at one end of the band."""

    def __init__(self, bench: Bench, conditions: Conditions, air: ZoneAir, end: int, flows: Array) -> None:
        """`flows`: the ends of the spans of flow, rising from next to none to the most that any pump drives [m3/s]."""
        self._conditions = conditions
        cores, exchangers = len(bench.cores), len(bench.exchangers)
        rows = max(cores, exchangers)
        temperatures = tried_at_k(conditions)
        loops = [Loop(row % cores, row % exchangers, 0, 0, (), (), air, CORE_THEN_EXCHANGER) for row in range(rows)]
        columns = make_columns(bench, [loop for _ in range(len(flows) * _TEMPERATURES) for loop in loops])
        shape = (_TEMPERATURES, len(flows), rows)
        at_k, flow = (np.broadcast_to(one, shape).ravel() for one in (temperatures[:, None, None], flows[:, None]))
        liquid = properties(conditions.coolant, at_k)
        carried = (flow * liquid.density * liquid.specific_heat).reshape(shape)[:, :, 0]
        self._carried_least = carried.min(axis=0)[:-1]
        """What the coolant carries at the lower end of each span [W/K]."""
        losses = [stage_loss_pa(columns, stage, liquid, flow, end).reshape(shape) for stage in CORE_THEN_EXCHANGER]
        self.core_loss_pa, self.exchanger_loss_pa = (
            loss.min(axis=0)[:-1, :count].T for loss, count in zip(losses, (cores, exchangers), strict=True)
        )
        per_m3 = self.most_per_m3(conditions)
        self._core_j_per_k, self._exchanger_j_per_k = (
            np.array([surface.liquid_m3 * per_m3 + surface.metal_j_per_k for surface in surfaces])
            for surfaces in (bench.core_surfaces, bench.exchanger_surfaces)
        )
        self._windows = self._hardest()
        self._moments: dict[Moment, _InMoment] = {}
        at_work = Exchanges(bench, columns, conditions, flow, liquid, end)
        for moment in {piece.moment for piece in self._begins}:
            now = at_work.of(moment)
            core, front = (coupling.w_per_k.reshape(shape) for coupling in (now.cores[0], now.exchangers[0]))
            self._moments[moment] = _InMoment(
                now.charge.in_k.reshape(shape)[0, 0, :cores],
                now.charge.rate_w_per_k.reshape(shape)[0, 0, :cores],
                core.max(axis=0)[1:, :cores].T,
                core.min(axis=0)[:-1, :cores].T,
                front.max(axis=0)[1:, :exchangers].T,
                float(np.min(now.exchangers[0].meets_k)),
            )

    @property
    def _begins(self) -> list[Piece]:
        """The drive up to where pump or engine stands."""
        found = []
        for piece in self._conditions.pieces:
            if not (piece.moment.pump and piece.moment.engine):
                break
            found.append(piece)
        return found

    @staticmethod
    def most_per_m3(conditions: Conditions) -> float:
        """The most that a cubic metre of coolant holds, as warm as it may be [J/K m3]."""
        liquid = properties(conditions.coolant, tried_at_k(conditions))
        return float(np.max(liquid.density * liquid.specific_heat))

    def coolest_k(self, tank_j_per_k: float, hoses_j_per_k: float, cores: Places, exchangers: Places) -> Array:
        """The bound for loops with at most so much capacity, shape (spans of flow, cores, exchangers) [K]."""
        moments = {moment: now.of(cores, exchangers) for moment, now in self._moments.items()}
        parts_j_per_k = self._core_j_per_k[cores, None] + self._exchanger_j_per_k[exchangers]
        held = _Held(tank_j_per_k, hoses_j_per_k, parts_j_per_k)
        low = self._with_coldest_coolant(moments) + np.zeros_like(parts_j_per_k)
        high = np.full_like(low, max(float(now.in_k.max()) for now in moments.values()))
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            can_be = np.ones(low.shape, dtype=bool)
            for before, last in self._windows:
                can_be &= self._can_be(moments, before, last, middle, held)
            low, high = np.where(can_be, low, middle), np.where(can_be, middle, high)
        return np.asarray(low)

    def _with_coldest_coolant(self, moments: Mapping[Moment, _InMoment]) -> Array:
        coldest_k = self._conditions.coldest_coolant_k
        worst = [
            now.in_k - np.minimum(now.core_most / now.rate_w_per_k, 1.0) * (now.in_k - coldest_k)
            for now in moments.values()
        ]
        return np.asarray(np.maximum.reduce(worst))

    def _can_be(
        self, moments: Mapping[Moment, _InMoment], before: Mapping[Moment, float], last: Piece, x_k: Array, held: _Held
    ) -> NDArray[np.bool_]:
        """Whether the heat given up until the last piece, on its mean, has somewhere to go."""
        seconds = {**before, last.moment: before.get(last.moment, 0.0) + last.seconds / 2}
        start_k, carried = self._conditions.start_k, self._carried_least[:, None, None]
        given = np.zeros_like(x_k)
        warmest = in_tank_k = np.full_like(x_k, start_k)
        for moment, lasts in seconds.items():
            now = moments[moment]
            in_k, rate = now.in_k, now.rate_w_per_k
            given += lasts * rate * np.maximum(in_k - x_k, 0.0)
            most, least = np.minimum(now.core_most / rate, 1.0), np.maximum(now.core_least / rate, 1e-9)
            share = np.where(in_k >= x_k, most, least)
            fed = in_k - (in_k - x_k) / share
            makes = fed + np.minimum(now.core_most / carried, 1.0) * np.maximum(in_k - fed, 0.0)
            warmest = np.maximum(warmest, np.maximum(np.minimum(makes, in_k), now.air_k))
            if moment == last.moment:
                lags = held.hoses_j_per_k / carried / last.seconds * np.maximum(fed - start_k, 0.0)
                in_tank_k = np.maximum(fed + lags, start_k)
        in_tank_k = np.minimum(in_tank_k, warmest)
        leaves = held.tank_j_per_k * (in_tank_k - start_k)
        leaves += (held.parts_j_per_k + held.hoses_j_per_k) * (warmest - start_k)
        for moment, lasts in seconds.items():
            leaves += lasts * moments[moment].exchanger_most * (warmest - moments[moment].air_k)
        return np.asarray(given <= leaves)

    def _hardest(self) -> list[tuple[dict[Moment, float], Piece]]:
        """Pieces of the hardest share, with the seconds of every moment before each: a few of them, the last first."""
        seconds: dict[Moment, float] = {}
        found = []
        hardest = max(piece.moment.share for piece in self._begins)
        for piece in self._begins:
            if piece.moment.share == hardest:
                found.append((dict(seconds), piece))
            seconds[piece.moment] = seconds.get(piece.moment, 0.0) + piece.seconds
        every = max(1, -(-len(found) // _MOST_SPANS_OF_TIME))
        return found[::-1][::every]
