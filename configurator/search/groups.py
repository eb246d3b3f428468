"""Groups of kits, and lists of them that are made one by one, the most hopeful first."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

import numpy as np

from configurator.search.best_so_far import Order
from configurator.search.bounds import Hoped
from configurator.search.proof import Key
from configurator.search.rows import Row


@dataclass(frozen=True)
class Group:
    """Kits that lie together: of each kind the parts in question, by id; zones and caps where they are settled.

    A kind that is not named is open; None stands for no part of a kind. `caps`: by pump, where that is settled.
    `opened`: the lists of smaller groups that it consists of; None for a single loop, which is in `row`.
    """

    parts: Mapping[str, tuple[str | None, ...]]
    opened: Callable[[], Sequence[Waiting]] | None
    zones: Mapping[str, str] = field(default_factory=dict)
    caps: Mapping[str, tuple[str | None, ...]] | None = None
    row: Row | None = None


class Waiting(Protocol):
    """Groups in the order of what they may be at best."""

    def __len__(self) -> int: ...

    def hoped(self, at: int) -> Hoped:
        """What the group at a place is at best."""
        ...

    def key(self, at: int) -> Key:
        """The same as the order sees it."""
        ...

    def group(self, at: int) -> Group:
        """The group at a place."""
        ...

    def up_to(self, last: Key) -> int:
        """How many groups, the first ones, are at best no later than a key."""
        ...

    def keep(self, count: int) -> None:
        """Forget all but the first groups."""
        ...


class Alone:
    """A single group, without the columns of a list, and not made before it is asked for: they wait by the ten
    thousand.
    """

    __slots__ = ("_group", "_hoped", "_key", "_length")

    def __init__(self, hoped: Hoped, order: Order, group: Callable[[], Group]) -> None:
        self._hoped, self._group = hoped, group
        self._key: Key = tuple(float(step) for step in order(hoped)[:-1])
        self._length = int(hoped.clearance_mm >= 0)

    def __len__(self) -> int:
        return self._length

    def hoped(self, _: int) -> Hoped:
        """What the group is at best."""
        return self._hoped

    def key(self, _: int) -> Key:
        """The same as the order sees it."""
        return self._key

    def group(self, _: int) -> Group:
        """The group."""
        return self._group()

    def up_to(self, last: Key) -> int:
        """One where the group is at best no later than a key, else none."""
        return self._length if self._key <= last else 0

    def keep(self, count: int) -> None:
        """Forget the group where none is to be kept."""
        self._length = min(self._length, count)


class Listed:
    """Groups in the order of what they may be at best; only what is asked for is made.

    Many lists wait at once: each keeps its own columns alone, of what goes in, and what makes a group is told its
    figures rather than keep them as well.
    """

    def __init__(self, hoped: Hoped, order: Order, group: Callable[[int, Hoped], Group]) -> None:
        """`hoped`: columns, one entry a group, and less than no room where it does not go in.

        `group`: makes one, from its place in the columns and what it is at best.
        """
        goes_in = np.flatnonzero(np.asarray(hoped.clearance_mm) >= 0)
        steps = [np.broadcast_to(step, np.shape(hoped.price_cents)) for step in order(hoped)[:-1]]
        self._places = goes_in[np.lexsort([step[goes_in] for step in steps[::-1]])]
        self._hoped = hoped.at(self._places)
        self._order = order
        self._group = group

    def __len__(self) -> int:
        return len(self._places)

    def hoped(self, at: int) -> Hoped:
        """What the group at a place is at best."""
        return self._hoped.at(at)

    def key(self, at: int) -> Key:
        """The same as the order sees it."""
        return tuple(float(step) for step in self._order(self.hoped(at))[:-1])

    def group(self, at: int) -> Group:
        """The group at a place."""
        return self._group(int(self._places[at]), self.hoped(at))

    def up_to(self, last: Key) -> int:
        """How many groups, the first ones, are at best no later than a key."""
        return bisect_right(range(len(self)), last, key=self.key)

    def keep(self, count: int) -> None:
        """Forget all but the first groups."""
        self._places, self._hoped = self._places[:count].copy(), self._hoped.at(np.arange(count))


def below_each_other(hoped: Sequence[Hoped]) -> Hoped:
    """Groups one by one as columns."""
    figures = [(one.margin_k, one.margin_low_k, one.clearance_mm, one.price_cents, one.mass_g) for one in hoped]
    margin, low, room, cents, grams = np.array(figures).T if figures else np.empty((5, 0))
    return Hoped(margin, low, room, cents, grams, all(one.proven for one in hoped))
