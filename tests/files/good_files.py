"""A brief and a shelf that are good, and a way to break them at a marked place."""

from __future__ import annotations

SHELF = """\
cores:
  - id: core-a
    name: Core A
    price: 340
    mass: 3.9 kg
    size: {x: 230 mm, y: 150 mm, z: 130 mm}
    charge:
      working: 3.5 bar
      ends:
        - {name: in, form: spigot, size: 76 mm, bead: true, face: -x, at: {y: 75 mm, z: 65 mm}}
        - {name: out, form: spigot, size: 76 mm, bead: true, face: +x, at: {y: 75 mm, z: 65 mm}}
    coolant:
      working: 1.5 bar
      ends:
        - {name: in, form: orb, size: -12, sex: female, face: +z, at: {x: 60 mm, y: 75 mm}}
        - {name: out, form: orb, size: -12, sex: female, face: +z, at: {x: 170 mm, y: 75 mm}}
    arrangement: {flow: counter-flow, passes: 1}
    performance:
      measured:
        - {air: 0.2 kg/s, charge_in: 150 degC, charge_pressure: 1.2 bar, coolant: 30 L/min, fluid: water,
           coolant_in: 40 degC, effectiveness: 82 %, charge_loss: 3.1 kPa, coolant_loss: 14 kPa}
pumps:
  - id: pump-a
    name: Pump A
    price: 90
    size: {x: 120 mm, y: 80 mm, z: 80 mm}
    coolant:
      ends:
        - {name: in, form: hose, size: 19 mm, face: -x, at: {y: 40 mm, z: 40 mm}}
        - {name: out, form: hose, size: 19 mm, face: +x, at: {y: 40 mm, z: 40 mm}}
    curve:
      - {flow: 0 L/min, head: 60 kPa}
      - {flow: 20 L/min, head: 45 kPa}
      - {flow: 40 L/min, head: 5 kPa}
    volts: 12
    current: 4 A
"""

TABLES = """\
layouts:
  - id: single
    name: one core
    slots:
      - {slot: reservoir, kind: reservoir, least: 1, most: 1}
      - {slot: pump, kind: pump, least: 1, most: 1}
      - {slot: core, kind: core, least: 1, most: 1}
    loop: [reservoir, pump, core]
fuels:
  - {id: petrol, name: Petrol, air_fuel_ratio: 12.5, standing: common practice, source: book}
  - {id: diesel, name: Diesel, air_fuel_ratio: 20, standing: common practice, source: book}
chargers:
  - id: turbo
    name: Turbocharger
    holds_boost_at: throttle
    turbine: true
    efficiency: 70 %
    efficiency_band: 5 %
    consumption: {petrol: 330 g/kWh}
    consumption_band: 5 %
    part_load: [{share: 0 %, boost: 0 %}, {share: 100 %, boost: 100 %}]
    standing: common practice
    source: book
driving:
  - id: hill-climb
    name: a climb
    stretches: [{lasts: 90 s, share: 100 %, speed: 80 km/h}]
    total: 90 s
coolants:
  - {id: water, name: Water, price_per_litre: 0}
ice:
  - {id: cubes, name: Ice cubes, stirred: 260 W/K/kg, still: 15 W/K/kg, band: 40 %, standing: estimate, source: book}
soak:
  - {id: bay, name: Bay, above_air: 40 K, surface: 15 W/K/m2, band: 40 %, standing: estimate, source: book}
sources:
  book: a book
"""

BRIEF = """\
brief: Hill-climb hatch
engine: {power: 230 kW, fuel: petrol, charger: turbo, boost: 1.4 bar}
site: {air: 24 degC, altitude: 900 m}
driving: hill-climb
aim: {charge_air: 80 degC}
limits: {price: 1400}
bay:
  zones:
    nose: {wide: 460 mm, high: 150 mm, deep: 60 mm, air: {kind: ram, share: 25 %}, takes: [exchanger]}
    bulkhead: {wide: 240 mm, high: 180 mm, deep: 320 mm, open: [front], takes: [core]}
  obstacles:
    - {name: brake cylinder, in: bulkhead, from: {left: 180 mm, front: 200 mm, floor: 80 mm},
       wide: 60 mm, high: 100 mm, deep: 120 mm, kind: plain}
  runs: {nose-bulkhead: 1.2 m}
own: []
without: []
"""

MARK = "»"


def broken(text: str, old: str, new: str) -> tuple[str, tuple[int, int]]:
    """`text` with `old` (there once) replaced; `new` holds the mark, whose line and column come back."""
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the text"
    changed = text.replace(old, new)
    before = changed[: changed.index(MARK)]
    return changed.replace(MARK, ""), (before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)
