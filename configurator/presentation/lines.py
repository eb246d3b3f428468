"""Lines of text for the terminal: as wide as it is, hung under a label, listed under a title."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

WIDTH = 80


def hung(label: str, text: str, width: int) -> list[str]:
    """A label with its text beside it, wrapped under itself."""
    indent = " " * 26
    return textwrap.wrap(text, width, initial_indent=f"  {label:<23} ", subsequent_indent=indent)


def listed(title: str, entries: Sequence[str], width: int) -> str:
    """Entries under a title, nothing where there are none."""
    if not entries:
        return ""
    lines = textwrap.wrap(f"{title}:", width)
    for entry in entries:
        lines += textwrap.wrap(entry, width, initial_indent="  - ", subsequent_indent="    ")
    return "\n".join(lines)


def wrapped(text: str, width: int) -> str:
    """A paragraph."""
    return "\n".join(textwrap.wrap(text, width))
