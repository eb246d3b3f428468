"""Everything that is told of a kit's heat: both ends of its band, plateau, recovery, ice."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from configurator.foundations.moist_air import dew_point_at_pressure_k, water_shed_at_most
from configurator.foundations.numbers import Array
from configurator.physics.lumps import moved, step
from configurator.prediction.band_ends import all_at_ends, by_end
from configurator.prediction.bench import Bench, Columns
from configurator.prediction.conditions import Conditions
from configurator.prediction.estimates import reynolds_number
from configurator.prediction.ice_report import IceTold, told_of_ice
from configurator.prediction.ledger import Ledger, ledgers_of
from configurator.prediction.limits_of_a_kit import time_to_plateau_s
from configurator.prediction.loop_flow import loop_loss_pa, run_losses_pa
from configurator.prediction.march import RESERVOIR, Pieces, march
from configurator.prediction.predict import Prediction, full_power_steady_k, margins, predict, with_water
from configurator.prediction.pump_stopped import StandingCore, standing_cores
from configurator.prediction.what_if import WhatIf, what_ifs
from configurator.prediction.what_it_buys import Bought, bought, density_gain

RECOVERED_K = 5.0
RECOVERY_STEP_S = 10.0
RECOVERY_LONGEST_S = 4 * 3600.0

_SETTLING_ROUNDS = 5
"""A state that lasts and the coolant's properties at its mean settle each other: a round leaves a few hundredths."""


@dataclass(frozen=True)
class Moisture:
    """The charge's dew point at full power, the coolant at the start [K], and what may fall out on it [kg/s].

    `shed_kg`: what falls out in the whole drive.
    """

    dew_point_k: float
    start_k: float
    most_kg_per_s: float
    shed_kg: float


@dataclass(frozen=True)
class StandstillTold:
    """What a kit does after a standstill [K]: the charge as the engine idles again (`restart_k`), with its bad and good
    end, and if full power follows at once; the core and the bay by then. `after_run_s`: how long pump and fan ran on.
    """

    seconds: float
    after_run_s: float
    bay_k: float
    core_k: float
    restart_k: float
    restart_bad_end_k: float
    restart_good_end_k: float
    pull_away_k: float


@dataclass(frozen=True)
class Thermal:
    """What one kit does with the heat of one drive. Temperatures in kelvin; margins positive when kept.

    `charge_out_bad_end_k`, `charge_out_good_end_k`: the worst of the drive with every uncertain figure of the kit at
    its bad end, the hotter, and at its good end. `properties_at_k`: at which the coolant's properties
    are taken for the drive, its mean.
    """

    margin_k: float
    margin_low_k: float
    margin_high_k: float
    word: str
    pressure_ratio: float
    air_kg_per_s: float
    charge_in_k: float
    charge_out_worst_k: float
    worst_at_s: float
    charge_out_bad_end_k: float
    charge_out_good_end_k: float
    charge_out_plateau_k: float
    charge_out_full_power_k: float
    coolant_plateau_k: float
    coolant_full_power_k: float
    coolant_worst_k: float
    coolant_end_k: float
    properties_at_k: float
    core_gap_k: float
    heat_peak_w: float
    heat_mean_w: float
    coolant_flow_m3_per_s: float
    loop_loss_pa: float
    core_reynolds: float
    charge_loss_pa: float
    charge_loss_of_kit_pa: float
    recovery_s: float | None
    time_to_plateau_s: float | None
    run_losses_pa: tuple[float, ...]
    charge_before_pa: float
    charge_after_pa: float
    moisture: Moisture | None
    bought: Bought
    half_air: WhatIf | None
    less_flow: WhatIf
    standing: StandingCore
    ice: IceTold | None = None
    standstill: StandstillTold | None = None


def low_margins(bench: Bench, columns: Columns, conditions: Conditions, nominal: Array | None = None) -> Array:
    """The margin at the low end of the band, per row [K]. `nominal`: the margins as stated, where they are known.

    A core that takes more heat and a pump that drives more fill a loop that has nowhere to leave it the faster: so
    either end may be the worse one.
    """
    at_ends = all_at_ends(bench, columns, conditions, (-1, +1, 0) if nominal is None else (-1, +1))
    lowest = by_end(margins(at_ends, conditions), columns).min(axis=0)
    return np.asarray(lowest if nominal is None else np.minimum(lowest, nominal))


