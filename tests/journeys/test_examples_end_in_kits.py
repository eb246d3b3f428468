"""Every example ends in kits, and a hand sum says beforehand why at least one can fit.

Each sum is about parts that are on the shelf, with their sizes typed; the shelf is held to them before the command is
asked. Sizes in mm, mass in kg, volumes in litres.
"""

from __future__ import annotations

import pytest

from tests.independent.plain import answer_of, brief_of
from tests.journeys.kitwright import shelf_part, shipped


def size(part_id: str) -> tuple[float, ...]:
    """A shelf part's box as drawn [mm]."""
    return tuple(float(shelf_part(part_id)["size"][axis].split()[0]) for axis in "xyz")


def mass(part_id: str) -> float:
    """A shelf part's mass [kg]."""
    number, unit = shelf_part(part_id)["mass"].split()
    return float(number) * (0.001 if unit == "g" else 1.0)


def zone(name: str, zone_name: str) -> tuple[float, ...]:
    """A zone's depth, width and height [mm]."""
    box = brief_of(name)["bay"]["zones"][zone_name]
    return tuple(float(box[key].split()[0]) for key in ("deep", "wide", "high"))


def test_hatch_a_kit_can_fit() -> None:
    """Core 210 long, 170 wide, 150 high in 320 deep, 240 wide, 180 high. Across the car it is 210 of 240 wide, 170 deep
    from the front wall and 150 of 180 high; the brake cylinder begins 200 mm behind the front: 200 - 170 = 30 mm over.

    Front 30 x 380 x 140 in 60 x 460 x 150: 30, 80 and 10 mm over. Tank 200 x 160 x 250 and pump 135 x 88 x 96 stacked:
    250 + 96 = 346 of 380. Dry: 4.7 + 0.84 + 1.7 + 0.74 = 7.98 kg, and some 3.5 kg of hose and couplers: under 16 kg.
    """
    assert size("core-210-short") == (210, 170, 150) and zone("hatch", "bulkhead") == (320, 240, 180)
    assert 210 <= 240 and 170 <= 200 and 150 <= 180
    assert size("exchanger-380-slim") == (30, 380, 140) and zone("hatch", "nose") == (60, 460, 150)
    assert 30 <= 60 and 380 <= 460 and 140 <= 150
    assert size("reservoir-6-vented") == (200, 160, 250) and size("pump-46-small") == (135, 88, 96)
    assert zone("hatch", "side") == (240, 220, 380)
    assert 250 + 96 == 346 <= 380 and 200 <= 240 and 160 <= 220
    parts = ("core-210-short", "exchanger-380-slim", "reservoir-6-vented", "pump-46-small")
    assert sum(mass(part) for part in parts) == pytest.approx(4.7 + 0.84 + 1.7 + 0.74, abs=0.2)
    assert 4.7 + 0.84 + 1.7 + 0.74 + 3.5 < 16


def test_wagon_a_kit_can_fit() -> None:
    """The core is in the car. Front 78 x 580 x 118 under the bumper, 120 x 600 x 120: 42, 20 and 2 mm over.

    Tank 150 x 150 x 225 and pump 130 x 84 x 92 stacked: 225 + 92 = 317 of 420. Heat at 45 % of 400 kW: 0.44 kg/s x
    0.45 x 1.01 kJ/(kg K) x (84 - 70) K = 2.8 kW; a front of 0.516 m x 0.106 m = 0.055 m2 at 3.5 m/s takes about
    2 kW/(K m2) x 0.055 m2 = 0.11 kW/K: 26 K above 43 degC, so the coolant stays near 69 and the charge under 75.
    """
    assert size("exchanger-580-low") == (78, 580, 118) and zone("wagon", "bumper") == (120, 600, 120)
    assert 78 <= 120 and 580 <= 600 and 118 <= 120
    assert size("reservoir-4-square") == (150, 150, 225) and size("pump-40-small") == (130, 84, 92)
    assert zone("wagon", "wing") == (320, 240, 420)
    assert 225 + 92 == 317 <= 420 and 150 <= 240 and 150 <= 320
    heat_kw = 0.44 * 0.45 * 1.01 * (84 - 70)
    assert 43 + heat_kw / (2.0 * 0.516 * 0.106) < 75


def test_retro_a_kit_can_fit() -> None:
    """Behind the battery tray 190 - 60 = 130 mm are left, beside the servo 280 - 100 = 180 mm: a core of
    175 x 128 x 126 lies across, 175 of 180 wide, 128 of 130 deep, 126 of 130 high.

    Front 30 x 380 x 140 in 40 x 400 x 150. Tank 140 x 140 x 190 and pump 130 x 84 x 92: 190 + 92 = 282 of 340.
    Dry: 2.5 + 0.84 + 1.25 + 0.68 = 5.27 kg, and 3 kg of hose and couplers: under 12 kg.
    """
    assert size("core-175-short") == (175, 128, 126) and zone("retro", "scuttle") == (190, 280, 130)
    assert 175 <= 280 - 100 and 128 <= 190 - 60 and 126 <= 130
    assert size("exchanger-380-slim") == (30, 380, 140) and zone("retro", "grille") == (40, 400, 150)
    assert 30 <= 40 and 380 <= 400 and 140 <= 150
    assert size("reservoir-3-tall") == (140, 140, 190) and size("pump-40-small") == (130, 84, 92)
    assert zone("retro", "wing") == (200, 180, 340)
    assert 190 + 92 == 282 <= 340 and 140 <= 180 and 140 <= 200
    parts = ("core-175-short", "exchanger-380-slim", "reservoir-3-tall", "pump-40-small")
    assert sum(mass(part) for part in parts) == pytest.approx(2.5 + 0.84 + 1.25 + 0.68, abs=0.2)
    assert 2.5 + 0.84 + 1.25 + 0.68 + 3.0 < 12


