"""The commuter that soaks with heat at every stop: what fan, after-run and core do at the restart and in a pull.

The laws are frozen, not the figures: a lumped loop with the trade's soak (common practice, no source).
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.journeys.checks import flowing
from tests.journeys.kitwright import (
    Tree,
    all_kits,
    command,
    example,
    shipped,
    shipped_part,
    small_shelf,
    suggest,
    written,
)

OWN_CORE, LARGER_CORE = "core-160-short", "core-230-short"
FAN, TIMER = "fan-190", "timer-5"


def shelf(**more: Any) -> Tree:
    """The car's own parts, one larger core, and one fan and one timer."""
    return small_shelf(
        cores=[shipped_part(OWN_CORE), shipped_part(LARGER_CORE)],
        exchangers=[shipped_part("exchanger-250-square")],
        pumps=[shipped_part("pump-40-small")],
        reservoirs=[shipped_part("reservoir-0.7-bottle")],
        fans=[part for part in shipped("fans") if part["id"] == FAN],
        timers=[part for part in shipped("timers") if part["id"] == TIMER],
        **more,
    )


@cache
def asked() -> dict[tuple[str, ...], Tree]:
    """Every kit by its core, fan and timer, with the price and the aim out of the way."""
    brief = example("commuter", limits=None, aim__charge_air="100 degC")
    found: dict[tuple[str, ...], Tree] = {}
    for kit in all_kits(brief, shelf=shelf()):
        held = (kit["parts"]["core"][0], *kit["parts"].get("fan", ()), *kit["parts"].get("timer", ()))
        found.setdefault(held, kit)
    return found


def restart(*parts: str) -> float:
    """The charge on the restart [degC]."""
    return float(asked()[parts]["thermal"]["standstill"]["charge_out_restart_c"])


def worst(*parts: str) -> float:
    """The charge at the worst of the drive [degC]."""
    return float(asked()[parts]["thermal"]["charge_out_worst_c"])


def test_fan_and_after_run_gain_most_on_the_restart_and_a_larger_core_nothing() -> None:
    bare = restart(OWN_CORE)
    both = bare - restart(OWN_CORE, FAN, TIMER)
    fan, timer = bare - restart(OWN_CORE, FAN), bare - restart(OWN_CORE, TIMER)
    core = bare - restart(LARGER_CORE)
    assert both == max(both, fan, timer, core)
    assert both > 8.0
    assert -3.0 < core < 0.0, "a larger core lets more heat into the same coolant: about 1 K warmer"
    assert both > fan + 2.0 and both > timer + 2.0
    assert abs(timer) < 1.0, "without a fan the pump moves warm coolant round and no more"


def test_in_a_pull_the_larger_core_gains_more_than_the_fan_and_the_after_run_nothing() -> None:
    bare = worst(OWN_CORE)
    core, fan = bare - worst(LARGER_CORE), bare - worst(OWN_CORE, FAN)
    assert core > fan > 1.0
    assert core > 6.0
    assert worst(OWN_CORE, TIMER) == pytest.approx(bare, abs=0.01)


def test_the_fan_gains_less_in_a_pull_where_more_air_meets_the_fins_anyway() -> None:
    """At 36 km/h a grille lets 1.5 m/s through the fins, at the pattern's own 15 km/h 0.6 m/s."""
    slow, fast = {}, {}
    for found, km_per_h in ((slow, 15), (fast, 36)):
        stretches = [
            {"lasts": "6 s", "share": "100 %", "speed": "45 km/h"},
            {"lasts": "54 s", "share": "5 %", "speed": f"{km_per_h} km/h"},
        ]
        kits = all_kits(
            example(
                "commuter", limits=None, aim__charge_air="100 degC", driving={"stretches": stretches, "total": "20 min"}
            ),
            shelf=shelf(),
        )
        for kit in kits:
            held = (kit["parts"]["core"][0], *kit["parts"].get("fan", ()), *kit["parts"].get("timer", ()))
            found[held] = kit["thermal"]["charge_out_worst_c"]
    gains = [found[(OWN_CORE,)] - found[(OWN_CORE, FAN)] for found in (slow, fast)]
    assert gains[0] > gains[1] + 1.0 > 1.0
    assert fast[(OWN_CORE,)] - fast[(LARGER_CORE,)] > 2.0 * gains[1]


