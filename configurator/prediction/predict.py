"""What many loops do on one drive: three visible calls (properties, operating point, coupled loop), then the march."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from configurator.foundations.air import density, specific_heat
from configurator.foundations.coolants import Liquid, properties
from configurator.physics.lumps import ring, steady
from configurator.physics.operating_point import head, operating_flow
from configurator.physics.pipe_flow import pipe_loss
from configurator.prediction.bench import Bench, Columns, conductances
from configurator.prediction.charge import Charge, charge_at
from configurator.prediction.conditions import Conditions, Moment
from configurator.prediction.estimates import channel_friction_pa, film_conductance
from configurator.prediction.march import FEED, Course, Load, march
from configurator.prediction.surfaces import Surface

Array = NDArray[np.float64]

_FIRST_GUESS_RISE_K = 10.0
_FLOW_CEILING = 3.0
"""The operating point is looked for up to this many times the last point of a pump's curve."""


@dataclass(frozen=True)
class Prediction:
    """One pass over all rows at one end of the bands: loads by moment, flow, charge at full power, and the course."""

    liquid: Liquid
    flow_m3_per_s: Array
    loads: Mapping[Moment, Load]
    full: Charge
    course: Course
    start: Array
    exchanger_w_per_k: Mapping[Moment, Array]
    capacities: Array
    capacity_rate: Array
    properties_at_k: Array


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
    capacities = _capacities(columns, liquid)
    rate = flow * liquid.density * liquid.specific_heat
    loads: dict[Moment, Load] = {}
    exchanger: dict[Moment, Array] = {}
    for moment in conditions.moments:
        now = _exchange(bench, columns, conditions, moment, flow, liquid, end)
        exchanger[moment] = now.exchanger_w_per_k
        m, b = _system(columns, conditions, capacities, now)
        loads[moment] = Load(m, b, now.charge.in_k, now.core_w_per_k, now.core_w_per_k / now.charge.rate_w_per_k)
    start = np.full(capacities.shape, conditions.start_k)
    course = march(loads, conditions.pieces, start)
    full = _charge(columns, conditions, 1.0, end)
    return Prediction(liquid, flow, loads, full, course, start, exchanger, capacities, rate, at_k)


def loop_loss_pa(columns: Columns, liquid: Liquid, flow: Array, end: int) -> Array:
    """Pressure the whole loop takes at a coolant flow, per row [Pa]."""
    return np.asarray(part_loss_pa(columns, liquid, flow, end) + run_losses_pa(columns, liquid, flow).sum(axis=1))


def part_loss_pa(columns: Columns, liquid: Liquid, flow: Array, end: int) -> Array:
    """Pressure that core and exchanger take, per row [Pa]."""
    total = np.zeros(columns.count)
    for surface in (columns.core, columns.exchanger):
        if surface is not None:
            friction = surface.friction_scale * channel_friction_pa(surface.channels, flow, liquid)
            ports = surface.ports_per_m4 * liquid.density * flow**2 / 2
            total = total + (friction + ports) * (1 - end * surface.loss_band)
    return total


def run_losses_pa(columns: Columns, liquid: Liquid, flow: Array) -> Array:
    """Pressure that each run takes: hose wall, adapters, bends; shape (rows, runs) [Pa]."""
    wall = pipe_loss(
        flow[:, None],
        columns.run_length_m,
        columns.run_bore_m,
        columns.run_roughness_m,
        np.asarray(liquid.density)[:, None],
        np.asarray(liquid.viscosity)[:, None],
    )
    steps = columns.run_loss_per_m4 * (np.asarray(liquid.density) * flow**2 / 2)[:, None]
    return np.asarray(wall + steps)


def face_speed(columns: Columns, moment: Moment) -> Array:
    """Speed of the outside air on each row's fins [m/s]: ram, stated, fan or paddock fan, whichever governs."""
    ram = columns.ram_share * moment.speed_m_per_s
    fan = columns.fan_speed if moment.fan else np.zeros_like(ram)
    paddock = np.full_like(ram, moment.face_speed_m_per_s or 0.0)
    return np.asarray(np.maximum.reduce([ram, columns.face_speed, fan, paddock]))


def full_power_state_k(prediction: Prediction, conditions: Conditions) -> Array:
    """The loop if the hardest moment lasted for ever, (rows, lumps) [K]; as it started where nothing flows then."""
    load = prediction.loads[conditions.hardest_at_full_power]
    state = steady(load.m, load.b)
    return np.where(np.isfinite(state), state, prediction.start)


def full_power_steady_k(prediction: Prediction, conditions: Conditions) -> tuple[Array, Array]:
    """Charge out and warmest coolant if the hardest moment lasted for ever, per row [K]."""
    load = prediction.loads[conditions.hardest_at_full_power]
    state = full_power_state_k(prediction, conditions)
    return load.charge_out(state[:, FEED]), state.max(axis=1)


@dataclass(frozen=True)
class _Exchange:
    """What one moment does to each row: the charge, both conductances [W/K], coolant rate [W/K], pump heat [W]."""

    charge: Charge
    core_w_per_k: Array
    exchanger_w_per_k: Array
    rate_w_per_k: Array
    pump_heat_w: Array


def _running(
    bench: Bench, columns: Columns, conditions: Conditions, at_k: Array, end: int
) -> tuple[Array, Liquid]:
    """Coolant flow of each row with the liquid as it is at a temperature."""
    liquid = properties(conditions.coolant, at_k)
    return _operating_flow(bench, columns, liquid, end), liquid


