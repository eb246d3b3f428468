"""Kit files: what can be read, and every mistake told at once with the question to ask the customer."""

from __future__ import annotations

from pathlib import Path

import pytest

from configurator.errors import BadInput
from configurator.files.load_brief import load_brief
from configurator.files.load_catalogue import load_catalogue
from configurator.files.load_kit import LoadedBox, load_kit
from tests.files.good_files import BRIEF

CATALOGUE, TABLES = load_catalogue(Path(__file__).resolve().parents[2] / "catalogue")
WHOLE = """\
kit: a box
boost: 1.2 bar
parts:
  - pump-50-medium
  - kind: adapter
    id: mine
    name: Mine
    price: 0
    shape: adapter
    medium: coolant
    length: 40 mm
    through:
      working: 5 bar
      hottest: 120 degC
      ends:
        - {name: a, form: npt, size: 1/2, sex: male}
        - {name: b, form: spigot, size: 19 mm, barb: true}
  - mine
"""


def loaded(text: str, folder: Path) -> LoadedBox:
    path = folder / "kit.yaml"
    path.write_text(text, encoding="utf-8")
    return load_kit(path, CATALOGUE)


def told(text: str, folder: Path) -> list[str]:
    """The problems of a file, as `line: key: sentence`."""
    with pytest.raises(BadInput) as caught:
        loaded(text, folder)
    return [f"{problem.line}: {problem.key}: {problem.text}" for problem in caught.value.problems]


def test_parts_are_ids_or_written_in_place_and_may_be_named_again(tmp_path: Path) -> None:
    box = loaded(WHOLE, tmp_path)
    assert [part.id for part in box.parts] == ["pump-50-medium", "mine", "mine"]
    assert box.box.boost_pa_gauge == pytest.approx(1.2e5) and box.box.cap_pa_gauge is None


@pytest.mark.parametrize(
    ("old", "new", "asks"),
    [
        ("form: npt, size: 1/2", "size: 3/4", "16: mine.through.ends[0].form: missing key 'form' in "
         "mine.through.ends[0]: ask what '3/4' is the size of: NPT (form: npt), BSP"),
        ("form: npt, size: 1/2", "form: metric, size: M22", "'M22' names no pitch: ask for it, measured from crest to "
         "crest (a port of that size is M22x1.5)"),
        ("form: spigot, size: 19 mm, barb: true", "form: hose, size: -12", "'-12' is a dash size: it names the tube "
         "of a fitting, not the inside of a hose; ask how many mm its inside is"),
        ("form: spigot, size: 19 mm", "form: spigot, size: 3/4", "'3/4' has no unit: ask whether it is the outside of "
         "the spigot in inches, written '3/4 in'"),
        ("working: 5 bar", "pressure: 5 bar", "13: mine.through.pressure: unknown key 'pressure' in mine.through: ask "
         "whether the part may work at 5 bar (working:), was tested at it (proof:) or burst at it (burst:)"),
        ("working: 5 bar", "max: 5 bar", "ask whether the part may work at 5 bar"),
        ("working: 5 bar", "rating: 70 psi", "ask whether the part may work at 70 psi"),
        ("form: npt", "form: an", "'an' is not allowed here; AN is the 37° flare: flare37"),
        ("form: npt", "form: BSPP", "'BSPP' is not allowed here; BSPP is g (allowed: "),
        ("form: spigot", "form: barb", "a barb is a spigot with barb: true"),
        ("sex: male", "sex: f", "'f' is not allowed here; did you mean 'female'? (allowed: male, female)"),
        ("form: npt", "form: bayonet", "ask how 'bayonet' seals (O-ring, cone, taper, clamp) and by which standard"),
    ],
)  # fmt: skip
def test_what_only_the_customer_knows_is_a_question(old: str, new: str, asks: str, tmp_path: Path) -> None:
    assert WHOLE.count(old) == 1
    problems = told(WHOLE.replace(old, new), tmp_path)
    assert len([problem for problem in problems if asks in problem]) == 1, problems


OWN_HOSE = """\
kit: a box
parts:
  - {kind: hose, id: h, name: H, price: 1, bore: 19 mm, wall: 4 mm, hottest: 120 degC, media: [coolant]}
"""
OWN_FAN = """\
kit: a box
parts:
  - {kind: fan, id: f, name: F, price: 1, curve: [{flow: 300 m3/h, rise: 110}], volts: 12, current: 5 A}
"""


def test_what_is_missing_is_shown_as_it_is_usual(tmp_path: Path) -> None:
    """Rubber of class D-1 from -40 degC on: SAE J20 (published)."""
    problems = " | ".join(told(OWN_HOSE, tmp_path))
    assert "write it like: coldest: -40 degC" in problems and "write it like: class: D-1 EPDM" in problems


