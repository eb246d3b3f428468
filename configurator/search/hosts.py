"""Which layouts a brief can host: only these are searched."""

from __future__ import annotations

from dataclasses import replace

from configurator.parts.kinds import Valve
from configurator.parts.layouts import HEAT_KINDS, Layout
from configurator.search.job import Job


def hosted(job: Job) -> tuple[Job, ...]:
    """The job once for each layout that its brief can host, by id.

    Layouts that the brief names are the only ones in question. Twins are tried where the brief names their layout;
    else two exchangers where two zones take one, and two cores where the charger has two outlets. Of a part that is
    fitted already there is only one, and of a kind that is not wanted none. A bypass is tried where the brief names its
    layout; else where the car has an exchanger that stays and there is ice, which it would warm in circuit.
    """
    named = job.brief.layouts
    layouts = sorted(job.catalogue.layouts, key=lambda layout: layout.id)
    return tuple(
        replace(job, layout=layout)
        for layout in layouts
        if (not named or layout.id in named)
        and _bypass(job, layout)
        and all(_hosts(job, layout, kind) for kind in HEAT_KINDS)
    )


def _bypass(job: Job, layout: Layout) -> bool:
    if layout.bypass is None:
        return True
    if not job.serving(Valve):
        return False
    asked = layout.id in job.brief.layouts or (job.brief.ice is not None and job.fitted("exchanger") is not None)
    return asked and "exchanger" not in job.brief.without


def _hosts(job: Job, layout: Layout, kind: str) -> bool:
    brief = job.brief
    if layout.count(kind) < 2:
        return True
    if job.fitted(kind) is not None or kind in brief.without:
        return False
    if layout.id in brief.layouts:
        return True
    if kind == "core":
        return brief.engine.charger_outlets > 1
    return brief.bay is not None and sum(kind in zone.takes for zone in brief.bay.zones.values()) > 1
