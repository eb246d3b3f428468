"""The brief's records: aims, driving, bays; what their own checks let through and refuse."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from configurator.brief.bay import Bay, StatedAir
from configurator.brief.driving import Driving
from configurator.brief.request import Brief, CoolantWish, Engine, Site
from configurator.brief.tables import Charger

BRIEF: dict[str, Any] = {
    "brief": "x",
    "engine": {"power": "230 kW", "fuel": "petrol", "charger": "turbo", "boost": "1.4 bar"},
    "site": {"air": "24 degC"},
    "driving": "hill-climb",
    "aim": {"charge_air": "80 degC"},
    "bay": "unmeasured",
}
BOX = {"wide": "300 mm", "high": "200 mm", "deep": "100 mm"}
STRETCH = {"lasts": "60 s", "share": "100 %", "speed": "80 km/h"}


def _bay(**keys: Any) -> Bay:
    return Bay.model_validate(
        {"zones": {"nose": {**BOX, "takes": ["core"]}, "far-side": {**BOX, "takes": ["pump"]}}, **keys}
    )


def test_the_ceiling_is_the_same_however_the_aim_is_written() -> None:
    ceiling = Brief.model_validate(BRIEF)
    rise = Brief.model_validate({**BRIEF, "aim": {"above_air": "56 K"}})
    assert ceiling.ceiling_k == pytest.approx(353.15)
    assert rise.ceiling_k == pytest.approx(ceiling.ceiling_k)


@pytest.mark.parametrize(
    "aim", [{}, {"charge_air": "80 degC", "above_air": "35 K"}, {"charge_loss": "12 kPa"}]
)
def test_exactly_one_aim(aim: dict[str, str]) -> None:
    with pytest.raises(ValidationError, match="exactly one"):
        Brief.model_validate({**BRIEF, "aim": aim})


def test_an_aim_may_be_judged_after_a_standstill() -> None:
    asked = Brief.model_validate({**BRIEF, "aim": {"charge_air": "50 degC", "after": "5 min standstill"}})
    assert asked.aim.after_s == 300.0
    assert Brief.model_validate(BRIEF).aim.after_s is None
    with pytest.raises(ValidationError, match="write it like 5 min standstill"):
        Brief.model_validate({**BRIEF, "aim": {"charge_air": "50 degC", "after": {"value": "5 min"}}})


@pytest.mark.parametrize(
    ("power", "bound"),
    [
        ("0.0000000001 kW", "it must be at least 0.1 kW"),
        ("99 W", "it must be at least 100 W \\(0.1 kW\\)"),
        ("0 kW", "it must be at least 0.1 kW"),
        ("-5 kW", "it must be at least 0.1 kW"),
        ("10001 kW", "it must be at most 10000 kW"),
        ("1000000000 kW", "it must be at most 10000 kW"),
    ],
)
def test_a_power_that_no_engine_has(power: str, bound: str) -> None:
    with pytest.raises(ValidationError, match=bound):
        Engine.model_validate({**BRIEF["engine"], "power": power})


@pytest.mark.parametrize("power", ["100 W", "1 hp", "10000 kW"])
def test_the_least_and_the_most_that_engines_have(power: str) -> None:
    assert Engine.model_validate({**BRIEF["engine"], "power": power}).power_w > 0


def test_a_rise_is_no_temperature() -> None:
    with pytest.raises(ValidationError, match="it is one of temperature"):
        Brief.model_validate({**BRIEF, "aim": {"above_air": "35 degC"}})


def test_the_bay_is_measured_or_said_not_to_be() -> None:
    assert Brief.model_validate(BRIEF).bay is None
    without = {key: value for key, value in BRIEF.items() if key != "bay"}
    with pytest.raises(ValidationError, match="bay"):
        Brief.model_validate(without)


@pytest.mark.parametrize(
    ("altitude", "metres"), [("900 m", 900), ("-400 m", -400), ("6000 m", 6000), ("5000 ft", 1524)]
)
def test_altitudes_where_cars_are_driven(altitude: str, metres: float) -> None:
    assert Site.model_validate({"air": "24 degC", "altitude": altitude}).altitude_m == pytest.approx(metres)


@pytest.mark.parametrize(
    "site", [{"air": "61 degC"}, {"air": "24 degC", "altitude": "6001 m"}, {"air": "-61 degC"}]
)
def test_weather_and_heights_that_are_none(site: dict[str, str]) -> None:
    with pytest.raises(ValidationError, match="is out of range"):
        Site.model_validate(site)


def test_a_run_between_two_zones_is_found_either_way_round() -> None:
    bay = _bay(runs={"far-side-nose": "1.2 m", "nose-nose": "0.4 m"})
    assert bay.run_m("nose", "far-side") == pytest.approx(1.2)
    assert bay.run_m("far-side", "nose") == pytest.approx(1.2)
    assert bay.run_m("nose", "nose") == pytest.approx(0.4)
    assert bay.run_m("far-side", "far-side") is None


@pytest.mark.parametrize(
    ("at", "bound"),
    [
        ({"up": "-620 mm"}, "'-620 mm' is out of range: it must be at least 0 mm"),  # under the road
        ({"up": "25 m"}, "'25 m' is out of range: it must be at most 5 m"),
        ({"back": "-3.1 m"}, "at least -3 m"),
        ({"back": "300 m"}, "at most 30 m"),
        ({"right": "-5.1 m"}, "at least -5 m"),
        ({"right": "6200 mm"}, "at most 5000 mm"),
    ],
)
def test_a_place_that_no_car_has(at: dict[str, str], bound: str) -> None:
    with pytest.raises(ValidationError, match=bound):
        _bay(zones={"nose": {**BOX, "takes": ["core"], "at": at}})


def test_places_at_the_ends_of_a_long_lorry() -> None:
    at = {"back": "30 m", "right": "-5 m", "up": "0 mm"}
    assert _bay(zones={"tail": {**BOX, "takes": ["core"], "at": at}}).zones["tail"].at.up_m == 0.0


@pytest.mark.parametrize("pair", ["nose-tail", "nose", "nose-far", ""])
def test_a_run_names_two_zones(pair: str) -> None:
    with pytest.raises(ValidationError, match="does not name two zones"):
        _bay(runs={pair: "1 m"})


def test_an_obstacle_stands_in_a_zone_off_one_wall_each_way() -> None:
    obstacle = {"name": "servo", "in": "nose", "kind": "plain", **BOX}
    good = {"left": "10 mm", "back": "20 mm", "floor": "0 mm"}
    assert _bay(obstacles=[{**obstacle, "from": good}]).obstacles[0].off.back_m == pytest.approx(0.020)
    with pytest.raises(ValidationError, match="there is no zone 'tail'"):
        _bay(obstacles=[{**obstacle, "in": "tail", "from": good}])
    for spoilt, words in (({"top": "5 mm"}, "floor or the top"), ({"right": "5 mm"}, "left or the right")):
        with pytest.raises(ValidationError, match=words):
            _bay(obstacles=[{**obstacle, "from": {**good, **spoilt}}])
    with pytest.raises(ValidationError, match="front or the back"):
        _bay(obstacles=[{**obstacle, "from": {"left": "10 mm", "floor": "0 mm"}}])


@pytest.mark.parametrize(
    ("changed", "sound"),
    [
        ({"left": "299 mm"}, True),
        ({"left": "301 mm"}, False),  # behind the wall on the right, which is closed
        ({"left": "301 mm", "kind": "moving"}, True),  # what moves keeps 25 mm clear: some of them in the zone
        ({"left": "301 mm", "kind": "moving", "clearance": "1 mm"}, False),
        ({"left": "18000 mm"}, False),
        ({"left": "-5000 mm"}, False),
        ({"left": "-900 mm"}, True),  # behind the open wall on the left, where a hose may go
        ({"floor": "200 mm"}, False),
    ],
)
def test_an_obstacle_in_nobodys_way_is_measured_wrong(changed: dict[str, str], sound: bool) -> None:
    said = {"kind": "plain", "left": "0 mm", "back": "0 mm", "floor": "0 mm", **changed}
    off = {wall: said.pop(wall) for wall in ("left", "back", "floor")}
    obstacle = {"name": "servo", "in": "nose", **BOX, **said, "from": off}
    zones = {"nose": {**BOX, "takes": ["core"], "open": ["left"]}}
    if sound:
        assert Bay.model_validate({"zones": zones, "obstacles": [obstacle]})
    else:
        with pytest.raises(ValidationError, match="'servo' stands neither in its zone 'nose' nor within 1 m behind"):
            Bay.model_validate({"zones": zones, "obstacles": [obstacle]})


@pytest.mark.parametrize(
    "air", [{"kind": "ram", "share": "25 %"}, {"kind": "fan"}, {"kind": "none"}, {"face_speed": "5 m/s"}]
)
def test_ways_to_say_what_air_a_zone_gets(air: dict[str, str]) -> None:
    assert StatedAir.model_validate(air).kind == air.get("kind")


@pytest.mark.parametrize(
    "air", [{}, {"kind": "ram"}, {"kind": "fan", "face_speed": "5 m/s"}, {"share": "25 %"}]
)
def test_ways_that_do_not_say_it(air: dict[str, str]) -> None:
    with pytest.raises(ValidationError, match=r"air is either|ram air needs"):
        StatedAir.model_validate(air)


@pytest.mark.parametrize(
    ("behind", "stated", "words"),
    [
        ("condensor", False, "not known; did you mean 'condenser'\\? Else give its preheat, or one of condenser"),
        ("far-sid", False, "did you mean 'far-side'"),
        ("oil cooler", False, "not known: give its preheat"),
        ("condensor", True, "'condensor' is none of condenser, radiator, far-side; did you mean 'condenser'"),
        ("far-sdie", True, "did you mean 'far-side'"),
        ("yes", True, "'yes' does not say what stands before it"),
        ("oil cooler", True, None),
        ("oil radiator", True, None),
        ("condenser", True, None),
    ],
)
def test_what_stands_before_a_zone_is_no_mistyped_word(behind: str, stated: bool, words: str | None) -> None:
    air = {"kind": "ram", "share": "10 %", "behind": behind} | ({"preheat": "12 K"} if stated else {})
    zones = {"nose": {**BOX, "takes": ["exchanger"], "air": air}, "far-side": {**BOX, "takes": ["pump"]}}
    if words is None:
        assert _bay(zones=zones)
    else:
        with pytest.raises(ValidationError, match=words):
            _bay(zones=zones)


def test_driving_lasts_at_least_one_round() -> None:
    assert Driving.model_validate(
        {"stretches": [STRETCH, STRETCH], "total": "2 min"}
    ).total_s == pytest.approx(120)
    with pytest.raises(
        ValidationError, match=r"total 119 s is shorter than one round of the stretches \(120 s\)"
    ):
        Driving.model_validate({"stretches": [STRETCH, STRETCH], "total": "119 s"})


@pytest.mark.parametrize(("start", "value"), [("5 degC", 278.15), ("soaked", "soaked"), (None, None)])
def test_how_the_loop_starts(start: str | None, value: object) -> None:
    wish = CoolantWish.model_validate({} if start is None else {"start": start})
    assert wish.start_k == (pytest.approx(value) if isinstance(value, float) else value)


CHARGER: dict[str, Any] = {
    "id": "t",
    "name": "T",
    "holds_boost_at": "throttle",
    "turbine": True,
    "efficiency": "70 %",
    "efficiency_band": "5 %",
    "consumption": {"petrol": "330 g/kWh"},
    "consumption_band": "5 %",
    "standing": "estimate",
    "source": "x",
}


@pytest.mark.parametrize(
    ("table", "good"),
    [
        ([(0, 0), (50, 50), (100, 100)], True),
        ([(0, 20), (50, 20), (100, 100)], True),
        ([(0, 0), (50, 50), (50, 60), (100, 100)], False),
        ([(0, 30), (50, 20), (100, 100)], False),
        ([(10, 0), (100, 100)], False),
        ([(0, 0), (90, 100)], False),
        ([(0, 0), (100, 90)], False),
    ],
)
def test_boost_at_part_load_rises_from_nothing_to_all(table: list[tuple[int, int]], good: bool) -> None:
    data = {
        **CHARGER,
        "part_load": [{"share": f"{share} %", "boost": f"{boost} %"} for share, boost in table],
    }
    if good:
        assert len(Charger.model_validate(data).part_load) == len(table)
    else:
        with pytest.raises(ValidationError, match="the part-load table"):
            Charger.model_validate(data)


def test_an_engine_breathes_clean_through_one_outlet_unless_it_says_so() -> None:
    engine = {"power": "230 kW", "fuel": "petrol", "charger": "turbo", "boost": "1.4 bar"}
    plain = Engine.model_validate(engine)
    assert (plain.oily, plain.charger_outlets) == (False, 1)
    assert Engine.model_validate({**engine, "oily": True}).oily
    with pytest.raises(ValidationError, match="less than or equal to 2"):
        Engine.model_validate({**engine, "charger_outlets": 3})
