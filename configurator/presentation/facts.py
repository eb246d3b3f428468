"""Display facts: an answer as strings ready to print, the units of its rows chosen and their figures rounded."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from configurator.foundations.units import celsius
from configurator.joining.words import celsius_words
from configurator.parts.kinds import IN_LOOP
from configurator.parts.layouts import kind_of_slot
from configurator.prediction.report import RECOVERED_K, RECOVERY_LONGEST_S, Thermal
from configurator.presentation.bill_words import bill_notes, line_words, money
from configurator.presentation.buys_words import buys_rows
from configurator.presentation.coolant_words import (
    boils_first,
    coolant_words,
    filling_words,
    hottest_air_rows,
    plateau_told_k,
)
from configurator.presentation.counted import counted_words, which_words
from configurator.presentation.failure_words import failure_rows, what_if_rows
from configurator.presentation.first_sentence import first_sentence
from configurator.presentation.fork_facts import fork_words, stopped_words
from configurator.presentation.ice_words import bypass_rows, ice_rows
from configurator.presentation.joint_words import joint_words, way_words
from configurator.presentation.layout_words import layout_words, part_rows
from configurator.presentation.moisture_words import moisture_words
from configurator.presentation.no_kit_words import margin_words
from configurator.presentation.side_words import charge_side_words, doubts, side_words
from configurator.presentation.standstill_words import restart_band, standstill_rows
from configurator.presentation.stock_words import in_stock_words, too_few_note
from configurator.presentation.ways_facts import ways_told, why_none
from configurator.questions.answer import Answer, OfferedKit
from configurator.questions.as_routed import longer_as_routed_m
from configurator.reasons.wording import commonest, exclusion_text
from configurator.search.bill import ADDED
from configurator.search.job import Exclusion

_WORDS = {
    "assured": "assured: kept even with every uncertain figure of the kit at its bad end, and a poor charger",
    "likely": "likely: kept if the figures are as stated, missed with all of the kit at their bad end",
    "charger": "likely: kept with every uncertain figure of the kit at its bad end, missed if the charger is poor too",
    "short": "short of the aim",
}


BOUGHT_ALL_THE_SAME = (
    "hoses, adapters, clamps and wiring of a kit are all billed off the shelf, for the brief does not say how much of "
    "your own there is. Take off the bill what yours serves for."
)


@dataclass(frozen=True)
class KitFacts:
    """One kit as strings. `beside`: what tells it from others of its core and exchanger, where there may be some."""

    rank: str
    price: str
    worst: str
    band: str
    restart: str
    margin: str
    room: str
    core: str
    front: str
    marks: str
    beside: tuple[str, ...]
    doubts: tuple[str, ...]
    missed: str
    parts: tuple[tuple[str, str, str, str], ...]
    joints: tuple[str, ...]
    figures: tuple[tuple[str, str], ...]
    lines: tuple[tuple[str, str, str, str, str], ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class AnswerFacts:
    """A whole answer as strings."""

    before: str
    sentence: str
    why_none: str
    ways_out: tuple[str, tuple[str, ...]]
    kits: tuple[KitFacts, ...]
    closest: tuple[KitFacts, ...]
    assumed: tuple[str, ...]
    not_checked: tuple[str, ...]
    cautions: tuple[str, ...]
    causes: tuple[str, ...]
    exclusions: tuple[str, ...]
    wanted_out: tuple[str, ...]
    own_unused: tuple[str, ...]
    counted: str
    which: tuple[str, ...]
    sizes_to_measure: tuple[str, ...]


def answer_facts(answer: Answer, names: Mapping[str, str], rank: int = 1) -> AnswerFacts:
    """Everything an output needs, worded; `names` are the spoken names of parts, `rank` the kit of the sentence."""
    return AnswerFacts(
        before=" ".join(filter(None, (stopped_words(answer), in_stock_words(answer), fork_words(answer, names)))),
        sentence=first_sentence(answer, rank),
        why_none=why_none(answer),
        ways_out=ways_told(answer),
        kits=tuple(_kit_facts(kit, answer, names) for kit in answer.kits),
        closest=tuple(_kit_facts(kit, answer, names) for kit in answer.closest),
        assumed=tuple(assumed.text for assumed in answer.assumed),
        not_checked=tuple(f"{rule.rule}: needs {rule.needs}" for rule in answer.not_checked),
        cautions=tuple(caution.text for caution in answer.cautions),
        causes=causes_of(answer.exclusions),
        exclusions=_left_out(answer.exclusions, names),
        wanted_out=_left_out([one for one in answer.exclusions if one.part in answer.wanted], names),
        own_unused=tuple(_unused(answer, names)),
        counted=counted_words(answer),
        which=tuple(which_words(answer)),
        sizes_to_measure=answer.sizes_to_measure,
    )


def _left_out(exclusions: Sequence[Exclusion], names: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(exclusion_text(one, names.get(one.part, one.part)) for one in exclusions)


def _unused(answer: Answer, names: Mapping[str, str]) -> Iterator[str]:
    """The customer's parts that no kit told here takes, each with why: its reason, or that others come before it."""
    reasons = {one.part: one for one in answer.exclusions}
    for part in answer.own_unused:
        name = names.get(part.id, part.name)
        if part.kind not in IN_LOOP:
            yield f"{name}: {BOUGHT_ALL_THE_SAME}"
            continue
        reason = reasons.get(part.id)
        others = f"{name}: `why` with its id, {part.id}, says what stands before it."
        yield others if reason is None else exclusion_text(reason, name)


