"""The independent judge of placements passes a good placement by hand and names each of five planted faults."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest

from tests.fitting.placement_checker import faults, rotations
from tests.fitting.plain_cases import PlainCase, PlainPart

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
