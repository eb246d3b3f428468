"""What a single change of a kit buys, as records, and which of many changes a short table tells."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from configurator.parts.layouts import Twins
from configurator.questions.answer import OfferedKit
from configurator.search.loosening import Change

NOTHING_K = 0.5
"""A change that buys less margin than this buys nothing: no maker's figure is that sure."""

WORTH_K = 1.0
"""What the cheapest change of a kind must buy to be told beside the best, or half of what that buys."""


@dataclass(frozen=True)
class Gain:
    """One change and what it buys: each figure is that of the changed kit less that of the kit as it is.

    `part` takes the place of `replaced`, or comes on top where that is None; `along` goes in with it (a cap, a timer).
    `change`: what of the brief is changed instead, or with it. `larger`: the part is a larger one. `moved`: parts that
    then sit in another zone. `price_cents` is None where no shelf has what it takes. `breaks`: limits that the changed
    kit breaks, `newly` those of them that the kit as it is keeps. `margin_low_k`: the margin with every uncertain
    figure at its bad end; None where one of the two kits misses the aim.
    """

    kind: str
    part: str | None
    replaced: str | None
    along: tuple[str, ...]
    change: Change | None
    larger: bool
    runs: int
    moved: tuple[tuple[str, str], ...]
    layout: str
    twins: Twins
    margin_k: float
    plateau_k: float
    recovery_s: float | None
    clearance_mm: float | None
    price_cents: int | None
    mass_dry_g: int
    current_a: float
    breaks: tuple[str, ...]
    newly: tuple[str, ...]
    shown: bool = False
    margin_low_k: float | None = None

    @property
    def takes_out(self) -> bool:
        """Whether a part is only left away: it tells what that part is worth."""
        return self.part is None and self.change is None

    @property
    def unsure(self) -> bool:
        """Whether it takes margin where every uncertain figure is at its bad end."""
        return self.margin_low_k is not None and self.margin_low_k <= -NOTHING_K

    @property
    def kelvin_per_100(self) -> float | None:
        """Margin bought for 100 units of money; None for what buys none, or costs none."""
        if self.price_cents is None or self.price_cents <= 0 or self.margin_k <= 0:
            return None
        return self.margin_k / self.price_cents * 1e4


@dataclass(frozen=True)
class Improvement:
    """What one change of a kit buys, most margin first. `tried`: kinds of change;
    `enough_k`: margin beyond this counts no further; `in_box`: the kit is the customer's own."""

    kit: OfferedKit
    gains: tuple[Gain, ...]
    tried: tuple[str, ...]
    enough_k: float
    in_box: bool

    @property
    def shown(self) -> tuple[Gain, ...]:
        """What a short table tells."""
        return tuple(gain for gain in self.gains if gain.shown)


def with_shown(gains: Sequence[Gain]) -> Iterator[Gain]:
    """The gains in order, marked where a short table tells them: see `_of_kind`."""
    of_kind: dict[str, list[Gain]] = {}
    for gain in gains:
        of_kind.setdefault(gain.kind, []).append(gain)
    told = {id(gain) for kind in of_kind.values() for gain in _of_kind(kind)}
    return (replace(gain, shown=id(gain) in told) for gain in gains)


def _of_kind(gains: Sequence[Gain]) -> Iterator[Gain]:
    """Of one kind, most margin first: the best that breaks no limit, the cheapest of them that is worth it, and what
    breaks a limit and buys more."""
    buys = [gain for gain in gains if gain.margin_k >= NOTHING_K]
    allowed = [gain for gain in buys if not gain.newly]
    best = allowed[0] if allowed else None
    beyond = buys[0] if buys and buys[0] is not best else None
    if beyond is not None and (best is None or beyond.margin_k >= best.margin_k + WORTH_K):
        yield beyond
    if best is None:
        return
    yield best
    enough = min(WORTH_K, best.margin_k / 2)
    worth = [gain for gain in allowed if gain.margin_k >= enough and gain.price_cents is not None]
    cheapest = min(worth, key=lambda gain: (gain.price_cents, -gain.margin_k), default=None)
    if cheapest is not None and cheapest is not best and (cheapest.price_cents or 0) < (best.price_cents or 0):
        yield cheapest
