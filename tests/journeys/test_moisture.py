"""Water in the charge: its dew point under boost, and what is said where the coolant is colder.

Magnus: ps = 611.2 Pa exp(17.62 t / (243.12 + t)), t in degC, within 0.4 % (published, WMO guide; from memory).
"""

from __future__ import annotations

import math

import pytest

from tests.journeys.kitwright import Tree, example, opened, shipped_part, small_shelf, suggest

P_900_PA = 90_970.0
"""Air at 900 m; published, ISO 2533 (from memory)."""


def saturated_pa(t_c: float) -> float:
    return 611.2 * math.exp(17.62 * t_c / (243.12 + t_c))


def dew_point_c(vapour_pa: float) -> float:
    log = math.log(vapour_pa / 611.2)
    return 243.12 * log / (17.62 - log)


def kit(**changes: Tree | str | None) -> Tree:
    on = small_shelf(
        cores=[shipped_part("core-230-short")],
        exchangers=[shipped_part("exchanger-460-plain")],
        pumps=[shipped_part("pump-50-medium")],
        reservoirs=[shipped_part("reservoir-8-plain")],
    )
    run = suggest(opened(example("hatch", aim={"charge_air": "120 degC"}, limits=None, **changes)), "--json", shelf=on)
    assert run.code == 0, run.err
    return run.kits[0]


def codes(of: Tree) -> set[str]:
    return {caution["code"] for caution in of["cautions"]}


def test_the_dew_point_is_that_of_the_days_air_at_the_pressure_of_the_charge() -> None:
    """Water per air stays: vapour pressure grows as the pressure does; the core's outlet lies near boost."""
    found = kit()
    vapour = 0.5 * saturated_pa(24.0) * (P_900_PA + 140_000.0) / P_900_PA
    assert found["thermal"]["dew_point_c"] == pytest.approx(dew_point_c(vapour), abs=0.4)
    assert "condensate" in codes(found)


def test_what_is_shed_at_most_is_what_the_coolant_cannot_keep_in_the_air() -> None:
    found = kit()
    pressure, vapour = P_900_PA + 140_000.0, 0.5 * saturated_pa(24.0)
    held, kept = (0.622 * pv / (p - pv) for pv, p in ((vapour, P_900_PA), (saturated_pa(24.0), pressure)))
    most = 1000 * found["thermal"]["air_kg_per_s"] * (held - kept)
    assert found["thermal"]["condensate_most_g_per_s"] == pytest.approx(most, rel=0.1)


def test_warmer_coolant_drier_air_or_less_boost_shed_nothing() -> None:
    for changes in ({"coolant__start": "30 degC"}, {"site__humidity": "20 %"}, {"engine__boost": "0.5 bar"}):
        found = kit(**changes)
        assert "condensate" not in codes(found), changes
        assert found["thermal"]["condensate_most_g_per_s"] == 0.0


def test_without_a_humidity_nothing_is_said_of_water() -> None:
    found = kit(site__humidity=None)
    assert found["thermal"]["dew_point_c"] is None
    assert "condensate" not in codes(found)
