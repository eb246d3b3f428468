"""The front exchangers of a loop with one core, as bounds see them: one, or two alike that may stand in line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from configurator.prediction.stages import Stage, Stages
from configurator.prediction.zone_air import ZoneAir

_ONE_FRONT, _TWO_ABREAST = Stage("exchanger"), Stage("exchanger", 2)


@dataclass(frozen=True)
class Fronts:
    """The front exchangers of a loop, one or two alike: what the coolant passes, and the air of each, in either order.

    `shadows`: the share of the face of each that may stand in the air of the other.
    """

    stages: Stages
    airs: tuple[ZoneAir, ...]
    shadows: tuple[float, ...] = (0.0, 0.0)

    @property
    def bounded(self) -> bool:
        """Whether no coolant is ever colder than all: not where a rear one is said to lack what warms the front one."""
        return all(air.preheat_k >= share * other.preheat_k for share, air, other in self._each())

    @property
    def warmer_k(self) -> float:
        """How much warmer than the coolant the air may be that one has warmed for the other."""
        warmer = (max(air.preheat_k - other.preheat_k, 0.0) for share, air, other in self._each() if share > 0.0)
        return max(warmer, default=0.0)

    def coldest_air_k(self, ambient_k: float, coolant_k: float) -> list[float]:
        """What each meets at least where no coolant is colder than so much [K]."""
        return [
            ambient_k + air.preheat_k - share * max(ambient_k + other.preheat_k - coolant_k, 0.0)
            for share, air, other in self._each()
        ]

    def _each(self) -> Iterator[tuple[float, ZoneAir, ZoneAir]]:
        """Of each its share, its air, and that of the other one, or its own where there is none."""
        return zip(self.shadows, self.airs, self.airs[::-1], strict=False)


def in_turn(stages: Stages) -> bool:
    """Whether a bound by heat says anything of a loop: one core, then exchangers that no valve can shut out."""
    first, *fronts = stages
    return first == Stage("core") and bool(fronts) and all(one in {_ONE_FRONT, _TWO_ABREAST} for one in fronts)
