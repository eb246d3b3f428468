"""`kitwright shelf gaps`: files in, the one part to buy out; all problems of all files at once."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from rich.cells import cell_len

from tests.journeys.kitwright import Run, command, example, opened, shipped_part, small_shelf, written


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shelf whose one pump is too dear for the first brief, and two briefs of one car."""
    made = tmp_path_factory.mktemp("gaps")
    shelf = small_shelf(
        elbows=False,
        cores=[shipped_part("core-260-short")],
        exchangers=[shipped_part("exchanger-390-triple")],
        pumps=[shipped_part("pump-40-small", price=1500)],
        reservoirs=[shipped_part("reservoir-8-cube")],
    )
    for name in ("shelf", "briefs"):
        (made / name).mkdir()
    (made / "shelf" / "parts.yaml").write_text(written(shelf), encoding="utf-8")
    poor, rich = opened(example("hatch")), opened(example("hatch", limits__price=9000))
    (made / "briefs" / "poor.yaml").write_text(written({**poor, "brief": "Poor \u202e<b>"}), encoding="utf-8")
    (made / "briefs" / "rich.yaml").write_text(written(rich), encoding="utf-8")
    candidates = {
        "pumps": [shipped_part("pump-40-small", id="pump-new", price=20)],
        "cores": [shipped_part("core-260-short", id="core-new", price=5)],
    }
    (made / "new.yaml").write_text(written(candidates), encoding="utf-8")
    return made


def gaps(folder: Path, *options: str, candidates: str = "new.yaml", briefs: str = "briefs") -> Run:
    words = ("--candidates", folder / candidates, "--catalogue", folder / "shelf")
    return command("shelf", "gaps", folder / briefs, *words, *options)


def test_the_part_to_buy_is_named(folder: Path) -> None:
    run = gaps(folder)
    words = " ".join(run.out.split())
    assert run.code == 1 and "no kit for 1 of 2 briefs" in words and "[pump-new], 20.00, would serve 1" in words
    assert max(cell_len(line) for line in run.out.splitlines() if not line.startswith("Next: ")) <= 80
    assert "\u202e" not in run.out and f"kitwright suggest {folder / 'briefs' / 'poor.yaml'}" in run.out
    answer = gaps(folder, "--json").answer
    poor = str(folder / "briefs" / "poor.yaml")
    assert answer["outcome"] == "gaps" and answer["best"] == "pump-new" and answer["unserved"] == [poor]
    assert [(one["part"], one["serves"]) for one in answer["candidates"]] == [("pump-new", [poor]), ("core-new", [])]


def test_the_way_on_puts_the_candidate_on_the_shelf(folder: Path, tmp_path: Path) -> None:
    """To ask for the brief again only said again that there is no kit."""
    poor = folder / "briefs" / "poor.yaml"
    run = gaps(folder)
    assert "Next: write pump-new alone into a file, then: kitwright shelf add pump --from FILE" in run.out
    pump = shipped_part("pump-40-small", id="pump-new", price=20)
    (folder / "one.yaml").write_text(written({"pumps": [pump]}), encoding="utf-8")
    mine = Path(shutil.copytree(folder / "shelf", tmp_path / "shelf"))
    words = ("--candidates", folder / "one.yaml", "--catalogue", mine)
    said = command("shelf", "gaps", folder / "briefs", *words).out.splitlines()[-1]
    assert said == (
        f"Next: kitwright shelf add pump --from {folder / 'one.yaml'} --catalogue {mine}, "
        f"then: kitwright suggest {poor} --catalogue {mine}"
    )
    for line in said.removeprefix("Next: ").split(", then: "):
        assert command(*line.split()[1:]).code == 0


def test_a_shelf_that_serves_all(folder: Path) -> None:
    run = gaps(folder, briefs="briefs/rich.yaml")
    assert run.code == 0 and "has a kit for the brief" in run.out


def test_no_candidate_helps_is_said(folder: Path) -> None:
    part = shipped_part("pump-50-medium", id="pump-dear", price=5000)
    (folder / "dear.yaml").write_text(written({"pumps": [part]}), encoding="utf-8")
    run = gaps(folder, candidates="dear.yaml", briefs="briefs/poor.yaml")
    assert run.code == 1 and "No candidate helps" in run.out


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "empty"),
        ("pumps: []\n", "no part is written"),
        ("layouts: []\n", "parts are expected here, not 'layouts'"),
        ("pumpz: []\n", "unknown section 'pumpz'"),
        ("pumps: [{id: pump-40-small}]\n", "is a part of the catalogue already"),
        ("pumps: [{id: x, volts: 12}]\n", "missing key"),
    ],
)
def test_bad_candidates_and_briefs_are_told_with_their_places(folder: Path, text: str, said: str) -> None:
    (folder / "bad.yaml").write_text(text, encoding="utf-8")
    (folder / "bad-brief.yaml").write_text("brief: x\n", encoding="utf-8")
    run = gaps(folder, candidates="bad.yaml", briefs="bad-brief.yaml")
    assert run.code == 3 and said in run.err and "bad.yaml:1:" in run.err and "bad-brief.yaml:" in run.err


def test_no_brief_at_all(folder: Path) -> None:
    (folder / "none").mkdir()
    assert gaps(folder, briefs="none").code == 2
    assert gaps(folder, briefs="missing.yaml").code == 3
