"""The sheet as a page, read by a parser that knows nothing of how it is made, and held against the JSON answer."""

from __future__ import annotations

import os
import pty
import re
import subprocess
import sys
from collections.abc import Callable
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest

from tests.house.checkout import ROOT
from tests.journeys.checks import run
from tests.journeys.kitwright import Tree, example, shipped_part, written
from tests.presentation.sheets import HOSTILE, Sheet, hostile, no_kit, plain, second, shelf, twins, unmeasured

VOID = ("meta", "link", "img", "br", "hr", "input")
MADE: dict[str, Callable[[], Sheet]] = {
    "plain": plain, "second": second, "no kit": no_kit, "unmeasured": unmeasured, "hostile": hostile,
}  # fmt: skip
ORDER = ("answer", "job", "kit", "bay", "loop", "course", "bill", "joints", "ratings", "reasons", "failures", "start",
         "cautions")  # fmt: skip
WITHOUT = ("answer", "ways-out", "closest", "job", "reasons", "cautions")


class Page(HTMLParser):
    """Elements in order, each with its attributes and all text inside it."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str], list[str]]] = []
        self._open: list[tuple[str, list[str]]] = []
        self.feed(page)
        self.close()
        assert self._open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        inside: list[str] = []
        self.found.append((tag, {key: value or "" for key, value in attrs}, inside))
        if tag not in VOID:
            self._open.append((tag, inside))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, {key: value or "" for key, value in attrs}, []))

    def handle_endtag(self, tag: str) -> None:
        assert self._open and self._open[-1][0] == tag, f"</{tag}> closes {self._open[-1:]}"
        self._open.pop()

    def handle_data(self, data: str) -> None:
        for _, inside in self._open:
            inside.append(data)

    def all(self, tag: str) -> list[tuple[dict[str, str], str]]:
        """Every element of a name: its attributes and its text on one line."""
        return [(given, " ".join(" ".join(inside).split())) for name, given, inside in self.found if name == tag]

    def ids(self) -> list[str]:
        return [given["id"] for _, given, _ in self.found if "id" in given]

    def section(self, ident: str) -> str:
        return next(text for given, text in self.all("section") if given["id"] == ident)


@pytest.fixture(params=MADE)
def page(request: pytest.FixtureRequest) -> Page:
    return Page(MADE[request.param]().page)


def test_it_asks_for_nothing_and_runs_nothing(page: Page) -> None:
    metas = [given for given, _ in page.all("meta")]
    (policy,) = [given["content"] for given in metas if given.get("http-equiv") == "Content-Security-Policy"]
    assert "default-src 'none'" in policy and "script-src" not in policy and "http" not in policy
    assert {tag for tag, _, _ in page.found} & {"script", "link", "img", "iframe", "object", "base", "form"} == set()
    for _, given, _ in page.found:
        assert not [key for key in given if key.startswith("on") or key in ("src", "action", "xlink:href")]
        assert given.get("href", "#").startswith("#")
    style = "".join(text for _, text in page.all("style"))
    assert "@import" not in style and re.findall(r"url\((?!#)", style) == []


def test_it_is_made_for_readers_of_every_kind(page: Page) -> None:
    assert page.found[0][:2] == ("html", {"lang": "en"})
    assert [len(page.all(tag)) for tag in ("h1", "main", "header", "footer", "nav", "title")][:5] == [1, 1, 1, 1, 1]
    levels = [int(tag[1]) for tag, _, _ in page.found if re.fullmatch(r"h[1-6]", tag)]
    assert levels[0] == 1 and all(after <= before + 1 for before, after in pairwise(levels))
    ids = page.ids()
    assert len(ids) == len(set(ids)) > 10
    named = [given[key] for _, given, _ in page.found for key in ("aria-labelledby",) if key in given]
    assert {ident for names in named for ident in names.split()} <= set(ids)
    assert {given["href"][1:] for given, _ in page.all("a")} <= set(ids)
    headers = page.all("th")
    assert headers and all(given.get("scope") in ("col", "row") and text for given, text in headers)
    for given, text in page.all("svg"):
        title, desc = given["aria-labelledby"].split()
        assert given["role"] == "img" and text
        told = {one["id"]: said for tag in ("title", "desc") for one, said in page.all(tag) if "id" in one}
        assert told[title] and desc in told
    scrolling = [given for given, _ in page.all("div") if given.get("class") == "scroll"]
    assert all(given["tabindex"] == "0" and given["role"] == "region" and given["aria-label"] for given in scrolling)


@pytest.mark.parametrize("name", MADE)
def test_its_sections_stand_in_order_and_it_is_small(name: str) -> None:
    made = MADE[name]()
    page = Page(made.page)
    found = [given["id"] for given, _ in page.all("section")]
    assert found == [ident for ident in (WITHOUT if name == "no kit" else ORDER) if ident in found]
    missing = {"no kit": {"ways-out"}}.get(name, set())
    assert set(found) == set(WITHOUT if name == "no kit" else ORDER) - missing
    assert len(made.page.encode()) <= 400_000
    assert made.code == {"no kit": 1, "unmeasured": 4}.get(name, 0)


def _looks_of(place: Tree, part: str) -> list[str]:
    """What a sheet has to say of each end: its face, turned as the answer places the part, by vectors.

    Of a part its right side is up x back (x back, y right, z up in a zone): the right-hand rule, a textbook's.
    """
    def vector(face: str) -> tuple[int, ...]:
        return tuple((1 if face[0] == "+" else -1) * (axis == face[1]) for axis in "xyz")

    def minus(one: tuple[int, ...]) -> tuple[int, ...]:
        return tuple(-step for step in one)

    up, back = vector(place["up"]), minus(vector(place["front"]))
    right = tuple(up[(k + 1) % 3] * back[(k + 2) % 3] - up[(k + 2) % 3] * back[(k + 1) % 3] for k in range(3))
    sides = {up: "up", minus(up): "down", back: "to the back", minus(back): "to the front", right: "to the right",
             minus(right): "to the left"}  # fmt: skip
    held = shipped_part(part)
    ends = [(medium, end) for medium in ("charge", "coolant") if medium in held for end in held[medium]["ends"]]
    both = "charge" in held
    return [
        rf"{sides[vector(end['face'])]}: (\d[a-z] [a-z ]+, )*\d[a-z] {f'{medium} ' if both else ''}{end['name']}\b"
        for medium, end in ends if "face" in end
    ]  # fmt: skip


@pytest.mark.parametrize(("name", "number"), [("plain", 0), ("second", 1)])
def test_its_figures_are_those_of_the_answer(name: str, number: int) -> None:
    made = MADE[name]()
    page, kit = Page(made.page), made.answer["kits"][number]
    heat = kit["thermal"]
    price = f"{kit['price_cents'] / 100:,.2f}"
    assert price in page.section("answer") and f"priced: {price}" in page.section("bill")
    worst = f"{heat['charge_out_worst_c']:.0f} degC"
    assert f"charge out {worst}" in page.section("loop") and worst in page.section("course")
    assert f"charge in {heat['charge_in_c']:.0f} degC" in page.section("loop")
    assert f"{heat['margin_k']:+.1f} K" in page.section("answer")
    bill = page.section("bill")
    for line in kit["lines"]:
        assert line["item"] in bill and (line["part"] or "") in bill
    for place in kit["fit"]["placements"]:
        for looks in _looks_of(place, kit["parts"][place["slot"]][0]):
            assert re.search(looks, page.section("kit")), looks
    boils_c = heat["coolant_worst_c"] + heat["boil_margin_k"]
    told = (heat["coolant_plateau_c"] >= boils_c) + (heat["coolant_full_power_c"] >= boils_c)
    assert page.section("course").count(f"would boil before that, at {boils_c:.0f} degC") == told > 0
    assert f"L of coolant: the {kit['coolant_l']:.1f} L that the loop holds" in bill
    joints = page.section("joints")
    routed, others = joints.count("; routed"), joints.count("; not routed")
    assert f"hoses {routed} of {routed + others} routed" in page.section("answer")
    assert joints.count(" to ") >= len(kit["joints"])
    for side in kit["pressure"].values():
        assert f"{side['design_pa_gauge'] / 1e5:.2f} bar" in page.section("ratings")
    cautions = page.section("cautions")
    assert all(" ".join(caution["text"].split()) in cautions for caution in kit["cautions"])
    assert all(f"{one['about']} (assumed)" in page.section("job") for one in made.answer["assumed"])


def test_the_points_of_the_loop_are_those_of_the_answer() -> None:
    """Flow, and the pressures that each run takes, are in the JSON answer; between them lies what a part takes."""
    kit = plain().answer["kits"][0]
    row = r"(\w+ (?:inlet|outlet)) (\d) ([\d.]+) L/min ([+-][\d.]+) kPa (\d+) degC"
    rows = re.findall(row, Page(plain().page).section("loop"))
    assert [row[0] for row in rows] == [
        "reservoir outlet", "pump inlet", "pump outlet", "core inlet", "core outlet", "exchanger inlet",
        "exchanger outlet", "reservoir inlet",
    ]  # fmt: skip
    assert {float(row[2]) for row in rows} == {round(kit["thermal"]["coolant_flow_l_per_min"], 1)}
    pressures = [float(row[3]) for row in rows]
    runs = [joint["loss_pa"] / 1e3 for joint in kit["joints"] if joint["hose"]]
    for before, after, loss in zip(pressures[::2], pressures[1::2], runs, strict=True):
        assert before - after == pytest.approx(loss, abs=0.11)
    assert pressures[0] == 0.0 and pressures[-1] == pytest.approx(0.0, abs=0.05)
    feed = kit["thermal"]["charge_out_worst_c"] - kit["thermal"]["core_gap_k"]
    assert float(rows[3][4]) == round(feed)


@pytest.mark.parametrize("made", [plain, second, unmeasured, twins])
def test_loop_and_chart_tell_the_same_worst_moment(made: Callable[[], Sheet]) -> None:
    page = Page(made().page)
    of_loop = re.search(r"worst moment of the drive, after ([\d.]+ (?:s|min))", page.section("loop"))
    of_chart = re.search(r"the charge at its worst, \d+ degC after ([\d.]+ (?:s|min))", page.section("course"))
    assert of_loop and of_chart and of_loop[1] == of_chart[1]


def test_the_lowest_rating_is_not_called_the_weakest_member() -> None:
    """The weakest member is the one with the least to spare over what it may see; a leak test asks for the rating."""
    page = Page(plain().page)
    assert page.section("start").count("lowest rating: ") == 2 and "weakest" not in page.section("start")
    for words in re.findall(r"least to spare: ([^(]+) \(", page.section("ratings")):
        assert words in page.section("answer").partition("weakest in pressure")[2]


def test_another_kit_is_told_beside_with_what_it_has_more_or_less() -> None:
    first, other = plain().answer["kits"]
    told = Page(plain().page).section("kit")
    more = (other["price_cents"] - first["price_cents"]) / 100
    assert f"({'+' if more > 0 else '-'}{abs(more):.2f})" in told
    assert f"({other['thermal']['margin_k'] - first['thermal']['margin_k']:+.1f} K)" in told
    assert "in brackets: against kit 2" in Page(second().page).section("kit")


def test_hostile_names_stay_text() -> None:
    made = hostile()
    assert made.code == 0, made.err
    page = Page(made.page)
    assert page.all("script") == [] and "<script" not in made.page
    seen = HOSTILE.replace("\u202e", "").replace("\u200f", "").strip()
    assert any(seen in text for _, text in page.all("h1"))
    assert sum(seen in text for _, text in page.all("td")) >= 4
    assert any(seen[:20] in text for _, text in page.all("svg"))
    assert re.findall("[\u202a-\u202e\u2066-\u2069\u200e\u200f\u061c]", made.page) == []


def test_a_name_of_10_000_letters_is_refused_where_it_stands(tmp_path: Path) -> None:
    stretch = {"lasts": "9 s", "share": "80 %", "speed": "65 km/h"}
    brief = example("hatch", driving={"name": "D" * 10_000, "stretches": [stretch], "total": "9 s"})
    brief["bay"]["zones"]["Z" * 10_000] = {**brief["bay"]["zones"]["nose"], "open": ["front"], "takes": ["exchanger"],
                                           "air": {"face_speed": "5 m/s"}, "at": {}}  # fmt: skip
    parts: Tree = {"cores": [shipped_part("core-260-short", name="W" * 10_000)]}
    (tmp_path / "brief.yaml").write_text(written(brief), encoding="utf-8")
    told = run("sheet", str(tmp_path / "brief.yaml"), "-o", str(tmp_path / "x.html"))
    said = " ".join(told.err.split())
    assert told.code == 3 and "at most 200 letters" in said and "at most 100 letters" in said
    (tmp_path / "parts.yaml").write_text(written(parts), encoding="utf-8")
    told = run("sheet", str(tmp_path / "brief.yaml"), "-o", str(tmp_path / "x.html"), "--catalogue", str(tmp_path))
    assert told.code == 3 and "at most 200 letters" in " ".join(told.err.split()) and not (tmp_path / "x.html").exists()


def test_a_file_stays_unless_it_is_said_to_go_and_a_kit_must_be_there(tmp_path: Path) -> None:
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "parts.yaml").write_text(written(shelf()), encoding="utf-8")
    (tmp_path / "brief.yaml").write_text(written(example("hatch")), encoding="utf-8")
    out = tmp_path / "sheet.html"
    out.write_text("mine", encoding="utf-8")
    words = ("sheet", str(tmp_path / "brief.yaml"), "--catalogue", str(tmp_path / "shelf"), "-o", str(out))
    told = run(*words)
    assert told.code == 3 and "--force" in told.err and out.read_text(encoding="utf-8") == "mine"
    told = run(*words, "--force", "--kit", "7")
    assert told.code == 2 and "no kit 7" in told.err and out.read_text(encoding="utf-8") == "mine"
    assert run(*words, "--force").code == 0 and out.read_text(encoding="utf-8") == plain().page


def test_what_is_asked_first_stands_on_the_first_page() -> None:
    told = Page(plain().page).section("answer")
    for name in ("to buy", "where it sits", "flow at the first run", "before the first start"):
        assert name in told
    flow = re.search(r"flow at the first run ([\d.]+) L/min", told)
    assert flow and f"{flow[1]} L/min" in Page(plain().page).section("start")


def test_what_limits_the_kit_stands_on_the_first_page() -> None:
    """Day, coolant and core add up to the charge; changes of the margin, and the other kit, as the answer has them."""
    told, (mine, other, *_) = Page(plain().page).section("answer"), plain().answer["kits"]
    heat = mine["thermal"]
    words = r"charge at (\d+) degC: a day of (\d+) degC, coolant (\d+) K warmer than that, charge (\d+) K"
    found = re.search(words, told)
    assert found
    charge, day, warmed, gap = (int(one) for one in found.groups())
    assert day + warmed + gap == charge == round(heat["charge_out_worst_c"])
    assert f"the {'core' if gap > warmed else 'coolant'} has the larger share" in told
    for words, key in (("half the air speed", "half_air_margin_k"), ("30 % less coolant flow", "less_flow_margin_k")):
        assert f"{words} {heat[key] - heat['margin_k']:+.1f} K" in told
    gain = other["thermal"]["margin_k"] - heat["margin_k"]
    cents = other["price_cents"] - mine["price_cents"]
    assert gain > 0 and f"kit 2 (other exchanger) {gain:+.1f} K for +{cents / 100:,.2f}" in told
    weakest = told[told.index("weakest in pressure") :]
    for side in ("charge", "coolant"):
        assert re.search(rf"{side} side: [^;]+, good for [\d.]+ bar", weakest)


def test_every_printed_page_has_title_and_number_and_no_name_ends_their_string() -> None:
    """Strings by CSS Syntax 3 (published): a quote, a backslash, a line's end; and `<` that could end the element."""
    for made, title in ((plain(), "Hill-climb hatch: kit 1"), (no_kit(), "Hill-climb hatch: no kit")):
        style = "".join(text for _, text in Page(made.page).all("style"))
        assert f'@bottom-left{{content:"{title}";' in style
        assert '@bottom-right{content:"page " counter(page) " of " counter(pages);' in style
    (bad,) = re.findall(r'@bottom-left\{content:"([^"]*)";font', hostile().page)
    meant = re.sub(r"\\([0-9a-f]+) ", lambda one: chr(int(one[1], 16)), bad)
    assert "<script>alert(1)</script>" in meant and '"q"' in meant
    assert not set(bad) & set("<>&'\"\n;{}") and re.sub(r"\\[0-9a-f]+ ", "", bad).count("\\") == 0


