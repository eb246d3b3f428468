"""How far a kit goes: the hottest air at which it still keeps its aim, and when the repeated drive has settled."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from configurator.physics.lumps import step
from configurator.prediction.bench import Bench, Columns
from configurator.prediction.conditions import Conditions, Piece
from configurator.prediction.march import march, round_for_ever
from configurator.prediction.predict import Prediction, predict

Array = NDArray[np.float64]

COLDEST_AIR_K, HOTTEST_AIR_K = 273.15 - 40.0, 273.15 + 60.0
"""Air that a car may meet; beyond it nothing is told."""

SETTLED_K = 1.0
"""The drive has settled when a round's worst charge temperature lies within this of the plateau's [K]."""

LONGEST_S = 4 * 3600.0
SLICE_S = 10.0
"""A drive that is one stretch alone is looked at in slices of this length."""

_CLOSE_K = 0.01
_MOST_STEPS = 12


def limiting_air_k(
    bench: Bench, columns: Columns, conditions_in: Callable[[float], Conditions], air_k: float
) -> float | None:
    """The outside air at which one loop's charge, as the aim judges it, just meets its ceiling [K], to 0.01 K.

    `columns`: one row. `conditions_in`: the conditions of the same brief at another air temperature [K]; their
    ceiling must not move with the air. `air_k`: where to start. Hotter air makes hotter charge, so there is at most one
    such temperature: found by the secant, kept between the air that keeps the aim and the air that does not. None
    where it lies outside `COLDEST_AIR_K` to `HOTTEST_AIR_K`.
    """

    def margin(at_k: float) -> float:
        conditions = conditions_in(at_k)
        return conditions.ceiling_k - float(predict(bench, columns, conditions).judged_k[0])

    here, there = air_k, min(max(air_k + margin(air_k), COLDEST_AIR_K), HOTTEST_AIR_K)
    margin_here, margin_there = margin(here), margin(there)
    for _ in range(_MOST_STEPS):
        if abs(margin_there) <= _CLOSE_K:
            return there
        if margin_here == margin_there:
            return None
        aimed = there + margin_there * (there - here) / (margin_here - margin_there)
        if not COLDEST_AIR_K <= aimed <= HOTTEST_AIR_K:
            return None
        here, margin_here = there, margin_there
        there, margin_there = aimed, margin(aimed)
    return None


def time_to_plateau_s(prediction: Prediction, conditions: Conditions) -> list[float | None]:
    """How long the drive must be repeated until it has settled, to a whole round of its pattern [s]; per row.

    Coolant properties are those of the prediction, for the plateau too. None where that takes longer than 4 h, or
    where nothing ever flows. A round that begins settled stays so: the state nears its end exponentially.
    """
    pattern = _slices(conditions.pattern)
    seconds = sum(piece.seconds for piece in pattern)
    loads, rows = prediction.loads, prediction.start.shape[0]
    for_ever = round_for_ever(loads, pattern)
    if not np.isfinite(for_ever).all():
        return [None] * rows
    plateau = march(loads, pattern, for_ever).charge_out_worst_k
    phi, shift = _round(prediction, pattern)
    found: list[float | None] = []
    for row in range(rows):

        def settled(rounds: int, row: int = row) -> bool:
            state = _after(phi, shift, prediction.start, rounds)
            return bool(abs(march(loads, pattern, state).charge_out_worst_k[row] - plateau[row]) <= SETTLED_K)

        low, high = -1, int(LONGEST_S // seconds) + 1
        if not settled(high):
            found.append(None)
            continue
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if settled(middle) else (middle, high)
        found.append(high * seconds)
    return found


def _slices(pattern: tuple[Piece, ...]) -> tuple[Piece, ...]:
    return pattern if len(pattern) > 1 else (replace(pattern[0], seconds=min(SLICE_S, pattern[0].seconds)),)


def _round(prediction: Prediction, pattern: tuple[Piece, ...]) -> tuple[Array, Array]:
    """One round as one exact step."""
    rows, lumps = prediction.start.shape
    phi, shift = np.broadcast_to(np.eye(lumps), (rows, lumps, lumps)), np.zeros((rows, lumps))
    for piece in pattern:
        load = prediction.loads[piece.moment]
        of_piece, added = step(load.m, load.b, piece.seconds)
        phi, shift = of_piece @ phi, (of_piece @ shift[:, :, None])[:, :, 0] + added
    return phi, shift


def _after(phi: Array, shift: Array, start: Array, rounds: int) -> Array:
    """The state after so many rounds, by squaring."""
    state, power, added = start, phi, shift
    while rounds:
        if rounds % 2:
            state = (power @ state[:, :, None])[:, :, 0] + added
        added = (power @ added[:, :, None])[:, :, 0] + added
        power = power @ power
        rounds //= 2
    return state
