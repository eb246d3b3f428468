"""Where there is no kit: what an answer offers, written into the brief as it is told, gives one, and less does not."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest

from tests.journeys import made_parts
from tests.journeys.kitwright import Run, Tree, example, opened, shipped_part, small_shelf, suggest

CORES = ("core-230-short", "core-190-wide")
SESSION = {"stretches": [{"lasts": "8 s", "share": "100 %", "speed": "110 km/h"},
                         {"lasts": "5 s", "share": "5 %", "speed": "80 km/h"}], "total": "130 s"}  # fmt: skip


def two_fronts() -> Tree:
    """Two cores and two fronts that go into the slot of `racer`, and one that does not."""
    sizes = ((520, 250), (650, 300), (900, 400))
    fronts = [made_parts.front("exchanger-640-broad", *size, f"front-{size[0]}") for size in sizes]
    return small_shelf(
        cores=[shipped_part(core) for core in CORES],
        pumps=[shipped_part("pump-50-medium")],
        exchangers=fronts,
        reservoirs=[made_parts.tank(3)],
    )


def racer(aim: str, **limits: Any) -> Tree:
    """The club racer with one front slot of given air, open walls, and a tank zone with room."""
    brief = opened(example("track", limits=limits or None, layouts=["single"], driving=SESSION))
    zones = brief["bay"]["zones"]
    zones["slot"].update(wide="740 mm", high="320 mm", air={"face_speed": "6 m/s"})
    zones["wing"].update(wide="400 mm", high="700 mm", deep="400 mm")
    del zones["duct"]
    brief["aim"] = {"charge_air": aim}
    return brief


def no_kit(brief: Tree) -> Run:
    run = suggest(brief, "--json", shelf=two_fronts())
    assert (run.code, run.answer["outcome"]) == (1, "no_kit"), run.out[:500] + run.err
    return run


def every_kit(**changes: Tree) -> list[Tree]:
    """Every kit of the small shelf at an aim that turns none away; keys of engine and slot changed."""
    brief = racer("100 degC")
    brief["engine"].update(changes.get("engine", {}))
    brief["bay"]["zones"]["slot"].update(changes.get("slot", {}))
    return suggest(brief, "--json", "--all-variants", "--top", "100", shelf=two_fronts()).kits


def coolest(**changes: Tree) -> float:
    """The coolest that any of them reaches [degC]."""
    return min(float(kit["thermal"]["charge_out_worst_c"]) for kit in every_kit(**changes))


@cache
def three_kelvin_under() -> Run:
    return no_kit(racer(f"{coolest() - 3:.2f} degC"))


def way(run: Run, change: str) -> Tree:
    (found,) = [one for one in run.answer["nearest"] if one["change"] == change]
    return dict(found)


def told(brief: Tree) -> int:
    return suggest(brief, "--json", shelf=two_fronts()).code


def test_three_kelvin_under_the_coolest_kit_the_conflict_is_of_aim_front_driving_and_power() -> None:
    conflict = three_kelvin_under().answer["conflict"]
    assert {"aim", "power", "driving"} <= {*conflict["rules"]} <= {"aim", "front area", "driving", "power"}
    assert conflict["text"]


def test_the_aim_offered_is_the_coolest_kits_in_whole_degrees() -> None:
    offered = way(three_kelvin_under(), "aim")
    assert offered["unit"] == "degC"
    assert coolest() - 0.011 <= offered["to"] < coolest() + 1
    assert told(racer(f"{offered['to']} degC")) == 0


def test_the_power_offered_gives_a_kit_and_two_per_cent_more_does_not() -> None:
    """Boost goes with power by the charger's table: shares of full power against shares of full boost."""
    offered = way(three_kelvin_under(), "power")
    (boost,) = offered["and"]
    assert boost["change"] == "boost" and offered["to"] < 300 and boost["to"] <= 1.3
    brief = racer(f"{coolest() - 3:.2f} degC")
    brief["engine"].update(power=f"{offered['to']} kW", boost=f"{boost['to']} bar")
    assert told(brief) == 0
    slope = (1.3 - boost["to"]) / (300 - offered["to"])
    more = offered["to"] * 1.02
    engine = {"power": f"{more:.2f} kW", "boost": f"{boost['to'] + slope * (more - offered['to']):.3f} bar"}
    assert coolest(engine=engine) > coolest() - 3 + 0.005


