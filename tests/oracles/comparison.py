"""The product's answer beside the honest judge's: what differs, in words."""

from __future__ import annotations

import json
import os
import pickle
from collections import Counter
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from configurator.questions.answer import Answer
from configurator.questions.suggest import suggest
from tests.oracles.plain_kit import PlainKit
from tests.oracles.shelves import HOT_FROM, Shelf, random_shelf
from tests.oracles.try_everything import every_kit

LEFT_HOT = tuple(HOT_FROM + seed for seed in (10, 14, 24, 34, 77, 83, 163, 191, 206, 218, 222, 259, 266))
"""Shelves whose coolant boils in some kits, and in most stays liquid in others."""

FURTHER = (347, 512, 583, 599, 666)
"""Shelves for what the first ones lack: kits that more coolant flow makes worse, an aim that is kept by 0.03 K."""

SEEDS = (*range(270), *FURTHER, *LEFT_HOT)


@cache
def shelf(seed: int) -> Shelf:
    """The shelf of a seed, made once."""
    return random_shelf(seed)


def judged(seed: int) -> tuple[PlainKit, ...]:
    """All kits of a seed's shelf by trying everything, best first; found once."""
    return _judged(seed)[0]


def out_for(seed: int) -> Mapping[str, int]:
    """Of the kits that do not go into their zones, how many are out for turns, bodies, reaches or heights."""
    return _judged(seed)[1]


@cache
def _judged(seed: int) -> tuple[tuple[PlainKit, ...], Mapping[str, int]]:
    """Found by the first worker of this run of the tests that asks, and kept for the others."""
    kept = Path(os.environ["KITWRIGHT_TEST_ANSWERS"]) / f"judged-{seed}"
    if kept.is_file():
        found: tuple[tuple[PlainKit, ...], Mapping[str, int]] = pickle.loads(kept.read_bytes())
        return found
    out = Counter[str]()
    found = tuple(every_kit(shelf(seed), out)), out
    unfinished = kept.with_suffix(f".{os.getpid()}")
    unfinished.write_bytes(pickle.dumps(found))
    unfinished.replace(kept)
    return found


def answer(of: Shelf, *, all_variants: bool = True, top: int = 10**9) -> Answer:
    """What the product says to a shelf."""
    asked = (of.brief, of.driving, of.own, "", of.catalogue, of.tables)
    return suggest(*asked, all_variants=all_variants, top=top, look_further=False)


def short_list(kits: tuple[PlainKit, ...], top: int) -> tuple[PlainKit, ...]:
    """The first kit of each choice of core and exchanger, at most `top`."""
    listed: list[PlainKit] = []
    for kit in kits:
        if all(kit.choice != other.choice for other in listed):
            listed.append(kit)
    return tuple(listed[:top])


def differences(wanted: tuple[PlainKit, ...], given: Answer) -> list[str]:
    """Kits and figures that are not the same: ids, zones and order; 0.01 K, a cent, half a millimetre, a gram.

    The charge loses the same from charger to throttle, to 0.1 Pa.
    """
    ours = [(kit.parts, kit.zones) for kit in wanted]
    theirs = [(tuple(kit.parts), tuple(kit.zones)) for kit in given.kits]
    if ours != theirs:
        found = [f"only by trying everything: {kit}" for kit in ours if kit not in theirs]
        found += [f"only in the answer: {kit}" for kit in theirs if kit not in ours]
        return found or [f"another order: {ours} against {theirs}"]
    found = []
    for kit, told in zip(wanted, given.kits, strict=True):
        pairs = (
            ("margin", kit.margin_k, told.thermal.margin_k, 0.0101),
            ("low margin", kit.margin_low_k, told.thermal.margin_low_k, 0.0101),
            ("margin to boiling", kit.boil_margin_k, told.boil_margin_k, 0.03),
            ("clearance", kit.clearance_mm, min(told.fit.clearance_mm, 25.0), 0.501),
            ("price", kit.price_cents, told.price_cents, 0),
            ("mass", kit.mass_g, told.mass_dry_g, 0),
            ("proven", kit.proven, told.proven, 0),
            ("charge loss", kit.charge_loss, told.thermal.charge_loss_pa, 0.1),
        )
        found += [f"{name} of {kit.ids}: {a} against {b}" for name, a, b, most in pairs if abs(a - b) > most]
    return found


def told(of: Shelf, found: list[str]) -> str:
    """A failure as something to keep: what differs, then the whole shelf as it is written."""
    return "\n".join([f"seed {of.seed}", *found[:5], "shelf_of(", json.dumps(of.written), ")"])
