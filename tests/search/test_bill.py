"""Lines of the bill, counted by hand: which group a piece belongs to, what hose, coolant and wiring come to."""

from __future__ import annotations

from dataclasses import replace

import pytest

from configurator.brief.tables import CoolantKind
from configurator.foundations.coolants import Coolant
from configurator.parts.kinds import Fuse, Part, Pump, Relay, Wire
from configurator.parts.kit import Joint, Need
from configurator.search.bill import coolant_lines, hose_to_buy_m, joint_lines, part_lines, wire_drop_v, wiring_lines
from tests.joining.made_parts import adapter
from tests.search.small_shelves import pump

PRICES = {"coupler": 2400, "t-bolt": 450, "adapter": 1100, "hose": 800, "worm": 200}


def joint(medium: str, piece: str, clamp: str, metres: float = 0.0) -> Joint:
    """A joint of one piece and two clamps, on a hose where it has a length."""
    return Joint(
        medium, "a.out", "b.in", (piece,), "hose" if metres else None, metres, 0.019, 1e-5, 0.019, 0.0, 0.0,
        (Need("clamp", clamp, 2, "piece"), Need("thread sealant", None, 1, "piece")), (), 0, 0.0,
    )  # fmt: skip


def test_pieces_are_billed_on_the_side_of_their_joint_and_hose_of_all_runs_in_one_length() -> None:
    """Two runs of 1.01 and 0.52 m: 1.53 m, a tenth more is 1.683, in whole tenths 1.7 m at 8.00: 13.60."""
    made = [joint("charge", "coupler", "t-bolt"), joint("coolant", "adapter", "worm", 1.01)]
    lines = joint_lines([*made, joint("coolant", "adapter", "worm", 0.52)], PRICES.__getitem__)
    told = {(line.group, line.item, line.part): (line.quantity, line.price_cents) for line in lines}
    assert told == {
        ("charge side", "adapter", "coupler"): (1, 2400),
        ("charge side", "clamp", "t-bolt"): (2, 900),
        ("charge side", "thread sealant", None): (1, 0),
        ("coolant side", "adapter", "adapter"): (2, 2200),
        ("coolant side", "clamp", "worm"): (4, 800),
        ("coolant side", "hose", "hose"): (1.7, 1360),
        ("coolant side", "thread sealant", None): (2, 0),
    }
    assert all(line.bring_yourself == (line.part is None) for line in lines)


def test_runs_and_stubs_of_one_hose_are_one_length_rounded_up_once() -> None:
    """By hand: (1.5 + 0.1) * 1.1 = 1.76 m, sold as 1.8 m at 8.00: 14.40; rounded apart it was 1.7 and 0.2 m. A stub of
    another hose is a line of its own: 0.11 m, sold as 0.2 m at 9.00."""
    stubs = (Need("hose stub", "hose", 0.1, "m"), Need("hose stub", "other", 0.1, "m"))
    made = replace(joint("coolant", "adapter", "worm", 1.5), needs=stubs)
    lines = joint_lines([made], {**PRICES, "other": 900}.__getitem__)
    metres = [(line.item, line.part, line.quantity, line.price_cents) for line in lines if line.unit == "m"]
    assert metres == [("hose and stubs", "hose", 1.8, 1440), ("hose stub", "other", 0.2, 180)]
    assert made.hoses_m == (("hose", 1.5), ("hose", 0.1), ("other", 0.1))


def test_an_item_off_the_shelf_and_one_that_any_shop_has_are_two_lines() -> None:
    made = joint("coolant", "adapter", "worm")
    mixed = replace(made, needs=(Need("clamp", "worm", 2, "piece"), Need("clamp", None, 1, "piece")))
    lines = [line for line in joint_lines([mixed], PRICES.__getitem__) if line.item == "clamp"]
    assert {(line.part, line.quantity, line.price_cents) for line in lines} == {("worm", 2, 400), (None, 1, 0)}


