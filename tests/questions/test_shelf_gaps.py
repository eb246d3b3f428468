"""What a shelf lacks: equal to searching the whole shelf for every brief with every candidate."""

from __future__ import annotations

import copy
from dataclasses import dataclass, replace
from functools import cache
from itertools import count, islice
from random import Random
from typing import Any

import pytest

from configurator.parts.kinds import PART_KINDS, Part
from configurator.parts.layouts import Layout
from configurator.parts.shelf import make_catalogue
from configurator.questions.searches import kept, make_job, search
from configurator.questions.shelf_gaps import Asked, Gaps, shelf_gaps
from tests.journeys.kitwright import shipped, shipped_part
from tests.oracles.shelves import Shelf, random_shelf, shelf_of
from tests.search import small_shelves

CASES = 30
MOST_PARTS = 8
IN_QUESTION = ("core", "exchanger", "pump", "reservoir", "cap", "hose", "adapter")


@dataclass(frozen=True)
class Case:
    """A small shelf, briefs that ask of it, and parts that it lacks."""

    shelf: Shelf
    asked: tuple[Asked, ...]
    candidates: tuple[Part, ...]

    def found(self) -> Gaps:
        return shelf_gaps(self.asked, self.candidates, self.shelf.catalogue, self.shelf.tables)

    def has_kit(self, one: Asked, *more: Part) -> bool:
        """Whether a brief has a kit of the whole shelf with more parts on it."""
        catalogue = make_catalogue([*self.shelf.catalogue.parts.values(), *more], self.shelf.catalogue.layouts)
        job = make_job(one.brief, one.driving, one.own, catalogue, self.shelf.tables)
        return job is not None and bool(kept(search(job, lambda words: None)))

    def wanted(self) -> tuple[list[str], list[tuple[int, int, str, tuple[str, ...]]]]:
        """The briefs without a kit; every candidate with each of them: how many it serves, price, id, which."""
        without = [one for one in self.asked if not self.has_kit(one)]
        rows = []
        for part in self.candidates:
            serves = tuple(one.file for one in without if self.has_kit(one, part))
            rows.append((-len(serves), part.price_cents, part.id, serves))
        return [one.file for one in without], sorted(rows)


def case(written: dict[str, Any], briefs: list[dict[str, Any]], candidates: list[dict[str, Any]]) -> Case:
    base = shelf_of(written)
    asked = []
    for number, brief in enumerate(briefs):
        of = shelf_of({**written, "brief": brief})
        asked.append(Asked(f"{number}.yaml", of.brief, of.driving, of.own))
    parts = tuple(PART_KINDS[part["kind"]].model_validate(part) for part in candidates)
    return Case(base, tuple(asked), parts)


@cache
def small_ones() -> tuple[Shelf, ...]:
    """The first random shelves with few loops."""
    shelves = (random_shelf(seed) for seed in count())
    few = (of for of in shelves if sum(part["kind"] in IN_QUESTION[:4] for part in of.written["parts"]) <= MOST_PARTS)
    return tuple(islice(few, CASES))


def random_case(seed: int) -> Case:
    """A random shelf from which all parts of a kind have been taken, four of them the candidates. Two briefs."""
    r = Random(f"gaps {seed}")
    written = small_ones()[seed].written
    own = {part_id for part_id, _ in written.get("own", [])}
    kind = IN_QUESTION[seed % len(IN_QUESTION)]
    taken = [part for part in written["parts"] if part["kind"] == kind and part["id"] not in own]
    ids = {part["id"] for part in taken}
    rest = {**written, "parts": [part for part in written["parts"] if part["id"] not in ids]}
    briefs = [copy.deepcopy(written["brief"]) for _ in range(2)]
    for brief, aim in zip(briefs, ("95 degC", "150 degC"), strict=True):
        brief["aim"] = {"charge_air": aim}
        brief["driving"]["total"] = "20 s"
        brief["without"] = [word for word in brief.get("without", []) if word not in ids]
        brief["limits"] = {}
    briefs[1]["bay"] = "unmeasured"
    return case(rest, briefs, r.sample(taken, min(len(taken), 4)))


@cache
def found_of(seed: int) -> Gaps:
    return random_case(seed).found()


@pytest.mark.parametrize("seed", range(CASES))
def test_it_is_what_trying_every_brief_with_every_candidate_gives(seed: int) -> None:
    of, found = random_case(seed), found_of(seed)
    rows = [(-len(one.serves), one.part.price_cents, one.part.id, one.serves) for one in found.candidates]
    assert ([brief.file for brief in found.unserved], rows) == of.wanted()


