"""Ends, runs and charge joints, judged again: same thread and size, hose and coupler on held pipes, by trying all.

The order that a run promises: proven, fewest pieces, least loss at 20 L/min of a liquid like water (to 1 Pa),
price, ids; of a tight one: proven, least straight room before both its ends (to 1 mm), then the same. The order of a
coupler: proven, least loss, price, id. Common practice, no source: 30 mm of hose sit straight on a spigot.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Clamp, Hose, Wye
from configurator.physics.pipe_flow import bend_factor, contraction_factor, expansion_factor
from configurator.standards.hose_classes import HOSE_CLASSES
from configurator.standards.threads import bore_of
from tests.oracles.plain_heat import Pipe
from tests.oracles.plain_surfaces import Water

STUB_M = 0.10
STRAIGHT_M = 0.03
USUAL_WALL_M = 4.5e-3
HOTTEST_K = 373.15
LIKE_WATER = Water(1000.0, 4180.0, 1e-3, 0.6, 1000.0)
THREADS = {"orb", "flare37", "npt", "g", "metric"}


Ahead = tuple[float, float]
"""How deep and how wide the straight room before an end is [m]."""


def screw(a: End, b: End) -> bool:
    """Whether two threads are made for each other."""
    return a.form == b.form and a.form in THREADS and a.size == b.size and {a.sex, b.sex} == {"male", "female"}


def sits(spigot: End, bore_m: float, most: float) -> bool:
    """Whether a sleeve of a bore suits a spigot by size: at most 2 % loose, and not too tight."""
    return spigot.form == "spigot" and 0.98 <= round((spigot.size_m or 0.0) / bore_m, 6) <= most


def _area(bore: float) -> float:
    return math.pi / 4 * bore**2


def _step(before: float, after: float) -> float:
    small, large = min(before, after), max(before, after)
    factor = contraction_factor if after < before else expansion_factor
    return float(factor((small / large) ** 2)) / _area(small) ** 2


def _bend(bore: float) -> float:
    return float(bend_factor(bore, 1.5)) / _area(bore) ** 2


def _bore(end: End) -> float:
    if end.bore_m is not None:
        return float(end.bore_m)
    size = end.size_m or 0.0
    return bore_of(end.form, end.size) or (max(size - 3.5e-3, size / 2) if end.form == "spigot" else size)


def _rating(part: Hose | Adapter) -> float | None:
    if isinstance(part, Hose):
        return None if part.working_pa_gauge is None else float(part.working_pa_gauge)
    return part.through.rating.working_pa_gauge


def _range(part: Hose | Adapter) -> tuple[float, float]:
    if isinstance(part, Hose):
        known = HOSE_CLASSES[part.hose_class.split()[0]]
        return max(float(part.coldest_k), known.coldest_k), min(float(part.hottest_k), known.hottest_k)
    cold, hot = part.through.coldest_k, part.through.hottest_k
    return -math.inf if cold is None else float(cold), math.inf if hot is None else float(hot)


@dataclass(frozen=True)
class Side:
    """One side of a run: what stands between a part's end and the hose."""

    adapter: Adapter | None
    stub: Hose | None
    clamps: tuple[Clamp, ...]
    fittings: tuple[float, ...]
    bores: tuple[float, ...]

    @property
    def pieces(self) -> tuple[Adapter | Hose, ...]:
        return tuple(piece for piece in (self.adapter, self.stub) if piece is not None)

    def loss(self, *, leaving: bool) -> float:
        """K / A² of its steps in the way of the flow, and of one bend, which an elbow takes the place of."""
        bores = self.bores if leaving else self.bores[::-1]
        steps = sum(_step(a, b) for a, b in pairwise(bores))
        if self.adapter is None:
            return steps + _bend(self.bores[-1])
        own, area = self.adapter.loss_factor, _area(self.fittings[-1])
        if self.adapter.shape == "elbow":
            return steps + (1.3 if own is None else own) / area**2
        return steps + _bend(self.bores[-1]) + (own or 0.0) / area**2


    def ahead(self, hose: Hose) -> Ahead:
        """Stub and adapter lie straight, then the hose's grip and its bend to the outside; an elbow turns half way."""
        wide = float(hose.bore_m) + 2 * float(hose.wall_m)
        stub = 0.0 if self.stub is None else STUB_M
        long = 0.0 if self.adapter is None else float(self.adapter.length_m)
        if self.adapter is not None and self.adapter.shape == "elbow":
            return stub + (long + wide) / 2, wide
        return stub + long + STRAIGHT_M + float(hose.bend_radius_m) + wide, wide


