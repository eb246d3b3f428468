"""Which pair sets the clearance of a packing: half a millimetre more, and there is no room between them."""

from __future__ import annotations

from configurator.fitting.axes import WALL, Bound, Order, least_coordinates
from configurator.fitting.packing import Packing
from configurator.fitting.pairs import Bodies, pairs_of, postures_of, walls
from configurator.fitting.room import NamedRoom
from configurator.fitting.turns import SIDES

Two = tuple[str, str]


def tightest(named: NamedRoom, part_ids: tuple[str, ...], bodies: Bodies, found: Packing) -> Two | None:
    """Two names: part ids, an obstacle's name, or a wall such as 'wall front'; None if nothing sets the gap.

    With every pair kept apart in the direction in which it is now farthest apart, half a millimetre more
    does not go in along some axis: a chain from wall or obstacle to wall or obstacle is full. Of its links
    that one is named that says most: two parts, else a part and an obstacle, else a part and a wall; of
    equals the first along x, y, z, from the far end of the chain.
    """
    postures = postures_of(bodies, found.chosen)
    axes = list(walls(named.room, postures))
    corners = tuple(value for corner in found.corners for value in corner)
    for pair in pairs_of(named.room, postures):
        enough = [d for d in range(6) if pair.apart(corners, d) >= pair.gaps[d] * found.gap]
        widest = max(enough, key=lambda d, pair=pair: (not pair.gaps[d], pair.apart(corners, d)))  # type: ignore[misc]
        axes[widest // 2] = pair.kept_apart(axes[widest // 2], widest)
    links: list[tuple[int, Two]] = []
    for k, axis in enumerate(axes):
        chain = least_coordinates(axis, len(bodies), found.gap + 1).chain
        for index, link in enumerate(chain):
            if link.gaps:
                # The chain's first link is the bound at its far end.
                links.append(_named(link, f"wall {SIDES[2 * k + (index == 0)]}", part_ids, named.names))
    return min(links, key=lambda link: link[0])[1] if links else None


def _named(
    link: Bound | Order, wall: str, part_ids: tuple[str, ...], obstacle_names: tuple[str, ...]
) -> tuple[int, Two]:
    """How much a link says (0 most), and the names of its two ends."""
    if isinstance(link, Order):
        return 0, (part_ids[min(link.first, link.second)], part_ids[max(link.first, link.second)])
    if link.by != WALL:
        return 1, (part_ids[link.body], obstacle_names[link.by])
    return 2, (part_ids[link.body], wall)
