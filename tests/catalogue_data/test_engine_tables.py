"""The tables of fuels, chargers and driving, held against common figures of the trade.

Standing of every figure in this file, unless a line says otherwise: common practice, no published source;
from memory of engine handbooks and compressor maps.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from configurator.brief.driving import Driving
from configurator.brief.tables import Charger, CoolantKind, Fuel

CATALOGUE = Path(__file__).parents[2] / "catalogue"


def rows(name: str) -> list[dict[str, Any]]:
    found = yaml.safe_load((CATALOGUE / f"{name}.yaml").read_text(encoding="utf-8"))[name]
    assert isinstance(found, list)
    return found


FUELS = {row["id"]: Fuel.model_validate(row) for row in rows("fuels")}
CHARGERS = {row["id"]: Charger.model_validate(row) for row in rows("chargers")}
DRIVING = {row["id"]: Driving.model_validate(row) for row in rows("driving")}
COOLANTS = {row["id"]: CoolantKind.model_validate(row) for row in rows("coolants")}


@pytest.mark.parametrize(
    ("charger", "fuel", "air_kg_per_s"),
    [
        ("turbo", "petrol", 0.098),
        ("centrifugal", "petrol", 0.105),
        ("high-helix roots", "petrol", 0.108),
        ("roots", "petrol", 0.108),
        ("twin-screw", "petrol", 0.107),
        ("turbo", "diesel", 0.131),
    ],
)
def test_air_per_100_kw_is_the_usual_figure(charger: str, fuel: str, air_kg_per_s: float) -> None:
    """Air for 100 kW at the crank, to half a unit of the last digit. Common practice."""
    consumption_g_per_kwh = float(CHARGERS[charger].consumption[fuel]) * 3.6e9
    recomputed = 100 * consumption_g_per_kwh / 1000 / 3600 * FUELS[fuel].air_fuel_ratio
    assert recomputed == pytest.approx(air_kg_per_s, abs=0.0005)


def test_e85_ratio_is_its_stoichiometry_at_a_rich_mixture() -> None:
    """C2H5OH + 3 O2: 9.005 of air to one of ethanol (molar masses 46.069 and 31.998, 23.14 % oxygen in air).

    E85 by volume is 85.7 % ethanol by mass (densities 0.789 and 0.745), the rest petrol at 14.6; a lambda of
    0.80 under boost is common practice. Molar masses published, the ratio recomputed.
    """
    ethanol = 3 * 31.998 / 46.069 / 0.2314
    by_mass = 0.85 * 0.789 / (0.85 * 0.789 + 0.15 * 0.745)
    stoichiometric = by_mass * ethanol + (1 - by_mass) * 14.6
    assert ethanol == pytest.approx(9.005, abs=0.005)
    assert FUELS["e85"].air_fuel_ratio == pytest.approx(0.80 * stoichiometric, rel=0.005)


@pytest.mark.parametrize(
    ("fuel", "least", "most"),
    [("petrol", 11.5, 12.8), ("e85", 7.8, 8.8), ("methanol", 5.0, 5.8), ("diesel", 18, 26)],
)
def test_mixture_at_full_load_is_in_its_usual_range(fuel: str, least: float, most: float) -> None:
    """Air to fuel by mass at full boosted load: usual ranges, common practice."""
    assert least <= FUELS[fuel].air_fuel_ratio <= most


@pytest.mark.parametrize(
    ("charger", "least", "most"),
    [
        ("turbo", 0.70, 0.74),
        ("centrifugal", 0.60, 0.78),
        ("roots", 0.40, 0.55),
        ("high-helix roots", 0.50, 0.70),
        ("twin-screw", 0.60, 0.72),
    ],
)
def test_efficiency_and_its_band_stay_in_the_usual_range(charger: str, least: float, most: float) -> None:
    """Isentropic efficiency at useful load: usual ranges of each kind, common practice."""
    row = CHARGERS[charger]
    assert least <= row.efficiency <= most
    assert row.efficiency + row.efficiency_band < 0.80
    assert row.efficiency - row.efficiency_band > 0.40


def test_consumption_stays_in_the_usual_range_of_each_fuel() -> None:
    """Brake specific, at full load [g/kWh]; usual ranges, common practice."""
    ranges = {"petrol": (270, 370), "e85": (400, 470), "methanol": (600, 750), "diesel": (205, 240)}
    for charger in CHARGERS.values():
        assert set(charger.consumption) <= set(FUELS)
        for fuel, figure in charger.consumption.items():
            least, most = ranges[fuel]
            assert least <= float(figure) * 3.6e9 <= most, (charger.id, fuel)


def test_belts_cost_fuel_and_hold_their_boost_at_the_outlet() -> None:
    """Only a wastegate holds boost at the throttle; a belt-driven charger takes its drive off the crank."""
    for name in ("centrifugal", "roots", "high-helix roots", "twin-screw"):
        assert CHARGERS[name].holds_boost_at == "outlet"
        assert CHARGERS[name].consumption["petrol"] > CHARGERS["turbo"].consumption["petrol"]
    assert CHARGERS["turbo"].holds_boost_at == "throttle"
    assert {name for name, charger in CHARGERS.items() if charger.turbine} == {"turbo", "compound"}


@pytest.mark.parametrize("charger", sorted(CHARGERS))
def test_light_throttle_makes_almost_no_boost(charger: str) -> None:
    """At a tenth of full power no charger holds more than a tenth of its boost."""
    table = CHARGERS[charger].part_load
    before = max(row.share for row in table if row.share <= 0.10)
    after = min(row.share for row in table if row.share >= 0.10)
    boost = {float(row.share): float(row.boost) for row in table}
    span = float(after - before) or 1.0
    at_a_tenth = boost[before] + (boost[after] - boost[before]) * (0.10 - before) / span
    assert at_a_tenth <= 0.10


def on_share(driving: Driving, least: float) -> float:
    """Part of the pattern's time that is spent at or above a share of full power."""
    once = sum(float(stretch.lasts_s) for stretch in driving.stretches)
    return sum(float(s.lasts_s) for s in driving.stretches if s.share >= least) / once


