"""The verdict on two ends for a person: yes or no in a sentence, why, the hazard, what to buy."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Final

from configurator.joining.mating import MEDIUM_WORDS
from configurator.joining.words import bar_words, celsius_words, end_words
from configurator.parts.kit import Need
from configurator.questions.mate_ends import MateAnswer

WIDTH: Final = 80
SENTENCES: Final = {
    "direct": "Yes: {pair} go together as they are.",
    "adapter": "Not as they are: {pair} need something between them.",
    "refuse": "No: never put {pair} together.",
    "ask": "Not known yet: {pair} cannot be judged.",
}


def mate_text(answer: MateAnswer) -> str:
    """The whole screen, without colour."""
    lines = _wrapped("", SENTENCES[answer.mating.verdict].format(pair=" and ".join(map(end_words, answer.ends))))
    for label, text in _facts(answer):
        lines += _wrapped(f"{label}: ", text)
    return "\n".join(lines) + "\n"


def _facts(answer: MateAnswer) -> Iterator[tuple[str, str]]:
    mating = answer.mating
    yield "Why", mating.why
    if mating.hazard:
        yield "Hazard", mating.hazard
    if mating.question:
        yield "Ask the customer", mating.question
    if mating.needs:
        yield "It takes", _needs(mating.needs)
    if mating.remedy:
        yield "Instead", mating.remedy
    if answer.bridge is not None:
        yield "Instead, buy" if mating.verdict == "refuse" else "Buy", _bridge(answer)
    if answer.missing:
        yield "Missing", answer.missing
    if answer.refused:
        yield "On the shelf", answer.refused
    for caution in answer.cautions:
        yield "Caution", caution.text
    yield "Judged for", _service(answer)


def _bridge(answer: MateAnswer) -> str:
    assert answer.bridge is not None
    bridge = answer.bridge
    pieces = [] if bridge.adapter is None else [f"{bridge.adapter.name} [{bridge.adapter.id}]"]
    pieces += [f"a short piece of {stub.name} [{stub.id}]" for stub in bridge.stubs]
    needs = f"; it takes {_needs(bridge.needs)}" if bridge.needs else ""
    return f"{' and '.join(pieces)}, {bridge.price_cents / 100:,.2f}{needs}"


def _needs(needs: tuple[Need, ...]) -> str:
    return ", ".join(need.item if need.quantity == 1 else f"{need.quantity:g} × {need.item}" for need in needs)


def _service(answer: MateAnswer) -> str:
    service = answer.service
    words = MEDIUM_WORDS[service.medium] + ("" if answer.medium_told else " (say --medium if it is another)")
    if service.boost_pa_gauge:
        words += f", {bar_words(service.boost_pa_gauge)} of boost"
    if service.pressure_pa_gauge:
        words += f", {bar_words(service.pressure_pa_gauge)}"
    if service.hottest_k is not None:
        words += f", up to {celsius_words(service.hottest_k)}"
        words += "" if answer.heat_told else ", assumed (--hottest says otherwise)"
    if service.suction:
        words += ", under suction"
    return words


def _wrapped(label: str, text: str) -> list[str]:
    return textwrap.wrap(label + text, WIDTH, subsequent_indent="  " if label else "")
