"""Where an event's heat came from and went, summed again from the trace and the parts' YAML."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Any

import pytest

from tests.independent.plain import LOOP, answer_of, brief_of, part_in, si, stores

CARS = ("hatch", "wagon")


def over_time(rows: Sequence[Any], watts: Callable[[Any], float]) -> float:
    """Trapezoid over the event [J]; two rows at one time, where the drive changes, add nothing."""
    return sum((watts(a) + watts(b)) / 2 * (b["time_s"] - a["time_s"]) for a, b in pairwise(rows))


def sums(name: str) -> dict[str, float]:
    """Every term of the energy balance of kit 1 [J]."""
    run, brief = answer_of(name), brief_of(name)
    kit, rows = run.kits[0], run.trace
    liquid, metal = stores(brief, kit, rows[0])
    gained = [rows[-1][f"{lump}_c"] - rows[0][f"{lump}_c"] for lump in LOOP]
    pump = part_in(brief, kit, "pump")
    electric = si(pump["current"]) * float(pump["volts"])
    return {
        "charge": over_time(rows, lambda row: row["core_w_per_k"] * (row["charge_in_c"] - row["feed_c"])),
        "pump": electric * (rows[-1]["time_s"] - rows[0]["time_s"]),
        "rejected": over_time(
            rows, lambda row: row["exchanger_w_per_k"] * (row["hose_after_core_c"] - row["air_into_exchanger_c"])
        ),
        "stored_coolant": sum(c * dt for c, dt in zip(liquid, gained, strict=True)),
        "stored_metal": sum(c * dt for c, dt in zip(metal, gained, strict=True)),
    }


def open_share(terms: dict[str, float], *, without: str = "") -> float:
    """What does not add up, over the heat that came in."""
    kept = {name: 0.0 if name == without else value for name, value in terms.items()}
    came = kept["charge"] + kept["pump"]
    return abs(came - kept["rejected"] - kept["stored_coolant"] - kept["stored_metal"]) / terms["charge"]


@pytest.mark.parametrize("name", CARS)
def test_the_printed_ledger_is_what_the_trace_and_the_parts_sum_to(name: str) -> None:
    printed = answer_of(name).kits[0]["energy"]
    for term, joules in sums(name).items():
        assert joules == pytest.approx(printed[f"{term}_j"], rel=0.005), term
        assert joules > 0


@pytest.mark.parametrize("name", CARS)
def test_the_sums_close_and_do_not_close_without_the_pumps_heat(name: str) -> None:
    terms = sums(name)
    assert open_share(terms) < 2e-4
    # The hatch's pump gives 0.3 % of the heat, so only the closer limit finds it missing; the tow car's gives 1.4 %.
    assert open_share(terms, without="pump") > {"hatch": 1e-3, "wagon": 5e-3}[name]
    assert open_share(terms, without="pump") == pytest.approx(terms["pump"] / terms["charge"], rel=0.1)


@pytest.mark.parametrize("name", CARS)
def test_the_printed_ledger_closes_by_itself(name: str) -> None:
    energy = answer_of(name).kits[0]["energy"]
    came = energy["charge_j"] + energy["pump_j"]
    went = energy["rejected_j"] + energy["stored_coolant_j"] + energy["stored_metal_j"]
    assert came == pytest.approx(went, rel=1e-5)
    assert energy["closure"] < 1e-6
    assert [energy[key] for key in ("condensate_j", "soak_j", "ice_j")] == [0.0, None, 0.0]
