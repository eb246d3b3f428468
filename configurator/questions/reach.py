"""What no kit of a shelf can be better than, whether it was looked at or not: bounds, from its parts alone."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.prediction.coolest import coolest_charge_k, free_flow
from configurator.questions.searches import RIGID, Searched
from configurator.search.prices import Prices


def coolest_k(found: Sequence[Searched], coolant_k: float) -> float:
    """The coolest charge that the best core leaves at the worst moment, with coolant that never warms [K]."""
    return min(
        coolest_charge_k(bench.core_surfaces, one.job.conditions, coolant_k, free_flow(bench), one.job.cores)
        for one in found
        for bench in (one.kits.bench,)
    )


def least_cents(found: Sequence[Searched]) -> int:
    """What no kit costs less than: of each layout's slots the cheapest parts, without joints, wiring and coolant."""
    return min(
        sum(_cheapest(one, slot.kind) * slot.least for slot in one.job.layout.slots if slot.kind in RIGID)
        for one in found
    )


def _cheapest(one: Searched, kind: str) -> int:
    prices = Prices(one.job)
    return min((prices.part(part.id) for part in one.parts.of(kind)), default=0)
