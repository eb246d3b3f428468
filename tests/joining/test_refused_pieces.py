"""Where nothing on a shelf joins two ends: what would, and which pieces fit and do not stand the service."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.joining.one_piece import Service, cheapest_bridge
from configurator.joining.refused_pieces import couplers_that_hold, what_is_missing
from configurator.parts.kinds import Adapter
from tests.joining.made_parts import adapter, end, hose

CHARGE = Service("charge", boost_pa_gauge=1.4e5)
COOLANT = Service("coolant")
BEADED, PLAIN = end("spigot 57 bead"), end("spigot 57")


def coupler(part_id: str, **more: Any) -> Adapter:
    """A silicone coupler of 57 mm."""
    return adapter(part_id, "coupler 57", "coupler 57", medium="charge", **more)


def test_a_plain_pipe_misses_its_bead_and_not_the_coupler_that_is_there() -> None:
    for ends, words in (((PLAIN, PLAIN), "both spigots"), ((PLAIN, BEADED), "the 57 mm spigot")):
        missing, refused = what_is_missing(*ends, [coupler("c57")], [], CHARGE)
        assert missing.startswith(f"a bead on {words}, for 1.40 bar of boost") and "[c57] joins them" in missing
        assert refused == ""
    alone, _ = what_is_missing(PLAIN, PLAIN, [], [], CHARGE)
    assert "a bead on both spigots" in alone and alone.endswith("and a 57 mm coupler")


def test_a_plain_coolant_spigot_misses_its_bead_and_not_the_hose() -> None:
    plain = end("spigot 19")
    missing, _ = what_is_missing(plain, plain, [], [hose("h19", 19)], COOLANT)
    assert "a hose slips off a plain one" in missing and "[h19] joins them" in missing


def test_couplers_too_weak_or_not_for_the_heat_are_named_with_both_figures() -> None:
    """1.25 times 4 bar is 5 bar; at 150 degC silicone holds 0.7 of its pressure: common practice, no source."""
    shelf = [coupler("weak", working=3), coupler("strong", working=4, hottest=200)]
    missing, refused = what_is_missing(BEADED, BEADED, shelf, [], Service("charge", 4e5))
    assert missing == "a 57 mm coupler, that holds 5.00 bar"
    assert refused.startswith("2 pieces fit") and "[strong] holds most, 4.00 bar, the joint may see 5.00 bar" in refused
    _, warm = what_is_missing(BEADED, BEADED, shelf, [], Service("charge", 2.4e5, hottest_k=423.15))
    assert "[strong] holds most, 2.80 bar at 150 degC, the joint may see 3.00 bar" in warm
    _, hot = what_is_missing(BEADED, BEADED, shelf, [], Service("charge", 1e5, hottest_k=533.15))
    assert "[strong] stands most, 200 degC, there it is 260 degC" in hot


def test_a_coupler_is_not_sold_for_a_heat_in_which_it_is_too_weak() -> None:
    """At 150 degC silicone holds 0.7 of its pressure (common practice, no source): of 2 bar 1.4, and 1.75 may come."""
    shelf = [coupler("c57", working=2)]
    assert cheapest_bridge(BEADED, BEADED, shelf, [], CHARGE) is not None
    assert cheapest_bridge(BEADED, BEADED, shelf, [], Service("charge", 1.4e5, hottest_k=423.15)) is None


@pytest.mark.parametrize(("pressure", "joined"), [(3e5, True), (3.1e5, False)])
def test_hose_is_held_against_the_pressure_that_was_told(pressure: float, joined: bool) -> None:
    spigot, service = end("spigot 19 barb"), Service("coolant", pressure_pa_gauge=pressure)
    assert (cheapest_bridge(spigot, spigot, [], [hose("h19", 19, working=3)], service) is not None) is joined


def test_spigots_alike_miss_a_piece_of_hose_and_no_adapter() -> None:
    spigot = end("spigot 38 bead")
    assert what_is_missing(spigot, spigot, [], [], COOLANT) == ("a piece of 38 mm hose", "")


def test_couplers_of_a_size_that_hold_a_boost_are_counted() -> None:
    shelf = [coupler("weak", working=2), coupler("strong", working=6), coupler("unsaid", working=None)]
    assert couplers_that_hold(57e-3, shelf, Service("charge", 4e5)) == (["strong", "unsaid"], 3)
    assert couplers_that_hold(63.5e-3, shelf, CHARGE) == ([], 0)