def test_what_is_missing_of_an_end_or_a_clamp_is_shown_as_such_things_are_written(tmp_path: Path) -> None:
    """Once the outer box of a part stood for the size of a thread, and 230 mm for a clamp."""
    clamp = "{kind: clamp, id: c, name: c, price: 0, style: worm, most: 30 mm, media: [coolant]}"
    threadless = WHOLE.replace("form: npt, size: 1/2, sex", "form: npt, sex")
    problems = " | ".join(told(f"{threadless}  - {clamp}\n", tmp_path))
    assert "write it like: least: 25 mm" in problems and "write it like: size: 19 mm" in problems


def test_points_of_a_curve_are_counted_as_they_are_written(tmp_path: Path) -> None:
    assert "at least 2 are needed here, found 1" in " | ".join(told(OWN_FAN, tmp_path))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("- pump-50-medium\n", "1: : a kit file is keys and values, beginning with 'kit: a name for it'"),
        ("kit: x\n", "missing key 'parts'"),
        ("kit: x\nparts: []\n", "2: parts: nothing is listed here"),
        ("kit: x\nparts: [pump-55-medium]\n", "the shelf has no 'pump-55-medium' (of its kind pump: pump-"),
        ("kit: x\nparts: [pump-50-medum]\n", "part 'pump-50-medum' is not known; did you mean 'pump-50-medium'?"),
        ("kit: x\nparts: [12]\n", "a part is the id of one in the catalogue, or a whole part with its kind"),
        ("kit: x\nparts: [{name: y, price: 1}]\n", "a whole part says its kind, like 'kind: core'"),
        ("kit: x\nparts: [{kind: coer, id: y}]\n", "did you mean 'core'?"),
        ("kit: x\ncap: 1 bar\nparts: [cap-45-0.5]\n", "2: cap: 'cap-45-0.5' among the parts says what the cap"),
        (WHOLE.replace("price: 0\n", "price: 1.349\n"), "mine.price: 1.349 is not a price: two decimals at most"),
        ("kit: x\nboost: 1.2\nparts: [pump-50-medium]\n", "'1.2' has no unit; write it like '1.2 bar'"),
        ("kit: x\nhead: 0.4 bar\nparts: [pump-50-medium]\n", "2: head:"),
        (WHOLE.replace("  - mine\n", "  - {kind: adapter, id: mine}\n"), "'mine' is written twice"),
        (WHOLE.replace("id: mine\n", "id: pump-50-medium\n").replace("  - mine\n", ""), "is a part of the catalogue"),
    ],
)
def test_mistakes_are_told_with_the_way_out(text: str, says: str, tmp_path: Path) -> None:
    problems = told(text, tmp_path)
    assert [problem for problem in problems if says in problem], problems


def test_all_mistakes_at_once(tmp_path: Path) -> None:
    text = WHOLE.replace("boost: 1.2 bar", "boost: 1,2 bar").replace("working: 5 bar", "rated: 5 bar")
    assert len(told(text.replace("  - mine\n", "  - yours\n"), tmp_path)) == 3


def test_a_brief_in_place_of_a_kit_file_is_one_problem_that_names_its_command(tmp_path: Path) -> None:
    path = tmp_path / "my car.yaml"
    path.write_text(f"# mine\n{BRIEF}", encoding="utf-8")
    with pytest.raises(BadInput) as refusal:
        load_kit(path, CATALOGUE)
    (problem,) = refusal.value.problems
    assert (problem.line, problem.column) == (2, 1)
    assert problem.text == f"this is a brief, as it has the key 'brief': kitwright suggest '{path}'"


def test_a_kit_file_in_place_of_a_brief_is_one_problem_that_names_its_command(tmp_path: Path) -> None:
    path = tmp_path / "box.yaml"
    path.write_text(WHOLE, encoding="utf-8")
    with pytest.raises(BadInput) as refusal:
        load_brief(path, CATALOGUE, TABLES)
    (problem,) = refusal.value.problems
    assert (problem.line, problem.column) == (1, 1)
    assert problem.text == f"this is a kit file, as it has the key 'kit': kitwright check {path}"


def test_a_brief_with_a_key_of_kit_files_is_still_read_as_a_brief(tmp_path: Path) -> None:
    path = tmp_path / "brief.yaml"
    path.write_text(f"{BRIEF}kit: x\n", encoding="utf-8")
    with pytest.raises(BadInput) as refusal:
        load_brief(path, CATALOGUE, TABLES)
    assert any(problem.text.startswith("unknown key 'kit'") for problem in refusal.value.problems)
