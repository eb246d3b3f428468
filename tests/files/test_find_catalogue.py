"""Which folder is the catalogue: the one named, else the environment's, else the shipped one."""

from __future__ import annotations

from pathlib import Path

import pytest

import configurator
from configurator.errors import CatalogueMissing
from configurator.files.find_catalogue import ENVIRONMENT_VARIABLE, find_catalogue, shipped_catalogue


@pytest.fixture(autouse=True)
def _no_variable(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(ENVIRONMENT_VARIABLE, raising=False)


def test_the_folder_named_comes_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    named, of_environment = tmp_path / "named", tmp_path / "environment"
    named.mkdir()
    of_environment.mkdir()
    monkeypatch.setenv(ENVIRONMENT_VARIABLE, str(of_environment))
    assert find_catalogue(named) == named
    assert find_catalogue() == of_environment
    monkeypatch.setenv(ENVIRONMENT_VARIABLE, "")
    assert find_catalogue() == shipped_catalogue()


def test_a_folder_that_is_not_there_is_told_and_not_passed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(CatalogueMissing, match=r"--catalogue names '.*none', which is not a folder"):
        find_catalogue(tmp_path / "none")
    monkeypatch.setenv(ENVIRONMENT_VARIABLE, str(tmp_path / "gone"))
    with pytest.raises(
        CatalogueMissing, match=rf"{ENVIRONMENT_VARIABLE} names '.*gone', which is not a folder"
    ):
        find_catalogue()


def test_the_shipped_one_is_inside_the_package_else_beside_it(tmp_path: Path) -> None:
    package = tmp_path / "configurator"
    package.mkdir()
    with pytest.raises(CatalogueMissing, match="name a folder with --catalogue DIR"):
        shipped_catalogue(package)
    (tmp_path / "catalogue").mkdir()
    assert shipped_catalogue(package) == tmp_path / "catalogue"
    (package / "_catalogue").mkdir()
    assert shipped_catalogue(package) == package / "_catalogue"


def test_here_it_is_found(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    found = find_catalogue()
    package = Path(configurator.__file__).parent
    assert found in {package / "_catalogue", package.parent / "catalogue"}
    assert (found / "layouts.yaml").is_file()
