"""Pump curves through their points, and where a pump meets its loop."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.physics.operating_point import curve_slopes, head, operating_flow, stack_curves

L_PER_MIN = 1e-3 / 60
BRUSHLESS = ([x * L_PER_MIN for x in (0, 8, 16, 24, 32)], [70e3, 64e3, 51e3, 30e3, 0.0])
STRAIGHT = ([0.0, 20 * L_PER_MIN], [30e3, 0.0])
STEP_ENDED = ([x * L_PER_MIN for x in (0, 10, 30, 31)], [50e3, 49.9e3, 10e3, 9.9e3])
CURVES = stack_curves([BRUSHLESS, STRAIGHT, STEP_ENDED])


@pytest.mark.parametrize(("row", "points"), list(enumerate([BRUSHLESS, STRAIGHT, STEP_ENDED])))
def test_curve_passes_through_its_points_and_never_rises(
    row: int, points: tuple[list[float], list[float]]
) -> None:
    flows, heads = points
    assert head(CURVES, row, np.array(flows)) == pytest.approx(heads, abs=1e-8)
    fine = head(CURVES, row, np.linspace(0.0, 2.0 * flows[-1], 4001))
    assert np.all(np.diff(fine) <= 1e-9)


def test_curve_has_no_step_at_its_points() -> None:
    flows = np.array(BRUSHLESS[0])[1:]
    before, after = head(CURVES, 0, flows * (1 - 1e-12)), head(CURVES, 0, flows * (1 + 1e-12))
    assert before == pytest.approx(after, abs=1e-5)


def test_two_points_make_a_straight_line() -> None:
    flows = np.array([5, 10, 20, 30]) * L_PER_MIN
    assert head(CURVES, 1, flows) == pytest.approx([22.5e3, 15e3, 0.0, -15e3], abs=1e-8)


def test_beyond_the_last_point_the_head_falls_in_a_straight_line() -> None:
    end = 32 * L_PER_MIN
    beyond = head(CURVES, 0, end + np.array([0.0, 1.0, 2.0, 3.0]) * L_PER_MIN)
    falls = np.diff(beyond)
    assert falls == pytest.approx(np.full(3, falls[0]), rel=1e-9)
    assert falls[0] < -(30e3 / 8) * 0.999  # no flatter than the last chord


def test_curve_that_flattens_at_its_end_still_falls_beyond_it() -> None:
    """The last slope of the monotone cubic is flatter than the last chord here; the chord's is taken."""
    flows, heads = (np.array(x) for x in STEP_ENDED)
    chord = (heads[-1] - heads[-2]) / (flows[-1] - flows[-2])
    assert curve_slopes(flows, heads)[-1] > chord
    beyond = float(head(CURVES, 2, flows[-1] + 10 * L_PER_MIN))
    assert beyond == pytest.approx(heads[-1] + chord * 10 * L_PER_MIN, rel=1e-9)


def test_slopes_where_the_points_turn_are_level() -> None:
    flows, heads = np.array([0.0, 1.0, 2.0, 3.0]), np.array([1.0, 3.0, 2.0, 0.0])
    assert curve_slopes(flows, heads)[1] == 0.0


def test_end_slope_is_held_to_three_chords_where_the_points_turn() -> None:
    """Moler, Numerical Computing, ch. 3 (from memory): (3 x 1 + 9)/2 = 6 would overshoot; 3 is taken."""
    assert curve_slopes(np.array([0.0, 1.0, 2.0]), np.array([0.0, 1.0, -8.0]))[0] == 3.0


def test_inner_slope_is_the_weighted_harmonic_mean_of_its_chords() -> None:
    """Fritsch & Butland 1984 (from memory), by hand: 9/(5/-1 + 4/-4) = -1.5 for chords -1 and -4."""
    assert curve_slopes(np.array([0.0, 1.0, 3.0]), np.array([9.0, 8.0, 0.0]))[1] == -1.5


def test_end_slope_that_would_turn_is_level() -> None:
    """Three points ask for (3 x -1 + 8)/2 = +2.5 at the first one of a falling curve; 0 is taken."""
    assert curve_slopes(np.array([0.0, 1.0, 2.0]), np.array([9.0, 8.0, 0.0]))[0] == 0.0


def test_many_pumps_are_read_by_index_as_each_alone() -> None:
    pumps = np.array([2, 0, 1, 0, 2])
    flows = np.array([3, 17, 12, 40, 31]) * L_PER_MIN
    together = head(CURVES, pumps, flows)
    single = [stack_curves([x]) for x in (BRUSHLESS, STRAIGHT, STEP_ENDED)]
    assert together.tolist() == [float(head(single[p], 0, q)) for p, q in zip(pumps, flows, strict=True)]


