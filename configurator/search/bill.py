"""The lines of a bill that the shelf prices: parts, pieces of joints, coolant, the pump's wiring; and their sums.

What is priced here is what a kit costs. `questions.whole_bill` adds what the shelf does not have.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple, Protocol, TypeVar

from configurator.brief.tables import CoolantKind
from configurator.foundations.coolants import Coolant
from configurator.foundations.verdicts import Verdict
from configurator.joining.words import told_apart
from configurator.parts.kinds import Fan, Fuse, Part, Pump, Relay, Wire
from configurator.parts.kit import Joint
from configurator.standards.wires import HOT_K, ROOM_K, carries_a, voltage_drop

P = TypeVar("P", bound=Part)

Group = Literal["charge side", "coolant side", "electrical", "mounting", "fill"]

FUSE_LOAD = 0.75
RELAY_OVER_CURRENT = 1.5
WIRE_RUN_M = 3.0
WIRE_DROP_SHARE, WIRE_DROP_SHARE_HOT = 0.03, 0.10
"""Common practice, no source: a fuse carries three quarters of its rating, a relay half as much again as the motor
draws, and the wire there and back loses at most 3 % of the voltage over an assumed 3 m run, and
with hot copper never more than 10 % (the limit of published controller manuals; from memory)."""

NO_MOTOR = "serves-no-motor"
"""The rule that a fuse, relay or wire breaks for a motor that it does not serve."""

ADDED = ("fan", "timer")

HOSE_WASTE = 1.10
COOLANT_SPARE = 1.15
"""Common practice, no source: a tenth more hose and 15 % more coolant than the loop holds."""


@dataclass(frozen=True)
class Line:
    """One line of the bill; `part` is None for what any shop has, `price_cents` is that of the whole line.

    `bring_yourself`: the shelf does not price it, or the customer has it. `place`: the slot it belongs to, where one.
    `one_cents`: the price of one piece, metre or litre, where the shelf has one.
    """

    item: str
    part: str | None
    quantity: float
    unit: str
    price_cents: int
    group: Group
    bring_yourself: bool = False
    place: str = ""
    one_cents: int = 0


class Serving(Protocol):
    """Looks up the parts of a kind that may serve joints and wiring."""

    def __call__(self, kind: type[P], /) -> tuple[P, ...]: ...


def part_lines(slots: Sequence[tuple[str, Part]], is_own: Callable[[str], bool]) -> list[Line]:
    """A line for each part in a slot; the customer's own cost nothing."""
    lines = []
    for slot, part in slots:
        kind = part.kind
        group: Group = "charge side" if kind == "core" else "electrical" if kind in ADDED else "coolant side"
        own = is_own(part.id)
        one = 0 if own else part.price_cents
        lines.append(Line(slot, part.id, 1, "piece", one, group, own, slot, one))
    return lines


def joint_lines(joints: Iterable[Joint], price_of: Callable[[str], int]) -> list[Line]:
    """Adapters, hose by the metre with waste, clamps, and the consumables of every joint, equal ones together.

    Runs and stubs of one hose are cut from one length.
    """
    counted: dict[tuple[str, str, str, str], float] = {}
    hoses: dict[tuple[str, str], set[str]] = {}

    def count(medium: str, item: str, part: str | None, unit: str, quantity: float) -> None:
        if unit == "m" and part is not None:
            hoses.setdefault((medium, part), set()).add(item)
            item = "hose"
        key = (medium, item, part or "", unit)
        counted[key] = counted.get(key, 0.0) + quantity

    for joint in joints:
        for piece in joint.through:
            count(joint.medium, "adapter", piece, "piece", 1)
        if joint.hose is not None:
            count(joint.medium, "hose", joint.hose, "m", joint.hose_length_m)
        for need in joint.needs:
            count(joint.medium, need.item, need.part, need.unit, need.quantity)
    lines = []
    for (medium, item, part_id, unit), quantity in sorted(counted.items()):
        if unit == "m":
            quantity = hose_to_buy_m(quantity)
            uses = hoses[medium, part_id]
            item = "hose and stubs" if len(uses) > 1 else next(iter(uses))
        one = price_of(part_id) if part_id else 0
        group: Group = "charge side" if medium == "charge" else "coolant side"
        price = round(one * quantity)
        lines.append(Line(item, part_id or None, quantity, unit, price, group, not part_id, one_cents=one))
    return lines


