"""Skeletons filled with parts: every kit there is, predicted in columns, with what each one misses if it misses.

Nothing is cut here: each skeleton is filled with all its members and every loop is predicted. What comes back is
exact: all kits that keep every demand, and all that fit and join but miss the aim or a limit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from configurator.fitting.placing import fit_zone
from configurator.parts.kinds import Core, Exchanger, Part, Pump, Reservoir, RigidPart
from configurator.parts.kit import Joint, Kit
from configurator.prediction.bench import Bench, Columns, Loop, make_bench, make_columns, zone_air
from configurator.prediction.predict import predict
from configurator.search.bill import Prices
from configurator.search.charge_pipes import ChargePipes
from configurator.search.job import Job
from configurator.search.sieve import FITTED, UNMEASURED, Admissible
from configurator.search.skeletons import Skeleton

BATCH = 4000
CLEARANCE_COUNTED_MM = 25.0
"""The order counts clearance up to here, so the search looks no further; what is told of a kit is exact."""


@dataclass(frozen=True)
class Candidate:
    """One kit with all that orders it. Figures are rounded here, once: 0.01 K, 0.5 mm, cents, grams."""

    kit: Kit
    loop: Loop
    joints: tuple[Joint, ...]
    proven: bool
    margin_k: float
    margin_low_k: float
    clearance_mm: float
    fit_decided: bool
    price_cents: int
    mass_g: int
    current_a: float
    charge_loss_pa: float
    coolant_m3: float
    ids: tuple[str, ...]
    missed: tuple[str, ...]

    @property
    def choice(self) -> tuple[str | None, str | None]:
        """The core + exchanger choice that the short list counts by."""
        return self.kit.part("core"), self.kit.part("exchanger")


@dataclass(frozen=True)
class Filled:
    """All kits that keep every demand, all that miss some, what was counted, and which parts were ever in a kit."""

    kept: tuple[Candidate, ...]
    missing: tuple[Candidate, ...]
    loops: int
    bench: Bench
    joined: frozenset[str]
    placed: frozenset[str]
    unjoined_charge: Mapping[str, str]


@dataclass(frozen=True)
class _Row:
    loop: Loop
    parts: tuple[tuple[str, str], ...]
    zones: tuple[tuple[str, str], ...]
    joints: tuple[Joint, ...]
    fit: RowFit
    caps: list[Part | None]


def fill(
    job: Job,
    admissible: Admissible,
    skeletons: Iterable[Skeleton],
    charge: ChargePipes,
    tell: Callable[[str], None] = lambda words: None,
) -> Filled:
    """Fill every skeleton, predict every loop, and sort kits into those that keep all demands and those that miss."""
    bench = make_bench(admissible.cores, admissible.exchangers, admissible.pumps, admissible.reservoirs)
    joined: set[str] = set()
    charges: dict[str, tuple[Joint, ...] | str] = {}
    rows = _rows(job, admissible, skeletons, charge, joined, charges)
    placed = {part for row in rows for _, part in row.parts}
    prices = Prices(job)
    kept: list[Candidate] = []
    missing: list[Candidate] = []
    for first in range(0, len(rows), BATCH):
        tell(f"predicting loops {first + 1} to {min(first + BATCH, len(rows))} of {len(rows)}")
        for candidate in _predicted(job, bench, prices, rows[first : first + BATCH]):
            (missing if candidate.missed else kept).append(candidate)
    unjoined = {core: why for core, why in charges.items() if isinstance(why, str)}
    return Filled(
        tuple(kept), tuple(missing), len(rows), bench, frozenset(joined), frozenset(placed), unjoined
    )


def _rows(
    job: Job,
    admissible: Admissible,
    skeletons: Iterable[Skeleton],
    charge: ChargePipes,
    joined: set[str],
    charges: dict[str, tuple[Joint, ...] | str],
) -> list[_Row]:
    """One row for each loop and choice of zones that can be placed; caps that suit it are gathered on the row."""
    places = {kind: {part.id: at for at, part in enumerate(admissible.of(kind))} for kind in _KINDS}
    zone_of = {} if job.brief.bay is None else job.brief.bay.zones
    found: dict[tuple[object, ...], _Row | None] = {}
    memo = _ZoneMemo(job)
    for skeleton in skeletons:
        slots = [slot for slot, _ in skeleton.classes]
        zones = dict(skeleton.zones)
        caps: Sequence[Part | None] = [None] if skeleton.cap is None else list(skeleton.cap.members)
        for chosen in product(*(known.members for _, known in skeleton.classes)):
            parts = dict(zip(slots, chosen, strict=True))
            key = (*(part.id for part in chosen), skeleton.zones, *(id(run) for run in skeleton.runs))
            if key not in found:
                core = parts["core"]
                assert isinstance(core, Core)
                if core.id not in charges:
                    charges[core.id] = charge.around(core)
                around = charges[core.id]
                joined.update(part.id for part in chosen)
                fit = memo.fit(parts, zones)
                if isinstance(around, str) or (fit.decided and not fit.fits):
                    found[key] = None
                else:
                    exchanger = parts.get("exchanger")
                    loop = Loop(
                        places["core"][core.id],
                        None if exchanger is None else places["exchanger"][exchanger.id],
                        places["pump"][parts["pump"].id],
                        places["reservoir"][parts["reservoir"].id],
                        skeleton.runs,
                        around,
                        zone_air(zone_of.get(zones.get("exchanger", ""))),
                    )
                    placed = tuple((s, z) for s, z in skeleton.zones if z not in {FITTED, UNMEASURED})
                    ids = tuple((slot, parts[slot].id) for slot in slots)
                    found[key] = _Row(loop, ids, placed, (*skeleton.runs, *around), fit, [])
            row = found[key]
            if row is not None:
                row.caps.extend(caps)
    return [row for row in found.values() if row is not None]


_KINDS = ("core", "exchanger", "pump", "reservoir")


@dataclass(frozen=True)
class RowFit:
    """Whether a row's parts can be placed, each zone for itself, and the room left (up to what is counted)."""

    decided: bool
    fits: bool
    clearance_mm: float


