"""A shelf searched for the best alone that has no kit: each way out gives one, and a step less none where it says so.

Small shelves are taken for large ones, so that trying everything can judge what is told.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from unittest.mock import patch

import pytest

from configurator.questions.best_alone import that_come_near
from configurator.questions.further import SEARCHES, Further
from configurator.questions.suggest import suggest
from configurator.questions.ways_on_large import ways_on_large
from configurator.questions.ways_out import Way
from configurator.search.loosening import Change
from configurator.search.patience import UNHURRIED, Patience
from tests.oracles.test_ways_out import TIGHT, WHOLE, asked, changed, hard, has_kit, of_limits, tries
from tests.oracles.test_ways_out import amounts as amounts_of

SEEDS = (*TIGHT[::2], *WHOLE)
UNHURRIED_S, AT_ONCE_S = 600.0, 1e-9
FRONT = ["front exchanger"]
"""A way of which it is not known without time, where few parts do not make it, whether there is one."""


@cache
def ways(seed: int, seconds: float) -> tuple[Way, ...]:
    """The ways out of a shelf that is taken for a large one; `seconds`: how long one look at all of it may take."""
    of = hard(seed)
    with (
        patch.object(import_module("configurator.questions.suggest"), "LOOKED_AT_WHOLE", 0),
        patch.object(import_module("configurator.questions.searches"), "LOOKED_AT_WHOLE", 0),
        patch.object(import_module("configurator.questions.further"), "WHOLE_S", seconds),
    ):
        answer = suggest(of.brief, of.driving, of.own, "", of.catalogue, of.tables)
    assert answer.outcome == "no_kit" and answer.best_alone is not None and answer.ways_out is not None
    assert answer.ways_out.conflict is None
    return answer.ways_out.ways


def amounts(way: Way) -> tuple[Change, ...]:
    """The changes of a way that have an amount; none where it is a choice."""
    return amounts_of(way.changes)


@pytest.mark.parametrize("seed", SEEDS)
def test_each_way_gives_a_kit_and_where_it_is_the_least_a_step_less_none(seed: int) -> None:
    tries(seed, [amounts(way) for way in ways(seed, UNHURRIED_S) if way.least and amounts(way)])


@pytest.mark.parametrize("seed", SEEDS)
def test_a_way_that_may_not_be_the_least_still_gives_a_kit(seed: int) -> None:
    for way in ways(seed, UNHURRIED_S):
        if not way.least and {change.what for change in way.changes} != {"coolant kinds"}:
            brief = asked(seed)
            for change in way.changes:
                brief = changed(brief, change, change.after)
            assert has_kit(seed, brief), (seed, way)


def test_some_ways_may_not_be_the_least() -> None:
    """So that the test above looks at some."""
    assert any(way.least is False for seed in SEEDS for way in ways(seed, UNHURRIED_S))


@pytest.mark.parametrize("seed", SEEDS)
def test_with_time_one_limit_gives_way_by_as_much_as_a_look_at_every_kit_says(seed: int) -> None:
    every, _ = of_limits(seed)
    told = {way.changes for way in ways(seed, UNHURRIED_S)}
    alone = {changes for changes in every if len(changes) == 1}
    assert alone <= told, (seed, alone, told)


@pytest.mark.parametrize("seed", SEEDS[::2])
def test_without_time_a_way_still_gives_a_kit_and_does_not_say_that_less_would_not(seed: int) -> None:
    told = ways(seed, AT_ONCE_S)
    unhurried = [what(way) for way in ways(seed, UNHURRIED_S)]
    assert [what(way) for way in told] == [one for one in unhurried if one != FRONT or FRONT in map(what, told)]
    for way in told:
        brief = asked(seed)
        for change in way.changes:
            brief = changed(brief, change, change.after)
        assert has_kit(seed, brief), (seed, way)


def what(way: Way) -> list[str]:
    return [change.what for change in way.changes]


def test_when_the_time_is_over_nothing_more_is_searched_and_each_lever_is_named_as_not_tried() -> None:
    of, searches = hard(WHOLE[0]), import_module("configurator.questions.searches")
    job = searches.make_job(of.brief, of.driving, of.own, of.catalogue, of.tables)
    near = that_come_near(job, 3, print, UNHURRIED)
    further = Further(job, print, Patience(0.0, 0.0))
    told = ways_on_large(further, near)
    assert further.left == SEARCHES
    assert {"power", "driving"} <= set(told.not_tried) and len(told.not_tried) == len(set(told.not_tried))


def test_a_large_shelf_is_searched_for_a_while_unless_told_and_for_a_proof_to_the_end() -> None:
    of, large = hard(WHOLE[0]), import_module("configurator.questions.suggest")
    with patch.object(large, "LOOKED_AT_WHOLE", 0), patch.object(large, "LARGE_S", AT_ONCE_S):
        ended, proved, given = (
            suggest(of.brief, of.driving, of.own, "", of.catalogue, of.tables, look_further=False, **how)
            for how in ({}, {"prove": True}, {"time_limit_s": UNHURRIED_S})
        )
    assert ended.outcome == "stopped_early" and ended.stopped is not None and ended.stopped.seconds == AT_ONCE_S
    assert proved.outcome == given.outcome == "no_kit"


def test_the_shelves_show_each_case() -> None:
    unhurried = [way for seed in SEEDS for way in ways(seed, UNHURRIED_S)]
    assert {change.what for way in unhurried for change in way.changes} >= {"aim", "price", "mass", "power", "driving"}
    assert sum(way.least is True for way in unhurried) > len(unhurried) / 2
    assert any(not way.least for seed in SEEDS[::2] for way in ways(seed, AT_ONCE_S))


def test_a_limit_that_leaves_few_of_many_choices_is_told_though_the_whole_shelf_is_never_looked_at() -> None:
    """Without the limit the shelf was too large to be looked at whole, and that ended the answer."""
    seed, searches = 164, import_module("configurator.questions.searches")
    of = hard(seed)
    job = searches.make_job(of.brief, of.driving, of.own, of.catalogue, of.tables)
    few = sum(searches.choices_of(one, searches.sieve(one)) for one in searches.hosted(job))
    with (
        patch.object(import_module("configurator.questions.suggest"), "LOOKED_AT_WHOLE", few),
        patch.object(searches, "LOOKED_AT_WHOLE", few),
        patch.object(searches, "MOST_WHOLE", few),
    ):
        answer = suggest(of.brief, of.driving, of.own, "", of.catalogue, of.tables)
    assert answer.best_alone is None and answer.ways_out is not None
    assert [changes for way in answer.ways_out.ways if (changes := way.changes)[0].what == "current"]
    tries(seed, [amounts(way) for way in answer.ways_out.ways if way.least])
