"""The hardest cold that coolant meets: of night, day and start, the one that decides the antifreeze."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from configurator.brief.request import Brief
from configurator.foundations.coolants import FREEZE_MARGIN_K
from configurator.foundations.units import Figure, celsius

FROST_FREE_NIGHT_K = 278.15
"""The night that coolant and parts are held against where nobody names one: 5 degC, so that no antifreeze is asked for.
"""


@dataclass(frozen=True)
class Frost:
    """When coolant meets the hardest cold, that cold [K], in the brief's words too, and what it has to spare [K]."""

    when: Literal["night", "day", "start"]
    at_k: float
    told: str
    spare_k: float

    @property
    def night_k(self) -> float:
        """The night that is as hard on it [K]: one has `FREEZE_MARGIN_K` to spare."""
        return self.at_k + FREEZE_MARGIN_K - self.spare_k


def frost_of(brief: Brief) -> Frost:
    """The cold that decides the antifreeze.

    As it starts, and by day beside ice, coolant needs nothing to spare: ice water is let off after the day.
    """
    night, air, start = brief.site.coldest_k, brief.site.air_k, brief.coolant.start_k
    by_day_k = FREEZE_MARGIN_K if brief.ice is None else 0.0
    met = [
        Frost("night", FROST_FREE_NIGHT_K, "", FREEZE_MARGIN_K)
        if night is None
        else Frost("night", float(night), _as_told(night), FREEZE_MARGIN_K),
        Frost("day", float(air), _as_told(air), by_day_k),
        *([Frost("start", float(start), _as_told(start), 0.0)] if isinstance(start, float) else []),
    ]
    return min(met, key=lambda frost: frost.night_k)


def _as_told(kelvin: float) -> str:
    """A temperature as the brief has it, in degC where it has been changed since."""
    return kelvin.text if isinstance(kelvin, Figure) else f"{celsius(kelvin):.4g} degC"
