"""Every caution there is, in every output: a kit that raises it says so on the screen, in JSON, CSV and check."""

from __future__ import annotations

import csv
import io
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from configurator.reasons import cautions
from configurator.reasons.cautions import CODES
from tests.journeys.checks import check, flowing
from tests.journeys.checks import run as kitwright
from tests.journeys.kitwright import Tree, shipped, shipped_part, small_shelf, suggest, written

PARTS = ("core-210-short", "exchanger-440-double", "pump-50-medium", "reservoir-1-round", "cap-32-0.5")

ADAPTERS = ("barb-orb-1", "barb-npt-1-2", "coupler")
"""Beginnings of the adapters that the cases take; the rest would only take time."""


def brief(**changes: Any) -> Tree:
    """A plain car with all its zones placed, the reservoir's the highest."""
    data: Tree = {
        "brief": "Plain car",
        "engine": {"power": "165 kW", "fuel": "petrol", "charger": "turbo", "boost": "0.9 bar",
                   "charger_outlet": "51 mm", "throttle": "60 mm"},
        "site": {"air": "25 degC", "coldest": "-15 degC"},
        "driving": "fast-road",
        "aim": {"charge_air": "120 degC"},
        "coolant": {"kinds": ["ethylene glycol"]},
        "bay": {"zones": {
            "grille": {"wide": "660 mm", "high": "260 mm", "deep": "90 mm", "takes": ["exchanger"],
                       "at": {"back": "70 mm", "right": "-320 mm", "up": "200 mm"},
                       "air": {"kind": "ram", "share": "20 %"}},
            "side": {"wide": "400 mm", "high": "260 mm", "deep": "400 mm", "takes": ["core"],
                     "at": {"back": "500 mm", "right": "-300 mm", "up": "400 mm"}},
            "wing": {"wide": "260 mm", "high": "500 mm", "deep": "300 mm", "takes": ["reservoir", "pump"],
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
    made.update({next(kind for kind in sections if part["id"].startswith(kind)): part for part in parts})
    few = [part for part in shipped("adapters") if part["id"].startswith(ADAPTERS)]
    return {**small_shelf(**{sections[kind]: [part] for kind, part in made.items()}), "adapters": few}


def without_bleed(part_id: str) -> Tree:
    part = shipped_part(part_id)
    part["coolant"]["ends"] = [end for end in part["coolant"]["ends"] if end["name"] in ("in", "out")]
    return part


LOW_RESERVOIR = {"bay__zones__wing__at": {"back": "420 mm", "right": "420 mm", "up": "100 mm"}}
CASES: dict[str, tuple[dict[str, Any], tuple[Tree, ...]]] = {
    "power-boost-disagree": ({"engine__displacement": "4 L", "engine__rev_limit": "7000 rpm"}, ()),
    "drain-water": ({"coolant__kinds": ["water"], "site__coldest": "5 degC"}, ()),
    "unproven": ({}, (shipped_part("core-210-short", charge__working="unknown"),)),
    "tight": ({"bay__tolerance": "150 mm"}, ()),
    "look-alike": ({}, (shipped_part("core-300-slim"), shipped_part("exchanger-380-slim"))),
    "thin-margin": ({}, (shipped_part("exchanger-440-double", coolant__working="1.4 bar"),)),
    "vacuum-fill": ({"bay__zones__wing__at": {}}, (without_bleed("core-210-short"),)),
    "reservoir-below": (LOW_RESERVOIR, ()),
    "boil-margin": ({"coolant__start": "112 degC"}, ()),
    "air-space": ({}, (shipped_part("reservoir-1-round", air_space="3 %"),)),
    "thrust": ({"engine__boost": "1.3 bar"}, ()),
}
"""Changes of the brief and of the shelf that raise a code; a code that is not here is raised by any kit with glycol."""


PLAIN = "plain"
OF_CASE = {PLAIN: [code for code in CODES if code not in CASES], **{code: [code] for code in CASES}}
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
    source = Path(cautions.__file__).read_text(encoding="utf-8")
    assert fixed <= set(CODES)
    assert all(f'"{code}"' in source.split("CODES = ")[0] for code in CODES), "a code that nothing says"
    assert set(CASES) <= set(CODES)


def said(case: str) -> list[tuple[str, str]]:
    """Codes and texts that kit 1 of a case carries in JSON, of the codes that the case is there for."""
    found = [(code, text) for code in OF_CASE[case] for text in texts(answered(case)[2]["cautions"], code)]
    assert {code for code, _ in found} == set(OF_CASE[case])
    return found


def test_every_code_has_its_case() -> None:
    assert sorted(code for codes in OF_CASE.values() for code in codes) == sorted(CODES)


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
    cautions_told = check(box, "--json", brief=asked, shelf=stock).answer["cautions"]
    screen = flowing(check(box, brief=asked, shelf=stock).out)
    for code in OF_CASE[case]:
        assert texts(cautions_told, code)
        assert all(flowing(text) in screen for text in texts(cautions_told, code))
