"""The table of kits has a row for every kit that was asked for, and what was taken for a key left out is told."""

from __future__ import annotations

import re

from tests.journeys.kitwright import example, shipped_part, small_shelf, suggest


def test_walls_that_no_key_opens_are_told_as_closed() -> None:
    """A brief that forgot `open` got a no that blamed the aim and the room; closed walls stood nowhere."""
    shelf = small_shelf(
        cores=[shipped_part("core-178-square")],
        exchangers=[shipped_part("exchanger-350-slim")],
        pumps=[shipped_part("pump-40-small")],
        reservoirs=[shipped_part("reservoir-8-cube")],
    )
    brief = example("hatch")
    del brief["bay"]["zones"]["side"]["open"]
    assumed = suggest(brief, "--json", "--no-ways-out", shelf=shelf).answer["assumed"]
    assert "no hose goes through a wall of 'side': the brief names none under `open`" in str(assumed)


def test_more_kits_than_usual_are_all_in_the_table() -> None:
    """Once the screen stopped at five rows, whatever `--top` asked for."""
    shelf = small_shelf(
        cores=[shipped_part(name) for name in ("core-178-square", "core-260-short")],
        exchangers=[shipped_part(name) for name in ("exchanger-350-slim", "exchanger-380-slim")],
        pumps=[shipped_part(name) for name in ("pump-40-small", "pump-35-common")],
        reservoirs=[shipped_part("reservoir-8-cube"), shipped_part("reservoir-6-vented")],
    )
    brief = example("hatch", limits=None, aim={"charge_air": "130 degC"})
    run = suggest(brief, "--all-variants", "--top", "7", shelf=shelf)
    rows = re.findall(r"^ *(\d+) +[\d,]+\.\d\d ", run.out, re.MULTILINE)
    assert [int(row) for row in rows] == [1, 2, 3, 4, 5, 6, 7]
