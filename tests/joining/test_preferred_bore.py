"""A loop in one bore of hose as far as its ends take it: what has no such run keeps the best one there is."""

from __future__ import annotations

from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.preferred_bore import PreferredBore
from configurator.joining.run_refusal import RunConditions
from configurator.parts.kit import Joint
from tests.joining.made_parts import adapter, clamp, end, hose

WARM = RunConditions(hottest_k=373.15, coldest_k=253.15, design_pa_gauge=2e5)
HOSES = [hose("h19", 19), hose("h25", 25)]
BARBS = [
    adapter("orb12-19", "orb -12 male", "spigot 19 barb", bore=15.5),
    adapter("orb12-25", "orb -12 male", "spigot 25 barb", bore=12, price=30),
]
CLAMPS = [clamp("small", 20, 45)]


def hose_of(joiner: HoseJoiner, a: str, b: str, case: RunConditions = WARM) -> str | None:
    made = joiner.join(("pump", end(a, "out")), ("core", end(b, "in")), 1.0, case)
    assert isinstance(made, Joint), made
    return made.hose


def test_wider_hose_lies_where_both_ends_take_it_though_it_is_not_the_best_run() -> None:
    plain, wide = HoseJoiner(HOSES, BARBS, CLAMPS), PreferredBore(HOSES[1:], HOSES, BARBS, CLAMPS)
    ports = ("orb -12 female", "orb -12 female")
    assert (hose_of(plain, *ports), hose_of(wide, *ports)) == ("h19", "h25")


def test_where_an_end_takes_no_wider_hose_the_best_run_stays() -> None:
    plain, wide = HoseJoiner(HOSES, BARBS, CLAMPS), PreferredBore(HOSES[1:], HOSES, BARBS, CLAMPS)
    ends = ("spigot 19 barb", "orb -12 female")
    assert hose_of(plain, *ends) == hose_of(wide, *ends) == "h19"


def test_a_wider_hose_that_does_not_hold_the_pressure_is_not_taken() -> None:
    weak = [HOSES[0], hose("h25", 25, working=1)]
    wide = PreferredBore(weak[1:], weak, BARBS, CLAMPS)
    assert hose_of(wide, "orb -12 female", "orb -12 female") == "h19"
