"""A coolant run between two parts: one hose, and at each end the bare spigot or a chain of adapters off the shelf."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from configurator.foundations.verdicts import Verdict
from configurator.joining.bore_steps import area_m2, area_ratio
from configurator.joining.chains import SUCTION_AREA_RATIO, ChainFinder
from configurator.joining.links import Links
from configurator.joining.mating_verdict import LIMITS
from configurator.joining.missing import EndsApart, MissingAdapter, missing_adapters
from configurator.joining.run_ways import STUB_LENGTH_M, Way, coldest_of_k, member_of, roughness_m, stands_vacuum
from configurator.joining.words import bar_words, celsius_words, end_words, mm_words
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Clamp, Hose
from configurator.parts.kit import Joint, Need

DEMANDS: Final = ("too-cold", "too-hot", "rating-below-pressure", "suction-hose", "suction-step", "no-clamp")
"""What a run must meet, in the order in which it is judged."""


@dataclass(frozen=True)
class RunConditions:
    """What a run must stand: coolant temperatures [K], design pressure [Pa gauge], pump suction or not."""

    hottest_k: float
    coldest_k: float
    design_pa_gauge: float = 0.0
    suction: bool = False


def run_place(start: str, finish: str) -> str:
    """The name of the place between two parts, as members carry it."""
    return f"{start} to {finish}"


def join_by_hose(
    start: tuple[str, End],
    finish: tuple[str, End],
    *,
    length_m: float,
    hoses: Iterable[Hose],
    adapters: Iterable[Adapter],
    clamps: Iterable[Clamp],
    conditions: RunConditions,
) -> Joint | Verdict:
    """One run off a shelf; see `HoseJoiner.join`, which is the one to keep where many runs are wanted."""
    return HoseJoiner(hoses, adapters, clamps).join(start, finish, length_m, conditions)


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
        """
        key = (_key(start[1]), _key(finish[1]), length_m, conditions)
        if key not in self._runs:
            self._runs[key] = self._best(start[1], finish[1], length_m, conditions)
        found = self._runs[key]
        if isinstance(found, Verdict):
            return replace(found, subjects=(_name(start), _name(finish)))
        place = run_place(start[0], finish[0])
        members = tuple(replace(member, place=place) for member in found.members)
        return replace(found, start=_name(start), finish=_name(finish), members=members)

    def apart(self, start: End, finish: End) -> EndsApart | None:
        """Whether no run at all joins two ends, whatever it must stand; with the adapter that is missing."""
        key = (_key(start), _key(finish))
        if key not in self._apart:
            joined = self._any.best(start, finish, 1.0) is not None
            self._apart[key] = None if joined else self._do_not_meet(start, finish)
        return self._apart[key]

    def _best(self, start: End, finish: End, length_m: float, conditions: RunConditions) -> Joint | Verdict:
        found = self._finder(conditions).best(start, finish, length_m)
        if found is not None:
            return _joint(*found, length_m, suction=conditions.suction)
        simple = [
            pair for pieces in range(5) for pair in self._one_at_each_end.pairs(start, finish, pieces)
        ]
        if simple:
            return _refusal(*min(simple, key=lambda pair: _miss(pair[0], pair[1], conditions)), conditions)
        for eased, steps in _eased(conditions):
            found = self._finder(eased, clamped=False, steps=steps).best(start, finish, length_m)
            if found is not None:
                return _refusal(*found, conditions)
        verdict = self.apart(start, finish)
        assert verdict is not None
        return verdict

    def _finder(self, conditions: RunConditions, *, clamped: bool = True, steps: bool = False) -> ChainFinder:
        """Finds runs among the pieces that stand the conditions, each on its own; `steps`: also before the pump."""
        pieces: tuple[Hose | Adapter, ...] = (*self._links.hoses, *self._links.adapters)
        allowed = frozenset(part.id for part in pieces if _stands(part, conditions) and self._sucks(part, conditions))
        key = (allowed, conditions.suction and not steps, clamped)
        if key not in self._finders:
            self._finders[key] = ChainFinder(self._links, allowed, suction=key[1], clamped=clamped)
        return self._finders[key]

    def _sucks(self, part: Hose | Adapter, conditions: RunConditions) -> bool:
        """Whether a piece is not sucked flat; only before the pump, and only of hoses, is that asked."""
        if not conditions.suction or not isinstance(part, Hose):
            return True
        stands = stands_vacuum(part)
        return self._vacuum_unsaid if stands is None else stands

    def _do_not_meet(self, start: End, finish: End) -> EndsApart:
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
            text = f"no hose and no adapter on the shelf fits {end_words(end)}{buy}"
            return _apart("ends-do-not-meet", end_words(end), "hose", text, missing)
        text = f"no hose and no adapters on the shelf join {end_words(start)} and {end_words(finish)}{buy}"
        return _apart("ends-do-not-meet", end_words(start), end_words(finish), text, missing)


def _apart(rule: str, found: str, limit: str, text: str, missing: tuple[MissingAdapter, ...]) -> EndsApart:
    return EndsApart(rule, "broken", (), found, limit, "", text, missing)


def _stands(part: Hose | Adapter, conditions: RunConditions) -> bool:
    """Whether a piece stands the temperatures and the pressure of a run; what it does not state it stands."""
    member, coldest = member_of(part), coldest_of_k(part)
    return (
        (coldest is None or coldest <= conditions.coldest_k)
        and (member.hottest_k is None or member.hottest_k >= conditions.hottest_k)
        and (member.working_pa_gauge is None or member.working_pa_gauge >= conditions.design_pa_gauge)
    )


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


