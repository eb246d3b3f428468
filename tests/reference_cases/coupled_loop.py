"""Two exchangers coupled by a circulating liquid, at steady state: charge air -> coolant -> ambient air.

Core: q1 = G1 (Th - Tx). Exchanger: q2 = G2 (Ty - Tc). Coolant: Ty - Tx = q1 / CL. Th, Tc are the inlets of
charge and ambient air, Tx and Ty the coolant into and out of the core. Relations: Kays & London, Compact Heat
Exchangers, 3rd ed., ch. 2, liquid-coupled indirect-transfer exchangers (from memory; derived anew and
recomputed in the tests).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from configurator.foundations.numbers import Array, Numbers


class SteadyLoop(NamedTuple):
    """Coolant temperatures `core_in`, `core_out`, `exchanger_out` [K], and heats `heat_core`, `heat_exchanger` [W],
    each of the shape of the inputs broadcast together.
    """

    core_in: Array
    core_out: Array
    exchanger_out: Array
    heat_core: Array
    heat_exchanger: Array


def coupled_conductance(g1: Numbers, g2: Numbers, cl: Numbers) -> Array:
    """Heat per kelvin between the two air inlets, G [W/K]: 1/G = 1/G1 + 1/G2 - 1/CL; 0 where one of the three
    is 0.

    `g1`, `g2`: conductances of core and exchanger on inlet difference [W/K], each at most `cl`; `cl`:
    capacity rate of the coolant [W/K]. They broadcast together. Holds for any ratio of the capacity rates; no
    pump heat.
    """
    a, b, c = np.broadcast_arrays(*(np.asarray(x, dtype=np.float64) for x in (g1, g2, cl)))
    flows = (a > 0.0) & (b > 0.0) & (c > 0.0)
    a, b, c = (np.where(flows, x, 1.0) for x in (a, b, c))
    return np.where(flows, 1.0 / (1.0 / a + 1.0 / b - 1.0 / c), 0.0)


def steady_loop(
    th: Numbers, tc: Numbers, g1: Numbers, g2: Numbers, cl: Numbers, pump_heat: Numbers = 0.0
) -> SteadyLoop:
    """The loop at rest: temperatures around it and the heat through both exchangers.

    `th`, `tc`: charge and ambient air inlets [K]; `g1`, `g2`: conductances of core and exchanger on inlet
    difference [W/K], 0 to `cl`; `cl`: capacity rate of the coolant [W/K], >= 0; `pump_heat`: heat W put into
    the coolant between exchanger and core [W]. With a = 1 - G1/CL and b = 1 - G2/CL:
    Tx = (b (G1/CL) Th + (G2/CL) Tc + W/CL) / (1 - a b); Ty = a Tx + (G1/CL) Th; Tz = Ty - (G2/CL)(Ty - Tc).
    Heat of the exchanger = heat of the core + W. Where the coolant stands still no heat passes, and the
    temperatures are those of a trickle: charge temperature out of the core, ambient elsewhere. Heat that can
    go nowhere (`g1` and `g2` both 0, `pump_heat` not) gives infinite coolant temperatures.
    """
    arguments = (np.asarray(x, dtype=np.float64) for x in (th, tc, g1, g2, cl, pump_heat))
    hot, cold, core, exchanger, coolant, pump = np.broadcast_arrays(*arguments)
    flows = coolant > 0.0
    safe = np.where(flows, coolant, 1.0)
    r1, r2, rise = core / safe, exchanger / safe, np.where(flows, pump, 0.0) / safe
    a, b = 1.0 - r1, 1.0 - r2
    gain = r1 + r2 - r1 * r2  # 1 - a b, without its cancellation
    taken = gain > 0.0
    core_in = (b * r1 * hot + r2 * cold + rise) / np.where(taken, gain, 1.0)
    core_out = a * core_in + r1 * hot
    exchanger_out = core_out - r2 * (core_out - cold)
    untaken = np.where(rise > 0.0, np.inf, cold)
    moves = flows & taken
    return SteadyLoop(
        np.where(flows, np.where(taken, core_in, untaken), cold),
        np.where(flows, np.where(taken, core_out, untaken), hot),
        np.where(flows, np.where(taken, exchanger_out, untaken), cold),
        np.where(moves, core * (hot - core_in), 0.0),
        np.where(moves, exchanger * (core_out - cold), 0.0),
    )