@pytest.mark.parametrize(
    ("name", "total_s", "full_power"),
    [
        ("hill-climb", 90, 0.65),
        ("fast-road", 1200, 8 / 33),
        ("road", 600, 8 / 33),
        ("commuter", 1200, 6 / 60),
        ("track", 1200, 8 / 13),
        ("drag", 13, 9 / 13),
        ("dyno", 576, 12 / 192),
        ("runway", 32, 1.0),
    ],
)
def test_patterns_pull_as_long_as_the_trade_sizes_by(name: str, total_s: float, full_power: float) -> None:
    """Duty patterns by which kits are sized: hill climb 60 to 120 s, two thirds on; road 8 s on, 25 s off;
    track 8 s on, 5 s off for 20 min; a 12 s pull every 3 min on the dynamometer. Common practice, no source.
    """
    assert float(DRIVING[name].total_s) == pytest.approx(total_s)
    assert on_share(DRIVING[name], 1.0) == pytest.approx(full_power, abs=0.01)


@pytest.mark.parametrize(
    ("name", "minutes", "mean_share"),
    [("towing", 15, 0.45), ("heavy-towing", 20, 0.75), ("alpine", 12, 0.50), ("drift", 1.25, 0.80)],
)
def test_long_pulls_have_the_usual_mean_load(name: str, minutes: float, mean_share: float) -> None:
    """Towing 15 to 30 min at 40 to 80 %, alpine 12 min at 50 %, drift 60 to 90 s at 80 %. Common practice."""
    driving = DRIVING[name]
    once = sum(float(stretch.lasts_s) for stretch in driving.stretches)
    mean = sum(float(stretch.lasts_s) * stretch.share for stretch in driving.stretches) / once
    assert float(driving.total_s) == pytest.approx(minutes * 60)
    assert mean == pytest.approx(mean_share, abs=0.005)


def test_a_hill_climb_runs_at_60_to_110_km_per_h_and_rests_before_a_fan() -> None:
    """Common practice, no source."""
    climb = DRIVING["hill-climb"]
    speeds = [float(stretch.speed_m_per_s) * 3.6 for stretch in climb.stretches]
    assert min(speeds) >= 60 - 1e-9
    assert max(speeds) <= 110 + 1e-9
    assert climb.rest is not None
    assert climb.rest.face_speed_m_per_s == pytest.approx(2.0)


def test_coolants_are_the_three_a_brief_can_ask_for() -> None:
    """The kinds that a brief's `coolant` knows; antifreeze costs more than water with inhibitor."""
    assert sorted(COOLANTS) == ["ethylene glycol", "propylene glycol", "water"]
    assert all(row.note for row in COOLANTS.values())
    assert COOLANTS["water"].price_per_litre < min(
        COOLANTS["ethylene glycol"].price_per_litre, COOLANTS["propylene glycol"].price_per_litre
    )
