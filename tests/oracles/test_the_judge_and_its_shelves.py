"""The judge shares nothing with the search, and its shelves are hard and easy in every way that matters."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from itertools import combinations
from pathlib import Path

import pytest

from configurator.foundations.coolants import Coolant
from tests.oracles.comparison import LEFT_HOT, SEEDS, answer, judged, out_for, shelf
from tests.oracles.plain_boiling import boils_k, water_mpa
from tests.oracles.plain_kit import PlainKit, place_in_order
from tests.oracles.shelves import random_shelf

HERE = Path(__file__).parent
JUDGE = {
    path.name
    for path in HERE.glob("*.py")
    if path.name.startswith(("plain_", "random_")) or path.name in {"try_everything.py", "shelves.py"}
}
MAY_IMPORT = {"physics", "foundations", "standards", "parts", "brief"}


def _imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0
            yield node.module or ""


def test_the_judge_imports_models_and_physics_alone() -> None:
    assert len(JUDGE) >= 10
    for name in sorted(JUDGE):
        for module in _imported(HERE / name):
            parts = module.split(".")
            assert parts[0] != "importlib"
            if parts[0] == "configurator":
                assert parts[1] in MAY_IMPORT, f"{name} imports {module}"
            if parts[0] == "tests":
                assert f"{parts[-1]}.py" in JUDGE, f"{name} imports {module}"


def test_the_same_seed_makes_the_same_shelf() -> None:
    assert random_shelf(7).written == random_shelf(7).written != random_shelf(8).written


def test_shelves_with_no_kit_one_kit_and_many() -> None:
    found = Counter(min(len(judged(seed)), 8) for seed in SEEDS)
    assert found[0] >= 40
    assert len(SEEDS) - found[0] >= 65
    assert found[1] >= 2
    assert found[8] >= 30


def test_ties_that_only_the_ids_decide() -> None:
    def tied(seed: int) -> bool:
        enough = shelf(seed).brief.enough_k
        keys = [place_in_order(kit, 1e9 if enough is None else float(enough))[:-1] for kit in judged(seed)]
        return len(set(keys)) < len(keys)

    assert sum(map(tied, SEEDS)) >= 10


def _pump_apart(kits: tuple[PlainKit, ...]) -> Iterator[tuple[PlainKit, PlainKit]]:
    """Pairs that differ in their pump alone, the one of less flow first."""
    for one, other in combinations(sorted(kits, key=lambda kit: kit.flow), 2):
        apart = [a for a, b in zip(one.parts, other.parts, strict=False) if a != b]
        if len(one.parts) == len(other.parts) and one.zones == other.zones and [slot for slot, _ in apart] == ["pump"]:
            yield one, other


def test_more_coolant_flow_is_now_better_and_now_worse() -> None:
    pairs = [pair for seed in SEEDS for pair in _pump_apart(judged(seed)) if pair[1].flow > 1.05 * pair[0].flow]
    assert sum(more.margin_k > less.margin_k + 0.1 for less, more in pairs) >= 5
    assert sum(more.margin_k < less.margin_k - 0.1 for less, more in pairs) >= 5


def test_kits_that_need_adapters_and_kits_that_need_none() -> None:
    kits = [kit for seed in SEEDS for kit in judged(seed)]
    assert sum(kit.adapters > 0 for kit in kits) >= 100
    assert sum(kit.adapters == 0 for kit in kits) >= 100


def test_proven_and_unproven_kits_side_by_side() -> None:
    mixed = [seed for seed in SEEDS if {kit.proven for kit in judged(seed)} == {True, False}]
    assert len(mixed) >= 5


def test_tight_and_roomy_bays_and_several_zones_for_one_kit() -> None:
    kits = [kit for seed in SEEDS for kit in judged(seed)]
    assert sum(0 < kit.clearance_mm < 5 for kit in kits) >= 5
    assert sum(5 <= kit.clearance_mm < 25 for kit in kits) >= 20
    moved = [seed for seed in SEEDS if len({kit.parts for kit in judged(seed)}) < len(judged(seed))]
    assert len(moved) >= 5


def test_chargers_with_two_outlets_that_a_wye_gathers() -> None:
    of_known_bore = [
        seed
        for seed in SEEDS
        if shelf(seed).brief.engine.charger_outlets == 2 and shelf(seed).brief.engine.charger_outlet_m is not None
    ]
    assert sum(bool(judged(seed)) for seed in of_known_bore) >= 6
    assert sum(not judged(seed) for seed in of_known_bore) >= 6


def test_kits_that_fit_as_best_joined_or_tightly_or_not_for_every_reason() -> None:
    kits = [kit for seed in SEEDS for kit in judged(seed)]
    assert sum(kit.tight for kit in kits) >= 20
    assert sum(not kit.tight and kit.zones != () for kit in kits) >= 300
    for why, shelves in (("turns", 8), ("bodies", 25), ("reaches", 25), ("heights", 12)):
        assert sum(out_for(seed)[why] > 0 for seed in SEEDS) >= shelves, why
    both = [seed for seed in SEEDS if judged(seed) and out_for(seed)["reaches"]]
    assert len(both) >= 8, "the room before ends must let some kits of a shelf in and keep others out"


def test_layouts_without_exchanger_and_parts_of_the_customer() -> None:
    with_kits = [shelf(seed) for seed in SEEDS if judged(seed)]
    assert sum("exchanger" in of.brief.without for of in with_kits) >= 5
    assert sum(any(own.fitted for own in of.own) for of in with_kits) >= 2
    assert sum(any(not own.fitted for own in of.own) for of in with_kits) >= 2
    assert sum(of.brief.bay is None for of in with_kits) >= 2


def test_shelves_where_the_cap_decides_whether_the_coolant_boils() -> None:
    missed = [{m for kit in answer(shelf(seed)).closest for m in kit.missed} for seed in LEFT_HOT]
    assert all("coolant boils" in found for found in missed)
    near = [kit for seed in LEFT_HOT for kit in judged(seed) if kit.boil_margin_k < 10]
    assert len(near) >= 20


def test_the_judge_knows_the_steam_table() -> None:
    """IAPWS-IF97, verification values of region 4: 3.53658941 kPa at 300 K, 2.63889776 MPa at 500 K (published)."""
    assert water_mpa(300.0) == pytest.approx(0.353658941e-2, rel=1e-8)
    assert water_mpa(500.0) == pytest.approx(0.263889776e1, rel=1e-8)
    assert boils_k(Coolant("water", 0.0), 101325.0) == pytest.approx(373.124, abs=0.002)
