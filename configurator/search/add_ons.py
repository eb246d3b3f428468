"""What a kit may have beside its loop where the car stands after its drive: a fan behind its exchanger, a timer.

A zone that takes a fan is the room behind (or before) the exchanger: the brief says so by naming it. A fan that
overhangs the exchanger is not offered; two exchangers would need two, so loops with twins get none. A kit hangs on one
battery: fan and timer go only with a pump of their own voltage.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from configurator.parts.kinds import Exchanger, Fan, Part, Pump, Timer
from configurator.prediction.bench import Loop
from configurator.prediction.fan_air import fan_face_speed
from configurator.prediction.zone_air import ZoneAir
from configurator.search.job import Job
from configurator.search.sieve import FITTED, Admissible, kinds_in_question


@dataclass(frozen=True)
class AddOn:
    """A fan in its zone, with the face speed that it gives, and a timer; either may be lacking."""

    fan: Fan | None = None
    zone: str = FITTED
    face_speed_m_per_s: float = 0.0
    timer: Timer | None = None

    @property
    def parts(self) -> tuple[tuple[str, Part], ...]:
        """Its parts by slot."""
        held: tuple[tuple[str, Part | None], ...] = (("fan", self.fan), ("timer", self.timer))
        return tuple((slot, part) for slot, part in held if part is not None)

    def goes_with(self, pump: Pump) -> bool:
        """Whether fan and timer are for the voltage of a kit's pump."""
        return all(part.volts == pump.volts for part in (self.fan, self.timer) if part is not None)

    @property
    def placed(self) -> tuple[tuple[str, str], ...]:
        """The zone of a fan that has to be placed."""
        return (("fan", self.zone),) if self.fan is not None and self.zone != FITTED else ()

    @property
    def current_a(self) -> float:
        """What the fan draws [A]."""
        return 0.0 if self.fan is None else float(self.fan.current_a)

    def on(self, loop: Loop) -> Loop:
        """A loop with the fan's air at its exchanger and the timer's after-run."""
        if not self.parts:
            return loop
        runs = loop.after_run_s if self.timer is None else max(loop.after_run_s, float(self.timer.runs_s))
        airs = tuple(self._fanned(air) for air in loop.airs)
        return replace(loop, air=self._fanned(loop.air), airs=airs, after_run_s=runs)

    def _fanned(self, air: ZoneAir) -> ZoneAir:
        return replace(air, fan_speed_m_per_s=max(air.fan_speed_m_per_s, self.face_speed_m_per_s))


class AddOns:
    """Every fan and timer that a job's kits may have; what the car has fitted is in all of them, where it counts.

    Where the bay is not measured no fan is offered: nobody has said that there is room behind the exchanger.
    """

    def __init__(self, job: Job, admissible: Admissible) -> None:
        """Nothing is offered where the brief names no standstill: then `admissible` holds no fan and no timer."""
        self._fans = [(fan, zone) for fan in admissible.fans for zone in admissible.zones[fan.id]]
        counts = [kind in kinds_in_question(job) and job.fitted(kind) is not None for kind in ("fan", "timer")]
        self._fan_fitted, timer_fitted = counts
        self._timers: tuple[Timer | None, ...] = (*(() if timer_fitted else (None,)), *admissible.timers)
        self._known: dict[str, tuple[AddOn, ...]] = {}

    def of(self, exchanger: Part | None, count: int) -> tuple[AddOn, ...]:
        """The add-ons of loops with so many of an exchanger; the first has the least of both."""
        if not isinstance(exchanger, Exchanger) or count != 1:
            return tuple(AddOn(timer=timer) for timer in self._timers)
        if exchanger.id not in self._known:
            fans = [*([] if self._fan_fitted else [AddOn()]), *self._behind(exchanger)]
            self._known[exchanger.id] = tuple(replace(fan, timer=timer) for fan in fans for timer in self._timers)
        return self._known[exchanger.id]

    def _behind(self, exchanger: Exchanger) -> Iterator[AddOn]:
        for fan, zone in self._fans:
            if self._fan_fitted or covers(exchanger, fan):
                yield AddOn(fan, zone, fan_face_speed(fan, exchanger))


def covers(exchanger: Exchanger, fan: Fan) -> bool:
    """Whether a fan lies within the box of an exchanger, as drawn or turned a quarter."""
    wide, high = float(exchanger.size.y_m), float(exchanger.size.z_m)
    sides = (float(fan.size.y_m), float(fan.size.z_m))
    return any(a <= wide + 1e-9 and b <= high + 1e-9 for a, b in (sides, sides[::-1]))
