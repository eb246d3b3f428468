"""`kitwright shelf list`: what is on a shelf, in a fixed order, 80 columns wide."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from rich.cells import cell_len

from tests.journeys.kitwright import CATALOGUE, Run, Tree, command, read, shipped_part, written


@pytest.fixture(scope="module")
def whole() -> Run:
    return command("shelf", "list", "--catalogue", CATALOGUE)


@pytest.fixture(scope="module")
def as_json() -> list[Tree]:
    run = command("shelf", "list", "--catalogue", CATALOGUE, "--json")
    assert run.code == 0
    return list(run.answer["parts"])


def folder_of(tmp_path: Path, **sections: list[Tree]) -> Path:
    (tmp_path / "parts.yaml").write_text(written(sections), encoding="utf-8")
    return tmp_path


def test_every_part_of_the_files_is_listed_with_its_price_as_written(whole: Run, as_json: list[Tree]) -> None:
    """Held against the YAML files as plain data."""
    files = [read(path) for path in sorted(CATALOGUE.glob("*.yaml"))]
    sections = [rows for data in files for rows in data.values() if isinstance(rows, list)]
    parts = {row["id"]: row for rows in sections for row in rows if "price" in row}
    assert len(parts) > 300
    assert {row["part"]: row["price_cents"] for row in as_json} == {
        name: round(row["price"] * 100) for name, row in parts.items()
    }
    shown = {line.split()[0]: line for line in whole.out.splitlines() if line and line[0] != " "}
    for name, row in parts.items():
        assert f"{row['price']:,.2f}" in shown[name] and row["name"].split()[0] in whole.out


def test_it_stays_within_80_columns_and_gives_the_same_bytes(whole: Run) -> None:
    assert whole.code == 0
    lines = [line for line in whole.out.splitlines() if not line.startswith("Next: ")]  # a command is never broken
    assert max(cell_len(line) for line in lines) <= 80
    assert command("shelf", "list", "--catalogue", CATALOGUE).out == whole.out


def test_kinds_stand_together_and_ids_rise(as_json: list[Tree]) -> None:
    order = [row["kind"] for row in as_json]
    kinds = list(dict.fromkeys(order))
    assert order == sorted(order, key=kinds.index) and len(kinds) > 10
    for kind in kinds:
        ids = [row["part"] for row in as_json if row["kind"] == kind]
        assert ids == sorted(ids)


def test_key_figures_are_those_of_the_drawing(as_json: list[Tree]) -> None:
    """By hand from the files: the core is 230 x 150 x 130 mm with 76 mm pipes, the pump makes 70 kPa and 50 L/min."""
    by_id = {row["part"]: row["figures"] for row in as_json}
    assert by_id["core-230-short"] == {"box_m": [0.23, 0.15, 0.13], "charge_ends_m": [0.076, 0.076]}
    assert by_id["pump-50-medium"]["dead_head_pa"] == 70e3
    assert by_id["pump-50-medium"]["most_flow_m3_per_s"] == pytest.approx(50e-3 / 60)
    assert by_id["hose-rubber-19"]["bore_m"] == 0.019


def test_a_kind_by_either_word_and_what_narrows_it(tmp_path: Path) -> None:
    pumps = [
        shipped_part("pump-50-medium", id="pump-a", price=149.99, stock=0),
        shipped_part("pump-50-medium", id="pump-b", price=150, stock=3),
        shipped_part("pump-50-medium", id="pump-c", price=20),
    ]
    folder = folder_of(tmp_path, pumps=pumps, caps=[shipped_part("cap-45-0.5")])

    def ids(*words: str) -> list[str]:
        run = command("shelf", "list", *words, "--catalogue", folder, "--json")
        return [row["part"] for row in run.answer["parts"]]

    assert ids() == ["pump-a", "pump-b", "pump-c", "cap-45-0.5"]
    assert ids("pump") == ids("pumps") == ["pump-a", "pump-b", "pump-c"]
    assert ids("pump", "--under", "150") == ["pump-a", "pump-c"]
    assert ids("pump", "--in-stock") == ["pump-b", "pump-c"]
    assert ids("core") == []
    assert "0 of the 4 parts" in command("shelf", "list", "core", "--catalogue", folder).out


@pytest.mark.parametrize(("words", "said"), [(["pmup"], "did you mean 'pump'?"), (["--under", "inf"], "not a price")])
def test_a_wrong_command_line(words: list[str], said: str) -> None:
    run = command("shelf", "list", *words)
    assert run.code == 2 and said in run.err and not run.out


def test_hostile_names_stay_harmless(tmp_path: Path) -> None:
    """Right-to-left marks and brackets in a name; a name that is too long is refused with its place."""
    odd = "[red]<script>alert(1)</script> \u202eevil\u2066 \u200f" + "宽" * 60
    part = shipped_part("pump-50-medium", id="p" * 60, name=odd)
    run = command("shelf", "list", "--catalogue", folder_of(tmp_path, pumps=[part]))
    assert run.code == 0 and "[red]<script>" in run.out
    assert not {"\u202e", "\u2066", "\u200f"} & set(run.out)
    assert max(cell_len(line) for line in run.out.splitlines() if not line.startswith("Next: ")) <= 80
    folder = folder_of(tmp_path, pumps=[{**part, "name": "x" * 10_000}])
    long = command("shelf", "list", "--catalogue", folder, "--json")
    assert long.code == 3 and json.loads(long.out)["problems"][0]["line"] > 0
