"""The commissioning sheet in words: its steps in order, each with what to do, and the figures to be read in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from configurator.joining.ratings import CAP_TOLERANCE
from configurator.joining.words import bar_words, celsius_words, end_words
from configurator.prediction.first_runs import IDLE_S, PULL_S
from configurator.presentation.commission_rows import Row, rows_of
from configurator.presentation.coolant_words import filling_words
from configurator.questions.commissioning import TEST_S, Commissioning, LeakTest

_BY: Final = {"kit": "k", "charger": "c", "common practice": "p", "stated": "s"}
_MISSING: Final = "MISSING"


@dataclass(frozen=True)
class SheetStep:
    """One step of the sheet."""

    title: str
    texts: tuple[str, ...]
    rows: tuple[Row, ...] = ()


@dataclass(frozen=True)
class SheetFacts:
    """The whole sheet as words; `missing`: what a figure or a test lacks."""

    head: tuple[str, ...]
    steps: tuple[SheetStep, ...]
    missing: tuple[str, ...]


def sheet_words(sheet: Commissioning, names: Mapping[str, str]) -> SheetFacts:
    """Words and rows of a sheet; `names` are the spoken names of parts."""
    rows = rows_of(sheet)
    of = {step: tuple(row for row in rows if row.step == step) for step in ("pump", "soak", "pull", "balance")}
    no_ice = " Do all of it without ice, filled with water as warm as the air." if sheet.ice else ""
    runs = "pump and fan" if sheet.fan else "pump"
    head = (
        f"Temperatures are for {celsius_words(sheet.runs.air_k)} outside air with everything as warm as that at the "
        "start: on another day shift all but the charge into the core by the difference, that one by a little "
        "more." + no_ice,
        "Pass: k by the bands of the kit's own figures (temperatures at least 2 K, for the sensors); c by that of "
        "the charger's efficiency; p common practice, no source; s from stated data. Read: write in what you find.",
        "A figure outside its pass: stop; look for air in the loop, a low level, a slipped clamp or a kinked hose, "
        "then at the pump's volts and at the sensor itself, and only then drive on.",
    )
    steps = (
        SheetStep("Leak test, before filling", tuple(_leak(sheet, names))),
        SheetStep("Fill and bleed", tuple(_fill(sheet))),
        SheetStep("Pump, engine off", tuple(_pump(sheet)), of["pump"]),
        SheetStep(f"Soak: {IDLE_S / 60:.0f} min at idle, standing, {runs} on", _SOAK, of["soak"]),
        SheetStep(f"Pulls: three of {PULL_S:.0f} s at full power, cold each time", tuple(_pull(sheet)), of["pull"]),
        SheetStep("Does it add up? Heat of the coolant over that of the charge", tuple(_sum(sheet)), of["balance"]),
        SheetStep("After the first heat cycle, cold again", tuple(_after(sheet))),
    )
    return SheetFacts(head, steps, tuple(missing(sheet)))


_SOAK: Final = (
    "Log all three over the 15 min. The predicted figure has the bay as cool as the air, the high end one as hot as "
    "after a hard drive.",
)

_EXCHANGER: Final = " Exchanger: (air out - air in) / (coolant in - air in), in the air of that speed alone."


def missing(sheet: Commissioning) -> Iterator[str]:
    """What the sheet cannot say, and what it needs for that."""
    for test in sheet.leak_tests:
        if test.weakest is None:
            lack = ", ".join(test.unrated) or "its parts"
            yield f"pressure of the {test.side} side's leak test: needs the rating of {lack}"
    if sheet.wire_drop_v is None:
        yield "volts lost between battery and pump: needs a wire on the shelf that is thick enough"
    if sheet.unreckoned:
        yield f"pressure lost in couplers: needs {' and '.join(sheet.unreckoned)} in the kit file or the brief"
    if sheet.heights_missing:
        slots = ", ".join(sheet.heights_missing)
        what = "bleeding from the lowest point up"
        if _by_height(sheet):
            what = "whether a bleed point lies above the reservoir"
        yield f"{what}: needs how high above the ground the zones of these lie: {slots}"


def _by_height(sheet: Commissioning) -> bool:
    """Whether the bleed points are in the order of their heights: that of the flow is for want of them."""
    return all(point.top_mm is not None for point in sheet.bleed_points)


def number_words(row: Row) -> tuple[str, str]:
    """The predicted figure of a row, and its pass."""
    unit = f" {row.unit}" if row.unit else ""
    predicted = f"{row.predicted:.{row.decimals}f}{unit}"
    high = f"{row.high:.{row.decimals}f}"
    return predicted, f"at most {high}" if row.low is None else f"{row.low:.{row.decimals}f} to {high}"


def mark_of(row: Row) -> str:
    """The letter that says where a pass comes from."""
    return _BY[row.by]


def _leak(sheet: Commissioning, names: Mapping[str, str]) -> Iterator[str]:
    yield (
        "With a regulator and a relief valve, ends restrained, nobody in line with them; the side that is not tested "
        "stands open. Never over the pressures below: they find leaks, and are not meant to prove strength."
    )
    for test in sheet.leak_tests:
        yield _test(test, names)
    off = ", the reservoir still off" if _vented(sheet) else ""
    yield (
        f"Cross leak, with the same pressures{off}, {_HELD} each, p: the charge side under air, the coolant side full "
        "of water and open at its top: no bubbles. Then the coolant side under pressure, the charge side open: it "
        "stays dry."
    )


def _vented(sheet: Commissioning) -> bool:
    """Whether the leak test is one of a vented loop, with the hoses off its reservoir."""
    return any(test.vented for test in sheet.leak_tests)


_HELD: Final = f"{TEST_S / 60:.0f} min"


def _test(test: LeakTest, names: Mapping[str, str]) -> str:
    side = "Water side" if test.side == "coolant" else "Charge side"
    if test.weakest is None or test.weakest.working_pa_gauge is None:
        return f"{side}: {_MISSING}, no pressure is safe to name: the rating of {', '.join(test.unrated)} is not known."
    member = test.weakest
    most = f"lowest rating: {names.get(member.part, member.part)} ({member.place}), {bar_words(test.weakest_pa)}"
    pressure = bar_words(test.low_pa)
    if test.high_pa > test.low_pa:
        pressure = f"{pressure.removesuffix(' bar')} to {bar_words(test.high_pa)}"
    if test.side == "charge":
        held = "the target boost, held until every joint is soaped"
        return f"{side}, with air: {pressure}, {held}: no bubbles grow ({most})."
    why, first = "1.0 to 1.5 times the cap, p", ""
    if test.vented:
        why = "what the pump makes at no flow, and the liquid above"
        rated = "" if test.reservoir_pa is None else f" (rated {bar_words(test.reservoir_pa)})"
        first = f"first both hoses off the reservoir, plugged: no air into it{rated}, filling shows its leaks. Then "
    if test.high_pa == test.weakest_pa:
        why += "; no more than the lowest rating"
    return f"{side}, with air: {first}{pressure} ({why}) for {_HELD}, p: no fall ({most})."


def _fill(sheet: Commissioning) -> Iterator[str]:
    flushed = "core and exchanger" if sheet.runs.front_effectiveness or sheet.valve else "core"
    hoses = ", put the hoses back on the reservoir" if _vented(sheet) else ""
    ice = ", no ice yet" if sheet.ice else ""
    yield (
        f"Let the water of the leak test out{hoses}; flush {flushed} free of swarf. Fill {sheet.fill_l:.1f} L of "
        f"{filling_words(sheet.coolant)}{ice}: under vacuum if you can, else slowly, nose up. Never run the pump dry."
    )
    yield _mixed(sheet)
    order = "in this order, from the lowest up" if _by_height(sheet) else "in this order, along the flow"
    valve = "" if sheet.valve is None else "; the bypass valve open to the exchanger, last once on bypass"
    if sheet.bleed_points:
        yield f"Pulse the pump and bleed {order}, each until no more air comes{valve}:"
    for point in sheet.bleed_points:
        port = "no port of its own: bleed tee at its top" if point.port is None else end_words(point.port)
        high = "" if point.top_mm is None else f"; the top of the part {point.top_mm:.0f} mm above the ground"
        above = ""
        if point.above_reservoir:
            above = "; above the reservoir: " + (_tower(sheet) if point.tower else "the fill tower kept full")
        yield f"bleed point {point.number}: {point.slot} ({port}{high}){above}"
    level = "top up to its mark"
    if sheet.ice:
        level = f"{sheet.ice.water_l:.1f} L in it, no more: the ice raises it to its mark ({sheet.ice.mark_l:.1f} L)"
    yield f"Last the reservoir: {level}. Done when its level stays and no foam is seen."


def _tower(sheet: Commissioning) -> str:
    """What closes a fill tower: an open one lets coolant out, and at rest air in."""
    holds = f"a sealed cap good for {bar_words(sheet.coolant_pa_gauge)}"
    return f"fill tower there, closed before the pump runs by {holds}, or the loop spills and drains back"


def _mixed(sheet: Commissioning) -> str:
    """What the fill is mixed from, and down to where it keeps."""
    share = sheet.coolant.glycol_by_volume
    parts = ""
    if share > 0.0:
        fill = round(sheet.fill_l, 1)
        glycol = round(fill * share, 1)  # the water is the rest of the fill as told, so that both make it up
        parts = f"Mix it from {glycol:.1f} L of undiluted antifreeze and {fill - glycol:.1f} L of demineralised water. "
    night = "not told in the brief" if sheet.coldest_k is None else celsius_words(sheet.coldest_k)
    return f"{parts}The first ice forms in it at {celsius_words(sheet.freezes_k)}; the coldest night: {night}."


def _pump(sheet: Commissioning) -> Iterator[str]:
    yield (
        "Flow by a meter in the loop, or from the pressure across the core with the loop closed; not by hose into a "
        f"bucket, that shifts the pump's working point. Figures hold with {sheet.pump_v:g} V at the pump's terminals"
        f"{_VALVE.get(sheet.valve, '')}."
    )
    if sheet.wire_drop_v is None:
        yield f"Volts lost between battery and pump: {_MISSING}, the shelf has no wire for it; usual is at most 3 %."


_VALVE: Final[Mapping[str | None, str]] = {
    "to the exchanger": " and, here and below, with the bypass valve open to the exchanger: leave it so",
    "on bypass": " and, here and below, with the bypass valve on bypass: leave it so while there is ice",
}


def _pull(sheet: Commissioning) -> Iterator[str]:
    runs, at = sheet.runs, "in the manifold" if sheet.in_manifold else "at the throttle"
    yield (
        f"Log outside air, speed, boost before and after the core, charge in and out, coolant in and out of the core, "
        f"flow, volts{', air behind the exchanger' if runs.front_effectiveness else ''}. Figures: end of a pull at "
        f"{sheet.speed_m_per_s * 3.6:.0f} km/h, started with all at outside air."
    )
    yield (
        "On a dynamometer or a closed course only. Break off where a figure leaves its pass on the hot side, the level "
        "falls or boost is not held."
    )
    yield (
        "Core: (charge in - charge out) / (charge in - coolant in), whatever the day."
        + (_EXCHANGER if runs.front_effectiveness else "")
        + f" Boost behind the core, {at}: {bar_words(sheet.boost_pa_gauge)}."
    )
    if sheet.unreckoned:
        yield f"Pressure lost in couplers: {_MISSING}, {' and '.join(sheet.unreckoned)} not told."


def _sum(sheet: Commissioning) -> Iterator[str]:
    runs = sheet.runs
    charge = runs.pull_charge_w.nominal / (runs.pull_charge_in_k.nominal - runs.pull_charge_k.nominal)
    yield (
        f"Coolant: (out - in) x {runs.rate_w_per_k.nominal / 1e3:.2f} kW/K at the predicted flow, more with more flow. "
        f"Charge: (in - out) x {charge / 1e3:.3f} kW/K at full power. At the end of a pull that is "
        f"{runs.pull_coolant_w.nominal / 1e3:.1f} over {runs.pull_charge_w.nominal / 1e3:.1f} kW: the core still "
        f"warms. Settled after {max(runs.settles_s.nominal, 1.0):.0f} s of one load, longer if coolant climbs. Compare "
        f"the coolant's two sensors first: 1 K between them moves this by "
        f"{runs.rate_w_per_k.nominal / runs.pull_charge_w.nominal:.2f}."
    )


def _after(sheet: Commissioning) -> Iterator[str]:
    yield "Look at the level, every clamp and every bleed point again; open the cap only when the loop is cold."
    cap = "vented, no pressure"
    if sheet.cap_pa_gauge is not None:
        cap = f"opens at {bar_words(sheet.cap_pa_gauge)} (within {100 * (CAP_TOLERANCE - 1):.0f} %, p)"
    ice, then = sheet.ice, ""
    if ice is not None:
        then = f", and {ice.kg:.1f} kg of {ice.name}"
        yield (
            f"Then the ice, pump on: {ice.kg:.1f} kg raise the tank to its mark. For each kilogram more, as it melts, "
            f"first let off a litre of water. A pass begins with {ice.kg:.1f} kg of it in water at "
            f"{celsius_words(ice.start_k)}."
        )
    yield f"Label beside the cap: {cap}; {filling_words(sheet.coolant)}, {sheet.fill_l:.1f} L{then}."
