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

COOLANT_ENDS = (
    {"form": "spigot", "size": "19 mm", "barb": True},
    {"form": "spigot", "size": "19 mm", "barb": True, "bore": "15 mm"},
    {"form": "spigot", "size": "25 mm", "barb": True},
    {"form": "spigot", "size": "19 mm"},
    {"form": "orb", "size": "-12", "sex": "female"},
    {"form": "orb", "size": "-10", "sex": "female"},
    {"form": "g", "size": "1/2", "sex": "female"},
    {"form": "npt", "size": "1/2", "sex": "female"},
)
END_ODDS = (12, 4, 2, 0.2, 4, 2, 1, 1)

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
]


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
    r = Random(seed)
    small = _SmallParts(r)
    names = Namer(r)
    counts = _counts(r)
    parts = [make(r, names(make.__name__, i)) for make, count in counts.items() for i in range(count)]
    parts += [cap(r, names("cap", i)) for i in range(r.choice((0, 1, 1, 2, 2, 3)))]
    if r.random() < 0.3:  # two parts that differ in nothing but the id
        twin = dict(r.choice(parts))
        parts.append({**twin, "id": twin["id"] + "-b"})
    own = [[r.choice(parts)["id"], r.random() < 0.5]] if r.random() < 0.2 else []
    fitted = {part["kind"] for part in parts if [part["id"], True] in own}
    written = {"parts": parts + small.all(), "brief": brief(r, parts, fitted), "own": own}
    return shelf_of(written, seed)


def _counts(r: Random) -> dict[Callable[[Random, str], dict[str, Any]], int]:
    """How many parts of each rigid kind: one each, or up to 4 cores and exchangers, 3 pumps and reservoirs, 24 loops."""
    if r.random() < 0.12:
        return {core: 1, exchanger: 1, pump: 1, reservoir: 1}
    while True:
        counts = {core: r.randint(1, 4), exchanger: r.randint(1, 4), pump: r.randint(1, 3), reservoir: r.randint(1, 3)}
        if 4 <= math.prod(counts.values()) <= 24:
            return counts


class Namer:
    """Ids whose order has nothing to do with the order of making."""

    def __init__(self, r: Random) -> None:
        self.letters = r.sample("abcdefgh", 8)

    def __call__(self, kind: str, index: int) -> str:
        return f"{kind}-{self.letters[index]}"


def _end(
    r: Random, name: str, face: str, size: tuple[int, int, int], end: dict[str, Any] | None = None
) -> dict[str, Any]:
    at = {axis: f"{size['xyz'.index(axis)] // 2} mm" for axis in "xyz" if axis != face[1]}
    return {"name": name, **(end or r.choices(COOLANT_ENDS, END_ODDS)[0]), "face": face, "at": at}


def _box(size: tuple[int, int, int]) -> dict[str, str]:
    return {axis: f"{value} mm" for axis, value in zip("xyz", size, strict=True)}


def _working(r: Random, *bars: float) -> dict[str, str]:
    """Mostly ample, sometimes near the limit, now and then unknown, or stated as proof or burst pressure."""
    way = r.random()
    if way < 0.05:
        return {"working": "unknown"}
    bar = r.choice(bars)
    return (
        {"proof": f"{1.5 * bar:g} bar"}
        if way < 0.1
        else {"burst": f"{4 * bar:g} bar"}
        if way < 0.15
        else {"working": f"{bar:g} bar"}
    )


