"""Words for fuels and chargers that people say and that the catalogue has under other names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from configurator.brief.tables import Charger

SPOKEN_FUELS: Final[Mapping[str, Sequence[str]]] = dict.fromkeys(
    ("gasoline", "gas", "pump gas", "pump fuel"), ("petrol",)
)


SPOKEN_KINDS: Final[Mapping[str, str]] = {
    **dict.fromkeys(("tank", "header tank", "expansion tank", "swirl pot", "bottle"), "reservoir"),
    **dict.fromkeys(("radiator", "heat exchanger", "heat_exchanger", "front radiator"), "exchanger"),
    **dict.fromkeys(("intercooler", "chargecooler", "charge cooler", "charge_cooler"), "core"),
    **dict.fromkeys(("fitting", "reducer", "elbow", "coupler"), "adapter"),
}
"""Kinds of parts as people call them."""


def spoken_chargers(chargers: Mapping[str, Charger]) -> Mapping[str, Sequence[str]]:
    """The kinds that are driven by a belt, for who says just that.

    A wastegate holds the boost at the throttle; one on a belt turns as the engine does and holds it at its outlet.
    """
    belt = tuple(charger.id for charger in chargers.values() if charger.holds_boost_at == "outlet")
    return dict.fromkeys(("supercharger", "supercharged", "blower", "belt-driven"), belt)
