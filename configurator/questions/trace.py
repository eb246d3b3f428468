"""The course of one offered kit through its event, for those who want to see or check the sums."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.parts.kinds import Part
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.prediction.conditions import choose_coolant, make_conditions
from configurator.prediction.trace import trace
from configurator.questions.answer import OfferedKit
from configurator.questions.one_loop import one_loop

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
    coolant = choose_coolant(brief)
    assert coolant is not None
    bench, columns = one_loop(kit, parts, brief, catalogue)
    return trace(bench, columns, make_conditions(brief, driving, tables, coolant), end)
