"""A search that time ends says so, tells the best so far, and bounds what it did not look at."""

from __future__ import annotations

import pytest

from tests.journeys.kitwright import Run, Tree, all_kits, example, opened, shipped_part, small_shelf, suggest

CORES = ("core-260-short", "core-230-short", "core-176-wide")
FRONTS = ("exchanger-350-slim", "exchanger-380-slim", "exchanger-395-slim")
PUMPS, TANKS = ("pump-40-small", "pump-35-common"), ("reservoir-8-cube", "reservoir-4-square", "reservoir-2-square")


@pytest.fixture(scope="module")
def shelf() -> Tree:
    sections = {"cores": CORES, "exchangers": FRONTS, "pumps": PUMPS, "reservoirs": TANKS}
    return small_shelf(**{name: [shipped_part(part) for part in parts] for name, parts in sections.items()})


@pytest.fixture(scope="module")
def hurried(shelf: Tree) -> Run:
    return suggest(opened(example("hatch")), "--json", "--time-limit", "0.5", shelf=shelf, how="by looks")


def test_it_is_undecided_and_bounds_every_kit_there_is(hurried: Run, shelf: Tree) -> None:
    every = all_kits(opened(example("hatch")), shelf=shelf)
    stopped = hurried.answer["stopped"]
    assert hurried.code == 4
    assert hurried.answer["outcome"] == "stopped_early"
    assert hurried.answer["counts"]["loops_predicted"] > 0
    assert min(kit["thermal"]["charge_out_worst_c"] for kit in every) >= stopped["charge_out_at_least_c"]
    assert max(kit["thermal"]["margin_k"] for kit in every) <= stopped["margin_at_most_k"]
    assert min(kit["price_cents"] for kit in every) >= stopped["price_at_least_cents"] > 0
    best = max(kit["thermal"]["margin_k"] for kit in hurried.kits)
    assert stopped["margin_gap_k"] == pytest.approx(stopped["margin_at_most_k"] - best, abs=0.02)


def test_its_kits_are_kits_and_it_says_nothing_of_parts_not_looked_at(hurried: Run, shelf: Tree) -> None:
    whole = {str(sorted(kit["parts"].items())): kit for kit in all_kits(opened(example("hatch")), shelf=shelf)}
    assert hurried.kits
    for kit in hurried.kits:
        same = whole[str(sorted(kit["parts"].items()))]
        assert kit["price_cents"] == same["price_cents"]
        assert kit["thermal"]["margin_k"] == same["thermal"]["margin_k"]
    full = suggest(opened(example("hatch")), "--json", shelf=shelf).answer
    assert full["stopped"] is None
    assert {out["part"] for out in hurried.answer["exclusions"]} <= {out["part"] for out in full["exclusions"]}


def test_time_enough_changes_nothing_but_the_order_of_looking(shelf: Tree) -> None:
    asked = opened(example("hatch"))
    slow, plain = (suggest(asked, "--json", *limit, shelf=shelf).answer for limit in (("--time-limit", "600"), ()))
    assert slow == plain
