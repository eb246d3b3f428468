"""Coolant runs: the best chain off the shelf equals trying everything, and what stands in the way is named."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from configurator.foundations.verdicts import Verdict
from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.run_refusal import RunConditions
from configurator.parts.kinds import Adapter, Clamp, Hose
from configurator.parts.kit import Joint
from tests.joining.made_parts import adapter, clamp, end, hose

WARM = RunConditions(hottest_k=373.15, coldest_k=253.15, design_pa_gauge=2e5)
SUCTION = RunConditions(hottest_k=373.15, coldest_k=253.15, design_pa_gauge=1e5, suction=True)
CLAMPS = [clamp("small", 20, 30), clamp("large", 26, 45, price=3), clamp("small-dear", 20, 30, price=9)]
STUB_M = 0.1
HOSES = [hose("h16", 16), hose("h19", 19), hose("h25", 25)]
BARBS = [
    adapter("orb12-19", "orb -12 male", "spigot 19 barb", bore=15.5, mass="60 g"),
    adapter("orb10-16", "orb -10 male", "spigot 16 barb", bore=12.3),
    adapter("piece-19-16", "spigot 19 barb", "spigot 16 barb", bore=12.5),
]


def run(
    a: str,
    b: str,
    *,
    hoses: list[Hose] | None = None,
    clamps: list[Clamp] | None = None,
    adapters: list[Adapter] | None = None,
    case: RunConditions = WARM,
) -> Joint | Verdict:
    """One run of a metre from a pump to a core."""
    joiner = HoseJoiner(
        HOSES if hoses is None else hoses,
        BARBS if adapters is None else adapters,
        CLAMPS if clamps is None else clamps,
    )
    return joiner.join(("pump", end(a, "out")), ("core", end(b, "in")), 1.0, case)


def test_a_plain_run_from_a_spigot_to_a_port() -> None:
    joint = run("spigot 19 barb", "orb -12 female")
    assert isinstance(joint, Joint)
    assert (joint.start, joint.finish, joint.medium) == ("pump.out", "core.in", "coolant")
    assert (joint.through, joint.hose) == (("orb12-19",), "h19")
    assert {(need.item, need.part, need.quantity) for need in joint.needs} == {
        ("O-ring -12, EPDM", None, 1),
        ("clamp", "small", 2),
    }
    assert joint.volume_m3 == pytest.approx(math.pi / 4 * 0.019**2)
    assert joint.bore_m == pytest.approx(0.0155)
    assert joint.price_cents == 800 + 1000 + 2 * 200
    assert joint.mass_kg == pytest.approx(0.3 + 0.06 + 2 * 0.02)
    assert {(member.part, member.place) for member in joint.members} == {
        ("h19", "pump to core"),
        ("orb12-19", "pump to core"),
    }


def test_two_spigots_of_different_size_meet_by_a_piece_and_a_stub_with_four_clamps() -> None:
    joint = run("spigot 19 barb", "spigot 16 barb")
    assert isinstance(joint, Joint)
    assert joint.through == ("piece-19-16",)
    clamps = sum(need.quantity for need in joint.needs if need.item == "clamp")
    stubs = [(need.part, need.quantity, need.unit) for need in joint.needs if need.item == "hose stub"]
    assert clamps == 4
    assert stubs in ([("h19", STUB_M, "m")], [("h16", STUB_M, "m")])


def test_answers_are_kept_by_what_the_ends_are_and_told_with_the_names_asked_for() -> None:
    joiner = HoseJoiner(HOSES, BARBS, CLAMPS)
    first = joiner.join(("pump", end("spigot 19 barb", "out")), ("core", end("orb -12 female", "in")), 1.0, WARM)
    other = joiner.join(("tank", end("spigot 19 barb", "low")), ("core", end("orb -12 female", "in")), 1.0, WARM)
    bored = joiner.join(
        ("tank", end("spigot 19 barb bore=10", "low")), ("core", end("orb -12 female", "in")), 1.0, WARM
    )
    assert isinstance(first, Joint) and isinstance(other, Joint) and isinstance(bored, Joint)
    assert (other.start, other.members[0].place) == ("tank.low", "tank to core")
    assert other.loss_per_m4 == first.loss_per_m4 < bored.loss_per_m4


@pytest.mark.parametrize(
    ("rule", "found", "limit", "changes"),
    [
        ("ends-do-not-meet", "G 3/4 female", "hose", {"b": "g 3/4 female"}),
        ("ends-do-not-meet", "19 mm spigot", "O-ring boss -10 female", {"b": "orb -10 female", "adapters": BARBS[:2]}),
        ("look-alike-thread", "orb12-19", "metric O-ring port M27x2 female", {"b": "metric M27x2 female"}),
        ("too-hot", 403.15, 398.15, {"case": RunConditions(403.15, 253.15)}),
        ("too-cold", 223.15, 233.15, {"case": RunConditions(373.15, 223.15)}),
        ("rating-below-pressure", 3e5, 3.5e5, {"case": RunConditions(373.15, 253.15, 3.5e5)}),
        ("no-clamp", 0.027, "", {"clamps": [clamp("wide", 40, 60)]}),
    ],
)
def test_what_stands_in_the_way_is_named(rule: str, found: Any, limit: Any, changes: dict[str, Any]) -> None:
    verdict = run("spigot 19 barb", changes.pop("b", "orb -12 female"), **changes)
    assert isinstance(verdict, Verdict)
    assert (verdict.rule, verdict.state, verdict.subjects) == (rule, "broken", ("pump.out", "core.in"))
    assert verdict.found == (pytest.approx(found) if isinstance(found, float) else found)
    assert verdict.limit == (pytest.approx(limit) if isinstance(limit, float) else limit)
    assert verdict.text


def test_a_piece_that_stands_just_what_the_run_sees_is_good_enough() -> None:
    """Each limit is met by what is equal to it: hottest, coldest and pressure of hose and adapter."""
    just = RunConditions(hottest_k=398.15, coldest_k=233.15, design_pa_gauge=3e5)
    only = {"hoses": [hose("h19", 19)], "adapters": [adapter("orb", "orb -12 male", "spigot 19 barb", hottest=125)]}
    assert isinstance(run("spigot 19 barb", "orb -12 female", case=just, **only), Joint)
    for change in ({"hottest_k": 398.2}, {"coldest_k": 233.1}, {"design_pa_gauge": 3.001e5}):
        assert isinstance(run("spigot 19 barb", "orb -12 female", case=replace(just, **change), **only), Verdict)


def test_a_tight_run_takes_an_elbow_and_its_stub_at_both_ends() -> None:
    """Four pieces besides the hose: an elbow's leg is shorter than a bend of the hose, and stubs are needed to hold it.

    By hand: stub 100 mm, half the elbow's 50 mm, half of the hose's 27 mm outside are 138.5 mm; bare hose of 25 mm
    turns 30 mm of grip, its bend of 500 mm and all of 33 mm ahead of the spigot.
    """
    pieces = [
        adapter("straight", "spigot 25 barb", "spigot 19 barb"),
        adapter("elbow", "spigot 25 barb", "spigot 19 barb", shape="elbow", price=90),
    ]
    hoses = [hose("h19", 19), hose("h25", 25, bend_radius="500 mm")]
    tight = run("spigot 25 barb", "spigot 25 barb", adapters=pieces, case=replace(WARM, tight=True), hoses=hoses)
    assert isinstance(tight, Joint) and tight.ahead is not None
    assert tight.through == ("elbow", "elbow") and tight.hose == "h19"
    assert [end.depth_m for end in tight.ahead] == pytest.approx([0.1385, 0.1385])
    assert [end.turn_m for end in tight.ahead] == pytest.approx([0.125, 0.125])


def test_a_bend_needs_room_to_its_outside() -> None:
    """By hand: 30 mm of grip, 100 mm to the inside of the bend, 13.5 mm to its middle line, 27 mm to its outside."""
    bare = run("spigot 19 barb", "spigot 19 barb", adapters=[], hoses=[hose("h19", 19)], case=WARM)
    assert isinstance(bare, Joint) and bare.ahead is not None
    assert [end.turn_m for end in bare.ahead] == pytest.approx([0.1435, 0.1435])
    assert [end.depth_m for end in bare.ahead] == pytest.approx([0.157, 0.157])


def test_an_elbow_of_little_loss_is_taken_for_the_bend_that_the_hose_need_not_make() -> None:
    """A smooth bend of hose takes more than 0.1 of the speed's pressure: an elbow of 0.01 spares it, one of 1.0 not."""
    straight = adapter("a-straight", "orb -12 male", "spigot 19 barb", bore=15.5)
    for factor, wanted in ((0.01, "b-elbow"), (1.0, "a-straight")):
        elbow = adapter("b-elbow", "orb -12 male", "spigot 19 barb", bore=15.5, shape="elbow", loss_factor=factor)
        joint = run("spigot 19 barb", "orb -12 female", adapters=[straight, elbow])
        assert isinstance(joint, Joint) and joint.through == (wanted,)


