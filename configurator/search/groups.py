"""Groups of kits, and lists of them that are made one by one, the most hopeful first."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from configurator.search.best_so_far import Order
from configurator.search.bounds import Hoped
from configurator.search.proof import Key
from configurator.search.rows import Row

JUDGED = ("margin_k", "price_cents", "mass_g")
"""The figures that aim and limits look at. A list keeps these alone, of what goes in alone: many lists wait at once."""


@dataclass(frozen=True)
class Group:
    """Kits that lie together: of each kind the parts in question, by id; zones and caps where they are settled.

    A kind that is not named is open; None stands for no part of a kind. `caps`: by pump, where that is settled.
    `opened`: the lists of smaller groups that it consists of; None for a single loop, which is in `row`.
    """

    parts: Mapping[str, tuple[str | None, ...]]
    opened: Callable[[], Sequence[Listed]] | None
    zones: Mapping[str, str] = field(default_factory=dict)
    caps: Mapping[str, tuple[str | None, ...]] | None = None
    row: Row | None = None


class Listed:
    """Groups in the order of what they may be at best; only what is asked for is made."""

    def __init__(self, hoped: Hoped, order: Order, group: Callable[[int], Group]) -> None:
        """`hoped`: columns, one entry a group, and less than no room where it does not go in; `group`: makes one."""
        goes_in = np.flatnonzero(np.asarray(hoped.clearance_mm) >= 0)
        steps = [np.broadcast_to(step, np.shape(hoped.price_cents)) for step in order(hoped)[:-1]]
        self._order = goes_in[np.lexsort([step[goes_in] for step in steps[::-1]])]
        self._steps = [step[self._order] for step in steps]
        columns = np.broadcast_arrays(hoped.price_cents, *(getattr(hoped, name) for name in JUDGED))[1:]
        self._figures = {name: column[self._order] for name, column in zip(JUDGED, columns, strict=True)}
        self._group = group

    def __len__(self) -> int:
        return len(self._order)

    def key(self, at: int) -> Key:
        """What the group at a place is at best."""
        return tuple(float(step[at]) for step in self._steps)

    def group(self, at: int) -> Group:
        """The group at a place."""
        return self._group(int(self._order[at]))

    def figure(self, name: str, at: int) -> float:
        """One of the figures `JUDGED` that the group at a place has at best."""
        return float(self._figures[name][at])


def below_each_other(hoped: Sequence[Hoped]) -> Hoped:
    """Groups one by one as columns."""
    figures = [(one.margin_k, one.margin_low_k, one.clearance_mm, one.price_cents, one.mass_g) for one in hoped]
    margin, low, room, cents, grams = np.array(figures).T if figures else np.empty((5, 0))
    return Hoped(margin, low, room, cents, grams, all(one.proven for one in hoped))