def test_what_the_customer_has_costs_nothing_and_each_part_stands_in_its_group() -> None:
    motor = Pump.model_validate(pump())
    slots: list[tuple[str, Part]] = [("pump", motor), ("adapter", adapter("a", "orb -12 male", "spigot 19 barb"))]
    bought, own = (part_lines(slots, lambda part, mine=mine: mine and part == "pump") for mine in (False, True))
    assert [(line.place, line.group, line.price_cents) for line in bought] == [
        ("pump", "coolant side", 11000), ("adapter", "coolant side", 1000),
    ]  # fmt: skip
    assert [(line.price_cents, line.bring_yourself) for line in own] == [(0, True), (1000, False)]


@pytest.mark.parametrize(("runs", "bought"), [(1.0, 1.1), (0.91, 1.1), (0.9, 1.0), (2.0, 2.2), (0.05, 0.1)])
def test_hose_is_bought_a_tenth_longer_in_whole_tenths(runs: float, bought: float) -> None:
    """A tenth more for cutting: common practice, no source."""
    assert hose_to_buy_m(runs) == pytest.approx(bought)


def test_the_fill_is_bought_with_something_to_spare_and_priced_by_the_litre() -> None:
    """By hand: 5 L and 15 % are 5.75 L; 40 % of it 2.3 L at 7.35, the rest water. 15 %: common practice, no source."""
    sold = {
        kind: CoolantKind.model_validate({"id": kind, "name": kind.title(), "price_per_litre": price})
        for kind, price in (("ethylene glycol", 7.35), ("water", 1.2))
    }
    glycol, water = coolant_lines(Coolant("ethylene glycol", 0.4), 5.0, sold)
    assert (glycol.item, glycol.quantity, glycol.price_cents) == ("Ethylene Glycol", 2.3, 1690)
    assert (water.quantity, water.price_cents, water.bring_yourself) == (3.5, 0, True)
    (plain,) = coolant_lines(Coolant("water", 0.0), 5.0, sold)
    assert (plain.quantity, plain.price_cents, plain.group) == (5.8, 696, "fill")
    (unknown,) = coolant_lines(Coolant("water", 0.0), 5.0, {})
    assert (unknown.item, unknown.price_cents, unknown.bring_yourself) == ("water", 0, True)


def electrical(kind: type[Part], part_id: str, price: float, **facts: str) -> Part:
    return kind.model_validate({"id": part_id, "name": part_id, "price": price, **facts})


SHELF: dict[type[Part], tuple[Part, ...]] = {
    Fuse: (electrical(Fuse, "f-10", 1, rated="10 A"), electrical(Fuse, "f-15", 1, rated="15 A")),
    Relay: (
        electrical(Relay, "r-12", 3, rated="20 A", volts=12),
        electrical(Relay, "r-24", 9, rated="20 A", volts=24),
        electrical(Relay, "r-24-large", 2, rated="40 A", volts=24),
    ),
    Wire: (electrical(Wire, "w-2.5", 2, area="2.5 mm2"), electrical(Wire, "w-4", 3, area="4 mm2")),
}


def test_a_relay_is_made_for_the_voltage_of_its_motor() -> None:
    """The coil of a relay is wound for one voltage: the cheap one of 12 V does not switch a motor of 24 V."""
    for volts in (12, 24):
        motor = Pump.model_validate({**pump(), "volts": volts})
        lines = {line.item: line for line in wiring_lines(motor, SHELF.__getitem__)}
        assert lines["relay"].part == f"r-{volts}"
    strong = Pump.model_validate({**pump(), "volts": 12, "current": "14 A"})
    relay = wiring_lines(strong, SHELF.__getitem__)[1]
    assert relay.part is None and relay.bring_yourself and "for 21 A at 12 V" in relay.item


def test_a_wire_takes_its_voltage_there_and_back() -> None:
    """By hand: 6 A through 3 m there and 3 m back of 2.5 mm2 at 7.98 mohm/m (IEC 60228, from memory): 0.287 V."""
    wire = SHELF[Wire][0]
    assert isinstance(wire, Wire)
    assert wire_drop_v(Pump.model_validate(pump()), wire) == pytest.approx(6.0 * 6.0 * 7.98e-3, rel=0.01)
