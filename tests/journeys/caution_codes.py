"""The code of every caution there is, those of a pair of ends too, and when it is said.

A test in `tests/journeys/test_cautions.py` collects every code that any module can say and finds no other.
"""

from __future__ import annotations

from configurator.joining.mating_verdict import UNWIRED_MOST
from configurator.prediction.conditions import DISAGREEMENT
from configurator.reasons.thresholds import (
    LEAST_AIR_SPACE,
    LEAST_BOIL_MARGIN_K,
    LEAST_MARGIN,
    LITTLE_ROOM_MM,
    MOST_AIR_RISE_K,
    MOST_APART,
    MOST_THRUST_N,
)

CODES = {
    "impossible-figure": "a part or a hose states a figure that none can have",
    "power-boost-disagree": f"air flow from power and from boost differ by more than {100 * DISAGREEMENT:g} %",
    "toxic-glycol": "the loop is filled with a glycol, or may be",
    "drain-water": "the loop is filled with plain water, or may be",
    "ice-tank": "the brief has ice",
    "wet-charge": "the brief has ice",
    "condensate": "the coolant starts below the dew point of the charge at full boost, without ice",
    "no-strainer": "the brief has ice and the tank has no screen before its outlet",
    "valve-on-bypass": "the brief has ice, and a bypass valve shuts the front exchanger out",
    "valve-open": "the loop has a bypass valve, and no ice",
    "ice-short": "the ice does not last through the passes of the drive",
    "ice-not-ready": "the ice that is left does not bring the tank back to its start before the next pass",
    "hot-coolant": "always",
    "leak-test": "always",
    "leak-into-engine": "always",
    "starts-by-itself": "always",
    "fused-wire": "always",
    "hot-exhaust": "always",
    "no-more-boost": "always",
    "structure": "always",
    "inhibitor": "always",
    "laminar": "the loop is filled with a glycol, and flows laminar in the core",
    "where-measured": "a charge temperature is told",
    "placed-as-boxes": "a fit is told",
    "alone-only": "parts are tried one by one: by `--fits-only` alone",
    "unproven": "a part states no pressure rating",
    "tight": "less room is left than the brief's tolerance",
    "little-room": f"the brief states no tolerance, and less than {LITTLE_ROOM_MM:g} mm of room is left",
    "look-alike": "a piece of the kit nearly fits an end that it does not belong to",
    "thin-margin": f"the weakest member of a side holds less than {LEAST_MARGIN:g} times what it may see",
    "thrust": f"boost pushes a charge joint apart with more than {MOST_THRUST_N:g} N",
    "boil-margin": f"the hottest coolant is less than {LEAST_BOIL_MARGIN_K:g} K below its boiling point",
    "outside-tables": "the coolant is on the mean of the drive outside the tables of its properties",
    "air-space": f"the reservoir's air space is less than {100 * LEAST_AIR_SPACE:g} % of the coolant in the loop",
    "suction-margin": "the pump's inlet is nearer to boiling than the pump needs",
    "pump-stops": "a charge temperature is told",
    "leak-direction": "the coolant may stand above the charge in the core",
    "vacuum-fill": "a high point has no bleed port of its own",
    "outside-iso-228": "a taper R thread goes into a fixed parallel G port",
    "taper-thread": "a taper thread seals with sealant",
    "ring-rubber": "a joint seals with a rubber ring or a bonded washer",
    "quick-connect-limit": "a coolant quick-connect: 206 kPa at most",
    "bore-unknown": "a coolant joint has an end of which nobody knows the bore",
    "suction-hose": f"a hose over {UNWIRED_MOST} lies before the pump, or one at hand must not",
    "lined-coupler": "a coupler above 175 degC",
    "vacuum-coupler": "a coupler lies after the throttle: said of two ends alone",
    "bead-not-told": "nobody said whether a spigot has a bead: said of two ends alone",
    "coupler-rating": "not every coupler of its size on the shelf stands what was told: said of two ends alone",
    "hose-rating": "not every hose of its size on the shelf stands what was told: said of two ends alone",
    "route-longer": f"a hose's way is more than {100 * MOST_APART:g} % longer than the run that heat and flow took",
    "route-shorter": f"a hose's way is more than {100 * MOST_APART:g} % shorter than the run that heat and flow took",
    "no-route": "a hose has no way along the axes that leaves room for its bends",
    "reservoir-below": "a high point stands above the reservoir",
    "pump-not-lowest": "another part of the loop sits lower than its pump",
    "warms-radiator": f"a front exchanger hands on air more than {MOST_AIR_RISE_K:g} K warmer at the worst moment",
    "no-price": "a part that is to be bought has a price of 0",
    "drains-back": "a vented reservoir has a high point above it",
}
"""Every code, and when it is said."""
