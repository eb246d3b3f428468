"""The figures of a commissioning sheet, each with what it may read: in people's units, for every output alike."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final, Literal

from configurator.foundations.units import celsius
from configurator.joining.words import celsius_words
from configurator.prediction.first_runs import Banded
from configurator.questions.commissioning import (
    BALANCE_TOLERANCE,
    CURRENT_TOLERANCE,
    FLOW_TOLERANCE,
    SENSOR_K,
    Commissioning,
)

Step = Literal["pump", "soak", "pull", "balance"]
By = Literal["kit", "charger", "common practice", "stated"]

_LEAST_KPA: Final = 0.2
"""A gauge reads no finer."""


@dataclass(frozen=True)
class Row:
    """A figure to be read: in which step, its code with the unit, its name, predicted, and the ends of a pass.

    `by`: where the tolerance comes from: the kit's own bands, the band of the charger's efficiency,
    common practice, or a figure stated. `low` is None where
    there is only a most.
    """

    step: Step
    code: str
    name: str
    unit: str
    decimals: int
    predicted: float
    low: float | None
    high: float
    by: By


def rows_of(sheet: Commissioning) -> tuple[Row, ...]:
    """Every figure that is known, in the order of the steps."""
    return tuple(_rows(sheet))


def _rows(sheet: Commissioning) -> Iterator[Row]:
    runs = sheet.runs
    cold, warm = celsius_words(runs.air_k), celsius_words(runs.warm_k)
    yield _within("pump", "flow_cold_l_per_min", f"coolant flow at {cold}", "L/min", 1,
                  runs.flow_cold.nominal * 60e3, FLOW_TOLERANCE)  # fmt: skip
    if sheet.ice is None:
        yield _within("pump", "flow_warm_l_per_min", f"coolant flow at {warm}", "L/min", 1,
                      runs.flow_warm.nominal * 60e3, FLOW_TOLERANCE)  # fmt: skip
    yield _within("pump", "pump_a", f"pump current at {sheet.pump_v:g} V", "A", 1, sheet.pump_a, CURRENT_TOLERANCE)
    if sheet.wire_drop_v is not None:
        at_20, hot = sheet.wire_drop_v
        yield Row("pump", "wire_drop_v", "battery less pump terminals", "V", 2, at_20, None, hot, "stated")
    yield _warmth("soak", "idle_coolant_in_c", "coolant into the core", runs.idle_into_k)
    yield _warmth("soak", "idle_coolant_out_c", "coolant out of the core", runs.idle_out_k)
    yield _warmth("soak", "idle_charge_out_c", "charge out of the core", runs.idle_charge_k)
    yield _warmth("pull", "pull_coolant_in_c", "coolant into the core", runs.pull_into_k)
    yield _warmth("pull", "pull_coolant_out_c", "coolant out of the core", runs.pull_out_k)
    yield replace(_warmth("pull", "pull_charge_in_c", "charge into the core", runs.pull_charge_in_k), by="charger")
    yield _warmth("pull", "pull_charge_out_c", "charge out of the core", runs.pull_charge_k)
    yield _share("pull", "core_effectiveness", "effectiveness of the core", runs.core_effectiveness)
    for number, figure in enumerate(runs.front_effectiveness, start=1):
        which = "" if len(runs.front_effectiveness) == 1 else f" {number}"
        code = f"front_effectiveness{which.replace(' ', '_')}"
        yield _share("pull", code, f"effectiveness, exchanger{which}", figure)
    loss = runs.charge_loss_pa
    low, high = (value / 1e3 for value in (loss.low, loss.high))
    most = max(high, loss.nominal / 1e3 + _LEAST_KPA)
    least = min(low, loss.nominal / 1e3 - _LEAST_KPA)
    name = "loss from charger to throttle"
    yield Row("pull", "charge_loss_kpa", name, "kPa", 1, loss.nominal / 1e3, least, most, "kit")
    share = runs.pull_coolant_w.nominal / runs.pull_charge_w.nominal
    yield _within("balance", "coolant_over_charge_pull", "at the end of a pull", "", 2, share, BALANCE_TOLERANCE)
    yield _within("balance", "coolant_over_charge_settled", "once settled", "", 2, 1.0, BALANCE_TOLERANCE)


def _within(step: Step, code: str, name: str, unit: str, decimals: int, predicted: float, share: float) -> Row:
    """A figure that common practice lets be off by a share."""
    low, high = predicted * (1 - share), predicted * (1 + share)
    return Row(step, code, name, unit, decimals, predicted, low, high, "common practice")


def _warmth(step: Step, code: str, name: str, figure: Banded) -> Row:
    """A temperature: the kit's bands, and at least what a sensor may be off."""
    nominal = celsius(figure.nominal)
    low = min(celsius(figure.low), nominal - SENSOR_K)
    high = max(celsius(figure.high), nominal + SENSOR_K)
    return Row(step, code, name, "degC", 0, nominal, low, high, "kit")


def _share(step: Step, code: str, name: str, figure: Banded) -> Row:
    nominal, low, high = (100 * value for value in (figure.nominal, figure.low, figure.high))
    return Row(step, code, name, "%", 0, nominal, low, high, "kit")