@dataclass(frozen=True)
class Run:
    """A run, or all that joins the charge before or after a core: what is bought for it, and what the flow sees.

    `ahead`: the straight room that it takes before its first end and before its last.
    """

    adapters: tuple[Adapter | Wye, ...]
    hose: tuple[Hose, float] | None
    stubs: tuple[Hose, ...]
    clamps: tuple[Clamp, ...]
    steps: float
    pipe: Pipe | None
    proven: bool
    ahead: tuple[Ahead, Ahead]

    @property
    def hottest_k(self) -> float:
        """The hottest coolant that all its pieces stand."""
        hose = () if self.hose is None else (self.hose[0],)
        return min(_range(piece)[1] for piece in (*hose, *self.stubs, *self.adapters))

    @property
    def mass_kg(self) -> float:
        hose = 0.0 if self.hose is None else float(self.hose[0].mass_kg or 0.0) * self.hose[1]
        rest = sum(float(piece.mass_kg or 0.0) for piece in (*self.adapters, *self.clamps))
        return hose + rest + sum(float(stub.mass_kg or 0.0) * STUB_M for stub in self.stubs)


    def with_more(self, steps: float) -> Run:
        """The same with more K / A²."""
        assert self.pipe is not None
        return replace(self, pipe=replace(self.pipe, steps=self.pipe.steps + steps))


def mouth(end: End) -> float:
    """1 / A² of an end's bore."""
    return 1 / _area(_bore(end)) ** 2


