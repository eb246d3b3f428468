"""The club racer: what must be true of twenty minutes of eight seconds on and five off, whatever is on the shelf."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import pytest

from tests.journeys import made_parts
from tests.journeys.kitwright import Run, Tree, all_kits, example, opened, shipped_part, small_shelf, suggest

CORE, PUMP, SPEED = "core-230-short", "pump-50-medium", "8 m/s"
FACES_MM = {0.13: (520, 250), 0.195: (650, 300), 0.27: (750, 360), 0.39: (975, 400)}
"""Finned face in square metres, and the millimetres wide and high that make it."""


def front(wide_mm: int, high_mm: int) -> Tree:
    """A front named by its finned face [m2]."""
    return made_parts.front("exchanger-640-broad", wide_mm, high_mm, f"front-{wide_mm * high_mm / 1e6:.3f}")


def racer(**changes: object) -> Tree:
    """The racer with room for every front and tank here, one air speed at its face, an aim that turns none away."""
    brief = opened(example("track", limits=None, layouts=["single"], **changes))
    slot = brief["bay"]["zones"]["slot"]
    slot.update(wide="1200 mm", high="600 mm", air={"face_speed": SPEED})
    brief["bay"]["zones"]["wing"].update(wide="400 mm", high="700 mm", deep="400 mm")
    del brief["bay"]["zones"]["duct"]
    brief["aim"] = changes.get("aim", {"charge_air": "160 degC"})
    return brief


def shelf(*fronts: Tree, tanks: tuple[float, ...] = (3,), cores: tuple[str, ...] = (CORE,)) -> Tree:
    return small_shelf(
        cores=[shipped_part(core) for core in cores],
        pumps=[shipped_part(PUMP)],
        exchangers=list(fronts),
        reservoirs=[made_parts.tank(litres) for litres in tanks],
    )


# --- front area -------------------------------------------------------------------------------------------------------


def test_the_worst_charge_falls_strictly_with_front_area_at_one_air_speed() -> None:
    """An energy balance: more air through more fins. Metres squared from the millimetres typed above."""
    assert all(face == pytest.approx(wide * high / 1e6, abs=0.0005) for face, (wide, high) in FACES_MM.items())
    kits = all_kits(racer(), shelf=shelf(*(front(*face) for face in FACES_MM.values())))
    coolest: dict[str, float] = {}
    for kit in kits:
        part = kit["parts"]["exchanger"][0]
        coolest[part] = min(coolest.get(part, 999.0), kit["thermal"]["charge_out_worst_c"])
    falling = [coolest[f"front-{face:.3f}"] for face in FACES_MM]
    assert all(small > large + 1 for small, large in pairwise(falling)), falling
    gains = [small - large for small, large in pairwise(falling)]
    assert gains[0] > gains[-1], "each step of area is worth less than the one before it"


def test_outside_one_air_speed_a_smaller_front_in_faster_air_is_the_cooler() -> None:
    """0.13 m2 at 10 m/s passes 1.3 m3/s, 0.195 m2 at 2 m/s 0.39 m3/s: area alone decides nothing."""
    slow, fast = racer(), racer()
    slow["bay"]["zones"]["slot"]["air"] = {"face_speed": "2 m/s"}
    fast["bay"]["zones"]["slot"]["air"] = {"face_speed": "10 m/s"}
    large = suggest(slow, "--json", shelf=shelf(front(*FACES_MM[0.195]))).kits[0]
    small = suggest(fast, "--json", shelf=shelf(front(*FACES_MM[0.13]))).kits[0]
    assert small["thermal"]["charge_out_worst_c"] < large["thermal"]["charge_out_worst_c"] - 3


# --- coolant ----------------------------------------------------------------------------------------------------------


@cache
def session(litres: float, face: float = 0.13, speed: str = "4 m/s") -> Run:
    """The twenty minutes with so many litres in one and the same box, and their course."""
    brief = racer()
    brief["bay"]["zones"]["slot"]["air"] = {"face_speed": speed}
    run = suggest(brief, "--json", shelf=shelf(front(*FACES_MM[face]), tanks=(litres,)), trace=True)
    assert run.code == 0, run.err or run.out[:1500]
    return run


def hottest(run: Run, since: float, until: float) -> float:
    """The hottest charge between two moments of the course [degC]."""
    return max(row["charge_out_c"] for row in run.trace if since <= row["time_s"] <= until)


def test_more_coolant_comes_to_the_same_end_and_much_later() -> None:
    """3 against 15 L: less than 1 K over the last rounds, more than 5 K at 130 s, which are ten rounds of 13 s.

    Such a lag is first order: it holds where 130 s is short beside heat capacity over the front's conductance,
    here some 80 kJ/K over 0.43 kW/K.
    """
    few, many = session(3), session(15)
    assert abs(hottest(few, 1170, 1200) - hottest(many, 1170, 1200)) < 1.0
    assert hottest(few, 117, 130) - hottest(many, 117, 130) > 5.0
    water_j_per_k = many.kits[0]["coolant_l"] * 4180
    assert water_j_per_k / many.trace[0]["exchanger_w_per_k"] > 130


def test_outside_a_strong_front_has_settled_by_then_and_litres_buy_little() -> None:
    """0.195 m2 at 8 m/s takes twice as much: by 130 s the lag is over with either tank."""
    few, many = (session(litres, 0.195, "8 m/s") for litres in (3, 15))
    water_j_per_k = many.kits[0]["coolant_l"] * 4180
    assert water_j_per_k / many.trace[0]["exchanger_w_per_k"] < 130
    assert 0 < hottest(few, 117, 130) - hottest(many, 117, 130) < 5.0


def test_more_coolant_is_slower_to_recover() -> None:
    few, many = (session(litres).kits[0]["thermal"] for litres in (3, 15))
    assert many["recovery_s"] > 1.5 * few["recovery_s"]
    assert many["time_to_plateau_s"] > 1.5 * few["time_to_plateau_s"]


# --- the aim is a limit -----------------------------------------------------------------------------------------------


@cache
def coolest_of_the_shelf() -> float:
    """The coolest that any kit of a shelf of two cores and two fronts reaches [degC]."""
    return min(kit["thermal"]["charge_out_worst_c"] for kit in all_kits(racer(), shelf=_two_by_two()))


def _two_by_two() -> Tree:
    return shelf(front(*FACES_MM[0.13]), front(*FACES_MM[0.195]), cores=(CORE, "core-190-wide"))


def test_three_kelvin_under_the_coolest_kit_there_is_none() -> None:
    best = coolest_of_the_shelf()
    run = suggest(racer(aim={"charge_air": f"{best - 3:.2f} degC"}), "--json", "--no-ways-out", shelf=_two_by_two())
    assert (run.code, run.answer["outcome"], run.kits) == (1, "no_kit", [])
    nearest = run.answer["closest"][0]
    assert nearest["missed"] == ["aim"]
    assert nearest["thermal"]["charge_out_worst_c"] == pytest.approx(best, abs=0.011)
    assert nearest["thermal"]["margin_k"] == pytest.approx(-3, abs=0.011)


def test_a_tenth_of_a_kelvin_over_it_there_is_one() -> None:
    best = coolest_of_the_shelf()
    run = suggest(racer(aim={"charge_air": f"{best + 0.1:.2f} degC"}), "--json", shelf=_two_by_two())
    assert (run.code, run.answer["outcome"]) == (0, "kits")
    assert run.kits[0]["thermal"]["margin_k"] == pytest.approx(0.1, abs=0.011)
    assert run.kits[0]["thermal"]["word"] == "likely"


# --- the circuit ------------------------------------------------------------------------------------------------------


def test_where_glycol_is_banned_the_loop_holds_water_and_is_drained_before_frost() -> None:
    run = session(3)
    assert [line["item"] for line in run.kits[0]["lines"] if "glycol" in line["item"]] == []
    codes = {caution["code"] for caution in run.kits[0]["cautions"]}
    assert "drain-water" in codes and "toxic-glycol" not in codes


def test_where_glycol_is_banned_a_frosty_night_leaves_no_kit() -> None:
    run = suggest(racer(site__coldest="-5 degC"), "--json", shelf=shelf(front(*FACES_MM[0.195])))
    assert run.code == 1
    assert run.answer["conflict"]["rules"] == ["freeze", "coolant kinds"]
