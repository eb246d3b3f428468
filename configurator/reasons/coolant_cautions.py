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
