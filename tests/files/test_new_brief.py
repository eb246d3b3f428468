"""The first brief works as it is written, with the shipped catalogue, and never overwrites."""

from __future__ import annotations

from pathlib import Path

import pytest

from configurator.errors import BadInput, CannotWrite
from configurator.files.find_catalogue import shipped_catalogue
from configurator.files.load_brief import load_brief
from configurator.files.load_catalogue import load_catalogue
from configurator.files.new_brief import NEW_BRIEF, write_new_brief


def test_it_is_read_without_a_problem(tmp_path: Path) -> None:
    path = tmp_path / "brief.yaml"
    write_new_brief(path)
    loaded = load_brief(path, *load_catalogue(shipped_catalogue()))
    assert loaded.brief.bay is not None
    assert {kind for zone in loaded.brief.bay.zones.values() for kind in zone.takes} >= {
        "core",
        "exchanger",
        "pump",
        "reservoir",
    }


def test_every_line_of_it_is_needed(tmp_path: Path) -> None:
    """The fewest lines that work: without any one of its single-line figures it is refused."""
    shelf = load_catalogue(shipped_catalogue())
    path = tmp_path / "brief.yaml"
    lines = NEW_BRIEF.splitlines(keepends=True)
    single = [n for n, line in enumerate(lines) if line.split("#")[0].rstrip()[-1:] not in {"", ":", "}"}]
    assert len(single) >= 8
    for number in single:
        path.write_text("".join(lines[:number] + lines[number + 1 :]), encoding="utf-8")
        with pytest.raises(BadInput):
            load_brief(path, *shelf)


def test_a_file_that_is_there_stays_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "brief.yaml"
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(CannotWrite, match="is there already; nothing was written"):
        write_new_brief(path)
    assert path.read_text(encoding="utf-8") == "mine"
    with pytest.raises(CannotWrite, match="cannot be written"):
        write_new_brief(tmp_path / "no folder" / "brief.yaml")
