"""Which briefs a shelf cannot serve, and which one part more would serve the most of them.

A brief is served where some kit keeps all its demands. A shelf that has no kit for a brief gets one from a candidate
only with a kit that holds it. So of a candidate that fills a slot the search leaves every other part of its kind out:
twins are two of the same part, and whatever the others could do they did not do without it. A candidate that is out by
itself is not searched for at all. Of pieces that serve joints or wiring the whole shelf is searched.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.joining.hose_joint import HoseJoiner
from configurator.parts.kinds import Part
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue, make_catalogue
from configurator.questions.searches import hose_joiner, kept, make_job, search
from configurator.search.hosts import hosted
from configurator.search.job import Job
from configurator.search.sieve import every_reason, kinds_in_question

FILL_SLOTS: Final = frozenset({"core", "exchanger", "pump", "reservoir", "cap", "fan", "timer"})
"""Kinds of which a kit holds one part, or two of the same."""


@dataclass(frozen=True)
class Asked:
    """One brief with its names looked up, and what it is called: its file."""

    file: str
    brief: Brief
    driving: Driving
    own: tuple[OwnPart, ...]


@dataclass(frozen=True)
class Served:
    """A brief and how many kits the shelf has for it."""

    file: str
    name: str
    kits: int


@dataclass(frozen=True)
class Helps:
    """A candidate and the files of the briefs that it would serve, of those that have no kit."""

    part: Part
    serves: tuple[str, ...]


@dataclass(frozen=True)
class Gaps:
    """Every brief as asked; every candidate, the one that serves most first, ties by price, then id."""

    briefs: tuple[Served, ...]
    candidates: tuple[Helps, ...]

    @property
    def unserved(self) -> tuple[Served, ...]:
        """The briefs without a kit."""
        return tuple(brief for brief in self.briefs if not brief.kits)

    @property
    def best(self) -> Helps | None:
        """The candidate that would serve the most, None where none would serve any."""
        return self.candidates[0] if self.candidates and self.candidates[0].serves else None


def shelf_gaps(
    asked: Sequence[Asked],
    candidates: Sequence[Part],
    catalogue: Catalogue,
    tables: Tables,
    *,
    tell: Callable[[str], None] = lambda words: None,
) -> Gaps:
    """Search every brief, then each that has no kit with each candidate. `tell` hears how far the work has come."""
    served = []
    helped: dict[str, list[str]] = {part.id: [] for part in candidates}
    for number, one in enumerate(asked, start=1):
        tell(f"brief {number} of {len(asked)}")
        job = _job(one, catalogue, tables)
        joiner = None if job is None else hose_joiner(job)
        count = 0 if job is None else len(kept(search(job, _quietly, joiner)))
        served.append(Served(one.file, one.brief.brief, count))
        if count or job is None:
            continue
        for place, part in enumerate(candidates, start=1):
            tell(f"brief {number} of {len(asked)}, candidate {place} of {len(candidates)}")
            if _serves(part, one, catalogue, tables, joiner):
                helped[part.id].append(one.file)
    found = [Helps(part, tuple(helped[part.id])) for part in candidates]
    order = sorted(found, key=lambda one: (-len(one.serves), one.part.price_cents, one.part.id))
    return Gaps(tuple(served), tuple(order))


def _serves(part: Part, one: Asked, catalogue: Catalogue, tables: Tables, joiner: HoseJoiner | None) -> bool:
    """Whether a brief that has no kit of the shelf has one with this part on it."""
    kind = part.kind
    if kind not in FILL_SLOTS:
        more = make_catalogue([*catalogue.parts.values(), part], catalogue.layouts)
        job = _job(one, more, tables)
        return job is not None and bool(kept(search(job, _quietly)))
    others = [other for other in catalogue.parts.values() if other.kind != kind]
    job = _job(one, make_catalogue([*others, part], catalogue.layouts), tables)
    if job is None or job.fitted(kind) is not None or kind not in kinds_in_question(job):
        return False
    if all(every_reason(of_layout, part) for of_layout in hosted(job)):
        return False
    return bool(kept(search(job, _quietly, joiner)))


def _job(one: Asked, catalogue: Catalogue, tables: Tables) -> Job | None:
    return make_job(one.brief, one.driving, one.own, catalogue, tables)


def _quietly(words: str) -> None:
    """A single search tells nothing."""
