"""Coolant that comes near boiling, coolant that boils, and reservoirs without room for it to grow."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from tests.journeys.checks import check
from tests.journeys.kitwright import Tree, shipped, shipped_part, suggest
from tests.journeys.test_cautions import PARTS, brief, shelf

LATER = "cap-32-0.9"


def with_caps(on: Tree, *ids: str) -> Tree:
    return {**on, "caps": [cap for cap in shipped("caps") if cap["id"] in ids]}


def answer(start: str | None = None, caps: tuple[str, ...] = ("cap-32-0.5",), **changes: Any) -> Tree:
    """The plain car's answer on five parts and the caps named, its coolant started as warm as told."""
    started = {} if start is None else {"coolant__start": start}
    run = suggest(brief(**started, **changes), "--json", shelf=with_caps(shelf(), *caps))
    assert run.code in (0, 1), run.err
    return run.answer


def codes(kit: Tree) -> set[str]:
    return {caution["code"] for caution in kit["cautions"]}


@cache
def start_for(margin_k: float) -> str:
    """The start at which the plain car's hottest coolant keeps this far from boiling, as a start at 105 degC tells."""
    return f"{105.0 + answer('105 degC')['kits'][0]['thermal']['boil_margin_k'] - margin_k:.2f} degC"


def test_a_margin_under_ten_kelvin_is_told_and_one_above_is_not() -> None:
    """10 K: common practice, no source."""
    near, far = (answer(start_for(margin))["kits"][0] for margin in (9.8, 10.2))
    assert near["thermal"]["boil_margin_k"] == pytest.approx(9.8, abs=0.15)
    assert far["thermal"]["boil_margin_k"] == pytest.approx(10.2, abs=0.15)
    assert "boil-margin" in codes(near) and "boil-margin" not in codes(far)


def test_a_kit_whose_coolant_boils_is_none_and_a_later_cap_makes_it_one() -> None:
    start = start_for(-1.0)
    boiling = answer(start)
    assert boiling["outcome"] == "no_kit" and boiling["kits"] == []
    nearest = boiling["closest"][0]
    assert nearest["missed"] == ["coolant boils"]
    assert nearest["thermal"]["boil_margin_k"] == pytest.approx(-1.0, abs=0.5)
    told = [caution["text"] for caution in nearest["cautions"] if caution["code"] == "boil-margin"]
    assert len(told) == 1 and "boils" in told[0]
    held = answer(start, caps=("cap-32-0.5", LATER))
    assert [kit["parts"]["cap"] for kit in held["kits"]] == [[LATER]]
    assert held["kits"][0]["thermal"]["boil_margin_k"] > 0


def test_a_higher_site_takes_kelvins_off_the_margin() -> None:
    """About 3 K for 1000 m under an open tank, less under a cap: steam table, 79.5 kPa and 50 kPa more at 2000 m."""
    low, high = (answer("105 degC", site__altitude=f"{metres} m")["kits"][0]["thermal"] for metres in (0, 2000))
    assert 3.5 < low["boil_margin_k"] - high["boil_margin_k"] < 6.0


def test_check_tells_that_the_coolant_boils() -> None:
    car = brief(coolant__start=start_for(-1.0))
    on = with_caps(shelf(), "cap-32-0.5")
    box = {"kit": "hot", "parts": [*PARTS]}
    told = check(box, "--json", brief=car, shelf=on).answer
    assert told["in_car"]["missed"] == ["coolant boils"]
    assert told["in_car"]["thermal"]["boil_margin_k"] < 0
    assert "boil-margin" in {caution["code"] for caution in told["cautions"]}
    assert "coolant boils" in check(box, brief=car, shelf=on).out


def of_air(share: float, **changes: Any) -> tuple[Tree, Tree]:
    """The answer with a reservoir of that share of air in its inside, and its only reservoir."""
    tank = shipped_part("reservoir-1-round", air_space=f"{100 * share:.4f} %", **changes)
    return suggest(brief(), "--json", shelf=shelf(tank)).answer, tank


def test_air_for_six_hundredths_of_the_coolant_is_enough() -> None:
    """6 % of the loop's volume: common practice, no source. The reservoir holds 1 L of coolant."""
    litres = float(of_air(0.12)[0]["kits"][0]["coolant_l"])
    for share, warned in ((0.0595, True), (0.0605, False)):
        air = share * litres
        assert ("air-space" in codes(of_air(air / (1 + air))[0]["kits"][0])) == warned


def test_a_sealed_tank_full_to_the_brim_makes_no_kit_and_an_open_one_warns() -> None:
    assert of_air(0.0)[0]["kits"] == [] == of_air(0.0)[0]["closest"]
    tank = shipped_part("reservoir-1-round", air_space="0 %", vented=True)
    tank["coolant"]["ends"] = [end for end in tank["coolant"]["ends"] if end["form"] != "neck"]
    kits = suggest(brief(), "--json", shelf=shelf(tank)).kits
    assert kits and all("air-space" in codes(kit) and "cap" not in kit["parts"] for kit in kits)


@pytest.mark.parametrize("capped", [{"parts": [*PARTS]}, {"parts": [*PARTS[:-1]], "cap": "0.5 bar"}])
def test_check_refuses_a_sealed_tank_full_to_the_brim(capped: Tree) -> None:
    """Whether its cap is in the box or only stated; the stated one once went unseen."""
    for share, refused in (("0 %", True), ("12 %", False)):
        on = shelf(shipped_part("reservoir-1-round", air_space=share))
        told = check({"kit": "full", "boost": "0.9 bar", **capped}, "--json", shelf=on).answer
        assert ("no-air-space" in {rule["rule"] for rule in told["broken"]}) == refused
