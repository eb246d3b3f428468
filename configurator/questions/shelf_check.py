"""What is wrong with a shelf beyond what loading tells: points out of reach, ends without a mate, what is missing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from configurator.joining.ratings import cap_short_of_pa_gauge
from configurator.joining.words import bar_words, end_words
from configurator.parts.bounds import Bounds
from configurator.parts.kinds import (
    JOINING,
    NEEDED_TO_JOIN,
    PART_KINDS,
    Adapter,
    Cap,
    Core,
    Exchanger,
    Hose,
    Part,
    RigidPart,
    Valve,
    Wye,
)
from configurator.parts.layouts import Layout
from configurator.parts.performance import CorePoint, ExchangerPoint
from configurator.parts.shelf import Catalogue
from configurator.prediction.measured_points import point_ua
from configurator.prediction.plausibility import Path
from configurator.prediction.working_point import at_work, measured_at
from configurator.questions.impossible import impossible
from configurator.questions.shelf_mates import FLOWS, EndMates, Mates, ends_of
from configurator.questions.unusual import unusual

CODES: Final = {
    "impossible-figure": "Figures that no part can have",
    "impossible-point": "Measured points out of reach of their arrangement; no kit holds these parts",
    "point-not-met": "Measured points that one surface through all of them does not meet; they widen its band",
    "unusual": "Figures far outside what is usual",
    "cap-too-weak": "Caps rated below what they see until they open; no kit holds them",
    "joins-nothing": "Ends that nothing on this shelf goes on; a customer's own part may",
    "no-rating": "Parts that state no rating: their kits are unproven",
    "no-price": "Parts without a price",
    "no-stock": "Parts without a stock",
    "layout-without-parts": "Layouts that this shelf has no parts for",
}
"""What can be found, in the order in which it is told, with the heading of its list."""


@dataclass(frozen=True)
class Finding:
    """One thing found: its code, the part or layout, where below its entry, and a sentence."""

    code: str
    subject: str
    at: Path
    text: str


def shelf_check(catalogue: Catalogue, bounds: Bounds, part: Part | None = None) -> tuple[Finding, ...]:
    """Everything found, code by code in the order of `CODES`, in each by id; of one part alone, where one is named.

    `bounds`: what is usual.
    """
    mates = Mates(catalogue)
    order = list(CODES)
    if part is not None:
        return tuple(sorted(_of_part(part, mates, bounds), key=lambda finding: order.index(finding.code)))
    found = [finding for each in catalogue.parts.values() for finding in _of_part(each, mates, bounds)]
    found += [finding for layout in catalogue.layouts for finding in _of_layout(layout, catalogue)]
    return tuple(sorted(found, key=lambda finding: order.index(finding.code)))


def _of_part(part: Part, mates: Mates, bounds: Bounds) -> Iterator[Finding]:
    again = "read its sheet again"
    wrong = [Finding("impossible-figure", part.id, at, f"{text}: {again}") for at, text in impossible(part)]
    if isinstance(part, Core | Exchanger):
        out_of_reach = [*_impossible(part)]
        yield from () if out_of_reach else _points(part, float(bounds.points_disagree.most))
        wrong += out_of_reach
    yield from wrong
    for at, text in unusual(part, bounds):
        if not any(at[: len(finding.at)] == finding.at for finding in wrong):  # what cannot be is told once
            yield Finding("unusual", part.id, at, text)
    if isinstance(part, Cap) and (sees := cap_short_of_pa_gauge(part)) is not None:
        text = (
            f"it has to hold {bar_words(sees)}, a tenth more than it opens at, and is rated below that: write the "
            "working pressure that the maker gives, which is not what it opens at"
        )
        yield Finding("cap-too-weak", part.id, ("coolant",), text)
    yield from _orphans(part, mates)
    yield from _unrated(part)
    if part.price == 0:
        yield Finding("no-price", part.id, ("price",), "the price is 0: write what it is sold for")
    if part.stock is None:
        yield Finding("no-stock", part.id, (), "no stock is stated: write stock: 0 where it has to be ordered")


def _points(part: Core | Exchanger, most_miss: float) -> Iterator[Finding]:
    """Points that the one surface through all of them misses by more than a share; of one its conductance is told
    where its effectiveness, which hangs less and less on it, is met.
    """
    for index in range(len(part.performance.measured)):
        missed = {key: (met, stated) for key, met, stated in _met(part, index) if abs(met / stated - 1) > most_miss}
        if "effectiveness" in missed:
            missed.pop("conductance", None)
        for key, (met, stated) in missed.items():
            miss = met / stated - 1
            says = "comes to" if key == "conductance" else "is stated as"
            text = (
                f"{key.replace('_', ' ')} {says} {_figure(key, stated)}, the surface that meets all points "
                f"best gives {_figure(key, met)}: {abs(miss) * 100:.1f} % {'more' if miss > 0 else 'less'}"
            )
            at: Path = ("performance", "measured", index)
            yield Finding("point-not-met", part.id, at if key == "conductance" else (*at, key), text)


def _impossible(part: Core | Exchanger) -> Iterator[Finding]:
    """Points that no core or exchanger of the stated arrangement reaches, however large."""
    for index in range(len(part.performance.measured)):
        try:
            point_ua(part, part.performance.measured[index])
        except ValueError as error:
            yield Finding("impossible-point", part.id, ("performance", "measured", index), str(error))


def _met(part: Core | Exchanger, index: int) -> Iterator[tuple[str, float, float]]:
    """Key, what the fitted surface gives, what is stated."""
    point: CorePoint | ExchangerPoint = part.performance.measured[index]
    found = at_work(part, measured_at(point))
    yield "conductance", found.ua_w_per_k, point_ua(part, point)
    yield "effectiveness", found.effectiveness, float(point.effectiveness)
    if isinstance(point, CorePoint):
        yield "charge_loss", found.charge_loss_pa or 0.0, float(point.charge_loss_pa)
    yield "coolant_loss", found.coolant_loss_pa, float(point.coolant_loss_pa)


def _figure(key: str, value: float) -> str:
    if key == "conductance":
        return f"{value:.0f} W/K"
    return f"{value * 100:.1f} %" if key == "effectiveness" else f"{value / 1e3:.2f} kPa"


def _orphans(part: Part, mates: Mates) -> Iterator[Finding]:
    ends = mates.of(part)
    if isinstance(part, Adapter) and part.medium == "charge" and any(end.pieces for end in ends):
        return  # its other end is for the engine's pipe
    for path, end in zip(_paths(part), ends, strict=True):
        if end.joins_nothing and _has_to_join(part, end):
            text = end.missing or f"nothing on this shelf goes on its {end_words(end.end)}"
            yield Finding("joins-nothing", part.id, path, text)


def _has_to_join(part: Part, mates: EndMates) -> bool:
    """The ends that the stream goes through, filler necks, and every end of a cap or of a piece between parts."""
    return mates.end.role in FLOWS or mates.end.form == "neck" or isinstance(part, Cap | Adapter | Wye | Valve)


def _paths(part: Part) -> Iterator[Path]:
    """Where the ends of `ends_of` are written."""
    counts: dict[str, int] = {}
    for medium, _ in ends_of(part):
        passage = medium if isinstance(part, RigidPart | Cap) else "through"
        counts[passage] = counts.get(passage, -1) + 1
        yield (passage, "ends", counts[passage])


def _unrated(part: Part) -> Iterator[Finding]:
    passages: dict[str, bool] = {}
    if isinstance(part, RigidPart):
        passages = {name: p.rating.working_pa_gauge is None for name, p in part.passages().items()}
    elif isinstance(part, Adapter | Wye | Valve):
        passages = {"through": part.through.rating.working_pa_gauge is None}
    elif isinstance(part, Cap):
        passages = {"coolant": part.coolant.rating.working_pa_gauge is None}
    elif isinstance(part, Hose):
        passages = {"working": part.working_pa_gauge is None}
    for name, unrated in passages.items():
        if unrated:
            text = "no working, proof or burst pressure is stated: write the one that the maker gives"
            yield Finding("no-rating", part.id, (name,), text)


def _of_layout(layout: Layout, catalogue: Catalogue) -> Iterator[Finding]:
    kinds = {slot.kind for slot in layout.slots if slot.least}
    wanted = {*kinds, *({"valve", "wye"} if layout.bypass else ())}
    if any(len(step) > 1 for step in layout.steps):
        wanted.add("wye")
    lacking = sorted(kind for kind in wanted if not catalogue.of(PART_KINDS[kind]))
    if lacking:
        text = f"this shelf has no {' and no '.join(lacking)}: no kit of this layout can be made"
        yield Finding("layout-without-parts", layout.id, (), text)
    bare = [kind for kind in JOINING if not catalogue.of(PART_KINDS[kind])]
    if bare:
        none = any(kind in NEEDED_TO_JOIN for kind in bare)
        needs = "no joint of this layout can be made" if none else "kits of this layout that take one cannot be made"
        yield Finding("layout-without-parts", layout.id, (), f"this shelf has no {' and no '.join(bare)}: {needs}")