@dataclass(frozen=True)
class Small:
    """The small parts of a shelf that a brief lets in."""

    hoses: tuple[Hose, ...]
    adapters: tuple[Adapter, ...]
    clamps: tuple[Clamp, ...]
    wyes: tuple[Wye, ...] = ()

    def clamp(self, medium: str, od_m: float, styles: Iterable[str] | None = None) -> Clamp | None:
        """The cheapest clamp that closes on an outside diameter."""
        fit = [
            c
            for c in self.clamps
            if medium in c.media and c.least_m <= round(od_m, 6) <= c.most_m and (styles is None or c.style in styles)
        ]
        return min(fit, key=lambda c: (c.price_cents, c.id), default=None)

    def sides(self, end: End, hose: Hose) -> Iterator[Side]:
        """Every way of an end into a hose."""
        held = end.form == "spigot" and (end.bead or end.barb)
        if held and sits(end, float(hose.bore_m), 1.06):
            yield from self._side(end, hose, None, None, [(end, hose)])
        for adapter in self.adapters:
            if adapter.medium != "coolant":
                continue
            a, b = adapter.through.ends
            for near, far in ((a, b), (b, a)):
                if not (far.form == "spigot" and (far.bead or far.barb) and sits(far, float(hose.bore_m), 1.06)):
                    continue
                if screw(end, near):
                    yield from self._side(end, hose, adapter, None, [(far, hose)])
                elif held and near.form == "spigot" and (near.bead or near.barb):
                    for stub in self.hoses:
                        if sits(end, float(stub.bore_m), 1.06) and sits(near, float(stub.bore_m), 1.06):
                            yield from self._side(end, hose, adapter, stub, [(end, stub), (near, stub), (far, hose)])

    def _side(self, end, hose, adapter, stub, sleeves) -> Iterator[Side]:
        clamps = [self.clamp("coolant", (s.size_m or 0.0) + 2 * float(on.wall_m)) for s, on in sleeves]
        if any(clamp is None for clamp in clamps):
            return
        fittings = [_bore(end)]
        if adapter is not None:
            own = adapter.through.bore_m
            fittings.append(float(own) if own is not None else min(_bore(e) for e in adapter.through.ends))
        bores = fittings if stub is None else [fittings[0], float(stub.bore_m), fittings[1]]
        yield Side(adapter, stub, tuple(clamps), tuple(fittings), (*bores, float(hose.bore_m)))

    def runs(
        self, out: End, into: End, length: float, design: float, coldest: float, suction: bool
    ) -> tuple[Run, Run] | None:
        """The best run between two ends, and the one for a cramped bay; None where there is none."""
        best: tuple[tuple[object, ...], Run] | None = None
        tight: tuple[tuple[object, ...], Run] | None = None
        for hose in self.hoses:
            if "coolant" not in hose.media:
                continue
            for first in self.sides(out, hose):
                for second in self.sides(into, hose):
                    found = _judged(hose, first, second, length, design, coldest, suction)
                    if found is None:
                        continue
                    if best is None or found[0] < best[0]:
                        best = found
                    (unproven, *rest), run = found
                    straight = round(1000 * (run.ahead[0][0] + run.ahead[1][0]))
                    if tight is None or (unproven, straight, *rest) < tight[0]:
                        tight = (unproven, straight, *rest), run
        return None if best is None or tight is None else (best[1], tight[1])

    def coupler(self, start: End, finish: End, hot: float, design: float, boost: float) -> Run | None:
        """The best coupler between two charge pipes; None where there is none."""
        found: list[tuple[tuple[object, ...], Run]] = []
        styles = ("T-bolt",) if boost >= 1.0e5 else None
        for adapter in self.adapters:
            if adapter.medium != "charge":
                continue
            a, b = adapter.through.ends
            ways = ((a, b), (b, a))
            if not any(_slips(near, start, boost) and _slips(far, finish, boost) for near, far in ways):
                continue
            rated, (_, stands) = _rating(adapter), _range(adapter)
            rated = None if rated is None else round(rated * _left_of_silicone(hot), 1)
            if hot > 448.15 and not adapter.lined:
                continue
            wall = USUAL_WALL_M if adapter.wall_m is None else float(adapter.wall_m)
            clamps = [self.clamp("charge", (e.size_m or 0.0) + 2 * wall, styles) for e in (start, finish)]
            if stands < hot or (rated is not None and rated < design) or None in clamps:
                continue
            bores = [float(e.bore_m) if e.bore_m is not None else (e.size_m or 0.0) - 3e-3 for e in (start, finish)]
            narrow, turn = min(bores), 0.0
            if adapter.loss_factor is not None:
                turn = adapter.loss_factor / _area(narrow) ** 2
            elif adapter.shape == "elbow":
                turn = _bend(narrow)
            steps = _step(*bores) + turn
            price = adapter.price_cents + sum(clamp.price_cents for clamp in clamps)
            unproven = rated is None or math.isinf(stands)
            wide = max(e.size_m or 0.0 for e in (a, b)) + 2 * wall
            long = float(adapter.length_m)
            ahead = ((long + wide) / 2 if adapter.shape == "elbow" else long + wide, wide)
            run = Run((adapter,), None, (), tuple(clamps), steps, None, rated is not None, (ahead, ahead))
            found.append(((unproven, round(steps), price, adapter.id), run))
        return min(found, key=lambda pair: pair[0])[1] if found else None

    def gathered(self, outlet: End, finish: End, hot: float, design: float, boost: float) -> Run | None:
        """Two outlets alike to one pipe: the best wye with a coupler on each of its three ends; None for none.

        Half of the charge goes through each branch, so its steps count a quarter, and once for the two.
        """
        found: list[tuple[tuple[object, ...], Run]] = []
        for wye in self.wyes:
            rated, stands = wye.through.rating.working_pa_gauge, wye.through.hottest_k
            if (stands is not None and stands < hot) or (rated is not None and rated < design):
                continue
            stem = next(end for end in wye.through.ends if end.name == "stem")
            into = [end for end in wye.through.ends if end.name != "stem"]
            made = [self.coupler(outlet, end, hot, design, boost) for end in into]
            made.append(self.coupler(stem, finish, hot, design, boost))
            joints = [joint for joint in made if joint is not None]
            if len(joints) < 3:
                continue
            bore = float(stem.bore_m) if stem.bore_m is not None else (stem.size_m or 0.0) - 3e-3
            steps = joints[2].steps + wye.loss_factor / _area(bore) ** 2 + joints[0].steps / 4
            pieces = [wye, *(piece for joint in joints for piece in joint.adapters)]
            clamps = tuple(clamp for joint in joints for clamp in joint.clamps)
            known = [piece.through for piece in pieces]
            unproven = any(p.rating.working_pa_gauge is None or p.hottest_k is None for p in known)
            sure = all(p.rating.working_pa_gauge for p in known)
            run = Run(tuple(pieces), None, (), clamps, steps, None, sure, joints[2].ahead)
            price = sum(part.price_cents for part in (*pieces, *clamps))
            found.append(((unproven, round(steps), price, wye.id), run))
        return min(found, key=lambda pair: pair[0])[1] if found else None


