"""Cautions of the coolant itself: what it does to people, to metals and to heat."""

from __future__ import annotations

from configurator.foundations.verdicts import Caution
from configurator.joining.words import celsius_words

TOXIC = Caution(
    "toxic-glycol",
    "Ethylene glycol is poisonous and sweet to animals: clear up spills, dispose of it lawfully, and ask the circuit "
    "first, many ban glycol.",
)
LESS_TOXIC = Caution(
    "toxic-glycol",
    "Propylene glycol is less poisonous than ethylene glycol but no drink: clear up spills, dispose of it lawfully, "
    "and ask the circuit first, many ban glycol.",
)
DRAIN_WATER = Caution(
    "drain-water", "There is plain water in this loop: drain it before the first frost, it splits the core."
)
IF_WATER = Caution(
    "drain-water", "Where the loop is filled with plain water, drain it before the first frost: it splits the core."
)
INHIBITOR = Caution(
    "inhibitor",
    "Aluminium, brass and copper meet in this coolant: fill with demineralised water and one make of corrosion "
    "inhibitor (antifreeze for engines holds it), never with tap water, and do not mix makes.",
)
AMONG_PEOPLE = (
    "it with straps for a crash, seal it from the people in the car, lead vent and overflow outside"
)
"""What a tank of coolant needs in cabin or boot. Common practice, no source."""

LAMINAR = Caution(
    "laminar",
    "The coolant creeps through the core (laminar): its film takes heat badly, and a stronger pump hardly mends that. "
    "Take no more antifreeze than the cold asks for.",
)


def outside_tables(coolant_k: float, edge_k: float) -> Caution:
    """The coolant is on the mean of the drive outside its tables, and reckoned as at their end [K both]."""
    return Caution(
        "outside-tables",
        f"On the mean of this drive the coolant is at {celsius_words(coolant_k)}, and its published properties end at "
        f"{celsius_words(edge_k)}: flow and heat are reckoned as if it were that "
        f"{'warm' if coolant_k < edge_k else 'cool'}, and no band says how far that is off.",
    )


def reservoir_inside(zone: str, behind_m: float | None) -> Caution:
    """The reservoir sits in a zone that is called cabin or boot, or that may be it so far behind the bumper [m]."""
    told = "Hold" if behind_m is None else f"That is {behind_m:.1f} m behind the bumper: in cabin or boot hold"
    return Caution(
        "reservoir-inside",
        f"The reservoir sits in '{zone}'. {told} {AMONG_PEOPLE}: hot coolant and steam may come out.",
    )
