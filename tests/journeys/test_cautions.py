"""Every caution there is, in every output: a kit that raises it says so on the screen, in JSON, CSV and check."""

from __future__ import annotations

import ast
import csv
import io
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from configurator.reasons import cautions
from configurator.reasons.coolant_cautions import outside_tables
from tests.journeys.caution_codes import CODES
from tests.journeys.checks import check, flowing
from tests.journeys.checks import run as kitwright
from tests.journeys.kitwright import Tree, shipped, shipped_part, small_shelf, suggest, written

PARTS = ("core-210-short", "exchanger-440-double", "pump-50-medium", "reservoir-1-round", "cap-32-0.5")

ADAPTERS = ("barb-orb-1", "barb-npt-1-2", "coupler")
"""Beginnings of the adapters that the cases take; the rest would only take time."""


def brief(**changes: Any) -> Tree:
    """A plain car with all its zones placed, the reservoir's the highest."""
    every = ["front", "back", "left", "right", "up", "down"]
    data: Tree = {
        "brief": "Plain car",
        "engine": {"power": "165 kW", "fuel": "petrol", "charger": "turbo", "boost": "0.9 bar",
                   "charger_outlet": "51 mm", "throttle": "60 mm"},
        "site": {"air": "25 degC", "coldest": "-15 degC"},
        "driving": "fast-road",
        "aim": {"charge_air": "120 degC"},
        "coolant": {"kinds": ["ethylene glycol"]},
        "bay": {"zones": {
            "grille": {"wide": "660 mm", "high": "260 mm", "deep": "90 mm", "open": [*every], "takes": ["exchanger"],
                       "at": {"back": "70 mm", "right": "-320 mm", "up": "200 mm"},
                       "air": {"kind": "ram", "share": "20 %"}},
            "side": {"wide": "400 mm", "high": "260 mm", "deep": "400 mm", "open": [*every], "takes": ["core"],
                     "at": {"back": "500 mm", "right": "-300 mm", "up": "400 mm"}},
            "wing": {"wide": "260 mm", "high": "500 mm", "deep": "300 mm", "open": [*every],
                     "takes": ["reservoir", "pump"],
                     "at": {"back": "420 mm", "right": "420 mm", "up": "700 mm"}},
        }},
    }  # fmt: skip
    for path, value in changes.items():
        *above, last = path.split("__")
        inner = data
        for key in above:
            inner = inner[key]
        inner[last] = value
    return data


def shelf(*parts: Tree) -> Tree:
    """A shelf of the five parts, with those given in the place of their kind."""
    sections = {"core": "cores", "exchanger": "exchangers", "pump": "pumps", "reservoir": "reservoirs"}
    chosen = {kind: next(part for part in PARTS if part.startswith(kind)) for kind in sections}
    made: dict[str, Tree] = {kind: shipped_part(part) for kind, part in chosen.items()}
    hanging = {f"{kind}s": [part for part in parts if part["id"].startswith(kind)] for kind in ("valve", "wye")}
    parts = tuple(part for part in parts if not part["id"].startswith(("valve", "wye")))
    rigid = [part for part in parts if not part["id"].startswith("adapter")]
    made.update({next(kind for kind in sections if part["id"].startswith(kind)): part for part in rigid})
    few = [part for part in shipped("adapters") if part["id"].startswith(ADAPTERS)]
    few += [part for part in parts if part not in rigid]
    return {**small_shelf(**{sections[kind]: [part] for kind, part in made.items()}), "adapters": few, **hanging}


def with_ends(part_id: str, **end: Any) -> Tree:
    """A shipped part with other coolant ends in the place of its way in and out."""
    part = shipped_part(part_id)
    part["coolant"]["ends"] = [
        {**found, **end} if found["name"] in ("in", "out") else found for found in part["coolant"]["ends"]
    ]
    return part


def to_19(part_id: str, **end: Any) -> Tree:
    """An invented adapter from an end to a 19 mm barb."""
    barb = {"name": "hose", "form": "spigot", "size": "19 mm", "barb": True}
    through = {"working": "4 bar", "hottest": "150 degC", "bore": "15 mm", "ends": [{"name": "part", **end}, barb]}
    made = {"id": part_id, "name": f"Invented {part_id}", "price": 9, "shape": "adapter", "medium": "coolant"}
    return {**made, "length": "50 mm", "through": through}


def without_bleed(part_id: str) -> Tree:
    part = shipped_part(part_id)
    part["coolant"]["ends"] = [end for end in part["coolant"]["ends"] if end["name"] in ("in", "out")]
    return part