def core(r: Random, part_id: str) -> dict[str, Any]:
    """A core with one measured point or of size alone."""
    size = r.choice(((200, 120, 100), (230, 150, 130), (180, 130, 90)))
    bore = r.choice(("57 mm", "57 mm", "63 mm"))
    made: dict[str, Any] = {
        "kind": "core",
        "id": part_id,
        "name": part_id,
        "size": _box(size),
        "mass": f"{r.choice((2.1, 2.9, 3.9))} kg",
        "price": r.choice((240, 240, 310, 399.5)),
        "turns": {"up": r.choice((["+z"], ["+z", "-z"], ["+z", "+y"]))},
        "charge": {
            **_working(r, 3.0, 3.0, 2.0, 1.4),
            "hottest": r.choice(("210 degC", "210 degC", "210 degC", "210 degC", "150 degC")),
            "ends": [
                _end(r, "in", "-x", size, {"form": "spigot", "size": bore, "bead": r.random() < 0.9}),
                _end(r, "out", "+x", size, {"form": "spigot", "size": bore, "bead": True}),
            ],
        },
        "coolant": {
            **_working(r, 2.5, 2.5, 1.9, 1.4),
            "volume": f"{r.choice((0.5, 0.8, 1.1))} L",
            "ends": _two_ends(r, size),
        },
        "arrangement": r.choice(
            (
                {"flow": "cross-flow both unmixed", "passes": 1},
                {"flow": "counter-flow", "passes": 1},
                {"flow": "cross-flow both unmixed", "passes": 2, "pass_order": "in turn"},
            )
        ),
    }
    if r.random() < 0.6:
        point = {
            "air": "0.20 kg/s",
            "charge_in": "150 degC",
            "charge_pressure": "1.2 bar",
            "coolant": "30 L/min",
            "fluid": r.choice(("water", "ethylene glycol 30 %")),
            "coolant_in": "40 degC",
            "effectiveness": f"{r.choice((68, 75, 80))} %",
            "charge_loss": f"{r.choice((2.0, 3.1, 5.0))} kPa",
            "coolant_loss": f"{r.choice((8, 14, 22))} kPa",
        }
        made["performance"] = {"measured": [point]}
    if r.random() < 0.1:
        made["coolant"]["bans"] = ["ethylene glycol"]
    return made


def _two_ends(r: Random, size: tuple[int, int, int]) -> list[dict[str, Any]]:
    """Way in and way out, mostly of one kind; sometimes of no stated role."""
    first = _end(r, "in", "+z", size)
    second = {**first, "name": "out"} if r.random() < 0.7 else _end(r, "out", "+z", size)
    if r.random() < 0.15:
        first, second = {**first, "name": "a"}, {**second, "name": "b"}
    return [first, second]


def exchanger(r: Random, part_id: str) -> dict[str, Any]:
    """A front exchanger with one measured point or of size alone."""
    size = r.choice(((40, 400, 140), (60, 460, 150), (32, 350, 200)))
    made: dict[str, Any] = {
        "kind": "exchanger",
        "id": part_id,
        "name": part_id,
        "size": _box(size),
        "mass": f"{r.choice((1.8, 2.6, 3.4))} kg",
        "price": r.choice((180, 180, 220, 260.25)),
        "face": {"wide": f"{size[1] - 60} mm", "high": f"{size[2] - 20} mm"},
        "coolant": {
            **_working(r, 2.5, 2.5, 1.9, 1.3),
            "volume": f"{r.choice((0.7, 1.2))} L",
            "ends": _two_ends(r, size),
        },
        "arrangement": r.choice(
            (
                {"flow": "cross-flow both unmixed", "passes": 1},
                {"flow": "cross-flow both unmixed", "passes": 2, "pass_order": "side by side"},
            )
        ),
    }
    if r.random() < 0.5:
        made["fin_depth"] = f"{size[0] - 8} mm"
    if r.random() < 0.5:
        point = {
            "face_speed": "5 m/s",
            "air_in": "25 degC",
            "coolant": "20 L/min",
            "fluid": "water",
            "coolant_in": "60 degC",
            "effectiveness": f"{r.choice((45, 55))} %",
            "coolant_loss": f"{r.choice((6, 11))} kPa",
        }
        made["performance"] = {"measured": [point]}
    return made


def pump(r: Random, part_id: str) -> dict[str, Any]:
    """A pump: a few dead heads and ends, so that pumps of unlike flow and heat often join alike."""
    size = r.choice(((120, 80, 90), (150, 90, 100)))
    dead, free = r.choice((40, 60, 60, 80)), r.choice((25, 40, 60, 90))
    curve = [
        {"flow": "0 L/min", "head": f"{dead} kPa"},
        {"flow": f"{free / 2:g} L/min", "head": f"{dead * 0.7:g} kPa"},
        {"flow": f"{free} L/min", "head": "0 kPa"},
    ]
    made: dict[str, Any] = {
        "kind": "pump",
        "id": part_id,
        "name": part_id,
        "size": _box(size),
        "mass": f"{r.choice((0.9, 1.4))} kg",
        "price": r.choice((110, 110, 150, 195)),
        "turns": {"up": r.choice((["+z"], ["+z", "+x"]))},
        "coolant": {**_working(r, 2.5, 2.5, 1.7), "ends": _two_ends(r, size)},
        "curve": curve,
        "volts": 12,
        "current": f"{r.choice((3, 6, 12, 24))} A",
    }
    if r.random() < 0.5:
        made["heat_to_coolant"] = r.choice(("60 %", "100 %"))
    return made


