"""A brief with one thing in it changed, as its user would write the change; and a brief with a demand dropped."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np

from configurator.brief.bay import Bay, StatedAir, Zone
from configurator.brief.driving import Driving
from configurator.brief.request import Brief, Limits
from configurator.brief.tables import Tables
from configurator.foundations.coolants import Kind as CoolantKind
from configurator.foundations.units import Figure, read_figure
from configurator.prediction.conditions import IDLE_SHARE
from configurator.search.loosening import Change

SIZES = ("wide", "high", "deep")
FULL_SHARE = 100
FASTEST_M_PER_S = 15.0
"""As fast as a face is ever taken to get its air: beyond it a front is no front any more."""
UNBOUNDED_MM = 1500
_MILD_KW, _MILD_BAR = 1, 0.01

COOLANT_KINDS: tuple[CoolantKind, ...] = ("water", "ethylene glycol", "propylene glycol")

Asked = tuple[Brief, Driving]


def figure(after: float, unit: str, kind: str) -> Figure:
    """A figure as its user would write it."""
    return read_figure(f"{after:.10g} {unit}", kind)


def with_changes(asked: Asked, changes: Sequence[Change]) -> Asked:
    """The brief and its driving with the changes made."""
    for change in changes:
        asked = _CHANGES[change.what](asked, change)
    return asked


def scaled_power(brief: Brief, tables: Tables, power_kw: int) -> tuple[Change, ...]:
    """Less power, and the boost that goes with it by the charger's part-load table, to 0.01 bar."""
    before_kw, before_bar = float(brief.engine.power_w) / 1e3, float(brief.engine.boost_pa_gauge) / 1e5
    rows = tables.chargers[brief.engine.charger].part_load
    share = np.interp(power_kw / before_kw, [float(row.share) for row in rows], [float(row.boost) for row in rows])
    boost = max(round(before_bar * float(share), 2), _MILD_BAR)
    return (
        Change("power", before_kw, power_kw, "kW", written=brief.engine.power_w.unit),
        Change("boost", before_bar, boost, "bar", written=brief.engine.boost_pa_gauge.unit),
    )


def _engine(asked: Asked, **update: object) -> Asked:
    brief, driving = asked
    return brief.model_copy(update={"engine": brief.engine.model_copy(update=update)}), driving


def _aim(asked: Asked, change: Change) -> Asked:
    brief, driving = asked
    ceiling = change.unit == "degC"
    key, kind = ("charge_air_k", "temperature") if ceiling else ("above_air_k", "temperature difference")
    aim = brief.aim.model_copy(update={key: figure(change.after, change.unit, kind)})
    return brief.model_copy(update={"aim": aim}), driving


def _charge_loss(asked: Asked, change: Change) -> Asked:
    brief, driving = asked
    aim = brief.aim.model_copy(update={"charge_loss_pa": figure(change.after, "kPa", "pressure")})
    return brief.model_copy(update={"aim": aim}), driving


def _limit(asked: Asked, key: str, value: float) -> Asked:
    brief, driving = asked
    return brief.model_copy(update={"limits": brief.limits.model_copy(update={key: value})}), driving


def _start(asked: Asked, change: Change) -> Asked:
    brief, driving = asked
    wish = brief.coolant.model_copy(update={"start_k": figure(change.after, "degC", "temperature")})
    return brief.model_copy(update={"coolant": wish}), driving


def _ice(asked: Asked, change: Change) -> Asked:
    brief, driving = asked
    assert brief.ice is not None
    ice = brief.ice.model_copy(update={"mass_kg": figure(change.after, "kg", "mass")})
    return brief.model_copy(update={"ice": ice}), driving


def _share(asked: Asked, change: Change) -> Asked:
    brief, driving = asked
    return brief, _driven(driving, lambda share: share * change.after / 100)


def _driven(driving: Driving, share_of: Callable[[float], float]) -> Driving:
    stretches = tuple(
        stretch.model_copy(update={"share": Figure(share_of(float(stretch.share)))}) for stretch in driving.stretches
    )
    return driving.model_copy(update={"stretches": stretches})


def _zone(asked: Asked, name: str, **update: object) -> Asked:
    brief, driving = asked
    assert brief.bay is not None
    zones = {**brief.bay.zones, name: brief.bay.zones[name].model_copy(update=update)}
    return brief.model_copy(update={"bay": brief.bay.model_copy(update={"zones": zones})}), driving


