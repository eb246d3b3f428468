"""`kitwright shelf show`: everything known of one part, and what goes on its ends."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from rich.cells import cell_len

from tests.journeys.kitwright import Tree, command, shelf_part, shipped_part, written

CORE = shipped_part("core-230-short")
SHELF: Tree = {
    "cores": [CORE],
    "pumps": [shipped_part("pump-50-medium"), shipped_part("pump-100-bilge")],
    "reservoirs": [shipped_part("reservoir-1-round")],
    "hoses": [shipped_part("hose-rubber-19")],
    "adapters": [shipped_part("barb-orb-12-19"), shipped_part("barb-orb-12-25")],
    "caps": [shipped_part("cap-32-0.5"), shipped_part("cap-45-0.5")],
}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("shelf")
    (made / "parts.yaml").write_text(written(SHELF), encoding="utf-8")
    return made


def ends(folder: Path, part: str) -> dict[str, Tree]:
    run = command("shelf", "show", part, "--json", "--catalogue", folder)
    assert run.code == 0, run.err
    return {f"{end['medium']} {end['end']}": end for end in run.answer["ends"]}


def test_what_goes_on_each_end_by_hand(folder: Path) -> None:
    """The only hose is of 19 mm: it reaches the 19 mm spigots bare, the core through its 19 mm barb alone."""
    pump = ends(folder, "pump-50-medium")["coolant in"]
    assert pump["straight_on"] == {"hose": ["hose-rubber-19"]}
    assert pump["by_hose"] == ["reservoir-1-round"] and pump["with_adapter"] == ["core-230-short"]
    core = ends(folder, "core-230-short")
    assert core["coolant in"]["straight_on"] == {"adapter": ["barb-orb-12-19", "barb-orb-12-25"]}
    assert core["coolant in"]["by_hose"] == []
    assert core["coolant in"]["with_adapter"] == ["pump-50-medium", "reservoir-1-round"]
    assert core["charge in"]["straight_on"] == {}, "there is no coupler"
    assert ends(folder, "reservoir-1-round")["coolant cap"]["straight_on"] == {"cap": ["cap-32-0.5"]}
    wide = ends(folder, "pump-100-bilge")["coolant in"]
    assert wide["by_hose"] == wide["with_adapter"] == [] and "25 mm" in wide["missing"]


def test_couplers_tell_the_pipes_that_they_lead_to(tmp_path: Path) -> None:
    couplers = [shelf_part(name) for name in ("coupler-76", "coupler-57-76")]
    (tmp_path / "p.yaml").write_text(written({"cores": [CORE], "adapters": couplers}), encoding="utf-8")
    assert ends(tmp_path, "core-230-short")["charge in"]["pipes_m"] == [0.057, 0.076]


def test_the_words_tell_box_ends_ratings_and_performance(folder: Path) -> None:
    out = command("shelf", "show", "core-230-short", "--catalogue", folder).out
    words = " ".join(out.split())
    for told in (
        "230 x 150 x 130 mm", "3.50 bar (stated); hottest 210 degC", "O-ring boss -12 female, on face +z",
        "measured at several points: ± 7 % on conductance", "in at 150 degC and 1 bar", "nothing goes straight on it",
    ):  # fmt: skip
        assert told in words, told
    assert max(cell_len(line) for line in out.splitlines() if not line.startswith("Next: ")) <= 80
    assert "58.8 kPa at 20" in command("shelf", "show", "pump-50-medium", "--catalogue", folder).out


def test_the_drawing_has_the_box_and_every_end(folder: Path, tmp_path: Path) -> None:
    file = tmp_path / "core.svg"
    words = ("shelf", "show", "core-230-short", "--catalogue", folder, "--draw", file)
    assert command(*words).code == 0
    marks = [mark for mark in ET.parse(file).iter() if "data-end" in mark.attrib]
    assert {mark.attrib["data-end"] for mark in marks} == {f"1{letter}" for letter in "abcde"}
    assert command(*words).code == 3, "a file that is there is not replaced"
    assert command(*words, "--force").code == 0
    sketch = command("shelf", "show", "core-230-short", "--sketch", "--catalogue", folder).out
    assert "from above" in sketch and max(map(len, sketch.splitlines()[:-1])) <= 200
    assert "nothing was drawn" in command("shelf", "show", "cap-32-0.5", "--catalogue", folder, "--sketch").err


def test_an_impossible_point_is_told_and_not_computed(tmp_path: Path) -> None:
    point = {**CORE["performance"]["measured"][0], "effectiveness": "99.9 %", "coolant": "1 L/min"}
    core = {**CORE, "performance": {"measured": [point]}}
    (tmp_path / "p.yaml").write_text(written({"cores": [core]}), encoding="utf-8")
    run = command("shelf", "show", "core-230-short", "--catalogue", tmp_path)
    assert run.code == 0 and "impossible" in run.out
    heat = command("shelf", "show", "core-230-short", "--catalogue", tmp_path, "--json").answer["performance"]
    assert heat["nominal"] is None and heat["impossible"]


def test_an_unknown_part_names_the_nearest(folder: Path) -> None:
    run = command("shelf", "show", "core-230-shrt", "--catalogue", folder)
    assert run.code == 3 and "did you mean 'core-230-short'?" in run.err and "kitwright shelf list" in run.err


def test_hostile_words_stay_harmless(tmp_path: Path) -> None:
    odd = "<script>alert(1)</script> [bold] \u202e \u2067 " + "x" * 90
    part = {**CORE, "name": odd, "note": odd * 90}
    (tmp_path / "p.yaml").write_text(written({"cores": [part]}), encoding="utf-8")
    file = tmp_path / "p.svg"
    run = command("shelf", "show", CORE["id"], "--catalogue", tmp_path, "--draw", file, "--sketch")
    assert run.code == 0 and not {"\u202e", "\u2067"} & set(run.out + file.read_text(encoding="utf-8"))
    assert max(cell_len(line) for line in run.out.splitlines() if not line.startswith("Next: ")) <= 80
    assert "<script>" not in file.read_text(encoding="utf-8") and ET.parse(file)
