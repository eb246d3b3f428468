"""The same kit predicted again with one thing worse than it was bought: less air at the front, or less coolant."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import starmap, zip_longest

from configurator.prediction.bench import Bench, Columns, one_below_another
from configurator.prediction.conditions import Conditions
from configurator.prediction.predict import margins, predict

HALF_AIR = 0.5
"""Share of the air speed that is left: an unsealed gap or a fouled face. Common practice, no source."""

LESS_FLOW = 0.7
"""Share of the coolant flow that is left: air in the loop, a kinked hose, a weak supply. Common practice, no source."""


@dataclass(frozen=True)
class WhatIf:
    """The charge temperature that the aim is held against, and its distance from the ceiling [K]."""

    charge_k: float
    margin_k: float


@dataclass(frozen=True)
class WhatIfs:
    """Both of a kit: with less flow, and with half the air speed at its front exchangers, None where it has none."""

    less_flow: WhatIf
    half_air: WhatIf | None


def what_ifs(bench: Bench, columns: Columns, conditions: Conditions) -> tuple[WhatIfs, ...]:
    """Every row with half the air speed at every front exchanger, ram, stated or a fan's, and with less flow.

    The air that somebody blows in after the drive stays as it is: it does not touch the drive's worst. The flow is
    `LESS_FLOW` of what the pump would drive, whatever takes the rest.
    """
    less = replace(columns, flow_share=LESS_FLOW * columns.flow_share)
    slower = replace(
        columns,
        ram_share=HALF_AIR * columns.ram_share,
        face_speed=HALF_AIR * columns.face_speed,
        fan_speed=HALF_AIR * columns.fan_speed,
    )
    both = [less] if columns.exchanger is None else [less, slower]
    found = predict(bench, one_below_another(both), conditions)
    pairs = zip(found.judged_k, margins(found, conditions), strict=True)
    told = [WhatIf(float(charge_k), float(margin_k)) for charge_k, margin_k in pairs]
    return tuple(starmap(WhatIfs, zip_longest(told[: columns.count], told[columns.count :])))
