"""The outside air of a zone as numbers: what the brief says of it, and the trade's usual figure where it is silent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from configurator.brief.bay import UPSTREAM_PREHEAT_K, Bay, Zone, shadowed_share

FAN_FACE_SPEED = 3.0
"""Face speed of a zone fed by a fan of unknown curve [m/s]; common practice: 1.5 to 4 m/s."""

ASSUMED_RAM_SHARE = 0.15
"""Face speed over road speed behind a production grille where the brief is silent; common practice: 0.10 to 0.20."""

STACKED_RAM_SHARE = 0.08
"""The same behind another cooler, not sealed to it; common practice: 0.05 to 0.12."""

SEALED_RAM_SHARE = 0.25
"""The same in a duct that is sealed to the fins; common practice: 0.25 to 0.40 with a good way out, which is not
known: so the low end."""

@dataclass(frozen=True)
class ZoneAir:
    """The outside air an exchanger gets in its zone: ram share, a stated face speed, preheat, a fan."""

    ram_share: float
    face_speed_m_per_s: float
    preheat_k: float
    fan_speed_m_per_s: float


def zone_air(bay: Bay | None, name: str) -> ZoneAir:
    """The air of a zone; where nothing is said of it, ram air behind a production grille.

    A name that is no zone of the bay stands for where a front exchanger stays that the car has.

    Behind another zone without a stated preheat, the air has that of the other zone over the share that it shadows.
    """
    zone = None if bay is None else bay.zones.get(name, front_that_stays(bay))
    air = None if zone is None else zone.air
    if bay is None or zone is None or air is None:
        return ZoneAir(ASSUMED_RAM_SHARE, 0.0, 0.0, 0.0)
    return ZoneAir(
        ram_share(zone) if air.kind == "ram" else 0.0,
        float(air.face_speed_m_per_s or 0.0),
        _preheat_k(bay, zone),
        FAN_FACE_SPEED if air.kind == "fan" else 0.0,
    )


def front_that_stays(bay: Bay) -> Zone | None:
    """The zone of a front exchanger that the car has: as stated, or the one zone that takes an exchanger."""
    if bay.front_in is not None:
        return bay.zones[bay.front_in]
    zones = [zone for zone in bay.zones.values() if "exchanger" in zone.takes]
    return zones[0] if len(zones) == 1 else None


def ram_share(zone: Zone) -> float:
    """Face speed over road speed of a zone with ram air: as stated, else by what it is sealed to or stands behind."""
    air = zone.air
    if air is None:
        return ASSUMED_RAM_SHARE
    if air.share is not None:
        return float(air.share)
    if air.sealed:
        return SEALED_RAM_SHARE
    return ASSUMED_RAM_SHARE if air.behind is None else STACKED_RAM_SHARE


def _preheat_k(bay: Bay, zone: Zone) -> float:
    air = zone.air
    if air is None:
        return 0.0
    if air.preheat_k is not None or air.behind is None:
        return float(air.preheat_k or 0.0)
    before = bay.zones.get(air.behind)
    if before is None:
        return UPSTREAM_PREHEAT_K[air.behind]
    return shadowed_share(bay, zone, before) * _preheat_k(bay, before)


def shadows(bay: Bay | None, zones: Sequence[str]) -> tuple[float, ...]:
    """Of each of a loop's exchangers the share of its face in the air of the other one; `zones`: where they sit."""
    if bay is None or len(zones) != 2 or any(name not in bay.zones for name in zones):
        return (0.0,) * len(zones)
    one, other = (bay.zones[name] for name in zones)
    return (shadowed_share(bay, one, other), shadowed_share(bay, other, one))
