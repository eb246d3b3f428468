"""What a plain air-to-air cooler would do in the place of a loop's front exchanger: a look, so that it can be said.

Common practice, no source: bought to size it takes 65 to 80 % of the charge's heat above the outside air, with plenty
of that air and at full power. Where the exchanger's face has fewer fins or less air than that asks for, they set it:
the outside fins are those of the exchanger, and the charge side has as much resistance again, to a quarter.
"""

from __future__ import annotations

import numpy as np

from configurator.foundations.air import density, specific_heat
from configurator.foundations.numbers import Array
from configurator.physics.effectiveness import conductance
from configurator.prediction.bench import Bench, Columns
from configurator.prediction.conditions import Conditions, Moment
from configurator.prediction.exchange import charge_of, face_speed, surface_of
from configurator.prediction.surface_figures import air_resistance

USUAL = {-1: 0.65, 0: 0.72, 1: 0.80}
"""Effectiveness on the charge's side with plenty of outside air: the low end, the middle and the high end."""

_BALANCED, _BAND = 2.0, 0.25


def air_to_air_worst_k(bench: Bench, columns: Columns, conditions: Conditions, end: int = 0) -> Array:
    """The warmest charge of the drive behind an air-to-air cooler in place of each row's exchanger [K].

    Nothing in it stores heat to speak of: each moment is its own steady state, a short drive as warm as a long one.
    Of two exchangers each would be a cooler for half of the charge. `end` -1, 0, +1: which of `USUAL`.
    """
    worst = np.zeros(columns.count)
    for moment in dict.fromkeys(piece.moment for piece in conditions.pieces):
        if moment.engine:
            worst = np.maximum(worst, _charge_out_k(columns, conditions, moment, end))
    return worst


def _charge_out_k(columns: Columns, conditions: Conditions, moment: Moment, end: int) -> Array:
    charge, full = (charge_of(columns, conditions, share, 0) for share in (moment.share, 1.0))
    surface = surface_of(columns, "exchanger")
    speeds = face_speed(columns, moment)
    coolers = speeds.shape[1]
    out = np.zeros(columns.count)
    for speed, preheat in zip(speeds.T, columns.preheat_k.T, strict=True):
        into_k = conditions.ambient_k + preheat
        air = speed * surface.face_area_m2 * density(conditions.ambient_pa, into_k)
        outside = air_resistance(surface, air)
        usual = -np.log(1 - USUAL[end]) * full.rate_w_per_k / coolers
        ua = np.minimum(usual, (1 + end * _BAND) / (_BALANCED * outside))
        rate = charge.rate_w_per_k / coolers
        taken = conductance("cross-flow both unmixed", 1, None, ua, rate, air * specific_heat(into_k))
        out += (charge.in_k - taken / rate * (charge.in_k - into_k)) / coolers
    return out
