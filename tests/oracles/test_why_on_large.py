"""Parts of a shelf that is taken for a large one: in or out, and their best kits, as trying everything has them."""

from __future__ import annotations

from importlib import import_module
from unittest.mock import patch

import pytest

from configurator.parts.kinds import IN_LOOP
from configurator.presentation.why_text import why_text
from configurator.questions.searches import kept, make_job, search
from configurator.questions.why import why
from configurator.questions.why_answer import Whys
from configurator.ranking.order import ranked
from tests.oracles.comparison import judged, shelf
from tests.oracles.shelves import Shelf

WITH_KITS = (10, 14, 34, 59)
DRAWN = (3, 9, 25, *WITH_KITS)


def told_of_large(of: Shelf, asked: tuple[str, ...], seconds: float = 600.0) -> Whys:
    """The answer to a small shelf that is taken for a large one."""
    with (
        patch.object(import_module("configurator.questions.searches"), "LOOKED_AT_WHOLE", 0),
        patch.object(import_module("configurator.questions.beside_the_best"), "LOOKED_AT_WHOLE", 0),
        patch.object(import_module("configurator.questions.beside_the_best"), "LARGE_S", seconds),
        patch.object(import_module("configurator.questions.beside_the_best"), "PART_S", seconds),
    ):
        return why(of.brief, of.driving, of.own, of.catalogue, of.tables, asked)


def in_loop(of: Shelf) -> list[str]:
    """The parts of a shelf that fill a place of the loop."""
    return [part.id for part in of.catalogue.parts.values() if part.kind in IN_LOOP]


@pytest.mark.parametrize("seed", DRAWN)
def test_each_part_alone_is_in_where_trying_everything_finds_a_kit_with_it(seed: int) -> None:
    of = shelf(seed)
    used = {part for kit in judged(seed) for _, part in kit.parts}
    for part in in_loop(of):
        whys = told_of_large(of, (part,))
        assert whys.beside is not None and not whys.beside.stopped
        assert whys.stories[0].is_in == (part in used), (seed, part)


@pytest.mark.parametrize("seed", WITH_KITS)
def test_the_best_kit_with_a_part_is_the_best_of_all_with_it_and_stands_behind_the_same_kit_1(seed: int) -> None:
    of = shelf(seed)
    job = make_job(of.brief, of.driving, of.own, of.catalogue, of.tables)
    assert job is not None
    every = ranked(kept(search(job, lambda words: None)), "default", job.conditions.enough_k)
    used = sorted({part for kit in every for _, part in kit.kit.parts})
    assert len(used) > 3
    for part in used:
        best = told_of_large(of, (part,)).stories[0].best
        first = next(kit for kit in every if any(part == held for _, held in kit.kit.parts))
        assert best is not None
        assert (best.parts, best.zones, best.price_cents) == (first.kit.parts, first.kit.zones, first.price_cents)
        assert (best.rank == 1) == (first is every[0])


def test_the_screen_says_how_many_choices_there_are_and_that_time_ended_a_search() -> None:
    of = shelf(10)
    parts = tuple(in_loop(of)[:3])
    whys = told_of_large(of, parts)
    assert whys.beside is not None
    names = {part.id: part.name for part in of.catalogue.parts.values()}
    said = " ".join(why_text(whys, names, "kitwright suggest my.yaml").split())
    assert said.startswith(f"This shelf has {whys.beside.choices:,} choices")
    assert "Time ended" not in said
    stopped = told_of_large(of, parts, seconds=1e-9)
    assert "Time ended a search" in " ".join(why_text(stopped, names, "kitwright suggest my.yaml").split())


def test_a_shelf_that_is_looked_at_whole_says_nothing_of_it() -> None:
    of = shelf(10)
    assert why(of.brief, of.driving, of.own, of.catalogue, of.tables, tuple(in_loop(of)[:1])).beside is None
