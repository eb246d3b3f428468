"""Chains of adapters: the best run equals trying every chain of up to four adapters, and a missing one is named."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.foundations.verdicts import Verdict
from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.missing import EndsApart, end_code
from configurator.joining.run_refusal import RunConditions
from configurator.parts.kinds import Adapter, Hose
from configurator.parts.kit import Joint
from configurator.physics.pipe_flow import bend_factor
from tests.joining.every_chain import CLAMPS, SUCTION, WARM, area, every_run, of_joint, random_shelf, step
from tests.joining.made_parts import adapter, end, hose


def test_best_run_is_that_of_trying_every_chain() -> None:
    """600 random shelves: stacked adapters, cheaper runs that are longer, and no run at all occur often."""
    stacked = cheaper_is_longer = none = 0
    for seed in range(600):
        hoses, adapters, start, finish, case = random_shelf(seed)
        found = HoseJoiner(hoses, adapters, CLAMPS).join(("a", start), ("b", finish), 0.8, case)
        runs = every_run(start, finish, hoses, adapters, case)
        if not runs:
            assert isinstance(found, Verdict) and found.state == "broken", seed
            none += 1
            continue
        assert isinstance(found, Joint), (seed, found)
        best = min(runs)
        assert of_joint(found, best.stacked) == best, seed
        stacked += best.stacked
        alike = [run for run in runs if run.unproven == best.unproven]
        cheapest = min(alike, key=lambda run: (run.price_cents, run.pieces))
        cheaper_is_longer += cheapest.price_cents < best.price_cents and cheapest.pieces > best.pieces
    assert stacked >= 30
    assert cheaper_is_longer >= 40
    assert none >= 100


def is_unproven(joint: Joint) -> bool:
    """Whether a piece states no rating."""
    return any(member.working_pa_gauge is None for member in joint.members)


def test_one_more_adapter_never_makes_a_run_worse() -> None:
    """Each adapter of 100 shelves is taken away and put back; where the best run used it, that betters it."""
    bettered = 0
    for seed in range(100):
        hoses, adapters, start, finish, case = random_shelf(seed)
        more = HoseJoiner(hoses, adapters, CLAMPS).join(("a", start), ("b", finish), 0.8, case)
        for left_out in adapters:
            shelf = [part for part in adapters if part is not left_out]
            fewer = HoseJoiner(hoses, shelf, CLAMPS).join(("a", start), ("b", finish), 0.8, case)
            if isinstance(fewer, Joint):
                assert isinstance(more, Joint), seed
                assert left_out.id in more.through or more == fewer, seed
                if max(len(more.through), len(fewer.through)) < 2:
                    assert of_joint(more, False) <= of_joint(fewer, False), seed
                else:
                    assert is_unproven(more) <= is_unproven(fewer), seed
            bettered += isinstance(more, Joint) and left_out.id in more.through
    assert bettered >= 40


def test_fittings_are_stacked_only_where_one_at_each_end_does_not_do() -> None:
    """Reducing at the far end, by as many pieces, is taken before two fittings on one port, though it loses more."""
    shelf = [
        adapter("barb", "orb -10 male", "spigot 19 barb", bore=12.3),
        adapter("piece", "spigot 19 barb", "spigot 25 barb", bore=15.5),
    ]
    joint = run("orb -10 female", "spigot 25 barb", shelf)
    assert (joint.through, joint.hose) == (("barb", "piece"), "h19")


HOSES = [hose("h19", 19), hose("h25", 25)]


def run(a: str, b: str, adapters: list[Adapter], case: RunConditions = WARM, hoses: list[Hose] | None = None) -> Any:
    """One run of a metre from a pump to a core."""
    joiner = HoseJoiner(HOSES if hoses is None else hoses, adapters, CLAMPS)
    return joiner.join(("pump", end(a, "out")), ("core", end(b, "in")), 1.0, case)


def test_two_fittings_stacked_on_one_port_and_every_step_counted() -> None:
    """From the boss (15.5 mm) through 15.5 and 12 mm into the 19 mm hose, and out of it into a 15.5 mm spigot."""
    union = adapter("union", "orb -12 male", "flare37 -12 male", bore=15.5)
    barb = adapter("barb", "flare37 -12 female", "spigot 19 barb", bore=12)
    joint = run("orb -12 female", "spigot 19 barb", [union, barb])
    assert joint.through == ("union", "barb")
    bends = 2 * float(bend_factor(0.019)) / area(19) ** 2
    assert joint.loss_per_m4 == pytest.approx(step(15.5, 12) + step(12, 19) + step(19, 15.5) + bends)
    assert joint.steps_per_m4 == pytest.approx(step(15.5, 12) + step(12, 19) + step(19, 15.5))
    assert joint.bore_m == pytest.approx(0.012)
    assert {member.part for member in joint.members} == {"h19", "union", "barb"}
    back = run("spigot 19 barb", "orb -12 female", [union, barb])
    assert back.through == ("barb", "union")
    assert back.loss_per_m4 == pytest.approx(step(15.5, 19) + step(19, 12) + step(12, 15.5) + bends)


def test_out_of_a_tank_and_into_one_the_flow_loses_a_half_and_the_whole_of_its_head() -> None:
    """K = 0.5 past a sharp edge, 1.0 into a tank, on the speed in the tank's own end: Munson, ch. 8 (from memory)."""
    joiner = HoseJoiner(HOSES, [], CLAMPS)
    spigot = "spigot 19 barb"

    def loss(start: str, finish: str) -> float:
        joint = joiner.join((start, end(spigot, "out")), (finish, end(spigot, "in")), 1.0, WARM)
        assert isinstance(joint, Joint) and joint.steps_per_m4 == pytest.approx(step(15.5, 19) + step(19, 15.5))
        return joint.loss_per_m4

    plain, head = loss("pump", "core"), 1 / area(15.5) ** 2
    assert loss("reservoir", "pump") == pytest.approx(plain + 0.5 * head)
    assert loss("core", "reservoir") == pytest.approx(plain + head)
    assert loss("wye-behind-exchanger", "reservoir-1") == pytest.approx(plain + head)


