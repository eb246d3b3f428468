"""Skeletons: which classes of ends, which zones and which cap can make one loop, before particular parts are chosen.

Every rule here is a table over interface classes and zones that the constraint solver keeps; nothing that a table
decides is asked again later.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import product

from configurator.foundations.units import ZERO_CELSIUS_K
from configurator.foundations.verdicts import Verdict
from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.missing import EndsApart
from configurator.joining.run_refusal import RunConditions
from configurator.joining.small_joints import cap_rules
from configurator.parts.kinds import Cap, Pump, Reservoir
from configurator.parts.kit import Joint
from configurator.parts.layouts import kind_of_slot
from configurator.search.circuit import unwanted
from configurator.search.classes import InterfaceClass, interface_classes, numbered_by_ends
from configurator.search.gaps import GapJoiner, gaps_of, spans
from configurator.search.job import Job
from configurator.search.patience import UNHURRIED, Patience
from configurator.search.pressures import NO_CAP, Pressures
from configurator.search.runs import run_between
from configurator.search.sieve import Admissible
from configurator.search.skeleton import HEAT, Found, Runs, Skeleton, but_for_cap, leaders, loop_steps
from configurator.search.skeleton_solver import Table, solve

HOSE_HOTTEST_K = 373.15
"""Hoses and adapters of the loop must stand 100 degC; common practice: what a bonnet holds after a hard run."""

HOSE_COLDEST_K = ZERO_CELSIUS_K - 20.0
"""... and -20 degC where the brief names no night: they stay in the car over winter. Common practice, no source."""


class SkeletonMaker:
    """Builds the tables of one job and asks the solver for every skeleton."""

    def __init__(self, job: Job, admissible: Admissible, joiner: HoseJoiner) -> None:
        """Classes are made here once; joints are found as the tables ask for them."""
        self._job = job
        self._hoses = joiner
        self._joiner = GapJoiner(joiner, job)
        self._steps = loop_steps(job.layout, unwanted(job.brief, job.layout))
        self.slots = tuple(slot for step in self._steps for slot in step)
        self._leaders = leaders(self.slots)
        self.caps = interface_classes("cap", admissible.caps, {})
        self._pressures = Pressures(job, admissible, {name: _cap_of(known) for name, known in self.caps.items()})
        self.classes = {slot: self._classes(slot, admissible) for slot in self.slots if slot == self._leaders[slot]}
        self._coldest_k = job.brief.coldest_k(HOSE_COLDEST_K)
        self.heat_slots = tuple(slot for slot in self.classes if kind_of_slot(slot) in HEAT)
        self._of_heat: dict[tuple[str, ...], list[Found]] | None = None
        self._pairs = list(zip(self._steps, (*self._steps[1:], self._steps[0]), strict=True))
        self._gaps = gaps_of(self._pairs, job.layout.bypass)
        self._run_steps = {
            (pump, cap, suction): self._step(pump, cap, after_pump=not suction)
            for pump, cap, suction in product(self.classes["pump"], (NO_CAP, *self.caps), (True, False))
        }
        self._meets = {slot: numbered_by_ends(known) for slot, known in self.classes.items()}
        self._joints: dict[tuple[object, ...], tuple[Joint, ...] | None] = {}
        self._alike: dict[Joint, Joint] = {}
        self._lengths: dict[tuple[str, str], float] = {}
        self._tables: list[Table] | None = None
        self._runs: dict[tuple[object, ...], Runs] = {}

    def skeletons(self, patience: Patience = UNHURRIED) -> Iterator[list[Skeleton]]:
        """Every skeleton, in a fixed order, those together that differ by the cap alone: they make the same loops."""
        for alike in patience.spread(but_for_cap(self.assignments())):
            yield self._but_for_cap(alike)

    def assignments(self, left_out: str | None = None) -> Iterator[Found]:
        """The solver's answers, in a fixed order.

        `left_out` drops the rule of that name, to show that it matters: what it lets in may have no runs.
        """
        domains = {slot: list(known) for slot, known in self.classes.items()}
        domains["cap"] = [*([] if self._job.fitted("cap") else [NO_CAP]), *self.caps]
        for slot in self.slots:
            classes = self.classes[self._leaders[slot]].values()
            domains[f"zone of {slot}"] = sorted({zone for known in classes for zone in known.zones})
        tables = [table for table in self.tables() if table.rule != left_out]
        yield from solve(domains, tables)

    def assignments_with(self, chosen: Mapping[str, str]) -> list[Found]:
        """Those of the solver's answers that hold these classes, by slot; all are found once, and kept."""
        if self._of_heat is None:
            self._of_heat = {}
            for found in self.assignments():
                self._of_heat.setdefault(self._heat_of(found), []).append(found)
        of_heat = self._of_heat.get(self._heat_of(chosen), [])
        return [found for found in of_heat if all(found[slot] == name for slot, name in chosen.items())]

    def _heat_of(self, found: Found) -> tuple[str, ...]:
        return tuple(found[slot] for slot in self.heat_slots)

    def apart(self) -> dict[str, EndsApart]:
        """Parts of which one coolant end meets no other part in question, whatever it must stand; and what would.

        Of several adapters that would do, the one that most parts on the other side ask for.
        """
        found: dict[str, EndsApart] = {}
        for starts, finishes in self._pairs:
            if len(starts) != len(finishes) or (starts, finishes) not in self._gaps:
                continue  # a wye or a valve lies between: its own ends decide
            from_slot, to_slot = self._leaders[starts[0]], self._leaders[finishes[0]]
            for slot, other, role, far_role in ((from_slot, to_slot, "out", "in"), (to_slot, from_slot, "in", "out")):
                for known in self.classes[slot].values():
                    end = known.end(role)
                    far_ends = [far for one in self.classes[other].values() if (far := one.end(far_role)) is not None]
                    if end is None or not far_ends:
                        continue
                    both = [(end, far) if role == "out" else (far, end) for far in far_ends]
                    verdicts = [self._hoses.apart(*ends) for ends in both]
                    missing = [verdict for verdict in verdicts if verdict is not None]
                    if len(missing) == len(verdicts):
                        common = Counter(missing).most_common()
                        most = [verdict for verdict, count in common if count == common[0][1]]
                        verdict = min(most, key=lambda one: (len(one.missing), one.text))
                        found.update({part.id: verdict for part in known.members if part.id not in found})
        return found

    def without_suction_hose(self) -> dict[str, Verdict]:
        """Pumps and reservoirs between which no hose of the shelf may lie: each would be sucked flat."""
        starts, finishes = self._pairs[0]
        tanks, pumps = (self.classes[self._leaders[side[0]]].values() for side in (starts, finishes))
        wanted = RunConditions(HOSE_HOTTEST_K, self._coldest_k, suction=True)
        found: dict[str, list[Joint | Verdict]] = {}
        for tank, pump in product(tanks, pumps):
            out_end, in_end = tank.end("out"), pump.end("in")
            if out_end is not None and in_end is not None:
                made = self._hoses.join(("reservoir", out_end), ("pump", in_end), 1.0, wanted)
                for part in (*tank.members, *pump.members):
                    found.setdefault(part.id, []).append(made)
        refused = {part: [one for one in made if isinstance(one, Verdict)] for part, made in found.items()}
        return {
            part: rules[0]
            for part, rules in refused.items()
            if len(rules) == len(found[part]) and all(rule.rule == "suction-hose" for rule in rules)
        }

    def refusal(self, start: str, finish: str, one: str, other: str) -> Verdict | None:
        """Why no run leads from a class of one slot to one of the next, at the least pressure that any cap makes."""
        slots = [(self._leaders[starts[0]], self._leaders[finishes[0]]) for starts, finishes in self._pairs]
        suction = slots.index((start, finish)) == 0
        sees = [self.least_design_pa(pump, after_pump=not suction) for pump in self.classes["pump"]]
        out_end, in_end = self.classes[start][one].end("out"), self.classes[finish][other].end("in")
        if out_end is None or in_end is None:
            return None
        wanted = RunConditions(HOSE_HOTTEST_K, self._coldest_k, min(sees, default=0.0), suction)
        made = self._hoses.join((start, out_end), (finish, in_end), 1.0, wanted)
        return made if isinstance(made, Verdict) else None

    def tables(self) -> list[Table]:
        """The rules as tables: zones that take the class, cap on its neck, ratings, joints. Made once."""
        if self._tables is None:
            of_zones = [*self._zone_tables(), *self._twin_tables()]
            self._tables = [*of_zones, self._cap_table(), *self._rating_tables(), *self._joint_tables()]
        return self._tables

    def _classes(self, slot: str, admissible: Admissible) -> dict[str, InterfaceClass]:
        """The classes of a slot's kind; for twins, of the parts that there are two of."""
        kind = kind_of_slot(slot)
        parts = admissible.of(kind)
        if list(self._leaders.values()).count(slot) > 1:
            parts = tuple(part for part in parts if self._job.two_of(part))
        return interface_classes(kind, parts, admissible.zones, self._pressures.makes)

    def _zone_tables(self) -> Iterator[Table]:
        for slot in self.slots:
            leader = self._leaders[slot]
            pairs = {(name, zone) for name, known in self.classes[leader].items() for zone in known.zones}
            yield Table("zone", (leader, f"zone of {slot}"), frozenset(pairs))

    def _twin_tables(self) -> Iterator[Table]:
        """Twins side by side stand in the order of their zones: to swap them is no other kit."""
        for step in self._steps:
            if len(step) > 1:
                zones = sorted({zone for known in self.classes[step[0]].values() for zone in known.zones})
                pairs = {(one, other) for one in zones for other in zones if one <= other}
                yield Table("twins", (f"zone of {step[0]}", f"zone of {step[1]}"), frozenset(pairs))

    def _cap_table(self) -> Table:
        pairs: set[tuple[str, ...]] = set()
        for name, known in self.classes["reservoir"].items():
            reservoir = known.standing_in
            assert isinstance(reservoir, Reservoir)
            for cap_name in (NO_CAP, *self.caps):
                cap = self._cap(cap_name)
                if all(rule.state != "broken" for rule in cap_rules(reservoir, cap)):
                    pairs.add((name, cap_name))
        return Table("cap", ("reservoir", "cap"), frozenset(pairs))

    def _rating_tables(self) -> Iterator[Table]:
        for slot in self.classes:
            variables = tuple(dict.fromkeys((slot, "pump", "cap")))
            kept: set[tuple[str, ...]] = set()
            for name, pump, cap in product(self.classes[slot], self.classes["pump"], (NO_CAP, *self.caps)):
                if slot == "pump" and name != pump:
                    continue
                rating = self.classes[slot][name].coolant.rating.working_pa_gauge
                if rating is None or rating >= self._pressures.design(
                    self._pump(pump), cap, after_pump=slot != "reservoir"
                ):
                    kept.add((name, pump, cap) if len(variables) == 3 else (pump, cap))
            yield Table("rating", variables, frozenset(kept))

    def _joint_tables(self) -> Iterator[Table]:
        for index, gap in enumerate(self._gaps):
            leaders = tuple(self._leaders[step[0]] for step in gap)
            variables = tuple(dict.fromkeys((*leaders, "pump", "cap")))
            others, at = tuple(slot for slot in variables[:-1] if slot != "pump"), variables.index("pump")
            lengths = (1.0,) * len(spans(gap))
            kept: set[tuple[str, ...]] = set()
            alike = self._joined_alike(suction=gap[0] == ("reservoir",))
            for chosen in product(*(self.classes[other] for other in others)):
                for pairs in alike:
                    named = {**dict(zip(others, chosen, strict=True)), "pump": pairs[0][0]}
                    if self._join(index, tuple(named[slot] for slot in leaders), *pairs[0], lengths) is not None:
                        kept.update((*chosen[:at], pump, *chosen[at:], cap) for pump, cap in pairs)
            yield Table("joint", variables, frozenset(kept))

    def _joined_alike(self, *, suction: bool) -> list[list[tuple[str, str]]]:
        """Pumps with caps, those together with which runs are joined alike: by the pump's ends and the pressure."""
        alike: dict[tuple[int, float], list[tuple[str, str]]] = {}
        for pump, cap in product(self.classes["pump"], (NO_CAP, *self.caps)):
            alike.setdefault((self._meets["pump"][pump], self._run_steps[pump, cap, suction]), []).append((pump, cap))
        return list(alike.values())

    def _join(
        self,
        index: int,
        names: tuple[str, ...],
        pump: str,
        cap: str,
        lengths_m: tuple[float, ...],
        *,
        tight: bool = False,
    ) -> tuple[Joint, ...] | None:
        """The runs of a gap between the classes of its steps, None where they cannot be made."""
        gap = self._gaps[index]
        suction = gap[0] == ("reservoir",)
        step = self._run_steps[pump, cap, suction]
        slots = [self._leaders[of_step[0]] for of_step in gap]
        meets = tuple(self._meets[slot][name] for slot, name in zip(slots, names, strict=True))
        key = (index, meets, step, lengths_m, tight)
        if key not in self._joints:
            self._joints[key] = None
            known = [self.classes[slot][name] for slot, name in zip(slots, names, strict=True)]
            outs, ins = [one.end("out") for one in known[:-1]], [one.end("in") for one in known[1:]]
            wanted = RunConditions(HOSE_HOTTEST_K, self._coldest_k, step, suction, tight)
            made = self._joiner.join(self._gaps, index, outs, ins, lengths_m, wanted)
            if made is not None:
                self._joints[key] = tuple(self._alike.setdefault(joint, joint) for joint in made)
        return self._joints[key]

    def least_design_pa(self, pump: str, *, after_pump: bool) -> float:
        """The least pressure that a class of pumps and any cap in question make at a place [Pa gauge]."""
        caps = (NO_CAP, *self.caps)
        return min(self._pressures.design(self._pump(pump), cap, after_pump=after_pump) for cap in caps)

    def _step(self, pump: str, cap: str, *, after_pump: bool) -> float:
        return self._pressures.step(self._pressures.design(self._pump(pump), cap, after_pump=after_pump))

    def _pump(self, name: str) -> Pump:
        part = self.classes["pump"][name].standing_in
        assert isinstance(part, Pump)
        return part

    def _cap(self, name: str) -> Cap | None:
        return None if name == NO_CAP else _cap_of(self.caps[name])

    def _length_m(self, start: str, finish: str) -> float:
        if (start, finish) not in self._lengths:
            self._lengths[start, finish] = run_between(self._job.brief.bay, start, finish).length_m
        return self._lengths[start, finish]

    def skeleton(self, found: Found) -> Skeleton:
        """The skeleton of one of the solver's answers."""
        return self._but_for_cap([found])[0]

    def _but_for_cap(self, alike: Sequence[Found]) -> list[Skeleton]:
        """The skeletons of answers that differ by the cap alone."""
        zones = {slot: alike[0][f"zone of {slot}"] for slot in self.slots}
        chosen = {slot: alike[0][self._leaders[slot]] for slot in self.slots}
        classes = tuple((slot, self.classes[self._leaders[slot]][name]) for slot, name in chosen.items())
        in_zones = tuple(sorted(zones.items()))
        ends = (*(self._meets[self._leaders[slot]][name] for slot, name in chosen.items()), *zones.values())
        made = []
        for found in alike:
            key = (*ends, *(self._run_steps[found["pump"], found["cap"], suction] for suction in (True, False)))
            if key not in self._runs:
                self._runs[key] = self._made_runs(found, chosen, zones)
            made.append(Skeleton(classes, in_zones, self.caps.get(found["cap"]), *self._runs[key]))
        return made

    def _made_runs(self, found: Found, chosen: Mapping[str, str], zones: Mapping[str, str]) -> Runs:
        """The runs as they are best, the same made tight, and the zones of each."""
        runs: list[Joint] = []
        tight: list[Joint] = []
        of_zones: list[frozenset[str]] = []
        for index, gap in enumerate(self._gaps):
            lengths = tuple(self._length_m(zones[start], zones[finish]) for start, finish in spans(gap))
            asked = (index, tuple(chosen[step[0]] for step in gap), found["pump"], found["cap"], lengths)
            joints = self._join(*asked)
            assert joints is not None
            turning = self._join(*asked, tight=True) if self._job.brief.bay is not None else joints
            runs += joints
            # A wye of other pieces may make more runs of it, or fewer: then there is no telling which is which.
            tight += turning if turning is not None and len(turning) == len(joints) else joints
            of_zones += [frozenset(zones[slot] for step in gap for slot in step)] * len(joints)
        return tuple(runs), tuple(tight), tuple(of_zones)


def _cap_of(known: InterfaceClass) -> Cap:
    assert isinstance(known.standing_in, Cap)
    return known.standing_in
