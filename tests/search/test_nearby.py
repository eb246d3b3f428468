"""From one kit to those that differ from it in one part, and on to the best of them."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.questions.searches import charge_pipes, hose_joiner, kept, missing, search
from configurator.ranking.order import ORDERS
from configurator.search import nearby
from configurator.search.best_so_far import BestSoFar
from configurator.search.fill import Candidate
from configurator.search.job import Job
from configurator.search.nearby import Nearby
from configurator.search.patience import UNHURRIED, Patience
from configurator.search.rows import RowMaker
from configurator.search.sieve import sieve
from configurator.search.skeletons import SkeletonMaker
from tests.search.small_shelves import cap, core, exchanger, job_of, pump, reservoir, shelf

PARTS = (
    {**core("core-b"), "price": 200},
    core("core-c", long=190),
    {**exchanger("exchanger-b"), "price": 150},
    {**pump("pump-b", dead_head=70), "price": 160},
    {**reservoir("reservoir-b"), "price": 80},
    {**cap("cap-b"), "price": 7},
)
SLOTS = ("core", "exchanger", "pump", "reservoir")


def parts_of(kit: Candidate) -> tuple[str | None, ...]:
    return tuple(kit.kit.part(slot) for slot in SLOTS)


def nearby_of(job: Job) -> Nearby:
    parts = sieve(job)
    return Nearby(SkeletonMaker(job, parts, hose_joiner(job)), RowMaker(job, parts, charge_pipes(job)))


def near(job: Job, kit: Candidate, patience: Patience = UNHURRIED) -> list[tuple[str, ...]]:
    """The parts of every loop near a kit, as often as it comes."""
    return [tuple(dict(row.parts)[slot] for slot in SLOTS) for row in nearby_of(job).of(kit, patience)]


def every_kit(job: Job) -> list[Candidate]:
    found = search(job, lambda words: None)
    return [*kept(found), *missing(found)]


def test_near_a_kit_are_all_that_differ_in_one_part() -> None:
    job = job_of(shelf(*PARTS))
    kits = every_kit(job)
    assert len({parts_of(kit) for kit in kits}) == 3 * 2 * 2 * 2
    for kit in kits[::7]:
        own = parts_of(kit)
        near_ones = {parts_of(one) for one in kits if sum(a != b for a, b in zip(parts_of(one), own, strict=True)) < 2}
        assert set(near(job, kit)) == near_ones and len(near_ones) == 1 + 2 + 1 + 1 + 1


def test_it_begins_with_one_loop_for_each_class_of_cores_with_each_of_exchangers() -> None:
    thin = core("core-thin", spigot="16 mm")
    job = job_of(shelf(*PARTS, thin, core("core-weak", working="1.9 bar")))
    begun = [tuple(dict(row.parts)[slot] for slot in SLOTS) for row in nearby_of(job).anywhere(UNHURRIED)]
    assert set(begun) <= {parts_of(kit) for kit in every_kit(job)}
    weak = sum(parts[0] == "core-weak" for parts in begun)
    assert (len(begun), weak) == (2, 1), "one of the two classes that join, and none of the class that no hose fits"
    assert list(nearby_of(job).anywhere(Patience(0.0, -1.0))) == []


def test_it_begins_where_hardly_any_pump_goes_in_beside_a_reservoir() -> None:
    """Of a thousand parts of each kind none was found that shared a zone, and no kit was told when time ended."""
    wide = {"size": {"x": "230 mm", "y": "210 mm", "z": "200 mm"}}
    crowd = [{**part, **wide} for n in range(40) for part in (pump(f"pump-{n}"), reservoir(f"reservoir-{n}"))]
    job = job_of(shelf(*crowd))
    (begun,) = nearby_of(job).anywhere(UNHURRIED)
    assert dict(begun.parts)["pump"] == "pump" and dict(begun.parts)["reservoir"] == "reservoir"


def test_of_many_parts_some_from_all_over_the_shelf_are_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(nearby, "MOST_OF_A_KIND", 2)
    job = job_of(shelf(*PARTS))
    assert len({parts[0] for parts in near(job, every_kit(job)[0])}) <= 3


def test_when_time_has_run_out_nothing_more_is_made() -> None:
    job = job_of(shelf(*PARTS))
    assert near(job, every_kit(job)[0], Patience(0.0, -1.0)) == []


@pytest.mark.parametrize("short_k", [-30.0, 1.0])
def test_where_some_of_the_time_has_brought_nothing_it_goes_from_kit_to_kit(
    short_k: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From loops of all classes to the cheapest; where the coolest misses the aim by `short_k`, to that."""
    looked: list[Candidate] = []
    of = Nearby.of

    def seen(self: Nearby, kit: Candidate, patience: Patience) -> Any:
        looked.append(kit)
        return of(self, kit, patience)

    coolest_k = max(kit.margin_k for kit in every_kit(job_of(shelf(*PARTS, aim={"charge_air": "80 degC"}))))
    job = job_of(shelf(*PARTS, aim={"charge_air": f"{80 - coolest_k - short_k:.2f} degC"}))
    kits = every_kit(job)
    monkeypatch.setattr(Nearby, "of", seen)
    monkeypatch.setattr(Patience, "rest", lambda self, share: Patience(0.0, -1.0))
    best = BestSoFar(lambda scores: ORDERS["price"](scores, 6.0), 1)
    search(job, lambda words: None, best=best, patience=Patience.of(1e6))
    first = [kit for kit in kits if not kit.missed]
    if first:
        assert looked[-1].ids == min(first, key=lambda kit: (kit.price_cents, kit.ids)).ids
    else:
        assert looked[-1].margin_k == max(kit.margin_k for kit in kits if len(kit.missed) == 1)
    assert len({kit.ids for kit in looked}) == len(looked)