def _size(asked: Asked, change: Change) -> Asked:
    return _zone(asked, change.zone, **{f"{change.what}_m": figure(change.after, "mm", "length")})


def _air(asked: Asked, change: Change) -> Asked:
    bay = asked[0].bay
    assert bay is not None
    air = bay.zones[change.zone].air
    assert air is not None
    key, kind = ("share", "share") if change.unit == "%" else ("face_speed_m_per_s", "speed")
    return _zone(asked, change.zone, air=air.model_copy(update={key: figure(change.after, change.unit, kind)}))


_CHANGES: Mapping[str, Callable[[Asked, Change], Asked]] = {
    "aim": _aim,
    "charge loss": _charge_loss,
    "price": lambda asked, change: _limit(asked, "price", change.after),
    "mass": lambda asked, change: _limit(asked, "mass_dry_kg", figure(change.after, "kg", "mass")),
    "current": lambda asked, change: _limit(asked, "current_a", figure(change.after, "A", "current")),
    "power": lambda asked, change: _engine(asked, power_w=figure(change.after, "kW", "power")),
    "boost": lambda asked, change: _engine(asked, boost_pa_gauge=figure(change.after, "bar", "pressure")),
    "driving": _share,
    "start": _start,
    "ice": _ice,
    "air": _air,
    **dict.fromkeys(SIZES, _size),
}


def with_coolant(asked: Asked, kind: CoolantKind) -> Asked:
    """The brief with one kind of coolant welcome, and no other."""
    brief, driving = asked
    wish = brief.coolant.model_copy(update={"kinds": (kind,)})
    return brief.model_copy(update={"coolant": wish}), driving


def without_front(asked: Asked) -> Asked:
    """The brief with no front exchanger wanted: its loops are those that do without."""
    brief, driving = asked
    return brief.model_copy(update={"without": (*brief.without, "exchanger")}), driving


def without_limits(asked: Asked) -> Asked:
    """No limit on price, mass, current and charge loss."""
    brief, driving = asked
    aim = brief.aim.model_copy(update={"charge_loss_pa": None})
    return brief.model_copy(update={"limits": Limits(), "aim": aim}), driving


def dropped(asked: Asked, demand: str, zones: Sequence[str] = ()) -> Asked:
    """The brief without one demand; `zones` are those whose size, and air where they take an exchanger, it is."""
    brief, driving = asked
    if demand == "driving":
        return brief, _driven(driving, lambda share: min(share, IDLE_SHARE))
    if demand == "power":
        power, boost = Change("power", 0, _MILD_KW, "kW"), Change("boost", 0, _MILD_BAR, "bar")
        return with_changes(asked, (power, boost))
    if demand == "in_stock":
        return brief.model_copy(update={"in_stock": False}), driving
    if demand == "wanted":
        return brief.model_copy(update={"wanted": ()}), driving
    if demand == "without":
        return brief.model_copy(update={"without": ()}), driving
    bay = brief.bay
    assert bay is not None
    return _unbounded(brief, bay, zones), driving


def gives_up_room(brief: Brief) -> bool:
    """Whether a zone of a brief stands for any room that is large enough, and its size for no height in the car."""
    zones = () if brief.bay is None else brief.bay.zones.values()
    return any(min(zone.wide_m, zone.high_m, zone.deep_m) * 1000 >= UNBOUNDED_MM for zone in zones)


def _unbounded(brief: Brief, bay: Bay, names: Sequence[str]) -> Brief:
    zones = {name: _grown(zone) if name in names else zone for name, zone in bay.zones.items()}
    return brief.model_copy(update={"bay": bay.model_copy(update={"zones": zones})})


def _grown(zone: Zone) -> Zone:
    large = figure(UNBOUNDED_MM, "mm", "length")
    update: dict[str, Any] = {f"{key}_m": max(large, getattr(zone, f"{key}_m")) for key in SIZES}
    if zone.air is not None and "exchanger" in zone.takes:
        update["air"] = _fast(zone.air)
    return zone.model_copy(update={**update, "way_in": None})


def _fast(air: StatedAir) -> StatedAir:
    if air.face_speed_m_per_s is not None:
        return air.model_copy(update={"face_speed_m_per_s": figure(FASTEST_M_PER_S, "m/s", "speed")})
    return air.model_copy(update={"share": figure(FULL_SHARE, "%", "share")}) if air.kind == "ram" else air
