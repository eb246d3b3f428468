"""Which demands of a brief leave no kit together: each is dropped in turn, and named where there is one without it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from configurator.brief.request import Brief
from configurator.questions.changed_brief import dropped, without_limits
from configurator.questions.few_parts import best_of, few, holds_all, kept_out, warm_kits
from configurator.questions.further import Further
from configurator.questions.searches import Searched, cut, kept
from configurator.search.loosening import Wanting, smallest_conflict


@dataclass(frozen=True)
class Demand:
    """A demand of the brief as a conflict names it; `zones`: of which, where it is one on room or air."""

    code: str
    zones: tuple[str, ...] = ()

    @property
    def called(self) -> str:
        """What it is called where it was not tried to the end, as levers are: each room by its zone."""
        return f"{self.code} of {' and '.join(self.zones)}" if self.zones else self.code


def conflict(
    further: Further, kits: Sequence[Wanting], found: Sequence[Searched], sure: Sequence[Demand] = ()
) -> tuple[Demand, ...]:
    """A smallest set: each demand is dropped in turn, and named where there is a kit without it.

    `sure`: without each of these there is a kit, as is known already.
    `found`: the search that found nothing; `kits`: what each kit of a search without limits needs. A demand that makes
    no difference stays dropped. Where kits break limits, the size of a zone is named if a larger one has a kit of the
    parts that come nearest; if none is found, it goes unnamed as part of the car. A demand without which the shelf is
    too large to be looked at whole is not tried to the end.
    """
    catalogue = further.job.catalogue
    asked, named = further.asked, [*sure]
    waiting = [*_groups(further.job.brief, together=not kits)]
    while waiting:
        group = waiting.pop(0)
        if further.patience.over():
            further.not_tried += [demand.called for demand in group]
            continue
        if group[0].zones and kits and not (kept_out(found, group[0].zones) or warm_kits(found)):
            continue
        less = asked
        for demand in group:
            less = dropped(less, demand.code, demand.zones)
        zones = tuple(zone for demand in group for zone in demand.zones)
        less = without_limits(less)
        shelf = few(catalogue, found, zones)
        wider = further.of_few(less, shelf)
        of_wider = further.wanting(wider)
        some = any(not needs.needs for needs in of_wider)
        if not some and zones and kits:
            continue
        if not some and not holds_all(catalogue, shelf):
            # Of a large shelf the first kit alone is looked for: enough where there is none whose limits are compared.
            if further.spent or (kits and further.is_large(less)):
                further.not_tried += [demand.called for demand in group]
                continue
            wider = further.whole(less)
            of_wider = further.wanting(wider)
            some = any(not needs.needs for needs in of_wider)
            if not some and cut(wider):
                further.not_tried += [demand.called for demand in group]
                continue
            if better := kept(wider):
                further.best |= best_of(better)
        if not some:
            asked, kits, found = less, of_wider, wider
        elif len(group) > 1:
            waiting = [*((demand,) for demand in group), *waiting]
        else:
            named.append(group[0])
    limits = smallest_conflict(kits) if kits else ()
    return (*(Demand(code) for code in limits), *named)


def also_alone(further: Further, found: Sequence[Searched], named: Demand) -> Iterator[Demand]:
    """Rooms that leave no kit by themselves, beside the one demand that does: whatever else is given up.

    `found`: the search that found nothing.
    """
    every = [demand for group in _groups(further.job.brief, together=False) for demand in group]
    for room in (demand for demand in every if demand.zones and demand != named):
        if not kept_out(found, room.zones):
            continue
        less = without_limits(further.asked)
        for demand in every:
            less = less if demand == room else dropped(less, demand.code, demand.zones)
        if further.any_of(less, few(further.job.catalogue, found, room.zones)):
            continue
        if further.patience.over() or further.is_large(less):
            further.not_tried.append(room.called)
        elif not kept(further.whole(less)):
            yield room


def _groups(brief: Brief, *, together: bool) -> Iterator[tuple[Demand, ...]]:
    """The demands that are no limits; those of a group are dropped at once before each by itself."""
    if brief.wanted:
        yield (Demand("wanted"),)
    if brief.without:
        yield (Demand("without"),)
    if brief.in_stock:
        yield (Demand("in_stock"),)
    yield (Demand("power"), Demand("driving"))
    zones = {} if brief.bay is None else brief.bay.zones
    fronts = tuple(name for name, zone in zones.items() if "exchanger" in zone.takes)
    rooms = [Demand("room", (name,)) for name in zones if name not in fronts]
    of_zones = (*((Demand("front area", fronts),) if fronts else ()), *rooms)
    if not together:
        yield from ((demand,) for demand in of_zones)
    elif of_zones:
        yield of_zones
