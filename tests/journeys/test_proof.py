"""`--proof` tells a bound that no kit which is not told comes before, and does not say more than it knows."""

from __future__ import annotations

import math

import pytest

from tests.journeys.kitwright import Tree, example, opened, shipped_part, small_shelf, suggest

CORES = ("core-260-short", "core-230-short", "core-210-short")
FRONTS = ("exchanger-350-slim", "exchanger-380-slim", "exchanger-395-slim")
PUMPS, TANKS = ("pump-40-small", "pump-50-medium"), ("reservoir-8-cube", "reservoir-2-square")
ENOUGH_K = 6.0
"""What the hatch asks for."""


@pytest.fixture(scope="module")
def shelf() -> Tree:
    sections = {"cores": CORES, "exchangers": FRONTS, "pumps": PUMPS, "reservoirs": TANKS}
    return small_shelf(**{name: [shipped_part(part) for part in parts] for name, parts in sections.items()})


def key(kit: Tree, order: str) -> list[float]:
    """What an order looks at, the less the sooner, as the guide has it."""
    margin, room = kit["thermal"]["margin_low_k"], kit["fit"]["clearance_mm"]
    price, grams = kit["price_cents"], kit["mass_dry_g"]
    figures = {
        "default": [-math.floor(min(margin, ENOUGH_K) / 2), -math.floor(min(room, 25) / 5), price],
        "margin": [-margin, price],
        "clearance": [-min(room, 25), -margin, price],
        "price": [price, -margin],
        "mass": [grams, -margin, price],
    }[order]
    return [0.0 if kit["proven"] else 1.0, *figures]


@pytest.mark.parametrize("variants", [(), ("--all-variants",)], ids=["one a choice", "every kit"])
@pytest.mark.parametrize("order", ["default", "margin", "clearance", "price", "mass"])
def test_the_first_kit_that_is_not_told_does_not_come_before_the_bound(
    order: str, variants: tuple[str, ...], shelf: Tree
) -> None:
    asked = opened(example("hatch"))
    every = suggest(asked, "--json", "--order", order, "--top", "1000", *variants, shelf=shelf).kits
    for top in (1, 4):
        run = suggest(asked, "--json", "--proof", "--order", order, "--top", str(top), *variants, shelf=shelf)
        proof = run.answer["proof"]
        assert [kit["parts"] for kit in run.kits] == [kit["parts"] for kit in every[:top]]
        assert proof["last_told"] == pytest.approx(key(every[top - 1], order), abs=0.006)
        assert proof["others_at_best"] <= [figure + 0.006 for figure in key(every[top], order)]
        assert "-0.0" not in [repr(figure) for figure in (*proof["last_told"], *proof["others_at_best"])]


def test_its_words_say_in_which_steps_is_counted(shelf: Tree) -> None:
    told = " ".join(suggest(opened(example("hatch")), "--proof", "--top", "2", shelf=shelf).out.split())
    assert "Why nothing better was missed: - 36 choices of core, exchanger, pump and reservoir" in told
    assert "(in steps of 2 K, 6 K is enough), room (in steps of 5 mm, 25 mm is enough), price." in told
    assert "The last kit listed: margin 6 K or more, room 10 to under 15 mm, price " in told
    assert "No kit of another core + exchanger is better than this bound" in told


def test_where_time_ended_nothing_is_called_proved() -> None:
    run = suggest(opened(example("hatch")), "--proof", "--time-limit", "95", how="by looks")
    assert run.code == 4
    assert "How far the search came" in run.out and "Why no" not in run.out
    assert "this bound" not in run.out and "nothing joins and fits" not in run.out
    as_json = suggest(opened(example("hatch")), "--proof", "--time-limit", "95", "--json", how="by looks")
    assert as_json.kits and as_json.answer["proof"]["others_at_best"] is None


def test_where_there_is_no_kit_it_says_what_was_not_looked_for(shelf: Tree) -> None:
    brief = {**opened(example("hatch")), "aim": {"charge_air": "30 degC"}}
    told = " ".join(suggest(brief, "--proof", shelf=shelf).out.split())
    assert "Why no kit was missed: - 36 choices" in told and "the nearest kit found, at" in told
    assert "which adapters would help, was not looked for: leave --proof out for those." in told
    assert "Ways out: one is enough, each the least that helps in whole kelvin" in told
    assert "(give more for a margin): - an aim of " in told
    without = " ".join(suggest(brief, "--proof", "--no-ways-out", shelf=shelf).out.split())
    assert "a search of their own, of 5 s at most. Of parts that are out" in without and "Ways out" not in without


@pytest.mark.parametrize("proof", [(), ("--proof",)], ids=["plain", "with proof"])
def test_a_stopped_search_without_a_kit_does_not_say_that_the_shelf_has_none(proof: tuple[str, ...]) -> None:
    brief = {**opened(example("hatch")), "aim": {"charge_air": "30 degC"}}
    run = suggest(brief, *proof, "--time-limit", "3", how="by looks")
    told = " ".join(run.out.split())
    assert run.code == 4
    assert "No kit on this shelf" not in told and "A kit may well be among the rest" in told
    following = run.out.splitlines()[-1].split()
    assert following[:3] == ["Next:", "kitwright", "suggest"] and not {"--wide", "--time-limit"} & set(following)
