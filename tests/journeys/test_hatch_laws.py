"""The hill-climb hatch: what must be true of its answers whatever parts are on the shelf.

Standard atmosphere: ISO 2533 (published; from memory; recomputed): 900 m is 288.15 K - 6.5 K/km x 0.9 km = 282.30 K,
101.325 kPa x (282.30 / 288.15)^5.25588 = 90.97 kPa.
"""

from __future__ import annotations

import copy
from functools import partial
from typing import Any

import pytest

from tests.journeys import made_parts
from tests.journeys.kitwright import (
    Run,
    Tree,
    all_kits,
    example,
    ids,
    opened,
    shipped,
    shipped_part,
    small_shelf,
    suggest,
)
from tests.journeys.made_parts import tank

P_900_KPA, P_SEA_KPA = 90.97, 101.325
SIDES = ["front", "back", "left", "right"]
CORE = "core-230-short"
PUMP = "pump-50-medium"
ALUMINIUM_J_PER_KG_K = 900.0
"""Handbook value of wrought aluminium; published, from memory."""


def free(**changes: Any) -> Tree:
    """The hatch with an aim, limits and walls that turn no kit away."""
    return opened(example("hatch", aim={"charge_air": "160 degC"}, limits=None, **changes))


front = partial(made_parts.front, "exchanger-460-plain", around=(56, 12))


def shelf(*tanks: Tree, fronts: list[Tree] | None = None, core: str = CORE) -> Tree:
    """One core, one pump, the fronts and tanks given."""
    return small_shelf(
        cores=[shipped_part(core)],
        pumps=[shipped_part(PUMP)],
        exchangers=[shipped_part("exchanger-460-plain")] if fronts is None else fronts,
        reservoirs=list(tanks),
    )


def only_kit(brief: Tree, on: Tree, **how: bool) -> tuple[Tree, Run]:
    """The first kit on a shelf that holds one of each rigid part: caps apart, there is no other."""
    run = suggest(brief, "--json", shelf=on, **how)
    assert run.code == 0, run.err or run.out[:2000]
    return run.kits[0], run


# --- pressure ratio ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("altitude", "inlet", "loss", "expected"),
    [
        ("900 m", 3, 7, (P_900_KPA + 140 + 7) / (P_900_KPA - 3)),
        ("0 m", 3, 7, (P_SEA_KPA + 140 + 7) / (P_SEA_KPA - 3)),
        ("900 m", 0, 0, (P_900_KPA + 140) / P_900_KPA),
        ("0 m", 0, 0, (P_SEA_KPA + 140) / P_SEA_KPA),
    ],
)
def test_pressure_ratio_is_absolute_and_counts_losses_on_both_sides(
    altitude: str, inlet: int, loss: int, expected: float
) -> None:
    brief = free(
        site__altitude=altitude, engine__inlet_loss=f"{inlet} kPa", engine__loss_to_throttle=f"{loss} kPa"
    )
    kit, _ = only_kit(brief, shelf(tank(8)))
    assert kit["thermal"]["pressure_ratio"] == pytest.approx(expected, abs=0.003)
    typed = {("900 m", 7): 2.705, ("0 m", 7): 2.526, ("900 m", 0): 2.539, ("0 m", 0): 2.382}
    assert kit["thermal"]["pressure_ratio"] == pytest.approx(typed[altitude, loss], abs=0.003)


def test_the_same_gauge_boost_is_a_higher_ratio_at_altitude() -> None:
    high, _ = only_kit(free(site__altitude="900 m"), shelf(tank(8)))
    low, _ = only_kit(free(site__altitude="0 m"), shelf(tank(8)))
    assert high["thermal"]["pressure_ratio"] > low["thermal"]["pressure_ratio"] + 0.1
    assert high["thermal"]["charge_in_c"] > low["thermal"]["charge_in_c"] + 3


def test_one_bar_of_boost_at_900_metres_is_not_twice_the_pressure() -> None:
    brief = free(engine__boost="1 bar", engine__inlet_loss="0 kPa", engine__loss_to_throttle="0 kPa")
    kit, _ = only_kit(brief, shelf(tank(8)))
    assert kit["thermal"]["pressure_ratio"] == pytest.approx((P_900_KPA + 100) / P_900_KPA, abs=0.003)
    assert abs(kit["thermal"]["pressure_ratio"] - 2.0) > 0.09


# --- litres and fronts ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("without", [[], ["exchanger"]])
def test_eight_litres_end_cooler_than_three_with_and_without_a_front(without: list[str]) -> None:
    kits = {kit["parts"]["reservoir"][0]: kit for kit in all_kits(free(without=without), shelf=shelf(tank(3), tank(8)))}
    assert set(kits) == {"tank-3", "tank-8"}
    assert all(("exchanger" in kit["parts"]) == (not without) for kit in kits.values())
    for figure in ("coolant_end_c", "charge_out_worst_c"):
        assert kits["tank-8"]["thermal"][figure] < kits["tank-3"]["thermal"][figure] - 2


