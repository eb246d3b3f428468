"""Pumps, reservoirs, hoses, adapters and small parts, held against what such parts usually are.

Standing: common practice, no published source, unless a test names one.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

from configurator.parts.kinds import Adapter, Cap, Clamp, Fan, Fuse, Hose, Pump, Relay, Reservoir, Wire
from configurator.standards.threads import bore_of

CATALOGUE = Path(__file__).parents[2] / "catalogue"
L_PER_MIN = 1e-3 / 60


def shelf(section: str) -> list[dict[str, Any]]:
    found = yaml.safe_load((CATALOGUE / f"{section}.yaml").read_text(encoding="utf-8"))[section]
    assert isinstance(found, list)
    return found


PUMPS = {row["name"]: Pump.model_validate(row) for row in shelf("pumps")}
RESERVOIRS = {row["name"]: Reservoir.model_validate(row) for row in shelf("reservoirs")}
CAPS = [Cap.model_validate(row) for row in shelf("caps")]
HOSES = [Hose.model_validate(row) for row in shelf("hoses")]
ADAPTERS = [Adapter.model_validate(row) for row in shelf("adapters")]
CLAMPS = [Clamp.model_validate(row) for row in shelf("clamps")]
FANS = [Fan.model_validate(row) for row in shelf("fans")]
FUSES = [Fuse.model_validate(row) for row in shelf("fuses")]
RELAYS = [Relay.model_validate(row) for row in shelf("relays")]
WIRES = [Wire.model_validate(row) for row in shelf("wires")]

SLIM = "Slim 20 litre pump, 5/8 inch hose"
COMMON = "Common 35 litre pump, 3/4 inch hose"
MEDIUM = "Medium 60 litre pump, 1 inch hose"
RACE = "Race 80 litre pump, 1 inch hose"
LOW_HEAD = "Low-head 100 litre pump, 1 inch hose"


def curve_of(pump: Pump) -> tuple[list[float], list[float]]:
    """Flows [L/min] and heads [kPa] of a pump's points."""
    return (
        [float(point.flow_m3_per_s) / L_PER_MIN for point in pump.curve],
        [float(point.head_pa) / 1000 for point in pump.curve],
    )


def flow_through(pump: Pump, loss_at_30_kpa: float, power: float) -> float:
    """Flow [L/min] where the curve, straight between its points, meets a loop losing with a power of flow."""
    flows, heads = curve_of(pump)
    fine = np.linspace(0.0, flows[-1], 20_001)
    surplus = np.interp(fine, flows, heads) - loss_at_30_kpa * (fine / 30) ** power
    return float(fine[np.flatnonzero(surplus >= 0)[-1]])


@pytest.mark.parametrize(
    ("loss_at_30_kpa", "slim", "common", "medium", "race", "low_head"),
    [
        (15, 18, 30, 47, 63, 40),
        (30, 16, 26, 40, 53, 29),
        (60, 13, 22, 31, 42, 20),
        (100, 11, 18, 25, 34, 15),
        (150, 10, 15, 21, 28, 12),
    ],
)
def test_classes_of_pumps_flow_as_usual_through_a_loop(
    loss_at_30_kpa: float, slim: float, common: float, medium: float, race: float, low_head: float
) -> None:
    """Flow [L/min] of five classes of pump, by the kPa that a loop loses at 30 L/min.

    Standing: a worked table of trade practice, no published source: parabolas 25 kPa / 20 L/min, 55 / 35,
    90 / 60, 150 / 80 and 30 / 100, turbulent loops (loss with flow to the 1.75), rounded to whole litres; the
    points and the straight lines between them add up to half a litre.
    """
    classes = {SLIM: slim, COMMON: common, MEDIUM: medium, RACE: race, LOW_HEAD: low_head}
    for name, expected in classes.items():
        assert flow_through(PUMPS[name], loss_at_30_kpa, 1.75) == pytest.approx(expected, abs=1.0), name


def test_low_head_pump_wins_in_open_loops_only() -> None:
    """The parabolas 30 kPa / 100 L/min and 55 kPa / 35 L/min cross at 24.4 L/min, worked out by hand:
    30 - 0.003 q² = 55 - 0.0449 q². A loop that loses with the square passes there if it loses 42.5 kPa at
    30 L/min: the order of the two turns at that loop.
    """
    crossing = math.sqrt(25 / (55 / 35**2 - 30 / 100**2))
    assert crossing == pytest.approx(24.43, abs=0.01)
    turning_point = (30 - 30 * (crossing / 100) ** 2) * (30 / crossing) ** 2
    assert turning_point == pytest.approx(42.5, abs=0.1)
    low_head, common = PUMPS[LOW_HEAD], PUMPS[COMMON]
    assert flow_through(low_head, 40, 2.0) > flow_through(common, 40, 2.0)
    assert flow_through(low_head, 45, 2.0) < flow_through(common, 45, 2.0)