class _ZoneMemo:
    """Remembers how parts fit together in a zone: the same few meet again and again."""

    def __init__(self, job: Job) -> None:
        self._bay = job.brief.bay
        self._known: dict[tuple[str, ...], tuple[str, float]] = {}

    def fit(self, parts: dict[str, Part], zones: dict[str, str]) -> RowFit:
        """Place the rigid parts of one row; without a measured bay nothing is decided."""
        if self._bay is None:
            return RowFit(decided=False, fits=False, clearance_mm=0.0)
        states, clearance = [], CLEARANCE_COUNTED_MM
        for zone in sorted(set(zones.values()) - {FITTED}):
            items = tuple(
                (slot, part)
                for slot, part in parts.items()
                if zones[slot] == zone and isinstance(part, RigidPart)
            )
            key = (zone, *(part.id for _, part in items))
            if key not in self._known:
                found = fit_zone(self._bay, zone, items, clearance_cap_mm=CLEARANCE_COUNTED_MM)
                self._known[key] = (found.state, found.clearance_mm or 0.0)
            state, room = self._known[key]
            states.append(state)
            clearance = min(clearance, room)
        if "does not fit" in states:
            return RowFit(decided=True, fits=False, clearance_mm=0.0)
        if "not decided" in states:
            return RowFit(decided=False, fits=False, clearance_mm=0.0)
        return RowFit(decided=True, fits=True, clearance_mm=clearance)


def _predicted(job: Job, bench: Bench, prices: Prices, rows: Sequence[_Row]) -> Iterator[Candidate]:
    columns = make_columns(bench, [row.loop for row in rows])
    middle = predict(bench, columns, job.conditions, 0)
    margin = np.round(job.conditions.ceiling_k - middle.course.charge_out_worst_k, 2)
    low = np.full(len(rows), np.nan)
    meets = np.flatnonzero(margin >= 0)
    if len(meets):
        low_columns = make_columns(bench, [rows[int(index)].loop for index in meets])
        of_low = predict(bench, low_columns, job.conditions, -1)
        low[meets] = np.round(job.conditions.ceiling_k - of_low.course.charge_out_worst_k, 2)
    loss = middle.full.core_loss_pa + middle.full.before_loss_pa + middle.full.after_loss_pa
    liquid = coolant_m3(columns)
    for index, row in enumerate(rows):
        figures = (float(margin[index]), float(low[index]), float(loss[index]), float(liquid[index]))
        yield from _with_caps(job, bench, prices, row, *figures)


