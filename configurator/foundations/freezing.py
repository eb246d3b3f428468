"""Where water freezes, and how much glycol is the most that is of use: figures that the models check against."""

from __future__ import annotations

from typing import Final

from configurator.foundations.units import ZERO_CELSIUS_K

MOST_GLYCOL: Final = 0.6
"""By volume: as far as the tables of `coolants` go."""
WATER_FREEZES_K: Final = ZERO_CELSIUS_K
"""Where ice and water meet at 1 atm."""
