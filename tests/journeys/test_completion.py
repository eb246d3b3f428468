"""A half-written id is completed by the shell, as the shells ask for it."""

from __future__ import annotations

import pytest

from tests.journeys.checks import run


@pytest.mark.parametrize("words", ["kitwright why brief.yaml core-26", "kitwright shelf show core-26"])
def test_the_ids_of_parts_that_begin_so(words: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("_KITWRIGHT_COMPLETE", "complete_bash")
    monkeypatch.setenv("COMP_WORDS", words)
    monkeypatch.setenv("COMP_CWORD", str(len(words.split()) - 1))
    told = run(*words.split()[1:])
    assert "core-260-short" in told.out.split()
    assert all(word.startswith("core-26") for word in told.out.split())


def test_a_catalogue_that_is_not_there_completes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("KITWRIGHT_CATALOGUE", "/nowhere")
    monkeypatch.setenv("_KITWRIGHT_COMPLETE", "complete_bash")
    monkeypatch.setenv("COMP_WORDS", "kitwright why brief.yaml co")
    monkeypatch.setenv("COMP_CWORD", "3")
    told = run("why", "brief.yaml", "co")
    assert told.out.split() == [] and "Traceback" not in told.err