def hose_to_buy_m(runs_m: float) -> float:
    """Hose to buy for runs of so many metres: a tenth more for cutting, in whole tenths of a metre."""
    return math.ceil(round(runs_m * HOSE_WASTE * 10, 6)) / 10


def coolant_lines(coolant: Coolant, litres: float, sold: Mapping[str, CoolantKind]) -> list[Line]:
    """Antifreeze concentrate and water for the fill, with something to spare; water without glycol needs inhibitor."""
    fill = coolant_to_buy_l(litres)
    if coolant.glycol_by_volume <= 0:
        return [_coolant_line("water", fill, sold)]
    concentrate = _tenths(litres * COOLANT_SPARE * coolant.glycol_by_volume)
    water = round(fill - concentrate, 1)
    return [
        _coolant_line(coolant.kind, concentrate, sold),
        Line("demineralised water", None, water, "L", 0, "fill", bring_yourself=True),
    ]


def coolant_to_buy_l(litres: float) -> float:
    """Coolant to buy for a loop that holds so many litres: with something to spare, in whole tenths of a litre."""
    return _tenths(litres * COOLANT_SPARE)


def wiring_lines(motor: Pump | Fan, serving: Serving, held: Sequence[Part] = ()) -> list[Line]:
    """Relay, fuse and wire for a pump or a fan: the least of each that carries it; words for what the shelf lacks.

    The wire carries the fuse's current, or the fuse would not guard it; and it takes little of the voltage. `held`:
    pieces that are there already: one of them that does comes before the shelf's, a fuse as far as it is no larger.
    """
    current, metres = float(motor.current_a), 2 * WIRE_RUN_M
    slot, drop = motor.kind, WIRE_DROP_SHARE * motor.volts
    fuse_a = wired_fuse_a(motor, serving, held)
    found: dict[type[Part], Part | None] = {}
    for kind, rated in _RATED.items():
        sets = ([part for part in held if isinstance(part, kind)], serving(kind))
        able = ([part for part in parts if wiring_refusal(motor, part, fuse_a) is None] for parts in sets)
        found[kind] = next((least for parts in able if (least := _least(parts, rated)) is not None), None)
    ohms = f"{drop / (metres * current) * 1e3:.3g} mohm/m" if current > 0 else "any resistance"
    relay_a = current * RELAY_OVER_CURRENT
    return [
        _wiring_line(slot, "fuse", found[Fuse], f"of {current / FUSE_LOAD:.3g} A or the next above", 1, "piece"),
        _wiring_line(slot, "relay", found[Relay], f"for {relay_a:.3g} A at {motor.volts:g} V", 1, "piece"),
        _wiring_line(slot, "wire", found[Wire], f"for {fuse_a:.3g} A, at most {ohms}", metres, "m"),
    ]


def all_wiring(motors: Iterable[Pump | Fan], serving: Serving, held: Sequence[Part] = ()) -> Iterator[list[Line]]:
    """The wiring of each motor in turn: a fuse or relay that is held serves one of them, wire is taken to be enough."""
    left = list(held)
    for motor in motors:
        lines = wiring_lines(motor, serving, left)
        yield lines
        for line in lines:
            used = next((part for part in left if part.id == line.part and not isinstance(part, Wire)), None)
            if used is not None:
                left.remove(used)


def wired_fuse_a(motor: Pump | Fan, serving: Serving, held: Sequence[Part] = ()) -> float:
    """The rating of a motor's fuse [A]: the least that carries it; where there is none, what that would have to be."""
    least_a = float(motor.current_a) / FUSE_LOAD
    fuses = [*serving(Fuse), *(part for part in held if isinstance(part, Fuse))]
    return min((float(fuse.rated_a) for fuse in fuses if fuse.rated_a >= least_a), default=least_a)


def wiring_refusal(motor: Pump | Fan, piece: Part, fuse_a: float) -> Verdict | None:
    """What a fuse, relay or wire does not do for a motor whose fuse is of this rating [A]; None where it serves."""
    judge = _JUDGES.get(type(piece))
    short = None if judge is None else judge(motor, piece, fuse_a)
    if short is None:
        return None
    return Verdict(NO_MOTOR, "broken", (piece.id, motor.id), short.found, short.limit, short.unit, short.text)


