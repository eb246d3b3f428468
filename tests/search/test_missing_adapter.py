"""A part that joins nothing for want of one adapter is left out with that adapter named."""

from __future__ import annotations

from configurator.reasons.wording import exclusion_text
from tests.oracles.comparison import answer
from tests.search.small_shelves import core, shelf


def test_the_adapter_to_buy_is_named_and_told_as_data() -> None:
    """The core's ends are 25 mm spigots; every other part and hose of the shelf is for 19 mm."""
    (out,) = [one for one in answer(shelf(core("wide-core", spigot="25 mm"))).exclusions if one.part == "wide-core"]
    assert (out.code, out.unit) == ("ends-do-not-meet", "")
    assert {out.found, out.limit} == {"hose:25mm", "spigot:19mm:barb"}
    assert "missing: an adapter from 25 mm hose to 19 mm barb" in exclusion_text(out, "Wide core")


def test_a_part_that_meets_the_others_is_not_said_to_lack_an_adapter() -> None:
    weak = answer(shelf(core("weak-core", working="0.1 bar"))).exclusions
    assert [(one.part, one.code) for one in weak if one.part == "weak-core"] == [("weak-core", "joins-nothing")]