def _left_of_silicone(hot: float) -> float:
    """All of it up to 23 degC, 0.7 at 150 degC, 0.6 at 175 degC, and on as straight lines."""
    if hot <= 423.15:
        return 1.0 - 0.3 * max(hot - 296.15, 0.0) / 127.0
    return max(0.7 - 0.1 * (hot - 423.15) / 25.0, 0.0)


def _slips(sleeve: End, pipe: End, boost: float) -> bool:
    held = pipe.bead or pipe.barb or boost <= 0.5e5
    return sleeve.form == "coupler" and held and sits(pipe, sleeve.size_m or 1.0, 1.03)


def _judged(hose, first: Side, second: Side, length, design, coldest, suction) -> tuple[tuple[object, ...], Run] | None:
    pieces = (hose, *first.pieces, *second.pieces)
    if any(_range(p)[0] > coldest or _range(p)[1] < HOTTEST_K for p in pieces):
        return None
    if suction and any(isinstance(p, Hose) and float(p.bore_m) > 19.1e-3 and p.vacuum is not True for p in pieces):
        return None  # sucked flat
    ratings = [_rating(p) for p in pieces]
    if any(rated is not None and rated < design for rated in ratings):
        return None
    bores = (*first.fittings, *second.fittings[::-1])
    if suction and any(round((min(a, b) / max(a, b)) ** 2, 6) < 0.80 for a, b in pairwise(bores)):
        return None
    steps = first.loss(leaving=True) + second.loss(leaving=False)
    stubs = tuple(side.stub for side in (first, second) if side.stub is not None)
    adapters = tuple(side.adapter for side in (first, second) if side.adapter is not None)
    clamps = (*first.clamps, *second.clamps)
    bore = float(hose.bore_m)
    rough = 1e-5 if hose.roughness_m is None else float(hose.roughness_m)
    held = _area(bore) * length + sum(_area(float(stub.bore_m)) * STUB_M for stub in stubs)
    hose_kg = float(hose.mass_kg or 0.0) * length + sum(float(stub.mass_kg or 0.0) * STUB_M for stub in stubs)
    pipe = Pipe(length, bore, rough, steps, held, hose_kg)
    price = round(hose.price_cents * length) + sum(p.price_cents for p in (*adapters, *clamps))
    price += sum(round(stub.price_cents * STUB_M) for stub in stubs)
    ids = (tuple(p.id for p in first.pieces), hose.id, tuple(p.id for p in second.pieces))
    loss = round(pipe.loss(20e-3 / 60, LIKE_WATER))
    key = (None in ratings, len(pieces) - 1, loss, price, *ids)
    ahead = (first.ahead(hose), second.ahead(hose))
    return key, Run(adapters, (hose, length), stubs, clamps, steps, pipe, None not in ratings, ahead)
