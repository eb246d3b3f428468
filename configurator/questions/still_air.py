"""Which front exchangers of a kit stand in still air for the whole drive."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.foundations.verdicts import Caution
from configurator.prediction.bench import Loop
from configurator.prediction.conditions import Moment
from configurator.prediction.zone_air import ZoneAir
from configurator.reasons.air_cautions import no_air
from configurator.search.job import Job


def still_air(job: Job, loop: Loop, fronts: Sequence[str]) -> Caution | None:
    """The caution of exchangers that no air meets in any moment of the drive: no ram, no fan, no stated speed.

    `fronts`: the slots of those in circuit, in flow order, as `loop.airs` are.
    """
    moments = [piece.moment for piece in job.conditions.pieces]
    still = [
        slot
        for slot, air in zip(fronts, loop.airs, strict=True)
        if not any(_blows(air, moment) for moment in moments)
    ]
    if not still:
        return None
    least = {slot.slot: slot.least for slot in job.layout.slots}
    held = job.fitted("exchanger") is not None or bool(job.wanted("exchanger"))
    return no_air(still, can_go=not held and all(least[slot] == 0 for slot in fronts))


def _blows(air: ZoneAir, moment: Moment) -> bool:
    return air.face_speed_m_per_s > 0 or air.ram_share * moment.speed_m_per_s > 0 or (
        moment.fan and air.fan_speed_m_per_s > 0
    )
