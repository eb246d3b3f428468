"""Laws of the ways of hoses: one more thing to go round, or a stiffer hose, never makes a way shorter."""

from __future__ import annotations

import math
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.fitting.routes import HoseEnd, HoseShape, KeepOut, Route, shortest_route
from tests.fitting.route_checker import PlainEnd, PlainWay, along_mm, random_way

WAYS = st.builds(random_way, st.integers(0, 10**6), st.just(5))


def way_mm(case: PlainWay) -> float:
    """Length of a hose's way from corner to corner, endless where there is none."""
    ends = [HoseEnd(end.at, end.out, end.straight, end.elbow) for end in (case.start, case.finish)]
    solids = [KeepOut(low, high) for low, high in case.blocks]
    route = shortest_route(solids, ends[0], ends[1], HoseShape(case.across, case.bend))
    return along_mm(route.corners_mm) if isinstance(route, Route) else math.inf


@given(case=WAYS, low=st.tuples(*3 * [st.integers(-20, 40)]), size=st.tuples(*3 * [st.integers(1, 60)]))
@settings(max_examples=60)
def test_one_more_obstacle_never_shortens_a_hose(case, low, size):
    block = (low, tuple(at + side for at, side in zip(low, size, strict=True)))
    assert way_mm(replace(case, blocks=(*case.blocks, block))) >= way_mm(case)


@given(case=WAYS, wider=st.integers(1, 10))
@settings(max_examples=40)
def test_a_stiffer_hose_never_goes_a_shorter_way(case, wider):
    assert way_mm(replace(case, bend=case.bend + wider)) >= way_mm(case)


def test_by_its_middle_line_a_stiffer_hose_may_be_shorter():
    """Just outside the law: a wider bend cuts more off a corner that is there anyway."""
    case = PlainWay((), PlainEnd((0, 0, 0), "+x", 90), PlainEnd((300, 300, 0), "-y", 90), 20, 20)
    lengths = []
    for bend in (20, 60):
        ends = [HoseEnd(end.at, end.out, end.straight) for end in (case.start, case.finish)]
        route = shortest_route((), ends[0], ends[1], HoseShape(case.across, bend))
        assert isinstance(route, Route)
        lengths.append(route.length_mm)
    assert lengths[1] < lengths[0]
