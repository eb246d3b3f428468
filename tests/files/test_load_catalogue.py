"""A catalogue folder as a shelf: any split into files, missing tables from the shipped one."""

from __future__ import annotations

import gc
from collections.abc import Callable
from pathlib import Path

import pytest

from configurator.errors import CatalogueMissing
from configurator.files import load_catalogue as loader
from configurator.files.load_catalogue import load_catalogue
from configurator.parts.kinds import Core, Pump
from tests.files.good_files import SHELF, TABLES

Folder = Callable[..., Path]


def test_parts_and_tables_by_id(folder: Folder) -> None:
    catalogue, tables = load_catalogue(folder(shelf=SHELF, tables=TABLES))
    assert list(catalogue.parts) == ["core-a", "pump-a"]
    assert [part.id for part in catalogue.of(Pump)] == ["pump-a"]
    assert [layout.id for layout in catalogue.layouts] == ["single"]
    assert list(tables.fuels) == ["diesel", "petrol"]
    assert list(tables.chargers) == ["turbo"]
    assert list(tables.driving) == ["hill-climb"]
    assert list(tables.coolants) == ["water"]
    assert [(kind.id, kind.stirred, kind.still) for kind in tables.ice.values()] == [("cubes", 260.0, 15.0)]
    assert dict(tables.sources) == {"book": "a book"}


def test_figures_are_si_and_keep_their_spelling(folder: Folder) -> None:
    core = load_catalogue(folder(shelf=SHELF, tables=TABLES))[0]["core-a"]
    assert isinstance(core, Core)
    assert core.size.x_m == pytest.approx(0.230)
    assert core.size.x_m.text == "230 mm"
    assert core.charge.working_pa == pytest.approx(350_000)
    assert core.coolant.ends[0].size == "-12"
    assert core.performance.measured[0].charge_in_k == pytest.approx(423.15)


def test_a_figure_may_carry_its_standing_and_source(folder: Folder) -> None:
    text = SHELF.replace("mass: 3.9 kg", "mass: {value: 3.9 kg, standing: measured, source: book}")
    core = load_catalogue(folder(shelf=text, tables=TABLES))[0]["core-a"]
    assert core.mass_kg is not None
    assert (core.mass_kg, core.mass_kg.standing, core.mass_kg.source) == (3.9, "measured", "book")


def test_files_may_be_split_in_any_way(folder: Folder) -> None:
    whole = load_catalogue(folder(shelf=SHELF, tables=TABLES))[0]
    cores, pumps = SHELF.split("pumps:\n")
    (folder() / "shelf.yaml").unlink()
    split = load_catalogue(folder(z_cores=cores, a_pumps="pumps:\n" + pumps))[0]
    assert split == whole
    assert split.fingerprint == whole.fingerprint


def test_the_fingerprint_is_of_what_is_written(folder: Folder) -> None:
    first = load_catalogue(folder(shelf=SHELF, tables=TABLES))[0].fingerprint
    assert load_catalogue(folder(shelf="# a remark\n" + SHELF))[0].fingerprint == first
    assert load_catalogue(folder(shelf=SHELF.replace("price: 90", "price: 91")))[0].fingerprint != first


def test_tables_that_a_folder_lacks_come_from_the_shipped_one_but_no_parts(
    folder: Folder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shipped = tmp_path / "shipped"
    shipped.mkdir()
    (shipped / "all.yaml").write_text(SHELF + TABLES, encoding="utf-8")
    monkeypatch.setattr(loader, "shipped_catalogue", lambda: shipped)
    own_fuel = "fuels:\n  - {id: petrol, name: P, air_fuel_ratio: 11, standing: estimate, source: me}\n"
    catalogue, tables = load_catalogue(folder(mine="pumps: []\n" + own_fuel))
    assert list(catalogue.parts) == []
    assert [layout.id for layout in catalogue.layouts] == ["single"]
    assert list(tables.chargers) == ["turbo"]
    assert {name: fuel.air_fuel_ratio for name, fuel in tables.fuels.items()} == {"petrol": 11}


def test_shipped_tables_bring_their_sources_and_are_not_judged_by_a_folders_own(
    folder: Folder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A folder with its own sources and one fuel: the shipped chargers cite other sources and other fuels."""
    shipped = tmp_path / "shipped"
    shipped.mkdir()
    (shipped / "all.yaml").write_text(TABLES, encoding="utf-8")
    monkeypatch.setattr(loader, "shipped_catalogue", lambda: shipped)
    fuel = "fuels:\n  - {id: e85, name: E, air_fuel_ratio: 8, standing: estimate, source: me}\n"
    _, tables = load_catalogue(folder(mine=fuel + "sources: {me: my own words, book: another book}\n"))
    assert list(tables.fuels) == ["e85"]
    assert list(tables.chargers["turbo"].consumption) == ["petrol"]
    assert dict(tables.sources) == {"me": "my own words", "book": "another book"}


def test_sources_are_checked_only_where_a_folder_lists_some(folder: Folder) -> None:
    text = SHELF.replace("price: 340", "price: 340\n    source: anything")
    assert load_catalogue(folder(shelf=text))[0]["core-a"].source == "anything"


def test_bounds_are_left_to_their_own_reader(folder: Folder) -> None:
    catalogue, _ = load_catalogue(
        folder(shelf=SHELF, tables=TABLES, bounds="bounds: {core: {any: [1, thing]}, x: }\n")
    )
    assert len(catalogue.parts) == 2


def test_no_folder_and_no_file_are_told(tmp_path: Path) -> None:
    with pytest.raises(CatalogueMissing, match="is not a folder"):
        load_catalogue(tmp_path / "none")
    with pytest.raises(CatalogueMissing, match=r"holds no \.yaml file"):
        load_catalogue(tmp_path)


def test_reading_leaves_the_collector_as_it_was(folder: Folder) -> None:
    home = folder(shelf=SHELF, tables=TABLES)
    assert gc.isenabled()
    load_catalogue(home)
    assert gc.isenabled()
    gc.disable()
    try:
        load_catalogue(home)
        assert not gc.isenabled()
    finally:
        gc.enable()
