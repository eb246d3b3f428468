"""Cautions that belong to one kit: its weakest members, its high points, its look-alikes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from configurator.foundations.verdicts import Caution
from configurator.joining.hose_joint import run_place
from configurator.parts.kinds import Part, Reservoir
from configurator.parts.kit import Joint
from configurator.parts.layouts import kind_of_slot
from configurator.physics.pipe_flow import LAMINAR_TO
from configurator.prediction.ice_report import IceTold
from configurator.prediction.report import Moisture
from configurator.prediction.what_it_buys import AirRise
from configurator.questions.answer import Bypass, Pressure
from configurator.questions.as_routed import runs_apart
from configurator.questions.high_points import lowest as lowest_slot
from configurator.questions.impossible import impossible
from configurator.questions.look_alikes import look_alikes_of_pieces
from configurator.questions.when_it_fails import Suction, WhenItFails
from configurator.questions.whole_bill import Made, unpriced
from configurator.reasons.cautions import (
    LITTLE_ROOM,
    TIGHT,
    UNPROVEN,
    WARMS_RADIATOR,
    air_space,
    at_joints,
    boil_margin,
    condensate,
    drains_back,
    impossible_figure,
    leak_direction,
    look_alike,
    no_price,
    no_route,
    pump_not_lowest,
    reservoir_below,
    route_longer,
    route_shorter,
    thin_margin,
    thrust,
    vacuum_fill,
)
from configurator.reasons.coolant_cautions import LAMINAR, outside_tables, reservoir_inside
from configurator.reasons.failure_cautions import PUMP_STOPS, PUMP_STOPS_AND_BOILS, suction_margin
from configurator.reasons.ice_cautions import VALVE_OPEN, ice_not_ready, ice_short, no_strainer, valve_on_bypass
from configurator.reasons.thresholds import (
    LEAST_AIR_SPACE,
    LEAST_BOIL_MARGIN_K,
    LEAST_MARGIN,
    MOST_AIR_RISE_K,
    MOST_THRUST_N,
)
from configurator.search.bill import Line
from configurator.search.bypass_joints import VALVE


def kit_cautions(
    made: Made,
    sides: Sequence[tuple[str, Pressure]],
    part_of: Callable[[str], Part],
    *,
    rated: bool,
    lines: Sequence[Line] = (),
    tight: bool = False,
    little_room: bool = False,
    boil_margin_k: float | None = None,
    beyond_tables: tuple[float, float] | None = None,
    moisture: Moisture | None = None,
    ice: IceTold | None = None,
    glycol_reynolds: float | None = None,
    suction: Suction | None = None,
    failures: WhenItFails | None = None,
    air_rises: Sequence[AirRise] = (),
    bypass: Bypass | None = None,
    still_air: Caution | None = None,
    inside: tuple[str, float | None] | None = None,
    bores: Iterable[Caution] = (),
) -> tuple[Caution, ...]:
    """Everything that must be said beside this kit and not beside every other; from `boil_margin_k` on what is known.

    `rated`: whether all of it states what it holds. `lines`: what is bought for it. `beyond_tables`: the coolant's
    temperature and the end of its tables that it lies beyond [K]. `inside`: the zone of a reservoir in cabin or boot,
    and how far back that begins where its name does not say so [m]. `bores`: what its narrow bores ask for.
    """
    held = {part.id: part for _, part in made.parts} | {run.hose: part_of(run.hose) for run in made.joints if run.hose}
    said = [impossible_figure(part.name, text) for part in held.values() for _, text in impossible(part)]
    if not rated:
        said.append(UNPROVEN)
    if free := unpriced(lines):
        said.append(no_price([part_of(part).name for part in free]))
    if tight:
        said.append(TIGHT)
    if little_room:
        said.append(LITTLE_ROOM)
    for side, pressure in sides:
        lowest = pressure.lowest
        if lowest is None or lowest.margin is None or lowest.margin >= LEAST_MARGIN:
            continue
        name, place = part_of(lowest.part or "").name, lowest.place or ""
        said.append(thin_margin(side, name, place, lowest.margin, capped=made.capped))
    pushed = max(made.joints, key=lambda joint: joint.thrust_n, default=None)
    if pushed is not None and pushed.thrust_n > MOST_THRUST_N:
        said.append(thrust(f"from {pushed.start} to {pushed.finish}".replace(".", " "), pushed.thrust_n))
    design = {side: pressure.design_pa_gauge for side, pressure in sides}
    if design.get("coolant", 0.0) > 0.0 and "charge" in design:
        drains = failures is not None and failures.cracked_core.standstill.goes == "charge into coolant"
        said.append(leak_direction(design["coolant"], design["charge"], drains=drains))
    if boil_margin_k is not None and boil_margin_k < LEAST_BOIL_MARGIN_K:
        said.append(boil_margin(boil_margin_k))
    if beyond_tables is not None:
        said.append(outside_tables(*beyond_tables))
    if glycol_reynolds is not None and glycol_reynolds < LAMINAR_TO:
        said.append(LAMINAR)
    if suction is not None and suction.margin_pa < suction.needs_pa:
        name = part_of(suction.part).name
        said.append(suction_margin(name, suction.margin_pa, suction.needs_pa, stated=suction.stated))
    if failures is not None:
        boils = failures.pump_stopped.boils_after_s is not None
        said.append(PUMP_STOPS_AND_BOILS if boils else PUMP_STOPS)
    if ice is None and moisture is not None and moisture.start_k < moisture.dew_point_k:
        said.append(condensate(moisture.dew_point_k, moisture.start_k, moisture.most_kg_per_s, moisture.shed_kg))
    if any(rise.at_worst_k > MOST_AIR_RISE_K for rise in air_rises):
        said.append(WARMS_RADIATOR)
    if still_air is not None:
        said.append(still_air)
    reservoirs = [part for _, part in made.parts if isinstance(part, Reservoir)]
    if len(reservoirs) == 1 and made.coolant_l is not None:
        share = reservoirs[0].air_m3 * 1000 / made.coolant_l
        if share < LEAST_AIR_SPACE:
            said.append(air_space(share))
    if ice is not None:
        said += _of_ice(ice, reservoirs)
    elif inside is not None:
        said.append(reservoir_inside(*inside))
    if bypass is not None and bypass.would_add_w is not None:
        said.append(valve_on_bypass(bypass.would_add_w))
    elif any(joint.finish == f"{VALVE}.in" for joint in made.joints):
        said.append(VALVE_OPEN)
    said += bores
    for piece, place, mating in look_alikes_of_pieces(made, part_of):
        said.append(look_alike(piece.name, place, mating.why, mating.hazard))
    said += _of_joints(made.joints)
    if portless := [bleed.slot for bleed in made.bleeds if bleed.port is None]:
        said.append(vacuum_fill(portless))
    if above := [bleed.slot for bleed in made.bleeds if bleed.above_reservoir]:
        said.append(reservoir_below(above))
        if not made.capped:
            said.append(drains_back(above))
    low = lowest_slot(made.flow, made.spans)
    if low is not None and kind_of_slot(low) != "pump":
        said.append(pump_not_lowest(low))
    longer, shorter = runs_apart(made.joints, made.laid)
    said += [route_longer(longer)] if longer else []
    said += [route_shorter(shorter)] if shorter else []
    if stuck := [hose.name for hose in made.laid if hose.stuck]:
        said.append(no_route(stuck))
    return tuple(said)


def _of_ice(ice: IceTold, tanks: Sequence[Reservoir]) -> list[Caution]:
    """Cautions of the ice: what keeps it from the pump, whether it lasts, whether the tank is cold again in time."""
    said = [no_strainer(tank.name) for tank in tanks if not tank.screen]
    if ice.lasts_passes < ice.passes:
        said.append(ice_short(ice.lasts_passes, ice.passes))
    if ice.passes > 1 and ice.ready_s is None:
        said.append(ice_not_ready(ice.start_k, ice.between_s))
    return said


def _of_joints(joints: Sequence[Joint]) -> list[Caution]:
    """Cautions of the pairs of ends, each once with its places."""
    places: dict[Caution, dict[str, None]] = {}
    for joint in joints:
        place = run_place(*joint.slots)
        for caution in joint.cautions:
            places.setdefault(caution, {})[place] = None
    return [at_joints(caution, tuple(where)) for caution, where in places.items()]
