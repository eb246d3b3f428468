"""The pressures of one job's loops, and which of them come to the same for everything that is joined."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping
from itertools import product

from configurator.joining.ratings import coolant_design_pa_gauge
from configurator.parts.kinds import Adapter, Cap, Hose, Pump, RigidPart
from configurator.search.job import Job
from configurator.search.sieve import Admissible

NO_CAP = "no cap"


class Pressures:
    """What pumps and caps make, against all that the shelf's hoses, adapters and admissible parts are rated at."""

    def __init__(self, job: Job, admissible: Admissible, caps: Mapping[str, Cap]) -> None:
        """`caps`: one for each class of caps, by its name."""
        self._caps = caps
        self._height_m = job.liquid.most_m
        self._pieces = sorted(set(_of_pieces(job)))
        self._all = sorted({*self._pieces, *_of_parts(admissible)})

    def design(self, pump: Pump, cap: str, *, after_pump: bool) -> float:
        """What a place must stand with a pump and a cap [Pa gauge]."""
        opens = 0.0 if cap == NO_CAP else float(self._caps[cap].opens_pa_gauge)
        return coolant_design_pa_gauge(opens, pump.dead_head_pa, self._height_m, after_pump=after_pump)

    def step(self, design_pa: float) -> float:
        """The lowest rating on the shelf that holds a design pressure: two designs with the same step join alike.

        Above every rating the design itself: pieces that state none may still serve, unproven.
        """
        return next((rating for rating in self._pieces if rating >= design_pa), design_pa)

    def makes(self, pump: Pump) -> tuple[int, ...]:
        """How many ratings each pressure exceeds that a pump makes: by cap, before it and behind it."""
        return tuple(
            bisect_left(self._all, self.design(pump, cap, after_pump=after))
            for cap, after in product((NO_CAP, *self._caps), (True, False))
        )


def _of_pieces(job: Job) -> Iterator[float]:
    """Every pressure that a hose or coolant adapter of the shelf is rated at [Pa gauge]."""
    adapters = (adapter for adapter in job.serving(Adapter) if adapter.medium == "coolant")
    ratings = (
        *(hose.working_pa_gauge for hose in job.serving(Hose)),
        *(adapter.through.rating.working_pa_gauge for adapter in adapters),
    )
    return (float(rating) for rating in ratings if rating is not None)


def _of_parts(admissible: Admissible) -> Iterator[float]:
    rigid: Iterable[RigidPart] = (
        *admissible.cores, *admissible.exchangers, *admissible.pumps, *admissible.reservoirs,
    )  # fmt: skip
    ratings = (part.passages()["coolant"].rating.working_pa_gauge for part in rigid)
    return (float(rating) for rating in ratings if rating is not None)