def test_a_larger_core_does_gain_where_full_power_follows_the_restart_at_once() -> None:
    stood = {core: asked()[(core,)]["thermal"]["standstill"] for core in (OWN_CORE, LARGER_CORE)}
    pulls = {core: told["charge_out_pull_away_c"] for core, told in stood.items()}
    assert pulls[LARGER_CORE] < pulls[OWN_CORE] - 2.0


def test_both_temperatures_are_shown_and_the_margin_is_that_of_the_restart() -> None:
    run = suggest("commuter")
    assert run.code == 0
    assert "on restart; worst" in run.out and "charge on restart" in run.out and "charge out, worst" in run.out
    for kit in suggest("commuter", "--json").kits:
        stood = kit["thermal"]["standstill"]
        assert kit["thermal"]["margin_k"] == pytest.approx(50.0 - stood["charge_out_restart_c"], abs=0.011)
        assert kit["thermal"]["margin_low_k"] == pytest.approx(50.0 - stood["charge_out_restart_low_c"], abs=0.011)
        assert stood["lasts_s"] == 300.0 and stood["bay_c"] == 80.0
        assert stood["core_c"] < stood["bay_c"]
        assert kit["thermal"]["charge_out_worst_c"] != stood["charge_out_restart_c"]


def test_the_add_on_set_comes_first_for_the_standstill_and_a_larger_core_for_the_pull() -> None:
    brief = example("commuter")
    first = suggest(brief, "--json", shelf=shelf()).kits[0]
    assert [first["parts"][kind] for kind in ("core", "fan", "timer")] == [[OWN_CORE], [FAN], [TIMER]]
    bare = asked()[(OWN_CORE,)]["price_cents"]
    assert first["price_cents"] <= 500_00 and first["price_cents"] - bare < 250_00
    pull = example("commuter", limits=None, aim={"charge_air": "70 degC"})
    in_a_pull = suggest(pull, "--json", shelf=shelf()).kits[0]
    assert in_a_pull["parts"]["core"] == [LARGER_CORE]
    assert "fan" not in in_a_pull["parts"] and in_a_pull["thermal"]["standstill"] is None


def test_the_ledger_closes_over_drive_and_standstill_and_not_without_the_soak() -> None:
    for kit in asked().values():
        energy = kit["energy"]
        came = energy["charge_j"] + energy["pump_j"] + energy["soak_j"]
        went = energy["rejected_j"] + energy["stored_coolant_j"] + energy["stored_metal_j"]
        assert came == pytest.approx(went, rel=1e-5)
        assert energy["closure"] < 1e-3
        assert abs(came - energy["soak_j"] - went) > 1e-3 * came


def test_an_after_run_that_the_car_has_is_that_of_a_timer_and_then_none_is_offered() -> None:
    brief = example("commuter", limits=None, aim__charge_air="100 degC", after_run="5 min")
    kits = all_kits(brief, shelf=shelf())
    assert all("timer" not in kit["parts"] for kit in kits)
    fanned = next(kit for kit in kits if kit["parts"]["core"] == [OWN_CORE] and "fan" in kit["parts"])
    assert fanned["thermal"]["standstill"]["charge_out_restart_c"] == restart(OWN_CORE, FAN, TIMER)


