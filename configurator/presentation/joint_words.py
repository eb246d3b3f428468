"""A joint in words: its ends, its pieces in the order in which they go together, the way of its hose."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.fitting.laid_hoses import LaidHose
from configurator.parts.kit import Joint, Medium
from configurator.parts.layouts import kind_of_slot
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


def end_name(slot_and_end: str, medium: Medium) -> str:
    """`pump.in` as `pump inlet`, `core.in` as `core coolant inlet`, `reservoir.lower` as `reservoir end 'lower'`."""
    slot, _, end = slot_and_end.partition(".")
    if slot == "engine":
        return end
    if kind_of_slot(slot) == "core":
        slot = f"{slot} {medium}"
    return f"{slot} {_ENDS[end]}" if end in _ENDS else f"{slot} end '{end}'"
