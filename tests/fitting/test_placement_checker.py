"""The independent judge of placements passes good placements by hand and names each planted fault."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest

from tests.fitting.placement_checker import faults, kit_faults, rotations
from tests.fitting.plain_cases import PlainCase, PlainPart, PlainReach

CASE = PlainCase(
    (100, 100, 100),
    (((60, 60, 0), (100, 100, 50)),),
    (PlainPart("tank", (40, 50, 60)), PlainPart("pump", (30, 20, 20), ups=("+y",), fronts=("-x",))),
)


@dataclass(frozen=True)
class Placed:
    part: str
    at_mm: tuple[float, float, float]
    size_mm: tuple[int, int, int]
    up: str
    front: str
    zone: str = "hole"


TANK = Placed("tank", (5.0, 5.0, 5.0), (40, 50, 60), "+z", "-x")
PUMP = Placed("pump", (55.0, 5.0, 5.0), (30, 20, 20), "+y", "-x")


def test_placement_checked_by_hand_has_no_faults():
    assert faults(CASE, (TANK, PUMP), 5) == []


@pytest.mark.parametrize(
    ("planted", "words"),
    [
        ((TANK, replace(PUMP, at_mm=(75.0, 5.0, 5.0))), "wall back"),
        ((TANK, replace(PUMP, at_mm=(60.0, 70.0, 29.0))), "block 0"),
        ((TANK, replace(PUMP, at_mm=(40.0, 30.0, 5.0))), "tank and pump"),
        ((TANK, replace(PUMP, up="+z")), "not allowed"),
        ((replace(TANK, size_mm=(39, 50, 60)), PUMP), "it is not"),
        ((TANK, replace(PUMP, at_mm=(49.5, 5.0, 5.0))), "too close"),
    ],
    ids=["outside the zone", "in an obstacle", "two parts overlap", "turn not allowed", "wrong size", "gap short"],
)
def test_planted_fault_is_named(planted, words):
    assert any(words in fault for fault in faults(CASE, planted, 5))


def test_there_are_24_rotations_of_a_cube():
    # A cube's rotation group has order 24 (published, any text on groups).
    assert len({tuple(sorted(looks.items())) for looks in rotations()}) == 24


# A tank at the front of a zone open to the top, a pump behind it. Their joint's rooms overlap by 10 mm; the tank has
# another end to the left, its cap is opened from above; the pump's other end looks back. The liquid's surface is 180 mm
# over the tank's floor; the pump's inlet 20 over its own, with 100 over it.
ENDS = PlainCase(
    (200, 100, 220),
    (((150, 0, 100), (200, 40, 220)),),
    (
        PlainPart(
            "tank", (60, 60, 200), fronts=("-x", "+x"), filled=90,
            reaches=(
                PlainReach("tank to pump", "out", (60, 20, 10), (85, 40, 30)),
                PlainReach("core to tank", "in", (20, -20, 100), (40, 0, 120)),
                PlainReach("hand over tank", "fill", (20, 20, 200), (40, 40, 300)),
            ),
        ),
        PlainPart(
            "pump", (60, 50, 50), ups=("+z", "-z"), fronts=("-x", "+x"), inlet=(0, 25, 20), used=(("coolant", "-x"),),
            reaches=(
                PlainReach("tank to pump", "in", (-25, 10, 10), (0, 40, 30)),
                PlainReach("pump to core", "out", (60, 10, 10), (80, 40, 40)),
            ),
        ),
    ),
    open=("top",),
    ends=(("coolant", ("front", "left")),),
)  # fmt: skip
HIGH = Placed("tank", (10.0, 30.0, 10.0), (60, 60, 200), "+z", "-x")
BEHIND = Placed("pump", (110.0, 30.0, 20.0), (60, 50, 50), "+z", "-x")


def test_room_before_ends_checked_by_hand_has_no_faults():
    assert faults(ENDS, (HIGH, BEHIND), 10) == []


@pytest.mark.parametrize(
    ("planted", "words"),
    [
        ((HIGH, replace(BEHIND, at_mm=(90.0, 30.0, 20.0))), "pump in reaches into tank"),
        ((replace(HIGH, at_mm=(10.0, 15.0, 10.0)), BEHIND), "tank in goes through wall left"),
        ((HIGH, replace(BEHIND, at_mm=(121.0, 30.0, 20.0))), "pump out goes through wall back"),
        ((HIGH, replace(BEHIND, at_mm=(110.0, 20.0, 65.0))), "pump out reaches into block 0"),
        ((HIGH, replace(BEHIND, at_mm=(110.0, 30.0, 71.0))), "pump stands above the liquid in tank"),
        ((HIGH, replace(BEHIND, front="+x")), "pump: an end faces a wrong side"),
        ((HIGH, replace(BEHIND, up="-z", at_mm=(110.0, 30.0, 61.0))), "pump stands above the liquid in tank"),
    ],
    ids=[
        "room in a body", "through a closed wall", "through another", "room in an obstacle", "inlet too high",
        "wrong side", "inlet of a pump upside down",
    ],
)  # fmt: skip
def test_planted_fault_of_ends_and_heights_is_named(planted, words):
    assert any(words in fault for fault in faults(ENDS, planted, 10))


def test_rooms_of_two_joints_in_each_other_are_named_and_of_one_joint_are_not():
    tank, pump = ENDS.parts
    other = replace(pump, reaches=(replace(pump.reaches[0], joint="core to pump"), pump.reaches[1]))
    found = faults(replace(ENDS, parts=(tank, other)), (HIGH, BEHIND), 10)
    assert found == ["tank out and pump in reach into each other"]


def test_room_through_the_open_top_is_a_fault_once_the_top_is_closed():
    assert faults(replace(ENDS, open=()), (HIGH, BEHIND), 10) == ["tank fill goes through wall top"]


def test_heights_across_zones_are_judged_above_the_ground():
    tank, pump = PlainPart("tank", (60, 60, 200), filled=90), PlainPart("pump", (60, 50, 50), inlet=(0, 25, 20))
    zones = {"home": PlainCase((60, 60, 200), (), (tank,), up=500), "low": PlainCase((60, 50, 80), (), (pump,), up=560)}
    placed = (
        Placed("tank", (0.0, 0.0, 0.0), (60, 60, 200), "+z", "-x", "home"),
        Placed("pump", (0.0, 0.0, 0.0), (60, 50, 50), "+z", "-x", "low"),
    )
    # The surface at 500 + 180; the pump's inlet with 100 over it at 560 + 120.
    assert kit_faults(zones, placed, 0) == []
    raised = (placed[0], replace(placed[1], at_mm=(0.0, 0.0, 0.5)))
    assert kit_faults(zones, raised, 0) == ["pump stands above the liquid in tank"]
