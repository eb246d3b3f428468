"""Ids of parts for the shell that completes a half-written one: read off the lines, for nobody waits here."""

from __future__ import annotations

import re

_ID = re.compile(r"^\s*-\s*\{?\s*id:\s*([A-Za-z0-9][^\s,}]*)", re.MULTILINE)


def part_ids(incomplete: str) -> list[str]:
    """Every id of the catalogue in use that begins so, sorted; none where the catalogue cannot be read."""
    from configurator.errors import KitwrightError
    from configurator.files.find_catalogue import find_catalogue

    found: set[str] = set()
    try:
        for path in find_catalogue().glob("*.yaml"):
            found.update(_ID.findall(path.read_text(encoding="utf-8")))
    except (KitwrightError, OSError, UnicodeDecodeError):
        return []
    return sorted(word for word in found if word.startswith(incomplete))
