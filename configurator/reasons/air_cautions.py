"""Cautions of the outside air at a front exchanger."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.foundations.verdicts import Caution
from configurator.parts.layouts import the_slot


def no_air(slots: Sequence[str], *, can_go: bool) -> Caution:
    """Exchangers, by their slots, that no air meets while the car is driven; `can_go`: whether a loop does without."""
    one = len(slots) == 1
    adds, zones = ("it adds its", "its zone") if one else ("they add their", "their zones")
    leave = f", or leave {'it' if one else 'them'} out (`without: [exchanger]`)" if can_go else ""
    return Caution(
        "no-air",
        f"By the brief nothing blows through {' and '.join(map(the_slot, slots))} while the car is driven: {adds} "
        f"coolant and metal to the loop, and {'gives' if one else 'give'} no heat away. State the air of {zones} "
        f"(`air`) and the speed of the drive{leave}.",
    )
