"""Where nothing on a shelf joins two ends: what would, and which pieces fit and do not stand the service."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.joining.one_piece import Service, cheapest_bridge
from configurator.joining.refused_pieces import sleeves_that_serve, what_is_missing
from configurator.parts.kinds import Adapter
from tests.joining.made_parts import adapter, end, hose

CHARGE = Service("charge", boost_pa_gauge=1.4e5)
COOLANT = Service("coolant")
HOT: dict[str, Any] = {"class": "A silicone", "hottest": 175}
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


@pytest.mark.parametrize(("hottest_c", "sold"), [(175, "plain"), (182, "lined")])
def test_above_what_plain_silicone_stands_the_lined_coupler_is_sold(hottest_c: float, sold: str) -> None:
    """The plain one was sold beside the caution that it hardens (a carmaker's specification of turbo hose)."""
    plain = coupler("plain", hottest=204, working=6)
    lined = coupler("lined", hottest=204, working=6, price=99, lined=True)
    hot = Service("charge", 1.4e5, hottest_k=hottest_c + 273.15)
    bridge = cheapest_bridge(BEADED, BEADED, [plain, lined], [], hot)
    assert bridge is not None and [piece.id for piece in bridge.pieces] == [sold]
    assert sleeves_that_serve(end("coupler 57"), [plain, lined], hot) == (
        ["lined"] if sold == "lined" else ["plain", "lined"], 2
    )  # fmt: skip


def test_where_no_lined_coupler_is_there_the_one_that_is_missing_is_told_with_its_lining() -> None:
    hot = Service("charge", 1.4e5, hottest_k=455.0)
    missing, refused = what_is_missing(BEADED, BEADED, [coupler("plain", hottest=204, working=6)], [], hot)
    assert missing == "a 57 mm coupler, that is lined and holds 1.75 bar at 182 degC"
    assert refused.startswith("1 piece fits; of those that stand 182 degC none has the fluoro lining")
    assert "above 175 degC" in refused


@pytest.mark.parametrize(("pressure", "joined"), [(3e5, True), (3.1e5, False)])
def test_hose_is_held_against_the_pressure_that_was_told(pressure: float, joined: bool) -> None:
    spigot, service = end("spigot 19 barb"), Service("coolant", pressure_pa_gauge=pressure)
    assert (cheapest_bridge(spigot, spigot, [], [hose("h19", 19, working=3)], service) is not None) is joined


def test_spigots_alike_miss_a_piece_of_hose_and_no_adapter() -> None:
    spigot = end("spigot 38 bead")
    assert what_is_missing(spigot, spigot, [], [], COOLANT) == ("a piece of 38 mm hose", "")


def test_couplers_of_a_size_that_hold_a_boost_are_counted() -> None:
    shelf = [coupler("weak", working=2), coupler("strong", working=6), coupler("unsaid", working=None)]
    assert sleeves_that_serve(end("coupler 57"), shelf, Service("charge", 4e5)) == (["strong", "unsaid"], 3)
    assert sleeves_that_serve(end("coupler 63.5"), shelf, CHARGE) == ([], 0)


def test_hoses_of_a_size_that_stand_a_service_are_counted() -> None:
    """An inch is 25.4 mm and its hose is sold as 25 mm: of one size."""
    shelf = [hose("rubber", 25), hose("silicone", 25, working=5, **HOT), hose("wired", 25, vacuum=True, working=5)]
    at_hand, other = end("hose 25.4"), coupler("c57")
    assert sleeves_that_serve(at_hand, [*shelf, other], Service("coolant", pressure_pa_gauge=4e5)) == (
        ["silicone", "wired"], 3,
    )  # fmt: skip
    assert sleeves_that_serve(at_hand, shelf, Service("coolant", suction=True)) == (["wired"], 3)
    assert sleeves_that_serve(at_hand, shelf, Service("coolant", hottest_k=413.15)) == (["silicone"], 3)
    assert sleeves_that_serve(end("hose 19"), shelf, COOLANT) == ([], 0)


def test_of_hoses_that_fit_the_one_that_stands_most_is_named_and_not_the_cheapest() -> None:
    spigot = end("spigot 19 barb")
    shelf = [hose("cheap", 19, price=5), hose("strong", 19, working=5), hose("hot", 19, working=4, **HOT)]
    _, weak = what_is_missing(spigot, spigot, [], shelf, Service("coolant", pressure_pa_gauge=9e5))
    assert weak == "3 pieces fit, too weak: strong [strong] holds most, 5.00 bar, the joint may see 9.00 bar"
    _, hot = what_is_missing(spigot, spigot, [], shelf, Service("coolant", hottest_k=453.15))
    assert "3 pieces fit, not for this heat: hot [hot] stands most, 175 degC, there it is 180 degC" in hot
    barb = adapter("barb", "orb -12 male", "spigot 19 barb", working=20)
    _, both = what_is_missing(end("orb -12 female"), spigot, [barb], shelf, Service("coolant", pressure_pa_gauge=9e5))
    assert both.startswith("3 sets of hose and adapter fit, too weak: strong [strong] and barb [barb] hold most, 5.00")


def test_before_the_pump_wide_hose_that_is_not_wired_counts_for_nothing() -> None:
    """Common practice, no source: a plain hose over 19 mm is sucked flat; what says nothing of vacuum is not wired."""
    wide, suction = end("spigot 25 bead"), Service("coolant", suction=True)
    plain = [hose("plain", 25, price=1, vacuum=False), hose("unsaid", 25, price=1), hose("hot", 25, **HOT)]
    wired = hose("wired", 25, price=9, vacuum=True)
    found = cheapest_bridge(wide, wide, [], [*plain, wired], suction)
    assert found is not None and found.stubs == (wired,)
    assert [caution.code for caution in found.cautions] == ["suction-hose"]
    missing, refused = what_is_missing(wide, wide, [], plain, suction)
    assert missing == "a piece of 25 mm hose, that is wired or rated for vacuum"
    assert refused.startswith("3 pieces fit; none is wired or rated for vacuum")
    _, hot = what_is_missing(wide, wide, [], [*plain, wired], Service("coolant", suction=True, hottest_k=403.15))
    assert hot.startswith("4 pieces fit; of those that stand 130 degC none is wired or rated for vacuum")
    narrow = end("spigot 19 bead")
    small = cheapest_bridge(narrow, narrow, [], [hose("h19", 19, vacuum=False)], suction)
    assert small is not None and small.cautions == ()
