"""What is told of a kit: recovery, ledger, the word, the mean and the peak, plateau and full power."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from configurator.prediction.conditions import Conditions, Moment, Piece
from configurator.prediction.ledger import Ledger
from configurator.prediction.predict import margins
from configurator.prediction.report import Thermal, thermal_report
from configurator.prediction.trace import trace
from tests.prediction.made_kits import Made, conditions, kit, moment, plain_kit, steady

PATTERN = (Piece(moment(1.0, 30.0), 20.0), Piece(moment(0.1, 15.0), 15.0), Piece(moment(0.02, 0.0, pump=False), 5.0))
DRIVE = conditions(*PATTERN * 3, pattern=PATTERN)
KITS = {
    "slow": kit(),
    "quick": kit("core-400-sturdy", "exchanger-700-broad", reservoir="reservoir-0.7-bottle"),
    "no exchanger": kit(exchanger=None),
    "plain": plain_kit(pump_heat_w=60.0),
}


def told(made: Made, at: Conditions, worse: Conditions | None = None) -> tuple[Thermal, Ledger]:
    thermals, ledgers = thermal_report(made.bench, made.columns, at, at if worse is None else worse)
    return thermals[0], ledgers[0]


@pytest.mark.parametrize("made", KITS.values(), ids=KITS)
def test_the_ledger_closes(made: Made) -> None:
    """What came in is what went out and what stayed; each term is integrated on its own."""
    _, ledger = told(made, DRIVE)
    assert ledger.closure < 1e-9
    assert ledger.charge_j > 0
    into = ledger.charge_j + ledger.pump_j
    assert into == pytest.approx(ledger.rejected_j + ledger.stored_coolant_j + ledger.stored_metal_j, rel=1e-9)


def test_a_ledger_that_does_not_add_up_says_so() -> None:
    assert Ledger(1000.0, 50.0, 600.0, 300.0, 140.0).closure == pytest.approx(10 / 1045)
    assert Ledger(0.0, 0.0, 0.0, 0.0, 0.0).closure == 0.0


def test_the_terms_of_the_ledger_are_those_of_a_fine_sum() -> None:
    """Trapezoids over the trace's own half seconds, which know nothing of the exact integrals."""
    made = KITS["slow"]
    _, ledger = told(made, DRIVE)
    rows = list(trace(made.bench, made.columns, DRIVE))
    charge = rejected = pump = 0.0
    for now, then in pairwise(rows):
        seconds = then["time_s"] - now["time_s"]
        if seconds > 0:
            feed = (now["feed_c"] + then["feed_c"]) / 2
            outlet = (now["hose_after_core_c"] + then["hose_after_core_c"]) / 2
            charge += now["core_w_per_k"] * (now["charge_in_c"] - feed) * seconds
            rejected += now["exchanger_w_per_k"] * (outlet - now["air_into_exchanger_c"]) * seconds
            pump += now["pump_heat_w"] * seconds
    assert ledger.charge_j == pytest.approx(charge, rel=1e-4)
    assert ledger.rejected_j == pytest.approx(rejected, rel=2e-3)
    assert ledger.pump_j == pytest.approx(pump, rel=1e-9)
    assert rows[-1]["time_s"] == pytest.approx(120.0)


@pytest.mark.parametrize("name", ["slow", "quick", "plain"])
def test_recovery_is_that_of_a_fine_march(name: str) -> None:
    """From the worst moment on at rest, steps of 0.05 s by Euler's rule, until all coolant is within 5 K of the air."""
    made = KITS[name]
    at = replace(DRIVE, rest=Moment(0.02, 0.0, True, True, 6.0))
    found, prediction = told(made, at)[0].recovery_s, made.predict(at)
    load = prediction.loads[at.rest]
    state, seconds = prediction.course.state_at_worst[0].copy(), 0.0
    assert state.max() > at.ambient_k + 5.0
    while state.max() > at.ambient_k + 5.0 and seconds < 4 * 3600:
        state = state + 0.05 * (load.m[0] @ state + load.b[0])
        seconds += 0.05
    assert found is not None
    assert found == pytest.approx(seconds, rel=5e-3, abs=0.5)