class _Short(NamedTuple):
    """What a piece of wiring does not do: a sentence, what was found, the limit, and their unit."""

    text: str
    found: float
    limit: float
    unit: str


def _fuse_short(motor: Pump | Fan, fuse: Fuse, fuse_a: float) -> _Short | None:
    rated, least = float(fuse.rated_a), float(motor.current_a) / FUSE_LOAD
    if rated < least:
        told, wants = _amperes(rated, least)
        return _Short(f"it is rated {told}, {motor.name} wants {wants} or more", rated, least, "A")
    if rated > fuse_a:
        told, takes = _amperes(rated, fuse_a)
        text = f"it is rated {told}, {motor.name} takes one of {takes}: a larger one guards no wire"
        return _Short(text, rated, fuse_a, "A")
    return None


def _relay_short(motor: Pump | Fan, relay: Relay, fuse_a: float) -> _Short | None:
    rated, least = float(relay.rated_a), float(motor.current_a) * RELAY_OVER_CURRENT
    if relay.volts != motor.volts:
        text = f"it is for {relay.volts:g} V, {motor.name} for {motor.volts:g} V"
        return _Short(text, relay.volts, motor.volts, "V")
    if rated < least:
        told, wants = _amperes(rated, least)
        return _Short(f"it carries {told}, {motor.name} wants {wants} or more", rated, least, "A")
    return None


def _wire_short(motor: Pump | Fan, wire: Wire, fuse_a: float) -> _Short | None:
    carries = carries_a(_mm2(wire))
    if carries < fuse_a:
        told, lets = _amperes(carries, fuse_a)
        return _Short(f"it carries {told}, the fuse of {motor.name} lets {lets} through", carries, fuse_a, "A")
    for at_k, share in ((ROOM_K, WIRE_DROP_SHARE), (HOT_K, WIRE_DROP_SHARE_HOT)):
        drop, most = wire_drop_v(motor, wire, at_k), share * motor.volts
        if drop > most:
            takes, may = told_apart(drop, most, "V", 2)
            return _Short(f"it takes {takes} of the voltage of {motor.name}, {may} may be lost", drop, most, "V")
    return None


_JUDGES: dict[type[Part], Callable[[Pump | Fan, Any, float], _Short | None]] = {
    Fuse: _fuse_short,
    Relay: _relay_short,
    Wire: _wire_short,
}


def _amperes(found: float, limit: float) -> tuple[str, str]:
    return told_apart(found, limit, "A", 1)


def wire_drop_v(motor: Pump | Fan, wire: Wire, at_k: float = ROOM_K) -> float:
    """What the wire of a pump or a fan takes of its voltage, there and back [V]."""
    return voltage_drop(2 * WIRE_RUN_M, float(motor.current_a), _mm2(wire), at_k)


def _wiring_line(slot: str, item: str, part: Part | None, wanted: str, quantity: float, unit: str) -> Line:
    if part is None:
        return Line(f"{item} {wanted} ({slot})", None, quantity, unit, 0, "electrical", True, slot)
    one = part.price_cents
    return Line(item, part.id, quantity, unit, round(one * quantity), "electrical", place=slot, one_cents=one)


def _coolant_line(kind: str, litres: float, sold: Mapping[str, CoolantKind]) -> Line:
    known = sold.get(kind)
    if known is None:
        return Line(kind, None, litres, "L", 0, "fill", bring_yourself=True)
    price, one = (round(known.price_per_litre * much * 100) for much in (litres, 1))
    return Line(known.name, None, litres, "L", price, "fill", one_cents=one)


def _tenths(litres: float) -> float:
    return math.ceil(round(litres * 10, 6)) / 10


def _mm2(wire: Wire) -> float:
    return round(float(wire.area_m2) * 1e6, 2)


_RATED: dict[type[Part], Callable[[Any], float]] = {
    Fuse: lambda fuse: float(fuse.rated_a),
    Relay: lambda relay: float(relay.rated_a),
    Wire: lambda wire: float(wire.area_m2),
}


def _least(parts: Iterable[P], rated: Callable[[P], float]) -> P | None:
    """The part with the least rating that will do, then by price and id."""
    return min(parts, key=lambda part: (rated(part), part.price_cents, part.id), default=None)
