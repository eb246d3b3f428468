"""Random parts that fill slots, as they would be written, steered towards what is interesting."""

from __future__ import annotations

from random import Random
from typing import Any

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
END_ODDS = (14, 4, 2, 0.1, 4, 2, 1, 1)

NECKS = ("45 mm", "45 mm", "45 mm", "45 mm", "45 mm", "32 mm")


def _end(
    r: Random, name: str, face: str, size: tuple[int, int, int], end: dict[str, Any] | None = None
) -> dict[str, Any]:
    at = {axis: f"{size['xyz'.index(axis)] // 2} mm" for axis in "xyz" if axis != face[1]}
    return {"name": name, **(end or r.choices(COOLANT_ENDS, END_ODDS)[0]), "face": face, "at": at}


def _box(size: tuple[int, int, int]) -> dict[str, str]:
    return {axis: f"{value} mm" for axis, value in zip("xyz", size, strict=True)}


def stated(r: Random, *bars: float) -> dict[str, str]:
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
            **stated(r, 3.0, 3.0, 3.0, 2.0, 1.4),
            "hottest": r.choice(("210 degC", "210 degC", "210 degC", "210 degC", "210 degC", "210 degC", "150 degC")),
            "ends": [
                _end(r, "in", "-x", size, {"form": "spigot", "size": bore, "bead": r.random() < 0.95}),
                _end(r, "out", "+x", size, {"form": "spigot", "size": bore, "bead": True}),
            ],
        },
        "coolant": {
            **stated(r, 2.5, 2.5, 1.9, 1.9, 1.4),
            "volume": f"{r.choice((0.5, 0.8, 1.1))} L",
            "ends": [*_two_ends(r, size, (("+z", "+z"), ("+y", "+y"), ("-y", "+z"))), *_bleed(r, size, 0.85)],
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


def _two_ends(
    r: Random, size: tuple[int, int, int], faces: tuple[tuple[str, str], ...], *, one_way: bool = False
) -> list[dict[str, Any]]:
    """Way in and way out on one of some pairs of faces, mostly of one kind; now and then of no stated role."""
    way_in, way_out = r.choice(faces)
    first = _end(r, "in", way_in, size)
    alike = {key: first[key] for key in ("form", "size", "sex", "barb", "bore") if key in first}
    second = _end(r, "out", way_out, size, alike if r.random() < 0.7 else None)
    if r.random() < 0.15:
        first, second = {**first, "name": "a"}, second if one_way else {**second, "name": "b"}
    return [first, second]


def _in_corner(length: int, axis: str) -> str:
    """Where a bleed sits along an axis of its face: in a corner, so that it serves a part on two of its sides too."""
    return f"{round(length * (0.9 if axis == 'y' else 0.1))} mm"


def _bleed(r: Random, size: tuple[int, int, int], share: float) -> list[dict[str, Any]]:
    """Now and then a port to bleed the top by, or to drain the floor by."""
    small = {"form": "npt", "size": "1/8", "sex": "female"}
    ports = [_end(r, *r.choice((("bleed", "+z"), ("bleed", "+z"), ("bleed", "-x"))), size, small)]
    ports += [_end(r, "drain", "-z", size, small)]
    ports[0]["at"] = {axis: _in_corner(size["xyz".index(axis)], axis) for axis in ports[0]["at"]}
    return [port for port, odds in zip(ports, (share, 0.2), strict=True) if r.random() < odds]


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
            **stated(r, 2.5, 2.5, 1.9, 1.9, 1.3),
            "volume": f"{r.choice((0.7, 1.2))} L",
            "ends": [*_two_ends(r, size, (("+z", "+z"), ("-y", "+y"), ("+y", "+y"))), *_bleed(r, size, 0.6)],
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
    dead, free = r.choice((40, 60, 60, 60, 80)), r.choice((25, 40, 60, 90))
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
        "coolant": {
            **stated(r, 2.5, 2.5, 1.7),
            "ends": _two_ends(r, size, (("-x", "+z"), ("-x", "+x"), ("+z", "+z")), one_way=True),
        },
        "curve": curve,
        "volts": 12,
        "current": f"{r.choice((3, 12, 24))} A",
    }
    if r.random() < 0.5:
        made["heat_to_coolant"] = r.choice(("60 %", "100 %"))
    return made


def reservoir(r: Random, part_id: str) -> dict[str, Any]:
    """A reservoir, sealed or vented, with a neck or, vented, without; the dear ones stand little heat."""
    size = r.choice(((150, 120, 200), (200, 150, 180)))
    neck = {
        "name": "cap",
        "form": "neck",
        "size": r.choice(NECKS),
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
            **stated(r, 1.5, 1.5, 0.9),
            "volume": f"{r.choice((2, 3, 5))} L",
            "ends": [*_two_ends(r, size, (("+y", "-z"), ("+x", "-x"), ("+z", "-z")), one_way=True), neck],
        },
        "air_space": "20 %",
        "vented": r.random() < 0.75,
    }
    if r.random() < 0.8:
        made["mass"] = "1.1 kg"
    if made["vented"] and made["price"] > 60:
        made["coolant"]["ends"].remove(neck)
    if made["price"] == 90 and size[0] == 200:
        made["coolant"]["hottest"] = "70 degC"
    return made


def cap(r: Random, part_id: str) -> dict[str, Any]:
    """A cap, vented or opening under pressure."""
    end = {"name": "cap", "form": "neck", "size": r.choice(NECKS), "sex": "female"}
    return {
        "kind": "cap",
        "id": part_id,
        "name": part_id,
        "price": r.choice((9, 9, 12)),
        "mass": "60 g",
        "opens": f"{r.choice((0, 0, 0.3, 0.5, 0.9))} bar",
        "coolant": {**stated(r, 2.5, 1.0), "ends": [end]},
    }