def test_ends_that_only_want_a_clamp_are_not_apart() -> None:
    """What is missing is a clamp and no adapter: the run is refused for that, and nothing else is to be bought."""
    joiner = HoseJoiner(HOSES, BARBS, [])
    assert joiner.apart(end("spigot 19 barb"), end("orb -12 female")) is None
    refused = run("spigot 19 barb", "orb -12 female", clamps=[])
    assert isinstance(refused, Verdict) and refused.rule == "no-clamp"


def test_what_lacks_a_clamp_alone_is_nearer_than_what_does_not_hold_the_pressure() -> None:
    """A thick hose that holds and that no clamp closes on, beside a thin one that has a clamp and is too weak."""
    hoses = [hose("thin", 19, wall=3, working=1), hose("thick", 19, wall=6)]
    verdict = run("spigot 19 barb", "orb -12 female", hoses=hoses, clamps=[clamp("small", 20, 26)])
    assert isinstance(verdict, Verdict) and (verdict.rule, verdict.found) == ("no-clamp", pytest.approx(0.031))
    weak = run("spigot 19 barb", "orb -12 female", hoses=hoses[:1], clamps=[clamp("small", 20, 26)])
    assert isinstance(weak, Verdict) and weak.rule == "rating-below-pressure"


def test_a_step_before_the_pump_is_refused_and_after_it_allowed() -> None:
    """Least area ratio 0.80 before the pump: common practice, no source. (12.5 / 15.5)² = 0.65."""
    narrow = [adapter("orb12-16", "orb -12 male", "spigot 16 barb", bore=12.5)]
    verdict = run("orb -12 female", "spigot 16 barb", adapters=narrow, case=SUCTION)
    assert isinstance(verdict, Verdict)
    assert (verdict.rule, verdict.limit) == ("suction-step", 0.80)
    assert verdict.found == pytest.approx(0.650, abs=5e-4)
    assert isinstance(run("orb -12 female", "spigot 16 barb", adapters=narrow, case=WARM), Joint)
    assert isinstance(run("orb -12 female", "spigot 19 barb", case=SUCTION), Joint)


