"""The best-first search lists what trying everything lists, in the same order, and each group left out is replayed.

On the judge's shelves its opponent is the judge. On the hostile ones, which have more loops, layouts, fans and timers
than the judge knows, it is the search that looks at everything, which is itself held to the judge
(`test_search_equals_trying_everything.py`). Where no kit keeps every demand nothing is ever known that a group could
come after, so that every asking goes the same way: one is made.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from itertools import combinations

import pytest

from configurator.parts.kinds import Pump
from configurator.questions.searches import Searched, kept, missing
from configurator.ranking.order import ORDERS
from configurator.search.fill import Candidate
from configurator.search.patience import Patience
from tests.oracles.comparison import SEEDS, judged, shelf, told
from tests.oracles.hostile_shelves import MANNERS, hostile, manner
from tests.oracles.looked_for import (
    ALL,
    ASKS,
    EACH_CHOICE,
    FIRST,
    SHORT,
    THREE,
    Ask,
    Asked,
    unlike_the_judge,
    unlike_the_whole,
)

HOSTILE = range(17 * len(MANNERS))


@cache
def asked(seed: int) -> Asked:
    """A hostile shelf's job, with all its kits once they are found."""
    return Asked(hostile(seed))


@cache
def looked_for(seed: int, ask: Ask) -> tuple[Searched, ...]:
    """What the best-first search finds on a hostile shelf."""
    return asked(seed).best_first(ask)


@pytest.mark.parametrize("seed", SEEDS)
def test_as_the_judge(seed: int) -> None:
    of, kits = shelf(seed), judged(seed)
    job = Asked(of)
    for ask in ((ALL, FIRST), (SHORT, THREE))[seed % 2] if kits else (ASKS[seed % 4],):
        wrong = unlike_the_judge(kits, job, ask, job.best_first(ask))
        assert not wrong, told(of, [str(ask), *wrong])


def asks_of(seed: int) -> tuple[Ask, ...]:
    """The ordinary order; and on every second shelf of a manner one of all orders."""
    turn = seed // len(MANNERS)
    usual = ASKS[(turn + turn // 4) % 4]
    if turn % 2:
        return (usual,)
    other = (THREE, EACH_CHOICE, FIRST, SHORT)[turn // 2 % 4]
    return usual, Ask(other.top, other.all_variants, list(ORDERS)[turn // 2 % len(ORDERS)])


@pytest.mark.parametrize("seed", HOSTILE)
def test_as_the_search_of_everything(seed: int) -> None:
    job = asked(seed)
    for ask in asks_of(seed) if kept(job.whole()) else asks_of(seed)[:1]:
        wrong = unlike_the_whole(job, ask, looked_for(seed, ask))
        assert not wrong, told(hostile(seed), [manner(seed), str(ask), *wrong])


@pytest.mark.parametrize("seed", HOSTILE[:: len(HOSTILE) // 12])
def test_with_an_end_far_away_the_same_though_some_kits_are_known_early(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Some of the time is taken to be over at once, so that it first goes from a few kits on to better ones."""
    job, ask = asked(seed), asks_of(seed)[0]
    monkeypatch.setattr(Patience, "rest", lambda self, share: Patience(0.0, -1.0))
    found = job.best_first(ask, Patience.of(1e6))
    assert not any(one.kits.cut for one in found)
    wrong = unlike_the_whole(job, ask, found)
    assert not wrong, told(hostile(seed), [manner(seed), str(ask), *wrong])


def _apart_in_pump_alone(kits: list[Candidate], pumps: dict[str, float]) -> list[tuple[Candidate, Candidate]]:
    """Pairs that differ in their pump alone, the one of less free flow first."""
    rest: dict[object, list[tuple[float, Candidate]]] = {}
    for kit in kits:
        others = tuple(part for part in kit.kit.parts if part[0] != "pump")
        rest.setdefault((others, kit.kit.zones), []).append((pumps[str(kit.kit.part("pump"))], kit))
    pairs = (pair for alike in rest.values() for pair in combinations(sorted(alike, key=lambda one: one[0]), 2))
    return [(less, more) for (one, less), (other, more) in pairs if other > one]


def test_the_hostile_shelves_are_hard_easy_empty_tied_and_turn_both_ways() -> None:
    found = Counter[str]()
    for seed in HOSTILE:
        job, kits = asked(seed), kept(asked(seed).whole())
        every = [*kits, *missing(job.whole())]
        keys = [job.key_of(FIRST)(kit)[:-1] for kit in kits]
        pumps = {pump.id: float(pump.curve[-1].flow_m3_per_s) for pump in hostile(seed).catalogue.of(Pump)}
        pairs = _apart_in_pump_alone(every, pumps)
        dearer = [(a, b) for a, b in combinations(kits, 2) if a.margin_low_k > b.margin_low_k + 2]
        found["empty"] += not kits
        found["nothing joins or fits"] += not every
        found["some keep all and some miss"] += bool(kits) and len(kits) < len(every)
        found["easy"] += bool(kits) and len(kits) == len(every)
        found["many"] += len(kits) >= 16
        found["tied"] += len(set(keys)) < len(keys)
        found["tied first"] += len(keys) > 1 and sorted(keys)[0] == sorted(keys)[1]
        found["more flow better"] += any(more.margin_k > less.margin_k + 0.1 for less, more in pairs)
        found["more flow worse"] += any(more.margin_k < less.margin_k - 0.1 for less, more in pairs)
        found["cooler dearer"] += any(a.price_cents > b.price_cents for a, b in dearer)
        found["cooler cheaper"] += any(a.price_cents < b.price_cents for a, b in dearer)
        found["unproven beside proven"] += len({kit.proven for kit in kits}) == 2
        found["several layouts"] += len({kit.kit.layout for kit in kits}) > 1
        found["with a fan"] += any(kit.kit.part("fan") for kit in kits)
        found["several zones"] += len({kit.kit.parts for kit in kits}) < len(kits)
        found["room apart"] += len({kit.clearance_mm // 5 for kit in kits if kit.fit_decided}) > 1
    least = {
        "empty": 40, "nothing joins or fits": 20, "some keep all and some miss": 25, "easy": 60, "many": 50, "tied": 50,
        "tied first": 40, "more flow better": 30, "more flow worse": 20, "cooler dearer": 50, "cooler cheaper": 50,
        "unproven beside proven": 4, "several layouts": 10, "with a fan": 8, "several zones": 12, "room apart": 20,
    }  # fmt: skip
    assert {why: found[why] for why in least if found[why] < least[why]} == {}
    assert len(SEEDS) + len(HOSTILE) >= 500 and len(HOSTILE) >= 100


def test_groups_are_left_out_for_every_reason() -> None:
    """Without groups left out there would be nothing to replay; with each reason there is."""
    counts, spared = Counter[str](), 0
    for seed in HOSTILE:
        found = looked_for(seed, asks_of(seed)[0])
        for one in found:
            assert one.kits.proof is not None
            counts.update(one.kits.proof.counts)
        spared += len(kept(asked(seed).whole())) - len(kept(found))
    assert counts["behind the last"] >= 200 and counts["behind its own choice"] >= 40
    assert counts["aim"] >= 5 and counts["price"] >= 5 and counts["mass"] >= 3
    assert spared >= 500
