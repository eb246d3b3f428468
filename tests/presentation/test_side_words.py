"""The weakest member of a side in words: what its figure follows from, and what heat takes of it."""

from __future__ import annotations

import pytest

from configurator.joining.ratings import lowest_member
from configurator.parts.kit import Member
from configurator.presentation.answer_json import pressure_json
from configurator.presentation.side_words import side_words
from configurator.questions.answer import Pressure


def side(member: Member) -> Pressure:
    """A side of one member that may see 1.5 bar."""
    return Pressure(1.5e5, lowest_member([member], {member.place: 1.5e5}))


@pytest.mark.parametrize(
    ("stated_as", "words"),
    [
        ("working", "good for 2.00 bar (stated working pressure)"),
        ("proof", "good for 2.00 bar (proof pressure / 1.5)"),
        ("burst", "good for 2.00 bar (burst pressure / 4)"),
    ],
)
def test_the_figure_says_what_it_follows_from(stated_as: str, words: str) -> None:
    told = side(Member("core", "core", 2.0e5, stated_as, None))
    assert words in side_words(told, {})
    assert (pressure_json(told)["stated_as"], pressure_json(told)["derated_at_c"]) == (stated_as, None)


def test_a_derated_member_is_told_hot_and_cold() -> None:
    told = side(Member("coupler", "engine to core", 2.1e5, "working", 473.15, 2.8e5, 413.15))
    assert "good for 2.10 bar at 140 degC, 2.80 bar cold (stated working pressure)" in side_words(told, {})
    figures = pressure_json(told)
    assert (figures["rating_pa_gauge"], figures["rating_cold_pa_gauge"], figures["derated_at_c"]) == (210e3, 280e3, 140)


def test_a_side_without_a_known_member_is_unproven() -> None:
    told = side(Member("core", "core", None, "unknown", None))
    assert side_words(told, {}).startswith("unproven")
    assert (pressure_json(told)["limited_by"], pressure_json(told)["stated_as"]) == (None, None)
