"""Where air gathers in a loop, from heights set by hand, and which of the high points has the fill tower."""

from __future__ import annotations

import pytest

from configurator.foundations.units import Figure
from configurator.parts.ends import End
from configurator.parts.kinds import Core, Exchanger, Pump, Reservoir, RigidPart
from configurator.questions.high_points import Span, bleeds
from tests.prediction.made_kits import shelf


def part(kind: type[RigidPart], ident: str) -> RigidPart:
    return next(one for one in shelf()[0].of(kind) if one.id == ident)


def ins_and_outs(core: Core) -> tuple[End, ...]:
    return tuple(end for end in core.coolant.ends if end.role in ("in", "out"))


CORE = part(Core, "core-360-plain")
assert isinstance(CORE, Core)
LOOP = (
    ("reservoir", part(Reservoir, "reservoir-0.7-bottle")),
    ("pump", part(Pump, "pump-40-small")),
    ("core-1", CORE),
    ("core-2", CORE),
    ("exchanger", part(Exchanger, "exchanger-600-tall")),
)
LOW = {"reservoir": Span(500, 640), "pump": Span(430, 520), "exchanger": Span(250, 530)}


@pytest.mark.parametrize(
    ("first", "second", "tower"), [(730, 730, "core-2"), (760, 730, "core-1"), (700, 730, "core-2")]
)
def test_of_two_cores_above_the_reservoir_the_highest_has_the_one_fill_tower(
    first: int, second: int, tower: str
) -> None:
    """The loop joins them; where they are equal it is the last along the flow, which carries the air there."""
    found = bleeds(LOOP, {**LOW, "core-1": Span(560, first), "core-2": Span(560, second)}, {}, ())
    assert [bleed.slot for bleed in found if bleed.above_reservoir] == ["core-1", "core-2"]
    assert [bleed.slot for bleed in found if bleed.tower] == [tower]


def test_below_the_reservoir_nothing_has_a_fill_tower() -> None:
    found = bleeds(LOOP, {**LOW, "core-1": Span(400, 600), "core-2": Span(400, 600)}, {}, ())
    assert {"core-1", "core-2"} <= {bleed.slot for bleed in found}
    assert not any(bleed.tower or bleed.above_reservoir for bleed in found)


@pytest.mark.parametrize(("z", "bleeds_there"), [("140 mm", True), ("5 mm", False)])
def test_a_bleed_in_a_side_serves_near_the_top_alone(z: str, bleeds_there: bool) -> None:
    """One 5 mm above the floor lets no air out: the core is told as one without a port."""
    at = {"x": "9 mm", "z": z}
    written = {"name": "bleed", "form": "npt", "size": "1/8", "sex": "female", "face": "-y", "at": at}
    core = CORE.model_copy(
        update={
            "size": CORE.size.model_copy(update={"z_m": Figure(0.15)}),
            "coolant": CORE.coolant.model_copy(update={"ends": (*ins_and_outs(CORE), End.model_validate(written))}),
        }
    )
    loop = [(slot, core if slot == "core-1" else part) for slot, part in LOOP]
    found = bleeds(loop, {**LOW, "core-1": Span(560, 710), "core-2": Span(560, 700)}, {"core-1": "+z"}, ())
    assert {bleed.slot: bleed.port is not None for bleed in found}["core-1"] is bleeds_there
