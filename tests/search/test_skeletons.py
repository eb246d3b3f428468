"""Skeletons come from the solver, and every rule it is given matters on some shelf."""

from __future__ import annotations

import pytest

from configurator.search import skeletons
from tests.oracles.comparison import answer
from tests.oracles.shelves import Shelf
from tests.search.small_shelves import BRIEF, cap, core, filled, hose, maker, pump, shelf


def two_bulkheads() -> Shelf:
    """A long core that only the long bulkhead takes, and a short and higher one that only the high bulkhead takes."""
    zones = dict(BRIEF["bay"]["zones"])
    zones["bulkhead"] = {**zones["bulkhead"], "deep": "320 mm"}
    zones["high bulkhead"] = {**zones["bulkhead"], "deep": "220 mm", "high": "240 mm"}
    high = core("high core")
    high = {**high, "id": "high-core", "size": {"x": "200 mm", "y": "120 mm", "z": "220 mm"}}
    return shelf(core(long=300), high, bay={"zones": zones})


RULES = {
    "zone": two_bulkheads(),
    "cap": shelf(cap("narrow-cap", neck="32 mm")),
    # 1.1 x 0.5 bar of cap, 1.6 bar of dead head and 0.05 bar of liquid are above the core's 2 bar.
    "rating": shelf(pump("strong-pump", dead_head=160)),
    "joint": shelf(core("wide-core", spigot="25 mm")),
}
KEPT = {"zone": 2, "cap": 1, "rating": 1, "joint": 1}
WITHOUT_THE_RULE = {"zone": 4, "cap": 3, "rating": 2, "joint": 2}
"""Caps: the right one, the wrong one, none at all."""


@pytest.mark.parametrize("rule", RULES)
def test_taking_out_a_rule_lets_more_in(rule: str) -> None:
    made = maker(RULES[rule])
    assert len(list(made.assignments())) == KEPT[rule]
    assert len(list(made.assignments(left_out=rule))) == WITHOUT_THE_RULE[rule]


@pytest.mark.parametrize("rule", RULES)
def test_what_a_rule_keeps_out_is_in_no_kit(rule: str) -> None:
    assert len(answer(RULES[rule]).kits) == KEPT[rule]


def test_every_table_carries_a_rule_that_is_tested_here() -> None:
    assert {table.rule for table in maker(shelf()).tables()} == set(RULES)


def test_the_small_shelf_makes_one_kit() -> None:
    assert len(answer(shelf()).kits) == 1


def test_without_an_answer_of_the_solver_there_is_no_kit(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(skeletons, "solve", lambda domains, tables: iter(()))
    given = answer(shelf())
    assert given.outcome == "no_kit" and given.kits == () and given.closest == ()


def test_the_loop_is_put_together_as_the_solver_says(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of two caps that suit, only the one the solver names comes into a kit."""
    of = shelf(cap("second-cap", opens="0.3 bar"))
    assert len(answer(of).kits) == 2
    real = skeletons.solve
    monkeypatch.setattr(skeletons, "solve", lambda domains, tables: list(real(domains, tables))[:1])
    assert len(answer(of).kits) == 1


def test_why_no_run_leads_from_one_part_to_the_next_is_told_of_those_alone_that_none_joins() -> None:
    """A core of 25 mm on a shelf whose only hose is one of 19 mm; the core of 19 mm beside it is joined."""
    made = maker(shelf(core("wide-core", spigot="25 mm")))
    told = {
        known.members[0].id: (
            made.refusal("pump", "core", "pump 1", name),
            made.refusal("core", "exchanger", name, "exchanger 1"),
        )
        for name, known in made.classes["core"].items()
    }
    assert told["core"] == (None, None)
    assert [verdict and verdict.rule for verdict in told["wide-core"]] == ["ends-do-not-meet"] * 2


@pytest.mark.parametrize("kind", ["core", "exchanger", "pump", "reservoir", "hose"])
def test_a_shelf_without_one_kind_is_no_kit_and_no_crash(kind: str) -> None:
    assert answer(shelf(gone=(kind,))).outcome == "no_kit"


def test_hose_of_unknown_rating_makes_an_unproven_kit() -> None:
    given = answer(shelf(hose(working=None)))
    assert given.outcome == "not_decided"
    assert [kit.proven for kit in given.kits] == [False]


def test_hose_below_the_pressure_makes_no_kit() -> None:
    """1.1 x 0.5 + 0.6 + 0.05 = 1.2 bar behind the pump."""
    assert answer(shelf(hose(working="1.19 bar"))).outcome == "no_kit"
    assert answer(shelf(hose(working="1.21 bar"))).outcome == "kits"


def test_a_cap_that_states_no_pressure_is_unproven_and_one_too_weak_is_out() -> None:
    silent, weak = cap(), cap()
    silent["coolant"] = {"working": "unknown", "ends": silent["coolant"]["ends"]}
    weak["coolant"] = {"working": "0.54 bar", "ends": weak["coolant"]["ends"]}
    assert [kit.proven for kit in answer(shelf(silent)).kits] == [False]
    assert answer(shelf(weak)).kits == ()


@pytest.mark.parametrize(
    ("brief", "kits"),
    [({"without": ["hose"]}, 0), ({"without": ["second-hose"]}, 1), ({"without": ["clamp-27"]}, 0), ({}, 1)],
)
def test_small_parts_that_are_not_wanted_join_nothing(brief: dict, kits: int) -> None:
    given = answer(shelf(hose("second-hose"), **brief))
    assert len(given.kits) == kits
    assert {joint.hose for kit in given.kits for joint in kit.joints} <= {"hose"}


def test_hose_that_is_out_of_stock_joins_nothing_where_stock_is_asked_for() -> None:
    gone = {**hose(), "stock": 0}
    assert answer(shelf(gone)).outcome == "kits"
    assert answer(shelf(gone, in_stock=True)).outcome == "no_kit"


def test_a_stated_run_counts_whatever_the_zones_are_called() -> None:
    zones = {("left-nose" if name == "nose" else name): zone for name, zone in BRIEF["bay"]["zones"].items()}
    of = shelf(bay={"zones": zones, "runs": {"left-nose-bulkhead": "0.7 m"}})
    (kit,) = filled(of).kept
    # Core to exchanger as stated; between unplaced zones 1.5 m, within one 0.5 m.
    assert [joint.hose_length_m for joint in kit.joints] == [0.5, 1.5, 0.7, 1.5]
