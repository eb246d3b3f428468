"""Small cases against trying every place: each half millimetre, in each turn, of one part or two."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from configurator.fitting.placing import ZoneFit, fit_zone, may_go_in
from tests.fitting.drawn_cases import random_case, rich_case
from tests.fitting.placement_checker import (
    allowed,
    faces_well,
    height_to_keep,
    surface_over_floor,
    turned_reach,
    turned_size,
)
from tests.fitting.plain_cases import PlainCase, PlainPart, longer_by_one


def placed(case: PlainCase) -> ZoneFit:
    return fit_zone(case.bay(), "hole", case.items(), needs=case.needs())


def every_place(case: PlainCase):
    """Largest clearance in half millimetres and the smallest corners at it, by trying every half millimetre."""
    found = []
    turns = [[looks for looks in allowed(part) if faces_well(case, part, looks)] for part in case.parts]
    for chosen in product(*turns):
        bodies = [_places(case, part, looks) for part, looks in zip(case.parts, chosen, strict=True)]
        if any(body is None for body in bodies):
            continue
        low, gap, size, reaches, heights = bodies[0]
        if len(bodies) == 1:
            best, corners = gap.max(), tuple(low[int(gap.argmax())])
        else:
            other, other_gap, other_size, other_reaches, other_heights = bodies[1]
            first, second = low[:, None], other[None]
            apart = np.maximum(second - first - size, first - second - other_size).max(2)
            gaps = np.minimum(np.minimum(gap[:, None], other_gap[None]), apart)
            solids = [(None, 0 * size, size), *reaches], [(None, 0 * size, other_size), *other_reaches]
            for (joint, near, far), (joint_2, near_2, far_2) in product(*solids):
                if (joint is not None or joint_2 is not None) and joint != joint_2:
                    clear = np.maximum(second + near_2 - first - far, first + near - second - far_2).max(2) >= 0
                    gaps = np.where(clear, gaps, -1)
            for (one, (level, _)), (two, (_, below)) in (
                ((first, heights), (second, other_heights)), ((second, other_heights), (first, heights))
            ):
                if level is not None and below is not None:
                    gaps = np.where(two[..., 2] + 2 * below <= one[..., 2] + 2 * level, gaps, -1)
            best = gaps.max()
            i, j = np.unravel_index(int(gaps.argmax()), gaps.shape)
            corners = (*low[i], *other[j])
        if best >= 0:
            found.append((-int(best), tuple(int(value) for value in corners)))
    return min(found, default=None)


def _places(case: PlainCase, part: PlainPart, looks: dict[str, str]):
    """Every half millimetre at which a part in one turn lies in its zone, with its gap there, -1 where it may not."""
    zone = 2 * np.array(case.zone)
    size = 2 * np.array(turned_size(part, looks))
    spans = [np.arange(zone[k] - size[k] + 1) for k in range(3)]
    if any(len(span) == 0 for span in spans):
        return None
    low = np.array(list(product(*spans)))
    gap = np.minimum(low.min(1), (zone - low - size).min(1))
    reaches = []
    for reach in part.reaches:
        near, far = (np.array([round(2 * v) for v in corner]) for corner in turned_reach(part, looks, reach))
        reaches.append((reach.joint, near, far))
        for k, (lower, upper) in enumerate((("front", "back"), ("left", "right"), ("floor", "top"))):
            if lower not in case.open:
                gap = np.where(low[:, k] + near[k] < 0, -1, gap)
            if upper not in case.open:
                gap = np.where(low[:, k] + far[k] > zone[k], -1, gap)
    for block, block_far in case.obstacles:
        for joint, near, far in [(None, 0 * size, size), *reaches]:
            clear = np.maximum(2 * np.array(block) - low - far, low + near - 2 * np.array(block_far)).max(1)
            gap = np.minimum(gap, clear) if joint is None else np.where(clear < 0, -1, gap)
    level = surface_over_floor(part).get(looks["top"])
    return low, gap, size, reaches, (level, height_to_keep(part, looks))


@pytest.mark.parametrize("seed", range(60))
def test_clearance_and_corners_equal_trying_every_place(seed):
    case = random_case(seed, 2, 7, cut=seed % 4 == 0)
    case = longer_by_one(case) if seed % 8 == 0 else case
    case = PlainCase(case.zone, case.obstacles, tuple(PlainPart(p.id, p.size, p.ups, p.fronts) for p in case.parts))
    fit = fit_zone(case.bay(), "hole", case.items())
    truth = every_place(case)
    if truth is None:
        assert fit.state == "does not fit"
        return
    corners = tuple(round(2 * value) for placed in fit.placements for value in placed.at_mm)
    assert (fit.clearance_mm * 2, corners) == (-truth[0], truth[1])


@pytest.mark.parametrize("seed", range(100))
def test_with_ends_and_heights_clearance_and_corners_equal_trying_every_place(seed):
    case = rich_case(seed, 2, 5)
    case = replace(case, parts=tuple(replace(part, mounts=()) for part in case.parts))
    fit, truth = placed(case), every_place(case)
    assert fit.state == ("does not fit" if truth is None else "fits")
    assert may_go_in(case.bay(), "hole", case.items(), case.needs()) == (truth is not None)
    if truth is not None:
        corners = tuple(round(2 * value) for there in fit.placements for value in there.at_mm)
        assert (fit.clearance_mm * 2, corners) == (-truth[0], truth[1])


def test_those_draws_hold_enough_that_fit_and_that_do_not():
    states = [placed(rich_case(seed, 2, 5)).state for seed in range(100)]
    assert min(states.count("fits"), states.count("does not fit")) >= 25