def _exchange(
    bench: Bench, columns: Columns, conditions: Conditions, moment: Moment, flow: Array, liquid: Liquid, end: int
) -> _Exchange:
    rate = flow * liquid.density * liquid.specific_heat if moment.pump else np.zeros_like(flow)
    charge = _charge(columns, conditions, moment.share, end)
    core_ua = _ua(columns.core, np.full(columns.count, charge.air_kg_per_s), flow, liquid, end)
    core = conductances(bench.core_surfaces, columns.core_index, core_ua, charge.rate_w_per_k, rate)
    exchanger = _exchanger_conductance(bench, columns, conditions, moment, flow, rate, liquid, end)
    heat = bench.pump_heat_w[columns.pump] if moment.pump else np.zeros(columns.count)
    return _Exchange(charge, core, exchanger, rate, heat)


def _stirred_mean_k(bench: Bench, columns: Columns, conditions: Conditions, at_k: Array, end: int) -> Array:
    """Mean coolant temperature over the event with the whole loop as one stirred vessel, per row [K].

    C dT/dt = G1 (Th - T) + G2 (Tc - T) + W, exact in every piece; it only chooses the liquid's properties.
    """
    flow, liquid = _running(bench, columns, conditions, at_k, end)
    capacity = _capacities(columns, liquid).sum(axis=1)
    into_k = conditions.ambient_k + columns.preheat_k
    known: dict[Moment, tuple[Array, Array]] = {}
    now_k, mean, seconds = np.full(columns.count, conditions.start_k), np.zeros(columns.count), 0.0
    for piece in conditions.pieces:
        if piece.moment not in known:
            at = _exchange(bench, columns, conditions, piece.moment, flow, liquid, end)
            both = np.maximum(at.core_w_per_k + at.exchanger_w_per_k, 1e-9)
            drive = at.core_w_per_k * at.charge.in_k + at.exchanger_w_per_k * into_k + at.pump_heat_w
            known[piece.moment] = (drive / both, both / capacity)
        settles_k, per_s = known[piece.moment]
        share_gone = -np.expm1(-per_s * piece.seconds)
        mean = mean + settles_k * piece.seconds + (now_k - settles_k) * share_gone / per_s
        now_k = settles_k + (now_k - settles_k) * (1 - share_gone)
        seconds += piece.seconds
    return np.asarray(np.clip(mean / seconds, conditions.start_k - 50.0, conditions.start_k + 120.0))


def _operating_flow(bench: Bench, columns: Columns, liquid: Liquid, end: int) -> Array:
    return np.asarray(
        operating_flow(
            lambda flow: head(bench.curves, columns.pump, flow),
            lambda flow: loop_loss_pa(columns, liquid, flow, end),
            _FLOW_CEILING * bench.pump_free_flow[columns.pump],
        )
    )


def _charge(columns: Columns, conditions: Conditions, share: float, end: int) -> Charge:
    return charge_at(
        conditions,
        share,
        columns.core,
        columns.charge_before_per_m4,
        columns.charge_after_per_m4,
        -float(end),
    )


def _ua(s: Surface, air_flow: Array, coolant_flow: Array, liquid: Liquid, end: int) -> Array:
    """Overall conductance of each row's part at its flows [W/K]; none where either stream stands."""
    air = s.air_resistance * np.maximum(air_flow, 1e-9) ** -s.air_exponent
    film = film_conductance(s.channels, s.film_scale, coolant_flow, liquid)
    return np.asarray((1 + end * s.ua_band) / (air + 1 / np.maximum(film, 1e-9)))


def _exchanger_conductance(
    bench: Bench,
    columns: Columns,
    conditions: Conditions,
    moment: Moment,
    flow: Array,
    rate: Array,
    liquid: Liquid,
    end: int,
) -> Array:
    surface = columns.exchanger
    if surface is None:
        return np.zeros(columns.count)
    into_k = conditions.ambient_k + columns.preheat_k
    air = face_speed(columns, moment) * surface.face_area_m2 * density(conditions.ambient_pa, into_k)
    ua = _ua(surface, air, flow, liquid, end)
    air_rate = air * specific_heat(into_k)
    return conductances(bench.exchanger_surfaces, columns.exchanger_index, ua, air_rate, rate)


def _capacities(columns: Columns, liquid: Liquid) -> Array:
    """Heat capacity of each lump: its liquid, and the metal of its part; shape (rows, lumps) [J/K]."""
    per_m3 = np.asarray(liquid.density * liquid.specific_heat)
    lumps = [
        columns.reservoir_m3 * per_m3 + columns.reservoir_metal_j_per_k,
        (columns.run_m3[:, 0] + columns.run_m3[:, 1]) * per_m3,
        columns.core.liquid_m3 * per_m3 + columns.core.metal_j_per_k,
        columns.run_m3[:, 2] * per_m3,
    ]
    if columns.exchanger is not None:
        lumps.append(columns.exchanger.liquid_m3 * per_m3 + columns.exchanger.metal_j_per_k)
        lumps.append(columns.run_m3[:, 3] * per_m3)
    return np.stack(lumps, axis=1)


def _system(
    columns: Columns, conditions: Conditions, capacities: Array, now: _Exchange
) -> tuple[Array, Array]:
    """The loop as a ring of lumps: core on the charge, exchanger on the outside air, pump heat in the feed."""
    none = np.zeros(columns.count)
    couplings = [none, none, now.core_w_per_k, none]
    coupled_to = [none, none, now.charge.in_k, none]
    heat = [none, now.pump_heat_w, none, none]
    if columns.exchanger is not None:
        couplings += [now.exchanger_w_per_k, none]
        coupled_to += [conditions.ambient_k + columns.preheat_k, none]
        heat += [none, none]
    stacked = (np.stack(column, axis=1) for column in (couplings, coupled_to, heat))
    m, b = ring(capacities, now.rate_w_per_k, *stacked)
    return np.asarray(m), np.asarray(b)
