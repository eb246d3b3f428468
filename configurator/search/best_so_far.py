"""The best kits known so far, and which others can still come before them."""

from __future__ import annotations

import heapq
from collections.abc import Callable, Hashable
from typing import Any, Protocol

Order = Callable[[Any], tuple[Any, ...]]
"""A key of what the order looks at: numbers, and as the last word the ids."""


class Known(Protocol):
    """A kit as far as this room needs it."""

    @property
    def choice(self) -> Hashable:
        """The choice that the short list counts by."""
        ...

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of its parts and zones."""
        ...

    @property
    def missed(self) -> tuple[str, ...]:
        """The demands that it misses."""
        ...


class BestSoFar:
    """The first `top` kits by an order: one for each choice, or with `all_variants` every kit."""

    def __init__(self, order: Order, top: int, *, all_variants: bool = False, near_ones: bool = False) -> None:
        """`near_ones`: kits that miss a demand count as well."""
        self.order = order
        self.near_ones = near_ones
        self._top = top
        self._all_variants = all_variants
        self._keys: dict[Hashable, tuple[Any, ...]] = {}
        self._last: tuple[Any, ...] | None = None

    def take(self, kit: Known) -> None:
        """Count a kit that has been predicted."""
        if kit.missed and not self.near_ones:
            return
        of = kit.ids if self._all_variants else kit.choice
        key = self.order(kit)
        if of in self._keys and self._keys[of] <= key:
            return
        self._keys[of] = key
        if self._last is None or key < self._last:
            first = heapq.nsmallest(self._top, self._keys.values()) if len(self._keys) >= self._top else []
            self._last = first[-1] if first else None

    @property
    def last(self) -> tuple[Any, ...] | None:
        """The key of the last kit asked for, without its ids; None while there are fewer."""
        return None if self._last is None else self._last[:-1]

    def of_choice(self, choice: Hashable) -> tuple[Any, ...] | None:
        """The key of the best kit of a choice, without its ids; None where there is none or every kit counts."""
        known = None if self._all_variants else self._keys.get(choice)
        return None if known is None else known[:-1]
