"""Bounds of a part from itself alone, by hand: the room it has, what it and its joints cost; and fans that overhang."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.fitting.room import CLEARANCE_COUNTED_MM
from configurator.parts.kinds import Exchanger, Fan
from configurator.parts.kit import Joint, Need
from configurator.prediction.bench import make_bench
from configurator.search.add_ons import covers
from configurator.search.bounds import Bounds
from configurator.search.prices import Prices
from configurator.search.sieve import FITTED, sieve
from tests.journeys.kitwright import shipped
from tests.oracles.shelves import shelf_of
from tests.search.small_shelves import core, exchanger, job_of, pump, shelf


def bounds_of(*parts: dict[str, Any], own: tuple[tuple[str, bool], ...] = (), **brief: Any) -> tuple[Bounds, Any]:
    """The bounds of the small shelf with some parts more, and what its sieve lets through."""
    job = job_of(shelf_of({**shelf(*parts, **brief).written, "own": [list(part) for part in own]}))
    kept = sieve(job)
    bench = make_bench(kept.cores, kept.exchangers, kept.pumps, kept.reservoirs)
    return Bounds(job, kept, bench, Prices(job)), kept


def test_a_part_has_the_room_that_it_has_alone_and_no_more_is_counted_than_counts() -> None:
    """The core has 220 by 140 by 120 mm for its 200 by 120 by 100: 10 mm all round. The pump has more than counts."""
    bounds, kept = bounds_of(core("long", long=210))
    rooms = {part.id: bounds.room_mm(part, "bulkhead") for part in kept.cores}
    assert rooms == {"core": 10.0, "long": 5.0}
    assert bounds.room_mm(kept.pumps[0], "side") == CLEARANCE_COUNTED_MM == 25.0
    assert bounds.room_mm(kept.cores[0], FITTED) == CLEARANCE_COUNTED_MM
    unmeasured, kept = bounds_of(bay="unmeasured")
    assert unmeasured.room_mm(kept.cores[0], "bulkhead") == CLEARANCE_COUNTED_MM
    assert (unmeasured.proven, bounds.proven) == (False, True)


def test_a_part_costs_and_weighs_at_least_itself_and_a_pump_its_wiring_too() -> None:
    bounds, _ = bounds_of(core("second", long=210))
    assert bounds.cents["core"].tolist() == [24000, 24000] and bounds.grams["core"].tolist() == [2000, 2000]
    own, _ = bounds_of(own=(("core", True), ("pump", False)))
    assert own.cents["core"].tolist() == [0] and own.grams["core"].tolist() == [0]
    assert bounds.cents["pump"][0] - own.cents["pump"][0] == 11000 and own.cents["pump"][0] > 0
    dearer, _ = bounds_of({**pump(), "price": 111})
    assert dearer.cents["pump"][0] - bounds.cents["pump"][0] == 100


def run(metres: float, clamp: str) -> Joint:
    """A run of hose with two clamps, and something that any shop has."""
    return Joint(
        "coolant", "a.out", "b.in", (), "hose", metres, 0.019, 1e-5, 0.019, 0.0, 0.0,
        (Need("clamp", clamp, 2, "piece"), Need("sealant", None, 1, "piece")), (), 0, 0.0,
    )  # fmt: skip


def test_joints_cost_no_less_than_the_cheaper_of_their_ways_whatever_is_rounded() -> None:
    """Hose at 8.00 a metre by the millimetre; a cent a piece is taken off for what rounding may do."""
    bounds, _ = bounds_of()
    clamp = next(part for part in shelf().written["parts"] if part["kind"] == "clamp" and "coolant" in part["media"])
    price = round(100 * clamp["price"])

    short, long = run(1.0, clamp["id"]), run(1.5, clamp["id"])
    assert bounds.joints_cents((short,), (short,)) == 800 + 2 * price - 2
    assert bounds.joints_cents((long,), (short,)) == bounds.joints_cents((short,), (long,)) == 800 + 2 * price - 2
    assert bounds.joints_cents((short, long), (short, long)) == 2000 + 4 * price - 4


@pytest.mark.parametrize(
    ("wide", "high", "lies_within"),
    [(400, 140, True), (140, 400, True), (401, 140, False), (400, 141, False), (141, 399, False), (100, 100, True)],
)
def test_a_fan_lies_within_its_exchanger_as_drawn_or_turned_a_quarter(wide: int, high: int, lies_within: bool) -> None:
    """The exchanger's box is 400 by 140 mm. A fan that overhangs draws air past it: common practice, no source."""
    drawn = shipped("fans")[0]
    fan = Fan.model_validate({**drawn, "size": {"x": "60 mm", "y": f"{wide} mm", "z": f"{high} mm"}})
    assert covers(Exchanger.model_validate(exchanger()), fan) is lies_within
