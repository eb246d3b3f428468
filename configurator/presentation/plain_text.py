"""Text of catalogues and briefs as a page or a drawing can hold it: nothing that steers the letters around it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

_STEERING: Final = frozenset({0x061C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A)})
"""Marks, embeddings, overrides and isolates of direction: one left open turns all that follows it about."""


def plain(text: str) -> str:
    """Text without marks that steer its direction, and with a space for what XML cannot hold."""
    return "".join(_allowed(text))


def _allowed(text: str) -> Iterator[str]:
    for letter in text:
        number = ord(letter)
        fine = 0x20 <= number < 0xD800 or 0xE000 <= number < 0xFFFE or number >= 0x10000
        if number not in _STEERING:
            yield letter if fine else " "
