"""A figure with the wrong unit is a thousand times too large or small: it is refused, or answered, never a crash."""

from __future__ import annotations

import re

import pytest

from tests.journeys.checks import check
from tests.journeys.kitwright import Tree, example_text, shipped_part, small_shelf, suggest_text

FIGURE = re.compile(r"(?<![\w.-])(\d+(?:\.\d+)?)(?= ?[a-zA-Z%])")
TEXT = "\n".join(line.split("#")[0].rstrip() for line in example_text("hatch").splitlines())
FIGURES = list(FIGURE.finditer(TEXT))


@pytest.fixture(scope="module")
def shelf() -> Tree:
    sections = {"cores": "core-260-short", "exchangers": "exchanger-350-slim", "pumps": "pump-40-small"}
    return small_shelf(
        **{name: [shipped_part(part)] for name, part in sections.items()}, reservoirs=[shipped_part("reservoir-8-cube")]
    )


@pytest.mark.parametrize("times", [1000, 0.001])
@pytest.mark.parametrize("at", range(len(FIGURES)), ids=lambda at: TEXT[: FIGURES[at].end()].split()[-2].strip("{,:"))
def test_no_figure_of_a_brief_ends_in_a_crash(at: int, times: float, shelf: Tree) -> None:
    figure = FIGURES[at]
    text = f"{TEXT[: figure.start()]}{float(figure[1]) * times:.10g}{TEXT[figure.end() :]}"
    run = suggest_text(text, "--json", "--no-ways-out", shelf=shelf)
    assert run.code in (0, 1, 3)
    assert (run.code == 3) == (run.answer["outcome"] == "bad_input")


@pytest.mark.parametrize("key", ["charger_outlet", "throttle"])
@pytest.mark.parametrize(
    ("size", "bound"),
    [
        ("57 m", "at most 0.2 m (200 mm)"),
        ("57 cm", "at most 20 cm (200 mm)"),
        ("0.057 mm", "at least 3 mm"),
        ("1/16 in", "at least 0.118111 in (3 mm)"),
    ],
)
def test_a_pipe_wider_or_narrower_than_any_is_refused_at_its_place_in_the_unit_it_is_written_in(
    key: str, size: str, bound: str, shelf: Tree
) -> None:
    brief = suggest_text(re.sub(rf"{key}: \S+ mm", f"{key}: {size}", TEXT), shelf=shelf)
    box = check({"kit": "Box", key: size, "parts": ["pump-40-small"]})
    for run in (brief, box):
        assert run.code == 3
        assert f"'{size}' is out of range: it must be {bound}" in run.err
