"""Random small shelves hostile to bounds: one manner after the other, each what a careless bound would stumble on.

Every part joins every other of the same bore, so that most shelves make kits; what is hard is which come first.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from random import Random
from typing import Any

from configurator.brief.tables import Soak, Tables
from configurator.parts.layouts import Layout
from configurator.parts.shelf import make_catalogue
from tests.journeys.kitwright import shipped
from tests.oracles.random_small_parts import WIRING, clamps
from tests.oracles.shelves import LAYOUT, Shelf, shelf_of
from tests.search import small_shelves as small

Tree = dict[str, Any]

TWINS = ("twin-cores-parallel", "twin-cores-series", "twin-exchangers-parallel", "twin-exchangers-series")


@cache
def hostile(seed: int) -> Shelf:
    """The shelf of a seed; its manner is `MANNERS[seed % len(MANNERS)]`."""
    r = Random(f"hostile {seed}")
    written: Tree = {"parts": _parts(r), "brief": _brief(r), "own": []}
    MANNERS[seed % len(MANNERS)](r, written)
    made = shelf_of({**written, "parts": [*written["parts"], *_joints(r), *clamps(), *WIRING]}, seed)
    layouts = [LAYOUT, *(one for one in shipped("layouts") if one["id"] in written["brief"].get("layouts", ()))]
    catalogue = make_catalogue(made.catalogue.parts.values(), [Layout.model_validate(one) for one in layouts])
    return replace(made, catalogue=catalogue, tables=replace(made.tables, soak=_soak()))


def manner(seed: int) -> str:
    """What the shelf of a seed is hard by."""
    return MANNERS[seed % len(MANNERS)].__name__.strip("_").replace("_", " ")


def _soak() -> dict[str, Soak]:
    return {row["id"]: Soak.model_validate(row) for row in shipped("soak")}


def of_kind(written: Tree, *kinds: str) -> list[Tree]:
    """The parts of some kinds."""
    return [part for part in written["parts"] if part["kind"] in kinds]


def _parts(r: Random) -> list[Tree]:
    while True:
        counts = {_core: r.randint(1, 4), _exchanger: r.randint(1, 4), _pump: r.randint(1, 3), _reservoir: r.randint(1, 3)}
        if 6 <= math.prod(counts.values()) <= 36:
            break
    parts = [make(r, f"{make.__name__[1:]}-{letter}") for make, count in counts.items()
             for letter in r.sample("abcdefgh", count)]  # fmt: skip
    return [*parts, *(small.cap(f"cap-{bar}", opens=f"{bar} bar") for bar in (0, *r.sample((0.3, 0.9), r.randint(0, 1))))]


def _bore(r: Random) -> str:
    return r.choices(("19 mm", "25 mm"), (8, 1))[0]


def _core(r: Random, part_id: str) -> Tree:
    made = small.core(part_id, spigot=_bore(r), long=r.choice((180, 200, 215)))
    made["performance"] = {"measured": [_core_point(r.randint(55, 88), r.choice((2.0, 3.5)), r.choice((6, 14, 25)))]}
    made["coolant"]["volume"] = f"{r.choice((0.4, 0.8, 1.2))} L"
    return {**made, "price": r.randint(120, 420), "mass": f"{r.uniform(1.5, 5):.2f} kg"}


def _core_point(effectiveness: int, charge_loss: float, coolant_loss: int) -> Tree:
    return {
        "air": "0.20 kg/s", "charge_in": "150 degC", "charge_pressure": "1.2 bar", "coolant": "30 L/min",
        "fluid": "water", "coolant_in": "40 degC", "effectiveness": f"{effectiveness} %",
        "charge_loss": f"{charge_loss} kPa", "coolant_loss": f"{coolant_loss} kPa",
    }  # fmt: skip


def _exchanger(r: Random, part_id: str) -> Tree:
    made = small.exchanger(part_id)
    made["size"] = {"x": "40 mm", "y": f"{r.choice((400, 430))} mm", "z": f"{r.choice((130, 140, 148))} mm"}
    point = {
        "face_speed": "5 m/s", "air_in": "25 degC", "coolant": "20 L/min", "fluid": "water", "coolant_in": "60 degC",
        "effectiveness": f"{r.randint(30, 65)} %", "coolant_loss": f"{r.choice((4, 9, 16))} kPa",
    }  # fmt: skip
    made["performance"] = {"measured": [point]}
    return {**made, "price": r.randint(90, 320), "mass": f"{r.uniform(1.2, 4):.2f} kg"}


def _pump(r: Random, part_id: str) -> Tree:
    made = small.pump(part_id)
    dead, free = r.choice((30, 50, 70)), r.choice((20, 35, 60, 90))
    made["curve"] = [
        {"flow": f"{share * free:g} L/min", "head": f"{dead * (1 - share**2):g} kPa"} for share in (0, 0.5, 1)
    ]
    made["coolant"]["ends"] = _ends(made, _bore(r))
    return {**made, "price": r.randint(60, 260), "current": f"{r.choice((3, 6, 12, 20))} A", "mass": f"{r.uniform(0.5, 2):.2f} kg"}


def _reservoir(r: Random, part_id: str) -> Tree:
    made = small.reservoir(part_id)
    made["size"]["z"] = f"{r.choice((180, 200, 260))} mm"
    made["coolant"] |= {"volume": f"{r.choice((1.5, 3, 6))} L", "working": "2 bar"}
    made["vented"] = r.random() < 0.6
    return {**made, "price": r.randint(40, 140), "mass": f"{r.uniform(0.4, 2):.2f} kg"}


def _ends(part: Tree, bore: str) -> list[Tree]:
    return [{**end, "size": bore} for end in part["coolant"]["ends"]]


def _joints(r: Random) -> list[Tree]:
    spigots = [{"name": name, "form": "spigot", "size": size, "barb": True} for name, size in (("a", "25 mm"), ("b", "19 mm"))]
    reducer = {
        "kind": "adapter", "id": "reducer", "name": "reducer", "price": r.choice((5, 40)), "mass": "80 g",
        "shape": "reducer", "medium": "coolant", "length": "50 mm",
        "through": {"working": "10 bar", "hottest": "150 degC", "ends": spigots},
    }  # fmt: skip
    hoses = [
        {**small.hose("hose", bore="19 mm"), "price": r.choice((6, 14)), "bend_radius": "60 mm"},
        {**small.hose("hose-tight", bore="19 mm"), "price": r.choice((6, 30)), "bend_radius": "25 mm"},
        {**small.hose("hose-wide", bore="25 mm"), "price": r.choice((8, 20)), "vacuum": True},
    ]
    return [reducer, *hoses]


def _brief(r: Random) -> Tree:
    """An engine and a drive: one pull, bursts with rests, with the pump off, or begun at idle; three ways to start."""
    pull = {"lasts": f"{r.choice((8, 15, 40))} s", "share": "100 %", "speed": f"{r.choice((60, 110))} km/h"}
    rest = {"lasts": f"{r.choice((6, 20))} s", "share": "10 %", "speed": "50 km/h", "pump": r.random() < 0.8}
    stretches = r.choice(([pull], [pull, rest], [pull, rest], [rest, pull]))
    once_s = sum(int(stretch["lasts"].split()[0]) for stretch in stretches)
    made = {
        "brief": "invented",
        "engine": {"power": f"{r.choice((150, 220))} kW", "fuel": "petrol", "charger": r.choice(("turbo", "blower")),
                   "boost": f"{r.choice((0.8, 1.1))} bar"},
        "site": {"air": f"{r.choice((10, 25))} degC"},
        "driving": {"stretches": stretches, "total": f"{once_s * r.choice((1, 3.5, 10)):g} s"},
        "aim": {"charge_air": f"{r.choice((60, 70, 85, 100))} degC"},
        "coolant": {"start": r.choice(("soaked", "5 degC", "40 degC"))} if r.random() < 0.5 else {},
        "bay": "unmeasured" if r.random() < 0.35 else _bay(r),
        "enough": f"{r.choice((0, 4, 9, 30))} K",
    }  # fmt: skip
    return made


def _bay(r: Random) -> Tree:
    zones: Tree = {name: dict(zone) for name, zone in small.BRIEF["bay"]["zones"].items()}
    zones["nose"] |= {"high": f"{r.choice((150, 160, 220))} mm", "air": {"kind": "ram", "share": f"{r.choice((15, 30))} %"}}
    zones["bulkhead"] |= {"deep": f"{r.choice((330, 360, 420))} mm", "wide": f"{r.choice((140, 180))} mm", "high": "300 mm"}
    zones["side"] |= {"wide": f"{r.choice((260, 320))} mm", "deep": "300 mm", "high": f"{r.choice((380, 480))} mm"}
    return {"zones": zones}


def _ranks(parts: list[Tree]) -> list[Tree]:
    """Parts from the weakest to the strongest by what was measured of them, or by the flow of a pump."""

    def strength(part: Tree) -> float:
        points = part.get("performance", {}).get("measured", ())
        return float(str(points[0]["effectiveness"] if points else part["curve"][-1]["flow"]).split()[0])

    return sorted(parts, key=strength)


def _better_is_cheaper(r: Random, written: Tree) -> None:
    for kind in ("core", "exchanger", "pump"):
        for at, part in enumerate(_ranks(of_kind(written, kind))):
            part["price"] = 400 - 70 * at - r.randint(0, 5)


def _better_is_dearer(r: Random, written: Tree) -> None:
    for kind in ("core", "exchanger", "pump"):
        for at, part in enumerate(_ranks(of_kind(written, kind))):
            part["price"] = 100 + 70 * at + r.randint(0, 5)


def _more_flow_is_worse(r: Random, written: Tree) -> None:
    """Pumps of much flow put much heat into coolant that weak exchangers hardly cool."""
    for at, pump in enumerate(_ranks(of_kind(written, "pump"))):
        pump |= {"current": f"{2 + 16 * at} A", "heat_to_coolant": "100 %"}
    for part in of_kind(written, "exchanger"):
        part["performance"]["measured"][0]["effectiveness"] = f"{r.randint(12, 20)} %"
    written["brief"]["driving"]["total"] = "600 s"
    written["brief"]["aim"] = {"charge_air": f"{r.choice((85, 110))} degC"}


def _equal_prices(r: Random, written: Tree) -> None:
    """Prices alike; and of each kind two parts that differ in nothing but the id."""
    for part in of_kind(written, "core", "exchanger", "pump", "reservoir", "cap"):
        part["price"] = 100
    for kind in ("core", "pump"):
        twin = r.choice(of_kind(written, kind))
        written["parts"].append({**twin, "id": twin["id"] + "-z"})


def _nothing_fits(r: Random, written: Tree) -> None:
    written["brief"]["bay"] = _bay(r)
    zone, size = r.choice((("nose", "high"), ("bulkhead", "wide"), ("side", "deep")))
    written["brief"]["bay"]["zones"][zone][size] = f"{r.choice((60, 100, 120))} mm"


def _slots_empty(r: Random, written: Tree) -> None:
    """No exchanger wanted, no cap, or no part of a kind at all."""
    what = r.choice(("exchanger", "exchanger", "cap", "reservoir", "core"))
    if what == "exchanger":
        written["brief"]["without"] = ["exchanger"]
    else:
        written["parts"] = [part for part in written["parts"] if part["kind"] != what]
    written["brief"]["aim"] = {"charge_air": "110 degC"}


def _limits_between(r: Random, written: Tree) -> None:
    """Limits that some kits keep, and a price near the sum of the cheapest parts and the joints."""
    least = sum(min(part["price"] for part in of_kind(written, kind)) for kind in ("core", "exchanger", "pump", "reservoir"))
    limits = {"price": least + r.choice((60, 90, 130)), "mass_dry": f"{r.choice((6, 8, 10))} kg", "current": "7 A"}
    written["brief"]["limits"] = {key: limits[key] for key in r.sample(sorted(limits), r.randint(1, 3))}
    written["brief"]["aim"] = {"charge_air": f"{r.choice((70, 95))} degC"}


def _room_decides(r: Random, written: Tree) -> None:
    """Parts of many sizes share two zones that hold some of them together."""
    for part in of_kind(written, "pump", "reservoir"):
        part["size"] |= {"x": f"{r.choice((90, 120, 150))} mm", "y": f"{r.choice((80, 100, 120))} mm"}
    written["brief"]["bay"] = _bay(r)
    places = written["brief"]["bay"]["zones"]
    places["bulkhead"] |= {"deep": "420 mm", "wide": f"{r.choice((200, 240, 300))} mm", "takes": ["core", "pump"]}
    places["side"] |= {"wide": f"{r.choice((230, 260, 300))} mm"}
    written["brief"]["enough"] = "0 K"
    written["brief"]["aim"] = {"charge_air": "95 degC"}


def _twins(r: Random, written: Tree) -> None:
    """Layouts beside each other, with the same parts and other prices."""
    written["brief"]["layouts"] = ["single", *r.sample(TWINS, 2)]
    written["brief"]["engine"] |= {"charger_outlet": "57 mm", "throttle": "57 mm"}
    written["brief"]["bay"] = "unmeasured"
    for kind, most in (("core", 2), ("exchanger", 2), ("pump", 2), ("reservoir", 1), ("cap", 1)):
        for part in of_kind(written, kind)[most:]:
            written["parts"].remove(part)
    written["parts"] += [
        {"kind": "wye", **wye} for wye in shipped("wyes") if wye["id"] in ("wye-19", "wye-25") or wye["medium"] == "charge"
    ]
    written["parts"] += [{"kind": "adapter", **one} for one in shipped("adapters") if one["medium"] == "charge"]
    written["brief"]["aim"] = {"charge_air": "95 degC"}


def _left_standing(r: Random, written: Tree) -> None:
    """An aim after a standstill: fans and timers come into question, and no bound from heat that must go somewhere."""
    written["brief"]["aim"] = {"charge_air": f"{r.choice((55, 65, 80))} degC", "after": f"{r.choice((3, 8))} min standstill"}
    bay = _bay(r)
    bay["zones"]["behind"] = {**small.BRIEF["bay"]["zones"]["nose"], "deep": "80 mm", "high": "300 mm", "takes": ["fan"]}
    written["brief"]["bay"] = bay
    written["parts"] += [{"kind": "timer", **one} for one in shipped("timers")[:2]]
    written["parts"] += [{"kind": "fan", **one} for one in shipped("fans")[:1]]
    for kind in ("core", "exchanger", "pump"):
        for part in of_kind(written, kind)[2:]:
            written["parts"].remove(part)


def _unproven_is_better(r: Random, written: Tree) -> None:
    """The best of a kind states no rating: a kit with it comes after all that are known to hold."""
    for kind in r.sample(("core", "exchanger", "pump", "reservoir"), 2):
        side = r.choice(of_kind(written, kind))["coolant"]
        side["working"] = "unknown"


def _cap_decides(r: Random, written: Tree) -> None:
    """Sealed tanks, hot coolant and caps of several pressures and prices: which opens too soon decides."""
    for part in of_kind(written, "reservoir"):
        part["vented"] = False
    written["parts"] = [part for part in written["parts"] if part["kind"] != "cap"]
    prices = r.choice(((5, 30, 60), (60, 30, 5), (20, 20, 20)))
    written["parts"] += [
        {**small.cap(f"cap-{bar}", opens=f"{bar} bar"), "price": price}
        for bar, price in zip((0, 0.3, 0.9), prices, strict=True)
    ]
    written["brief"]["coolant"] = {"start": f"{r.choice((60, 98, 104))} degC"}
    written["brief"]["aim"] = {"charge_air": f"{r.choice((110, 130))} degC"}


MANNERS: tuple[Callable[[Random, Tree], None], ...] = (
    _better_is_cheaper,
    _better_is_dearer,
    _more_flow_is_worse,
    _equal_prices,
    _nothing_fits,
    _slots_empty,
    _limits_between,
    _room_decides,
    _twins,
    _left_standing,
    _unproven_is_better,
    _cap_decides,
)
