"""What one change of a kit buys: every row held against the changed kit as it is really asked for, and trade laws.

The laws are frozen, not the figures: lumped sums against an invented shelf.
"""

from __future__ import annotations

import re
from functools import cache, partial
from pathlib import Path
from typing import Any

import pytest

from tests.journeys import made_parts
from tests.journeys.checks import Ran, check
from tests.journeys.kitwright import (
    Run,
    Tree,
    all_kits,
    command,
    example,
    opened,
    shipped,
    shipped_part,
    small_shelf,
    suggest,
    written,
)
from tests.journeys.made_parts import tank

CORE, LARGER_CORE, PUMP, OTHER_PUMP = "core-230-short", "core-260-short", "pump-50-medium", "pump-40-small"
FRONT, OTHER_FRONT = "exchanger-460-plain", "exchanger-350-slim"
FIGURES = {
    "margin_k": lambda kit: kit["thermal"]["margin_k"],
    "margin_low_k": lambda kit: kit["thermal"]["margin_low_k"],
    "plateau_k": lambda kit: kit["thermal"]["charge_out_plateau_c"],
    "price_cents": lambda kit: kit["price_cents"],
    "mass_dry_g": lambda kit: kit["mass_dry_g"],
    "current_a": lambda kit: kit["current_a"],
    "clearance_mm": lambda kit: kit["fit"]["clearance_mm"],
    "recovery_s": lambda kit: kit["thermal"]["recovery_s"],
}
CLOSE = {"margin_k": 0.011, "margin_low_k": 0.011, "plateau_k": 0.011, "current_a": 0.011, "recovery_s": 0.11}
"""Both sides are rounded for their documents; all other figures are whole."""


# --- the rows are the kits ---


LAYOUT_IDS = {"bypass": "a-valve", "single": "plain", "twin-exchangers-parallel": "fronts-abreast"}
"""Shipped layouts, each under another id; that with a valve comes first of them."""


def test_layouts_go_by_any_id_and_twins_are_told_as_they_lie(tmp_path: Path) -> None:
    """Twins of a layout whose id ended otherwise stopped the command, and the table told the last word of the id."""
    layouts = [{**one, "id": LAYOUT_IDS[one["id"]]} for one in shipped("layouts") if one["id"] in LAYOUT_IDS]
    on = {**hatch_shelf(), "layouts": layouts}
    run = suggest(hatch(), "--json", "--improve", "--order", "price", shelf=on)
    assert run.code == 0, run.err
    assert {kit["layout"] for kit in run.kits} == {"plain"}
    seconds = rows(run, "second exchanger")
    assert {row["layout"] for row in seconds} == {"fronts-abreast"}
    assert all(row["change"].startswith("second front in parallel: exchanger-") for row in seconds)
    twins = hatch(layouts=["fronts-abreast"], limits=None)
    table = suggest(twins, shelf=on).out
    assert re.search(r"2 ×\s+exchanger-[\w-]+,\s+parallel\n", table), table
    (tmp_path / "brief.yaml").write_text(written(twins), encoding="utf-8")
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "parts.yaml").write_text(written(on), encoding="utf-8")
    first = command("why", tmp_path / "brief.yaml", "--first", "--catalogue", tmp_path / "shelf").out
    assert re.search(r"2 × exchanger-[\w-]+\s\(parallel\)", first), first


def hatch(**changes: Any) -> Tree:
    """The hatch with an aim that turns no kit away, and three limits that do."""
    limits = {"price": 1200, "mass_dry": "14 kg", "current": "6 A"}
    # Water in the charge and antifreeze are no matter here, and take long to reckon.
    dry = {"site__humidity": None, "site__coldest": "5 degC", "coolant": {"kinds": ["water"]}}
    return opened(example("hatch", **{"aim": {"charge_air": "160 degC"}, "limits": limits, **dry, **changes}))


def in_one_bore(**sections: Any) -> Tree:
    """A small shelf with hose of 19 mm alone: no other is tried."""
    on = small_shelf(**sections)
    return {**on, "hoses": [hose for hose in on["hoses"] if hose["bore"] == "19 mm"]}


def hatch_shelf() -> Tree:
    """Of every kind one part, and another to take its place."""
    return in_one_bore(
        cores=[shipped_part(CORE), shipped_part(LARGER_CORE)],
        pumps=[shipped_part(PUMP), shipped_part(OTHER_PUMP)],
        exchangers=[shipped_part(FRONT), shipped_part(OTHER_FRONT)],
        reservoirs=[tank(3)],
        wyes=[shipped_part("wye-19")],
    )


@cache
def asked() -> Run:
    """The cheapest kit of that shelf and every change of it."""
    return suggest(hatch(), "--json", "--improve", "--order", "price", shelf=hatch_shelf())


