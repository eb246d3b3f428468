"""Why a hose, an adapter or another piece that serves joints and wiring is on the bill of no kit."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property

from configurator.foundations.verdicts import Verdict
from configurator.joining.charge_side import Place
from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.ratings import coolant_design_pa_gauge
from configurator.joining.run_refusal import RunConditions
from configurator.parts.kinds import Adapter, Cap, Clamp, Core, Hose, Part, Pump, RigidPart
from configurator.questions.searches import Searched, coolant_adapters, coupler_around, hose_joiner
from configurator.questions.shortfalls import part_of
from configurator.search.fill import Candidate
from configurator.search.job import Exclusion, Job
from configurator.search.skeletons import HOSE_COLDEST_K, HOSE_HOTTEST_K


class PiecesInKits:
    """Holds pieces against the joints of the kits of one search."""

    def __init__(self, job: Job, found: Sequence[Searched], kept: Sequence[Candidate]) -> None:
        """`kept`: the kits of the search that keep every demand, the best first."""
        self._job = job
        self._found = found
        self._kept = kept
        self._shelf = hose_joiner(job)

    def reason(self, piece: Part) -> Exclusion:
        """Why a piece that the brief lets in is on no kit's bill.

        Off the shelf alone are kits made: one of the customer's that would do is told as such.
        """
        of_shelf = piece in self._job.serving(type(piece))
        if isinstance(piece, Hose) and "coolant" not in piece.media:
            return Exclusion(piece.id, "other-medium", " or ".join(piece.media), "coolant", "")
        judged = tuple(self._judged(piece)) if isinstance(piece, Adapter | Hose) else ()
        stands = tuple(dict.fromkeys(verdict.subjects[1] for verdict in judged if verdict.state == "kept"))
        if judged and not stands:
            refused = judged[0]
            return Exclusion(piece.id, "refused-there", refused.found, refused.limit, refused.unit, refused.text)
        if of_shelf or (self._kept and isinstance(piece, Adapter | Hose) and not stands):
            return Exclusion(piece.id, "serves-nothing", None, None, "")
        return Exclusion(piece.id, "shelf-serves", None, None, "", ", ".join(stands))

    def _judged(self, piece: Adapter | Hose) -> Iterator[Verdict]:
        """A piece in each joint of the kits that it goes into: kept, or the demand that it breaks."""
        if isinstance(piece, Adapter) and piece.medium == "charge":
            for layout, core in self._cores:
                yield from self._around[layout](piece, core)
            return
        joiner = self._joiner(piece)
        for start, finish, conditions in self._runs:
            verdict = joiner.judged(piece, start, finish, conditions)
            if verdict is not None:
                yield verdict

    def _joiner(self, piece: Adapter | Hose) -> HoseJoiner:
        """Joins with the shelf, and with a piece that is not on it."""
        job = self._job
        if piece in job.serving(type(piece)):
            return self._shelf
        hoses = (*job.serving(Hose), *([piece] if isinstance(piece, Hose) else []))
        adapters = (*coolant_adapters(job), *([piece] if isinstance(piece, Adapter) else []))
        return HoseJoiner(hoses, adapters, job.serving(Clamp))

    @cached_property
    def _runs(self) -> tuple[tuple[Place, Place, RunConditions], ...]:
        """The coolant runs of the kits from part to part, the best kit's first, with what each must stand."""
        coldest_k = self._job.brief.coldest_k(HOSE_COLDEST_K)
        found: dict[tuple[Place, Place, RunConditions], None] = {}
        for kit in self._kept:
            parts = {slot: part_of(self._job, part) for slot, part in kit.kit.parts}
            pump, cap = parts["pump"], parts.get("cap")
            assert isinstance(pump, Pump)
            opens_pa = float(cap.opens_pa_gauge) if isinstance(cap, Cap) else 0.0
            for joint in kit.joints:
                places = [_place(parts, name) for name in (joint.start, joint.finish)]
                if joint.medium == "coolant" and places[0] is not None and places[1] is not None:
                    suction = places[0][0] == "reservoir"
                    design_pa = coolant_design_pa_gauge(opens_pa, pump.dead_head_pa, after_pump=not suction)
                    conditions = RunConditions(HOSE_HOTTEST_K, coldest_k, design_pa, suction)
                    found[places[0], places[1], conditions] = None
        return tuple(found)

    @cached_property
    def _around(self) -> Mapping[str, Callable[[Adapter, Core], tuple[Verdict, ...]]]:
        return {one.job.layout.id: coupler_around(one) for one in self._found}

    @cached_property
    def _cores(self) -> tuple[tuple[str, Core], ...]:
        """The cores of the kits with their layouts, the best kit's first."""
        held = ((kit.kit.layout, part_of(self._job, part)) for kit in self._kept for _, part in kit.kit.parts)
        cores = {(layout, part.id): (layout, part) for layout, part in held if isinstance(part, Core)}
        return tuple(cores.values())


def _place(parts: Mapping[str, Part], name: str) -> Place | None:
    """A slot and its coolant end by the name that joints carry, as in `pump.outlet`; None at a wye or a valve."""
    slot, _, end_name = name.partition(".")
    part = parts.get(slot)
    passage = part.passages().get("coolant") if isinstance(part, RigidPart) else None
    return next(((slot, end) for end in passage.ends if end.name == end_name), None) if passage is not None else None
