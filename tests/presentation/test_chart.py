"""Charts of temperatures over an event, read back as a ruler would: by the figures at their own grid lines."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from bisect import bisect_left
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from configurator.presentation.chart.axes import level_axis, round_step, time_axis
from configurator.presentation.chart.panels import rounds_of, spans_of
from tests.house.checkout import kitwright
from tests.journeys.kitwright import Tree, example, shipped, shipped_part, small_shelf, suggest, written
from tests.presentation.drawn import SPACE, labels

PARTS = {
    "hatch": ("core-260-short", "exchanger-350-slim", "pump-40-small", "reservoir-8-cube"),
    "track": ("core-190-wide", "exchanger-640-broad", "pump-50-medium", "reservoir-0.7-bottle"),
    "drag": ("core-350-sturdy", "", "pump-80-race", "reservoir-40-ice"),
    "commuter": ("core-160-short", "exchanger-250-square", "pump-40-small", "reservoir-0.7-bottle"),
}
"""Parts of a kit for each example, so that one loop is the whole shelf."""
KINDS = ("cores", "exchangers", "pumps", "reservoirs")


@dataclass(frozen=True)
class Chart:
    """A chart as text, the trace of the same kit, and the kit of the JSON answer."""

    text: str
    trace: tuple[Mapping[str, float], ...]
    kit: Tree

    @property
    def tree(self) -> ET.Element:
        return ET.fromstring(self.text)

    @property
    def texts(self) -> list[str]:
        return [element.text or "" for element in self.tree.iter(f"{SPACE}text")]

    def rows(self) -> tuple[Mapping[str, float], ...]:
        """Records with the engine running: only then charge flows."""
        return tuple(row for row in self.trace if row["share"] > 0.0)


@cache
def shelf(name: str) -> Tree:
    parts = {kind: [shipped_part(part)] for kind, part in zip(KINDS, PARTS[name], strict=True) if part}
    if name == "commuter":
        for kind, part in (("fans", "fan-225"), ("timers", "timer-5")):
            parts[kind] = [one for one in shipped(kind) if one["id"] == part]
    return small_shelf(**parts)


@cache
def chart(name: str) -> Chart:
    """The chart and the trace of kit 1, by one run of the command."""
    with TemporaryDirectory() as folder:
        file = Path(folder) / "chart.svg"
        run = suggest(example(name), "--json", "--chart", str(file), shelf=shelf(name), trace=True)
        assert run.code == 0, run.err
        return Chart(file.read_text(encoding="utf-8"), run.trace, run.kits[0])


def numbers(path: str) -> list[tuple[float, float]]:
    found = [float(value) for value in re.findall(r"-?[\d.]+", path)]
    return list(zip(found[::2], found[1::2], strict=True))


def segments(element: ET.Element) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    return list(pairwise(numbers(element.get("d", ""))))


def ruler(points: list[tuple[float, float]], paper: float) -> float:
    """The value at a place on paper, by two marks (place, value)."""
    (a, first), (b, last) = min(points), max(points)
    return first + (paper - a) / (b - a) * (last - first)


def panels(of: Chart) -> list[tuple[float, float]]:
    """Left and right edge of each panel: the tall frames."""
    frames = [r for r in of.tree.iter(f"{SPACE}rect") if r.get("class") == "frame" and float(r.get("height", "")) > 50]
    return [(float(r.get("x", "")), float(r.get("x", "")) + float(r.get("width", ""))) for r in frames]


def level_marks(of: Chart) -> list[tuple[float, float]]:
    """Heights of the level lines of the grid with the figures beside them."""
    lines = {float(e.get("y1", "")) for e in of.tree.iter(f"{SPACE}line")
             if e.get("class") == "grid" and e.get("y1") == e.get("y2")}  # fmt: skip
    left = panels(of)[0][0]
    words = [e for e in of.tree.iter(f"{SPACE}text") if re.fullmatch(r"-?\d+", e.text or "")
             and e.get("text-anchor") == "end" and "font-size" not in e.get("style", "")]  # fmt: skip
    assert len(words) == len(lines) > 3 and all(float(e.get("x", "")) < left for e in words)
    heights = sorted(float(e.get("y", "")) for e in words)
    beside = {float(e.get("y", "")): float(e.text or "") for e in words}
    return [(line, beside[height]) for line, height in zip(sorted(lines), heights, strict=True)]


def time_marks(of: Chart, panel: tuple[float, float]) -> list[tuple[float, float]]:
    """Places of the times under a panel with their figures, as printed."""
    found = [e for e in of.tree.iter(f"{SPACE}text") if re.fullmatch(r"[\d.]+", e.text or "")
             and e.get("text-anchor") == "middle" and panel[0] - 0.1 <= float(e.get("x", "")) <= panel[1] + 0.1]
    return [(float(e.get("x", "")), float(e.text or "")) for e in found]


def line(of: Chart, kind: str, panel: tuple[float, float]) -> list[tuple[float, float]]:
    """A line of a panel as times, in the unit of its axis, and temperatures."""
    paths = [e for e in of.tree.iter(f"{SPACE}path") if e.get("data-line") == kind]
    (inside,) = [e for e in paths if panel[0] - 0.1 <= numbers(e.get("d", ""))[0][0] <= panel[1]]
    times, levels = time_marks(of, panel), level_marks(of)
    return [(ruler(times, x), ruler(levels, y)) for x, y in numbers(inside.get("d", ""))]


def between(points: list[tuple[float, float]], time: float) -> float:
    """The height of a line at a time strictly inside one of its pieces."""
    index = bisect_left([point[0] for point in points], time)
    (a, low), (b, high) = points[index - 1], points[index]
    return low + (time - a) / (b - a) * (high - low)


@pytest.mark.parametrize("name", PARTS)
def test_well_formed_and_whole_in_itself(name: str) -> None:
    of = chart(name)
    assert of.tree.tag == f"{SPACE}svg" and of.tree.get("width", "").endswith("mm")
    assert not re.search(r"href|url\((?!#)|<script|@import|NaN|inf", of.text.replace("still", ""))
    assert "prefers-color-scheme:dark" in of.text and "@media print" in of.text
    assert len(of.text) < 40_000


@pytest.mark.parametrize(("kind", "key"), [("charge", "charge_out_c"), ("warm", "core_c"), ("cold", "feed_c")])
@pytest.mark.parametrize("name", ["hatch", "drag"])
def test_the_lines_show_what_the_trace_says(name: str, kind: str, key: str) -> None:
    """Read with the chart's own grid at moments inside every stretch: within a tenth of a kelvin of the trace."""
    of = chart(name)
    (panel,) = panels(of)
    drawn = line(of, kind, panel)
    inside = [
        row for before, row, after in zip(of.trace, of.trace[1:], of.trace[2:], strict=False)
        if before["time_s"] < row["time_s"] < after["time_s"]
    ]  # fmt: skip
    assert len(inside) > 15
    for row in inside:
        assert between(drawn, row["time_s"]) == pytest.approx(row[key], abs=0.1)