def test_every_drawing_has_a_bar_that_is_true_at_its_own_scale_as_printed() -> None:
    """A width of the brief by the bar beside it; and that bar over its length as printed is the scale that is told."""
    page, zones = Page(plain().page), example("hatch")["bay"]["zones"]
    rects = [given for given, _ in page.all("rect")]
    share = float(re.findall(r"calc\(var\(--wide\)\*(\.\d+)\);?\}", plain().page)[0])
    told = {"unit": r"Drawn 1:(\d+)", "overview-unit": r"In the car, 1:(\d+)"}
    for key, words in told.items():
        bars = [one for one in rects if one.get(f"data-{key}") == "mm"]
        per_mm = {(float(one["data-to"]) - float(one["data-from"])) / float(one["width"]) for one in bars}
        assert bars and max(per_mm) - min(per_mm) < 0.02
        scale = re.search(words, page.section("bay"))
        assert scale and max(per_mm) / share == pytest.approx(int(scale[1]), rel=2e-3)
        look = {"unit": {"class": "zone", "data-view": "front"}, "overview-unit": {"class": "room",
                "data-overview": "front"}}[key]  # fmt: skip
        (nose,) = [one for one in rects if {**look, "data-zone": "nose"}.items() <= one.items()]
        wide = float(str(zones["nose"]["wide"]).split()[0])
        assert float(nose["width"]) * max(per_mm) == pytest.approx(wide, rel=5e-3)


