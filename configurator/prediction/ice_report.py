"""What is told of the ice: what a pass melts, what is left, what pull-down and event take, when to refill."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from configurator.foundations.freezing import WATER_FREEZES_K
from configurator.foundations.numbers import Array
from configurator.physics.ice import pull_down_kg, settled
from configurator.prediction.bench import Columns
from configurator.prediction.conditions import Conditions
from configurator.prediction.exchange import metal_of
from configurator.prediction.ice_tank import IceFilling, Vessel, ice_steps, ice_tank
from configurator.prediction.ledger import Ledger
from configurator.prediction.march import RESERVOIR
from configurator.prediction.predict import Prediction

READY_STEP_S = 5.0
READY_LONGEST_S = 3600.0


@dataclass(frozen=True)
class IceTold:
    """The ice of one kit [kg]. A kilogram takes L + c T: it melts, and its water warms to the start's temperature T.

    `water_kg`: water in the tank beside the ice at the start. `melted_kg`: in a pass, up to its end; `left_kg`: then.
    `pull_down_kg`: to cool all of the loop from the water it is filled with to the start. `per_pass_kg`: to take the
    heat of a pass, cooled back to the start. `event_kg`: pull-down and every pass. `lasts_passes`: how many the start's
    ice takes before it is refilled. `ready_s`: after a pass, with the pump running and nothing else, until the tank is
    back at the start; None where it does not get there in the time between passes, an hour at most.
    `settles_k`, `settled_left_kg`: where water and ice come to rest if they are left alone after a pass.
    """

    name: str
    start_kg: float
    start_k: float
    water_kg: float
    melted_kg: float
    left_kg: float
    tank_end_k: float
    pull_down_kg: float
    per_pass_kg: float
    passes: int
    between_s: float | None
    event_kg: float
    lasts_passes: int
    ready_s: float | None
    settles_k: float
    settled_left_kg: float

    @property
    def brought_kg(self) -> float:
        """What has to be there for each pass to begin with as much as the first; at least what melts [kg]."""
        return max(self.event_kg, self.pull_down_kg + self.start_kg + (self.passes - 1) * self.per_pass_kg)


def told_of_ice(
    prediction: Prediction, columns: Columns, conditions: Conditions, ledgers: Sequence[Ledger]
) -> tuple[IceTold | None, ...]:
    """What is told of the ice of every row; nothing without ice."""
    ice, tank = conditions.ice, prediction.tank
    if ice is None or tank is None:
        return (None,) * len(ledgers)
    start_k, c = conditions.start_k, tank.liquid_j_per_kg_k
    whole = prediction.capacities.sum(axis=1)
    at_start = whole - c * ice.start_kg
    cooling = pull_down_kg(at_start, ice.water_k, start_k, ice.ice_k, c=c)
    heat = np.array([ledger.of_charge_j + ledger.pump_j - ledger.rejected_j for ledger in ledgers])
    per_pass = np.maximum(heat, 0.0) / (ice.heat_j_per_kg + c * max(start_k - WATER_FREEZES_K, 0.0))
    left = prediction.course.ice_kg
    held = prediction.capacities.copy()
    held[:, RESERVOIR] -= c * left
    at_end = held.sum(axis=1)
    mean_k = (held * prediction.course.end).sum(axis=1) / at_end
    rest = settled(at_end / c, mean_k, left, ice.ice_k, water_j_per_kg_k=c)
    ready = _ready_s(ice, whole, c, mean_k, left, start_k)
    water = (prediction.capacities - metal_of(columns))[:, RESERVOIR] / c - ice.start_kg
    return tuple(
        IceTold(
            name=ice.name,
            start_kg=ice.start_kg,
            start_k=start_k,
            water_kg=float(water[row]),
            melted_kg=ice.start_kg - float(left[row]),
            left_kg=float(left[row]),
            tank_end_k=float(prediction.course.end[row, RESERVOIR]),
            pull_down_kg=float(cooling[row]),
            per_pass_kg=float(per_pass[row]),
            passes=ice.passes,
            between_s=ice.between_s,
            event_kg=float(cooling[row] + ice.passes * per_pass[row]),
            lasts_passes=math.floor(ice.start_kg / max(float(per_pass[row]), 1e-9) + 1e-9),
            ready_s=ready[row],
            settles_k=float(rest.temperature_k[row]),
            settled_left_kg=float(left[row] - rest.melted_kg[row]),
        )
        for row in range(len(ledgers))
    )


def _ready_s(
    ice: IceFilling, full_j_per_k: Array, c: Array, from_k: Array, kg: Array, start_k: float
) -> list[float | None]:
    """How long the ice that is left takes to bring the whole loop, as one vessel, back to the start; per row [s]."""
    rows = len(kg)
    vessel = Vessel(np.zeros((rows, 1, 1)), np.zeros((rows, 1)))
    tank = ice_tank(ice, full_j_per_k, c, 0)
    longest = READY_LONGEST_S if ice.between_s is None else min(ice.between_s, READY_LONGEST_S)
    found: list[float | None] = [0.0 if from_k[row] <= start_k else None for row in range(rows)]
    before, now = from_k, 0.0
    for after in ice_steps(vessel, tank, True, longest, from_k[:, None], kg, READY_STEP_S):
        here = after.state[:, 0]
        for row in range(rows):
            if found[row] is None and here[row] <= start_k:
                found[row] = now + after.seconds * float((before[row] - start_k) / (before[row] - here[row]))
        if all(seconds is not None for seconds in found) or not after.kg.any():
            break
        before, now = here, now + after.seconds
    return found