@pytest.mark.parametrize(
    ("name", "flow", "barb"),
    [("Small 40 litre pump, 3/4 inch hose", 40, 19.05), ("Small 46 litre pump, 1 inch hose", 46, 25.4)],
)
def test_small_pumps_have_the_usual_free_flow_for_their_barb(name: str, flow: float, barb: float) -> None:
    """About 40 L/min with a 3/4 in barb, about 46 L/min with 1 in. Common practice, no source."""
    pump = PUMPS[name]
    assert curve_of(pump)[0][-1] == pytest.approx(flow, rel=0.02)
    assert all((end.size_m or 0) * 1000 == pytest.approx(barb, abs=0.5) for end in pump.coolant.ends)


@pytest.mark.parametrize("name", sorted(PUMPS))
def test_a_pump_makes_less_hydraulic_power_than_it_draws(name: str) -> None:
    """Small motor pumps turn 5 to 50 % of their electrical power into flow times head. Common practice."""
    pump = PUMPS[name]
    best = max(float(point.flow_m3_per_s) * float(point.head_pa) for point in pump.curve)
    assert 0.05 < best / (pump.volts * pump.current_a) < 0.50
    assert 25e3 <= pump.dead_head_pa <= 150e3
    assert 20 <= curve_of(pump)[0][-1] <= 110
    assert pump.coolant.rating.working_pa_gauge is not None
    assert pump.coolant.rating.working_pa_gauge > pump.dead_head_pa + 0.3e5


def test_most_pumps_stand_with_an_eight_litre_tank_in_a_side_space() -> None:
    """In 220 mm wide, 240 mm deep, 380 mm high, by hand: what is left above the 8 L cube takes the pump."""
    tank = RESERVOIRS["Cubic 8 litre tank, -12 ports"].size
    assert tank.x_m <= 0.220
    assert tank.y_m <= 0.240
    left = [0.220, 0.240, 0.380 - tank.z_m]
    fitting = []
    for pump in PUMPS.values():
        needed = sorted((pump.size.x_m, pump.size.y_m, pump.size.z_m))
        if all(need <= have + 1e-9 for need, have in zip(needed, sorted(left), strict=True)):
            fitting.append(pump.name)
    assert len(fitting) > len(PUMPS) / 2


@pytest.mark.parametrize("name", sorted(RESERVOIRS))
def test_a_tank_and_its_air_fit_inside_its_own_box(name: str) -> None:
    """Coolant at the mark plus the air space, with 4 % left for walls and rounded corners."""
    tank = RESERVOIRS[name]
    box = tank.size.x_m * tank.size.y_m * tank.size.z_m
    assert tank.coolant.volume_m3 is not None
    assert tank.coolant.volume_m3 / (1 - tank.air_space) <= 0.96 * box
    assert tank.coolant.volume_m3 >= 0.55 * box
    assert 0.10 <= tank.air_space <= 0.15


def test_tanks_have_an_in_an_out_and_a_neck_on_top() -> None:
    for tank in RESERVOIRS.values():
        assert len(tank.coolant.ends_for("in")) == 1
        assert len(tank.coolant.ends_for("out")) == 1
        (neck,) = tank.coolant.ends_for("cap")
        assert neck.form == "neck"
        assert neck.face == "+z"


def test_bigger_tanks_cost_more_within_a_make() -> None:
    """Closed alloy tanks: a third more volume costs more, whatever the ports and returns."""
    closed = [tank for name, tank in RESERVOIRS.items() if "Plastic" not in name and not tank.vented]
    for small in closed:
        for large in closed:
            if large.coolant.volume_m3 > 1.3 * small.coolant.volume_m3:  # type: ignore[operator]
                assert large.price > small.price, (small.name, large.name)


@pytest.mark.parametrize(
    ("kind", "limits"),
    [
        ("rubber", {12.7: 4.0, 16: 3.5, 19: 3.0, 25: 2.5, 32: 2.2}),
        ("wired", {16: 5.0, 19: 5.0, 25: 4.0, 32: 3.5}),
        ("silicone", {12.7: 6.0, 16: 5.5, 19: 5.0, 25: 4.5, 32: 4.0}),
    ],
)
def test_hoses_work_at_the_usual_pressure_of_their_bore(kind: str, limits: dict[float, float]) -> None:
    """Working pressure [bar] by bore [mm]: common practice, no source; smaller bores bear more."""
    for bore, bar in limits.items():
        (hose,) = [h for h in HOSES if h.id == f"hose-{kind}-{bore:g}"]
        assert hose.working_pa_gauge == pytest.approx(bar * 1e5)
        assert hose.bore_m == pytest.approx(bore / 1000)


def test_hoses_stay_within_the_temperatures_of_their_class() -> None:
    """SAE J20 (2022), table of classes: A silicone -55 to 175 degC, D-1 EPDM -40 to 125 degC. Published."""
    table = {"A silicone": (-55, 175), "D-1 EPDM": (-40, 125)}
    for hose in HOSES:
        coldest, hottest = table[hose.hose_class]
        assert hose.coldest_k - 273.15 >= coldest - 1e-6
        assert hose.hottest_k - 273.15 <= hottest + 1e-6


