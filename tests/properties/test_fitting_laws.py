"""Laws of fitting that hold whatever the parts: more room never harms, names and order never matter.

Draws are of bodies alone, and of parts with room before ends, open walls, sides to face and heights.

Each law follows from what clearance means (geometry; no source needed).
"""

from __future__ import annotations

from dataclasses import replace

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from configurator.fitting.placing import ZoneFit, fit_zone
from tests.fitting.drawn_cases import random_case, rich_case
from tests.fitting.plain_cases import FACES, SIDES, PlainCase, PlainPart

BODIES = st.builds(random_case, st.integers(0, 10**6), st.just(3), st.sampled_from([40, 300]), cut=st.booleans())
RICH = st.builds(rich_case, st.integers(0, 10**6), st.just(3), st.sampled_from([40, 100]))
CASES = BODIES | RICH


def placed(case: PlainCase, cap_mm: float | None = None) -> ZoneFit:
    return fit_zone(case.bay(), "hole", case.items(), clearance_cap_mm=cap_mm, needs=case.needs())


def room(case: PlainCase) -> float:
    """Clearance, or -1 where it does not fit."""
    fit = placed(case)
    assert fit.state != "not decided"
    return fit.clearance_mm if fit.clearance_mm is not None else -1.0


def with_block(case: PlainCase, low: tuple[int, ...], far: tuple[int, ...]) -> PlainCase:
    return replace(case, obstacles=(*case.obstacles, (low, far)))


