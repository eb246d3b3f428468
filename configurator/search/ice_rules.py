"""What ice asks of the parts of a loop: a tank that is made for it and holds it, and no front exchanger in circuit."""

from __future__ import annotations

from configurator.parts.kinds import Exchanger, Part, Reservoir
from configurator.prediction.ice_warmed import warming_w
from configurator.prediction.zone_air import zone_air
from configurator.search.job import Exclusion, Job


def left_in_circuit_w(job: Job, exchanger: Exchanger, zone: str | None = None) -> float:
    """Heat that an exchanger would bring into iced coolant, in its zone or else in the one that brings most [W]."""
    bay = job.brief.bay
    zones = [] if bay is None else [name for name, known in bay.zones.items() if "exchanger" in known.takes]
    zones = zones if zone is None else [zone]
    return warming_w(exchanger, [zone_air(bay, name) for name in zones or [""]], job.conditions)


def ice_reason(job: Job, part: Part) -> Exclusion | None:
    """Why a part cannot serve with the brief's ice; None where it can, or where the brief has none."""
    ice = job.conditions.ice
    if ice is None:
        return None
    if isinstance(part, Exchanger) and job.layout.bypass is None:
        return Exclusion(part.id, "warms-ice", round(left_in_circuit_w(job, part), 1), 0.0, "W")
    if isinstance(part, Reservoir):
        if not part.ice:
            return Exclusion(part.id, "not-for-ice", None, None, "")
        inside = float(part.coolant.volume_m3 or 0.0) + part.air_m3
        if ice.heap_m3 > inside:
            return Exclusion(part.id, "ice-over-tank", round(ice.heap_m3, 6), round(inside, 6), "m3")
    return None
