"""Where a kit's coolant boils, from the JSON answer and the YAML parts alone, by rough formulas typed from scratch.

Water by two sets of Antoine's constants (mmHg and degC; published in handbooks, from memory), glycol as a solute that
does not boil itself: what its vapour adds is under half a kelvin, so 1 K is allowed. Moles from litres: water 55.4
mol/L, ethylene glycol 17.9, propylene glycol 13.6. Air by the altitude: ISO 2533.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from tests.independent.plain import part_in, si
from tests.journeys.kitwright import Tree

MOLES_PER_LITRE = {"ethylene glycol": 17.9, "propylene glycol": 13.6}
BELOW_100_C, ABOVE_100_C = (8.07131, 1730.63, 233.426), (8.14019, 1810.94, 244.485)
ALLOWED_K = 1.0


def boiling_faults(brief: Tree, kit: Tree) -> Iterator[str]:
    """A kit that boils, or whose distance from boiling is another one than told."""
    cap = si(part_in(brief, kit, "cap")["opens"]) if "cap" in kit["parts"] else 0.0
    margin = boils_c(kit, air_pa(brief) + cap) - kit["thermal"]["coolant_worst_c"]
    told = kit["thermal"]["boil_margin_k"]
    if abs(told - margin) > ALLOWED_K:
        yield f"boiling: {told} K to spare are told, it is {margin:.1f} K"
    if told < 0:
        yield "boiling: the coolant boils"
    warned = any(caution["code"] == "boil-margin" for caution in kit["cautions"])
    if warned != (told < 10):
        yield "boiling: warned without need, or not warned"


def air_pa(brief: Tree) -> float:
    """The air at the brief's altitude [Pa]."""
    return float(101325.0 * (1 - 2.25577e-5 * si(brief["site"].get("altitude", "0 m"))) ** 5.25588)


def vapour_pa(kit: Tree, t_c: float) -> float:
    """The vapour above the coolant on a kit's bill [Pa], glycol taken as a solute."""
    share = _water_share(kit)
    a, b, c = BELOW_100_C if t_c < 100 else ABOVE_100_C
    return float(share * 133.322 * 10 ** (a - b / (c + t_c)))


def air_faults(brief: Tree, kit: Tree) -> Iterator[str]:
    """A kit with less than 6 % of its coolant as air above the fill mark that does not say so."""
    tank = part_in(brief, kit, "reservoir")
    share = si(tank["air_space"])
    little = si(tank["coolant"]["volume"]) * 1000 * share / (1 - share) / kit["coolant_l"]
    warned = any(caution["code"] == "air-space" for caution in kit["cautions"])
    if abs(little - 0.06) > 0.0005 and warned != (little < 0.06):
        yield f"air: there is {100 * little:.1f} % of it, warned: {warned}"


def boils_c(kit: Tree, pressure: float) -> float:
    """Where the coolant on a kit's bill boils under a pressure [Pa absolute], in degC."""
    share = _water_share(kit)
    of_water = pressure / share / 133.322
    a, b, c = BELOW_100_C if of_water < 760 else ABOVE_100_C
    return b / (a - math.log10(of_water)) - c


def _water_share(kit: Tree) -> float:
    """Mole fraction of water in what was poured."""
    fill = [line for line in kit["lines"] if line["group"] == "fill" and line["unit"] == "L"]
    litres = {line["item"]: line["quantity"] for line in fill}
    water = sum(55.4 * quantity for item, quantity in litres.items() if "water" in item)
    glycol = sum(
        moles * quantity for kind, moles in MOLES_PER_LITRE.items() for item, quantity in litres.items() if kind in item
    )
    return water / (water + glycol)