CLIP = {"form": "qc-coolant", "size": "19 mm", "profile": "clip-19"}
NARROW = with_ends("exchanger-440-double", bore="9 mm")
WIDE_ENGINE = {"engine__charger_outlet": "76 mm", "engine__throttle": "76 mm"}
LOW_RESERVOIR = {"bay__zones__wing__at": {"back": "420 mm", "right": "420 mm", "up": "100 mm"}}
ICED: Tree = {
    "ice": {"kind": "cubes", "mass": "300 g"}, "coolant__kinds": ["water"], "site__coldest": "5 degC",
    "driving": {"stretches": [{"lasts": "9 s", "share": "100 %", "speed": "120 km/h"}], "total": "9 s",
                "passes": 3, "between": "1 min"},
}  # fmt: skip
BYPASS = (shipped_part("valve-19"), shipped_part("wye-19"), shipped_part("valve-25"), shipped_part("wye-25"))
ICE_TANK = (shipped_part("pump-46-small"), shipped_part("reservoir-6-vented", ice=True))
CASES: dict[str, tuple[dict[str, Any], tuple[Tree, ...]]] = {
    "power-boost-disagree": ({"engine__displacement": "4 L", "engine__rev_limit": "7000 rpm"}, ()),
    "drain-water": ({"coolant__kinds": ["water"], "site__coldest": "5 degC"}, ()),
    "impossible-figure": ({}, (shipped_part("reservoir-1-round", coolant__volume="10 L"),)),
    "unproven": ({}, (shipped_part("core-210-short", charge__working="unknown"),)),
    "tight": ({"bay__tolerance": "150 mm"}, ()),
    "little-room": ({"bay__zones__grille__deep": "58 mm"}, ()),
    "look-alike": ({}, (shipped_part("core-300-slim"), shipped_part("exchanger-380-slim"))),
    "thin-margin": ({}, (shipped_part("exchanger-440-double", coolant__working="1.4 bar"),)),
    "vacuum-fill": ({"bay__zones__wing__at": {}}, (without_bleed("core-210-short"),)),
    "reservoir-below": (LOW_RESERVOIR, ()),
    "reservoir-inside": ({"bay__zones__wing__at": {"back": "3.6 m", "right": "0 mm", "up": "700 mm"}}, ()),
    "drains-back": (LOW_RESERVOIR, ({**without_bleed("reservoir-1-round"), "vented": True},)),
    "boil-margin": ({"coolant__start": "112 degC"}, ()),
    "outside-tables": ({"coolant__start": "112 degC", "driving": {**ICED["driving"], "passes": 1}}, ()),
    "suction-margin": ({"coolant__start": "104 degC"}, ()),
    "condensate": ({"site__humidity": "60 %"}, ()),
    "air-space": ({}, (shipped_part("reservoir-1-round", air_space="3 %"),)),
    "warms-radiator": ({"bay__zones__grille__air": {"face_speed": "1 m/s"}}, ()),
    "no-air": ({"bay__zones__grille__air": {"kind": "none"}, "aim": {"charge_air": "150 degC"}}, ()),
    "thrust": ({"engine__boost": "1.3 bar"}, ()),
    "outside-iso-228": ({}, (with_ends("exchanger-440-double", form="g", size="1/2"),
                             to_19("adapter-r", form="r", size="1/2"))),
    "taper-thread": ({}, (with_ends("exchanger-440-double", form="npt", size="1/2"),)),
    "bore-unknown": ({}, (with_ends("exchanger-440-double", form="qc-coolant", size="form16", sex="female"),
                          to_19("adapter-clip", form="qc-coolant", size="form16", sex="male"))),
    "quick-connect-limit": ({}, (with_ends("exchanger-440-double", sex="female", **CLIP),
                                 to_19("adapter-clip", sex="male", **CLIP))),
    "suction-hose": ({}, (shipped_part("pump-46-small"), shipped_part("reservoir-6-vented"))),
    "lined-coupler": ({"engine__boost": "1.6 bar", "site__air": "45 degC"}, ()),
    "narrow-bores": ({}, (NARROW,)),
    "narrow-charge": (WIDE_ENGINE, (shipped_part("core-176-wide"),)),
    "no-price": ({}, (with_ends("exchanger-440-double", sex="female", **CLIP),
                      {**to_19("adapter-clip", sex="male", **CLIP), "price": 0})),
    "route-longer": ({"bay__runs": {"grille-side": "0.4 m"}}, ()),
    "route-shorter": ({"bay__runs": {"grille-side": "6 m"}}, ()),
    "no-route": ({"bay__zones__wing__open": [], "bay__zones__wing__wide": "500 mm", "bay__zones__wing__deep": "500 mm",
                  "bay__zones__wing__high": "700 mm"}, ()),
    "ice-tank": (ICED, ICE_TANK),
    "wet-charge": (ICED, ICE_TANK),
    "no-strainer": (ICED, ICE_TANK),
    "ice-short": (ICED, ICE_TANK),
    "ice-not-ready": (ICED, ICE_TANK),
    "valve-on-bypass": ({**ICED, "layouts": ["bypass"]}, (*ICE_TANK, *BYPASS)),
    "valve-open": ({"layouts": ["bypass"]}, BYPASS),
}
"""Changes of the brief and of the shelf that raise a code; a code that is not here is raised by any kit with glycol."""


