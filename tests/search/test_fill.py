"""What a filled kit is told to weigh, hold, draw and cost, by hand, and what becomes of one that nobody can place."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from configurator.brief.tables import IceKind
from configurator.search.fill import Candidate, Filled
from tests.journeys.kitwright import shipped
from tests.oracles.shelves import shelf_of
from tests.search.small_shelves import BRIEF, WIRING, cap, core, filled, pump, reservoir, shelf


def own(*parts: tuple[str, bool], **brief: Any) -> Filled:
    """All kits of the small shelf where the customer has some parts: id, and whether it is in the car."""
    return filled(shelf_of({**shelf(**brief).written, "own": [list(part) for part in parts]}))


def only(found: Filled) -> Candidate:
    (kit,) = found.kept
    return kit


def test_a_kit_weighs_what_is_put_into_the_car_and_holds_what_its_parts_and_hoses_do() -> None:
    """By hand: core 2, exchanger 2, pump 1 kg, eight clamps of 20 g. What is in the car already is not put in.

    Reservoir 3 L, core 0.6, exchanger 0.7, and 0.5 m and three times 1.5 m of hose of 19 mm.
    """
    kit = only(filled(shelf()))
    assert kit.mass_g == 5160 and kit.current_a == 6.0
    assert kit.coolant_m3 == pytest.approx(4.3e-3 + 5.0 * math.pi / 4 * 0.019**2)
    assert only(own(("pump", True))).mass_g == 4160
    assert only(own(("pump", False))).mass_g == 5160
    assert only(own(("core", True), ("exchanger", True), ("pump", True))).mass_g == 160


def test_what_a_pump_holds_is_in_the_loop_and_what_its_wiring_weighs_is_in_the_kit() -> None:
    """By hand: 0.25 L more in the pump; relay, fuse and 3 m of wire there and back: 50 + 5 + 6 x 20 g."""
    plain = only(filled(shelf()))
    wide = {**pump(), "coolant": {**pump()["coolant"], "volume": "0.25 L"}}
    assert only(filled(shelf(wide))).coolant_m3 - plain.coolant_m3 == pytest.approx(0.25e-3)
    weighs = {"relay": "50 g", "fuse": "5 g", "wire": "20 g"}
    wiring = [{**piece, "mass": weighs[piece["kind"]]} for piece in WIRING]
    assert only(filled(shelf(*wiring))).mass_g - plain.mass_g == 175


def test_a_part_that_the_customer_has_costs_nothing_and_all_else_what_it_did() -> None:
    """The pump costs 110; its wiring is bought all the same."""
    kit = only(filled(shelf()))
    assert kit.price_cents - only(own(("pump", False))).price_cents == 11000
    dearer = only(filled(shelf({**pump(), "price": 125})))
    assert dearer.price_cents - kit.price_cents == 1500


def test_in_a_bay_that_nobody_has_measured_kits_are_offered_and_none_is_said_to_fit() -> None:
    kit = only(filled(shelf(bay="unmeasured")))
    assert (kit.fit_decided, kit.clearance_mm, kit.proven) == (False, 0.0, False)
    assert only(filled(shelf())).fit_decided
    small = {**BRIEF["bay"]["zones"], "bulkhead": {**BRIEF["bay"]["zones"]["bulkhead"], "high": "99 mm"}}
    assert filled(shelf(bay={"zones": small})).kept == ()


@pytest.mark.parametrize(
    ("limits", "missed"),
    [
        ({"mass_dry": "5.16 kg", "current": "6 A"}, ()),
        ({"mass_dry": "5.159 kg"}, ("mass",)),
        ({"current": "6.5 A"}, ()),
    ],
)
def test_a_limit_is_kept_by_what_is_equal_to_it(limits: dict[str, str], missed: tuple[str, ...]) -> None:
    found = filled(shelf(limits=limits))
    assert [kit.missed for kit in (*found.kept, *found.missing)] == [missed]


def test_a_price_limit_is_kept_to_the_cent() -> None:
    cents = only(filled(shelf())).price_cents
    assert filled(shelf(limits={"price": cents / 100})).kept
    (over,) = filled(shelf(limits={"price": (cents - 1) / 100})).missing
    assert over.missed == ("price",)


def test_ice_in_the_tank_takes_the_place_of_coolant() -> None:
    """What floats displaces its own weight (Archimedes): a litre for a kilogram. No front exchanger is in circuit."""
    ice = {"kind": "crushed", "mass": "1 kg", "water": "0 degC"}
    tank = {**reservoir(), "ice": True, "vented": True}
    of = shelf(tank, cap(opens="0 bar"), coolant={"kinds": ["water"]}, ice=ice, site={"air": "0 degC"})
    tables = replace(of.tables, ice={row["id"]: IceKind.model_validate(row) for row in shipped("ice")})
    kit = only(filled(replace(of, tables=tables)))
    hoses = sum(joint.hose_length_m for joint in kit.joints) * math.pi / 4 * 0.019**2
    assert kit.coolant_m3 == pytest.approx(3.6e-3 + hoses - 1e-3, abs=2e-5)


def test_a_charge_loss_over_its_limit_is_missed_by_the_kit_though_the_core_alone_keeps_it() -> None:
    """The pipes before and behind the core take the rest; losses are told to a tenth of a pascal."""
    piped = {"engine": {**BRIEF["engine"], "charger_outlet": "57 mm", "throttle": "57 mm"}}
    wide = {**core(), "charge": {**core()["charge"], "working": "3 bar"}}
    sleeve = {"form": "coupler", "size": "57 mm"}
    elbow = {
        "kind": "adapter", "id": "elbow", "name": "elbow", "price": 15, "shape": "elbow", "medium": "charge",
        "length": "120 mm", "wall": "4.5 mm", "loss_factor": 1.0,
        "through": {"working": "4 bar", "hottest": "220 degC", "ends": [{**sleeve, "name": name} for name in "ab"]},
    }  # fmt: skip
    alone, whole = (only(filled(shelf(wide, elbow, **more))).charge_loss_pa for more in ({}, piped))
    assert whole > alone + 10.0 and whole == round(whole, 1)

    def limited(loss_pa: float) -> Filled:
        return filled(shelf(wide, elbow, **piped, aim={"charge_air": "120 degC", "charge_loss": f"{loss_pa} Pa"}))

    assert only(limited(whole + 1.0)).missed == ()
    (over,) = limited(whole - 1.0).missing
    assert over.missed == ("charge loss",)
