"""The builder with a cramped bay: what goes in, which way round, and by how much the rest misses."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.journeys.checks import flowing
from tests.journeys.kitwright import Tree, command, example, shipped_part, small_shelf, suggest


def tried(brief: Tree, shelf: Tree | None = None) -> Tree:
    """The document of `--fits-only`."""
    return dict(suggest(brief, "--fits-only", "--json", shelf=shelf).answer)


def entry(document: Tree, part: str, zone: str | None = None) -> Tree:
    """One part's line in one zone."""
    entries = [found for slot in document["slots"].values() for found in slot if found["part"] == part]
    return dict(next(found for found in entries if zone in (None, found["zone"])))


def exchanger(deep: str) -> Tree:
    return shipped_part("exchanger-455-thick", id=f"exchanger-{deep.split()[0]}", size={
        "x": deep, "y": "400 mm", "z": "140 mm"})  # fmt: skip


def test_a_millimetre_decides_and_is_told() -> None:
    shelf = small_shelf(exchangers=[exchanger("60 mm"), exchanger("61 mm")])
    document = tried(example("hatch"), shelf)
    enters, misses = entry(document, "exchanger-60"), entry(document, "exchanger-61")
    assert (enters["fits"], enters["clearance_mm"], enters["size_mm"]) == (True, 0.0, [60, 400, 140])
    assert (misses["fits"], misses["cause"], misses["miss_mm"]) == (False, "walls", 1)
    screen = suggest(example("hatch"), "--fits-only", shelf=shelf).out
    assert "TIGHT" in next(line for line in screen.splitlines() if "exchanger-60" in line)
    assert "misses by 1 mm in its depth" in screen


def test_the_utes_60_mm_exchanger_is_out_by_10_mm() -> None:
    run = suggest("ute", "--json", "--no-ways-out")
    assert run.code == 1
    (reason,) = [one for one in run.answer["exclusions"] if one["part"] == "exchanger-455-thick"]
    assert (reason["code"], reason["found"], reason["unit"]) == ("does-not-fit", 10.0, "mm")
    assert "by 10 mm" in reason["text"]
    assert entry(tried(example("ute")), "exchanger-455-thick")["miss_mm"] == 10


@pytest.mark.parametrize(("name", "code"), [("ute", 1), ("drag", 0)])
def test_a_core_above_the_tank_is_bled_and_filled_with_care_not_refused(name: str, code: int) -> None:
    run = suggest(name, "--json", *(["--no-ways-out"] if code else []))
    assert run.code == code
    kit = (run.kits or run.answer["closest"])[0]
    heights = kit["fit"]["heights_mm"]
    assert heights["core"][1] > heights["reservoir"][1]
    told = {caution["code"] for caution in kit["cautions"]}
    assert {"reservoir-below"} <= told
    assert any("vacuum" in caution["text"] and "bleed" in caution["text"] for caution in kit["cautions"])
    assert any(line["item"].startswith("bleed") and line["place"] == "core" for line in kit["lines"])
    assert "too-high" not in {one["code"] for one in run.answer["exclusions"] if one["part"].startswith("core")}


def test_an_opening_keeps_out_what_its_zone_would_take() -> None:
    brief = example("hatch")
    brief["bay"]["zones"]["bulkhead"]["way_in"] = {"wide": "200 mm", "high": "139 mm"}
    document = tried(brief)
    # 260 x 160 x 140 mm goes through its smallest face, 160 x 140: 1 mm too high for 139.
    assert (entry(document, "core-260-short")["cause"], entry(document, "core-260-short")["miss_mm"]) == ("way in", 1)
    assert entry(document, "core-230-short")["fits"]


def test_ends_that_must_face_a_side_decide_the_turn() -> None:
    brief = example("hatch")
    free = entry(tried(brief), "core-175-short")
    brief["bay"]["zones"]["bulkhead"]["ends"] = {"charge": ["front", "back"]}
    lengthwise = entry(tried(brief), "core-175-short")
    assert lengthwise["fits"] and lengthwise["front"] in ("-x", "+x")
    brief["bay"]["zones"]["bulkhead"]["ends"] = {"charge": ["left", "right"]}
    across = entry(tried(brief), "core-175-short")
    assert across["fits"] and across["front"] in ("-y", "+y")
    assert free["clearance_mm"] >= max(lengthwise["clearance_mm"], across["clearance_mm"])
    brief["bay"]["zones"]["bulkhead"]["ends"] = {"charge": ["up"]}
    stood = entry(tried(brief), "core-175-short")
    assert (stood["fits"], stood["cause"]) == (False, "ends face")


def test_what_goes_in_alone_is_counted_in_the_first_sentence() -> None:
    document = tried(example("retro"))
    goes_in = {one["part"] for one in document["slots"]["core"] if one["fits"]}
    screen = flowing(suggest(example("retro"), "--fits-only").out)
    assert f"{len(goes_in)} of {len({one['part'] for one in document['slots']['core']})} cores" in screen
    assert document["outcome"] == "fits"


def test_an_unmeasured_bay_is_answered_with_sizes_to_measure_for() -> None:
    run = suggest({**example("hatch"), "bay": "unmeasured"}, "--fits-only", "--json")
    assert (run.code, run.answer["outcome"]) == (4, "not_decided")
    sizes = {one["part"]: one["sides_mm"] for one in run.answer["measure_for"]}
    assert sizes["core-260-short"] == [260, 160, 140]
    screen = suggest({**example("hatch"), "bay": "unmeasured"}, "--fits-only", "--wide")
    assert "260 x 160 x 140 mm" in screen.out


def test_a_bay_that_takes_nothing_is_a_no() -> None:
    brief = example("hatch")
    brief["bay"]["zones"]["nose"].update(deep="15 mm")
    run = suggest(brief, "--fits-only", "--json")
    assert (run.code, run.answer["outcome"]) == (1, "does_not_fit")


@pytest.mark.parametrize("option", ["--bill", "--draw", "--chart", "--trace", "--sketch", "--improve"])
def test_what_only_a_kit_has_is_not_asked_of_parts_tried_alone(option: str, tmp_path: Path) -> None:
    """The file was not written, and nothing said so."""
    words = [option] if option in ("--sketch", "--improve") else [option, tmp_path / "q.csv"]
    run = command("suggest", "none.yaml", "--fits-only", *words)
    assert run.code == 2 and f"makes no kit: leave {option} out" in run.err and list(tmp_path.iterdir()) == []
