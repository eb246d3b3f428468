"""What a way out may touch: the aim and limits looser, less asked of the engine, more air, room with its caution.

Never a rating, a joint, a cap, the coldest night, boiling, a wire, an obstacle or its clearance; never more power or
boost. Whatever a lever moves is written into the brief, and all the rest of the brief has to stay as it was.
"""

from __future__ import annotations

from typing import Any

import pytest

from configurator.brief.request import Brief
from configurator.questions.changed_brief import with_changes
from configurator.questions.levers import levers
from configurator.questions.searches import make_job
from configurator.reasons.ways_words import way_text
from configurator.search.job import Job
from tests.journeys import made_parts
from tests.journeys.kitwright import Tree, example, opened, shipped, shipped_part, small_shelf, suggest
from tests.oracles.shelves import Shelf, random_shelf

EXAMPLES = ("commuter", "drag", "hatch", "retro", "road", "roadster", "track", "ute", "wagon")
LOOSER = {"aim", "price", "mass", "current", "charge loss", "air"}
LESS = {"power", "boost", "driving", "start"}
ROOM = {"wide", "high", "deep"}
CHOICES = {"coolant kinds", "adapter"}
WARM = {"commuter", "road", "track", "wagon"}
"""Those in whose bays these few parts make kits."""

JOBS = 110


def assert_allowed(what: str, before: float | str, after: float | str, zone: str | None, text: str) -> None:
    """One change of a way out, by what is never offered."""
    assert what in LOOSER | LESS | ROOM | CHOICES, what
    if what in CHOICES:
        assert "if your circuit allows it" in text or "one adapter from" in text
        return
    assert isinstance(before, float | int) and isinstance(after, float | int)
    assert after > before if what in LOOSER | ROOM else after <= before
    assert bool(zone) == (what in ROOM | {"air"})
    assert ("carries load, guards a crash" in text) == (what in ROOM)


def untouched(of: Brief, keys: tuple[str, ...]) -> Any:
    """A brief without the figures that some levers may move."""
    brief = of.model_dump()
    for key in keys:
        *path, last = key.split(".")
        held = brief
        for step in path:
            held = held[step] or {}
        if last == "zones":
            for zone in (held.get("zones") or {}).values():
                for size in ("wide_m", "high_m", "deep_m"):
                    zone.pop(size)
                air = zone.get("air") or {}
                air.pop("share", None)
                air.pop("face_speed_m_per_s", None)
        else:
            held.pop(last)
    return brief


MOVABLE = ("engine.power_w", "engine.boost_pa_gauge", "coolant.start_k", "bay.zones")


def job_of(of: Shelf) -> Job | None:
    return make_job(of.brief, of.driving, of.own, of.catalogue, of.tables)


def test_every_step_of_every_lever_of_many_jobs_is_allowed_and_leaves_the_rest_of_the_brief() -> None:
    jobs, seen = 0, set()
    for seed in range(JOBS):
        job = job_of(random_shelf(seed))
        if job is None:
            continue
        jobs += 1
        before = (job.brief, job.driving)
        for lever in levers(job):
            for step in {lever.first, (lever.first + lever.last) // 2, lever.last} - {lever.first}:
                changes = lever.changes(step)
                seen |= {change.what for change in changes}
                text = way_text(changes, "EUR")
                for change in changes:
                    assert_allowed(change.what, change.before, change.after, change.zone or None, text)
                after = with_changes(before, changes)
                assert untouched(after[0], MOVABLE) == untouched(before[0], MOVABLE)
                assert all(
                    new.model_dump(exclude={"share"}) == old.model_dump(exclude={"share"}) and new.share <= old.share
                    for new, old in zip(after[1].stretches, before[1].stretches, strict=True)
                )
    assert jobs >= 100
    assert seen == LESS | ROOM | {"air"}


def tightened(name: str) -> tuple[Tree, Tree]:
    """An example asked for charge 12 K above its air, less than any kit of a few parts does, and those parts."""
    brief = opened(example(name))
    brief["aim"] = {"above_air": "12 K"}
    brief["layouts"] = ["single"]
    front = made_parts.front("exchanger-640-broad", 380, 140, "front-380")
    shelf = small_shelf(
        cores=[shipped_part("core-175-short"), shipped_part("core-160-short")],
        exchangers=[front, shipped_part("exchanger-250-square")],
        pumps=[shipped_part("pump-40-small")],
        reservoirs=[made_parts.tank(3), shipped_part("reservoir-0.7-bottle")],
        caps=shipped("caps"),
    )
    return brief, shelf


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_example_asked_for_more_than_it_can_is_offered_nothing_that_is_forbidden(name: str) -> None:
    brief, shelf = tightened(name)
    run = suggest(brief, "--json", shelf=shelf)
    assert run.answer["outcome"] == "no_kit", run.out[:1000]
    assert bool(run.answer["nearest"]) == (name in WARM)
    for way in run.answer["nearest"]:
        for one in (way, *way["and"]):
            assert_allowed(one["change"], one["from"], one["to"], one["zone"], way["text"])
