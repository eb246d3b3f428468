"""A drawing held against the answer it shows: by its own coordinates and scale bar, whoever made them."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.house.checkout import ROOT, kitwright
from tests.journeys.kitwright import example as example_brief
from tests.journeys.kitwright import shipped_part, small_shelf, suggest, written
from tests.presentation.drawn import SPACE, Drawing, drawing, edges, example, few_parts, inches, labels

NAMES = ("hatch", "wagon", "retro", "road", "roadster")
VIEWS = {
    # The edge of the paper at which each wall of the zone lies, as an index into left, top, right, bottom.
    "plan": {"right": 0, "back": 1, "left": 2, "front": 3},
    "front": {"right": 0, "top": 1, "left": 2, "floor": 3},
    "side": {"front": 0, "top": 1, "back": 2, "floor": 3},
}


@cache
def sheet(name: str) -> Drawing:
    return drawing(inches()) if name == "inches" else example(name)


def millimetres(text: str) -> float:
    """A length of a brief, read by hand: `24 in`, `2 1/2 in`, `460 mm`."""
    *figures, unit = text.split()
    value = sum(float(f.split("/")[0]) / float(f.split("/")[1]) if "/" in f else float(f) for f in figures)
    return value * {"mm": 1.0, "in": 25.4}[unit]


def wall_gaps(place: dict[str, object], zone: dict[str, object]) -> dict[str, float]:
    """From a placement of the JSON answer to the six walls of its zone [mm], by subtraction alone."""
    at = [float(v) for v in place["at_mm"]]  # type: ignore[attr-defined]
    size = [float(v) for v in place["size_mm"]]  # type: ignore[attr-defined]
    room = [millimetres(str(zone[key])) for key in ("deep", "wide", "high")]
    if place["frame"] == "car":
        corner = [millimetres(str(zone["at"][key])) for key in ("back", "right", "up")]  # type: ignore[index]
        at = [a - c for a, c in zip(at, corner, strict=True)]
    found = {}
    for k, (low, high) in enumerate((("front", "back"), ("left", "right"), ("floor", "top"))):
        found[low], found[high] = at[k], room[k] - at[k] - size[k]
    return found


@pytest.mark.parametrize("name", [*NAMES, "inches"])
def test_gaps_measured_on_the_paper_are_those_of_the_answer(name: str) -> None:
    drawn = sheet(name)
    zones = drawn.brief["bay"]["zones"]
    scale = drawn.mm_per_unit
    measured = 0
    for place in drawn.kit["fit"]["placements"]:
        true = wall_gaps(place, zones[place["zone"]])
        key = drawn_key(drawn, place["slot"])
        for view, walls in VIEWS.items():
            (room,) = [r for r in drawn.rects(view=view, zone=place["zone"]) if r.get("class") == "zone"]
            (part,) = drawn.rects(view=view, zone=place["zone"], key=key)
            for wall, edge in walls.items():
                gap = abs(edges(part)[edge] - edges(room)[edge]) * scale
                assert gap == pytest.approx(true[wall], abs=0.1), (place["slot"], view, wall)
                measured += 1
    assert measured == 12 * len(drawn.kit["fit"]["placements"]) >= 36


def drawn_key(drawn: Drawing, slot: str) -> str:
    """The number that the list of parts gives a slot: the text before its bold name."""
    texts = drawn.texts
    where = next(n for n, text in enumerate(texts) if text.startswith(f"{slot}: "))
    assert texts[where - 1].isdigit()
    return texts[where - 1]


@pytest.mark.parametrize("name", [*NAMES, "inches"])
def test_every_part_and_obstacle_stands_once_in_each_view_of_its_zone(name: str) -> None:
    drawn = sheet(name)
    placed = [(place["zone"], drawn_key(drawn, place["slot"])) for place in drawn.kit["fit"]["placements"]]
    used = {zone for zone, _ in placed}
    standing = [o["in"] for o in drawn.brief["bay"].get("obstacles", []) if o["in"] in used]
    for view in VIEWS:
        zones = [r.get("data-zone") for r in drawn.rects(view=view) if r.get("class") == "zone"]
        assert sorted(map(str, zones)) == sorted(used)
        bodies = [(r.get("data-zone"), r.get("data-key")) for r in drawn.rects(view=view) if r.get("data-key")]
        assert sorted(b for b in bodies if str(b[1]).isdigit()) == sorted(placed)
        assert sorted(str(b[0]) for b in bodies if not str(b[1]).isdigit()) == sorted(standing)
        known = {zone for zone, held in drawn.brief["bay"]["zones"].items() if len(held.get("at", {})) == 3}
        rooms = [r.get("data-zone") for r in drawn.rects(overview=view) if r.get("class") == "room"]
        assert sorted(map(str, rooms)) == sorted(known)


def test_figures_of_a_lone_part_and_of_its_zone_are_written() -> None:
    """The hatch's exchanger, alone in its zone; typed sizes of the zone as they stand in the brief."""
    drawn = example("hatch")
    (place,) = [p for p in drawn.kit["fit"]["placements"] if p["slot"] == "exchanger"]
    gaps = wall_gaps(place, drawn.brief["bay"]["zones"]["nose"])
    for figure in (*gaps.values(), *place["size_mm"]):
        assert f"{figure:g}" in drawn.texts
    assert {"wide 460 mm", "deep 60 mm", "high 150 mm"} <= set(drawn.texts)


