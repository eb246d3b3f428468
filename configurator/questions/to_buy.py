"""What a box lacks of its bill: the lines of the whole bill, less what lies in the box."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import replace

from configurator.brief.tables import Tables
from configurator.foundations.verdicts import Verdict
from configurator.parts.kinds import Cap, Fan, Fuse, Hose, Part, Pump, Relay, Wire
from configurator.parts.shelf import Catalogue
from configurator.questions.whole_bill import Made, Supply, whole_bill
from configurator.search.bill import Line, wired_fuse_a, wiring_refusal

BY_THE_METRE = (Hose, Wire)


def to_buy(
    made: Made,
    parts: Sequence[Part],
    catalogue: Catalogue,
    tables: Tables,
    cap: Cap | None,
    stated_cap: str | None,
    stays: Container[str] = (),
) -> tuple[Line, ...]:
    """Every line that the box does not cover. Hose in the box, and wire that serves, are taken to be enough.

    `cap`: one to fit off the shelf; `stated_cap`: words for one that the box only tells of;
    `stays`: kinds whose part is in the car already, wired and mounted.
    """
    known = {**catalogue.parts, **{part.id: part for part in parts}}
    supply = Supply(
        price_of=lambda part_id: known[part_id].price_cents,
        is_own=lambda part_id: any(part.id == part_id for part in parts),
        fitted=stays.__contains__,
        serving=catalogue.of,
        sold=tables.coolants,
        held=parts,
    )
    lines = list(uncovered(whole_bill(made, supply), parts, known))
    if cap is not None:
        one = cap.price_cents
        lines.append(Line("cap", cap.id, 1, "piece", one, "coolant side", place="cap", one_cents=one))
    if stated_cap is not None:
        lines.append(Line(stated_cap, None, 1, "piece", 0, "coolant side", bring_yourself=True, place="cap"))
    order = ("charge side", "coolant side", "electrical", "mounting", "fill")
    return tuple(sorted(lines, key=lambda line: order.index(line.group)))


def uncovered(lines: Sequence[Line], parts: Sequence[Part], known: Mapping[str, Part]) -> Iterator[Line]:
    """The lines of a bill, or what is left of them, that a box of these parts does not cover."""
    had = Counter(part.id for part in parts)
    for line in lines:
        if line.part is None:
            yield line
        elif line.part not in had:
            yield replace(line, bring_yourself=False)
        elif not isinstance(known[line.part], BY_THE_METRE):
            short = line.quantity - had[line.part]
            had[line.part] = max(0, -round(short))
            if short <= 0:
                continue
            price = round(known[line.part].price_cents * short)
            yield replace(line, quantity=short, price_cents=price, bring_yourself=False)


def refused_wiring(parts: Sequence[Part], catalogue: Catalogue) -> Iterator[Verdict]:
    """Fuses, relays and wires of a box that serve none of its motors, with what they do not do for the first of them.

    Nothing is told where there is no motor.
    """
    motors = [part for part in parts if isinstance(part, Pump | Fan)]
    for piece in dict.fromkeys(part for part in parts if isinstance(part, Fuse | Relay | Wire)):
        refused = [wiring_refusal(motor, piece, wired_fuse_a(motor, catalogue.of, parts)) for motor in motors]
        if refused and refused[0] is not None and all(verdict is not None for verdict in refused):
            yield refused[0]
