"""The short list: one kit for each core + exchanger choice, and which of them stand out."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from typing import Protocol, TypeVar

from configurator.ranking.order import Scored


class Chosen(Scored, Protocol):
    """A scored kit that knows which core + exchanger choice it belongs to."""

    @property
    def choice(self) -> Hashable:
        """The choice it belongs to."""
        ...


C = TypeVar("C", bound=Chosen)
S = TypeVar("S", bound=Scored)


def one_per_choice(in_order: Sequence[C]) -> list[C]:
    """The first kit of each choice, in the order given."""
    first: dict[Hashable, C] = {}
    for kit in in_order:
        first.setdefault(kit.choice, kit)
    return list(first.values())


def picks(listed: Sequence[S]) -> tuple[tuple[str, ...], ...]:
    """Which of the listed kits are the coolest, the roomiest and the least costly; the earlier of equals is marked.

    Where none has room to spare, none is the roomiest.
    """
    if not listed:
        return ()
    marked: list[list[str]] = [[] for _ in listed]
    for word, best in (
        ("coolest", max(range(len(listed)), key=lambda at: (listed[at].margin_low_k, -at))),
        ("roomiest", max(range(len(listed)), key=lambda at: (listed[at].clearance_mm, -at))),
        ("least costly", min(range(len(listed)), key=lambda at: (listed[at].price_cents, at))),
    ):
        if word != "roomiest" or listed[best].clearance_mm > 0:
            marked[best].append(word)
    return tuple(tuple(words) for words in marked)
