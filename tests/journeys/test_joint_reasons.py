"""Why two ends do not meet: the reason told is the one that would have to change, in `check`, `why` and `mate`."""

from __future__ import annotations

from typing import Any

from tests.journeys.checks import check, flowing, kit_file
from tests.journeys.kitwright import shipped_part

SAY_THE_BEAD = "write 'bead: true' or 'barb: true' in its end"


def core_without_a_bead_told() -> dict[str, Any]:
    """A box whose core says nothing of a bead on its charge pipes."""
    core = {**shipped_part("core-260-short", id="my-core"), "kind": "core"}
    for end in core["charge"]["ends"]:
        end.pop("bead", None)
    parts = [core if str(part).startswith("core") else part for part in kit_file("good")["parts"]]
    return {**kit_file("good"), "parts": parts}


def test_a_core_that_says_nothing_of_a_bead_is_told_how_to_write_it() -> None:
    kit = core_without_a_bead_told()
    ran = check(kit)
    assert ran.code == 1
    assert SAY_THE_BEAD in flowing(ran.out) and "too tight" not in flowing(ran.out)
    for end in kit["parts"][[isinstance(part, dict) for part in kit["parts"]].index(True)]["charge"]["ends"]:
        end["bead"] = True
    assert check(kit).code == 0
