"""A wye or bypass valve as one more piece of the joint that carries the whole flow, coolant or charge."""

from __future__ import annotations

from dataclasses import replace

from configurator.joining.bore_steps import area_m2
from configurator.parts.kinds import Valve, Wye
from configurator.parts.kit import Joint, Member


def with_wye(trunk: Joint, wye: Wye | Valve, *, stem_bore_m: float, at_end: bool) -> Joint:
    """The trunk with its wye at its end or at its start: the wye's loss stands on the whole flow through its stem.

    The wye is a member at the place of the trunk's own pieces; at the start of a hose it stands before the hose. A
    bypass valve is such a piece too, its way in the stem. A stem of which nobody knows the bore [m] (0) loses nothing.
    """
    passage = wye.through
    hottest = None if passage.hottest_k is None else float(passage.hottest_k)
    place = trunk.members[0].place
    member = Member(wye.id, place, passage.rating.working_pa_gauge, passage.rating.stated_as, hottest)
    return replace(
        trunk,
        through=(*trunk.through, wye.id) if at_end else (wye.id, *trunk.through),
        before_hose=trunk.before_hose + (trunk.hose is not None and not at_end),
        loss_per_m4=trunk.loss_per_m4 + (wye.loss_factor / area_m2(stem_bore_m) ** 2 if stem_bore_m > 0.0 else 0.0),
        members=(*trunk.members, member),
        price_cents=trunk.price_cents + wye.price_cents,
        mass_kg=trunk.mass_kg + (0.0 if wye.mass_kg is None else float(wye.mass_kg)),
    )
