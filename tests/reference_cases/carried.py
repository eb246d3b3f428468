"""Reference cases carried through files and the command line: a shelf of one part of each kind, and its brief.

Everything that a case fixes is an argument; the rest is as small as it can be. All parts are made up.
"""

from __future__ import annotations

import csv
import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]

ENDS = """
        - {name: in, form: orb, size: -12, sex: female, bore: 19 mm, face: +z, at: {x: 30 mm, y: 20 mm}}
        - {name: out, form: orb, size: -12, sex: female, bore: 19 mm, face: +z, at: {x: 90 mm, y: 20 mm}}"""

SHELF = """\
cores:
  - id: core
    name: Core
    price: 1
    mass: {core_mass}
    size: {{x: 300 mm, y: 200 mm, z: 150 mm}}
    charge:
      working: 9 bar
      ends:
        - {{name: in, form: spigot, size: 76 mm, bead: true, face: -x, at: {{y: 75 mm, z: 65 mm}}}}
        - {{name: out, form: spigot, size: 76 mm, bead: true, face: +x, at: {{y: 75 mm, z: 65 mm}}}}
    coolant:
      working: 9 bar
      volume: {core_volume}
      ends: {ends}
    arrangement: {{flow: cross-flow both unmixed, passes: 1}}
    performance:
      channels: {channels}
      measured:
        - {{{core_point}}}
exchangers:
  - id: exchanger
    name: Exchanger
    price: 1
    mass: {exchanger_mass}
    size: {{x: 100 mm, y: 650 mm, z: 450 mm}}
    face: {{wide: 600 mm, high: 450 mm}}
    coolant:
      working: 9 bar
      volume: {exchanger_volume}
      ends: {ends}
    arrangement: {{flow: cross-flow both unmixed, passes: 1}}
    performance:
      channels: {channels}
      measured:
        - {{{exchanger_point}}}
pumps:
  - id: pump
    name: Pump
    price: 1
    mass: 1 kg
    size: {{x: 120 mm, y: 80 mm, z: 80 mm}}
    coolant:
      working: 9 bar
      ends: {ends}
    curve: [{curve}]
    volts: 12
    current: 1 A
    heat_to_coolant: 0 %
reservoirs:
  - id: reservoir
    name: Reservoir
    price: 1
    mass: {reservoir_mass}
    size: {{x: 200 mm, y: 200 mm, z: 200 mm}}
    air_space: 10 %
    vented: true
    coolant:
      working: 9 bar
      volume: {reservoir_volume}
      ends: {ends}
hoses:
  - id: hose
    name: Hose
    price: 1
    bore: 19 mm
    wall: 4 mm
    class: D-1 EPDM
    working: 9 bar
    hottest: 125 degC
    coldest: -40 degC
    media: [coolant]
    bend_radius: 90 mm
    roughness: 0.0015 mm
adapters:
  - id: barb
    name: Barb
    price: 1
    shape: adapter
    medium: coolant
    length: 40 mm
    loss_factor: {adapter_factor}
    through:
      bore: 19 mm
      working: 9 bar
      hottest: 150 degC
      ends:
        - {{name: thread, form: orb, size: -12, sex: male}}
        - {{name: hose, form: spigot, size: 19 mm, barb: true}}
clamps:
  - {{id: clamp, name: Clamp, price: 1, style: worm, least: 20 mm, most: 40 mm, media: [coolant, charge]}}
fuels:
  - {{id: book, name: Book fuel, air_fuel_ratio: 12, standing: common practice, source: case}}
chargers:
  - id: book
    name: Book charger
    holds_boost_at: outlet
    turbine: false
    efficiency: 70 %
    efficiency_band: 0 %
    consumption: {{book: 300 g/kWh}}
    consumption_band: 0 %
    part_load: [{{share: 0 %, boost: 0 %}}, {{share: 100 %, boost: 100 %}}]
    standing: common practice
    source: case
sources:
  case: a reference case
"""

BRIEF = """\
brief: A reference case
engine:
  {{power: {power}, fuel: book, charger: book, boost: {boost}, charger_efficiency: {efficiency},
   inlet_rise: 0 K, inlet_loss: 0 Pa, loss_to_throttle: 0 Pa}}
site: {{air: {air}, altitude: 0 m}}
driving:
  stretches: [{{lasts: {lasts}, share: 100 %, speed: 10 km/h}}]
  total: {lasts}
aim: {{charge_air: 200 degC}}
coolant: {coolant}
bay:
  zones:
    nose:
      {{wide: 2 m, high: 2 m, deep: 1 m, open: [front, back, left, right, up, down],
       air: {{face_speed: {face_speed}}}, takes: [exchanger]}}
    back:
      {{wide: 5 m, high: 5 m, deep: 5 m, open: [front, back, left, right, up, down],
       takes: [core, pump, reservoir]}}
  runs: {{nose-back: {run}, back-back: {run}}}
"""

CASE = {
    "core_mass": "0.01 kg", "core_volume": "0.4 L", "exchanger_mass": "0.01 kg", "exchanger_volume": "0.5 L",
    "reservoir_mass": "0.01 kg", "reservoir_volume": "2 L", "adapter_factor": 0.0, "run": "0.1 m",
    "channels": "{count: 200, wide: 30 mm, high: 20 mm, length: 300 mm}",
    "boost": "1.01325 bar", "efficiency": "56.78 %", "lasts": "10 min",
}  # fmt: skip


@dataclass(frozen=True)
class Told:
    """What the command told: the thermal figures of the one kit, all of the kit, and the trace's rows."""

    thermal: dict[str, Any]
    kit: dict[str, Any]
    trace: list[dict[str, float]]


def carried(folder: Path, **figures: Any) -> Told:
    """Write shelf and brief, ask the command for the one kit there is, and read its answer and its trace."""
    case = {**CASE, **figures, "ends": ENDS}
    shelf = folder / "shelf"
    shelf.mkdir()
    (shelf / "shelf.yaml").write_text(SHELF.format(**case), encoding="utf-8")
    brief, trace = folder / "brief.yaml", folder / "trace.csv"
    brief.write_text(BRIEF.format(**case), encoding="utf-8")
    asked = [str(brief), "--catalogue", str(shelf), "--json", "--trace", str(trace)]
    ran = subprocess.run(
        [sys.executable, "-m", "configurator", "suggest", *asked],
        cwd=folder, env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, text=True, timeout=120,
        check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stdout + ran.stderr
    kit = json.loads(ran.stdout)["kits"][0]
    with trace.open(encoding="utf-8", newline="") as file:
        rows = [{key: float(value) for key, value in row.items()} for row in csv.DictReader(file)]
    return Told(kit["thermal"], kit, rows)
