"""The printed low and high charge temperatures hold what the parts' bands allow, and not much more."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from configurator.files.load_brief import load_brief
from configurator.prediction.band_ends import all_at_ends, by_end
from configurator.prediction.bench import Columns, one_below_another
from configurator.prediction.conditions import Conditions, Piece, choose_coolant, make_conditions
from configurator.prediction.predict import predict
from configurator.prediction.report import low_margins, thermal_report
from configurator.prediction.surface_figures import Surface
from configurator.prediction.surfaces import core_surface, exchanger_surface
from tests.prediction.made_kits import ROOT, Made, conditions, cores, exchangers, kit, moment, plain_kit, shelf

DRAWS = 2000


@cache
def asked(example: str) -> Conditions:
    """What an example brief asks."""
    catalogue, tables = shelf()
    loaded = load_brief(ROOT / "examples" / f"{example}.yaml", catalogue, tables)
    coolant = choose_coolant(loaded.brief)
    assert coolant is not None
    return make_conditions(loaded.brief, loaded.driving, tables, coolant)


MEASURED = kit()
SIZE_ONLY = kit("core-150-light", "exchanger-350-slim", "pump-46-small", "reservoir-6-vented")
CASES = {
    "hatch, measured parts": (MEASURED, "hatch"),
    "road, parts of which the size alone is known": (SIZE_ONLY, "road"),
    "track, measured parts": (MEASURED, "track"),
    "hatch, parts of which the size alone is known": (SIZE_ONLY, "hatch"),
}


def factors(rng: np.random.Generator, band: float) -> NDArray[np.float64]:
    """Log-normal factors around 1 whose two standard deviations are the band."""
    return np.asarray(np.exp(rng.normal(0.0, np.log1p(band) / 2, DRAWS)))


def drawn(surface: Surface, rng: np.random.Generator) -> Surface:
    """A column of one part with its conductance, coolant loss and charge loss drawn."""
    ua, coolant, charge = (
        factors(rng, float(np.ravel(band)[0])) for band in (surface.ua_band, surface.loss_band, surface.loss_band)
    )
    return replace(
        surface,
        air_resistance=surface.air_resistance / ua,
        film_scale=surface.film_scale * ua,
        friction_scale=surface.friction_scale * coolant,
        ports_per_m4=surface.ports_per_m4 * coolant,
        charge_loss_pa=surface.charge_loss_pa * charge,
    )


def many(made: Made, seed: int) -> Columns:
    """The kit of a row, drawn many times."""
    rng = np.random.default_rng(seed)
    columns = made.columns
    changed: dict[str, Any] = {}
    for name, value in vars(columns).items():
        if isinstance(value, np.ndarray):
            changed[name] = np.repeat(value, DRAWS, axis=0)
    wide = replace(columns, **changed)
    assert columns.exchanger is not None
    return replace(
        wide,
        core=drawn(_tall(columns.core), rng),
        exchanger=drawn(_tall(columns.exchanger), rng),
    )


def _tall(surface: Surface) -> Surface:
    def tall(record: Any) -> dict[str, Any]:
        return {
            name: np.repeat(value, DRAWS, axis=0)
            for name, value in vars(record).items()
            if isinstance(value, np.ndarray)
        }

    return replace(surface, channels=replace(surface.channels, **tall(surface.channels)), **tall(surface))


def spread(made: Made, at: Conditions) -> tuple[float, float, NDArray[np.float64]]:
    """The printed low and high charge temperature, and that of every draw [K]."""
    low, high = (float(made.predict(at, end).course.charge_out_worst_k[0]) for end in (-1, +1))
    draws = predict(made.bench, many(made, seed=20), at, 0).course.charge_out_worst_k
    return low, high, np.asarray(draws)


STOOD = {
    f"{name}, pump on for {seconds:g} s": (made, seconds)
    for name, made in {"measured parts": MEASURED, "sizes alone": SIZE_ONLY}.items()
    for seconds in (0.0, 60.0, 300.0)
}


@pytest.mark.parametrize(("made", "after_run_s"), STOOD.values(), ids=STOOD)
def test_after_a_standstill_nearly_all_draws_lie_inside_too(made: Made, after_run_s: float) -> None:
    """Low and high alone held 28 % of the draws of size-only parts: a good core leaves warmer coolant behind."""
    at = asked("commuter")
    assert at.standing is not None
    stays = Made(made.bench, replace(made.columns, after_run_s=np.array([after_run_s])))
    (told,), _ = thermal_report(stays.bench, stays.columns, at, at)
    assert told.standstill is not None
    warm, cool = told.standstill.restart_bad_end_k, told.standstill.restart_good_end_k
    soak = at.standing.w_per_m2_k * factors(np.random.default_rng(21), at.standing.band)[:, None]
    drawn_at = replace(at, standing=replace(at.standing, w_per_m2_k=soak))
    draws = predict(stays.bench, many(stays, seed=20), drawn_at, 0).judged_k
    assert float(np.mean((draws >= cool) & (draws <= warm))) >= 0.95
    five, ninety_five = np.quantile(draws, [0.05, 0.95])
    assert warm - cool <= 3.0 * (ninety_five - five)


def test_where_heat_has_no_way_out_the_good_end_may_be_the_warmer_and_the_band_holds_what_is_stated() -> None:
    """Minutes at full power on a tank without a front exchanger: the better core fills it with heat the faster."""
    loop = plain_kit(600.0, None, core={"ua_band": 0.1}, reservoir_m3=10e-3)
    drive = conditions(Piece(moment(1.0, 40.0), 300.0), start_k=275.0)
    worse, better = (float(loop.predict(drive, end).course.charge_out_worst_k[0]) for end in (-1, +1))
    assert better > worse
    (told,), _ = thermal_report(loop.bench, loop.columns, drive, drive)
    assert told.charge_out_good_end_k <= told.charge_out_worst_k <= told.charge_out_bad_end_k
    assert told.charge_out_bad_end_k == pytest.approx(better)
    assert told.margin_low_k <= told.margin_k <= told.margin_high_k
    assert low_margins(loop.bench, loop.columns, drive)[0] == told.margin_low_k


@pytest.mark.parametrize("example", ["hatch", "drag", "commuter"])
def test_rows_at_ends_of_their_own_are_predicted_as_all_rows_at_each_of_them(example: str) -> None:
    """A drive, one with ice and one with a standstill after it: three ends in one go, beside each alone."""
    at, ends = asked(example), (-1, +1, 0)
    made = Made(MEASURED.bench, one_below_another([MEASURED.columns, SIZE_ONLY.columns]))
    together = all_at_ends(made.bench, made.columns, at, ends)
    for figure in ("judged_k", "coolant_worst_k", "flow_m3_per_s", "properties_at_k"):
        alone = np.array([getattr(made.predict(at, end), figure) for end in ends])
        assert by_end(getattr(together, figure), made.columns)[:3] == pytest.approx(alone, rel=1e-6)
        assert not np.allclose(alone[0], alone[1], rtol=1e-5)


def test_the_two_kits_are_one_of_measured_parts_and_one_of_sizes() -> None:
    def tiers(made: Made) -> set[str]:
        core, exchanger = cores()[made.columns.core_index[0]], exchangers()[made.columns.exchanger_index[0]]
        return {core_surface(core).tier, exchanger_surface(exchanger).tier}

    assert tiers(MEASURED) <= {"one point", "several points"}
    assert tiers(SIZE_ONLY) == {"size"}


@pytest.mark.parametrize(("made", "example"), CASES.values(), ids=CASES)
def test_nearly_all_draws_lie_inside_and_the_range_is_not_idle(made: Made, example: str) -> None:
    """A range that held every single draw would be too wide to be of use: a few of 2,000 have to lie outside."""
    warm, cool, draws = spread(made, asked(example))
    assert np.all(np.isfinite(draws))
    inside = float(np.mean((draws >= cool) & (draws <= warm)))
    assert 0.95 <= inside <= 0.999
    five, ninety_five = np.quantile(draws, [0.05, 0.95])
    assert ninety_five - five > 0.3
    assert warm - cool <= 3.0 * (ninety_five - five)


@pytest.mark.parametrize(("made", "example"), CASES.values(), ids=CASES)
def test_the_draws_lie_around_the_nominal(made: Made, example: str) -> None:
    nominal = float(made.predict(asked(example)).course.charge_out_worst_k[0])
    _, _, draws = spread(made, asked(example))
    assert float(np.median(draws)) == pytest.approx(nominal, abs=0.5)


def test_draws_of_three_times_the_band_do_not_stay_inside() -> None:
    """The other side of the law: were the parts three times as uncertain as stated, the range would not hold."""
    made, hatch = MEASURED, asked("hatch")
    warm, cool, _ = spread(made, hatch)
    wider = replace(
        made.columns,
        core=replace(made.columns.core, ua_band=3 * made.columns.core.ua_band),
        exchanger=replace(made.columns.exchanger, ua_band=3 * made.columns.exchanger.ua_band),  # type: ignore[type-var]
    )
    draws = predict(made.bench, many(Made(made.bench, wider), 20), hatch, 0).course.charge_out_worst_k
    assert float(np.mean((draws >= cool) & (draws <= warm))) < 0.95
