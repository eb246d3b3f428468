"""The whole bill of a kit: what the shelf prices, and everything else that the job takes, to be brought along.

The lines that nobody prices are common practice, no source: a list of what is missing on the garage floor otherwise.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from configurator.brief.tables import CoolantKind
from configurator.fitting.laid_hoses import LaidHose
from configurator.foundations.coolants import Coolant
from configurator.joining.words import end_words
from configurator.parts.ends import End, Face
from configurator.parts.kinds import Fan, Part, Pump, RigidPart
from configurator.parts.kit import WYE_BEFORE, WYE_BEHIND, Joint, open_charge_sides
from configurator.parts.layouts import the_slot
from configurator.questions.as_routed import as_laid_m, hose_beyond_price
from configurator.questions.high_points import Bleed, Span, lowest, ports
from configurator.search.bill import Group, Line, Serving, all_wiring, coolant_lines, joint_lines, part_lines

CLIP_EVERY_M = 0.35
"""A clip for hose and wire every 300 to 400 mm."""

ISOLATED = ("pump", "reservoir", "core")
ISOLATORS = 4


@dataclass(frozen=True)
class Supply:
    """How the pieces of a bill are had: prices, the customer's own, what serves joints and wiring, coolants sold.

    `held`: pieces that lie in the customer's box, which serve before the shelf's.
    """

    price_of: Callable[[str], int]
    is_own: Callable[[str], bool]
    fitted: Callable[[str], bool]
    serving: Serving
    sold: Mapping[str, CoolantKind]
    held: Sequence[Part] = ()


@dataclass(frozen=True)
class Made:
    """A kit as far as its bill looks at it. `parts`: slots in flow order with their parts, then the cap, fan and timer.

    `turbine`: whether exhaust drives the charger. `outlets`: how many it has. `ice`: its kind, and how much an event
    needs there [kg]. `stands`: whether the after-run is reckoned, so that it is either the kit's or not wanted.
    """

    parts: Sequence[tuple[str, Part]]
    joints: Sequence[Joint]
    bleeds: Sequence[Bleed]
    spans: Mapping[str, Span]
    ups: Mapping[str, Face]
    coolant: Coolant | None
    coolant_l: float | None
    turbine: bool = False
    outlets: int = 1
    capped: bool = False
    laid: Sequence[LaidHose] = ()
    ice: tuple[str, float] | None = None
    stands: bool = False

    @property
    def flow(self) -> tuple[tuple[str, RigidPart], ...]:
        """The rigid parts that coolant passes, in flow order."""
        return tuple((slot, part) for slot, part in self.parts if isinstance(part, RigidPart) and part.passages())

    @property
    def used(self) -> frozenset[str]:
        """Ends that joints take, as `slot.end`."""
        return frozenset(name for joint in self.joints for name in (joint.start, joint.finish))


def idle_ports(flow: Iterable[tuple[str, RigidPart]], used: Iterable[str]) -> Iterator[tuple[str, str, End]]:
    """Ends that no joint takes and that stand open: slot, medium, end. A neck has its cap, pipes go to the engine."""
    taken = set(used)
    for slot, part in flow:
        for medium, passage in part.passages().items():
            for end in passage.ends:
                closed = end.role in ("bleed", "drain", "fill")
                idle = closed or (medium == "coolant" and end.role != "cap")
                if idle and f"{slot}.{end.name}" not in taken:
                    yield slot, medium, end


def whole_bill(made: Made, supply: Supply) -> tuple[Line, ...]:
    """Every line, group by group."""
    lines = [
        *part_lines(made.parts, supply.is_own),
        *joint_lines(made.joints, supply.price_of),
        *_charge_side(made),
        *_charge_pipes(made, supply),
        *_ports(made),
        *_coolant_side(made),
        *hose_beyond_price(made.joints, made.laid, supply.price_of),
        *_electrical(made, supply),
        *_mounting(made, supply),
        *_fill(made, supply),
    ]
    groups: tuple[Group, ...] = ("charge side", "coolant side", "electrical", "mounting", "fill")
    return tuple(line for group in groups for line in lines if line.group == group)


def unpriced(lines: Iterable[Line]) -> tuple[str, ...]:
    """The parts to be bought that the shelf has no price for, each once."""
    free = (line.part for line in lines if not line.bring_yourself and not line.price_cents)
    return tuple(dict.fromkeys(part for part in free if part is not None))


def _own(item: str, quantity: float, unit: str, group: Group, place: str = "") -> Line:
    return Line(item, None, quantity, unit, 0, group, bring_yourself=True, place=place)


def _of_kind(made: Made, kind: str) -> list[tuple[str, Part]]:
    return [(slot, part) for slot, part in made.parts if part.kind == kind]


def _charge_side(made: Made) -> Iterator[Line]:
    for slot, _ in _of_kind(made, "core"):
        yield _own(f"charge temperature sensor with boss, after {the_slot(slot)}", 1, "piece", "charge side", slot)
        yield _own(f"plugged boss for a second sensor, before {the_slot(slot)}", 1, "piece", "charge side", slot)
        yield _own(f"drain plug at the lowest point of the charge side ({slot})", 1, "piece", "charge side", slot)
    if _of_kind(made, "core"):
        outlets = "the charger's outlet" if made.outlets == 1 else f"each of the charger's {made.outlets} outlets"
        taps = f"pressure tap boss, at {outlets} and at the throttle"
        yield _own(taps, made.outlets + 1, "piece", "charge side", "core")
    if made.turbine and _of_kind(made, "core"):
        yield _own("heat shield sleeve where pipe or hose passes the turbine", 1, "set", "charge side")


def _charge_pipes(made: Made, supply: Supply) -> Iterator[Line]:
    """Couplers, and the wyes that the charge pipes want, where no joint holds them for want of a bore to join to."""
    slots = [] if supply.fitted("core") else [slot for slot, _ in _of_kind(made, "core")]
    cores = len(slots)
    held = {end.split(".")[0] for end in made.used}
    if {cores, made.outlets} == {1, 2} and WYE_BEFORE not in held:
        where = "the charge parts for the two cores" if cores == 2 else "the charge of the two outlets meets"
        yield _own(f"charge wye where {where}, with its couplers and clamps", 1, "set", "charge side")
    if cores == 2 and WYE_BEHIND not in held:
        item = "charge wye where the charge of the two cores meets, with its couplers and clamps"
        yield _own(item, 1, "set", "charge side")
    for side in open_charge_sides(made.joints):
        if cores == (made.outlets if side == "before" else 1):  # else a wye has them
            for slot in slots:
                item = f"couplers and clamps for the charge pipe {side} {the_slot(slot)}, to its bores"
                yield _own(item, 1, "set", "charge side")


def _ports(made: Made) -> Iterator[Line]:
    """Bleeds at high points, a drain at the low point, a plug in every other port that stays idle."""
    busy = set(made.used)
    for bleed in made.bleeds:
        if bleed.port is None:
            item = f"bleed tee with screw, or 6 mm line up to the reservoir, at the top of {the_slot(bleed.slot)}"
        else:
            item = f"bleed screw or line at {bleed.slot} ({end_words(bleed.port)})"
            busy.add(f"{bleed.slot}.{bleed.port.name}")
        yield _own(item, 1, "set", "coolant side", bleed.slot)
        if bleed.tower:
            at = f"at the top of {the_slot(bleed.slot)}, above the reservoir"
            item = f"fill tower {at}, with a sealed cap that holds the coolant side's pressure"
            yield _own(item, 1, "piece", "coolant side", bleed.slot)
    low = lowest(made.flow, made.spans)
    with_port = [
        (slot, end)
        for slot, part in made.flow
        for end in ports(slot, part, "drain", made.ups.get(slot), busy)
        if low in (None, slot)
    ]
    if with_port:
        slot, end = with_port[0]
        busy.add(f"{slot}.{end.name}")
        yield _own(f"drain tap at {slot} ({end_words(end)})", 1, "piece", "coolant side", slot)
    elif made.flow:
        at = "the lowest hose" if low is None else f"the hose below {the_slot(low)}, the lowest part"
        yield _own(f"drain tap and tee in {at}", 1, "piece", "coolant side", low or "")
    yield from _plugs(made.flow, busy)


def _plugs(flow: Iterable[tuple[str, RigidPart]], busy: set[str]) -> Iterator[Line]:
    counted = Counter(
        (slot, medium, f"plug for {end_words(end)} ({slot})") for slot, medium, end in idle_ports(flow, busy)
    )
    for (slot, medium, item), count in counted.items():
        yield _own(item, count, "piece", "charge side" if medium == "charge" else "coolant side", slot)


def _coolant_side(made: Made) -> Iterator[Line]:
    if not any(joint.medium == "coolant" for joint in made.joints):
        return
    suction = next((joint for joint in made.joints if joint.hose and joint.finish.startswith("pump")), None)
    if suction is not None:
        bore = f"{suction.hose_bore_m * 1000:.4g} mm"
        item = f"strainer of {bore} bore before the pump, to take out after the first hours"
        yield _own(item, 1, "piece", "coolant side", "pump")
    for kind in ("core", "exchanger"):
        if len(_of_kind(made, kind)) > 1 and not _runs_of_twins(made, kind):
            item = f"wye where the hose parts for the two {kind}s, and where it meets again (not in series)"
            yield _own(item, 2, "piece", "coolant side")
    yield _own("coolant temperature sensor with tee, before and after the core", 2, "piece", "coolant side", "core")
    for slot, _ in _of_kind(made, "reservoir"):
        yield _own("level sensor with warning lamp (reservoir)", 1, "piece", "coolant side", slot)
        bottle = "overflow bottle with hose from the cap" if made.capped else "catch bottle with hose from the vent"
        yield _own(bottle, 1, "piece", "coolant side", slot)


def _runs_of_twins(made: Made, kind: str) -> bool:
    """Whether the joints say how twins of a kind lie: by a wye off the shelf, or one behind the other."""
    names = [(joint.start, joint.finish) for joint in made.joints if joint.medium == "coolant"]
    return any(
        other.startswith(("wye-", f"{kind}-"))
        for one, other in (*names, *((finish, start) for start, finish in names))
        if one.startswith(f"{kind}-")
    )


def _electrical(made: Made, supply: Supply) -> Iterator[Line]:
    motors = [part for _, part in (*_of_kind(made, "pump"), *_of_kind(made, "fan")) if isinstance(part, Pump | Fan)]
    wiring = iter(all_wiring(motors, supply.serving, supply.held))
    for slot, _ in _of_kind(made, "pump"):
        yield from next(wiring)
        yield _own("fuse holder, within 180 mm of the battery", 1, "piece", "electrical", slot)
        yield _own("relay base with suppressed coil", 1, "piece", "electrical", slot)
        timed = "" if made.stands else " with after-run timer"
        yield _own(f"switch or controller output{timed}", 1, "piece", "electrical", slot)
        yield _own("connectors with boots, ring terminals, loom sleeve", 1, "set", "electrical", slot)
    for slot, _ in _of_kind(made, "fan"):
        yield from next(wiring)
        yield _own("fuse holder, within 180 mm of the battery", 1, "piece", "electrical", slot)
        yield _own("relay base with suppressed coil", 1, "piece", "electrical", slot)
        yield _own("connectors with boots, ring terminals, loom sleeve", 1, "set", "electrical", slot)


def _mounting(made: Made, supply: Supply) -> Iterator[Line]:
    for slot, part in made.flow:
        kind = part.kind
        if supply.fitted(kind):
            continue
        yield _own(f"brackets, bolts and rivet nuts for {the_slot(slot)}", 1, "set", "mounting", slot)
        if kind in ISOLATED:
            yield _own(f"rubber isolators for {the_slot(slot)}", ISOLATORS, "piece", "mounting", slot)
        if kind == "exchanger":
            yield _own(f"duct sheet, edge trim and foam to seal {the_slot(slot)}", 1, "set", "mounting", slot)
            yield _own(f"stone guard mesh before {the_slot(slot)}", 1, "piece", "mounting", slot)
    for slot, _ in _of_kind(made, "fan"):
        if not supply.fitted("fan"):
            yield _own(f"shroud from the exchanger to the {slot}, with brackets and foam", 1, "set", "mounting", slot)
    metres = as_laid_m(made.joints, made.laid)
    if metres > 0:
        clips = math.ceil(round(metres / CLIP_EVERY_M, 6))
        yield _own("P-clips for hose, one every 350 mm", clips, "piece", "mounting")
        yield _own("grommets at bulkheads and sleeve where hose or wire may chafe", 1, "set", "mounting")


def _fill(made: Made, supply: Supply) -> Iterator[Line]:
    if made.coolant is not None and made.coolant_l is not None:
        yield from coolant_lines(made.coolant, made.coolant_l, supply.sold)
    if made.ice is not None:
        kind, kg = made.ice
        yield _own(f"{kind} for one event", math.ceil(round(kg, 6)), "kg", "fill", "reservoir")
    if made.flow:
        yield _own("bleed funnel or vacuum filler, on loan", 1, "piece", "fill")
        yield _own("leak-test adapter with regulator and relief valve, on loan", 1, "piece", "fill")
        yield from () if made.capped else _hose_plugs(made)


def _hose_plugs(made: Made) -> Iterator[Line]:
    """A vented reservoir takes no test pressure: its hoses come off it and are plugged."""
    runs = [joint for joint in made.joints if joint.hose and "reservoir" in joint.slots]
    for bore, count in Counter(f"{joint.hose_bore_m * 1000:.4g} mm" for joint in runs).items():
        item = f"{bore} plug for a hose off the reservoir, for the leak test"
        yield _own(item, count, "piece", "fill", "reservoir")
