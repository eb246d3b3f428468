"""Which of all kits the listed ones are is told, and kits of the same core and exchanger can be told apart."""

from __future__ import annotations

import re

import pytest

from tests.journeys.kitwright import Tree, all_kits, example, opened, shipped_part, small_shelf, suggest

CORES = ("core-260-short", "core-230-short")
FRONTS = ("exchanger-350-slim", "exchanger-395-slim")
PUMPS, TANKS = ("pump-40-small", "pump-50-medium"), ("reservoir-8-cube", "reservoir-2-square")
ONE_EACH = "Of each core and exchanger one kit stands here"


@pytest.fixture(scope="module")
def shelf() -> Tree:
    sections = {"cores": CORES, "exchangers": FRONTS, "pumps": PUMPS, "reservoirs": TANKS}
    return small_shelf(**{name: [shipped_part(part) for part in parts] for name, parts in sections.items()})


def figures(kit: Tree) -> tuple[float, ...]:
    """What the front looks at, each the more the better."""
    return kit["thermal"]["margin_low_k"], min(kit["fit"]["clearance_mm"], 25), -kit["price_cents"], -kit["mass_dry_g"]


def rows(out: str) -> list[list[str]]:
    """The rows of the table of kits, each with its folded lines."""
    table = out[out.index("core + exchanger") :].split("\n\n")[0].splitlines()[1:]
    found: list[list[str]] = []
    for line in table:
        if re.match(r" *\d+  ", line):
            found.append([])
        found[-1].append(line.strip())
    return found


def test_the_front_says_what_it_is_and_each_row_what_it_is_good_in(shelf: Tree) -> None:
    asked = opened(example("hatch"))
    every = [figures(kit) for kit in all_kits(asked, shelf=shelf)]
    unbeaten = [
        one
        for one in every
        if not any(other != one and all(b >= a for a, b in zip(one, other, strict=True)) for other in every)
    ]
    run, told = (suggest(asked, "--front", "--top", "3", *more, shelf=shelf) for more in (("--json",), ()))
    assert run.answer["kits_on_front"] == len(unbeaten) > 3
    assert [figures(kit) in unbeaten for kit in run.kits] == [True] * 3
    words = " ".join(told.out.split())
    assert f"3 of {len(unbeaten)} such kits stand here: --top {len(unbeaten)} lists them all." in words
    assert ONE_EACH not in words
    for row, kit in zip(rows(told.out), run.kits, strict=True):
        low, mass = kit["thermal"]["margin_low_k"], kit["mass_dry_g"] / 1000
        assert {f"low end {low:+.1f} K", f"{mass:.2f} kg"} <= set(row)
        assert f"+ {kit['parts']['pump'][0]}, side" in row


def test_with_all_variants_no_two_rows_are_alike(shelf: Tree) -> None:
    told = suggest(opened(example("hatch")), "--all-variants", "--top", "12", shelf=shelf).out
    listed = [(" ".join(row[0].split()[5:]), *row[1:]) for row in rows(told)]
    assert len(listed) == 12 and ONE_EACH not in " ".join(told.split())
    assert len({tuple(line for line in row if not line.startswith("(")) for row in listed}) == 12


def test_the_short_list_says_that_each_choice_stands_once(shelf: Tree) -> None:
    run = suggest(opened(example("hatch")), shelf=shelf)
    assert ONE_EACH in " ".join(run.out.split()) and "low end" not in run.out.split("Kit 1\n")[0]
    assert suggest(opened(example("hatch")), "--json", shelf=shelf).answer["kits_on_front"] is None
