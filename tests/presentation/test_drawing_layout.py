"""Sheets of one to eight parts in one to five zones: nothing lies on anything, everything has its place."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import combinations, product

import numpy as np
import pytest

from configurator.brief.bay import Bay
from configurator.fitting.placing import Placement
from configurator.fitting.turns import ALL_TURNS, SIDES
from configurator.parts.kinds import Core
from configurator.presentation.drawing.labels import crossed, spread
from configurator.presentation.drawing.labels import place as placed
from configurator.presentation.drawing.marks import wrapped
from configurator.presentation.drawing.scene import Body, Gap, Route, blocks_of, gap, ways_inside
from configurator.presentation.drawing.sheet import packed
from configurator.presentation.drawing.sketch import sketch_lines
from configurator.presentation.drawing.svg import drawing_svg
from tests.journeys.kitwright import shipped_part
from tests.presentation.drawn import SPACE, bay_of, by_hand, edges, example, facts_of, labels

CROWDS = [(1, 1), (1, 2), (1, 4), (1, 8), (2, 3), (3, 4), (3, 8), (4, 5), (5, 5), (5, 8)]


def overlaps(text: str) -> list[tuple[str, str]]:
    """Pairs of texts that share paper; a tenth of a millimetre is no overlap."""
    return [
        (one.text, other.text)
        for one, other in combinations(labels(text), 2)
        if one.left < other.right - 0.1 and other.left < one.right - 0.1
        and one.top < other.bottom - 0.1 and other.top < one.bottom - 0.1
    ]  # fmt: skip


def test_two_texts_on_each_other_are_noticed() -> None:
    text = f'<svg xmlns="{SPACE[1:-1]}"><text x="1" y="5">one</text><text x="2" y="6">two</text></svg>'
    assert overlaps(text) == [("one", "two")]


@pytest.mark.parametrize(("zones", "parts"), CROWDS)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_no_words_lie_on_each_other(zones: int, parts: int, unit: str) -> None:
    assert overlaps(drawing_svg(by_hand(zones, parts, unit=unit))) == []


@pytest.mark.parametrize("name", ["hatch", "wagon", "retro", "road", "roadster"])
def test_no_words_lie_on_each_other_in_the_examples(name: str) -> None:
    assert overlaps(example(name).text) == []


@pytest.mark.parametrize(("zones", "parts"), CROWDS)
def test_every_part_and_every_end_is_named(zones: int, parts: int) -> None:
    facts = by_hand(zones, parts)
    texts = [e.text for e in ET.fromstring(drawing_svg(facts)).iter(f"{SPACE}text")]
    for block in facts.blocks:
        for body in block.bodies:
            said = body.key if body.kind == "part" else f"{body.key} {body.kind}"
            # In the list, and in each view of its zone; a part also on each of its three dimension chains.
            assert texts.count(said) >= (7 if body.kind == "part" else 3), said
            for end in body.ends:
                assert texts.count(end.key) >= 2, end.key
                assert sum(str(text).startswith(f"{end.key} {end.words}, ") for text in texts) == 1


@pytest.mark.parametrize(("zones", "parts"), CROWDS)
@pytest.mark.parametrize("known", [True, False])
def test_a_sketch_fits_80_columns_and_shows_or_names_every_body(zones: int, parts: int, known: bool) -> None:
    facts = by_hand(zones, parts, known=known)
    text = sketch_lines(facts)
    assert max(len(line) for line in text.splitlines()) <= 80
    assert all(letter.isascii() for letter in text)
    for block in facts.blocks:
        picture = text.split(f"Zone {block.zone}:", 1)[1].split("\n\n", 1)[0]
        for body in block.bodies:
            told = re.search(rf"Not to be seen [^.]*\b{body.key}\b", picture)
            assert told or re.search(rf"[|:].*{body.key}.*[|:]", picture), (block.zone, body.key)


def test_the_sketch_is_what_it_says() -> None:
    """A zone 200 mm deep, 120 wide and 100 high; in its front right floor corner a core of 120 x 60 x 60."""
    zone = {"deep": "200 mm", "wide": "120 mm", "high": "100 mm", "takes": ["core"], "open": ["front"]}
    core = Core.model_validate(shipped_part("core-150-light"))
    place = Placement(core.id, "core", "z", (0.0, 60.0, 0.0), (120, 60, 60), "+z", "-x", "zone")
    text = sketch_lines(facts_of(blocks_of(Bay.model_validate({"zones": {"z": zone}}), [place], {"core": core})))
    assert "One letter is 10 mm across, 20 mm down.\nfrom above          from the left\n" in text
    rows = text.split("from the left\n", 1)[1].split("\n\n", 1)[0].splitlines()
    assert [row[:14] for row in rows] == [
        "+------------+",
        *["|            |"] * 4,
        *["|111111      |"] * 6,
        "+............+",
    ]
    assert [row[20:] for row in rows[-7:]] == [
        "+--------------------+",
        *[":                    |"] * 2,
        *[":111111111111        |"] * 3,
        "+--------------------+",
    ]


def test_more_than_any_paper_holds_goes_on_a_longer_one() -> None:
    text = drawing_svg(by_hand(1, 16, unit="in"))
    assert "on a roll" in text and overlaps(text) == []


@pytest.mark.parametrize("turn", ALL_TURNS, ids=lambda turn: f"{turn.up}{turn.front}")
def test_ends_turn_with_their_part(turn) -> None:  # type: ignore[no-untyped-def]
    """Against a rotation matrix made of the two faces: the one that looks up, the one that looks to the front."""
    core = Core.model_validate(shipped_part("core-260-short"))
    drawn = np.array([float(core.size.x_m), float(core.size.y_m), float(core.size.z_m)]) * 1000

    def normal(face: str) -> np.ndarray:
        return np.eye(3)["xyz".index(face[1])] * (1 if face[0] == "+" else -1)

    back, up = -normal(turn.front), normal(turn.up)
    turned = np.array([back, np.cross(up, back), up])  # rows: what looks back, right and up in the car
    size = np.abs(turned @ drawn)
    bay = bay_of(1, 900, 900, known=False)
    deep, wide, high = (round(s) for s in size)
    at = (30.0, 40.0, 50.0)
    place = Placement(core.id, "core", "zone-0", at, (deep, wide, high), turn.up, turn.front, "zone")
    (block,) = blocks_of(bay, [place], {"core": core})
    (body,) = block.parts
    ends = [end for passage in core.passages().values() for end in passage.ends]
    assert len(body.ends) == len(ends) == 5
    for mark, end in zip(body.ends, ends, strict=True):
        assert end.face is not None and end.at is not None
        given = {"x": end.at.x_m, "y": end.at.y_m, "z": end.at.z_m}
        on_face = drawn if end.face[0] == "+" else np.zeros(3)
        own = np.array([on_face[k] if given[a] is None else 1000 * float(given[a] or 0.0) for k, a in enumerate("xyz")])
        there = turned @ (own - drawn / 2) + size / 2 + np.array(at)
        assert mark.at == pytest.approx(tuple(there), abs=1e-6)
        looks = turned @ normal(end.face)
        side = SIDES[2 * int(np.argmax(np.abs(looks))) + int(looks.sum() > 0)]
        assert mark.side == side
        assert mark.words.endswith(f"{end.name} {end.form}:{end.size}")


def test_a_gap_runs_to_the_nearest_body_straight_before_a_face() -> None:
    facts = by_hand(1, 2)
    (block,) = facts.blocks
    first, second, thing = block.bodies
    assert gap(block, first, "back") == Gap(12.0, second.key) and gap(block, second, "front") == Gap(12.0, first.key)
    assert gap(block, first, "front") == Gap(10.0, "wall") and gap(block, first, "floor") == Gap(0.0, "wall")
    assert gap(block, second, "left") == Gap(5.0, "wall") and gap(block, second, "floor") == Gap(2.0, "wall")
    assert gap(block, first, "right") == Gap(block.size[1] - first.high[1], "wall")
    assert gap(block, second, "back").to in ("wall", thing.key)
    aside = Body("9", "part", "aside", (0.0, 0.0, 400.0), (10.0, 10.0, 410.0))
    assert gap(block, first, "top").to == "wall" and gap(block, aside, "floor") == Gap(400.0, "wall")


def test_a_hose_is_drawn_where_it_runs_and_cut_at_the_walls_of_a_zone() -> None:
    """Into the second zone from before the car, half way through it, and out through its top."""
    plain = by_hand(2, 2).blocks[1]
    assert plain.corner is not None
    x, y, z = plain.corner
    deep, wide, high = plain.size
    way = ((x - 300, y + wide / 2, z + 90), (x + deep / 2, y + wide / 2, z + 90), (x + deep / 2, y + wide / 2, z + 900))
    facts = by_hand(2, 2, routes=[Route("feed", way)])
    block = facts.blocks[1]
    across, half = wide / 2, deep / 2
    found = np.array(list(ways_inside(block, Route("feed", way))))
    true = [[[0, across, 90], [half, across, 90]], [[half, across, 90], [half, across, high]]]
    assert found == pytest.approx(np.array(true), abs=0.01)
    assert list(ways_inside(block, Route("aside", ((x - 9, y, z), (x - 9, y, z + 99))))) == []
    root = ET.fromstring(drawing_svg(facts))
    runs = [p for p in root.iter(f"{SPACE}path") if p.get("data-run") == "feed"]
    whole = [p for p in runs if str(p.get("d")).count("L") == 2]
    assert len(whole) == 3, "once in each view of the overview"
    texts = [e.text or "" for e in root.iter(f"{SPACE}text")]
    scale = next(int(m[1]) for text in texts if (m := re.fullmatch(r"In the car, 1:(\d+)", text)))
    plan, front, side = ([tuple(map(float, s.split())) for s in str(p.get("d"))[1:].split("L")] for p in whole)
    assert np.ptp([y for _, y in plan]) * scale == pytest.approx(300 + half, abs=0.1)
    assert np.ptp([x for x, _ in front]) == 0
    assert np.ptp([y for _, y in front]) * scale == pytest.approx(810, abs=0.1)
    assert np.ptp([x for x, _ in side]) * scale == pytest.approx(300 + half, abs=0.1)
    rooms = [r for r in root.iter(f"{SPACE}rect") if r.get("class") == "room" and r.get("data-overview") == "side"]
    (room,) = [r for r in rooms if r.get("data-zone") == "zone-1"]
    assert (side[1][0] - edges(room)[0]) * scale == pytest.approx(half, abs=0.1)
    assert any("feed" in text for text in texts)


def test_arrows_of_the_turn_point_where_the_words_say() -> None:
    """Every part's row has an upright and a level arrow; their words are the faces of its row."""
    drawn = example("hatch")
    for place in drawn.kit["fit"]["placements"]:
        said = f"its face {place['up']} up, its face {place['front']} to the front"
        assert said in (drawn.tree.findtext(f"{SPACE}desc") or "")
        where = next(n for n, text in enumerate(drawn.texts) if text.startswith(f"{place['slot']}: "))
        assert place["up"] in drawn.texts[where : where + 9] and place["front"] in drawn.texts[where : where + 9]


