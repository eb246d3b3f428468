"""One side of the charge: pairs of pipes, and one pipe with two through the best wye."""

from __future__ import annotations

import math
from typing import Any

import pytest

from configurator.foundations.verdicts import Verdict
from configurator.joining.charge_joint import ChargeConditions, ChargeJoiner
from configurator.joining.charge_side import ChargeSideJoiner
from configurator.parts.kinds import Adapter, Clamp, Wye
from configurator.parts.kit import Joint, path_per_m4
from tests.joining.made_parts import adapter, clamp, end

HOT = ChargeConditions(hottest_k=423.15, design_pa_gauge=1.75e5, boost_pa_gauge=1.4e5)
CLAMPS = [clamp(f"t-{least}", least, least + 10, style="T-bolt") for least in range(50, 110, 10)]


def coupler(a: float, b: float, **more: Any) -> Adapter:
    """A silicone coupler with a wall of 5 mm."""
    written = {"medium": "charge", "shape": "coupler", "wall": "5 mm", "working": 4.0, "mass": "80 g", **more}
    return adapter(f"c-{a:g}-{b:g}", f"coupler {a}", f"coupler {b}", **written)


def wye(part_id: str, stem: float, branch: float, *, working: float | None = 4.0, **more: Any) -> Wye:
    """A wye for charge air; `working` in bar, `hottest` in degC."""
    sizes = {"stem": stem, "left": branch, "right": branch}
    return Wye.model_validate(
        {
            "id": part_id, "name": part_id, "price": 50, "mass": "300 g", "shape": "wye", "medium": "charge",
            "loss_factor": more.pop("loss_factor", 0.6),
            "through": {
                "working": "unknown" if working is None else f"{working} bar",
                "hottest": f"{more.pop('hottest', 200)} degC",
                "ends": [
                    {"name": name, "form": "spigot", "size": f"{size} mm", "bead": True}
                    for name, size in sizes.items()
                ],
            },
            **more,
        }
    )  # fmt: skip


SHELF = [coupler(51, 51), coupler(76, 76), coupler(51, 57), coupler(57, 57)]
OUTLETS = [("engine", end("spigot 51 bead", f"charger outlet {number}")) for number in (1, 2)]
CORE = [("core", end("spigot 76 bead", "in"))]
TWINS = [(f"core-{number}", end("spigot 51 bead", "out")) for number in (1, 2)]
THROTTLE = [("engine", end("spigot 76 bead", "throttle"))]


def joined(
    wyes: list[Wye], *, starts: Any = OUTLETS, finishes: Any = CORE, case: ChargeConditions = HOT,
    adapters: list[Adapter] | None = None, clamps: list[Clamp] | None = None,
) -> tuple[Joint | Verdict, ...]:  # fmt: skip
    """One side off a small shelf."""
    joiner = ChargeJoiner(SHELF if adapters is None else adapters, CLAMPS if clamps is None else clamps)
    return ChargeSideJoiner([joiner], wyes).join(starts, finishes, case, "charge-wye-in")


def sound(made: tuple[Joint | Verdict, ...]) -> list[Joint]:
    """The joints, none of which is refused."""
    joints = [joint for joint in made if isinstance(joint, Joint)]
    assert len(joints) == len(made), made
    return joints


def refused(made: tuple[Joint | Verdict, ...]) -> Verdict:
    """The one reason."""
    (verdict,) = made
    assert isinstance(verdict, Verdict) and verdict.state == "broken"
    return verdict


def test_two_outlets_meet_in_a_wye_by_three_couplers_and_six_clamps() -> None:
    one, other, trunk = sound(joined([wye("y", 76, 51)]))
    assert [(joint.start, joint.finish) for joint in (one, other, trunk)] == [
        ("engine.charger outlet 1", "charge-wye-in.left"),
        ("engine.charger outlet 2", "charge-wye-in.right"),
        ("charge-wye-in.stem", "core.in"),
    ]
    assert (one.through, other.through, trunk.through) == (("c-51-51",), ("c-51-51",), ("y", "c-76-76"))
    assert [sum(need.quantity for need in joint.needs) for joint in (one, other, trunk)] == [2, 2, 2]
    assert (one.share, other.share, trunk.share) == (0.5, 0.5, 1.0)


