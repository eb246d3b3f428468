"""The customer's other question: why is this part not in my kit, or why does another stand before it?"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from typing import Any

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.foundations.verdicts import Verdict
from configurator.parts.kinds import IN_LOOP, Core, Fan, Part, Pump, RigidPart
from configurator.parts.kit import Joint
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.questions.beside_the_best import beside_the_best
from configurator.questions.pieces_in_kits import PiecesInKits
from configurator.questions.searches import (
    Searched,
    around_cores,
    exclusions,
    is_large,
    kept,
    make_job,
    missing,
    search,
)
from configurator.questions.shortfalls import part_of, shortfalls
from configurator.questions.suggest import by_what_is_missed, frozen, no_layout
from configurator.questions.why_answer import BestKit, PartStory, Whys
from configurator.questions.why_first import behind
from configurator.ranking.order import ranked
from configurator.ranking.short_list import one_per_choice
from configurator.search.bill import wiring_lines
from configurator.search.fill import Candidate
from configurator.search.job import Exclusion, Job
from configurator.search.left_out import missed, nearness, not_joined
from configurator.search.pairings import pairings
from configurator.search.sieve import every_reason, kinds_in_question


def why(
    brief: Brief,
    driving: Driving,
    own: tuple[OwnPart, ...],
    catalogue: Catalogue,
    tables: Tables,
    asked: Sequence[str] = (),
    tell: Callable[[str], None] = lambda words: None,
) -> Whys:
    """Tell of each part asked for why it is in or out; of none asked for, one reason for every part that is out.

    `asked` holds ids of the shelf or of what the customer has; `tell` hears how far the work has come. Of a large shelf
    a part is looked at beside the best kits alone; of none asked for every kit is looked at: raises TooManyKits where
    there are too many.
    """
    parts = {**catalogue.parts, **{held.part.id: held.part for held in own}}
    job = make_job(brief, driving, own, catalogue, tables)
    beside = None
    if job is not None and asked and is_large(job):
        looked_at, beside = beside_the_best(job, [parts[part_id] for part_id in asked], tell)
        job = replace(job, catalogue=looked_at)
    found = () if job is None else search(job, tell)
    if job is None or not found:
        stop = frozen(brief) if job is None else no_layout(job)
        stories = [_stopped(parts[part_id], stop) for part_id in asked or sorted(parts)]
        return _whys(brief, 0, not asked, stories)
    shelf = _Stories(job, found)
    stories = [shelf.whole(parts[part_id]) for part_id in asked]
    if not asked:
        stories = [story for _, part in sorted(parts.items()) for story in shelf.out(part)]
    return replace(_whys(brief, len(kept(found)), not asked, stories), beside=beside)


def _whys(brief: Brief, kits: int, every_part: bool, stories: Sequence[PartStory]) -> Whys:
    rises = None if brief.aim.charge_air_k is not None else float(brief.site.air_k)
    return Whys(brief.brief, brief.currency, kits, every_part, rises, tuple(stories))


def _stopped(part: Part, stop: Verdict) -> PartStory:
    reason = Exclusion(part.id, "all-stopped", None, None, "", stop.text)
    return PartStory(part.id, part.name, part.kind, (reason,))


def _unjoined(one: Searched, part: Part) -> Iterator[Exclusion]:
    """Why a core that is out by itself could not be joined to the engine either."""
    joined = around_cores(one, one.job)(part) if isinstance(part, Core) else ()
    if isinstance(joined, Verdict):
        yield not_joined(part.id, joined)


class _Stories:
    """Tells parts of one search; what all stories share is made once."""

    def __init__(self, job: Job, found: Sequence[Searched]) -> None:
        self._job = job
        self._found = found
        self._enough_k = job.conditions.enough_k
        self._kept = ranked(kept(found), "default", self._enough_k)
        self._short = one_per_choice(self._kept)
        self._reasons = {reason.part: reason for reason in exclusions(found)}
        self._wired: dict[str, frozenset[str]] = {}
        self._joined: dict[int, frozenset[str]] = {}
        self._pieces_in_kits = PiecesInKits(job, found, self._kept or sorted(missing(found), key=nearness))

    def out(self, part: Part) -> Iterator[PartStory]:
        """A part with its one reason, where it is out."""
        reason = self._reason(part)
        if reason is not None:
            yield PartStory(part.id, part.name, part.kind, (reason,))

    def whole(self, part: Part) -> PartStory:
        """A part's whole story."""
        reason = self._reason(part)
        if reason is None:
            holding = [kit for kit in self._kept if part.id in self._held(kit)]
            best = self._ranked(holding[0], part.id)
            return PartStory(part.id, part.name, part.kind, (), kits=len(holding), zones=self._zones(part), best=best)
        if any(reason in one.parts.exclusions for one in self._found):
            return self._alone(part, reason)
        nearest = self._nearest(part.id, nearness)
        if nearest is not None:
            return self._missing(part, reason, nearest)
        one = next((one for one in self._found if reason in one.exclusions), None)
        story = PartStory(part.id, part.name, part.kind, (reason,), zones=self._zones(part))
        if one is None:
            return story
        return replace(story, pairings=pairings(one.maker, part.id), crowd=_crowd(one, part.id))

    def _alone(self, part: Part, reason: Exclusion) -> PartStory:
        one = next(one for one in self._found if reason in one.parts.exclusions)
        reasons = (*every_reason(one.job, part), *_unjoined(one, part))
        return PartStory(part.id, part.name, part.kind, reasons, alone=True, zones=self._zones(part))

    def _missing(self, part: Part, reason: Exclusion, nearest: Candidate) -> PartStory:
        fewest = self._nearest(part.id, by_what_is_missed) or nearest
        return PartStory(
            part.id,
            part.name,
            part.kind,
            (reason,),
            zones=self._zones(part),
            best=self._short_of(nearest, part.id),
            fewer=self._short_of(fewest, part.id) if len(fewest.missed) < len(nearest.missed) else None,
        )

    def _reason(self, part: Part) -> Exclusion | None:
        """Why a part is in no kit; None where it is in one."""
        kind = part.kind
        if kind not in IN_LOOP:
            return self._reason_of_piece(part)
        if part.id in self._reasons:
            return self._reasons[part.id]
        fitted = self._job.fitted(kind)
        if fitted is not None and fitted.part.id != part.id:
            return Exclusion(part.id, "place-taken", fitted.part.id, None, "", kind)
        if kind not in kinds_in_question(self._job):
            return Exclusion(part.id, "not-asked-for", None, None, "", kind)
        return None

    def _reason_of_piece(self, part: Part) -> Exclusion | None:
        """The same of what serves joints and wiring."""
        if part.id in self._serving:
            return None
        if part not in self._job.serving(type(part)):
            unwelcome = every_reason(self._job, part)  # not wanted, not in stock; a customer's own piece may be neither
            if unwelcome:
                return unwelcome[0]
        nearest = self._nearest(part.id, nearness)
        if nearest is not None:
            return missed(self._job, part.id, nearest)
        if not self._kept and not any(one.kits.missing for one in self._found):
            return Exclusion(part.id, "no-kit-to-serve", None, None, "")
        return self._pieces_in_kits.reason(part)

    @cached_property
    def _serving(self) -> frozenset[str]:
        return frozenset(piece for kit in self._kept for piece in self._held(kit))

    def _held(self, kit: Candidate) -> frozenset[str]:
        """Everything a kit holds: parts, pieces of joints, wiring."""
        held = {part for _, part in kit.kit.parts}
        for joint in kit.joints:
            held |= self._pieces(joint)
        for motor in (kit.kit.part("pump"), kit.kit.part("fan")):
            held |= self._wiring(motor) if motor is not None else frozenset()
        return frozenset(held)

    def _pieces(self, joint: Joint) -> frozenset[str]:
        if id(joint) not in self._joined:  # the kits keep their joints, so identities stay theirs
            needs = {need.part for need in joint.needs if need.part is not None}
            hose = set() if joint.hose is None else {joint.hose}
            self._joined[id(joint)] = frozenset({*joint.through, *hose, *needs})
        return self._joined[id(joint)]

    def _wiring(self, motor_id: str) -> frozenset[str]:
        if motor_id not in self._wired:
            motor = part_of(self._job, motor_id)
            assert isinstance(motor, Pump | Fan)
            lines = wiring_lines(motor, self._job.serving)
            self._wired[motor_id] = frozenset(line.part for line in lines if line.part is not None)
        return self._wired[motor_id]

    def _nearest(self, part_id: str, key: Callable[[Candidate], Any]) -> Candidate | None:
        holding = (kit for kit in missing(self._found) if part_id in self._held(kit))
        return min(holding, key=key, default=None)

    def _zones(self, part: Part) -> tuple[str, ...]:
        if not isinstance(part, RigidPart):
            return ()
        return next((zones for one in self._found if (zones := one.parts.zones.get(part.id))), ())

    def _ranked(self, kit: Candidate, part_id: str) -> BestKit:
        """A kit that keeps every demand, and what puts kit 1 before it."""
        listed = next(place for place, one in enumerate(self._short, start=1) if one.choice == kit.choice)
        return replace(
            self._best(kit, part_id),
            rank=1 + self._kept.index(kit),
            of=len(self._kept),
            listed=listed,
            stands=self._short[listed - 1] is kit,
            behind=behind(self._kept[0], kit, self._enough_k),
        )

    def _short_of(self, kit: Candidate, part_id: str) -> BestKit:
        """A kit that misses something, with each thing that it misses."""
        one = next(one for one in self._found if one.job.layout.id == kit.kit.layout)
        return replace(self._best(kit, part_id), shortfalls=shortfalls(one.job, one.kits.bench, kit))

    def _best(self, kit: Candidate, part_id: str) -> BestKit:
        slots = {slot for slot, part in kit.kit.parts if part == part_id}
        joints = tuple(
            joint
            for joint in kit.joints
            if part_id in self._pieces(joint) or slots & set(joint.slots)
        )
        return BestKit(
            kit.kit.parts, kit.kit.zones, joints, kit.kit.layout, kit.price_cents, kit.margin_k, kit.proven
        )


def _crowd(searched: Searched, part_id: str) -> tuple[str, tuple[str, ...]] | None:
    """The zone of the first company in which a part did not go in, and who was in it."""
    crowd = searched.kits.crowds.get(part_id)
    return None if crowd is None else (crowd.zone, tuple(part.id for _, part in crowd.items if part.id != part_id))
