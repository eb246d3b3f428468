"""The allowed word that a mistyped one is likely to be meant for, below the rooms that read files."""

from __future__ import annotations

import difflib
from collections.abc import Iterable


def did_you_mean(word: str, allowed: Iterable[str], cutoff: float = 0.55) -> str:
    """`; did you mean 'x'?` for the nearest of the allowed words, in capitals or not; nothing where none is near.

    `cutoff`: how alike the two must be, from 0 to 1 for the same.
    """
    folded = {name.lower(): name for name in allowed}
    close = difflib.get_close_matches(word.lower(), folded, n=1, cutoff=cutoff)
    return f"; did you mean '{folded[close[0]]}'?" if close else ""
