"""The car that a box is meant for: what of the box stays in it, and what its charge pipes are."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.foundations.verdicts import Verdict
from configurator.joining.ratings import ASSUMED_HEIGHT_M, charge_design_pa_gauge
from configurator.parts.box import Box
from configurator.parts.kinds import Cap, Part, RigidPart, Timer
from configurator.parts.own import OwnPart
from configurator.questions.box_loop import CHARGE_AFTER_K, CHARGE_BEFORE_K, ChargeSide
from configurator.questions.check_answer import PLACE_TAKEN
from configurator.reasons.wording import exclusion_text
from configurator.search.job import Exclusion
from configurator.search.liquid_height import LiquidHeight, liquid_over


@dataclass(frozen=True)
class Car:
    """The car that a box is meant for: a brief with its names looked up."""

    brief: Brief
    driving: Driving
    own: tuple[OwnPart, ...]
    fingerprint: str


def staying(parts: Sequence[Part], car: Car | None) -> frozenset[str]:
    """Ids of the box's parts that are in the car already and stay there."""
    ids = {part.id for part in parts}
    return frozenset(held.part.id for held in (() if car is None else car.own) if held.fitted and held.part.id in ids)


def liquid_of(box: Box, parts: Sequence[Part], car: Car | None) -> LiquidHeight:
    """The liquid over a box's loop: as the kit file states it, else by the heights of the car, else as is assumed."""
    if box.head_m is not None or car is None:
        return LiquidHeight(ASSUMED_HEIGHT_M if box.head_m is None else float(box.head_m), box.head_m is not None)
    stays = staying(parts, car)
    return liquid_over(car.brief, [held for held in car.own if held.part.id in stays])


def places_taken(parts: Sequence[Part], car: Car | None, stays: Collection[str]) -> Iterator[Verdict]:
    """Parts of the box that stand where a part of the car stays: a loop has one place for both, as `why` says.

    `stays`: ids of parts of the box that are in the car and stay there.
    """
    for held in () if car is None else car.own:
        staying = held.part
        if not held.fitted or staying.id in stays or not isinstance(staying, RigidPart | Cap | Timer):
            continue
        for part in {part.id: part for part in parts if part.kind == staying.kind}.values():
            taken = exclusion_text(Exclusion(part.id, PLACE_TAKEN, staying.id, None, "", part.kind), part.name)
            text = (
                f"in this car: {taken} That of the box is judged here all the same: take `fitted: true` off "
                f"'{staying.id}' in the brief, if it may go, or take '{part.id}' out of the box"
            )
            yield Verdict(PLACE_TAKEN, "broken", (part.id, staying.id), text=text)


def charge_of(box: Box, car: Car | None, hot_k: float | None, boost_pa: float) -> ChargeSide:
    """What the charge pipes stand: as the car has it, else as is usual; `hot_k`: the charge that reaches the cores."""
    before = CHARGE_BEFORE_K if hot_k is None else hot_k
    after = CHARGE_AFTER_K if car is None else car.brief.ceiling_k
    if bounds_no_drive(car):
        after = max(after, before)
    oily = box.oily or (car is not None and car.brief.engine.oily)
    outlet_m, throttle_m = pipes_of(box, car)
    design_pa = charge_design_pa_gauge(boost_pa)
    return ChargeSide(outlet_m, outlets_of(box, car), throttle_m, design_pa, boost_pa, before, after, oily)


def bounds_no_drive(car: Car | None) -> bool:
    """Whether the aim is held against the restart after a standstill alone."""
    return car is not None and car.brief.aim.after_s is not None


def pipes_of(box: Box, car: Car | None) -> tuple[float | None, float | None]:
    """Charger outlet and throttle [m]: those of the brief, else of the kit file."""
    if car is None:
        return box.charger_outlet_m, box.throttle_m
    engine = car.brief.engine
    return engine.charger_outlet_m or box.charger_outlet_m, engine.throttle_m or box.throttle_m


def outlets_of(box: Box, car: Car | None) -> int:
    """How many outlets the charger has: as the brief says, else the kit file, else one."""
    if car is not None and car.brief.engine.outlets_said:
        return car.brief.engine.charger_outlets
    return box.charger_outlets or 1
