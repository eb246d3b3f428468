"""Everything that is told of the kits an answer lists: heat, pressure, fit, bill, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from configurator.fitting.kit_fit import fit_kit
from configurator.fitting.laid_hoses import LaidHose, lay_hoses
from configurator.foundations.coolants import edge_passed, properties
from configurator.foundations.verdicts import Verdict
from configurator.joining.ratings import (
    charge_design_pa_gauge,
    coolant_design_by_place,
    coolant_design_pa_gauge,
    lowest_member,
    member_of_part,
)
from configurator.joining.words import end_words
from configurator.parts.kinds import Cap, Exchanger, Hose, Part, Pump, RigidPart, Wire
from configurator.parts.kit import Member
from configurator.parts.layouts import kind_of_slot
from configurator.prediction.bench import Bench, make_columns
from configurator.prediction.conditions import Conditions, make_conditions
from configurator.prediction.ice_report import IceTold
from configurator.prediction.ledger import Ledger
from configurator.prediction.limits_of_a_kit import limiting_air_k
from configurator.prediction.report import Thermal, thermal_report
from configurator.prediction.stages import piping
from configurator.questions.answer import Bypass, Fit, OfferedKit, Pressure
from configurator.questions.high_points import bleeds, spans_of, spans_of_two
from configurator.questions.inside_the_car import reservoir_inside
from configurator.questions.kit_cautions import kit_cautions
from configurator.questions.narrow_bores import of_bores
from configurator.questions.searches import Searched
from configurator.questions.shortfalls import part_of, shortfalls
from configurator.questions.still_air import still_air
from configurator.questions.too_few import too_few
from configurator.questions.when_it_fails import Suction, WhenItFails, core_sits, cracked_core, pump_stopped, suction_of
from configurator.questions.whole_bill import Made, Supply, idle_ports, whole_bill
from configurator.ranking.short_list import picks
from configurator.reasons.thresholds import LITTLE_ROOM_MM
from configurator.search.bill import Line, wire_drop_v
from configurator.search.bypass_joints import VALVE
from configurator.search.fill import Candidate
from configurator.search.ice_rules import left_in_circuit_w
from configurator.search.job import Job
from configurator.search.needs import KitNeeds
from configurator.standards.wires import HOT_K


def offers(found: Sequence[Searched], *lists: Sequence[Candidate]) -> tuple[tuple[OfferedKit, ...], ...]:
    """Each list of kits with all that is told of them, in the order given; `found`: the searches they come from.

    All lists are reported at once: a prediction of few rows takes as long as one of several.
    """
    told: dict[tuple[int, int], OfferedKit] = {}
    for one in found:
        job, bench = one.job, one.kits.bench
        places = [
            (of, at) for of, kits in enumerate(lists) for at, kit in enumerate(kits) if kit.kit.layout == job.layout.id
        ]
        if not places:
            continue
        of_layout = [lists[of][at] for of, at in places]
        columns = make_columns(bench, [kit.loop for kit in of_layout])
        reports = zip(*thermal_report(bench, columns, job.conditions, job.with_common_error), strict=True)
        limits = _limiting_air_k(job, bench, of_layout)
        for (of, at), kit, (thermal, ledger), limit in zip(places, of_layout, reports, limits, strict=True):
            missed = shortfalls(job, bench, kit)
            told[of, at] = _offer(job, kit, at + 1, missed, thermal, ledger, limit)
    return tuple(_marked(kits, [told[of, at] for at in range(len(kits))]) for of, kits in enumerate(lists))


def _marked(kits: Sequence[Candidate], told: Sequence[OfferedKit]) -> tuple[OfferedKit, ...]:
    """The kits, those marked that stand out: by the room that is told, which the search counts only up to a bound."""
    exact = [replace(kit, clearance_mm=one.fit.clearance_mm) for kit, one in zip(kits, told, strict=True)]
    return tuple(replace(one, picks=words) for one, words in zip(told, picks(exact), strict=True))


def _offer(
    job: Job,
    kit: Candidate,
    rank: int,
    missed: tuple[Verdict, ...],
    thermal: Thermal,
    ledger: Ledger,
    limiting: float | None,
) -> OfferedKit:
    parts = {slot: part_of(job, part) for slot, part in kit.kit.parts}
    fit = _fit(job, kit, parts)
    charge, coolant = _charge_pressure(job, kit, parts), _coolant_pressure(job, kit, parts)
    tolerance = None if job.brief.bay is None else job.brief.bay.tolerance_m
    tight = fit.decided and tolerance is not None and fit.clearance_mm < float(tolerance) * 1000
    laid = _laid(job, kit, parts, fit)
    made = _made(job, kit, parts, fit, laid, thermal.ice)
    suction, failures = _suction(job, parts, fit, thermal), _failures(job, parts, fit, thermal, charge, coolant)
    bypass = _bypass(job, kit, parts)
    lines = whole_bill(made, _supply(job))
    litres = kit.coolant_m3 * 1000
    filled_g = litres * float(_density(job)) + 1000 * (0.0 if thermal.ice is None else thermal.ice.start_kg)
    return OfferedKit(
        rank=rank,
        layout=kit.kit.layout,
        layout_name=job.layout.name,
        twins=job.layout.twins,
        picks=(),
        proven=kit.proven,
        parts=kit.kit.parts,
        zones=kit.kit.zones,
        names=tuple((slot, part.name) for slot, part in parts.items()),
        shortfalls=missed,
        thermal=thermal,
        pumps=(suction,),
        failures=failures,
        bypass=bypass,
        ledger=ledger,
        charge_pressure=charge,
        coolant_pressure=coolant,
        fit=fit,
        joints=kit.joints,
        hoses=laid,
        lines=lines,
        idle_ports=tuple((slot, end.name, end_words(end)) for slot, _, end in idle_ports(made.flow, made.used)),
        price_cents=kit.price_cents,
        mass_dry_g=kit.mass_g,
        mass_wet_g=kit.mass_g + round(filled_g),
        current_a=kit.current_a,
        wire_drop_v=_wire_drop_v(job, parts, lines),
        coolant_l=litres,
        limiting_air_k=limiting,
        boil_margin_k=kit.boil_margin_k,
        tight_mm=float(tolerance) * 1000 if tight and tolerance is not None else None,
        to_order=tuple(slot for slot, part in parts.items() if part.stock == 0 and not job.is_own(part.id)),
        stays=tuple(slot for slot in parts if job.fitted(kind_of_slot(slot)) is not None),
        stock_unsaid=tuple(slot for slot, part in parts.items() if part.stock is None and not job.is_own(part.id)),
        short=too_few(lines, lambda part_id: part_of(job, part_id).stock),
        cautions=kit_cautions(
            made,
            (("charge", charge), ("coolant", coolant)),
            lambda part_id: part_of(job, part_id),
            rated=not (charge.unproven or coolant.unproven),
            lines=lines,
            tight=tight,
            little_room=fit.decided and tolerance is None and fit.clearance_mm < LITTLE_ROOM_MM,
            boil_margin_k=kit.boil_margin_k,
            beyond_tables=_beyond_tables(job.conditions, thermal),
            moisture=thermal.moisture,
            ice=thermal.ice,
            glycol_reynolds=None if job.conditions.coolant.kind == "water" else thermal.core_reynolds,
            air_rises=thermal.bought.air_rises,
            suction=suction,
            failures=failures,
            bypass=bypass,
            still_air=still_air(job, kit.loop, [rise.slot for rise in thermal.bought.air_rises]),
            inside=reservoir_inside(job.brief.bay, dict(kit.kit.zones)),
            bores=of_bores(kit.joints, piping(kit.loop.stops), thermal, job.conditions.coolant, job.brief.engine),
        ),
    )


def _bypass(job: Job, kit: Candidate, parts: dict[str, Part]) -> Bypass | None:
    passed = job.layout.bypass
    if passed is None:
        return None
    valve = next(joint.through[-1] for joint in kit.joints if joint.finish == f"{VALVE}.in")
    exchanger = parts[passed]
    if job.conditions.ice is None or not isinstance(exchanger, Exchanger):
        return Bypass(valve, False, None)
    return Bypass(valve, True, left_in_circuit_w(job, exchanger, dict(kit.kit.zones).get(passed)))


def _suction(job: Job, parts: dict[str, Part], fit: Fit, thermal: Thermal) -> Suction:
    pump = parts["pump"]
    assert isinstance(pump, Pump)
    hottest, loss = thermal.coolant_worst_k, thermal.run_losses_pa[0]  # the first run is the pump's suction
    heights = spans_of_two("reservoir", "pump", dict(fit.spans), fit.placements)
    return suction_of(pump, job.conditions, hottest, loss, _opens_pa(parts), heights)


def _failures(
    job: Job, parts: dict[str, Part], fit: Fit, thermal: Thermal, charge: Pressure, coolant: Pressure
) -> WhenItFails:
    at = job.conditions
    boost = (at.boost_pa, charge.design_pa_gauge)
    sits = core_sits(job.brief.engine, blower=not at.boost_held_at_throttle)
    return WhenItFails(
        pump_stopped(thermal.standing, at, _opens_pa(parts)),
        cracked_core(
            boost, coolant.design_pa_gauge, _opens_pa(parts), dict(fit.spans), job.liquid.most_m, at.ambient_pa, sits
        ),
    )


def _beyond_tables(conditions: Conditions, thermal: Thermal) -> tuple[float, float] | None:
    edge_k = edge_passed(conditions.coolant, thermal.properties_at_k)
    return None if edge_k is None else (thermal.properties_at_k, edge_k)


def _opens_pa(parts: dict[str, Part]) -> float:
    cap = parts.get("cap")
    return float(cap.opens_pa_gauge) if isinstance(cap, Cap) else 0.0


def _limiting_air_k(job: Job, bench: Bench, kits: Sequence[Candidate]) -> list[float | None]:
    """The air at which each kit just meets its ceiling; none for an aim that goes with the air."""
    brief = job.brief
    if brief.aim.charge_air_k is None:
        return [None] * len(kits)

    def at(air_k: float) -> Conditions:
        warmer = brief.model_copy(update={"site": brief.site.model_copy(update={"air_k": air_k})})
        return make_conditions(warmer, job.driving, job.tables, job.conditions.coolant)

    return limiting_air_k(bench, [kit.loop for kit in kits], at, job.conditions.ambient_k)


def _wire_drop_v(job: Job, parts: dict[str, Part], lines: Sequence[Line]) -> tuple[float, float] | None:
    pump = parts["pump"]
    wire = next((job.catalogue[line.part] for line in lines if line.item == "wire" and line.part), None)
    if not isinstance(wire, Wire) or not isinstance(pump, Pump):
        return None
    return wire_drop_v(pump, wire), wire_drop_v(pump, wire, HOT_K)


def _fit(job: Job, kit: Candidate, parts: dict[str, Part]) -> Fit:
    bay = job.brief.bay
    if bay is None:
        return Fit(False, 0.0, (), ())
    zones = dict(kit.kit.zones)
    items = tuple(
        (slot, part, zones[slot])
        for slot, part in parts.items()
        if slot in zones and isinstance(part, RigidPart)
    )
    found = fit_kit(bay, items, needs=KitNeeds(job.adapter).of(parts, kit.joints))
    spans = tuple(spans_of(found.placements, bay).items())
    room = found.clearance_mm or 0.0
    return Fit(found.decided and found.fits, room, found.set_by or (), found.placements, spans)


def _laid(job: Job, kit: Candidate, parts: dict[str, Part], fit: Fit) -> tuple[LaidHose, ...]:
    """Each hose of a kit on its way through the bay."""
    if job.brief.bay is None:
        return ()
    rigid = {slot: part for slot, part in parts.items() if isinstance(part, RigidPart)}
    hoses = {hose.id: hose for hose in job.catalogue.of(Hose)}
    return lay_hoses(job.brief.bay, fit.placements, rigid, kit.joints, hoses.__getitem__)


def _charge_pressure(job: Job, kit: Candidate, parts: dict[str, Part]) -> Pressure:
    design = charge_design_pa_gauge(job.conditions.boost_pa)
    members = [*_joint_members(kit, "charge"), *_part_members(parts, "charge")]
    places = dict.fromkeys((member.place for member in members), design)
    return Pressure(design, lowest_member(members, places))


def _coolant_pressure(job: Job, kit: Candidate, parts: dict[str, Part]) -> Pressure:
    pump, opens = parts["pump"], _opens_pa(parts)
    assert isinstance(pump, Pump)
    flow_order = [slot for slot, part in parts.items() if isinstance(part, RigidPart) and part.passages()]
    height_m = job.liquid.most_m
    design = coolant_design_by_place(flow_order, opens, pump.dead_head_pa, height_m)
    members = [*_joint_members(kit, "coolant"), *_part_members(parts, "coolant")]
    after_pump = coolant_design_pa_gauge(opens, pump.dead_head_pa, height_m, after_pump=True)
    for member in members:
        design.setdefault(member.place, after_pump)  # runs to and from a wye: only the suction run is before the pump
    return Pressure(max(design.values()), lowest_member(members, design))


def _joint_members(kit: Candidate, medium: str) -> Iterator[Member]:
    for joint in kit.joints:
        if joint.medium == medium:
            yield from joint.members


def _part_members(parts: dict[str, Part], medium: str) -> Iterator[Member]:
    for slot, part in parts.items():
        if isinstance(part, RigidPart | Cap):
            member = member_of_part(slot, part, medium)  # type: ignore[arg-type]
            if member is not None:
                yield member


def _made(
    job: Job, kit: Candidate, parts: dict[str, Part], fit: Fit, laid: Sequence[LaidHose], ice: IceTold | None
) -> Made:
    spans = dict(fit.spans)
    ups = {place.slot: place.up for place in fit.placements}
    flow = [(slot, part) for slot, part in parts.items() if isinstance(part, RigidPart) and part.passages()]
    used = [name for joint in kit.joints for name in (joint.start, joint.finish)]
    return Made(
        parts=tuple(parts.items()),
        joints=kit.joints,
        bleeds=bleeds(flow, spans, ups, used),
        spans=spans,
        ups=ups,
        coolant=job.conditions.coolant,
        coolant_l=kit.coolant_m3 * 1000,
        turbine=job.tables.chargers[job.brief.engine.charger].turbine,
        outlets=job.brief.engine.charger_outlets,
        laid=laid,
        ice=None if ice is None else (ice.name, ice.brought_kg),
        stands=job.conditions.standing is not None,
        capped=any(isinstance(part, Cap) and float(part.opens_pa_gauge) > 0 for part in parts.values()),
    )


def _supply(job: Job) -> Supply:
    return Supply(
        price_of=lambda part_id: job.catalogue[part_id].price_cents,
        is_own=job.is_own,
        fitted=lambda kind: job.fitted(kind) is not None,
        serving=job.serving,
        sold=job.tables.coolants,
    )


def _density(job: Job) -> float:
    return float(properties(job.conditions.coolant, job.conditions.ambient_k).density)
