"""The outside air of a zone in plain numbers, worked out again. A zone behind another zone is none of it."""

from __future__ import annotations

from configurator.brief.bay import Bay

SHARES = {(False, False): 0.15, (False, True): 0.08, (True, False): 0.25}
"""Sealed, and behind something: face speed over road speed where none is stated; common practice, no source."""

WARMER_K = {"condenser": 12.0, "radiator": 30.0}
"""Common practice, no source."""


def air_of(bay: Bay | None, name: str) -> tuple[float, float, float, float]:
    """Ram share, stated face speed [m/s], preheat [K], face speed of a fan [m/s]."""
    fronts = [] if bay is None else [zone for zone in bay.zones.values() if "exchanger" in zone.takes]
    zone = None if bay is None else bay.zones.get(name, fronts[0] if len(fronts) == 1 else None)
    if zone is None or zone.air is None:
        return (0.15, 0.0, 0.0, 0.0)
    said, ram = zone.air, 0.0
    if said.kind == "ram":
        ram = SHARES[bool(said.sealed), said.behind is not None] if said.share is None else float(said.share)
    warmer = 0.0 if said.behind is None else WARMER_K[said.behind]
    if said.preheat_k is not None:
        warmer = float(said.preheat_k)
    return (ram, float(said.face_speed_m_per_s or 0.0), warmer, 3.0 if said.kind == "fan" else 0.0)