@pytest.mark.parametrize("seed", range(20))
def test_labels_in_a_row_keep_their_order_and_never_touch(seed: int) -> None:
    numbers = np.random.default_rng(seed)
    wishes = sorted(numbers.uniform(0, 60, 8))
    lengths = list(numbers.uniform(2, 12, 8))
    got = spread(wishes, lengths)
    for (a, la), (b, lb) in zip(zip(got, lengths, strict=True), list(zip(got, lengths, strict=True))[1:], strict=False):
        assert b - a >= (la + lb) / 2 - 1e-9
    # No shift of one label alone, or of two neighbours together, brings them nearer in least squares.
    cost = sum((g - w) ** 2 for g, w in zip(got, wishes, strict=True))
    for first, last in product(range(8), range(8)):
        for step in (-0.01, 0.01):
            moved = [g + (step if first <= n <= last else 0.0) for n, g in enumerate(got)]
            apart = all(
                b - a >= (la + lb) / 2 - 1e-9
                for a, b, la, lb in zip(moved, moved[1:], lengths, lengths[1:], strict=False)
            )
            if apart:
                assert sum((m - w) ** 2 for m, w in zip(moved, wishes, strict=True)) >= cost - 1e-9


def test_pieces_are_packed_without_touching() -> None:
    boxes = [(0.0, 0.0, 60.0, 40.0), (0.0, 0.0, 30.0, 90.0), (0.0, 0.0, 55.0, 45.0)]
    corners = packed(boxes, 100.0, 95.0)
    assert corners is not None
    for (i, (x, y)), (j, (u, v)) in combinations(enumerate(corners), 2):
        assert x + boxes[i][2] < u or u + boxes[j][2] < x or y + boxes[i][3] < v or v + boxes[j][3] < y
    assert packed(boxes, 90.0, 95.0) is None


