"""The table of kits has a row for every kit that was asked for, and what was taken for a key left out is told."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.journeys.kitwright import example, shipped_part, small_shelf, suggest


def test_walls_that_no_key_opens_are_told_as_closed() -> None:
    """A brief that forgot `open` got a no that blamed the aim and the room; closed walls stood nowhere."""
    shelf = small_shelf(
        cores=[shipped_part("core-178-square")],
        exchangers=[shipped_part("exchanger-350-slim")],
        pumps=[shipped_part("pump-40-small")],
        reservoirs=[shipped_part("reservoir-8-cube")],
    )
    brief = example("hatch")
    del brief["bay"]["zones"]["side"]["open"]
    assumed = suggest(brief, "--json", "--no-ways-out", shelf=shelf).answer["assumed"]
    assert "reaches through a wall of 'side', as the brief names none under `open`" in str(assumed)


TWO_KITS = small_shelf(
    cores=[shipped_part("core-260-short")],
    exchangers=[shipped_part(name) for name in ("exchanger-350-slim", "exchanger-380-slim")],
    pumps=[shipped_part("pump-40-small")],
    reservoirs=[shipped_part("reservoir-8-cube")],
)


@pytest.mark.parametrize("rank", [1, 2])
def test_the_kit_that_is_named_is_told_in_full(rank: int, tmp_path: Path) -> None:
    """Its parts, figures, joints and bill under the same table, and the same kit in the files."""
    kit = suggest(example("hatch"), "--json", shelf=TWO_KITS).kits[rank - 1]
    bill = tmp_path / "bill.csv"
    run = suggest(example("hatch"), "--wide", "--kit", str(rank), "--bill", str(bill), shelf=TWO_KITS, trace=True)
    table, told = run.out.split(f"\n\nKit {rank}\n")
    assert re.findall(r"^ *(\d+) +[\d,]+\.\d\d ", table, re.MULTILINE) == ["1", "2"]
    block, _, bill_told = told.partition(f"\nBill of kit {rank}\n")
    assert "the aim is then just met" in block and f"\nJoints of kit {rank}" in block
    (front,) = kit["parts"]["exchanger"]
    name = {"exchanger-350-slim": "350", "exchanger-380-slim": "380"}[front]
    assert re.search(rf"exchanger .*{name}", block)
    assert re.search(rf"{kit['thermal']['coolant_flow_l_per_min']:.0f} L/min", block)
    assert f"[{front}]" in bill_told and front in bill.read_text(encoding="utf-8")
    assert f"wrote the bill of kit {rank}: " in run.err
    worst = max(row["charge_out_c"] for row in run.trace)
    assert worst == pytest.approx(kit["thermal"]["charge_out_worst_c"], abs=0.02)


def test_a_kit_that_the_answer_does_not_have_is_said_with_how_many_there_are() -> None:
    run = suggest(example("hatch"), "--top", "9", "--kit", "9", shelf=TWO_KITS)
    assert run.code == 0 and "no kit 9 (there are 2), so its parts and figures are not told" in run.err
    run = suggest(example("hatch"), "--kit", "4", shelf=TWO_KITS)
    assert run.code == 0 and "no kit 4 (there are 2), so its parts and figures are not told" in run.err
    assert "\nKit 1\n" not in run.out and "\nKit 4\n" not in run.out


def test_more_kits_than_usual_are_all_in_the_table() -> None:
    """Once the screen stopped at five rows, whatever `--top` asked for."""
    shelf = small_shelf(
        cores=[shipped_part(name) for name in ("core-178-square", "core-260-short")],
        exchangers=[shipped_part(name) for name in ("exchanger-350-slim", "exchanger-380-slim")],
        pumps=[shipped_part(name) for name in ("pump-40-small", "pump-35-common")],
        reservoirs=[shipped_part("reservoir-8-cube"), shipped_part("reservoir-6-vented")],
    )
    brief = example("hatch", limits=None, aim={"charge_air": "130 degC"})
    run = suggest(brief, "--all-variants", "--top", "7", shelf=shelf)
    rows = re.findall(r"^ *(\d+) +[\d,]+\.\d\d ", run.out, re.MULTILINE)
    assert [int(row) for row in rows] == [1, 2, 3, 4, 5, 6, 7]
