"""Figures of a part that nobody builds are found by `shelf check`, each at its place; those shipped have none.

Standing of the limits: common practice, no source, as `catalogue/bounds.yaml` says of each.
"""

from __future__ import annotations

from pathlib import Path

from configurator.files.load_bounds import load_bounds
from configurator.files.load_catalogue import load_catalogue
from configurator.parts.kinds import Core, Exchanger, Pump
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


def test_slips_of_the_pen_are_found_in_cores_and_front_exchangers(tmp_path: Path) -> None:
    core, front = shipped_part("core-230-short", mass="39 kg"), shipped_part("exchanger-460-plain")
    core["performance"]["measured"][0]["charge_loss"] = "78 kPa"
    front["performance"]["measured"][0]["effectiveness"] = "5 %"
    pump, tank = shipped_part("pump-50-medium"), shipped_part("reservoir-8-cube")
    shelf = small_shelf(cores=[core], exchangers=[front], pumps=[pump], reservoirs=[tank])
    (tmp_path / "parts.yaml").write_text(written(shelf), encoding="utf-8")
    run = command("shelf", "check", "--json", "--catalogue", tmp_path)
    found = {one["key"]: one["text"] for one in run.answer["findings"] if one["code"] == "unusual"}
    assert run.code == 1
    assert found["core-230-short.mass"].startswith("mass is 8.696 kg per litre of its box, above 1.2 kg per litre")
    point = "performance.measured[0]"
    loss = found[f"core-230-short.{point}.charge_loss"]
    assert loss.startswith("charge loss at point 1 is 78 kPa, above 20 kPa, which is the usual limit of cores")
    cools = found[f"exchanger-460-plain.{point}.effectiveness"]
    assert cools.startswith("effectiveness at point 1 is 5 %, below 20 %, which is the usual limit of front exchangers")
    conducts = found[f"exchanger-460-plain.{point}"]
    assert "times what is usual for its face, below 0.6 times that, which is the usual limit" in conducts


def test_every_shipped_part_is_usual() -> None:
    bounds = load_bounds()
    shelf = load_catalogue(CATALOGUE)[0]
    parts = [*shelf.of(Core), *shelf.of(Exchanger), *shelf.of(Pump)]
    assert len(parts) > 60
    assert [found for part in parts for found in unusual(part, bounds)] == []
