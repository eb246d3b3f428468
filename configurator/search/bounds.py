"""What no kit with some part can be better than: bounds from the part alone, for a search that looks at the best first.

Each is certain, not likely. Behind a core the charge is never cooler than with the coldest coolant at the most flow;
beside others a part never has more room than alone; and a kit costs no less than its parts, its pump's wiring and
the pieces of its joints.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from configurator.fitting.placing import fit_zone
from configurator.fitting.reaches import Needs
from configurator.fitting.room import CLEARANCE_COUNTED_MM
from configurator.foundations.numbers import Array
from configurator.parts.kinds import Part, Pump, RigidPart
from configurator.parts.kit import Joint
from configurator.prediction.bench import Bench
from configurator.prediction.coolest import coolest_behind_k, free_flow
from configurator.search.job import Job
from configurator.search.needs import faces_used
from configurator.search.prices import Prices
from configurator.search.sieve import FITTED, UNMEASURED, Admissible

KINDS = ("core", "exchanger", "pump", "reservoir")
_NOISE_K = 1e-6
"""Far above the error of a float that holds a temperature, far below the 0.01 K that margins are rounded to."""


@dataclass(frozen=True)
class Hoped:
    """The best figures that kits of a group may have, one group or columns of many: what order and limits look at."""

    margin_k: Any
    margin_low_k: Any
    clearance_mm: Any
    price_cents: Any
    mass_g: Any
    proven: Any = True
    ids: tuple[str, ...] = ()

    def with_room(self, room_mm: Any) -> Hoped:
        """The same with no more room than this."""
        return replace(self, clearance_mm=np.minimum(self.clearance_mm, room_mm))

    def with_margins(self, margin_k: Any, margin_low_k: Any) -> Hoped:
        """The same with no more margin than this."""
        low = np.minimum(np.minimum(self.margin_low_k, margin_low_k), margin_k)
        return replace(self, margin_k=np.minimum(self.margin_k, margin_k), margin_low_k=low)

    def plus(self, cents: Any) -> Hoped:
        """The same for so much more."""
        return replace(self, price_cents=self.price_cents + cents)

    def at(self, places: Any) -> Hoped:
        """One group of these columns, or some of them."""
        figures = (self.margin_k, self.margin_low_k, self.clearance_mm, self.price_cents, self.mass_g)
        margin, low, room, cents, grams = (one[places] for one in np.broadcast_arrays(*figures))
        return Hoped(margin, low, room, cents, grams, self.proven)

    def at_best(self) -> Hoped:
        """One group of all of these columns."""
        return replace(
            self,
            margin_k=np.max(self.margin_k),
            margin_low_k=np.max(self.margin_low_k),
            clearance_mm=np.max(self.clearance_mm),
            price_cents=np.min(self.price_cents),
            mass_g=np.min(self.mass_g),
        )

    def times(self, other: Hoped) -> Hoped:
        """Every group of these columns together with every one of others: one column, the other running faster."""

        def each(one: Any, two: Any, together: Any) -> Any:
            return np.ravel(together(np.asarray(one)[..., None], np.asarray(two)))

        return Hoped(
            each(self.margin_k, other.margin_k, np.minimum),
            each(self.margin_low_k, other.margin_low_k, np.minimum),
            each(self.clearance_mm, other.clearance_mm, np.minimum),
            each(self.price_cents, other.price_cents, np.add),
            each(self.mass_g, other.mass_g, np.add),
            self.proven,
        )


class Bounds:
    """The bounds of one job, by kind and place in `admissible`."""

    def __init__(self, job: Job, admissible: Admissible, bench: Bench, prices: Prices) -> None:
        """Margins of all cores are found here; rooms as they are asked for."""
        self._job = job
        self._prices = prices
        self.proven = job.brief.bay is not None
        """Whether any kit can be known to fit: in a bay that has not been measured none is."""
        self._rooms: dict[tuple[str, str], float] = {}
        self._pieces: dict[int, tuple[int, Joint]] = {}
        self.margin_k = self._margins(bench, 0)
        self.margin_low_k = np.minimum(self.margin_k, self._margins(bench, -1))
        self.cents = {kind: np.array([self._cents(part) for part in admissible.of(kind)]) for kind in KINDS}
        self.grams = {
            kind: np.array([self._grams(kind, part) for part in admissible.of(kind)]) for kind in KINDS
        }

    def room_mm(self, part: Part, zone: str) -> float:
        """The most room that a part has all round in a zone, as far as the order counts it [mm]."""
        if (part.id, zone) not in self._rooms:
            self._rooms[part.id, zone] = self._room_mm(part, zone)
        return self._rooms[part.id, zone]

    def _room_mm(self, part: Part, zone: str) -> float:
        bay = self._job.brief.bay
        if bay is None or zone in {FITTED, UNMEASURED} or not isinstance(part, RigidPart):
            return CLEARANCE_COUNTED_MM
        needs = {"alone": Needs(used=faces_used(part))}
        alone = fit_zone(bay, zone, (("alone", part),), clearance_cap_mm=CLEARANCE_COUNTED_MM, needs=needs)
        room = alone.clearance_mm if alone.state == "fits" else None
        return CLEARANCE_COUNTED_MM if room is None else room

    def joints_cents(self, best: tuple[Joint, ...], tight: tuple[Joint, ...]) -> int:
        """What joints cost at least, each made in the cheaper of two ways."""
        return sum(min(self._joint_cents(run) for run in ways) for ways in zip(best, tight, strict=True))

    def _joint_cents(self, joint: Joint) -> int:
        """One joint, its hose to the millimetre: hose of several joints is bought together, and rounded up once."""
        if id(joint) not in self._pieces:  # the joint is kept beside it, so that its identity stays its own
            self._pieces[id(joint)] = (self._pieces_cents(joint), joint)
        return self._pieces[id(joint)][0]

    def _pieces_cents(self, joint: Joint) -> int:
        pieces = [(piece, 1.0) for piece in joint.through]
        pieces += [] if joint.hose is None else [(joint.hose, joint.hose_length_m)]
        pieces += [(need.part, need.quantity) for need in joint.needs if need.part]
        price = self._job.catalogue
        return math.floor(sum(price[part].price_cents * quantity for part, quantity in pieces)) - len(pieces)

    def _margins(self, bench: Bench, end: int) -> Array:
        conditions, flow = self._job.conditions, free_flow(bench)
        coldest_k, cores = conditions.coldest_coolant_k, self._job.cores
        coolest = [
            coolest_behind_k(core, conditions, coldest_k, flow, cores, end) for core in bench.core_surfaces
        ]
        return np.round(conditions.ceiling_k - np.array(coolest) + _NOISE_K, 2)

    def _cents(self, part: Part) -> int:
        return self._prices.part(part.id) + (self._prices.wiring(part) if isinstance(part, Pump) else 0)

    def _grams(self, kind: str, part: Part) -> int:
        wiring = self._prices.wiring_g(part) if isinstance(part, Pump) else 0
        return wiring + (0 if self._job.fitted(kind) is not None else part.mass_g)

