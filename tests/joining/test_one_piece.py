"""The one piece that joins two ends: of the right medium, by the pieces of hose it takes, or what it would be."""

from __future__ import annotations

import pytest

from configurator.joining.one_piece import Service, cheapest_bridge, missing_piece
from configurator.joining.run_ways import STUB_LENGTH_M
from tests.joining.made_parts import adapter, end, hose

COOLANT, CHARGE = Service("coolant"), Service("charge")
BOSS_TO_BARB = ("orb -12 male", "spigot 19 barb")


def test_a_piece_made_for_the_other_medium_joins_nothing() -> None:
    """What is made for charge air says nothing of coolant: it is passed over though it is cheaper (common practice)."""
    cheap = adapter("for-charge", *BOSS_TO_BARB, medium="charge", price=1)
    right = adapter("for-coolant", *BOSS_TO_BARB, price=9)
    a, b = end("orb -12 female"), end("hose 19")
    found = cheapest_bridge(a, b, [cheap, right], [], COOLANT)
    assert found is not None and found.adapter is right
    assert cheapest_bridge(a, b, [cheap], [], COOLANT) is None


@pytest.mark.parametrize(("service", "sleeve"), [(COOLANT, "hose"), (CHARGE, "coupler")])
def test_a_spigot_wants_the_sleeve_of_its_medium(service: Service, sleeve: str) -> None:
    """Coolant goes through hose, charge air through couplers (common practice, no source)."""
    words = missing_piece(end("spigot 63.5 bead"), end("spigot 50.8 bead"), service)
    assert words == f"an adapter with a 50.8 mm {sleeve} end at one end and a 63.5 mm {sleeve} end at the other"
    assert "beaded or barbed spigot" in missing_piece(end("spigot 63.5 bead"), end(f"{sleeve} 51"), service)


def test_a_thread_or_a_neck_wants_the_end_that_screws_on_it() -> None:
    """A neck has a size in millimetres as a spigot has, and no hose goes on it."""
    words = missing_piece(end("neck 45 male"), end("orb -12 female"), COOLANT)
    assert "hose end" not in words and "45 mm" in words and "O-ring boss -12 male" in words
    taper = missing_piece(end("rc 1/2"), end("npt 1/2 male"), COOLANT)
    assert "R 1/2" in taper and "NPT 1/2 female" in taper


def test_two_spigots_of_one_size_take_a_piece_of_hose_and_two_clamps_alone() -> None:
    """By hand: a tenth of a metre of hose at 8.00 a metre is 0.80; the cheaper of two hoses of the bore is taken."""
    hoses = [hose("dear", 19, price=12), hose("cheap", 19), hose("wide", 25)]
    found = cheapest_bridge(end("spigot 19 barb"), end("spigot 19 bead"), [], hoses, COOLANT)
    assert found is not None and found.adapter is None
    assert [stub.id for stub in found.stubs] == ["cheap"]
    assert [(need.item, need.quantity) for need in found.needs] == [("hose clamp", 2)]
    assert STUB_LENGTH_M == 0.1 and found.price_cents == 80
    assert cheapest_bridge(end("spigot 19 barb"), end("spigot 19"), [], hoses, COOLANT) is None