def test_five_litres_more_beat_a_small_front_in_slow_air() -> None:
    """0.457 m x 0.138 m = 0.0631 m2 of fins at 4 m/s; the run is 90 s."""
    assert round(0.457 * 0.138, 3) == 0.063
    more, added = _litres_and_front(457, 138, 4, 90)
    assert more["thermal"]["charge_out_worst_c"] < added["thermal"]["charge_out_worst_c"]


SWEEP = [
    (457, 138, 2, 90), (300, 120, 4, 60), (457, 138, 10, 90), (600, 260, 6, 90), (457, 138, 4, 180), (700, 450, 8, 60),
]  # fmt: skip


@pytest.mark.parametrize(("wide", "high", "speed", "seconds"), SWEEP)
def test_litres_or_front_is_decided_by_heat_taken_against_heat_stored(
    wide: int, high: int, speed: float, seconds: int
) -> None:
    """A front takes about G2 x run time for each kelvin, and stores its own; 5 L store theirs."""
    more, added, ratio = _with_ratio(wide, high, speed, seconds)
    litres, fronts = more["thermal"]["charge_out_worst_c"], added["thermal"]["charge_out_worst_c"]
    if ratio < 0.8:
        assert litres < fronts
    else:
        assert ratio > 1.25, "the sweep keeps off the band where the law is silent"
        assert fronts < litres


def test_the_sweep_of_fronts_lies_on_both_sides() -> None:
    ratios = [_with_ratio(*row)[2] for row in SWEEP]
    assert sum(ratio < 0.8 for ratio in ratios) >= 2
    assert sum(ratio > 1.25 for ratio in ratios) >= 3


def _litres_and_front(wide: int, high: int, speed: float, seconds: int) -> tuple[Tree, Tree]:
    more, added, _ = _with_ratio(wide, high, speed, seconds)
    return more, added


def _with_ratio(wide: int, high: int, speed: float, seconds: int) -> tuple[Tree, Tree, float]:
    """The loop of 3 L without a front: 5 L added, a front added, and what the front takes over what 5 L store."""
    hill = next(pattern for pattern in shipped("driving") if pattern["id"] == "hill-climb")
    stretches, left = [], float(seconds)
    for stretch in hill["stretches"] * 2:
        lasts = min(float(stretch["lasts"].split()[0]), left)
        if lasts > 0:
            stretches.append({**stretch, "lasts": f"{lasts:g} s"})
        left -= lasts
    assert left <= 0
    nose = {"wide": "900 mm", "high": "600 mm", "deep": "90 mm", "open": SIDES, "takes": ["exchanger"]}
    brief = free(driving={"stretches": stretches, "total": f"{seconds} s"})
    brief["bay"]["zones"]["nose"] = {**nose, "air": {"face_speed": f"{speed:g} m/s"}}
    bare = {**copy.deepcopy(brief), "without": ["exchanger"]}
    more, _ = only_kit(bare, shelf(tank(8), fronts=[front(wide, high)]))
    added, run = only_kit(brief, shelf(tank(3), fronts=[front(wide, high)]), trace=True)
    row = run.trace[0]
    per_litre = row["coolant_kg_per_m3"] / 1000 * row["coolant_j_per_kg_k"]
    face = wide * high / 1e6
    own = 25 * face * ALUMINIUM_J_PER_KG_K + 7.1 * face * per_litre
    return more, added, (row["exchanger_w_per_k"] * seconds + own) / (5 * per_litre)


def test_a_fronts_heat_capacity_counts_its_metal() -> None:
    """Two fronts alike but for 4 kg of metal: in a 90 s run the heavy one stays cooler and stores more in metal."""
    light = front(400, 130, "front-light")
    heavy = {**front(400, 130, "front-heavy"), "mass": "5.3 kg"}
    kits = {kit["parts"]["exchanger"][0]: kit for kit in all_kits(free(), shelf=shelf(tank(3), fronts=[light, heavy]))}
    assert kits["front-heavy"]["thermal"]["coolant_end_c"] < kits["front-light"]["thermal"]["coolant_end_c"] - 0.2
    grown = kits["front-heavy"]["energy"]["stored_metal_j"] - kits["front-light"]["energy"]["stored_metal_j"]
    # 4 kg x 900 J/(kg K), warmed with the coolant by 10 to 60 K
    assert 4 * ALUMINIUM_J_PER_KG_K * 10 < grown < 4 * ALUMINIUM_J_PER_KG_K * 60


# --- fit --------------------------------------------------------------------------------------------------------------


def slot_front(deep_mm: int) -> Tree:
    """The thick front of the shelf, so many millimetres deep."""
    return shipped_part("exchanger-455-thick", id=f"deep-{deep_mm}", size__x=f"{deep_mm} mm")


