"""A part of which its file says little: what is taken is told when it is added, and in what keeps it out of a car."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.journeys.kitwright import Run, Tree, command, example, shipped_part, small_shelf, written


def bare(name: str, **changes: object) -> Tree:
    """A pump of which little is said; the hatch's zone for pumps is 220 x 240 mm and 380 mm high."""
    part = shipped_part("pump-50-medium", id=name, **changes)
    for key in ("turns", "mass", "stock"):
        part.pop(key, None)
    for key in ("volume", "hottest", "working"):
        part["coolant"].pop(key)
    return part


LONG = {"size__x": "260 mm", "size__y": "230 mm"}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("bare")
    (made / "shelf").mkdir()
    shelf = small_shelf(
        cores=[shipped_part("core-230-short")],
        exchangers=[shipped_part("exchanger-398-double")],
        pumps=[shipped_part("pump-50-medium"), bare("lies", **LONG), bare("huge", **LONG, size__z="390 mm")],
        reservoirs=[shipped_part("reservoir-8-cube")],
    )
    (made / "shelf" / "parts.yaml").write_text(written(shelf), encoding="utf-8")
    (made / "car.yaml").write_text(written(example("hatch")), encoding="utf-8")
    (made / "new.yaml").write_text(written(bare("pump-new")), encoding="utf-8")
    return made


@pytest.fixture(scope="module")
def added(folder: Path) -> Run:
    return command("shelf", "add", "pump", "--from", folder / "new.yaml", "--catalogue", folder / "shelf")


def test_what_is_taken_is_told_when_it_is_added(added: Run) -> None:
    told = " ".join(added.out.split())
    assert added.code == 0, added.err
    for words in (
        "turns stands on its low face only",
        "mass counts as nothing",
        "coolant: volume counts as nothing",
        "coolant: hottest nothing: it is not held against heat",
        "npsh_required 20 kPa above boiling",
    ):
        assert words in told
    assert "coldest" not in told and "bore" not in told, "what its file states"
    places = ("Next: ", "added ", "the file as it was lies in ", "  /")
    assert max(len(line) for line in added.out.splitlines() if not line.startswith(places)) <= 80


def test_what_shelf_check_says_of_it_is_told_when_it_is_added(added: Run, folder: Path) -> None:
    assert "no working, proof or burst" in added.out and "no stock is stated" in added.out
    alone = command("shelf", "check", "pump-new", "--catalogue", folder / "shelf")
    assert alone.code == 1 and "shelf: pump-new, loaded without a problem" in " ".join(alone.out.split())
    findings = [line for line in alone.out.splitlines() if line.startswith("  /")]
    assert findings == [line for line in added.out.splitlines() if line.startswith("  /")] and len(findings) == 2


def test_one_part_is_well_whatever_the_others_are(folder: Path) -> None:
    well = command("shelf", "check", "pump-50-medium", "--catalogue", folder / "shelf")
    assert well.code == 0 and "all well" in well.out and "shelf show pump-50-medium --catalogue" in well.out
    answer = command("shelf", "check", "pump-50-medium", "--json", "--catalogue", folder / "shelf").answer
    assert (answer["outcome"], answer["of"], answer["findings"]) == ("all_well", 1, [])
    unknown = command("shelf", "check", "pump-50-mediun", "--catalogue", folder / "shelf")
    assert unknown.code == 3 and "did you mean 'pump-50-medium'?" in unknown.err


def test_shelf_show_says_that_turns_are_taken(folder: Path) -> None:
    out = command("shelf", "show", "lies", "--catalogue", folder / "shelf").out
    assert "+z (no turns stated: taken to stand on its low face only)" in " ".join(out.split())
    out = command("shelf", "show", "pump-50-medium", "--catalogue", folder / "shelf").out
    assert "no turns stated" not in out


def test_a_part_that_would_fit_turned_is_told_to_say_so(folder: Path) -> None:
    """230 x 105 mm of floor and 260 mm of height go into the side zone, 260 x 230 mm of floor do not."""
    run = command("why", folder / "car.yaml", "lies", "huge", "--json", "--catalogue", folder / "shelf")
    cures = {story["part"]: (story["code"], story["way_out"]) for story in run.answer["parts"]}
    assert cures["lies"][0] == cures["huge"][0] == "does-not-fit"
    assert "say so in its `turns`" in cures["lies"][1] and "Else: a zone 'side'" in cures["lies"][1]
    assert "turns" not in cures["huge"][1]