def test_without_a_kit_it_says_what_comes_near() -> None:
    page, answer = Page(no_kit().page), no_kit().answer
    assert answer["outcome"] == "no_kit"
    near = answer["closest"][0]
    assert f"{near['thermal']['margin_k']:+.1f} K" in page.section("closest") and "aim" in page.section("closest")
    assert all(" ".join(one["text"].split()) in page.section("cautions") for one in near["cautions"])


def test_what_one_change_buys_stands_there_where_it_is_asked_for() -> None:
    asked, plainly = (Page(made().page).section("reasons") for made in (second, plain))
    assert "What one change buys" in asked and "uy first" in asked
    assert "What one change of kit 2" in asked and "What one change" not in plainly


def test_a_person_at_a_terminal_sees_how_far_it_is_and_a_file_does_not(tmp_path: Path) -> None:
    (tmp_path / "brief.yaml").write_text(written(example("hatch")), encoding="utf-8")
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "parts.yaml").write_text(written(shelf()), encoding="utf-8")
    out = str(tmp_path / "a.html")
    words = ["sheet", str(tmp_path / "brief.yaml"), "--catalogue", str(tmp_path / "shelf"), "-o", out]
    person, terminal = pty.openpty()
    done = subprocess.run(
        [sys.executable, "-m", "configurator", *words], cwd=ROOT, env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE, stderr=terminal, check=False,
    )  # fmt: skip
    os.close(terminal)
    seen = os.read(person, 1 << 16).decode("utf-8")
    os.close(person)
    assert done.returncode == 0 and done.stdout == b""
    told = [line.strip() for line in seen.replace("\n", "\r").split("\r") if line.strip()]
    assert any(words.startswith("predicting loops 1 to") for words in told) and "the drawings" in told
    assert told[-1] == f"wrote the sheet of kit 1: {out}"
    assert plain().err.startswith("wrote the sheet of kit 1: ") and "\r" not in plain().err
