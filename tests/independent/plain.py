"""Plain reading of the command's answers and of YAML parts. Nothing of the program is imported here or beside.

Units, fluids and formulas are typed again from scratch, so that an error in the program is not repeated.
"""

from __future__ import annotations

import math
from typing import Any

from tests.journeys.kitwright import Run, Tree, example, shelf_part, suggest

ALUMINIUM_J_PER_KG_K = 900.0
"""Specific heat of wrought aluminium; handbook value, published, from memory."""

RUBBER_J_PER_KG_K = 800.0
"""Half the specific heat of filled rubber, as little of the wall follows; common practice, from memory."""

LEAST_HOSE_M3 = 0.02e-3
UNITS = {
    "mm": 1e-3, "m": 1.0, "kg": 1.0, "g": 1e-3, "L": 1e-3, "ml": 1e-6, "bar": 1e5, "kPa": 1e3, "psi": 6894.757,
    "A": 1.0, "%": 0.01, "s": 1.0, "kg/s": 1.0, "L/min": 1e-3 / 60,
}  # fmt: skip
LOOP = ("reservoir", "feed", "core", "hose_after_core", "exchanger", "hose_after_exchanger")
NAMES = ("hatch", "wagon", "retro", "road")


def si(text: Any) -> float:
    """A figure with its unit in SI: '1.73 L' is 0.00173; '120 degC' stays in degrees Celsius."""
    number, _, unit = str(text).partition(" ")
    return float(number) * (1.0 if unit == "degC" else UNITS[unit])


def answer_of(name: str) -> Run:
    """An example put to the command in a process of its own: many kits as JSON, and the trace of kit 1.

    Loops with one of each are asked for, which is what the checkers know.
    """
    top = "100" if name == "hatch" else "60"  # the hatch's kits with elbows come late
    run = suggest(brief_of(name), "--json", "--all-variants", "--top", top, trace=True, how="apart")
    assert run.code == 0, run.err
    return run


def brief_of(name: str) -> Tree:
    """An example brief as plain data, with the layout of one core and one exchanger named."""
    return example(name, layouts=["single"])


def part_of(brief: Tree, part_id: str) -> Tree:
    """A part by id: the customer's own, written in the brief, or one off the shipped shelf."""
    for own in brief.get("own", []):
        if isinstance(own, dict) and own["id"] == part_id:
            return dict(own)
    return shelf_part(part_id)


def part_in(brief: Tree, kit: Tree, slot: str) -> Tree:
    """The part in a slot of a kit."""
    return part_of(brief, kit["parts"][slot][0])


def liquid_metres(brief: Tree) -> float:
    """The most liquid over any part of a loop, never under 0.5 m: common practice, no source.

    From the top of a zone that takes the reservoir down to the floor of any that takes another part of the loop, where
    both heights are told, and within one zone. Of briefs without zones used as one, where no part but a core stays that
    a zone would take.
    """
    bay = brief["bay"]
    most, absent = 0.5, {"reservoir", "fan", *brief.get("without", ())}
    for tank in () if bay == "unmeasured" else bay["zones"].values():
        if "reservoir" not in tank["takes"]:
            continue
        if {"pump", "core", "exchanger"} & set(tank["takes"]):
            most = max(most, si(tank["high"]))
        for zone in bay["zones"].values():
            if "up" in tank.get("at", {}) and "up" in zone.get("at", {}) and set(zone["takes"]) - absent:
                most = max(most, si(tank["at"]["up"]) + si(tank["high"]) - si(zone["at"]["up"]))
    return most


def stub_metres(joint: Tree) -> list[tuple[str, float]]:
    """Short pieces of hose that join spigots within a run: hose id and metres."""
    return [(need["part"], need["quantity"]) for need in joint["needs"] if need["item"] == "hose stub"]


def litres_of_runs(kit: Tree) -> list[float]:
    """Liquid in each coolant run [m3], in flow order: a cylinder of the hose's bore, never under 20 ml."""
    volumes = []
    for joint in kit["joints"]:
        if joint["hose"] is not None:
            pieces = [(joint["hose"], joint["hose_length_m"]), *stub_metres(joint)]
            bores = [si(shelf_part(hose)["bore"]) for hose, _ in pieces]
            held = sum(math.pi / 4 * bore**2 * long for bore, (_, long) in zip(bores, pieces, strict=True))
            volumes.append(max(held, LEAST_HOSE_M3))
    return volumes


def walls_of_runs(kit: Tree) -> list[float]:
    """Heat capacity of the hose of each coolant run, stubs with it [J/K], in flow order."""
    return [
        sum(si(shelf_part(hose)["mass"]) * long for hose, long in [(joint["hose"], joint["hose_length_m"]),
            *stub_metres(joint)]) * RUBBER_J_PER_KG_K
        for joint in kit["joints"] if joint["hose"] is not None
    ]  # fmt: skip


def stores(brief: Tree, kit: Tree, row: Any) -> tuple[list[float], list[float]]:
    """Heat capacity of the liquid and of metal and hose wall in each lump [J/K], in the order of LOOP."""
    per_m3 = row["filled_kg_per_m3"] * row["coolant_j_per_kg_k"]
    core, front, tank, pump = (part_in(brief, kit, slot) for slot in ("core", "exchanger", "reservoir", "pump"))
    to_pump, to_core, to_front, to_tank = litres_of_runs(kit)
    tank_m3, pump_m3, core_m3, front_m3 = (si(part["coolant"]["volume"]) for part in (tank, pump, core, front))
    volumes = [tank_m3, to_pump + pump_m3 + to_core, core_m3, to_front, front_m3, to_tank]
    metal = [si(part["mass"]) * ALUMINIUM_J_PER_KG_K for part in (tank, core, front)]
    wall = walls_of_runs(kit)
    return [volume * per_m3 for volume in volumes], [
        metal[0], wall[0] + wall[1], metal[1], wall[2], metal[2], wall[3]
    ]  # fmt: skip


def capacity_rate(row: Any) -> float:
    """Heat capacity rate of the coolant [W/K]."""
    per_m3 = row["coolant_kg_per_m3"] * row["coolant_j_per_kg_k"]
    return float(row["coolant_l_per_min"]) / 60e3 * float(per_m3)
