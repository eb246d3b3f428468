"""Shipped parts agree with what the trade knows of such parts; one that does not is reported.

Standing of every fact: common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
import yaml

from configurator.parts.kinds import Core, Exchanger
from tests.catalogue_data.heat_parts import CATALOGUE, CORE_ROWS, CORES, EXCHANGER_ROWS, EXCHANGERS, changed

PSI = 6894.757
INCH = 0.0254
SHORT = (
    "Short-flow bar-and-plate core, 160 long",
    "Short-flow bar-and-plate core, 175 long",
    "Short-flow bar-and-plate core, 210 long",
    "Short-flow bar-and-plate core, 230 long",
)
STURDY = (
    "Sturdy bar-and-plate core, 250 long",
    "Sturdy bar-and-plate core, 280 long",
    "Sturdy bar-and-plate core, 320 long",
    "Sturdy bar-and-plate core, 350 long",
    "Sturdy bar-and-plate core, 400 long",
)
THEIR_EXCHANGERS = (
    "Double-pass exchanger, 440 wide",
    "Slim exchanger, 450 wide",
    "Thick exchanger, 455 wide, 60 deep",
    "Double-pass exchanger, 620 wide",
    "Slim exchanger, 640 wide",
)
CORE_BY_NAME = {core.name: core for core in CORES.values()}
EXCHANGER_BY_NAME = {exchanger.name: exchanger for exchanger in EXCHANGERS.values()}
Part = Core | Exchanger
Fact = Callable[[Any], bool]


def loses_below_one_psi(core: Core) -> bool:
    """A short liquid-cooled core at its rated flow, the largest it is stated for: below 1 psi (6.9 kPa)."""
    points = core.performance.measured
    return bool(points) and all(float(point.charge_loss_pa) < PSI for point in points)


def is_rated_150_psi(core: Core) -> bool:
    """Internal pressure rating of sturdy bar-and-plate cores: 150 psi."""
    rating = core.charge.rating
    return rating.working_pa_gauge is not None and abs(rating.working_pa_gauge - 150 * PSI) < 100


def has_bores_of_3_to_4_inch(core: Core) -> bool:
    """Charge inlet and outlet of such cores: 3 in to 4 in, to the nearest millimetre, beaded."""
    ends = [*core.charge.ends_for("in"), *core.charge.ends_for("out")]
    sizes_fit = all(3 * INCH - 1e-3 < (end.size_m or 0) < 4 * INCH + 1e-3 for end in ends)
    return len(ends) == 2 and sizes_fit and all(end.form == "spigot" and end.bead for end in ends)


def has_dash_12_ports(part: Part) -> bool:
    """Coolant ports of such cores and of their front exchangers: -12 O-ring boss, not stepped down."""
    ends = [*part.coolant.ends_for("in"), *part.coolant.ends_for("out")]
    return len(ends) == 2 and all((end.form, end.size, end.sex) == ("orb", "-12", "female") for end in ends)


def bleeds_at_the_top(part: Part) -> bool:
    """The bleed port is 1/8 NPT, and it belongs at the top."""
    bleeds = part.coolant.ends_for("bleed")
    return len(bleeds) == 1 and (bleeds[0].form, bleeds[0].size, bleeds[0].face) == ("npt", "1/8", "+z")


def is_mounted_top_and_bottom(exchanger: Exchanger) -> bool:
    """Front exchangers are mounted at the top and at the bottom."""
    return set(exchanger.mounts) == {"+z", "-z"}


FACTS: list[tuple[Fact, tuple[str, ...]]] = [
    (loses_below_one_psi, SHORT),
    (is_rated_150_psi, STURDY),
    (has_bores_of_3_to_4_inch, STURDY),
    (has_dash_12_ports, STURDY),
    (has_dash_12_ports, THEIR_EXCHANGERS),
    (bleeds_at_the_top, tuple(EXCHANGER_BY_NAME)),
    (bleeds_at_the_top, tuple(CORE_BY_NAME)),
    (is_mounted_top_and_bottom, tuple(EXCHANGER_BY_NAME)),
]


def report(parts: dict[str, Any]) -> list[str]:
    """Every named part that is missing or breaks a fact."""
    return [
        f"{name}: not so: {fact.__doc__}"
        for fact, names in FACTS
        for name in names
        if name not in parts or not fact(parts[name])
    ]


def test_the_shelf_agrees_with_the_trade() -> None:
    assert report({**CORE_BY_NAME, **EXCHANGER_BY_NAME}) == []


def test_smaller_short_cores_lose_less_still() -> None:
    """Lower still for small cores: the two smallest lose less than the two largest, at their largest flow."""
    losses = [max(float(p.charge_loss_pa) for p in CORE_BY_NAME[name].performance.measured) for name in SHORT]
    assert max(losses[:2]) < min(losses[2:])


@pytest.mark.parametrize(
    ("part", "at", "value", "fact"),
    [
        ("core-230-short", ("performance", "measured", 1, "charge_loss"), "7.2 kPa", loses_below_one_psi),
        ("core-250-sturdy", ("charge", "working"), "15 psi", is_rated_150_psi),
        ("core-250-sturdy", ("charge", "ends", 1, "size"), "60 mm", has_bores_of_3_to_4_inch),
        ("core-250-sturdy", ("charge", "ends", 0, "bead"), False, has_bores_of_3_to_4_inch),
        ("core-320-sturdy", ("coolant", "ends", 0, "size"), "-8", has_dash_12_ports),
        ("exchanger-455-thick", ("coolant", "ends", 1, "form"), "flare37", has_dash_12_ports),
        ("exchanger-460-plain", ("coolant", "ends", 2, "face"), "-z", bleeds_at_the_top),
        ("exchanger-460-plain", ("coolant", "ends", 2, "form"), "g", bleeds_at_the_top),
        ("exchanger-460-plain", ("mounts",), ["-z"], is_mounted_top_and_bottom),
    ],
)
def test_a_part_that_breaks_a_fact_is_reported(
    part: str, at: tuple[str | int, ...], value: Any, fact: Fact
) -> None:
    rows, model = (CORE_ROWS, Core) if part in CORE_ROWS else (EXCHANGER_ROWS, Exchanger)
    planted = model.model_validate(changed(rows[part], at, value))
    assert report({**CORE_BY_NAME, **EXCHANGER_BY_NAME, planted.name: planted}) == [
        f"{planted.name}: not so: {fact.__doc__}"
    ]


def test_the_loop_runs_in_the_usual_order() -> None:
    """Reservoir, pump, core, front exchanger, and back."""
    layouts = yaml.safe_load((CATALOGUE / "layouts.yaml").read_text(encoding="utf-8"))["layouts"]
    (single,) = [layout for layout in layouts if layout["id"] == "single"]
    assert single["loop"] == ["reservoir", "pump", "core", "exchanger"]
