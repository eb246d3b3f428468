"""Large shelves: the kits asked for are looked for alone, and what bounds all others is told with them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from configurator.questions.answer import BestAlone
from configurator.questions.searches import Searched, cut, is_large, search
from configurator.ranking.order import ORDERS, STEPS_OF
from configurator.search.best_so_far import BestSoFar
from configurator.search.job import Job
from configurator.search.patience import Patience

NEAR_S = 5.0
"""How long to look for the kits that come near where a large shelf has none [s]."""


def asked_for(job: Job, order: str, top: int, *, all_variants: bool) -> BestSoFar:
    """The kits that a search for the best alone has to find."""
    return BestSoFar(lambda scores: ORDERS[order](scores, job.conditions.enough_k), top, all_variants=all_variants)


def that_come_near(job: Job, count: int, tell: Callable[[str], None], patience: Patience) -> tuple[Searched, ...]:
    """Kits least short of the aim, then of the limits on price and mass, whatever else they miss.

    As far as a few seconds of search go, or what `patience` leaves.
    """
    limits = job.brief.limits
    most_cents = np.inf if limits.price is None else max(limits.price * 100, 1.0)
    most_g = np.inf if limits.mass_dry_kg is None else max(float(limits.mass_dry_kg) * 1000, 1.0)

    def short_of_aim(scores: Any) -> tuple[Any, ...]:
        over = np.maximum(scores.price_cents / most_cents, 1.0) + np.maximum(scores.mass_g / most_g, 1.0)
        return (np.maximum(-scores.margin_k, 0.0), over, scores.price_cents, scores.ids)

    near = BestSoFar(short_of_aim, count, near_ones=True)
    return search(job, tell, patience=patience.at_most(NEAR_S), best=near)


def best_alone(
    job: Job,
    found: Sequence[Searched],
    order: str,
    in_order: Sequence[Any],
    top: int,
    *,
    all_variants: bool,
    prove: bool,
) -> BestAlone | None:
    """What was looked at and what bounds the rest; None where everything was looked at.

    `in_order`: the kits found, with `all_variants` every one; of them the first `top` are told. What bounds the rest is
    what bounds the groups left out, or the first kit that was looked at and is not told.
    """
    proofs = [one.kits.proof for one in found if one.kits.proof is not None]
    if not proofs:
        return None
    enough_k = job.conditions.enough_k
    left_out: Counter[str] = Counter()
    for proof in proofs:
        left_out.update(proof.counts)

    def key(kit: Any) -> tuple[float, ...]:
        steps: tuple[Any, ...] = ORDERS[order](kit, enough_k)[:-1]
        return tuple(float(step) + 0.0 for step in steps)  # no -0.0

    others = [key(kit) for kit in in_order[top : top + 1]]
    others += [proof.least for proof in proofs if proof.least is not None]
    told = in_order[:top]
    return BestAlone(
        choices=sum(proof.choices for proof in proofs),
        placed=sum(proof.placed for proof in proofs),
        predicted=sum(proof.predicted for proof in proofs),
        left_out=tuple(sorted(left_out.items())),
        steps=STEPS_OF[order][:-1],
        all_variants=all_variants,
        on_request=prove and not is_large(job),
        enough_k=enough_k,
        last=key(told[-1]) if told else None,
        others=None if cut(found) else min(others, default=None),
    )