PLAIN = "plain"
ALONE = "alone-only"
"""Said where parts are tried one by one, which no kit is there for."""

OF_TWO_ENDS_ALONE = {"vacuum-coupler", "bead-not-told", "coupler-rating", "hose-rating"}
"""What `mate` says of two ends and of no kit: kits have no coupler behind the throttle, and shelves tell of beads."""

OF_CASE = {PLAIN: [code for code in CODES if code not in {*CASES, ALONE, *OF_TWO_ENDS_ALONE}]}
OF_CASE |= {code: [code] for code in CASES}
"""The codes that each case shows."""


@cache
def answered(case: str) -> tuple[Tree, Tree, Tree]:
    """Brief, shelf and kit 1 of a case."""
    changes, parts = CASES.get(case, ({}, ()))
    asked, stock = brief(**changes), shelf(*parts)
    run = suggest(asked, "--json", shelf=stock)
    assert run.code in (0, 4), run.err or run.out[:3000]
    return asked, stock, run.kits[0]


def texts(cautions: list[Tree], code: str) -> list[str]:
    return [caution["text"] for caution in cautions if caution["code"] == code]


def test_the_registry_holds_every_code_that_the_module_can_say() -> None:
    fixed = {value.code for value in vars(cautions).values() if isinstance(value, cautions.Caution)}
    assert fixed <= set(CODES)
    assert set(CASES) <= set(CODES)


def test_the_registry_holds_every_code_that_any_module_can_say() -> None:
    """Each caution is made with a code that stands there as a word, or with that of another caution."""
    package = Path(cautions.__file__).parents[1]
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in sorted(package.rglob("*.py"))]
    made = [node for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Call)]
    codes = [call.args[0] for call in made if isinstance(call.func, ast.Name) and call.func.id == "Caution"]
    handed_on = [code for code in codes if isinstance(code, ast.Attribute) and code.attr == "code"]
    words = [code.value for code in codes if isinstance(code, ast.Constant)]
    assert len(words) + len(handed_on) == len(codes) > 40
    assert set(words) == set(CODES)


@pytest.mark.parametrize(
    "deep, told, codes",
    [
        ("60 mm", {}, set()),
        ("59 mm", {}, {"little-room"}),
        ("59 mm", {"bay__tolerance": "4 mm"}, set()),
        ("59 mm", {"bay__tolerance": "5 mm"}, {"tight"}),
    ],
)
def test_room_is_held_against_the_tolerance_that_is_told_and_else_against_5_mm(
    deep: str, told: dict[str, str], codes: set[str]
) -> None:
    """A front 50 mm deep in the middle of a gap. The 5 mm of a tape measure: common practice, no source."""
    run = suggest(brief(bay__zones__grille__deep=deep, **told), "--json", shelf=shelf())
    assert run.kits[0]["fit"]["clearance_mm"] == (float(deep.split()[0]) - 50.0) / 2
    assert {"tight", "little-room"} & {caution["code"] for caution in run.kits[0]["cautions"]} == codes


def test_a_part_that_the_customer_has_lacks_no_price() -> None:
    """What is to be bought at no price is told behind the sum, in the caution and in the draft of the bill."""
    stock = shelf(shipped_part("pump-50-medium", price=0))
    screen = flowing(suggest(brief(), shelf=stock).out)
    assert "(not all priced): keeps" in screen and "The price lacks that of " in screen
    had = suggest(brief(own=["pump-50-medium"]), shelf=stock)
    assert had.code == 0 and "not all priced" not in had.out and "The price lacks" not in had.out
    kit = suggest(brief(), "--json", shelf=stock).kits[0]
    box = {"kit": "the same parts", "parts": [part for parts in kit["parts"].values() for part in parts]}
    assert "no-price" not in {one["code"] for one in check(box, "--json", shelf=stock).answer["cautions"]}


def test_a_box_tells_behind_its_sum_that_what_it_lacks_has_no_price() -> None:
    _, stock, kit = answered("no-price")
    box = {"kit": "the same parts", "parts": [part for parts in kit["parts"].values() for part in parts]}
    assert "(not all priced): " in flowing(check(box, shelf=stock).out)


def test_of_many_parts_without_a_price_a_few_are_named() -> None:
    assert "that of A: the shelf" in cautions.no_price(["A"]).text
    assert "that of A and B: the shelf" in cautions.no_price(["A", "B"]).text
    assert "that of A, B, C, D and 2 more: the shelf" in cautions.no_price([*"ABCDEF"]).text


