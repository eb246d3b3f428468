"""Random small shelves hostile to bounds: one manner after the other, each what a careless bound would stumble on.

Every part joins every other of the same bore, so that most shelves make kits; what is hard is which come first.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from random import Random

from configurator.brief.tables import Soak
from configurator.parts.layouts import Layout
from configurator.parts.shelf import make_catalogue
from tests.journeys.kitwright import shipped
from tests.oracles.hostile_parts import Tree, bay, brief, joints, parts
from tests.oracles.random_small_parts import WIRING, clamps
from tests.oracles.shelves import LAYOUT, Shelf, shelf_of
from tests.search import small_shelves as small

TWINS = ("twin-cores-parallel", "twin-cores-series", "twin-exchangers-parallel", "twin-exchangers-series")


@cache
def hostile(seed: int) -> Shelf:
    """The shelf of a seed; its manner is `MANNERS[seed % len(MANNERS)]`."""
    r = Random(f"hostile {seed}")
    written: Tree = {"parts": parts(r), "brief": brief(r), "own": []}
    MANNERS[seed % len(MANNERS)](r, written)
    made = shelf_of({**written, "parts": [*written["parts"], *joints(r), *clamps(), *WIRING]}, seed)
    twins = set(written["brief"].get("layouts", ())) - {"single"}
    layouts = [LAYOUT, *(one for one in shipped("layouts") if one["id"] in twins)]
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
    written["brief"]["bay"] = bay(r)
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
    kinds = ("core", "exchanger", "pump", "reservoir")
    least = sum(min(part["price"] for part in of_kind(written, kind)) for kind in kinds)
    limits = {"price": least + r.choice((60, 90, 130)), "mass_dry": f"{r.choice((6, 8, 10))} kg", "current": "7 A"}
    written["brief"]["limits"] = {key: limits[key] for key in r.sample(sorted(limits), r.randint(1, 3))}
    written["brief"]["aim"] = {"charge_air": f"{r.choice((70, 95))} degC"}


def _room_decides(r: Random, written: Tree) -> None:
    """Parts of many sizes share two zones that hold some of them together."""
    for part in of_kind(written, "pump", "reservoir"):
        part["size"] |= {"x": f"{r.choice((90, 120, 150))} mm", "y": f"{r.choice((80, 100, 120))} mm"}
    written["brief"]["bay"] = bay(r)
    places = written["brief"]["bay"]["zones"]
    places["bulkhead"] |= {"deep": "420 mm", "wide": f"{r.choice((200, 240, 300))} mm", "takes": ["core", "pump"]}
    places["side"] |= {"wide": f"{r.choice((230, 260, 300))} mm"}
    written["brief"]["enough"] = "0 K"
    written["brief"]["aim"] = {"charge_air": "95 degC"}


def _twins(r: Random, written: Tree) -> None:
    """Layouts beside each other, with the same parts and other prices."""
    written["brief"]["layouts"] = ["single", r.choice(TWINS)]
    written["brief"]["engine"] |= {"charger_outlet": "57 mm", "throttle": "57 mm"}
    written["brief"]["bay"] = bay(r)
    written["brief"]["bay"]["zones"]["nose"]["high"] = "340 mm"
    written["brief"]["bay"]["zones"]["bulkhead"]["wide"] = "420 mm"
    for kind, most in (("core", 2), ("exchanger", 2), ("pump", 2), ("reservoir", 1), ("cap", 1)):
        for part in of_kind(written, kind)[most:]:
            written["parts"].remove(part)
    written["parts"] += [
        {"kind": "wye", **wye}
        for wye in shipped("wyes")
        if wye["id"] in ("wye-19", "wye-25") or wye["medium"] == "charge"
    ]
    written["parts"] += [{"kind": "adapter", **one} for one in shipped("adapters") if one["medium"] == "charge"]
    written["brief"]["aim"] = {"charge_air": "95 degC"}


def _left_standing(r: Random, written: Tree) -> None:
    """An aim after a standstill: fans and timers come into question, and no bound from heat that must go somewhere."""
    written["brief"]["aim"] = {
        "charge_air": f"{r.choice((55, 65, 80))} degC",
        "after": f"{r.choice((3, 8))} min standstill",
    }
    written["brief"]["bay"] = bay(r)
    written["brief"]["bay"]["zones"]["behind"] = {
        **small.BRIEF["bay"]["zones"]["nose"],
        "deep": "80 mm",
        "high": "300 mm",
        "takes": ["fan"],
    }
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


def _bound_near(r: Random, written: Tree) -> None:
    """One short pull on much cold coolant in wide hose: hardly anything is cooler than it may be at best."""
    pull = {"lasts": f"{r.choice((2, 4, 8))} s", "share": "100 %", "speed": "60 km/h"}
    written["brief"]["driving"] = {"stretches": [pull], "total": pull["lasts"]}
    written["brief"]["coolant"] = {"start": r.choice(("10 degC", "25 degC", "45 degC"))}
    written["brief"]["aim"] = {"charge_air": f"{r.choice((50, 55, 60, 70))} degC"}
    written["brief"]["bay"] = bay(r)
    for part in of_kind(written, "core", "exchanger"):
        part["performance"]["measured"][0]["coolant_loss"] = "0.5 kPa"
    for part in of_kind(written, "reservoir"):
        part["coolant"]["volume"] = f"{r.choice((6, 20))} L"


def _charge_cools_the_loop(r: Random, written: Tree) -> None:
    """Hardly an exchanger, and long rests at part of the power: the charge itself takes the coolant's heat away."""
    for part in of_kind(written, "exchanger"):
        part["performance"]["measured"][0]["effectiveness"] = "1 %"
    for part in of_kind(written, "core"):
        part["performance"]["measured"][0]["effectiveness"] = f"{r.randint(80, 95)} %"
    pull = {"lasts": f"{r.choice((15, 20))} s", "share": "100 %", "speed": "30 km/h"}
    rest = {"lasts": "60 s", "share": f"{r.choice((35, 40, 45))} %", "speed": "30 km/h"}
    once_s = sum(int(one["lasts"].split()[0]) for one in (pull, rest))
    written["brief"]["driving"] = {"stretches": [pull, rest], "total": f"{once_s * 60} s"}
    written["brief"]["coolant"] = {}
    written["brief"]["aim"] = {"charge_air": f"{r.choice((120, 140))} degC"}
    written["brief"]["enough"] = "60 K"


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
    _bound_near,
    _charge_cools_the_loop,
)
