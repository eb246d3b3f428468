"""The one piece off a shelf that joins two ends which do not join as they are: the cheapest, or what it would be."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import product

from configurator.foundations.verdicts import Caution
from configurator.joining.bore_steps import area_ratio, end_bore_m
from configurator.joining.chains import SUCTION_AREA_RATIO
from configurator.joining.charge_joint import silicone_share
from configurator.joining.mating import SLEEVES, mate
from configurator.joining.mating_verdict import LIMITS, Mating, MatingMedium, refuse
from configurator.joining.missing import OTHER_FORM, OTHER_SEX
from configurator.joining.ratings import charge_design_pa_gauge
from configurator.joining.run_ways import STUB_LENGTH_M, adapter_bore_m, hose_range_k, stands_vacuum
from configurator.joining.sleeve_mating import sleeve_cautions, sleeve_fit
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
    """What joins two ends: an adapter or none, the stubs of hose it takes, what each joint needs and wants said."""

    adapter: Adapter | None
    stubs: tuple[Hose, ...]
    needs: tuple[Need, ...] = ()
    cautions: tuple[Caution, ...] = ()

    @property
    def pieces(self) -> tuple[Adapter | Hose, ...]:
        """Stubs and adapter."""
        return (*self.stubs, *(() if self.adapter is None else (self.adapter,)))

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
    """Everything off a shelf that joins two ends as one piece and stands the service: see `fitting` and `serves`."""
    return [bridge for bridge in fitting(a, b, adapters, hoses, service) if serves(bridge, service)]


def fitting(
    a: End, b: End, adapters: Iterable[Adapter], hoses: Iterable[Hose], service: Service
) -> list[Bridge]:
    """Everything off a shelf that joins two ends as one piece, whatever it stands; with two spigots also hose alone.

    On the suction side no step between the bores of fittings may fall below the least area ratio.
    """
    fit = [hose for hose in hoses if service.medium in hose.media]
    found = _links(a, b, fit, service) if a.form == b.form == "spigot" and service.medium == "coolant" else []
    for adapter in adapters:
        if adapter.medium != service.medium or not _wide_enough(adapter, a, b, service):
            continue
        one, other = adapter.through.ends
        for near, far in ((one, other), (other, one)):
            for first, second in product(_links(a, near, fit, service), _links(far, b, fit, service)):
                said = tuple(dict.fromkeys((*first.cautions, *second.cautions)))
                found.append(Bridge(adapter, first.stubs + second.stubs, _counted(first.needs + second.needs), said))
    return found


def serves(bridge: Bridge, service: Service) -> bool:
    """Whether every piece stands what the joint sees: heat, a lining where it wants one, suction, pressure."""
    hot = service.hottest_k is not None and hottest_of_k(bridge) < service.hottest_k
    weak = holds_of_pa_gauge(bridge, service) < service.design_pa_gauge
    unlined = wants_lining(service) and plain_silicone(bridge.pieces)
    return not hot and not unlined and not weak and not (service.suction and sucked_flat(bridge.pieces))


def wants_lining(service: Service) -> bool:
    """Whether charge is so hot that a silicone coupler must be lined, as every joint of a kit has it."""
    return service.medium == "charge" and service.hottest_k is not None and service.hottest_k > LIMITS.plain_coupler_k


def plain_silicone(pieces: Sequence[Adapter | Hose]) -> bool:
    """Whether there is a coupler without a lining among pieces."""
    return any(isinstance(piece, Adapter) and _is_sleeve(piece) and not piece.lined for piece in pieces)


def hottest_of_k(bridge: Bridge) -> float:
    """The hottest [K] that every piece stands; without end where none says."""
    return min(map(stands_k, bridge.pieces))


def holds_of_pa_gauge(bridge: Bridge, service: Service) -> float:
    """The pressure [Pa gauge] that every piece holds as hot as it gets; without end where none says."""
    return min(holds_pa_gauge(piece, service.hottest_k) for piece in bridge.pieces)


def sucked_flat(pieces: Sequence[Adapter | Hose]) -> bool:
    """Whether there is hose among pieces that may not lie before the pump, or of which nobody says that it may."""
    return any(isinstance(piece, Hose) and not stands_vacuum(piece) for piece in pieces)


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
    sleeve = isinstance(piece, Adapter) and _is_sleeve(piece)
    return rated * silicone_share(hottest_k) if sleeve and hottest_k is not None else rated


def _is_sleeve(piece: Adapter) -> bool:
    return any(end.form == "coupler" for end in piece.through.ends)


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


def _wide_enough(adapter: Adapter, a: End, b: End, service: Service) -> bool:
    """Whether an adapter starves no pump; anywhere else any does."""
    if not service.suction:
        return True
    bore = adapter_bore_m(adapter)
    fittings = [end_bore_m(end) for end in (a, b) if end.form not in SLEEVES]
    return all(area_ratio(fitting, bore) >= SUCTION_AREA_RATIO for fitting in fittings if fitting > 0.0)


def _links(end: End, near: End, hoses: Sequence[Hose], service: Service) -> list[Bridge]:
    """The ways in which an end goes to another: as it is, or two spigots by each stub of hose; none where it does not.
    """
    if end.form == near.form == "spigot":
        if not all(spigot.bead or spigot.barb for spigot in (end, near)):
            return []
        clamps, suction = (Need("hose clamp", None, 2, "piece"),), service.suction
        return [
            Bridge(None, (hose,), clamps, sleeve_cautions("hose", float(hose.bore_m), suction=suction, hottest_k=None))
            for hose in hoses
            if all(sleeve_fit("hose", spigot.size_m or 0.0, float(hose.bore_m)) == "direct" for spigot in (end, near))
        ]
    mating = mate(
        end,
        near,
        medium=service.medium,
        boost_pa_gauge=service.boost_pa_gauge,
        suction=service.suction,
        hottest_k=service.hottest_k,
    )
    return [Bridge(None, (), mating.needs, mating.cautions)] if mating.verdict == "direct" else []


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