def rows(run: Run | Ran, kind: str) -> list[Tree]:
    """The rows of one kind, most margin first."""
    return [row for row in run.answer["improve"] if row["kind"] == kind]


def changed(row: Tree, kit: Tree) -> dict[str, list[str]]:
    """The parts of a kit with the change of a row made."""
    parts = {kind: list(held) for kind, held in kit["parts"].items()}
    kind = row["kind"].rpartition(" ")[2]
    parts[kind] = parts[kind] * 2 if row["kind"].startswith("second") else [row["part"]]
    for part in row["along"]:
        parts[part.partition("-")[0]] = [part]
    return parts


@cache
def everything() -> Run:
    """Every kit of that shelf, without limits, in the layouts that the changes are in."""
    layouts = ["single", "twin-exchangers-parallel", "twin-exchangers-series"]
    brief = hatch(limits=None, layouts=layouts)
    return suggest(brief, "--json", "--all-variants", "--top", "1000", shelf=hatch_shelf())


def found(row: Tree) -> Tree:
    """The kit among all kits that the row is about."""
    parts = changed(row, asked().kits[0])
    return next(kit for kit in everything().kits if kit["parts"] == parts and kit["layout"] == row["layout"])


def test_every_row_is_the_changed_kit_as_the_search_of_all_kits_has_it() -> None:
    """Each row is one of all kits, less the first kit as it is among them."""
    base = asked().kits[0]
    judged = set()
    for row in asked().answer["improve"]:
        if row["brief"] is not None:
            continue
        judged.add(row["kind"])
        for name, of in FIGURES.items():
            difference = of(found(row)) - of(base)
            assert row[name] == pytest.approx(difference, abs=CLOSE.get(name, 1e-6)), (row["text"], name)
    assert judged == {"core", "exchanger", "pump", "second exchanger"}


def test_limits_that_a_changed_kit_breaks_are_named_and_the_row_is_still_there() -> None:
    base = asked().kits[0]
    assert base["missed"] == []
    limits = {"price": 120_000, "mass": 14_000, "current": 6}
    whole = {"price": "price_cents", "mass": "mass_dry_g", "current": "current_a"}
    broken = set()
    for row in asked().answer["improve"]:
        for code, figure in whole.items():
            over = base[figure] + row[figure] > limits[code] if row[figure] is not None else False
            assert (code in row["breaks"]) == over, (row["text"], code)
            broken |= {code} if over else set()
    assert broken, "no change breaks any limit: the case says nothing"


def test_a_swap_costs_what_the_two_bills_differ_by() -> None:
    """Line by line: parts, hose, adapters, clamps, wiring and coolant of both kits."""
    base = asked().kits[0]
    for kind in ("core", "pump"):
        (row,) = rows(asked(), kind)
        bills = [sum(line["price_cents"] for line in kit["lines"]) for kit in (base, found(row))]
        assert row["price_cents"] == bills[1] - bills[0] != 0
        assert row["from"] in base["parts"][kind]


def test_margin_for_each_100_is_margin_over_price() -> None:
    for row in asked().answer["improve"]:
        paid, gained = row["price_cents"], row["margin_k"]
        if paid is None or paid <= 0 or gained <= 0:
            assert row["kelvin_per_100"] is None
        else:
            assert row["kelvin_per_100"] == pytest.approx(gained / (paid / 100) * 100, abs=0.011 / (paid / 1e4))


def test_rows_stand_by_the_margin_they_buy() -> None:
    gained = [row["margin_k"] for row in asked().answer["improve"]]
    assert gained == sorted(gained, reverse=True) and len(gained) >= 5


# --- a customer's own kit ---


def box(**kit: Any) -> Tree:
    """A kit file of the hatch's small shelf."""
    parts = [CORE, PUMP, OTHER_FRONT, "tank-3", "cap-45-vented"]
    return {"kit": "The customer's own", "charger_outlet": "57 mm", "throttle": "64 mm", "parts": parts, **kit}


@cache
def checked(*swap: str) -> Ran:
    """The box checked in the hatch, with one part for another."""
    kit = box()
    kit["parts"] = [swap[1] if swap and part == swap[0] else part for part in kit["parts"]]
    options = ("--json",) if swap else ("--json", "--improve")
    return check(kit, *options, brief=hatch(limits=None), shelf=hatch_shelf())


