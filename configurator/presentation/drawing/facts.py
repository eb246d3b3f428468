"""What the words of a sheet say: the kit, its parts as placed, what sets its room, and what to beware of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from configurator.brief.bay import Bay
from configurator.fitting.turns import SIDES
from configurator.foundations.verdicts import Caution
from configurator.parts.kinds import Part, RigidPart
from configurator.presentation.drawing.lengths import plain, typed
from configurator.presentation.drawing.scene import Block, Body, Route, blocks_of
from configurator.presentation.layout_words import layout_words
from configurator.questions.answer import OfferedKit

NOT_A_WORKSHOP_DRAWING = (
    "Not a workshop drawing: parts are drawn as plain boxes. Hold it against the car, with the parts in hand, before "
    "anything is cut or drilled."
)
_ON_THE_SHEET = ("structure", "ends-not-checked", "hot-exhaust", "tight")


@dataclass(frozen=True)
class Row:
    """A body in the list beside the drawing: its key, then its lines; of a part also the faces up and to the front."""

    key: str
    lines: tuple[str, ...]
    up: str = ""
    front: str = ""


@dataclass(frozen=True)
class SheetFacts:
    """Everything that is drawn and written of one kit in its bay."""

    brief: str
    kit: str
    room: tuple[str, ...]
    tight: bool
    blocks: tuple[Block, ...]
    routes: tuple[Route, ...]
    parts: tuple[Row, ...]
    obstacles: tuple[Row, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


def sheet_facts(
    brief: str,
    bay: Bay,
    kit: OfferedKit,
    parts: Mapping[str, Part],
    cautions: Sequence[Caution],
) -> SheetFacts:
    """The facts of a kit that has been placed; `parts` by slot, `cautions` those of the kit and of the whole answer."""
    rigid = {slot: part for slot, part in parts.items() if isinstance(part, RigidPart)}
    blocks = blocks_of(bay, kit.fit.placements, rigid)
    bodies = [body for block in blocks for body in block.parts]
    drawn = {body.name for body in bodies}
    names = {body.name: block.zone for block in blocks for body in block.parts}
    return SheetFacts(
        brief=brief,
        kit=f"Kit {kit.rank}: {layout_words(kit)}",
        room=_room(kit, parts),
        tight=kit.tight_mm is not None,
        blocks=blocks,
        routes=tuple(Route(name, points, zone) for zone in ("", *bay.zones) for name, points in kit.routes(zone)),
        parts=tuple(_part_row(body, parts[body.name], names[body.name]) for body in sorted(bodies, key=_number)),
        obstacles=tuple(_obstacle_row(body, block, bay) for block in blocks for body in block.bodies if not body.ends
                        and body.kind != "part"),
        notes=_notes(blocks, [(slot, part) for slot, part in parts.items() if slot not in drawn], bodies, parts),
        cautions=_cautions(cautions),
    )  # fmt: skip


def _number(body: Body) -> int:
    return int(body.key)


def _room(kit: OfferedKit, parts: Mapping[str, Part]) -> tuple[str, ...]:
    names = {part.id: part.name for part in parts.values()} | {f"wall {side}": f"the zone's {side}" for side in SIDES}
    first, second = (names.get(one, one) for one in (*kit.fit.set_by, "", "")[:2])
    set_by = f", set by {first} and {second}" if first and second else ""
    told = f"Room all round: {plain(kit.fit.clearance_mm)} mm{set_by}; faces that a part is mounted by need none."
    if kit.tight_mm is None:
        return (told,)
    return (told, f"TIGHT: the tape measure is sure to {plain(kit.tight_mm)} mm only.")


def _part_row(body: Body, part: Part, zone: str) -> Row:
    deep, wide, high = body.size
    return Row(
        body.key,
        (
            f"{body.name}: {part.name}",
            f"{part.id}, in {zone}; as placed {plain(deep)} deep, {plain(wide)} wide, {plain(high)} high; "
            f"its face {body.up} up, its face {body.front} to the front",
        ),
        body.up,
        body.front,
    )


def _obstacle_row(body: Body, block: Block, bay: Bay) -> Row:
    measured = next(o for o in bay.obstacles if o.zone == block.zone and o.name == body.name)
    size = f"{typed(measured.deep_m)} deep, {typed(measured.wide_m)} wide, {typed(measured.high_m)} high"
    keep = f"; keep {plain(body.keep_off_mm)} mm off" if body.keep_off_mm else ""
    return Row(body.key, (f"{body.name}, {body.kind}, in {block.zone}", f"{size}{keep}"))


def _notes(
    blocks: Sequence[Block], left_out: Sequence[tuple[str, Part]], bodies: Sequence[Body], parts: Mapping[str, Part]
) -> tuple[str, ...]:
    unused = [block.zone for block in blocks if not block.parts]
    invented = [body.key for body in sorted(bodies, key=_number) if parts[body.name].source == "invented"]
    notes = []
    if left_out:
        notes.append(f"Not drawn: {'; '.join(f'{slot}, {part.name}' for slot, part in left_out)}.")
    if unused:
        notes.append(f"Zones that this kit leaves empty: {', '.join(unused)}.")
    if invented:
        several = "s" if len(invented) > 1 else ""
        notes.append(f"Invented data: no maker sells part{several} {', '.join(invented)}; measure the parts you hold.")
    return tuple(notes)


def _cautions(cautions: Sequence[Caution]) -> tuple[str, ...]:
    """What touches the fitting, word for word, and how many more the answer has: a sheet has no room for all."""
    on_sheet = [caution.text for code in _ON_THE_SHEET for caution in cautions if caution.code == code]
    more = len(cautions) - len(on_sheet)
    rest = [f"{more} more cautions stand in the answer of kitwright suggest: read them before work."] if more else []
    return (NOT_A_WORKSHOP_DRAWING, *on_sheet, *rest)