def _broken(rule: str, found: float | str, limit: float | str, unit: str, text: str) -> Verdict:
    return Verdict(rule, "broken", (), found, limit, unit, text)


def _miss(out: Way, into: Way, conditions: RunConditions) -> tuple[int, float]:
    """How far a pair of ways comes through `DEMANDS` (less is further), and how far it misses the next."""
    colder = max(out.coldest_k, into.coldest_k) - conditions.coldest_k
    if colder > 0:
        return 0, colder
    hotter = conditions.hottest_k - min(out.hottest_k, into.hottest_k)
    if hotter > 0:
        return -1, hotter
    above = conditions.design_pa_gauge - min(out.rated_pa_gauge, into.rated_pa_gauge)
    if above > 0:
        return -2, above
    if conditions.suction:
        if _flattened(out, into):
            return -3, 0.0
        ratio = _least_area_ratio(out, into)
        if ratio < SUCTION_AREA_RATIO:
            return -4, -ratio
    if out.bare_od_m is not None or into.bare_od_m is not None:
        return -5, 0.0
    return -6, 0.0


def _refusal(out: Way, into: Way, conditions: RunConditions) -> Verdict:
    """The demand that a pair of ways does not meet, in words."""
    rule = DEMANDS[-_miss(out, into, conditions)[0]]
    if rule == "too-cold":
        stands, part = max(
            (coldest, part.id)
            for part in (out.hose, *out.parts, *into.parts)
            if (coldest := coldest_of_k(part)) is not None
        )
        sees = conditions.coldest_k
        text = f"'{part}' stands cold down to {celsius_words(stands)}, the run sees {celsius_words(sees)}"
        return _broken(rule, sees, stands, "K", text)
    members = (*out.members, *into.members)
    if rule == "too-hot":
        stands, part = min((m.hottest_k, m.part) for m in members if m.hottest_k is not None)
        sees = conditions.hottest_k
        text = f"'{part}' stands {celsius_words(stands)}, the run sees {celsius_words(sees)}"
        return _broken(rule, sees, stands, "K", text)
    if rule == "rating-below-pressure":
        rated, part = min((m.working_pa_gauge, m.part) for m in members if m.working_pa_gauge is not None)
        design = conditions.design_pa_gauge
        text = f"'{part}' is good for {bar_words(rated)}, the run may see {bar_words(design)}"
        return _broken(rule, rated, design, "Pa", text)
    if rule == "suction-hose":
        hose = _flattened(out, into)[0]
        lacks = "is neither wired nor rated" if hose.vacuum is False else "is not said to be wired or rated"
        text = f"'{hose.id}' {lacks} for vacuum: before the pump a plain hose over 19 mm is sucked flat"
        return _broken(rule, float(hose.bore_m), LIMITS.unwired_suction_m, "m", text)
    if rule == "suction-step":
        ratio = _least_area_ratio(out, into)
        text = (
            f"before the pump the bore steps to {ratio:.0%} of its area (at least {SUCTION_AREA_RATIO:.0%}): "
            "the pump is starved and cavitates"
        )
        return _broken(rule, ratio, SUCTION_AREA_RATIO, "", text)
    bare = out.bare_od_m if out.bare_od_m is not None else into.bare_od_m
    assert bare is not None
    text = f"no coolant clamp closes on {mm_words(bare)}, the outside of '{out.hose.id}' as fitted"
    return _broken(rule, bare, "", "m", text)


def _flattened(out: Way, into: Way) -> list[Hose]:
    """Hoses of a pair of ways of which nobody says that they stand the pump's suction."""
    return [hose for hose in (out.hose, *out.chain.stubs, *into.chain.stubs) if not stands_vacuum(hose)]


def _least_area_ratio(out: Way, into: Way) -> float:
    """Least area ratio of the steps between fittings [-]; the hose itself is left out."""
    bores = (*out.chain.fitting_bores_m, *into.chain.fitting_bores_m[::-1])
    return min(area_ratio(before, after) for before, after in pairwise(bores))


def _joint(out: Way, into: Way, length_m: float, *, suction: bool) -> Joint:
    hose = out.hose
    stubs = [stub for way in (out, into) for stub in way.chain.stubs]
    adapters = (*out.chain.adapters, *into.chain.adapters[::-1])
    clamps = (*out.clamps, *into.clamps)
    bore = float(hose.bore_m)
    return Joint(
        medium="coolant",
        start="",
        finish="",
        through=tuple(adapter.id for adapter in adapters),
        hose=hose.id,
        hose_length_m=length_m,
        hose_bore_m=bore,
        roughness_m=roughness_m(hose),
        bore_m=min(*out.bores_m, *into.bores_m),
        loss_per_m4=out.out_per_m4 + into.in_per_m4,
        volume_m3=math.fsum(
            [area_m2(bore) * length_m] + [area_m2(float(stub.bore_m)) * STUB_LENGTH_M for stub in stubs]
        ),
        needs=_needs((*out.chain.needs, *into.chain.needs), clamps, stubs),
        members=tuple(dict.fromkeys((*out.members, *into.members))),
        price_cents=out.price_cents + into.price_cents + round(hose.price_cents * length_m),
        mass_kg=math.fsum(
            [length_m * _mass_kg(hose)]
            + [STUB_LENGTH_M * _mass_kg(stub) for stub in stubs]
            + [_mass_kg(adapter) for adapter in adapters]
            + [_mass_kg(clamp) for clamp in clamps]
        ),
        cautions=tuple(dict.fromkeys(caution for way in (out, into) for caution in way.cautions(suction=suction))),
        before_hose=len(out.chain.adapters),
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
