"""A charge pipe joint: two pipe ends and one coupler, reducer or elbow coupler between them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from configurator.foundations.verdicts import Verdict
from configurator.joining.bore_steps import area_m2, bend_per_m4, pipe_bore_m, step_per_m4
from configurator.joining.mating import mate, not_known
from configurator.joining.mating_verdict import LIMITS, Mating
from configurator.joining.run_ways import member_of
from configurator.joining.sleeve_mating import held_at, sleeve_cautions
from configurator.joining.words import (
    BEAD_UNSAID,
    END_UNKNOWN,
    bars_apart,
    celsius_words,
    end_words,
    mm_words,
    unheld_words,
)
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Clamp
from configurator.parts.kit import Joint, Member, Need
from configurator.standards.articles import with_article

COUPLER_WALL_M: Final = 4.5e-3
"""Wall [m] of a silicone coupler that states none. Common practice, no source."""

T_BOLT_FROM_PA_GAUGE: Final = 1.0e5
"""Boost [Pa gauge] from which couplers are held by T-bolt clamps alone. Common practice, no source."""

DERATING: Final = ((296.15, 1.0), (423.15, 0.7), (LIMITS.plain_coupler_k, 0.6))
"""What is left of a silicone coupler's pressure at a temperature [K], between them in proportion; it is sold at 23
degC. A lined one falls on as from the last two. Common practice, no source."""

ARRIVES_ASSUMED_K: Final = 423.15
"""Charge on its way to a core where nothing tells how hot it is: 150 degC. Common practice, no source."""

DEMANDS: Final = ("too-hot", "no-lining", "rating-below-pressure", "no-clamp")
"""What a charge joint must meet, in the order in which it is judged."""


@dataclass(frozen=True)
class ChargeConditions:
    """What a charge joint must stand: hottest charge [K], design pressure and boost [Pa gauge], oil mist.

    `step_k`: the steps in which the hottest was rounded up [K]; 0 where it was not.
    """

    hottest_k: float
    design_pa_gauge: float
    boost_pa_gauge: float
    oily: bool = False
    step_k: float = 0.0

    @property
    def lining(self) -> bool:
        """Whether a coupler must be lined: for oil, or for heat."""
        return self.oily or self.hottest_k > LIMITS.plain_coupler_k


def silicone_share(temperature_k: float) -> float:
    """What is left of a silicone coupler's working pressure [-] at a temperature [K]: see `DERATING`, at least 0."""
    if temperature_k <= DERATING[0][0]:
        return 1.0
    (cool, more), (warm, less) = next(
        (pair for pair in pairwise(DERATING) if temperature_k <= pair[1][0]), DERATING[-2:]
    )
    return max(more + (less - more) * (temperature_k - cool) / (warm - cool), 0.0)


def thrust_n(pressure_pa_gauge: float, pipe_od_m: float) -> float:
    """What a pressure [Pa gauge] pushes a joint on a pipe [m outside] apart with: p pi D² / 4 [N]."""
    return pressure_pa_gauge * area_m2(pipe_od_m)


def holds_coupler(clamp: Clamp, od_m: float, boost_pa_gauge: float) -> bool:
    """Whether a clamp for charge air closes on a coupler [m outside, as fitted] and stands the boost [Pa gauge]."""
    return clamp.closes_on(od_m) and (clamp.style == "T-bolt" or boost_pa_gauge < T_BOLT_FROM_PA_GAUGE)


@dataclass(frozen=True)
class _Sleeve:
    """A coupler on its two pipes."""

    adapter: Adapter
    member: Member
    clamped: tuple[tuple[Clamp, float], ...]
    bare_od_m: float | None
    loss_per_m4: float


