"""What a customer wants to hear besides the kits: own parts left lying, stock that nobody states, ratings unknown."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.journeys.kitwright import Tree, command, example, shipped_part, small_shelf, suggest, written

OWN = ["core-155-flat", "core-260-short", {"id": "pump-40-small", "fitted": True}]


def spoken(out: str) -> str:
    return " ".join(out.split())


def hatch(**changes: Any) -> Tree:
    """The hatch with an aim that its small pump keeps."""
    return example("hatch", aim__charge_air="90 degC", **changes)


def shelf(**rated: Any) -> Tree:
    return small_shelf(
        cores=[shipped_part("core-260-short", **rated), shipped_part("core-155-flat")],
        exchangers=[shipped_part("exchanger-380-slim")],
        pumps=[shipped_part("pump-40-small")],
        reservoirs=[shipped_part("reservoir-1-round")],
        caps=[shipped_part("cap-32-0.9", stock=2)],
    )


def test_own_parts_that_no_kit_takes_are_named_with_their_reason() -> None:
    run = suggest(hatch(own=OWN), "--json", shelf=shelf())
    assert run.code == 0 and run.answer["own_unused"] == ["core-155-flat"]
    told = spoken(suggest(hatch(own=OWN), shelf=shelf()).out)
    assert "Your own, and in no kit told here: - Flat core, 155 long and 70 high cannot be joined" in told


@pytest.mark.parametrize(("air", "day"), [("18 degC", "an 18 degC day"), ("17 degC", "a 17 degC day")])
def test_a_day_has_its_article(air: str, day: str) -> None:
    for brief in (hatch(site__air=air), example("hatch", site__air=air, aim__charge_air="45 degC")):
        assert f"on {day}" in spoken(suggest(brief, "--no-ways-out", shelf=shelf()).out)


def test_an_own_part_that_only_kits_further_down_take_is_pointed_to() -> None:
    fronts = {"exchanger-380-slim", "exchanger-398-double"}
    run = suggest(hatch(own=sorted(fronts)), "--top", "1", "--json")
    unused, = fronts - {part for parts in run.kits[0]["parts"].values() for part in parts}
    assert run.code == 0 and run.answer["own_unused"] == [unused]
    told = spoken(suggest(hatch(own=sorted(fronts)), "--top", "1").out)
    assert f"`why` with its id, {unused}, says what stands before it." in told


def test_an_own_hose_that_is_billed_all_the_same_is_told_so() -> None:
    """It was billed in full without a word."""
    plain = suggest(hatch(), "--json", shelf=shelf()).kits[0]
    hose = next(line["part"] for line in plain["lines"] if line["item"].startswith("hose"))
    run = suggest(hatch(own=[hose]), "--json", shelf=shelf())
    assert run.kits[0]["price_cents"] == plain["price_cents"] and run.answer["own_unused"] == [hose]
    told = spoken(suggest(hatch(own=[hose]), shelf=shelf()).out)
    assert "Your own, and in no kit told here:" in told and "are all billed off the shelf" in told
    assert "all billed off the shelf" not in spoken(suggest(hatch(own=OWN), shelf=shelf()).out)


def test_an_own_part_that_stays_or_is_wanted_or_used_is_not_told_as_unused() -> None:
    used = suggest(hatch(own=["core-260-short"], wanted=["core-155-flat"]), "--json", shelf=shelf())
    assert used.answer["own_unused"] == []
    plain = suggest(hatch(), "--json", shelf=shelf())
    assert plain.answer["own_unused"] == []


@pytest.mark.parametrize("part", ["fan-140", "timer-5"])
def test_a_fan_or_timer_that_stays_stops_no_kit_where_none_is_asked_for(part: str) -> None:
    """Fans and timers count after a standstill alone; one that was said to stay once left no kit at all."""
    without, run = (suggest(hatch(own=own), "--json") for own in ([], [{"id": part, "fitted": True}]))
    assert run.code == 0 and run.kits[0]["parts"] == without.kits[0]["parts"]
    assert run.answer["own_unused"] == [part]


def test_the_sheet_lists_what_the_customer_has(tmp_path: Path) -> None:
    (tmp_path / "car.yaml").write_text(written(hatch(own=OWN)), encoding="utf-8")
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "parts.yaml").write_text(written(shelf()), encoding="utf-8")
    made = command("sheet", tmp_path / "car.yaml", "-o", tmp_path / "car.html", "--catalogue", tmp_path / "shelf")
    assert made.code == 0, made.err
    page = (tmp_path / "car.html").read_text(encoding="utf-8")
    assert "core-155-flat, core-260-short: go in where they serve" in page
    assert "Your own, and in no kit told here" in page


@pytest.mark.parametrize("in_stock", [True, False])
def test_parts_without_a_stated_stock_are_assumed_there_where_only_stock_is_wanted(in_stock: bool) -> None:
    silent = shipped_part("cap-32-0.9")
    silent.pop("stock", None)
    run = suggest(hatch(in_stock=in_stock), "--json", shelf={**shelf(), "caps": [silent]})
    told = [one["text"] for one in run.answer["assumed"] if one["about"] == "stock"]
    assert bool(told) == in_stock
    assert all("parts of this shelf state no stock: they are taken to be there" in text for text in told)


def test_the_first_sentence_says_that_a_kit_is_unproven_and_why() -> None:
    unknown = suggest(hatch(), shelf=shelf(coolant__working="unknown"))
    assert unknown.code == 4
    assert "UNPROVEN: 1 thing states no pressure rating" in spoken(unknown.out.split("\n\n")[0])
    assert "UNPROVEN" not in suggest(hatch(), shelf=shelf()).out


@pytest.mark.parametrize(
    ("coldest", "site", "told"),
    [
        ("-10 degC", {"site__coldest": None}, True),
        ("-10 degC", {"site__coldest": "-5 degC"}, False),
        ("-25 degC", {"site__coldest": None}, False),
    ],
)
def test_where_no_night_is_named_the_cold_that_leaves_a_hose_out_is_told(coldest: str, site: Tree, told: bool) -> None:
    """Hoses are held against -20 degC then: common practice, no source."""
    stock = shelf()
    stock["hoses"] = [*stock["hoses"], shipped_part("hose-rubber-19", id="hose-brittle", coldest=coldest)]
    run = suggest(hatch(**site), "--json", shelf=stock)
    texts = [one["text"] for one in run.answer["assumed"]]
    assert ("hoses and adapters must stand -20 degC, as no night is named" in texts) == told


def test_what_core_and_couplers_take_of_the_charge_is_what_its_limit_is_held_against() -> None:
    """The pipes of the engine are in what is lost from charger to throttle, and in no limit."""
    kit = suggest("hatch", "--json").answer["kits"][0]
    of_kit = kit["thermal"]["charge_loss_of_kit_pa"]
    assert of_kit == pytest.approx(kit["thermal"]["charge_loss_pa"] - 2000.0, abs=0.2), "2 kPa of pipes are assumed"
    told = [
        suggest(example("hatch", aim={"charge_air": "80 degC", "charge_loss": f"{of_kit + more} Pa"}), "--json").answer
        for more in (0.2, -0.2)
    ]
    assert told[0]["kits"][0]["parts"] == kit["parts"] != told[1]["kits"][0]["parts"]


@pytest.mark.parametrize(
    ("without", "needs"),
    [
        (["rev_limit"], "`rev_limit`"),
        (["displacement"], "`displacement`"),
        (["displacement", "rev_limit"], None),
        ([], None),
    ],
)
def test_what_the_check_of_power_against_boost_lacks_is_told(without: list[str], needs: str | None) -> None:
    """With the displacement alone nothing was checked, and nobody heard of it."""
    brief = hatch(**{f"engine__{key}": None for key in without})
    told = suggest(brief, "--json", shelf=shelf()).answer["not_checked"]
    found = [one["needs"] for one in told if one["rule"] == "power against boost"]
    assert found == ([f"{needs} under engine too"] if needs else [])


def test_a_fan_that_feeds_a_zone_is_said_to_be_the_cars_own() -> None:
    """It is on no bill, and somebody looked for it there."""
    brief = hatch(bay__zones__nose__air={"kind": "fan"})
    told = spoken(suggest(brief, shelf=shelf()).out)
    assert "face speed 3 m/s at 'nose' from a fan that the car has there, which is not in the kit" in told


@pytest.mark.parametrize("rating", ["2.5 bar", "unknown"])
@pytest.mark.parametrize("bay", [None, "unmeasured"])
def test_a_fit_that_is_not_decided_is_told_apart_from_a_rating_that_nobody_states(bay: str | None, rating: str) -> None:
    """In a bay that nobody measured every kit was told to hold a part without a rating."""
    brief, stock = hatch() if bay is None else hatch(bay=bay), shelf(coolant__working=rating)
    kit = suggest(brief, "--json", shelf=stock).kits[0]
    unrated, unfit = rating == "unknown", bay is not None
    assert kit["proven"] is not (unrated or unfit)
    assert ("unproven" in {one["code"] for one in kit["cautions"]}) is unrated
    assert any(side["unproven"] for side in kit["pressure"].values()) is unrated
    assert kit["fit"]["decided"] is not unfit
    table = spoken(suggest(brief, shelf=stock).out).partition("core + exchanger")[2].partition("In brackets")[0]
    assert ("unproven" in table, "fit not decided" in table) == (unrated, unfit)