def test_a_wye_is_a_member_with_its_price_and_mass_and_each_joint_has_its_thrust() -> None:
    """p pi D² / 4 on each pipe: first principles. A wye of metal holds hot what it holds cold; silicone 0.7 of it."""
    one, _, trunk = sound(joined([wye("y", 76, 51)]))
    assert one.thrust_n == pytest.approx(1.4e5 * math.pi / 4 * 0.051**2)
    assert trunk.thrust_n == pytest.approx(1.4e5 * math.pi / 4 * 0.076**2)
    rated = {member.part: member.working_pa_gauge for member in trunk.members}
    assert rated == {"c-76-76": pytest.approx(0.7 * 4e5), "y": 4e5}
    assert {member.place for member in trunk.members} == {"charge-wye-in to core"}
    (alone,) = sound(joined([], starts=[("x", end("spigot 76 bead"))]))
    assert trunk.price_cents == alone.price_cents + 5000
    assert trunk.mass_kg == pytest.approx(alone.mass_kg + 0.3)


def test_the_loss_of_a_wye_stands_on_the_whole_charge_and_that_of_a_branch_on_half() -> None:
    """K / A² with A of the stem's 73 mm bore; a branch steps from 48 to 54 mm, (1 - 48²/54²)² (Borda, handbooks)."""
    joints = sound(joined([wye("y", 76, 57)]))
    one, _, trunk = joints
    assert trunk.loss_per_m4 == pytest.approx(0.6 / (math.pi / 4 * 0.073**2) ** 2)
    widening = (1 - (48 / 54) ** 2) ** 2 / (math.pi / 4 * 0.048**2) ** 2
    assert one.loss_per_m4 == pytest.approx(widening)
    assert path_per_m4(joints) == pytest.approx(trunk.loss_per_m4 + widening / 4)


def test_the_charge_of_two_cores_meets_in_a_wye_before_the_throttle() -> None:
    one, other, trunk = sound(joined([wye("y", 76, 51)], starts=TWINS, finishes=THROTTLE))
    assert (one.start, other.start, trunk.finish) == ("core-1.out", "core-2.out", "engine.throttle")
    assert trunk.through == ("y", "c-76-76")


def test_one_outlet_parts_for_two_cores() -> None:
    trunk, one, other = sound(joined([wye("y", 76, 51)], starts=THROTTLE, finishes=TWINS))
    assert trunk.finish == "charge-wye-in.stem" and trunk.through == ("c-76-76", "y")
    assert {one.start, other.start} == {"charge-wye-in.left", "charge-wye-in.right"}


def test_as_many_pipes_on_both_sides_need_no_wye() -> None:
    joints = sound(joined([], finishes=TWINS))
    assert [(joint.start, joint.finish) for joint in joints] == [
        ("engine.charger outlet 1", "core-1.out"), ("engine.charger outlet 2", "core-2.out"),
    ]  # fmt: skip
    assert [joint.share for joint in joints] == [0.5, 0.5]
    (single,) = sound(joined([], starts=OUTLETS[:1], finishes=TWINS[:1]))
    assert single.share == 1.0


def test_the_first_joiner_that_can_makes_the_joint_and_the_last_says_why_none_does() -> None:
    """Pipes of 76 mm: the first shelf has no coupler for them, the second has; the same with a third that has not."""
    without, larger = ([coupler(51, 51)], [coupler(76, 76), coupler(51, 51, price=99)])
    shelves = [ChargeJoiner(adapters, CLAMPS) for adapters in (without, larger, without)]
    pipe = [("engine", end("spigot 76 bead", "charger outlet"))]
    (made,) = sound(ChargeSideJoiner(shelves, []).join(pipe, CORE, HOT, "charge-wye-in"))
    assert made.through == ("c-76-76",)
    (first,) = sound(ChargeSideJoiner(shelves, []).join(OUTLETS[:1], TWINS[:1], HOT, "charge-wye-in"))
    assert first.price_cents == sound(joined([], starts=OUTLETS[:1], finishes=TWINS[:1]))[0].price_cents
    verdict = refused(ChargeSideJoiner([shelves[0], shelves[2]], []).join(pipe, CORE, HOT, "charge-wye-in"))
    assert verdict.rule == "ends-do-not-meet"