def test_long_words_are_broken() -> None:
    lines = wrapped("x" * 100 + " and so on", 30.0)
    assert "".join(lines[:-1]).startswith("x" * 60) and len(lines) > 4
    assert "".join(lines).replace(" ", "") == "x" * 100 + "andsoon"


@pytest.mark.parametrize("seed", range(20))
def test_a_line_crosses_a_box_where_one_of_its_points_lies_in_it(seed: int) -> None:
    """Against 2,001 points of the line; a box that is only brushed by a corner may hold none of them."""
    draw = np.random.default_rng(seed)
    start, end, low = (tuple(float(one) for one in draw.uniform(0, 10, 2)) for _ in range(3))
    box = (low[0], low[1], low[0] + 3.0, low[1] + 2.0)
    share = np.linspace(0, 1, 2001)
    x, y = (start[k] + share * (end[k] - start[k]) for k in (0, 1))
    inside = (x > box[0]) & (x < box[2]) & (y > box[1]) & (y < box[3])
    assert crossed(start, end, box) == bool(inside.any())
    assert not crossed((0.0, 5.0), (10.0, 5.0), (1.0, 5.0, 2.0, 7.0)), "along an edge is not through"


def test_a_leader_goes_round_the_title_of_its_view_where_it_can() -> None:
    """A part whose label finds room over the title, or a little further off beside it."""
    anchor, title = (0.0, 0.0), (-8.0, -9.0, 8.0, -6.0)
    around = [title, (-8.0, -6.0, 8.0, -1.0), (-20.0, -1.0, 12.0, 20.0)]
    over = placed(4.0, 3.0, anchor, around, [], [], [])
    beside = placed(4.0, 3.0, anchor, around, [], [], [title])
    assert over is not None and over[1] < -9.0 and abs(over[0]) < 8.0
    assert beside is not None and not crossed(anchor, beside, title)