@pytest.mark.parametrize("kind", ["exchanger", "pump"])
def test_a_row_of_the_customers_kit_is_what_checking_the_changed_box_tells(kind: str) -> None:
    """Margin and room as `check` has them; the price is the new part and what the two lists to buy differ by."""
    (row, *_) = rows(checked(), kind)
    before, after = checked().answer, checked(row["from"], row["part"]).answer
    gained = after["in_car"]["thermal"]["margin_k"] - before["in_car"]["thermal"]["margin_k"]
    assert row["margin_k"] == pytest.approx(gained, abs=0.011)
    assert row["clearance_mm"] == after["in_car"]["clearance_mm"] - before["in_car"]["clearance_mm"]
    part = next(part for section in hatch_shelf().values() for part in section if part["id"] == row["part"])
    assert row["price_cents"] == after["price_cents"] - before["price_cents"] + round(part["price"] * 100)


def test_a_box_of_no_car_has_no_changes_to_tell() -> None:
    assert check(box(), "--json", shelf=hatch_shelf()).answer["improve"] is None
    told = check(box(), "--improve", shelf=hatch_shelf())
    assert told.code == 2 and "--brief" in told.err


# --- trade laws, as the table tells them ---

front = partial(made_parts.front, "exchanger-460-plain", around=(56, 12))
WITHOUT = ["exchanger"]


def litres_and_front(wide: int, high: int, speed: float) -> tuple[Tree, Tree]:
    """The loop of 3 L without a front in a 90 s run: the row of 5 L more, and that of the front."""
    nose = {"wide": "900 mm", "high": "600 mm", "deep": "90 mm", "open": ["front", "back", "left", "right"]}
    brief = hatch(limits=None, without=WITHOUT)
    brief["bay"]["zones"]["nose"] = {**nose, "air": {"face_speed": f"{speed:g} m/s"}, "takes": ["exchanger"]}
    on = in_one_bore(
        cores=[shipped_part(CORE)],
        pumps=[shipped_part(PUMP)],
        exchangers=[front(wide, high)],
        reservoirs=[{**tank(3), "price": 1}, tank(8)],
    )
    run = suggest(brief, "--json", "--improve", "--order", "price", shelf=on)
    assert run.kits[0]["parts"]["reservoir"] == ["tank-3"]
    (more,), (added,) = rows(run, "reservoir"), rows(run, "first exchanger")
    return more, added


def test_five_litres_more_buy_more_than_a_small_front_in_slow_air_and_less_than_a_large_one_in_fast() -> None:
    """0.457 m x 0.138 m = 0.063 m2 at 4 m/s: G2 x 90 s stays under what 5 L store; at 0.6 m x 0.26 m and 6 m/s the
    ratio is past 1.25 (both ends of the sweep of test_hatch_laws)."""
    more, added = litres_and_front(457, 138, 4)
    assert more["margin_k"] > added["margin_k"] > 0
    more, added = litres_and_front(600, 260, 6)
    assert added["margin_k"] > more["margin_k"] > 0


def commuter_run() -> Ran:
    """The commuter's loop as it is, without fan and timer."""
    on = in_one_bore(
        cores=[shipped_part("core-160-short"), shipped_part("core-230-short")],
        exchangers=[shipped_part("exchanger-250-square")],
        pumps=[shipped_part("pump-40-small")],
        reservoirs=[shipped_part("reservoir-0.7-bottle")],
        fans=[part for part in shipped("fans") if part["id"] == "fan-190"],
        timers=[part for part in shipped("timers") if part["id"] == "timer-5"],
    )
    kit = {"kit": "As it is", "charger_outlet": "51 mm", "throttle": "51 mm", "parts": ["core-160-short", "cap-32-0.5"]}
    return check(kit, "--improve", "--json", brief=example("commuter", limits=None, site__humidity=None), shelf=on)


def test_for_a_restart_fan_and_timer_lead_and_a_larger_core_buys_nothing() -> None:
    document = commuter_run()
    told = document.answer["improve"]
    assert [(row["kind"], row["part"], row["along"]) for row in told[:2]] == [
        ("fan and timer", "fan-190", ["timer-5"]),
        ("fan", "fan-190", []),
    ]
    (core,) = rows(document, "core")
    assert core["part"] == "core-230-short" and -3.0 < core["margin_k"] < 0.0
    (timer,) = rows(document, "timer")
    assert abs(timer["margin_k"]) < 1.0, "without a fan the pump moves warm coolant round and no more"


