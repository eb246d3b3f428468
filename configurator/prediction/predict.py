"""What many loops do on one drive: three visible calls (properties, operating point, coupled loop), then the march."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from configurator.foundations.coolants import Liquid, properties
from configurator.physics.lumps import steady
from configurator.physics.operating_point import FLOW_CEILING, head, operating_flow
from configurator.physics.pipe_flow import pipe_loss
from configurator.prediction.bench import Bench, Columns
from configurator.prediction.charge import Charge
from configurator.prediction.condensate import Shedding, shedding
from configurator.prediction.conditions import Conditions, Moment, Piece
from configurator.prediction.estimates import channel_friction_pa
from configurator.prediction.exchange import Exchange, capacities_of, charge_of, exchanges_of, load_of, surface_of
from configurator.prediction.ice_tank import IceTank, Vessel, ice_steps, ice_tank
from configurator.prediction.march import Course, Load, march
from configurator.prediction.stages import Stage
from configurator.prediction.standstill import Stood, soak_w_per_k, soaked, stand

Array = NDArray[np.float64]

_FIRST_GUESS_RISE_K = 10.0
_VESSEL_STEP_S = 2.0


@dataclass(frozen=True)
class Prediction:
    """One pass over all rows at one end of the bands: loads by moment, flow, charge at full power, and the course.

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
    bench: Bench, columns: Columns, conditions: Conditions, end: int = 0, at_k: Array | None = None
) -> Prediction:
    """Predict every row. `end` -1: every conductance low and every loss high; 0: as stated; +1: the other end.

    Coolant properties are taken at one temperature per row: `at_k` where it is given, else the mean over the event
    that a first look finds, with the whole loop as one stirred vessel.
    """
    if at_k is None:
        guess = np.full(columns.count, max(conditions.start_k, conditions.ambient_k) + _FIRST_GUESS_RISE_K)
        at_k = _stirred_mean_k(bench, columns, conditions, guess, end)
    flow, liquid = _running(bench, columns, conditions, at_k, end)
    capacities = capacities_of(columns, liquid)
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


def loop_loss_pa(columns: Columns, liquid: Liquid, flow: Array, end: int) -> Array:
    """Pressure the whole loop takes at a coolant flow, per row [Pa].

    Twins side by side take the pressure once: that of the part, and of the dearer of their two branches.
    """
    runs = run_losses_pa(columns, liquid, flow)
    lie = columns.piping
    total = part_loss_pa(columns, liquid, flow, end)
    if not lie.branches:
        return np.asarray(total + runs.sum(axis=1))
    total = total + runs[:, lie.trunk].sum(axis=1)
    for one, other in lie.branches:
        total = total + np.maximum(runs[:, one].sum(axis=1), runs[:, other].sum(axis=1))
    return np.asarray(total)


def part_loss_pa(columns: Columns, liquid: Liquid, flow: Array, end: int) -> Array:
    """Pressure that cores and exchangers take, per row [Pa]; twins side by side at half the flow, and once."""
    total = np.zeros(columns.count)
    for stage in columns.stages:
        total = total + stage_loss_pa(columns, stage, liquid, flow, end)
    return np.asarray(total)


def stage_loss_pa(columns: Columns, stage: Stage, liquid: Liquid, flow: Array, end: int) -> Array:
    """Pressure that one stage takes of the whole flow of the loop, per row [Pa]; twins side by side at half of it."""
    surface = surface_of(columns, stage.kind)
    through = flow if stage.abreast == 1 else flow / stage.abreast
    friction = surface.friction_scale * channel_friction_pa(surface.channels, through, liquid)
    ports = surface.ports_per_m4 * liquid.density * through**2 / 2
    return np.asarray((friction + ports) * (1 - end * surface.loss_band))


def run_losses_pa(columns: Columns, liquid: Liquid, flow: Array) -> Array:
    """Pressure that each run takes at its share of the flow: hose wall, adapters, bends; shape (rows, runs) [Pa]."""
    lie = columns.piping
    through = flow[:, None] * np.array(lie.shares) if set(lie.shares) != {1.0} else flow[:, None]
    density, viscosity = np.asarray(liquid.density)[:, None], np.asarray(liquid.viscosity)[:, None]
    wall = pipe_loss(
        through, columns.run_length_m, columns.run_bore_m, columns.run_roughness_m, density, viscosity
    )
    return np.asarray(wall + columns.run_loss_per_m4 * density * through**2 / 2)


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


def _running(
    bench: Bench, columns: Columns, conditions: Conditions, at_k: Array, end: int
) -> tuple[Array, Liquid]:
    """Coolant flow of each row with the liquid as it is at a temperature."""
    liquid = properties(conditions.coolant, at_k)
    return columns.flow_share * _operating_flow(bench, columns, liquid, end), liquid


def _stirred_mean_k(bench: Bench, columns: Columns, conditions: Conditions, at_k: Array, end: int) -> Array:
    """Mean coolant temperature over the event with the whole loop as one stirred vessel, per row [K].

    C dT/dt = sum of G (T met - T) + W, exact in every piece; it only chooses the liquid's properties.
    """
    flow, liquid = _running(bench, columns, conditions, at_k, end)
    capacity = capacities_of(columns, liquid).sum(axis=1)
    moments = [piece.moment for piece in conditions.pieces]
    at_work = exchanges_of(bench, columns, conditions, flow, liquid, end, moments)
    known: dict[Moment, tuple[Array, Array]] = {}
    ice = conditions.ice
    tank = None if ice is None else ice_tank(ice, capacity, np.asarray(liquid.specific_heat), end)
    kg = np.zeros(columns.count) if tank is None else np.full(columns.count, tank.start_kg)
    now_k, mean, seconds = np.full(columns.count, conditions.start_k), np.zeros(columns.count), 0.0
    for piece in conditions.pieces:
        if piece.moment not in known:
            at = at_work[piece.moment]
            both = np.maximum(sum(c.as_one_vessel[0] for c in at.couplings), 1e-9)
            drive = sum(c.as_one_vessel[1] for c in at.couplings) + at.pump_heat_w
            known[piece.moment] = (drive / both, both / capacity)
        settles_k, per_s = known[piece.moment]
        seconds += piece.seconds
        if tank is not None and kg.any():
            vessel = Vessel(-per_s[:, None, None], (per_s * settles_k)[:, None])
            for after in ice_steps(vessel, tank, piece.moment.pump, piece.seconds, now_k[:, None], kg, _VESSEL_STEP_S):
                mean = mean + after.kelvin_seconds[:, 0]
                now_k, kg = after.state[:, 0], after.kg
            continue
        share_gone = -np.expm1(-per_s * piece.seconds)
        mean = mean + settles_k * piece.seconds + (now_k - settles_k) * share_gone / per_s
        now_k = settles_k + (now_k - settles_k) * (1 - share_gone)
    return np.asarray(np.clip(mean / seconds, conditions.start_k - 50.0, conditions.start_k + 120.0))


def _operating_flow(bench: Bench, columns: Columns, liquid: Liquid, end: int) -> Array:
    return np.asarray(
        operating_flow(
            lambda flow: head(bench.curves, columns.pump, flow),
            lambda flow: loop_loss_pa(columns, liquid, flow, end),
            FLOW_CEILING * bench.pump_free_flow[columns.pump],
        )
    )
