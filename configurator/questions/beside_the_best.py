"""The few parts of a large shelf among which a part is looked at: those of its own best kits and of the best of all."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from configurator.parts.kinds import IN_LOOP, Part
from configurator.parts.shelf import Catalogue, make_catalogue
from configurator.questions.best_alone import asked_for, that_come_near
from configurator.questions.few_parts import few, with_parts
from configurator.questions.searches import LARGE_S, LOOKED_AT_WHOLE, Searched, all_choices, cut, kept, search
from configurator.questions.why_answer import Beside
from configurator.ranking.order import ranked
from configurator.ranking.short_list import one_per_choice
from configurator.search.job import Job
from configurator.search.patience import Patience
from configurator.search.sieve import every_reason

KITS: Final = 5
"""How many of the best kits of the whole shelf a part is held against: the short list of a suggestion."""

OF_PART: Final = 3
PART_S: Final = 10.0
"""How many kits with a part are looked for, and how long [s]."""


def beside_the_best(job: Job, asked: Sequence[Part], tell: Callable[[str], None]) -> tuple[Catalogue, Beside]:
    """The parts of the best kits of a large shelf, of the best with each part that is asked for, and all small pieces.

    Where there is no kit those that come near; where there is none of these either, a few parts of each kind.
    """
    whole = _best(job, KITS, LARGE_S, tell)
    shelf = with_parts(job.catalogue, few(job.catalogue, whole), _held(whole, KITS))
    stopped = cut(whole)
    for part in asked:
        shelf = with_parts(job.catalogue, shelf, (part.id,))
        if part.kind in IN_LOOP and not every_reason(job, part):
            alone = _of_its_kind_alone(job, part)
            found = _best(alone, OF_PART, PART_S, tell)
            companions = [*_held(found, OF_PART)] or [*few(alone.catalogue, found).parts]
            shelf = with_parts(job.catalogue, shelf, companions)
            stopped = stopped or cut(found)
    in_loop = sum(part.kind in IN_LOOP for part in shelf.parts.values())
    return shelf, Beside(all_choices(job), in_loop, stopped)


def _best(job: Job, count: int, seconds: float, tell: Callable[[str], None]) -> tuple[Searched, ...]:
    """A search for the best kits; where there is none, for those that come near."""
    best = asked_for(job, "default", count, all_variants=False)
    found = search(job, tell, best=best, beyond=LOOKED_AT_WHOLE, most_s=seconds)
    if kept(found) or not any(one.kits.proof for one in found):
        return found
    return that_come_near(job, count, tell, Patience.of(seconds))


def _held(found: Sequence[Searched], count: int) -> Iterator[str]:
    """The parts of the first kits of a search, one for each core and exchanger."""
    enough_k = found[0].job.conditions.enough_k if found else 0.0
    for kit in one_per_choice(ranked(kept(found), "default", enough_k))[:count]:
        yield from (part for _, part in kit.kit.parts)


def _of_its_kind_alone(job: Job, part: Part) -> Job:
    """The job with this part as the only one of its kind, unless another stays in the car."""
    parts = [other for other in job.catalogue.parts.values() if other.kind != part.kind or other.id == part.id]
    own = tuple(held for held in job.own if held.fitted or held.part.kind != part.kind or held.part.id == part.id)
    return replace(job, own=own, catalogue=make_catalogue(parts, job.catalogue.layouts))
