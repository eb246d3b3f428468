"""Effectiveness of heat exchangers by arrangement, and the conductance that follows from it.

Symbols: N = UA / Cmin, C* = Cmin / Cmax, C = mass flow × specific heat [W/K], eps = heat / (Cmin × inlet
difference), G = eps Cmin [W/K], the heat per kelvin between the two inlets.
Published: Kays & London, Compact Heat Exchangers, 3rd ed., ch. 2 (from memory; every formula is recomputed in
the tests).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from configurator.foundations.numbers import Array, Numbers

MOST_LIQUID_UNITS: Final = 400.0
"""Largest UA / Cmax taken for a cross-flow pass with both streams unmixed; beyond it the result stays where
it is.
"""

_BLOCK: Final = 4096
_SIZES: Final[tuple[Array, ...]] = (np.array([0.0, *2.0 ** np.arange(-16, 4)]), 2.0 ** np.arange(3.0, 9.0))
"""Transfer units between which an inverse is looked for: the ordinary ones, then those far beyond."""
_NARROWINGS: Final = 4
_FINE: Final = np.linspace(0.0, 1.0, 33)
"""A grid on which an inverse is looked for; after so many rounds a straight line between two points is exact."""
_TINY: Final = 1e-300


def effectiveness(
    flow: str,
    ntu: Numbers,
    capacity_ratio: Numbers,
    passes: int = 1,
    pass_order: str | None = "in turn",
    air_is_min: bool | npt.NDArray[np.bool_] = True,
) -> Array:
    """Effectiveness [-], 0 to 1, of `passes` equal passes that the air crosses in turn, in overall
    counter-flow.

    `flow`: the arrangement of one pass, a word of `FLOWS`. `ntu` = UA/Cmin of all passes together [-], >= 0.
    `capacity_ratio` = Cmin/Cmax [-], 0 to 1. `air_is_min`: whether the air has the smaller capacity rate; it
    matters where one stream is mixed. `pass_order`: `in turn`, or None for one pass. The four arrays broadcast
    together and give the shape of the result.
    Several passes are mixed between passes: z = ((1 - C* ep)/(1 - ep))^n, eps = (z - 1)/(z - C*).
    Raises ValueError for an unknown arrangement, and for several passes that lie side by side: there each
    pass has capacity rates of its own, and `conductance` has the answer.
    """
    if passes > 1 and pass_order != "in turn":
        raise ValueError("effectiveness needs passes that the air crosses in turn; use conductance")
    n, c, air_min = np.broadcast_arrays(
        np.asarray(ntu, dtype=np.float64),
        np.asarray(capacity_ratio, dtype=np.float64),
        np.asarray(air_is_min),
    )
    one_pass = _one_pass(flow)(n / passes, c, air_min)
    return one_pass if passes == 1 else _in_turn(one_pass, c, passes)


def conductance(
    flow: str, passes: int, pass_order: str | None, ua: Numbers, c_air: Numbers, c_coolant: Numbers
) -> Array:
    """Heat per kelvin between the two inlets, G = eps Cmin [W/K]; 0 where either stream stands still.

    `flow`, `passes`, `pass_order`: the arrangement; `ua` [W/K] of all passes together; `c_air`, `c_coolant`:
    capacity rates [W/K] of the whole streams. The three broadcast together and give the shape of the result.
    Side by side, each pass meets its own n-th of the fresh air and the coolant goes through all of them:
    G = CL (1 - (1 - g/CL)^n) with g of one pass from UA/n and Cair/n. Raises ValueError for an unknown
    arrangement.
    """
    shares = passes if pass_order == "side by side" else 1
    ua_k, air, coolant = (np.asarray(x, dtype=np.float64) for x in (ua, c_air, c_coolant))
    ua_k, air = ua_k / shares, air / shares
    c_min, c_max = np.minimum(air, coolant), np.maximum(air, coolant)
    flows = c_min > 0.0
    safe_min, safe_max = np.where(flows, c_min, 1.0), np.where(flows, c_max, 1.0)
    in_series = 1 if shares > 1 else passes
    eps = effectiveness(flow, ua_k / safe_min, safe_min / safe_max, in_series, "in turn", air <= coolant)
    g = np.where(flows, eps * c_min, 0.0)
    if shares == 1:
        return g
    safe_coolant = np.where(flows, coolant, 1.0)
    return np.asarray(safe_coolant * (1.0 - (1.0 - g / safe_coolant) ** shares))


def conductance_to_ua(
    flow: str, passes: int, pass_order: str | None, conductance_w_per_k: Numbers, c_air: Numbers, c_coolant: Numbers
) -> Array:
    """The UA [W/K] that gives the wanted G = `conductance_w_per_k` [W/K]; the inverse of `conductance`.

    The other arguments as of `conductance`; the three broadcast together and give the shape of the result.
    Raises ValueError where no size of this arrangement reaches one of them at its capacity rates.
    """
    cases = np.broadcast_arrays(*(np.asarray(x, dtype=np.float64) for x in (conductance_w_per_k, c_air, c_coolant)))
    wanted, air, coolant = (x[..., None] for x in cases)

    def reached(ua: Array) -> Array:
        return conductance(flow, passes, pass_order, ua, air, coolant)

    for sizes in _SIZES:
        grid = passes * np.minimum(air, coolant) * sizes
        found = reached(grid)
        short = found[..., -1:] < wanted
        if not short.any():
            break
    else:
        missed, *rates = (float(x[short][0]) for x in (wanted, air, coolant))
        between = " and ".join(f"{rate:.4g}" for rate in rates)
        raise ValueError(f"{missed:.4g} W/K cannot be reached by {flow} between {between} W/K")
    low, high, under, over = _around(grid, found, wanted)
    for _ in range(_NARROWINGS):
        grid = low + (high - low) * _FINE
        low, high, under, over = _around(grid, reached(grid), wanted)
    rises = over > under
    part = np.where(rises, (wanted - under) / np.where(rises, over - under, 1.0), 1.0)
    return np.asarray(np.where(wanted > 0.0, low + part * (high - low), 0.0)[..., 0])


def _around(grid: Array, found: Array, wanted: Array) -> tuple[Array, Array, Array, Array]:
    """The two points of a grid between which a rising function reaches what is wanted, and its values there."""
    beyond = np.maximum(np.argmax(found >= wanted, axis=-1, keepdims=True), 1)
    low, high, under, over = (
        np.take_along_axis(of, at, axis=-1) for of in (grid, found) for at in (beyond - 1, beyond)
    )
    return low, high, under, over


def _in_turn(one_pass: Array, c: Array, passes: int) -> Array:
    """n passes in overall counter-flow, written so that C* = 1 and one pass of effectiveness 1 are no special
    cases.
    """
    away = 1.0 - c
    w = one_pass / np.maximum(1.0 - one_pass, 1e-15)
    log_z = passes * np.log1p(away * w)
    s = _fading(log_z) * passes * w * _log_ratio(away * w)  # (1 - 1/z) / (1 - C*)
    return np.asarray(s / (s + np.exp(-log_z)))


def _fading(x: Array) -> Array:
    """(1 - exp(-x)) / x, 1 at 0."""
    safe = np.maximum(x, _TINY)
    return -np.expm1(-safe) / safe


def _log_ratio(x: Array) -> Array:
    """ln(1 + x) / x, 1 at 0."""
    safe = np.maximum(x, _TINY)
    return np.log1p(safe) / safe


_Pass = Callable[[Array, Array, npt.NDArray[Any]], Array]


def _counter(n: Array, c: Array, _air_is_min: npt.NDArray[Any]) -> Array:
    r = n * _fading(n * (1.0 - c))  # (1 - e) / (1 - C*), e = exp(-N (1 - C*))
    return r / (1.0 + c * r)


def _parallel(n: Array, c: Array, _air_is_min: npt.NDArray[Any]) -> Array:
    return -np.expm1(-n * (1.0 + c)) / (1.0 + c)


def _min_mixed(n: Array, c: Array) -> Array:
    return -np.expm1(-n * _fading(c * n))


def _max_mixed(n: Array, c: Array) -> Array:
    gamma = -np.expm1(-n)
    return gamma * _fading(c * gamma)


def _air_mixed(n: Array, c: Array, air_is_min: npt.NDArray[Any]) -> Array:
    return np.where(air_is_min, _min_mixed(n, c), _max_mixed(n, c))


def _coolant_mixed(n: Array, c: Array, air_is_min: npt.NDArray[Any]) -> Array:
    return np.where(air_is_min, _max_mixed(n, c), _min_mixed(n, c))


def _unmixed(n: Array, c: Array, _air_is_min: npt.NDArray[Any]) -> Array:
    """Exact: eps = 1/(N C*) sum over k >= 0 of P(k+1, N) P(k+1, N C*), P the regularised lower gamma
    function.

    P(k+1, x) is the chance that a Poisson number of mean x exceeds k. Every term is positive, so nothing
    cancels; it equals the form with modified Bessel functions (Nusselt 1911; Mason 1955, from memory) to
    rounding. The number of terms follows from the largest N C* of a block and only adds terms below 1e-15, so
    a case alone and the same case in a batch agree to rounding.
    """
    flat_n, flat_c = n.ravel(), c.ravel()
    eps = np.empty(flat_n.shape)
    for start in range(0, flat_n.size, _BLOCK):
        block = slice(start, start + _BLOCK)
        eps[block] = _unmixed_block(flat_n[block], flat_c[block])
    return eps.reshape(n.shape)


def _unmixed_block(n: Array, c: Array) -> Array:
    y = n * c
    shrink = np.minimum(1.0, MOST_LIQUID_UNITS / np.maximum(y, _TINY))
    x, y = n * shrink, y * shrink
    most = float(y.max(initial=0.0))
    terms = int(most + 7.0 * np.sqrt(most) + 14.0)
    safe_y = np.where(y > _TINY, y, 1.0)
    total = np.einsum("kc,kc->c", _tails(x, terms), _tails(safe_y, terms)) / safe_y
    return np.where(y > _TINY, np.minimum(total, 1.0), -np.expm1(-x))


def _tails(x: Array, terms: int) -> Array:
    """P(k+1, x) for k = 0 .. terms-1, shape (terms, cases)."""
    each = np.vstack([np.exp(-x), x * (1.0 / np.arange(1, terms + 1))[:, None]])
    chances = np.multiply.accumulate(each, axis=0)
    # What lies beyond the last term counts only for the stream with the smaller capacity rate, at a large N.
    beyond = np.where(x > 1.0, np.maximum(1.0 - chances.sum(axis=0), 0.0), 0.0)
    tails = chances[1:]
    tails[-1] += beyond
    return np.asarray(np.add.accumulate(tails[::-1], axis=0)[::-1])


_ONE_PASS: Final[dict[str, _Pass]] = {
    "counter-flow": _counter,
    "parallel-flow": _parallel,
    "cross-flow both unmixed": _unmixed,
    "cross-flow air mixed": _air_mixed,
    "cross-flow coolant mixed": _coolant_mixed,
}
FLOWS: Final = tuple(_ONE_PASS)
"""The arrangements of one pass."""


def _one_pass(flow: str) -> _Pass:
    if flow not in _ONE_PASS:
        raise ValueError(f"arrangement '{flow}' is not known (allowed: {', '.join(FLOWS)})")
    return _ONE_PASS[flow]