def test_an_after_run_longer_than_the_standstill_gains_no_more_and_a_shorter_one_less() -> None:
    timers = {part["id"]: part for part in shipped("timers")}
    found = {}
    for name in ("timer-2", "timer-5", "timer-10"):
        brief = example("commuter", own=[*example("commuter")["own"], {"id": name, "fitted": True}])
        kits = suggest(brief, "--json", shelf={**shelf(), "timers": [timers[name]]}).kits
        found[name] = kits[0]["thermal"]["standstill"]
        assert all(kit["parts"]["timer"] == [name] for kit in kits), "what is fitted is in every kit"
    assert found["timer-10"]["charge_out_restart_c"] == found["timer-5"]["charge_out_restart_c"]
    assert found["timer-2"]["charge_out_restart_c"] > found["timer-5"]["charge_out_restart_c"]
    assert [found[name]["after_run_s"] for name in ("timer-2", "timer-5", "timer-10")] == [120.0, 300.0, 300.0]


def test_fan_and_timer_are_on_the_bill_with_the_fans_wiring_and_their_current_counts() -> None:
    kit, bare = asked()[(OWN_CORE, FAN, TIMER)], asked()[(OWN_CORE,)]
    of_fan = {line["item"]: line for line in kit["lines"] if line["place"] == "fan" and line["price_cents"]}
    assert {"fan", "fuse", "relay", "wire"} == set(of_fan)
    timer = next(line for line in kit["lines"] if line["item"] == "timer")
    added = sum(line["price_cents"] for line in of_fan.values()) + timer["price_cents"]
    assert kit["price_cents"] - bare["price_cents"] == added
    assert kit["price_cents"] == sum(line["price_cents"] for line in kit["lines"])
    assert kit["current_a"] == pytest.approx(bare["current_a"] + 5.5)
    assert not any("after-run timer" in line["item"] for line in kit["lines"])
    assert any(place["slot"] == "fan" and place["zone"] == "behind" for place in kit["fit"]["placements"])


@pytest.mark.parametrize(
    ("changes", "part", "code"),
    [
        ({"without": ["fan"]}, FAN, "not-wanted"),
        ({"without": ["timer"]}, TIMER, "not-wanted"),
        ({"limits__current": "5 A"}, FAN, "current-over-limit"),
        ({"limits__current": "9 A"}, FAN, "over-limits"),
        ({"bay__zones__behind__deep": "51 mm"}, FAN, "does-not-fit"),
    ],
)
def test_every_fan_and_timer_left_out_has_its_reason(changes: Tree, part: str, code: str) -> None:
    answer = suggest(example("commuter", aim__charge_air="100 degC", **changes), "--json", shelf=shelf()).answer
    reasons = {one["part"]: one["code"] for one in answer["exclusions"]}
    assert reasons[part] == code


def test_a_fan_larger_than_the_exchanger_is_left_out_and_one_as_large_is_not() -> None:
    """fan-225 is 240 x 245 mm, the exchanger 250 x 250: one of 251 mm overhangs it."""
    fans = {part["id"]: part for part in shipped("fans")}
    for wide, code in (("250 mm", None), ("251 mm", "fan-overhangs")):
        fan = {**fans["fan-225"], "size": {"x": "52 mm", "y": wide, "z": "245 mm"}}
        brief = example("commuter", aim__charge_air="100 degC", bay__zones__behind__wide="300 mm")
        answer = suggest(brief, "--json", shelf={**shelf(), "fans": [fan]}).answer
        assert {one["part"]: one["code"] for one in answer["exclusions"]}.get("fan-225") == code


def with_twins_of_24_volts() -> Tree:
    """The same shelf with fan and timer once more, for the battery of a lorry."""
    both = shelf()
    for kind, part in (("fan", FAN), ("timer", TIMER)):
        twin = next(one for one in shipped(f"{kind}s") if one["id"] == part)
        both[f"{kind}s"].append({**twin, "id": f"{kind}-24", "volts": 24})
    return both


