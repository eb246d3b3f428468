"""The event in time: lumps of the loop stepped exactly through the drive, and where it ends if it never stops.

Lumps in flow order: reservoir, feed (hoses up to the first stage, with the pump's heat), then each stage and the hose
behind it. Each is stirred; a heat exchanger acts on the liquid that enters its lump. Within one piece of the drive
nothing changes, so every step is exact; the warmest moment between two steps is read off a parabola.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import accumulate, chain, islice
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from configurator.foundations.numbers import Array
from configurator.physics.lumps import integrals, moved, repeated, step
from configurator.prediction.conditions import Moment, Piece
from configurator.prediction.ice_tank import IceStep, IceTank, ice_steps

StepKey = tuple[Moment, float]
Stepped = tuple[Array, Array]
"""What a step does: X after = first X before + second."""

System = tuple[Array, Array, float]
"""M [1/s] and b [K/s] of dX/dt = M X + b, per row, and the time that it runs [s]."""

RESERVOIR, FEED = 0, 1
STEP_S = 2.0
"""Longest step at which temperatures are looked at; the steps themselves are exact at any length."""

_WARMER_K = 1e-4
"""A later moment is the worst only if it is warmer by more: rounds that have settled differ by the arithmetic alone."""

_ROWS_AT_ONCE = 128
"""Systems of few rows are stepped together: many calls for a few rows each would take most of the time."""

_LOOKED_AT = 64
"""Steps looked at together: enough to spare most of the calls, few enough for thousands of loops."""


@dataclass(frozen=True)
class Load:
    """One moment as a linear system dX/dt = m X + b per row, and how the charge hangs on the feed's temperature.

    `feeds`: the lumps that feed the cores. Where there are two, the charge goes half through each and the feed's
    temperature is their mean, weighted by `feed_shares`, each core's share of both conductances. Where the charge sheds
    water, `condensing_w` is in `b`, and the charge leaves warmer: by `warmer_k` with the feed at `warmer_at_k`, and by
    `warmer_per_k` more for each kelvin above.
    """

    m: Array
    b: Array
    charge_in_k: Array
    core_w_per_k: Array
    effectiveness: Array
    feeds: tuple[int, ...] = (FEED,)
    feed_shares: tuple[Array, ...] = ()
    warmer_k: Array | float = 0.0
    warmer_per_k: Array | float = 0.0
    warmer_at_k: Array | float = 0.0
    condensing_w: Array | float = 0.0

    def feed(self, state: Array) -> Array:
        """Temperature of the coolant that the cores are fed with [K], from states of shape (..., rows, lumps)."""
        return self._mean(state, self.feeds)

    def cores(self, state: Array) -> Array:
        """Temperature of the cores themselves [K], as they stand when the charge first meets them."""
        return self._mean(state, tuple(lump + 1 for lump in self.feeds))

    def _mean(self, state: Array, lumps: tuple[int, ...]) -> Array:
        if len(lumps) == 1:
            return np.asarray(state[..., lumps[0]])
        shares = zip(self.feed_shares, lumps, strict=True)
        return np.asarray(sum(share * state[..., lump] for share, lump in shares))

    def charge_out(self, feed_k: Array) -> Array:
        """Charge temperature behind the cores for a feed temperature [K]."""
        dry = self.charge_in_k - self.effectiveness * (self.charge_in_k - feed_k)
        return dry + self.warmer_k + self.warmer_per_k * (feed_k - self.warmer_at_k)


@dataclass(frozen=True)
class Course:
    """What a march found, per row: worst charge out, state, feed and time then, warmest coolant, peak heat, the end.

    `ice_kg`: what is left at the end. `worst_piece`: in which piece of the drive the worst moment was.
    `hardest_out_worst_k`: the worst charge out where the drive asks for most power.
    """

    charge_out_worst_k: Array
    worst_at_s: Array
    state_at_worst: Array
    feed_at_worst_k: Array
    coolant_worst_k: Array
    heat_peak_w: Array
    end: Array
    ice_kg: Array
    worst_piece: NDArray[np.intp]
    hardest_out_worst_k: Array


def march(
    loads: Mapping[Moment, Load],
    pieces: Sequence[Piece],
    start: Array,
    tank: IceTank | None = None,
    known: Mapping[StepKey, Stepped] | None = None,
) -> Course:
    """Step every row from `start`, shape (rows, lumps), through the pieces; `tank`: the first lump with its ice.

    `known`: what steps do that somebody has taken before.
    """
    before = known or {}
    taken = {**before, **steps_of(loads, pieces, before)}
    rows, every = start.shape[0], np.arange(start.shape[0])
    state, kg = start, np.full(rows, 0.0 if tank is None else tank.start_kg)
    now = 0.0
    worst, worst_at, worst_piece = np.full(rows, -np.inf), np.zeros(rows), np.zeros(rows, dtype=np.intp)
    kept = worst
    worst_state, coolant_worst, peak = start, start.max(axis=1), np.zeros(rows)
    worst_feed = start[:, FEED]
    seen = np.empty((0, rows))
    hardest, hardest_worst = max((piece.moment.share for piece in pieces), default=0.0), worst
    for at, piece in enumerate(pieces):
        load = loads[piece.moment]
        all_reached: Iterator[_Reached | IceStep] = steps(load, piece, state, kg, tank, taken)
        if at == 0 or not _goes_on(pieces[at - 1], piece):
            all_reached, seen = chain([_Reached(0.0, state, kg)], all_reached), np.empty((0, rows))
        while reached := tuple(islice(all_reached, _LOOKED_AT)):
            state, kg = reached[-1].state, reached[-1].kg
            _, *times = accumulate((one.seconds for one in reached), initial=now)
            now = times[-1]
            states = np.stack([one.state for one in reached])
            feed = load.feed(states)
            charge_out = load.charge_out(feed)
            seen = np.concatenate([seen[-2:], charge_out])
            tops, warmest = _tops(seen), charge_out.copy()
            topped = slice(len(warmest) - len(tops), None)
            warmest[topped] = np.maximum(warmest[topped], tops)
            top = charge_out.max(axis=0)
            found = np.asarray(top > kept + _WARMER_K)
            first = np.argmax(charge_out >= top - _WARMER_K, axis=0)
            kept = np.where(found, charge_out[first, every], kept)
            worst = np.maximum(worst, warmest.max(axis=0))
            if piece.moment.share == hardest:
                hardest_worst = np.maximum(hardest_worst, warmest.max(axis=0))
            worst_at = np.where(found, np.array(times)[first], worst_at)
            worst_piece = np.where(found, at, worst_piece)
            worst_state = np.where(found[:, None], states[first, every], worst_state)
            worst_feed = np.where(found, feed[first, every], worst_feed)
            coolant_worst = np.maximum(coolant_worst, states.max(axis=(0, 2)))
            heat = load.core_w_per_k * (load.charge_in_k - feed) + load.condensing_w
            peak = np.maximum(peak, heat.max(axis=0))
    return Course(worst, worst_at, worst_state, worst_feed, coolant_worst, peak, state, kg, worst_piece, hardest_worst)


class _Reached(NamedTuple):
    """Where one step leads: its length, the state and the ice behind it."""

    seconds: float
    state: Array
    kg: Array


def steps(
    load: Load,
    piece: Piece,
    state: Array,
    kg: Array,
    tank: IceTank | None,
    known: Mapping[StepKey, Stepped],
) -> Iterator[_Reached | IceStep]:
    """The steps through a piece. `known`: what they do where no ice changes it, as `steps_of` finds it."""
    if tank is not None and kg.any():
        yield from ice_steps(load, tank, piece.moment.pump, piece.seconds, state, kg)
        return
    count, seconds = in_steps(piece)
    phi, shift = known[step_key(piece.moment, seconds)]
    for _ in range(count):
        state = moved(phi, shift, state)
        yield _Reached(seconds, state, kg)


def in_steps(piece: Piece) -> tuple[int, float]:
    """In how many steps a piece is gone through without ice, and how long each is [s]."""
    count = max(math.ceil(piece.seconds / STEP_S - 1e-9), 1)
    return count, piece.seconds / count


def steps_of(
    loads: Mapping[Moment, Load], pieces: Sequence[Piece], known: Mapping[StepKey, Stepped]
) -> dict[StepKey, Stepped]:
    """What the steps through pieces do without ice, but for those that are known."""
    systems: dict[StepKey, System] = {}
    for piece in pieces:
        _, seconds = in_steps(piece)
        key, load = step_key(piece.moment, seconds), loads[piece.moment]
        if key not in known:
            systems[key] = (load.m, load.b, seconds)
    return stepped(systems)


def stepped(systems: Mapping[StepKey, System]) -> dict[StepKey, Stepped]:
    """What each system does in its time; where the rows are few, many systems at once."""
    found: dict[StepKey, Stepped] = {}
    keys, rows = list(systems), max([1, *(len(b) for _, b, _ in systems.values())])
    at_once = max(_ROWS_AT_ONCE // rows, 1)
    for first in range(0, len(keys), at_once):
        some = keys[first : first + at_once]
        m, b, seconds = zip(*(systems[key] for key in some), strict=True)
        phi, shift = step(np.stack(m), np.stack(b), np.array(seconds)[:, None])
        found.update(zip(some, zip(phi, shift, strict=True), strict=True))
    return found


def _goes_on(before: Piece, piece: Piece) -> bool:
    """Whether a piece is the next cut of the same stretch: charge and coolant go on without a step."""
    return replace(before.moment, cut=0) == replace(piece.moment, cut=0) and before.seconds == piece.seconds


def step_key(moment: Moment, seconds: float) -> StepKey:
    """Under what a step is kept."""
    return moment, round(seconds, 9)


@dataclass(frozen=True)
class Pieces:
    """The linear systems of pieces of the drive side by side, each with its length [s]; shapes (pieces, rows, ...)."""

    m: Array
    b: Array
    seconds: Array

    @classmethod
    def of(cls, loads: Mapping[Moment, Load], pieces: Sequence[Piece]) -> Pieces:
        """The loads of pieces as they follow each other."""
        each = [loads[piece.moment] for piece in pieces]
        m, b = np.stack([load.m for load in each]), np.stack([load.b for load in each])
        return cls(m, b, np.array([[piece.seconds] for piece in pieces]))

    @cached_property
    def steps(self) -> Stepped:
        """Every piece as one exact step, worked out at once."""
        return step(self.m, self.b, self.seconds)

    @cached_property
    def as_one(self) -> Stepped:
        """All pieces as one exact step."""
        rows, lumps = self.b.shape[1:]
        phi = np.broadcast_to(np.eye(lumps), (rows, lumps, lumps))
        shift = np.zeros((rows, lumps))
        for of_piece, added in zip(*self.steps, strict=True):
            phi, shift = of_piece @ phi, moved(of_piece, added, shift)
        return phi, shift

    @cached_property
    def start_for_ever(self) -> Array:
        """The state at their start when they have been repeated for ever; not a number where there is none [K]."""
        return repeated(*self.as_one)

    def kelvin_seconds(self, start: Array) -> Array:
        """The integral of a state over all pieces, from where they start, shape (rows, lumps) [K s]."""
        starts = [start]
        for phi, shift in zip(*self.steps, strict=True):
            starts.append(moved(phi, shift, starts[-1]))
        return np.asarray(integrals(self.m, self.b, np.stack(starts[:-1]), self.seconds).sum(axis=0))


def _tops(seen: Array) -> Array:
    """Of every three values in a row, shape (looks, rows): the top of their parabola if the middle one is the highest.

    The three are equally spaced; else the middle one.
    """
    first, middle, last = seen[:-2], seen[1:-1], seen[2:]
    bend = first - 2 * middle + last
    inside = (middle >= first) & (middle >= last) & (bend < 0)
    top = middle - (last - first) ** 2 / (8 * np.where(inside, bend, -1.0))
    return np.where(inside, top, middle)
