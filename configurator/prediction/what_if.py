"""The same kit predicted again with one thing worse than it was bought: less air at the front, or less coolant."""

from __future__ import annotations

from dataclasses import dataclass, replace

from configurator.prediction.bench import Bench, Columns
from configurator.prediction.conditions import Conditions
from configurator.prediction.predict import Prediction, margins, predict

HALF_AIR = 0.5
"""Share of the air speed that is left: an unsealed gap or a fouled face. Common practice, no source."""

LESS_FLOW = 0.7
"""Share of the coolant flow that is left: air in the loop, a kinked hose, a weak supply. Common practice, no source."""


@dataclass(frozen=True)
class WhatIf:
    """The charge temperature that the aim is held against, and its distance from the ceiling [K]."""

    charge_k: float
    margin_k: float


def with_half_air(bench: Bench, columns: Columns, conditions: Conditions) -> tuple[WhatIf | None, ...]:
    """Every row with half the air speed at every front exchanger, ram, stated or a fan's; None without exchanger.

    The air that somebody blows in after the drive stays as it is: it does not touch the drive's worst.
    """
    if columns.exchanger is None:
        return (None,) * columns.count
    slower = replace(
        columns,
        ram_share=HALF_AIR * columns.ram_share,
        face_speed=HALF_AIR * columns.face_speed,
        fan_speed=HALF_AIR * columns.fan_speed,
    )
    return _told(predict(bench, slower, conditions), conditions)


def with_less_flow(bench: Bench, columns: Columns, conditions: Conditions) -> tuple[WhatIf, ...]:
    """Every row with `LESS_FLOW` of the flow that its pump would drive, whatever takes the rest."""
    return _told(predict(bench, replace(columns, flow_share=LESS_FLOW), conditions), conditions)


def _told(found: Prediction, conditions: Conditions) -> tuple[WhatIf, ...]:
    pairs = zip(found.judged_k, margins(found, conditions), strict=True)
    return tuple(WhatIf(float(charge_k), float(margin_k)) for charge_k, margin_k in pairs)
