"""How groups of kits are opened, from coarse to fine, and what each is at best.

A class of cores with one of exchangers; a skeleton, with all pumps and caps that its runs serve; a core and an
exchanger in it; a pump and a reservoir beside them; the same, placed, with each fan and timer.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial
from itertools import product

import numpy as np
from numpy.typing import NDArray

from configurator.fitting.room import CLEARANCE_COUNTED_MM
from configurator.foundations.verdicts import Verdict
from configurator.parts.kinds import Part
from configurator.parts.kit import Joint
from configurator.parts.layouts import kind_of_slot
from configurator.search.best_so_far import Order
from configurator.search.bill import ADDED
from configurator.search.bounds import Bounds, Hoped
from configurator.search.classes import InterfaceClass
from configurator.search.groups import Alone, Group, Listed, below_each_other
from configurator.search.heat_bounds import Around, HeatBounds
from configurator.search.made import Made
from configurator.search.prices import Prices
from configurator.search.rows import RowMaker
from configurator.search.sieve import Admissible
from configurator.search.skeleton import HEAT, Found, by_runs
from configurator.search.skeletons import SkeletonMaker

REST = ("pump", "reservoir")

Places = NDArray[np.intp]


class Opening:
    """Opens the groups of one layout."""

    def __init__(
        self,
        admissible: Admissible,
        maker: SkeletonMaker,
        rows: RowMaker,
        bounds: Bounds,
        heat: HeatBounds,
        prices: Prices,
        order: Order,
    ) -> None:
        """`heat`: bounds on a core with an exchanger; `order`: what groups are listed by."""
        self._parts = admissible
        self._maker = maker
        self._rows = rows
        self._bounds = bounds
        self._heat = heat
        self._prices = prices
        self._order = order
        self._columns: dict[tuple[object, ...], Hoped] = {}
        self._at = {kind: {part.id: at for at, part in enumerate(admissible.of(kind))} for kind in (*HEAT, *REST)}
        self.counts: Mapping[str, int] = Counter(kind_of_slot(slot) for slot in maker.slots)
        self._pump_like = {
            name: (known.meets, known.zones) for name, known in maker.classes["pump"].items()
        }
        self.placed = 0

    def choices(self) -> int:
        """How many choices of parts there are, whether they can be joined or not."""
        return int(np.prod([len(self._parts.of(kind)) for kind in self.counts], dtype=object))

    def classes(self) -> Listed:
        """A class of cores with one of exchangers, where the loop has one: with the cheapest of all the rest."""
        slots = self._maker.heat_slots
        rest = {kind: np.arange(len(self._parts.of(kind))) for kind in REST}
        served = all(len(places) for places in rest.values())
        chosen = list(product(*(self._maker.classes[slot] for slot in slots))) if served else []
        only = [dict(zip(slots, names, strict=True)) for names in chosen]
        of = [self._of_kind(one) for one in only]
        hoped = [self._of_places({**rest, **self._places(one)}) for one in of]

        def group(at: int, _: Hoped) -> Group:
            return Group(_ids(of[at]), lambda: [self._skeletons(only[at])])

        return Listed(below_each_other(hoped), self._order, group)

    def _skeletons(self, only: Found) -> Listed:
        """Every skeleton of a class of cores and one of exchangers, before its runs are made.

        Pumps whose ends and zones are alike are one here, with the cheapest cap of all.
        """
        alike: dict[tuple[object, ...], list[Found]] = {}
        for one in self._maker.assignments_with(only):
            differs = {**one, "cap": "", "pump": self._pump_like[one["pump"]]}
            alike.setdefault(tuple(differs.values()), []).append(one)
        found = list(alike.values())
        classes = [self._with_all_pumps(same) for same in found]
        hoped = [self._hoped_of(same, of_kind) for same, of_kind in zip(found, classes, strict=True)]

        def group(at: int, _: Hoped) -> Group:
            first = found[at][0]
            zones = {slot: first[f"zone of {slot}"] for slot in self._maker.slots}
            return Group(_ids(classes[at]), lambda: self._with_runs(found[at]), zones)

        return Listed(below_each_other(hoped), self._order, group)

    def _with_all_pumps(self, same: Sequence[Found]) -> dict[str, InterfaceClass]:
        """The classes of skeletons that differ by pump and cap alone, with the pumps of all of them."""
        names = dict.fromkeys(one["pump"] for one in same)
        pumps = tuple(pump for name in names for pump in self._maker.classes["pump"][name].members)
        classes = self._of_kind(same[0])
        return {**classes, "pump": replace(classes["pump"], members=pumps)}

    def _hoped_of(self, same: Sequence[Found], classes: Mapping[str, InterfaceClass]) -> Hoped:
        """A skeleton with several pumps and caps, before its runs are made."""
        first = same[0]
        rooms = (
            max(self._bounds.room_mm(part, first[f"zone of {slot}"]) for part in classes[kind_of_slot(slot)].members)
            for slot in self._maker.slots
        )
        cents = min(self._cents_of(self._caps(one)) for one in same)
        return self._of_places(self._places(classes)).with_room(min(rooms)).plus(cents)

    def _with_runs(self, same: Sequence[Found]) -> list[Listed]:
        """A skeleton's runs, made for each pump and cap: a list for all for which they come out alike."""
        made = by_runs(self._maker.skeleton(one) for one in same)
        return [self._pairs(Made(self._rows, skeleton, pumps)) for skeleton, pumps in made]

    def _pairs(self, of: Made) -> Listed:
        """Every core with every exchanger of a skeleton whose runs are made."""
        room = float(of.rest_room_mm.max())
        joined = [(part, self._rows.around(part, of.zones)) for part in of.members["core"]] if room >= 0 else []
        cores = [(part, around) for part, around in joined if not isinstance(around, Verdict)]
        exchangers: list[Part | None] = list(of.members.get("exchanger", (None,)))
        first = self._each("core", [part for part, _ in cores], of.zones)
        first = first.with_room([min(room, of.room_mm({"core": part}, around)) for part, around in cores])
        pipes = np.array([self._bounds.joints_cents(around, around) for _, around in cores], dtype=np.int64)
        hoped = first.plus(pipes + self._bounds.joints_cents(*of.ways()))
        if "exchanger" in of.members:
            second = self._each("exchanger", of.members["exchanger"], of.zones)
            hoped = hoped.times(second.with_room(of.rooms_mm("exchanger")))
            if cores:
                at = [of.members["core"].index(part) for part, _ in cores]
                hoped = hoped.with_room(of.rooms_of_two_mm("core", "exchanger")[at].ravel())
        for kind in REST:
            hoped = hoped.times(self._each_of_rest(kind, of).at_best())
        places = (self._places_of([part for part, _ in cores]), self._places_of(of.members.get("exchanger", ())))
        lies = self._lies(of, *places) if cores else None
        if lies is not None:
            hoped = hoped.with_margins(*(self._heat.of_pairs(lies, end).ravel() for end in (0, -1)))

        def group(at: int, _: Hoped) -> Group:
            (core, around), exchanger = cores[at // len(exchangers)], exchangers[at % len(exchangers)]
            heat = {"core": core} if exchanger is None else {"core": core, "exchanger": exchanger}
            rest = {kind: tuple(part.id for part in of.members[kind]) for kind in REST}
            ids = {**{kind: (part.id,) for kind, part in heat.items()}, **rest}
            pair = None if lies is None else lies.pair(*divmod(at, len(exchangers)))
            return Group(ids, lambda: [self._loops(of, heat, around, pair)], of.zones, of.cap_ids)

        return Listed(hoped, self._order, group)

    def _loops(
        self, of: Made, heat: Mapping[str, Part], around: tuple[Joint, ...], pair: Around | None
    ) -> Listed:
        """Every pump with every reservoir beside one core and exchanger."""
        alone = [of.room_mm({kind: part}, around) for kind, part in heat.items()]
        hoped = self._of_parts(heat).with_room(min(of.room_mm(heat, around), *alone))
        hoped = hoped.plus(self._bounds.joints_cents(*of.ways(around)))
        for kind in REST:
            hoped = hoped.times(self._each_of_rest(kind, of))
        if pair is not None:
            hoped = hoped.with_margins(*(self._heat.of_loops(pair, end).ravel() for end in (0, -1)))

        def group(at: int, at_best: Hoped) -> Group:
            pump, reservoir = divmod(at, len(of.members["reservoir"]))
            chosen = {**heat, "pump": of.members["pump"][pump], "reservoir": of.members["reservoir"][reservoir]}
            ids = {kind: (part.id,) for kind, part in chosen.items()}
            margins = float(at_best.margin_k), float(at_best.margin_low_k)

            def to_place() -> Group:
                return Group(ids, lambda: self._placed(of, chosen, margins), of.zones, of.cap_ids)

            def looked_at() -> list[Alone]:
                return [Alone(at_best.with_room(of.look_at(pump, reservoir)), self._order, to_place)]

            return Group(ids, looked_at, of.zones, of.cap_ids)

        hoped = hoped.with_room(of.rooms_beside_mm(heat).ravel())
        return Listed(hoped, self._order, group)

    def _placed(self, of: Made, chosen: Mapping[str, Part], margins: tuple[float, float]) -> list[Alone]:
        """One choice of parts, placed: with each fan and timer; `margins`: what it has at most, and at its low end."""
        self.placed += 1
        rows = of.rows(chosen)
        caps = self._cents_of(of.caps[chosen["pump"].id])
        at_best = self._of_parts(chosen).plus(caps).with_margins(*margins)
        hoped = (
            at_best.with_room(row.fit.clearance_mm if row.fit.decided else CLEARANCE_COUNTED_MM).plus(
                self._bounds.joints_cents(row.joints, row.joints)
                + sum(self._prices.part(part.id) for _, part in row.add_on.parts)
            )
            for row in rows
        )

        def group(at: int) -> Group:
            row = of.rows(chosen)[at]  # made again: few of those that wait are ever asked for
            added = {slot: part.id for slot, part in row.add_on.parts}
            ids = {kind: (part.id,) for kind, part in chosen.items()}
            in_question = {**ids, **{slot: (added.get(slot),) for slot in ADDED}}
            return Group(in_question, None, of.zones, of.cap_ids, row=row)

        return [Alone(one, self._order, partial(group, at)) for at, one in enumerate(hoped)]

    def _lies(self, of: Made, cores: Places, exchangers: Places) -> Around | None:
        """What heat has to do with a skeleton's cores and exchangers; None where there is no bound."""
        zones = [zone for slot, zone in of.zones.items() if kind_of_slot(slot) == "exchanger"]
        if not zones or not self._heat.serves:
            return None
        fronts = self._heat.fronts(zones)
        if not fronts.bounded:
            return None
        hoses, runs_pa = self._heat.hoses_j_per_k(*of.ways()), self._heat.runs_pa(*of.ways())
        pumps, reservoirs = (self._places_of(of.members[kind]) for kind in REST)
        return Around(cores, exchangers, pumps, reservoirs, hoses, runs_pa, fronts)

    def _places_of(self, parts: Sequence[Part]) -> Places:
        return np.array([self._at[part.kind][part.id] for part in parts], dtype=np.intp)

    def _of_kind(self, found: Found) -> dict[str, InterfaceClass]:
        return {
            kind_of_slot(slot): known[found[slot]] for slot, known in self._maker.classes.items() if slot in found
        }

    def _places(self, classes: Mapping[str, InterfaceClass]) -> dict[str, Places]:
        return {kind: np.array([self._at[kind][part.id] for part in known.members]) for kind, known in classes.items()}

    def _of_parts(self, parts: Mapping[str, Part]) -> Hoped:
        return self._of_places({kind: np.array([self._at[kind][part.id]]) for kind, part in parts.items()})

    def _of_places(self, places: Mapping[str, Places]) -> Hoped:
        """What kits of some parts of each kind are at best, wherever they sit."""
        cents = sum(int(self._bounds.cents[kind][at].min()) * self.counts[kind] for kind, at in places.items())
        grams = sum(int(self._bounds.grams[kind][at].min()) * self.counts[kind] for kind, at in places.items())
        margin = float(self._bounds.margin_k[places["core"]].max())
        low = float(self._bounds.margin_low_k[places["core"]].max())
        return Hoped(margin, low, CLEARANCE_COUNTED_MM, cents, grams, self._bounds.proven)

    def _each_of_rest(self, kind: str, of: Made) -> Hoped:
        """Columns of a skeleton's pumps, each with the cheapest of its caps, or of its reservoirs."""
        hoped = self._each(kind, of.members[kind], of.zones)
        if kind != "pump":
            return hoped
        return hoped.plus(np.array([self._cents_of(of.caps[pump.id]) for pump in of.members["pump"]], dtype=np.int64))

    def _each(self, kind: str, parts: Sequence[Part], zones: Mapping[str, str]) -> Hoped:
        """Columns of what kits with each of some parts are at best, by the part's own bounds."""
        of_kind = tuple(zone for slot, zone in zones.items() if kind_of_slot(slot) == kind)
        key = (kind, tuple(part.id for part in parts), of_kind)
        if key not in self._columns:
            self._columns[key] = self._made_columns(kind, parts, of_kind)
        return self._columns[key]

    def _made_columns(self, kind: str, parts: Sequence[Part], zones: tuple[str, ...]) -> Hoped:
        at = np.array([self._at[kind][part.id] for part in parts], dtype=np.intp)
        rooms = [
            min((self._bounds.room_mm(part, zone) for zone in zones), default=CLEARANCE_COUNTED_MM) for part in parts
        ]
        none = np.full(len(parts), np.inf)
        margin, low = (self._bounds.margin_k[at], self._bounds.margin_low_k[at]) if kind == "core" else (none, none)
        cents, grams = (figures[kind][at] * self.counts[kind] for figures in (self._bounds.cents, self._bounds.grams))
        return Hoped(margin, low, np.array(rooms), cents, grams, self._bounds.proven)

    def _caps(self, found: Found) -> tuple[Part | None, ...]:
        known = self._maker.caps.get(found["cap"])
        return (None,) if known is None else known.members

    def _cents_of(self, caps: tuple[Part | None, ...]) -> int:
        return min(0 if cap is None else self._prices.part(cap.id) for cap in caps)


def _ids(classes: Mapping[str, InterfaceClass]) -> dict[str, tuple[str, ...]]:
    return {kind: tuple(part.id for part in known.members) for kind, known in classes.items()}