def thermal_report(
    bench: Bench, columns: Columns, conditions: Conditions, with_common_error: Conditions
) -> tuple[tuple[Thermal, ...], tuple[Ledger, ...]]:
    """Report every row: nominal, both ends of its own band, and the low end with the common errors on top."""
    middle = predict(bench, columns, conditions, 0)
    at_ends = all_at_ends(bench, columns, conditions)
    with_errors = low_margins(bench, columns, with_common_error)
    of_kit_pa = middle.full.core_loss_pa + middle.full.before_loss_pa + middle.full.after_loss_pa
    stated = margins(middle, conditions)
    every = np.vstack([stated, by_end(margins(at_ends, conditions), columns)])
    ends = [every.min(axis=0), every.max(axis=0)]
    worst = np.vstack([middle.course.charge_out_worst_k, by_end(at_ends.course.charge_out_worst_k, columns)])
    warmest, coolest = worst.max(axis=0), worst.min(axis=0)
    judged = np.vstack([middle.judged_k, by_end(at_ends.judged_k, columns)])
    plateau, plateau_coolant = _plateau_k(bench, columns, conditions, middle.properties_at_k)
    full_power, full_power_coolant = _full_power_k(bench, columns, conditions, middle.properties_at_k)
    recovery = _recovery_s(middle, conditions)
    settled = time_to_plateau_s(middle, conditions) if conditions.ice is None else [None] * columns.count
    ledgers = ledgers_of(bench, columns, middle, conditions)
    ice = told_of_ice(middle, columns, conditions, ledgers)
    buys = bought(bench, columns, middle, by_end(density_gain(at_ends), columns)[:2])
    runs = run_losses_pa(columns, middle.liquid, middle.flow_m3_per_s)
    worse = what_ifs(bench, columns, conditions)
    whole = loop_loss_pa(columns, middle.liquid, middle.flow_m3_per_s, 0)
    standing = standing_cores(middle, columns)
    seconds = sum(piece.seconds for piece in conditions.pieces)
    abreast = next(stage.abreast for stage in columns.stages if stage.kind == "core")
    reynolds = reynolds_number(columns.core.channels, middle.flow_m3_per_s / abreast, middle.liquid)
    reports, course = [], middle.course
    for row in range(columns.count):
        nominal = float(stated[row])
        assured = float(with_errors[row]) >= 0
        reports.append(
            Thermal(
                margin_k=nominal,
                margin_low_k=float(ends[0][row]),
                margin_high_k=float(ends[1][row]),
                word="short" if nominal < 0 else "assured" if assured else "likely",
                pressure_ratio=float(middle.full.pressure_ratio[row]),
                air_kg_per_s=middle.full.air_kg_per_s,
                charge_in_k=float(middle.full.in_k[row]),
                charge_out_worst_k=float(course.charge_out_worst_k[row]),
                worst_at_s=float(course.worst_at_s[row]),
                charge_out_bad_end_k=float(warmest[row]),
                charge_out_good_end_k=float(coolest[row]),
                charge_out_plateau_k=float(plateau[row]),
                charge_out_full_power_k=float(full_power[row]),
                coolant_plateau_k=float(plateau_coolant[row]),
                coolant_full_power_k=float(full_power_coolant[row]),
                coolant_worst_k=float(middle.coolant_worst_k[row]),
                coolant_end_k=float(course.end[row, RESERVOIR]),
                properties_at_k=float(middle.properties_at_k[row]),
                core_gap_k=float(course.charge_out_worst_k[row] - course.feed_at_worst_k[row]),
                heat_peak_w=float(course.heat_peak_w[row]),
                heat_mean_w=ledgers[row].of_charge_j / seconds,
                coolant_flow_m3_per_s=float(middle.flow_m3_per_s[row]),
                loop_loss_pa=float(whole[row]),
                core_reynolds=float(reynolds[row]),
                charge_loss_pa=float(middle.full.loss_pa[row]),
                charge_loss_of_kit_pa=float(of_kit_pa[row]),
                recovery_s=recovery[row],
                time_to_plateau_s=settled[row],
                run_losses_pa=tuple(float(value) for value in runs[row]),
                charge_before_pa=float(middle.full.before_loss_pa[row]),
                charge_after_pa=float(middle.full.after_loss_pa[row]),
                moisture=_moisture(middle, conditions, row),
                bought=buys[row],
                half_air=worse[row].half_air,
                less_flow=worse[row].less_flow,
                standing=standing[row],
                ice=ice[row],
                standstill=_standstill(middle, judged[:, row], columns, conditions, row),
            )
        )
    return tuple(reports), ledgers


@dataclass(frozen=True)
class InShort:
    """Of a kit's heat what one change of it is judged by; as in `Thermal`."""

    margin_k: float
    charge_out_plateau_k: float
    recovery_s: float | None


