"""The mark of the roomiest kit goes by the room that is told, which the order counts only up to 25 mm."""

from __future__ import annotations

from tests.journeys.kitwright import example, shipped_part, small_shelf, suggest


def test_the_roomiest_is_that_with_the_most_room_told_beyond_what_the_order_counts() -> None:
    brief = example("hatch", limits=None)
    for zone in brief["bay"]["zones"].values():
        zone.update(wide="900 mm", high="700 mm", deep="700 mm")
        zone.pop("at", None)
    brief["bay"]["zones"]["bulkhead"].update(wide="520 mm", high="400 mm", deep="500 mm")
    shelf = small_shelf(
        cores=[shipped_part("core-210-short"), shipped_part("core-260-short")],
        pumps=[shipped_part("pump-40-small")],
        exchangers=[shipped_part("exchanger-350-slim")],
        reservoirs=[shipped_part("reservoir-8-cube")],
    )
    first, second = suggest(brief, "--json", shelf=shelf).kits
    assert 25.0 < first["fit"]["clearance_mm"] < second["fit"]["clearance_mm"]
    assert "roomiest" not in first["picks"] and "roomiest" in second["picks"]
