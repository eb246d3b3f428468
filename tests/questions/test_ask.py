"""The walk through the questions: their order, what is skipped, one step back, defaults. The order is the counter's:
common practice, no source.
"""

from __future__ import annotations

from itertools import groupby, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.questions import ask
from configurator.questions.ask import Answers, Asked, Said
from configurator.questions.ask_table import BY_KEY, DEFAULT, QUESTIONS, UNMEASURED

TOPICS = ["car and engine", "driving", "place", "aim", "limits", "gaps", "what there is already", "wishes"]


def said(**words: str) -> Answers:
    """Answers by key, in the order given; lists with commas between."""
    return Answers(tuple(Said(key.replace("_", "-"), "", tuple(text.split(", "))) for key, text in words.items()))


def walked(answers: Answers) -> list[tuple[str, str]]:
    """The questions that these answers lead to."""
    return [(one.question.key, one.item) for one in ask.asked(answers)]


def keys(answers: Answers) -> set[str]:
    return {key for key, _ in walked(answers)}


def test_the_table_is_sound() -> None:
    """Keys are there once; what a question waits for stands before it, so that a walk forward finds it answered."""
    assert len(BY_KEY) == len(QUESTIONS)
    for place, question in enumerate(QUESTIONS):
        before = {one.key for one in QUESTIONS[:place]}
        assert {key for key, _ in question.when} <= before, question.key
        assert not question.each or question.each in before
        assert question.words.endswith("?") or question.key in ("gaps", "obstacles")


def test_topics_come_in_the_order_of_a_counter_and_once() -> None:
    assert [topic for topic, _ in groupby(QUESTIONS, key=lambda question: question.topic)] == TOPICS


def test_keys_of_a_brief_below_one_another_stand_together() -> None:
    """Else the brief would have one of its keys twice."""
    heads = [question.path[0] for question in QUESTIONS if question.path and not question.each]
    assert len({*heads}) == len([head for head, _ in groupby(heads)])


def test_it_begins_with_the_name_and_ends_when_all_is_said() -> None:
    first = ask.next_question(Answers())
    assert first is not None and first.question.key == "name"
    answers = Answers()
    replies = {"gaps": ("nose", "side"), "gap-takes": ("core",), "aim": ("ceiling",), "driving": ("hill-climb",)}
    steps = 0
    while (one := ask.next_question(answers)) is not None:
        usual = ("1",) if one.question.default is None else (DEFAULT,)
        answers = ask.answered(answers, one, replies.get(one.question.key, usual))
        steps += 1
    assert steps == len(walked(answers)) == len(answers.said)
    assert [(one.key, one.item) for one in answers.said] == walked(answers)


@pytest.mark.parametrize(
    "answers, asked_too, not_asked",
    [
        (said(displacement="1.6 L"), {"rev-limit"}, set()),
        (said(displacement=DEFAULT), set(), {"rev-limit"}),
        (said(charger_outlet="57 mm"), {"charger-outlets"}, set()),
        (said(driving="own"), {"stretches", "total"}, set()),
        (said(driving="track"), set(), {"stretches", "total"}),
        (said(aim="ceiling"), {"ceiling"}, {"above-air"}),
        (said(aim="above-air"), {"above-air"}, {"ceiling"}),
        (said(after="5 min standstill"), {"after-run"}, {"ice"}),
        (said(after=DEFAULT, coolant="water", ice="crushed"), {"ice", "ice-mass"}, {"after-run"}),
        (said(after=DEFAULT, coolant="water", ice=DEFAULT), {"ice"}, {"ice-mass"}),
        (said(after=DEFAULT, coolant="ethylene glycol"), set(), {"ice"}),
        (said(gaps=UNMEASURED), set(), {"gap-takes", "gap-wide", "obstacles"}),
        (said(gaps="nose"), {"gap-takes", "gap-wide", "obstacles"}, {"gap-air", "obstacle-in"}),
        (said(gaps="nose", obstacles="bracket"), {"obstacle-in", "obstacle-kind"}, set()),
    ],
)
def test_what_is_asked_follows_what_was_said(answers: Answers, asked_too: set[str], not_asked: set[str]) -> None:
    assert asked_too <= keys(answers)
    assert not not_asked & keys(answers)


def test_a_gap_is_asked_about_whole_before_the_next() -> None:
    answers = Answers((*said(gaps="nose, side").said, Said("gap-takes", "side", ("exchanger",))))
    order = [(key, item) for key, item in walked(answers) if key.startswith("gap-")]
    assert [item for item, _ in groupby(item for _, item in order)] == ["nose", "side"]
    assert ("gap-air", "side") in order and ("gap-air", "nose") not in order


def test_a_car_called_default_keeps_its_name() -> None:
    assert said(name=DEFAULT).told("name") == (DEFAULT,)
    assert said(price=DEFAULT).told("price") == ()


def test_back_takes_the_last_answer_and_no_further_at_the_start() -> None:
    one = said(name="Hatch")
    two = Answers((*one.said, Said("power", "", ("230 kW",))))
    assert ask.back(two) == one and ask.back(one) == Answers() and ask.back(Answers()) == Answers()


def test_back_from_after_a_gap_that_is_taken_away_leaves_nothing_of_it() -> None:
    """What was said of a gap that is named no more stays out of the brief, and out of what is kept."""
    answers = Answers((*said(gaps="nose, side").said, Said("gap-takes", "side", ("core",))))
    fewer = ask.answered(answers, Asked(BY_KEY["gaps"]), ("nose",))
    assert ("gap-takes", "side") not in walked(fewer)
    assert [one.key for one in ask.without_vain(fewer).said] == ["gaps"]


@given(st.lists(st.booleans(), max_size=60))
def test_back_undoes_every_step_of_a_walk(passed_by: list[bool]) -> None:
    """Forward by any mixture of answers and defaults, then back as often: each state is met again."""
    usual = {"gaps": ("nose",), "gap-takes": ("exchanger",), "gap-air": ("ram",), "driving": ("own",)}
    states = [Answers()]
    for passes in passed_by:
        one = ask.next_question(states[-1])
        if one is None:
            break
        default = passes and one.question.default is not None
        states.append(ask.answered(states[-1], one, (DEFAULT,) if default else usual.get(one.question.key, ("1",))))
    for before, after in pairwise(states):
        assert ask.back(after) == before


def test_defaults_are_taken_and_what_has_none_is_missing() -> None:
    answers = said(name="Hatch", gaps="nose")
    lacking = {(one.question.key, one.item) for one in ask.missing(answers)}
    assert {("power", ""), ("driving", ""), ("gap-takes", "nose"), ("gap-wide", "nose")} <= lacking
    assert ("price", "") not in lacking and ("gap-ram-share", "nose") not in lacking
    assert ask.with_defaults(answers).of("price") == (DEFAULT,)


def test_a_size_that_is_not_measured_leaves_the_bay_unmeasured() -> None:
    answers = said(gaps="nose")
    assert not ask.unmeasured(answers)
    assert ask.unmeasured(Answers((*answers.said, Said("gap-wide", "nose", (UNMEASURED,)))))
    gone = Answers((*answers.said, Said("gap-wide", "side", (UNMEASURED,))))
    assert not ask.unmeasured(gone)
