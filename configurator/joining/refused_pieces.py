"""Pieces of a shelf that would join two ends and are not taken: for want of a bead, or for what they stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from configurator.joining.mating_verdict import LIMITS, UNWIRED_MOST
from configurator.joining.one_piece import (
    Bridge,
    Service,
    bridges,
    fitting,
    holds_of_pa_gauge,
    hottest_of_k,
    missing_piece,
    plain_silicone,
    serves,
    sucked_flat,
    wants_lining,
)
from configurator.joining.words import bar_words, bars_apart, celsius_words, mm_words
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Hose

SAME_SIZE: Final = 0.02
"""A hose or coupler at hand and one of the shelf are of one size up to this share of it: 1 inch is 25 mm. Common
practice, no source."""


def what_is_missing(
    a: End, b: End, adapters: Sequence[Adapter], hoses: Sequence[Hose], service: Service
) -> tuple[str, str]:
    """Where nothing on the shelf joins two ends: what would, and which of its pieces fit and do not stand it, or ''."""
    plain = [end for end in (a, b) if _wants_a_bead(end, service)]
    a, b = (end.model_copy(update={"bead": True}) if end in plain else end for end in (a, b))
    joined = bridges(a, b, adapters, hoses, service)
    if joined:
        best = min(joined, key=lambda one: one.price_cents)
        goes = "join" if len(best.pieces) > 1 else "joins"
        return f"{_bead(plain, service)}; then {_names(best)} {goes} them", ""
    eased = replace(service, boost_pa_gauge=0.0, pressure_pa_gauge=0.0, hottest_k=None)
    fit = fitting(a, b, adapters, hoses, eased)
    piece = missing_piece(a, b, service)
    if fit:
        wanted = " and ".join(demands(service, wide=any(map(_is_wide, fit))))
        piece += f", that {wanted}" if wanted else ""
    return (f"{_bead(plain, service)}; and {piece}" if plain else piece), _refused(fit, service)


def demands(service: Service, *, wide: bool) -> tuple[str, ...]:
    """What a piece of a joint has to stand, in words that follow `it`; `wide`: hose is over what may be unwired."""
    hot = "" if service.hottest_k is None else celsius_words(service.hottest_k)
    said = [f"stands {hot}"] if hot else []
    if service.design_pa_gauge:
        said = [f"holds {bar_words(service.design_pa_gauge)}{f' at {hot}' if hot else ''}"]
    said = ["is lined", *said] if wants_lining(service) else said
    return (*said, "is wired or rated for vacuum") if service.suction and wide else tuple(said)


def sleeves_that_serve(end: End, pieces: Sequence[Adapter | Hose], service: Service) -> tuple[list[str], int]:
    """Ids of a shelf's hoses or couplers of the size of a hose or coupler end that stand a service, and how many there
    are of that size."""
    of_size = [piece for piece in pieces if any(_same_size(end, size_m) for size_m in _sizes_m(end.form, piece))]
    fit = [piece for piece in of_size if service.medium in _media(piece)]
    return [piece.id for piece in fit if serves(_alone(piece), service)], len(fit)


def _media(piece: Adapter | Hose) -> tuple[str, ...]:
    return piece.media if isinstance(piece, Hose) else (piece.medium,)


def _alone(piece: Adapter | Hose) -> Bridge:
    return Bridge(None, (piece,)) if isinstance(piece, Hose) else Bridge(piece, ())


def _sizes_m(form: str, piece: Adapter | Hose) -> list[float]:
    """The sizes [m] in which a piece is an end of a form."""
    if isinstance(piece, Hose):
        return [float(piece.bore_m)] if form == "hose" else []
    return [float(end.size_m) for end in piece.through.ends if end.form == form == "coupler" and end.size_m]


def _same_size(end: End, size_m: float) -> bool:
    return abs((end.size_m or 0.0) - size_m) <= SAME_SIZE * size_m


def _is_wide(bridge: Bridge) -> bool:
    return any(float(stub.bore_m) > LIMITS.unwired_suction_m for stub in bridge.stubs)


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
    return " and ".join(f"{piece.name} [{piece.id}]" for piece in bridge.pieces)


def _refused(fit: Sequence[Bridge], service: Service) -> str:
    """Of pieces that fit two ends and do not stand the service: how many, and how far the best of them goes.

    Only the sets of fewest pieces are told of: a longer one holds no more than the same hose in it.
    """
    fewest = min((len(one.pieces) for one in fit), default=0)
    fit = [one for one in fit if len(one.pieces) == fewest]
    if not fit:
        return ""
    count = len({_names(one) for one in fit})  # a piece may go in either way round
    what, verb = ("piece", "{}s") if fewest == 1 else ("set", "{}")
    many = f"{count} {what}s{_OF_A_SET[fewest > 1]} fit" if count > 1 else f"1 {what}{_OF_A_SET[fewest > 1]} fits"
    cool = [one for one in fit if service.hottest_k is None or hottest_of_k(one) >= service.hottest_k]
    if not cool:
        best = max(fit, key=lambda one: (hottest_of_k(one), -one.price_cents))
        stands, at = celsius_words(hottest_of_k(best)), celsius_words(service.hottest_k or 0.0)
        return f"{many}, not for this heat: {_names(best)} {verb.format('stand')} most, {stands}, there it is {at}"
    lined = [one for one in cool if not (wants_lining(service) and plain_silicone(one.pieces))]
    if not lined:
        those = f"of those that stand {celsius_words(service.hottest_k or 0.0)} none"
        above = celsius_words(LIMITS.plain_coupler_k)
        return f"{many}; {those} has the fluoro lining that silicone needs above {above}"
    wired = [one for one in lined if not (service.suction and sucked_flat(one.pieces))]
    if not wired:
        those = "none" if service.hottest_k is None else f"of those that stand {celsius_words(service.hottest_k)} none"
        return f"{many}; {those} is wired or rated for vacuum, as hose over {UNWIRED_MOST} before the pump has to be"
    warm = "" if service.hottest_k is None else f" at {celsius_words(service.hottest_k)}"
    best = max(wired, key=lambda one: (holds_of_pa_gauge(one, service), -one.price_cents))
    holds, sees = bars_apart(holds_of_pa_gauge(best, service), service.design_pa_gauge)
    return f"{many}, too weak: {_names(best)} {verb.format('hold')} most, {holds}{warm}, the joint may see {sees}"


_OF_A_SET: Final = {False: "", True: " of hose and adapter"}
