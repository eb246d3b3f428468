"""Pieces of a shelf that would join two ends and are not taken: for want of a bead, or for what they stand."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from configurator.joining.mating_verdict import LIMITS
from configurator.joining.one_piece import Bridge, Service, bridges, holds_pa_gauge, missing_piece, stands_k
from configurator.joining.words import bar_words, bars_apart, celsius_words, mm_words
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Hose


def what_is_missing(
    a: End, b: End, adapters: Sequence[Adapter], hoses: Sequence[Hose], service: Service
) -> tuple[str, str]:
    """Where nothing on the shelf joins two ends: what would, and which of its pieces fit and do not stand it, or ''."""
    plain = [end for end in (a, b) if _wants_a_bead(end, service)]
    a, b = (end.model_copy(update={"bead": True}) if end in plain else end for end in (a, b))
    joined = bridges(a, b, adapters, hoses, service)
    if joined:
        best = min(joined, key=lambda one: one.price_cents)
        goes = "join" if best.stubs and best.adapter is not None else "joins"
        return f"{_bead(plain, service)}; then {_names(best)} {goes} them", ""
    refused = _refused(a, b, adapters, hoses, service)
    piece = missing_piece(a, b, service)
    if refused:
        piece += f", that holds {bar_words(service.design_pa_gauge)}" if service.design_pa_gauge else ""
        piece += f", that stands {celsius_words(service.hottest_k)}" if service.hottest_k is not None else ""
    return (f"{_bead(plain, service)}; and {piece}" if plain else piece), refused


def couplers_that_hold(size_m: float, adapters: Sequence[Adapter], service: Service) -> tuple[list[str], int]:
    """Ids of the shelf's pieces with a coupler end of a size [m] that stand a service, and how many there are."""
    of_size = [
        part
        for part in adapters
        if part.medium == "charge"
        and any(end.form == "coupler" and math.isclose(end.size_m or 0.0, size_m) for end in part.through.ends)
    ]
    return [part.id for part in of_size if _stands(Bridge(part, (), ()), service)], len(of_size)


def _wants_a_bead(end: End, service: Service) -> bool:
    if end.form != "spigot" or end.bead or end.barb:
        return False
    return service.medium != "charge" or service.boost_pa_gauge > LIMITS.bead_above_pa_gauge


def _bead(plain: Sequence[End], service: Service) -> str:
    if not plain:
        return ""
    off = "a hose slips off a plain one"
    if service.medium == "charge":
        off = f"{bar_words(service.boost_pa_gauge)} of boost pushes a coupler off a plain one"
    where = "both spigots" if len(plain) > 1 else f"the {mm_words(plain[0].size_m or 0.0)} spigot"
    return f"a bead on {where}, for {off}: have it rolled"


def _names(bridge: Bridge) -> str:
    pieces = [*bridge.stubs, *([] if bridge.adapter is None else [bridge.adapter])]
    return " and ".join(f"{piece.name} [{piece.id}]" for piece in pieces)


def _refused(a: End, b: End, adapters: Sequence[Adapter], hoses: Sequence[Hose], service: Service) -> str:
    """The pieces that fit two ends and do not stand the service: how many, and how far the best of them goes."""
    held = replace(service, boost_pa_gauge=0.0, pressure_pa_gauge=0.0)
    fit = bridges(a, b, adapters, hoses, replace(held, hottest_k=None))
    if not fit:
        return ""
    count = len({_names(one) for one in fit})  # a piece may go in either way round
    many = f"{count} {'pieces fit' if count > 1 else 'piece fits'}"
    cool = [one for one in fit if service.hottest_k is None or _hottest_k(one) >= service.hottest_k]
    if not cool:
        best = max(fit, key=lambda one: (_hottest_k(one), -one.price_cents))
        stands, at = celsius_words(_hottest_k(best)), celsius_words(service.hottest_k or 0.0)
        return f"{many}, not for this heat: {_names(best)} stands most, {stands}, there it is {at}"
    best = max(cool, key=lambda one: (_holds_pa_gauge(one, service), -one.price_cents))
    warm = "" if service.hottest_k is None else f" at {celsius_words(service.hottest_k)}"
    holds, sees = bars_apart(_holds_pa_gauge(best, service), service.design_pa_gauge)
    return f"{many}, too weak: {_names(best)} holds most, {holds}{warm}, the joint may see {sees}"


def _stands(bridge: Bridge, service: Service) -> bool:
    hot = service.hottest_k is not None and _hottest_k(bridge) < service.hottest_k
    return not hot and _holds_pa_gauge(bridge, service) >= service.design_pa_gauge


def _hottest_k(bridge: Bridge) -> float:
    """The hottest [K] that every piece stands; without end where none says."""
    pieces: list[Adapter | Hose] = [*bridge.stubs, *([] if bridge.adapter is None else [bridge.adapter])]
    return min(map(stands_k, pieces))


def _holds_pa_gauge(bridge: Bridge, service: Service) -> float:
    """The pressure [Pa gauge] that every piece holds; without end where none says."""
    pieces: list[Adapter | Hose] = [*bridge.stubs, *([] if bridge.adapter is None else [bridge.adapter])]
    return min(holds_pa_gauge(piece, service.hottest_k) for piece in pieces)
