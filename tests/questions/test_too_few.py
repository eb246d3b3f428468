"""What a bill takes more of than the shelf has is counted over the whole bill, and told wherever the bill is."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from configurator.questions.too_few import TooFew, too_few
from configurator.search.bill import Line
from tests.journeys.kitwright import EXAMPLES, Tree, command, example, suggest, written
from tests.presentation.sheets import shelf

STOCK = {"core": 1, "elbow": 3, "hose": 5, "clamp": 8, "pump": 0, "quiet": None}
ELBOW = "elbow-orb-12-19"


def line(part: str | None, quantity: float, unit: str = "piece", *, own: bool = False) -> Line:
    return Line("item", part, quantity, unit, 100, "coolant side", own)


@pytest.mark.parametrize(
    ("lines", "short"),
    [
        ([line("elbow", 3)], ()),
        ([line("elbow", 4)], (TooFew("elbow", 4, 3, "piece"),)),
        ([line("elbow", 2), line("clamp", 8), line("elbow", 2)], (TooFew("elbow", 4, 3, "piece"),)),
        ([line("core", 1), line("core", 1)], (TooFew("core", 2, 1, "piece"),)),
        ([line("hose", 5.0, "m")], ()),
        ([line("hose", 5.1, "m")], (TooFew("hose", 5.1, 5, "m"),)),
        ([line("pump", 1)], (TooFew("pump", 1, 0, "piece"),)),
        ([line("pump", 1, own=True), line("quiet", 9), line(None, 9)], ()),
    ],
)
def test_the_sum_of_a_bill_is_held_against_the_shelf(lines: list[Line], short: tuple[TooFew, ...]) -> None:
    """Four elbows of which the shelf had two were told to be in stock: only a stock of 0 was looked for."""
    assert too_few(lines, STOCK.__getitem__) == short


def with_elbows(count: int) -> Tree:
    """A shelf of two kits with so many of the elbow that they take most of."""
    parts = shelf()
    for adapter in parts["adapters"]:
        adapter["stock"] = count if adapter["id"] == ELBOW else 99
    return parts


def takes(kit: Tree) -> float:
    return float(sum(one["quantity"] for one in kit["lines"] if one["part"] == ELBOW))


def test_answer_and_bill_name_what_is_short_and_by_how_much() -> None:
    kit = suggest("hatch", "--json", shelf=with_elbows(2)).kits[0]
    assert kit["short"] == [{"part": ELBOW, "takes": takes(kit), "there": 2, "unit": "piece"}] and takes(kit) > 2
    words = f"{ELBOW} (2 of {takes(kit):g} there)"
    said = " ".join(suggest("hatch", "--wide", shelf=with_elbows(2)).out.split()).replace("- ", "-")
    assert f"all in stock but {words}" in said and f"to be ordered, for the shelf has too few: {words}" in said
    assert suggest("hatch", "--json", shelf=with_elbows(6)).kits[0]["short"] == []
    assert "there)" not in suggest("hatch", "--wide", shelf=with_elbows(6)).out


def test_a_kit_of_too_few_is_not_offered_in_silence_where_only_what_is_there_was_asked_for() -> None:
    brief = example("hatch", in_stock=True)
    screens = [suggest(brief, shelf=with_elbows(count)).out.split("\n\n")[0] for count in (2, 6)]
    head = [" ".join(screen.split()).replace("- ", "-") for screen in screens]  # an id may end a line
    assert head[0].startswith("Only what is on the shelf was asked for.") and f"{ELBOW} (2 of " in head[0]
    assert head[1].startswith("Kit 1, ")
    assert suggest("hatch", shelf=with_elbows(2)).out.startswith("Kit 1, ")


def test_the_bill_as_a_file_and_the_sheet_say_it_too(tmp_path: Path) -> None:
    folder, bill, page = tmp_path / "shelf", tmp_path / "bill.csv", tmp_path / "sheet.html"
    folder.mkdir()
    (folder / "parts.yaml").write_text(written(with_elbows(2)), encoding="utf-8")
    there = ("--catalogue", folder)
    assert command("suggest", EXAMPLES / "hatch.yaml", "--bill", bill, *there).code == 0
    rows = csv.DictReader(bill.read_text(encoding="utf-8").splitlines())
    (row,) = [row for row in rows if row["group"] == "stock"]
    assert row["part"] == "too-few" and f"{ELBOW} (2 of " in row["item"] and not row["line_price"]
    assert command("sheet", EXAMPLES / "hatch.yaml", "-o", page, *there).code == 0
    assert page.read_text(encoding="utf-8").count(f"{ELBOW} (2 of ") == 2
