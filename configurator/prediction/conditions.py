"""What a brief asks of any kit, in plain SI numbers: the charge at every share of power, the air, the driving."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from configurator.brief.driving import Driving, Stretch
from configurator.brief.request import Brief
from configurator.brief.tables import Charger, Fuel, Tables
from configurator.foundations.coolants import FREEZE_MARGIN_K, Coolant, freezing_point_k, smallest_share
from configurator.foundations.freezing import WATER_FREEZES_K
from configurator.physics.air_flow import air_flow_from_displacement, air_flow_from_power
from configurator.physics.atmosphere import standard_atmosphere
from configurator.prediction.frost import frost_of
from configurator.prediction.ice_tank import IceFilling

INLET_RISE_K = 5.0
INLET_LOSS_PA = 3000.0
PIPE_LOSS_PA = 2000.0
"""Common practice, no source: air warms by 5 K and loses 3 kPa before the charger; pipes lose 2 kPa at full flow."""

SOAKED_RISE_K = 30.0
"""Common practice, no source: a loop left standing under a hot bonnet starts 30 K above the outside air."""

VOLUMETRIC_EFFICIENCY = 0.95
MANIFOLD_RISE_K = 30.0
"""Common practice, no source; they only serve the cross-check of power against boost and displacement."""

ICED_START_K = WATER_FREEZES_K + 2.0
"""Common practice, no source: water with ice in it goes to the line at 2 degC."""

IDLE_SHARE = 0.02
"""Share of full power that an idling engine takes air for. Common practice, no source."""

REST_SPEED_M_PER_S = 0.0
"""How fast the car goes after its drive where the driving tells no rest: it stands, the cautious end."""

DISAGREEMENT = 0.15
"""Share by which air from power and from displacement may differ: consumption and filling are typical values, each good
to some 10 %. Common practice, no source."""


@dataclass(frozen=True)
class Moment:
    """One kind of moment of the drive: what the engine, the outside air and the pump do in it.

    Without `engine` the car stands with it off: no charge flows, no air but a fan's, and the bay soaks the loop. `cut`
    numbers the cuts of stretches whose charge sheds water, each of which has its own latent heat.
    """

    share: float
    speed_m_per_s: float
    pump: bool
    fan: bool
    face_speed_m_per_s: float | None
    engine: bool = True
    cut: int = 0


RUNS_ON = Moment(IDLE_SHARE, 0.0, pump=True, fan=True, face_speed_m_per_s=None, engine=False)
STANDS = Moment(IDLE_SHARE, 0.0, pump=False, fan=False, face_speed_m_per_s=None, engine=False)
RESTART = Moment(IDLE_SHARE, 0.0, pump=True, fan=True, face_speed_m_per_s=None)
"""After key-off pump and fan go on, or all stands; then the engine idles again."""


@dataclass(frozen=True)
class Standing:
    """The car left standing after the drive [s] in a bay of one temperature, and how well that warms the loop."""

    seconds: float
    bay_k: float
    w_per_m2_k: float
    band: float


@dataclass(frozen=True)
class Piece:
    """A moment that lasts."""

    moment: Moment
    seconds: float


@dataclass(frozen=True)
class Conditions:
    """All that a kit is predicted under."""

    ambient_k: float
    ambient_pa: float
    inlet_k: float
    inlet_loss_pa: float
    pipe_loss_pa: float
    loss_to_throttle_pa: float | None
    boost_pa: float
    boost_held_at_throttle: bool
    charger_efficiency: float
    part_load_share: tuple[float, ...]
    part_load_boost: tuple[float, ...]
    air_kg_per_s: float
    coolant: Coolant
    start_k: float
    pieces: tuple[Piece, ...]
    pattern: tuple[Piece, ...]
    hardest: Moment
    rest: Moment
    ceiling_k: float
    enough_k: float
    humidity: float | None = None
    ice: IceFilling | None = None
    standing: Standing | None = None

    @property
    def coldest_coolant_k(self) -> float:
        """The coldest that coolant of any loop can be [K]: as it starts, the outside air, or melting ice."""
        return min(self.start_k, self.ambient_k, *(() if self.ice is None else (WATER_FREEZES_K,)))

    @property
    def hardest_at_full_power(self) -> Moment:
        """The hardest moment of the drive, at full power."""
        return replace(self.hardest, share=1.0)

    @property
    def moments(self) -> tuple[Moment, ...]:
        """Every kind of moment that a prediction needs, each once, in order of first use."""
        asked = [piece.moment for piece in self.pieces] + [piece.moment for piece in self.pattern]
        stood = [] if self.standing is None else [RUNS_ON, STANDS, RESTART]
        return tuple(dict.fromkeys([*asked, self.hardest_at_full_power, self.rest, *stood]))

    def boost_at(self, share: float) -> float:
        """Boost at a share of full power by the charger's part-load table [Pa gauge]."""
        return self.boost_pa * float(np.interp(share, self.part_load_share, self.part_load_boost))


