"""A customer whose every gap is measured, as a file of answers: the hill-climb hatch of the examples."""

from __future__ import annotations

MEASURED = """\
name: Hill-climb hatch
power: 230 kW
fuel: petrol
charger: turbo
boost: 1.4 bar
displacement: 1.6 L
rev-limit: 7400 rpm
charger-outlet: 57 mm
throttle: 64 mm
driving: hill-climb
air: 24 degC
humidity: 50 %
altitude: 900 m
coldest: -5 degC
aim: ceiling
ceiling: 80 degC
charge-loss: 12 kPa
price: 1400
mass: 16 kg
current: 20 A
gaps: [nose, bulkhead, side]
gap-takes: {nose: exchanger, bulkhead: core, side: [reservoir, pump]}
gap-wide: {nose: 460 mm, bulkhead: 240 mm, side: 220 mm}
gap-high: {nose: 150 mm, bulkhead: 180 mm, side: 380 mm}
gap-deep: {nose: 60 mm, bulkhead: 320 mm, side: 240 mm}
gap-open: {nose: [front, back, left, right], bulkhead: [front, back, left], side: up}
gap-air: {nose: ram}
gap-ram-share: {nose: 25 %}
gap-back: {nose: 60 mm, bulkhead: 450 mm}
gap-right: {nose: -230 mm, bulkhead: -260 mm}
gap-up: {nose: 300 mm, bulkhead: 620 mm}
obstacles: [brake cylinder]
obstacle-in: {brake cylinder: bulkhead}
obstacle-from: {brake cylinder: [left 180 mm, front 200 mm, floor 80 mm]}
obstacle-wide: {brake cylinder: 60 mm}
obstacle-high: {brake cylinder: 100 mm}
obstacle-deep: {brake cylinder: 120 mm}
obstacle-kind: {brake cylinder: plain}
coolant: [water, ethylene glycol]
"""
