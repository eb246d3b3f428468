"""What a kit is made of, line by line, and what it costs: parts, pieces of joints, coolant, the pump's wiring."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from configurator.foundations.coolants import Coolant
from configurator.parts.kinds import Fuse, Part, Pump, Relay, Wire
from configurator.parts.kit import Joint
from configurator.search.job import Job

P = TypeVar("P", bound=Part)

FUSE_LOAD = 0.75
RELAY_OVER_CURRENT = 1.5
WIRE_RUN_M = 3.0
WIRE_DROP_SHARE = 0.03
"""Common practice, no source: a fuse carries three quarters of its rating, a relay half as much again as the motor
draws, and the wire there and back loses at most 3 % of the voltage over an assumed 3 m run."""

RESISTANCE_OHM_PER_M = {1.5: 13.3e-3, 2.5: 7.98e-3, 4.0: 4.95e-3, 6.0: 3.30e-3, 1.0: 19.5e-3, 10.0: 1.91e-3}
"""Largest resistance of flexible copper at 20 degC by area in mm2; published: IEC 60228 class 5 (public reprints)."""

HOSE_WASTE = 1.10
COOLANT_SPARE = 1.15
"""Common practice, no source: a tenth more hose and 15 % more coolant than the loop holds."""


@dataclass(frozen=True)
class Line:
    """One line of the bill; `part` is None for what any shop has, `price_cents` is that of the whole line."""

    item: str
    part: str | None
    quantity: float
    unit: str
    price_cents: int


class Prices:
    """Prices of one job's kits in cents, each sum made once: kits share parts, runs and pumps by the thousand."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._parts: dict[str, int] = {}
        self._joints: dict[tuple[int, ...], tuple[int, tuple[Joint, ...]]] = {}
        self._wiring: dict[str, int] = {}

    def part(self, part_id: str) -> int:
        """A part of the kit; the customer's own cost nothing."""
        if part_id not in self._parts:
            own = self._job.is_own(part_id)
            self._parts[part_id] = 0 if own else self._job.catalogue[part_id].price_cents
        return self._parts[part_id]

    def joints(self, joints: tuple[Joint, ...]) -> int:
        """All joints of a kit together: hose of one kind is bought in one length."""
        key = tuple(id(joint) for joint in joints)
        if key not in self._joints:
            # The joints are kept beside the sum so that their identities stay theirs.
            self._joints[key] = (sum(line.price_cents for line in joint_lines(self._job, joints)), joints)
        return self._joints[key][0]

    def wiring(self, pump: Pump) -> int:
        """Relay, fuse and wire of a pump."""
        if pump.id not in self._wiring:
            self._wiring[pump.id] = sum(line.price_cents for line in wiring_lines(self._job, pump) or ())
        return self._wiring[pump.id]

    def coolant(self, litres: float) -> int:
        """The fill."""
        return sum(
            line.price_cents for line in coolant_lines(self._job, self._job.conditions.coolant, litres)
        )


def part_lines(job: Job, slots: Sequence[tuple[str, str]], own: dict[str, Part]) -> list[Line]:
    """A line for each part in a slot; the customer's own cost nothing."""
    lines = []
    for slot, part_id in slots:
        part = own.get(part_id) or job.catalogue[part_id]
        lines.append(Line(slot, part_id, 1, "piece", 0 if job.is_own(part_id) else part.price_cents))
    return lines


def joint_lines(job: Job, joints: Iterable[Joint]) -> list[Line]:
    """Adapters, hose by the metre with waste, clamps, and the consumables of every joint, equal ones together."""
    counted: dict[tuple[str, str | None, str], float] = {}
    for joint in joints:
        for piece in joint.through:
            counted[("adapter", piece, "piece")] = counted.get(("adapter", piece, "piece"), 0.0) + 1
        if joint.hose is not None:
            run = ("hose", joint.hose, "m")
            counted[run] = counted.get(run, 0.0) + joint.hose_length_m
        for need in joint.needs:
            key = (need.item, need.part, need.unit)
            counted[key] = counted.get(key, 0.0) + need.quantity
    lines = []
    for (item, part_id, unit), quantity in sorted(
        counted.items(), key=lambda entry: (entry[0][0], entry[0][1] or "")
    ):
        if unit == "m":
            quantity = math.ceil(round(quantity * HOSE_WASTE * 10, 6)) / 10
        price = 0 if part_id is None else round(job.catalogue[part_id].price_cents * quantity)
        lines.append(Line(item, part_id, quantity, unit, price))
    return lines


def coolant_lines(job: Job, coolant: Coolant, litres: float) -> list[Line]:
    """Antifreeze concentrate and water for the fill, with something to spare; water without glycol needs inhibitor."""
    fill = litres * COOLANT_SPARE
    lines = []
    if coolant.glycol_by_volume > 0:
        concentrate = _tenths(fill * coolant.glycol_by_volume)
        lines.append(_coolant_line(job, coolant.kind, concentrate))
        lines.append(
            Line("demineralised water", None, _tenths(fill * (1 - coolant.glycol_by_volume)), "L", 0)
        )
    else:
        lines.append(_coolant_line(job, "water", _tenths(fill)))
    return lines


def wiring_lines(job: Job, pump: Pump) -> list[Line] | None:
    """Relay, fuse and wire for a pump: the least of each that carries it; None where the shelf lacks one."""
    current = float(pump.current_a)
    fuse = _least(
        (f for f in job.catalogue.of(Fuse) if f.rated_a >= current / FUSE_LOAD), lambda f: float(f.rated_a)
    )
    relay = _least(
        (
            r
            for r in job.catalogue.of(Relay)
            if r.rated_a >= current * RELAY_OVER_CURRENT and r.volts == pump.volts
        ),
        lambda r: float(r.rated_a),
    )
    wire = _least(
        (
            w
            for w in job.catalogue.of(Wire)
            if 2 * WIRE_RUN_M * current * RESISTANCE_OHM_PER_M.get(_mm2(w), math.inf)
            <= WIRE_DROP_SHARE * pump.volts
        ),
        lambda w: float(w.area_m2),
    )
    if fuse is None or relay is None or wire is None:
        return None
    metres = 2 * WIRE_RUN_M
    return [
        Line("fuse", fuse.id, 1, "piece", fuse.price_cents),
        Line("relay", relay.id, 1, "piece", relay.price_cents),
        Line("wire", wire.id, metres, "m", round(wire.price_cents * metres)),
    ]


def _coolant_line(job: Job, kind: str, litres: float) -> Line:
    known = job.tables.coolants.get(kind)
    price = 0 if known is None else round(known.price_per_litre * litres * 100)
    return Line(kind if known is None else known.name, None, litres, "L", price)


def _tenths(litres: float) -> float:
    return math.ceil(round(litres * 10, 6)) / 10


def _mm2(wire: Wire) -> float:
    return round(float(wire.area_m2) * 1e6, 2)


def _least(parts: Iterable[P], rated: Callable[[P], float]) -> P | None:
    """The part with the least rating that will do, then by price and id."""
    return min(parts, key=lambda part: (rated(part), part.price_cents, part.id), default=None)
