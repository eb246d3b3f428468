"""What a kit does when something fails, in words: rows for the list of a kit's figures."""

from __future__ import annotations

from configurator.joining.words import bar_words, celsius_words
from configurator.prediction.what_if import WhatIf
from configurator.presentation.no_kit_words import margin_words
from configurator.questions.answer import OfferedKit
from configurator.questions.when_it_fails import Crack, CrackedCore, Suction

_GOES = {
    "charge into coolant": "charge blows into the coolant: bubbles, coolant pushed out of the cap",
    "coolant into engine": "coolant runs into the engine: hydraulic lock when it is cranked",
}
_RUNNING = "either way: charge into the coolant, or coolant into the engine while pump and cap hold more than the boost"
_STANDING_ABOVE = "air is drawn in through the crack: the coolant lies lower, and the loop drains back"
_STANDING = "either way, by how high the coolant stands over the crack: coolant into the engine, or air into the loop"


def what_if_rows(kit: OfferedKit) -> tuple[tuple[str, str], ...]:
    """The two fixed what-ifs."""
    t = kit.thermal
    none = "front exchanger shut out" if kit.bypass is not None else "no front exchanger"
    charge = "charge" if t.standstill is None else "charge on restart"
    air = none if t.half_air is None else _what_if(charge, t.half_air)
    return ("half the air speed", air), ("30 % less coolant flow", _what_if(charge, t.less_flow))


def failure_rows(kit: OfferedKit) -> tuple[tuple[str, str], ...]:
    """Suction of the pump, a stopped pump, a cracked core."""
    cracked = kit.failures.cracked_core
    assumed = "" if cracked.height_known else f"; up to {cracked.most_over_m:.3g} m of liquid over the core, assumed"
    return (
        *(("suction of the pump", _suction(pump)) for pump in kit.pumps),
        ("pump stopped", _stopped(kit)),
        ("core cracked, boost", _crack(cracked.boost, _range(cracked.boost.charge_pa_gauge), _RUNNING)),
        ("core cracked, idle", _crack(cracked.idle, _at_idle(cracked), _RUNNING)),
        ("core cracked, standing", _crack(cracked.standstill, "0 bar", _STANDING, _STANDING_ABOVE) + assumed),
    )


def _what_if(charge: str, told: WhatIf) -> str:
    return f"{charge} at {celsius_words(told.charge_k)}, margin {margin_words(told.margin_k)}"


def _suction(told: Suction) -> str:
    side = "above" if told.margin_pa >= 0 else "BELOW"
    text = f"{abs(told.margin_pa) / 1e3:.0f} kPa {side} boiling at {celsius_words(told.coolant_k)}"
    if told.under_cap_pa > told.margin_pa:
        text += f", the cap's pressure not counted ({told.under_cap_pa / 1e3:.0f} kPa with it)"
    if told.above_m is None:
        text += "; height of the reservoir over the pump not known, taken as 0"
    else:
        text += f"; reservoir {abs(told.above_m):.2f} m {'over' if told.above_m >= 0 else 'UNDER'} the pump"
    return f"{text}; it needs {told.needs_pa / 1e3:.0f} kPa ({'stated' if told.stated else 'as is usual'})"


def _stopped(kit: OfferedKit) -> str:
    told = kit.failures.pump_stopped
    text = f"charge out goes to {celsius_words(told.charge_out_k)}; at full power the coolant in the core"
    at = f"at {celsius_words(told.boils_k)}"
    if told.boils_after_s is None:
        return f"{text} does not boil ({at} it would)"
    return f"{text} boils after {told.boils_after_s:.0f} s, from {celsius_words(told.core.start_k)} ({at})"


def _crack(told: Crack, charge: str, either: str, into_coolant: str = _GOES["charge into coolant"]) -> str:
    """`either`, `into_coolant`: what is said where it goes either way, and where the charge goes into the coolant."""
    goes = {**_GOES, "charge into coolant": into_coolant}.get(told.goes, either)
    return f"{goes} (charge {charge}; coolant {_range(told.coolant_pa_gauge)})"


def _at_idle(told: CrackedCore) -> str:
    """What the charge is at idle, and where the core is taken to sit."""
    if told.sits == "behind the throttle, assumed":
        return f"{_range(told.idle.charge_pa_gauge)}, {told.sits}: it draws coolant in from a cold loop too"
    return f"about 0 bar, {told.sits}"


def _range(pressures: tuple[float, float]) -> str:
    low, high = (bar_words(pressure) for pressure in pressures)
    return high if low == high else f"{low.removesuffix(' bar')} to {high}"
