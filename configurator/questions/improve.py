"""The customer's third question: what does one change buy? One kit, one thing in it changed, all else held.

Every row is a whole kit that the product's own search found: it joins, holds and fits, with its adapters priced again.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.preferred_bore import PreferredBore
from configurator.parts.kinds import Clamp, Fan, Hose, Part, Pump, Reservoir, RigidPart
from configurator.parts.kit import Joint
from configurator.parts.layouts import kind_of_slot
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.prediction.bench import make_columns
from configurator.prediction.report import InShort, in_short
from configurator.questions.answer import OfferedKit
from configurator.questions.changed_brief import without_limits
from configurator.questions.gains import Gain, Improvement, with_shown
from configurator.questions.searches import Searched, coolant_adapters, hose_joiner, make_job, search
from configurator.questions.shortfalls import part_of
from configurator.questions.suggest import by_what_is_missed
from configurator.questions.to_buy import uncovered
from configurator.questions.trials import Ground, Trial, bore_mm, trials
from configurator.ranking.order import ranked
from configurator.search.bill import Line, all_wiring, coolant_lines, joint_lines, part_lines
from configurator.search.fill import Candidate, limits_missed
from configurator.search.job import Job


def improve(
    brief: Brief,
    driving: Driving,
    own: tuple[OwnPart, ...],
    catalogue: Catalogue,
    tables: Tables,
    kit: OfferedKit,
    *,
    order: str = "default",
    box: Sequence[Part] | None = None,
    head_m: float | None = None,
    tell: Callable[[str], None] = lambda words: None,
) -> Improvement:
    """What each single change of `kit` buys; `box`: what the customer has of it already and does not pay again.

    `head_m`: the liquid above the lowest part, where it is stated [m].
    """
    asked = make_job(brief, driving, own, catalogue, tables, head_m)
    loose = make_job(*without_limits((brief, driving)), own, catalogue, tables, head_m)
    assert asked is not None and loose is not None, "a kit was found for this brief"
    ground = Ground(loose, kit, own, catalogue, tables)
    changed = _Changed(ground, asked, order, box, {})
    tried, gains = [], list[Gain]()
    for trial in trials(ground):
        tell(f"what one change buys: {trial.kind}")
        tried.append(trial.kind)
        gains += changed.gains(trial)
    gains.sort(key=lambda gain: (-round(gain.margin_k, 2), gain.price_cents or 0, gain.kind, gain.part or ""))
    enough = asked.conditions.enough_k
    return Improvement(kit, tuple(with_shown(gains)), tuple(dict.fromkeys(tried)), enough, box is not None)


@dataclass(frozen=True)
class _Changed:
    """Searches the trials of one kit, and tells what each kit found is more or less than it."""

    ground: Ground
    asked: Job
    order: str
    box: Sequence[Part] | None
    joiners: dict[object, HoseJoiner]

    def gains(self, trial: Trial) -> Iterator[Gain]:
        """A gain for every kit of a trial that differs in what the trial is about."""
        job = make_job(*trial.asked, self.ground.owned(trial), self.ground.shelf(trial), self.ground.tables)
        if job is None:
            return
        job = replace(job, liquid=self.asked.liquid)
        for one in search(job, lambda words: None, self._joiner(job, trial)):
            found = [replace(kit, missed=limits_missed(self.asked, kit)) for kit in _all(one)]
            proven = [kit for kit in found if kit.proven or not self.ground.kit.proven]
            chosen = self._one_each(one.job, trial, proven)
            if not chosen:
                continue
            columns = make_columns(one.kits.bench, [kit.loop for kit in chosen])
            told = in_short(one.kits.bench, columns, one.job.conditions)
            for kit, thermal in zip(chosen, told, strict=True):
                yield self._gain(one.job, trial, kit, thermal)

    def _joiner(self, job: Job, trial: Trial) -> HoseJoiner:
        key = trial.bore_mm
        if key not in self.joiners:
            self.joiners[key] = hose_joiner(job) if key is None else _in_bore(job, key)
        return self.joiners[key]

    def _one_each(self, job: Job, trial: Trial, kits: Sequence[Candidate]) -> list[Candidate]:
        """The best kit of each set of parts that is one change away, by the order in which kits are offered."""
        best: dict[object, Candidate] = {}
        kept = ranked([kit for kit in kits if not kit.missed], self.order, self.asked.conditions.enough_k)
        for kit in (*kept, *sorted((kit for kit in kits if kit.missed), key=by_what_is_missed)):
            if self._is_one_change(trial, kit):
                key = tuple(part for slot, part in kit.kit.parts if kind_of_slot(slot) != "cap")
                best.setdefault(key, kit)
                if self._same_cap(kit) and not self._same_cap(best[key]):
                    best[key] = kit
        return list(best.values())

    def _same_cap(self, kit: Candidate) -> bool:
        return kit.kit.part("cap") == self.ground.part_of("cap")

    def _is_one_change(self, trial: Trial, kit: Candidate) -> bool:
        """Whether a kit differs from the one that is changed in the trial's kinds, and in them alone."""
        before, after = dict(self.ground.kit.parts), dict(kit.kit.parts)
        if trial.kind.startswith(("first", "second")):
            return True
        differs = {kind_of_slot(slot) for slot in {*before, *after} if before.get(slot) != after.get(slot)}
        if not differs <= set(trial.kinds):
            return False
        if trial.kind == "reservoir":
            return "reservoir" in differs and self._litres(after) > self._litres(before)
        if trial.bore_mm is not None:
            return self._runs_in(kit, trial.bore_mm) > 0
        if len(differs) == 2:
            return not differs & before.keys()  # a fan and a timer together are one purchase, not two swaps
        return bool(differs) == bool(trial.kinds)

    def _litres(self, parts: Mapping[str, str]) -> float:
        tank = self._part(parts["reservoir"])
        assert isinstance(tank, Reservoir)
        return float(tank.coolant.volume_m3 or 0.0)

    def _runs_in(self, kit: Candidate, wanted_mm: float) -> int:
        """How many of a kit's runs have hose of this bore."""
        hoses = [self._part(joint.hose) for joint in kit.joints if joint.hose is not None]
        return sum(isinstance(hose, Hose) and bore_mm(hose) == wanted_mm for hose in hoses)

    def _part(self, part_id: str) -> Part:
        return part_of(self.ground.job, part_id)

    def _gain(self, job: Job, trial: Trial, kit: Candidate, thermal: InShort) -> Gain:
        base = self.ground.kit
        kind, part, replaced, along = self._what(trial, kit)
        told = (thermal.recovery_s, base.thermal.recovery_s)
        price = self._bill(job, kit.kit.parts, kit.joints, kit.coolant_m3 * 1e3)
        price -= self._bill(self.ground.job, base.parts, base.joints, base.coolant_l)
        zones = dict(base.zones)
        return Gain(
            kind=kind,
            part=part,
            replaced=replaced,
            along=along,
            change=trial.change,
            larger=self._larger(part, replaced),
            runs=0 if trial.bore_mm is None else self._runs_in(kit, trial.bore_mm),
            moved=tuple(
                (slot, zone) for slot, zone in kit.kit.zones if slot in zones and zones[slot] != zone
            ),
            layout=kit.kit.layout,
            twins=job.layout.twins,
            margin_k=thermal.margin_k - base.thermal.margin_k,
            plateau_k=thermal.charge_out_plateau_k - base.thermal.charge_out_plateau_k,
            recovery_s=None if told[0] is None or told[1] is None else told[0] - told[1],
            clearance_mm=kit.clearance_mm - base.fit.clearance_mm if kit.fit_decided and base.fit.decided else None,
            price_cents=None if trial.kind in ("duct", "start", "ice") else price,
            mass_dry_g=kit.mass_g - base.mass_dry_g,
            current_a=kit.current_a - base.current_a,
            breaks=kit.missed,
            newly=tuple(code for code in kit.missed if code not in base.missed),
            margin_low_k=None if math.isnan(kit.margin_low_k) else kit.margin_low_k - base.thermal.margin_low_k,
        )

    def _what(self, trial: Trial, kit: Candidate) -> tuple[str, str | None, str | None, tuple[str, ...]]:
        """Kind of change, the part that goes in, the part that goes out, and what goes in with it."""
        base = self.ground.kit
        before, after = dict(base.parts), dict(kit.kit.parts)
        new = {slot: part for slot, part in after.items() if before.get(slot) != part}
        gone = {slot: part for slot, part in before.items() if after.get(slot) != part}
        if trial.kind.startswith(("first", "second")):
            kind = trial.kind.partition(" ")[2]
            part = next(part for slot, part in after.items() if kind_of_slot(slot) == kind)
            return trial.kind, part, None, ()
        if trial.bore_mm is not None:
            had = {joint.hose for joint in base.joints}
            wider = next(joint.hose for joint in kit.joints if joint.hose is not None and joint.hose not in had)
            longest = max(base.joints, key=lambda joint: joint.hose_length_m)
            return trial.kind, wider, longest.hose, ()
        if not new and not gone:
            return trial.kind, None, None, ()
        kinds = [kind for kind in ("fan", "timer") if kind in new or kind in gone]
        kind = kinds[0] if trial.kind == "fan" else trial.kind
        if len(kinds) == 2:
            kind = "fan and timer"
        lead = next((part for slot, part in new.items() if kind_of_slot(slot) == kind.partition(" ")[0]), None)
        out = next((part for slot, part in gone.items() if kind_of_slot(slot) == kind.partition(" ")[0]), None)
        along = tuple(dict.fromkeys(part for part in new.values() if part != lead))
        return kind, lead, out, along

    def _larger(self, part: str | None, replaced: str | None) -> bool:
        """Whether a part has a larger body than that whose place it takes; a reservoir that is tried holds more."""
        if part is None or replaced is None:
            return False
        new, old = self._part(part), self._part(replaced)
        if isinstance(new, Reservoir):
            return True
        if not isinstance(new, RigidPart) or not isinstance(old, RigidPart):
            return False
        return _body_m3(new) > _body_m3(old)

    def _bill(
        self, job: Job, parts: Sequence[tuple[str, str]], joints: Sequence[Joint], litres: float
    ) -> int:
        """What a kit costs [cents]; with a box, what the box lacks of it."""
        known = [(slot, part_of(self.ground.job, part_id)) for slot, part_id in parts]
        lines: list[Line] = part_lines(known, job.is_own)
        lines += joint_lines(joints, lambda part_id: self.ground.catalogue[part_id].price_cents)
        motors = [part for _, part in known if isinstance(part, Pump | Fan)]
        lines += chain.from_iterable(all_wiring(motors, job.serving, self.box or ()))
        lines += coolant_lines(job.conditions.coolant, litres, job.tables.coolants)
        if self.box is not None:
            lines = [*uncovered(lines, self.box, {**self.ground.catalogue.parts, **dict(known)})]
        return sum(line.price_cents for line in lines)


def _in_bore(job: Job, preferred_mm: float) -> HoseJoiner:
    hoses = job.serving(Hose)
    first = [hose for hose in hoses if bore_mm(hose) == preferred_mm]
    return PreferredBore(first, hoses, coolant_adapters(job), job.serving(Clamp))


def _all(one: Searched) -> tuple[Candidate, ...]:
    return (*one.kits.kept, *one.kits.missing)


def _body_m3(part: RigidPart) -> float:
    size = part.size
    return float(size.x_m) * float(size.y_m) * float(size.z_m)
