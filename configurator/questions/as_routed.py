"""What the ways of a kit's hoses say beside the lengths that heat, flow and price were computed with.

Those are the runs by pair of zones: the search cannot know a hose's way before its kit is placed. So the price that
orders kits, and the priced lines of a bill, hold to the runs; where the ways need more, one more line says how much.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from configurator.fitting.laid_hoses import LaidHose
from configurator.parts.kit import Joint
from configurator.reasons.thresholds import MOST_APART
from configurator.search.bill import Line, hose_to_buy_m

MORE = "more "
"""How the line of hose begins that ways take beyond what is priced."""

Apart = tuple[str, float, float]
"""A hose by the names of its ends, the length of its way and that of its run [m]."""


def runs_apart(joints: Sequence[Joint], laid: Sequence[LaidHose]) -> tuple[list[Apart], list[Apart]]:
    """The hoses whose way is longer than their run by more than MOST_APART, and those whose way is shorter."""
    runs = {(joint.start, joint.finish): joint.hose_length_m for joint in joints}
    ways = [(hose.name, hose.length_m, runs[hose.start, hose.finish]) for hose in laid if hose.length_m is not None]
    longer = [(name, way, run) for name, way, run in ways if way > run * (1 + MOST_APART)]
    return longer, [(name, way, run) for name, way, run in ways if way < run * (1 - MOST_APART)]


def hose_beyond_price(
    joints: Sequence[Joint], laid: Sequence[LaidHose], price_of: Callable[[str], int]
) -> Iterator[Line]:
    """A line for each hose of which the ways take more than the priced metres, with the same waste on top.

    It says what that comes to, and how much more coolant goes in. Of each run the longer counts, its way or its length;
    a run without a way counts as it is.
    """
    laid_m = _laid_m(joints, laid)
    priced: dict[str, float] = {}
    needed: dict[str, float] = {}
    more_m3: dict[str, float] = {}
    for joint in joints:
        for hose, metres in joint.hoses_m:
            priced[hose] = priced.get(hose, 0.0) + metres
            needed[hose] = needed.get(hose, 0.0) + metres
        if joint.hose is not None:
            longer_m = laid_m[joint.start, joint.finish] - joint.hose_length_m
            needed[joint.hose] += longer_m
            inside_m3 = math.pi / 4 * joint.hose_bore_m**2 * longer_m
            more_m3[joint.hose] = more_m3.get(joint.hose, 0.0) + inside_m3
    for hose in sorted(needed):
        bought_m = hose_to_buy_m(priced[hose])
        if needed[hose] > bought_m:
            metres = round(hose_to_buy_m(needed[hose]) - bought_m, 1)
            costs = f"{metres * price_of(hose) / 100:,.2f}, and {1e3 * more_m3[hose]:.1f} L more to fill"
            item = f"{MORE}{hose} as routed, not in the price: {costs}"
            yield Line(item, None, metres, "m", 0, "coolant side", bring_yourself=True)


def as_laid_m(joints: Sequence[Joint], laid: Sequence[LaidHose]) -> float:
    """All hose of a kit, of each run the longer: its way or its length [m]."""
    return sum(_laid_m(joints, laid).values())


def longer_as_routed_m(joints: Sequence[Joint], laid: Sequence[LaidHose]) -> float:
    """How much longer the ways of a kit's hoses are than the runs that are priced, all together [m]."""
    return as_laid_m(joints, laid) - sum(joint.hose_length_m for joint in joints if joint.hose is not None)


def _laid_m(joints: Sequence[Joint], laid: Sequence[LaidHose]) -> dict[tuple[str, str], float]:
    ways = {(hose.start, hose.finish): hose.length_m or 0.0 for hose in laid}
    return {
        (joint.start, joint.finish): max(ways.get((joint.start, joint.finish), 0.0), joint.hose_length_m)
        for joint in joints
        if joint.hose is not None
    }