def test_operating_flow_is_found_to_a_billionth() -> None:
    """Parabolas cross at sqrt(p0/(a + b)): exact. Over five decades of loop resistance."""
    loop = np.geomspace(1e9, 1e14, 31)
    fall = 60e3 / (40 * L_PER_MIN) ** 2
    found = operating_flow(
        lambda q: 60e3 - fall * q**2, lambda q: loop * q**2, np.full(31, 40 * L_PER_MIN)
    )
    assert found == pytest.approx(np.sqrt(60e3 / (loop + fall)), rel=1e-9)


def test_operating_flow_takes_few_looks_at_the_loop() -> None:
    """Most of the time of a look goes into friction: over four decades of loops all are found in a dozen."""
    loop, looks = np.geomspace(1e8, 1e12, 40), []
    pumps = np.arange(40) % 2

    def loss(flow: np.ndarray) -> np.ndarray:
        looks.append(flow)
        return loop * flow**1.75

    found = operating_flow(lambda q: head(CURVES, pumps, q), loss, 3.0 * CURVES.flow_end[pumps])
    assert head(CURVES, pumps, found) == pytest.approx(loop * found**1.75, rel=1e-9)
    assert len(looks) <= 12


def test_operating_flow_does_not_hang_on_the_company() -> None:
    loop = np.geomspace(1e10, 1e13, 50)
    pumps = np.arange(50) % 3
    high = 3.0 * CURVES.flow_end[pumps]
    together = operating_flow(lambda q: head(CURVES, pumps, q), lambda q: loop * q**2, high)
    for i in (0, 7, 49):
        row = slice(i, i + 1)
        alone = operating_flow(
            lambda q, row=row: head(CURVES, pumps[row], q), lambda q, row=row: loop[row] * q**2, high[row]
        )
        assert alone[0] == together[i]


def test_pump_that_cannot_lift_the_loop_moves_nothing() -> None:
    found = operating_flow(
        lambda q: np.array([5e3, 15e3]) - 1e7 * q, lambda q: 10e3 + 1e7 * q, np.array([1.0, 1.0])
    )
    assert found[0] == 0.0
    assert found[1] == pytest.approx(2.5e-4, rel=1e-9)


def test_pump_that_makes_nothing_moves_nothing_though_nothing_holds_it_back() -> None:
    """Where head and loss are equal at every flow, none is driven: 0, beside a pump that is at work."""
    found = operating_flow(
        lambda q: np.array([0.0, 1.0]) * (4e4 - 1e8 * q), lambda q: np.array([0.0, 1.0]) * 1e8 * q, np.full(2, 1e-3)
    )
    assert found == pytest.approx([0.0, 2e-4], rel=1e-9)


def test_pump_that_still_wins_at_the_highest_flow_stays_there() -> None:
    found = operating_flow(lambda q: np.full_like(q, 1e5), lambda q: 0.0 * q, np.array([1e-3]))
    assert found[0] == pytest.approx(1e-3, rel=1e-9)


@pytest.mark.parametrize(("at_30_kpa", "low_head_leads"), [(42.4, True), (42.7, False)])
def test_a_low_head_pump_leads_one_of_high_head_up_to_42_5_kpa(at_30_kpa: float, low_head_leads: bool) -> None:
    """By hand: 30 - 0.003 q^2 and 55 - 0.0449 q^2 [kPa, L/min] cross at 24.43 L/min and 28.2 kPa.

    A loop that loses with the square passes there if it takes 28.2 (30 / 24.43)^2 = 42.54 kPa at 30 L/min.
    """
    pumps = []
    for dead_head, free in ((30e3, 100.0), (55e3, 35.0)):
        litres = np.linspace(0.0, free, 61)
        pumps.append((list(litres * L_PER_MIN), list(dead_head * (1 - (litres / free) ** 2))))
    curves, rows = stack_curves(pumps), np.array([0, 1])
    low, high = operating_flow(
        lambda flow: head(curves, rows, flow),
        lambda flow: at_30_kpa * 1e3 * (flow / (30 * L_PER_MIN)) ** 2,
        np.full(2, 100 * L_PER_MIN),
    )
    assert (low > high) == low_head_leads
    assert low / L_PER_MIN == pytest.approx(24.43, abs=0.05)
