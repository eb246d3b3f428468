"""Rows at the ends of their bands, all in one prediction."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from configurator.foundations.numbers import Array
from configurator.prediction.bench import Bench, Columns, one_below_another
from configurator.prediction.conditions import Conditions
from configurator.prediction.predict import Prediction, predict


def all_at_ends(bench: Bench, columns: Columns, conditions: Conditions, ends: Sequence[int] = (-1, +1)) -> Prediction:
    """All rows at one end of the band, below them at the next, and after a standstill with the core at the other one.

    A core that takes more heat cools the drive and leaves warmer coolant behind, so that for a restart a good core
    beside a poor front may be the worse end, and a poor core beside a good front the better.
    """
    each, at = [columns] * len(ends), [float(end) for end in ends]
    if conditions.standing is not None:
        opposed = replace(columns, core=replace(columns.core, ua_band=-columns.core.ua_band))
        each, at = [*each, opposed, opposed], [*at, -1.0, +1.0]
    return predict(bench, one_below_another(each), conditions, np.repeat(at, columns.count))


def by_end(figure: Array, columns: Columns) -> Array:
    """A figure of rows at ends, as `all_at_ends` has them, shape (ends, rows)."""
    return figure.reshape(-1, columns.count)
