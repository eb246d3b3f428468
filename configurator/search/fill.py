"""Skeletons filled with parts: every kit there is, predicted in columns, with what each one misses if it misses.

Nothing is cut here: each skeleton is filled with all its members and every loop is predicted. What comes back is
exact: all kits that keep every demand, and all that fit and join but miss the aim or a limit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np

from configurator.foundations.verdicts import Verdict
from configurator.parts.kinds import Cap, Core, Exchanger, Part, Pump, Reservoir
from configurator.parts.kit import Joint, Kit
from configurator.parts.layouts import kind_of_slot
from configurator.prediction.bench import Bench, Columns, Loop, make_bench, make_columns
from configurator.prediction.boil_margin import boil_margin_k
from configurator.prediction.predict import margins, predict
from configurator.prediction.report import low_margins
from configurator.search.charge_pipes import ChargePipes
from configurator.search.job import Job
from configurator.search.patience import UNHURRIED, Patience
from configurator.search.prices import Prices
from configurator.search.proof import Proof
from configurator.search.rows import Row, RowMaker
from configurator.search.sieve import Admissible
from configurator.search.skeleton import Skeleton
from configurator.search.zone_memo import Crowd

BATCH = 4000
"""Loops predicted at once: enough to fill the columns, few enough to stay in the processor's memory."""

Rigid = list[tuple[str, Core | Exchanger | Pump | Reservoir]]
"""Parts of a loop by slot."""

OF_COOLANT = ("coolant temperature", "coolant boils")
"""Demands on the coolant itself, which no limit of a brief sets."""


@dataclass(frozen=True)
class Candidate:
    """One kit with all that orders it. Figures are rounded here, once: 0.01 K, 0.5 mm, cents, grams.

    `excess`: by what share it breaks limits on price, mass, current and charge loss, added up.
    """

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
    boil_margin_k: float
    coolant_m3: float
    ids: tuple[str, ...]
    missed: tuple[str, ...]
    excess: float

    @property
    def choice(self) -> tuple[str | None, ...]:
        """The core + exchanger choice that the short list counts by; twins with how they lie."""
        core, exchanger = self.kit.part("core"), self.kit.part("exchanger")
        if self.kit.part("core-1") is None and self.kit.part("exchanger-1") is None:
            return core, exchanger
        return core or self.kit.part("core-1"), exchanger or self.kit.part("exchanger-1"), self.kit.layout


@dataclass(frozen=True)
class Filled:
    """All kits that keep every demand, all that miss some, what was counted, and which parts were ever in a kit.

    `crowds`: for parts that did not go in, the company in which they did not. `cut`: whether time ran out before all
    were looked at. `proof`: where only what could be among the best was looked at, what bounds the rest.
    """

    kept: tuple[Candidate, ...]
    missing: tuple[Candidate, ...]
    loops: int
    bench: Bench
    joined: frozenset[str]
    unjoined_charge: Mapping[str, Verdict]
    crowds: Mapping[str, Crowd]
    cut: bool = False
    proof: Proof | None = None


def fill(
    job: Job,
    admissible: Admissible,
    skeletons: Iterable[Iterable[Skeleton]],
    charge: ChargePipes,
    tell: Callable[[str], None] = lambda words: None,
    patience: Patience = UNHURRIED,
    *,
    bands: bool = True,
) -> Filled:
    """Fill every skeleton, predict every loop, and sort kits into those that keep all demands and those that miss.

    `skeletons`: those of the same loops together, so that each loop is looked at once, with all its caps. When
    `patience` is over, what is not yet looked at is left. Without `bands` no kit is told its low margin, which only
    the order looks at.
    """
    bench = make_bench(admissible.cores, admissible.exchangers, admissible.pumps, admissible.reservoirs)
    maker = RowMaker(job, admissible, charge)
    prices = Prices(job)
    kept: list[Candidate] = []
    missing: list[Candidate] = []
    loops, cut = 0, False
    for portion in patience.portions(skeletons):
        cut = loops > 0 and patience.over()
        if cut:
            break
        rows = maker.rows_of(chain.from_iterable(portion))
        for first in range(0, len(rows), BATCH):
            batch = rows[first : first + BATCH]
            tell(f"predicting loops {loops + 1} to {loops + len(batch)}")
            for candidate in predicted(job, bench, prices, batch, bands=bands):
                (missing if candidate.missed else kept).append(candidate)
            loops += len(batch)
    return Filled(tuple(kept), tuple(missing), loops, bench, maker.joined, maker.unjoined_charge, maker.crowds, cut)


