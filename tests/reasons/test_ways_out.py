"""What would change it: a sentence for every cause, and none that loosens what keeps people safe."""

from __future__ import annotations

import re

import pytest

from configurator.foundations.verdicts import Verdict
from configurator.reasons.ways_out import (
    shortfall_text,
    way_out,
    way_out_of,
    way_out_of_ends,
    way_out_of_ratings,
    ways_out,
)
from configurator.reasons.wording import _SENTENCES
from configurator.search.job import Exclusion

FIGURES: dict[str, tuple[float | str | None, float | str | None, str]] = {
    "coolant-banned": ("ethylene glycol", None, ""),
    "no-zone-takes-it": ("core", None, ""),
    "ends-do-not-meet": ("orb:-12:male", "spigot:19mm:barb", ""),
    "does-not-fit": (12.0, 0.0, "wall back"),
}
SAFE = re.compile(
    r"(raise|higher|stronger|more|less|lower|larger|smaller|thinner|another|other) (boost|power|rating|cap\b|clearance|"
    r"fuse|wire|antifreeze|thread)",
    re.IGNORECASE,
)


@pytest.mark.parametrize("code", _SENTENCES)
def test_every_cause_has_its_way_out_and_none_that_loosens_safety(code: str) -> None:
    found, limit, side = FIGURES.get(code, (400.0, 300.0, ""))
    text = way_out(Exclusion("part", code, found, limit, "", "nose", side))
    assert text.endswith(".") and not SAFE.search(text), text


@pytest.mark.parametrize("code", ["rating-below-pressure", "too-hot"])
def test_what_a_part_stands_is_never_the_way_out(code: str) -> None:
    assert way_out(Exclusion("part", code, 400.0, 300.0, "")).startswith("No change of the brief mends this: ")


def test_of_several_things_that_stand_it_is_said_once_that_no_change_of_the_brief_mends_them() -> None:
    weak = Exclusion("p", "rating-below-pressure", 1.6e5, 1.75e5, "Pa")
    hot = Exclusion("p", "too-hot", 441.15, 393.15, "K")
    assert ways_out([weak, hot]) == (
        "No change of the brief mends this: a rating is not stretched, what it stands is not stretched. "
        "It takes a part that holds 1.75 bar or more; and a part that stands 168 degC or more."
    )


def test_ends_that_nothing_joins_ask_for_pieces_and_not_for_force() -> None:
    assert way_out(Exclusion("p", "ends-do-not-meet", "orb:-12:male", "spigot:19mm:barb", "")) == (
        "An adapter on the shelf: orb:-12:male to spigot:19mm:barb."
    )
    apart = way_out(Exclusion("p", "ends-do-not-meet", None, None, ""))
    assert apart.startswith("No change of the brief mends this: ends that do not mate")
    unsaid = way_out(Exclusion("p", "ends-do-not-meet", None, None, "", "57 mm spigot", cause="bead-not-told"))
    assert unsaid.startswith("The spigot's end, where the part is written: ") and "'bead: true'" in unsaid
    assert way_out_of_ends("reservoir").startswith("No change of the brief mends this: rules of joints stand.")
    assert "It takes a pump and an exchanger, or pieces" in way_out_of_ends("pump", "exchanger")
    assert "It takes an exchanger and a core that holds" in way_out_of_ratings("exchanger", "core")


def test_what_mends_ends_follows_from_the_cause_and_not_from_the_words_told() -> None:
    """It was searched for in the sentence, so that another wording of a refusal would have lost its way out."""
    weak = Exclusion("p", "ends-do-not-meet", None, None, "", "in any words", cause="rating-below-pressure")
    assert way_out(weak).startswith("Less boost")
    said = Exclusion("p", "ends-do-not-meet", None, None, "", "it holds 1 bar, the charge pipe may see 2 bar")
    assert way_out(said).startswith("No change of the brief mends this: ends that do not mate")


def broken(rule: str, found: float, limit: float, text: str = "") -> Verdict:
    """A demand that a kit misses."""
    return Verdict(rule, "broken", ("kit",), found, limit, "", text)


AIM, PRICE = broken("aim", 361.02, 353.15), broken("price", 1436.391, 1400)


def test_every_shortfall_says_found_limit_and_difference() -> None:
    assert shortfall_text(AIM, None) == "the aim: charge at 87.9 degC, asked 80.0: 7.9 K too warm"
    assert shortfall_text(AIM, 313.15) == "the aim: charge at 47.9 K above the air, asked 40.0: 7.9 K too warm"
    assert shortfall_text(PRICE, None) == "price: 1,436.39, allowed 1,400.00: 36.39 too much"
    assert shortfall_text(broken("mass", 16.4, 16), None) == "mass: 16.40 kg dry, allowed 16.00: 0.40 kg too much"
    assert shortfall_text(broken("current", 21.5, 20), None) == "current: 21.5 A, allowed 20.0: 1.5 A too much"
    assert shortfall_text(broken("current", 20.04, 20), None) == "current: 20.04 A, allowed 20.00: 0.04 A too much"
    assert "13.0 kPa, allowed 12.0" in shortfall_text(broken("charge loss", 13e3, 12e3), None)
    assert "pump-x stands 90 degC" in shortfall_text(broken("coolant temperature", 373.15, 363.15, "pump-x"), None)
    assert "2.5 K hotter than it boils" in shortfall_text(broken("coolant boils", 2.5, 0), None)


def test_what_is_asked_for_is_never_less_than_what_lets_the_kit_in() -> None:
    assert way_out_of([AIM], None) == "This kit would be in with aim: charge_air of 87.9 degC or more."
    assert "above_air of 47.9 K" in way_out_of([AIM], 313.15)
    assert "charge_air of 87.9 degC" in way_out_of([broken("aim", 361.05, 353.15)], None)
    assert "charge_air of 88.0 degC" in way_out_of([broken("aim", 361.06, 353.15)], None)
    both = way_out_of([AIM, PRICE], None)
    assert "limits: price of 1,436.39 or more. All of these together." in both


@pytest.mark.parametrize("rule", ["coolant temperature", "coolant boils"])
def test_boiling_and_heat_of_pieces_have_no_way_out_whatever_else_is_missed(rule: str) -> None:
    text = way_out_of([AIM, broken(rule, 400.0, 380.0, "pump-x")], None)
    assert text.startswith("No change of the brief mends this: ") and "charge_air" not in text


def test_a_part_that_was_not_tried_yet_is_promised_nothing() -> None:
    large = Exclusion("part", "does-not-fit", 5.0, 0.0, "mm", "nose", "wall right")
    assert "with 5 mm more in its width at least" in ways_out([large, large])
    assert ways_out([large]).endswith("may still keep it out.") and ways_out([large, large]) == ways_out([large])
    dear = Exclusion("part", "price-over-limit", 900.0, 800.0, "money")
    boot = Exclusion("part", "does-not-fit", 9.0, 0.0, "mm", "boot", "wall top")
    assert ways_out([large, dear, boot]).count(" And: ") == ways_out([large, dear, boot]).count(" Or: ") == 1
    weak = Exclusion("part", "rating-below-pressure", 1e5, 2e5, "Pa gauge")
    assert "then tried" not in ways_out([large, weak]) and ways_out([large, weak]).count("No change") == 1
