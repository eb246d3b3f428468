"""Random small parts: hoses, adapters, couplers, clamps and wiring, with gaps in the range."""

from __future__ import annotations

from random import Random
from typing import Any

from tests.oracles.random_parts import stated


class SmallParts:
    """Hoses, adapters, couplers, clamps and wiring, with gaps in the range."""

    def __init__(self, r: Random) -> None:
        self.r = r

    def all(self) -> list[dict[str, Any]]:
        """Everything that serves joints."""
        r = self.r
        hoses = [hose("hose-19", 19, 8, r), hose("hose-25", 25, 11, r)]
        if r.random() < 0.6:
            hoses.append({**hose("hose-19-cheap", 19, 6, r), "bend_radius": inside_of_bend(r.choice((80, 130)), 19)})
        kept = [part for part in self._adapters() if r.random() < 0.98]
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
            through = {**stated(r, 3.5, 3.5, 1.6), "hottest": r.choice((*["200 degC"] * 4, "150 degC"))}
            found.append(adapter(part_id, a, b, r, medium="charge", shape="coupler", through=through))
        return found

    def charge_wyes(self) -> list[dict[str, Any]]:
        """Wyes for the charge side: close in loss and price, some too weak or not hot enough."""
        r = self.r
        found = []
        for part_id, stem, branch in (("y-57", 57, 57), ("y-63-57", 63, 57), ("y-63", 63, 63), ("y-57-b", 57, 57)):
            ends = [
                {"name": name, "form": "spigot", "size": f"{size} mm", "bead": True}
                for name, size in (("stem", stem), ("left", branch), ("right", branch))
            ]
            through = {**stated(r, 4.0, 4.0, 1.6), "hottest": r.choice(("230 degC", "230 degC", "140 degC"))}
            made = {"kind": "wye", "id": part_id, "name": part_id, "shape": "wye", "medium": "charge", "mass": "310 g"}
            price, loss = r.choice((40, 40, 55)), r.choice((0.5, 0.5, 0.8))
            found.append({**made, "price": price, "loss_factor": loss, "through": {**through, "ends": ends}})
        return [wye for wye in found if r.random() < 0.8]


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
        **(through or {**stated(r, 10.0, 10.0, 2.0), "hottest": "150 degC"}),
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
        "length": f"{r.choice((40, 50, 60))} mm",
        "through": through,
    }
    return {**made, "loss_factor": 0.9} if r.random() < 0.2 else made


def inside_of_bend(middle_mm: int, bore_mm: int) -> str:
    """A bend radius to the inside of hose with a wall of 4 mm, from one to its middle line."""
    return f"{middle_mm - (bore_mm + 8) / 2:g} mm"


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
        "bend_radius": inside_of_bend(r.choice((40, 60, 80)), bore),
    }
    return made if r.random() < 0.06 else {**made, "working": f"{r.choice((3.0, 3.0, 3.0, 1.7))} bar"}


def for_suction(parts: list[dict[str, Any]], r: Random) -> None:
    """Wide hose that stands vacuum, or does not, or does not say; and now and then a dearer wired one beside it."""
    (plain,) = (part for part in parts if part["id"] == "hose-25")
    if r.random() < 0.5:
        parts.append({**plain, "id": "hose-25-wired", "price": 15, "vacuum": True})
    said = r.choice((True, True, False, None))
    if said is not None:
        plain["vacuum"] = said


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