def test_the_random_cases_are_of_many_kinds() -> None:
    """Of each kind that fills a slot some candidate helps, and there are cases in which none does."""
    helping = {part.kind for seed in range(CASES) for part in helpers(seed)}
    assert {"core", "exchanger", "pump", "reservoir", "cap"} <= helping, helping
    assert any(not helpers(seed) for seed in range(CASES))


def helpers(seed: int) -> list[Any]:
    return [one.part for one in found_of(seed).candidates if one.serves]


def without(kind: str) -> dict[str, Any]:
    """The small shelf without its parts of a kind."""
    written = small_shelves.shelf().written
    return {**written, "parts": [part for part in written["parts"] if part["kind"] != kind]}


def test_a_tie_goes_to_the_cheaper_then_to_the_id() -> None:
    prices = {"c": 110, "b": 90, "a": 110, "d": 90}
    pumps = [{**small_shelves.pump(name), "price": price} for name, price in prices.items()]
    found = case(without("pump"), [small_shelves.BRIEF] * 2, pumps).found()
    assert [one.part.id for one in found.candidates] == ["b", "d", "a", "c"]
    assert found.best is not None and found.best.serves == ("0.yaml", "1.yaml")


def test_a_hose_or_an_adapter_may_be_what_is_missing() -> None:
    """Pieces between parts, of which the whole shelf is searched; a hose of another bore reaches no spigot."""
    hoses = [small_shelves.hose("fits"), small_shelves.hose("wide", bore="25 mm")]
    found = case(without("hose"), [small_shelves.BRIEF], hoses).found()
    assert [(one.part.id, len(one.serves)) for one in found.candidates] == [("fits", 1), ("wide", 0)]


def test_where_no_candidate_helps_none_is_best() -> None:
    parts = [small_shelves.core("far-too-long", long=900), small_shelves.hose("other", bore="25 mm")]
    of = case(without("pump"), [small_shelves.BRIEF], parts)
    assert of.found().best is None and [one.kits for one in of.found().briefs] == [0]
    assert of.wanted()[1] == [(0, 800, "other", ()), (0, 24000, "far-too-long", ())]


def test_a_brief_that_is_served_needs_no_candidate() -> None:
    found = case(small_shelves.shelf().written, [small_shelves.BRIEF], [small_shelves.pump("more")]).found()
    assert found.unserved == () and found.best is None and found.briefs[0].kits > 0


def test_a_coolant_that_freezes_is_no_matter_of_parts() -> None:
    cold = {**small_shelves.BRIEF, "site": {"air": "20 degC", "coldest": "-59 degC"}, "coolant": {"kinds": ["water"]}}
    found = case(small_shelves.shelf().written, [cold], [small_shelves.pump("more")]).found()
    assert found.briefs[0].kits == 0 and found.best is None


@pytest.mark.parametrize(("aim", "served"), [("60 degC", False), ("70 degC", True), ("90 degC", True)])
def test_a_candidate_that_is_needed_twice(aim: str, served: bool) -> None:
    """Two zones in the nose: at 70 degC only twins of the candidate do, beside a poor exchanger that the shelf has."""
    poor = {**small_shelves.exchanger("poor"), "face": {"wide": "100 mm", "high": "60 mm"}}
    wye = {**shipped_part("wye-19"), "kind": "wye"}
    brief = copy.deepcopy(small_shelves.BRIEF) | {"aim": {"charge_air": aim}}
    brief["driving"] = {"stretches": [{"lasts": "60 s", "share": "100 %", "speed": "80 km/h"}], "total": "20 min"}
    zones = brief["bay"]["zones"]
    zones["nose-2"] = copy.deepcopy(zones["nose"])
    written = without("exchanger")
    of = case({**written, "parts": [*written["parts"], poor, wye]}, [brief], [small_shelves.exchanger("one")])
    layouts = [Layout.model_validate(layout) for layout in shipped("layouts")]
    shelf = replace(of.shelf, catalogue=make_catalogue(of.shelf.catalogue.parts.values(), layouts))
    of = replace(of, shelf=shelf)
    (one,) = of.found().candidates
    assert of.wanted() == (["0.yaml"], [(-len(one.serves), 18000, "one", one.serves)])
    assert bool(one.serves) == served