def reservoir(r: Random, part_id: str) -> dict[str, Any]:
    """A reservoir, sealed with a neck or vented."""
    size = r.choice(((150, 120, 200), (200, 150, 180)))
    neck = {
        "name": "cap",
        "form": "neck",
        "size": r.choice(("45 mm", "45 mm", "45 mm", "32 mm")),
        "sex": "male",
        "face": "+z",
        "at": {"x": f"{size[0] // 2} mm", "y": f"{size[1] // 2} mm"},
    }
    made: dict[str, Any] = {
        "kind": "reservoir",
        "id": part_id,
        "name": part_id,
        "size": _box(size),
        "price": r.choice((60, 75, 90)),
        "coolant": {
            **_working(r, 1.5, 1.5, 0.9),
            "volume": f"{r.choice((2, 3, 5))} L",
            "ends": [*_two_ends(r, size), neck],
        },
        "air_space": "20 %",
        "vented": r.random() < 0.35,
    }
    if r.random() < 0.8:
        made["mass"] = "1.1 kg"
    return made


def cap(r: Random, part_id: str) -> dict[str, Any]:
    """A cap, vented or opening under pressure."""
    end = {"name": "cap", "form": "neck", "size": r.choice(("45 mm", "45 mm", "45 mm", "32 mm")), "sex": "female"}
    return {
        "kind": "cap",
        "id": part_id,
        "name": part_id,
        "price": r.choice((9, 9, 12)),
        "mass": "60 g",
        "opens": f"{r.choice((0, 0.3, 0.5, 0.9))} bar",
        "coolant": {**_working(r, 2.5, 1.0), "ends": [end]},
    }


class _SmallParts:
    """Hoses, adapters, couplers, clamps and wiring, with gaps in the range."""

    def __init__(self, r: Random) -> None:
        self.r = r

    def all(self) -> list[dict[str, Any]]:
        """Everything that serves joints."""
        r = self.r
        hoses = [hose("hose-19", 19, 8, r), hose("hose-25", 25, 11, r)]
        if r.random() < 0.5:
            hoses.append(hose("hose-19-cheap", 19, 6, r))
        kept = [part for part in self._adapters() if r.random() < 0.9]
        return [*hoses, *kept, *clamps(), *WIRING]

    def _adapters(self) -> list[dict[str, Any]]:
        r = self.r
        spigot_19 = {"form": "spigot", "size": "19 mm", "barb": True}
        spigot_25 = {"form": "spigot", "size": "25 mm", "barb": True}
        threads = [
            ({"form": f, "size": s, "sex": "male"}, f"{f}{s.replace('/', '')}")
            for f, s in (("orb", "-12"), ("orb", "-10"), ("g", "1/2"), ("npt", "1/2"))
        ]
        found = [adapter(f"to19-{name}", end, spigot_19, r) for end, name in threads]
        found += [adapter(f"elbow19-{name}", end, spigot_19, r, shape="elbow") for end, name in threads[:2]]
        found += [
            adapter("to25-orb-12", threads[0][0], spigot_25, r),
            adapter("reducer-25-19", spigot_25, spigot_19, r, shape="reducer"),
        ]
        coupler_57, coupler_63 = {"form": "coupler", "size": "57 mm"}, {"form": "coupler", "size": "63 mm"}
        for part_id, a, b in (
            ("coupler-57", coupler_57, coupler_57),
            ("coupler-63", coupler_63, coupler_63),
            ("coupler-57-63", coupler_57, coupler_63),
            ("coupler-57-dear", coupler_57, coupler_57),
        ):
            through = {**_working(r, 3.5, 1.6), "hottest": r.choice(("200 degC", "200 degC", "150 degC"))}
            found.append(adapter(part_id, a, b, r, medium="charge", shape="coupler", through=through))
        return found


