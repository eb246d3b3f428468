"""A joint in words: its ends, its pieces in the order in which they go together, the way of its hose."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.fitting.laid_hoses import LaidHose
from configurator.parts.kit import Joint, Medium
from configurator.parts.layouts import kind_of_slot
from configurator.questions.answer import OfferedKit
from configurator.reasons.wording import no_route_text

_ENDS = {"in": "inlet", "out": "outlet"}


def joint_words(joint: Joint, names: Mapping[str, str]) -> str:
    """A joint with its pieces in the order in which they go together."""
    pieces = [names.get(piece, piece) for piece in joint.through]
    if joint.hose is not None:
        pieces.insert(joint.before_hose, f"{joint.hose_length_m:.1f} m of {names.get(joint.hose, joint.hose)}")
    ends = f"{end_name(joint.start, joint.medium)} to {end_name(joint.finish, joint.medium)}"
    stubs = [need for need in joint.needs if need.item == "hose stub"]
    between = "".join(
        f"; between spigots {need.quantity:.1f} m of {names.get(need.part or '', need.part)}" for need in stubs
    )
    return f"{ends}: {' + '.join(pieces) or 'direct'}{between}"


def way_words(hose: LaidHose | None) -> str:
    """The way of a joint's hose: its length along the middle line and its turns, or why it has none."""
    if hose is None:
        return ""
    if hose.route is None:
        return f"; not routed: {no_route_text(hose.why_not or 'no-place')}"
    turns = hose.route.turns
    crossing = ", crossing itself" if hose.route.crosses_itself else ""
    return f"; routed {hose.length_m:.2f} m with {turns or 'no'} {'turn' if turns == 1 else 'turns'}{crossing}"


def ways_found(kit: OfferedKit) -> str:
    """How many of a kit's hoses have a way in the bay; nothing where no hose was laid."""
    if not kit.hoses:
        return ""
    found = sum(hose.route is not None for hose in kit.hoses)
    return f"{found} of {len(kit.hoses)} routed" + ("" if found == len(kit.hoses) else ", the others by length alone")


def made_words(kit: OfferedKit) -> str:
    """What it means that every joint of a kit is made, beside hoses that are not routed."""
    made = "Made: the ends of a joint fit each other, directly or through the pieces listed, which are on the bill."
    if not kit.hoses:
        return made
    return (
        f"{made} Routed: a way for the hose was found that leaves room for its bends. Not routed: it joins all the "
        "same, and is bought by the length before its name; no way was found, or the brief does not say where its "
        "zones lie. Lay such a hose in the car before you cut it."
    )


def end_name(slot_and_end: str, medium: Medium) -> str:
    """`pump.in` as `pump inlet`, `core.in` as `core coolant inlet`, `reservoir.lower` as `reservoir end 'lower'`."""
    slot, _, end = slot_and_end.partition(".")
    if slot == "engine":
        return end
    if kind_of_slot(slot) == "core":
        slot = f"{slot} {medium}"
    return f"{slot} {_ENDS[end]}" if end in _ENDS else f"{slot} end '{end}'"
