"""A kit of the judge, its place in the order, and which limits of a brief it breaks."""

from __future__ import annotations

import math
from dataclasses import dataclass

from configurator.brief.request import Brief


@dataclass(frozen=True)
class PlainKit:
    """One kit that joins, holds and fits, with all figures that a limit may be set on.

    `worst_k`: the warmest charge behind the core; `charge_loss` is told with the engine's pipes, `core_and_couplers`
    is what the brief limits.
    """

    parts: tuple[tuple[str, str], ...]
    zones: tuple[tuple[str, str], ...]
    proven: bool
    margin_k: float
    margin_low_k: float
    boil_margin_k: float
    clearance_mm: float
    price_cents: int
    mass_g: int
    flow: float
    adapters: int
    charge_loss: float
    core_and_couplers: float
    worst_k: float
    current_a: float
    tight: bool

    @property
    def ids(self) -> tuple[str, ...]:
        return (*(part for _, part in self.parts), *(zone for _, zone in self.zones))

    @property
    def choice(self) -> tuple[str | None, str | None]:
        parts = dict(self.parts)
        return parts.get("core"), parts.get("exchanger")


def place_in_order(kit: PlainKit, enough_k: float) -> tuple[object, ...]:
    """Proven; low margin in whole steps of 2 K up to enough; clearance in steps of 5 mm up to 25; price; ids."""
    margin_steps = math.floor(min(kit.margin_low_k, enough_k) / 2.0 + 1e-9)
    room_steps = int(min(kit.clearance_mm, 25.0) / 5.0 + 1e-9)
    return (0 if kit.proven else 1, -margin_steps, -room_steps, kit.price_cents, kit.ids)


def breaks(kit: PlainKit, brief: Brief) -> frozenset[str]:
    """The limits of a brief that a kit breaks. The aim is judged in hundredths of a kelvin."""
    limits, most_loss = brief.limits, brief.aim.charge_loss_pa
    broken = {
        "aim": round(brief.ceiling_k - kit.worst_k, 2) < 0,
        "price": limits.price is not None and kit.price_cents > round(limits.price * 100),
        "mass": limits.mass_dry_kg is not None and kit.mass_g > round(float(limits.mass_dry_kg) * 1000),
        "current": limits.current_a is not None and kit.current_a > limits.current_a,
        "charge loss": most_loss is not None and kit.core_and_couplers > most_loss,
    }
    return frozenset(code for code, over in broken.items() if over)
