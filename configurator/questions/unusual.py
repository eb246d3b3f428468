"""Figures of a pump far outside what is usual: slips of the pen that no single figure shows."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.parts.bounds import PumpBounds
from configurator.parts.kinds import Pump
from configurator.prediction.plausibility import Limits, judge

Path = tuple[str | int, ...]


def unusual(pump: Pump, limits: PumpBounds) -> Iterator[tuple[Path, str]]:
    """Where below the pump's entry, and a sentence with the figure and the limit that it passes."""
    for path, rule, found, usual, unit in _figures(pump, limits):
        verdict = judge(rule, pump.id, found, usual, unit)
        if verdict.state == "broken":
            told = verdict.text.removeprefix(f"{pump.id}: ")
            yield path, f"{told}, which is the usual limit of pumps (common practice, no source): read its sheet again"


def _figures(pump: Pump, limits: PumpBounds) -> Iterator[tuple[Path, str, float, Limits, str]]:
    coolant = pump.coolant
    rating = coolant.rating
    if rating.working_pa_gauge is not None:
        path = ("coolant", rating.stated_as)
        yield path, "working-pressure", rating.working_pa_gauge / 1e5, limits.working_bar, "bar"
    if coolant.hottest_k is not None:
        hottest = float(coolant.hottest_k) - 273.15
        yield ("coolant", "hottest"), "hottest", hottest, limits.hottest_degc, "degC"
    for index, end in enumerate(coolant.ends):
        if end.form == "spigot" and end.size_m is not None:
            yield ("coolant", "ends", index, "size"), f"spigot-{end.name}", end.size_m * 1e3, limits.end_mm, "mm"
    yield ("current",), "current", float(pump.current_a), limits.current_a, "A"
    if pump.mass_kg is not None:
        litres = float(pump.size.x_m) * float(pump.size.y_m) * float(pump.size.z_m) * 1e3
        yield ("mass",), "mass", float(pump.mass_kg) / litres, limits.mass_per_box_litre, "kg per litre of its box"
