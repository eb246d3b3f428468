"""A coolant run between two parts: one hose, and at each end the bare spigot or one adapter off the shelf."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from configurator.foundations.verdicts import Verdict
from configurator.joining.bore_steps import area_m2
from configurator.joining.run_ways import (
    REFERENCE_DENSITY,
    REFERENCE_FLOW_M3_PER_S,
    STUB_LENGTH_M,
    Way,
    WayFinder,
    coldest_of_k,
    roughness_m,
)
from configurator.joining.words import bar_words, celsius_words, end_words, mm_words
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Clamp, Hose
from configurator.parts.kit import Joint, Need

SUCTION_AREA_RATIO: Final = 0.80
"""Least area ratio of a step before the pump. Common practice, no source."""

DEMANDS: Final = ("too-cold", "too-hot", "rating-below-pressure", "suction-step", "no-clamp")
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

    def __init__(self, hoses: Iterable[Hose], adapters: Iterable[Adapter], clamps: Iterable[Clamp]) -> None:
        self._finder = WayFinder(hoses, adapters, clamps)
        self._ways: dict[object, dict[str, list[Way]]] = {}
        self._runs: dict[object, Joint | Verdict] = {}

    def join(
        self, start: tuple[str, End], finish: tuple[str, End], length_m: float, conditions: RunConditions
    ) -> Joint | Verdict:
        """The best run from one part's end to another's, or the broken rule that stands in the way.

        `start`, `finish`: the slot and its end, in flow order. `length_m` [m]: the run between the two.
        Best: proven, fewest pieces, least loss at the reference flow (to 1 Pa), price, ids;
        found by trying all. On the pump's suction no step between the bores of fittings may fall below
        `SUCTION_AREA_RATIO`; the hose is left out of that, for a barbed spigot is always narrower than its
        hose.
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

    def _ways_of(self, end: End) -> dict[str, list[Way]]:
        key = _key(end)
        if key not in self._ways:
            by_hose: dict[str, list[Way]] = {}
            for way in self._finder.ways(end):
                by_hose.setdefault(way.hose.id, []).append(way)
            self._ways[key] = by_hose
        return self._ways[key]

    def _best(self, start: End, finish: End, length_m: float, conditions: RunConditions) -> Joint | Verdict:
        ways_out, ways_in = self._ways_of(start), self._ways_of(finish)
        pairs = [
            (out, into)
            for hose_id in ways_out
            if hose_id in ways_in
            for out in ways_out[hose_id]
            for into in ways_in[hose_id]
        ]
        sound = [pair for pair in pairs if _holds(*pair, conditions)]
        if sound:
            return _joint(*min(sound, key=lambda pair: _order(pair[0], pair[1], length_m)), length_m)
        if pairs:
            out, into = min(pairs, key=lambda pair: _miss(pair[0], pair[1], conditions))
            return _refusal(out, into, conditions)
        return self._do_not_meet(start, finish)

    def _do_not_meet(self, start: End, finish: End) -> Verdict:
        for end in (start, finish):
            if self._ways_of(end):
                continue
            alike = self._finder.look_alikes(end)
            if alike:
                part, hazard = alike[0]
                text = f"no adapter fits {end_words(end)}; '{part.id}' seems to and must not: {hazard}"
                return _broken("look-alike-thread", part.id, end_words(end), "", text)
            text = f"no hose and no adapter on the shelf fits {end_words(end)}"
            return _broken("ends-do-not-meet", end_words(end), "hose", "", text)
        text = f"no hose with an adapter at each end joins {end_words(start)} and {end_words(finish)}"
        return _broken("ends-do-not-meet", end_words(start), end_words(finish), "", text)


def _key(end: End) -> tuple[object, ...]:
    return (*end.identity, end.bore_m)


def _name(slot_and_end: tuple[str, End]) -> str:
    return f"{slot_and_end[0]}.{slot_and_end[1].name}"


def _broken(rule: str, found: float | str, limit: float | str, unit: str, text: str) -> Verdict:
    return Verdict(rule, "broken", (), found, limit, unit, text)


def _holds(out: Way, into: Way, conditions: RunConditions) -> bool:
    """Whether a pair of ways meets every demand."""
    return _miss(out, into, conditions)[0] == -len(DEMANDS)


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
        ratio = _least_area_ratio(out, into)
        if ratio < SUCTION_AREA_RATIO:
            return -3, -ratio
    if out.bare_od_m is not None or into.bare_od_m is not None:
        return -4, 0.0
    return -5, 0.0


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


def _least_area_ratio(out: Way, into: Way) -> float:
    """Least area ratio of the steps between fittings [-]; the hose itself is left out."""
    bores = (*out.fitting_bores_m, *into.fitting_bores_m[::-1])
    return round(min((min(a, b) / max(a, b)) ** 2 for a, b in pairwise(bores)), 6)


def _order(out: Way, into: Way, length_m: float) -> tuple[object, ...]:
    unproven = out.unproven or into.unproven
    steps = REFERENCE_DENSITY / 2.0 * REFERENCE_FLOW_M3_PER_S**2 * (out.out_per_m4 + into.in_per_m4)
    loss = steps + out.friction_pa_per_m * length_m
    price = out.price_cents + into.price_cents + round(out.hose.price_cents * length_m)
    return (unproven, len(out.ids) + len(into.ids), round(loss), price, out.ids, out.hose.id, into.ids)


def _joint(out: Way, into: Way, length_m: float) -> Joint:
    hose = out.hose
    stubs = [way.stub for way in (out, into) if way.stub is not None]
    adapters = [way.adapter for way in (out, into) if way.adapter is not None]
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
        needs=_needs((*out.needs, *into.needs), clamps, stubs),
        members=tuple(dict.fromkeys((*out.members, *into.members))),
        price_cents=out.price_cents + into.price_cents + round(hose.price_cents * length_m),
        mass_kg=math.fsum(
            [length_m * _mass_kg(hose)]
            + [STUB_LENGTH_M * _mass_kg(stub) for stub in stubs]
            + [_mass_kg(adapter) for adapter in adapters]
            + [_mass_kg(clamp) for clamp in clamps]
        ),
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
