"""What a search for the best alone left out, and the bound that it was left out by: it can be looked at again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Key = tuple[float, ...]
"""The steps of an order as numbers, but for its last word, the ids."""

Why = Literal["aim", "price", "mass", "behind the last", "behind its own choice"]
"""No kit of it keeps the aim or a limit; or all come after the last kit asked for, or after one of the same choice."""


@dataclass(frozen=True)
class Cut:
    """Kits that were left out together: of each kind some parts, in some zones; none of them comes before `key`.

    A kind that `parts` does not name is open, None in it stands for no part. `zones` is empty where all are in
    question; `caps`: the ids of the caps by pump, None where all are. `against`: the key of the last kit asked for at
    the time.
    """

    parts: Mapping[str, tuple[str | None, ...]]
    zones: Mapping[str, str]
    caps: Mapping[str, tuple[str | None, ...]] | None
    key: Key
    against: Key | None
    why: Why


@dataclass(frozen=True)
class Proof:
    """What one layout's search looked at and left out.

    `choices`: how many choices of core, exchanger, pump and reservoir there are; `placed`: kits that were tried in
    their zones; `counts`: how many groups of kits each reason left out; `least`: the first key of all that came after
    the last kit asked for; `cuts`: every group, where they were asked for.
    """

    choices: int
    placed: int
    predicted: int
    counts: Mapping[Why, int]
    least: Key | None
    cuts: tuple[Cut, ...] = ()
