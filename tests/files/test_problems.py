"""How a problem is printed, and the words around names that are not known."""

from __future__ import annotations

from configurator.errors import Problem
from configurator.files.problems import key_path, nearest, not_known, render


def test_a_problem_is_its_place_its_sentence_and_a_caret_under_the_value() -> None:
    problem = Problem("b.yaml", 3, 14, "engine.boost", "no unit", "engine: {boost: 1.4}")
    assert render(problem) == (
        "b.yaml:3:14: engine.boost: no unit",
        "    engine: {boost: 1.4}",
        "                 ^",
    )
    assert render(problem)[2].index("^") - 4 == 13


def test_without_a_line_or_a_key_the_rest_is_left_out() -> None:
    assert render(Problem("b.yaml", 1, 1, "", "the file is empty")) == ("b.yaml:1:1: the file is empty",)


def test_tabs_stay_tabs_so_that_the_caret_stands_right() -> None:
    assert render(Problem("f", 1, 5, "", "x", "\ta: b"))[2] == "    \t   ^"


def test_a_long_line_is_cut_around_the_place() -> None:
    line = "a" * 300 + "X" + "b" * 300
    _, shown, caret = render(Problem("f", 1, 301, "", "x", line))
    assert len(shown) < 120
    assert shown[caret.index("^")] == "X"


def test_key_paths_begin_with_the_id_where_there_is_one() -> None:
    data = {"cores": [{"id": "core-a", "coolant": {"ends": [{}]}}, {"name": "no id"}], "site": {"air": 1}}
    assert key_path(data, ("cores", 0, "coolant", "ends", 0, "size")) == "core-a.coolant.ends[0].size"
    assert key_path(data, ("cores", 1, "name")) == "cores[1].name"
    assert key_path(data, ("cores", 9)) == "cores[9]"
    assert key_path(data, ("site", "air")) == "site.air"
    assert key_path(data, ()) == ""


def test_the_nearest_word_is_offered_only_when_it_is_near() -> None:
    assert nearest("petrl", ["diesel", "petrol"]) == "; did you mean 'petrol'?"
    assert nearest("PETROL", ["diesel", "petrol"]) == "; did you mean 'petrol'?"
    assert nearest("hydrogen", ["diesel", "petrol"]) == ""
    assert nearest("glycol", ["kinds", "start", "glycol_by_volume"]) == "; did you mean 'glycol_by_volume'?"
    assert nearest("air", ["hot_air_x_y_z", "cold_air_x_y_z"]) == ""


def test_a_long_list_of_names_is_cut() -> None:
    assert not_known("part", "zzz", [f"p{n}" for n in range(9)], most=2) == (
        "part 'zzz' is not known (allowed: p0, p1 and 7 more)"
    )
    assert not_known("fuel", "petrol", []) == "fuel 'petrol' is not known: the catalogue has none"