def test_a_gap_to_another_body_names_it() -> None:
    """Hatch: the brake cylinder, letter A, is 200 to 320 mm back, 180 to 240 right, 80 to 180 up in the core's zone."""
    drawn = example("hatch")
    (core,) = [p for p in drawn.kit["fit"]["placements"] if p["slot"] == "core"]
    walls = wall_gaps(core, drawn.brief["bay"]["zones"]["bulkhead"])
    low = [walls[wall] for wall in ("front", "left", "floor")]
    cylinder = ((200, 320), (180, 240), (80, 180))
    apart = [max(a - x - size, x - b) for x, size, (a, b) in zip(low, core["size_mm"], cylinder, strict=True)]
    (gap,) = [way for way in apart if way >= 0]
    assert f"{gap:g} to A" in drawn.texts


def test_inches_stand_beside_millimetres() -> None:
    drawn = sheet("inches")
    assert {"wide 24 in (609.6 mm)", "deep 2 1/2 in (63.5 mm)"} <= set(drawn.texts)
    pairs = [(a, b) for a, b in zip(drawn.texts, drawn.texts[1:], strict=False) if re.fullmatch(r"\d+\.\d\d in", a)]
    assert len(pairs) > 20
    for inch, mm in pairs:
        found = re.match(r"\(([\d.]+) mm\)", mm)
        assert found and float(inch.split()[0]) * 25.4 == pytest.approx(float(found[1]), abs=0.18)
    (bar, *_) = drawn.rects(unit="in")
    per_inch = float(bar.get("width", "")) / (float(bar.get("data-to", "")) - float(bar.get("data-from", "")))
    assert per_inch * drawn.mm_per_unit == pytest.approx(25.4, rel=2e-3)


