"""The one piece off a shelf that joins two ends which do not join as they are: the cheapest, or what it would be."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace

from configurator.joining.bore_steps import area_ratio, end_bore_m
from configurator.joining.chains import SUCTION_AREA_RATIO
from configurator.joining.charge_joint import silicone_share
from configurator.joining.mating import SLEEVES, mate
from configurator.joining.mating_verdict import Mating, MatingMedium, refuse
from configurator.joining.missing import OTHER_FORM, OTHER_SEX
from configurator.joining.ratings import charge_design_pa_gauge
from configurator.joining.run_ways import STUB_LENGTH_M, adapter_bore_m, hose_range_k
from configurator.joining.sleeve_mating import sleeve_fit
from configurator.joining.words import end_words, mm_words
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Hose
from configurator.parts.kit import Need
from configurator.standards.articles import with_article
from configurator.standards.forms import FORM_FACTS


@dataclass(frozen=True)
class Service:
    """What a joint serves: medium, boost [Pa gauge], on the suction side or not, hottest [K] where it is known.

    `pressure_pa_gauge` [Pa gauge]: the most that a joint of coolant or fuel may see, 0 where nobody said.
    """

    medium: MatingMedium
    boost_pa_gauge: float = 0.0
    suction: bool = False
    hottest_k: float | None = None
    pressure_pa_gauge: float = 0.0

    @property
    def design_pa_gauge(self) -> float:
        """What its pieces must hold [Pa gauge]: that of the boost, else the pressure told; 0 where neither is."""
        return charge_design_pa_gauge(self.boost_pa_gauge) if self.boost_pa_gauge else self.pressure_pa_gauge


@dataclass(frozen=True)
class Bridge:
    """What joins two ends: an adapter or none, the stubs of hose it takes, what each joint needs."""

    adapter: Adapter | None
    stubs: tuple[Hose, ...]
    needs: tuple[Need, ...]

    @property
    def price_cents(self) -> int:
        """Price of adapter and stubs [1/100]; clamps and seals come on top."""
        stubs = sum(round(stub.price_cents * STUB_LENGTH_M) for stub in self.stubs)
        return stubs + (0 if self.adapter is None else self.adapter.price_cents)


def cheapest_bridge(
    a: End, b: End, adapters: Iterable[Adapter], hoses: Iterable[Hose], service: Service
) -> Bridge | None:
    """The cheapest single adapter between two ends, each joint of it direct or by a stub of hose; None for none."""
    return min(bridges(a, b, adapters, hoses, service), key=_order, default=None)


def bridges(
    a: End, b: End, adapters: Iterable[Adapter], hoses: Iterable[Hose], service: Service
) -> list[Bridge]:
    """Everything off a shelf that joins two ends as one piece; with two spigots also a stub of hose alone.

    What is rated below the design pressure, a silicone sleeve as hot as told, or below the hottest that flows, does not
    count. On the suction side no step between the bores of fittings may fall below the least area ratio.
    """
    fit = [hose for hose in hoses if _hose_serves(hose, service)]
    bare = _link(a, b, fit, service) if a.form == b.form == "spigot" and service.medium == "coolant" else None
    found = [Bridge(None, *bare)] if bare is not None else []
    for adapter in adapters:
        if adapter.medium != service.medium or not _adapter_serves(adapter, a, b, service):
            continue
        one, other = adapter.through.ends
        for near, far in ((one, other), (other, one)):
            first, second = _link(a, near, fit, service), _link(far, b, fit, service)
            if first is not None and second is not None:
                found.append(Bridge(adapter, first[0] + second[0], _counted(first[1] + second[1])))
    return found


def stands_k(piece: Adapter | Hose) -> float:
    """The hottest [K] that a piece stands, its ends as well; without end where nothing says."""
    if isinstance(piece, Hose):
        return hose_range_k(piece)[1]
    ends = (FORM_FACTS[end.form].hottest_k for end in piece.through.ends)
    return min((float(at) for at in (piece.through.hottest_k, *ends) if at is not None), default=math.inf)


def holds_pa_gauge(piece: Adapter | Hose, hottest_k: float | None) -> float:
    """The pressure [Pa gauge] that a piece holds, a silicone sleeve at a temperature [K]; no end where unstated."""
    rated = piece.working_pa_gauge if isinstance(piece, Hose) else piece.through.rating.working_pa_gauge
    if rated is None:
        return math.inf
    sleeve = isinstance(piece, Adapter) and any(end.form == "coupler" for end in piece.through.ends)
    return rated * silicone_share(hottest_k) if sleeve and hottest_k is not None else rated


def starved(a: End, b: End, service: Service) -> Mating | None:
    """The refusal of a step between two fittings before the pump, whatever joins them; None where it is fair."""
    if not service.suction or service.medium != "coolant" or {a.form, b.form} & SLEEVES:
        return None
    small, large = sorted((end_bore_m(a), end_bore_m(b)))
    if small == 0.0 or area_ratio(small, large) >= SUCTION_AREA_RATIO:
        return None
    pair = " and ".join(sorted((end_words(a), end_words(b))))
    why = (
        f"{pair}: before the pump the bore steps from {mm_words(large)} to {mm_words(small)}, "
        f"{area_ratio(small, large):.0%} of its area (at least {SUCTION_AREA_RATIO:.0%})"
    )
    return refuse("suction-step", why, "the pump is starved and cavitates", "take ends of one bore before the pump")


def missing_piece(a: End, b: End, service: Service) -> str:
    """The one thing that would join two ends, in words: an adapter, or a piece of hose where the sizes are alike."""
    sleeve = "coupler" if service.medium == "charge" else "hose"
    if a.form == b.form == "spigot" and _like_spigots(a, b, sleeve):
        size = mm_words(max(a.size_m or 0.0, b.size_m or 0.0))
        return f"{with_article(size)} coupler" if sleeve == "coupler" else f"a piece of {size} hose"
    first, second = sorted((_partner_words(a, service), _partner_words(b, service)))
    bore = ", without a narrower bore" if service.suction else ""
    return f"an adapter with {first} at one end and {second} at the other{bore}"


def _order(bridge: Bridge) -> tuple[object, ...]:
    part = "" if bridge.adapter is None else bridge.adapter.id
    return (bridge.price_cents, len(bridge.stubs), part, tuple(stub.id for stub in bridge.stubs))


def _counted(needs: tuple[Need, ...]) -> tuple[Need, ...]:
    """Like needs put together."""
    counted: Counter[Need] = Counter()
    for need in needs:
        counted[replace(need, quantity=1)] += round(need.quantity)
    return tuple(replace(need, quantity=counted[need]) for need in sorted(counted, key=lambda need: need.item))


def _hose_serves(hose: Hose, service: Service) -> bool:
    hottest = service.hottest_k
    if service.medium not in hose.media or holds_pa_gauge(hose, hottest) < service.design_pa_gauge:
        return False
    return hottest is None or stands_k(hose) >= hottest


def _adapter_serves(adapter: Adapter, a: End, b: End, service: Service) -> bool:
    if service.hottest_k is not None and stands_k(adapter) < service.hottest_k:
        return False
    if holds_pa_gauge(adapter, service.hottest_k) < service.design_pa_gauge:
        return False
    if not service.suction:
        return True
    bore = adapter_bore_m(adapter)
    fittings = [end_bore_m(end) for end in (a, b) if end.form not in SLEEVES]
    return all(area_ratio(fitting, bore) >= SUCTION_AREA_RATIO for fitting in fittings if fitting > 0.0)


def _link(
    end: End, near: End, hoses: list[Hose], service: Service
) -> tuple[tuple[Hose, ...], tuple[Need, ...]] | None:
    """How an end goes to an adapter's end: the stub it takes, if any, and its needs; None where it does not."""
    if end.form == near.form == "spigot":
        held = all(spigot.bead or spigot.barb for spigot in (end, near))
        stubs = [
            hose
            for hose in hoses
            if all(sleeve_fit("hose", spigot.size_m or 0.0, float(hose.bore_m)) == "direct" for spigot in (end, near))
        ]
        if not held or not stubs:
            return None
        return (min(stubs, key=lambda hose: (hose.price_cents, hose.id)),), (Need("hose clamp", None, 2, "piece"),)
    mating = mate(
        end,
        near,
        medium=service.medium,
        boost_pa_gauge=service.boost_pa_gauge,
        suction=service.suction,
        hottest_k=service.hottest_k,
    )
    return ((), mating.needs) if mating.verdict == "direct" else None


def _like_spigots(a: End, b: End, sleeve: str) -> bool:
    """Whether one sleeve suits both spigots by size."""
    large = max(a.size_m or 0.0, b.size_m or 0.0)
    return all(sleeve_fit(sleeve, spigot.size_m or 0.0, large) == "direct" for spigot in (a, b))


def _partner_words(end: End, service: Service) -> str:
    """What goes with an end, in words."""
    if end.size_m is not None and end.form in {"hose", "coupler"}:
        return f"{with_article(mm_words(end.size_m))} beaded or barbed spigot"
    if end.size_m is not None and end.form == "spigot":
        sleeve = "coupler" if service.medium == "charge" else "hose"
        return f"{with_article(mm_words(end.size_m))} {sleeve} end"
    if end.form in OTHER_FORM:
        return f"{FORM_FACTS[OTHER_FORM[end.form]].words} {end.size}"
    return end_words(end if end.sex is None else end.model_copy(update={"sex": OTHER_SEX[end.sex]}))
