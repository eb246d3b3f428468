"""Small random shelves and briefs, steered towards what is interesting: the same seed, the same shelf.

`written` holds everything as it would stand in a file, so that a failing shelf prints as something to keep.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from random import Random
from typing import Any

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Charger, CoolantKind, Fuel, Tables
from configurator.parts.kinds import PART_KINDS
from configurator.parts.layouts import Layout
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue, make_catalogue
from tests.oracles.random_briefs import brief, left_hot
from tests.oracles.random_parts import cap, core, exchanger, pump, reservoir
from tests.oracles.random_small_parts import SmallParts, for_suction

LAYOUT = {
    "id": "single",
    "name": "one core, one front exchanger",
    "slots": [
        {"slot": "reservoir", "kind": "reservoir", "least": 1, "most": 1},
        {"slot": "pump", "kind": "pump", "least": 1, "most": 1},
        {"slot": "core", "kind": "core", "least": 1, "most": 1},
        {"slot": "exchanger", "kind": "exchanger", "least": 0, "most": 1},
        {"slot": "cap", "kind": "cap", "least": 0, "most": 1, "path": "on reservoir"},
    ],
    "loop": ["reservoir", "pump", "core", "exchanger"],
}
CHARGERS = [
    {
        "id": "turbo",
        "name": "turbo",
        "holds_boost_at": "throttle",
        "turbine": True,
        "efficiency": "70 %",
        "efficiency_band": "4 %",
        "consumption": {"petrol": "310 g/kWh"},
        "consumption_band": "6 %",
        "standing": "common practice",
        "source": "x",
        "part_load": [
            {"share": "0 %", "boost": "0 %"},
            {"share": "50 %", "boost": "80 %"},
            {"share": "100 %", "boost": "100 %"},
        ],
    },
    {
        "id": "blower",
        "name": "blower",
        "holds_boost_at": "outlet",
        "turbine": False,
        "efficiency": "60 %",
        "efficiency_band": "4 %",
        "consumption": {"petrol": "330 g/kWh"},
        "consumption_band": "6 %",
        "standing": "common practice",
        "source": "x",
        "part_load": [{"share": "0 %", "boost": "0 %"}, {"share": "100 %", "boost": "100 %"}],
    },
]
FUELS = [{"id": "petrol", "name": "petrol", "air_fuel_ratio": 11.8, "standing": "common practice", "source": "x"}]
COOLANTS = [
    {"id": "water", "name": "water with inhibitor", "price_per_litre": 1.5},
    {"id": "ethylene glycol", "name": "ethylene glycol antifreeze", "price_per_litre": 5.5},
    {"id": "propylene glycol", "name": "propylene glycol antifreeze", "price_per_litre": 6.5},
]

HOT_FROM = 1000
"""Seeds from here on: the shelf of the seed that is so much less, with a loop so hot that the cap decides whether it
boils."""


@dataclass(frozen=True)
class Shelf:
    """A catalogue and a brief that asks of it."""

    seed: int
    brief: Brief
    driving: Driving
    own: tuple[OwnPart, ...]
    catalogue: Catalogue
    tables: Tables
    written: dict[str, Any]


def shelf_of(written: dict[str, Any], seed: int = -1) -> Shelf:
    """A shelf from what is written: `parts` (each with its kind), `brief`, `own` as [id, fitted]."""
    parts = {part["id"]: PART_KINDS[part["kind"]].model_validate(part) for part in written["parts"]}
    catalogue = make_catalogue(parts.values(), [Layout.model_validate(LAYOUT)])
    brief = Brief.model_validate(written["brief"])
    assert isinstance(brief.driving, Driving)
    tables = Tables(
        {row["id"]: Fuel.model_validate(row) for row in FUELS},
        {row["id"]: Charger.model_validate(row) for row in CHARGERS},
        {},
        {row["id"]: CoolantKind.model_validate(row) for row in COOLANTS},
    )
    own = tuple(OwnPart(parts[part_id], fitted) for part_id, fitted in written.get("own", []))
    return Shelf(seed, brief, brief.driving, own, catalogue, tables, written)


def random_shelf(seed: int) -> Shelf:
    """The shelf of a seed."""
    if seed >= HOT_FROM:
        cold = random_shelf(seed - HOT_FROM)
        return shelf_of({**cold.written, "brief": cold.written["brief"] | left_hot(Random(seed))}, seed)
    r = Random(seed)
    small = SmallParts(r)
    names = Namer(r)
    counts = _counts(r)
    one_of_each = max(counts.values()) == 1
    parts = [make(r, names(make.__name__, i)) for make, count in counts.items() for i in range(count)]
    parts += [cap(r, names("cap", i)) for i in range(1 if one_of_each else r.choice((0, 1, 2, 2, 3, 3, 3, 3)))]
    if not one_of_each and r.random() < 0.3:  # two parts that differ in nothing but the id
        twin = dict(r.choice(parts))
        parts.append({**twin, "id": twin["id"] + "-b"})
    own = [[r.choice(parts)["id"], r.random() < 0.5]] if r.random() < 0.2 else []
    fitted = {part["kind"] for part in parts if [part["id"], True] in own}
    written = {"parts": parts + small.all(), "brief": brief(r, parts, fitted), "own": own}
    for_suction(written["parts"], r)
    of_outlets = Random(f"outlets {seed}")
    if of_outlets.random() < 0.15:
        written["brief"]["engine"]["charger_outlets"] = 2
        written["parts"] += SmallParts(of_outlets).charge_wyes()
    return shelf_of(written, seed)


def _counts(r: Random) -> dict[Callable[[Random, str], dict[str, Any]], int]:
    """Parts of each rigid kind: one each, or up to 4 cores and exchangers, 3 pumps and reservoirs, 24 loops."""
    if r.random() < 0.2:
        return {core: 1, exchanger: 1, pump: 1, reservoir: 1}
    while True:
        counts = {core: r.randint(1, 4), exchanger: r.randint(1, 4), pump: r.randint(1, 3), reservoir: r.randint(1, 3)}
        if 6 <= math.prod(counts.values()) <= 24:
            return counts


class Namer:
    """Ids whose order has nothing to do with the order of making."""

    def __init__(self, r: Random) -> None:
        self.letters = r.sample("abcdefgh", 8)

    def __call__(self, kind: str, index: int) -> str:
        return f"{kind}-{self.letters[index]}"
