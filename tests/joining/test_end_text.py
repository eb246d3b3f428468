"""An end told in one word: what is read, and what is asked where it cannot be read without a guess."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.parts.end_text import EndQuestion, ToldEnd, read_end
from configurator.parts.ends import End
from configurator.standards.forms import FORMS


def _read(text: str) -> End:
    told = read_end(text)
    assert isinstance(told, ToldEnd), told
    return told.end


def _asked(text: str) -> EndQuestion:
    asked = read_end(text)
    assert isinstance(asked, EndQuestion), asked
    return asked


@pytest.mark.parametrize(
    ("text", "identity"),
    [
        ("orb:-12:female", ("orb", "-12", "female", False, False, "")),
        ("ORB:-12:Female", ("orb", "-12", "female", False, False, "")),
        ("npt:1/8:male", ("npt", "1/8", "male", False, False, "")),
        ("metric:M22x1.5:female", ("metric", "M22x1.5", "female", False, False, "")),
        ("metric-flat:m22X1.5:male", ("metric-flat", "M22x1.5", "male", False, False, "")),
        ("flare37:-10:female:swivel", ("flare37", "-10", "female", False, True, "")),
        ("flare37:-10:swivel:female", ("flare37", "-10", "female", False, True, "")),
        ("r:3/4", ("r", "3/4", "male", False, False, "")),
        ("rc:1/2:female", ("rc", "1/2", "female", False, False, "")),
        ("hose:19mm", ("hose", "19.00", "none", False, False, "")),
        ("hose:3/4in", ("hose", "19.05", "none", False, False, "")),
        ("hose:3/4 in", ("hose", "19.05", "none", False, False, "")),
        ('spigot:2.5":bead', ("spigot", "63.50", "none", True, False, "")),
        ("spigot:19mm:barb", ("spigot", "19.00", "none", True, False, "")),
        ("spigot:19mm:plain", ("spigot", "19.00", "none", False, False, "")),
        ("qc-coolant:16mm:male:form-a", ("qc-coolant", "16.00", "male", False, False, "form-a")),
        ("qc-coolant:form16:male", ("qc-coolant", "form16", "male", False, False, "form16")),
        ("vband:76mm:female:p2", ("vband", "76.00", "female", False, False, "p2")),
        ("flange:57mm", ("flange", "57.00", "none", False, False, "")),
        ("unknown", ("unknown", "unknown", "none", False, False, "")),
        ("unknown:22mm", ("unknown", "22.00", "none", False, False, "")),
    ],
)
def test_ends_as_they_are_written(text: str, identity: tuple[object, ...]) -> None:
    assert _read(text).identity == identity


def test_whether_a_spigot_is_held_is_known_only_where_it_is_said() -> None:
    told = {text: read_end(text) for text in ("spigot:19mm", "spigot:19mm:plain", "spigot:19mm:bead", "hose:19mm")}
    assert [told_end.holding_told for told_end in told.values() if isinstance(told_end, ToldEnd)] == [
        False,
        True,
        True,
        True,
    ]


@pytest.mark.parametrize(
    ("text", "column", "asked_for"),
    [
        ("3/4", 1, ["npt:3/4", "g:3/4", "hose:3/4in", "spigot:3/4in"]),
        ("1-1/4", 1, ["npt:1-1/4"]),
        ("M22", 1, ["pitch", "M22x1.5", "metric-flat"]),
        ("G3/4:male", 1, ["written g:3/4"]),
        ("NPT1/2", 1, ["written npt:1/2"]),
        ("unf:3/4-16", 1, ["no seal", "orb:-8, flare37:-8, flare45:-8"]),
        ("1-1/16-12", 1, ["no seal", "orb:-12, flare37:-12"]),
        ("unf", 1, ["no seal", "an O-ring boss (orb)"]),
        ("unc:1/2-13", 1, ["no end that is known here", "unknown:27mm"]),
        ("M22x1.5", 1, ["metric:M22x1.5", "metric-flat:M22x1.5"]),
        ("metric:M22:female", 8, ["names no pitch", "M22x1.5"]),
        ("metric:M20:female", 8, ["names no pitch"]),
        ("metric:M22x2:female", 8, ["is its pitch that of M22x1.5", "Measure it"]),
        ("-12", 1, ["orb:-12", "flare37:-12", "orfs:-12"]),
        ("hose:-12", 6, ["dash size", "how many mm is its inside"]),
        ("coupler:-16", 9, ["dash size", "inside"]),
        ("spigot:-12:bead", 8, ["dash size", "outside"]),
        ("hose:19", 6, ["hose:19mm or hose:19in"]),
        ("hose:3/4", 6, ["hose:3/4mm or hose:3/4in"]),
        ("hose:19,5mm", 6, ["decimal comma"]),
        ("hose:190cm", 6, ["out of range"]),
        ("19mm", 1, ["hose:19mm", "spigot:19mm", "coupler:19mm"]),
        ("orb:12:female", 5, ["did you mean '-12'"]),
        ("flare37:#10:male", 9, ["did you mean '-10'"]),
        ("orb:-13:female", 5, ["not a size of form 'orb'", "did you mean '-1"]),
        ("npt:-12:male", 5, ["not a size of form 'npt'"]),
        ("orb:-12", 8, ["male or the female", "orb:-12:female"]),
        ("npt", 4, ["which size", "npt:3/4:female"]),
        ("orb:-12:m", 9, ["did you mean 'male'"]),
        ("orb:-12:femal", 9, ["did you mean 'female'"]),
        ("orb:-12:female:male", 16, ["only one can hold"]),
        ("spigot:19mm:bead:plain", 18, ["only one can hold"]),
        ("orb:-12:female:bead", 16, ["only a spigot"]),
        ("hose:19mm:swivel", 11, ["only a threaded end"]),
        ("rc:1/2:male", 4, ["always female"]),
        ("hose:19mm:male", 6, ["always female"]),
        ("orb:-12:female:maker", 16, ["is not known here"]),
        ("an:-10:male", 1, ["flare37"]),
        ("jic:-10:male", 1, ["flare37"]),
        ("bsp:3/4:male", 1, ["g", "rc", "rp"]),
        ("flare73:-10:male", 1, ["did you mean 'flare37'"]),
        ("banjo:12mm", 1, ["not a form", "allowed: orb"]),
        ("", 1, ["which end"]),
        (":", 1, ["which end"]),
    ],
)
def test_what_cannot_be_read_is_asked_for(text: str, column: int, asked_for: list[str]) -> None:
    asked = _asked(text)
    assert asked.column == column, asked
    for words in asked_for:
        assert words in asked.question, asked.question


def test_every_form_can_be_written_and_its_example_is_one_that_is_read() -> None:
    sizes = {"metric": "M22x1.5", "metric-flat": "M22x1.5", "hose": "19mm", "spigot": "19mm", "coupler": "57mm"}
    for form in FORMS:
        if form == "unknown":
            continue
        dashed = form in {"orb", "flare37", "flare45", "orfs"}
        usual = "-8" if dashed else "1/2" if form in {"npt", "g", "r", "rc", "rp"} else "32mm"
        told = read_end(f"{form}:{sizes.get(form, usual)}")
        if isinstance(told, EndQuestion):
            assert told.question.startswith("is it the male or the female one?")
            example = told.question.rsplit(" ", 1)[1]
            assert _read(example).form == form
        else:
            assert told.end.form == form


SAID = ("-12", "12", "3/4", "M22", "M22x1.5", "19mm", "19 in", "male", "female", "swivel", "bead", "barb", "plain")
WORDS = (*FORMS, *SAID)


def test_an_unknown_end_with_a_colon_and_nothing_behind_it_is_asked_for_its_size() -> None:
    told = read_end("unknown:")
    assert isinstance(told, EndQuestion) and told.column == len("unknown:") + 1
    example = told.question.rsplit(" ", 1)[1]
    assert _read(example).form == "unknown"


@given(st.lists(st.one_of(st.sampled_from(WORDS), st.text(max_size=6)), max_size=6).map(":".join))
@settings(max_examples=600)
def test_any_text_is_an_end_or_a_question_inside_it(text: str) -> None:
    read = read_end(text)
    if isinstance(read, EndQuestion):
        assert 1 <= read.column <= len(text) + 1 and read.question
    else:
        assert read.end.form in FORMS
