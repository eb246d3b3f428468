"""`kitwright shelf check`: a good folder is well, each fault that is put into it is found at its place, no other."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len

from tests.journeys.kitwright import Run, Tree, command, shipped, shipped_part, written

STOCKED = {"stock": 2}


def good() -> Tree:
    """A shelf on which every end has its mate."""
    return {
        "cores": [shipped_part("core-230-short"), shipped_part("core-176-wide")],
        "exchangers": [shipped_part("exchanger-380-slim")],
        "pumps": [shipped_part("pump-50-medium")],
        "reservoirs": [shipped_part("reservoir-1-round")],
        "caps": [shipped_part("cap-32-0.5", **STOCKED)],
        "hoses": [shipped_part("hose-rubber-19")],
        "clamps": [{**shipped("clamps")[0], **STOCKED}],
        "adapters": [shipped_part(name) for name in ("barb-orb-12-19", "barb-orb-10-19", "coupler-76", "coupler-60")],
        "layouts": [layout for layout in shipped("layouts") if layout["id"] == "single"],
    }


def checked(folder: Path, shelf: Tree, *options: str) -> Run:
    (folder / "parts.yaml").write_text(written(shelf), encoding="utf-8")
    return command("shelf", "check", "--catalogue", folder, *options)


def findings(folder: Path, shelf: Tree) -> list[Tree]:
    run = checked(folder, shelf, "--json")
    assert run.code == (1 if run.answer["findings"] else 0), run.err
    return list(run.answer["findings"])


def test_a_good_folder_is_well(tmp_path: Path) -> None:
    run = checked(tmp_path, good())
    assert run.code == 0 and "all well" in run.out
    assert checked(tmp_path, good(), "--json").answer["outcome"] == "all_well"


def line_of(folder: Path, part: str, text: str) -> int:
    """The first line with a text in or after the line of a part's id; counted by hand in the file as written."""
    lines = (folder / "parts.yaml").read_text(encoding="utf-8").splitlines()
    start = next(n for n, line in enumerate(lines) if line.strip("- ") == f"id: {part}")
    return next(n for n, line in enumerate(lines[start:], start + 1) if text in line)


def no_price(shelf: Tree) -> None:
    shelf["pumps"][0]["price"] = 0


def no_stock(shelf: Tree) -> None:
    del shelf["pumps"][0]["stock"]


def no_rating(shelf: Tree) -> None:
    shelf["exchangers"][0]["coolant"].pop("working")


def weak_cap(shelf: Tree) -> None:
    """A cap sees a tenth more than it opens at (common practice, no source); here what it opens at is its rating."""
    shelf["caps"][0]["coolant"]["working"] = shelf["caps"][0]["opens"]


def strange_thread(shelf: Tree) -> None:
    """A size of boss that nothing else on this shelf has."""
    shelf["cores"][0]["coolant"]["ends"][1]["size"] = -20


def no_cap_for_it(shelf: Tree) -> None:
    shelf["reservoirs"][0]["coolant"]["ends"][2]["size"] = "45 mm"


def out_of_reach(shelf: Tree) -> None:
    """1 L/min carries less than the heat that 99.9 % of 0.2 kg/s of charge asks for."""
    shelf["cores"][1]["performance"]["measured"][0] |= {"effectiveness": "99.9 %", "coolant": "1 L/min"}


def loss_missed(shelf: Tree) -> None:
    """The loss at one of three points is doubled: no power law with the house's exponent meets that."""
    point = shelf["cores"][0]["performance"]["measured"][2]
    point["charge_loss"] = f"{2 * float(point['charge_loss'].split()[0])} kPa"


def conductance_missed(shelf: Tree) -> None:
    """83 % between 84.1 % at less air and 74.7 % at more: met within 2 %, but the conductances lie 5 % apart."""
    shelf["cores"][0]["performance"]["measured"][1]["effectiveness"] = "83 %"


def no_clamp(shelf: Tree) -> None:
    del shelf["clamps"]


def pair_without_wye(shelf: Tree) -> None:
    shelf["layouts"] = [layout for layout in shipped("layouts") if layout["id"] == "twin-exchangers-parallel"]


def decimal_slip(shelf: Tree) -> None:
    shelf["exchangers"][0]["coolant"]["volume"] = "57 L"


@pytest.mark.parametrize(
    ("put_in", "code", "part", "at"),
    [
        (decimal_slip, "impossible-figure", "exchanger-380-slim", "volume:"),
        (no_price, "no-price", "pump-50-medium", "price: 0"),
        (no_stock, "no-stock", "pump-50-medium", "id:"),
        (no_rating, "no-rating", "exchanger-380-slim", "coolant:"),
        (weak_cap, "cap-too-weak", "cap-32-0.5", "coolant:"),
        (strange_thread, "joins-nothing", "core-230-short", "name: out"),
        (no_cap_for_it, "joins-nothing", "reservoir-1-round", "name: cap"),
        (out_of_reach, "impossible-point", "core-176-wide", "air: "),
        (loss_missed, "point-not-met", "core-230-short", "charge_loss"),
        (conductance_missed, "point-not-met", "core-230-short", "air: 0.16"),
        (no_clamp, "layout-without-parts", "single", "id:"),
        (pair_without_wye, "layout-without-parts", "twin-exchangers-parallel", "id:"),
    ],
)
def test_each_fault_is_found_at_its_place(tmp_path: Path, put_in: Any, code: str, part: str, at: str) -> None:
    shelf = good()
    put_in(shelf)
    found = findings(tmp_path, shelf)
    first = next(finding for finding in found if finding["code"] == code and finding["subject"] == part)
    if at == "name: out":
        assert first["key"] == "core-230-short.coolant.ends[1]"
    elif at in ("coolant:", "name: cap"):
        assert first["key"].startswith(f"{part}.coolant")
        assert first["line"] >= line_of(tmp_path, part, "coolant:")
    else:
        assert first["line"] >= line_of(tmp_path, part, at) and first["file"].endswith("parts.yaml")
    assert {finding["code"] for finding in found} == {code}


def test_what_keeps_it_from_being_loaded_comes_first(tmp_path: Path) -> None:
    shelf = good()
    no_price(shelf)
    shelf["pumps"][0]["mass"] = "0.9"
    run = checked(tmp_path, shelf)
    assert run.code == 3 and "parts.yaml:" in run.err and "mass" in run.err


def test_the_screen_is_80_wide_and_leads_to_the_line(tmp_path: Path) -> None:
    shelf = good()
    for fault in (no_price, strange_thread, loss_missed):
        fault(shelf)
    out = checked(tmp_path, shelf).out
    words = [line for line in out.splitlines() if not line.startswith("Next: ") and str(tmp_path) not in line]
    assert max(cell_len(line) for line in words) <= 80
    place = f"{tmp_path / 'parts.yaml'}:{line_of(tmp_path, 'pump-50-medium', 'price: 0')}:"
    assert place in out and "1 × no-price" in " ".join(out.split())
