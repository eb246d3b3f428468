"""Recipes of DEVELOPERS.md, followed to the letter in a copy of the checkout: they touch what they name, and work."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.house.checkout import ROOT
from tests.house.recipe_steps import FORMULA, LAYOUT, OUTPUT, PART, RULE_FOR_A_PART, RULE_FOR_TWO_ENDS, Step
from tests.journeys.kitwright import command, example, shipped_part, small_shelf, written

RECIPES: dict[str, tuple[Step, ...]] = {
    "Add a part": PART,
    "Add a layout": LAYOUT,
    "Add a rule for a part alone": RULE_FOR_A_PART,
    "Add a rule for two ends": RULE_FOR_TWO_ENDS,
    "Add a formula, and the figure that it gives": FORMULA,
    "Add an output": OUTPUT,
}
KEPT_BY_HAND = {"tests/joining/test_mating.py", "tests/golden/screens.py"}
"""Files of tests that a recipe names and that are not followed here: pairs typed by hand, and kept screens."""

ELSEWHERE = {
    "Add a rule for a part alone": {"questions/ways_out.py"},
    "Add a formula, and the figure that it gives": {"questions/answer.py", "questions/offer.py"},
    "Add an output": {"presentation/html.py"},
}
"""Files that a recipe names for another case than the one that is followed."""


def recipe(name: str) -> str:
    """The words of a recipe."""
    chapter = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("## Recipes", 1)[1].split("\n## ", 1)[0]
    found = [part for part in chapter.split("\n- **") if part.startswith(f"{name}**")]
    assert len(found) == 1, name
    return found[0]


def named_by(name: str) -> set[str]:
    """The files that a recipe names, from the top of the checkout."""
    told = set(re.findall(r"`((?:[\w-]+/)*[\w.-]+\.(?:py|yaml|md))`", recipe(name))) - ELSEWHERE.get(name, set())
    top = ("tests/", "catalogue/", "examples/", "DEVELOPERS.md")
    return {path if path.startswith(top) else f"configurator/{path}" for path in told} - KEPT_BY_HAND


@pytest.mark.parametrize("name", RECIPES)
def test_a_recipe_names_each_file_that_it_takes_and_no_other(name: str) -> None:
    touched = {step.file for step in RECIPES[name]}
    there = {path for path in touched if (ROOT / path).is_file()}
    assert there == named_by(name)
    assert all(f"`{Path(path).parent.name}`" in recipe(name) for path in touched - there), "a new module in its room"


@dataclass(frozen=True)
class Copy:
    """A copy of the checkout in which every recipe was followed."""

    folder: Path

    def run(self, *words: str | Path) -> subprocess.CompletedProcess[str]:
        """Run a module of the copy as a user would."""
        known = {**os.environ, "PYTHONPATH": str(self.folder), "COLUMNS": "80", "NO_COLOR": "1"}
        command = [sys.executable, "-m", *map(str, words)]
        return subprocess.run(command, cwd=self.folder, env=known, capture_output=True, encoding="utf-8", check=False)

    def kitwright(self, *words: str | Path) -> str:
        """What a command of the copy prints; it has to end without a fault."""
        done = self.run("configurator", *words)
        assert done.returncode in (0, 1, 4) and "Traceback" not in done.stderr, f"{words}: {done.stderr}"
        return " ".join(done.stdout.split())


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Copy:
    folder = tmp_path_factory.mktemp("checkout") / "copy"
    leave = shutil.ignore_patterns("__pycache__", "*.png")
    tests = ("tests/house", "tests/reference_cases", "tests/journeys", "tests/oracles")
    for name in ("configurator", "catalogue", "examples", *tests):
        shutil.copytree(ROOT / name, folder / name, ignore=leave)
    for name in ("README.md", "DEVELOPERS.md", "pyproject.toml", "tests/conftest.py"):
        shutil.copy(ROOT / name, folder / name)
    for steps in RECIPES.values():
        for step in steps:
            path = folder / step.file
            old = path.read_text(encoding="utf-8") if path.is_file() else ""
            path.write_text(step.into(old), encoding="utf-8")
    return Copy(folder)


@pytest.fixture(scope="module")
def shelf(copy: Copy) -> Path:
    """A small shelf with the part of the recipe, its source, and a pump for another voltage."""
    folder = copy.folder / "small"
    folder.mkdir()
    parts = {
        "cores": [shipped_part("core-260-short")],
        "exchangers": [shipped_part("exchanger-350-slim")],
        "pumps": [shipped_part("pump-40-small"), shipped_part("pump-40-small", id="pump-of-a-lorry", volts=24)],
        "reservoirs": [shipped_part("reservoir-8-cube")],
    }
    rest = small_shelf(**parts)
    (folder / "cores.yaml").write_text("cores:\n" + PART[0].text + _entry(), encoding="utf-8")
    rest.pop("cores")
    (folder / "rest.yaml").write_text(written(rest), encoding="utf-8")
    shutil.copy(copy.folder / "catalogue" / "sources.yaml", folder)
    return folder


def _entry() -> str:
    """The core that the customer's kits have besides, as the shelf writes it."""
    cores = (ROOT / "catalogue" / "cores.yaml").read_text(encoding="utf-8")
    return "  - id: " + next(text for text in cores.split("  - id: ") if text.startswith("core-260-short\n"))


