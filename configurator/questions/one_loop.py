"""The loop of one offered kit as the only row of a bench, to be looked at again by itself."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.brief.request import Brief
from configurator.parts.kinds import Core, Exchanger, Fan, Part, Pump, Reservoir, Timer
from configurator.parts.layouts import kind_of_slot
from configurator.parts.shelf import Catalogue
from configurator.prediction.bench import Bench, Columns, Loop, make_bench, make_columns
from configurator.prediction.fan_air import fan_face_speed
from configurator.prediction.zone_air import zone_air
from configurator.questions.answer import OfferedKit
from configurator.search.add_ons import AddOn
from configurator.search.circuit import circuit_of
from configurator.search.fronts import fronts_in_line


def one_loop(
    kit: OfferedKit, parts: Mapping[str, Part], brief: Brief, catalogue: Catalogue
) -> tuple[Bench, Columns]:
    """A bench of the kit's own parts, given by slot, and its loop as one row."""
    of_kind = {kind_of_slot(slot): part for slot, part in parts.items()}
    core, pump, reservoir, exchanger = (of_kind.get(kind) for kind in ("core", "pump", "reservoir", "exchanger"))
    assert isinstance(core, Core) and isinstance(pump, Pump) and isinstance(reservoir, Reservoir)
    layout = next(layout for layout in catalogue.layouts if layout.id == kit.layout)
    circuit = circuit_of(brief, layout)
    exchangers = [exchanger] if isinstance(exchanger, Exchanger) and circuit.shut_out is None else []
    bench = make_bench([core], exchangers, [pump], [reservoir])
    slots = [slot for slot, _ in kit.parts if isinstance(parts.get(slot), Exchanger) and slot != circuit.shut_out]
    zones = [dict(kit.zones).get(slot, "") for slot in slots]
    airs = tuple(zone_air(brief.bay, zone) for zone in zones)
    loop = Loop(
        0,
        0 if exchangers else None,
        0,
        0,
        tuple(joint for joint in kit.joints if joint.medium == "coolant"),
        tuple(joint for joint in kit.joints if joint.medium == "charge"),
        airs[0] if airs else zone_air(brief.bay, ""),
        circuit.stages,
        airs,
        0.0 if brief.after_run_s is None else float(brief.after_run_s),
        fronts_in_line(brief.bay, exchangers[0] if exchangers else None, zones),
        circuit.standing_m3(exchanger),
    )
    fan, timer = of_kind.get("fan"), of_kind.get("timer")
    if isinstance(fan, Fan) and exchangers:
        loop = AddOn(fan, face_speed_m_per_s=fan_face_speed(fan, exchangers[0])).on(loop)
    if isinstance(timer, Timer):
        loop = AddOn(timer=timer).on(loop)
    return bench, make_columns(bench, [loop])
