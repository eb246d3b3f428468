"""What a kit costs and weighs, summed again."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from configurator.foundations.coolants import Coolant
from configurator.parts.kinds import Fuse, Part, Pump, Relay, Wire
from configurator.standards.wires import carries_a
from tests.oracles.plain_joints import Run
from tests.oracles.plain_surfaces import Matrix
from tests.oracles.shelves import Shelf

COPPER = {1.0: 19.5e-3, 1.5: 13.3e-3, 2.5: 7.98e-3, 4.0: 4.95e-3, 6.0: 3.30e-3, 10.0: 1.91e-3}
"""Largest resistance [ohm/m] of flexible copper by area in mm2; published: IEC 60228 class 5 (from memory)."""


@dataclass(frozen=True)
class Bill:
    """Sums for one shelf. `matrix` gives a core or exchanger as plain numbers."""

    shelf: Shelf
    coolant: Coolant
    matrix: Callable[[Part], Matrix]

    def price(self, parts: dict[str, Part], joints: list[Run]) -> int:
        """Parts, pieces, hose with its stubs by the tenth of a metre with a tenth of waste, wiring, the fill."""
        own = {own.part.id for own in self.shelf.own}
        cents = sum(0 if part.id in own else part.price_cents for part in parts.values())
        metres: dict[str, float] = {}
        for joint in joints:
            cents += sum(piece.price_cents for piece in (*joint.adapters, *joint.clamps))
            for hose, length in [(stub, 0.10) for stub in joint.stubs] + ([joint.hose] if joint.hose else []):
                metres[hose.id] = metres.get(hose.id, 0.0) + length
        for hose_id, length in metres.items():
            cents += round(self.shelf.catalogue[hose_id].price_cents * _up_to_tenth(length * 1.10))
        held = float(parts["reservoir"].coolant.volume_m3) + self.matrix(parts["core"]).liquid_m3
        held += float(parts["pump"].coolant.volume_m3 or 0.0)
        held += sum(max(joint.pipe.volume, 0.02e-3) for joint in joints if joint.pipe is not None)
        held += 0.0 if "exchanger" not in parts else self.matrix(parts["exchanger"]).liquid_m3
        bought = held * 1e3 * 1.15 * (self.coolant.glycol_by_volume or 1.0)
        cents += round(self.shelf.tables.coolants[self.coolant.kind].price_per_litre * _up_to_tenth(bought) * 100)
        return cents + sum(round(many * piece.price_cents) for piece, many in self._wiring(parts["pump"]))

    def _wiring(self, pump: Pump) -> list[tuple[Part, int]]:
        """The least fuse and relay; the least wire that the fuse guards and that takes 3 % at most, there and back."""
        amps, shelf = float(pump.current_a), self.shelf.catalogue
        fuses = [f for f in shelf.of(Fuse) if f.rated_a >= amps / 0.75]
        relays = [r for r in shelf.of(Relay) if r.rated_a >= 1.5 * amps and r.volts == pump.volts]
        fuse = min(fuses, key=lambda f: (f.rated_a, f.price_cents, f.id))
        areas = {w: round(float(w.area_m2) * 1e6, 2) for w in shelf.of(Wire)}
        enough = {w for w, mm2 in areas.items() if 6 * amps * COPPER[mm2] <= 0.03 * pump.volts}
        wires = [w for w in enough if carries_a(areas[w]) >= fuse.rated_a]
        relay = min(relays, key=lambda r: (r.rated_a, r.price_cents, r.id))
        wire = min(wires, key=lambda w: (w.area_m2, w.price_cents, w.id))
        return [(fuse, 1), (relay, 1), (wire, 6)]

    def mass(self, parts: dict[str, Part], joints: list[Run]) -> int:
        """Dry mass; what is in the car already is not counted."""
        fitted = {own.part.kind for own in self.shelf.own if own.fitted}
        grams = sum(0 if s in fitted else round(float(p.mass_kg or 0.0) * 1000) for s, p in parts.items())
        grams += sum(many * round(float(p.mass_kg or 0.0) * 1000) for p, many in self._wiring(parts["pump"]))
        return grams + round(sum(joint.mass_kg for joint in joints) * 1000)


def _up_to_tenth(value: float) -> float:
    return math.ceil(round(value * 10, 6)) / 10
