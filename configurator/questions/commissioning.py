"""What is done before and during the first runs of a kit in its car, and the figures that they should show.

Leak tests stay under the rating of the weakest member of their side. The ways of testing are common practice, no
source; the figures are those of the kit's own loop under the brief.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.foundations.coolants import Coolant, freezing_point_k
from configurator.joining.ratings import member_of_part
from configurator.parts.ends import End
from configurator.parts.kinds import Cap, Fan, Part, Pump, Reservoir, RigidPart
from configurator.parts.kit import Medium, Member
from configurator.parts.shelf import Catalogue
from configurator.prediction.conditions import Conditions, in_hot_bay, make_conditions
from configurator.prediction.first_runs import FirstRuns, first_runs
from configurator.questions.answer import OfferedKit
from configurator.questions.high_points import Bleed, Span, bleeds
from configurator.questions.one_loop import one_loop

TEST_OVER_CAP: Final = (1.0, 1.5)
TEST_S: Final = 600.0
FLOW_TOLERANCE: Final = 0.20
BALANCE_TOLERANCE: Final = 0.15
CURRENT_TOLERANCE: Final = 0.20
SENSOR_K: Final = 2.0
"""Common practice, no source: test pressures over the cap's and how long they must stand; how far flow, both sides'
heat and the pump's current may be off; what a sensor alone may be off."""


@dataclass(frozen=True)
class LeakTest:
    """Air in one side: from and to [Pa gauge], and the member that bounds it.

    `vented`: there is no cap to test against, so the hoses come off the reservoir and the rest of the loop sees what
    its pump can make; `reservoir_pa`: what the reservoir is rated, if it states it, for it must never see the test.
    `weakest` is None where a rating is missing: then there is no pressure to test with, and `unrated` says why.
    """

    side: Medium
    low_pa: float
    high_pa: float
    weakest: Member | None
    unrated: tuple[str, ...]
    vented: bool = False
    reservoir_pa: float | None = None

    @property
    def weakest_pa(self) -> float:
        """The rating that bounds the test [Pa gauge]; 0 where one is missing."""
        return 0.0 if self.weakest is None else float(self.weakest.working_pa_gauge or 0.0)


@dataclass(frozen=True)
class BleedPoint:
    """A numbered place to let air out: its slot, its port if it has one, its top above the ground [mm], and whether
    that is above the reservoir, and has the fill tower."""

    number: int
    slot: str
    port: End | None
    top_mm: float | None
    above_reservoir: bool
    tower: bool


@dataclass(frozen=True)
class IceAsked:
    """The ice of a pass: its name, how much, the water that its tank is filled to without it and with it, and how cold
    both are at the start [kg, L, K]."""

    name: str
    kg: float
    water_l: float
    mark_l: float
    start_k: float


@dataclass(frozen=True)
class Commissioning:
    """The commissioning sheet of one kit. `heights_missing`: slots whose height nobody told.

    `coolant_pa_gauge`: the most that its coolant side may see. `freezes_k`: where the first ice forms in its coolant;
    `coldest_k`: the brief's coldest night, if it tells one. `fan`: whether the kit has one. `in_manifold`:
    whether its core is taken to lie behind the throttle. `valve`: which way its bypass valve stands in every figure,
    None without one.
    """

    runs: FirstRuns
    speed_m_per_s: float
    leak_tests: tuple[LeakTest, ...]
    bleed_points: tuple[BleedPoint, ...]
    heights_missing: tuple[str, ...]
    coolant: Coolant
    freezes_k: float
    coldest_k: float | None
    fill_l: float
    cap_pa_gauge: float | None
    coolant_pa_gauge: float
    boost_pa_gauge: float
    pump_a: float
    pump_v: float
    wire_drop_v: tuple[float, float] | None
    ice: IceAsked | None
    fan: bool
    unreckoned: tuple[str, ...]
    in_manifold: bool = False
    valve: Literal["to the exchanger", "on bypass"] | None = None


