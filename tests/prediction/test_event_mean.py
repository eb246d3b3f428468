"""The temperature at which coolant is taken: the mean over event and lumps of the course that is told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from configurator.prediction.trace import trace
from tests.prediction.made_kits import Made
from tests.prediction.test_report import DRIVE, KITS, PATTERN


def mean_of_course_k(made: Made, rounds: int) -> tuple[float, float]:
    """Mean of all lumps over a drive by the trapezoidal rule through its trace, and what its coolant was taken at."""
    drive = replace(DRIVE, pieces=PATTERN * rounds)
    rows = list(trace(made.bench, made.columns, drive))
    lumps = [key for key in rows[0] if key.endswith("_c") and not key.startswith(("charge_", "air_into_"))]
    at_s = np.array([row["time_s"] for row in rows])
    means = np.array([np.mean([row[key] for key in lumps]) for row in rows])
    mean_c = float(np.sum((means[1:] + means[:-1]) / 2 * np.diff(at_s)) / at_s[-1])
    return mean_c + 273.15, float(made.predict(drive).properties_at_k[0])


@pytest.mark.parametrize("rounds", [1, 20])
@pytest.mark.parametrize("made", KITS.values(), ids=KITS)
def test_coolant_is_taken_at_the_mean_of_its_own_course(made: Made, rounds: int) -> None:
    """The course is itself stepped with coolant of that temperature: where the two agree, nothing is left to mend."""
    of_course_k, taken_at_k = mean_of_course_k(made, rounds)
    assert taken_at_k == pytest.approx(of_course_k, abs=0.1)
