"""The article before a noun, by how the noun is spoken: an English grammar's rule, typed by hand."""

from __future__ import annotations

import pytest

from configurator.standards.articles import with_article


@pytest.mark.parametrize(
    "words",
    [
        "a core", "an exchanger", "a pump", "an adapter", "a hose", "a wye", "a filler neck",
        "an O-ring boss", "an orb", "an NPT", "an R", "an Rc", "an Rp", "a G", "a V-band flange", "a 37° flare",
        "an 8 mm spigot", "an 80 mm coupler", "an 11 mm spigot", "an 18.5 mm hose", "a 110 mm coupler",
        "a 180 mm coupler", "a 76 mm coupler", "a 19 mm spigot", "a Roots blower", "an elbow",
    ],
)  # fmt: skip
def test_article(words: str) -> None:
    assert with_article(words.partition(" ")[2]) == words
