"""Which part of a layout the coolant passes: with ice in the tank a bypass valve shuts the front exchanger out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from configurator.brief.request import Brief
from configurator.parts.kinds import Exchanger, Part
from configurator.parts.layouts import Layout, kind_of_slot
from configurator.prediction.stages import HeatKind, Stage, Stages
from configurator.prediction.surfaces import exchanger_surface
from configurator.search.skeleton import loop_steps


@dataclass(frozen=True)
class Circuit:
    """The stops of the coolant after the pump, and the slot that a valve shuts out of them, if one does."""

    stages: Stages
    shut_out: str | None

    def standing_m3(self, exchanger: Part | None) -> float:
        """Liquid of the exchanger that is shut out; none where it is in circuit [m3]."""
        if self.shut_out is None or not isinstance(exchanger, Exchanger):
            return 0.0
        return float(exchanger_surface(exchanger).liquid_m3)


def circuit_of(brief: Brief, layout: Layout) -> Circuit:
    """The circuit of a layout for a brief: where it has a bypass, ice in the tank puts the valve on it."""
    shut_out = None if brief.ice is None else layout.bypass
    steps = loop_steps(layout, unwanted(brief, layout))
    return Circuit(_stages(steps, layout.bypass, shut_out), shut_out)


def unwanted(brief: Brief, layout: Layout) -> tuple[str, ...]:
    """What the loops of a layout are made without: a front exchanger in circuit would warm iced water."""
    if brief.ice is None or layout.bypass is not None or "exchanger" in brief.without:
        return brief.without
    return (*brief.without, "exchanger")


def _stages(steps: Sequence[tuple[str, ...]], bypass: str | None, shut_out: str | None) -> Stages:
    stages: list[Stage] = []
    for step, following in zip(steps, (*steps[1:], steps[0]), strict=True):
        kind: HeatKind
        for kind in ("core", "exchanger"):
            if kind_of_slot(step[0]) == kind and step != (shut_out,):
                valve = None if following != (bypass,) else "through" if shut_out is None else "past"
                stages.append(Stage(kind, len(step), valve))  # type: ignore[arg-type]
    return tuple(stages)