def predicted(
    job: Job, bench: Bench, prices: Prices, rows: Sequence[Row], *, bands: bool = True
) -> Iterator[Candidate]:
    """The kits of rows, their loops predicted together: with what each misses, and without `bands` no low margin."""
    columns = make_columns(bench, [row.loop for row in rows])
    middle = predict(bench, columns, job.conditions, 0)
    margin = margins(middle, job.conditions)
    low = np.full(len(rows), np.nan)
    meets = np.flatnonzero(margin >= 0)
    if bands and len(meets):
        low_columns = make_columns(bench, [rows[int(index)].loop for index in meets])
        low[meets] = low_margins(bench, low_columns, job.conditions, margin[meets])
    loss = middle.full.core_loss_pa + middle.full.before_loss_pa + middle.full.after_loss_pa
    liquid = coolant_m3(columns)
    if job.conditions.ice is not None:
        liquid = liquid - job.conditions.ice.displaced_m3
    for index, row in enumerate(rows):
        told = (margin[index], low[index], loss[index], liquid[index], middle.coolant_worst_k[index])
        yield from _with_caps(job, bench, prices, row, *(float(figure) for figure in told))


def coolant_m3(columns: Columns) -> np.ndarray:
    """Liquid that each loop holds: reservoir, pump, cores, exchangers and hoses [m3]."""
    held = columns.reservoir_m3 + columns.pump_m3 + columns.run_m3.sum(axis=1) + columns.standing_m3
    held = held + columns.count_of("core") * columns.core.liquid_m3
    if columns.exchanger is not None:
        held = held + columns.count_of("exchanger") * columns.exchanger.liquid_m3
    return np.asarray(held)


def _with_caps(
    job: Job,
    bench: Bench,
    prices: Prices,
    row: Row,
    margin: float,
    low: float,
    loss: float,
    liquid_m3: float,
    coolant_k: float,
) -> Iterator[Candidate]:
    """The kits of one row: its loop with each cap that suits it."""
    pump, rigid = bench.pumps[row.loop.pump], _rigid(bench, row)
    cents = sum(prices.part(part) for _, part in row.parts)
    cents += prices.joints(row.joints) + prices.wiring(pump) + prices.coolant(liquid_m3 * 1e3)
    added = row.add_on
    cents += sum(prices.part(part.id) for _, part in added.parts)
    cents += 0 if added.fan is None else prices.wiring(added.fan)
    grams = sum(part.mass_g for slot, part in rigid if job.fitted(kind_of_slot(slot)) is None)
    grams += round(sum(joint.mass_kg for joint in row.joints) * 1000)
    grams += sum(part.mass_g for slot, part in added.parts if job.fitted(slot) is None)
    grams += prices.wiring_g(pump) + (0 if added.fan is None else prices.wiring_g(added.fan))
    current = float(pump.current_a) + added.current_a
    proven = row.fit.decided and _rated(bench, row, rigid)
    always = _missed_by_loop(job, current, margin, loss)
    stands_k = _stands_k(row, rigid)
    for cap in row.caps:
        price = cents + (0 if cap is None else prices.part(cap.id))
        mass = grams + (0 if cap is None or job.fitted("cap") is not None else cap.mass_g)
        parts = row.parts if cap is None else (*row.parts, ("cap", cap.id))
        parts = (*parts, *((slot, part.id) for slot, part in added.parts))
        opens = float(cap.opens_pa_gauge) if isinstance(cap, Cap) else 0.0
        boil_margin = boil_margin_k(job.conditions, opens, coolant_k)
        missed = (*always, *_too_hot(coolant_k, stands_k, cap, boil_margin), *_missed_by_sums(job, price, mass))
        yield Candidate(
            kit=Kit(job.layout.id, parts, row.zones),
            loop=row.loop,
            joints=row.joints,
            proven=proven and (not isinstance(cap, Cap) or cap.coolant.rating.working_pa_gauge is not None),
            margin_k=margin,
            margin_low_k=low,
            clearance_mm=row.fit.clearance_mm,
            fit_decided=row.fit.decided,
            price_cents=price,
            mass_g=mass,
            current_a=current,
            charge_loss_pa=round(loss, 1),
            boil_margin_k=boil_margin,
            coolant_m3=liquid_m3,
            ids=(*(part for _, part in parts), *(zone for _, zone in row.zones)),
            missed=missed,
            excess=_excess(job, missed, price=price / 100, mass=mass / 1000, current=current, loss=loss),
        )