def coolant_m3(columns: Columns) -> np.ndarray:
    """Liquid that each loop holds: reservoir, core, exchanger and hoses [m3]."""
    held = columns.reservoir_m3 + columns.core.liquid_m3 + columns.run_m3.sum(axis=1)
    return np.asarray(held if columns.exchanger is None else held + columns.exchanger.liquid_m3)


def _with_caps(
    job: Job,
    bench: Bench,
    prices: Prices,
    row: _Row,
    margin: float,
    low: float,
    loss: float,
    liquid_m3: float,
) -> Iterator[Candidate]:
    pump = bench.pumps[row.loop.pump]
    cents = sum(prices.part(part) for _, part in row.parts)
    cents += prices.joints(row.joints) + prices.wiring(pump) + prices.coolant(liquid_m3 * 1e3)
    grams = sum(_mass_g(job, bench, row, slot) for slot, _ in row.parts)
    grams += round(sum(joint.mass_kg for joint in row.joints) * 1000)
    limits = job.brief.limits
    proven = (
        row.fit.decided
        and all(member.working_pa_gauge is not None for joint in row.joints for member in joint.members)
        and _rated(bench, row)
    )
    for cap in row.caps:
        missed = []
        price = cents + (0 if cap is None else prices.part(cap.id))
        mass = grams + (0 if cap is None else round(float(cap.mass_kg or 0.0) * 1000))
        if margin < 0:
            missed.append("aim")
        if limits.price is not None and price > round(limits.price * 100):
            missed.append("price")
        if limits.mass_dry_kg is not None and mass > round(float(limits.mass_dry_kg) * 1000):
            missed.append("mass")
        if limits.current_a is not None and pump.current_a > limits.current_a:
            missed.append("current")
        if job.brief.aim.charge_loss_pa is not None and loss > job.brief.aim.charge_loss_pa:
            missed.append("charge loss")
        parts = row.parts if cap is None else (*row.parts, ("cap", cap.id))
        yield Candidate(
            kit=Kit(job.layout.id, parts, row.zones),
            loop=row.loop,
            joints=row.joints,
            proven=proven,
            margin_k=margin,
            margin_low_k=low,
            clearance_mm=row.fit.clearance_mm,
            fit_decided=row.fit.decided,
            price_cents=price,
            mass_g=mass,
            current_a=float(pump.current_a),
            charge_loss_pa=round(loss, 1),
            coolant_m3=liquid_m3,
            ids=(*(part for _, part in parts), *(zone for _, zone in row.zones)),
            missed=tuple(missed),
        )


def _mass_g(job: Job, bench: Bench, row: _Row, slot: str) -> int:
    """Dry mass of the part in a slot [g]; what is in the car already is not counted."""
    if job.fitted(slot) is not None:
        return 0
    part: Part = {
        "core": bench.cores[row.loop.core],
        "exchanger": bench.exchangers[row.loop.exchanger or 0]
        if row.loop.exchanger is not None
        else bench.pumps[0],
        "pump": bench.pumps[row.loop.pump],
        "reservoir": bench.reservoirs[row.loop.reservoir],
    }[slot]
    return round(float(part.mass_kg or 0.0) * 1000)


def _rated(bench: Bench, row: _Row) -> bool:
    """Whether every part of the loop states what it may work at."""
    parts: list[Core | Exchanger | Pump | Reservoir] = [
        bench.cores[row.loop.core],
        bench.pumps[row.loop.pump],
        bench.reservoirs[row.loop.reservoir],
    ]
    if row.loop.exchanger is not None:
        parts.append(bench.exchangers[row.loop.exchanger])
    sides = [part.coolant for part in parts] + [bench.cores[row.loop.core].charge]
    return all(side.rating.working_pa_gauge is not None for side in sides)
