"""What is said where a brief can host none of the layouts that are in question."""

from __future__ import annotations

from dataclasses import replace

from configurator.parts.layouts import Layout
from configurator.parts.shelf import make_catalogue
from configurator.questions.suggest import no_layout
from configurator.search.hosts import hosted
from tests.journeys.kitwright import shipped
from tests.search.small_shelves import job_of, shelf


def said(**changes: object) -> str:
    """The sentence of a small shelf without a valve."""
    of = job_of(shelf(**changes))
    layouts = [Layout.model_validate(written) for written in shipped("layouts")]
    of = replace(of, catalogue=make_catalogue(of.catalogue.parts.values(), layouts))
    assert not hosted(of)
    return no_layout(of).text


def test_a_bypass_without_a_valve_says_that_there_is_none() -> None:
    text = "The layouts bypass need a bypass valve, and there is none on the shelf that the brief allows."
    assert said(layouts=["bypass"]) == text


def test_twins_of_a_kind_that_is_not_wanted_say_so() -> None:
    assert "need two parts of a kind that the brief does not want" in said(
        layouts=["twin-exchangers-series"], without=["exchanger"]
    )
