"""What a brief asks of any kit, in plain numbers."""

from __future__ import annotations

from dataclasses import dataclass

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.foundations.coolants import Coolant, smallest_share
from configurator.physics.atmosphere import standard_atmosphere


@dataclass(frozen=True)
class Moment:
    """One kind of moment of the drive."""

    share: float
    speed: float
    pump: bool
    fan: bool


@dataclass(frozen=True)
class Asked:
    """Engine, air, coolant, drive and aim of one brief."""

    ambient_k: float
    ambient_pa: float
    inlet_k: float
    inlet_loss: float
    pipe_loss: float
    loss_to_throttle: float | None
    boost: float
    at_throttle: bool
    efficiency: float
    part_load: tuple[tuple[float, float], ...]
    air: float
    coolant: Coolant
    start_k: float
    pieces: tuple[tuple[Moment, float], ...]
    ceiling_k: float
    enough_k: float

    def boost_at(self, share: float) -> float:
        """Boost at a share of full power, on straight lines of the charger's table."""
        for (low, b_low), (high, b_high) in zip(self.part_load, self.part_load[1:], strict=False):
            if low <= share <= high:
                return self.boost * (b_low + (b_high - b_low) * (share - low) / (high - low))
        raise AssertionError(f"share {share} is outside the table")


def coolant_of(brief: Brief) -> Coolant | None:
    """The first welcome liquid that survives the coldest night (5 degC where none is named), a colder day and a start.

    A night and a day have 3 K to spare, the start need not.
    """
    coldest = 278.15 if brief.site.coldest_k is None else float(brief.site.coldest_k)
    coldest = min(coldest, float(brief.site.air_k))
    if isinstance(brief.coolant.start_k, float):
        coldest = min(coldest, float(brief.coolant.start_k) + 3.0)
    for kind in brief.coolant.kinds:
        share = smallest_share(kind, coldest)
        if share is not None:
            return Coolant(kind, share)
    return None


def asked_of(brief: Brief, driving: Driving, tables: Tables, coolant: Coolant) -> Asked:
    """The brief as plain numbers; what it does not say is common practice."""
    engine, charger = brief.engine, tables.chargers[brief.engine.charger]
    fuel = tables.fuels[engine.fuel]
    air_k = float(brief.site.air_k)
    altitude = 0.0 if brief.site.altitude_m is None else float(brief.site.altitude_m)
    start = brief.coolant.start_k
    left, pieces = float(driving.total_s), []
    while left > 1e-9:
        for stretch in driving.stretches:
            seconds = min(float(stretch.lasts_s), left)
            moment = Moment(max(float(stretch.share), 0.02), float(stretch.speed_m_per_s), stretch.pump, stretch.fan)
            if seconds > 1e-9:
                pieces.append((moment, seconds))
            left -= seconds
    return Asked(
        ambient_k=air_k,
        ambient_pa=float(standard_atmosphere(altitude).pressure_pa),
        inlet_k=air_k + (5.0 if engine.inlet_rise_k is None else float(engine.inlet_rise_k)),
        inlet_loss=3000.0 if engine.inlet_loss_pa is None else float(engine.inlet_loss_pa),
        pipe_loss=2000.0,
        loss_to_throttle=None if engine.loss_to_throttle_pa is None else float(engine.loss_to_throttle_pa),
        boost=float(engine.boost_pa_gauge),
        at_throttle=charger.holds_boost_at == "throttle",
        efficiency=float(charger.efficiency),
        part_load=tuple((float(row.share), float(row.boost)) for row in charger.part_load),
        air=float(engine.power_w) * float(charger.consumption[fuel.id]) * fuel.air_fuel_ratio,
        coolant=coolant,
        start_k=air_k if start is None else air_k + 30.0 if start == "soaked" else float(start),
        pieces=tuple(pieces),
        ceiling_k=brief.ceiling_k,
        enough_k=float("inf") if brief.enough_k is None else float(brief.enough_k),
    )