class ChargeJoiner:
    """Joins charge pipes off one shelf. Answers are kept."""

    def __init__(self, adapters: Iterable[Adapter], clamps: Iterable[Clamp]) -> None:
        """Only what is made for charge air counts."""
        self._adapters = tuple(part for part in adapters if part.medium == "charge")
        fit = [clamp for clamp in clamps if "charge" in clamp.media]
        self._clamps = sorted(fit, key=lambda clamp: (clamp.price_cents, clamp.id))
        self._kept: dict[object, Joint | Verdict] = {}
        self._fits: dict[object, bool] = {}

    @property
    def sizes_m(self) -> frozenset[float]:
        """The sizes of pipe [m] that the couplers are made for."""
        return frozenset(float(end.size_m) for part in self._adapters for end in part.through.ends if end.size_m)

    def join(
        self, start: tuple[str, End], finish: tuple[str, End], conditions: ChargeConditions
    ) -> Joint | Verdict:
        """The best coupler between two pipe ends in flow order, or the broken rule that stands in the way.

        Best: proven, least loss, price, id; found by trying all. A coupler may not be rated under the design
        pressure, derated to the hottest charge, nor under the hottest charge itself, and is lined where that is oily or
        too hot for plain silicone; what states neither is kept and counts as unproven.
        """
        key = (start[1].identity, start[1].bore_m, finish[1].identity, finish[1].bore_m, conditions)
        if key not in self._kept:
            self._kept[key] = self._best(start[1], finish[1], conditions)
        found = self._kept[key]
        names = tuple(f"{slot}.{end.name}" for slot, end in (start, finish))
        if isinstance(found, Verdict):
            return replace(found, subjects=names)
        members = tuple(replace(member, place=f"{start[0]} to {finish[0]}") for member in found.members)
        return replace(found, start=names[0], finish=names[1], members=members)

    def judged(
        self, adapter: Adapter, start: tuple[str, End], finish: tuple[str, End], conditions: ChargeConditions
    ) -> Verdict | None:
        """Whether a coupler stands a joint that it goes into: kept, or the broken demand; None where it does not go."""
        if not self._goes_between(adapter, start[1], finish[1], conditions):
            return None
        sleeve, place = self._sleeve(adapter, start[1], finish[1], conditions), f"{start[0]} to {finish[0]}"
        if _miss(sleeve, conditions)[0] == -len(DEMANDS):
            return Verdict("charge-joint", "kept", (adapter.id, place))
        refused = _refusal(sleeve, conditions)
        return replace(refused, subjects=(adapter.id, place), text=f"{place}: {refused.text}")

    def _best(self, start: End, finish: End, conditions: ChargeConditions) -> Joint | Verdict:
        sleeves = [
            self._sleeve(adapter, start, finish, conditions)
            for adapter in self._adapters
            if self._goes_between(adapter, start, finish, conditions)
        ]
        sound = [sleeve for sleeve in sleeves if _miss(sleeve, conditions)[0] == -len(DEMANDS)]
        if sound:
            return _joint(min(sound, key=_order), start, finish, conditions)
        if sleeves:
            return _refusal(min(sleeves, key=lambda sleeve: _miss(sleeve, conditions)), conditions)
        return self._do_not_meet(start, finish, conditions)

    def _sleeve(self, adapter: Adapter, start: End, finish: End, conditions: ChargeConditions) -> _Sleeve:
        wall = COUPLER_WALL_M if adapter.wall_m is None else float(adapter.wall_m)
        wanted = [(end.size_m or 0.0) + 2.0 * wall for end in (start, finish)]
        found = [self._clamp_for(od, conditions.boost_pa_gauge) for od in wanted]
        bare = next((od for od, clamp in zip(wanted, found, strict=True) if clamp is None), None)
        bores = (pipe_bore_m(start), pipe_bore_m(finish))
        narrow = min(bores)
        if adapter.loss_factor is not None:
            turn = adapter.loss_factor / area_m2(narrow) ** 2
        else:
            turn = bend_per_m4(narrow) if adapter.shape == "elbow" else 0.0
        loss = step_per_m4(*bores) + turn
        clamped = tuple((clamp, od) for clamp, od in zip(found, wanted, strict=True) if clamp is not None)
        return _Sleeve(adapter, _member(adapter, conditions), clamped, bare, loss)

    def _goes_between(self, adapter: Adapter, start: End, finish: End, conditions: ChargeConditions) -> bool:
        a, b = adapter.through.ends
        return any(
            self._goes_on(near, start, conditions) and self._goes_on(far, finish, conditions)
            for near, far in ((a, b), (b, a))
        )

    def _goes_on(self, sleeve: End, pipe: End, conditions: ChargeConditions) -> bool:
        """Whether a sleeve goes on a pipe end; kept, for the same few meet at every core."""
        key = (sleeve.form, sleeve.size, pipe.identity, conditions.boost_pa_gauge)
        if key not in self._fits:
            self._fits[key] = _mating(sleeve, pipe, conditions).verdict == "direct"
        return self._fits[key]

    def _clamp_for(self, fitted_od_m: float, boost_pa_gauge: float) -> Clamp | None:
        return next((clamp for clamp in self._clamps if holds_coupler(clamp, fitted_od_m, boost_pa_gauge)), None)

    def _do_not_meet(self, start: End, finish: End, conditions: ChargeConditions) -> Verdict:
        asked = not_known(start, finish, "charge")
        if asked:
            return _broken("ends-do-not-meet", end_words(start), end_words(finish), "", asked, END_UNKNOWN)
        for end in (start, finish):
            sleeves = [sleeve for part in self._adapters for sleeve in part.through.ends]
            matings = [_mating(sleeve, end, conditions) for sleeve in sleeves]
            if any(mating.verdict == "direct" for mating in matings):
                continue
            if end.form == "spigot" and not held_at(end, conditions.boost_pa_gauge):
                text = unheld_words(end, conditions.boost_pa_gauge)
                return _broken("ends-do-not-meet", end_words(end), "coupler", "", text, BEAD_UNSAID)
            refused = next((mating for mating in matings if mating.verdict == "refuse"), None)
            if refused is not None:
                text = f"{refused.why}: {refused.hazard}"
                return _broken("ends-do-not-meet", end_words(end), "coupler", "", text)
            text = f"no coupler on the shelf goes on {end_words(end)}; missing: {_coupler(start, finish)}"
            return _broken("ends-do-not-meet", end_words(end), "coupler", "", text)
        pair = f"{end_words(start)} and {end_words(finish)}"
        text = f"no single coupler on the shelf joins {pair}; missing: {_coupler(start, finish)}"
        return _broken("ends-do-not-meet", end_words(start), end_words(finish), "", text)


