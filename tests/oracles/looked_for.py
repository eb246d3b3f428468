"""The best-first search beside all kits there are: which come first, and whether each group left out was rightly so."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol, TypeVar
from unittest.mock import patch

from configurator.brief.bay import Bay
from configurator.fitting.kit_fit import Items
from configurator.fitting.placing import ZoneFit, fit_zone
from configurator.fitting.reaches import Needs
from configurator.joining.hose_joint import HoseJoiner
from configurator.parts.kinds import Part
from configurator.parts.kit import Kit
from configurator.prediction.bench import Bench
from configurator.questions.searches import Searched, hose_joiner, kept, make_job, missing, search
from configurator.ranking.order import ORDERS
from configurator.search import best_first, zone_memo
from configurator.search.best_so_far import BestSoFar
from configurator.search.fill import Candidate, predicted
from configurator.search.job import Job
from configurator.search.patience import UNHURRIED, Patience
from configurator.search.prices import Prices
from configurator.search.proof import Cut
from configurator.search.rows import Row
from configurator.search.sieve import FITTED, UNMEASURED
from tests.oracles.plain_kit import PlainKit, place_in_order
from tests.oracles.shelves import Shelf

EVERY = 10**9

FEW = 4
"""So many kits are predicted at first, not sixteen: so that most groups are judged against kits that are known."""

NO_ZONE = {FITTED, UNMEASURED}


@dataclass(frozen=True)
class Ask:
    """Which kits are asked for: so many by an order, of every kit or of the first of each choice."""

    top: int
    all_variants: bool = True
    order: str = "default"


ALL, SHORT, FIRST, THREE = Ask(EVERY), Ask(3, all_variants=False), Ask(1), Ask(3)
ASKS = (ALL, SHORT, FIRST, THREE)
EACH_CHOICE = Ask(EVERY, all_variants=False)


class Listable(Protocol):
    """A kit with its choice."""

    @property
    def choice(self) -> Any:
        """The choice that the short list counts by."""
        ...


K = TypeVar("K", bound=Listable)


def listed(in_order: Sequence[K], ask: Ask) -> list[K]:
    """What is asked for, of all kits in order."""
    if ask.all_variants:
        return list(in_order[: ask.top])
    first: dict[Any, K] = {}
    for kit in in_order:
        first.setdefault(kit.choice, kit)
    return list(first.values())[: ask.top]


class Asked:
    """One shelf's job, asked again and again.

    What hangs on nothing but a hose, a zone or a kit is found once for all its searches: runs, fits of zones, and the
    figures of kits, which are the same in any company (`tests/search/test_same_answer.py`).
    """

    def __init__(self, of: Shelf) -> None:
        """Nothing is searched yet."""
        self.job: Job | None = make_job(of.brief, of.driving, of.own, of.catalogue, of.tables)
        self._joiner: HoseJoiner | None = None if self.job is None else hose_joiner(self.job)
        self._whole: tuple[Searched, ...] | None = None
        self._fits: dict[object, ZoneFit] = {}
        self._kits: dict[Kit, Candidate] = {}

    @property
    def enough_k(self) -> float:
        """Margin beyond this counts no further."""
        return math.inf if self.job is None else self.job.conditions.enough_k

    def whole(self) -> tuple[Searched, ...]:
        """The search that looks at everything; made once."""
        if self._whole is None:
            self._whole = self._searched(None)
        return self._whole

    def best_first(self, ask: Ask, patience: Patience = UNHURRIED) -> tuple[Searched, ...]:
        """The search for what is asked alone, every group left out kept."""
        few = best_first.FIRST_BATCH if ask.top == EVERY else FEW
        return self._searched(BestSoFar(self.key_of(ask), ask.top, all_variants=ask.all_variants), few, patience)

    def _searched(
        self, best: BestSoFar | None, few: int = FEW, patience: Patience = UNHURRIED
    ) -> tuple[Searched, ...]:
        if self.job is None:
            return ()
        with (
            patch.object(zone_memo, "fit_zone", self._fit_zone),
            patch.object(best_first, "predicted", self._predicted),
            patch.object(best_first, "FIRST_BATCH", few),
        ):
            every = best is not None
            found = search(self.job, lambda words: None, self._joiner, patience, best=best, every_cut=every)
        self._kits |= {kit.kit: kit for kit in (*kept(found), *missing(found))}
        return found

    def _fit_zone(self, bay: Bay, zone: str, inside: Items, *, needs: Mapping[str, Needs], **more: Any) -> ZoneFit:
        key = (zone, *((slot, part.id, needs[slot]) for slot, part in inside), *more.items())
        if key not in self._fits:
            self._fits[key] = fit_zone(bay, zone, inside, needs=needs, **more)
        return self._fits[key]

    def _predicted(self, job: Job, bench: Bench, prices: Prices, rows: Sequence[Row]) -> Iterator[Candidate]:
        kits = [[_kit(job, row, cap) for cap in row.caps] for row in rows]
        new = [row for row, of_row in zip(rows, kits, strict=True) if not self._kits.keys() >= set(of_row)]
        self._kits |= {kit.kit: kit for kit in predicted(job, bench, prices, new)} if new else {}
        yield from (self._kits[kit] for of_row in kits for kit in of_row)

    def key_of(self, ask: Ask) -> Any:
        """The key of a kit by the order asked for."""
        return lambda scores: ORDERS[ask.order](scores, self.enough_k)

    def in_order(self, kits: Iterable[Candidate], ask: Ask) -> list[Candidate]:
        """Kits by the order asked for."""
        return sorted(kits, key=self.key_of(ask))


def _kit(job: Job, row: Row, cap: Part | None) -> Kit:
    """The kit of a row with a cap."""
    capped = () if cap is None else (("cap", cap.id),)
    added = ((slot, part.id) for slot, part in row.add_on.parts)
    return Kit(job.layout.id, (*row.parts, *capped, *added), row.zones)


def figures(kit: Candidate) -> tuple[object, ...]:
    """What two searches must say alike of one kit."""
    scores = (kit.proven, kit.margin_k, kit.margin_low_k, kit.clearance_mm, kit.price_cents, kit.mass_g)
    return (kit.kit, kit.ids, *scores, kit.missed)


def listed_apart(asked: Asked, ask: Ask, found: tuple[Searched, ...]) -> list[str]:
    """Where the best-first search does not list what a search of everything lists."""
    wanted, given = (listed(asked.in_order(kept(one), ask), ask) for one in (asked.whole(), found))
    return _apart([figures(kit) for kit in wanted], [figures(kit) for kit in given])


def unlike_the_whole(asked: Asked, ask: Ask, found: tuple[Searched, ...]) -> list[str]:
    """The same, and where a group was wrongly left out."""
    wrong = listed_apart(asked, ask, found)
    every = [*kept(asked.whole()), *missing(asked.whole())]
    known = {(one.kit, one.ids) for one in (*kept(found), *missing(found))}
    key = asked.key_of(ask)
    for kit in every:
        if (kit.kit, kit.ids) not in known:
            cuts = list(_covering(found, kit.kit.layout, kit.kit.parts, kit.kit.zones))
            numbers = () if math.isnan(kit.margin_low_k) else key(kit)[:-1]
            wrong += _wrongly_left_out(kit.ids, numbers, kit.missed, cuts)
    return wrong + _unreasoned(asked, ask, found)


def unlike_the_judge(judged: tuple[PlainKit, ...], asked: Asked, ask: Ask, found: tuple[Searched, ...]) -> list[str]:
    """The same beside the judge's kits, which keep every demand."""
    wanted = listed(judged, ask)
    given = listed(asked.in_order(kept(found), ask), ask) if found else []
    wrong = _apart([(kit.parts, kit.zones) for kit in wanted], [(kit.kit.parts, kit.kit.zones) for kit in given])
    for plain, kit in zip(wanted, given, strict=False):
        pairs = ((plain.margin_low_k, kit.margin_low_k, 0.0101), (plain.price_cents, kit.price_cents, 0))
        wrong += [f"{kit.ids}: {one} against {two}" for one, two, most in pairs if abs(one - two) > most]
    known = {(kit.kit.parts, kit.kit.zones) for kit in kept(found)}
    for plain in judged:
        if (plain.parts, plain.zones) not in known:
            cuts = list(_covering(found, "single", plain.parts, plain.zones))
            wrong += _wrongly_left_out(plain.ids, place_in_order(plain, asked.enough_k)[:-1], (), cuts)
    return wrong + (_unreasoned(asked, ask, found) if found else [])


