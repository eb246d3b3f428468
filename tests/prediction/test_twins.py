"""Twins and other flow orders: two parts alike in one loop, held to one part of twice the size and to energy."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from configurator.parts.kit import Joint
from configurator.physics.effectiveness import conductance
from configurator.prediction.bench import Bench, Loop, make_columns
from configurator.prediction.conditions import Conditions, Piece
from configurator.prediction.loop_flow import loop_loss_pa
from configurator.prediction.predict import full_power_steady_k, predict
from configurator.prediction.report import thermal_report
from configurator.prediction.stages import CORE_THEN_EXCHANGER, Stage, Stages, piping, slots_of
from configurator.prediction.trace import trace
from configurator.prediction.zone_air import ZoneAir
from tests.prediction.made_kits import Made, conditions, moment, place, plain_kit, run, steady, whole_bench

TWIN_CORES: Stages = (Stage("core", 2), Stage("exchanger"))
CORES_IN_SERIES: Stages = (Stage("core"), Stage("core"), Stage("exchanger"))
TWIN_EXCHANGERS: Stages = (Stage("core"), Stage("exchanger", 2))
IN_SERIES: Stages = (Stage("core"), Stage("exchanger"), Stage("exchanger"))
EXCHANGER_FIRST: Stages = (Stage("exchanger"), Stage("core"))
LAYOUTS = {
    "cores side by side": TWIN_CORES,
    "cores in series": CORES_IN_SERIES,
    "exchangers side by side": TWIN_EXCHANGERS,
    "exchangers in series": IN_SERIES,
    "exchanger first": EXCHANGER_FIRST,
    "one round the other": (Stage("exchanger"), Stage("core"), Stage("exchanger")),
    "all twice": (Stage("core", 2), Stage("exchanger"), Stage("exchanger")),
}
RAM = ZoneAir(0.25, 0.0, 0.0, 0.0)
WARMED = ZoneAir(0.15, 0.0, 10.0, 0.0)
DRIVE = conditions(Piece(moment(), 20.0), Piece(moment(0.1), 25.0), Piece(moment(), 15.0))
FREE: dict[str, Any] = {"friction_scale": 0.0, "ports_per_m4": 0.0, "metal_j_per_k": 1000.0}


def short(litres: float) -> Joint:
    """A run without length that still holds some liquid."""
    return replace(run(0.0), volume_m3=litres * 1e-3)


def looped(made: Made, stages: Stages, *airs: ZoneAir, runs: tuple[Joint, ...] | None = None) -> Made:
    """The parts of a plain kit in another layout."""
    columns = made.columns
    exchangers = sum(stage.abreast for stage in stages if stage.kind == "exchanger")
    loop = Loop(
        0, 0, int(columns.pump[0]), 0,
        tuple(run(0.6) for _ in piping(stages).shares) if runs is None else runs,
        (), RAM, stages, airs or (RAM,) * exchangers,
    )  # fmt: skip
    return Made(made.bench, make_columns(made.bench, [loop]))


def shipped(stages: Stages, *airs: ZoneAir) -> Made:
    """Shipped parts in a layout."""
    bench: Bench = whole_bench()
    exchangers = sum(stage.abreast for stage in stages if stage.kind == "exchanger")
    loop = Loop(
        place("cores", "core-210-short"), place("exchangers", "exchanger-380-slim"), place("pumps", "pump-46-small"),
        place("reservoirs", "reservoir-6-vented"), tuple(run(0.6) for _ in piping(stages).shares),
        (), RAM, stages, airs or (RAM,) * exchangers,
    )  # fmt: skip
    return Made(bench, make_columns(bench, [loop]))


def same(one: Made, other: Made, at: Conditions) -> None:
    """Two loops that do the same in every figure that is told."""
    (a,), (b,) = (thermal_report(made.bench, made.columns, at, at)[0] for made in (one, other))
    for name in (
        "charge_in_k", "charge_out_worst_k", "charge_out_plateau_k", "charge_out_full_power_k", "coolant_worst_k",
        "core_gap_k", "heat_peak_w", "heat_mean_w", "coolant_flow_m3_per_s", "charge_loss_pa", "recovery_s",
    ):  # fmt: skip
        assert getattr(a, name) == pytest.approx(getattr(b, name), rel=1e-9, abs=1e-7), name


def test_the_runs_of_a_layout_and_where_they_lie() -> None:
    lie = piping(TWIN_EXCHANGERS)
    assert lie.shares == (1.0, 1.0, 1.0, 0.5, 0.5, 0.5, 0.5, 1.0)
    assert lie.lumps == (1, 1, 3, 3, 3, 5, 5, 5)
    assert (lie.trunk, lie.branches) == ((0, 1, 2, 7), (((3, 5), (4, 6)),))
    assert piping(CORE_THEN_EXCHANGER).shares == (1.0,) * 4
    assert slots_of(TWIN_EXCHANGERS) == ((0, "core"), (1, "exchanger-1"), (1, "exchanger-2"))


def test_two_cores_side_by_side_are_one_of_twice_the_conductance() -> None:
    """Each sees half of both flows, so its effectiveness is that of the double core: a definition, recomputed."""
    twins = looped(plain_kit(600.0, core={**FREE, "charge_loss_flow": 0.2}), TWIN_CORES, runs=(
        short(0.2), short(0.3), short(0.02), short(0.02), short(0.02), short(0.02), short(0.1), run(2.0),
    ))  # fmt: skip
    whole = {**FREE, "charge_loss_flow": 0.4, "liquid_m3": 1e-3, "metal_j_per_k": 2000.0}
    double = looped(
        plain_kit(1200.0, core=whole), CORE_THEN_EXCHANGER, runs=(short(0.2), short(0.34), short(0.14), run(2.0))
    )
    same(twins, double, DRIVE)


def test_two_exchangers_side_by_side_in_equal_air_are_one_of_twice_the_face() -> None:
    twins = looped(plain_kit(exchanger=FREE), TWIN_EXCHANGERS, runs=(
        short(0.2), run(2.0), short(0.1), short(0.02), short(0.02), short(0.02), short(0.02), short(0.1),
    ))  # fmt: skip
    plain = plain_kit(ua_exchanger=3000.0)
    (surface,) = plain.bench.exchanger_surfaces
    wide = replace(surface, **{**FREE, "metal_j_per_k": 2000.0}, face_area_m2=0.5, liquid_m3=1e-3)
    double = looped(
        Made(replace(plain.bench, exchanger_surfaces=(wide,)), plain.columns),
        CORE_THEN_EXCHANGER,
        runs=(short(0.2), run(2.0), short(0.14), short(0.14)),
    )
    same(twins, double, DRIVE)


def test_two_exchangers_in_series_are_two_passes_side_by_side() -> None:
    """Published: Kays & London, Compact Heat Exchangers, ch. 2, fresh air to each pass (from memory; recomputed)."""
    pair = looped(plain_kit(exchanger=FREE), IN_SERIES)
    _, out, _ = steady(pair, DRIVE)
    now = pair.predict(DRIVE).exchanges[DRIVE.hardest_at_full_power]
    rate, each = now.rate_w_per_k, now.exchangers[0].w_per_k
    both = rate * (1 - (1 - each / rate) ** 2)
    surface = pair.bench.exchanger_surfaces[0]
    twice = replace(surface, **FREE, face_area_m2=0.5, passes=2, pass_order="side by side", air_resistance=1 / 3000.0)
    single = looped(Made(replace(pair.bench, exchanger_surfaces=(twice,)), pair.columns), CORE_THEN_EXCHANGER)
    flows = single.predict(DRIVE).flow_m3_per_s / pair.predict(DRIVE).flow_m3_per_s
    assert float(flows[0]) == pytest.approx(1.0, abs=0.1)
    air_rate = 0.25 * 20.0 * 0.25 * 1.184 * 1006.0
    formula = conductance(surface.flow, 2, "side by side", np.array([3000.0]), np.array([2 * air_rate]), rate)
    assert float(both[0]) == pytest.approx(float(formula[0]), rel=2e-3)
    assert steady(single, DRIVE)[1] == pytest.approx(out, abs=0.3)


def test_either_order_gives_the_same_heat_for_ever() -> None:
    """1/G = 1/G1 + 1/G2 - 1/C is the same with core and exchanger swapped: Kays & London, ch. 2 (from memory).

    The coolant is taken at one temperature in both: its mean over the drive hangs on where the tank is.
    """
    made = plain_kit()
    runs = tuple(run(1.0) for _ in range(4))
    usual, first = looped(made, CORE_THEN_EXCHANGER, runs=runs), looped(made, EXCHANGER_FIRST, runs=runs)
    found = [(predict(m.bench, m.columns, DRIVE, 0, np.full(1, 320.0)), m.columns) for m in (usual, first)]
    ends = [float(full_power_steady_k(prediction, columns, DRIVE)[0][0]) for prediction, columns in found]
    assert ends[1] == pytest.approx(ends[0], abs=1e-6)
    tank = [float(m.predict(DRIVE).course.end[0, 0]) for m in (usual, first)]
    assert tank[1] > tank[0], "behind the core the tank stores the hot liquid"


@pytest.mark.parametrize("stages", LAYOUTS.values(), ids=LAYOUTS)
@pytest.mark.parametrize("other", [RAM, WARMED], ids=["equal air", "one preheated"])
def test_energy_closes_in_every_layout(stages: Stages, other: ZoneAir) -> None:
    exchangers = sum(stage.abreast for stage in stages if stage.kind == "exchanger")
    made = shipped(stages, *(RAM, other)[:exchangers])
    (thermal,), (ledger,) = thermal_report(made.bench, made.columns, DRIVE, DRIVE)
    assert ledger.closure < 1e-9
    assert ledger.rejected_j > 0.0 and ledger.charge_j > 0.0
    assert thermal.charge_out_good_end_k < thermal.charge_out_worst_k < thermal.charge_out_bad_end_k
    assert DRIVE.ambient_k < thermal.charge_out_worst_k < thermal.charge_in_k


@pytest.mark.parametrize("stages", LAYOUTS.values(), ids=LAYOUTS)
def test_the_trace_names_every_part(stages: Stages) -> None:
    made = shipped(stages)
    rows = list(trace(made.bench, made.columns, DRIVE))
    for _, slot in slots_of(stages):
        key = slot.replace("-", "_")
        assert all(row[f"{key}_w_per_k"] > 0 for row in rows)
        assert ("air_into_" + key + "_c" in rows[0]) == slot.startswith("exchanger")
    worst = max(row["charge_out_c"] for row in rows)
    assert worst == pytest.approx(float(made.predict(DRIVE).course.charge_out_worst_k[0]) - 273.15, abs=0.1)


def test_twins_side_by_side_may_swap_their_air_and_twins_in_series_may_not() -> None:
    """A mixing point knows no order; what comes first meets the hotter liquid."""
    ends = {}
    for name, stages in (("side by side", TWIN_EXCHANGERS), ("in series", IN_SERIES)):
        ends[name] = [steady(shipped(stages, *airs), DRIVE)[1] for airs in ((RAM, WARMED), (WARMED, RAM))]
    assert ends["side by side"][0] == pytest.approx(ends["side by side"][1], abs=1e-9)
    assert abs(ends["in series"][0] - ends["in series"][1]) > 1e-3


@pytest.mark.parametrize("stages", [TWIN_EXCHANGERS, IN_SERIES])
def test_worse_air_at_one_of_two_never_cools(stages: Stages) -> None:
    best = steady(shipped(stages, RAM, RAM), DRIVE)[1]
    for airs in ((RAM, WARMED), (WARMED, RAM)):
        assert steady(shipped(stages, *airs), DRIVE)[1] > best
    assert steady(shipped(CORE_THEN_EXCHANGER, RAM), DRIVE)[1] > best


def test_the_loop_takes_the_loss_of_the_dearer_branch_and_of_half_the_flow() -> None:
    liquid = plain_kit().predict(DRIVE).liquid

    def lost(*branches: float) -> float:
        runs = [run(0.5) for _ in piping(TWIN_EXCHANGERS).shares]
        for at, metres in zip((3, 4, 5, 6), branches, strict=True):
            runs[at] = run(metres)
        made = looped(plain_kit(), TWIN_EXCHANGERS, runs=tuple(runs))
        return float(loop_loss_pa(made.columns, liquid, np.array([5e-4]), 0)[0])

    assert lost(3.0, 0.5, 2.0, 0.5) == pytest.approx(lost(3.0, 3.0, 2.0, 2.0), rel=1e-12)
    assert lost(3.0, 0.5, 2.0, 0.5) > lost(0.5, 0.5, 0.5, 0.5)
    # Turbulent: half of the flow costs a metre a quarter to 2^-1.75 of the loss (Blasius; from memory).
    whole = [run(0.5) for _ in piping(IN_SERIES).shares]
    more = [*whole[:2], run(3.5), *whole[3:]]
    trunk = [
        float(loop_loss_pa(looped(plain_kit(), IN_SERIES, runs=tuple(r)).columns, liquid, np.array([5e-4]), 0)[0])
        for r in (whole, more)
    ]
    half = lost(3.5, 3.5, 0.5, 0.5) - lost(0.5, 0.5, 0.5, 0.5)
    assert 0.25 < half / (trunk[1] - trunk[0]) < 0.32


def test_a_row_has_the_same_answer_alone_and_in_company() -> None:
    bench = whole_bench()
    pump = place("pumps", "pump-46-small")
    loops = [
        Loop(core, 3, pump, 0, tuple(run() for _ in range(8)), (), RAM, TWIN_EXCHANGERS, (RAM, WARMED))
        for core in range(5)
    ]
    together = thermal_report(bench, make_columns(bench, loops), DRIVE, DRIVE)[0]
    for loop, thermal in zip(loops, together, strict=True):
        (alone,) = thermal_report(bench, make_columns(bench, [loop]), DRIVE, DRIVE)[0]
        assert alone.charge_out_worst_k == pytest.approx(thermal.charge_out_worst_k, rel=1e-12)


THROUGH_VALVE: Stages = (Stage("core", valve="through"), Stage("exchanger"))
PAST_EXCHANGER: Stages = (Stage("core", valve="past"),)


def test_a_bypass_has_five_runs_of_which_those_shut_off_hold_no_flow_and_no_lump() -> None:
    """By hand: reservoir, pump, core as ever; to the valve, to and from the exchanger, past it, from the wye on."""
    through, past = piping(THROUGH_VALVE), piping(PAST_EXCHANGER)
    assert through.shares == (1, 1, 1, 1, 1, 0, 1) and through.lumps == (1, 1, 3, 3, 5, None, 5)
    assert past.shares == (1, 1, 1, 0, 0, 1, 1) and past.lumps == (1, 1, 3, None, None, 3, 3)
    assert [run for run, _ in past.moving] == [0, 1, 2, 5, 6] and past.branches == through.branches == ()