def test_road_a_kit_can_fit() -> None:
    """Core 230 x 150 x 130 in 260 deep, 300 wide, 170 high; the clutch cylinder stands at the back right, 90 deep and
    50 wide: along the car the core is 150 of 300 - 50 = 250 wide, 230 of 260 deep, 130 of 170 high.

    Front 50 x 440 x 148 in 70 x 640 x 200. Tank 140 x 140 x 190 and pump 135 x 88 x 96: 190 + 96 = 286 of 360.
    Dry: 3.9 + 1.54 + 1.25 + 0.74 = 7.43 kg, and 3.5 kg of hose and couplers: under 16 kg.
    """
    assert size("core-230-short") == (230, 150, 130) and zone("road", "gearbox") == (260, 300, 170)
    assert 230 <= 260 and 150 <= 300 - 50 and 130 <= 170
    assert size("exchanger-440-double") == (50, 440, 148) and zone("road", "grille") == (70, 640, 200)
    assert 50 <= 70 and 440 <= 640 and 148 <= 200
    assert size("reservoir-3-tall") == (140, 140, 190) and size("pump-46-small") == (135, 88, 96)
    assert zone("road", "wing") == (280, 220, 360)
    assert 190 + 96 == 286 <= 360 and 140 <= 220 and 140 <= 280
    parts = ("core-230-short", "exchanger-440-double", "reservoir-3-tall", "pump-46-small")
    assert sum(mass(part) for part in parts) == pytest.approx(3.9 + 1.54 + 1.25 + 0.74, abs=0.2)
    assert 3.9 + 1.54 + 1.25 + 0.74 + 3.5 < 16


def test_track_a_kit_can_fit() -> None:
    """Core 190 long, 220 wide, 170 high in 270 deep, 300 wide, 195 high: across or along the car, 25 mm over in height.

    Front 66 x 560 x 260 in 100 x 650 x 320: 34, 90 and 60 mm over. Bottle 95 x 95 x 115 and pump 135 x 88 x 96 stacked:
    115 + 96 = 211 of 330. Dry: 6.1 + 4.3 + 0.22 + 0.74 = 11.36 kg, and 4.5 kg of hose and couplers: under 17 kg.
    """
    assert size("core-190-wide") == (190, 220, 170) and zone("track", "engine") == (270, 300, 195)
    assert 190 <= 270 and 220 <= 300 and 170 <= 195
    assert size("exchanger-560-triple") == (66, 560, 260) and zone("track", "slot") == (100, 650, 320)
    assert 66 <= 100 and 560 <= 650 and 260 <= 320
    assert size("reservoir-0.7-bottle") == (95, 95, 115) and size("pump-46-small") == (135, 88, 96)
    assert zone("track", "wing") == (230, 200, 330)
    assert 115 + 96 == 211 <= 330 and 135 <= 200 and 95 <= 200
    parts = ("core-190-wide", "exchanger-560-triple", "reservoir-0.7-bottle", "pump-46-small")
    assert sum(mass(part) for part in parts) == pytest.approx(6.1 + 4.3 + 0.22 + 0.74, abs=0.2)
    assert 6.1 + 4.3 + 0.22 + 0.74 + 4.5 < 17


def test_commuter_a_kit_can_fit() -> None:
    """All but core and fan is in the car. Core 160 x 120 x 110 in 240 deep, 320 wide, 180 high. Fan 52 x 200 x 205 in
    80 x 270 x 270: 28, 70 and 65 mm over; and it lies within the exchanger of 250 x 250. Of 500, fan and timer take
    52 + 26, which leaves 422 for hose, wiring and coolant.
    """
    assert size("core-160-short") == (160, 120, 110) and zone("commuter", "bay") == (240, 320, 180)
    assert 160 <= 240 and 120 <= 320 and 110 <= 180
    fans = {part["id"]: part for part in shipped("fans")}
    timers = {part["id"]: part for part in shipped("timers")}
    assert fans["fan-190"]["size"] == {"x": "52 mm", "y": "200 mm", "z": "205 mm"}
    assert zone("commuter", "behind") == (80, 270, 270)
    assert 52 <= 80 and 200 <= 250 <= 270 and 205 <= 250 <= 270
    assert fans["fan-190"]["price"] + timers["timer-5"]["price"] == 52 + 26 < 500


@pytest.mark.parametrize("name", ["hatch", "wagon", "retro", "road", "track", "commuter"])
def test_every_example_ends_in_kits(name: str) -> None:
    run = answer_of(name)
    assert (run.code, run.answer["outcome"]) == (0, "kits")
    assert len(run.kits) >= 3
    for kit in run.kits:
        assert kit["fit"]["decided"]
        assert kit["thermal"]["margin_k"] >= 0


@pytest.mark.parametrize("name", ["hatch", "wagon", "retro", "road", "track", "commuter"])
def test_every_pump_has_its_wiring_and_every_adapter_is_on_the_bill(name: str) -> None:
    for kit in answer_of(name).kits:
        items = {line["item"] for line in kit["lines"]}
        parts = {line["part"] for line in kit["lines"]}
        assert {"relay", "fuse", "wire", "pump"} <= items
        assert {piece for joint in kit["joints"] for piece in joint["through"]} <= parts
        assert kit["pressure"]["charge"]["margin"] >= 1
        assert kit["pressure"]["coolant"]["margin"] >= 1
