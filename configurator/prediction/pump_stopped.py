"""A core whose coolant stands while the engine goes on at full power: what is in it, and what heats it.

Metal and coolant of the cores are one lump at one temperature that takes all the charge's side lets through; nothing
leaves it by the hoses or by its outside. Every one of these makes the coolant boil sooner than it would. The heat of
water that falls out on a core still colder than the dew point is not counted.
"""

from __future__ import annotations

from dataclasses import dataclass

from configurator.physics.standing_coolant import seconds_to_reach, standing_conductance
from configurator.prediction.bench import Columns
from configurator.prediction.predict import Prediction
from configurator.prediction.stages import stage_lump
from configurator.prediction.surface_figures import air_resistance


@dataclass(frozen=True)
class StandingCore:
    """The cores of a kit with their coolant standing: temperatures [K] of the charge into them at full power and of the
    coolant as the pump stops; heat capacity of metal and coolant [J/K], heat per kelvin from the charge [W/K].
    """

    charge_in_k: float
    start_k: float
    capacity_j_per_k: float
    w_per_k: float

    def boils_after_s(self, boils_k: float) -> float | None:
        """Seconds of full power until the coolant in the core boils; None where the charge cannot bring it there."""
        return seconds_to_reach(self.capacity_j_per_k, self.w_per_k, self.charge_in_k, self.start_k, boils_k)


def standing_cores(prediction: Prediction, columns: Columns) -> tuple[StandingCore, ...]:
    """Every row, its pump stopping when the coolant is at the hottest of its event."""
    full, count, core = prediction.full, columns.count_of("core"), columns.core
    air_side = count / air_resistance(core, full.air_kg_per_s / count)
    w_per_k = standing_conductance(air_side, full.rate_w_per_k)
    lumps = [stage_lump(at) for at, stage in enumerate(columns.stages) if stage.kind == "core"]
    capacity = prediction.capacities[:, lumps].sum(axis=1)
    rows = zip(full.in_k, prediction.coolant_worst_k, capacity, w_per_k, strict=True)
    return tuple(StandingCore(*(float(value) for value in row)) for row in rows)