@pytest.fixture(scope="module")
def brief(copy: Copy) -> Path:
    """The hatch before its bay was measured, on an even road, by the layout of the recipe alone."""
    even = {"stretches": [{"lasts": "60 s", "share": "40 %", "speed": "80 km/h"}], "total": "60 s"}
    path = copy.folder / "brief.yaml"
    path.write_text(
        written(example("hatch", bay="unmeasured", driving=even, layouts=["front-first"])), encoding="utf-8"
    )
    return path


@pytest.fixture(scope="module")
def answer(copy: Copy, brief: Path, shelf: Path) -> str:
    return copy.kitwright("suggest", brief, "--catalogue", shelf, "--wide", "--weights", "--no-ways-out")


def test_a_part_is_on_the_shelf_with_its_source(copy: Copy, shelf: Path, answer: str) -> None:
    shown = copy.kitwright("shelf", "show", "core-200-sheet", "--catalogue", shelf)
    assert "Core by a sheet, 200 long" in shown and "Invented. What its sheet says." in shown
    assert "core-200-sheet + exchanger-350-slim" in answer


def test_a_layout_makes_kits_in_its_order(answer: str) -> None:
    assert "pump outlet to exchanger inlet" in answer and "pump outlet to core" not in answer


def test_a_rule_for_a_part_keeps_it_out_and_says_why(copy: Copy, brief: Path, shelf: Path, answer: str) -> None:
    sentence = "Small 40 litre pump, 3/4 inch hose wants 24 V, the car has 12 V."
    assert sentence in answer
    told = copy.kitwright("why", brief, "pump-of-a-lorry", "pump-40-small", "--catalogue", shelf)
    assert sentence in told and "the car has one voltage. It takes a pump made for it." in told
    assert "[pump-40-small] is IN" in told


def test_a_rule_for_a_part_is_the_judges_as_well(copy: Copy) -> None:
    """In the copy it leaves out a pump for a lorry, whatever else stands in its loop."""
    (copy.folder / "judged.py").write_text(
        "from types import SimpleNamespace\n"
        "from tests.oracles.try_everything import _Judge\n"
        "print(_Judge._alone(None, {'pump': SimpleNamespace(volts=24)}))\n",
        encoding="utf-8",
    )
    done = copy.run("judged")
    assert done.stdout == "False\n", done.stderr


def test_a_rule_for_two_ends_is_kept(copy: Copy, shelf: Path) -> None:
    wide = copy.kitwright("mate", "hose:38mm", "spigot:38mm:bead", "--catalogue", shelf)
    assert wide.startswith("No: ") and "a hose so wide needs a formed joint" in wide and "creeps off" in wide
    assert command("mate", "hose:38mm", "spigot:38mm:bead", "--catalogue", shelf).out.startswith("Yes"), "without it"


def test_a_formula_comes_out_as_a_figure(answer: str) -> None:
    told = re.search(r"into the coolant ([\d.]+) W of the pump", answer)
    assert told and 1.0 < float(told[1]) < 46.0, "less than the pump draws"


def test_an_output_is_written(answer: str) -> None:
    assert re.search(r"Kit 1 weighs ([\d.]+) kg dry, [\d.]+ kg filled\.", answer)


@pytest.mark.parametrize("beside", ["--json", "--fits-only"])
def test_an_output_for_people_is_refused_where_it_would_spoil_another(copy: Copy, brief: Path, beside: str) -> None:
    """Its text stood behind the JSON document, which no program could read then."""
    done = copy.run("configurator", "suggest", brief, "--weights", beside)
    assert done.returncode == 2 and done.stdout == "" and "--weights" in done.stderr


def test_the_house_takes_what_the_recipes_made(copy: Copy) -> None:
    """Its own tests in the copy: rows of codes, keys of the documents, docstrings of formulas, values from books."""
    where, chosen = (
        ("tests/house", "tests/reference_cases/test_flow_and_time.py"),
        "every_code or every_key or hydraulic",
    )
    done = copy.run("pytest", "-vv", "-n", "0", "-p", "no:cacheprovider", *where, "-k", chosen)
    assert done.returncode == 0, done.stdout[-3000:]
    for name in (
        "every_code_is_listed",
        "every_key_of_the_json",
        "pipe_flow.hydraulic_power",
        "hydraulic power of a pump",
    ):
        assert re.search(rf"{name}.* PASSED", done.stdout), name
