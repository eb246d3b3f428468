"""Design pressures, the lowest member, caps."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.joining.ratings import (
    boost_under_design_pa_gauge,
    charge_design_pa_gauge,
    coolant_design_by_place,
    coolant_design_pa_gauge,
    lowest_member,
    member_of_part,
    pressure_rules,
)
from configurator.joining.small_joints import cap_rules
from configurator.joining.words import bars_apart
from configurator.parts.kinds import Cap, Reservoir
from configurator.parts.kit import Member


@pytest.mark.parametrize(
    ("holds", "sees", "told"),
    [
        (1.1, 1.21, ("1.10 bar", "1.21 bar")),
        (1, 1.004, ("1.000 bar", "1.004 bar")),
        (12, 12.04, ("12.000 bar", "12.040 bar")),
    ],
)
def test_a_rating_and_what_it_misses_are_told_apart(holds: float, sees: float, told: tuple[str, str]) -> None:
    assert bars_apart(holds * 1e5, sees * 1e5) == told
    (verdict,) = pressure_rules([member("p", "core", holds)], {"core": sees * 1e5})
    assert f"holds {told[0]}, may see {told[1]}" in verdict.text


def member(part: str, place: str, bar: float | None, hottest_k: float | None = 400.0) -> Member:
    """A member rated in bar."""
    return Member(part, place, None if bar is None else bar * 1e5, "working" if bar else "unknown", hottest_k)


OUT: dict[str, Any] = {
    "name": "out",
    "form": "spigot",
    "size": "19 mm",
    "barb": True,
    "face": "+x",
    "at": {"y": "10 mm", "z": "10 mm"},
}
IN: dict[str, Any] = {**OUT, "name": "in", "face": "-x"}


def reservoir(**more: Any) -> Reservoir:
    """A reservoir of 3 L and 1.5 bar with a 45 mm neck."""
    coolant = {
        "working": "1.5 bar",
        "volume": "3 L",
        "ends": [
            OUT,
            IN,
            {
                "name": "cap",
                "form": "neck",
                "size": "45 mm",
                "sex": "male",
                "face": "+z",
                "at": {"x": "50 mm", "y": "50 mm"},
            },
            {
                "name": "bleed",
                "form": "npt",
                "size": "1/8",
                "sex": "female",
                "face": "+x",
                "at": {"y": "10 mm", "z": "90 mm"},
            },
        ],
        **more.pop("coolant", {}),
    }
    coolant = {key: value for key, value in coolant.items() if value is not None}
    record = {
        "id": "tank",
        "name": "tank",
        "price": 80,
        "air_space": "12 %",
        "coolant": coolant,
        "size": {"x": "100 mm", "y": "100 mm", "z": "200 mm"},
        **more,
    }
    return Reservoir.model_validate(record)


def cap(opens: float, mouth: float = 45) -> Cap:
    """A cap that opens at a pressure in bar."""
    ends = [{"name": "cap", "form": "neck", "size": f"{mouth} mm", "sex": "female"}]
    return Cap.model_validate(
        {
            "id": "cap",
            "name": "cap",
            "price": 9,
            "opens": f"{opens} bar",
            "coolant": {"working": "3 bar", "ends": ends},
        }
    )


@pytest.mark.parametrize(("boost_bar", "design_bar"), [(0.4, 0.7), (1.2, 1.5), (1.4, 1.75), (2.0, 2.5)])
def test_charge_design_pressure(boost_bar: float, design_bar: float) -> None:
    """A quarter above boost and at least 0.3 bar: common practice, no source."""
    assert charge_design_pa_gauge(boost_bar * 1e5) == pytest.approx(design_bar * 1e5)
    assert boost_under_design_pa_gauge(design_bar * 1e5) == pytest.approx(boost_bar * 1e5)


@pytest.mark.parametrize(("cap_bar", "after_bar", "before_bar"), [(1.1, 1.95, 1.25), (0.5, 1.29, 0.59)])
def test_coolant_design_pressure_of_the_worked_case(cap_bar: float, after_bar: float, before_bar: float) -> None:
    """Cap with a dead head of 0.7 bar and 0.4 m of liquid: 1.1 × 1.1 + 0.7 + 0.04 = 1.95 bar. Common practice."""
    case = (cap_bar * 1e5, 0.7e5, 0.4)
    assert coolant_design_pa_gauge(*case, after_pump=True) == pytest.approx(after_bar * 1e5)
    assert coolant_design_pa_gauge(*case, after_pump=False) == pytest.approx(before_bar * 1e5)


@pytest.mark.parametrize(("cap_bar", "margin"), [(1.1, 2.06 / 1.95), (0.5, 2.06 / 1.29)])
def test_lowest_member_of_the_worked_case(cap_bar: float, margin: float) -> None:
    """Hose 3.0 bar, coupling 2.06 bar, plastic tank 1.5 bar before the pump: the coupling limits."""
    design = coolant_design_by_place(["reservoir", "pump", "core"], cap_bar * 1e5, 0.7e5, 0.4)
    members = [
        member("hose", "pump to core", 3.0),
        member("coupling", "pump to core", 2.06),
        member("tank", "reservoir", 1.5),
    ]
    limit = lowest_member(members, design)
    assert (limit.part, limit.place, limit.rating_pa_gauge) == ("coupling", "pump to core", pytest.approx(2.06e5))
    assert limit.margin == pytest.approx(margin)
    assert limit.proven
    assert {verdict.state for verdict in pressure_rules(members, design)} == {"kept"}


def test_dead_head_is_seen_from_the_pump_to_the_run_back_and_not_before_it() -> None:
    design = coolant_design_by_place(["reservoir", "pump", "core", "exchanger"], 0.0, 1e5, 0.9)
    pumped = {place for place, pressure in design.items() if pressure >= 1e5}
    assert pumped == {"pump", "pump to core", "core", "core to exchanger", "exchanger", "exchanger to reservoir"}
    assert design["reservoir to pump"] == pytest.approx(0.09e5)
    assert design["reservoir"] == pytest.approx(0.09e5)
    assert design["core"] == design["exchanger to reservoir"] == pytest.approx(1.09e5)
    assert design["cap"] == 0.0


def test_an_unknown_rating_is_unproven_and_never_better_than_a_proven_twin() -> None:
    design = {"core": 2e5}
    for bar in (1.0, 2.0, 5.0):
        twin = lowest_member([member("core", "core", bar)], design)
        unknown = lowest_member([member("core", "core", None)], design)
        with_other = lowest_member([member("core", "core", None), member("hose", "core", bar)], design)
        assert twin.proven and not unknown.proven and not with_other.proven
        assert unknown.margin is None and with_other.margin == twin.margin
        assert with_other.unproven == ("core",)
    (verdict,) = pressure_rules([member("core", "core", None)], design)
    assert verdict.state == "not checked"


def test_a_rating_below_its_place_is_broken_at_the_edge_kept() -> None:
    design = {"core": 2e5}
    states = [verdict.state for bar in (1.99, 2.0) for verdict in pressure_rules([member("c", "core", bar)], design)]
    assert states == ["broken", "kept"]
    (verdict,) = pressure_rules([member("c", "core", 1.5)], design)
    assert (verdict.rule, verdict.found, verdict.limit, verdict.unit) == ("rating-below-pressure", 1.5e5, 2e5, "Pa")
    assert "1.50 bar" in verdict.text and "2.00 bar" in verdict.text


def test_a_member_without_a_design_pressure_for_its_place_is_not_passed_over() -> None:
    with pytest.raises(KeyError):
        lowest_member([member("core", "nowhere", 2.0)], {"core": 2e5})


@pytest.mark.parametrize(
    ("stated", "working_bar"),
    [
        ({"working": "1.5 bar"}, 1.5),
        ({"working": None, "proof": "3 bar"}, 2.0),
        ({"working": None, "burst": "6 bar"}, 1.5),
        ({"working": "unknown"}, None),
    ],
)
def test_member_of_a_part(stated: dict[str, Any], working_bar: float | None) -> None:
    """Proof 1.5 times, burst 4 times what it may work at: common practice, no source."""
    found = member_of_part("reservoir", reservoir(coolant=stated), "coolant")
    assert found is not None
    assert found.working_pa_gauge == (None if working_bar is None else pytest.approx(working_bar * 1e5))
    assert (found.part, found.place) == ("tank", "reservoir")
    assert member_of_part("reservoir", reservoir(), "charge") is None


def broken(tank: Reservoir, lid: Cap | None) -> set[str]:
    """The broken rules between a reservoir and its cap."""
    return {verdict.rule for verdict in cap_rules(tank, lid) if verdict.state == "broken"}


def test_caps_and_reservoirs() -> None:
    """No sealed loop without relief, no open neck; a vented tank holds no pressure: common practice, no source."""
    vented, without_neck = reservoir(vented=True), {"ends": [OUT, IN], "volume": "3 L"}
    assert broken(reservoir(), cap(1.1)) == set()
    assert broken(reservoir(), cap(1.5)) == set()
    assert broken(reservoir(), cap(1.6)) == {"cap-above-rating"}
    assert broken(reservoir(), cap(1.1, mouth=32)) == {"ends-do-not-meet"}
    assert broken(reservoir(), cap(0)) == set()
    assert broken(reservoir(), None) == {"open-neck"}
    assert broken(reservoir(coolant=without_neck), None) == {"sealed-without-cap"}
    assert broken(reservoir(air_space="0 %"), cap(1.1)) == {"no-air-space"}
    assert broken(reservoir(air_space="0 %", vented=True), cap(0)) == set()
    assert broken(vented, None) == {"open-neck"}
    assert broken(reservoir(vented=True, coolant=without_neck), None) == set()
    assert broken(vented, cap(0)) == set()
    assert broken(vented, cap(0.3)) == {"vented-under-pressure-cap"}


def test_a_cap_for_a_reservoir_without_a_neck_says_what_is_not_there() -> None:
    verdicts = cap_rules(reservoir(coolant={"ends": [OUT, IN], "volume": "3 L"}), cap(1.1))
    (verdict,) = [verdict for verdict in verdicts if verdict.state == "broken"]
    assert (verdict.rule, verdict.found) == ("ends-do-not-meet", "no filler neck")


def test_a_cap_on_a_reservoir_of_unknown_rating_is_not_checked() -> None:
    states = {v.rule: v.state for v in cap_rules(reservoir(coolant={"working": "unknown"}), cap(1.1))}
    assert states["cap-above-rating"] == "not checked"
