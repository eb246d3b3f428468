"""On small random shelves the search offers exactly the kits that trying everything finds, in the same order."""

from __future__ import annotations

import pytest

from configurator.foundations.coolants import smallest_share
from tests.oracles.comparison import SEEDS, answer, differences, judged, shelf, short_list, told


@pytest.mark.parametrize("seed", SEEDS)
def test_all_kits_in_order(seed: int) -> None:
    of, wanted = shelf(seed), judged(seed)
    given = answer(of)
    found = differences(wanted, given)
    assert not found, told(of, found)
    assert (given.outcome == "no_kit") == (not wanted), told(of, [given.outcome])
    assert given.counts.kits_kept == len(wanted), told(of, [str(given.counts)])
    if wanted:
        proven = any(kit.proven for kit in wanted)
        assert given.outcome == ("kits" if proven else "not_decided"), told(of, [given.outcome])


@pytest.mark.parametrize("seed", SEEDS[::2])
def test_short_list(seed: int) -> None:
    of, wanted = shelf(seed), judged(seed)
    found = differences(short_list(wanted, 3), answer(of, all_variants=False, top=3))
    assert not found, told(of, found)


def test_a_night_that_no_welcome_coolant_survives_leaves_no_kit() -> None:
    """Ethylene glycol of at most 60 % by volume is not liquid at -70 degC (ASHRAE tables of inhibited glycols)."""
    of = next(shelf(seed) for seed in SEEDS if judged(seed))
    site = of.brief.site.model_copy(update={"coldest_k": 203.15})
    cold = of.brief.model_copy(update={"site": site})
    assert smallest_share("ethylene glycol", 203.15) is None
    given = answer(type(of)(of.seed, cold, of.driving, of.own, of.catalogue, of.tables, of.written))
    assert given.outcome == "no_kit" and given.kits == ()