@pytest.mark.parametrize(
    ("wyes", "best"),
    [
        ([wye("a", 76, 51, working=None, loss_factor=0.1), wye("b", 76, 51)], "b"),
        ([wye("a", 76, 51, loss_factor=0.7), wye("b", 76, 51, price=90)], "b"),
        ([wye("a", 76, 51, price=60), wye("b", 76, 51)], "b"),
        ([wye("b", 76, 51), wye("a", 76, 51)], "a"),
        ([wye("a", 76, 57), wye("b", 76, 51)], "b"),
        ([wye("a", 76, 51, working=1.7), wye("b", 76, 51, loss_factor=2)], "b"),
        ([wye("a", 76, 51, hottest=149), wye("b", 76, 51, loss_factor=2)], "b"),
        ([wye("a", 63, 51), wye("b", 76, 51, loss_factor=2)], "b"),
    ],
    ids=["proven", "least loss", "price", "id", "no step", "holds the pressure", "stands the heat", "can be joined"],
)
def test_the_best_wye(wyes: list[Wye], best: str) -> None:
    assert sound(joined(wyes))[-1].through[0] == best


def test_a_wye_of_the_coolant_side_is_no_wye_of_the_charge() -> None:
    coolant = wye("y", 76, 51).model_copy(update={"medium": "coolant"})
    assert "missing: a charge wye" in refused(joined([coolant])).text


@pytest.mark.parametrize(
    ("adapters", "words"),
    [
        (SHELF, "a charge wye (Y-piece) of 76 mm stem and two 51 mm branches"),
        ([coupler(51, 57), coupler(63.5, 76)], "a charge wye (Y-piece) of 63.5 mm stem and two 57 mm branches"),
    ],
    ids=["pipes' own sizes", "sizes that reducers lead to"],
)
def test_without_a_wye_the_one_to_buy_is_named(adapters: list[Adapter], words: str) -> None:
    """And with that wye on the shelf the side is joined."""
    verdict = refused(joined([wye("small", 45, 38)], adapters=adapters))
    assert verdict.rule == "ends-do-not-meet"
    assert verdict.subjects == ("engine.charger outlet 1", "core.in")
    assert verdict.text.endswith(f"missing: {words}")
    stem, branch = (float(word) for word in words.split() if word[0].isdigit())
    assert len(sound(joined([wye("bought", stem, branch)], adapters=adapters))) == 3


@pytest.mark.parametrize(
    ("adapters", "words"),
    [
        ([coupler(76, 76)], "missing: a 51 mm coupler"),
        ([coupler(51, 51)], "missing: a 76 mm coupler"),
        ([coupler(51, 51, working=2.0), coupler(76, 76)], "is good for 1.40 bar at 150 degC"),
    ],
)
def test_where_a_coupler_would_not_do_either_it_is_named(adapters: list[Adapter], words: str) -> None:
    assert words in refused(joined([], adapters=adapters)).text


@pytest.mark.parametrize(
    ("changes", "rule", "words"),
    [
        ({"working": 1.7}, "rating-below-pressure", "'y' is good for 1.70 bar, the charge pipe may see 1.75 bar"),
        ({"hottest": 149}, "too-hot", "'y' stands 149 degC, the charge is 150 degC"),
    ],
)
def test_a_wye_that_would_join_and_does_not_hold_is_named(changes: dict[str, Any], rule: str, words: str) -> None:
    verdict = refused(joined([wye("y", 76, 51, **changes)]))
    assert (verdict.rule, verdict.text) == (rule, words)


def test_without_a_clamp_on_one_of_the_three_ends_nothing_is_joined() -> None:
    for gone in ("t-60", "t-80"):
        left = [c for c in CLAMPS if c.id != gone]
        assert refused(joined([wye("y", 76, 51)], clamps=left)).rule == "no-clamp"