def adapter(
    part_id: str,
    a: dict[str, Any],
    b: dict[str, Any],
    r: Random,
    *,
    medium: str = "coolant",
    shape: str = "adapter",
    through: dict[str, Any] | None = None,
) -> dict[str, Any]:
    """An adapter between two ends."""
    through = {
        **(through or {**_working(r, 10.0, 10.0, 2.0), "hottest": "150 degC"}),
        "ends": [{"name": "a", **a}, {"name": "b", **b}],
    }
    made = {
        "kind": "adapter",
        "id": part_id,
        "name": part_id,
        "price": r.choice((9, 9, 14)),
        "mass": "80 g",
        "shape": shape,
        "medium": medium,
        "length": "50 mm",
        "through": through,
    }
    return {**made, "loss_factor": 0.9} if r.random() < 0.2 else made


def hose(part_id: str, bore: int, price: float, r: Random) -> dict[str, Any]:
    """Coolant hose."""
    made = {
        "kind": "hose",
        "id": part_id,
        "name": part_id,
        "price": price,
        "mass": "300 g",
        "bore": f"{bore} mm",
        "wall": "4 mm",
        "class": r.choice(("D-1 EPDM", "A silicone")),
        "hottest": "125 degC",
        "coldest": "-40 degC",
        "media": ["coolant"],
        "bend_radius": "80 mm",
    }
    return made if r.random() < 0.06 else {**made, "working": f"{r.choice((3.0, 3.0, 3.0, 1.7))} bar"}


def clamps() -> list[dict[str, Any]]:
    """Clamps for both hoses and both couplers."""
    rows = (
        ("clamp-27", 22, 32, "worm", "coolant", 1.5),
        ("clamp-33", 28, 38, "worm", "coolant", 1.8),
        ("bolt-66", 62, 70, "T-bolt", "charge", 6),
        ("bolt-72", 68, 76, "T-bolt", "charge", 6.5),
        ("clamp-66", 60, 76, "worm", "charge", 3),
    )
    return [
        {
            "kind": "clamp",
            "id": i,
            "name": i,
            "price": p,
            "mass": "20 g",
            "style": style,
            "least": f"{a} mm",
            "most": f"{b} mm",
            "media": [medium],
        }
        for i, a, b, style, medium, p in rows
    ]


WIRING = [
    *({"kind": "fuse", "id": f"fuse-{a}", "name": "fuse", "price": 0.6, "rated": f"{a} A"} for a in (5, 10, 20, 40)),
    *(
        {"kind": "relay", "id": f"relay-{a}", "name": "relay", "price": p, "rated": f"{a} A", "volts": 12}
        for a, p in ((20, 6.5), (40, 9.5))
    ),
    *(
        {"kind": "wire", "id": f"wire-{a}", "name": "wire", "price": p, "area": f"{a} mm2"}
        for a, p in ((1.5, 0.9), (4, 2.1), (10, 4.4))
    ),
]


