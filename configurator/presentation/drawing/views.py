"""Three orthographic views: which axes of the car lie along the paper, and which side is nearest to the eye.

Third angle: the plan stands above the front view, the view of the car's left side to the right of it. Seen from the
front, the car's right side is on the left of the paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from configurator.presentation.drawing.scene import Block, Body, Point

Flat = tuple[float, float, float, float]
"""Left, bottom, right and top of something seen flat [mm of the car]."""


@dataclass(frozen=True)
class View:
    """One view: (axis, sign) along the paper to the right, upwards, and towards the eye; the four walls seen edgewise.

    `walls` are those at the left, bottom, right and top of the paper; `seen` the side of a body that looks at the
    eye, `hidden` the one that looks away.
    """

    name: str
    title: str
    across: tuple[int, int]
    upwards: tuple[int, int]
    toward: tuple[int, int]
    walls: tuple[str, str, str, str]
    seen: str
    hidden: str


PLAN: Final = View("plan", "from above", (1, -1), (0, 1), (2, 1), ("right", "front", "left", "back"), "top", "floor")
FRONT: Final = View(
    "front", "from the front", (1, -1), (2, 1), (0, -1), ("right", "floor", "left", "top"), "front", "back"
)
SIDE: Final = View(
    "side", "from the left", (0, 1), (2, 1), (1, -1), ("front", "floor", "back", "top"), "left", "right"
)
VIEWS: Final = (PLAN, FRONT, SIDE)


def seen(view: View, point: Point) -> tuple[float, float]:
    """Where a point lies on the paper: to the right and upwards [mm of the car]."""
    (across, right), (upwards, up) = view.across, view.upwards
    return right * point[across], up * point[upwards]


def flat(view: View, low: Point, high: Point) -> Flat:
    """A box seen flat."""
    one, other = seen(view, low), seen(view, high)
    return min(one[0], other[0]), min(one[1], other[1]), max(one[0], other[0]), max(one[1], other[1])


def nearness(view: View, body: Body) -> float:
    """How near a body's nearest face is to the eye; larger is nearer."""
    axis, sign = view.toward
    return body.high[axis] if sign > 0 else -body.low[axis]


def far_to_near(view: View, bodies: Sequence[Body]) -> tuple[Body, ...]:
    """Bodies in the order in which they are painted."""
    return tuple(sorted(bodies, key=lambda body: nearness(view, body)))


def hidden(view: View, body: Body, block: Block) -> bool:
    """Whether a nearer body covers some of this one."""
    mine = flat(view, body.low, body.high)
    painted = far_to_near(view, block.bodies)
    return any(_meet(mine, flat(view, other.low, other.high)) for other in painted[painted.index(body) + 1 :])


def _meet(one: Flat, other: Flat) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
