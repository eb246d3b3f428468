"""How far a kit goes: the hottest air at which it still keeps its aim, and when the repeated drive has settled."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from configurator.foundations.numbers import Array
from configurator.physics.lumps import moved
from configurator.prediction.bench import Bench, Loop, make_columns
from configurator.prediction.conditions import Conditions, Piece
from configurator.prediction.march import Pieces, march, steps_of
from configurator.prediction.predict import Prediction, predict

Rounds = NDArray[np.int_]

COLDEST_AIR, HOTTEST_AIR = 233, 333
"""Air that a car may meet, -40 to 60 degC, in whole kelvins; beyond it nothing is told."""

SETTLED_K = 1.0
"""The drive has settled when a round's worst charge temperature lies within this of the plateau's [K]."""

LONGEST_S = 4 * 3600.0
SLICE_S = 10.0
"""A drive that is one stretch alone is looked at in slices of this length."""

_MOST_STEPS = 12


def limiting_air_k(
    bench: Bench, loops: Sequence[Loop], conditions_in: Callable[[float], Conditions], air_k: float
) -> list[float | None]:
    """The outside air at which each loop's charge, as the aim judges it, just meets its ceiling [K].

    `conditions_in`: the conditions of the same brief at another air temperature [K]; their ceiling must not move with
    the air. `air_k`: where to start. Hotter air makes hotter charge, so there is at most one such temperature. All
    loops are looked at in air of whole kelvins, each where a secant leads it, until one kelvin holds its answer: within
    it the margin is taken as a straight line, which is good to 0.01 K. None where it lies outside `COLDEST_AIR` to
    `HOTTEST_AIR`.
    """
    margins: list[dict[int, float]] = [{} for _ in loops]
    searched = [_Secant(round(air_k)) for _ in loops]
    while wanted := _wanted(searched, margins):
        for kelvin, rows in wanted.items():
            conditions = conditions_in(float(kelvin))
            found = predict(bench, make_columns(bench, [loops[row] for row in rows]), conditions)
            for row, judged_k in zip(rows, found.judged_k, strict=True):
                margins[row][kelvin] = conditions.ceiling_k - float(judged_k)
    return [one.answer(known) for one, known in zip(searched, margins, strict=True)]


class _Secant:
    """The search of one loop over whole kelvins of air."""

    def __init__(self, start: int) -> None:
        self._at = start

    def next(self, margins: Mapping[int, float]) -> list[int]:
        """Kelvins still to be looked at; none where the answer lies between two that are known, or outside."""
        for _ in range(_MOST_STEPS):
            here, there = self._at, self._at + 1
            missing = [kelvin for kelvin in (here, there) if kelvin not in margins]
            if missing:
                return missing
            low, high = margins[here], margins[there]
            if low >= 0.0 >= high:
                return []
            step = math.floor(low / (low - high)) if low > high else (1 if high > 0.0 else -1)
            moved = min(max(here + (step or (1 if high > 0.0 else -1)), COLDEST_AIR), HOTTEST_AIR - 1)
            if moved == here:
                return []
            self._at = moved
        return []

    def answer(self, margins: Mapping[int, float]) -> float | None:
        """Where the line between the last two kelvins crosses; none where they do not hold it."""
        low, high = margins[self._at], margins[self._at + 1]
        return self._at + (low / (low - high) if low > high else 0.0) if low >= 0.0 >= high else None


def _wanted(searched: Sequence[_Secant], margins: Sequence[Mapping[int, float]]) -> dict[int, list[int]]:
    """By kelvin, the loops that have to be looked at in that air."""
    wanted: dict[int, list[int]] = {}
    for row, (one, known) in enumerate(zip(searched, margins, strict=True)):
        for kelvin in one.next(known):
            wanted.setdefault(kelvin, []).append(row)
    return wanted


def time_to_plateau_s(prediction: Prediction, conditions: Conditions) -> list[float | None]:
    """How long the drive must be repeated until it has settled, to a whole round of its pattern [s]; per row.

    Coolant properties are those of the prediction, for the plateau too. None for each row where that takes longer than
    4 h or where nothing ever flows; other rows of the same call keep theirs. A round that begins settled stays so: the
    state nears its end exponentially.
    """
    pattern = _slices(conditions.pattern)
    seconds = sum(piece.seconds for piece in pattern)
    loads, rows = prediction.loads, prediction.start.shape[0]
    pieces = Pieces.of(loads, pattern)
    for_ever = pieces.start_for_ever
    settles = np.asarray(np.isfinite(for_ever).all(axis=1))
    known, begin = steps_of(loads, pattern, {}), np.where(settles[:, None], for_ever, prediction.start)
    plateau = march(loads, pattern, begin, known=known).charge_out_worst_k
    phi, shift = pieces.as_one

    def settled(rounds: Rounds) -> NDArray[np.bool_]:
        state = _after(phi, shift, prediction.start, rounds)
        return np.asarray(abs(march(loads, pattern, state, known=known).charge_out_worst_k - plateau) <= SETTLED_K)

    low, high = np.full(rows, -1), np.full(rows, int(LONGEST_S // seconds) + 1)
    ever = settled(high) & settles
    while (high - low > 1).any():
        middle = np.maximum((low + high) // 2, 0)
        reached = settled(middle)
        low, high = np.where(reached, low, middle), np.where(reached, middle, high)
    return [float(count * seconds) if ever[row] else None for row, count in enumerate(high)]


def _slices(pattern: tuple[Piece, ...]) -> tuple[Piece, ...]:
    return pattern if len(pattern) > 1 else (replace(pattern[0], seconds=min(SLICE_S, pattern[0].seconds)),)


def _after(phi: Array, shift: Array, start: Array, rounds: Rounds) -> Array:
    """The state of each row after its own number of rounds, by squaring."""
    state, power, added, left = start, phi, shift, rounds
    while left.any():
        state = np.where((left % 2 == 1)[:, None], moved(power, added, state), state)
        added = moved(power, added, added)
        power = power @ power
        left = left // 2
    return state
