"""Which threaded ends are told to seem to fit and must not: those that begin to go together, and no others."""

from __future__ import annotations

from itertools import product

import pytest

from configurator.questions.look_alikes import nearly_fits
from tests.joining.made_parts import end

NOMINAL = ("1/8", "1/4", "3/8", "1/2", "3/4", "1")


@pytest.mark.parametrize("bsp", ["g {} female", "rc {}", "rp {}"])
@pytest.mark.parametrize(("size", "other"), [*product(NOMINAL, NOMINAL)])
def test_pipe_threads_of_two_systems_seem_to_fit_at_one_nominal_size_alone(bsp: str, size: str, other: str) -> None:
    """ASME B1.20.1 and ISO 228-1 (published): of one nominal size within 0.6 mm, of two over 2.9 mm apart.

    A barb of G 1/2, 21 mm, was told to seem to fit a bleed of NPT 1/8, 10 mm.
    """
    found = nearly_fits(end(f"npt {size} male"), end(bsp.format(other)))
    assert (found is not None and found.rule == "npt-against-bsp") == (size == other)


def test_the_flanks_are_told_with_the_thread_that_has_them() -> None:
    found = nearly_fits(end("g 1/2 male"), end("npt 1/2 female"))
    assert found is not None and "NPT has flanks of 60°, the other of 55°" in found.why
