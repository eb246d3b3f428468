"""How long placing takes, beside OR-tools' CP-SAT on the same zones: python tests/benchmarks/placing.py [ZONES]

Every zone that the search of a shipped example asks for is placed once more, cold; so are all kits that are told, and
a drawn bay of three zones with eight obstacles and six parts, and six parts in one zone. CP-SAT is given the
clearance and need only show that it can be had and half a millimetre more cannot: building its two models and solving
them (two workers) are timed apart, on up to ZONES zones of each example. Times depend on the machine and are never
asserted; that both give the same answers is, before any figure is printed.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from unittest.mock import patch

from typer.testing import CliRunner

from configurator.cli.main import app
from configurator.fitting.kit_fit import fit_kit
from configurator.fitting.packing import pack
from configurator.fitting.placing import ZoneFit, fit_zone
from configurator.fitting.reaches import NOTHING, Needs
from configurator.fitting.room import room_of
from configurator.fitting.turns import SIDES
from configurator.foundations.boxes import millimetres_up
from configurator.parts.kinds import Exchanger, RigidPart
from configurator.questions import offer
from configurator.search import zone_memo
from tests.fitting.drawn_cases import rich_case
from tests.fitting.plain_cases import FACES, PlainCase, PlainPart, PlainReach
from tests.oracle_checks.cp_sat import model_of

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.yaml"))


def timed(work: Callable[[], object]) -> float:
    """Wall-clock time of some work, nothing kept from before [ms]."""
    pack.cache_clear()
    started = time.perf_counter()
    work()
    return (time.perf_counter() - started) * 1000


def asked(example: Path) -> tuple[list[tuple], list[tuple]]:
    """What the search of an example asks of `fit_zone`, and `fit_kit` of the kits that are told."""
    zones: list[tuple] = []
    kits: list[tuple] = []

    def noting_zone(*words, **more):
        zones.append((words, more))
        return fit_zone(*words, **more)

    def noting_kit(*words, **more):
        kits.append((words, more))
        return fit_kit(*words, **more)

    with patch.object(zone_memo, "fit_zone", noting_zone), patch.object(offer, "fit_kit", noting_kit):
        done = CliRunner().invoke(app, ["suggest", str(example)])
    assert done.exit_code in {0, 1}, done.output
    assert zones, f"nothing was placed for {example.name}"
    return zones, kits


def plain_part(slot: str, part: RigidPart, need: Needs) -> PlainPart:
    """A part of the shelf as plain numbers; its id is its slot, since twins are two."""
    size = tuple(millimetres_up(side) for side in (part.size.x_m, part.size.y_m, part.size.z_m))
    through = ("-x", "+x") if isinstance(part, Exchanger) and part.turns.air is None else part.turns.air
    fronts = tuple(face for face in FACES if face in (part.turns.front or FACES) and face in (through or FACES))
    reaches = tuple(PlainReach(reach.joint, reach.end, reach.box.low, reach.box.high) for reach in need.reaches)
    heights = need.heights
    if heights is None:
        return PlainPart(slot, size, part.turns.up, fronts, part.mounts, reaches, need.used)
    filled = None if heights.filled is None else round(100 * heights.filled)
    assert filled is None or abs(filled - 100 * heights.filled) < 1e-9, "a share in whole per cent"
    bled_by = None if heights.bled_by is None else tuple(heights.bled_by)
    return PlainPart(
        slot, size, part.turns.up, fronts, part.mounts, reaches, need.used, filled, heights.inlet_mm, bled_by
    )


def plain_zone(words: tuple, more: dict) -> PlainCase:
    """A zone that was asked for, as plain numbers."""
    bay, zone, items = words
    room = room_of(bay, zone).room
    names = {"up": "top", "down": "floor"}
    ends = tuple((medium, tuple(names.get(s, s) for s in sides)) for medium, sides in bay.zones[zone].ends.items())
    return PlainCase(
        room.size,
        tuple((box.low, box.high) for box in room.obstacles),
        tuple(plain_part(slot, part, more["needs"].get(slot, NOTHING)) for slot, part in items),
        tuple(side for side, is_open in zip(SIDES, room.open, strict=True) if is_open),
        ends,
    )


def by_cp_sat(case: PlainCase, fit: ZoneFit, cap_mm: float | None) -> tuple[float, float]:
    """Milliseconds of building and of solving, with the answer held against that of the program."""
    assert fit.state != "not decided"
    gaps = {0: False}
    if fit.clearance_mm is not None:
        gap = round(2 * fit.clearance_mm)
        gaps = {gap: True} if fit.clearance_mm == cap_mm else {gap: True, gap + 1: False}
    building = solving = 0.0
    for gap, expected in gaps.items():
        started = time.perf_counter()
        model = model_of([case], gap)
        built = time.perf_counter()
        answer = model.solve(workers=2)
        solving += (time.perf_counter() - built) * 1000
        building += (built - started) * 1000
        assert answer == expected, f"{case} at {gap}"
    return building, solving


def told(name: str, own: list[float], cp: list[tuple[float, float]]) -> None:
    """A line of figures. Own times over all, the ratio over those that CP-SAT was given, which come first."""
    line = f"{name:<34} {len(own):5}   {statistics.median(own):8.2f} {max(own):8.2f} ms"
    if cp:
        build, solve = (statistics.median(pair[k] for pair in cp) for k in range(2))
        mine, theirs = sum(own[: len(cp)]), [sum(pair[k] for pair in cp) for k in range(2)]
        worst = max(sum(pair) for pair in cp)
        line += f"   {build:7.1f} + {solve:6.1f} (worst {worst:7.1f}) ms"
        line += f"   {theirs[0] / mine:6.1f} + {theirs[1] / mine:5.1f}"
    print(line, flush=True)


def beside_cp_sat(name: str, zones: list[tuple], most: int) -> None:
    """Zones of one kind: those that CP-SAT is given, evenly spread, are timed first."""
    spread = zones[:: max(1, len(zones) // most)][:most]
    rest = [zone for zone in zones if zone not in spread]
    cp = [by_cp_sat(plain_zone(w, m), fit_zone(*w, **m), m.get("clearance_cap_mm")) for w, m in spread]
    told(name, [timed(lambda w=w, m=m: fit_zone(*w, **m)) for w, m in (*spread, *rest)], cp)


def drawn(case: PlainCase) -> tuple:
    """A drawn zone, as it is asked for."""
    return (case.bay(), "hole", case.items()), {"needs": case.needs()}


def bay_of_three(seed: int) -> list[PlainCase]:
    """Three zones with six parts and eight obstacles."""
    zones = [rich_case(100 * seed + k, 2, 300, fewest=2) for k in range(3)]
    blocks = [
        tuple(((k * zone.zone[0] // 4, 0, 0), (k * zone.zone[0] // 4 + 9, 40, 30)) for k in range(count))
        for zone, count in zip(zones, (3, 3, 2), strict=True)
    ]
    return [
        PlainCase(zone.zone, inside, zone.parts, zone.open, zone.ends)
        for zone, inside in zip(zones, blocks, strict=True)
    ]


def main(most: int) -> None:
    """Time all, make sure of the answers, print."""
    print(f"{'':<34} {'how':>5}   {'median':>8} {'worst':>8}      CP-SAT: build + solve, median       ratio of sums")
    for example in EXAMPLES:
        zones, kits = asked(example)
        beside_cp_sat(f"{example.stem}: zones asked for", zones, most)
        if kits:
            told(f"{example.stem}: whole kits told", [timed(lambda w=w, m=m: fit_kit(*w, **m)) for w, m in kits], [])
    bays = [drawn(zone) for seed in range(most // 3 + 1) for zone in bay_of_three(seed)]
    beside_cp_sat("drawn: zones of a bay of three", bays, most)
    for count in (3, 4, 5, 6):
        crowds = [drawn(rich_case(seed, count, 300, fewest=count)) for seed in range(most // 2)]
        beside_cp_sat(f"drawn: {count} parts in one zone", crowds, most)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 30)
