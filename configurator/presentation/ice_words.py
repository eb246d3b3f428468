"""The ice of a kit as rows of its figures."""

from __future__ import annotations

from configurator.joining.words import celsius_words
from configurator.prediction.ice_report import IceTold
from configurator.questions.answer import Bypass


def bypass_rows(bypass: Bypass | None) -> tuple[tuple[str, str], ...]:
    """How the bypass valve stands, and what it keeps out; nothing without one."""
    if bypass is None:
        return ()
    if bypass.would_add_w is None:
        return (("bypass valve", "open to the front exchanger"),)
    kept_out = f"{bypass.would_add_w / 1e3:.1f} kW"
    words = f"on bypass while there is ice: left in circuit the front exchanger would bring in about {kept_out}"
    return (("bypass valve", words),)


def ice_rows(ice: IceTold | None) -> tuple[tuple[str, str], ...]:
    """What a pass melts, what the day takes, when to refill; nothing without ice."""
    if ice is None:
        return ()
    start = celsius_words(ice.start_k)
    return (
        (
            "ice",
            f"{ice.start_kg:.1f} kg of {ice.name} in {ice.water_kg:.1f} kg of water at {start}; a pass melts "
            f"{ice.melted_kg:.1f} kg and leaves {ice.left_kg:.1f} kg, the tank at {celsius_words(ice.tank_end_k)}",
        ),
        ("ice for the event", f"{ice.event_kg:.1f} kg melt: {_event(ice, start)}{_brought(ice)}"),
        ("refill", f"{_refill(ice)}; {_ready(ice, start)}"),
    )


def _event(ice: IceTold, start: str) -> str:
    passes = "1 pass takes" if ice.passes == 1 else f"{ice.passes} passes take"
    each = "" if ice.passes == 1 else " each"
    cooling = f"{ice.pull_down_kg:.1f} kg to cool the loop to {start}"
    # floating ice takes the room of the water that it melts to
    let_off = f"for all but the last {ice.start_kg:.1f} kg let off a litre of water a kilogram, or the tank runs over"
    return f"{cooling}, {passes} {ice.per_pass_kg:.1f} kg{each}, cooling back included; {let_off}"


def _brought(ice: IceTold) -> str:
    """How much has to be there for each pass to begin with as much as the first, where that is more than melts."""
    if ice.brought_kg <= ice.event_kg:
        return ""
    return f"; {ice.brought_kg:.1f} kg have to be there for each pass to begin with {ice.start_kg:.1f} kg"


def _refill(ice: IceTold) -> str:
    if ice.left_kg <= 0.0:
        return "before the pass is over: the ice is gone by then"
    if ice.lasts_passes < 1:
        return "after every pass: what it leaves does not cool the loop back"
    passes = "1 pass" if ice.lasts_passes == 1 else f"{ice.lasts_passes} passes"
    return f"after {passes} at the latest"


def _ready(ice: IceTold, start: str) -> str:
    if ice.ready_s is None:
        rest = "no ice" if ice.settled_left_kg <= 0.0 else f"{ice.settled_left_kg:.1f} kg of ice"
        return f"left alone after a pass, water and ice settle at {celsius_words(ice.settles_k)} with {rest}"
    return f"{start} again {ice.ready_s / 60:.1f} min after a pass, with the pump running and the engine off"
