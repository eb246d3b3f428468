"""A sheet in a real browser: it asks for nothing, stays inside every width, can be read, and prints whole.

Contrast: WCAG 2.2, success criterion 1.4.3, 4.5 to 1, by relative luminance as defined there (published). Both the page
with a kit and the one without are looked at, and one whose names are as bad as a catalogue lets them be.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.browser_checks.browser import A4, LETTER, Browser
from tests.presentation.sheets import hostile, no_kit, plain

pytestmark = pytest.mark.browser
PAGES = ("plain", "hostile", "no kit")
MOST_PAGES = {"plain": 6, "no kit": 6, "hostile": 7}
"""Names of 200 letters without a space may take one page more; nothing of them may be cut."""
MEASURE = (Path(__file__).parent / "measure.js").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    one = Browser()
    yield one
    one.close()


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("pages")
    written = {}
    for name, made in zip(PAGES, (plain, hostile, no_kit), strict=True):
        written[name] = folder / f"{name.replace(' ', '-')}.html"
        written[name].write_text(made().page, encoding="utf-8")
    return written


@pytest.mark.parametrize("name", PAGES)
def test_it_asks_for_nothing_and_nothing_goes_wrong(browser: Browser, pages: dict[str, Path], name: str) -> None:
    browser.open(pages[name])
    asked = [event["params"]["request"]["url"] for event in browser.events
             if event.get("method") == "Network.requestWillBeSent"]  # fmt: skip
    assert asked == [pages[name].as_uri()]
    told = {event.get("method") for event in browser.events}
    assert not told & {"Runtime.consoleAPICalled", "Runtime.exceptionThrown", "Log.entryAdded"}


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_no_width_overflows_and_all_text_can_be_read(
    browser: Browser, pages: dict[str, Path], name: str, dark: bool
) -> None:
    for wide in (360, 768, 1280):
        browser.open(pages[name], wide, dark=dark)
        found = browser.value(MEASURE)
        assert found["texts"] > 60 and found["room"] == wide
        assert found["wide"] <= wide and found["out"] == [], (wide, found["wide"], found["out"][:5])
        assert found["poor"] == [], found["poor"][:5]


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
def test_it_prints_on_six_pages_at_most_and_nothing_is_cut(
    browser: Browser, pages: dict[str, Path], name: str, paper: tuple[float, float]
) -> None:
    browser.open(pages[name])
    printed = browser.pdf(paper)
    assert 1 <= len(re.findall(rb"/Type\s*/Page\b(?!s)", printed)) <= MOST_PAGES[name]
    inside_px = round((paper[0] - 2 * 13 / 25.4) * 96)
    browser.width(inside_px)
    browser.call("Emulation.setEmulatedMedia", media="print")
    assert browser.value("getComputedStyle(document.querySelector('nav')).display") == "none"
    found = browser.value(MEASURE)
    assert found["wide"] <= inside_px and found["out"] == [] and found["poor"] == []
    cut = "[...document.querySelectorAll('.scroll')].filter((e) => e.scrollWidth > e.clientWidth + 1).length"
    assert browser.value(cut) == 0


def test_what_is_measured_can_fail(browser: Browser, tmp_path: Path) -> None:
    """A page with a word that is too long and grey letters: the case that shows the checks above can fail."""
    bad = tmp_path / "bad.html"
    words = "<p>plain words</p>" * 101
    bad.write_text(
        f"<!doctype html><body><p style='color:#aaa'>grey</p><p>{'W' * 200}</p>{words}"
        "<script>console.error('seen')</script><img src='missing.png'>", encoding="utf-8"
    )  # fmt: skip
    browser.open(bad, 360)
    found = browser.value(MEASURE)
    assert found["wide"] > 360 and len(found["poor"]) == 1
    told = [event.get("method") for event in browser.events]
    assert "Runtime.consoleAPICalled" in told and told.count("Network.requestWillBeSent") == 2


def test_keys_alone_reach_every_section_and_every_wide_table(browser: Browser, pages: dict[str, Path]) -> None:
    browser.open(pages["plain"], 360)
    reached = []
    for _ in range(40):
        for kind in ("keyDown", "keyUp"):
            browser.call("Input.dispatchKeyEvent", type=kind, key="Tab", code="Tab", windowsVirtualKeyCode=9)
        reached.append(browser.value("document.activeElement.getAttribute('href') || document.activeElement.className"))
    sections = browser.value("[...document.querySelectorAll('section')].map((e) => '#' + e.id)")
    assert set(sections) <= set(reached) and "#main" in reached
    assert reached.count("scroll") >= browser.value("document.querySelectorAll('.scroll').length") > 0