@given(case=CASES, axis=st.integers(0, 2), data=st.data())
@settings(max_examples=40)
def test_an_obstacle_a_millimetre_nearer_never_raises_clearance(case, axis, data):
    """The block covers a whole wall: nearer means that its face takes from the room."""
    reach = data.draw(st.integers(1, case.zone[axis] // 2))
    far = tuple(reach if k == axis else case.zone[k] for k in range(3))
    nearer = tuple(reach + 1 if k == axis else case.zone[k] for k in range(3))
    assert room(with_block(case, (0, 0, 0), nearer)) <= room(with_block(case, (0, 0, 0), far))


@given(case=CASES, axis=st.integers(0, 2))
@settings(max_examples=40)
def test_an_obstacle_that_grows_towards_the_front_left_or_floor_never_raises_clearance(case, axis):
    low = tuple(side // 3 for side in case.zone)
    far = tuple(side // 3 + side // 4 + 1 for side in case.zone)
    grown = tuple(low[k] - (k == axis) for k in range(3))
    assert room(with_block(case, grown, far)) <= room(with_block(case, low, far))


def test_a_free_block_that_moves_a_millimetre_may_raise_clearance():
    """Just outside the laws above: moved nearer to one wall, a block leaves more room at the other.

    By hand: 100 mm, a block of 20 from 38 to 58 leaves 42 behind it for a part of 40; a millimetre forward, 43.
    """
    one = PlainCase((100, 50, 50), (), (PlainPart("a", (40, 30, 30), fronts=("-x",)),))
    assert room(with_block(one, (38, 0, 0), (58, 50, 50))) == 1.0
    assert room(with_block(one, (37, 0, 0), (57, 50, 50))) == 1.5


@given(case=CASES, axis=st.integers(0, 2))
@settings(max_examples=40)
def test_a_longer_zone_never_lowers_clearance(case, axis):
    zone = tuple(side + (k == axis) for k, side in enumerate(case.zone))
    assert room(replace(case, zone=zone)) >= room(case)


@given(case=CASES)
@settings(max_examples=40)
def test_taking_a_part_out_never_lowers_clearance(case):
    assume(len(case.parts) > 1)
    assert room(replace(case, parts=case.parts[1:])) >= room(case)


@given(case=CASES)
@settings(max_examples=40)
def test_one_more_way_up_never_lowers_clearance(case):
    freer = tuple(replace(part, ups=(*part.ups, "-y")) for part in case.parts)
    assert room(replace(case, parts=freer)) >= room(case)


@given(case=CASES, data=st.data())
@settings(max_examples=40)
def test_the_order_in_which_parts_are_given_is_irrelevant(case, data):
    shuffled = tuple(data.draw(st.permutations(case.items())))
    assert fit_zone(case.bay(), "hole", shuffled, needs=case.needs()) == placed(case)


@given(case=CASES, data=st.data())
@settings(max_examples=40)
def test_names_change_neither_state_nor_clearance(case, data):
    names = data.draw(st.permutations([f"renamed-{k}" for k in range(len(case.parts))]))
    renamed = tuple(replace(part, id=name) for part, name in zip(case.parts, names, strict=True))
    assert room(replace(case, parts=renamed)) == room(case)


@given(case=CASES, cap=st.integers(0, 60))
@settings(max_examples=60)
def test_a_capped_clearance_is_the_smaller_of_the_exact_one_and_the_cap(case, cap):
    exact, capped = placed(case), placed(case, cap / 2)
    assert capped.state == exact.state
    if exact.clearance_mm is not None:
        assert capped.clearance_mm == min(exact.clearance_mm, cap / 2)
        if exact.clearance_mm <= cap / 2:
            assert capped.placements == exact.placements


@given(case=RICH, data=st.data())
@settings(max_examples=100)
def test_more_room_before_an_end_never_raises_clearance(case, data):
    reaching = [k for k, part in enumerate(case.parts) if part.reaches]
    assume(reaching)
    k, axis = data.draw(st.sampled_from(reaching)), data.draw(st.integers(0, 2))
    part = case.parts[k]
    reach = part.reaches[0]
    if data.draw(st.booleans()):
        deeper = replace(reach, high=tuple(v + (j == axis) for j, v in enumerate(reach.high)))
    else:
        deeper = replace(reach, low=tuple(v - (j == axis) for j, v in enumerate(reach.low)))
    wanting = replace(part, reaches=(deeper, *part.reaches[1:]))
    assert room(replace(case, parts=(*case.parts[:k], wanting, *case.parts[k + 1 :]))) <= room(case)


@given(case=RICH, side=st.sampled_from(SIDES))
@settings(max_examples=100)
def test_opening_a_wall_never_lowers_clearance(case, side):
    closed = replace(case, open=tuple(wall for wall in case.open if wall != side))
    assert room(replace(case, open=(*closed.open, side))) >= room(closed)


@given(case=RICH)
@settings(max_examples=60)
def test_ends_in_one_joint_never_lower_clearance(case):
    joined = tuple(
        replace(part, reaches=tuple(replace(reach, joint="all") for reach in part.reaches)) for part in case.parts
    )
    assert room(replace(case, parts=joined)) >= room(case)


@given(case=RICH, side=st.sampled_from(SIDES))
@settings(max_examples=40)
def test_one_more_side_to_face_never_lowers_clearance(case, side):
    (_, sides), *_ = case.ends or (("coolant", ("front", "left")),)
    named = replace(case, ends=(("coolant", sides),))
    assert room(replace(case, ends=(("coolant", (*sides, side)),))) >= room(named)
    assert room(replace(case, ends=())) >= room(named)


@given(case=RICH, face=st.sampled_from(FACES))
@settings(max_examples=60)
def test_a_fuller_tank_and_one_more_bleed_never_lower_clearance(case, face):
    assume(any(part.filled is not None for part in case.parts))
    fuller = [p if p.filled is None else replace(p, filled=min(100, p.filled + 5)) for p in case.parts]
    assert room(replace(case, parts=tuple(fuller))) >= room(case)
    bled = [p if p.bled_by is None else replace(p, bled_by=(*p.bled_by, face)) for p in case.parts]
    assert room(replace(case, parts=tuple(bled))) >= room(case)


@given(case=CASES)
@settings(max_examples=60)
def test_the_pair_that_sets_the_clearance_has_less_than_a_step_a_link_to_spare(case):
    """On a full chain of at most n parts the n + 1 gaps exceed the clearance by less than half a millimetre each."""
    fit = placed(case)
    assume(fit.state == "fits" and not any(part.mounts or part.reaches for part in case.parts))
    assert fit.set_by is not None
    spans = {p.part: (p.at_mm, tuple(a + s for a, s in zip(p.at_mm, p.size_mm, strict=True))) for p in fit.placements}
    spans |= {f"block {k}": box for k, box in enumerate(case.obstacles)}
    one, other = fit.set_by
    low, far = spans[one]
    if other.startswith("wall "):
        gap = {
            "front": low[0], "left": low[1], "floor": low[2], "back": case.zone[0] - far[0],
            "right": case.zone[1] - far[1], "top": case.zone[2] - far[2],
        }[other.removeprefix("wall ")]
    else:
        low_2, far_2 = spans[other]
        gap = max(max(low_2[k] - far[k], low[k] - far_2[k]) for k in range(3))
    assert fit.clearance_mm <= gap < fit.clearance_mm + 0.5 * (len(case.parts) + 1)
