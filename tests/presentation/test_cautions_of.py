"""Cautions of single kits beside each other: each says of which kits it is, and none where it is of every kit shown."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from configurator.presentation.terminal import cautions_of


def kit(rank: str, *cautions: str) -> Any:
    return SimpleNamespace(rank=rank, cautions=cautions)


@pytest.mark.parametrize(
    ("shown", "told"),
    [
        ([kit("1", "hot", "weak")], ["hot", "weak"]),
        ([kit("1", "hot", "weak"), kit("2", "hot")], ["hot", "Kit 1: weak"]),
        ([kit("1", "hot"), kit("2", "low", "hot"), kit("3", "low", "hot")], ["hot", "Kit 2, 3: low"]),
        ([kit("1 of the closest", "weak"), kit("2 of the closest", "weak"), kit("3 of the closest")],
         ["Kit 1, 2 of the closest: weak"]),
        ([kit("1", "weak"), kit("1 of the closest", "weak"), kit("2 of the closest")],
         ["Kit 1 and 1 of the closest: weak"]),
        ([], []),
    ],
)  # fmt: skip
def test_a_caution_names_its_kits_unless_it_is_of_all(shown: list[Any], told: list[str]) -> None:
    assert cautions_of(shown) == told
