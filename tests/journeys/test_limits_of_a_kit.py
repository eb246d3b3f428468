"""How far a kit goes: at its limiting air it just meets the aim; a settled drive stays settled."""

from __future__ import annotations

import pytest

from tests.journeys.kitwright import SMALL_PARTS, Tree, example, shipped, suggest

RIGID = ("core", "exchanger", "pump", "reservoir")


def first(brief: Tree) -> Tree:
    """Kit 1 of the shelf's own order."""
    return dict(suggest(brief, "--json", "--top", "1").kits[0])


def same(brief: Tree, kit: Tree) -> Tree:
    """The same kit again, under another brief: off a shelf of its own rigid parts and all small ones."""
    small = {section: shipped(section) for section in (*SMALL_PARTS, "wyes")}
    own = {f"{kind}s": [p for p in shipped(f"{kind}s") if p["id"] in kit["parts"].get(kind, ())] for kind in RIGID}
    run = suggest(brief, "--json", "--top", "1000", "--all-variants", shelf={**small, **own})
    kits = [*run.kits, *run.answer["closest"]]
    return dict(next(one for one in kits if (one["parts"], one["zones"]) == (kit["parts"], kit["zones"])))


@pytest.mark.parametrize("name", ["hatch", "roadster"])
def test_a_brief_at_the_limiting_air_returns_the_aim(name: str) -> None:
    brief = example(name)
    kit = first(brief)
    limit_c = kit["thermal"]["limiting_air_c"]
    assert limit_c > float(brief["site"]["air"].split()[0])
    at_limit = example(name, site__air=f"{limit_c - 0.02} degC")
    aim_c = float(brief["aim"]["charge_air"].split()[0])
    assert same(at_limit, kit)["thermal"]["charge_out_worst_c"] == pytest.approx(aim_c, abs=0.1)


def test_an_aim_that_goes_with_the_air_has_no_limiting_air() -> None:
    assert first(example("retro"))["thermal"]["limiting_air_c"] is None


def test_the_repeated_drive_is_within_a_kelvin_of_its_plateau_when_it_is_said_to_be() -> None:
    brief = example("wagon")
    pattern = {"stretches": [{"lasts": "60 s", "share": "45 %", "speed": "65 km/h"}], "total": "20 min"}
    brief.update(driving=pattern)
    kit = first(brief)
    settled_s, plateau_c = kit["thermal"]["time_to_plateau_s"], kit["thermal"]["charge_out_plateau_c"]
    assert 0 < settled_s <= 4 * 3600
    lasting = {**brief, "driving": {**pattern, "total": f"{settled_s + 60:g} s"}}
    assert same(lasting, kit)["thermal"]["charge_out_worst_c"] == pytest.approx(plateau_c, abs=1.4)
    shorter = {**brief, "driving": {**pattern, "total": f"{settled_s / 2:g} s"}}
    assert same(shorter, kit)["thermal"]["charge_out_worst_c"] < plateau_c - 1.0


def test_the_pumps_wire_takes_more_when_hot_by_the_law_of_copper() -> None:
    """R = R20 (1 + 0.00393 * 40), published (IEC 60028; from memory)."""
    cold, hot = first(example("hatch"))["wire_drop_v"]
    assert hot / cold == pytest.approx(1.1572, abs=0.005)
    assert cold <= 0.03 * 12
