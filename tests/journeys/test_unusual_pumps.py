"""Figures of a pump that nobody builds are found by `shelf check`, each at its place; those shipped have none.

Standing of the limits: common practice, no source, as `catalogue/bounds.yaml` says of each.
"""

from __future__ import annotations

from pathlib import Path

from configurator.files.load_bounds import load_pump_bounds
from configurator.files.load_catalogue import load_catalogue
from configurator.parts.kinds import Pump
from configurator.questions.unusual import unusual
from tests.journeys.kitwright import CATALOGUE, command, shipped_part, small_shelf, written

SLIPS = {
    "coolant__working": "200 bar",
    "coolant__hottest": "1100 degC",
    "current": "420 A",
    "mass": "900 kg",
}


def test_slips_of_the_pen_are_found_when_a_pump_is_added(tmp_path: Path) -> None:
    pump = shipped_part("pump-50-medium", id="slips", **SLIPS)
    pump["coolant"]["ends"][0]["size"] = "190 mm"
    shelf = small_shelf(
        cores=[shipped_part("core-230-short")],
        exchangers=[shipped_part("exchanger-398-double")],
        pumps=[shipped_part("pump-50-medium")],
        reservoirs=[shipped_part("reservoir-8-cube")],
    )
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "parts.yaml").write_text(written(shelf), encoding="utf-8")
    (tmp_path / "new.yaml").write_text(written(pump), encoding="utf-8")
    added = command("shelf", "add", "pump", "--from", tmp_path / "new.yaml", "--catalogue", tmp_path / "shelf")
    told = " ".join(added.out.split())
    assert added.code == 0, added.err
    for words in (
        "working pressure is 200 bar, above 10 bar",
        "hottest is 1100 degC, above 180 degC",
        "current is 420 A, above 60 A",
        "spigot in is 190 mm, above 60 mm",
        "mass is 564.3 kg per litre of its box, above 2.5 kg",
    ):
        assert words in told
    run = command("shelf", "check", "slips", "--json", "--catalogue", tmp_path / "shelf")
    keys = {finding["key"] for finding in run.answer["findings"] if finding["code"] == "unusual"}
    below = ("coolant.working", "coolant.hottest", "coolant.ends[0].size", "current", "mass")
    assert run.code == 1 and keys == {f"slips.{key}" for key in below}


def test_every_shipped_pump_is_usual() -> None:
    limits = load_pump_bounds()
    pumps = load_catalogue(CATALOGUE)[0].of(Pump)
    assert len(pumps) > 10
    assert [found for pump in pumps for found in unusual(pump, limits)] == []
