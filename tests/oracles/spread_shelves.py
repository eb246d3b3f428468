"""Random shelves whose parts are spread wide in price, mass, current and charge loss, asked for too much of several."""

from __future__ import annotations

import copy
import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from itertools import combinations
from random import Random
from typing import Any

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from tests.oracles.plain_kit import PlainKit
from tests.oracles.shelves import Shelf, random_shelf, shelf_of
from tests.oracles.try_everything import Tried

MEASURED = (30,)
"""Seeds whose bay is measured; the others are asked for one that nobody measured, which are sooner tried."""

LIMITS = ("aim", "price", "mass", "current", "charge loss")

KEPT = {"core": 3, "exchanger": 4, "pump": 2, "reservoir": 2, "cap": 2}
"""So many of a kind at most: then no search of a few parts leaves one out, and many jobs share their searches."""

Tree = dict[str, Any]


@cache
def spread(seed: int) -> Shelf:
    """The shelf of a seed, its pumps two, each figure that a limit may be set on drawn anew, and no limit set."""
    r = Random(f"spread {seed}")
    written = copy.deepcopy(random_shelf(seed).written)
    parts: list[Tree] = written["parts"]
    if seed not in MEASURED:
        written["brief"]["bay"] = "unmeasured"
    parts[:] = [part for part in parts if part not in [one for kind in KEPT for one in _of(parts, kind)[KEPT[kind]:]]]
    if len(_of(parts, "pump")) == 1:
        parts.append({**copy.deepcopy(_of(parts, "pump")[0]), "id": "pump-more"})
    for part in parts:
        if part["kind"] not in ("core", "exchanger", "pump", "reservoir"):
            continue
        part["price"], part["mass"] = r.randint(60, 500), f"{r.uniform(0.5, 6):.2f} kg"
        if part["kind"] == "pump":
            part["current"] = f"{r.uniform(2, 14):.1f} A"
        for point in part.get("performance", {}).get("measured", ()) if part["kind"] == "core" else ():
            point["charge_loss"] = f"{r.uniform(1, 9):.1f} kPa"
    brief = written["brief"]
    brief["limits"] = {}
    brief["aim"].pop("charge_loss", None)
    return shelf_of(written, seed)


def _of(parts: Sequence[Tree], kind: str) -> list[Tree]:
    return [part for part in parts if part["kind"] == kind]


@cache
def tried(seed: int) -> Tried:
    """Every kit of that shelf; found once."""
    return Tried(spread(seed))


def needs(kit: PlainKit) -> dict[str, float]:
    """What a limit has to be for a kit to keep it, in the unit that a brief is written in; the aim in kelvin."""
    return {
        "aim": kit.worst_k,
        "price": kit.price_cents / 100,
        "mass": kit.mass_g / 1000,
        "current": kit.current_a,
        "charge loss": kit.core_and_couplers / 1000,
    }


def fewest(kits: Sequence[PlainKit], limits: dict[str, float]) -> int | None:
    """How many of some limits it takes that every kit breaks one; None where a kit breaks none."""
    broken = {frozenset(code for code in limits if needs(kit)[code] > limits[code] + 1e-9) for kit in kits}
    for size in range(1, len(limits) + 1):
        for chosen in combinations(limits, size):
            if all(not one.isdisjoint(chosen) for one in broken):
                return size
    return None


def drawn_limits(seed: int, r: Random, size: int) -> dict[str, float] | None:
    """Limits that no kit keeps together, and any fewer than `size` of them some kit does; None where none is drawn.

    A shelf has three aims in all its jobs: then they share what is searched for.
    """
    kits = tried(seed).at(spread(seed).brief.ceiling_k)
    of = {code: sorted({needs(kit)[code] for kit in kits}) for code in LIMITS}
    of_aim = Random(f"aim {seed}")
    aims = [_short_of(of_aim, some, "aim", some is not of["aim"]) for some in (of["aim"][:1], of["aim"], of["aim"])]
    for _ in range(60):
        codes = sorted(r.sample(LIMITS, r.randint(size, 5)))
        limits = {code: _short_of(r, of[code], code, size == 1) for code in codes if code != "aim"}
        if "aim" in codes:
            limits["aim"] = aims[0] if size == 1 else r.choice(aims)
        if fewest(kits, limits) == size:
            return limits
    return None


def _short_of(r: Random, figures: Sequence[float], code: str, below: bool) -> float:
    """A little less than one of the figures, to the last digit that a brief is written with; at most the least."""
    figure = figures[0] if below and r.random() < 0.5 else r.choice(figures)
    step = {"aim": 0.01, "price": 0.5, "mass": 0.001, "current": 0.1, "charge loss": 0.01}[code]
    return round((math.floor(figure / step) - r.choice((1, 3, 10)) + (0 if below else r.choice((0, 4)))) * step, 3)


def asked(seed: int, limits: dict[str, float]) -> Shelf:
    """The shelf of a seed with limits written into its brief."""
    of = spread(seed)
    brief = copy.deepcopy(of.written["brief"])
    for code, figure in limits.items():
        if code == "aim" and "charge_air" in brief["aim"]:
            brief["aim"]["charge_air"] = f"{figure - 273.15:.2f} degC"
        elif code == "aim":
            brief["aim"]["above_air"] = f"{figure - float(of.brief.site.air_k):.2f} K"
        elif code == "charge loss":
            brief["aim"]["charge_loss"] = f"{figure:.2f} kPa"
        elif code == "price":
            brief["limits"]["price"] = figure
        else:
            key, unit = {"mass": ("mass_dry", "kg"), "current": ("current", "A")}[code]
            brief["limits"][key] = f"{figure:g} {unit}"
    return with_brief(of, brief)


def with_brief(of: Shelf, brief: Tree) -> Shelf:
    """The shelf with another brief."""
    known = Brief.model_validate(brief)
    assert isinstance(known.driving, Driving)
    return replace(of, brief=known, driving=known.driving, written={**of.written, "brief": brief})