def brief(r: Random, parts: list[dict[str, Any]], fitted: set[str]) -> dict[str, Any]:
    """A brief: aims and limits tight or wide, bays roomy, cramped or unmeasured."""
    long = r.random() < 0.5
    stretches = [
        {"lasts": "11 s", "share": "100 %", "speed": f"{r.choice((60, 90, 130))} km/h"},
        {"lasts": "6 s", "share": "10 %", "speed": "50 km/h", "pump": r.random() < 0.9, "fan": r.random() < 0.5},
    ]
    engine: dict[str, Any] = {
        "power": f"{r.choice((180, 230, 300))} kW",
        "fuel": "petrol",
        "charger": r.choice(("turbo", "turbo", "blower")),
        "boost": f"{r.choice((0.4, 0.8, 1.1, 1.2))} bar",
    }
    for key in ("charger_outlet", "throttle"):
        if r.random() < 0.7:
            engine[key] = r.choice(("57 mm", "57 mm", "63 mm"))
    aim: dict[str, Any] = (
        {"charge_air": f"{r.choice((65, 80, 95, 110))} degC"}
        if r.random() < 0.8
        else {"above_air": f"{r.choice((45, 60, 80))} K"}
    )
    if r.random() < 0.4:
        aim["charge_loss"] = f"{r.choice((7, 12, 20))} kPa"
    asked: dict[str, Any] = {
        "brief": "invented",
        "engine": engine,
        "site": {"air": f"{r.choice((15, 24, 32))} degC", "altitude": f"{r.choice((0, 900))} m"},
        "driving": {"stretches": stretches, "total": "170 s" if long else "40 s"},
        "aim": aim,
        "bay": bay(r),
    }
    if r.random() < 0.5:
        asked["site"]["coldest"] = f"{r.choice((-15, -5, 8))} degC"
    asked["coolant"] = {"start": r.choice(("soaked", "5 degC"))} if r.random() < 0.3 else {}
    limits = {
        "price": r.choice((900, 1050, 1300)),
        "mass_dry": f"{r.choice((10, 12, 14))} kg",
        "current": f"{r.choice((8, 20))} A",
    }
    asked["limits"] = {key: value for key, value in limits.items() if r.random() < 0.3}
    if r.random() < 0.7:
        asked["enough"] = f"{r.choice((0, 3, 6, 15))} K"
    if r.random() < 0.15:
        asked["without"] = ["exchanger"]
    elif r.random() < 0.15:
        asked["without"] = [
            r.choice([p["id"] for p in parts if p["kind"] not in fitted] + ["reducer-25-19", "hose-19-cheap"])
        ]
    return asked


def bay(r: Random) -> dict[str, Any] | str:
    """A nose, a bulkhead and a side; sometimes a second of a kind, a shared zone, an obstacle, no places, or no bay."""
    if r.random() < 0.06:
        return "unmeasured"
    placed = r.random() < 0.6

    def zone(size: tuple[int, int, int], at: tuple[int, int, int], takes: list[str], **more: Any) -> dict[str, Any]:
        made = {"deep": f"{size[0]} mm", "wide": f"{size[1]} mm", "high": f"{size[2]} mm", "takes": takes, **more}
        back, right, up = (f"{value} mm" for value in at)
        return {**made, "at": {"back": back, "right": right, "up": up}} if placed else made

    ram = {"kind": "ram", "share": f"{r.choice((15, 30))} %"}
    zones = {
        "nose": zone(
            r.choice(((60, 460, 150), (75, 500, 215), (50, 420, 160))), (60, -230, 300), ["exchanger"], air=ram
        ),
        "bulkhead": zone(
            r.choice(((320, 240, 180), (320, 240, 180), (245, 165, 150), (205, 140, 130))), (450, -260, 620), ["core"]
        ),
        "side": zone(
            r.choice(((240, 220, 380), (260, 260, 310), (220, 200, 300))), (500, 300, 300), ["reservoir", "pump"]
        ),
    }
    more = r.random()
    if more < 0.2:
        zones["low-nose"] = zone(
            (80, 520, 220),
            (40, -250, 150),
            ["exchanger"],
            air=r.choice(({"kind": "fan", "preheat": "5 K"}, {"face_speed": "4 m/s"})),
        )
    elif more < 0.4:
        zones["boot"] = zone(
            r.choice(((400, 300, 300), (215, 260, 240))),
            (3500, -100, 400),
            r.choice((["reservoir"], ["core", "pump"], ["pump"])),
        )
    elif more < 0.55:
        zones["bulkhead"]["takes"] = ["core", "pump"]
        zones["bulkhead"]["deep"] = "420 mm"
    made: dict[str, Any] = {"zones": zones}
    if r.random() < 0.3:
        where = r.choice(("bulkhead", "side"))
        made["obstacles"] = [
            {
                "name": "bracket",
                "in": where,
                "from": {r.choice(("left", "right")): "0 mm", "front": "40 mm", "floor": "0 mm"},
                "wide": "30 mm",
                "high": "60 mm",
                "deep": "50 mm",
                "kind": r.choice(("plain", "plain", "hot")),
                "clearance": "10 mm",
            }
        ]
    if r.random() < 0.3:
        made["runs"] = {r.choice(("nose-bulkhead", "side-bulkhead", "side-nose")): "1.2 m"}
        if "low-nose" in zones:
            made["runs"]["low-nose-bulkhead"] = "0.9 m"
    return made