def moment_of(stretch: Stretch) -> Moment:
    """The moment of a stretch: never under idle flow."""
    share = max(float(stretch.share), IDLE_SHARE)
    return Moment(share, float(stretch.speed_m_per_s), stretch.pump, stretch.fan, None)


def rest_of(driving: Driving) -> Moment:
    """The moment after the event: idling, at the rest's speed or before its fan."""
    rest = driving.rest
    if rest is None:
        return Moment(IDLE_SHARE, REST_SPEED_M_PER_S, True, True, None)
    face = None if rest.face_speed_m_per_s is None else float(rest.face_speed_m_per_s)
    return Moment(IDLE_SHARE, float(rest.speed_m_per_s), True, True, face)


def pieces_of(driving: Driving) -> tuple[Piece, ...]:
    """The whole event: the pattern repeated until its total time is over, the last round cut short."""
    left = float(driving.total_s)
    pieces: list[Piece] = []
    while left > 1e-9:
        for stretch in driving.stretches:
            seconds = min(float(stretch.lasts_s), left)
            if seconds > 1e-9:
                pieces.append(Piece(moment_of(stretch), seconds))
            left -= seconds
    return tuple(pieces)


def choose_coolant(brief: Brief) -> Coolant | None:
    """The first welcome liquid that survives the coldest that it meets with the least antifreeze; None where none does.

    A share that the brief has settled stands as it is, and has to survive it too: none is plain water. Ice goes
    with plain water.
    """
    coldest_k = frost_of(brief).night_k
    settled = brief.coolant.glycol_by_volume
    for kind in brief.coolant.kinds if brief.ice is None else ("water",):
        if settled is not None and (kind == "water") is not (settled == 0.0):
            continue
        if settled:
            filling = Coolant(kind, float(settled))
            if freezing_point_k(filling) <= coldest_k - FREEZE_MARGIN_K:
                return filling
            continue
        share = smallest_share(kind, coldest_k)
        if share is not None:
            return Coolant(kind, share)
    return None


def _start_k(brief: Brief) -> float:
    start = brief.coolant.start_k
    if start is None:
        return float(brief.site.air_k) if brief.ice is None else ICED_START_K
    return float(brief.site.air_k) + SOAKED_RISE_K if start == "soaked" else float(start)


def ice_filling(brief: Brief, driving: Driving, tables: Tables) -> IceFilling | None:
    """The ice of a brief; None without."""
    ice = brief.ice
    if ice is None:
        return None
    kind = tables.ice[ice.kind]
    return IceFilling(
        name=kind.name,
        start_kg=float(ice.mass_kg),
        stirred=float(kind.stirred),
        still=float(kind.still),
        band=float(kind.band),
        ice_k=WATER_FREEZES_K if ice.temperature_k is None else float(ice.temperature_k),
        water_k=float(brief.site.air_k if ice.water_k is None else ice.water_k),
        passes=driving.passes,
        between_s=None if driving.between_s is None else float(driving.between_s),
    )


def standing_of(brief: Brief, tables: Tables) -> Standing | None:
    """The standstill that the aim asks for, in a hot bay; None without."""
    return None if brief.aim.after_s is None else in_hot_bay(brief, tables, float(brief.aim.after_s))


