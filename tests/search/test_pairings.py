"""What a part goes together with, neighbour by neighbour, on the small shelf."""

from __future__ import annotations

from dataclasses import replace

from configurator.parts.layouts import Layout
from configurator.questions.searches import hose_joiner
from configurator.search.pairings import pairings
from configurator.search.sieve import sieve
from configurator.search.skeletons import SkeletonMaker
from tests.journeys.kitwright import shipped
from tests.search.small_shelves import cap, core, exchanger, job_of, maker, shelf


def joints(made: SkeletonMaker, part: str) -> dict[str, tuple[tuple[str, ...], int, bool]]:
    """The neighbours that a part is joined to: which go with it, of how many, and whether a refusal is told."""
    return {one.kind: (one.goes, one.of, bool(one.refused)) for one in pairings(made, part) if one.rule == "joint"}


def test_neighbours_that_go_with_a_part_are_named_and_a_refusal_only_where_none_does() -> None:
    """A core of 25 mm on a shelf whose only hose is one of 19 mm; the core of 19 mm goes with both its neighbours.

    A rule of joints is read from its first two ends in flow order: core and pump are neighbours as core and exchanger.
    """
    made = maker(shelf(core("wide-core", spigot="25 mm")))
    assert joints(made, "wide-core") == {"pump": ((), 1, True), "exchanger": ((), 1, True)}
    assert joints(made, "core") == {"pump": (("pump",), 1, False), "exchanger": (("exchanger",), 1, False)}
    assert joints(made, "pump") == {"core": (("core",), 2, False), "reservoir": (("reservoir",), 1, False)}


def test_a_cap_goes_with_the_necks_it_fits_and_a_tank_with_none_at_all_where_it_may() -> None:
    made = maker(shelf(cap("narrow-cap", neck="32 mm")))
    caps = {one.kind: one.goes for one in pairings(made, "narrow-cap") if one.rule == "cap"}
    assert caps == {"reservoir": ()}
    assert [one.goes for one in pairings(made, "reservoir") if one.rule == "cap"] == [("cap",)]


def test_a_pump_that_no_part_of_a_kind_holds_is_told_both_pressures() -> None:
    """Where all hold, nothing is told of it."""
    strong = exchanger()
    weak = {**strong, "coolant": {**strong["coolant"], "working": "0.6 bar"}}
    told = [one for one in pairings(maker(shelf(weak)), "pump") if one.rule == "rating" and one.kind == "exchanger"]
    assert [(one.goes, one.of) for one in told] == [((), 1)]
    assert "0.60 bar the most that one of them holds" in told[0].refused
    assert not [one for one in pairings(maker(shelf()), "pump") if one.rule == "rating" and one.kind != "cap"]


def test_a_part_that_is_in_no_question_has_no_neighbours() -> None:
    assert pairings(maker(shelf()), "hose") == ()


def test_twins_in_turn_are_asked_for_the_pump_before_and_the_exchanger_behind_them() -> None:
    """Of one twin with the other nothing is told: they are the same part."""
    job = job_of(shelf())
    twins = next(Layout.model_validate(one) for one in shipped("layouts") if one["id"] == "twin-cores-series")
    job = replace(job, layout=twins)
    made = SkeletonMaker(job, sieve(job), hose_joiner(job))
    assert {kind: goes for kind, (goes, _, _) in joints(made, "core").items()} == {
        "pump": ("pump",), "exchanger": ("exchanger",),
    }  # fmt: skip