@pytest.mark.parametrize(("name", "seconds"), [("track", 13.0), ("commuter", 60.0)])
def test_of_many_rounds_the_highest_of_each_is_drawn(name: str, seconds: float) -> None:
    of = chart(name)
    drawn = line(of, "charge", panels(of)[0])
    count = -(-int(of.rows()[-1]["time_s"]) // int(seconds))
    for number in range(count):
        times = (number * seconds + 0.01, (number + 1) * seconds - 0.01)
        rows = [row for row in of.rows() if times[0] < row["time_s"] < times[1] or row["time_s"] == times[0] - 0.01]
        best = max(rows, key=lambda row: row["charge_out_c"])
        if 0 < number < count - 1:
            assert between(drawn, best["time_s"] / 60) == pytest.approx(best["charge_out_c"], abs=0.15)
    assert max(level for _, level in drawn) == pytest.approx(of.kit["thermal"]["charge_out_worst_c"], abs=0.1)


@pytest.mark.parametrize(("name", "seconds"), [("track", 13.0), ("commuter", 60.0)])
def test_the_worst_round_stands_beside_them_second_by_second(name: str, seconds: float) -> None:
    of = chart(name)
    whole, one = panels(of)
    assert whole[1] < one[0]
    caption = next(text for text in of.texts if re.fullmatch(r"round \d+, the worst", text))
    begins = (int(re.findall(r"\d+", caption)[0]) - 1) * seconds
    rows = [row for row in of.rows() if begins + 0.1 < row["time_s"] < begins + seconds - 0.1]
    drawn = line(of, "warm", one)
    for row in rows:
        assert between(drawn, row["time_s"] - begins) == pytest.approx(row["core_c"], abs=0.1)
    assert begins - 1e-6 <= of.kit["thermal"]["worst_at_s"] <= begins + seconds + 1e-6
    inside = max(row["charge_out_c"] for row in of.rows() if begins < row["time_s"] <= begins + seconds + 1e-6)
    assert inside == pytest.approx(max(row["charge_out_c"] for row in of.rows()), abs=1e-3)


@pytest.mark.parametrize("name", PARTS)
def test_the_ring_stands_at_the_moment_that_the_answer_tells(name: str) -> None:
    """In every panel, read at its own marks of time; there the trace is as warm as it ever gets."""
    of = chart(name)
    told_s = of.kit["thermal"]["worst_at_s"]
    rings = [float(ring.get("cx", "")) for ring in of.tree.iter(f"{SPACE}circle")]
    for panel, at in zip(panels(of), rings, strict=True):
        marks = time_marks(of, panel)
        minutes = any("minutes" in text for text in of.texts) and panel == panels(of)[0]
        begins_s = 0.0
        if panel != panels(of)[0]:
            number = next(re.findall(r"\d+", text)[0] for text in of.texts if text.endswith(", the worst"))
            begins_s = (int(number) - 1) * {"track": 13.0, "commuter": 60.0}[name]
        shown_s = begins_s + ruler(marks, at) * (60.0 if minutes else 1.0)
        assert shown_s == pytest.approx(told_s, abs=0.1 if not minutes else 2.0)
    near = min(of.rows(), key=lambda row: abs(row["time_s"] - told_s))
    assert near["charge_out_c"] == pytest.approx(max(row["charge_out_c"] for row in of.rows()), abs=0.05)
    after = f"after {told_s:.0f} s" if told_s <= 180.0 else f"after {told_s / 60:.1f} min"
    assert any(text.startswith("Ring: the charge at its worst") and after in text for text in of.texts)


@pytest.mark.parametrize("name", PARTS)
def test_the_band_the_ring_and_the_aim_are_those_of_the_answer(name: str) -> None:
    of, levels = chart(name), level_marks(chart(name))
    heat = of.kit["thermal"]
    low, high = (heat["charge_out_worst_c"] + heat["margin_k"] - heat[key] for key in ("margin_high_k", "margin_low_k"))
    band = next(e for e in of.tree.iter(f"{SPACE}path") if e.get("class") == "band")
    outline = [ruler(levels, y) for _, y in numbers(band.get("d", ""))]
    if name != "commuter":
        assert max(outline) == pytest.approx(high, abs=0.15)
        assert any(value == pytest.approx(low, abs=0.5) for value in outline)
    rings = list(of.tree.iter(f"{SPACE}circle"))
    assert len(rings) == len(panels(of))
    for ring in rings:
        assert ruler(levels, float(ring.get("cy", ""))) == pytest.approx(heat["charge_out_worst_c"], abs=0.1)
    aims = [e for e in of.tree.iter(f"{SPACE}path") if e.get("data-line") == "aim"]
    assert len(aims) == (0 if name == "drag" else len(panels(of)))
    asked = {"hatch": 80.0, "track": 75.0, "commuter": 50.0}
    for aim in aims:
        assert {round(ruler(levels, y), 1) for _, y in numbers(aim.get("d", ""))} == {asked[name]}
    assert ("above this chart" in of.texts) == (name == "drag")


def test_a_standstill_is_hatched_and_shows_the_charge_on_the_restart() -> None:
    of = chart("commuter")
    left, right = panels(of)[0]
    times = time_marks(of, (left, right))
    (still,) = [r for r in of.tree.iter(f"{SPACE}rect") if r.get("class") == "still"]
    edge = float(still.get("x", ""))
    assert ruler(times, edge) == pytest.approx(20.0, abs=0.05)
    assert ruler(times, edge + float(still.get("width", ""))) == pytest.approx(25.0, abs=0.05)
    assert max(time for time, _ in line(of, "charge", (left, right))) < 20.01
    assert max(time for time, _ in line(of, "warm", (left, right))) == pytest.approx(25.0, abs=0.05)
    (square,) = [r for r in of.tree.iter(f"{SPACE}rect") if r.get("class") == "square"]
    middle = float(square.get("y", "")) + float(square.get("height", "")) / 2
    shown = ruler(level_marks(of), middle)
    assert shown == pytest.approx(of.kit["thermal"]["standstill"]["charge_out_restart_c"], abs=0.1)


def test_the_power_below_is_that_of_the_stretches() -> None:
    of = chart("hatch")
    (panel,) = panels(of)
    times = time_marks(of, panel)
    shades = [r for r in of.tree.iter(f"{SPACE}rect") if (r.get("class") or "").startswith("shade")]
    lasts = [11, 6, 8, 5, 12, 7, 9, 6, 10, 7, 9]
    shares = [1, 0.1, 1, 0.15, 1, 0.05, 1, 0.1, 1, 0.1, 1]
    assert [float(r.get("data-share", "")) for r in shades] == shares
    starts = [ruler(times, float(r.get("x", ""))) for r in shades]
    assert starts == pytest.approx([sum(lasts[:n]) for n in range(len(lasts))], abs=0.05)


def boxes(text: str) -> Iterator[tuple[str, float, float, float, float]]:
    """Texts with the paper of a wide type: letters 0.6 em (a broad common sans-serif, from memory)."""
    for label, element in zip(labels(text), ET.fromstring(text).iter(f"{SPACE}text"), strict=True):
        more = (label.right - label.left) * 0.2
        before = more * {"middle": 0.5, "end": 1.0}.get(element.get("text-anchor", ""), 0.0)
        yield label.text, label.left - before, label.top, label.right + more - before, label.bottom


def overlaps(text: str) -> list[tuple[str, str]]:
    return [
        (one[0], other[0]) for one, other in combinations(boxes(text), 2)
        if one[1] < other[3] and other[1] < one[3] and one[2] < other[4] and other[2] < one[4]
    ]  # fmt: skip


def crossed(text: str) -> list[tuple[str, str]]:
    """Words that a line runs through."""
    found = []
    for path in ET.fromstring(text).iter(f"{SPACE}path"):
        if path.get("class") is None:
            continue
        for (x1, y1), (x2, y2) in segments(path):
            steps = max(2, int((abs(x2 - x1) + abs(y2 - y1)) * 4))
            spots = [(x1 + (x2 - x1) * n / steps, y1 + (y2 - y1) * n / steps) for n in range(steps + 1)]
            found += [(said, path.get("class", "")) for said, left, top, right, bottom in boxes(text)
                      if any(left < x < right and top < y < bottom for x, y in spots)]  # fmt: skip
    return found


def test_words_on_words_and_lines_through_words_are_noticed() -> None:
    text = (f'<svg xmlns="{SPACE[1:-1]}"><text x="1" y="5">one</text><text x="2" y="6">two</text>'
            '<path class="charge" d="M0 4L9 4"/></svg>')  # fmt: skip
    assert overlaps(text) == [("one", "two")] and {word for word, _ in crossed(text)} == {"one", "two"}


@pytest.mark.parametrize("name", PARTS)
def test_no_word_lies_on_another_or_on_a_line(name: str) -> None:
    assert overlaps(chart(name).text) == [] and crossed(chart(name).text) == []


@pytest.mark.parametrize("name", PARTS)
def test_every_line_has_its_name_beside_it_and_a_stroke_of_its_own(name: str) -> None:
    """No one has to tell colours apart: names stand at the lines' ends; no two have dashes and width alike."""
    of = chart(name)
    for said in ("charge out of the core", "coolant into the core", "coolant out of the core", "outside air"):
        assert of.texts.count(said) == 1
    looks = re.findall(r"\n\.(charge|warm|cold|aim|air)(?:,[.\w,]*)?\{([^}]*)\}", of.text.split("@media")[0])
    strokes = {kind: re.sub(r"stroke:#\w+;?|stroke-line\w+:\w+;?", "", look) for kind, look in looks}
    assert len(strokes) == 5 and len(set(strokes.values())) == 5


def test_long_names_are_written_out_and_push_nothing_onto_them() -> None:
    name = "The second car of the hill-climb club, on loan from the fictional counter at Gravel Lane " * 2
    with TemporaryDirectory() as folder:
        file = Path(folder) / "chart.svg"
        run = suggest({**example("hatch"), "brief": name.strip()}, "--chart", str(file), shelf=shelf("hatch"))
        text = file.read_text(encoding="utf-8")
    assert run.code == 0 and overlaps(text) == []
    said = " ".join(e.text or "" for e in ET.fromstring(text).iter(f"{SPACE}text") if e.get("class") == "t head")
    assert said == f"{name.strip()}, kit 1"


def test_by_the_command_files_that_are_there_stay_and_bytes_stay_the_same(tmp_path: Path) -> None:
    file = tmp_path / "chart.svg"
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "parts.yaml").write_text(written(shelf("hatch")), encoding="utf-8")
    (tmp_path / "car.yaml").write_text(written(example("hatch")), encoding="utf-8")
    words = ["suggest", str(tmp_path / "car.yaml"), "--catalogue", str(tmp_path / "shelf"), "--chart", str(file)]
    file.write_text("mine", encoding="utf-8")
    done = kitwright(*words)
    assert done.returncode == 3 and "--force" in done.stderr and file.read_text() == "mine"
    done = kitwright(*words, "--force")
    assert done.returncode == 0 and "wrote the chart of kit 1" in done.stderr
    assert file.read_text(encoding="utf-8") == chart("hatch").text


