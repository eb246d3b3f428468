"""One small shelf that makes exactly one kit, to be changed part by part."""

from __future__ import annotations

from typing import Any

from configurator.parts.shelf import Catalogue
from configurator.questions.searches import charge_pipes, hose_joiner, make_job
from configurator.search.fill import Filled, fill
from configurator.search.job import Job
from configurator.search.sieve import sieve
from configurator.search.skeletons import SkeletonMaker
from tests.oracles.random_small_parts import WIRING, clamps
from tests.oracles.shelves import Shelf, shelf_of

Part = dict[str, Any]


def _ends(spigot: str, face: str, at: Part) -> list[Part]:
    return [{"name": n, "form": "spigot", "size": spigot, "barb": True, "face": face, "at": at} for n in ("in", "out")]


def core(part_id: str = "core", *, spigot: str = "19 mm", working: str = "2 bar", long: int = 200) -> Part:
    """A size-only core."""
    at = {"y": "60 mm", "z": "50 mm"}
    charge = [
        {"name": n, "form": "spigot", "size": "57 mm", "bead": True, "face": f, "at": at}
        for n, f in (("in", "-x"), ("out", "+x"))
    ]
    return {
        "kind": "core",
        "id": part_id,
        "name": part_id,
        "size": {"x": f"{long} mm", "y": "120 mm", "z": "100 mm"},
        "mass": "2 kg",
        "price": 240,
        "charge": {"working": "3 bar", "hottest": "210 degC", "ends": charge},
        "coolant": {"working": working, "volume": "0.6 L", "ends": _ends(spigot, "+z", {"x": "60 mm", "y": "60 mm"})},
        "arrangement": {"flow": "cross-flow both unmixed", "passes": 1},
    }


def exchanger(part_id: str = "exchanger") -> Part:
    """A size-only exchanger."""
    return {
        "kind": "exchanger",
        "id": part_id,
        "name": part_id,
        "size": {"x": "40 mm", "y": "400 mm", "z": "140 mm"},
        "mass": "2 kg",
        "price": 180,
        "face": {"wide": "340 mm", "high": "120 mm"},
        "arrangement": {"flow": "cross-flow both unmixed", "passes": 1},
        "coolant": {"working": "2 bar", "volume": "0.7 L", "ends": _ends("19 mm", "+z", {"x": "20 mm", "y": "60 mm"})},
    }


def pump(part_id: str = "pump", *, dead_head: int = 60) -> Part:
    """A pump of a dead head in kPa."""
    curve = [{"flow": "0 L/min", "head": f"{dead_head} kPa"}, {"flow": "40 L/min", "head": "0 kPa"}]
    return {
        "kind": "pump",
        "id": part_id,
        "name": part_id,
        "size": {"x": "120 mm", "y": "80 mm", "z": "90 mm"},
        "mass": "1 kg",
        "price": 110,
        "coolant": {"working": "2.6 bar", "ends": _ends("19 mm", "+z", {"x": "60 mm", "y": "40 mm"})},
        "curve": curve,
        "volts": 12,
        "current": "6 A",
    }


def reservoir(part_id: str = "reservoir") -> Part:
    """A sealed reservoir with a 45 mm neck."""
    at = {"x": "60 mm", "y": "60 mm"}
    neck = {"name": "cap", "form": "neck", "size": "45 mm", "sex": "male", "face": "+z", "at": at}
    return {
        "kind": "reservoir",
        "id": part_id,
        "name": part_id,
        "size": {"x": "150 mm", "y": "120 mm", "z": "200 mm"},
        "price": 60,
        "coolant": {"working": "1.5 bar", "volume": "3 L", "ends": [*_ends("19 mm", "+z", at), neck]},
        "air_space": "20 %",
    }


def cap(part_id: str = "cap", *, neck: str = "45 mm", opens: str = "0.5 bar") -> Part:
    """A cap for a neck."""
    end = {"name": "cap", "form": "neck", "size": neck, "sex": "female"}
    return {
        "kind": "cap",
        "id": part_id,
        "name": part_id,
        "price": 9,
        "opens": opens,
        "coolant": {"working": "2 bar", "ends": [end]},
    }


def hose(part_id: str = "hose", *, bore: str = "19 mm", working: str | None = "3 bar") -> Part:
    """Coolant hose."""
    made = {
        "kind": "hose",
        "id": part_id,
        "name": part_id,
        "price": 8,
        "bore": bore,
        "wall": "4 mm",
        "class": "D-1 EPDM",
        "hottest": "125 degC",
        "coldest": "-40 degC",
        "media": ["coolant"],
        "bend_radius": "66.5 mm",
    }
    return made if working is None else {**made, "working": working}


ONE_OF_EACH = (core(), exchanger(), pump(), reservoir(), cap(), hose())

OPEN = ["front", "back", "left", "right", "up", "down"]

BRIEF: Part = {
    "brief": "invented",
    "engine": {"power": "150 kW", "fuel": "petrol", "charger": "turbo", "boost": "0.8 bar"},
    "site": {"air": "20 degC"},
    "driving": {"stretches": [{"lasts": "10 s", "share": "100 %", "speed": "80 km/h"}], "total": "20 s"},
    "aim": {"charge_air": "120 degC"},
    "bay": {
        "zones": {
            "nose": {"deep": "60 mm", "wide": "460 mm", "high": "160 mm", "open": OPEN, "takes": ["exchanger"]},
            "bulkhead": {"deep": "220 mm", "wide": "140 mm", "high": "120 mm", "open": OPEN, "takes": ["core"]},
            "side": {
                "deep": "240 mm",
                "wide": "220 mm",
                "high": "380 mm",
                "open": OPEN,
                "takes": ["reservoir", "pump"],
            },
        }
    },
}


def shelf(*parts: Part, gone: tuple[str, ...] = (), **brief: Any) -> Shelf:
    """The small shelf with parts added, or put in the place of those of the same id, or taken off by id."""
    by_id = {part["id"]: part for part in (*ONE_OF_EACH, *clamps(), *WIRING, *parts) if part["id"] not in gone}
    return shelf_of({"parts": list(by_id.values()), "brief": {**BRIEF, **brief}})


def job_of(of: Shelf, catalogue: Catalogue | None = None) -> Job:
    """The job that a question makes of a shelf."""
    job = make_job(of.brief, of.driving, of.own, catalogue or of.catalogue, of.tables)
    assert job is not None
    return job


def maker(of: Shelf) -> SkeletonMaker:
    """The skeletons of a shelf, before any is asked for."""
    job = job_of(of)
    return SkeletonMaker(job, sieve(job), hose_joiner(job))


def filled(of: Shelf, catalogue: Catalogue | None = None) -> Filled:
    """All kits of a shelf."""
    job = job_of(of, catalogue)
    parts = sieve(job)
    return fill(job, parts, SkeletonMaker(job, parts, hose_joiner(job)).skeletons(), charge_pipes(job))
