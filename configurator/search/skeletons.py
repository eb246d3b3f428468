"""Skeletons: which classes of ends, which zones and which cap can make one loop, before particular parts are chosen.

Every rule here is a table over interface classes and zones that the constraint solver keeps; nothing that a table
decides is asked again later.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from configurator.joining.hose_joint import HoseJoiner, RunConditions
from configurator.joining.missing import EndsApart
from configurator.joining.ratings import coolant_design_pa_gauge
from configurator.joining.small_joints import cap_rules
from configurator.parts.kinds import Adapter, Cap, Hose, Pump, Reservoir
from configurator.parts.kit import Joint
from configurator.parts.layouts import Layout
from configurator.search.classes import InterfaceClass, interface_classes
from configurator.search.job import Job
from configurator.search.runs import run_between
from configurator.search.sieve import Admissible
from configurator.search.skeleton_solver import Table, solve

NO_CAP = "no cap"

HOSE_HOTTEST_K = 373.15
"""Hoses and adapters of the loop must stand 100 degC; common practice: what a bonnet holds after a hard run."""

COLDEST_ASSUMED_K = 273.15 - 20.0
"""... and -20 degC where the brief names no coldest night."""


@dataclass(frozen=True)
class Skeleton:
    """One way to put the loop together: a class for each slot, a zone for each rigid slot, the coolant runs."""

    classes: tuple[tuple[str, InterfaceClass], ...]
    zones: tuple[tuple[str, str], ...]
    cap: InterfaceClass | None
    runs: tuple[Joint, ...]

    @property
    def loop_key(self) -> tuple[object, ...]:
        """What tells one skeleton's loops from another's: all but the cap. Equal runs are one and the same joint."""
        return (*(known.name for _, known in self.classes), self.zones, *(id(run) for run in self.runs))


def loop_slots(layout: Layout, unwanted: Sequence[str]) -> tuple[str, ...]:
    """The slots of the loop that are filled, in flow order: all but those that are unwanted and may be empty."""
    least = {slot.slot: slot.least for slot in layout.slots}
    kinds = {slot.slot: slot.kind for slot in layout.slots}
    return tuple(
        slot
        for slot in layout.loop
        if isinstance(slot, str) and not (least[slot] == 0 and kinds[slot] in unwanted)
    )


class SkeletonMaker:
    """Builds the tables of one job and asks the solver for every skeleton."""

    def __init__(self, job: Job, admissible: Admissible, joiner: HoseJoiner) -> None:
        """Classes are made here once; joints are found as the tables ask for them."""
        self._job = job
        self._joiner = joiner
        self.slots = loop_slots(job.layout, job.brief.without)
        self.classes = {
            slot: interface_classes(slot, admissible.of(slot), admissible.zones) for slot in self.slots
        }
        self.caps = interface_classes("cap", admissible.caps, {})
        self._steps = _rating_steps(job)
        coldest = job.brief.site.coldest_k
        self._coldest_k = COLDEST_ASSUMED_K if coldest is None else float(coldest)
        self._pairs = list(zip(self.slots, (*self.slots[1:], self.slots[0]), strict=True))
        self._run_steps = {
            (pump, cap, suction): self._step(self._design(pump, cap, after_pump=not suction))
            for pump, cap, suction in product(self.classes["pump"], (NO_CAP, *self.caps), (True, False))
        }
        self._joints: dict[tuple[object, ...], Joint | None] = {}
        self._alike: dict[Joint, Joint] = {}
        self._lengths: dict[tuple[str, str], float] = {}

    def skeletons(self) -> Iterator[Skeleton]:
        """Every skeleton, in a fixed order."""
        for found in self.assignments():
            yield self._skeleton(found)

    def assignments(self, left_out: str | None = None) -> Iterator[dict[str, str]]:
        """The solver's answers, in a fixed order: a class for each slot and the cap, a zone for each slot.

        `left_out` drops the rule of that name, to show that it matters: what it lets in may have no runs.
        """
        domains: dict[str, list[str]] = {slot: list(self.classes[slot]) for slot in self.slots}
        domains["cap"] = [*([] if self._job.fitted("cap") else [NO_CAP]), *self.caps]
        for slot in self.slots:
            domains[f"zone of {slot}"] = sorted({z for c in self.classes[slot].values() for z in c.zones})
        tables = [table for table in self.tables() if table.rule != left_out]
        yield from solve(domains, tables)

    def apart(self) -> dict[str, EndsApart]:
        """Parts of which one coolant end meets no other part in question, whatever it must stand; and what would.

        Of several adapters that would do, the one that most parts on the other side ask for.
        """
        found: dict[str, EndsApart] = {}
        for from_slot, to_slot in self._pairs:
            for slot, other, role, far_role in ((from_slot, to_slot, "out", "in"), (to_slot, from_slot, "in", "out")):
                for known in self.classes[slot].values():
                    end = known.end(role)
                    far_ends = [far for one in self.classes[other].values() if (far := one.end(far_role)) is not None]
                    if end is None or not far_ends:
                        continue
                    both = [(end, far) if role == "out" else (far, end) for far in far_ends]
                    verdicts = [self._joiner.apart(*ends) for ends in both]
                    missing = [verdict for verdict in verdicts if verdict is not None]
                    if len(missing) == len(verdicts):
                        common = Counter(missing).most_common()
                        most = [verdict for verdict, count in common if count == common[0][1]]
                        verdict = min(most, key=lambda one: (len(one.missing), one.text))
                        found.update({part.id: verdict for part in known.members if part.id not in found})
        return found

    def tables(self) -> list[Table]:
        """The rules as tables: zones that take the class, cap on its neck, ratings, joints."""
        return [*self._zone_tables(), self._cap_table(), *self._rating_tables(), *self._joint_tables()]

    def _zone_tables(self) -> Iterator[Table]:
        for slot in self.slots:
            pairs = {(name, zone) for name, known in self.classes[slot].items() for zone in known.zones}
            yield Table("zone", (slot, f"zone of {slot}"), frozenset(pairs))

    def _cap_table(self) -> Table:
        pairs: set[tuple[str, ...]] = set()
        for name, known in self.classes["reservoir"].items():
            reservoir = known.standing_in
            assert isinstance(reservoir, Reservoir)
            for cap_name in (NO_CAP, *self.caps):
                cap = self._cap(cap_name)
                if all(rule.state != "broken" for rule in cap_rules(reservoir, cap)) and _holds_itself(cap):
                    pairs.add((name, cap_name))
        return Table("cap", ("reservoir", "cap"), frozenset(pairs))

    def _rating_tables(self) -> Iterator[Table]:
        for slot in self.slots:
            variables = tuple(dict.fromkeys((slot, "pump", "cap")))
            kept: set[tuple[str, ...]] = set()
            for name, pump, cap in product(self.classes[slot], self.classes["pump"], (NO_CAP, *self.caps)):
                if slot == "pump" and name != pump:
                    continue
                rating = self.classes[slot][name].coolant.rating.working_pa_gauge
                if rating is None or rating >= self._design(pump, cap, after_pump=slot != "reservoir"):
                    kept.add((name, pump, cap) if len(variables) == 3 else (pump, cap))
            yield Table("rating", variables, frozenset(kept))

    def _joint_tables(self) -> Iterator[Table]:
        for index, (start, finish) in enumerate(self._pairs):
            variables = tuple(dict.fromkeys((start, finish, "pump", "cap")))
            kept: set[tuple[str, ...]] = set()
            domains = [
                list(self.classes[variable]) if variable in self.classes else [NO_CAP, *self.caps]
                for variable in variables
            ]
            for values in product(*domains):
                named = dict(zip(variables, values, strict=True))
                joint = self._join(index, named[start], named[finish], named["pump"], named["cap"], 1.0)
                if joint is not None:
                    kept.add(values)
            yield Table("joint", variables, frozenset(kept))

    def _join(
        self, index: int, start: str, finish: str, pump: str, cap: str, length_m: float
    ) -> Joint | None:
        """The run from one class to the next, None where it cannot be made."""
        from_slot, to_slot = self._pairs[index]
        suction = from_slot == "reservoir"
        step = self._run_steps[pump, cap, suction]
        key = (index, start, finish, step, length_m)
        if key not in self._joints:
            self._joints[key] = None
            out_end = self.classes[from_slot][start].end("out")
            in_end = self.classes[to_slot][finish].end("in")
            if out_end is not None and in_end is not None:
                conditions = RunConditions(HOSE_HOTTEST_K, self._coldest_k, step, suction)
                made = self._joiner.join((from_slot, out_end), (to_slot, in_end), length_m, conditions)
                if isinstance(made, Joint):
                    self._joints[key] = self._alike.setdefault(made, made)
        return self._joints[key]

    def _step(self, design_pa: float) -> float:
        """The lowest rating on the shelf that holds a design pressure: two designs with the same step join alike.

        Above every rating the design itself: pieces that state none may still serve, unproven.
        """
        return next((rating for rating in self._steps if rating >= design_pa), design_pa)

    def _design(self, pump: str, cap: str, *, after_pump: bool) -> float:
        part = self.classes["pump"][pump].standing_in
        assert isinstance(part, Pump)
        known = self._cap(cap)
        opens = 0.0 if known is None else float(known.opens_pa_gauge)
        return coolant_design_pa_gauge(opens, part.dead_head_pa, after_pump=after_pump)

    def _cap(self, name: str) -> Cap | None:
        if name == NO_CAP:
            return None
        part = self.caps[name].standing_in
        assert isinstance(part, Cap)
        return part

    def _length_m(self, start: str, finish: str) -> float:
        if (start, finish) not in self._lengths:
            self._lengths[start, finish] = run_between(self._job.brief.bay, start, finish).length_m
        return self._lengths[start, finish]

    def _skeleton(self, found: dict[str, str]) -> Skeleton:
        zones = {slot: found[f"zone of {slot}"] for slot in self.slots}
        runs: list[Joint] = []
        for index, (start, finish) in enumerate(self._pairs):
            length = self._length_m(zones[start], zones[finish])
            joint = self._join(index, found[start], found[finish], found["pump"], found["cap"], length)
            assert joint is not None
            runs.append(joint)
        return Skeleton(
            tuple((slot, self.classes[slot][found[slot]]) for slot in self.slots),
            tuple(sorted(zones.items())),
            self.caps.get(found["cap"]),
            tuple(runs),
        )


def _holds_itself(cap: Cap | None) -> bool:
    """Whether a cap holds what it sees until it opens; one that states no pressure is unproven, not out."""
    rating = None if cap is None else cap.coolant.rating.working_pa_gauge
    if cap is None or rating is None:
        return True
    return rating >= coolant_design_pa_gauge(float(cap.opens_pa_gauge), 0.0, 0.0, after_pump=False)


def _rating_steps(job: Job) -> list[float]:
    """Every pressure that a hose or coolant adapter of the shelf is rated at, rising [Pa gauge]."""
    hoses = [hose.working_pa_gauge for hose in job.serving(Hose)]
    adapters = [
        adapter.through.rating.working_pa_gauge
        for adapter in job.serving(Adapter)
        if adapter.medium == "coolant"
    ]
    return sorted({float(rating) for rating in (*hoses, *adapters) if rating is not None})