def causes_of(exclusions: Sequence[Exclusion], most: int = 4) -> tuple[str, ...]:
    """The commonest causes for which parts are out, each with how many it keeps out."""
    return tuple(f"{count} × {cause}" for cause, count in commonest(exclusions, most))


def _charge_loss_words(t: Thermal) -> str:
    """What the charge loses on its way, and what of it a limit of the brief is held against: core and couplers."""
    whole, of_kit = (f"{pascals / 1e3:.1f}" for pascals in (t.charge_loss_pa, t.charge_loss_of_kit_pa))
    told = f"{whole} kPa from charger to throttle"
    return f"{told}, {of_kit} of it by core and couplers" if t.charge_loss_of_kit_pa < t.charge_loss_pa else told


def _kit_facts(kit: OfferedKit, answer: Answer, names: Mapping[str, str]) -> KitFacts:
    t = kit.thermal
    stood = t.standstill
    room = f"{kit.fit.clearance_mm:g} mm" if kit.fit.decided else "open"
    return KitFacts(
        rank=str(kit.rank),
        price=money(kit.price_cents, answer.currency),
        worst=celsius_words(t.charge_out_worst_k),
        band=f"{celsius(t.charge_out_good_end_k):.0f} to {celsius(t.charge_out_bad_end_k):.0f}",
        restart="" if stood is None else f"{celsius(stood.restart_k):.0f} ({restart_band(stood)})",
        margin=margin_words(t.margin_k),
        room=f"{room} TIGHT" if kit.tight_mm is not None else room,
        core=_of_kind(kit, "core"),
        front=_front(kit),
        marks=", ".join(kit.picks),
        beside=_beside(kit, front=answer.on_the_front is not None) if answer.all_variants else (),
        doubts=doubts(kit),
        missed=", ".join(kit.missed),
        parts=part_rows(kit, names),
        joints=tuple(_joint_words(kit, names)),
        figures=_figures(kit, answer, names),
        lines=tuple(line_words(line, answer.currency, names) for line in kit.lines),
        notes=(
            *bill_notes(kit.lines, kit.coolant_l, longer_as_routed_m(kit.joints, kit.hoses)),
            *too_few_note(kit.short),
        ),
        cautions=tuple(caution.text for caution in kit.cautions),
    )


def _beside(kit: OfferedKit, *, front: bool) -> tuple[str, ...]:
    """Pump, tank and cap with their zones, and of a kit on the front the two figures that have no column."""
    zones = dict(kit.zones)
    rest = [(slot, part) for slot, part in kit.parts if slot in ("pump", "reservoir", "cap")]
    lines = [f"+ {part}{f', {zones[slot]}' if slot in zones else ''}" for slot, part in rest]
    beside = f"low end {margin_words(kit.thermal.margin_low_k)}", f"{kit.mass_dry_g / 1e3:.2f} kg"
    return *lines, *(beside if front else ())


def _of_kind(kit: OfferedKit, kind: str) -> str:
    """The id in the slot of a kind, `2 × id` of twins with how they lie; empty for none."""
    held = [part for slot, part in kit.parts if kind_of_slot(slot) == kind]
    if len(held) < 2:
        return held[0] if held else ""
    return f"2 × {held[0]}, {dict(kit.twins)[kind]}"