def test_61_mm_is_out_of_a_60_mm_slot_by_1_mm_and_60_mm_enters_tight() -> None:
    on = shelf(tank(8), fronts=[slot_front(61), slot_front(60)])
    run = suggest(free(), "--json", "--all-variants", shelf=on)
    assert run.code == 0
    assert {kit["parts"]["exchanger"][0] for kit in run.kits} == {"deep-60"}
    (out,) = [exclusion for exclusion in run.answer["exclusions"] if exclusion["part"] == "deep-61"]
    assert (out["code"], out["found"] - out["limit"], out["unit"]) == ("does-not-fit", 1.0, "mm")
    assert "1 mm" in out["text"]
    assert run.kits[0]["fit"]["clearance_mm"] == 0.0
    assert "tight" in {caution["code"] for caution in run.kits[0]["cautions"]}
    told = suggest(free(), "--all-variants", shelf=on).out
    assert "TIGHT" in told.partition("\n\n")[0]


def test_a_61_mm_front_alone_leaves_no_kit() -> None:
    run = suggest(free(), "--json", shelf=shelf(tank(8), fronts=[slot_front(61)]))
    assert run.code == 1
    assert run.answer["outcome"] == "no_kit"


def test_an_8_litre_tank_and_a_pump_enter_the_side_zone() -> None:
    """By hand: the tank is 190 x 190 x 280, the pump on its side 155 long, 105 wide and 98 high.

    Stacked: 280 + 98 = 378 of 380 mm; across 190 of 220 and 105 of 220; along 190 of 240 and 155 of 240. So at least
    this way is open, with 1 mm about each body: 380 - 378 = 2 mm shared by three gaps.
    """
    tank_mm, pump_mm = (190, 190, 280), (155, 105, 98)
    assert tank_mm[2] + pump_mm[2] <= 380
    assert max(tank_mm[1], pump_mm[1]) <= 220
    assert max(tank_mm[0], pump_mm[0]) <= 240
    eight, pump = shipped_part("reservoir-8-plain"), shipped_part(PUMP)
    assert [float(eight["size"][axis].split()[0]) for axis in "xyz"] == list(tank_mm)
    assert sorted(float(pump["size"][axis].split()[0]) for axis in "xyz") == sorted(pump_mm)
    kit, _ = only_kit(free(), shelf(eight))
    inside = {place["slot"]: place for place in kit["fit"]["placements"] if place["zone"] == "side"}
    assert set(inside) == {"reservoir", "pump"}


def test_a_tank_and_a_pump_that_a_hand_sum_forbids_do_not_enter_the_side_zone() -> None:
    """A tank of 240 x 220 x 293 leaves 380 - 293 = 87 mm above it, and the pump's least side is 98 mm."""
    full = shipped_part("reservoir-8-plain", id="tank-full", size={"x": "240 mm", "y": "220 mm", "z": "293 mm"})
    run = suggest(free(), "--json", shelf=shelf(full))
    assert run.code == 1


# --- the same kit under other circumstances ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("harder", "more"),
    [
        ({"site__air": "34 degC"}, "hotter air"),
        ({"engine__boost": "1.7 bar"}, "more boost"),
        ({"engine__charger_efficiency": "62 %"}, "a worse charger"),
    ],
)
def test_no_kit_is_cooler_in_harder_circumstances(harder: dict[str, str], more: str) -> None:
    on = shelf(tank(3), tank(8), fronts=[front(400, 130, "front-plain"), front(300, 120, "front-small")])
    easy = {ids(kit): kit for kit in all_kits(free(), shelf=on)}
    hard = {ids(kit): kit for kit in all_kits(free(**harder), shelf=on)}
    assert easy and set(hard) == set(easy)
    for parts, kit in easy.items():
        for figure in ("charge_in_c", "charge_out_worst_c", "charge_out_plateau_c", "charge_out_full_power_c"):
            assert hard[parts]["thermal"][figure] > kit["thermal"][figure], (more, figure, parts)


def test_two_drives_put_the_same_kits_in_another_order() -> None:
    """8 L with a small front against 3 L with a large one: a 90 s hill asks for litres, 20 min on a track for face."""
    nose = {"wide": "700 mm", "high": "300 mm", "deep": "60 mm", "open": ["front", "back"], "takes": ["exchanger"]}
    nose["air"] = {"kind": "ram", "share": "18 %"}
    core, pump = shipped_part(CORE), shipped_part(PUMP)
    small, large = front(200, 100, "front-small"), front(457, 138, "front-large")
    on = small_shelf(cores=[core], pumps=[pump], exchangers=[small, large], reservoirs=[tank(8), tank(3)])
    litres_first = []
    for driving in ("hill-climb", "track"):
        brief = {**free(bay__zones__nose=nose, driving=driving), "aim": {"charge_air": "190 degC"}}
        told = [kit["parts"] for kit in all_kits(brief, "--order", "margin", shelf=on)]
        litres, fins = (
            next(at for at, parts in enumerate(told) if [*parts["exchanger"], *parts["reservoir"]] == list(pair))
            for pair in (("front-small", "tank-8"), ("front-large", "tank-3"))
        )
        litres_first.append(litres < fins)
    assert litres_first == [True, False]
