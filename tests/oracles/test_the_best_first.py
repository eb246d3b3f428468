"""The best-first search lists what trying everything lists, in the same order, and each group left out is replayed.

On the judge's shelves its opponent is the judge. On the hostile ones, which have more loops, layouts, fans and timers
than the judge knows, it is the search that looks at everything, which is itself held to the judge
(`test_search_equals_trying_everything.py`). Where no kit keeps every demand nothing is ever known that a group could
come after, so that every asking goes the same way: one is made. Kits are predicted two at first, not sixteen, so that
most groups are judged against kits that are known.
"""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest

from configurator.questions.searches import Searched, kept, missing
from configurator.ranking.order import ORDERS
from configurator.search import best_first
from tests.oracles.comparison import SEEDS, judged, shelf, told
from tests.oracles.hostile_shelves import MANNERS, hostile, manner
from tests.oracles.looked_for import ASKS, Ask, Asked, unlike_the_judge, unlike_the_whole

HOSTILE = range(18 * len(MANNERS))

LEFT_OUT = Counter[str]()
"""Groups left out by reason, of all shelves."""


@pytest.fixture(autouse=True)
def _few_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(best_first, "FIRST_BATCH", 2)


@cache
def asked(seed: int) -> Asked:
    """A hostile shelf's job, with all its kits once they are found."""
    return Asked(hostile(seed))


def counted(found: tuple[Searched, ...]) -> tuple[Searched, ...]:
    """A search, its groups left out counted."""
    for one in found:
        assert one.kits.proof is not None
        LEFT_OUT.update(one.kits.proof.counts)
    return found


@pytest.mark.parametrize("seed", SEEDS)
def test_as_the_judge(seed: int) -> None:
    of, kits = shelf(seed), judged(seed)
    job = Asked(of)
    for ask in ASKS if kits else ASKS[seed % 4 :][:1]:
        wrong = unlike_the_judge(kits, job, ask, counted(job.best_first(ask)))
        assert not wrong, told(of, [str(ask), *wrong])


def asks_of(seed: int) -> tuple[Ask, Ask]:
    """Two askings: the ordinary order, and one of all orders in turn."""
    turn = seed // len(MANNERS)
    other = ASKS[(turn + 1 + turn // 4) % 4]
    return ASKS[turn % 4], Ask(other.top, other.all_variants, list(ORDERS)[turn % len(ORDERS)])


@pytest.mark.parametrize("seed", HOSTILE)
def test_as_the_search_of_everything(seed: int) -> None:
    job = asked(seed)
    for ask in asks_of(seed)[: 2 if kept(job.whole()) else 1]:
        wrong = unlike_the_whole(job, ask, counted(job.best_first(ask)))
        assert not wrong, told(hostile(seed), [manner(seed), str(ask), *wrong])
