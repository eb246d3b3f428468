"""The drawing of one part as its drawing in the catalogue has it: box and ends, face -x to the front, +z up."""

from __future__ import annotations

from configurator.brief.bay import Bay
from configurator.fitting.placing import Placement
from configurator.foundations.boxes import millimetres_up
from configurator.parts.kinds import RigidPart
from configurator.presentation.drawing.facts import NOT_A_WORKSHOP_DRAWING, Row, SheetFacts
from configurator.presentation.drawing.lengths import plain
from configurator.presentation.drawing.scene import blocks_of
from configurator.presentation.harmless import harmless

_WHERE = "of its own size"
_EVERY_SIDE = ["front", "back", "left", "right", "up", "down"]


def part_facts(part: RigidPart) -> SheetFacts:
    """What the sheet of one part shows: a zone that is its own box, all sides open."""
    sides = (part.size.x_m, part.size.y_m, part.size.z_m)
    deep, wide, high = (millimetres_up(float(side)) for side in sides)
    kind = part.kind
    box = {"deep": f"{deep} mm", "wide": f"{wide} mm", "high": f"{high} mm", "open": _EVERY_SIDE, "takes": [kind]}
    bay = Bay.model_validate({"zones": {_WHERE: box}})
    placed = Placement(part.id, kind, _WHERE, (0.0, 0.0, 0.0), (deep, wide, high), "+z", "-x", "zone")
    size = " x ".join(plain(float(side) * 1e3) for side in sides)
    name = harmless(part.name)
    told = f"box {size} mm along x, y and z as drawn; its face -x to the front, its face +z up"
    invented = ("Invented data: no maker sells this part; measure the one you hold.",)
    return SheetFacts(
        brief=part.id,
        kit=name,
        room=("The box is drawn rounded up to whole millimetres.",),
        tight=False,
        blocks=blocks_of(bay, (placed,), {kind: part}),
        routes=(),
        parts=(Row("1", (f"{kind}: {name}", told), "+z", "-x"),),
        obstacles=(),
        notes=invented if part.source == "invented" else (),
        cautions=(NOT_A_WORKSHOP_DRAWING,),
    )