def test_a_metre_of_hose_weighs_what_its_wall_holds() -> None:
    """Rubber and silicone are 1.1 to 1.3 times as heavy as water, wire adds up to a quarter. Handbooks."""
    for hose in HOSES:
        wall_area = math.pi * (hose.bore_m + hose.wall_m) * hose.wall_m
        assert hose.mass_kg is not None
        assert 1080 <= hose.mass_kg / wall_area <= 1600, hose.id


COUPLERS = [adapter for adapter in ADAPTERS if adapter.medium == "charge"]


def test_couplers_work_at_the_usual_pressure_of_their_size() -> None:
    """180/D bar for four plies at room temperature (D in mm), 1.2 times that for five, about twice that again with
    braid of aramid; plain silicone to 175 degC, lined with fluorosilicone to 225 degC. Common practice, no source.
    """
    assert len(COUPLERS) >= 25
    for coupler in COUPLERS:
        braced = "aramid" in coupler.id
        lined = "lined" in coupler.id or braced
        size_mm = max((end.size_m or 0) * 1000 for end in coupler.through.ends)
        usual = 180e5 / size_mm * (1.2 if lined else 1.0)
        assert coupler.through.rating.working_pa_gauge is not None
        most = 2.0 if braced else 1.0
        least = 1.75 * usual if braced else usual - 0.11e5
        assert least <= coupler.through.rating.working_pa_gauge <= most * usual
        assert coupler.through.hottest_k == pytest.approx(273.15 + (225 if lined else 175))


def test_lined_couplers_cost_more_than_plain_ones_of_their_size() -> None:
    plain = {c.id: c.price for c in COUPLERS if "lined" not in c.id and "aramid" not in c.id}
    lined = {c.id.replace("lined-", ""): c.price for c in COUPLERS if "lined" in c.id}
    assert set(lined) <= set(plain)
    assert all(lined[name] > 1.5 * plain[name] for name in lined)
    braced = {c.id.replace("aramid-", ""): c.price for c in COUPLERS if "aramid" in c.id}
    assert all(braced[name] > 1.3 * lined[name] for name in braced)


def test_an_adapter_is_no_wider_inside_than_its_ends_let_through() -> None:
    """The bore of its thread (usual bores, from memory), and its spigots less a wall of 1 mm a side."""
    for adapter in ADAPTERS:
        assert adapter.through.bore_m is not None
        for end in adapter.through.ends:
            thread = bore_of(end.form, end.size)
            if thread is not None:
                assert adapter.through.bore_m <= thread + 1e-9, adapter.id
            elif end.form == "spigot":
                assert adapter.through.bore_m <= (end.size_m or 0) - 0.002 + 1e-9, adapter.id
            else:
                assert adapter.through.bore_m <= (end.size_m or 0) + 1e-9, adapter.id


def test_caps_open_in_steps_up_to_their_own_rating() -> None:
    opens = sorted({round(float(cap.opens_pa_gauge) / 1e5, 2) for cap in CAPS})
    assert opens[0] == 0.0
    assert opens[1:] == [0.3, 0.5, 0.7, 0.9, 1.1, 1.3]
    for cap in CAPS:
        assert cap.coolant.rating.working_pa_gauge is not None
        assert cap.opens_pa_gauge < cap.coolant.rating.working_pa_gauge


def test_clamps_open_over_a_range_and_t_bolts_serve_the_charge_side() -> None:
    for clamp in CLAMPS:
        assert 1.05 < clamp.most_m / clamp.least_m < 1.75
        assert (clamp.style == "T-bolt") == ("charge" in clamp.media)


def test_fans_fall_to_no_rise_at_free_flow_and_draw_more_than_they_push() -> None:
    for fan in FANS:
        flows = [float(point.flow_m3_per_s) for point in fan.curve]
        rises = [float(point.rise_pa) for point in fan.curve]
        assert flows == sorted(set(flows))
        assert rises == sorted(set(rises), reverse=True)
        assert rises[-1] == 0
        best = max(flow * rise for flow, rise in zip(flows, rises, strict=True))
        assert 0.10 < best / (fan.volts * fan.current_a) < 0.50


def test_fuses_come_in_the_standard_steps() -> None:
    """Blade fuse-links of 3 to 40 A (steps of ISO 8820-3, from memory)."""
    assert sorted(float(fuse.rated_a) for fuse in FUSES) == [3, 5, 7.5, 10, 15, 20, 25, 30, 40]


def test_every_pump_and_fan_finds_a_fuse_and_a_relay() -> None:
    """A fuse of the current over 0.75 or more, a relay of 1.5 times the current or more. Common practice."""
    currents = [pump.current_a for pump in PUMPS.values()] + [fan.current_a for fan in FANS]
    for current_a in currents:
        assert any(fuse.rated_a >= current_a / 0.75 for fuse in FUSES), current_a
        assert any(relay.rated_a >= 1.5 * current_a for relay in RELAYS), current_a


def test_wire_weighs_its_copper_and_a_thin_coat() -> None:
    """Copper 8.96 g/cm3 (handbook); the coat adds a tenth to a half."""
    for wire in WIRES:
        assert wire.mass_kg is not None
        assert 1.1 <= wire.mass_kg / (wire.area_m2 * 8960) <= 1.5
