"""What a kit buys and what it costs the air: how much denser the charge is, how much warmer the outside air leaves."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from configurator.foundations.numbers import Array
from configurator.physics.compression import density_ratio
from configurator.physics.lumps import integrals, moved, step
from configurator.prediction.bench import Bench, Columns
from configurator.prediction.conditions import Moment
from configurator.prediction.exchange import Coupling
from configurator.prediction.predict import Prediction
from configurator.prediction.stages import feed_lump


@dataclass(frozen=True)
class AirRise:
    """How much warmer the air leaves an exchanger than it came to its zone [K].

    At the worst moment of the charge, and all heat of the drive over all air of the drive. Behind another exchanger of
    the kit it counts what that one has added.
    """

    slot: str
    at_worst_k: float
    mean_k: float


@dataclass(frozen=True)
class Bought:
    """What one kit buys: density gain of the charge at its low and high end [-], what the pump draws [W], air rises."""

    density_gain_low: float
    density_gain_high: float
    pump_w: float
    air_rises: tuple[AirRise, ...]


def bought(bench: Bench, columns: Columns, middle: Prediction, gains_at_ends: Array) -> tuple[Bought, ...]:
    """What every row buys; `middle`: as stated, `gains_at_ends`: of density at ends of the bands, (ends, rows) [-]."""
    gains = np.vstack([density_gain(middle), gains_at_ends])
    low, high = gains.min(axis=0), gains.max(axis=0)
    rises = air_rises(middle)
    pumps = [bench.pumps[int(index)] for index in columns.pump]
    draws = [float(pump.current_a) * pump.volts for pump in pumps]
    return tuple(
        Bought(float(low[row]), float(high[row]), draws[row], tuple(of[row] for of in rises))
        for row in range(columns.count)
    )


def density_gain(prediction: Prediction) -> Array:
    """How much denser the charge is at the throttle than out of the charger, hottest at the drive's hardest power [-].

    There it is wanted: a core soaked with heat may warm the charge once the power is off. From the charger's outlet to
    the throttle, so the pressure that core and pipes take is taken off.
    """
    hardest = max((piece.moment for piece in prediction.drive.pieces), key=lambda moment: moment.share)
    charge = prediction.drive.exchanges[hardest].charge
    out_k = prediction.course.hardest_out_worst_k
    return density_ratio(charge.outlet_pa, charge.in_k, charge.outlet_pa - charge.loss_pa, out_k) - 1.0


def air_rises(prediction: Prediction) -> tuple[tuple[AirRise, ...], ...]:
    """For each exchanger in flow order how much warmer its air leaves, per row; nothing without one."""
    fronts = next(iter(prediction.drive.exchanges.values())).exchangers
    worst = [np.zeros_like(prediction.flow_m3_per_s) for _ in fronts]
    for moment, rows in _at_worst(prediction):
        for found, front in zip(worst, prediction.drive.exchanges[moment].exchangers, strict=True):
            heat, air = _into_air(front, prediction.course.state_at_worst, 1.0)
            found[rows] = (heat / np.where(air > 0.0, air, np.inf))[rows]
    heats, airs = ([np.zeros_like(rise) for rise in worst] for _ in range(2))
    state = prediction.start
    for piece in prediction.drive.pieces if fronts else ():
        load = prediction.drive.loads[piece.moment]
        whole = integrals(load.m, load.b, state, piece.seconds)
        for at, front in enumerate(prediction.drive.exchanges[piece.moment].exchangers):
            heat, air = _into_air(front, whole, piece.seconds)
            heats[at] += heat
            airs[at] += air
        phi, shift = step(load.m, load.b, piece.seconds)
        state = moved(phi, shift, state)
    means = [heat / np.where(air > 0.0, air, np.inf) for heat, air in zip(heats, airs, strict=True)]
    return tuple(
        tuple(AirRise(front.slot, float(top), float(mean)) for top, mean in zip(worst[at], means[at], strict=True))
        for at, front in enumerate(fronts)
    )


def _into_air(front: Coupling, state: Array, seconds: float) -> tuple[Array, Array]:
    """Heat that an exchanger's air has above that of its zone [J], and the air's heat capacity [J/K], over a time.

    `state`: the lumps [K] times those seconds, shape (rows, lumps).
    """
    air = np.asarray(front.air_w_per_k)
    met = front.met_k(state, seconds)
    given = front.w_per_k * (state[:, feed_lump(front.stage)] - met)
    return np.asarray(given + air * (met - front.meets_k * seconds)), air * seconds


def _at_worst(prediction: Prediction) -> list[tuple[Moment, NDArray[np.bool_]]]:
    """Each moment in which some row's charge was hottest, with those rows."""
    pieces = prediction.course.worst_piece
    return [(prediction.drive.pieces[int(at)].moment, pieces == at) for at in np.unique(pieces)]
