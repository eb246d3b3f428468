"""Cautions of ice in the tank; told beside those of `cautions.py`."""

from __future__ import annotations

from configurator.foundations.verdicts import Caution
from configurator.joining.words import celsius_words
from configurator.reasons.coolant_cautions import AMONG_PEOPLE

ICE_TANK = Caution(
    "ice-tank",
    f"An ice tank stays vented. In cabin or boot hold {AMONG_PEOPLE}, and drain it when the day is over. Never put dry "
    "ice in: it bursts a closed tank and suffocates people.",
)
WET_CHARGE = Caution(
    "wet-charge",
    "Iced coolant lies below the dew point of the charge in nearly all weather: water gathers in the core. Drain the "
    "charge side before each pass. The heat of that water is counted only where the brief names the humidity.",
)


VALVE_OPEN = Caution(
    "valve-open",
    "The bypass valve stands open to the front exchanger, and on bypass only while there is ice in the tank: on bypass "
    "nothing gives off the heat of the charge.",
)


def valve_on_bypass(would_add_w: float) -> Caution:
    """A front exchanger that a valve shuts out while there is ice, and what it would bring in otherwise [W]."""
    return Caution(
        "valve-on-bypass",
        "The bypass valve must stand on bypass while there is ice in the tank, and is reckoned so: left in circuit the "
        f"front exchanger would bring in about {would_add_w / 1e3:.1f} kW (at 30 L/min, in the fastest air of the "
        "drive). Turn it back when the ice is gone, or nothing gives off the heat of the charge.",
    )


def no_strainer(tank: str) -> Caution:
    """An ice tank without a screen before its outlet."""
    return Caution(
        "no-strainer",
        f"There is no strainer in this kit, and {tank} has no screen before its outlet: pieces of ice stop or break a "
        "pump. Fit the strainer that the bill asks you to bring.",
    )


def ice_short(lasts_passes: int, passes: int) -> Caution:
    """Ice that does not last through the passes of the drive."""
    lasts = "less than one pass" if lasts_passes < 1 else f"{lasts_passes} of {passes} passes"
    text = f"With the cooling back to the start the ice lasts {lasts}: have the rest at hand, and refill in time."
    return Caution("ice-short", text)


def ice_not_ready(start_k: float, between_s: float | None) -> Caution:
    """Iced water that is not back at its starting temperature in time [K, s]."""
    hour = 3600.0
    between = hour if between_s is None else between_s
    within = "within an hour" if between >= hour else f"in the {between / 60:.0f} min between passes"
    return Caution(
        "ice-not-ready",
        f"With the ice that a pass leaves the tank is not back at {celsius_words(start_k)} {within}: add ice, or "
        "the next pass starts warmer than reckoned.",
    )