def test_a_stack_that_steps_down_is_refused_before_the_pump_alone() -> None:
    """(12 / 15.5)² = 0.60, under 0.80: common practice, no source."""
    union = adapter("union", "orb -12 male", "flare37 -12 male", bore=15.5)
    barb = adapter("barb", "flare37 -12 female", "spigot 19 barb", bore=12)
    verdict = run("orb -12 female", "spigot 19 barb", [union, barb], SUCTION)
    assert isinstance(verdict, Verdict)
    assert (verdict.rule, verdict.found) == ("suction-step", pytest.approx(0.599, abs=1e-3))


@pytest.mark.parametrize(
    ("wanted", "changes"),
    [
        ("too-hot", {"case": RunConditions(430.0, 253.15)}),
        ("rating-below-pressure", {"case": RunConditions(373.15, 253.15, 3.5e5)}),
    ],
)
def test_what_a_stack_does_not_stand_is_named(wanted: str, changes: dict[str, Any]) -> None:
    shelf = [
        adapter("union", "orb -12 male", "flare37 -12 male"),
        adapter("barb", "flare37 -12 female", "spigot 19 barb"),
    ]
    assert run("orb -12 female", "spigot 19 barb", shelf, **changes).rule == wanted


@pytest.mark.parametrize(
    ("a", "b", "codes", "words"),
    [
        (
            "orb -12 female",
            "spigot 19 barb",
            [("orb:-12:male", "spigot:19mm:barb")],
            "O-ring boss -12 male to 19 mm barb",
        ),
        ("spigot 25 barb", "spigot 19 barb", [("spigot:25mm:barb", "spigot:19mm:barb")], "25 mm barb to 19 mm barb"),
        ("spigot 22 barb", "spigot 19 barb", [("hose:22mm", "spigot:19mm:barb")], "22 mm hose to 19 mm barb"),
        ("rc 1/2", "spigot 19 barb", [("r:1/2", "spigot:19mm:barb")], "R 1/2 to 19 mm barb"),
        ("r 1/2", "spigot 19 barb", [("rc:1/2", "spigot:19mm:barb")], "Rc 1/2 to 19 mm barb"),
        ("g 3/4 male", "spigot 25 bead", [("g:3/4:female", "spigot:25mm:barb")], "G 3/4 female to 25 mm barb"),
        (
            "orb -12 female",
            "npt 1/2 female",
            [("orb:-12:male", "spigot:19mm:barb"), ("npt:1/2:male", "spigot:19mm:barb")],
            "NPT 1/2 male to 19 mm barb",
        ),
    ],
)
def test_the_missing_adapter_is_named_and_told_as_data(
    a: str, b: str, codes: list[tuple[str, str]], words: str
) -> None:
    verdict = run(a, b, [])
    assert isinstance(verdict, EndsApart)
    assert verdict.rule == "ends-do-not-meet"
    assert [missing.codes for missing in verdict.missing] == codes
    assert f"missing: an adapter from {verdict.missing[0].text.removeprefix('an adapter from ')}" in verdict.text
    assert words in verdict.text


def test_buying_the_one_adapter_named_makes_the_run() -> None:
    """Over the random shelves: where one adapter is named as missing, adding just that one joins the ends."""
    bought = 0
    for seed in range(400):
        hoses, adapters, start, finish, _ = random_shelf(seed)
        joiner = HoseJoiner(hoses, adapters, CLAMPS)
        apart = joiner.apart(start, finish)
        if apart is None or len(apart.missing) != 1:
            continue
        (missing,) = apart.missing
        a, b = (
            f"{e.form} {e.size.removesuffix(' mm')} {'barb' if e.barb else e.sex or ''}"
            for e in (missing.near, missing.far)
        )
        new = adapter("new", a, b)
        assert HoseJoiner(hoses, [*adapters, new], CLAMPS).apart(start, finish) is None, seed
        bought += 1
    assert bought >= 40


def test_a_plain_spigot_wants_no_adapter_and_none_is_named() -> None:
    verdict = run("spigot 19", "spigot 19 barb", [])
    assert isinstance(verdict, EndsApart)
    assert verdict.missing == () and "missing" not in verdict.text


def test_ends_are_written_as_on_the_command_line() -> None:
    codes = [end_code(end(text)) for text in ("spigot 19 bead", "spigot 12.7", "orb -12 female", "coupler 57")]
    assert codes == ["spigot:19mm:bead", "spigot:12.7mm:plain", "orb:-12:female", "coupler:57mm"]
