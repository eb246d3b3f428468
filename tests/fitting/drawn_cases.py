"""Fitting cases drawn from a seed: bodies alone, or with all that decides whether parts go in."""

from __future__ import annotations

import random
from dataclasses import replace

from tests.fitting.plain_cases import FACES, SIDES, PlainCase, PlainPart, PlainReach, Triple


def random_case(seed: int, most: int, longest: int, *, cut: bool = False) -> PlainCase:
    """A case of bodies alone, drawn from a seed: up to `most` parts, sides up to `longest`.

    With `cut` the parts are pieces of the zone itself, cut across: they go in exactly, and with one of them a
    millimetre longer they do not.
    """
    draw = random.Random(seed)
    zone = tuple(draw.randint(longest // 2, longest) for _ in range(3))
    count = draw.randint(1, most)
    if cut:
        pieces = [zone]
        while len(pieces) < count:
            piece = pieces.pop(0)
            axis = draw.randrange(3)
            at = draw.randint(max(1, piece[axis] // 3), max(1, piece[axis] - 1 - piece[axis] // 3))
            pieces += [
                tuple(at if k == axis else piece[k] for k in range(3)),
                tuple(piece[k] - at if k == axis else piece[k] for k in range(3)),
            ]
        parts = tuple(PlainPart(f"piece-{k}", size, fronts=("-x", "-y")) for k, size in enumerate(pieces))
        return PlainCase(zone, (), parts)
    obstacles = []
    for _ in range(draw.randint(0, 2)):
        low = tuple(draw.randint(0, 2 * side // 3) for side in zone)
        far = tuple(draw.randint(low[k] + 1, zone[k]) for k in range(3))
        obstacles.append((low, tuple(min(far[k], low[k] + zone[k] // 2) for k in range(3))))
    share = draw.uniform(0.5, 1.0) / count ** (1 / 3)
    parts = []
    for k in range(count):
        size = tuple(max(1, round(draw.uniform(0.5, 1.1) * share * side)) for side in zone)
        if k and draw.random() < 0.3:
            size = parts[-1].size
        ups = tuple(draw.sample(FACES, draw.randint(1, 2)))
        mounts = tuple(draw.sample(FACES, 1)) if draw.random() < 0.25 else ()
        parts.append(PlainPart(f"part-{k}", size, ups, mounts=mounts))
    return PlainCase(zone, tuple(obstacles), tuple(parts))


def rich_case(seed: int, most: int, longest: int, *, fewest: int = 1, whole: bool = False) -> PlainCase:
    """A case with all that decides whether parts go in: each in about half of the draws.

    `whole`: an open wall, two ends of one joint, and heights in every draw.
    """
    draw = random.Random(f"rich {seed}")
    zone = (*(draw.randint(longest // 2, longest) for _ in range(2)), draw.randint(longest // 2, 2 * longest))
    count = draw.randint(fewest, most)
    obstacles = []
    for _ in range(draw.randint(0, 2)):
        size = tuple(max(1, round(draw.uniform(0.05, 0.6) * side)) for side in zone)
        spare = [side - own for side, own in zip(zone, size, strict=True)]
        low = tuple(draw.choice([0, far, draw.randint(0, far)]) for far in spare)
        obstacles.append((low, tuple(low[k] + size[k] for k in range(3))))
    share = draw.uniform(0.35, 0.85) / count ** (1 / 3)
    parts: list[PlainPart] = []
    for k in range(count):
        if parts and draw.random() < 0.2:
            # One more of the same, its ends in the same joints.
            parts.append(replace(parts[-1], id=f"part-{k}"))
            continue
        size = tuple(max(1, round(draw.uniform(0.4, 1.1) * share * side)) for side in zone)
        ups = tuple(draw.sample(FACES, draw.randint(1, 2)))
        fronts = tuple(draw.sample([f for f in FACES if f[1] != ups[0][1]], draw.randint(1, 2)))
        mounts = tuple(draw.sample(FACES, 1)) if draw.random() < 0.2 else ()
        reaches = tuple(
            before_an_end(draw, size, draw.choice(FACES), f"end {end}", f"joint {draw.randint(0, 2 * count)}")
            for end in range(draw.choice([0, 1, 1, 2]))
        )
        used = tuple(("coolant", face) for face in draw.sample(FACES, draw.randint(0, 1)))
        parts.append(PlainPart(f"part-{k}", size, ups, fronts, mounts, reaches, used))
    if count > 1 and (draw.random() < 0.6 or whole):
        parts = with_a_joint(draw, parts)
    if draw.random() < 0.6 or whole:
        parts = with_heights(draw, parts)
    opened = tuple(draw.sample(SIDES, max(draw.choice([0, 1, 2, 3]), whole)))
    ends = (("coolant", tuple(draw.sample(SIDES, draw.randint(2, 4)))),) if draw.random() < 0.3 else ()
    return PlainCase(zone, tuple(obstacles), tuple(parts), opened, ends)


def exact_case(seed: int, longest: int) -> PlainCase:
    """Pieces of a zone that fill it exactly, one of them as the room before an end of its neighbour.

    With the first piece a millimetre longer they do not go in: together they have more volume than the zone.
    """
    draw = random.Random(f"exact {seed}")
    base = random_case(seed, 3, longest, cut=True)
    pieces = [part.size for part in base.parts]
    cut = pieces.pop()
    axis = draw.randrange(3)
    at = draw.randint(max(1, cut[axis] // 3), max(1, cut[axis] - 1 - cut[axis] // 3))
    size = tuple(at if k == axis else cut[k] for k in range(3))
    reach = PlainReach("a to b", "end", tuple(at if k == axis else 0 for k in range(3)), cut)
    parts = [PlainPart(f"piece-{k}", piece, fronts=("-x", "+y")) for k, piece in enumerate(pieces)]
    reaching = PlainPart("reaching", size, fronts=("-x", "+x"), reaches=(reach,))
    return PlainCase(base.zone, (), (*parts, reaching))


def rich_kit(seed: int, longest: int) -> dict[str, PlainCase]:
    """Two zones at some heights above the ground with the parts of one kit: a reservoir in the one, things that must
    lie below its surface in the other, and now and then in both.
    """
    draw = random.Random(f"kit {seed}")
    home, other = rich_case(2 * seed, 3, longest), rich_case(2 * seed + 1, 3, longest)
    home_parts = [replace(p, filled=None, inlet=None, bled_by=None) for p in home.parts]
    home_parts[0] = replace(home_parts[0], filled=draw.randint(30, 100))
    if len(home_parts) > 1 and draw.random() < 0.5:
        home_parts[1] = replace(home_parts[1], bled_by=tuple(draw.sample(FACES, 2)))
    below = [replace(p, filled=None, inlet=None, bled_by=None) for p in other.parts]
    below[0] = _kept_below(draw, below[0])
    if len(below) > 1:
        below[1] = _kept_below(draw, below[1])
    up = draw.choice([200, 250.25, 312.5, 400])
    drop = draw.uniform(-1.0, 1.0) * longest
    return {
        "home": replace(home, parts=tuple(replace(p, id=f"home-{p.id}") for p in home_parts), up=up),
        "other": replace(other, parts=tuple(replace(p, id=f"other-{p.id}") for p in below), up=round(up + drop)),
    }


def before_an_end(draw: random.Random, size: Triple, face: str, end: str, joint: str) -> PlainReach:
    """Room before a face of a part: a prism that may stand over the edge of the face."""
    low, high = [], []
    for axis, side in zip("xyz", size, strict=True):
        if axis == face[1]:
            deep = max(1, round(draw.uniform(0.1, 0.6) * side))
            low.append(side if face[0] == "+" else -deep)
            high.append(side + deep if face[0] == "+" else 0)
        else:
            wide = max(1, round(draw.uniform(0.2, 0.7) * side))
            at = draw.randint(-wide // 4, side - wide + wide // 4)
            low.append(at)
            high.append(at + wide)
    return PlainReach(joint, end, tuple(low), tuple(high))


def with_a_joint(draw: random.Random, parts: list[PlainPart]) -> list[PlainPart]:
    """Two of the parts with a reach each, of one joint: their room may lie in each other."""
    one, other = draw.sample(range(len(parts)), 2)
    joined = list(parts)
    for k in (one, other):
        reach = before_an_end(draw, parts[k].size, draw.choice(FACES), "joined", "the joint of two")
        joined[k] = replace(parts[k], reaches=(*parts[k].reaches, reach))
    return joined


def with_heights(draw: random.Random, parts: list[PlainPart]) -> list[PlainPart]:
    """One part as a reservoir, others kept below its surface."""
    held = [replace(part, filled=None, inlet=None, bled_by=None) for part in parts]
    home = draw.randrange(len(held))
    held[home] = replace(held[home], filled=draw.randint(20, 100))
    for k in range(len(held)):
        if k != home and draw.random() < 0.7:
            held[k] = _kept_below(draw, held[k])
    return held


def _kept_below(draw: random.Random, part: PlainPart) -> PlainPart:
    if draw.random() < 0.3:
        return replace(part, inlet=tuple(draw.randint(0, side) for side in part.size))
    return replace(part, bled_by=tuple(draw.sample(FACES, 2)))