def test_a_lower_cap_is_advised_on_the_coolant_side_alone_and_under_a_cap_alone() -> None:
    for side, capped in (("charge", True), ("charge", False), ("coolant", False)):
        text = cautions.thin_margin(side, "Part", "core", 1.1, capped=capped).text
        assert "A stronger part there helps" in text and "cap" not in text
    assert "A lower cap or a stronger part" in cautions.thin_margin("coolant", "Part", "core", 1.1, capped=True).text
    weak = cautions.thin_margin("charge", "Part", "core", 0.71, capped=True).text
    assert weak.startswith("The charge side is too weak: ") and "little to spare" not in weak


def test_a_leak_that_only_the_overshoot_turns_may_go_into_the_engine_at_full_boost() -> None:
    """0.9 bar of boost is 1.2 bar with its overshoot: a coolant of 1.02 bar lies between the two."""
    assert "and may at full boost" in cautions.leak_direction(1.02e5, 1.2e5).text
    assert "at full boost the charge pushes" in cautions.leak_direction(0.47e5, 1.75e5).text


def test_a_coolant_beyond_its_tables_is_told_with_the_end_that_it_passed() -> None:
    """Published tables of glycols go from -35 to 100 degC."""
    hot, cold = outside_tables(385.15, 373.15).text, outside_tables(233.15, 238.15).text
    assert "at 112 degC" in hot and "end at 100 degC" in hot and "that cool" in hot
    assert "at -40 degC" in cold and "end at -35 degC" in cold and "that warm" in cold


def said(case: str) -> list[tuple[str, str]]:
    """Codes and texts that kit 1 of a case carries in JSON, of the codes that the case is there for."""
    found = [(code, text) for code in OF_CASE[case] for text in texts(answered(case)[2]["cautions"], code)]
    assert {code for code, _ in found} == set(OF_CASE[case])
    return found


def test_parts_tried_alone_carry_their_caution() -> None:
    asked = brief()
    document = suggest(asked, "--json", "--fits-only", shelf=shelf()).answer
    (text,) = texts(document["cautions"], ALONE)
    assert flowing(text) in flowing(suggest(asked, "--fits-only", shelf=shelf()).out)


def test_every_code_has_its_case() -> None:
    assert sorted([ALONE, *OF_TWO_ENDS_ALONE, *(code for codes in OF_CASE.values() for code in codes)]) == sorted(CODES)


@pytest.mark.parametrize("case", OF_CASE)
def test_the_screen_has_it_as_json_has(case: str) -> None:
    asked, stock, _ = answered(case)
    screen = flowing(suggest(asked, shelf=stock).out)
    for _, text in said(case):
        assert flowing(text) in screen


@pytest.mark.parametrize("flags", [("--wide",), ("--top", "1", "--order", "price"), ("--all-variants",)])
@pytest.mark.parametrize("case", [PLAIN, "thin-margin"])
def test_no_flag_hides_it(case: str, flags: tuple[str, ...]) -> None:
    asked, stock, _ = answered(case)
    screen = flowing(suggest(asked, *flags, shelf=stock).out)
    for _, text in said(case):
        assert flowing(text) in screen


@pytest.mark.parametrize("case", OF_CASE)
def test_the_csv_has_it(case: str, tmp_path: Path) -> None:
    asked, stock, _ = answered(case)
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "parts.yaml").write_text(written(stock), encoding="utf-8")
    (tmp_path / "brief.yaml").write_text(written(asked), encoding="utf-8")
    bill = tmp_path / "bill.csv"
    kitwright("suggest", str(tmp_path / "brief.yaml"), "--catalogue", str(tmp_path / "shelf"), "--bill", str(bill))
    rows = list(csv.DictReader(io.StringIO(bill.read_text(encoding="utf-8"))))
    found = [(row["part"], row["item"]) for row in rows if row["group"] == "caution"]
    assert set(said(case)) <= set(found)


@pytest.mark.parametrize("case", OF_CASE)
def test_check_has_it_on_the_screen_and_in_json(case: str) -> None:
    asked, stock, kit = answered(case)
    box = {"kit": "the same parts", "parts": [part for parts in kit["parts"].values() for part in parts]}
    box["parts"] += [] if kit["bypass"] is None else [kit["bypass"]["valve"]]
    cautions_told = check(box, "--json", brief=asked, shelf=stock).answer["cautions"]
    screen = flowing(check(box, brief=asked, shelf=stock).out)
    for code in OF_CASE[case]:
        assert texts(cautions_told, code)
        assert all(flowing(text) in screen for text in texts(cautions_told, code))