def test_on_a_climb_that_lasts_litres_and_a_second_core_buy_next_to_nothing_and_air_does() -> None:
    """The wagon with a core of its own choice: 15 min at one load is its plateau."""
    bores = {"engine__charger_outlet": "76 mm", "engine__throttle": "76 mm"}
    brief = opened(example("wagon", limits=None, own=None, site__humidity=None, **bores))
    brief["bay"]["zones"]["tub"] = {
        "wide": "600 mm", "high": "400 mm", "deep": "600 mm", "takes": ["core"],
        "at": {"back": "600 mm", "right": "-300 mm", "up": "400 mm"},
    }  # fmt: skip
    on = in_one_bore(
        cores=[shipped_part("core-210-short")],
        wyes=shipped("wyes"),
        exchangers=[shipped_part("exchanger-640-slim"), shipped_part("exchanger-640-broad")],
        pumps=[shipped_part("pump-50-medium")],
        reservoirs=[{**tank(3), "price": 1}, tank(8)],
    )
    run = suggest(brief, "--json", "--improve", "--order", "price", shelf=on)
    base = run.kits[0]
    (litres,) = rows(run, "reservoir")
    assert abs(litres["margin_k"]) < 0.5 and abs(litres["plateau_k"]) < 0.2
    seconds = rows(run, "second core")
    gap = base["thermal"]["core_gap_k"]
    assert seconds and all(row["margin_k"] < gap for row in seconds)
    other = max(row["margin_k"] for row in rows(run, "exchanger"))
    assert other > max(row["margin_k"] for row in seconds)


def test_after_twenty_minutes_on_a_track_more_coolant_buys_less_than_a_kelvin() -> None:
    on = in_one_bore(
        cores=[shipped_part(CORE)],
        exchangers=[shipped_part("exchanger-640-slim")],
        pumps=[shipped_part(PUMP)],
        reservoirs=[{**tank(1), "price": 1}, tank(5)],
    )
    brief = opened(example("track", limits=None, aim={"charge_air": "160 degC"}, site__humidity=None))
    brief["bay"]["zones"]["wing"] |= {"wide": "400 mm", "high": "500 mm"}
    run = suggest(brief, "--json", "--improve", "--order", "price", shelf=on)
    assert run.kits[0]["parts"]["reservoir"] == ["tank-1"]
    (litres,) = rows(run, "reservoir")
    assert abs(litres["margin_k"]) < 1.0
    (one,), (five,) = (
        [kit for kit in all_kits(brief, "--order", "price", shelf=on)
         if kit["parts"]["reservoir"] == [held] and kit["parts"]["cap"] == run.kits[0]["parts"]["cap"]]
        for held in ("tank-1", "tank-5")
    )  # fmt: skip
    assert litres["margin_k"] == pytest.approx(five["thermal"]["margin_k"] - one["thermal"]["margin_k"], abs=0.011)
    assert litres["price_cents"] == five["price_cents"] - one["price_cents"]


def test_what_a_brief_may_change_is_told_as_the_changed_brief_has_it() -> None:
    """A sealed duct and less antifreeze: each row is the same kit under the brief changed by hand."""
    on = {**hatch_shelf(), "cores": [shipped_part(CORE)], "reservoirs": [tank(3)]}
    settled = {"kinds": ["ethylene glycol"], "glycol_by_volume": "40 %"}
    changes: Tree = {"coolant": settled, "limits": None, "site__coldest": "-5 degC"}
    brief = hatch(**changes)
    brief["bay"]["zones"]["nose"]["air"]["share"] = "15 %"
    run = suggest(brief, "--json", "--improve", shelf=on)
    base = run.kits[0]
    told = {(row["kind"], row["brief"]["to"]): row for row in run.answer["improve"] if row["brief"] is not None}
    assert set(told) == {("start", 5), ("duct", 25.0), ("coolant", 20.0), ("coolant", 50.0)}
    for key, by_hand in (
        (("coolant", 20.0), {"coolant": {"kinds": ["ethylene glycol"], "glycol_by_volume": "20 %"}}),
        (("duct", 25.0), {"bay__zones__nose__air": {"kind": "ram", "sealed": True}}),
    ):
        asked_again = hatch(**{**changes, **by_hand})
        if key[0] != "duct":
            asked_again["bay"]["zones"]["nose"]["air"]["share"] = "15 %"
        kit = next(kit for kit in all_kits(asked_again, shelf=on) if kit["parts"] == base["parts"])
        row = told[key]
        assert row["margin_k"] == pytest.approx(kit["thermal"]["margin_k"] - base["thermal"]["margin_k"], abs=0.011)
        if key[0] == "coolant":
            assert row["price_cents"] == kit["price_cents"] - base["price_cents"]
        else:
            assert row["price_cents"] is None


def test_nobody_asked_nothing_is_told() -> None:
    assert everything().answer["improve"] is None


def test_never_offered_are_boost_power_caps_and_obstacles() -> None:
    kinds = {row["kind"] for row in asked().answer["improve"]}
    assert kinds <= {
        "exchanger", "core", "pump", "reservoir", "hose", "coolant", "duct", "start", "ice", "fan", "timer",
        "fan and timer", "first exchanger", "second exchanger", "second core",
    }  # fmt: skip
    of_brief = {row["brief"]["of"] for row in asked().answer["improve"] if row["brief"] is not None}
    assert of_brief <= {"antifreeze", "duct", "start", "ice"}