WIDE = [hose("plain", 25, price=5, vacuum=False), hose("unsaid", 25, price=4), hose("wired", 25, vacuum=True)]


def test_a_wide_hose_before_the_pump_is_wired_and_behind_it_the_cheapest_will_do() -> None:
    """Over 19 mm a plain hose is sucked flat: common practice, no source."""
    ends = ("spigot 25 barb", "spigot 25 barb")
    before, behind = run(*ends, hoses=WIDE, case=SUCTION), run(*ends, hoses=WIDE, case=WARM)
    assert isinstance(before, Joint) and isinstance(behind, Joint)
    assert (before.hose, behind.hose) == ("wired", "unsaid")
    three_quarter_inch = run("spigot 19.05 barb", "spigot 19.05 barb", hoses=[hose("h", 19.05)], case=SUCTION)
    assert isinstance(three_quarter_inch, Joint)


@pytest.mark.parametrize(("hoses", "words"), [(WIDE[:1], "neither wired nor rated"), (WIDE[1:2], "not said to be")])
def test_where_no_hose_stands_suction_that_is_the_reason(hoses: list[Hose], words: str) -> None:
    verdict = run("spigot 25 barb", "spigot 25 barb", hoses=hoses, case=SUCTION)
    assert isinstance(verdict, Verdict)
    assert (verdict.rule, verdict.found, verdict.limit) == ("suction-hose", 0.025, pytest.approx(0.0191))
    assert words in verdict.text


def test_a_stub_before_the_pump_is_hose_too() -> None:
    """A 25 mm stub holds the piece on the tank's end: it must stand vacuum as the run must."""
    pieces = [adapter("piece-25-26", "spigot 25 barb", "spigot 26 barb", bore=21.5)]
    narrow = hose("h26", 26.2, vacuum=True)
    ends = ("spigot 25 barb", "spigot 26.4 barb")
    plain = run(*ends, hoses=[narrow, hose("h25", 24.6, vacuum=False)], adapters=pieces, case=SUCTION)
    wired = run(*ends, hoses=[narrow, hose("h25", 24.6, vacuum=True)], adapters=pieces, case=SUCTION)
    assert isinstance(plain, Verdict) and plain.rule == "suction-hose" and "h25" in plain.text
    assert isinstance(wired, Joint)


def test_hose_that_says_nothing_of_vacuum_may_be_let_in_by_one_who_tells_it() -> None:
    lenient = HoseJoiner(WIDE[:2], (), CLAMPS, vacuum_unsaid=True)
    ends = [("reservoir", end("spigot 25 barb", "out")), ("pump", end("spigot 25 barb", "in"))]
    found = lenient.join(*ends, 1.0, SUCTION)
    assert isinstance(found, Joint) and found.hose == "unsaid"


def test_steps_before_the_pump_are_taken_one_by_one_in_flow_order() -> None:
    """15.5 to 14 to 12.6 mm: (14/15.5)² = 0.816, (12.6/14)² = 0.81; from end to end it would be 0.66."""
    gradual = [adapter("orb10-19", "orb -10 male", "spigot 19 barb", bore=14)]
    assert isinstance(run("spigot 19 barb", "orb -10 female bore=12.6", adapters=gradual, case=SUCTION), Joint)
    assert isinstance(run("orb -10 female bore=12.6", "spigot 19 barb", adapters=gradual, case=SUCTION), Joint)


