"""Which article goes before a noun of the trade, by how it is spoken."""

from __future__ import annotations

import re
from typing import Final

_SPELT: Final = re.compile(r"[A-Z]+(?![a-z])|[A-Z][a-z]?\b")
"""Letters that are read one by one, as those of NPT, Rc and the O of O-ring."""
_SPELT_WITH_A_VOWEL: Final = frozenset("AEFHILMNORSX")
_EIGHTS: Final = re.compile(r"8|(?:11|18)(?!\d)")
"""Numbers that are spoken with a vowel in front, under 1000."""


def with_article(noun: str) -> str:
    """`a pump`, `an exchanger`, `an O-ring boss`, `an 8 mm spigot`; of words that the trade has, none like `unit`."""
    spelt = _SPELT.match(noun) is not None
    vowel = noun[:1] in _SPELT_WITH_A_VOWEL if spelt else noun[:1].lower() in set("aeiou")
    return f"{'an' if vowel or _EIGHTS.match(noun) else 'a'} {noun}"
