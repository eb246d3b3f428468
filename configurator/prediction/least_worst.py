"""The least that the worst charge temperature of a drive can be behind a core, with one front exchanger or two alike:
a bound for many pairs at once, whatever pump, reservoir and hoses go with them.

Suppose that the charge never leaves a loop's core warmer than X. Then from the start of the drive to any moment

- the charge has given up at least the integral of its capacity rate times (Tin - X), which went into the coolant; at
  shares at which Tin is under X it may have taken some up, no more than that, nor than its core passes from M to Tin;
- the coolant fed to the core was never warmer than F = Tin - (Tin - X) / effectiveness, at any share of power;
- so no coolant of the loop was warmer than M, the warmer of the start and what a core makes of coolant at F;
- so an exchanger gave off at most its conductance times (M - Tair), and the loop stores at most C (M - Tstart).

An exchanger in the air of another meets air that may be warmer than M by no more than its own air is than that one's,
and colder than its own by no more than that one's coolant is than that one's air: M and Tair are moved by as much.

Where the first is more than the last two together, X cannot be. The least X for which it is not is found by false
position, from below. A flow is taken to lie somewhere in one of several spans, with the better of both ends in each
relation; the liquid's properties likewise. What is left out (the pump's heat, condensing water, pressure lost in
couplers) only makes a real charge warmer.

Sources: conservation of energy, and the second law; no figure of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from configurator.foundations.coolants import properties
from configurator.foundations.numbers import Array
from configurator.prediction.bench import Bench, Loop, make_columns
from configurator.prediction.conditions import Conditions, Moment, Piece
from configurator.prediction.exchange import exchanges_of, filled_kg_per_m3
from configurator.prediction.fronts import Fronts
from configurator.prediction.loop_flow import stage_loss_pa

Places = NDArray[np.intp]

_WARMEST_K = 400.0
_TEMPERATURES = 6
_TRIALS = 6
_MOST_SPANS_OF_TIME = 2


@dataclass(frozen=True)
class _InMoment:
    """What one moment does at best [W/K], by core or exchangers and span of flow; and the charge, by core.

    `exchanger_air_w`: the conductances times the air that each meets [W]; `air_k`: the warmest of that.
    """

    in_k: Array
    rate_w_per_k: Array
    core_most: Array
    core_least: Array
    exchanger_most: Array
    exchanger_air_w: Array
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
            exchanger_air_w=self.exchanger_air_w[exchangers].T[:, None, :],
        )


@dataclass(frozen=True)
class _Held:
    """What a loop can hold at most: its tank, its hoses, and each core with each exchanger [J/K]."""

    tank_j_per_k: float
    hoses_j_per_k: float
    parts_j_per_k: Array


@dataclass(frozen=True)
class _Charge:
    """The charge of all moments of a window that are alike to core and coolant: what is in `_InMoment`, for so long.

    `most`, `least`: the core's effectiveness. `last_s`: of the charge that the window ends with, its last piece [s].
    """

    in_k: Array
    rate_w_per_k: Array
    core_most: Array
    most: Array
    least: Array
    seconds: float
    last_s: float | None


@dataclass(frozen=True)
class _Window:
    """A drive up to the middle of one of its pieces: its charges, and what the exchanger gives off in it at most.

    That is so much for each kelvin of its coolant, less so much for its air [J/K, J]; `air_k`: the warmest of it.
    """

    charges: tuple[_Charge, ...]
    exchanger_j_per_k: Array
    exchanger_air_j: Array
    air_k: float

    @classmethod
    def of(cls, moments: Mapping[Moment, _InMoment], before: Mapping[Moment, float], last: Piece) -> _Window:
        """From the seconds of every moment before the last piece, and that piece."""
        seconds = {**before, last.moment: before.get(last.moment, 0.0) + last.seconds / 2}
        alike: dict[tuple[float, bool], list[Moment]] = {}
        for moment in seconds:
            alike.setdefault((moment.share, moment.pump), []).append(moment)
        charges = []
        for those in alike.values():
            now = moments[those[0]]
            charges.append(
                _Charge(
                    now.in_k,
                    now.rate_w_per_k,
                    now.core_most,
                    np.minimum(now.core_most / now.rate_w_per_k, 1.0),
                    np.maximum(now.core_least / now.rate_w_per_k, 1e-9),
                    sum(seconds[moment] for moment in those),
                    last.seconds if last.moment in those else None,
                )
            )
        gives = [(lasts, moments[moment]) for moment, lasts in seconds.items()]
        return cls(
            tuple(charges),
            np.asarray(sum(lasts * now.exchanger_most for lasts, now in gives)),
            np.asarray(sum(lasts * now.exchanger_air_w for lasts, now in gives)),
            max(now.air_k for _, now in gives),
        )

    def given(self, x_k: Array, warmest_k: Array) -> Array:
        """What the charge gives up at least, less what it takes up from coolant that is as warm as it may be [J]."""
        joules = np.zeros_like(x_k)
        for charge in self.charges:
            gives = charge.rate_w_per_k * (charge.in_k - x_k)
            takes = charge.core_most * np.maximum(warmest_k - charge.in_k, 0.0)
            joules += charge.seconds * np.maximum(gives, -takes)
        return joules


def bounded_by_heat(conditions: Conditions) -> bool:
    """Whether this bound says anything of a drive: it begins with the engine and pump on, without ice or standstill."""
    first = conditions.pieces[0].moment
    return conditions.ice is None and conditions.standing is None and first.pump and first.engine


def tried_at_k(conditions: Conditions) -> Array:
    """At which the coolant's properties are tried [K]."""
    return np.linspace(conditions.coldest_coolant_k, _WARMEST_K, _TEMPERATURES)


