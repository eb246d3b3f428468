"""The answer hangs on what is written and on nothing else: not on batches, the order of a file, names, or the run."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from copy import deepcopy
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from configurator.parts.shelf import Catalogue
from configurator.search import fill
from tests.oracles.comparison import answer
from tests.oracles.shelves import FUELS, random_shelf, shelf_of
from tests.search.small_shelves import filled

CHECKOUT = Path(__file__).resolve().parents[2]
MANY = 8
ENOUGH_SHELVES = 4


@lru_cache(maxsize=1)
def fertile() -> tuple[int, ...]:
    """The first few seeds whose shelves make many kits."""
    found: list[int] = []
    for seed in range(200):
        if len(filled(random_shelf(seed)).kept) >= MANY:
            found.append(seed)
        if len(found) == ENOUGH_SHELVES:
            break
    return tuple(found)


def _figures(kits) -> list[tuple[object, ...]]:
    return [
        (
            kit.kit,
            kit.margin_k,
            str(kit.margin_low_k),
            kit.clearance_mm,
            kit.price_cents,
            kit.mass_g,
            kit.charge_loss_pa,
            kit.missed,
        )
        for kit in kits
    ]


def test_batches_of_any_size_give_equal_figures(monkeypatch: pytest.MonkeyPatch) -> None:
    assert len(fertile()) == ENOUGH_SHELVES
    for seed in fertile():
        by_batch = []
        for size in (1, 7, 1000):
            monkeypatch.setattr(fill, "BATCH", size)
            found = filled(random_shelf(seed))
            by_batch.append((_figures(found.kept), _figures(found.missing)))
        assert by_batch[0] == by_batch[1] == by_batch[2]


def _told(written: dict[str, Any]) -> list[tuple[object, ...]]:
    return [
        (
            k.rank,
            k.parts,
            k.zones,
            k.price_cents,
            k.mass_dry_g,
            round(k.thermal.margin_k, 2),
            k.fit.clearance_mm,
            k.picks,
            k.proven,
        )
        for k in answer(shelf_of(written)).kits
    ]


def test_the_order_of_a_file_is_irrelevant() -> None:
    for seed in fertile():
        written = random_shelf(seed).written
        assert _told({**written, "parts": written["parts"][::-1]}) == _told(written)


def _renamed(written: dict[str, Any], names: dict[str, str]) -> dict[str, Any]:
    made = deepcopy(written)
    for part in made["parts"]:
        part["id"] = names.get(part["id"], part["id"])
    made["own"] = [[names.get(part, part), fitted] for part, fitted in made["own"]]
    made["brief"]["without"] = [names.get(word, word) for word in made["brief"].get("without", [])]
    return made


def test_names_that_keep_their_order_change_nothing() -> None:
    for seed in fertile():
        written = random_shelf(seed).written
        names = {part["id"]: f"x.{part['id']}" for part in written["parts"]}
        mapped = [
            (rank, tuple((slot, names[part]) for slot, part in parts), *rest) for rank, parts, *rest in _told(written)
        ]
        assert _told(_renamed(written, names)) == mapped


def test_names_in_another_order_change_ties_alone() -> None:
    kinds = {"core", "exchanger", "pump", "reservoir", "cap"}
    for seed in fertile():
        written = random_shelf(seed).written
        ids = sorted(part["id"] for part in written["parts"] if part["kind"] in kinds)
        names = {part: f"{len(ids) - at:02d}-{part}" for at, part in enumerate(ids)}
        before, after = filled(random_shelf(seed)).kept, filled(shelf_of(_renamed(written, names))).kept

        def plain(kits, names=names) -> set[tuple[object, ...]]:
            return {
                (tuple((slot, names.get(part, part)) for slot, part in kit.kit.parts), *_figures([kit])[0][1:])
                for kit in kits
            }

        assert plain(before) == plain(after)
        ranks = [
            [(k.price_cents, k.fit.clearance_mm, round(k.thermal.margin_k, 2)) for k in answer(shelf_of(w)).kits]
            for w in (written, _renamed(written, names))
        ]
        assert sorted(ranks[0]) == sorted(ranks[1])
        assert [price for price, _, _ in ranks[0]] == [price for price, _, _ in ranks[1]]


def test_a_part_that_no_kit_holds_can_go() -> None:
    """Taking an unused part off the shelf takes no kit away and adds none."""
    gone = 0
    for seed in fertile():
        of = random_shelf(seed)
        found = filled(of)
        held = {part for kit in (*found.kept, *found.missing) for _, part in kit.kit.parts}
        fills_slots = {"core", "exchanger", "pump", "reservoir", "cap"}
        idle = [p.id for p in of.catalogue.parts.values() if p.kind in fills_slots and p.id not in held]  # type: ignore[attr-defined]
        own = {own.part.id for own in of.own}
        for part in sorted(set(idle) - own):
            rest = {key: known for key, known in of.catalogue.parts.items() if key != part}
            smaller = filled(of, Catalogue(rest, of.catalogue.layouts))
            assert sorted(_figures(smaller.kept), key=str) == sorted(_figures(found.kept), key=str)
            gone += 1
    assert gone >= 3


def test_the_same_bytes_on_a_second_run(tmp_path: Path) -> None:
    """Two processes with other hash seeds, on a catalogue and a brief in files (JSON is YAML too)."""
    written = random_shelf(fertile()[0]).written
    kinds = {part["kind"]: [] for part in written["parts"]}
    for part in written["parts"]:
        kinds[part["kind"]].append({key: value for key, value in part.items() if key != "kind"})
    sections = {kind + ("es" if kind.endswith("h") else "s"): parts for kind, parts in kinds.items()}
    shelf_folder = tmp_path / "shelf"
    shelf_folder.mkdir()
    (shelf_folder / "parts.yaml").write_text(json.dumps(sections), encoding="utf-8")
    brief = deepcopy(written["brief"])
    brief["own"] = [{"id": part, "fitted": fitted} for part, fitted in written["own"]]
    brief["engine"].update(charger="turbo", fuel=FUELS[0]["id"])
    (tmp_path / "brief.yaml").write_text(json.dumps(brief), encoding="utf-8")
    runs = [
        subprocess.run(
            [
                sys.executable,
                "-m",
                "configurator",
                "suggest",
                str(tmp_path / "brief.yaml"),
                "--json",
                "--catalogue",
                str(shelf_folder),
            ],
            cwd=CHECKOUT,
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=False,
        )
        for seed in ("1", "2")
    ]
    assert runs[0].stdout.startswith(b"{"), runs[0].stderr.decode()[-2000:] + runs[0].stdout.decode()[:2000]
    assert b'"outcome": "bad_input"' not in runs[0].stdout, runs[0].stdout.decode()
    assert runs[0].stdout == runs[1].stdout
    assert runs[0].returncode == runs[1].returncode
