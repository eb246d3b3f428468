"""What the joints of the charge side take: each on its share of the charge, branches once, on their own side."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from configurator.parts.kit import Joint, before_core, path_per_m4
from configurator.prediction.bench import Loop, make_columns
from configurator.prediction.charge import charge_at
from configurator.prediction.stages import CORE_THEN_EXCHANGER, Stage, Stages, piping
from configurator.prediction.zone_air import ZoneAir
from tests.prediction.made_kits import conditions, plain_kit, plain_surface, run

TWINS: Stages = (Stage("core", 2), Stage("exchanger"))
ONE_CORE = (
    ("engine.charger outlet", "core.in", 1.0, 100.0),
    ("core.out", "engine.throttle", 1.0, 7.0),
)
TWO_OUTLETS = (
    ("engine.charger outlet 1", "charge-wye-in.left", 0.5, 40.0),
    ("engine.charger outlet 2", "charge-wye-in.right", 0.5, 40.0),
    ("charge-wye-in.stem", "core.in", 1.0, 100.0),
    ("core.out", "engine.throttle", 1.0, 7.0),
)
TWO_CORES = (
    ("engine.charger outlet", "charge-wye-in.stem", 1.0, 100.0),
    ("charge-wye-in.left", "core-1.in", 0.5, 40.0),
    ("charge-wye-in.right", "core-2.in", 0.5, 48.0),
    ("core-1.out", "charge-wye-out.left", 0.5, 20.0),
    ("core-2.out", "charge-wye-out.right", 0.5, 20.0),
    ("charge-wye-out.stem", "engine.throttle", 1.0, 7.0),
)
PAIRS = (
    ("engine.charger outlet 1", "core-1.in", 0.5, 40.0),
    ("engine.charger outlet 2", "core-2.in", 0.5, 40.0),
    ("core-1.out", "charge-wye-out.left", 0.5, 20.0),
    ("core-2.out", "charge-wye-out.right", 0.5, 20.0),
    ("charge-wye-out.stem", "engine.throttle", 1.0, 7.0),
)


def joints(rows: tuple[tuple[str, str, float, float], ...]) -> tuple[Joint, ...]:
    """Charge joints of given ends, share and K / A²."""
    return tuple(
        replace(run(0.0), medium="charge", start=start, finish=finish, share=share, loss_per_m4=loss, hose=None)
        for start, finish, share, loss in rows
    )


@pytest.mark.parametrize(
    ("rows", "before", "after"),
    [
        (ONE_CORE, 100.0, 7.0),
        (TWO_OUTLETS, 100.0 + 40.0 / 4, 7.0),
        (TWO_CORES, 100.0 + 48.0 / 4, 7.0 + 20.0 / 4),
        (PAIRS, 40.0 / 4, 7.0 + 20.0 / 4),
    ],
    ids=["one core", "two outlets", "two cores", "two of both"],
)
def test_joints_in_a_row_add_up_and_branches_count_once_at_a_quarter(
    rows: tuple[tuple[str, str, float, float], ...], before: float, after: float
) -> None:
    """Loss goes with the square of the flow: half of it through K / A² loses a quarter (first principles).

    Twins once had all four of their couplers counted, and all behind the core.
    """
    made = joints(rows)
    assert path_per_m4(joint for joint in made if before_core(joint)) == pytest.approx(before)
    assert path_per_m4(joint for joint in made if not before_core(joint)) == pytest.approx(after)
    kit = plain_kit()
    stages = TWINS if any("core-1" in start for start, *_ in rows) else CORE_THEN_EXCHANGER
    runs = tuple(run() for _ in piping(stages).shares)
    loop = Loop(0, 0, int(kit.columns.pump[0]), 0, runs, made, ZoneAir(0.25, 0.0, 0.0, 0.0), stages)
    columns = make_columns(kit.bench, [loop])
    assert columns.charge_before_per_m4[0] == pytest.approx(before)
    assert columns.charge_after_per_m4[0] == pytest.approx(after)


def test_two_cores_leave_the_loss_of_joints_on_the_whole_charge() -> None:
    """K / A² given on the whole charge loses the same however many cores share it."""
    at, pipes = conditions(boost_held_at_throttle=False), np.array([3e5])
    lost = [charge_at(at, 1.0, plain_surface(600.0), pipes, 2 * pipes, 0.0, cores) for cores in (1, 2)]
    assert float(lost[0].before_loss_pa[0]) == pytest.approx(float(lost[1].before_loss_pa[0]), rel=1e-9)
    assert float(lost[1].after_loss_pa[0]) == pytest.approx(2 * float(lost[1].before_loss_pa[0]), rel=1e-9)
