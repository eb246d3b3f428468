"""Parts, bays and briefs of the hostile shelves: all of one bore join, and each figure is drawn by itself."""

from __future__ import annotations

import math
from random import Random
from typing import Any

from tests.search import small_shelves as small

Tree = dict[str, Any]


def parts(r: Random) -> list[Tree]:
    """A few of each rigid kind, 6 to 36 loops; and caps, one of them for a vented tank."""
    while True:
        counts = {
            _core: r.randint(1, 4),
            _exchanger: r.randint(1, 4),
            _pump: r.randint(1, 3),
            _reservoir: r.randint(1, 3),
        }
        if 6 <= math.prod(counts.values()) <= 36:
            break
    made = [make(r, f"{make.__name__[1:]}-{letter}") for make, count in counts.items()
             for letter in r.sample("abcdefgh", count)]  # fmt: skip
    return [
        *made,
        *(small.cap(f"cap-{bar}", opens=f"{bar} bar") for bar in (0, *r.sample((0.3, 0.9), r.randint(0, 1)))),
    ]


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
    return {
        **made,
        "price": r.randint(60, 260),
        "current": f"{r.choice((3, 6, 12, 20))} A",
        "mass": f"{r.uniform(0.5, 2):.2f} kg",
    }


def _reservoir(r: Random, part_id: str) -> Tree:
    made = small.reservoir(part_id)
    made["size"]["z"] = f"{r.choice((180, 200, 260))} mm"
    made["coolant"] |= {"volume": f"{r.choice((1.5, 3, 6))} L", "working": "2 bar"}
    made["vented"] = r.random() < 0.6
    return {**made, "price": r.randint(40, 140), "mass": f"{r.uniform(0.4, 2):.2f} kg"}


def _ends(part: Tree, bore: str) -> list[Tree]:
    return [{**end, "size": bore} for end in part["coolant"]["ends"]]


def joints(r: Random) -> list[Tree]:
    """Hoses and a reducer between their bores."""
    spigots = [
        {"name": name, "form": "spigot", "size": size, "barb": True} for name, size in (("a", "25 mm"), ("b", "19 mm"))
    ]
    reducer = {
        "kind": "adapter", "id": "reducer", "name": "reducer", "price": r.choice((5, 40)), "mass": "80 g",
        "shape": "reducer", "medium": "coolant", "length": "50 mm",
        "through": {"working": "10 bar", "hottest": "150 degC", "ends": spigots},
    }  # fmt: skip
    hoses = [
        {**small.hose("hose", bore="19 mm"), "price": r.choice((6, 14)), "bend_radius": "46.5 mm"},
        {**small.hose("hose-tight", bore="19 mm"), "price": r.choice((6, 30)), "bend_radius": "11.5 mm"},
        {**small.hose("hose-wide", bore="25 mm"), "price": r.choice((8, 20)), "vacuum": True},
    ]
    return [reducer, *hoses]


def brief(r: Random) -> Tree:
    """An engine and a drive: one pull, bursts with rests, with the pump off, or begun at idle; three ways to start."""
    pull = {"lasts": f"{r.choice((8, 15, 40))} s", "share": "100 %", "speed": f"{r.choice((60, 110))} km/h"}
    rest = {"lasts": f"{r.choice((6, 20))} s", "share": "10 %", "speed": "50 km/h", "pump": r.random() < 0.8}
    stretches = r.choice(([pull], [pull, rest], [pull, rest], [rest, pull]))
    once_s = sum(int(stretch["lasts"].split()[0]) for stretch in stretches)
    return {
        "brief": "invented",
        "engine": {"power": f"{r.choice((150, 220))} kW", "fuel": "petrol", "charger": r.choice(("turbo", "blower")),
                   "boost": f"{r.choice((0.8, 1.1))} bar"},
        "site": {"air": f"{r.choice((10, 25))} degC"},
        "driving": {"stretches": stretches, "total": f"{once_s * r.choice((1, 3.5, 10)):g} s"},
        "aim": {"charge_air": f"{r.choice((60, 70, 85, 100))} degC"},
        "coolant": {"start": r.choice(("soaked", "5 degC", "40 degC"))} if r.random() < 0.5 else {},
        "bay": "unmeasured" if r.random() < 0.15 else bay(r),
        "enough": f"{r.choice((0, 4, 9, 30))} K",
    }  # fmt: skip


def bay(r: Random) -> Tree:
    """A nose, a bulkhead and a side that hold most parts, now and then with little to spare."""
    zones: Tree = {name: dict(zone) for name, zone in small.BRIEF["bay"]["zones"].items()}
    zones["nose"] |= {
        "high": f"{r.choice((150, 160, 220))} mm",
        "air": {"kind": "ram", "share": f"{r.choice((15, 30))} %"},
    }
    zones["bulkhead"] |= {
        "deep": f"{r.choice((330, 360, 420))} mm",
        "wide": f"{r.choice((140, 180))} mm",
        "high": "300 mm",
    }
    zones["side"] |= {"wide": f"{r.choice((260, 320))} mm", "deep": "300 mm", "high": f"{r.choice((380, 480))} mm"}
    return {"zones": zones}
