"""Where nothing can be put together: the answer names the cause, and what it offers comes true."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from configurator.presentation.ways_facts import why_none
from configurator.questions.ways_out import WaysOut
from tests.journeys.checks import flowing
from tests.journeys.kitwright import Tree, example, shipped_part, small_shelf, suggest


def shelf(*adapters: Tree) -> Tree:
    """Two cores of the hatch with what goes with them; `adapters`: more of the charge side."""
    made = small_shelf(
        cores=[shipped_part("core-260-short"), shipped_part("core-230-short")],
        pumps=[shipped_part("pump-40-small")],
        exchangers=[shipped_part("exchanger-350-slim")],
        reservoirs=[shipped_part("reservoir-8-cube")],
    )
    return {**made, "adapters": [*made["adapters"], *adapters]}


def coupler(small: str, large: str) -> Tree:
    part = shipped_part("coupler-57-70", id="bought")
    part["through"] = {**part["through"], "working": "6 bar", "hottest": "230 degC"}
    for end, size in zip(part["through"]["ends"], (small, large), strict=True):
        end["size"] = size
    return part


def test_a_coupler_that_the_shelf_lacks_is_named_by_its_two_ends_and_gives_a_kit() -> None:
    """No coupler of the shelf leads to 67 mm; the cores' charge ends have 70 and 76 mm."""
    brief = example("hatch", engine__throttle="67 mm", limits=None)
    run = suggest(brief, "--json", shelf=shelf())
    assert run.answer["outcome"] == "no_kit" and run.answer["conflict"]["rules"] == ["adapter"]
    ways = [(way["from"], way["to"]) for way in run.answer["nearest"]]
    assert ways and all(small == "coupler:67mm" for small, _ in ways)
    large = ways[0][1].removeprefix("coupler:").removesuffix("mm") + " mm"
    told = flowing(suggest(brief, shelf=shelf()).out)
    assert f"one coupler from 67 mm to {large} (on the shelf; tried as lined" in told
    assert suggest(brief, "--json", shelf=shelf(coupler("67 mm", large))).answer["outcome"] != "no_kit"


def test_power_for_which_no_core_stands_the_charge_is_named_and_the_power_told_gives_a_kit() -> None:
    brief = example("hatch", engine__boost="4 bar", engine__power="500 kW", limits=None, aim__charge_air="120 degC")
    run = suggest(brief, "--json", shelf=shelf())
    assert run.answer["outcome"] == "no_kit" and "power" in run.answer["conflict"]["rules"]
    (way,) = [way for way in run.answer["nearest"] if way["change"] == "power"]
    changes = {one["change"]: f"{one['to']} {one['unit']}" for one in (way, *way["and"])}
    softer = {f"engine__{name}": figure for name, figure in changes.items()}
    assert suggest(example("hatch", limits=None, aim__charge_air="120 degC", **softer), "--json", shelf=shelf()).kits


@pytest.mark.parametrize(
    ("section", "kind"),
    [("pumps", "pump"), ("reservoirs", "reservoir"), ("hoses", "hose"), ("clamps", "clamp")],
)
def test_a_shelf_without_a_kind_says_so_and_blames_no_limit(section: str, kind: str) -> None:
    less = {name: parts for name, parts in shelf().items() if name != section}
    run = suggest("hatch", shelf=less)
    told = flowing(run.out)
    assert run.code == 1 and f"the shelf has no {kind}." in told
    assert ("under `own`" in told) == (kind not in ("hose", "clamp")), "a clamp of the customer's is not looked for"
    assert "No change of the brief mends that" in told and "stands in the way" not in told
    text = suggest("hatch", "--json", shelf=less).answer["conflict"]["text"]
    assert text.startswith("No change of the brief mends that: put a") and kind in text


def test_a_shelf_without_exchangers_says_so_and_that_a_loop_may_do_without() -> None:
    less = {name: parts for name, parts in shelf().items() if name != "exchangers"}
    run = suggest("hatch", shelf=less)
    told = flowing(run.out)
    assert run.code == 1 and "the shelf has no exchanger." in told and "stands in the way" not in told
    assert "Put an exchanger on the shelf, or name the customer's under `own`; or do without, as below." in told
    assert "- no front exchanger (`without: [exchanger]`)" in told and "No change of the brief" not in told
    assert suggest(example("hatch", without=["exchanger"]), "--json", shelf=less).kits


@pytest.mark.parametrize(("section", "kind"), [("caps", "cap"), ("adapters", "adapter")])
def test_a_shelf_without_a_kind_that_not_every_kit_takes_says_no_more_than_that(section: str, kind: str) -> None:
    run = suggest("hatch", shelf={name: parts for name, parts in shelf().items() if name != section})
    told = flowing(run.out)
    assert run.code == 1 and f"nothing joins and fits, and the shelf has no {kind}." in told
    assert f"put a {kind}" not in told and f"put an {kind}" not in told


def test_where_some_demands_were_not_tried_none_is_cleared() -> None:
    untried: Any = SimpleNamespace(ways_out=WaysOut((), (), ("power",)), blocked=None, left=())
    tried: Any = SimpleNamespace(ways_out=WaysOut((), (), ()), blocked=None, left=())
    assert why_none(untried).startswith("Whether a demand of the brief stands in the way is not known")
    assert why_none(tried).startswith("No limit of the brief stands in the way")