def test_without_a_kit_no_chart_is_written(tmp_path: Path) -> None:
    file = tmp_path / "chart.svg"
    run = suggest(example("hatch", aim__charge_air="45 degC"), "--chart", str(file), shelf=shelf("hatch"))
    assert run.code == 1 and "no chart was written" in run.err and not file.exists()


@pytest.mark.parametrize(("span", "most", "step"), [(90.0, 10, 10.0), (13.0, 5, 5.0), (0.9, 10, 0.1), (1.0, 1, 1.0)])
def test_round_steps(span: float, most: int, step: float) -> None:
    assert round_step(span, most) == pytest.approx(step)


def test_axes_reach_beyond_what_they_show_and_times_end_where_the_event_does() -> None:
    axis = level_axis([20.0, 60.0], 100.0, 0.0, 5)
    assert axis.first < 20.0 and axis.last > 60.0 and axis.at(axis.first) == 100.0 and axis.at(axis.last) == 0.0
    times = time_axis(26.0, 39.0, 0.0, 50.0, 4, minutes=False)
    assert times.ticks == (26.0, 31.0, 36.0) and times.at(39.0) == 50.0
    assert time_axis(0.0, 1500.0, 0.0, 80.0, 6, minutes=True).ticks == (0.0, 300.0, 600.0, 900.0, 1200.0, 1500.0)


def test_rounds_are_cut_where_two_records_share_a_moment() -> None:
    """By hand: two rounds of 3 s, each 2 s at full power and 1 s at a tenth; the second is cut short after 2 s."""
    told = [(0, 1.0), (2, 1.0), (2, 0.1), (3, 0.1), (3, 1.0), (5, 1.0)]
    records = [{"time_s": float(time), "share": share} for time, share in told]
    assert [len(one) for one in rounds_of(records, 3.0)] == [4, 2]
    assert [(s.begins_s, s.ends_s, s.share) for s in spans_of(records)] == [(0, 2, 1.0), (2, 3, 0.1), (3, 5, 1.0)]