def test_the_air_speed_offered_gives_a_kit_and_a_tenth_less_does_not() -> None:
    offered = way(three_kelvin_under(), "air")
    assert (offered["zone"], offered["unit"], offered["from"]) == ("slot", "m/s", 6.0)
    brief = racer(f"{coolest() - 3:.2f} degC")
    brief["bay"]["zones"]["slot"]["air"] = {"face_speed": f"{offered['to']} m/s"}
    assert told(brief) == 0
    assert coolest(slot={"air": {"face_speed": f"{offered['to'] - 0.1:.1f} m/s"}}) > coolest() - 3 + 0.005


def test_a_price_limit_alone_in_the_way_is_named_alone_and_raised_to_the_cheapest_kit() -> None:
    run = no_kit(racer("100 degC", price=500))
    offered = way(run, "price")
    assert run.answer["conflict"]["rules"] == ["price"]
    assert offered["to"] == -(-min(kit["price_cents"] for kit in every_kit()) // 100)
    assert told(racer("100 degC", price=offered["to"])) == 0


def test_where_neither_is_enough_aim_and_price_are_offered_together() -> None:
    aim = f"{coolest() - 60:.2f} degC"
    run = no_kit(racer(aim, price=500))
    offered = way(run, "aim")
    assert [more["change"] for more in offered["and"]] == ["price"]
    enough = (f"{offered['to']} degC", offered["and"][0]["to"])
    assert told(racer(enough[0], price=enough[1])) == 0
    assert coolest() > offered["to"] - 1
    all_of_it = suggest(racer(enough[0]), "--json", "--all-variants", "--top", "100", shelf=two_fronts())
    cool = [kit for kit in all_of_it.kits if kit["thermal"]["charge_out_worst_c"] <= offered["to"]]
    assert enough[1] == -(-min(kit["price_cents"] for kit in cool) // 100)


def test_a_slot_too_low_is_raised_by_whole_millimetres_with_a_word_on_what_carries() -> None:
    brief = racer("100 degC")
    brief["bay"]["zones"]["slot"]["high"] = "100 mm"
    offered = way(no_kit(brief), "high")
    assert offered["zone"] == "slot" and offered["unit"] == "mm" and "carries" in offered["text"]
    brief["bay"]["zones"]["slot"]["high"] = f"{offered['to']} mm"
    assert told(brief) == 0
    lowest = min(sorted(place["size_mm"])[1] for kit in every_kit() for place in kit["fit"]["placements"]
                 if place["slot"] == "exchanger")  # fmt: skip
    assert offered["to"] == lowest


@pytest.mark.parametrize(("side", "given", "place"), [("wide", 500, 2), ("deep", 30, 0)])
def test_a_slot_too_narrow_or_too_thin_is_told_by_how_much(side: str, given: int, place: int) -> None:
    """Of its three sides a front is thinnest along the car and longest across it."""
    brief = racer("100 degC")
    brief["bay"]["zones"]["slot"][side] = f"{given} mm"
    offered = way(no_kit(brief), side)
    least = min(sorted(one["size_mm"])[place] for kit in every_kit() for one in kit["fit"]["placements"]
                if one["slot"] == "exchanger")  # fmt: skip
    assert (offered["zone"], offered["from"], offered["to"]) == ("slot", given, least)
    assert "carries" in offered["text"]
    for size, code in ((offered["to"], 0), (offered["to"] - 1, 1)):
        brief["bay"]["zones"]["slot"][side] = f"{size} mm"
        assert suggest(brief, "--json", "--no-ways-out", shelf=two_fronts()).code == code


def test_a_colder_start_is_told_by_the_least_that_will_do() -> None:
    def short(start: int, aim: str) -> Tree:
        brief = racer(aim)
        brief["coolant"] = {"kinds": ["water"], "start": f"{start} degC"}
        brief["driving"] = {**SESSION, "total": "13 s"}
        return brief

    kits = suggest(short(45, "100 degC"), "--json", "--all-variants", "--top", "100", shelf=two_fronts()).kits
    aim = f"{min(kit['thermal']['charge_out_worst_c'] for kit in kits):.2f} degC"
    offered = way(no_kit(short(60, aim)), "start")
    assert (offered["from"], offered["unit"]) == (60, "degC") and 44 <= offered["to"] <= 45
    for start, code in ((offered["to"], 0), (offered["to"] + 1, 1)):
        assert suggest(short(start, aim), "--json", "--no-ways-out", shelf=two_fronts()).code == code


def test_the_screen_says_what_rules_each_other_out_before_it_shows_the_closest() -> None:
    run = suggest(racer(f"{coolest() - 3:.2f} degC"), shelf=two_fronts())
    first = " ".join(run.out.partition("Closest")[0].split())
    assert "rule out every kit of this shelf in this car: the aim, the engine's power and boost" in first
    assert re.search(r"Ways out: one is enough, each the least that helps in whole [a-z, ]*kW and % \(give more", first)
    assert re.search(r"- power of \d+ kW instead of \d+ kW, at the same boost -", first)
    *lines, following = run.out.splitlines()
    assert following.startswith("Next: kitwright ")  # a command to copy stands in one piece, however long its paths
    assert max(map(len, lines)) <= 80


def test_what_the_nearest_kit_misses_is_told_with_its_figures() -> None:
    brief = racer("100 degC", price=min(kit["price_cents"] for kit in every_kit()) // 100 - 20)
    least = min(kit["price_cents"] for kit in no_kit(brief).answer["closest"]) / 100
    allowed = brief["limits"]["price"]
    first = " ".join(suggest(brief, shelf=two_fronts()).out.split())
    over = f"price: {least:,.2f}, allowed {allowed:,.2f}: {least - allowed:,.2f} too much"
    assert f"No kit on this shelf meets the brief; the nearest kit misses {over}." in first


def test_a_way_out_is_told_in_the_units_of_the_brief_and_gives_a_kit_as_it_is_written_there() -> None:
    def imperial() -> Tree:
        brief = racer(f"{(coolest() - 3) * 1.8 + 32:.2f} degF")
        brief["engine"].update(power="402.3 hp", boost="18.85 psi")
        brief["bay"]["zones"]["slot"]["air"] = {"face_speed": "13.4 mph"}
        return brief

    texts = {one["change"]: one["text"] for one in no_kit(imperial()).answer["nearest"]}
    (aim,) = re.findall(r"^an aim of ([\d.]+ degF) \(\d+ degC\) instead of [\d.]+ degF", texts["aim"])
    (power,) = re.findall(r"^power of ([\d.]+ hp) \(\d+ kW\) instead of 402.3 hp", texts["power"])
    (speed,) = re.findall(r"^an air speed at slot of ([\d.]+ mph) \([\d.]+ m/s\) instead of 13.4 mph", texts["air"])
    for place, written in (
        (("aim",), {"charge_air": aim}),
        (("engine",), {"power": power}),
        (("bay", "zones", "slot", "air"), {"face_speed": speed}),
    ):
        brief = inner = imperial()
        for key in place:
            inner = inner[key]
        inner.update(written)
        assert told(brief) == 0, written


def cramped(**zones: Tree) -> Tree:
    """The racer with some of its zones made smaller."""
    brief = racer("100 degC")
    for name, sides in zones.items():
        brief["bay"]["zones"][name].update(sides)
    return brief


def test_two_rooms_that_each_rule_out_every_kit_are_both_named() -> None:
    brief = cramped(wing={"wide": "30 mm", "high": "30 mm"}, slot={"wide": "30 mm", "high": "30 mm"})
    conflict = no_kit(brief).answer["conflict"]
    assert {*conflict["rules"], *conflict["also_alone"]} == {"front area", "room wing"}
    assert len(conflict["rules"]) == 1
    assert conflict["text"].startswith("Each of these alone rules out every kit of this shelf in this car: ")
    for one in ({"wing": {"wide": "400 mm", "high": "700 mm"}}, {"slot": {"wide": "740 mm", "high": "320 mm"}}):
        sides = {name: brief["bay"]["zones"][name] for name in ("wing", "slot")} | one
        assert told(cramped(**sides)) == 1


def test_a_room_that_no_one_side_mends_says_so() -> None:
    run = no_kit(cramped(wing={"wide": "30 mm", "high": "30 mm"}))
    assert run.answer["conflict"]["rules"] == ["room wing"] and not run.answer["conflict"]["also_alone"]
    assert "For 'wing' no way out was found: to make one side up to 200 mm larger" in run.answer["conflict"]["text"]
    for side in ("wide", "high"):
        assert told(cramped(wing={"wide": "30 mm", "high": "30 mm", side: "230 mm"})) == 1


def test_nothing_dangerous_is_ever_offered() -> None:
    offered = {one["change"] for one in three_kelvin_under().answer["nearest"]}
    assert offered <= {"aim", "power", "air", "wide", "high", "deep", "driving", "start"}
    for one in three_kelvin_under().answer["nearest"]:
        assert not (one["change"] == "power" and one["to"] >= one["from"])


def test_with_kits_there_is_no_conflict_and_nothing_nearest() -> None:
    answer = suggest(racer("100 degC"), "--json", shelf=two_fronts()).answer
    assert (answer["conflict"], answer["nearest"], answer["not_tried"]) == (None, [], [])


def test_the_ute_is_told_which_air_speed_would_do() -> None:
    stretch = {"lasts": "60 s", "share": "60 %", "speed": "50 km/h"}
    changes: Tree = {"limits": None, "driving": {"stretches": [stretch], "total": "20 min"}}
    brief = opened(example("ute", aim={"above_air": "45 K"}, **changes))
    brief["bay"]["zones"]["slot"]["air"] = {"face_speed": "4 m/s"}
    shelf = small_shelf(
        cores=[shipped_part("core-300-slim")],
        exchangers=[shipped_part("exchanger-640-slim")],
        pumps=[shipped_part("pump-50-medium")],
        reservoirs=[shipped_part("reservoir-3-tall")],
    )
    run = suggest(brief, "--json", shelf=shelf)
    assert run.answer["outcome"] == "no_kit"
    assert "front area" in run.answer["conflict"]["rules"]
    assert "front area and the air speed" in run.answer["conflict"]["text"]
    assert "bleed" not in run.answer["conflict"]["text"]
    brief["bay"]["zones"]["slot"]["air"] = {"face_speed": f"{way(run, 'air')['to']} m/s"}
    assert suggest(brief, "--json", shelf=shelf).code == 0


def test_where_nothing_joins_and_no_bay_is_measured_the_answer_is_no() -> None:
    """A shelf of one core and one pump: no demand of the brief is in the way, and there is no zone to drop."""
    shelf = small_shelf(cores=[shipped_part("core-160-short")], pumps=[shipped_part("pump-40-small")])
    run = suggest(example("hatch", bay="unmeasured"), "--json", shelf=shelf)
    assert run.code == 1 and run.answer["outcome"] == "no_kit" and run.kits == []


def test_of_kits_that_miss_the_mass_alone_the_nearest_is_the_lightest_and_the_way_out_lets_it_in() -> None:
    least = min(kit["mass_dry_g"] for kit in every_kit()) / 1000
    answer = no_kit(racer("100 degC", mass_dry=f"{least - 0.5:.2f} kg")).answer
    assert answer["closest"][0]["mass_dry_g"] / 1000 == pytest.approx(least, abs=1e-9)
    (found,) = [one for one in answer["nearest"] if one["change"] == "mass"]
    assert found["least"] and least <= found["to"] < least + 0.011


def test_where_a_limit_leaves_no_part_of_a_kind_the_first_sentence_says_so() -> None:
    told = " ".join(suggest(racer("100 degC", current="1 A"), shelf=two_fronts()).out.split())
    assert "put together for this brief: no pump passes by itself (1 × draws more current than is to spare)." in told
