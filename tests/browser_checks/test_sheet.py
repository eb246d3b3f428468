"""A sheet in a real browser: it asks for nothing, stays inside every width, can be read by all, and prints whole.

Contrast: WCAG 2.2, success criterion 1.4.3, 4.5 to 1, by relative luminance as defined there (published); what else a
page owes those who hear it or use keys alone: axe-core. Looked at are the sheets of all examples, one without a kit
on a small shelf, and one whose names are as bad as a catalogue lets them be.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from tests.browser_checks.axe import SHA256, barred, checked, violations
from tests.browser_checks.browser import A4, LETTER, Browser
from tests.browser_checks.conftest import EXAMPLES, PAGES, SMALL

pytestmark = pytest.mark.browser
Pages = Mapping[str, Path]
MOST_PAGES = {"hostile": 7, "twins": 7}
"""Names of 200 letters without a space, and two cores, may take one page more than six; nothing of them may be cut."""
DARK = (*SMALL, "hatch", "track")
WIDTHS = (360, 768, 1280)
MEASURE = (Path(__file__).parent / "measure.js").read_text(encoding="utf-8")
CUT = "[...document.querySelectorAll('.scroll')].filter((e) => e.scrollWidth > e.clientWidth + 1).length"


def test_all_examples_are_looked_at() -> None:
    assert len(EXAMPLES) >= 9 and set(DARK) < set(PAGES)


@pytest.mark.parametrize("name", PAGES)
def test_it_asks_for_nothing_and_nothing_goes_wrong(browser: Browser, pages: Pages, name: str) -> None:
    browser.open(pages[name])
    asked = [event["params"]["request"]["url"] for event in browser.events
             if event.get("method") == "Network.requestWillBeSent"]  # fmt: skip
    assert asked == [pages[name].as_uri()]
    told = {event.get("method") for event in browser.events}
    assert not told & {"Runtime.consoleAPICalled", "Runtime.exceptionThrown", "Log.entryAdded"}


@pytest.mark.parametrize(("name", "dark"), [*((name, False) for name in PAGES), *((name, True) for name in DARK)])
def test_no_width_overflows_and_all_text_can_be_read(
    browser: Browser, pages: Pages, axe: str, name: str, dark: bool
) -> None:
    browser.open(pages[name], WIDTHS[0], dark=dark)
    for wide in WIDTHS:
        browser.width(wide)
        found = browser.value(MEASURE)
        assert found["texts"] > 60 and found["room"] == wide
        assert found["wide"] <= wide and found["out"] == [], (wide, found["wide"], found["out"][:5])
        assert found["poor"] == [], found["poor"][:5]
    assert barred(violations(browser, axe)) == []


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
def test_it_prints_on_six_pages_at_most_and_nothing_is_cut(
    browser: Browser, pages: Pages, name: str, paper: tuple[float, float]
) -> None:
    browser.open(pages[name])
    printed = browser.pdf(paper)
    assert 1 <= len(re.findall(rb"/Type\s*/Page\b(?!s)", printed)) <= MOST_PAGES.get(name, 6)
    inside_px = round((paper[0] - 2 * 13 / 25.4) * 96)
    browser.width(inside_px)
    browser.call("Emulation.setEmulatedMedia", media="print")
    assert browser.value("getComputedStyle(document.querySelector('nav')).display") == "none"
    found = browser.value(MEASURE)
    assert found["wide"] <= inside_px and found["out"] == [] and found["poor"] == []
    assert browser.value(CUT) == 0


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


def test_what_axe_bars_it_finds(
    browser: Browser, axe: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A page without a language, a picture without words, a field without a name; and what is only printed."""
    bad = tmp_path / "bad.html"
    bad.write_text(
        "<!doctype html><title>bad</title><body><h1>Bad</h1><h4>Out of order</h4>"
        "<svg role='img' width='9' height='9'></svg><input><p style='color:#aaa'>grey</p>", encoding="utf-8"
    )  # fmt: skip
    browser.open(bad)
    assert {one.rule for one in barred(violations(browser, axe))} == {
        "color-contrast", "html-has-lang", "label", "svg-img-alt"
    }  # fmt: skip
    assert "axe, moderate: heading-order" in capsys.readouterr().out


def test_another_script_than_the_pinned_one_is_not_run() -> None:
    with pytest.raises(AssertionError, match="not the axe-core"):
        checked(b"another script")
    assert re.fullmatch("[0-9a-f]{64}", SHA256)


def test_keys_alone_reach_every_section_and_every_wide_table(browser: Browser, pages: Pages) -> None:
    browser.open(pages["plain"], 360)
    reached = []
    for _ in range(40):
        for kind in ("keyDown", "keyUp"):
            browser.call("Input.dispatchKeyEvent", type=kind, key="Tab", code="Tab", windowsVirtualKeyCode=9)
        reached.append(browser.value("document.activeElement.getAttribute('href') || document.activeElement.className"))
    sections = browser.value("[...document.querySelectorAll('section')].map((e) => '#' + e.id)")
    assert set(sections) <= set(reached) and "#main" in reached
    assert reached.count("scroll") >= browser.value("document.querySelectorAll('.scroll').length") > 0
