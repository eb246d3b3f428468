"""Figures of a part far outside what is usual: slips of the pen that no single figure shows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from configurator.parts.bounds import Bounds
from configurator.parts.kinds import Part
from configurator.prediction.plausibility import Path, claims, judge

MANY: Final = {"core": "cores", "exchanger": "front exchangers", "pump": "pumps"}
"""The kinds whose figures are held against what is usual."""


def unusual(part: Part, bounds: Bounds) -> Iterator[tuple[Path, str]]:
    """Where below the part's entry, and a sentence with the figure and the limit that it passes."""
    for claim in claims(part, bounds):
        verdict = judge(part.id, claim)
        if verdict.state == "broken":
            usual = f"which is the usual limit of {MANY[part.kind]} (common practice, no source)"
            yield claim.at, f"{verdict.text}, {usual}: read its sheet again"
