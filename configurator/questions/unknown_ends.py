"""Ends of a box of which nobody knows what they are: what joins them is asked, not refused."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.foundations.verdicts import Verdict
from configurator.joining.mating import mate
from configurator.joining.words import ASK_THE_CUSTOMER, end_words
from configurator.parts.kit import Medium
from configurator.search.step_joints import Place


def unknown_ends(starts: Sequence[Place], finishes: Sequence[Place], medium: Medium) -> Verdict | None:
    """That nobody can say what joins these ends, with the question to ask; None where it is known what each is."""
    unknown = {end.identity: end for _, end in (*starts, *finishes) if end.form == "unknown"}
    if not unknown:
        return None
    named = " and ".join(end_words(end) for end in unknown.values())
    questions = dict.fromkeys(mate(end, end, medium=medium).question for end in unknown.values())
    subjects = tuple(f"{slot}.{end.name}" for slot, end in (starts[0], finishes[0]))
    text = f"{named} cannot be judged. {ASK_THE_CUSTOMER} {' '.join(questions)}"
    return Verdict("unknown-end", "not checked", subjects, text=text)
