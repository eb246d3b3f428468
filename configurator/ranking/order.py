"""The order in which kits are offered: fixed, total, and from the kit alone.

Every key rises where proof, margin or clearance falls and where price or mass rises, one kit or columns of many alike:
so the key of figures that no kit of a group beats is a bound on all of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, Protocol, TypeVar

import numpy as np

from configurator.fitting.room import CLEARANCE_COUNTED_MM

MARGIN_STEP_K = 2.0
CLEARANCE_STEP_MM = 5.0


class Scored(Protocol):
    """What the order looks at, each rounded once: kelvin to 0.01, millimetres to 0.5, cents, grams."""

    @property
    def proven(self) -> bool:
        """Whether it is known to fit and to hold its pressure."""
        ...

    @property
    def margin_low_k(self) -> float:
        """Low-end distance from the aim [K]."""
        ...

    @property
    def clearance_mm(self) -> float:
        """Room all round [mm]."""
        ...

    @property
    def price_cents(self) -> int:
        """Price of the whole kit."""
        ...

    @property
    def mass_g(self) -> int:
        """Dry mass [g]."""
        ...

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of its parts and zones, the last word where all else is equal."""
        ...


S = TypeVar("S", bound=Scored)
Key = tuple[object, ...]


def default_key(scores: Scored, enough_k: float) -> Key:
    """Proven first; low-end margin in steps of 2 K up to enough; clearance in steps of 5 mm up to 25; price; ids."""
    return (
        _unproven(scores),
        -np.floor(np.minimum(scores.margin_low_k, enough_k) / MARGIN_STEP_K + 1e-9),
        -np.floor(np.minimum(scores.clearance_mm, CLEARANCE_COUNTED_MM) / CLEARANCE_STEP_MM + 1e-9),
        scores.price_cents,
        scores.ids,
    )


STEPS = ("proven", "margin", "room", "price", "ids")
"""The steps of the ordinary order, first to last."""

STEPS_OF: dict[str, tuple[str, ...]] = {
    "default": STEPS,
    "margin": ("proven", "margin", "price", "ids"),
    "clearance": ("proven", "room", "margin", "price", "ids"),
    "price": ("proven", "price", "margin", "ids"),
    "mass": ("proven", "mass", "margin", "price", "ids"),
}
"""The same of every order."""


def deciding_step(first: Scored, second: Scored, enough_k: float) -> str | None:
    """The step of the ordinary order that puts the first of two kits before the second; None for equal ones."""
    keys = zip(STEPS, default_key(first, enough_k), default_key(second, enough_k), strict=True)
    return next((step for step, one, other in keys if one != other), None)


def _unproven(scores: Scored) -> Any:
    return np.logical_not(scores.proven)


def _coolest(scores: Scored, enough_k: float) -> Key:
    return (_unproven(scores), -scores.margin_low_k, scores.price_cents, scores.ids)


def _roomiest(scores: Scored, enough_k: float) -> Key:
    return (_unproven(scores), -scores.clearance_mm, -scores.margin_low_k, scores.price_cents, scores.ids)


def _price(scores: Scored, enough_k: float) -> Key:
    return (_unproven(scores), scores.price_cents, -scores.margin_low_k, scores.ids)


def _mass(scores: Scored, enough_k: float) -> Key:
    return (_unproven(scores), scores.mass_g, -scores.margin_low_k, scores.price_cents, scores.ids)


ORDERS: dict[str, Callable[[Scored, float], Key]] = {
    "default": default_key,
    "margin": _coolest,
    "clearance": _roomiest,
    "price": _price,
    "mass": _mass,
}


def ranked(kits: Iterable[S], order: str, enough_k: float) -> list[S]:
    """Kits in the order asked for; every order is total, so the order of the input never matters."""
    key = ORDERS[order]
    return sorted(kits, key=lambda kit: key(kit, enough_k))
