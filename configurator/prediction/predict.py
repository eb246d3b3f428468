"""What many loops do on one drive: mean coolant, flow and exchanges, then the march with its water and standstill.

The properties of the coolant are those at its mean over the drive, found first; at these the flow is where pump and
loop meet, and every kind of moment is a linear system of lumps, which is stepped exactly. Besides: its margins, and the
state that full power for ever would lead to.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from configurator.foundations.coolants import Liquid
from configurator.foundations.numbers import Array, Numbers
from configurator.physics.lumps import steady
from configurator.prediction.bench import Bench, Columns
from configurator.prediction.charge import Charge
from configurator.prediction.condensate import Shedding, shedding
from configurator.prediction.conditions import Conditions, Moment, Piece
from configurator.prediction.event_mean import event_mean_k
from configurator.prediction.exchange import Exchange, capacities_of, charge_of, exchanges_of, load_of
from configurator.prediction.ice_tank import IceTank, ice_tank
from configurator.prediction.loop_flow import running
from configurator.prediction.march import Course, Load, march
from configurator.prediction.standstill import Stood, soak_w_per_k, soaked, stand


@dataclass(frozen=True)
class Prediction:
    """One pass over all rows, each at an end of its bands: loads by moment, flow, charge at full power, and the course.

    `loads` and `exchanges` are those of dry charge; `drive` has them with its water, as the course took them.
    """

    liquid: Liquid
    flow_m3_per_s: Array
    loads: Mapping[Moment, Load]
    drive: Shedding
    full: Charge
    course: Course
    start: Array
    exchanges: Mapping[Moment, Exchange]
    capacities: Array
    capacity_rate: Array
    properties_at_k: Array
    tank: IceTank | None = None
    stood: Stood | None = None
    soak_w_per_k: Array | None = None

    @property
    def judged_k(self) -> Array:
        """The charge temperature that the aim is held against, per row: the drive's worst, or on the restart [K]."""
        return self.course.charge_out_worst_k if self.stood is None else self.stood.restart_k

    @property
    def coolant_worst_k(self) -> Array:
        """The warmest coolant of drive and standstill, per row [K]."""
        drive = self.course.coolant_worst_k
        return drive if self.stood is None else np.maximum(drive, self.stood.coolant_worst_k)


def predict(
    bench: Bench, columns: Columns, conditions: Conditions, end: Numbers = 0, at_k: Array | None = None
) -> Prediction:
    """Predict every row. `end` -1: every conductance low and every loss high; 0: as stated; +1: the other end;
    one for all rows, or one for each.

    Coolant properties are taken at one temperature per row: `at_k` where it is given, else the mean over the event
    (`event_mean_k`).
    """
    if at_k is None:
        at_k = event_mean_k(bench, columns, conditions, end)
    flow, liquid = running(bench, columns, conditions, at_k, end)
    capacities = capacities_of(columns, conditions.coolant, liquid)
    rate = flow * liquid.density * liquid.specific_heat
    exchanges = exchanges_of(bench, columns, conditions, flow, liquid, end, conditions.moments)
    loads = {moment: load_of(columns, capacities, now) for moment, now in exchanges.items()}
    soak = None if conditions.standing is None else soak_w_per_k(columns, conditions.standing, end)
    if conditions.standing is not None and soak is not None:
        bay_k = conditions.standing.bay_k
        loads = {at: load if at.engine else soaked(load, capacities, soak, bay_k) for at, load in loads.items()}
    start = np.full(capacities.shape, conditions.start_k)
    ice = conditions.ice
    tank = None if ice is None else ice_tank(ice, capacities[:, 0], np.asarray(liquid.specific_heat), end)
    drive = shedding(columns, conditions, exchanges, loads, capacities, conditions.pieces, start, tank)
    course = march(drive.loads, drive.pieces, start, tank, drive.known)
    stood = stand(loads, conditions, columns.after_run_s, course.end)
    full = charge_of(columns, conditions, 1.0, end)
    return Prediction(
        liquid, flow, loads, drive, full, course, start, exchanges, capacities, rate, at_k, tank, stood, soak
    )


def margins(prediction: Prediction, conditions: Conditions) -> Array:
    """Distance of the judged charge temperature from the ceiling, per row, positive when kept; to 0.01 K [K]."""
    return np.asarray(np.round(conditions.ceiling_k - prediction.judged_k, 2))


def with_water(
    prediction: Prediction, columns: Columns, conditions: Conditions, pieces: Sequence[Piece], start: Array
) -> Shedding:
    """Pieces from a state with what the charge sheds in them, the coolant as in a prediction, without ice."""
    exchanges, loads = prediction.exchanges, prediction.loads
    return shedding(columns, conditions, exchanges, loads, prediction.capacities, pieces, start, None)


def full_power_steady_k(prediction: Prediction, columns: Columns, conditions: Conditions) -> tuple[Array, Array]:
    """Charge out [K], and the loop, (rows, lumps) [K], if the hardest moment lasted for ever.

    The loop is as it started where nothing flows then.
    """
    moment = conditions.hardest_at_full_power

    def settled(load: Load) -> Array:
        state = steady(load.m, load.b)
        return np.where(np.isfinite(state), state, prediction.start)

    dry = settled(prediction.loads[moment])
    moist = with_water(prediction, columns, conditions, (Piece(moment, 1.0),), dry)
    load = moist.loads[moist.pieces[0].moment]
    state = settled(load)
    return load.charge_out(load.feed(state)), state