def _apart(wanted: list[Any], given: list[Any]) -> list[str]:
    found = [f"only by looking at everything: {kit}" for kit in wanted if kit not in given]
    found += [f"only by the best first: {kit}" for kit in given if kit not in wanted]
    return found if found or wanted == given else [f"another order: {wanted} against {given}"]


def _covering(
    found: tuple[Searched, ...], layout: str, parts: Sequence[tuple[str, str]], zones: Sequence[tuple[str, str]]
) -> Iterator[Cut]:
    """The groups left out that hold a kit."""
    of_kind = {slot.split("-")[0]: part for slot, part in parts}
    where = dict(zones)
    for one in found:
        assert one.kits.proof is not None
        for cut in one.kits.proof.cuts if one.job.layout.id == layout else ():
            if (
                all(of_kind.get(kind) in ids for kind, ids in cut.parts.items())
                and all(zone in NO_ZONE or where.get(slot) == zone for slot, zone in cut.zones.items())
                and (cut.caps is None or of_kind.get("cap") in cut.caps[of_kind["pump"]])
            ):
                yield cut


def _wrongly_left_out(
    ids: tuple[str, ...], numbers: tuple[Any, ...], missed: tuple[str, ...], cuts: list[Cut]
) -> list[str]:
    """What is wrong with the groups that a kit was left out with; none is wrong for a kit that misses a demand."""
    if not cuts:
        return [] if missed else [f"kept, not looked at, and in no group left out: {ids}"]
    wrong = [f"{ids} with {numbers} comes before its group: {cut}" for cut in cuts if numbers and numbers < cut.key]
    limits = [cut for cut in cuts if cut.why in ("aim", "price", "mass")]
    return wrong + [f"{ids} keeps what its group misses: {cut}" for cut in limits if cut.why not in missed]


