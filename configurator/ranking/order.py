"""The order in which kits are offered: fixed, total, and from the kit alone."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Protocol, TypeVar

MARGIN_STEP_K = 2.0
CLEARANCE_STEP_MM = 5.0
CLEARANCE_COUNTED_MM = 25.0


@dataclass(frozen=True)
class Scores:
    """What the order looks at, each rounded once: kelvin to 0.01, millimetres to 0.5, cents, grams."""

    proven: bool
    margin_k: float
    margin_low_k: float
    clearance_mm: float
    price_cents: int
    mass_g: int
    ids: tuple[str, ...]


class Scored(Protocol):
    """Anything that has scores."""

    @property
    def scores(self) -> Scores:
        """What the order looks at."""
        ...


S = TypeVar("S", bound=Scored)
Key = tuple[object, ...]


def default_key(scores: Scores, enough_k: float) -> Key:
    """Proven first; low-end margin in steps of 2 K up to enough; clearance in steps of 5 mm up to 25; price; ids."""
    return (
        not scores.proven,
        -math.floor(min(scores.margin_low_k, enough_k) / MARGIN_STEP_K + 1e-9),
        -math.floor(min(scores.clearance_mm, CLEARANCE_COUNTED_MM) / CLEARANCE_STEP_MM + 1e-9),
        scores.price_cents,
        scores.ids,
    )


def _coolest(scores: Scores, enough_k: float) -> Key:
    return (not scores.proven, -scores.margin_low_k, scores.price_cents, scores.ids)


def _roomiest(scores: Scores, enough_k: float) -> Key:
    return (not scores.proven, -scores.clearance_mm, -scores.margin_low_k, scores.price_cents, scores.ids)


def _price(scores: Scores, enough_k: float) -> Key:
    return (not scores.proven, scores.price_cents, -scores.margin_low_k, scores.ids)


def _mass(scores: Scores, enough_k: float) -> Key:
    return (not scores.proven, scores.mass_g, -scores.margin_low_k, scores.price_cents, scores.ids)


ORDERS: dict[str, Callable[[Scores, float], Key]] = {
    "default": default_key,
    "margin": _coolest,
    "clearance": _roomiest,
    "price": _price,
    "mass": _mass,
}


def ranked(kits: Iterable[S], order: str, enough_k: float) -> list[S]:
    """Kits in the order asked for; every order is total, so the order of the input never matters."""
    key = ORDERS[order]
    return sorted(kits, key=lambda kit: key(kit.scores, enough_k))
