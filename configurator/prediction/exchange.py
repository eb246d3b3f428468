"""One moment of the drive: what each core and exchanger of a loop moves per kelvin, and the loop as a ring of lumps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from configurator.foundations.air import density, specific_heat
from configurator.foundations.coolants import FILLED_K, Coolant, Liquid, properties
from configurator.foundations.numbers import Array, Numbers
from configurator.physics.lumps import ring
from configurator.prediction.bench import Bench, Columns, conductances
from configurator.prediction.charge import Charge, charge_at
from configurator.prediction.conditions import Conditions, Moment
from configurator.prediction.march import Load
from configurator.prediction.stages import feed_lump, slots_of
from configurator.prediction.surface_figures import Surface, air_resistance, liquid_resistance, ua_of_resistances


@dataclass(frozen=True)
class Warmed:
    """What an exchanger's air takes up before it: `share` of what the liquid of another stage stands above `from_k`.

    That is s G/C: the share s of its face in the air of the other exchanger, the heat per kelvin that one gives off
    [W/K] over the heat capacity rate of its air [W/K].
    """

    stage: int
    share: Array
    from_k: Array


@dataclass(frozen=True)
class Coupling:
    """One core or exchanger at work: its stage and slot, heat per kelvin [W/K], and the temperature it meets [K].

    Of an exchanger `air_w_per_k` is the heat capacity rate of its air, and `warmed` what another one before it adds.
    """

    stage: int
    slot: str
    w_per_k: Array
    meets_k: Array
    air_w_per_k: Array | None = None
    warmed: Warmed | None = None

    def met_k(self, state: Array, seconds: float | Array = 1.0) -> Array:
        """What it meets with the lumps at a state, shape (rows, lumps) [K]; of their integral, over those seconds."""
        met = self.meets_k * seconds
        if self.warmed is None:
            return np.asarray(met)
        above = state[:, feed_lump(self.warmed.stage)] - self.warmed.from_k * seconds
        return np.asarray(met + self.warmed.share * above)

    @property
    def as_one_vessel(self) -> tuple[Array, Array]:
        """Heat per kelvin [W/K], and that times what it meets [W], where all liquid has one temperature."""
        if self.warmed is None:
            return self.w_per_k, np.asarray(self.w_per_k * self.meets_k)
        drive = self.w_per_k * (self.meets_k - self.warmed.share * self.warmed.from_k)
        return np.asarray(self.w_per_k * (1.0 - self.warmed.share)), np.asarray(drive)

    @property
    def is_core(self) -> bool:
        """Whether it meets the charge, and not the outside air."""
        return self.slot.startswith("core")


@dataclass(frozen=True)
class Exchange:
    """What one moment does to each row: the charge, every coupling, coolant rate [W/K], pump heat [W].

    `core_air_share`: share of the charge's own film in the resistance between charge and coolant.
    """

    charge: Charge
    couplings: tuple[Coupling, ...]
    rate_w_per_k: Array
    pump_heat_w: Array
    core_air_share: Array

    @property
    def cores(self) -> tuple[Coupling, ...]:
        """The couplings to the charge."""
        return tuple(coupling for coupling in self.couplings if coupling.is_core)

    @property
    def exchangers(self) -> tuple[Coupling, ...]:
        """The couplings to the outside air."""
        return tuple(coupling for coupling in self.couplings if not coupling.is_core)


def face_speed(columns: Columns, moment: Moment) -> Array:
    """Speed of the outside air on the fins [m/s]: ram, stated, fan or paddock fan, whichever governs.

    Shape (rows, exchangers). With the engine off the fan alone counts.
    """
    ram = columns.ram_share * moment.speed_m_per_s
    fan = columns.fan_speed if moment.fan else np.zeros_like(ram)
    if not moment.engine:
        return fan
    paddock = np.full_like(ram, moment.face_speed_m_per_s or 0.0)
    return np.asarray(np.maximum.reduce([ram, columns.face_speed, fan, paddock]))


def exchanges_of(
    bench: Bench,
    columns: Columns,
    conditions: Conditions,
    flow: Array,
    liquid: Liquid,
    end: Numbers,
    moments: Sequence[Moment],
) -> dict[Moment, Exchange]:
    """The exchanges of moments at one flow and liquid, each once; all are worked out together, as few calls do it.

    `flow`: of the coolant, per row [m3/s]; `end`: of the bands, as in `predict`. Twins side by side take half the
    coolant each, two cores half the charge each.
    """
    moments = tuple(dict.fromkeys(moments))
    if not moments:
        return {}
    pumped = np.array([moment.pump for moment in moments])[:, None]
    rates = np.where(pumped, flow * liquid.density * liquid.specific_heat, 0.0)
    heat = np.where(pumped, bench.pump_heat_w[columns.pump], 0.0)
    charges = {share: charge_of(columns, conditions, share, end) for share in {moment.share for moment in moments}}
    films = [
        liquid_resistance(surface_of(columns, stage.kind), flow / stage.abreast, liquid) for stage in columns.stages
    ]
    cores = {
        at: _core_conductances(bench, columns, charges, films[at], rates / stage.abreast, end, moments)
        for at, stage in enumerate(columns.stages)
        if stage.kind == "core"
    }
    *_, air_shares = (shares for _, shares in cores.values())
    none = np.zeros(columns.count)
    speeds = np.stack([face_speed(columns, moment) for moment in moments])
    couplings: list[list[Coupling]] = [[] for _ in moments]
    outside = iter(range(speeds.shape[2]))
    for at, slot in slots_of(columns.stages):
        if at in cores:
            for found, moment, w_per_k in zip(couplings, moments, cores[at][0], strict=True):
                met = charges[moment.share].in_k
                found.append(Coupling(at, slot, w_per_k if moment.engine else none, met))
            continue
        place = next(outside)
        into_k = conditions.ambient_k + columns.preheat_k[:, place]
        surface = surface_of(columns, "exchanger")
        air = speeds[:, :, place] * surface.face_area_m2 * density(conditions.ambient_pa, into_k)
        ua = ua_of_resistances(surface, air_resistance(surface, air), films[at], end)
        air_rates = air * specific_heat(into_k)
        of_rates = rates / columns.stages[at].abreast
        fronts = conductances(bench.exchanger_surfaces, columns.exchanger_index, ua, air_rates, of_rates)
        for found, w_per_k, air_rate in zip(couplings, fronts, air_rates, strict=True):
            found.append(Coupling(at, slot, w_per_k, into_k, air_rate))
    return {
        moment: Exchange(charges[moment.share], in_line(couplings[k], columns.shadow), rates[k], heat[k], air_shares[k])
        for k, moment in enumerate(moments)
    }


def _core_conductances(
    bench: Bench,
    columns: Columns,
    charges: Mapping[float, Charge],
    film: Array,
    rates: Array,
    end: Numbers,
    moments: Sequence[Moment],
) -> tuple[Array, Array]:
    """Heat per kelvin of a core [W/K], and its film's share as in `Exchange`; both of shape (moments, rows).

    They hang on charge and pump alone, and are worked out once for all moments that share these.
    """
    alike = {(moment.share, moment.pump): at for at, moment in enumerate(moments)}
    each, first = columns.count_of("core"), list(alike.values())
    air = np.array([charges[share].air_kg_per_s / each for share, _ in alike])[:, None]
    carried = np.stack([charges[share].rate_w_per_k / each for share, _ in alike])
    to_air = air_resistance(columns.core, air)
    ua = ua_of_resistances(columns.core, to_air, film, end)
    found = conductances(bench.core_surfaces, columns.core_index, ua, carried, rates[first])
    places = {pair: place for place, pair in enumerate(alike)}
    of_moment = [places[moment.share, moment.pump] for moment in moments]
    return found[of_moment], (to_air / (to_air + film))[of_moment]


def in_line(couplings: Sequence[Coupling], shadow: Array) -> tuple[Coupling, ...]:
    """The couplings with what each of two exchangers takes from the air of the other; as they are where none does."""
    if not shadow.any():
        return tuple(couplings)
    one, other = (coupling for coupling in couplings if not coupling.is_core)
    behind = {
        one.slot: replace(one, warmed=_warmed_by(other, shadow[:, 0])),
        other.slot: replace(other, warmed=_warmed_by(one, shadow[:, 1])),
    }
    return tuple(behind.get(coupling.slot, coupling) for coupling in couplings)


def _warmed_by(front: Coupling, share: Array) -> Warmed:
    air = np.asarray(front.air_w_per_k)
    return Warmed(front.stage, share * front.w_per_k / np.where(air > 0.0, air, np.inf), front.meets_k)


def load_of(columns: Columns, capacities: Array, now: Exchange) -> Load:
    """One moment as a linear system: every coupling on the liquid that enters its stage, pump heat in the feed."""
    none = np.zeros(columns.count)
    lumps = capacities.shape[1]
    couplings, coupled_to, heat = [none] * lumps, [none] * lumps, [none] * lumps
    heat[1] = now.pump_heat_w
    for stage in range(len(columns.stages)):
        lump = feed_lump(stage) + 1
        couplings[lump], coupled_to[lump] = as_one_coupling(tuple(c for c in now.couplings if c.stage == stage))
    m, b = ring(capacities, now.rate_w_per_k, *(np.stack(column, axis=1) for column in (couplings, coupled_to, heat)))
    for behind in now.exchangers:
        if behind.warmed is not None:
            lump = feed_lump(behind.stage) + 1
            takes = behind.w_per_k * behind.warmed.share / capacities[:, lump]
            m[:, lump, feed_lump(behind.warmed.stage)] += takes
            b[:, lump] -= takes * behind.warmed.from_k
    total, _ = as_one_coupling(now.cores)
    feeds = tuple(dict.fromkeys(feed_lump(core.stage) for core in now.cores))
    shares: tuple[Array, ...] = ()
    if len(feeds) > 1:
        safe = np.where(total > 0.0, total, 1.0)
        shares = tuple(np.where(total > 0.0, c.w_per_k / safe, 1 / len(feeds)) for c in now.cores)
    return Load(np.asarray(m), np.asarray(b), now.charge.in_k, total, total / now.charge.rate_w_per_k, feeds, shares)


def as_one_coupling(couplings: tuple[Coupling, ...]) -> tuple[Array, Array]:
    """Several couplings of one liquid as one: their sum [W/K], and the temperature that they meet on the mean [K]."""
    first = couplings[0]
    if len(couplings) == 1:
        return first.w_per_k, first.meets_k
    total = np.asarray(sum(c.w_per_k for c in couplings))
    drive = np.asarray(sum(c.w_per_k * c.meets_k for c in couplings))
    return total, np.where(total > 0.0, drive / np.where(total > 0.0, total, 1.0), first.meets_k)


def capacities_of(columns: Columns, coolant: Coolant, liquid: Liquid) -> Array:
    """Heat capacity of each lump: its liquid, and the metal and hose walls in it; shape (rows, lumps) [J/K].

    `liquid`: the coolant as it is in the drive; its mass is that of the fill. The pump's stands with the hose to it.
    """
    per_m3 = filled_kg_per_m3(coolant) * np.asarray(liquid.specific_heat)
    held = np.zeros((columns.count, 2 + 2 * len(columns.stages)))
    held[:, 0] = columns.reservoir_m3
    held[:, feed_lump(0)] += columns.pump_m3
    for run, lump in columns.piping.moving:
        held[:, lump] += columns.run_m3[:, run]
    for at, stage in enumerate(columns.stages):
        held[:, feed_lump(at) + 1] = stage.abreast * surface_of(columns, stage.kind).liquid_m3
    return np.asarray(held * per_m3[:, None] + metal_of(columns))


def filled_kg_per_m3(coolant: Coolant) -> float:
    """What a cubic metre of coolant weighs as it is filled in [kg/m3]."""
    return float(properties(coolant, FILLED_K).density)


def metal_of(columns: Columns) -> Array:
    """Heat capacity of the metal, and of the walls of hoses, in each lump, shape (rows, lumps) [J/K]."""
    metal = np.zeros((columns.count, 2 + 2 * len(columns.stages)))
    metal[:, 0] = columns.reservoir_metal_j_per_k
    for run, lump in columns.piping.moving:
        metal[:, lump] += columns.run_wall_j_per_k[:, run]
    for at, stage in enumerate(columns.stages):
        metal[:, feed_lump(at) + 1] = stage.abreast * surface_of(columns, stage.kind).metal_j_per_k
    return metal


def charge_of(columns: Columns, conditions: Conditions, share: float, end: Numbers) -> Charge:
    """The charge in front of each row's cores at a share of full power."""
    return charge_at(
        conditions,
        share,
        columns.core,
        columns.charge_before_per_m4,
        columns.charge_after_per_m4,
        -end,
        columns.count_of("core"),
    )


def surface_of(columns: Columns, kind: str) -> Surface:
    """The surface of the cores or of the exchangers of every row."""
    surface = columns.core if kind == "core" else columns.exchanger
    assert surface is not None
    return surface