def test_of_several_steps_too_steep_before_the_pump_the_least_steep_is_told() -> None:
    """From 15.5 mm to 13 and to 11: 70 % and 50 % of the area; the nearest miss is the one to be bought better."""
    steep = [
        adapter("a-steeper", "orb -12 male", "spigot 19 barb", bore=11),
        adapter("b-steep", "orb -12 male", "spigot 19 barb", bore=13),
    ]
    for adapters in (steep, steep[::-1]):
        verdict = run("spigot 19 barb", "orb -12 female", adapters=adapters, case=SUCTION)
        assert isinstance(verdict, Verdict) and verdict.rule == "suction-step"
        assert verdict.found == pytest.approx((13 / 15.5) ** 2, abs=0.005)
        assert "from 15.5 mm (" in verdict.text and "to 13 mm ('b-steep'), which is 70% of its area" in verdict.text


def test_hose_of_a_class_is_no_hotter_than_its_class() -> None:
    """EPDM of class D-1 stands 125 degC (SAE J20, published), whatever its label claims."""
    boasting = [hose("boast", 19, hottest=150)]
    verdict = run("spigot 19 barb", "orb -12 female", hoses=boasting, case=RunConditions(403.15, 253.15))
    assert isinstance(verdict, Verdict)
    assert (verdict.rule, verdict.limit) == ("too-hot", 398.15)


def test_a_spigot_of_which_no_bead_is_told_says_so_and_how_to_write_it() -> None:
    verdict = run("spigot 19 barb", "spigot 19")
    assert isinstance(verdict, Verdict)
    assert (verdict.rule, verdict.found) == ("ends-do-not-meet", "19 mm spigot")
    assert "nothing says that it has a bead or a barb" in verdict.text and "'bead: true'" in verdict.text
    held = run("spigot 19 barb", "spigot 19 bead")
    assert isinstance(held, Joint)


def test_hose_for_other_media_is_left_on_the_shelf() -> None:
    verdict = run("spigot 19 barb", "orb -12 female", hoses=[hose("fuel", 19, media=["fuel"])])
    assert isinstance(verdict, Verdict)
    assert verdict.rule == "ends-do-not-meet"


def test_an_adapter_without_a_rating_is_taken_last_and_told() -> None:
    unknown = adapter("cheap", "orb -12 male", "spigot 19 barb", bore=15.5, working=None, price=1)
    alone = run("spigot 19 barb", "orb -12 female", adapters=[unknown])
    both = run("spigot 19 barb", "orb -12 female", adapters=[unknown, *BARBS])
    assert isinstance(alone, Joint) and isinstance(both, Joint)
    assert {m.part: m.working_pa_gauge for m in alone.members}["cheap"] is None
    assert both.through == ("orb12-19",)


def test_a_run_carries_the_cautions_of_every_pair_of_its_ends() -> None:
    """Part and adapter, adapter and adapter, hose before the pump: each pair's caution, and each text once."""
    stacked = [
        adapter("r-orb", "r 1/2 male", "orb -12 male", bore=15.5),
        adapter("orb-25", "orb -12 female", "spigot 25 barb", bore=15.5),
    ]
    ends = ("g 1/2 female bore=15.5", "spigot 25 barb bore=15.5")
    behind = run(*ends, hoses=WIDE, adapters=stacked)
    before = run(*ends, hoses=WIDE, adapters=stacked, case=SUCTION)
    assert isinstance(behind, Joint) and isinstance(before, Joint)
    assert behind.through == ("r-orb", "orb-25")
    assert [caution.code for caution in behind.cautions] == ["outside-iso-228", "ring-rubber"]
    assert [caution.code for caution in before.cautions] == ["outside-iso-228", "ring-rubber", "suction-hose"]


def test_where_a_wired_hose_is_there_the_step_is_the_reason_however_many_adapters_it_takes() -> None:
    """(13 / 15.5)² = 0.70, through two adapters on one end: no hose would help."""
    stacked = [
        adapter("g-orb", "g 1/2 male", "orb -12 male", bore=15.5),
        adapter("orb-25", "orb -12 female", "spigot 25 barb", bore=15.5),
    ]
    ends = ("g 1/2 female bore=13", "spigot 25 barb bore=15.5")
    verdict = run(*ends, hoses=WIDE, adapters=stacked, case=SUCTION)
    assert isinstance(verdict, Verdict)
    assert (verdict.rule, verdict.found) == ("suction-step", pytest.approx(0.703, abs=1e-3))


def test_a_run_of_hose_on_two_barbs_carries_none() -> None:
    plain = run("spigot 19 barb", "spigot 19 barb")
    assert isinstance(plain, Joint) and plain.cautions == ()
