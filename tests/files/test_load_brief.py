"""A brief with its names looked up."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path

import pytest

from configurator.brief.tables import Tables
from configurator.errors import BadInput
from configurator.files.find_catalogue import shipped_catalogue
from configurator.files.load_brief import load_brief
from configurator.files.load_catalogue import load_catalogue
from configurator.parts.kinds import Fuse
from configurator.parts.shelf import Catalogue
from tests.files.good_files import BRIEF

Shelf = tuple[Catalogue, Tables]
Write = Callable[[str], Path]


def test_a_brief_in_si(brief_file: Write, shelf: Shelf) -> None:
    loaded = load_brief(brief_file(BRIEF), *shelf)
    brief = loaded.brief
    assert brief.engine.power_w == pytest.approx(230_000)
    assert brief.site.air_k == pytest.approx(297.15)
    assert brief.site.altitude_m == pytest.approx(900)
    assert brief.ceiling_k == pytest.approx(353.15)
    assert brief.bay is not None
    assert brief.bay.zones["nose"].deep_m == pytest.approx(0.060)
    assert loaded.driving is shelf[1].driving["hill-climb"]
    assert loaded.own == ()


def test_the_fingerprint_is_of_the_text(brief_file: Write, shelf: Shelf) -> None:
    loaded = load_brief(brief_file(BRIEF), *shelf)
    assert loaded.fingerprint == hashlib.sha256(BRIEF.encode()).hexdigest()[:16]


def test_an_unmeasured_bay(brief_file: Write, shelf: Shelf) -> None:
    bay = BRIEF[BRIEF.index("bay:") : BRIEF.index("own:")]
    assert load_brief(brief_file(BRIEF.replace(bay, "bay: unmeasured\n")), *shelf).brief.bay is None


def test_driving_written_in_place(brief_file: Write, shelf: Shelf) -> None:
    text = BRIEF.replace(
        "driving: hill-climb",
        "driving: {total: 20 min, stretches: [{lasts: 20 s, share: 100 %, speed: 90 km/h}, "
        "{lasts: 40 s, share: 0 %, speed: 30 km/h, fan: false}]}",
    )
    driving = load_brief(brief_file(text), *shelf).driving
    assert driving.total_s == pytest.approx(1200)
    assert [(float(s.lasts_s), s.fan) for s in driving.stretches] == [(20, True), (40, False)]


def test_own_parts_in_their_three_forms(brief_file: Write, shelf: Shelf) -> None:
    fuse_in_place = "{kind: fuse, id: my-fuse, name: F, price: 0, rated: 10 A, fitted: true}"
    own = f"own: [pump-a, {{id: core-a, fitted: true}}, {fuse_in_place}]"
    loaded = load_brief(brief_file(BRIEF.replace("own: []", own)), *shelf)
    assert [(item.part.id, item.fitted) for item in loaded.own] == [
        ("pump-a", False),
        ("core-a", True),
        ("my-fuse", True),
    ]
    fuse = loaded.own[2].part
    assert isinstance(fuse, Fuse)
    assert fuse.rated_a == 10
    assert loaded.own[0].part is shelf[0]["pump-a"]


def test_without_takes_ids_and_kinds(brief_file: Write, shelf: Shelf) -> None:
    text = BRIEF.replace("without: []", "without: [core-a, fan]")
    assert load_brief(brief_file(text), *shelf).brief.without == ("core-a", "fan")


def test_a_start_may_be_a_temperature_or_the_word(brief_file: Write, shelf: Shelf) -> None:
    for written, value in (("5 degC", pytest.approx(278.15)), ("soaked", "soaked")):
        text = BRIEF + f"coolant: {{start: {written}}}\n"
        assert load_brief(brief_file(text), *shelf).brief.coolant.start_k == value


@pytest.mark.parametrize("key", ["own", "wanted", "without"])
def test_an_id_of_other_figures_is_another_part_and_a_mistyped_letter_is_not(brief_file: Write, key: str) -> None:
    """Who followed a hint from one size to another would have another part in the car."""
    told = {}
    for word in ("core-165-short", "core-160-shrt"):
        text = BRIEF.split("own: []")[0] + f"{key}: [{word}]\n"
        with pytest.raises(BadInput) as refusal:
            load_brief(brief_file(text), *load_catalogue(shipped_catalogue()))
        (told[word],) = (problem.text for problem in refusal.value.problems)
    assert told["core-165-short"].startswith("the shelf has no 'core-165-short' (of its kind core: core-150-light, ")
    assert "did you mean" not in told["core-165-short"]
    assert "; did you mean 'core-160-short'?" in told["core-160-shrt"]
