"""Pump curves through their points, and the flow at which a pump meets its loop.

A definition: the flow at which head and loss are equal. How points are joined is said with its published source.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, NamedTuple

import numpy as np
import numpy.typing as npt

from configurator.foundations.numbers import Array, Numbers

_NARROW: Final = 1e-13
FLOW_CEILING: Final = 3.0
"""An operating point is looked for up to this many times the last point of a curve: what nobody measured is not
trusted further. Common practice, no source."""

_MOST_STEPS: Final = 100


class Curves(NamedTuple):
    """Many pump curves as cubics, one row a pump, so that any of them is evaluated by its index.

    Piece k of pump i begins at flow `breaks[i, k]` [m³/s] and is the cubic `coefficients[i, k]`, highest
    power first, in the flow beyond that break: a pressure [Pa]; the last piece of a pump is the straight line beyond
    its last point `flow_end[i]` [m³/s]. Rows with fewer pieces are filled up with breaks at infinity.
    """

    breaks: Array
    coefficients: Array
    flow_end: Array


def curve_slopes(flows: Array, heads: Array) -> Array:
    """Slopes at the points of a curve that make the cubics through them monotone wherever the points are [Pa
    s/m³].

    Inside: the weighted harmonic mean of the two chords, 0 where they do not agree in sign; at the ends a
    three-point slope, held to the chord's sign and to three times the chord. `flows` [m³/s] rising and
    `heads` [Pa], both of shape (n,), n >= 2. Published: Fritsch & Butland, SIAM J. Sci. Stat. Comput. 5
    (1984); the ends after Moler, Numerical Computing, ch. 3 (both from memory). Written out because importing
    the library that has it costs more than everything else a command imports; the tests hold the two equal.
    """
    h = np.diff(flows)
    chord = np.diff(heads) / h
    if len(chord) == 1:
        return np.array([chord[0], chord[0]])
    w1, w2 = 2.0 * h[1:] + h[:-1], h[1:] + 2.0 * h[:-1]
    before, after = chord[:-1], chord[1:]
    agree = before * after > 0.0
    inverse = w1 / np.where(agree, before, 1.0) + w2 / np.where(agree, after, 1.0)
    inside = np.where(agree, (w1 + w2) / inverse, 0.0)
    first = _end_slope(h[0], h[1], chord[0], chord[1])
    last = _end_slope(h[-1], h[-2], chord[-1], chord[-2])
    return np.concatenate(([first], inside, [last]))


def _end_slope(h_near: float, h_next: float, near: float, following: float) -> float:
    slope = ((2.0 * h_near + h_next) * near - h_near * following) / (h_near + h_next)
    if slope * near <= 0.0:
        return 0.0
    if near * following <= 0.0 and abs(slope) > 3.0 * abs(near):
        return 3.0 * near
    return slope


def stack_curves(points: Sequence[tuple[Sequence[float], Sequence[float]]]) -> Curves:
    """Pump curves from their points, through every point and monotone between them.

    `points`: for each pump its flows [m³/s], rising from 0, and its heads [Pa], falling; any number of points from two
    on. Beyond the last point the head goes on in a straight line, with the slope there or the last chord's, whichever
    falls faster, below zero too.
    """
    pieces = max((len(flows) for flows, _ in points), default=1)
    breaks = np.full((len(points), pieces), np.inf)
    coefficients = np.zeros((len(points), pieces, 4))
    for row, (flows, heads) in enumerate(points):
        q, p = np.asarray(flows, dtype=np.float64), np.asarray(heads, dtype=np.float64)
        slope, h = curve_slopes(q, p), np.diff(q)
        chord = np.diff(p) / h
        last = len(h)
        breaks[row, : last + 1] = q
        coefficients[row, :last, 0] = (slope[:-1] + slope[1:] - 2.0 * chord) / h**2
        coefficients[row, :last, 1] = (3.0 * chord - 2.0 * slope[:-1] - slope[1:]) / h
        coefficients[row, :last, 2] = slope[:-1]
        coefficients[row, : last + 1, 3] = p
        coefficients[row, last, 2] = min(slope[-1], chord[-1])
    return Curves(breaks, coefficients, np.array([flows[-1] for flows, _ in points], dtype=np.float64))


def head(curves: Curves, pump: npt.NDArray[np.intp] | int, flow_m3_per_s: Numbers) -> Array:
    """Pressure a pump makes at a flow [Pa], negative where the flow is more than it can drive.

    `pump`: row of the pump in `curves`; `flow_m3_per_s`: flow >= 0 [m³/s]. They broadcast together.
    """
    rows, flow = np.broadcast_arrays(np.asarray(pump), np.asarray(flow_m3_per_s, dtype=np.float64))
    piece = (flow[..., None] >= curves.breaks[rows, 1:]).sum(axis=-1)
    c = curves.coefficients[rows, piece]
    x = flow - curves.breaks[rows, piece]
    return np.asarray(((c[..., 0] * x + c[..., 1]) * x + c[..., 2]) * x + c[..., 3])


def operating_flow(
    head_of: Callable[[Array], Array], loss_of: Callable[[Array], Array], flow_high: Numbers
) -> Array:
    """Flow at which what the pump makes is what the loop takes [m³/s], for each entry on its own.

    `head_of`, `loss_of`: pressure [Pa] made and taken at an array of flows [m³/s] of the shape of `flow_high`,
    the one falling, the other rising; `flow_high`: a flow at which the loop takes more than the pump makes [m³/s].
    The bracket is narrowed by the line through its ends over the square of the flow, near which losses and heads go,
    with the end that stays put counted half (Illinois rule; published: Dowell & Jarratt, BIT 11 (1971), from memory),
    to 1e-13 of `flow_high`; an entry that is narrow enough is left alone, so it has the same answer alone and in any
    company. 0 where the pump makes no more than the loop takes at rest; `flow_high` where the loop takes less even
    there.
    """
    high = np.array(flow_high, dtype=np.float64)
    low = np.zeros_like(high)
    narrow = _NARROW * high
    at_low, at_high = head_of(low) - loss_of(low), head_of(high) - loss_of(high)
    moves, short = at_low > 0.0, at_high > 0.0
    found = np.where(short, high, 0.0)
    open_ = moves & ~short
    kept_side = np.zeros(high.shape, dtype=np.int8)
    for _ in range(_MOST_STEPS):
        if not open_.any():
            break
        span = np.where(open_, at_low - at_high, 1.0)
        middle = np.sqrt(np.where(open_, (low**2 * -at_high + high**2 * at_low) / span, low**2))
        here = head_of(middle) - loss_of(middle)
        driven = here > 0.0
        moved = np.where(driven, middle - low, high - middle)
        found = np.where(open_, middle, found)
        at_high = np.where(driven & (kept_side == 1), at_high / 2.0, np.where(driven, at_high, here))
        at_low = np.where(~driven & (kept_side == -1), at_low / 2.0, np.where(driven, here, at_low))
        low, high = np.where(driven, middle, low), np.where(driven, high, middle)
        kept_side = np.where(driven, 1, -1).astype(np.int8)
        open_ = open_ & (np.minimum(moved, high - low) > narrow) & (here != 0.0)
    return found
