"""Without a measured bay: which gaps to measure for, so that the first kit can be judged."""

from __future__ import annotations

import math
from collections.abc import Sequence

from configurator.parts.kinds import Part, RigidPart
from configurator.parts.layouts import kind_of_slot
from configurator.search.fill import Candidate
from configurator.search.job import Job


def sizes_to_measure(job: Job, listed: Sequence[Candidate]) -> tuple[str, ...]:
    """A line for each rigid part of the first kit; nothing where the bay has been measured or there is no kit."""
    if job.brief.bay is not None or not listed:
        return ()
    found = []
    for slot, part_id in listed[0].kit.parts:
        part: Part = next((own.part for own in job.own if own.part.id == part_id), None) or job.catalogue[part_id]
        if isinstance(part, RigidPart) and job.fitted(kind_of_slot(slot)) is None:
            size = part.size
            long, wide, high = (math.ceil(float(side) * 1000 - 1e-6) for side in (size.x_m, size.y_m, size.z_m))
            found.append(f"{slot}: a gap for {long} x {wide} x {high} mm (its x, y and z as drawn), {part.name}")
    return tuple(found)
