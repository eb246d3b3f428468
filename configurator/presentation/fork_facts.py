"""The fork before any kit as facts to print, and for other programs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from configurator.questions.answer import Answer
from configurator.reasons.fork_words import fork_text

_ZERO_C = 273.15


def fork_words(answer: Answer, names: Mapping[str, str]) -> str:
    """What is said before any kit; empty where nothing is."""
    fork = answer.fork
    if fork is None:
        return ""
    front = names.get(fork.front, fork.front)
    return fork_text(fork.code, fork.loop_k, fork.other_k, answer.ceiling_k, front, fork.zone)


def fork_json(answer: Answer, names: Mapping[str, str]) -> dict[str, Any] | None:
    """The same for other programs: code, sentence, the coolest charge of a loop and the two ends of the other way."""
    fork = answer.fork
    if fork is None:
        return None
    cool, warm = (round(kelvin - _ZERO_C, 2) for kelvin in fork.other_k)
    return {
        "code": fork.code,
        "text": fork_words(answer, names),
        "charge_out_loop_c": round(fork.loop_k - _ZERO_C, 2),
        "charge_out_other_low_c": cool,
        "charge_out_other_high_c": warm,
    }
