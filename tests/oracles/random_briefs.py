"""Random briefs: aims and limits tight or wide, bays roomy, cramped or unmeasured."""

from __future__ import annotations

from random import Random
from typing import Any


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
        {"charge_air": f"{r.choice((75, 95, 110, 130, 130))} degC"}
        if r.random() < 0.8
        else {"above_air": f"{r.choice((50, 70, 90, 90))} K"}
    )
    if r.random() < 0.4:
        aim["charge_loss"] = f"{r.choice((7, 12, 20, 20))} kPa"
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
        "price": r.choice((950, 1100, 1300)),
        "mass_dry": f"{r.choice((10, 12, 14))} kg",
        "current": f"{r.choice((8, 20))} A",
    }
    asked["limits"] = {key: value for key, value in limits.items() if r.random() < 0.25}
    if r.random() < 0.7:
        asked["enough"] = f"{r.choice((0, 3, 6, 15))} K"
    if r.random() < 0.15:
        asked["without"] = ["exchanger"]
    elif r.random() < 0.15:
        asked["without"] = [
            r.choice([p["id"] for p in parts if p["kind"] not in fitted] + ["reducer-25-19", "hose-19-cheap"])
        ]
    return asked


def left_hot(r: Random) -> dict[str, Any]:
    """A loop left beside a hot engine, at an easy aim: under some caps its coolant boils."""
    start = {"start": f"{r.choice((98, 103, 107))} degC"}
    return {"coolant": start, "aim": {"charge_air": "140 degC"}, "limits": {}}


def bay(r: Random) -> dict[str, Any] | str:
    """A nose, a bulkhead and a side; sometimes a second of a kind, a shared zone, an obstacle, no places, or no bay."""
    if r.random() < 0.06:
        return "unmeasured"
    known = r.choices((("back", "right", "up"), ("up",), ()), (0.6, 0.15, 0.25))[0]

    def zone(size: tuple[int, int, int], at: tuple[int, int, int], takes: list[str], **more: Any) -> dict[str, Any]:
        made = {"deep": f"{size[0]} mm", "wide": f"{size[1]} mm", "high": f"{size[2]} mm", "takes": takes, **more}
        place = {key: f"{value} mm" for key, value in zip(("back", "right", "up"), at, strict=True) if key in known}
        return {**made, **_doors(r, takes), **({"at": place} if place else {})}

    ram = {"kind": "ram", "share": f"{r.choice((15, 30))} %"}
    zones = {
        "nose": zone(
            r.choice(((60, 460, 150), (75, 500, 215), (75, 500, 215), (75, 480, 205), (50, 420, 160))),
            (60, -230, r.choice((250, 250, 300, 400))),
            ["exchanger"],
            air=ram,
        ),
        "bulkhead": zone(
            r.choice(((320, 240, 180), (320, 240, 180), (270, 190, 160), (210, 160, 140))),
            (450, -260, r.choice((450, 620))),
            ["core"],
        ),
        "side": zone(
            r.choice(((240, 240, 380), (280, 260, 310), (220, 200, 300))),
            (500, 300, r.choice((300, 400, 400))),
            ["reservoir", "pump"],
        ),
    }
    more = r.random()
    if more < 0.2:
        zones["low-nose"] = zone(
            (80, 520, 220),
            (40, -250, 30),
            ["exchanger"],
            air=_air(more, r.choice(({"kind": "fan", "preheat": "5 K"}, {"face_speed": "4 m/s"}))),
        )
    elif more < 0.4:
        zones["boot"] = zone(
            r.choice(((400, 300, 300), (215, 260, 240))),
            (3500, -100, r.choice((250, 400))),
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


def _air(drawn: float, stated: dict[str, Any]) -> dict[str, Any]:
    """The second front's air: now and then a usual share of road speed, in a duct or behind a condenser."""
    if drawn < 0.05:
        return {"kind": "ram", "sealed": True}
    return {"kind": "ram", "behind": "condenser"} if drawn < 0.1 else stated


def _doors(r: Random, takes: list[str]) -> dict[str, Any]:
    """Sides that hoses may leave a zone by, mostly all; now and then sides that ends must face, and a way in."""
    made: dict[str, Any] = {"open": ["front", "back", "left", "right", "up", "down"]}
    for side in r.sample(made["open"], r.choice((0, 0, 0, 0, 0, 0, 1, 1, 2, 4))):
        made["open"].remove(side)
    if r.random() < 0.07:
        sides = r.choice((["front", "back"], ["left", "right"], ["up", "left", "right"], ["up", "front"]))
        made["ends"] = {"charge" if "core" in takes else "coolant": sides}
    if r.random() < 0.1:
        wide, high = r.choice(((200, 150), (450, 160), (150, 130), (400, 210)))
        made["way_in"] = {"wide": f"{wide} mm", "high": f"{high} mm"}
    return made
