"""A first brief to fill in: the fewest lines that work, each with what it means."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from configurator.files.write_file import write_whole

NEW_BRIEF: Final = """\
# What the car is, how it is driven, and what gaps there are. Every figure has its unit: 1.4 bar, 20 psi.
brief: Hill-climb hatch
engine:
  power: 230 kW                # at the crank; hp and PS are read too
  fuel: petrol
  charger: turbo
  boost: 1.4 bar               # gauge, at the throttle
site:
  air: 24 degC                 # the hottest day that it has to work on
driving: hill-climb            # decides more than any part: a pull, a climb and a session are different kits
aim:
  charge_air: 80 degC          # the charge at the core's outlet stays at or under this; or above_air: 35 K
bay:                           # free gaps, measured; or write bay: unmeasured
  zones:
    nose:
      {wide: 460 mm, high: 150 mm, deep: 60 mm, air: {kind: ram, share: 25 %}, takes: [exchanger]}
    bulkhead:
      {wide: 240 mm, high: 180 mm, deep: 320 mm, open: [front, back, left], takes: [core]}
    side:
      {wide: 220 mm, high: 380 mm, deep: 240 mm, open: [up], takes: [reservoir, pump]}
# More that may be said: displacement, humidity, altitude, coldest, limits, coolant, obstacles, runs, own,
# wanted, without.
"""


def write_new_brief(path: Path) -> None:
    """Write the first brief. Raises CannotWrite where the file is there already or cannot be written."""
    write_whole(path, NEW_BRIEF, force=None)
