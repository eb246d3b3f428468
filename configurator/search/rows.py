"""Rows: every loop that a skeleton's members can make and that can be placed, before anything is predicted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from configurator.fitting.pairs import Bodies
from configurator.fitting.placing import bodies_of
from configurator.fitting.room import CLEARANCE_COUNTED_MM, room_of
from configurator.fitting.room_for_two import room_for_two
from configurator.fitting.turns import Posture
from configurator.foundations.verdicts import Verdict
from configurator.parts.kinds import Core, Part, Pump, RigidPart
from configurator.parts.kit import Joint
from configurator.parts.layouts import kind_of_slot
from configurator.prediction.bench import Loop
from configurator.prediction.zone_air import zone_air
from configurator.search.add_ons import AddOn, AddOns
from configurator.search.charge_pipes import ChargePipes
from configurator.search.circuit import circuit_of
from configurator.search.classes import InterfaceClass
from configurator.search.fronts import fronts_in_line
from configurator.search.job import Job
from configurator.search.needs import KitNeeds
from configurator.search.sieve import FITTED, UNMEASURED, Admissible
from configurator.search.skeleton import Skeleton, by_loop
from configurator.search.zone_memo import Crowd, RowFit, ZoneMemo

_KINDS = ("core", "exchanger", "pump", "reservoir")

Alternatives = Sequence[tuple[Joint, ...]]
"""Of each joint how it may be made."""


@dataclass(frozen=True)
class Row:
    """One loop in its zones with its add-ons, and every cap that suits it (None: no cap)."""

    loop: Loop
    parts: tuple[tuple[str, str], ...]
    zones: tuple[tuple[str, str], ...]
    joints: tuple[Joint, ...]
    fit: RowFit
    caps: tuple[Part | None, ...]
    add_on: AddOn


class _Shared(NamedTuple):
    """A zone, the slots and kinds in it, and the runs at them as they are best and tight; `runs`: their identities."""

    zone: str
    slots: tuple[str, ...]
    kinds: tuple[str, ...]
    best: tuple[Joint, ...]
    tight: tuple[Joint, ...]
    runs: tuple[int, ...]


class RowMaker:
    """Fills skeletons with their members, and remembers what the same few parts do together."""

    def __init__(self, job: Job, admissible: Admissible, charge: ChargePipes) -> None:
        """Nothing is filled yet."""
        self._job = job
        self._charge = charge
        self._add_ons = AddOns(job, admissible)
        self._places = {kind: {part.id: at for at, part in enumerate(admissible.of(kind))} for kind in _KINDS}
        self._bay = job.brief.bay
        self._memo = ZoneMemo(job.brief.bay)
        self._needs = KitNeeds(job.adapter)
        self._after_run_s = 0.0 if job.brief.after_run_s is None else float(job.brief.after_run_s)
        self._circuit = circuit_of(job.brief, job.layout)
        self._charges: dict[str, tuple[Joint, ...] | Verdict] = {}
        self._joined: set[str] = set()
        self._may: dict[tuple[object, ...], frozenset[tuple[str, ...]]] = {}
        # The joints are kept beside what is known of them, so that their identities stay theirs.
        self._zones: dict[tuple[object, ...], list[_Shared]] = {}
        self._rooms: dict[tuple[object, ...], tuple[float, Alternatives]] = {}
        self._pairs: dict[tuple[object, ...], tuple[NDArray[np.float32], Alternatives]] = {}

    def rows_of(self, skeletons: Iterable[Skeleton]) -> list[Row]:
        """One row for each loop and choice of zones that can be placed, in the order of the skeletons."""
        return [row for skeleton, caps in by_loop(skeletons) for row in self._rows(skeleton, caps)]

    @property
    def joined(self) -> frozenset[str]:
        """The parts that were ever joined into a loop."""
        return frozenset(self._joined)

    @property
    def unjoined_charge(self) -> Mapping[str, Verdict]:
        """Cores that cannot be joined to the engine, with the reason."""
        return {core: why for core, why in self._charges.items() if isinstance(why, Verdict)}

    @property
    def crowds(self) -> Mapping[str, Crowd]:
        """For parts that did not go in, the first company in which they did not."""
        return self._memo.crowds

    def _rows(self, skeleton: Skeleton, caps: tuple[Part | None, ...]) -> Iterable[Row]:
        """A row for every choice of members that can be joined to the engine and placed."""
        leaders = {kind_of_slot(slot): known for slot, known in reversed(skeleton.classes)}
        self._joined.update(part.id for known in leaders.values() for part in known.members)
        slots = [slot for slot, _ in skeleton.classes]
        cores = tuple(core for core in leaders["core"].members if not isinstance(self.around(core, slots), Verdict))
        if not cores:
            return
        members = {kind: cores if kind == "core" else known.members for kind, known in leaders.items()}
        # Every zone is looked at, though one is enough: each part is to have the company in which it did not go in.
        zones = [(zone.kinds, self._going_in(zone, leaders, members)) for zone in self._shared(skeleton)]
        kinds = list(dict.fromkeys(kind_of_slot(slot) for slot in slots))
        for chosen in product(*(members[kind] for kind in kinds)):
            of_kind = dict(zip(kinds, chosen, strict=True))
            if all(tuple(of_kind[kind].id for kind in in_zone) in going_in for in_zone, going_in in zones):
                yield from self.rows_with(skeleton, of_kind, caps)

    def _shared(self, skeleton: Skeleton) -> list[_Shared]:
        """Each zone with the slots in it and the runs at them; the same for all skeletons with these zones and runs."""
        key = (skeleton.zones, skeleton.runs_key)
        if key in self._zones:
            return self._zones[key]
        slots = [slot for slot, _ in skeleton.classes]
        zones = dict(skeleton.zones)
        found = []
        for zone in dict.fromkeys(zones[slot] for slot in slots):
            inside = tuple(slot for slot in slots if zones[slot] == zone)
            at = [place for place, touched in enumerate(skeleton.of_zones) if zone in touched]
            best, tight = (tuple(runs[place] for place in at) for runs in (skeleton.runs, skeleton.tight))
            kinds = tuple(dict.fromkeys(kind_of_slot(slot) for slot in inside))
            found.append(_Shared(zone, inside, kinds, best, tight, (*map(id, best), *map(id, tight))))
        return self._zones.setdefault(key, found)

    def _going_in(
        self, shared: _Shared, classes: Mapping[str, InterfaceClass], members: Mapping[str, Sequence[Part]]
    ) -> frozenset[tuple[str, ...]]:
        """Which members of the classes in one zone may go in together, by the ids of each kind there."""
        key = (shared.zone, shared.slots, shared.runs, *(classes[kind].name for kind in shared.kinds))
        if key not in self._may:
            choices = product(*(members[kind] for kind in shared.kinds))
            self._may[key] = frozenset(
                tuple(part.id for part in chosen) for chosen in choices if self._may_go_in(shared, chosen)
            )
        return self._may[key]

    def _may_go_in(self, shared: _Shared, chosen: Sequence[Part]) -> bool:
        """Whether the parts in one zone may go in, whatever lies in others: with the best runs or with tight ones."""
        of_kind = dict(zip(shared.kinds, chosen, strict=True))
        parts = {slot: of_kind[kind_of_slot(slot)] for slot in shared.slots}
        zones = dict.fromkeys(parts, shared.zone)
        around = self._charges[of_kind["core"].id] if "core" in of_kind else ()
        assert not isinstance(around, Verdict), "a core that is not joined is in no row"
        made = (shared.best,) if shared.tight == shared.best else (shared.best, shared.tight)
        return any(self._memo.goes_in(parts, zones, self._needs.of(parts, (*runs, *around))) for runs in made)

    def rows_with(
        self, skeleton: Skeleton, of_kind: Mapping[str, Part], caps: tuple[Part | None, ...]
    ) -> Iterator[Row]:
        """The rows of one choice of members, by kind: one for each add-on; none where it cannot be joined or placed."""
        slots = [slot for slot, _ in skeleton.classes]
        zones = dict(skeleton.zones)
        placed = tuple((slot, zone) for slot, zone in skeleton.zones if zone not in {FITTED, UNMEASURED})
        fronts = [zones[slot] for slot in slots if kind_of_slot(slot) == "exchanger" and slot != self._circuit.shut_out]
        airs = tuple(zone_air(self._bay, zone) for zone in fronts)
        parts = {slot: of_kind[kind_of_slot(slot)] for slot in slots}
        self._joined.update(part.id for part in of_kind.values())
        around = self.around(of_kind["core"], slots)
        if isinstance(around, Verdict):
            return
        runs, fit = self._placed(skeleton, parts, zones, around)
        if fit.decided and not fit.fits:
            return
        at = {kind: self._places[kind][part.id] for kind, part in of_kind.items()}
        in_air = of_kind.get("exchanger") if fronts else None
        loop = Loop(
            at["core"],
            at["exchanger"] if in_air is not None else None,
            at["pump"],
            at["reservoir"],
            runs,
            around,
            airs[0] if airs else zone_air(self._bay, ""),
            self._circuit.stages,
            airs,
            self._after_run_s,
            fronts_in_line(self._bay, in_air, fronts),
            self._circuit.standing_m3(of_kind.get("exchanger")),
        )
        ids = tuple((slot, part.id) for slot, part in parts.items())
        pump = of_kind["pump"]
        assert isinstance(pump, Pump)
        for add_on in self._add_ons.of(in_air, len(fronts)):
            if not add_on.goes_with(pump):
                continue
            runs_with, fit_with = runs, fit
            if add_on.placed:
                more = {**parts, **dict(add_on.parts)}
                runs_with, fit_with = self._placed(skeleton, more, {**zones, **dict(add_on.placed)}, around)
                if not fit_with.fits:
                    continue
            fitted_out = add_on.on(loop if runs_with is runs else replace(loop, runs=runs_with))
            in_zones = (*placed, *add_on.placed)
            yield Row(fitted_out, ids, in_zones, (*runs_with, *around), fit_with, caps, add_on)

    def room_mm(self, parts: Mapping[str, Part], zones: Mapping[str, str], ways: Alternatives) -> float:
        """The most room that a kit with these parts can have: of the zones that hold nothing else.

        Less than none where they do not go into one of them; `ways`: of each joint that they take part in, how it may
        be made.
        """
        key = (tuple(part.id for part in parts.values()), *zones.values(), *_identities(ways))
        if key not in self._rooms:
            rooms = self._memo.rooms(parts, zones, self._needs.at_least(parts, ways))
            self._rooms[key] = (min(rooms.values(), default=CLEARANCE_COUNTED_MM), ways)
        return self._rooms[key][0]

    def rooms_of_two(
        self, zone: str, one: tuple[str, Sequence[Part]], other: tuple[str, Sequence[Part]], ways: Alternatives
    ) -> NDArray[np.float32]:
        """The most room that each of some parts in a slot has beside each of another slot, in a zone of the bay [mm].

        Less than none where the two do not go in together; `ways`: as for `room_mm`, but for those of the charge: how
        a core is joined to the engine must have been asked (`around`).
        """
        assert self._bay is not None
        key = (zone, *((slot, *(part.id for part in parts)) for slot, parts in (one, other)), *_identities(ways))
        if key not in self._pairs:
            first, second = (self._bodies(zone, slot, parts, ways) for slot, parts in (one, other))
            found = room_for_two(room_of(self._bay, zone).room, first, second, CLEARANCE_COUNTED_MM)
            self._pairs[key] = (found.astype(np.float32), ways)  # halves: exact, and half the memory
        return self._pairs[key][0]

    def _bodies(self, zone: str, slot: str, parts: Sequence[Part], ways: Alternatives) -> Bodies:
        assert self._bay is not None
        bodies: list[tuple[Posture, ...]] = []
        for part in parts:
            around = self._charges[part.id] if isinstance(part, Core) else ()
            if isinstance(around, Verdict) or not isinstance(part, RigidPart):
                bodies.append(())
                continue
            needs = self._needs.at_least({slot: part}, [*ways, *((joint,) for joint in around)])
            bodies += bodies_of(self._bay, zone, ((slot, part),), needs)
        return tuple(bodies)

    def _placed(
        self, skeleton: Skeleton, parts: Mapping[str, Part], zones: Mapping[str, str], around: tuple[Joint, ...]
    ) -> tuple[tuple[Joint, ...], RowFit]:
        """The runs of a kit and how it fits: where a zone is too full for the best runs, with its tight ones."""
        fit = self._memo.fit(parts, zones, self._needs.of(parts, (*skeleton.runs, *around)))
        if fit.fits or not fit.misses or skeleton.tight == skeleton.runs:
            return skeleton.runs, fit
        full = frozenset(fit.misses)
        runs = tuple(
            tight if full & touched else run
            for run, tight, touched in zip(skeleton.runs, skeleton.tight, skeleton.of_zones, strict=True)
        )
        if runs == skeleton.runs:
            return runs, fit
        return runs, self._memo.fit(parts, zones, self._needs.of(parts, (*runs, *around)))

    def around(self, core: Part, slots: Iterable[str]) -> tuple[Joint, ...] | Verdict:
        """How a core, twice where there are slots for two, is joined to the engine; or why it cannot be."""
        if core.id not in self._charges:
            assert isinstance(core, Core)
            self._charges[core.id] = self._charge.around(core, [slot for slot in slots if kind_of_slot(slot) == "core"])
        return self._charges[core.id]


def _identities(ways: Alternatives) -> tuple[int, ...]:
    return tuple(id(run) for way in ways for run in way)
