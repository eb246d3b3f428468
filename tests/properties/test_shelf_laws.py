"""Laws of a shelf, on random ones: a part that is out changes nothing by leaving, and a part more never takes a kit
away.
"""

from __future__ import annotations

from random import Random

import pytest

from configurator.questions.searches import Searched, exclusions, kept, make_job, search
from tests.oracles.comparison import shelf
from tests.oracles.shelves import Shelf, shelf_of

SEEDS = range(120)
TAKEN = 2
"""So many parts are taken off each shelf, one at a time."""


def searched(of: Shelf) -> tuple[Searched, ...]:
    job = make_job(of.brief, of.driving, of.own, of.catalogue, of.tables)
    return () if job is None else search(job, lambda words: None)


def without(of: Shelf, part_id: str) -> Shelf:
    parts = [part for part in of.written["parts"] if part["id"] != part_id]
    own = [held for held in of.written["own"] if held[0] != part_id]
    return shelf_of({**of.written, "parts": parts, "own": own})


def told(found: tuple[Searched, ...]) -> list[tuple[object, ...]]:
    """Every kit with all that orders it."""
    return sorted(
        (kit.kit, kit.price_cents, kit.margin_k, kit.margin_low_k, kit.clearance_mm, kit.mass_g) for kit in kept(found)
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_a_part_of_the_loop_that_is_out_changes_no_kit_by_leaving(seed: int) -> None:
    of = shelf(seed)
    found = searched(of)
    owned = {own.part.id for own in of.own}
    out = sorted({exclusion.part for exclusion in exclusions(found)} - owned) if found else []
    for part in Random(f"leaves {seed}").sample(out, min(TAKEN, len(out))):
        assert told(searched(without(of, part))) == told(found), part


@pytest.mark.parametrize("seed", SEEDS)
def test_a_part_more_never_takes_the_last_kit_away(seed: int) -> None:
    of = shelf(seed)
    """What the customer has is no part of the shelf: without it the brief is another."""
    whole = bool(kept(searched(of)))
    sold = sorted(set(of.catalogue.parts) - {own.part.id for own in of.own})
    for part in Random(f"joins {seed}").sample(sold, TAKEN):
        assert whole or not kept(searched(without(of, part))), part


def test_the_shelves_have_kits_and_parts_that_are_out() -> None:
    shelves = [searched(shelf(seed)) for seed in SEEDS[:50]]
    assert sum(bool(kept(found)) for found in shelves) >= 6
    assert sum(bool(found) and bool(exclusions(found)) for found in shelves) >= 40
