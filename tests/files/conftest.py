"""Ways to write small files and to read them back, or their problems."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from configurator.brief.tables import Tables
from configurator.errors import BadInput, Problem
from configurator.files.load_brief import load_brief
from configurator.files.load_catalogue import load_catalogue
from configurator.parts.shelf import Catalogue
from tests.files.good_files import SHELF, TABLES


@pytest.fixture
def folder(tmp_path: Path) -> Callable[..., Path]:
    """Write a catalogue folder: one file for each keyword."""

    def write(**files: str) -> Path:
        home = tmp_path / "catalogue"
        home.mkdir(exist_ok=True)
        for name, text in files.items():
            (home / f"{name}.yaml").write_text(text, encoding="utf-8")
        return home

    return write


@pytest.fixture
def shelf(folder: Callable[..., Path]) -> tuple[Catalogue, Tables]:
    return load_catalogue(folder(shelf=SHELF, tables=TABLES))


@pytest.fixture
def catalogue_problems(folder: Callable[..., Path]) -> Callable[..., tuple[Problem, ...]]:
    """All problems of a catalogue of these files."""

    def read(**files: str) -> tuple[Problem, ...]:
        with pytest.raises(BadInput) as refusal:
            load_catalogue(folder(**files))
        return refusal.value.problems

    return read


@pytest.fixture
def brief_file(tmp_path: Path) -> Callable[[str], Path]:
    def write(text: str) -> Path:
        path = tmp_path / "brief.yaml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


@pytest.fixture
def brief_problems(
    brief_file: Callable[[str], Path], shelf: tuple[Catalogue, Tables]
) -> Callable[[str], tuple[Problem, ...]]:
    """All problems of a brief of this text."""

    def read(text: str) -> tuple[Problem, ...]:
        with pytest.raises(BadInput) as refusal:
            load_brief(brief_file(text), *shelf)
        return refusal.value.problems

    return read