def _coupler(start: End, finish: End) -> str:
    """The coupler that would join two pipes."""
    a, b = (mm_words(end.size_m or 0.0) for end in (start, finish))
    return f"{with_article(a)} coupler" if a == b else f"a reducing coupler from {a} to {b}"


def _mating(sleeve: End, pipe: End, conditions: ChargeConditions) -> Mating:
    return mate(sleeve, pipe, medium="charge", boost_pa_gauge=conditions.boost_pa_gauge)


def _member(adapter: Adapter, conditions: ChargeConditions) -> Member:
    """The adapter as a member of the boundary; a silicone sleeve is derated to the hottest charge."""
    member = member_of(adapter)
    if member.working_pa_gauge is None or all(end.form != "coupler" for end in adapter.through.ends):
        return member
    share, cold = silicone_share(conditions.hottest_k), member.working_pa_gauge
    if share == 1.0:
        return replace(member, working_pa_gauge=round(cold, 1))
    return replace(
        member,
        working_pa_gauge=round(cold * share, 1),
        cold_pa_gauge=cold,
        derated_at_k=conditions.hottest_k,
    )


def _miss(sleeve: _Sleeve, conditions: ChargeConditions) -> tuple[int, float]:
    """How far a coupler comes through `DEMANDS` (less is further), and by how much it misses the next."""
    member = sleeve.member
    if member.hottest_k is not None and member.hottest_k < conditions.hottest_k:
        return 0, conditions.hottest_k - member.hottest_k
    if conditions.lining and not sleeve.adapter.lined:
        return -1, 0.0
    if member.working_pa_gauge is not None and member.working_pa_gauge < conditions.design_pa_gauge:
        return -2, conditions.design_pa_gauge - member.working_pa_gauge
    return (-3, 0.0) if sleeve.bare_od_m is not None else (-4, 0.0)


