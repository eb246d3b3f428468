"""Parts that the customer already has."""

from __future__ import annotations

from dataclasses import dataclass

from configurator.parts.kinds import Part


@dataclass(frozen=True)
class OwnPart:
    """A part that the customer has; `fitted` when it must stay where it is."""

    part: Part
    fitted: bool