def in_hot_bay(brief: Brief, tables: Tables, seconds: float) -> Standing:
    """So long a standstill of the car in the bay that the catalogue names first."""
    soak = tables.hot_bay
    bay_k = float(brief.site.air_k) + float(soak.above_air_k)
    return Standing(seconds, bay_k, float(soak.surface), float(soak.band))


def air_flow_kg_per_s(brief: Brief, fuel: Fuel, charger: Charger) -> float:
    """Air mass flow at full power, from power, specific consumption and air-fuel ratio [kg/s]."""
    consumption = charger.consumption[fuel.id]
    return float(air_flow_from_power(float(brief.engine.power_w), float(consumption), fuel.air_fuel_ratio))


def air_flow_by_displacement_kg_per_s(brief: Brief) -> float | None:
    """The same from displacement, revs and boost [kg/s]; None where the brief does not tell enough."""
    engine = brief.engine
    if engine.displacement_m3 is None or engine.rev_limit_per_s is None:
        return None
    pressure = float(standard_atmosphere(altitude_m(brief)).pressure_pa) + float(engine.boost_pa_gauge)
    warm = float(brief.site.air_k) + MANIFOLD_RISE_K
    flow = air_flow_from_displacement(
        float(engine.displacement_m3), float(engine.rev_limit_per_s), VOLUMETRIC_EFFICIENCY, pressure, warm
    )
    return float(flow)


def altitude_m(brief: Brief) -> float:
    """Altitude of the site [m]; sea level where the brief is silent."""
    return 0.0 if brief.site.altitude_m is None else float(brief.site.altitude_m)


def make_conditions(
    brief: Brief, driving: Driving, tables: Tables, coolant: Coolant, *, common_error: bool = False
) -> Conditions:
    """Turn a brief into conditions. With `common_error` the charger is worse and thirstier by its bands."""
    engine = brief.engine
    charger = tables.chargers[engine.charger]
    flow = air_flow_kg_per_s(brief, tables.fuels[engine.fuel], charger)
    efficiency = float(charger.efficiency if engine.charger_efficiency is None else engine.charger_efficiency)
    if common_error:
        efficiency -= float(charger.efficiency_band)
        flow *= 1 + float(charger.consumption_band)
    air_k = float(brief.site.air_k)
    moments = [moment_of(stretch) for stretch in driving.stretches]
    return Conditions(
        ambient_k=air_k,
        ambient_pa=float(standard_atmosphere(altitude_m(brief)).pressure_pa),
        inlet_k=air_k + float(INLET_RISE_K if engine.inlet_rise_k is None else engine.inlet_rise_k),
        inlet_loss_pa=float(INLET_LOSS_PA if engine.inlet_loss_pa is None else engine.inlet_loss_pa),
        pipe_loss_pa=PIPE_LOSS_PA,
        loss_to_throttle_pa=None if engine.loss_to_throttle_pa is None else float(engine.loss_to_throttle_pa),
        boost_pa=float(engine.boost_pa_gauge),
        boost_held_at_throttle=charger.holds_boost_at == "throttle",
        charger_efficiency=efficiency,
        part_load_share=tuple(float(row.share) for row in charger.part_load),
        part_load_boost=tuple(float(row.boost) for row in charger.part_load),
        air_kg_per_s=flow,
        coolant=coolant,
        start_k=_start_k(brief),
        pieces=pieces_of(driving),
        pattern=tuple(Piece(moment_of(stretch), float(stretch.lasts_s)) for stretch in driving.stretches),
        hardest=max(moments, key=lambda moment: (moment.share, -moment.speed_m_per_s)),
        rest=rest_of(driving),
        ceiling_k=brief.ceiling_k,
        enough_k=float("inf") if brief.enough_k is None else float(brief.enough_k),
        humidity=None if brief.site.humidity is None else float(brief.site.humidity),
        ice=ice_filling(brief, driving, tables),
        standing=standing_of(brief, tables),
    )
