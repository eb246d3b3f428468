"""The shelf of cores and front exchangers is wide enough, and some of it goes into cramped bays: sums by hand.

No solver is asked. All lengths in millimetres; deep is along the car, wide across it.
"""

from __future__ import annotations

import math
from collections import Counter
from itertools import combinations, product

import pytest

from configurator.parts.ends import End
from configurator.parts.kinds import Core, Exchanger
from tests.catalogue_data.heat_parts import CORES, EXCHANGERS, box_mm


def cross_sections(core: Core) -> set[tuple[float, float]]:
    """Width and height of a core whose charge flow lies level: as drawn, and on its side where it may be."""
    _, wide, high = box_mm(core)
    sections = {(wide, high)}
    if {"+y", "-y"} & set(core.turns.up):
        sections.add((high, wide))
    return sections


def goes_into_the_bulkhead(core: Core) -> bool:
    """A gap 320 deep, 240 wide, 180 high; a brake cylinder from 180 mm of the left and 200 mm of the front on,
    80 mm above the floor, up to the top. The charge goes in at the front and out at the back, so the core lies
    along the car: left of the cylinder, before it, or under it.
    """
    long = box_mm(core)[0]
    free = ((320, 180, 180), (200, 240, 180), (320, 240, 80))
    return any(
        long <= deep and wide <= free_wide and high <= free_high
        for (wide, high), (deep, free_wide, free_high) in product(cross_sections(core), free)
    )


def goes_beside_the_servo(core: Core, tray: bool = True) -> bool:
    """A gap 190 deep, 280 wide, 130 high. From 90 mm of the front and 180 mm of the left on stands a brake servo,
    40 mm above the floor; a battery tray takes the front left corner, 60 deep and 120 wide, to the top. The
    charge goes across the car, so the core lies across: behind the tray, before the servo, or under it.
    """
    long = box_mm(core)[0]
    free = [(130 if tray else 190, 180, 130), (90, 160 if tray else 280, 130), (130 if tray else 190, 280, 40)]
    return any(
        long <= free_wide and deep <= free_deep and high <= free_high
        for (deep, high), (free_deep, free_wide, free_high) in product(cross_sections(core), free)
    )


def goes_into(exchanger: Exchanger, deep: float, wide: float, high: float) -> bool:
    """An exchanger upright, its fins across the car."""
    return all(have <= room for have, room in zip(box_mm(exchanger), (deep, wide, high), strict=True))


def test_cores_for_two_cramped_bays_and_about_half_for_neither() -> None:
    bulkhead = {name for name, core in CORES.items() if goes_into_the_bulkhead(core)}
    servo = {name for name, core in CORES.items() if goes_beside_the_servo(core)}
    assert len(bulkhead) >= 10
    assert len(servo) >= 5
    assert 0.4 <= len(set(CORES) - bulkhead - servo) / len(CORES) <= 0.6
    assert {"core-230-short", "core-318-long"} <= bulkhead
    assert {"core-175-short", "core-170-plain"} <= servo


def test_one_core_more_goes_beside_the_servo_without_the_tray() -> None:
    """176 long, 185 wide, 124 high: 185 goes into 190, not into the 130 that the tray leaves."""
    core = CORES["core-176-wide"]
    assert not goes_beside_the_servo(core)
    assert goes_beside_the_servo(core, tray=False)


@pytest.mark.parametrize(
    ("place", "deep", "wide", "high", "least"),
    [
        ("a low nose", 60, 460, 150, 8),
        ("a shallow nose", 40, 400, 150, 4),
        ("behind a bumper", 70, 660, 320, 12),
        ("below a bumper", 120, 600, 120, 3),
        ("a deep nose", 100, 650, 320, 15),
        ("a wide slot", 50, 650, 200, 8),
        ("a side mouth", 60, 180, 260, 2),
    ],
)
def test_exchangers_for_noses(place: str, deep: float, wide: float, high: float, least: int) -> None:
    fitting = [name for name, exchanger in EXCHANGERS.items() if goes_into(exchanger, deep, wide, high)]
    assert least <= len(fitting) < len(EXCHANGERS), place


def test_one_exchanger_fills_the_low_nose_and_one_misses_it_by_a_millimetre() -> None:
    full, missing = EXCHANGERS["exchanger-455-thick"], EXCHANGERS["exchanger-458-thick"]
    assert (box_mm(full)[0], box_mm(missing)[0]) == pytest.approx((60, 61))
    assert goes_into(full, 60.001, 460, 150)
    assert not goes_into(missing, 60.001, 460, 150)
    assert goes_into(missing, 61.001, 460, 150)
    assert sum(40 <= box_mm(e)[0] <= 58 and goes_into(e, 60, 460, 150) for e in EXCHANGERS.values()) >= 4


@pytest.mark.parametrize("shelf", [CORES, EXCHANGERS], ids=["cores", "exchangers"])
def test_all_three_kinds_of_knowledge_are_there(shelf: dict[str, Core] | dict[str, Exchanger]) -> None:
    """Measured points (one, and several), fins and channels, and nothing but a size."""
    known: Counter[str] = Counter()
    for part in shelf.values():
        points = len(part.performance.measured)
        if points:
            known["one point" if points == 1 else "several points"] += 1
        else:
            known["geometry" if part.performance.fins is not None else "size"] += 1
    assert known["geometry"] >= 4
    assert known["size"] >= 4
    assert known["one point"] >= 4
    assert known["several points"] >= 8