def test_what_never_cools_has_no_recovery_and_what_is_cool_needs_none() -> None:
    still = replace(DRIVE, rest=Moment(0.02, 0.0, True, True, None))
    assert told(KITS["no exchanger"], still)[0].recovery_s is None
    short = conditions(Piece(moment(0.02, 20.0), 1.0))
    assert told(KITS["slow"], short)[0].recovery_s == 0.0


def test_the_word_turns_at_its_edges() -> None:
    """Assured: the low end with the errors common to all kits still meets the aim. Short: the nominal misses it."""
    made = KITS["slow"]
    worse = replace(DRIVE, charger_efficiency=DRIVE.charger_efficiency - 0.04)
    nominal = float(made.predict(DRIVE).course.charge_out_worst_k[0])
    lowest = float(made.predict(worse, -1).course.charge_out_worst_k[0])
    assert lowest > nominal + 1.0
    for ceiling, word in (
        (lowest + 0.011, "assured"),
        (lowest - 0.011, "likely"),
        (nominal + 0.011, "likely"),
        (nominal - 0.011, "short"),
    ):
        thermal, _ = told(made, replace(DRIVE, ceiling_k=ceiling), replace(worse, ceiling_k=ceiling))
        assert thermal.word == word
        assert thermal.margin_k == round(ceiling - nominal, 2)


@pytest.mark.parametrize("made", KITS.values(), ids=KITS)
def test_the_low_end_is_the_warmer_one(made: Made) -> None:
    thermal, _ = told(made, DRIVE)
    assert thermal.margin_low_k <= thermal.margin_k <= thermal.margin_high_k
    assert thermal.charge_out_good_end_k <= thermal.charge_out_worst_k <= thermal.charge_out_bad_end_k
    assert thermal.margin_low_k == round(DRIVE.ceiling_k - thermal.charge_out_bad_end_k, 2)


def test_errors_common_to_all_kits_touch_the_word_alone() -> None:
    made = KITS["slow"]
    worse = replace(DRIVE, charger_efficiency=0.5)
    with_errors, without = told(made, DRIVE, worse)[0], told(made, DRIVE)[0]
    assert replace(with_errors, word=without.word) == without


def test_mean_heat_is_the_charges_heat_over_the_event() -> None:
    thermal, ledger = told(KITS["slow"], DRIVE)
    assert thermal.heat_mean_w == pytest.approx(ledger.charge_j / 120.0)
    assert thermal.heat_peak_w > thermal.heat_mean_w


def test_mean_heat_counts_the_heat_of_the_water_that_the_charge_sheds() -> None:
    """Published: latent heat is given up where water condenses (ASHRAE Fundamentals, ch. 1, from memory)."""
    thermal, ledger = told(KITS["slow"], replace(DRIVE, humidity=0.9, ambient_k=308.15, start_k=278.15))
    assert ledger.condensate_j is not None and ledger.condensate_j > 0.05 * ledger.charge_j
    assert thermal.heat_mean_w == pytest.approx((ledger.charge_j + ledger.condensate_j) / 120.0)
    assert thermal.heat_peak_w > thermal.heat_mean_w


@pytest.mark.parametrize("made", KITS.values(), ids=KITS)
def test_a_loop_that_starts_cooler_gets_no_warmer_than_its_plateau(made: Made) -> None:
    """However long the drive: a linear system that starts under its periodic course stays under it.

    But for what its coolant is taken at: the drive's own mean, which lacks of that of the plateau what warming up took,
    four times the drive a fourth of it.
    """
    over = [
        thermal.charge_out_worst_k - thermal.charge_out_plateau_k
        for thermal, _ in (told(made, replace(DRIVE, pieces=PATTERN * rounds)) for rounds in (3, 15, 60, 240))
    ]
    assert max(over) < 0.1
    assert over[-1] < 0.005 or over[-1] == pytest.approx(over[-2] / 4, rel=0.1)


