"""Figures that no part can have, whoever makes it: slips of the pen that would make a kit look better than any is."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from configurator.parts.kinds import Hose, Part, Pump, Reservoir, RigidPart

Path = tuple[str | int, ...]

ROUNDED = 1.02
"""Sizes and volumes of a sheet are rounded, each by itself."""

_BETWEEN = 50


def impossible(part: Part) -> Iterator[tuple[Path, str]]:
    """Where below the part's entry, and a sentence with the figure and what it cannot pass."""
    if isinstance(part, RigidPart):
        box_l = float(part.size.x_m) * float(part.size.y_m) * float(part.size.z_m) * 1e3
        for name, passage in part.passages().items():
            air_l = part.air_m3 * 1e3 if isinstance(part, Reservoir) else 0.0
            held_l = float(passage.volume_m3 or 0.0) * 1e3 + air_l
            if held_l > box_l * ROUNDED:
                with_air = " with its air" if air_l else ""
                yield (name, "volume"), f"it holds {held_l:.3g} L{with_air}, and its whole box is {box_l:.3g} L"
    if isinstance(part, Pump):
        gives_w, takes_w = _hydraulic_w(part), float(part.volts) * float(part.current_a)
        if gives_w > takes_w:
            yield ("curve",), f"its curve puts {gives_w:.0f} W into the coolant, and its motor takes {takes_w:.0f} W"
    if isinstance(part, Hose):
        radius_mm, outside_mm = float(part.bend_radius_m) * 1e3, (float(part.bore_m) + 2 * float(part.wall_m)) * 1e3
        if radius_mm < outside_mm / 2:  # hose kinks round less than itself; common practice, no source
            text = (
                f"a bend radius of {radius_mm:g} mm to the inside of the bend: it would go round {2 * radius_mm:.3g} "
                f"mm, and is {outside_mm:.3g} mm across itself"
            )
            yield ("bend_radius",), text


def _hydraulic_w(pump: Pump) -> float:
    """The most that head times flow comes to between the points of a pump's curve [W]."""
    flows, heads = ([float(getattr(point, key)) for point in pump.curve] for key in ("flow_m3_per_s", "head_pa"))
    between = np.linspace(flows[0], flows[-1], _BETWEEN)
    return float(np.max(between * np.interp(between, flows, heads)))
