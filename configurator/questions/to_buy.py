"""What a box lacks of its bill: the lines of the whole bill, less what lies in the box."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from configurator.brief.tables import Tables
from configurator.parts.kinds import Cap, Fuse, Hose, Part, Relay, Wire
from configurator.parts.shelf import Catalogue
from configurator.questions.whole_bill import Made, Supply, whole_bill
from configurator.search.bill import Line

BY_THE_METRE = (Hose, Wire)


def to_buy(
    made: Made,
    parts: Sequence[Part],
    catalogue: Catalogue,
    tables: Tables,
    cap: Cap | None,
    stated_cap: str | None,
) -> tuple[Line, ...]:
    """Every line that the box does not cover. Hose and wire in the box are taken to be enough.

    `cap`: one to fit off the shelf; `stated_cap`: words for one that the box only tells of.
    """
    known = {**catalogue.parts, **{part.id: part for part in parts}}
    supply = Supply(
        price_of=lambda part_id: known[part_id].price_cents,
        is_own=lambda part_id: any(part.id == part_id for part in parts),
        fitted=lambda kind: False,
        serving=catalogue.of,
        sold=tables.coolants,
    )
    lines = list(uncovered(whole_bill(made, supply), parts, known))
    if cap is not None:
        lines.append(Line("cap", cap.id, 1, "piece", cap.price_cents, "coolant side", place="cap"))
    if stated_cap is not None:
        lines.append(Line(stated_cap, None, 1, "piece", 0, "coolant side", bring_yourself=True, place="cap"))
    order = ("charge side", "coolant side", "electrical", "mounting", "fill")
    return tuple(sorted(lines, key=lambda line: order.index(line.group)))


def uncovered(lines: Sequence[Line], parts: Sequence[Part], known: Mapping[str, Part]) -> Iterator[Line]:
    """The lines of a bill, or what is left of them, that a box of these parts does not cover."""
    had = Counter(part.id for part in parts)
    for line in lines:
        if line.item in ("fuse", "relay", "wire") and _has_one(parts, line.item):
            continue
        if line.part is None:
            yield line
        elif line.part not in had:
            yield replace(line, bring_yourself=False)
        elif not isinstance(known[line.part], BY_THE_METRE) and line.quantity > had[line.part]:
            short = line.quantity - had[line.part]
            price = round(known[line.part].price_cents * short)
            yield replace(line, quantity=short, price_cents=price, bring_yourself=False)


def _has_one(parts: Sequence[Part], item: str) -> bool:
    kind: type[Part] = {"fuse": Fuse, "relay": Relay, "wire": Wire}[item]  # type: ignore[assignment]
    return any(isinstance(part, kind) for part in parts)
