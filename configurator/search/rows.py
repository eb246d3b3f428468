"""Rows: every loop that a skeleton's members can make and that can be placed, before anything is predicted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import product

from configurator.parts.kinds import Core, Part
from configurator.parts.kit import Joint
from configurator.parts.layouts import kind_of_slot
from configurator.prediction.bench import Loop
from configurator.prediction.zone_air import zone_air
from configurator.search.add_ons import AddOn, AddOns
from configurator.search.charge_pipes import ChargePipes
from configurator.search.circuit import circuit_of
from configurator.search.fronts import fronts_in_line
from configurator.search.job import Job
from configurator.search.needs import KitNeeds
from configurator.search.sieve import FITTED, UNMEASURED, Admissible
from configurator.search.skeleton import Skeleton
from configurator.search.zone_memo import Crowd, RowFit, ZoneMemo

_KINDS = ("core", "exchanger", "pump", "reservoir")


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
        self._charges: dict[str, tuple[Joint, ...] | str] = {}
        self._joined: set[str] = set()

    def rows_of(self, skeletons: Iterable[Skeleton]) -> list[Row]:
        """One row for each loop and choice of zones that can be placed, in the order of the skeletons."""
        alike: dict[tuple[object, ...], tuple[Skeleton, list[Part | None]]] = {}
        for skeleton in skeletons:
            _, caps = alike.setdefault(skeleton.loop_key, (skeleton, []))
            caps.extend([None] if skeleton.cap is None else skeleton.cap.members)
        return [row for skeleton, caps in alike.values() for row in self._rows(skeleton, tuple(caps))]

    @property
    def joined(self) -> frozenset[str]:
        """The parts that were ever joined into a loop."""
        return frozenset(self._joined)

    @property
    def unjoined_charge(self) -> Mapping[str, str]:
        """Cores that cannot be joined to the engine, with the reason."""
        return {core: why for core, why in self._charges.items() if isinstance(why, str)}

    @property
    def crowds(self) -> Mapping[str, Crowd]:
        """For parts that did not go in, the first company in which they did not."""
        return self._memo.crowds

    def _rows(self, skeleton: Skeleton, caps: tuple[Part | None, ...]) -> Iterable[Row]:
        """A row for every choice of members that can be joined to the engine and placed."""
        slots = [slot for slot, _ in skeleton.classes]
        zones = dict(skeleton.zones)
        placed = tuple((slot, zone) for slot, zone in skeleton.zones if zone not in {FITTED, UNMEASURED})
        leaders = {kind_of_slot(slot): known for slot, known in reversed(skeleton.classes)}
        kinds = list(dict.fromkeys(kind_of_slot(slot) for slot in slots))
        cores = tuple(slot for slot in slots if kind_of_slot(slot) == "core")
        fronts = [zones[slot] for slot in slots if kind_of_slot(slot) == "exchanger" and slot != self._circuit.shut_out]
        airs = tuple(zone_air(self._bay, zone) for zone in fronts)
        for chosen in product(*(leaders[kind].members for kind in kinds)):
            of_kind = dict(zip(kinds, chosen, strict=True))
            parts = {slot: of_kind[kind_of_slot(slot)] for slot in slots}
            self._joined.update(part.id for part in chosen)
            around = self._around(of_kind["core"], cores)
            if isinstance(around, str):
                continue
            runs, fit = self._placed(skeleton, parts, zones, around)
            if fit.decided and not fit.fits:
                continue
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
            for add_on in self._add_ons.of(in_air, len(fronts)):
                runs_with, fit_with = runs, fit
                if add_on.placed:
                    more = {**parts, **dict(add_on.parts)}
                    runs_with, fit_with = self._placed(skeleton, more, {**zones, **dict(add_on.placed)}, around)
                    if not fit_with.fits:
                        continue
                fitted_out = add_on.on(replace(loop, runs=runs_with))
                in_zones = (*placed, *add_on.placed)
                yield Row(fitted_out, ids, in_zones, (*runs_with, *around), fit_with, caps, add_on)

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

    def _around(self, core: Part, slots: tuple[str, ...]) -> tuple[Joint, ...] | str:
        if core.id not in self._charges:
            assert isinstance(core, Core)
            self._charges[core.id] = self._charge.around(core, slots)
        return self._charges[core.id]

