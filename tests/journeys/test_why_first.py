"""Why kit 1 is first, and what would put another there: each move is made in brief or shelf, and the kits asked again.

One unit less of a move, and kit 1 stays where it is.
"""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from tests.journeys.checks import run
from tests.journeys.kitwright import Tree, example, opened, shipped, shipped_part, small_shelf, suggest, written

CORES = ("core-260-short",)
FRONTS = ("exchanger-350-slim", "exchanger-380-slim", "exchanger-398-double")
PUMP, TANK = "pump-40-small", "reservoir-8-cube"
UNIT = {"enough": 1.0, "aim": 1.0, "air": 1.0, "driving": 5.0, "price": 0.01}


def made_shelf() -> Tree:
    return small_shelf(
        cores=[shipped_part(core) for core in CORES], exchangers=[shipped_part(front) for front in FRONTS],
        pumps=[shipped_part(PUMP)], reservoirs=[shipped_part(TANK)],
    )  # fmt: skip


def brief(**changes: Any) -> Tree:
    return opened(example("hatch", **changes))


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Tree:
    folder = tmp_path_factory.mktemp("first")
    (folder / "shelf").mkdir()
    (folder / "brief.yaml").write_text(written(brief()), encoding="utf-8")
    (folder / "shelf" / "parts.yaml").write_text(written(made_shelf()), encoding="utf-8")
    ran = run("why", str(folder / "brief.yaml"), "--first", "--json", "--catalogue", str(folder / "shelf"))
    assert ran.code == 0
    document: Tree = json.loads(ran.out)
    return document


def choice(parts: list[str]) -> set[str]:
    return {part for part in parts if part in (*CORES, *FRONTS)}


def moved(flip: Tree, to: float) -> tuple[Tree, Tree]:
    """Brief and shelf with one figure as it is told, or a unit short of that."""
    shelf = made_shelf()
    what = flip["change"]
    if what == "price":
        shelf = copy.deepcopy(shelf)
        for part in (part for section in shelf.values() for part in section):
            if part["id"] == flip["part"]:
                part["price"] = round(to, 2)
        return brief(), shelf
    if what == "driving":
        return brief(driving=milder(to / 100)), shelf
    key = {"enough": "enough", "aim": "aim__charge_air", "air": "site__air"}[what]
    unit = {"enough": "K", "aim": "degC", "air": "degC"}[what]
    return brief(**{key: f"{to:g} {unit}"}), shelf


def milder(share: float) -> Tree:
    pattern = next(one for one in shipped("driving") if one["id"] == "hill-climb")
    made: Tree = {key: copy.deepcopy(value) for key, value in pattern.items() if key in {"stretches", "total", "rest"}}
    for stretch in made["stretches"]:
        percent = float(str(stretch["share"]).split()[0])
        stretch["share"] = f"{max(percent * share, 2):g} %"
    return made


def first(asked: tuple[Tree, Tree]) -> set[str]:
    best = suggest(asked[0], "--json", "--top", "1", shelf=asked[1]).kits[0]
    return choice([part for parts in best["parts"].values() for part in parts])


def test_kits_and_reasons_are_those_of_the_answer(told: Tree) -> None:
    kits = suggest(brief(), "--json", shelf=made_shelf()).kits
    assert [kit["price_cents"] for kit in told["kits"]] == [kit["price_cents"] for kit in kits]
    for kit, row in zip(kits[1:], told["kits"][1:], strict=True):
        step = row["behind"]["step"]
        winner, this = (
            {"margin": k["thermal"]["margin_low_k"], "room": k["fit"]["clearance_mm"], "price": k["price_cents"]}[step]
            for k in (kits[0], kit)
        )
        assert (row["behind"]["first"], row["behind"]["this"]) == pytest.approx((winner, this), abs=0.01)
        assert winner > this if step in {"margin", "room"} else winner < this
    assert told["kits"][0]["behind"] is None


def test_each_move_told_puts_that_kit_first_and_one_unit_less_does_not(told: Tree) -> None:
    assert {flip["change"] for flip in told["flips"]} >= {"enough", "price"}
    now = choice(told["kits"][0]["parts"])
    for flip in told["flips"]:
        then, unit = choice(flip["first"]), UNIT[flip["change"]]
        short = flip["to"] - unit if flip["to"] > flip["from"] else flip["to"] + unit
        assert then != now
        assert first(moved(flip, flip["to"])) == then, flip
        if short != flip["from"]:
            assert first(moved(flip, short)) == now, flip


def test_no_kit_and_parts_beside_it_are_told_apart(tmp_path: Path) -> None:
    (tmp_path / "brief.yaml").write_text(written(brief(aim__charge_air="30 degC")), encoding="utf-8")
    (tmp_path / "parts.yaml").write_text(written(made_shelf()), encoding="utf-8")
    asked = ("why", str(tmp_path / "brief.yaml"), "--first", "--catalogue", str(tmp_path))
    (tmp_path / "shelf").mkdir()
    (tmp_path / "parts.yaml").rename(tmp_path / "shelf" / "parts.yaml")
    none = run(*asked[:-1], str(tmp_path / "shelf"))
    assert none.code == 1
    assert "none stands first" in none.out
    both = run(*asked[:2], "core-260-short", "--first", "--catalogue", str(tmp_path / "shelf"))
    assert both.code == 2
