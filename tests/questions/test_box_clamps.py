"""Which clamps of a box hold its joints."""

from __future__ import annotations

import pytest

from configurator.parts.kinds import Clamp
from configurator.parts.kit import Joint, Medium
from configurator.questions.box_clamps import with_clamps_of_box


def clamp(
    part: str, least: int, most: int, medium: Medium = "coolant", *, style: str = "worm", price: int = 9
) -> Clamp:
    return Clamp.model_validate(
        {"id": part, "name": part, "price": price, "style": style, "least": f"{least} mm", "most": f"{most} mm",
         "media": [medium], "mass": "50 g"}
    )  # fmt: skip


def joint(*ods_mm: float, medium: Medium = "coolant") -> Joint:
    """A joint that the cheapest clamp of the shelf closes at each of these diameters."""
    return Joint(
        medium, "a.out", "b.in", (), None, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, (), (), 100 * len(ods_mm), 0.05 * len(ods_mm),
        clamped=tuple(("sold", od / 1000) for od in ods_mm),
    )  # fmt: skip


SOLD = [clamp("sold", 20, 90, price=1), clamp("sold", 20, 90, "charge", style="T-bolt", price=1)]


def held(joints: tuple[Joint, ...]) -> list[dict[str | None, float]]:
    return [{need.part: need.quantity for need in one.needs} for one in joints]


@pytest.mark.parametrize("order", [("wide", "narrow"), ("narrow", "wide")])
def test_a_wide_clamp_does_not_take_the_place_that_a_narrow_one_alone_could_hold(order: tuple[str, str]) -> None:
    """Either closes on 28 mm, the wide one alone on 34 mm."""
    box = {"narrow": clamp("narrow", 22, 32), "wide": clamp("wide", 25, 42)}
    found = with_clamps_of_box([joint(34, 28)], [box[part] for part in order], SOLD, None)
    assert held(found) == [{"narrow": 1, "wide": 1}]
    assert found[0].clamped == (("narrow", 0.028), ("wide", 0.034))
    assert (found[0].price_cents, found[0].mass_kg) == (200 - 200 + 1800, pytest.approx(0.1))


def test_each_clamp_serves_once_and_the_shelf_s_the_rest() -> None:
    found = with_clamps_of_box([joint(34, 34), joint(34, 34)], [clamp("mine", 30, 42)] * 3, SOLD, None)
    assert held(found) == [{"mine": 2}, {"mine": 1, "sold": 1}]


def test_of_a_clamp_that_nobody_sells_more_are_wanted() -> None:
    alone = Joint(**{**vars(joint(34, 34)), "clamped": (("mine", 0.034), ("mine", 0.034))})
    assert held(with_clamps_of_box([alone], [clamp("mine", 30, 42)], [], None)) == [{"mine": 2}]


@pytest.mark.parametrize(("boost", "part"), [(0.99e5, "band"), (1.0e5, "sold")])
def test_a_worm_band_holds_a_coupler_below_one_bar_of_boost(boost: float, part: str) -> None:
    band = clamp("band", 60, 75, "charge")
    assert held(with_clamps_of_box([joint(66, medium="charge")], [band], SOLD, boost)) == [{part: 1}]


def test_a_clamp_for_charge_air_holds_no_coolant_hose() -> None:
    assert held(with_clamps_of_box([joint(34)], [clamp("band", 30, 42, "charge")], SOLD, 0.5e5)) == [{"sold": 1}]
