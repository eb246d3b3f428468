"""The checker's question: do these parts go together, and which one limits the pressure?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from configurator.brief.tables import Tables
from configurator.foundations.verdicts import Caution, Verdict
from configurator.joining.ratings import charge_design_pa_gauge
from configurator.parts.box import Box
from configurator.parts.kinds import Cap, Clamp, Hose, Part
from configurator.parts.kit import Joint, Medium
from configurator.parts.shelf import Catalogue
from configurator.questions.answer import Answer, OfferedKit, Pressure
from configurator.questions.assumptions import HOT_BEHIND
from configurator.questions.box_assumptions import assumed, judged_all_the_same, not_checked, pipes_unknown, said_twice
from configurator.questions.box_cap import cap_to_bring, cap_to_buy, cap_verdicts, with_cap_to_fit
from configurator.questions.box_car import (
    Car,
    bounds_no_drive,
    charge_of,
    liquid_of,
    outlets_of,
    pipes_of,
    places_taken,
    staying,
)
from configurator.questions.box_clamps import with_clamps_of_box
from configurator.questions.box_layouts import judged_layout, layouts_for, makes_none_named
from configurator.questions.box_loop import (
    BoxLoop,
    charge_joints,
    make_loop,
)
from configurator.questions.box_pressure import charge_side, coolant_side, made_of
from configurator.questions.box_rules import (
    charge_heat_rules,
    complete,
    hoses_off_suction,
    loop_rules,
    suction_rules,
    volt_rules,
)
from configurator.questions.box_runs import coolant_joints, in_no_car, placed, unplaced
from configurator.questions.check_answer import Checked, CheckOutcome, InCar
from configurator.questions.commissioning import Commissioning, commissioning
from configurator.questions.high_points import bleeds
from configurator.questions.in_car import STATED_CAP, against_the_car, alone_against_the_car, in_car, reaches_cores_k
from configurator.questions.kit_cautions import kit_cautions
from configurator.questions.look_alikes import LookAlike, look_alikes_in_box
from configurator.questions.one_of_each import one_of_each, too_many
from configurator.questions.spare_pieces import pieces_used, refused_pieces, spare_pieces
from configurator.questions.to_buy import refused_wiring, to_buy
from configurator.questions.whole_bill import Made
from configurator.questions.written_in import WrittenIn
from configurator.reasons.cautions import ALWAYS, kept_off_suction, look_alike
from configurator.reasons.coolant_cautions import IF_WATER, TOXIC
from configurator.search.bill import Line
from configurator.search.skeletons import HOSE_COLDEST_K

OF_ANY_CAR: tuple[Caution, ...] = (TOXIC, IF_WATER, *ALWAYS)
"""What is said where nobody says what the loop is filled with."""


def check_parts(
    box: Box, parts: Sequence[Part], fingerprint: str, catalogue: Catalogue, tables: Tables, car: Car | None
) -> Checked:
    """Judge a box of parts: every joint, rating and rule of their loop, what is missing, what would be mistaken.

    `parts` are those of the box in the order written; `car` adds the figures of its brief, and what stays in the car
    where the box has none of its kind. Where a kind of which a loop has one is there more than once, the first of it
    alone is judged and priced.
    """
    if car is not None:
        kinds = {part.kind for part in parts}
        parts = (*parts, *(held.part for held in car.own if held.fitted and held.part.kind not in kinds))
    first, others = one_of_each(parts)
    checked = _check(box, first, fingerprint, catalogue, tables, car)
    if not others:
        return checked
    unknown = (*too_many(first, others), *checked.unknown)
    outcome = _outcome([*checked.broken, *unknown])
    return replace(checked, outcome=outcome, unknown=unknown, too_many=others, without_them=checked.outcome)


def _check(
    box: Box, parts: Sequence[Part], fingerprint: str, catalogue: Catalogue, tables: Tables, car: Car | None
) -> Checked:
    coldest_k = HOSE_COLDEST_K if car is None else car.brief.coldest_k(HOSE_COLDEST_K)
    liquid = liquid_of(box, parts, car)
    named = () if car is None else tuple(one for one in catalogue.layouts if one.id in car.brief.layouts)
    loop = with_cap_to_fit(make_loop(parts, box.cap_pa_gauge, liquid.most_m, coldest_k, named), catalogue)
    boost = box.boost_pa_gauge if car is None else car.brief.engine.boost_pa_gauge
    stays = staying(parts, car)
    told = None
    if car is not None and complete(loop):
        told = in_car(loop, parts, car, stays, catalogue, tables, box.head_m)
    run_of, fits_with = (unplaced, in_no_car) if told is None else (told.run, told.pieces)
    runs, runs_placed = list(coolant_joints(loop, catalogue, run_of, fits_with)), placed(loop, run_of)
    hot_k = None if car is None else reaches_cores_k(loop, car, catalogue, tables)
    kinds_staying = frozenset(part.kind for part in parts if part.id in stays)
    side = None if boost is None or "core" in kinds_staying else charge_of(box, car, hot_k, float(boost))
    pipes = [] if side is None else list(charge_joints(loop, catalogue, side))
    made_joints = [made for _, made in (*runs, *pipes) if isinstance(made, Joint)]
    joints = with_clamps_of_box(made_joints, loop.clamps, catalogue.of(Clamp), boost)
    refused = [
        replace(made, text=f"{place}: {made.text}") for place, made in (*runs, *pipes) if isinstance(made, Verdict)
    ]
    sides: tuple[tuple[Medium, Sequence[tuple[str, Joint | Verdict]]], ...] = (("charge", pipes), ("coolant", runs))
    unjoined = tuple((side, place) for side, found in sides for place, made in found if isinstance(made, Verdict))
    written = WrittenIn(catalogue, parts, () if car is None else car.own)
    verdicts = [*refused, *loop_rules(loop, catalogue, boost is not None), *cap_verdicts(loop, catalogue, written)]
    verdicts += [*suction_rules(loop, joints), *volt_rules(loop)]
    verdicts += [] if side is None or car is not None else charge_heat_rules(loop, side.before_k)
    coolant, found = coolant_side(loop, joints, written)
    verdicts += found
    charge, found = (None, []) if boost is None else charge_side(loop, joints, charge_design_pa_gauge(boost), written)
    verdicts += found
    ends_known = all(rule.rule != "unknown-end" for rule in refused)
    all_known = all(rule.rule != "unknown-end" for rule in verdicts)
    alike = look_alikes_in_box(loop.slots, loop.small, joints, ends_known=ends_known)
    traps = [_trap(look, parts) for look in alike if look.trap]
    verdicts += traps
    mendable = not any(rule.state == "broken" for rule in verdicts if rule not in traps)
    if told is not None:
        together = mendable and all_known and not makes_none_named(loop)
        against = against_the_car if together else alone_against_the_car
        verdicts += against(told, {part.id: part.name for part in parts} | {STATED_CAP: "the cap as stated"})
    verdicts += places_taken(parts, car, stays)
    made = _made(loop, joints, told, box, car, tables)
    judged = judged_layout(loop, catalogue)
    known = {**catalogue.parts, **{part.id: part for part in parts}}
    leave_out = tuple(dict.fromkeys(rule.subjects[0] for rule in traps))
    if leave_out and mendable:
        rest = [part for part in parts if part.id not in leave_out]
        without = _check(box, rest, fingerprint, catalogue, tables, car)
        mendable = without.outcome == "fits_together" or without.car_alone
    currency = box.currency if car is None else car.brief.currency or box.currency
    unknown = () if side is None else pipes_unknown(*pipes_of(box, car))
    whole = complete(loop) and not unjoined
    charge_judged = side is not None and not unknown
    used = pieces_used(joints)
    left = spare_pieces(loop, used, charge_judged=charge_judged, whole=whole)
    spare = tuple(left) if ends_known else ()
    unwanted = [part for part in spare if part.id not in used]
    lines = to_buy(made, parts, catalogue, tables, cap_to_buy(loop), cap_to_bring(loop), kinds_staying)
    return Checked(
        outcome=_outcome(verdicts),
        name=box.kit,
        fingerprint=fingerprint,
        catalogue_parts=len(catalogue.parts),
        catalogue_fingerprint=catalogue.fingerprint,
        currency=currency,
        cap_stated_pa_gauge=box.cap_pa_gauge,
        slots=loop.slots,
        pieces=loop.small,
        joints=joints,
        unjoined=unjoined,
        charge=charge,
        coolant=coolant,
        boost_pa_gauge=boost,
        coolant_from=made_of(loop, coolant),
        pipes_unknown=unknown,
        leave_out=leave_out if mendable else (),
        broken=tuple(verdict for verdict in verdicts if verdict.state == "broken"),
        unknown=tuple(verdict for verdict in verdicts if verdict.state == "not checked"),
        look_alikes=alike,
        layout=None if judged is None else judged.name,
        layouts=layouts_for(loop, catalogue),
        spare=spare,
        refused=(*refused_pieces(unwanted, loop, catalogue, side), *refused_wiring(parts, catalogue)),
        to_buy=lines,
        assumed=(
            *(() if car is None else said_twice(box, car.brief.engine)),
            *(() if car is None else judged_all_the_same(parts, car, stays)),
            *((HOT_BEHIND,) if side is not None and side.throttle_m and bounds_no_drive(car) else ()),
            *assumed(box, loop, joints, known, liquid, with_car=car is not None, placed=runs_placed, currency=currency),
        ),
        not_checked=not_checked(unknown, with_car=car is not None, reckoned=car is None or told is not None),
        cautions=_cautions(
            made,
            (("charge", charge), ("coolant", coolant)),
            lines,
            told,
            alike,
            known,
            hoses_off_suction(loop, joints),
        ),
        in_car=told,
        commissioning=None
        if told is None or car is None or any(verdict.state == "broken" for verdict in verdicts)
        else _sheet(told, known, loop, unknown, car, catalogue, tables),
    )


def _sheet(
    told: InCar,
    known: Mapping[str, Part],
    loop: BoxLoop,
    unknown: Sequence[str],
    car: Car,
    catalogue: Catalogue,
    tables: Tables,
) -> Commissioning | None:
    """The commissioning sheet of the box in its car; None where it makes no kit there."""
    if told.kit is None or told.answer.coolant is None:
        return None
    having = {**known, **{held.part.id: held.part for held in car.own}}
    filling = told.answer.coolant
    opens_pa = _opens_pa(told.kit, having, loop)
    return commissioning(told.kit, told.asked, car.driving, having, filling, catalogue, tables, opens_pa, unknown)


def _opens_pa(kit: OfferedKit, known: Mapping[str, Part], loop: BoxLoop) -> float:
    """What the cap opens at: that of the kit in the car, else of the box [Pa gauge]."""
    caps = [known[part] for _, part in kit.parts if part in known]
    return next((float(cap.opens_pa_gauge) for cap in caps if isinstance(cap, Cap)), loop.opens_pa)


def _trap(look: LookAlike, parts: Sequence[Part]) -> Verdict:
    names = {part.id: part.name for part in parts}
    text = (
        f"{names[look.part]} in the box seems to fit {names[look.other]} ({look.other_end}) and must not go there: "
        f"{look.why}; {look.hazard + '; ' if look.hazard else ''}leave it out"
    )
    return Verdict("look-alike-thread", "broken", (look.part, look.other), look.end, look.other_end, "", text)


def _outcome(verdicts: Sequence[Verdict]) -> CheckOutcome:
    states = {verdict.state for verdict in verdicts}
    return "does_not" if "broken" in states else "unproven" if "not checked" in states else "fits_together"


def _made(
    loop: BoxLoop, joints: tuple[Joint, ...], told: InCar | None, box: Box, car: Car | None, tables: Tables
) -> Made:
    used = [name for joint in joints for name in (joint.start, joint.finish)]
    spans = {} if told is None or told.kit is None else dict(told.kit.fit.spans)
    ups = {} if told is None or told.kit is None else {place.slot: place.up for place in told.kit.fit.placements}
    return Made(
        parts=loop.slots,
        joints=joints,
        bleeds=bleeds(loop.flow, spans, ups, used),
        spans=spans,
        ups=ups,
        coolant=None if told is None else told.answer.coolant,
        coolant_l=None if told is None or told.kit is None else told.kit.coolant_l,
        turbine=car is not None and tables.chargers[car.brief.engine.charger].turbine,
        outlets=outlets_of(box, car),
        capped=loop.opens_pa > 0.0,
    )


def _cautions(
    made: Made,
    sides: Sequence[tuple[str, Pressure | None]],
    lines: Sequence[Line],
    told: InCar | None,
    alike: Sequence[LookAlike],
    known: Mapping[str, Part],
    off_suction: Sequence[Hose],
) -> tuple[Caution, ...]:
    """Those of the kit, of its look-alikes, of the car or of any car; each text once."""
    judged = [(side, pressure) for side, pressure in sides if pressure is not None]
    rated = not any(pressure.unproven for _, pressure in judged)
    bypass = None if told is None or told.kit is None else told.kit.bypass
    said = list(kit_cautions(made, judged, lambda part_id: known[part_id], rated=rated, lines=lines, bypass=bypass))
    said += [
        look_alike(known[look.part].name, f"{known[look.other].name} ({look.other_end})", look.why, look.hazard)
        for look in alike
    ]
    said += [kept_off_suction(hose.name) for hose in off_suction]
    codes = {caution.code for caution in said} | {"no-price"}  # of the kit: the box is what is bought for
    of_car: tuple[Caution, ...] = OF_ANY_CAR
    if told is not None:
        of_car = (*(() if told.kit is None else told.kit.cautions), *_general(told.answer))
    said += [caution for caution in of_car if caution.code not in codes]
    return tuple({caution.text: caution for caution in said}.values())


def _general(answer: Answer) -> tuple[Caution, ...]:
    return answer.cautions or OF_ANY_CAR