def in_short(bench: Bench, columns: Columns, conditions: Conditions) -> tuple[InShort, ...]:
    """Margin, plateau and recovery of every row: the figures of `thermal_report`, without all the others."""
    middle = predict(bench, columns, conditions, 0)
    plateau, _ = _plateau_k(bench, columns, conditions, middle.properties_at_k)
    told = zip(margins(middle, conditions), plateau, _recovery_s(middle, conditions), strict=True)
    return tuple(InShort(float(margin), float(charge_k), seconds) for margin, charge_k, seconds in told)


def _standstill(
    middle: Prediction, restarts_k: Array, columns: Columns, conditions: Conditions, row: int
) -> StandstillTold | None:
    standing, stood = conditions.standing, middle.stood
    if standing is None or stood is None:
        return None
    return StandstillTold(
        seconds=standing.seconds,
        after_run_s=min(float(columns.after_run_s[row]), standing.seconds),
        bay_k=standing.bay_k,
        core_k=float(stood.core_k[row]),
        restart_k=float(stood.restart_k[row]),
        restart_bad_end_k=float(restarts_k.max()),
        restart_good_end_k=float(restarts_k.min()),
        pull_away_k=float(stood.pull_away_k[row]),
    )


def _moisture(prediction: Prediction, conditions: Conditions, row: int) -> Moisture | None:
    """The charge's water at the core's outlet at full power, and all that it sheds; None without a humidity."""
    if conditions.humidity is None:
        return None
    full = prediction.full
    core_outlet_pa = float(full.core_outlet_pa[row])
    air = (conditions.ambient_k, conditions.humidity, conditions.ambient_pa, core_outlet_pa)
    most = full.air_kg_per_s * water_shed_at_most(*air, conditions.start_k)
    drive = prediction.drive
    shed = (
        float(drive.shed[piece.moment].kg_per_s[row]) * piece.seconds
        for piece in drive.pieces
        if piece.moment in drive.shed
    )
    return Moisture(dew_point_at_pressure_k(*air), conditions.start_k, most, sum(shed))


def _plateau_k(bench: Bench, columns: Columns, conditions: Conditions, at_k: Array) -> tuple[Array, Array]:
    """Worst charge out and warmest coolant of the pattern for ever, the coolant as at that round's own mean [K].

    It is taken for liquid, whatever its boiling point; so it is in `_full_power_k`. A drive that all but reaches it may
    be told warmer by a few tenths of a kelvin: there the coolant is as at the drive's mean, cooler and thicker.
    """
    once = replace(conditions, pieces=())
    seconds = sum(piece.seconds for piece in once.pattern)
    for _ in range(_SETTLING_ROUNDS):
        found = predict(bench, columns, once, 0, at_k)
        dry = _for_ever(found, Pieces.of(found.loads, once.pattern))
        moist = with_water(found, columns, once, once.pattern, dry)
        pieces = Pieces.of(moist.loads, moist.pieces)
        start = _for_ever(found, pieces)
        at_k = pieces.kelvin_seconds(start).mean(axis=1) / seconds
    course = march(moist.loads, moist.pieces, start, known=moist.known)
    return course.charge_out_worst_k, course.coolant_worst_k


def _for_ever(found: Prediction, pattern: Pieces) -> Array:
    """The start of a round repeated for ever; where nothing ever flows there is none, and the loop stays as it is."""
    state = pattern.start_for_ever
    return np.where(np.isfinite(state), state, found.start)


def _full_power_k(bench: Bench, columns: Columns, conditions: Conditions, at_k: Array) -> tuple[Array, Array]:
    """Charge out and warmest coolant if full power lasted for ever, the coolant as at that state's own mean [K]."""
    once = replace(conditions, pieces=())
    for _ in range(_SETTLING_ROUNDS):
        found = predict(bench, columns, once, 0, at_k)
        charge_out_k, state = full_power_steady_k(found, columns, conditions)
        at_k = state.mean(axis=1)
    return charge_out_k, state.max(axis=1)


def _recovery_s(prediction: Prediction, conditions: Conditions) -> list[float | None]:
    """Seconds at rest, from the worst moment on, until all coolant is within 5 K of the outside air; per row."""
    load = prediction.loads[conditions.rest]
    state = prediction.course.state_at_worst
    limit = conditions.ambient_k + RECOVERED_K
    phi, shift = step(load.m, load.b, RECOVERY_STEP_S)
    rows = state.shape[0]
    found: list[float | None] = [0.0 if state[row].max() <= limit else None for row in range(rows)]
    for count in range(int(RECOVERY_LONGEST_S / RECOVERY_STEP_S)):
        if all(value is not None for value in found):
            break
        after = moved(phi, shift, state)
        for row in range(rows):
            if found[row] is None and after[row].max() <= limit:
                before, now = state[row].max() - limit, after[row].max() - limit
                found[row] = (count + before / (before - now)) * RECOVERY_STEP_S
        state = after
    return found
