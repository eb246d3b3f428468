"""What each place of a kit may see, and the member that holds least against it.

Common practice, no source: overshoot of the boost, tolerance of a cap, 0.1 bar per metre of liquid.
A pressure boundary is rated at its lowest member (published: SAE J517, scope).
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from configurator.foundations.verdicts import Verdict
from configurator.joining.words import bars_apart
from configurator.parts.kinds import Cap, RigidPart
from configurator.parts.kit import Medium, Member
from configurator.parts.passages import Passage

OVERSHOOT: Final = 1.25
OVERSHOOT_LEAST_PA: Final = 0.3e5
"""A closing throttle drives the charge above its boost: by a quarter, and at least by 0.3 bar."""

CAP_TOLERANCE: Final = 1.1
HEAD_PA_PER_M: Final = 0.1e5
ASSUMED_HEIGHT_M: Final = 0.5
"""Liquid above a part where the bay does not tell [m]: an assumption, to be stated as one. Never less is taken."""

LEAST_DESIGN_PA: Final = 1.0
"""A vented place without liquid above it sees no pressure; its margin stands over this [Pa]."""


@dataclass(frozen=True)
class LowestRated:
    """The member that limits one side of a kit, with its margin = rating / design; and whose rating is not
    known.

    `member` and `margin` are None where no member has a known rating. A side with an unproven member is not
    proven, however good the others are.
    """

    member: Member | None
    design_pa_gauge: float
    margin: float | None
    unproven: tuple[str, ...]

    @property
    def part(self) -> str | None:
        """The id of the member."""
        return None if self.member is None else self.member.part

    @property
    def place(self) -> str | None:
        """Where the member is."""
        return None if self.member is None else self.member.place

    @property
    def rating_pa_gauge(self) -> float | None:
        """What the member may work at there [Pa gauge]."""
        return None if self.member is None else self.member.working_pa_gauge

    @property
    def proven(self) -> bool:
        """Whether every member's rating is known."""
        return not self.unproven


def charge_design_pa_gauge(boost_pa_gauge: float) -> float:
    """Design pressure of the charge side [Pa gauge]: max(1.25 boost, boost + 0.3 bar)."""
    return max(boost_pa_gauge * OVERSHOOT, boost_pa_gauge + OVERSHOOT_LEAST_PA)


def boost_under_design_pa_gauge(design_pa_gauge: float) -> float:
    """The steady boost that a design pressure of the charge side stands for [Pa gauge]; its inverse."""
    return min(design_pa_gauge / OVERSHOOT, design_pa_gauge - OVERSHOOT_LEAST_PA)


def coolant_design_pa_gauge(
    cap_pa_gauge: float, dead_head_pa: float, height_m: float, *, after_pump: bool
) -> float:
    """Design pressure of a place of the coolant loop [Pa gauge].

    p = 1.1 cap + dead head (after the pump alone) + 0.1 bar per metre of liquid above the place. The dead
    head is the pump's head at no flow: the loop as it is with a kinked hose. `height_m` [m] below the
    liquid's surface, >= 0.
    """
    pumped = dead_head_pa if after_pump else 0.0
    return cap_pa_gauge * CAP_TOLERANCE + pumped + HEAD_PA_PER_M * height_m


def cap_short_of_pa_gauge(cap: Cap) -> float | None:
    """What a cap has to hold until it opens [Pa gauge], where it is rated below that; else, or unrated, None."""
    rated = cap.coolant.rating.working_pa_gauge
    sees = coolant_design_pa_gauge(float(cap.opens_pa_gauge), 0.0, 0.0, after_pump=False)
    return sees if rated is not None and rated < sees else None


def coolant_design_by_place(
    flow_order: Iterable[str], cap_pa_gauge: float, dead_head_pa: float, height_m: float
) -> dict[str, float]:
    """Design pressure [Pa gauge] of every place of a loop: slots and the runs between them ("pump to core").

    `flow_order`: the slots in flow order from the reservoir on, with `pump` among them; the loop closes on
    its first. From the pump's own body to the run back into the reservoir a place sees the dead head; the
    reservoir, its cap and the suction run do not. `height_m`: the most liquid that stands above any slot [m],
    taken for all of them; only the cap lies at the surface.
    """
    slots = list(flow_order)
    pump = slots.index("pump")
    design: dict[str, float] = {}
    for place, (slot, following) in enumerate(zip(slots, [*slots[1:], slots[0]], strict=True)):
        here = coolant_design_pa_gauge(cap_pa_gauge, dead_head_pa, height_m, after_pump=place >= pump)
        design[slot] = design[f"{slot} to {following}"] = here
    design["cap"] = coolant_design_pa_gauge(cap_pa_gauge, dead_head_pa, 0.0, after_pump=False)
    return design


def member_of_part(slot: str, part: RigidPart | Cap, medium: Medium) -> Member | None:
    """A part's passage as a member of the boundary at its slot; None where it has no such passage."""
    passage = getattr(part, medium, None)
    if not isinstance(passage, Passage):
        return None
    rating = passage.rating
    hottest = None if passage.hottest_k is None else float(passage.hottest_k)
    return Member(part.id, slot, rating.working_pa_gauge, rating.stated_as, hottest)


def lowest_member(members: Collection[Member], design_pa_gauge: Mapping[str, float]) -> LowestRated:
    """The member with the least margin over the design pressure of its place [Pa gauge].

    Ties go to the lower rating, then by part and place. Raises KeyError for a member whose place has no
    design pressure: nothing may go unchecked. Needs at least one member.
    """
    unproven = tuple(sorted({member.part for member in members if member.working_pa_gauge is None}))
    seen = [(member, member.working_pa_gauge, design_pa_gauge[member.place]) for member in members]
    known = [
        (rating / max(design, LEAST_DESIGN_PA), rating, member, design)
        for member, rating, design in seen
        if rating is not None
    ]
    if not known:
        return LowestRated(None, max(design for _, _, design in seen), None, unproven)
    margin, _, member, design = min(known, key=lambda one: (*one[:2], one[2].part, one[2].place))
    return LowestRated(member, design, margin, unproven)


def pressure_rules(members: Iterable[Member], design_pa_gauge: Mapping[str, float]) -> tuple[Verdict, ...]:
    """Each member's rating against the design pressure of its place: kept, broken or not checked."""
    verdicts = []
    for member in members:
        rule, subjects = "rating-below-pressure", (member.part, member.place)
        rated, design = member.working_pa_gauge, design_pa_gauge[member.place]
        if rated is None:
            text = f"'{member.part}' ({member.place}) states no pressure: unproven"
            verdicts.append(Verdict(rule, "not checked", subjects, None, design, "Pa", text))
        elif rated < design:
            holds, sees = bars_apart(rated, design)
            text = f"'{member.part}' ({member.place}) holds {holds}, may see {sees}"
            verdicts.append(Verdict(rule, "broken", subjects, rated, design, "Pa", text))
        else:
            verdicts.append(Verdict(rule, "kept", subjects, rated, design, "Pa"))
    return tuple(verdicts)
