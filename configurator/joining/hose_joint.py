"""A coolant run between two parts: one hose, and at each end the bare spigot or a chain of adapters off the shelf."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from configurator.foundations.verdicts import Verdict
from configurator.joining.bore_steps import area_m2, chain_per_m4, end_bore_m, least_known_m, mouth_per_m4
from configurator.joining.chains import MOST_ADAPTERS, MOST_UNSTACKED, ChainFinder
from configurator.joining.links import Links
from configurator.joining.mating import not_known
from configurator.joining.missing import EndsApart, MissingAdapter, missing_adapters
from configurator.joining.run_refusal import RunConditions, miss, refusal, refusal_of_piece
from configurator.joining.run_ways import STUB_LENGTH_M, HalfRun, roughness_m
from configurator.joining.words import BEAD_UNSAID, END_UNKNOWN, end_words, unheld_words
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Clamp, Hose
from configurator.parts.kit import Joint, Need
from configurator.parts.layouts import kind_of_slot


def run_place(start: str, finish: str) -> str:
    """The name of the place between two parts, as members carry it."""
    return f"{start} to {finish}"


class HoseJoiner:
    """Joins coolant ends by hose off one shelf. Answers are kept: the same ends come up again."""

    def __init__(
        self,
        hoses: Iterable[Hose],
        adapters: Iterable[Adapter],
        clamps: Iterable[Clamp],
        *,
        vacuum_unsaid: bool = False,
    ) -> None:
        """`vacuum_unsaid`: a wide hose that does not say whether it stands vacuum may lie before the pump."""
        self._links = Links(hoses, adapters, clamps)
        self._vacuum_unsaid = vacuum_unsaid
        self._allowed: dict[RunConditions, frozenset[str]] = {}
        self._finders: dict[object, ChainFinder] = {}
        self._runs: dict[object, Joint | Verdict] = {}
        self._apart: dict[object, EndsApart | None] = {}
        everything = frozenset(part.id for part in (*self._links.hoses, *self._links.adapters))
        self._any = ChainFinder(self._links, everything, clamped=False)
        self._one_at_each_end = ChainFinder(self._links, everything, clamped=False, most=1, beaten_too=True)

    def join(
        self, start: tuple[str, End], finish: tuple[str, End], length_m: float, conditions: RunConditions
    ) -> Joint | Verdict:
        """The best run from one part's end to another's, or the broken rule that stands in the way.

        `start`, `finish`: the slot and its end, in flow order. `length_m` [m]: the run between the two.
        Best: proven, adapters not stacked on one end, fewest pieces, least loss at the reference flow (to 1 Pa),
        price, ids, of all runs with up to `chains.MOST_ADAPTERS` adapters over both ends. On the pump's suction
        no step between the bores of fittings may fall below `SUCTION_AREA_RATIO`; the hose is left out of that,
        for a barbed spigot is always narrower than its hose. A wide hose there must stand vacuum: `stands_vacuum`.
        A tight run is that with the least room ahead of its two ends together, of those that are proven if any is,
        with at most one adapter at each end; then as above.
        """
        key = (_key(start[1]), _key(finish[1]), length_m, conditions)
        if key not in self._runs:
            self._runs[key] = self._best(start[1], finish[1], length_m, conditions)
        found = self._runs[key]
        if isinstance(found, Verdict):
            return replace(found, subjects=(_name(start), _name(finish)))
        place = run_place(start[0], finish[0])
        members = tuple(replace(member, place=place) for member in found.members)
        loss_per_m4 = found.loss_per_m4 + _mouths_per_m4(start, finish)
        return replace(found, start=_name(start), finish=_name(finish), members=members, loss_per_m4=loss_per_m4)

    def judged(
        self, piece: Hose | Adapter, start: tuple[str, End], finish: tuple[str, End], conditions: RunConditions
    ) -> Verdict | None:
        """Whether a piece of the shelf stands a run that it goes into: kept, or the broken demand.

        None where it does not: where no end is brought into that hose, or is followed by that adapter.
        """
        if not any(self._goes_into(piece, end) for _, end in (start, finish)):
            return None
        refused, place = self._refusal(piece, conditions), run_place(start[0], finish[0])
        if refused is None:
            return Verdict("run", "kept", (piece.id, place))
        return replace(refused, subjects=(piece.id, place), text=f"{place}: {refused.text}")

    def apart(self, start: End, finish: End) -> EndsApart | None:
        """Whether no run at all joins two ends, whatever it must stand; with the adapter that is missing."""
        key = (_key(start), _key(finish))
        if key not in self._apart:
            joined = self._any.best(start, finish, 1.0) is not None
            self._apart[key] = None if joined else self._do_not_meet(start, finish)
        return self._apart[key]

    def _best(self, start: End, finish: End, length_m: float, conditions: RunConditions) -> Joint | Verdict:
        found = self._tight(start, finish, length_m, conditions) if conditions.tight else None
        found = found or self._finder(conditions).best(start, finish, length_m)
        if found is not None:
            return _joint(*found, length_m, suction=conditions.suction)
        simple = [
            pair for pieces in range(MOST_UNSTACKED + 1) for pair in self._one_at_each_end.pairs(start, finish, pieces)
        ]
        if simple:
            return refusal(*min(simple, key=lambda pair: miss(pair[0], pair[1], conditions)), conditions)
        for eased, steps in _eased(conditions):
            found = self._finder(eased, clamped=False, steps=steps).best(start, finish, length_m)
            if found is not None:
                return refusal(*found, conditions)
        verdict = self.apart(start, finish)
        assert verdict is not None
        return verdict

    def _tight(
        self, start: End, finish: End, length_m: float, conditions: RunConditions
    ) -> tuple[HalfRun, HalfRun] | None:
        finder = self._finder(conditions, simple=True)
        pairs = [pair for pieces in range(MOST_UNSTACKED + 1) for pair in finder.pairs(start, finish, pieces)]
        return min(
            pairs,
            key=lambda pair: (
                pair[0].unproven or pair[1].unproven,
                round((pair[0].ahead.depth_m + pair[1].ahead.depth_m) * 1000),
                len(pair[0].parts) + len(pair[1].parts),
                finder.order(pair[0], pair[1], length_m),
            ),
            default=None,
        )

    def _finder(
        self, conditions: RunConditions, *, clamped: bool = True, steps: bool = False, simple: bool = False
    ) -> ChainFinder:
        """Finds runs among the pieces that stand the conditions, each on its own.

        `steps`: also before the pump; `simple`: one adapter at each end at most.
        """
        if conditions not in self._allowed:
            pieces: tuple[Hose | Adapter, ...] = (*self._links.hoses, *self._links.adapters)
            stand = (part.id for part in pieces if self._refusal(part, conditions) is None)
            self._allowed[conditions] = frozenset(stand)
        allowed = self._allowed[conditions]
        key = (allowed, conditions.suction and not steps, clamped, simple)
        if key not in self._finders:
            most = 1 if simple else MOST_ADAPTERS
            self._finders[key] = ChainFinder(
                self._links, allowed, suction=key[1], clamped=clamped, most=most, beaten_too=simple
            )
        return self._finders[key]

    def _goes_into(self, piece: Hose | Adapter, end: End) -> bool:
        if isinstance(piece, Hose):
            return piece in self._any.reach(end)
        after = (link.adapter for link in self._links.after(end))
        return any(part.id == piece.id and part == piece for part in after)  # the id first: whole parts compare slowly

    def _refusal(self, part: Hose | Adapter, conditions: RunConditions) -> Verdict | None:
        return refusal_of_piece(part, conditions, vacuum_unsaid=self._vacuum_unsaid)

    def _do_not_meet(self, start: End, finish: End) -> EndsApart:
        asked = not_known(start, finish, "coolant")
        if asked:
            return _apart("ends-do-not-meet", end_words(start), end_words(finish), asked, (), END_UNKNOWN)
        reach = {"start": self._any.reach(start), "finish": self._any.reach(finish)}
        missing = missing_adapters(start, finish, reach, self._links.hoses)
        buy = f"; missing: {' and '.join(adapter.text for adapter in missing)}" if missing else ""
        for end, reached in ((start, reach["start"]), (finish, reach["finish"])):
            if reached:
                continue
            alike = self._links.look_alikes(end)
            if alike:
                part, hazard = alike[0]
                text = f"no adapter fits {end_words(end)}; '{part.id}' seems to and must not: {hazard}{buy}"
                return _apart("look-alike-thread", part.id, end_words(end), text, missing)
            if end.form == "spigot" and not (end.bead or end.barb):
                text = unheld_words(end)
                return _apart("ends-do-not-meet", end_words(end), "hose", text, missing, BEAD_UNSAID)
            text = f"no hose and no adapter on the shelf fits {end_words(end)}{buy}"
            return _apart("ends-do-not-meet", end_words(end), "hose", text, missing)
        text = f"no hose and no adapters on the shelf join {end_words(start)} and {end_words(finish)}{buy}"
        return _apart("ends-do-not-meet", end_words(start), end_words(finish), text, missing)


def _apart(
    rule: str, found: str, limit: str, text: str, missing: tuple[MissingAdapter, ...], cause: str = ""
) -> EndsApart:
    return EndsApart(rule, "broken", (), found, limit, "", text, cause, missing)


def _eased(conditions: RunConditions) -> Iterator[tuple[RunConditions, bool]]:
    """Conditions with one demand less each time, in the order against that of `DEMANDS`; clamps go first.

    The flag says whether bores may step before the pump.
    """
    yield conditions, False
    yield conditions, True
    yield (conditions := replace(conditions, suction=False)), True
    yield (conditions := replace(conditions, design_pa_gauge=-math.inf)), True
    yield (conditions := replace(conditions, hottest_k=-math.inf)), True
    yield replace(conditions, coldest_k=math.inf), True


def _key(end: End) -> tuple[object, ...]:
    return (*end.identity, end.bore_m)


def _name(slot_and_end: tuple[str, End]) -> str:
    return f"{slot_and_end[0]}.{slot_and_end[1].name}"


def _mouths_per_m4(start: tuple[str, End], finish: tuple[str, End]) -> float:
    """Sum of K / A² [1/m4] where a run leaves the reservoir, or ends in it."""
    ends = ((start, False), (finish, True))
    bores = ((end_bore_m(end), into) for (slot, end), into in ends if _of_tank(slot))
    return sum(mouth_per_m4(bore, into_tank=into) for bore, into in bores if bore > 0.0)


def _of_tank(slot: str) -> bool:
    return kind_of_slot(slot) == "reservoir"


def _joint(out: HalfRun, into: HalfRun, length_m: float, *, suction: bool) -> Joint:
    hose = out.hose
    stubs = [stub for way in (out, into) for stub in way.chain.stubs]
    adapters = (*out.chain.adapters, *into.chain.adapters[::-1])
    clamps = (*out.clamps, *into.clamps)
    bore = float(hose.bore_m)
    hose_kg = math.fsum([length_m * _mass_kg(hose)] + [STUB_LENGTH_M * _mass_kg(stub) for stub in stubs])
    return Joint(
        medium="coolant",
        start="",
        finish="",
        through=tuple(adapter.id for adapter in adapters),
        hose=hose.id,
        hose_length_m=length_m,
        hose_bore_m=bore,
        roughness_m=roughness_m(hose),
        bore_m=least_known_m(*out.bores_m, *into.bores_m),
        loss_per_m4=out.out_per_m4 + into.in_per_m4,
        volume_m3=math.fsum(
            [area_m2(bore) * length_m] + [area_m2(float(stub.bore_m)) * STUB_LENGTH_M for stub in stubs]
        ),
        needs=_needs((*out.chain.needs, *into.chain.needs), clamps, stubs),
        members=tuple(dict.fromkeys((*out.members, *into.members))),
        price_cents=out.price_cents + into.price_cents + round(hose.price_cents * length_m),
        mass_kg=math.fsum(
            [hose_kg]
            + [_mass_kg(adapter) for adapter in adapters]
            + [_mass_kg(clamp) for clamp in clamps]
        ),
        ahead=(out.ahead, into.ahead),
        cautions=tuple(dict.fromkeys(caution for way in (out, into) for caution in way.cautions(suction=suction))),
        before_hose=len(out.chain.adapters),
        hose_kg=hose_kg,
        clamped=(*out.clamped, *into.clamped),
        steps_per_m4=chain_per_m4(out.bores_m) + chain_per_m4(into.bores_m[::-1]),
    )


def _mass_kg(part: Hose | Adapter | Clamp) -> float:
    return 0.0 if part.mass_kg is None else float(part.mass_kg)


def _needs(generic: tuple[Need, ...], clamps: tuple[Clamp, ...], stubs: list[Hose]) -> tuple[Need, ...]:
    """Clamps counted by id, stubs by the metre, and the generic needs, in a fixed order."""
    needs = [replace(need, quantity=count * need.quantity) for need, count in Counter(generic).items()]
    needs += [Need("clamp", part, count, "piece") for part, count in Counter(c.id for c in clamps).items()]
    lengths = Counter(stub.id for stub in stubs)
    needs += [Need("hose stub", part, count * STUB_LENGTH_M, "m") for part, count in lengths.items()]
    return tuple(sorted(needs, key=lambda need: (need.item, need.part or "")))
