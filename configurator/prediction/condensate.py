"""The charge's water in a drive: what falls out in the cores, and the loads with its latent heat in them.

What falls out hangs on the coolant in a bent way, and the loop is stepped as a linear system. So stretches in which
water may fall out are cut, and each cut has the latent heat of the mean coolant that a trial of it finds.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from configurator.foundations.air import specific_heat
from configurator.foundations.moist_air import dew_point_at_pressure_k, humidity_ratio, saturation_pa
from configurator.foundations.numbers import Array
from configurator.physics.condensate import latent_heat_j_per_kg, wet_core
from configurator.prediction.bench import Columns
from configurator.prediction.conditions import Conditions, Moment, Piece
from configurator.prediction.exchange import Exchange
from configurator.prediction.ice_tank import IceTank
from configurator.prediction.march import Load, StepKey, Stepped, System, in_steps, step_key, stepped, steps, steps_of

_ABOVE_BOOST = 1.1
"""The charge leaves the core under at most this many times the absolute pressure at the throttle: pipes and couplers
behind the core take a few hundredths. It says which moments are looked at, and up to which dew point. Common practice,
no source."""

_NODES = 9
"""Coolant temperatures at which a kind of moment is reckoned; between them straight lines."""

CUT_S = 2.0
"""Longest cut [s]; half of it moves no temperature by 0.02 K."""


@dataclass(frozen=True)
class Shed:
    """What a cut sheds on the mean, per row: water [kg/s], its latent heat [W], and how much warmer the charge leaves.

    `warmer_k`: with the feed at its mean `feed_k` [K]; `warmer_per_k`: the more for each kelvin above it.
    """

    kg_per_s: Array
    latent_w: Array
    warmer_k: Array
    warmer_per_k: Array
    feed_k: Array


@dataclass(frozen=True)
class Shedding:
    """A drive with its cuts, their loads and exchanges, what each of them sheds, and the steps taken to find it."""

    pieces: tuple[Piece, ...]
    loads: Mapping[Moment, Load]
    exchanges: Mapping[Moment, Exchange]
    shed: Mapping[Moment, Shed]
    known: Mapping[StepKey, Stepped]


def shedding(
    columns: Columns,
    conditions: Conditions,
    exchanges: Mapping[Moment, Exchange],
    loads: Mapping[Moment, Load],
    capacities: Array,
    pieces: Sequence[Piece],
    start: Array,
    tank: IceTank | None,
) -> Shedding:
    """The pieces with their water, from a state of shape (rows, lumps); as they are where the day is dry enough."""
    tables = dict(_tables(columns, conditions, exchanges, loads, pieces, start, tank))
    if not tables:
        return Shedding(tuple(pieces), loads, exchanges, {}, {})
    state, kg = start, np.full(start.shape[0], 0.0 if tank is None else tank.start_kg)
    cut_up: list[Piece] = []
    with_cuts, their_exchanges, shed = dict(loads), dict(exchanges), dict[Moment, Shed]()
    counts = [1 if one.moment not in tables else max(math.ceil(one.seconds / CUT_S - 1e-9), 1) for one in pieces]
    dry_cuts = [Piece(piece.moment, piece.seconds / count) for piece, count in zip(pieces, counts, strict=True)]
    known = steps_of(loads, dry_cuts, {})
    per_watt = _steps_per_watt(loads, [cut for cut in dry_cuts if cut.moment in tables], capacities)
    for dry_cut, count in zip(dry_cuts, counts, strict=True):
        dry, table, now = loads[dry_cut.moment], tables.get(dry_cut.moment), exchanges[dry_cut.moment]
        for _ in range(count):
            cut = dry_cut
            if table is not None:
                *_, trial = steps(dry, cut, state, kg, tank, known)
                cut = replace(cut, moment=replace(cut.moment, cut=len(shed) + 1))
                shed[cut.moment] = table.at((dry.feed(state) + dry.feed(trial.state)) / 2)
                their_exchanges[cut.moment] = now
                wet = with_cuts[cut.moment] = _wet(dry, capacities, now, shed[cut.moment])
                _, seconds = in_steps(cut)
                phi, shift = known[step_key(dry_cut.moment, seconds)]
                more = per_watt[step_key(dry_cut.moment, seconds)] * np.asarray(wet.condensing_w)[:, None]
                known[step_key(cut.moment, seconds)] = phi, shift + more
            *_, reached = steps(with_cuts[cut.moment], cut, state, kg, tank, known)
            state, kg = reached.state, reached.kg
            cut_up.append(cut)
    return Shedding(tuple(cut_up), with_cuts, their_exchanges, shed, known)


def _wet(load: Load, capacities: Array, now: Exchange, shed: Shed) -> Load:
    """A load with its water: latent heat into the cores, less what the warmer charge keeps, and the charge warmer."""
    extra = shed.latent_w - now.charge.rate_w_per_k * shed.warmer_k
    return replace(
        load,
        b=load.b + _kelvins_per_joule(load, capacities) * extra[:, None],
        condensing_w=extra,
        warmer_k=shed.warmer_k,
        warmer_per_k=shed.warmer_per_k,
        warmer_at_k=shed.feed_k,
    )


def _steps_per_watt(loads: Mapping[Moment, Load], cuts: Sequence[Piece], capacities: Array) -> dict[StepKey, Array]:
    """How much warmer a watt of the charge's water leaves each lump behind a step of a cut, without ice [K/W]."""
    systems: dict[StepKey, System] = {}
    for cut in cuts:
        load, (_, seconds) = loads[cut.moment], in_steps(cut)
        systems[step_key(cut.moment, seconds)] = (load.m, _kelvins_per_joule(load, capacities), seconds)
    return {key: shift for key, (_, shift) in stepped(systems).items()}