def _missed_by_loop(job: Job, draws_a: float, margin: float, loss: float) -> tuple[str, ...]:
    """The demands a loop misses whichever cap it has."""
    return (
        *(("aim",) if margin < 0 else ()),
        *(("current",) if job.brief.limits.too_hungry(draws_a) else ()),
        *(("charge loss",) if job.brief.aim.loses_too_much(loss) else ()),
    )


def _excess(job: Job, missed: Iterable[str], *, price: float, mass: float, current: float, loss: float) -> float:
    """By what share a kit breaks limits, added up."""
    limits, most_loss = job.brief.limits, job.brief.aim.charge_loss_pa
    over = {
        "price": (price, limits.price),
        "mass": (mass, limits.mass_dry_kg),
        "current": (current, limits.current_a),
        "charge loss": (loss, most_loss),
    }
    return sum(found / limit - 1 for found, limit in (over[code] for code in missed if code in over) if limit)


def limits_missed(job: Job, kit: Candidate) -> tuple[str, ...]:
    """The demands of a job's brief that a kit misses, found in a search with other limits."""
    hot = tuple(code for code in kit.missed if code in OF_COOLANT)
    always = _missed_by_loop(job, kit.current_a, kit.margin_k, kit.charge_loss_pa)
    return (*always, *hot, *_missed_by_sums(job, kit.price_cents, kit.mass_g))


def _stands_k(row: Row, rigid: Rigid) -> float:
    """The hottest coolant that every part and joint of a row stands [K]; what states none does not count."""
    parts = [part.coolant.hottest_k for _, part in rigid]
    pieces = [m.hottest_k for joint in row.joints if joint.medium == "coolant" for m in joint.members]
    return min((float(limit) for limit in (*parts, *pieces) if limit is not None), default=math.inf)


def _too_hot(coolant_k: float, stands_k: float, cap: Part | None, boil_margin: float) -> tuple[str, ...]:
    """Coolant hotter than a part of the loop or its cap stands, or than it boils at."""
    limit = cap.coolant.hottest_k if isinstance(cap, Cap) else None
    return (
        *(("coolant temperature",) if coolant_k > min(stands_k, math.inf if limit is None else limit) else ()),
        *(("coolant boils",) if boil_margin < 0 else ()),
    )


def _missed_by_sums(job: Job, price_cents: int, mass_g: int) -> tuple[str, ...]:
    """The limits on the whole kit that its price and dry mass miss."""
    limits = job.brief.limits
    return (
        *(("price",) if limits.too_dear(price_cents) else ()),
        *(("mass",) if limits.too_heavy(mass_g) else ()),
    )


def _rigid(bench: Bench, row: Row) -> Rigid:
    """The rigid parts of a row, by slot."""
    loop = row.loop
    of_kind: dict[str, Core | Exchanger | Pump | Reservoir] = {
        "core": bench.cores[loop.core],
        "pump": bench.pumps[loop.pump],
        "reservoir": bench.reservoirs[loop.reservoir],
    }
    exchanger = next((part for slot, part in row.parts if kind_of_slot(slot) == "exchanger"), None)
    if exchanger is not None:
        of_kind["exchanger"] = next(part for part in bench.exchangers if part.id == exchanger)
    return [(slot, of_kind[kind_of_slot(slot)]) for slot, _ in row.parts]


def _rated(bench: Bench, row: Row, rigid: Rigid) -> bool:
    """Whether every part and every piece of a joint states what it may work at."""
    sides = [part.coolant for _, part in rigid] + [bench.cores[row.loop.core].charge]
    pieces = [member.working_pa_gauge for joint in row.joints for member in joint.members]
    return None not in pieces and all(side.rating.working_pa_gauge is not None for side in sides)