def _refusal(sleeve: _Sleeve, conditions: ChargeConditions) -> Verdict:
    rule = DEMANDS[-_miss(sleeve, conditions)[0]]
    member, part = sleeve.member, sleeve.adapter.id
    rounded = f" (rounded up, by less than {conditions.step_k:g} K)" if conditions.step_k else ""
    sees = f"{celsius_words(conditions.hottest_k)}{rounded}"
    if rule == "too-hot":
        assert member.hottest_k is not None
        stands = celsius_words(member.hottest_k)
        text = f"'{part}' stands {stands}, the charge is {sees}"
        return _broken(rule, conditions.hottest_k, member.hottest_k, "K", text)
    if rule == "no-lining":
        why = "the charge is oily" if conditions.oily else f"the charge is {sees}"
        return _broken(rule, "plain", "lined", "", f"'{part}' is plain silicone, and {why}: it needs a fluoro lining")
    if rule == "rating-below-pressure":
        assert member.working_pa_gauge is not None
        rated, design = bars_apart(member.working_pa_gauge, conditions.design_pa_gauge)
        warm = celsius_words(conditions.hottest_k)
        text = f"'{part}' is good for {rated} at {warm}, the charge pipe may see {design}"
        return _broken(rule, member.working_pa_gauge, conditions.design_pa_gauge, "Pa", text)
    assert sleeve.bare_od_m is not None
    kind = "T-bolt clamp" if conditions.boost_pa_gauge >= T_BOLT_FROM_PA_GAUGE else "charge clamp"
    text = f"no {kind} on the shelf closes on {mm_words(sleeve.bare_od_m)}, the outside of '{part}' as fitted"
    return _broken(rule, sleeve.bare_od_m, "", "m", text)


def _broken(rule: str, found: float | str, limit: float | str, unit: str, text: str, cause: str = "") -> Verdict:
    return Verdict(rule, "broken", (), found, limit, unit, text, cause)


def _order(sleeve: _Sleeve) -> tuple[object, ...]:
    member = sleeve.member
    price = sleeve.adapter.price_cents + sum(clamp.price_cents for clamp, _ in sleeve.clamped)
    unproven = member.working_pa_gauge is None or member.hottest_k is None
    return (unproven, round(sleeve.loss_per_m4), price, sleeve.adapter.id)


def _joint(sleeve: _Sleeve, start: End, finish: End, conditions: ChargeConditions) -> Joint:
    adapter = sleeve.adapter
    on_pipes = [clamp for clamp, _ in sleeve.clamped]
    pieces = (adapter, *on_pipes)
    bores = (pipe_bore_m(start), pipe_bore_m(finish))
    clamps = Counter(clamp.id for clamp in on_pipes)
    return Joint(
        medium="charge",
        start="",
        finish="",
        through=(adapter.id,),
        hose=None,
        hose_length_m=0.0,
        hose_bore_m=0.0,
        roughness_m=0.0,
        bore_m=min(bores),
        loss_per_m4=sleeve.loss_per_m4,
        volume_m3=area_m2(min(bores)) * float(adapter.length_m),
        needs=tuple(Need("clamp", part, count, "piece") for part, count in sorted(clamps.items())),
        members=(sleeve.member,),
        price_cents=sum(piece.price_cents for piece in pieces),
        mass_kg=sum(0.0 if piece.mass_kg is None else float(piece.mass_kg) for piece in pieces),
        thrust_n=thrust_n(conditions.boost_pa_gauge, max(start.size_m or 0.0, finish.size_m or 0.0)),
        cautions=sleeve_cautions("coupler", min(bores), suction=False, hottest_k=conditions.hottest_k),
        clamped=tuple((clamp.id, round(od, 6)) for clamp, od in sleeve.clamped),
    )
