"""The clamps of a box's joints: those that lie in the box first, each once, then the cheapest of the shelf."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from configurator.joining.charge_joint import holds_coupler
from configurator.parts.kinds import Clamp
from configurator.parts.kit import Joint, Need


def with_clamps_of_box(
    joints: Sequence[Joint], held: Sequence[Clamp], sold: Sequence[Clamp], boost_pa_gauge: float | None
) -> tuple[Joint, ...]:
    """The joints with a clamp of the box wherever one closes and stands the boost [Pa gauge], as far as they go.

    The smallest diameter is served first, by the clamp whose range ends first, so that none is left over that might
    have served. Where those of the box do not go round, the shelf's serve; of what it does not sell more are wanted.
    """
    known = {clamp.id: clamp for clamp in (*sold, *held)}
    left = sorted(held, key=lambda clamp: (float(clamp.most_m), clamp.id))
    cheapest = sorted(sold, key=lambda clamp: (clamp.price_cents, clamp.id))
    taken: dict[int, list[str]] = {index: [] for index in range(len(joints))}
    wanted = [(od_m, index, part) for index, joint in enumerate(joints) for part, od_m in joint.clamped]
    for od_m, index, part in sorted(wanted):
        joint = joints[index]
        own = next((clamp for clamp in left if _serves(clamp, joint, od_m, boost_pa_gauge)), None)
        if own is not None:
            left.remove(own)
        bought = next((clamp for clamp in cheapest if _serves(clamp, joint, od_m, boost_pa_gauge)), known[part])
        taken[index].append((own or bought).id)
    return tuple(_held_by(joint, taken[index], known) for index, joint in enumerate(joints))


def _serves(clamp: Clamp, joint: Joint, od_m: float, boost_pa_gauge: float | None) -> bool:
    if joint.medium not in clamp.media:
        return False
    return clamp.closes_on(od_m) if joint.medium == "coolant" else holds_coupler(clamp, od_m, boost_pa_gauge or 0.0)


def _held_by(joint: Joint, clamps: Sequence[str], known: dict[str, Clamp]) -> Joint:
    """The joint with these clamps in the place of its own."""
    others = [need for need in joint.needs if need.item != "clamp"]
    needs = [*others, *(Need("clamp", part, count, "piece") for part, count in Counter(clamps).items())]
    before = [known[part] for part, _ in joint.clamped]
    after = [known[part] for part in clamps]
    cents = [sum(clamp.price_cents for clamp in some) for some in (before, after)]
    kilograms = [sum(float(clamp.mass_kg or 0.0) for clamp in some) for some in (before, after)]
    return replace(
        joint,
        needs=tuple(sorted(needs, key=lambda need: (need.item, need.part or ""))),
        price_cents=joint.price_cents - cents[0] + cents[1],
        mass_kg=joint.mass_kg - kilograms[0] + kilograms[1],
        clamped=tuple(zip(clamps, sorted(od_m for _, od_m in joint.clamped), strict=True)),
    )
