"""What a brief asks, in numbers: air flow, the drive cut to its total, boost at part load, coolant, start."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from pydantic import ValidationError

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.foundations.coolants import freezing_point_k
from configurator.prediction.conditions import (
    IDLE_SHARE,
    Conditions,
    air_flow_by_displacement_kg_per_s,
    choose_coolant,
    make_conditions,
    pieces_of,
    rest_of,
)
from tests.prediction.made_kits import HALF_GLYCOL, shelf

CLIMB = {"stretches": [{"lasts": "90 s", "share": "100 %", "speed": "80 km/h"}], "total": "90 s"}


def brief(*, engine: dict[str, Any] | None = None, **changes: Any) -> Brief:
    written = {
        "brief": "made",
        "engine": {"power": "250 kW", "fuel": "petrol", "charger": "turbo", "boost": "1.2 bar", **(engine or {})},
        "site": {"air": "20 degC"},
        "driving": CLIMB,
        "aim": {"charge_air": "60 degC"},
        "bay": "unmeasured",
    }
    return Brief.model_validate({**written, **changes})


def driving(*stretches: dict[str, Any], total: str, **more: Any) -> Driving:
    return Driving.model_validate({"stretches": list(stretches), "total": total, **more})


def made(asked: Brief, drive: Driving | None = None, *, worse: bool = False) -> Conditions:
    coolant = choose_coolant(asked)
    assert coolant is not None
    how = Driving.model_validate(CLIMB) if drive is None else drive
    return make_conditions(asked, how, shelf()[1], coolant, common_error=worse)


def test_air_flow_follows_from_power() -> None:
    """250 kW at 300 g/kWh and 11.8 to 1 is 0.24583 kg/s: power x consumption x air-fuel ratio, by hand.

    Petrol takes 0.095 to 0.105 kg/s per 100 kW; common practice, no source.
    """
    found = made(brief()).air_kg_per_s
    assert found == pytest.approx(250e3 * (0.300 / 3.6e6) * 11.8, rel=1e-9)
    assert 0.095 <= found / 2.5 <= 0.105


def test_air_flow_by_displacement_needs_swept_volume_and_revs() -> None:
    """2.0 L at 6500 rpm and 0.95 in air of 50 degC at 1.2 bar over sea level; the gas law by hand."""
    assert air_flow_by_displacement_kg_per_s(brief()) is None
    found = air_flow_by_displacement_kg_per_s(brief(engine={"displacement": "2.0 L", "rev_limit": "6500 rpm"}))
    density = (101325 + 120000) / (287.05287 * 323.15)
    assert found == pytest.approx(0.95 * 2e-3 * 6500 / 60 / 2 * density, rel=1e-6)


def test_the_common_error_is_a_worse_and_thirstier_charger() -> None:
    charger = shelf()[1].chargers["turbo"]
    plain, worse = made(brief()), made(brief(), worse=True)
    assert worse.charger_efficiency == pytest.approx(plain.charger_efficiency - float(charger.efficiency_band))
    assert worse.air_kg_per_s == pytest.approx(plain.air_kg_per_s * (1 + float(charger.consumption_band)))


def test_what_the_brief_states_of_the_charger_comes_before_the_table() -> None:
    stated = made(brief(engine={"charger_efficiency": "65 %", "inlet_rise": "12 K", "inlet_loss": "1 kPa"}))
    assert stated.charger_efficiency == pytest.approx(0.65)
    assert stated.inlet_k == pytest.approx(293.15 + 12.0)
    assert stated.inlet_loss_pa == pytest.approx(1000.0)


def test_no_moment_flows_less_than_idle() -> None:
    drive = driving(
        {"lasts": "10 s", "share": "0 %", "speed": "0 km/h"},
        {"lasts": "10 s", "share": "50 %", "speed": "40 km/h"},
        total="20 s",
    )
    found = made(brief(), drive)
    assert [piece.moment.share for piece in found.pieces] == [IDLE_SHARE, 0.5]
    assert IDLE_SHARE == 0.02
    assert rest_of(drive).share == IDLE_SHARE


def test_the_pattern_is_repeated_and_the_last_round_cut_at_the_total() -> None:
    drive = driving(
        {"lasts": "8 s", "share": "100 %", "speed": "100 km/h"},
        {"lasts": "25 s", "share": "10 %", "speed": "60 km/h"},
        total="75 s",
    )
    pieces = pieces_of(drive)
    assert [piece.seconds for piece in pieces] == pytest.approx([8, 25, 8, 25, 8, 1])
    assert sum(piece.seconds for piece in pieces) == pytest.approx(75.0)
    assert [piece.moment.share for piece in pieces] == [1.0, 0.1, 1.0, 0.1, 1.0, 0.1]


@pytest.mark.parametrize("total", ["30 s", "90.1 s", "1 h"])
def test_the_pieces_of_any_total_add_up_to_it(total: str) -> None:
    drive = driving(
        {"lasts": "0.1 s", "share": "100 %", "speed": "10 km/h"},
        {"lasts": "29.9 s", "share": "10 %", "speed": "10 km/h"},
        total=total,
    )
    assert sum(piece.seconds for piece in pieces_of(drive)) == pytest.approx(float(drive.total_s), abs=1e-6)


def test_boost_follows_the_part_load_table() -> None:
    """Straight lines between the points of the table; nothing below its first, all of it at full power."""
    table = shelf()[1].chargers["turbo"].part_load
    found = made(brief())
    for row in table:
        assert found.boost_at(float(row.share)) == pytest.approx(float(row.boost) * 1.2e5)
    low, high = table[2], table[3]
    half = (float(low.share) + float(high.share)) / 2
    assert found.boost_at(half) == pytest.approx((float(low.boost) + float(high.boost)) / 2 * 1.2e5)


def test_the_hardest_moment_is_full_power_at_the_lowest_speed() -> None:
    drive = driving(
        {"lasts": "10 s", "share": "100 %", "speed": "150 km/h"},
        {"lasts": "10 s", "share": "100 %", "speed": "60 km/h"},
        {"lasts": "10 s", "share": "40 %", "speed": "10 km/h"},
        total="30 s",
    )
    found = made(brief(), drive)
    assert found.hardest.share == 1.0
    assert found.hardest.speed_m_per_s == pytest.approx(60 / 3.6)
    assert found.hardest_at_full_power in found.moments


def test_the_rest_is_idle_before_the_fan_that_is_named() -> None:
    still = driving(*CLIMB["stretches"], total="90 s")  # type: ignore[misc]
    assert (rest_of(still).speed_m_per_s, rest_of(still).face_speed_m_per_s) == (0.0, None)
    fanned = driving(*CLIMB["stretches"], total="90 s", rest={"speed": "36 km/h", "face_speed": "2 m/s"})  # type: ignore[misc]
    assert rest_of(fanned).speed_m_per_s == pytest.approx(10.0)
    assert rest_of(fanned).face_speed_m_per_s == pytest.approx(2.0)


# Coolant


def test_water_where_it_never_freezes_else_the_least_glycol_that_stays_liquid() -> None:
    """Ethylene glycol at 30 % by volume freezes at -15.7 degC, at 50 % at -37.1; ASHRAE tables through CoolProp."""
    mild = choose_coolant(brief())
    assert mild is not None
    assert (mild.kind, mild.glycol_by_volume) == ("water", 0.0)
    for coldest, least, most in ((-5, 0.15, 0.25), (-12, 0.30, 0.35), (-30, 0.45, 0.50)):
        found = choose_coolant(brief(site={"air": "20 degC", "coldest": f"{coldest} degC"}))
        assert found is not None
        assert found.kind == "ethylene glycol"
        assert least <= found.glycol_by_volume <= most
        assert freezing_point_k(found) <= 273.15 + coldest - 3.0
        leaner = replace(found, glycol_by_volume=found.glycol_by_volume - 0.05)
        assert freezing_point_k(leaner) > 273.15 + coldest - 3.0


def test_no_coolant_where_none_that_is_welcome_survives_the_night() -> None:
    cold = {"air": "20 degC", "coldest": "-20 degC"}
    assert choose_coolant(brief(site=cold, coolant={"kinds": ["water"]})) is None
    bitter = {"air": "20 degC", "coldest": "-59 degC"}
    assert choose_coolant(brief(site=bitter)) is None


def test_a_day_colder_than_the_night_that_is_told_is_what_the_coolant_survives() -> None:
    """Water freezes at 0 degC and ethylene glycol at 20 % by volume at -9 degC (ASHRAE tables through CoolProp)."""
    for site in ({"air": "-20 degC"}, {"air": "-20 degC", "coldest": "-5 degC"}):
        found = choose_coolant(brief(site=site))
        assert found == choose_coolant(brief(site={"air": "-20 degC", "coldest": "-20 degC"}))
        assert found is not None and freezing_point_k(found) <= 273.15 - 23.0
        assert choose_coolant(brief(site=site, coolant={"kinds": ["water"]})) is None
        assert choose_coolant(brief(site=site, coolant={"glycol_by_volume": "20 %"})) is None


def test_coolant_that_starts_below_its_freezing_point_is_none() -> None:
    """Chilled water may be as cold as it freezes, 0 degC, for its start is known; at -10 degC it is ice."""
    for start, water in (("0 degC", True), ("2 degC", True), ("-1 degC", False), ("-10 degC", False)):
        found = choose_coolant(brief(coolant={"start": start, "kinds": ["water"]}))
        assert (found is not None) is water, start
    found = choose_coolant(brief(coolant={"start": "-10 degC"}))
    assert found is not None and freezing_point_k(found) <= 263.15


def test_ice_water_is_let_off_after_a_day_that_is_just_above_frost() -> None:
    iced = {"ice": {"kind": "cubes", "mass": "10 kg"}, "coolant": {"kinds": ["water"]}}
    assert choose_coolant(brief(site={"air": "1 degC"}, **iced)) is not None
    assert choose_coolant(brief(site={"air": "-1 degC"}, **iced)) is None
    assert choose_coolant(brief(site={"air": "1 degC", "coldest": "-5 degC"}, **iced)) is None


def test_a_settled_share_is_kept() -> None:
    """Who has half glycol in the car has half glycol, on a mild night too."""
    for site in ({"air": "20 degC"}, {"air": "20 degC", "coldest": "-20 degC"}):
        assert choose_coolant(brief(site=site, coolant={"glycol_by_volume": "50 %"})) == HALF_GLYCOL


def test_a_settled_share_that_freezes_is_no_coolant() -> None:
    """20 % by volume freezes at about -9 degC (ASHRAE tables): not for a night of -20 degC."""
    site = {"air": "20 degC", "coldest": "-20 degC"}
    assert choose_coolant(brief(site=site, coolant={"glycol_by_volume": "20 %"})) is None


def test_a_settled_share_of_none_is_plain_water_where_that_survives() -> None:
    """Also where a glycol is liked better; on a night of frost it is no coolant, for the share stands as it is."""
    none = {"glycol_by_volume": "0 %"}
    for kinds in (["water"], ["ethylene glycol", "water"], ["water", "propylene glycol"]):
        found = choose_coolant(brief(coolant={**none, "kinds": kinds}))
        assert found is not None
        assert (found.kind, found.glycol_by_volume) == ("water", 0.0)
    assert choose_coolant(brief(site={"air": "20 degC", "coldest": "-20 degC"}, coolant=none)) is None


# Start


@pytest.mark.parametrize(("start", "wanted"), [(None, 293.15), ("5 degC", 278.15), ("soaked", 323.15)])
def test_the_loop_starts_as_the_brief_says(start: str | None, wanted: float) -> None:
    """Soaked: 30 K above the air, as under a bonnet after a stop; common practice, no source."""
    coolant = {} if start is None else {"start": start}
    assert made(brief(coolant=coolant)).start_k == pytest.approx(wanted)


def test_an_aim_above_the_air_moves_with_the_air() -> None:
    assert made(brief(aim={"above_air": "35 K"})).ceiling_k == pytest.approx(293.15 + 35.0)
    assert made(brief(aim={"charge_air": "60 degC"})).ceiling_k == pytest.approx(333.15)


def test_the_air_is_thinner_on_the_mountain() -> None:
    """ISO 2533: 101325 Pa at sea level, 79495.2 Pa at 2000 m; from memory, recomputed."""
    assert made(brief()).ambient_pa == pytest.approx(101325.0)
    high = made(brief(site={"air": "20 degC", "altitude": "2000 m"}))
    assert high.ambient_pa == pytest.approx(79495.2, rel=1e-5)


def test_a_share_of_glycol_that_no_mixture_has_is_refused() -> None:
    with pytest.raises(ValidationError, match="beyond 60%"):
        brief(coolant={"glycol_by_volume": "70 %"})
    with pytest.raises(ValidationError, match="among the kinds"):
        brief(coolant={"kinds": ["water"], "glycol_by_volume": "30 %"})
    with pytest.raises(ValidationError, match="0 % of glycol is plain water"):
        brief(coolant={"kinds": ["ethylene glycol"], "glycol_by_volume": "0 %"})
