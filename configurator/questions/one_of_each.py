"""The parts of a box of which a loop has one: the first of each kind is judged, and the others are told."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.foundations.verdicts import Verdict
from configurator.parts.kinds import Part

ALONE = ("reservoir", "pump", "cap")
"""Kinds of which a loop has one."""


def one_of_each(parts: Sequence[Part]) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
    """The parts of a box with the first alone of each kind of which a loop has one; and those that are too many."""
    first: list[Part] = []
    others: list[Part] = []
    for part in parts:
        kind = part.kind
        taken = kind in ALONE and any(one.kind == kind for one in first)
        (others if taken else first).append(part)
    return tuple(first), tuple(others)


def too_many(first: Sequence[Part], others: Sequence[Part]) -> tuple[Verdict, ...]:
    """For each kind with too many parts, which of them the loop is judged and priced with."""
    found = []
    for kind in ALONE:
        more = [part for part in others if part.kind == kind]
        if more:
            kept = next(part for part in first if part.kind == kind)
            text = (
                f"there are {1 + len(more)} parts of kind {kind}, a loop here has one: it is judged and priced with "
                f"the first of them alone, '{kept.id}'"
            )
            found.append(Verdict("one-too-many", "not checked", (kind,), text=text))
    return tuple(found)
