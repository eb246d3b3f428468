"""What a sheet tells a workshop to do before and in the first runs, and that the bill has what it takes."""

from __future__ import annotations

import re
from functools import cache
from html import unescape
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.house.checkout import ROOT
from tests.journeys.checks import check, run
from tests.journeys.test_bypass_laws import ASKED, iced, shelf
from tests.presentation import sheets


@cache
def sheet(name: str) -> str:
    """The sheet of an example as one line of text."""
    with TemporaryDirectory() as folder:
        out = Path(folder) / "sheet.html"
        run("sheet", str(ROOT / "examples" / f"{name}.yaml"), "-o", str(out))
        return flowing(out.read_text(encoding="utf-8"))


def flowing(page: str) -> str:
    """The text of a page in one line."""
    return " ".join(unescape(re.sub(r"<style.*?</style>|<[^>]+>", " ", page, flags=re.DOTALL)).split())


def test_a_vented_reservoir_never_takes_the_air_of_the_leak_test() -> None:
    """The ice tank of the drag car is rated under what its loop is tested with."""
    told = sheet("drag")
    test = re.search(
        r"Water side, with air: first both hoses off the reservoir, plugged: no air into it "
        r"\(rated ([\d.]+) bar\), filling shows its leaks\. Then ([\d.]+) bar",
        told,
    )
    assert test and float(test[1]) < float(test[2])
    assert "with the same pressures, the reservoir still off," in told
    assert "Let the water of the leak test out, put the hoses back on the reservoir;" in told
    assert "25 mm plug for a hose off the reservoir, for the leak test 2 pieces bring" in told


def test_a_reservoir_under_a_cap_stays_in_the_leak_test() -> None:
    told = sheet("road")
    assert "Water side, with air: 0.50 to 0.75 bar (1.0 to 1.5 times the cap, p)" in told
    assert "off the reservoir" not in told and "the reservoir still off" not in told


def test_a_bypass_valve_is_open_for_bleeding_and_stands_in_every_figure_as_the_drive_wants_it() -> None:
    """With ice on bypass, without ice open to the exchanger; the loop is flushed with the exchanger either way."""
    for ice, stands in (({}, "on bypass: leave it so while there is ice"), ({"ice": None}, "open to the exchanger")):
        made = sheets.sheet(iced(**ASKED, **ice), shelf())
        told = flowing(made.page)
        assert "flush core and exchanger free of swarf" in told
        assert "until no more air comes; the bypass valve open to the exchanger, last once on bypass:" in told
        assert f"at the pump's terminals and, here and below, with the bypass valve {stands}" in told
        assert re.search(r"bleed point \d: exchanger", told)


def test_without_a_bypass_valve_none_is_told_of() -> None:
    assert "bypass valve" not in sheet("drag") and "flush core free of swarf" in sheet("drag")


def test_an_ice_tank_is_filled_so_far_that_its_ice_raises_it_to_the_mark() -> None:
    """20 L, of which 10 kg of floating ice take 10 L, as much water as they melt to."""
    told = sheet("drag")
    assert "Last the reservoir: 10.0 L in it, no more: the ice raises it to its mark (20.0 L)." in told
    assert "10.0 kg of crushed ice in 10.0 kg of water at 2 degC" in told
    assert "Then the ice, pump on: 10.0 kg raise the tank to its mark." in told
    assert "For each kilogram more, as it melts, first let off a litre of water." in told
    filled = re.search(r"Fill ([\d.]+) L of water, no ice yet", told)
    assert filled and f"water, {filled[1]} L, and 10.0 kg of crushed ice." in told


def test_a_reservoir_without_ice_is_topped_up_to_its_mark() -> None:
    told = sheet("road")
    assert "Last the reservoir: top up to its mark." in told and "Then the ice" not in told


def test_at_idle_the_pressures_say_where_the_core_is_taken_to_sit() -> None:
    """The wagon's core lies in the manifold under a blower; the road car tells the pipe to its throttle."""
    wagon, road = sheet("wagon"), sheet("road")
    vacuum = "charge -0.71 to 0.00 bar, behind the throttle, assumed: it draws coolant in from a cold loop too;"
    assert vacuum in wagon and "before the throttle" not in wagon
    assert "the charge 0 bar or less at idle" in wagon
    assert "charge about 0 bar, before the throttle;" in road
    assert "Boost behind the core, in the manifold: 0.60 bar" in wagon
    assert "Boost behind the core, at the throttle: 0.90 bar" in road


@pytest.mark.parametrize("name", ["drag", "track"])
def test_a_fill_tower_is_closed_by_a_cap_that_holds_the_coolant_side(name: str) -> None:
    """The reservoir's own cap is vented or opens at 0.5 bar: on the tower it would let coolant out."""
    told = sheet(name)
    assert "fill tower at the top of the core, above the reservoir, with a sealed cap that holds the coolant" in told
    closed = re.search(
        r"above the reservoir: fill tower there, closed before the pump runs by a sealed cap good for ([\d.]+) bar, or "
        r"the loop spills and drains back",
        told,
    )
    assert closed and float(closed[1]) > 0.5
    assert told.count("fill tower there") == 1


def test_charge_joints_without_a_bore_are_on_the_bill_and_told_as_not_judged() -> None:
    """The roadster's brief tells no bore; the core of the wagon stays with its joints; the road car tells both."""
    roadster = sheet("roadster")
    for side in ("before", "behind"):
        assert f"couplers and clamps for the charge pipe {side} the core, to its bores 1 set bring" in roadster
    assert roadster.count("; couplers before and behind the core not judged: bores not told") == 2
    assert "couplers as fitted, not judged" in sheet("wagon")
    for name in ("wagon", "road"):
        assert "couplers and clamps for the charge pipe" not in sheet(name)
    assert "not judged: bores" not in sheet("road")


def test_a_box_without_bores_is_told_in_short_of_its_charge_couplers() -> None:
    told = " ".join(check("quick-connect-cap-1.1").out.split())
    for side in ("before", "behind"):
        assert f"couplers and clamps for the charge pipe {side} the core, to its bores" in told
