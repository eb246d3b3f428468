"""The best first on a small shelf: what it lists, what it says while it looks, and what it says that it left out."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.questions.searches import Searched, kept, search
from configurator.ranking.order import ORDERS
from configurator.search.best_so_far import BestSoFar
from tests.oracles.looked_for import ALL, EACH_CHOICE, FIRST, SHORT, THREE, Ask, Asked, unlike_the_whole
from tests.search.small_shelves import BRIEF, cap, core, exchanger, job_of, pump, reservoir, shelf

SLEEVE = {"form": "coupler", "size": "57 mm"}
WIDE = [{**end, "size": "76 mm"} for end in core()["charge"]["ends"]]
PARTS = (
    {**core("core-b"), "price": 200, "size": {"x": "110 mm", "y": "130 mm", "z": "100 mm"}},
    {**core("core-c", spigot="16 mm"), "price": 1},
    {**core("core-d"), "price": 2, "charge": {**core()["charge"], "ends": WIDE}},
    {**exchanger("exchanger-d"), "price": 260, "mass": "1 kg"},
    {**exchanger("exchanger-b"), "price": 150, "mass": "3 kg"},
    {**exchanger("exchanger-c"), "price": 220, "mass": "1.5 kg"},
    {**pump("pump-b", dead_head=70), "price": 160, "mass": "0.8 kg"},
    {**reservoir("reservoir-b"), "price": 80},
    {**cap("cap-b"), "price": 7},
    {
        "kind": "adapter", "id": "coupler", "name": "coupler", "price": 15, "shape": "coupler", "medium": "charge",
        "length": "80 mm", "wall": "4.5 mm",
        "through": {
            "working": "4 bar", "hottest": "220 degC", "ends": [{**SLEEVE, "name": name} for name in ("a", "b")],
        },
    },
)  # fmt: skip
"""Beside one of each: a core that differs in heat, room and price, one that no hose and one that no coupler joins, and
dearer parts; with more exchangers than cores."""

ENGINE = {**BRIEF["engine"], "charger_outlet": "57 mm", "throttle": "57 mm"}
KITS = 2 * 4 * 2 * 2 * 2
"""Two cores that join, four exchangers, and two each of pumps, reservoirs and caps."""


@pytest.fixture(scope="module")
def asked() -> Asked:
    """The small shelf's job with these parts, and all its kits once they are found."""
    return Asked(shelf(*PARTS, engine=ENGINE))


@pytest.mark.parametrize("ask", [ALL, EACH_CHOICE, FIRST, SHORT, THREE, *(Ask(2, order=order) for order in ORDERS)])
def test_it_lists_what_looking_at_everything_lists_and_leaves_out_no_group_wrongly(asked: Asked, ask: Ask) -> None:
    assert len(kept(asked.whole())) == KITS
    assert unlike_the_whole(asked, ask, asked.best_first(ask)) == []


def test_in_a_bay_that_nobody_has_measured_it_lists_the_same_too() -> None:
    unmeasured = Asked(shelf(*PARTS, engine=ENGINE, bay="unmeasured"))
    assert len(kept(unmeasured.whole())) == KITS
    assert unlike_the_whole(unmeasured, SHORT, unmeasured.best_first(SHORT)) == []


ZONES = BRIEF["bay"]["zones"]
HOT = {"stretches": [{"lasts": "60 s", "share": "100 %", "speed": "40 km/h"}], "total": "600 s"}


@pytest.mark.parametrize(
    ("changed", "brief"),
    [
        ({"side": {**ZONES["side"], "wide": "120 mm"}}, {}),
        ({"bulkhead": {**ZONES["bulkhead"], "wide": "120 mm"}}, {}),
        (
            {"nose": {**ZONES["nose"], "air": {"face_speed": "15 m/s"}}},
            {"driving": HOT, "aim": {"charge_air": "75 degC"}},
        ),
        (
            {"nose": {**ZONES["nose"], "air": {"face_speed": "15 m/s"}}},
            {"driving": HOT, "aim": {"charge_air": "65 degC"}},
        ),
    ],
)
def test_with_no_room_to_spare_and_with_air_of_a_zone_of_its_own_it_lists_the_same(changed: Any, brief: Any) -> None:
    """A tank or core that just goes in, without a gap, is in a kit; heat is bounded by the exchanger's own air."""
    asked = Asked(shelf(*PARTS, engine=ENGINE, bay={"zones": {**ZONES, **changed}}, **brief))
    assert kept(asked.whole())
    for ask in (ALL, THREE):
        assert unlike_the_whole(asked, ask, asked.best_first(ask)) == []