class LeastWorst:
    """The bound for every core and exchanger of a bench, the exchangers in some zones' air, at one end of the band."""

    def __init__(self, bench: Bench, conditions: Conditions, fronts: Fronts, end: int, flows: Array) -> None:
        """`flows`: the ends of the spans of flow, rising from next to none to the most that any pump drives [m3/s]."""
        self._conditions = conditions
        cores, exchangers = len(bench.cores), len(bench.exchangers)
        rows = max(cores, exchangers)
        temperatures = tried_at_k(conditions)
        loops = [
            Loop(row % cores, row % exchangers, 0, 0, (), (), fronts.airs[0], fronts.stages, fronts.airs)
            for row in range(rows)
        ]
        columns = make_columns(bench, [loop for _ in range(len(flows) * _TEMPERATURES) for loop in loops])
        shape = (_TEMPERATURES, len(flows), rows)
        at_k, flow = (np.broadcast_to(one, shape).ravel() for one in (temperatures[:, None, None], flows[:, None]))
        liquid = properties(conditions.coolant, at_k)
        carried = (flow * liquid.density * liquid.specific_heat).reshape(shape)[:, :, 0]
        self._carried_least = carried.min(axis=0)[:-1]
        """What the coolant carries at the lower end of each span [W/K]."""
        of_core, *of_fronts = (
            stage_loss_pa(columns, stage, liquid, flow, end).reshape(shape).min(axis=0)[:-1].T
            for stage in fronts.stages
        )
        self.core_loss_pa, self.exchanger_loss_pa = of_core[:cores], np.asarray(sum(of_fronts))[:exchangers]
        per_m3 = self.most_per_m3(conditions)
        self._core_j_per_k, self._exchanger_j_per_k = (
            columns.count_of(kind) * np.array([one.liquid_m3 * per_m3 + one.metal_j_per_k for one in surfaces])
            for kind, surfaces in (("core", bench.core_surfaces), ("exchanger", bench.exchanger_surfaces))
        )
        self._warmer_k = fronts.warmer_k
        coldest_k = fronts.coldest_air_k(conditions.ambient_k, conditions.coldest_coolant_k)
        self._windows = self._hardest()
        self._moments: dict[Moment, _InMoment] = {}
        begins = [piece.moment for piece in self._begins]
        for moment, now in exchanges_of(bench, columns, conditions, flow, liquid, end, begins).items():
            core = now.cores[0].w_per_k.reshape(shape)
            most = [front.w_per_k.reshape(shape).max(axis=0)[1:, :exchangers].T for front in now.exchangers]
            self._moments[moment] = _InMoment(
                now.charge.in_k.reshape(shape)[0, 0, :cores],
                now.charge.rate_w_per_k.reshape(shape)[0, 0, :cores],
                core.max(axis=0)[1:, :cores].T,
                core.min(axis=0)[:-1, :cores].T,
                np.asarray(sum(most)),
                np.asarray(sum(w_per_k * air_k for w_per_k, air_k in zip(most, coldest_k, strict=True))),
                max(float(np.max(front.meets_k)) for front in now.exchangers),
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
        return filled_kg_per_m3(conditions.coolant) * float(np.max(liquid.specific_heat))

    def coolest_k(self, tank_j_per_k: float, hoses_j_per_k: float, cores: Places, exchangers: Places) -> Array:
        """The bound for loops with at most so much capacity, shape (spans of flow, cores, exchangers) [K]."""
        moments = {moment: now.of(cores, exchangers) for moment, now in self._moments.items()}
        parts_j_per_k = self._core_j_per_k[cores, None] + self._exchanger_j_per_k[exchangers]
        held = _Held(tank_j_per_k, hoses_j_per_k, parts_j_per_k)
        windows = [_Window.of(moments, before, last) for before, last in self._windows]

        def too_much(x_k: Array) -> Array:
            return np.asarray(np.maximum.reduce([self._nowhere_to_go(window, x_k, held) for window in windows]))

        low = self._with_coldest_coolant(moments) + np.zeros_like(parts_j_per_k)
        high = np.maximum(low, max(float(now.in_k.max()) for now in moments.values()))
        return last_with_too_much(too_much, low, high)

    def _with_coldest_coolant(self, moments: Mapping[Moment, _InMoment]) -> Array:
        coldest_k = self._conditions.coldest_coolant_k
        worst = [
            now.in_k - np.minimum(now.core_most / now.rate_w_per_k, 1.0) * (now.in_k - coldest_k)
            for now in moments.values()
        ]
        return np.asarray(np.maximum.reduce(worst))

    def _nowhere_to_go(self, window: _Window, x_k: Array, held: _Held) -> Array:
        """How much more heat is given up in a window than has somewhere to go [J]; where it is over 0, X cannot be."""
        start_k, carried = self._conditions.start_k, self._carried_least[:, None, None]
        warmest = np.full_like(x_k, max(start_k, window.air_k))
        in_tank_k = np.full_like(x_k, start_k)
        for charge in window.charges:
            in_k = charge.in_k
            share = np.where(in_k >= x_k, charge.most, charge.least)
            fed = in_k - (in_k - x_k) / share
            makes = fed + np.minimum(charge.core_most / carried, 1.0) * np.maximum(in_k - fed, 0.0)
            warmest = np.maximum(warmest, np.minimum(makes, in_k))
            if charge.last_s is not None:
                lags = held.hoses_j_per_k / carried / charge.last_s * np.maximum(fed - start_k, 0.0)
                in_tank_k = np.maximum(fed + lags, start_k)
        warmest = warmest + self._warmer_k
        leaves = held.tank_j_per_k * (np.minimum(in_tank_k, warmest) - start_k)
        leaves += (held.parts_j_per_k + held.hoses_j_per_k) * (warmest - start_k)
        leaves += window.exchanger_j_per_k * warmest - window.exchanger_air_j
        return window.given(x_k, warmest) - leaves

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


def last_with_too_much(too_much: Callable[[Array], Array], low: Array, high: Array) -> Array:
    """Up to where a falling function is over 0, never beyond: false position, the weight of an end that stays halved.

    `low`, `high`: between which it is looked for, each element by itself, arrays of one shape, which `too_much` takes
    and gives. At most 2 % of the way from `low` to `high` short of the true place in 400 drawn cases; where it is
    nowhere over 0 from `low` on, that is `low`. Published: the Illinois method, Dowell & Jarratt, BIT 11 (1971) (from
    memory).
    """
    at_low, at_high = too_much(low), too_much(high)
    high = np.where(at_low > 0.0, high, low)
    for _ in range(_TRIALS):
        apart = at_low - at_high
        place = np.where(apart > 0.0, at_low / np.where(apart > 0.0, apart, 1.0), 0.5)
        trial = low + np.clip(place, 0.0, 1.0) * (high - low)
        found = too_much(trial)
        over = found > 0.0
        at_low, at_high = np.where(over, found, at_low / 2), np.where(over, at_high / 2, found)
        low, high = np.where(over, trial, low), np.where(over, high, trial)
    return low
