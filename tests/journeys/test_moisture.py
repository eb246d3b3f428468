"""Water in the charge: its dew point under boost, and what is said where the coolant is colder.

Magnus: ps = 611.2 Pa exp(17.62 t / (243.12 + t)), t in degC, within 0.4 % (published, WMO guide; from memory).
"""

from __future__ import annotations

import math
import re
from itertools import pairwise

import pytest

from tests.journeys.kitwright import Tree, example, opened, shipped_part, small_shelf, suggest

P_900_PA = 90_970.0
"""Air at 900 m; published, ISO 2533 (from memory)."""


def saturated_pa(t_c: float) -> float:
    return 611.2 * math.exp(17.62 * t_c / (243.12 + t_c))


def dew_point_c(vapour_pa: float) -> float:
    log = math.log(vapour_pa / 611.2)
    return 243.12 * log / (17.62 - log)


def shelf() -> Tree:
    return small_shelf(
        cores=[shipped_part("core-230-short")],
        exchangers=[shipped_part("exchanger-460-plain")],
        pumps=[shipped_part("pump-50-medium")],
        reservoirs=[shipped_part("reservoir-8-plain")],
    )


def kit(**changes: Tree | str | None) -> Tree:
    brief = opened(example("hatch", aim={"charge_air": "120 degC"}, limits=None, **changes))
    run = suggest(brief, "--json", shelf=shelf())
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


CHILLED = {"site__air": "30 degC", "site__humidity": "80 %", "coolant__start": "5 degC"}


def traced(**changes: Tree | str | None) -> tuple[Tree, list[dict[str, float]]]:
    """The kit and its course."""
    brief = opened(example("hatch", aim={"charge_air": "120 degC"}, limits=None, **changes))
    run = suggest(brief, "--json", shelf=shelf(), trace=True, how="apart")
    assert run.code == 0, run.err
    return run.kits[0], run.trace


def summed(rows: list[dict[str, float]], key: str) -> float:
    """A column of watts over the drive [J]."""
    return sum((a[key] + b[key]) / 2 * (b["time_s"] - a["time_s"]) for a, b in pairwise(rows))


def test_a_chilled_loop_on_a_humid_day_sheds_water_and_its_heat_is_in_the_balance() -> None:
    """Latent heat 2.45 MJ/kg within 3 % between 0 and 40 degC (published steam tables, from memory)."""
    found, rows = traced(**CHILLED)
    energy, thermal = found["energy"], found["thermal"]
    assert thermal["condensate_g"] > 3.0
    assert energy["condensate_j"] == pytest.approx(2.45e3 * thermal["condensate_g"], rel=0.03)
    assert summed(rows, "condensate_w") == pytest.approx(energy["condensate_j"], rel=1e-3)
    dry = sum(
        (a["core_w_per_k"] * (a["charge_in_c"] - a["feed_c"]) + b["core_w_per_k"] * (b["charge_in_c"] - b["feed_c"]))
        / 2 * (b["time_s"] - a["time_s"])
        for a, b in pairwise(rows)
    )  # fmt: skip
    assert energy["charge_j"] == pytest.approx(dry - summed(rows, "charge_keeps_w"), rel=1e-3)
    came = energy["charge_j"] + energy["condensate_j"] + energy["pump_j"]
    went = energy["rejected_j"] + energy["stored_coolant_j"] + energy["stored_metal_j"]
    assert came == pytest.approx(went, rel=1e-5)
    assert came - energy["condensate_j"] != pytest.approx(went, rel=5e-3)


def test_no_core_sheds_more_than_the_mass_balance_at_its_coldest_coolant() -> None:
    found, rows = traced(**CHILLED)
    coldest = min(row["feed_c"] for row in rows)
    pressure, vapour = P_900_PA + 140_000.0, 0.8 * saturated_pa(30.0)
    held, kept = (0.622 * pv / (p - pv) for pv, p in ((vapour, P_900_PA), (saturated_pa(coldest), pressure)))
    air_kg = sum(a["air_kg_per_s"] * (b["time_s"] - a["time_s"]) for a, b in pairwise(rows))
    assert 0.0 < found["thermal"]["condensate_g"] < 1000 * air_kg * (held - kept)


def test_the_water_costs_something_and_a_dry_day_nothing() -> None:
    humid, dry = traced(**CHILLED)[0], traced(**CHILLED | {"site__humidity": "10 %"})[0]
    silent = traced(**CHILLED | {"site__humidity": None})[0]
    assert humid["thermal"]["charge_out_worst_c"] > dry["thermal"]["charge_out_worst_c"] + 0.1
    assert dry["thermal"]["charge_out_worst_c"] == silent["thermal"]["charge_out_worst_c"]
    assert [of["energy"]["condensate_j"] for of in (dry, silent)] == [0.0, None]


def test_below_freezing_the_caution_speaks_of_frost_and_no_night_is_warmer_than_the_day() -> None:
    """Water vapour below 0 degC settles as ice (any steam table: the triple point is 0.01 degC)."""
    day = {"site": {"air": "-20 degC", "humidity": "80 %"}, "limits": None}
    run = suggest(opened(example("hatch", **day)), shelf=shelf())
    assert run.code == 0, run.err
    said = " ".join(run.out.split())
    assert "What it leaves below 0 degC is frost in the fins, which melts once they are warm." in said
    assert "the coldest night is -20 degC: the antifreeze is for that" in said
    assert "% ethylene glycol" in said


def test_the_screen_says_how_much() -> None:
    run = suggest(opened(example("hatch", aim={"charge_air": "120 degC"}, limits=None, **CHILLED)), shelf=shelf())
    assert run.code == 0, run.err
    said = " ".join(run.out.split())
    assert re.search(r"dew point at boost \d+ degC: a colder core sheds water, about \d+ g in this drive", said)
    assert re.search(r"at most [\d.]+ g in a second of full power\. .* about \d+ g is looked for in this drive", said)