def looked_for(
    *parts: dict[str, Any], top: int = 10**6, all_variants: bool = True, **brief: Any
) -> tuple[Searched, list[str]]:
    """One search for the cheapest kits, and what it tells while it looks."""
    told: list[str] = []
    job = job_of(shelf(*parts, **{"engine": ENGINE, **brief}))
    best = BestSoFar(lambda scores: ORDERS["price"](scores, 6.0), top, all_variants=all_variants)
    (found,) = search(job, told.append, best=best)
    return found, told


def test_it_says_how_many_loops_it_has_predicted_and_that_it_left_out_what_cannot_come_first() -> None:
    found, told = looked_for(*PARTS, top=1)
    proof = found.kits.proof
    assert proof is not None and proof.choices == 4 * 4 * 2 * 2
    words = [line for line in told if line.startswith("predicting loops ")]
    assert words[0].startswith("predicting loops 1 to ")
    assert words[-1].endswith(f" to {proof.predicted}")
    assert found.kits.loops == proof.predicted < KITS / 2
    assert proof.counts["behind the last"] > 0 and proof.least is not None


def test_where_one_kit_is_listed_for_each_choice_what_comes_after_its_own_choice_is_left_out() -> None:
    """Eight choices of core and exchanger, each with two pumps and two reservoirs: the cheapest of both will do."""
    found, _ = looked_for(*PARTS, top=8, all_variants=False)
    proof = found.kits.proof
    assert proof is not None and proof.counts["behind its own choice"] > 0
    every, _ = looked_for(*PARTS)
    assert every.kits.proof is not None and "behind its own choice" not in every.kits.proof.counts
    assert proof.predicted < every.kits.proof.predicted == KITS / 2


@pytest.mark.parametrize(
    ("limits", "why"), [({"price": 640}, "price"), ({"mass_dry": "5 kg"}, "mass"), ({"price": 10_000}, None)]
)
def test_what_must_break_a_limit_is_left_out_for_it(limits: dict[str, Any], why: str | None) -> None:
    found, _ = looked_for(*PARTS, limits=limits)
    proof = found.kits.proof
    assert proof is not None
    assert set(proof.counts) == ({why} if why else set())


def test_a_pair_that_is_too_dear_with_the_cheapest_pump_and_joints_is_not_opened() -> None:
    """By hand: parts 599 with the cap, 5 m of hose 40, clamps 12, fuse, relay and wire 20 come to 671, without coolant.

    Two pumps alike make two loops of one core and one exchanger: the pair is left out once, before either is made.
    """
    plain = {"engine": BRIEF["engine"]}
    found, _ = looked_for(pump("pump-b"), **plain, limits={"price": 670})
    assert found.kits.proof is not None
    assert (found.kits.proof.predicted, found.kits.proof.counts) == (0, {"price": 1})
    cheap, _ = looked_for(pump("pump-b"), **plain, limits={"price": 690})
    assert cheap.kits.proof is not None and cheap.kits.proof.counts == {}


def test_where_heat_alone_says_that_a_pair_is_too_warm_no_loop_of_it_is_predicted() -> None:
    """Ten minutes at full power warm any tank: what core and exchanger pass at best bounds the charge from below."""
    driving = {"stretches": [{"lasts": "60 s", "share": "100 %", "speed": "80 km/h"}], "total": "600 s"}
    warm, _ = looked_for(driving=driving, engine=BRIEF["engine"], aim={"charge_air": "60 degC"})
    assert warm.kits.proof is not None
    assert (warm.kits.proof.predicted, warm.kits.proof.counts) == (0, {"aim": 1})
    easy, _ = looked_for(driving=driving, engine=BRIEF["engine"], aim={"charge_air": "110 degC"})
    assert len(kept([easy])) == 1


def test_on_a_drive_that_begins_with_the_pump_off_it_lists_the_same_too() -> None:
    """Then heat says nothing: what stands in the core warms on its own."""
    stretches = [
        {"lasts": "30 s", "share": "20 %", "speed": "30 km/h", "pump": False},
        {"lasts": "30 s", "share": "100 %", "speed": "80 km/h"},
    ]
    driving = {"stretches": stretches, "total": "300 s"}
    asked = Asked(shelf(*PARTS, engine=ENGINE, driving=driving, aim={"charge_air": "110 degC"}))
    for ask in (ALL, SHORT):
        assert unlike_the_whole(asked, ask, asked.best_first(ask)) == []