def _kelvins_per_joule(load: Load, capacities: Array) -> Array:
    """What a joule of the charge's water, split evenly over the cores, does to each lump; (rows, lumps) [K/J]."""
    found = np.zeros_like(capacities)
    for feed in load.feeds:
        found[:, feed + 1] = 1 / len(load.feeds) / capacities[:, feed + 1]
    return found


def _tables(
    columns: Columns,
    conditions: Conditions,
    exchanges: Mapping[Moment, Exchange],
    loads: Mapping[Moment, Load],
    pieces: Sequence[Piece],
    start: Array,
    tank: IceTank | None,
) -> Iterator[tuple[Moment, _Table]]:
    """Kinds of moments in which water may fall out in some loop, and what does by the coolant's temperature.

    Without ice the coolant is never colder than it starts, or than the outside air. Which moments these are hangs on
    the brief alone, so that a loop is stepped alike alone and in company.
    """
    if conditions.humidity is None:
        return
    coldest_k = conditions.coldest_coolant_k
    known: dict[tuple[float, bool], _Table] = {}
    for moment in dict.fromkeys(piece.moment for piece in pieces):
        if not moment.engine:
            continue
        pressure = _ABOVE_BOOST * (conditions.ambient_pa + conditions.boost_at(moment.share))
        dew_k = dew_point_at_pressure_k(conditions.ambient_k, conditions.humidity, conditions.ambient_pa, pressure)
        if dew_k > coldest_k:
            alike = (moment.share, moment.pump)  # all that charge and core hang on
            if alike not in known:
                known[alike] = _Table.of(columns, conditions, exchanges[moment], loads[moment], coldest_k, dew_k)
            yield moment, known[alike]


@dataclass(frozen=True)
class _Table:
    """What a kind of moment sheds by the temperature of its feed, up to the dew; all of shape (rows, nodes)."""

    feed_k: Array
    kg_per_s: Array
    latent_w: Array
    warmer_k: Array

    @classmethod
    def of(
        cls, columns: Columns, conditions: Conditions, now: Exchange, load: Load, low_k: float, dew_k: float
    ) -> _Table:
        """Reckon the nodes, from below the coldest coolant to the highest dew point.

        A core is reckoned from the coolant that leaves it, so each node finds its feed: colder than the dry core's.
        """
        assert conditions.humidity is not None
        charge, of_row = now.charge, (slice(None), None)
        dry_feed = np.linspace(low_k, dew_k, _NODES)
        effectiveness = (load.core_w_per_k / charge.rate_w_per_k)[of_row]
        flows = now.rate_w_per_k > 0.0
        ratio = np.where(flows, charge.rate_w_per_k / np.where(flows, now.rate_w_per_k, 1.0), 0.0)[of_row]
        in_k = charge.in_k[of_row]
        water = humidity_ratio(conditions.humidity * saturation_pa(conditions.ambient_k), conditions.ambient_pa)
        leaves = dry_feed + ratio * effectiveness * (in_k - dry_feed)
        found = wet_core(
            in_k,
            leaves,
            effectiveness,
            ratio,
            now.core_air_share[of_row],
            water,
            charge.core_outlet_pa[of_row],
            specific_heat(charge.in_k)[of_row],
        )
        warmer = found.charge_out_k - in_k + effectiveness * (in_k - found.feed_k)
        kg_per_s = found.shed * charge.air_kg_per_s / (1 + water)
        latent = kg_per_s * latent_heat_j_per_kg((leaves + found.feed_k) / 2)
        return cls(found.feed_k, kg_per_s, latent, np.where(kg_per_s > 0.0, np.maximum(warmer, 0.0), 0.0))

    def at(self, feed: Array) -> Shed:
        """Read off between two nodes."""
        rows = np.arange(len(feed))
        below = np.clip((feed[:, None] >= self.feed_k).sum(axis=1) - 1, 0, _NODES - 2)
        apart_k = self.feed_k[rows, below + 1] - self.feed_k[rows, below]
        share = np.clip((feed - self.feed_k[rows, below]) / apart_k, 0.0, 1.0)

        def read(values: Array) -> Array:
            return np.asarray(values[rows, below] * (1 - share) + values[rows, below + 1] * share)

        slope = (self.warmer_k[rows, below + 1] - self.warmer_k[rows, below]) / apart_k
        return Shed(read(self.kg_per_s), read(self.latent_w), read(self.warmer_k), slope, feed)
