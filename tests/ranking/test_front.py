"""The front: those kits that no other beats on margin, room, price and dry mass; by its definition (Pareto)."""

from __future__ import annotations

from hypothesis import given

from configurator.ranking.front import front
from tests.ranking.test_order import DISTINCT, Kit


def _figures(kit: Kit) -> tuple[float, ...]:
    return (-kit.margin_low_k, -kit.clearance_mm, kit.price_cents, kit.mass_g)


def _beats(one: Kit, other: Kit) -> bool:
    pairs = list(zip(_figures(one), _figures(other), strict=True))
    return all(a <= b for a, b in pairs) and any(a < b for a, b in pairs)


@given(kits=DISTINCT)
def test_it_holds_those_that_no_other_beats_and_of_equals_the_first(kits: list[Kit]) -> None:
    wanted = []
    for proven in (True, False):
        alike = [kit for kit in kits if kit.proven == proven]
        seen = set()
        for kit in alike:
            if _figures(kit) not in seen and not any(_beats(other, kit) for other in alike):
                wanted.append(kit)
                seen.add(_figures(kit))
    assert front(kits) == wanted


def test_each_of_four_figures_alone_keeps_a_kit_on_it() -> None:
    plain = Kit(ids=("plain",))
    others = [
        Kit(ids=("cool",), margin_low_k=9.0, clearance_mm=0.0, price_cents=200_000, mass_g=20_000),
        Kit(ids=("roomy",), margin_low_k=0.0, clearance_mm=25.0, price_cents=200_000, mass_g=20_000),
        Kit(ids=("cheap",), margin_low_k=0.0, clearance_mm=0.0, price_cents=50_000, mass_g=20_000),
        Kit(ids=("light",), margin_low_k=0.0, clearance_mm=0.0, price_cents=200_000, mass_g=4_000),
    ]
    beaten = Kit(ids=("beaten",), price_cents=100_001)
    assert front([beaten, plain, *others]) == [plain, *others]
    assert front([]) == []
