"""What both sides of a box's loop have to hold, the member that holds least against it, and each rating as a rule."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from configurator.foundations.verdicts import Verdict
from configurator.joining.ratings import CAP_TOLERANCE, lowest_member, member_of_part, pressure_rules
from configurator.joining.words import bar_words
from configurator.parts.kinds import Cap, RigidPart
from configurator.parts.kit import Joint, Medium, Member
from configurator.questions.answer import Pressure
from configurator.questions.box_loop import BoxLoop
from configurator.questions.check_answer import DesignShares
from configurator.questions.written_in import WrittenIn

LEAST_CAP_PA = 0.2e5
"""Caps that open below this [Pa gauge] are hardly sold. Common practice, no source."""


def _members(loop: BoxLoop, joints: Sequence[Joint], medium: Medium) -> list[Member]:
    found = [member for joint in joints if joint.medium == medium for member in joint.members]
    fitted = [] if loop.cap_to_fit is None else [("cap", loop.cap_to_fit)]
    for slot, part in (*loop.slots, *fitted):
        if isinstance(part, RigidPart | Cap):
            member = member_of_part(slot, part, medium)
            found += [] if member is None else [member]
    return found


def coolant_side(
    loop: BoxLoop, joints: Sequence[Joint], written: WrittenIn
) -> tuple[Pressure | None, list[Verdict]]:
    """The coolant side's pressure, None where nothing of it is there, and the rules of its ratings."""
    members = _members(loop, joints, "coolant")
    if not members:
        return None, []
    places = {member.place: loop.design_pa(loop.kind_at(member.place)) for member in members}
    pressure = Pressure(max(places.values()), lowest_member(members, places))
    rules = [_with_way_out(loop, rule) for rule in pressure_rules(members, places)]
    return pressure, list(_asking(rules, "coolant", written))


def _asking(rules: Iterable[Verdict], medium: Medium, written: WrittenIn) -> Iterator[Verdict]:
    """The rules; the first of each part that states no pressure asks for it."""
    asked = set()
    for rule in rules:
        part = rule.subjects[0]
        if rule.state == "not checked" and part not in asked:
            asked.add(part)
            ask = f"ask its maker what it may work at, and write {written.rating(part, medium)}"
            rule = replace(rule, text=f"{rule.text}; {ask}")
        yield rule


def _with_way_out(loop: BoxLoop, rule: Verdict) -> Verdict:
    """A rating that does not hold, with the cap that would do, to 0.01 bar; of a cap, what it needs."""
    if rule.state != "broken" or not isinstance(rule.found, float) or not isinstance(rule.limit, float):
        return rule
    if rule.subjects[1] == "cap":
        return replace(rule, text=f"{rule.text}, a tenth more than it opens at: take a cap that is rated for that")
    opens = math.ceil((loop.opens_pa - (rule.limit - rule.found) / CAP_TOLERANCE) / 1e3) * 1e3
    if replace(loop, opens_pa=opens).design_pa(loop.kind_at(rule.subjects[1])) > rule.found:
        opens -= 1e3
    if opens < LEAST_CAP_PA:
        return rule
    return replace(rule, text=f"{rule.text}; with a cap of at most {bar_words(opens)} it would hold")


def charge_side(
    loop: BoxLoop, joints: Sequence[Joint], design_pa: float, written: WrittenIn
) -> tuple[Pressure | None, list[Verdict]]:
    """The same of the charge side, under its design pressure [Pa gauge]."""
    members = _members(loop, joints, "charge")
    if not members:
        return None, []
    places = dict.fromkeys((member.place for member in members), design_pa)
    rules = _asking(pressure_rules(members, places), "charge", written)
    return Pressure(design_pa, lowest_member(members, places)), list(rules)


def made_of(loop: BoxLoop, coolant: Pressure | None) -> DesignShares | None:
    """What the pressure at the weakest place of the coolant side is made of."""
    if coolant is None or coolant.lowest is None or coolant.lowest.place is None:
        return None
    return loop.shares(loop.kind_at(coolant.lowest.place))
