"""Docstrings of the formulas, held against their signatures: arguments, units, range, errors, source."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.house.checkout import PACKAGE
from tests.house.docstrings import NOT_PHYSICS, Formula, formulas, lacks, unit_in

FORMULAS = [
    formula
    for room in ("physics", "foundations")
    for path in sorted((PACKAGE / room).glob("*.py"))
    for formula in formulas(path)
]


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.name)
def test_a_formula_says_all_that_its_caller_has_to_know(formula: Formula) -> None:
    assert lacks(formula) == []


def test_there_are_formulas_to_look_at() -> None:
    assert len(FORMULAS) > 60 and {formula.name for formula in FORMULAS} > NOT_PHYSICS


GOOD = '''"""Speeds. Published: a textbook (from memory)."""
class Both(NamedTuple):
    """The mean `speed` [m/s], and the peak."""
    speed: Array
    peak: Array
    """[m/s]"""
def speed(flow: Numbers, bore: Numbers, kind: str) -> Array:
    """Mean speed [m/s] of a `flow` [m³/s] >= 0 in a `bore` [m].

    `kind`: a word. Raises ValueError for another.
    """
    if kind != "round":
        raise ValueError(kind)
def slower(flow: Numbers, bore: Numbers, kind: str) -> Both:
    """Both speeds; arguments and range as of `speed`."""
'''
BAD = {
    "an argument that is not named": ("`kind`: a word.", "A word.", "does not name `kind`"),
    "an argument in other words": ("`bore`", "bore", "does not name `bore`"),
    "an argument without a unit": ("`bore` [m]", "`bore`", "has no unit of `bore`"),
    "an argument in a unit that is none": ("`bore` [m]", "`bore` [metres]", "has no unit of `bore`"),
    "a result without a unit": ("Mean speed [m/s]", "Mean speed", "has no unit of the result"),
    "no range": (" >= 0", "", "says no range"),
    "an error that is not told": ("Raises ValueError for another.", "", "does not say that it raises ValueError"),
    "another error": ("Raises ValueError", "Raises KeyError", "does not say that it raises ValueError"),
    "no source": ("Published: a textbook (from memory).", "", "says no source"),
    "a record without a unit": ("`speed` [m/s],", "`speed`,", "has no units in Both"),
    "a field without a unit": ('    """[m/s]"""\n', "", "has no units in Both"),
    "a reference to nothing": ("as of `speed`", "as ever", "does not name `flow`"),
}


def found_in(text: str, folder: Path) -> list[str]:
    """What the functions of a module leave out."""
    (folder / "speeds.py").write_text(text, encoding="utf-8")
    return [lack for formula in formulas(folder / "speeds.py") for lack in lacks(formula)]


def test_a_docstring_that_says_it_all_passes(tmp_path: Path) -> None:
    assert found_in(GOOD, tmp_path) == []


@pytest.mark.parametrize("fault", BAD)
def test_a_docstring_that_leaves_something_out_is_found(fault: str, tmp_path: Path) -> None:
    said, instead, lack = BAD[fault]
    assert said in GOOD and lack in found_in(GOOD.replace(said, instead), tmp_path)


def test_what_a_unit_is() -> None:
    """Symbols and their powers as ISO 80000-1 writes them (from memory); a plain number has a dash."""
    units = ("[-]", "[m³/s]", "[W/(m² K)]", "[kg/(s m²)]", "[Pa absolute]", "[1/m⁴]", "[Pa s/m³]", "[Pa\n    s/m³]")
    assert all(unit_in(f"a flow {unit}.") for unit in units)
    assert not any(unit_in(f"a flow {words}.") for words in ("[metres]", "[i, k]", "[0]", "[]", "(m)", "[m,]"))
