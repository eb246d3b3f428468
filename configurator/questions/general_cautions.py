"""Cautions that hold for the whole answer, whichever kit is taken."""

from __future__ import annotations

from configurator.foundations.verdicts import Caution
from configurator.prediction.conditions import DISAGREEMENT, air_flow_by_displacement_kg_per_s
from configurator.reasons.cautions import (
    ALWAYS,
    BOXES,
    OUTLET_BULK,
    power_and_boost_disagree,
)
from configurator.reasons.coolant_cautions import DRAIN_WATER, LESS_TOXIC, TOXIC
from configurator.reasons.ice_cautions import ICE_TANK, WET_CHARGE
from configurator.search.job import Job


def general_cautions(job: Job) -> tuple[Caution, ...]:
    """Everything that must be said beside any kit of this answer."""
    said: list[Caution] = []
    nominal = job.conditions.air_kg_per_s
    other = air_flow_by_displacement_kg_per_s(job.brief)
    if other is not None and abs(nominal - other) > DISAGREEMENT * max(nominal, other):
        said.append(power_and_boost_disagree(nominal, other))
    kind = job.conditions.coolant.kind
    if kind == "ethylene glycol":
        said.append(TOXIC)
    elif kind == "propylene glycol":
        said.append(LESS_TOXIC)
    else:
        said.append(DRAIN_WATER)
    if job.conditions.ice is not None:
        said += [ICE_TANK, WET_CHARGE]
    return (*said, *ALWAYS, OUTLET_BULK, BOXES)
