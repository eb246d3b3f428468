"""The course of one offered kit through its event, for those who want to see or check the sums."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.parts.kinds import Core, Exchanger, Fan, Part, Pump, Reservoir, Timer
from configurator.parts.layouts import kind_of_slot
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.prediction.bench import Loop, make_bench, make_columns, zone_air
from configurator.prediction.conditions import choose_coolant, make_conditions
from configurator.prediction.fan_air import fan_face_speed
from configurator.prediction.trace import trace
from configurator.questions.answer import OfferedKit
from configurator.search.add_ons import AddOn
from configurator.search.rows import stages_of
from configurator.search.skeleton import loop_steps

Record = dict[str, float]


@dataclass(frozen=True)
class Course:
    """An event moment by moment: as stated, and with the bands at the end where the charge is warm or cool."""

    nominal: tuple[Record, ...]
    warm: tuple[Record, ...]
    cool: tuple[Record, ...]


def course_of(
    kit: OfferedKit,
    brief: Brief,
    driving: Driving,
    own: tuple[OwnPart, ...],
    catalogue: Catalogue,
    tables: Tables,
) -> Course:
    """One offered kit through the event three times: nominal and at both ends of its bands."""
    nominal, warm, cool = (
        tuple(trace_of(kit, brief, driving, own, catalogue, tables, end)) for end in (0, -1, +1)
    )
    return Course(nominal, warm, cool)


def around_core(record: Mapping[str, float]) -> tuple[str, str]:
    """Keys of the coolant that enters the first core of a record, and of that which leaves the last."""
    lumps = [key for key in record if key.endswith("_c") and not key.startswith(("charge_", "air_into_"))]
    cores = [index for index, key in enumerate(lumps) if key.startswith("core")]
    return lumps[cores[0] - 1], lumps[cores[-1]]


def trace_of(
    kit: OfferedKit,
    brief: Brief,
    driving: Driving,
    own: tuple[OwnPart, ...],
    catalogue: Catalogue,
    tables: Tables,
    end: int = 0,
) -> Iterator[dict[str, float]]:
    """Step one offered kit through the event and tell every half second; `end` of its bands as in `predict`."""
    mine = {held.part.id: held.part for held in own}
    parts: dict[str, Part] = {slot: mine.get(part) or catalogue[part] for slot, part in kit.parts}
    of_kind = {kind_of_slot(slot): part for slot, part in parts.items()}
    core, pump, reservoir, exchanger = (of_kind.get(kind) for kind in ("core", "pump", "reservoir", "exchanger"))
    assert isinstance(core, Core) and isinstance(pump, Pump) and isinstance(reservoir, Reservoir)
    exchangers = [exchanger] if isinstance(exchanger, Exchanger) else []
    bench = make_bench([core], exchangers, [pump], [reservoir])
    zones = {} if brief.bay is None else brief.bay.zones
    layout = next(layout for layout in catalogue.layouts if layout.id == kit.layout)
    slots = [slot for slot, part in kit.parts if isinstance(parts[slot], Exchanger)]
    airs = tuple(zone_air(zones.get(dict(kit.zones).get(slot, ""))) for slot in slots)
    loop = Loop(
        0,
        0 if exchangers else None,
        0,
        0,
        tuple(joint for joint in kit.joints if joint.medium == "coolant"),
        tuple(joint for joint in kit.joints if joint.medium == "charge"),
        airs[0] if airs else zone_air(None),
        stages_of(loop_steps(layout, brief.without)),
        airs,
        0.0 if brief.after_run_s is None else float(brief.after_run_s),
    )
    fan, timer = of_kind.get("fan"), of_kind.get("timer")
    if isinstance(fan, Fan) and exchangers:
        loop = AddOn(fan, face_speed_m_per_s=fan_face_speed(fan, exchangers[0])).on(loop)
    if isinstance(timer, Timer):
        loop = AddOn(timer=timer).on(loop)
    coolant = choose_coolant(brief)
    assert coolant is not None
    return trace(bench, make_columns(bench, [loop]), make_conditions(brief, driving, tables, coolant), end)
