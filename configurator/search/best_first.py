"""The best first: only kits that could still be among those asked for are placed and predicted, and nothing is missed.

Kits are looked at in groups, from coarse to fine (`search/opening.py`). Of every group it is known what none of its
kits can be better than (`search/bounds.py`). The most hopeful group is opened first. Once as many kits as were asked
for are known, a group that can only come after the last of them is left out, and when nothing else is left the search
is over.
"""

from __future__ import annotations

import heapq
from collections import Counter
from collections.abc import Callable, Mapping
from itertools import islice

from configurator.prediction.bench import make_bench
from configurator.search.best_so_far import BestSoFar
from configurator.search.bounds import Bounds, Hoped
from configurator.search.charge_pipes import ChargePipes
from configurator.search.fill import Candidate, Filled, predicted
from configurator.search.groups import Group, Waiting
from configurator.search.heat_bounds import HeatBounds
from configurator.search.job import Job
from configurator.search.nearby import Nearby
from configurator.search.opening import Opening
from configurator.search.patience import UNHURRIED, Patience
from configurator.search.prices import Prices
from configurator.search.proof import Cut, Key, Proof, Why
from configurator.search.rows import Row, RowMaker
from configurator.search.sieve import Admissible
from configurator.search.skeleton import HEAT
from configurator.search.skeletons import SkeletonMaker

FIRST_BATCH, MOST_AT_ONCE = 16, 512
"""Kits are predicted together. The first few come early, for what they are decides what need not be looked at."""

EARLY, STARTS = 0.25, 3
"""Where this share of the time has gone without a kit, one is looked for from kit to kit: from the best of so many."""