def _unreasoned(asked: Asked, ask: Ask, found: tuple[Searched, ...]) -> list[str]:
    """Groups left out for coming after a kit that they do not come after."""
    key = asked.key_of(ask)
    in_order = asked.in_order(kept(found), ask)
    offered = listed(in_order, ask)
    last = key(offered[-1])[:-1] if len(offered) == ask.top else None
    first_of = {kit.choice: key(kit)[:-1] for kit in reversed(in_order)}
    wrong = []
    for one in found:
        proof = one.kits.proof
        assert proof is not None and sum(proof.counts.values()) == len(proof.cuts)
        for cut in proof.cuts:
            if cut.why == "behind the last" and (last is None or not cut.key > last):
                wrong.append(f"not behind the last, {last}: {cut}")
            if cut.why == "behind its own choice":
                heat = tuple(cut.parts.get(kind, (None,))[0] for kind in ("core", "exchanger"))
                own = first_of.get(heat, first_of.get((*heat, one.job.layout.id)))
                if ask.all_variants or own is None or not cut.key > own:
                    wrong.append(f"not behind its own choice, {own}: {cut}")
        behind = [cut.key for cut in proof.cuts if cut.why == "behind the last"]
        if proof.least != min(behind, default=None):
            wrong.append(f"least {proof.least} of {behind}")
    return wrong