def commissioning(
    kit: OfferedKit,
    brief: Brief,
    driving: Driving,
    known: Mapping[str, Part],
    coolant: Coolant,
    catalogue: Catalogue,
    tables: Tables,
    opens_pa: float,
    unreckoned: Sequence[str],
) -> Commissioning:
    """The sheet of a kit; `known` its parts by id, `opens_pa` its cap's pressure, `unreckoned` pipes nobody told."""
    parts = {slot: known[part] for slot, part in kit.parts if part in known}
    bench, columns = one_loop(kit, parts, brief, catalogue)
    conditions = make_conditions(brief, driving, tables, coolant)
    hotter = make_conditions(brief, driving, tables, coolant, common_error=True)
    bay = in_hot_bay(brief, tables, 0.0)
    flow = tuple((slot, part) for slot, part in parts.items() if isinstance(part, RigidPart) and part.passages())
    spans = dict(kit.fit.spans)
    ups = {place.slot: place.up for place in kit.fit.placements}
    used = [name for joint in kit.joints for name in (joint.start, joint.finish)]
    pump = parts["pump"]
    assert isinstance(pump, Pump)
    return Commissioning(
        runs=first_runs(bench, columns, conditions, hotter, bay),
        speed_m_per_s=conditions.hardest.speed_m_per_s,
        leak_tests=(_coolant_test(kit, parts, opens_pa), _charge_test(kit, parts, conditions.boost_pa)),
        bleed_points=_numbered(bleeds(flow, spans, ups, used), spans),
        heights_missing=tuple(slot for slot, _ in flow if slot not in spans),
        coolant=coolant,
        freezes_k=freezing_point_k(coolant),
        coldest_k=None if brief.site.coldest_k is None else min(brief.site.coldest_k, brief.site.air_k),
        fill_l=kit.coolant_l,
        cap_pa_gauge=opens_pa if opens_pa > 0.0 else None,
        coolant_pa_gauge=kit.coolant_pressure.design_pa_gauge,
        boost_pa_gauge=conditions.boost_pa,
        pump_a=float(pump.current_a),
        pump_v=float(pump.volts),
        wire_drop_v=kit.wire_drop_v,
        ice=_ice(parts["reservoir"], conditions),
        fan=any(isinstance(part, Fan) for part in parts.values()),
        unreckoned=tuple(unreckoned),
        in_manifold=kit.failures.cracked_core.sits.startswith("behind"),
        valve=None if kit.bypass is None else "on bypass" if kit.bypass.shut_out else "to the exchanger",
    )


def _ice(tank: Part, conditions: Conditions) -> IceAsked | None:
    """Floating ice raises the water by what it melts to: the tank is filled so far under its mark."""
    ice = conditions.ice
    if ice is None or not isinstance(tank, Reservoir):
        return None
    mark_m3 = float(tank.coolant.volume_m3 or 0.0)
    return IceAsked(ice.name, ice.start_kg, (mark_m3 - ice.displaced_m3) * 1e3, mark_m3 * 1e3, conditions.start_k)


def _coolant_test(kit: OfferedKit, parts: Mapping[str, Part], opens_pa: float) -> LeakTest:
    """From the cap's pressure to half as much again; of a vented loop what it may see, without its reservoir."""
    vented = opens_pa <= 0.0
    left_out = (Reservoir, Cap) if vented else ()
    members = _members(kit, {slot: part for slot, part in parts.items() if not isinstance(part, left_out)}, "coolant")
    asked = [kit.coolant_pressure.design_pa_gauge] * 2 if vented else [opens_pa * share for share in TEST_OVER_CAP]
    found = _test("coolant", asked[0], asked[1], members)
    tank = parts.get("reservoir")
    if not vented or not isinstance(tank, Reservoir):
        return found
    held = member_of_part("reservoir", tank, "coolant")
    return replace(found, vented=True, reservoir_pa=None if held is None else held.working_pa_gauge)


def _charge_test(kit: OfferedKit, parts: Mapping[str, Part], boost_pa: float) -> LeakTest:
    return _test("charge", boost_pa, boost_pa, _members(kit, parts, "charge"))


def _members(kit: OfferedKit, parts: Mapping[str, Part], medium: Medium) -> list[Member]:
    found = [member for joint in kit.joints if joint.medium == medium for member in joint.members]
    for slot, part in parts.items():
        if isinstance(part, RigidPart | Cap):
            member = member_of_part(slot, part, medium)
            found += [] if member is None else [member]
    return found


def _test(side: Medium, low_pa: float, high_pa: float, members: Sequence[Member]) -> LeakTest:
    """A test held under the weakest rating; none where a rating is missing."""
    unrated = tuple(sorted({member.part for member in members if member.working_pa_gauge is None}))
    rated = [(member.working_pa_gauge, member) for member in members if member.working_pa_gauge is not None]
    if unrated or not rated:
        return LeakTest(side, low_pa, high_pa, None, unrated)
    most, weakest = min(rated, key=lambda entry: (entry[0], entry[1].part, entry[1].place))
    return LeakTest(side, min(low_pa, most), min(high_pa, most), weakest, ())


def _numbered(found: Sequence[Bleed], spans: Mapping[str, Span]) -> tuple[BleedPoint, ...]:
    """From the lowest to the highest where the heights of all of them are known, else in the order of the flow."""
    if all(bleed.slot in spans for bleed in found):
        found = sorted(found, key=lambda bleed: spans[bleed.slot].top_mm)
    return tuple(
        BleedPoint(number, bleed.slot, bleed.port, spans[bleed.slot].top_mm if bleed.slot in spans else None,
                   bleed.above_reservoir, bleed.tower)
        for number, bleed in enumerate(found, start=1)
    )  # fmt: skip