class BestFirst:
    """The search of one layout."""

    def __init__(
        self,
        job: Job,
        admissible: Admissible,
        maker: SkeletonMaker,
        charge: ChargePipes,
        best: BestSoFar,
        *,
        every_cut: bool = False,
    ) -> None:
        """`best`: what is asked for, and what other layouts have found; `every_cut`: keep each group left out."""
        self._job = job
        self._maker = maker
        self._best = best
        self._every_cut = every_cut
        self._rows = RowMaker(job, admissible, charge)
        self._bench = make_bench(admissible.cores, admissible.exchangers, admissible.pumps, admissible.reservoirs)
        self._prices = Prices(job)
        bounds = Bounds(job, admissible, self._bench, self._prices)
        self._opening = Opening(
            admissible, maker, self._rows, bounds, HeatBounds(job, self._bench), self._prices, best.order
        )
        self._twins = any(count > 1 for count in self._opening.counts.values())
        self._heap: list[tuple[Key, int, Waiting, int]] = []
        self._pushed = 0
        self._left_out: Counter[Why] = Counter()
        self._cuts: list[Cut] = []
        self._least: Key | None = None
        self._kits: dict[tuple[str, ...], Candidate] = {}
        self._predicted = 0
        self._found = False

    def run(self, tell: Callable[[str], None] = lambda words: None, patience: Patience = UNHURRIED) -> Filled:
        """Search until no group is left that could hold one of the kits asked for, or patience ends."""
        early = patience.rest(EARLY)
        self._push(self._opening.classes())
        batch: list[Row] = []
        at_once, cut, climbed = FIRST_BATCH, False, False
        while self._heap or batch:
            if early.over() and not self._found and not climbed:
                climbed = True
                self._climb(tell, patience)
            cut = patience.over()
            if cut:
                break
            done = not self._heap or self._after_the_last(self._heap[0][0])
            if batch and (done or len(batch) >= at_once):
                self._predict(batch, tell)
                batch, at_once = [], min(2 * at_once, MOST_AT_ONCE)
            elif done:
                break
            else:
                batch += self._open_one()
        proof = Proof(self._opening.choices(), self._opening.placed, self._predicted, *self._what_is_left(cut))
        kept = tuple(kit for kit in self._kits.values() if not kit.missed)
        missing = tuple(kit for kit in self._kits.values() if kit.missed)
        told = self._rows.joined, self._rows.unjoined_charge, self._rows.crowds
        return Filled(kept, missing, self._predicted, self._bench, *told, cut=cut, proof=proof)

    def _climb(self, tell: Callable[[str], None], patience: Patience) -> None:
        """From the best of some kits to better ones that differ in one part; from others again, until one is found.

        Nothing is left out by it: what is found is only known early.
        """
        nearby = Nearby(self._maker, self._rows)
        starts, reached = nearby.anywhere(patience), set[tuple[str, ...]]()
        while some := self._predict([*islice(starts, STARTS)], tell):
            best = min(some, key=self._nearest)
            while best.ids not in reached and not patience.over():
                reached.add(best.ids)
                best = min([best, *self._predict([*nearby.of(best, patience)], tell)], key=self._nearest)
            if self._found or patience.over():
                break

    def _nearest(self, kit: Candidate) -> tuple[object, ...]:
        """Kits that keep every demand first, in their order; of others those that miss least."""
        if kit.missed:
            return 1, len(kit.missed), -min(kit.margin_k, 0.0), kit.price_cents, kit.ids
        return 0, *self._best.order(kit)

    def _open_one(self) -> list[Row]:
        """Open the most hopeful group; a single loop is given back, to be predicted."""
        key, _, listed, at = heapq.heappop(self._heap)
        if at + 1 < len(listed):
            self._pushed += 1
            heapq.heappush(self._heap, (listed.key(at + 1), self._pushed, listed, at + 1))
        group = listed.group(at)
        why = self._hopeless(group, listed.hoped(at), key)
        if why is not None:
            self._leave_out(group, key, why)
        elif group.row is not None:
            return [group.row]
        elif group.opened is not None:
            for smaller in group.opened():
                self._push(smaller)
        return []

    def _push(self, listed: Waiting) -> None:
        """Let a list wait."""
        self._shorten(listed, 0)
        if len(listed):
            self._pushed += 1
            heapq.heappush(self._heap, (listed.key(0), self._pushed, listed, 0))

    def _shorten(self, listed: Waiting, at: int) -> None:
        """Leave out what comes after the last already, of groups from a place on: on a large shelf most of them."""
        if self._best.last is not None and not self._every_cut:
            count = max(listed.up_to(self._best.last), at)
            self._leave_behind(listed, count)
            listed.keep(count)

    def _shorten_all(self) -> None:
        """The same of all that waits, once the last is another."""
        for _, _, listed, at in self._heap:
            self._shorten(listed, at)
        self._heap = [waits for waits in self._heap if waits[3] < len(waits[2])]
        heapq.heapify(self._heap)

    def _predict(self, rows: list[Row], tell: Callable[[str], None]) -> list[Candidate]:
        """Predict loops, and count their kits."""
        if not rows:
            return []
        tell(f"predicting loops {self._predicted + 1} to {self._predicted + len(rows)}")
        kits = [self._kits.setdefault(kit.ids, kit) for kit in predicted(self._job, self._bench, self._prices, rows)]
        last = self._best.last
        for kit in kits:
            self._found |= not kit.missed
            self._best.take(kit)
        if self._best.last != last:
            self._shorten_all()
        self._predicted += len(rows)
        return kits

    def _after_the_last(self, key: Key) -> bool:
        return self._best.last is not None and key > self._best.last

    def _hopeless(self, group: Group, at_best: Hoped, key: Key) -> Why | None:
        """Why no kit of a group can be one of those asked for; None where one may be."""
        misses = self._misses(at_best)
        if misses is not None:
            return misses
        if self._after_the_last(key):
            return "behind the last"
        heat = [group.parts.get(kind, (None,)) for kind in HEAT]
        if all(len(ids) == 1 for ids in heat):
            choice = (heat[0][0], heat[1][0], *([self._job.layout.id] if self._twins else []))
            known = self._best.of_choice(choice)
            if known is not None and key > known:
                return "behind its own choice"
        return None

    def _misses(self, at_best: Hoped) -> Why | None:
        """The aim or limit that every kit of a group misses."""
        limits = self._job.brief.limits
        if self._best.near_ones:
            return None
        if at_best.margin_k < 0:
            return "aim"
        if limits.too_dear(float(at_best.price_cents)):
            return "price"
        if limits.too_heavy(float(at_best.mass_g)):
            return "mass"
        return None

    def _leave_out(self, group: Group, key: Key, why: Why) -> None:
        self._left_out[why] += 1
        if why == "behind the last" and (self._least is None or key < self._least):
            self._least = key
        if self._every_cut:
            self._cuts.append(Cut(group.parts, group.zones, group.caps, key, self._best.last, why))

    def _leave_behind(self, listed: Waiting, first: int) -> None:
        """Leave out all groups of a list from a place on: they come after the last kit asked for."""
        if first < len(listed):
            key = listed.key(first)
            self._left_out["behind the last"] += len(listed) - first
            self._least = key if self._least is None else min(self._least, key)

    def _what_is_left(self, cut: bool) -> tuple[Mapping[Why, int], Key | None, tuple[Cut, ...]]:
        """What was left out when the search ended: by reason, and the most hopeful of it."""
        for _, _, listed, at in self._heap if not cut else ():
            if self._every_cut:
                for place in range(at, len(listed)):
                    self._leave_out(listed.group(place), listed.key(place), "behind the last")
            else:
                self._leave_behind(listed, at)
        return dict(self._left_out), self._least, tuple(self._cuts)