def test_plateau_and_full_power_are_two_figures() -> None:
    """The pattern with its rests for ever is cooler than full power for ever, and warmer than one short event."""
    thermal, _ = told(KITS["slow"], DRIVE)
    assert thermal.charge_out_worst_k < thermal.charge_out_plateau_k < thermal.charge_out_full_power_k
    always = conditions(Piece(moment(), 60.0))
    both, _ = told(KITS["slow"], always)
    assert both.charge_out_plateau_k == pytest.approx(both.charge_out_full_power_k, abs=1e-6)
    long_run = KITS["slow"].predict(conditions(Piece(moment(), 60.0), coolant=DRIVE.coolant))
    out = float(long_run.loads[moment()].charge_out(long_run.course.end[:, 1])[0])
    assert out < both.charge_out_full_power_k
    assert thermal.coolant_worst_k < thermal.coolant_plateau_k < thermal.coolant_full_power_k
    assert both.coolant_plateau_k == pytest.approx(both.coolant_full_power_k, abs=1e-6)
    assert both.coolant_full_power_k < both.charge_in_k


def test_the_gap_is_between_charge_and_the_coolant_that_meets_it() -> None:
    """At the worst moment the gap is what the core leaves: (1 - effectiveness) x (charge in - coolant in)."""
    made = KITS["slow"]
    at = conditions()
    thermal, _ = told(made, at)
    load = made.predict(at).loads[at.pieces[0].moment]
    left = 1 - float(load.effectiveness[0])
    feed = thermal.charge_out_worst_k - thermal.core_gap_k
    assert thermal.core_gap_k == pytest.approx(left * (thermal.charge_in_k - feed), rel=1e-3)


def test_the_trace_and_the_report_tell_one_story() -> None:
    made = KITS["quick"]
    thermal, _ = told(made, DRIVE)
    rows = list(trace(made.bench, made.columns, DRIVE))
    running = [row["charge_out_c"] for row in rows]
    assert max(running) + 273.15 == pytest.approx(thermal.charge_out_worst_k, abs=0.02)
    assert rows[-1]["reservoir_c"] + 273.15 == pytest.approx(thermal.coolant_end_k, abs=1e-6)
    assert {row["coolant_l_per_min"] for row in rows if row["share"] == 0.02} == {0.0}
    flow = {round(row["coolant_l_per_min"], 6) for row in rows if row["share"] == 1.0}
    assert flow == {round(thermal.coolant_flow_m3_per_s * 60e3, 6)}


def test_margins_are_to_the_ceiling_and_positive_when_kept() -> None:
    prediction = KITS["slow"].predict(DRIVE)
    out = prediction.course.charge_out_worst_k
    assert np.all(margins(prediction, replace(DRIVE, ceiling_k=float(out[0]) + 3.0)) == pytest.approx([3.0]))


def test_full_power_for_ever_is_where_a_long_run_ends() -> None:
    """After four hours nothing moves any more: the long march and the solved balance are one temperature."""
    for name in ("slow", "quick", "plain"):
        at = conditions(Piece(moment(), 4 * 3600.0), pattern=(Piece(moment(), 60.0),))
        found, out, _ = steady(KITS[name], at)
        end = float(found.loads[moment()].charge_out(found.course.end[:, 1])[0])
        assert end == pytest.approx(out, abs=1e-6)


@pytest.mark.parametrize("made", [kit(), kit(exchanger=None)], ids=["with exchanger", "without"])
def test_a_drive_with_the_pump_off_throughout_leaves_the_charge_as_it_comes(made: Made) -> None:
    """No coolant flows, so nothing is cooled and nothing in the loop moves, however long it lasts."""
    thermal, ledger = told(made, conditions(Piece(moment(1.0, 20.0, pump=False), 60.0)))
    for found in (thermal.charge_out_worst_k, thermal.charge_out_plateau_k, thermal.charge_out_full_power_k):
        assert found == pytest.approx(thermal.charge_in_k)
    assert (ledger.charge_j, ledger.rejected_j, thermal.heat_peak_w) == (0.0, 0.0, 0.0)
    assert thermal.coolant_worst_k == pytest.approx(conditions().start_k)
