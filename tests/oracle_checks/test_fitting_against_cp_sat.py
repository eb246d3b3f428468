"""Fitting held against OR-tools' CP-SAT, given the same rules in its own words (`cp_sat.py`).

At the clearance that the program gives, CP-SAT finds a packing; half a millimetre above it, it proves that there
is none; and where the program says "does not fit", CP-SAT proves the same at no clearance at all. Of kits over two
zones, whose heights hang together, the answer itself is held against one model of both zones.
"""

from __future__ import annotations

from functools import cache

import pytest

from configurator.fitting.kit_fit import fit_kit
from configurator.fitting.placing import ZoneFit, fit_zone
from tests.fitting.drawn_cases import exact_case, random_case, rich_case, rich_kit
from tests.fitting.plain_cases import PlainCase, bay_of, kit_of, longer_by_one
from tests.oracle_checks.cp_sat import goes_in

pytestmark = pytest.mark.oracle


def bodies_alone() -> dict[str, PlainCase]:
    """Loose and tight draws, pieces that fill their zone exactly, and the same with one a millimetre too long."""
    drawn = {f"draw-{seed}": random_case(seed, 4, 300) for seed in range(110)}
    cut = {f"exact-{seed}": random_case(seed, 4, 300, cut=True) for seed in range(30)}
    return drawn | cut | {f"over-{name}": longer_by_one(case) for name, case in cut.items()}


def with_ends_and_heights() -> dict[str, PlainCase]:
    """One to four parts, five or six, and pieces that fill their zone exactly or miss it by a millimetre."""
    drawn = {f"rich-{seed}": rich_case(seed, 4, 60) for seed in range(60)}
    whole = {f"whole-{seed}": rich_case(seed, 4, 60, fewest=2, whole=True) for seed in range(160)}
    crowds = {f"crowd-{seed}": rich_case(seed, 6, 60, fewest=5) for seed in range(30)}
    cut = {f"exact-ends-{seed}": exact_case(seed, 60) for seed in range(30)}
    over = {f"over-{name}": longer_by_one(case) for name, case in cut.items() if len(case.parts) > 1}
    return drawn | whole | crowds | cut | over


CASES = bodies_alone() | with_ends_and_heights()
KITS = {f"kit-{seed}": rich_kit(seed, 100) for seed in range(80)}


@cache
def fit(name: str) -> ZoneFit:
    """The program's answer."""
    case = CASES[name]
    return fit_zone(case.bay(), "hole", case.items(), needs=case.needs())


@pytest.mark.parametrize("name", CASES)
def test_state_and_clearance_agree_with_cp_sat(name):
    if fit(name).state == "does not fit":
        assert not goes_in(CASES[name])
    elif fit(name).state == "fits":
        gap = round(2 * fit(name).clearance_mm)
        assert goes_in(CASES[name], gap=gap)
        assert not goes_in(CASES[name], gap=gap + 1)


@cache
def kit_state(name: str) -> str:
    """The program's answer on a kit, and whether it was heights that held it back."""
    items, needs = kit_of(KITS[name])
    found = fit_kit(bay_of(KITS[name]), items, needs=needs)
    if not found.decided:
        return "not decided"
    if found.fits:
        return "fits"
    return "apart" if found.apart else "does not fit"


@pytest.mark.parametrize("name", KITS)
def test_kits_over_two_zones_go_in_where_cp_sat_says_so(name):
    if kit_state(name) != "not decided":
        assert goes_in(*KITS[name].values()) == (kit_state(name) == "fits")


@pytest.mark.parametrize("seed", range(100))
def test_clearance_is_where_growing_bodies_first_do_not_go_in(seed):
    """Every body grown by half a millimetre at a time, until CP-SAT finds no place for them any more."""
    case = rich_case(seed, 3, 20)
    fit = fit_zone(case.bay(), "hole", case.items(), needs=case.needs())
    grown = 0
    while goes_in(case, gap=grown):
        grown += 1
    assert fit.clearance_mm == (None if grown == 0 else (grown - 1) / 2)


def test_the_draws_hold_enough_of_each_answer():
    assert len(CASES) >= 450
    states = {name: fit(name).state for name in CASES}
    for names in (bodies_alone(), with_ends_and_heights()):
        told = [states[name] for name in names]
        assert len(told) >= 150
        assert min(told.count("fits"), told.count("does not fit")) >= 0.25 * len(told)
    assert list(states.values()).count("not decided") <= 0.01 * len(states)
    assert {states[name] for name in CASES if name.startswith("exact")} == {"fits"}
    assert {states[name] for name in CASES if name.startswith("over")} == {"does not fit"}


def test_the_draws_hold_enough_of_each_rule():
    rich = with_ends_and_heights().values()
    assert sum(any(part.reaches for part in case.parts) for case in rich) >= 250
    assert sum(bool(case.open and _joined(case) and _held(case)) for case in rich) >= 150
    assert sum(bool(case.ends) for case in rich) >= 50
    assert {len(case.parts) for case in rich} == {1, 2, 3, 4, 5, 6}


def test_the_kits_hold_enough_of_each_answer():
    states = [kit_state(name) for name in KITS]
    assert min(states.count("fits"), states.count("apart")) >= 10
    assert states.count("not decided") <= 1


@pytest.mark.parametrize("shift", [-1, 1])
def test_cp_sat_would_catch_a_clearance_half_a_millimetre_off(shift):
    assert fit("draw-9").clearance_mm is not None and len(fit("draw-9").placements) == 2
    gap = round(2 * fit("draw-9").clearance_mm) + shift
    assert not goes_in(CASES["draw-9"], gap=gap) or goes_in(CASES["draw-9"], gap=gap + 1)


def _held(case: PlainCase) -> bool:
    """Whether a height must lie below a surface."""
    below = any(part.inlet is not None or part.bled_by is not None for part in case.parts)
    return below and any(part.filled is not None for part in case.parts)


def _joined(case: PlainCase) -> bool:
    """Whether two parts have an end in one joint."""
    joints = [joint for part in case.parts for joint in {reach.joint for reach in part.reaches}]
    return len(joints) > len({*joints})
