"""The honest judge: every combination of a small shelf, one kit at a time, by rules written a second time.

It shares with the program only the models, the tables of standards and single formulas of physics. A shelf's
kits are all that keep every demand of the brief, in the order in which they are offered.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import product

from configurator.foundations.coolants import Coolant
from configurator.parts.ends import End
from configurator.parts.kinds import (
    Adapter,
    Cap,
    Clamp,
    Core,
    Exchanger,
    Hose,
    Part,
    Pump,
    Reservoir,
    Wye,
)
from tests.oracles.plain_air import air_of
from tests.oracles.plain_bill import Bill
from tests.oracles.plain_boiling import boils_k
from tests.oracles.plain_conditions import Asked, asked_of, coolant_of
from tests.oracles.plain_heat import Loop, Thermal, charge, predict
from tests.oracles.plain_joints import Run, Small, mouth
from tests.oracles.plain_kit import PlainKit, breaks, place_in_order
from tests.oracles.plain_surfaces import core_matrix, exchanger_matrix
from tests.oracles.plain_zones import Ask, Placed, column_metres, end_of, hose_metres, place
from tests.oracles.shelves import Shelf

KINDS = {"reservoir": Reservoir, "pump": Pump, "core": Core, "exchanger": Exchanger, "cap": Cap}
FITTED = "in the car already"


def every_kit(shelf: Shelf, out: Counter[str] | None = None) -> list[PlainKit]:
    """All kits of a shelf that keep every demand, best first. `out` counts why kits do not go in."""
    coolant = coolant_of(shelf.brief)
    if coolant is None:
        return []
    judge = _Judge(shelf, coolant)
    kits = [kit for kit in judge.kits() if not math.isnan(kit.margin_low_k)]
    if out is not None:
        out.update(found.why for found in judge.out)
    enough = judge.asked.enough_k
    return sorted(kits, key=lambda kit: place_in_order(kit, enough))


class Tried:
    """Every kit of a shelf that joins, holds and fits, whatever limits its brief sets, with its figures.

    An aim decides which coupler stands the charge behind a core, so kits are made anew where the couplers change.
    """

    def __init__(self, shelf: Shelf) -> None:
        coolant = coolant_of(shelf.brief)
        self._judge = None if coolant is None else _Judge(shelf, coolant)
        self._made: dict[object, tuple[PlainKit, ...]] = {}

    def at(self, ceiling_k: float) -> tuple[PlainKit, ...]:
        """The kits where the charge behind the core may be so warm; their margins are not told."""
        judge = self._judge
        if judge is None:
            return ()
        couplers = judge.couplers_at(ceiling_k)
        if couplers not in self._made:
            self._made[couplers] = tuple(judge.kits(all_figures=False))
        return self._made[couplers]


class _Judge:
    def __init__(self, shelf: Shelf, coolant: Coolant) -> None:
        self.shelf, self.brief, self.coolant = shelf, shelf.brief, coolant
        self.asked: Asked = asked_of(shelf.brief, shelf.driving, shelf.tables, coolant)
        self.own = {own.part.id for own in shelf.own}
        self.fitted = {own.part.kind: own.part for own in shelf.own if own.fitted}
        small = {kind: tuple(self._wanted(kind)) for kind in (Hose, Adapter, Clamp, Wye)}
        self.small = Small(small[Hose], small[Adapter], small[Clamp], small[Wye])
        self.column = column_metres(shelf.brief.bay, {*self.fitted, *shelf.brief.without})
        self.thermals: dict[object, Thermal] = {}
        self.runs: dict[object, tuple[Run, Run] | None] = {}
        self.fits: dict[object, Placed] = {}
        self.out: list[Placed] = []
        self._matrix = lru_cache(maxsize=None)(
            lambda part: core_matrix(part) if part.kind == "core" else exchanger_matrix(part)
        )
        self.bill = Bill(shelf, coolant, self._matrix)
        self._around = lru_cache(maxsize=None)(self._joined_to_engine)
        self._hot = lru_cache(maxsize=None)(lambda core: charge(self.asked, 1.0, self._matrix(core), (0.0, 0.0), 0)[0])

    def couplers_at(self, ceiling_k: float) -> tuple[object, ...]:
        """Aim there from now on; which pieces then join each core to the engine."""
        self.asked = replace(self.asked, ceiling_k=ceiling_k)
        self._around = lru_cache(maxsize=None)(self._joined_to_engine)
        return tuple(
            None if around is None else tuple(run and (run.steps, *(a.id for a in run.adapters)) for run in around)
            for around in map(self._around, self._offered("core"))
        )

    def kits(self, *, all_figures: bool = True) -> Iterator[PlainKit]:
        """Every kit; with all figures, those that keep every demand are told their low margin too."""
        for parts, zones in self.combinations():
            kit = self.kit(parts, zones, all_figures)
            if kit is not None:
                yield kit

    def _wanted(self, kind: type[Part]) -> Iterator[Part]:
        for part in self.shelf.catalogue.of(kind):
            if {part.id, part.kind}.isdisjoint(self.brief.without) and not (self.brief.in_stock and part.stock == 0):
                yield part

    def _offered(self, slot: str) -> list[Part]:
        """The fitted part alone, else what the customer has and what the shelf holds; never what is not wanted."""
        own = [o.part for o in self.shelf.own if isinstance(o.part, KINDS[slot])]
        parts = {part.id: part for part in (*self.shelf.catalogue.of(KINDS[slot]), *own)}
        if slot in self.fitted:
            parts = {self.fitted[slot].id: self.fitted[slot]}
        wanted = [p for p in parts.values() if {p.id, slot}.isdisjoint(self.brief.without)]
        return [p for p in wanted if not (self.brief.in_stock and p.stock == 0 and p.id not in self.own)]

    def combinations(self) -> Iterator[tuple[dict[str, Part], dict[str, str]]]:
        """Every choice of a part for each slot and of a zone for each rigid part."""
        slots = ["reservoir", "pump", "core"] + ([] if "exchanger" in self.brief.without else ["exchanger"])
        for chosen in product(*(self._offered(slot) for slot in slots), self._caps()):
            parts = {s: p for s, p in zip([*slots, "cap"], chosen, strict=True) if p is not None}
            if self._alone(parts) and self._holds(parts):
                for zones in product(*(self._zones(slot) for slot in slots)):
                    yield parts, dict(zip(slots, zones, strict=True))

    def _caps(self) -> list[Part | None]:
        return [*([] if "cap" in self.fitted else [None]), *self._offered("cap")]

    def _zones(self, slot: str) -> list[str]:
        if slot in self.fitted:
            return [FITTED]
        bay = self.brief.bay
        return ["unmeasured"] if bay is None else [n for n, z in bay.zones.items() if slot in z.takes]

    def _alone(self, parts: dict[str, Part]) -> bool:
        """The charge side of the core holds pressure and heat; no part bans the coolant."""
        core = parts["core"]
        rated, hottest = core.charge.rating.working_pa_gauge, core.charge.hottest_k
        sound = (rated is None or rated >= self._charge_design()) and (hottest is None or hottest >= self._hot(core))
        return sound and all(self.coolant.kind not in part.coolant.bans for part in parts.values())

    def _charge_design(self) -> float:
        return max(1.25 * self.asked.boost, self.asked.boost + 0.3e5)

    def _design(self, parts: dict[str, Part], slot: str) -> float:
        """1.1 times the cap, the dead head behind the pump, the highest column of liquid."""
        cap = 0.0 if "cap" not in parts else float(parts["cap"].opens_pa_gauge)
        pumped = 0.0 if slot in ("reservoir", "cap") else float(parts["pump"].curve[0].head_pa)
        return 1.1 * cap + pumped + (0.0 if slot == "cap" else 1e4 * self.column)

    def _holds(self, parts: dict[str, Part]) -> bool:
        """Every rating of the loop, and the cap on its neck."""
        for slot, part in parts.items():
            rated = part.coolant.rating.working_pa_gauge
            if rated is not None and rated < self._design(parts, slot):
                return False
        reservoir, cap = parts["reservoir"], parts.get("cap")
        if cap is None:
            return bool(reservoir.vented) and all(end.form != "neck" for end in reservoir.coolant.ends)
        pairs = product(reservoir.coolant.ends, cap.coolant.ends)
        if not any(a.form == b.form == "neck" and a.size == b.size and a.sex != b.sex for a, b in pairs):
            return False
        opens, rated = float(cap.opens_pa_gauge), reservoir.coolant.rating.working_pa_gauge
        return opens == 0.0 if reservoir.vented else rated is None or opens <= rated

    def _stands_k(self, parts: dict[str, Part], runs: list[Run]) -> float:
        """The hottest coolant that all parts and pieces of the loop stand."""
        stated = [part.coolant.hottest_k for part in parts.values()]
        return min([float(k) for k in (*stated, *(run.hottest_k for run in runs)) if k is not None], default=math.inf)

    def kit(self, parts: dict[str, Part], zones: dict[str, str], all_figures: bool) -> PlainKit | None:
        """The kit, if it joins, holds and fits."""
        pairs = self._runs(parts, zones)
        around = None if pairs is None else self._around(parts["core"])
        if pairs is None or around is None:
            return None
        room, runs = self._placed(parts, zones, pairs, around)
        if room is None:
            return None
        middle = self._thermal(parts, zones, runs, around, 0)
        margin = round(self.asked.ceiling_k - middle.worst_k, 2)
        pump = parts["pump"]
        joints = [*runs, *(joint for joint in around if joint is not None)]
        price, mass = self.bill.price(parts, joints), self.bill.mass(parts, joints)
        cap = 0.0 if "cap" not in parts else float(parts["cap"].opens_pa_gauge)
        to_boiling = boils_k(self.coolant, self.asked.ambient_pa + cap) - middle.coolant_k
        if middle.coolant_k > self._stands_k(parts, runs) or round(to_boiling, 2) < 0:
            return None
        passages = [part.coolant for part in parts.values()] + [parts["core"].charge]
        stated = all(passage.rating.working_pa_gauge is not None for passage in passages)
        kit = PlainKit(
            parts=tuple((slot, part.id) for slot, part in parts.items()),
            zones=tuple((s, z) for s, z in sorted(zones.items()) if self.brief.bay is not None and z != FITTED),
            proven=self.brief.bay is not None and stated and all(joint.proven for joint in joints),
            margin_k=margin,
            margin_low_k=math.nan,
            boil_margin_k=to_boiling,
            clearance_mm=room,
            price_cents=price,
            mass_g=mass,
            flow=middle.flow,
            adapters=sum(len(run.adapters) for run in runs),
            charge_loss=middle.charge_loss + self.asked.pipe_loss,
            core_and_couplers=middle.charge_loss,
            worst_k=middle.worst_k,
            current_a=float(pump.current_a),
            tight=runs != [best for best, _ in pairs],
        )
        if not all_figures or breaks(kit, self.brief):
            return kit
        ends = [self._thermal(parts, zones, runs, around, end).worst_k for end in (-1, +1)]
        return replace(kit, margin_low_k=round(self.asked.ceiling_k - max(kit.worst_k, *ends), 2))

    def _placed(self, parts, zones, pairs, around) -> tuple[float | None, list[Run]]:
        """The clearance and the runs: the best ones, or else tight ones to and from each zone that is too full."""
        best = [run for run, _ in pairs]
        if self.brief.bay is None:
            return 0.0, best
        found = self._fit(parts, zones, best, around)
        if found.clearance is not None:
            return found.clearance, best
        slots = [slot for slot in parts if slot != "cap"]
        steps = zip(slots, [*slots[1:], slots[0]], strict=True)
        touched = [not found.full.isdisjoint((zones[one], zones[other])) for one, other in steps]
        runs = [tight if touches else run for (run, tight), touches in zip(pairs, touched, strict=True)]
        found = self._fit(parts, zones, runs, around)
        if found.clearance is None:
            self.out.append(found)
        return found.clearance, runs

    def _fit(self, parts, zones, runs, around) -> Placed:
        """Place a kit with these runs; what each joint asks for before its ends is known by its two slots."""
        slots = [slot for slot in parts if slot != "cap"]
        asks: dict[str, list[Ask]] = {slot: [] for slot in slots}
        for one, other, run in zip(slots, [*slots[1:], slots[0]], runs, strict=True):
            asks[one].append(Ask(end_of(parts[one].coolant, "out"), *run.ahead[0], f"{one} to {other}"))
            asks[other].append(Ask(end_of(parts[other].coolant, "in"), *run.ahead[1], f"{one} to {other}"))
        for role, joint in zip(("in", "out"), around, strict=True):
            if joint is not None:
                asks["core"].append(Ask(end_of(parts["core"].charge, role), *joint.ahead[0], f"charge {role}"))
        key = (*((parts[slot].id, zones[slot]) for slot in slots), *(run and run.ahead for run in (*runs, *around)))
        if key not in self.fits:
            self.fits[key] = place(self.brief.bay, parts, zones, asks)
        return self.fits[key]

    def _runs(self, parts: dict[str, Part], zones: dict[str, str]) -> list[tuple[Run, Run]] | None:
        """Each run of the loop: the best, and the tight one."""
        slots = [slot for slot in parts if slot != "cap"]
        night, day = self.brief.site.coldest_k, float(self.brief.site.air_k)
        found = []
        for slot, following in zip(slots, [*slots[1:], slots[0]], strict=True):
            out, into = end_of(parts[slot].coolant, "out"), end_of(parts[following].coolant, "in")
            asked = (
                out,
                into,
                hose_metres(self.brief.bay, zones[slot], zones[following]),
                self._design(parts, slot),
                min(day, 253.15 if night is None else float(night)),
                slot == "reservoir",
            )
            if asked not in self.runs:
                self.runs[asked] = self.small.runs(*asked)
            run = self.runs[asked]
            if run is None:
                return None
            # half a speed's head is lost out of a tank, all of it into one
            mouths = 0.5 * mouth(out) * (slot == "reservoir") + mouth(into) * (following == "reservoir")
            found.append(tuple(one.with_more(mouths) for one in run))
        return found

    def _joined_to_engine(self, core: Core) -> tuple[Run | None, Run | None] | None:
        """Couplers before and behind the core, two outlets through a wye; None in a place that needs none.

        None for all where one is missing.
        """
        if "core" in self.fitted:
            return (None, None)
        engine = self.brief.engine
        inlet, outlet = end_of(core.charge, "in"), end_of(core.charge, "out")
        found: list[Run | None] = []
        for bore, end, hottest, first in (
            (engine.charger_outlet_m, inlet, math.ceil(self._hot(core) / 5 - 1e-12) * 5.0, True),
            (engine.throttle_m, outlet, self.asked.ceiling_k, False),
        ):
            if bore is None:
                found.append(None)
                continue
            pipe = End.model_validate(
                {"name": "pipe", "form": "spigot", "size": f"{float(bore) * 1000:g} mm", "bead": True}
            )
            pair = (pipe, end) if first else (end, pipe)
            two = first and engine.charger_outlets == 2
            make = self.small.gathered if two else self.small.coupler
            joint = make(*pair, hottest, self._charge_design(), self.asked.boost)
            if joint is None:
                return None
            found.append(joint)
        return found[0], found[1]

    def _thermal(self, parts, zones, runs, around, end: int) -> Thermal:
        """At the stated figures (0), or with every conductance low and every loss high (-1). Caps are not asked."""
        air = air_of(self.brief.bay, zones.get("exchanger", ""))
        steps = tuple(0.0 if joint is None else joint.steps for joint in around)
        pipes = tuple(run.pipe for run in runs)
        key = (*(part.id for slot, part in parts.items() if slot != "cap"), pipes, steps, air, end)
        if key not in self.thermals:
            exchanger = None if "exchanger" not in parts else self._matrix(parts["exchanger"])
            loop = Loop(self._matrix(parts["core"]), exchanger, parts["pump"], parts["reservoir"], pipes, steps, air)
            self.thermals[key] = predict(loop, self.asked, end)
        return self.thermals[key]
