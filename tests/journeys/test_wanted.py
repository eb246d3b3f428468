"""A part that the brief wants: kits are those of before that hold it, and where there is none the answer says why."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.journeys.checks import check, run
from tests.journeys.kitwright import Tree, all_kits, example, opened, shipped_part, small_shelf, suggest, written

CORES = ("core-260-short", "core-230-short", "core-420-plain")
FRONTS = ("exchanger-350-slim", "exchanger-395-slim", "exchanger-450-slim")
PUMPS, TANKS = ("pump-40-small", "pump-35-common"), ("reservoir-8-cube", "reservoir-2-square")
TOO_LONG = "core-420-plain"


@pytest.fixture(scope="module")
def shelf() -> Tree:
    sections = {"cores": CORES, "exchangers": FRONTS, "pumps": PUMPS, "reservoirs": TANKS}
    return small_shelf(**{name: [shipped_part(part) for part in parts] for name, parts in sections.items()})


def hatch(*wanted: str, **changes: object) -> Tree:
    return {**opened(example("hatch")), "wanted": list(wanted), **changes}


def held(kit: Tree) -> set[str]:
    return {part for parts in kit["parts"].values() for part in parts}


@pytest.mark.parametrize(
    "wanted",
    [
        ("core-230-short",),
        ("exchanger-450-slim", "pump-35-common"),
        ("reservoir-8-cube",),
        ("core-260-short", TOO_LONG),
    ],
)
def test_kits_are_those_of_before_with_one_wanted_part_of_each_kind(wanted: tuple[str, ...], shelf: Tree) -> None:
    kinds = {word.split("-")[0] for word in wanted}
    of_kind = [{word for word in wanted if word.startswith(kind)} for kind in kinds]
    before = [kit for kit in all_kits(opened(example("hatch")), shelf=shelf) if all(held(kit) & one for one in of_kind)]
    now = all_kits(hatch(*wanted), shelf=shelf)
    alike = ("parts", "fit", "thermal", "joints", "price_cents")
    assert [[kit[key] for key in alike] for kit in now] == [[kit[key] for key in alike] for kit in before] != []


def test_looking_for_the_best_alone_finds_the_same(shelf: Tree) -> None:
    asked = hatch("core-230-short", "pump-35-common")
    whole, best = (suggest(asked, "--json", *how, shelf=shelf).kits for how in ((), ("--proof",)))
    assert [kit["parts"] for kit in best] == [kit["parts"] for kit in whole] != []


def test_others_of_its_kind_are_out_because_it_is_wanted_and_nothing_else_changes(shelf: Tree) -> None:
    before, now = (
        {out["part"]: out["code"] for out in suggest(brief, "--json", shelf=shelf).answer["exclusions"]}
        for brief in (opened(example("hatch")), hatch("core-230-short"))
    )
    assert now.pop("core-260-short") == now.pop(TOO_LONG) == "another-wanted"
    assert before.pop(TOO_LONG) == "does-not-fit"
    assert now.items() >= before.items()


def test_a_wanted_part_that_is_in_no_kit_is_told_with_its_reason(shelf: Tree) -> None:
    with_kits = suggest(hatch("core-260-short", TOO_LONG), shelf=shelf)
    none = suggest(hatch(TOO_LONG), shelf=shelf)
    reason = "Wanted, and in no kit, each with its first reason: - Large plain tube-and-fin core, 420 long misses"
    for asked, code in ((with_kits, 0), (none, 1)):
        assert asked.code == code
        assert reason in " ".join(asked.out.split())
        assert re.search(rf"\nNext: kitwright why \S+ {TOO_LONG} --catalogue \S+\n$", asked.out)
    told = " ".join(none.out.split())
    assert "One demand alone rules out every kit of this shelf in this car: the parts wanted" in told
    assert "Every kit holds core-260-short, as wanted." in " ".join(with_kits.out.split())
    assert "Wanted" not in suggest(hatch("core-260-short"), shelf=shelf).out


def test_parts_without_a_partner_are_out_for_want_of_it_and_not_blamed(shelf: Tree) -> None:
    out = {out["part"]: out for out in suggest(hatch(TOO_LONG), "--json", shelf=shelf).answer["exclusions"]}
    assert {out[part]["code"] for part in (*PUMPS, *TANKS)} == {"none-left"}
    assert out["pump-40-small"]["text"] == (
        "Small 40 litre pump, 3/4 inch hose is out because no core is left to go with it."
    )


def test_why_a_wanted_core_is_out_names_its_joint_to_the_engine_beside_its_size(tmp_path: Path) -> None:
    brief = tmp_path / "brief.yaml"
    brief.write_text(written(hatch(TOO_LONG)), encoding="utf-8")
    (story,) = run("why", str(brief), TOO_LONG, "--json").answer["parts"]
    assert [reason["code"] for reason in story["breaks"]] == ["does-not-fit", "ends-do-not-meet"]


def test_a_part_that_the_customer_has_may_be_wanted(shelf: Tree) -> None:
    mine = shipped_part("core-230-short", id="my-core", kind="core")
    kits = all_kits(hatch("my-core", own=[mine]), shelf=shelf)
    assert kits and all("my-core" in held(kit) for kit in kits)


ICE = {"kind": "block", "mass": "5 kg"}


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"wanted": ["core-260-shrt"]}, "no core, exchanger, pump or reservoir on this shelf; did you mean 'core-2"),
        ({"wanted": ["cap-45-vented"]}, "'cap-45-vented' is a cap: only a core, exchanger, pump or reservoir can be"),
        ({"without": ["core-260-short"]}, "'core-260-short' is wanted here and not wanted under without"),
        ({"without": ["core"]}, "'core-260-short' is wanted here and not wanted under without"),
        ({"own": [{"id": "core-230-short", "fitted": True}]}, "'core-230-short' stays in the car (fitted: true): no"),
        (
            {"wanted": ["exchanger-350-slim"], "ice": ICE, "coolant": {"kinds": ["water"]}},
            "'exchanger-350-slim' would warm the ice: with ice no front exchanger is bought",
        ),
        ({"wanted": "core-260-short"}, "a list is expected here"),
    ],
    ids=["unknown", "small part", "not wanted", "kind not wanted", "another stays", "warms the ice", "no list"],
)
def test_what_cannot_be_wanted_is_refused_at_its_place(changes: Tree, told: str, shelf: Tree) -> None:
    run = suggest({**hatch("core-260-short"), **changes}, shelf=shelf)
    assert run.code == 3 and run.out == ""
    assert "wanted" in run.err and told in run.err and "1 problem to mend" in run.err


def test_a_wanted_part_whose_own_entry_has_mistakes_is_known_all_the_same(shelf: Tree) -> None:
    """It was told as the id of no part on this shelf, beside the mistakes that kept it from being read."""
    his = shipped_part("core-260-short", id="his-core")
    del his["price"], his["mass"]
    run = suggest(hatch("his-core", own=[{"kind": "core", **his}]), shelf=shelf)
    assert run.code == 3 and "his-core.price: missing key" in run.err and "2 problems to mend" in run.err
    assert "is the id of no" not in run.err
    other = suggest(hatch("her-core", own=[{"kind": "core", **his}]), shelf=shelf)
    assert "'her-core' is the id of no" in other.err


def test_what_stays_in_the_car_and_an_exchanger_past_the_ice_may_be_wanted(shelf: Tree) -> None:
    stays = suggest(hatch("core-230-short", own=[{"id": "core-230-short", "fitted": True}]), "--json", shelf=shelf)
    assert stays.code == 0 and all("core-230-short" in held(kit) for kit in stays.kits)
    iced = hatch("exchanger-350-slim", ice=ICE, coolant={"kinds": ["water"]}, layouts=["bypass"])
    assert suggest(iced, "--json", shelf=shelf).code != 3


def test_a_box_of_parts_is_judged_in_the_car_whatever_the_brief_wants() -> None:
    bare, wished = (check("good", "--json", brief=brief).answer for brief in (hatch(), hatch("core-260-short")))
    assert bare["in_car"]["thermal"] == wished["in_car"]["thermal"]


def test_a_change_of_the_box_goes_to_no_part_of_whose_kind_another_is_wanted() -> None:
    before, now = (
        {row["kind"] for row in check("good", "--json", "--improve", brief=brief).answer["improve"]}
        for brief in (hatch(), hatch("core-210-short"))
    )
    assert {"core", "pump"} <= before
    assert now == before - {"core"}


def test_why_another_is_out_says_how_to_let_it_in(tmp_path: Path) -> None:
    brief = tmp_path / "brief.yaml"
    brief.write_text(written(hatch("core-230-short")), encoding="utf-8")
    told = " ".join(run("why", str(brief), "core-260-short").out.split())
    assert "is left out because the brief wants core-230-short." in told
    assert "Add it to `wanted` in the brief, or take that out." in told


def test_what_fits_is_told_of_the_wanted_part_alone(shelf: Tree) -> None:
    told = suggest(hatch("core-230-short"), "--fits-only", shelf=shelf).out
    assert "core-230-short" in told and "core-260-short" not in told and "exchanger-350-slim" in told
