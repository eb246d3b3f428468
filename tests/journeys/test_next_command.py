"""The next command that a screen names is one that asks of the same catalogue, brief and order."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.journeys.kitwright import command, example, shipped_part, small_shelf, written

SHELF = small_shelf(
    cores=[shipped_part("core-230-short")],
    exchangers=[shipped_part("exchanger-398-double")],
    pumps=[shipped_part("pump-50-medium"), shipped_part("pump-40-small")],
    reservoirs=[shipped_part("reservoir-8-cube")],
)


@pytest.mark.parametrize(
    ("words", "following"),
    [
        ("suggest car.yaml --order price", "suggest car.yaml --catalogue 'my shelf' --order price --wide"),
        ("suggest car.yaml --kit 2", "suggest car.yaml --catalogue 'my shelf' --kit 2 --wide"),
        ("suggest car.yaml --top 7 --kit 6", "suggest car.yaml --catalogue 'my shelf' --top 7 --kit 6 --wide"),
        ("suggest car.yaml --fits-only", "suggest car.yaml --catalogue 'my shelf'"),
        ("why car.yaml pump-40-small", "suggest car.yaml --catalogue 'my shelf'"),
        ("why car.yaml", "why car.yaml PART --catalogue 'my shelf'"),
        ("check box.yaml --brief car.yaml", "check box.yaml --brief car.yaml --catalogue 'my shelf'"),
        ("shelf list", "shelf show core-230-short --catalogue 'my shelf'"),
        ("shelf show pump-40-small", "shelf list pump --catalogue 'my shelf'"),
        ("shelf check", "shelf check --catalogue 'my shelf'"),
    ],
)
def test_it_carries_what_was_said(
    words: str, following: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "my shelf").mkdir()
    (tmp_path / "my shelf" / "parts.yaml").write_text(written(SHELF), encoding="utf-8")
    (tmp_path / "car.yaml").write_text(written(example("hatch")), encoding="utf-8")
    (tmp_path / "box.yaml").write_text("kit: One pump\nparts: [pump-40-small]\n", encoding="utf-8")
    run = command(*words.split(), "--catalogue", "my shelf")
    assert run.out.splitlines()[-1].endswith(f"kitwright {following}"), run.out + run.err
