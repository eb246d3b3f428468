"""How many ways there are to put a loop together: as many as OR-tools' CP-SAT finds with the same tables.

General-purpose solver: OR-tools' CP-SAT (Google, Apache licence), which lists every solution. The shelf has 30 parts of
each kind, varied from the shipped ones.
"""

from __future__ import annotations

import pytest

from tests.benchmarks.best_first import job_of, maker_of
from tests.benchmarks.cp_sat import count_ways

pytestmark = pytest.mark.oracle


@pytest.mark.parametrize("mood", ["typical", "hostile"])
def test_both_find_as_many_ways(mood: str) -> None:
    maker = maker_of(job_of(30, 0, mood))
    assert sum(1 for _ in maker.assignments()) == count_ways(maker).ways > 1000
