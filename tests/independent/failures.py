"""What an answer says of failures, from its own figures, the brief and the YAML parts: suction, boiling, leaks.

Suction margin: air + height - loss - vapour, with 1000 kg/m3 to within 8 %; 20 kPa where the pump states nothing:
common practice, no source. Boiling: one body of metal and coolant, t = C/G ln((T - T0)/(T - Tb)). Leaks: the side that
is higher in any case goes into the other; 1.1 of the cap, 0.1 bar per metre, the most liquid over the loop where no
height is known: common practice, no source. Behind a blower whose brief tells no pipe to a throttle a core has 0.3 bar
absolute at idle: common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from tests.independent.boiling import ALLOWED_K, air_pa, boils_c, vapour_pa
from tests.independent.plain import liquid_metres, part_in, si
from tests.journeys.kitwright import Tree, shipped

HEAT_OF_METAL = 900.0
LITRE_LEAST, LITRE_MOST = 3450.0, 4220.0
"""Heat capacity of a litre, from 60 % glycol to cold water [J/K]; handbook values, published, from memory."""


def failure_faults(brief: Tree, kit: Tree) -> Iterator[str]:
    """Every figure of a kit's failures that does not follow from the others."""
    yield from _suction(brief, kit)
    yield from _stopped(brief, kit)
    yield from _cracked(brief, kit)


def _opens(brief: Tree, kit: Tree) -> float:
    return si(part_in(brief, kit, "cap")["opens"]) if "cap" in kit["parts"] else 0.0


def _suction(brief: Tree, kit: Tree) -> Iterator[str]:
    heights = kit["fit"]["heights_mm"]
    for pump in kit["pumps"]:
        above = None
        if {"pump", "reservoir"} <= set(heights):
            above = (heights["reservoir"][0] - sum(heights["pump"]) / 2) / 1000
        placed = {place["slot"]: place for place in kit["fit"]["placements"] if place["slot"] in ("pump", "reservoir")}
        if above is None and len(placed) == 2 and len({place["zone"] for place in placed.values()}) == 1:
            low, pump_mm = placed["reservoir"]["at_mm"][2], placed["pump"]
            above = (low - pump_mm["at_mm"][2] - pump_mm["size_mm"][2] / 2) / 1000
        if (above is None) != (pump["reservoir_above_m"] is None):
            yield "failures: the height over the pump is known and not told, or told and not known"
        head = 9.81 * 1000 * (above or 0.0)
        loss = next(joint["loss_pa"] for joint in kit["joints"] if joint["to"].startswith("pump."))
        margin = air_pa(brief) + head - loss - vapour_pa(kit, kit["thermal"]["coolant_worst_c"])
        if abs(pump["suction_margin_pa"] - margin) > 300 + 0.08 * abs(head) + 0.03 * pump["vapour_pressure_pa"]:
            yield f"failures: the suction margin is told as {pump['suction_margin_pa']}, it is {margin:.0f} Pa"
        if abs(pump["suction_margin_under_cap_pa"] - pump["suction_margin_pa"] - _opens(brief, kit)) > 2:
            yield "failures: the cap adds something else to the suction than it holds"
        needs = si(part_in(brief, kit, "pump").get("npsh_required", "20 kPa"))
        warned = any(caution["code"] == "suction-margin" for caution in kit["cautions"])
        if pump["npsh_required_pa"] != needs or warned != (pump["suction_margin_pa"] < needs):
            yield "failures: warned of suction without need, or not warned"


def _stopped(brief: Tree, kit: Tree) -> Iterator[str]:
    told, heat, core = kit["failures"]["pump_stopped"], kit["thermal"], part_in(brief, kit, "core")
    if told["charge_out_c"] != heat["charge_in_c"] or told["coolant_start_c"] != heat["coolant_worst_c"]:
        yield "failures: a stopped pump does not begin and end where the drive's figures say"
    boils = boils_c(kit, air_pa(brief) + _opens(brief, kit))
    if abs(told["boils_at_c"] - boils) > ALLOWED_K:
        yield f"failures: the core boils at {boils:.1f} degC"
    count, metal = len(kit["parts"]["core"]), HEAT_OF_METAL * si(core["mass"])
    litres = 1000 * si(core["coolant"]["volume"])
    if not metal + LITRE_LEAST * litres <= told["core_j_per_k"] / count <= metal + LITRE_MOST * litres:
        yield "failures: the core holds another heat than its metal and coolant"
    if told["charge_w_per_k"] > 1030 * heat["air_kg_per_s"]:
        yield "failures: more heat than the charge carries"
    over = told["charge_out_c"] - told["boils_at_c"]
    after: float | None = None
    if over > 0:
        ratio = (told["charge_out_c"] - told["coolant_start_c"]) / over
        after = max(told["core_j_per_k"] / told["charge_w_per_k"] * math.log(ratio), 0.0)
    if (after is None) != (told["boils_after_s"] is None):
        yield "failures: it boils and never boils"
    elif after is not None and abs(told["boils_after_s"] - after) > 0.1 + 0.01 * after:
        yield f"failures: it boils after {after:.1f} s"
    if not any(caution["code"] == "pump-stops" for caution in kit["cautions"]):
        yield "failures: no word on a stopped pump"


def _in_manifold(brief: Tree) -> bool:
    """Whether the core may lie behind the throttle: behind a blower, and no pipe to a throttle is told."""
    (charger,) = [one for one in shipped("chargers") if one["id"] == brief["engine"]["charger"]]
    return charger["holds_boost_at"] == "outlet" and "throttle" not in brief["engine"]


def _cracked(brief: Tree, kit: Tree) -> Iterator[str]:
    told, heights = kit["failures"]["cracked_core"], kit["fit"]["heights_mm"]
    boost, most = si(brief["engine"]["boost"]), kit["pressure"]["coolant"]["design_most_pa_gauge"]
    low_m, high_m = 0.0, liquid_metres(brief)
    known = {"core", "reservoir"} <= set(heights)
    if known:
        (core_low, core_top), (tank_low, tank_top) = heights["core"], heights["reservoir"]
        low_m, high_m = (tank_low - core_top) / 1000, (tank_top - core_low) / 1000
    expected = {
        "boost": ((boost, max(1.25 * boost, boost + 0.3e5)), (0.0, most)),
        "idle": ((min(3e4 - air_pa(brief), 0.0) if _in_manifold(brief) else 0.0, 0.0), (0.0, most)),
        "standstill": ((0.0, 0.0), (1e4 * low_m, 1.1 * _opens(brief, kit) + 1e4 * high_m)),
    }
    for when, (charge, coolant) in expected.items():
        found = [*told[when]["charge_pa_gauge"], *told[when]["coolant_pa_gauge"]]
        if any(abs(one - other) > 15 for one, other in zip(found, [*charge, *coolant], strict=True)):
            yield f"failures: cracked at {when} it is {charge} against {coolant} Pa"
        goes = "either way"
        if charge[0] >= coolant[1] and charge[1] > coolant[0]:
            goes = "charge into coolant"
        elif coolant[0] >= charge[1] and coolant[1] > charge[0]:
            goes = "coolant into engine"
        if told[when]["goes"] != goes:
            yield f"failures: cracked at {when} it leaks {goes}"
    if ("behind" in told["core_sits"]) != _in_manifold(brief):
        yield f"failures: the core is taken to sit {told['core_sits']}"
    if told["height_known"] != known:
        yield "failures: the height over the core is known and not told, or told and not known"