@pytest.mark.parametrize("name", [*NAMES, "inches"])
def test_it_prints_true_to_scale_on_a_page_that_there_is(name: str) -> None:
    """A4 and A3 landscape by ISO 216 (published): 297 x 210 mm and 420 x 297 mm."""
    drawn = sheet(name)
    root = drawn.tree
    wide, high = (float(root.get(key, "").removesuffix("mm")) for key in ("width", "height"))
    assert root.get("width", "").endswith("mm") and root.get("viewBox") == f"0 0 {wide:g} {high:g}"
    page = {297.0: 210.0, 420.0: 297.0}[wide]
    assert high % page == 0
    assert f"size:{wide:g}mm {page:g}mm" in drawn.text
    told = {int(n) for n in re.findall(r"Scale 1:(\d+) on", " ".join(drawn.texts))}
    assert told == {round(drawn.mm_per_unit)} and told <= {1, 2, 5, 10, 20}
    assert drawn.mm_per_unit == pytest.approx(told.pop(), rel=1e-3)
    for label in labels(drawn.text):
        assert label.left > 0.0 and label.right < wide, label
        assert int(label.top // page) == int(label.bottom // page), label


@pytest.mark.parametrize("name", [*NAMES, "inches"])
def test_it_is_whole_xml_with_words_for_those_who_hear_it_and_nothing_from_elsewhere(name: str) -> None:
    drawn = sheet(name)
    root = drawn.tree
    assert root.get("role") == "img" and root.get("aria-labelledby") == "title desc"
    title, desc = root.findtext(f"{SPACE}title") or "", root.findtext(f"{SPACE}desc") or ""
    assert drawn.brief["brief"] in title
    for place in drawn.kit["fit"]["placements"]:
        assert place["part"] in desc and f"its face {place['up']} up" in desc
    elsewhere = r"href|@import|https?://(?!www\.w3\.org/2000/svg)|url\((?!#)|<script|<image|<foreign"
    assert not re.search(elsewhere, drawn.text)
    assert {e.tag.removeprefix(SPACE) for e in root.iter()} <= {
        "svg", "title", "desc", "style", "defs", "pattern", "rect", "line", "circle", "path", "text",
    }  # fmt: skip
    assert "prefers-color-scheme:dark" in drawn.text and "@media print" in drawn.text
    assert "font-family:sans-serif" in drawn.text


def test_letters_are_two_and_a_half_millimetres_tall_at_least() -> None:
    """Capitals of common sans-serif types are 0.716 to 0.73 em tall (Arial, DejaVu Sans; from memory)."""
    text = example("hatch").text
    sizes = [float(n) for n in re.findall(r"font-size:([\d.]+)px", text)]
    assert min(sizes) * 0.715 >= 2.5


def test_words_of_the_brief_are_words_and_no_marks() -> None:
    drawn = drawing(inches(brief="<script>alert(1)</script> & \"q\" 'p' \x1b[1m ]]>"))
    assert "<script" not in drawn.text and "\x1b" not in drawn.text
    heard = " ".join(drawn.tree.itertext())
    assert "<script>alert(1)</script> & \"q\" 'p'" in heard
    assert 'Zone nose <1> & "n"' in drawn.texts
    assert "<hot & 'thing'>, hot, in bulkhead" in " ".join(drawn.texts)


def test_kinds_of_obstacles_differ_in_hatch_and_word() -> None:
    drawn = sheet("inches")
    for kind, key in zip(("plain", "hot", "moving", "crash"), "ABCD", strict=True):
        (pattern,) = drawn.tree.findall(f".//{SPACE}pattern[@id='{kind}']")
        ground, _ = pattern
        assert (ground.tag, ground.get("class")) == (f"{SPACE}rect", "paper")
        assert f".{kind}{{fill:url(#{kind})}}" in drawn.text
        assert f"{key} {kind}" in drawn.texts
    hatches = {ET.tostring(p)[ET.tostring(p).index(b"width") :] for p in drawn.tree.iter(f"{SPACE}pattern")}
    assert len(hatches) == 4


def test_it_warns() -> None:
    said = " ".join(example("retro").texts)
    assert "TIGHT: the tape measure is sure to 5 mm only." in said
    assert "Not a workshop drawing" in said and "Invented data: no maker sells" in said
    assert "Leave crash beams, airbag sensors, radar brackets and pedestrian zones untouched" in said
    assert "TIGHT" not in " ".join(example("roadster").texts)


def test_a_zone_without_a_place_says_so_and_is_not_in_the_overview() -> None:
    drawn = example("hatch")
    assert "place in the car not given" in drawn.texts
    assert drawn.rects(view="plan", zone="side") and not drawn.rects(overview="plan", zone="side")


def test_another_kit_is_another_drawing() -> None:
    brief = example_brief("hatch")
    second = drawing(brief, kit=2)
    assert second.text != drawing(brief).text
    assert any(text.startswith("Kit 2:") for text in second.texts)


def test_its_title_names_what_is_in_the_kit() -> None:
    """Of one layout: with a front exchanger, and with ice without one."""
    kinds = {"cores": "core-350-sturdy", "pumps": "pump-80-race", "reservoirs": "reservoir-40-ice"}
    iced = small_shelf(**{kind: [shipped_part(part)] for kind, part in kinds.items()})
    with TemporaryDirectory() as folder:
        file = Path(folder) / "kit.svg"
        run = suggest(example_brief("drag"), "--json", "--draw", str(file), shelf=iced)
        without = ET.fromstring(file.read_text(encoding="utf-8"))
    assert "exchanger" not in run.kits[0]["parts"] and run.kits[0]["layout"] == example("hatch").kit["layout"]
    plain = example("hatch").tree
    for tree, what in ((without, "one core, no front exchanger"), (plain, "one core, one front exchanger")):
        title = next(tree.iter(f"{SPACE}title")).text or ""
        heads = [text.text or "" for text in tree.iter(f"{SPACE}text")]
        assert f", Kit 1: {what}, scale" in title and any(f"Kit 1: {what}" in text for text in heads)


def test_same_answer_same_bytes() -> None:
    brief = example_brief("retro")
    assert drawing(brief, "--top", "4").text == drawing(brief).text


def test_files_that_are_there_stay_and_a_wrong_command_writes_nothing(tmp_path) -> None:  # type: ignore[no-untyped-def]
    file = tmp_path / "kit.svg"
    (tmp_path / "parts.yaml").write_text(written(few_parts()), encoding="utf-8")
    hatch = [str(ROOT / "examples" / "hatch.yaml"), "--catalogue", str(tmp_path)]
    file.write_text("mine", encoding="utf-8")
    done = kitwright("suggest", *hatch, "--draw", str(file))
    assert done.returncode == 3 and "--force" in done.stderr and file.read_text() == "mine"
    assert kitwright("suggest", *hatch, "--draw", str(file), "--kit", "6").returncode == 2
    assert kitwright("suggest", *hatch, "--sketch", "--json").returncode == 2
    assert file.read_text() == "mine"
    done = kitwright("suggest", *hatch, "--draw", str(file), "--force")
    assert done.returncode == 0 and file.read_text().startswith("<svg ") and "wrote the drawing of kit 1" in done.stderr


@pytest.mark.parametrize("changes", [{"bay": "unmeasured"}, {"aim": {"charge_air": "45 degC"}}])
def test_without_a_placement_nothing_is_drawn(tmp_path, changes) -> None:  # type: ignore[no-untyped-def]
    file = tmp_path / "kit.svg"
    run = suggest(example_brief("hatch", **changes), "--draw", str(file), "--no-ways-out", shelf=few_parts())
    assert run.code in (1, 4) and "nothing was drawn" in run.err
    assert not file.exists()


@pytest.mark.parametrize("name", ["retro", "hatch"])
def test_every_hose_of_the_answer_is_drawn_along_its_route(name: str) -> None:
    """In the car where its zones have a place, else in its zone alone: corners as the answer gives them."""
    drawn = example(name)
    routed = [joint for joint in drawn.kit["joints"] if joint.get("route_mm")]
    assert routed
    paths = [path for path in drawn.tree.iter(f"{SPACE}path") if path.get("class") == "run" and path.get("data-run")]
    for joint in routed:
        hose = [path for path in paths if path.get("data-run") == f"{joint['from']} to {joint['to']}".replace(".", " ")]
        assert hose, (joint["from"], joint["to"])
        whole = max(str(path.get("d")).count("L") for path in hose)
        assert whole <= len(joint["route_mm"]) - 1
    if name == "retro":
        whole = [path for path in paths if str(path.get("d")).count("L") > 1]
        assert len(whole) == 3 * len(routed) == 12
        corners = sorted(str(path.get("d")).count("L") for path in whole)
        assert corners == sorted(3 * [len(joint["route_mm"]) - 1 for joint in routed])
