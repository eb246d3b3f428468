"""The front: kits that no other beats at once on margin, room, price and dry mass."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

import numpy as np

from configurator.ranking.order import Scored

S = TypeVar("S", bound=Scored)


def front(in_order: Sequence[S]) -> list[S]:
    """Of kits in some order those that no other beats: none is as good in all four and better in one.

    Of kits alike in all four the first in the order stands for them. Proven kits and others are looked at apart: a kit
    that is not proven neither beats nor is beaten by one that is.
    """
    return [kit for proven in (True, False) for kit in _unbeaten([kit for kit in in_order if kit.proven == proven])]


def _unbeaten(kits: Sequence[S]) -> list[S]:
    if not kits:
        return []
    costs = np.array([(-kit.margin_low_k, -kit.clearance_mm, kit.price_cents, kit.mass_g) for kit in kits])
    # What beats a kit comes before it by these four, first to last, and among equals the first in the order.
    by_cost = np.lexsort((np.arange(len(kits)), *costs.T[::-1]))
    kept: list[int] = []
    for at in by_cost:
        if not (kept and (costs[kept] <= costs[at]).all(axis=1).any()):
            kept.append(int(at))
    return [kits[at] for at in sorted(kept)]