def test_cores_reach_over_the_usual_bores_ratings_and_shapes() -> None:
    bores = {end.size for core in CORES.values() for end in core.charge.ends}
    wanted = ("45 mm", "51 mm", "57 mm", "60 mm", "63.5 mm", "70 mm", "76 mm", "80 mm", "89 mm", "102 mm")
    assert bores == set(wanted)
    for side in ("charge", "coolant"):
        ratings = [getattr(core, side).rating for core in CORES.values()]
        bars = sorted(r.working_pa_gauge / 1e5 for r in ratings if r.working_pa_gauge is not None)
        assert bars[0] == pytest.approx(0.8)
        assert bars[-1] == pytest.approx(10, rel=0.04)
    stated = Counter(
        getattr(core, side).rating.stated_as for core in CORES.values() for side in ("charge", "coolant")
    )
    assert stated["proof"] >= 2
    assert stated["burst"] >= 1
    assert stated["unknown"] == 1
    plastic = [core for core in CORES.values() if "plastic" in core.name]
    assert len(plastic) >= 3
    for core in CORES.values():
        assert core.charge.hottest_k is not None
        low, high = (120, 150) if core in plastic else (180, 230)
        assert low <= float(core.charge.hottest_k) - 273.15 <= high
    boxes = [box_mm(core) for core in CORES.values()]
    assert sum(high > 1.5 * wide for _, wide, high in boxes) >= 2, "tall"
    assert sum(wide == high for _, wide, high in boxes) >= 4, "square"
    assert sum(long > 2.4 * max(wide, high) for long, wide, high in boxes) >= 3, "long"
    assert sum(high < 0.6 * wide for _, wide, high in boxes) >= 2, "flat"


def test_exchangers_come_in_one_two_and_three_passes_and_more_passes_lose_more() -> None:
    """Coolant loss at 30 L/min by passes [kPa]: one 2 to 6, two 6 to 14, three 14 to 20; common practice, no source.

    Ports of -16 and -10 lie outside: their bores are not those of the practice.
    """
    usual = {1: (2, 6), 2: (6, 14), 3: (14, 20)}
    passes = Counter(exchanger.arrangement.passes for exchanger in EXCHANGERS.values())
    assert min(passes[1], passes[2], passes[3]) >= 3
    for exchanger in EXCHANGERS.values():
        low, high = usual[exchanger.arrangement.passes]
        for point in exchanger.performance.measured:
            litres = float(point.coolant_m3_per_s) * 6e4
            loss = float(point.coolant_loss_pa) / 1e3
            if litres == pytest.approx(30) and exchanger.coolant.ends[0].size not in {"-16", "-10"}:
                assert low <= loss <= high, exchanger.id
    depths = [float(exchanger.fin_depth_m or 0) * 1e3 for exchanger in EXCHANGERS.values()]
    assert min(depths) == pytest.approx(16)
    assert max(depths) == pytest.approx(60)


PORT_ROOM = {
    "orb": {"-10": 30, "-12": 34, "-16": 41}, "npt": {"1/8": 14, "1/2": 30}, "g": {"1/2": 30}, "metric": {"M22x1.5": 32}
}
"""Width of the boss around a port [mm]: common practice, no source."""


def room_needed_mm(end: End) -> float:
    """How wide a face has to be for an end: a spigot's own diameter, or the boss of a port."""
    return (end.size_m or 0.0) * 1e3 if end.form == "spigot" else float(PORT_ROOM[end.form][end.size])


@pytest.mark.parametrize("name", [*CORES, *EXCHANGERS])
def test_every_end_has_the_room_it_needs_on_its_face(name: str) -> None:
    part: Core | Exchanger = CORES[name] if name in CORES else EXCHANGERS[name]
    extent = dict(zip("xyz", box_mm(part), strict=True))
    ends = [end for passage in part.passages().values() for end in passage.ends]
    for end in ends:
        assert end.face is not None
        assert end.at is not None
        places = {"x": end.at.x_m, "y": end.at.y_m, "z": end.at.z_m}
        for axis, place in places.items():
            if place is not None:
                centre, half = float(place) * 1e3, room_needed_mm(end) / 2
                assert half <= centre + 1e-6, (end.name, axis)
                assert centre + half <= extent[axis] + 1e-6, (end.name, axis)
    for one, other in combinations([end for end in ends if end.at is not None], 2):
        if one.face == other.face:
            assert apart_mm(one, other) >= (room_needed_mm(one) + room_needed_mm(other)) / 2, (one.name, other.name)


def apart_mm(one: End, other: End) -> float:
    """Distance of two ends' axes on one face [mm]."""
    assert one.at is not None
    assert other.at is not None
    pairs = ((one.at.x_m, other.at.x_m), (one.at.y_m, other.at.y_m), (one.at.z_m, other.at.z_m))
    return math.hypot(*(1e3 * (float(a) - float(b)) for a, b in pairs if a is not None and b is not None))
