"""The pieces of a box that no joint takes, and what the joints leave over of those that they take: counted and told."""

from __future__ import annotations

from tests.journeys.checks import Ran, check, flowing, kit_file


def head(ran: Ran) -> str:
    """The first paragraph."""
    return flowing(ran.out.split("\n\n")[0])


def test_a_piece_that_no_joint_wants_is_named_at_the_top() -> None:
    parts = [*kit_file("good")["parts"], "barb-g-1-2-16"]
    told = flowing(check({**kit_file("good"), "parts": parts}).out)
    assert told.index("No joint of the loop wants: G 1/2 to 16 mm barb.") < told.index("What limits the pressure")


def test_what_the_joints_leave_over_of_a_piece_in_use_is_counted() -> None:
    """Four runs of 25 mm hose have eight clamped ends, four -12 ports take a barb each; an unmade run may want more."""
    loop = ["reservoir-6-vented", "cap-45-vented", "pump-46-small", "core-210-short", "exchanger-395-slim"]
    more = [*["clamp-worm-32-50"] * 12, *["barb-orb-12-25"] * 5, "hose-rubber-25", "hose-wired-25"]
    ends = {"charger_outlet": "57 mm", "throttle": "64 mm", "boost": "0.9 bar"}
    box = {"kit": "clamps", **ends, "parts": [*loop, *more]}
    ran, answer = check(box), check(box, "--json").answer
    assert answer["spare_counts"] == {"clamp-worm-32-50": 4, "barb-orb-12-25": 1}
    assert answer["spare"] == list(answer["spare_counts"])
    told = "Left over, for the joints take no more: 4 of 12 x Worm clamp, 32 to 50 mm; 1 of 5 x O-ring boss -12 to 25"
    assert told in head(ran) and "No joint of the loop wants" not in head(ran)
    assert "12 pieces Worm clamp, 32 to 50 mm [clamp-worm-32-50]; 4 left over" in flowing(ran.out)
    pipes_unknown = {**box, "charger_outlet": None}
    without = {key: value for key, value in pipes_unknown.items() if value is not None}
    assert check(without, "--json").answer["spare_counts"]["clamp-worm-32-50"] == 4
    unfinished = {**box, "parts": [part for part in box["parts"] if part != "pump-46-small"]}
    assert not set(more[:17]) & check(unfinished, "--json").answer["spare_counts"].keys()


def test_pieces_that_are_used_or_that_were_not_judged_are_not_called_unwanted() -> None:
    good = kit_file("good")
    wired = {**good, "parts": [*good["parts"], "relay-20", "wire-1.0", "fuse-03"]}
    pipes = {key: value for key, value in good.items() if key not in ("charger_outlet", "throttle")}
    for box in (wired, {**pipes, "parts": [*good["parts"], "coupler-70-76", "clamp-t-bolt-082-090"]}):
        assert "No joint of the loop wants" not in flowing(check(box).out)
    twice = {**good, "parts": [*good["parts"], "barb-g-1-2-16", "barb-g-1-2-16"]}
    assert "No joint of the loop wants: 2 x G 1/2 to 16 mm barb." in flowing(check(twice).out)