def _front(kit: OfferedKit) -> str:
    """What stands below the core: the exchanger, or that there is none, then fan and timer."""
    exchanger = _of_kind(kit, "exchanger")
    out = " (shut out)" if kit.bypass is not None and kit.bypass.shut_out else ""
    first = f"+ {exchanger}{out}" if exchanger else "no front exchanger"
    return "\n".join([first, *(f"+ {part}" for slot, part in kit.parts if slot in ADDED)])


def _joint_words(kit: OfferedKit, names: Mapping[str, str]) -> list[str]:
    return [joint_words(joint, names) + way_words(kit.laid(joint)) for joint in kit.joints]


def _figures(kit: OfferedKit, answer: Answer, names: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    t = kit.thermal
    word = "charger" if t.word == "likely" and t.margin_low_k >= 0 else t.word
    near = f"within {RECOVERED_K:g} K of the air"
    recovery = f"at rest the coolant does not come {near} in {RECOVERY_LONGEST_S / 3600:g} h"
    if t.recovery_s is not None:
        recovery = f"{t.recovery_s / 60:.0f} min at rest until the coolant is {near}"
    into, worst = celsius_words(t.charge_in_k), celsius_words(t.charge_out_worst_k)
    return (
        *((("layout", layout_words(kit)),) if any(slot.endswith("-2") for slot, _ in kit.parts) else ()),
        ("charge into the core", f"{into} at full power, pressure ratio {t.pressure_ratio:.2f}"),
        ("charge out, worst", f"{worst}, {t.core_gap_k:.0f} K above the coolant it then meets"),
        *standstill_rows(t.standstill, fan=bool(_of_kind(kit, "fan"))),
        ("the aim", f"{celsius_words(answer.ceiling_k)}; {_WORDS[word]}"),
        *hottest_air_rows(kit.limiting_air_k),
        ("charge out, plateau", f"{celsius_words(plateau_told_k(t))} if this drive never ends{_settling(kit)}"
         f"{boils_first(kit, t.coolant_plateau_k)}"),
        ("charge out, full power", f"{celsius_words(t.charge_out_full_power_k)} if full power never ends"
         f"{boils_first(kit, t.coolant_full_power_k)}"),
        *what_if_rows(kit),
        ("coolant, worst", f"{coolant_words(kit)} at its hottest, {t.coolant_flow_m3_per_s * 60e3:.0f} L/min"),
        *ice_rows(t.ice),
        *bypass_rows(kit.bypass),
        *((("dew point at boost", moisture_words(t.moisture)),) if t.moisture else ()),
        *((("recovery", recovery),) if t.ice is None else ()),
        ("heat to the coolant", f"{t.heat_peak_w / 1e3:.1f} kW at most, {t.heat_mean_w / 1e3:.1f} kW on average"),
        *buys_rows(t.bought, answer.power_w),
        ("charge pressure lost", _charge_loss_words(t)),
        ("charge side", charge_side_words(kit, names)),
        ("coolant side", side_words(kit.coolant_pressure, names)),
        *failure_rows(kit),
        (
            "coolant to fill",
            f"{kit.coolant_l:.1f} L of {filling_words(answer.coolant)}{', beside the ice' if t.ice else ''}",
        ),
        (
            "mass",
            f"{kit.mass_dry_g / 1e3:.1f} kg dry, {kit.mass_wet_g / 1e3:.1f} kg filled"
            f"{', without the parts that stay' if kit.stays else ''}",
        ),
        ("current", f"{kit.current_a:.1f} A{_wire_words(kit)}"),
    )


def _settling(kit: OfferedKit) -> str:
    """After how long the repeated drive has settled, where that is within hours."""
    seconds = kit.thermal.time_to_plateau_s
    if kit.thermal.ice is not None:
        return ", its ice long gone"
    return "" if seconds is None else f", after {seconds / 60:.0f} min of it"


def _wire_words(kit: OfferedKit) -> str:
    if kit.wire_drop_v is None:
        return ""
    cold, hot = kit.wire_drop_v
    return f"; the pump's wire takes {cold:.2f} V of its voltage, {hot:.2f} V at 60 degC"
