"""How long a search may take: without a limit it looks at everything, with one it says that it stopped."""

from __future__ import annotations

import time
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import TypeVar

T = TypeVar("T")

_SPREAD = 32
_FIRST, _MOST = 10, 160
"""Things in the first portion, for an early answer, and in the largest: the larger, the less each thing takes."""


@dataclass(frozen=True)
class Patience:
    """A span of the clock, from when until when [s, of the monotonic clock]; without one there is no end."""

    starts_s: float = 0.0
    ends_s: float | None = None

    @staticmethod
    def of(seconds: float | None) -> Patience:
        """From now on, so many seconds."""
        now = time.monotonic()
        return Patience(now, None if seconds is None else now + seconds)

    def share(self, part: int, parts: int) -> Patience:
        """One of several equal spans, one after the other."""
        if self.ends_s is None:
            return self
        each = (self.ends_s - self.starts_s) / parts
        return Patience(self.starts_s + part * each, self.starts_s + (part + 1) * each)

    def rest(self, share: float) -> Patience:
        """A share of what is left of the span, from now on."""
        if self.ends_s is None:
            return self
        now = time.monotonic()
        return Patience(now, now + share * max(self.ends_s - now, 0.0))

    def at_most(self, seconds: float) -> Patience:
        """From now on so many seconds, or what is left of the span where that is less."""
        least = Patience.of(seconds)
        return least if self.ends_s is None else Patience(least.starts_s, min(self.ends_s, least.ends_s or self.ends_s))

    def over(self) -> bool:
        """Whether the span has gone."""
        return self.ends_s is not None and time.monotonic() > self.ends_s

    def portions(self, things: Iterable[T]) -> Iterator[list[T]]:
        """Things in growing portions between which the clock can be looked at; all at once where there is no end."""
        rest, count = iter(things), _FIRST
        while portion := list(rest if self.ends_s is None else islice(rest, count)):
            yield portion
            count = min(2 * count, _MOST)

    def spread(self, things: Iterable[T]) -> Iterable[T]:
        """In which order to take things: as they come, or with an end in sight some of every kind first."""
        if self.ends_s is None:
            return things
        every = list(things)
        return [thing for first in range(_SPREAD) for thing in every[first::_SPREAD]]


UNHURRIED = Patience()


def spread(things: Sequence[T], count: int) -> list[T]:
    """So many of some things, evenly from the first on; all where there are no more."""
    return [things[place * len(things) // count] for place in range(count)] if len(things) > count else list(things)