@pytest.mark.parametrize(
    ("changes", "out", "words"),
    [
        ({}, ("fan-24", "timer-24"), "the pump that stays in the car is for 12 V"),
        ({"own": [OWN_CORE], "bay": "unmeasured"}, ("timer-24",), "every pump that is left is for 12 V"),
    ],
)
def test_a_kit_is_of_one_voltage_and_a_fan_or_timer_of_another_says_both(
    tmp_path: Path, changes: Tree, out: tuple[str, ...], words: str
) -> None:
    """Of 24 V they go into no kit with a pump of 12 V, which stays in the car or comes off the shelf."""
    brief = example("commuter", aim__charge_air="100 degC", limits=None, **changes)
    answer = suggest(brief, "--json", "--all-variants", "--top", "1000", shelf=with_twins_of_24_volts()).answer
    held = {part for kit in answer["kits"] for kind in ("fan", "timer") for part in kit["parts"].get(kind, [])}
    assert held == ({FAN, TIMER} if len(out) > 1 else {TIMER})
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "parts.yaml").write_text(written(with_twins_of_24_volts()), encoding="utf-8")
    named = tmp_path / "commuter.yaml"
    named.write_text(written(brief), encoding="utf-8")
    for part in out:
        reason = next(one for one in answer["exclusions"] if one["part"] == part)
        assert (reason["code"], reason["found"], reason["limit"], reason["unit"]) == ("voltages-differ", 24, 12, "V")
        told = flowing(command("why", named, part, "--catalogue", tmp_path / "shelf").out)
        assert f"is for 24 V, {words}: a kit is of one voltage" in told
        assert "a voltage is no matter of choice. It takes a part for 12 V" in told


def test_a_timer_that_stays_in_the_car_keeps_pumps_of_another_voltage_out() -> None:
    brief = example("commuter", own=[OWN_CORE, {"id": "timer-24", "fitted": True}], bay="unmeasured")
    answer = suggest(brief, "--json", shelf=with_twins_of_24_volts()).answer
    reason = {one["part"]: (one["code"], one["found"], one["limit"]) for one in answer["exclusions"]}
    assert not answer["kits"] and reason["pump-40-small"] == ("voltages-differ", 12, 24)


def test_without_a_zone_for_it_no_fan_is_offered() -> None:
    brief = example("commuter", aim__charge_air="100 degC")
    del brief["bay"]["zones"]["behind"]
    answer = suggest(brief, "--json", shelf=shelf()).answer
    assert {one["part"]: one["code"] for one in answer["exclusions"]}[FAN] == "no-zone-takes-it"
    assert all("fan" not in kit["parts"] for kit in answer["kits"])


def test_the_trace_goes_on_through_the_standstill() -> None:
    run = suggest("commuter", "--json", trace=True)
    assert run.trace[-1]["time_s"] == pytest.approx(20 * 60 + 300)
    stood = run.kits[0]["thermal"]["standstill"]
    assert run.trace[-1]["core_c"] == pytest.approx(stood["core_c"], abs=0.02)
    assert run.trace[-1]["air_kg_per_s"] == 0.0


def test_the_low_end_of_a_restart_is_never_the_cooler_one() -> None:
    """Ten minutes after a short climb all conductances high left 46 degC and all low 44: the band stood upside down."""
    brief = example("hatch", aim={"charge_air": "60 degC", "after": "10 min standstill"}, limits=None)
    kits = suggest(brief, "--json", "--top", "20", shelf=narrow_hatch()).kits
    assert kits
    for kit in kits:
        t, stood = kit["thermal"], kit["thermal"]["standstill"]
        told = [stood[f"charge_out_restart{end}_c"] for end in ("_high", "", "_low")]
        assert told == sorted(told)
        assert t["margin_low_k"] <= t["margin_k"] <= t["margin_high_k"]
        assert t["margin_low_k"] == pytest.approx(60.0 - told[2], abs=0.011)


def narrow_hatch() -> Tree:
    """Two cores and two exchangers that go into the hatch."""
    return small_shelf(
        cores=[shipped_part(name) for name in ("core-178-square", "core-260-short")],
        exchangers=[shipped_part(name) for name in ("exchanger-350-slim", "exchanger-455-thick")],
        pumps=[shipped_part("pump-40-small")],
        reservoirs=[shipped_part("reservoir-8-cube"), shipped_part("reservoir-3-tall")],
        timers=[shipped("timers")[0]],
    )
