"""`why` of what the customer has for joints and wiring: each piece is held against the joints that it would go into."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tests.journeys.checks import flowing, run
from tests.journeys.kitwright import Tree, example, opened, shipped_part, small_shelf, written
from tests.journeys.test_bypass_laws import iced
from tests.journeys.test_bypass_laws import shelf as bypass_shelf
from tests.journeys.test_charge_wyes import TWO_OUTLETS
from tests.journeys.test_charge_wyes import shelf as wye_shelf

LOOP = {
    "cores": "core-260-short", "exchangers": "exchanger-350-slim", "pumps": "pump-40-small",
    "reservoirs": "reservoir-8-cube",
}  # fmt: skip
ENDS = ("stem", "left", "right")


def told(folder: Path, brief: Tree, shelf: Tree, *own: Tree) -> dict[str, Tree]:
    """What `why` says of each of these pieces of the customer's, by id; with what it shows on the screen."""
    (folder / "shelf").mkdir(exist_ok=True)
    (folder / "shelf" / "parts.yaml").write_text(written(shelf), encoding="utf-8")
    (folder / "brief.yaml").write_text(written({**brief, "own": [*brief.get("own", []), *own]}), encoding="utf-8")
    ids = [piece["id"] for piece in own]
    asked = ("why", str(folder / "brief.yaml"), "--catalogue", str(folder / "shelf"), *ids)
    answer = run(*asked, "--json").answer
    return {part["part"]: {**part, "screen": flowing(run(*asked[:4], part["part"]).out)} for part in answer["parts"]}


def loop() -> Tree:
    """One kit's parts for the hatch."""
    return small_shelf(**{kind: [shipped_part(part)] for kind, part in LOOP.items()})


def clamp(part: str, **changes: Any) -> Tree:
    """A T-bolt clamp of the customer's that closes on a coupler on a pipe of 57 mm, changed."""
    return shipped_part("clamp-t-bolt-063-071", **{"kind": "clamp", "id": part, "name": "My clamp", **changes})


def test_a_clamp_is_held_against_hoses_and_couplers(tmp_path: Path) -> None:
    """A coupler with a wall of 5.5 mm on a pipe of 57 mm is 68 mm outside; hose with one of 4 mm on 19 mm is 27 mm."""
    found = told(
        tmp_path, example("hatch"), loop(),
        clamp("my-t-bolt"),
        clamp("my-worm", style="worm"),
        clamp("my-tiny", least="8 mm", most="12 mm"),
        clamp("my-wide", least="130 mm", most="140 mm", media=["coolant"]),
        clamp("my-hose-clamp", style="worm", least="20 mm", most="32 mm", media=["coolant"]),
    )  # fmt: skip
    assert {part: one["code"] for part, one in found.items()} == {
        "my-t-bolt": "shelf-serves",
        "my-worm": "refused-there",
        "my-tiny": "serves-nothing",
        "my-wide": "serves-nothing",
        "my-hose-clamp": "shelf-serves",
    }
    assert "stands what is seen there: engine to core" in found["my-t-bolt"]["text"]
    assert "pump to core" in found["my-hose-clamp"]["text"]
    worm = found["my-worm"]
    assert (worm["found"], worm["limit"], worm["unit"]) == (140000, 100000, "Pa") and "T-bolt" in worm["text"]
    assert "closes on 8 mm to 12 mm, and the nearest coupler of these kits is 68 mm outside" in found["my-tiny"]["text"]
    assert "is for coolant and closes on 130 mm to 140 mm, and the nearest hose" in found["my-wide"]["text"]


def test_what_the_customer_has_is_never_said_to_be_bought(tmp_path: Path) -> None:
    """Also a piece of the shelf of which the brief says that it is there already."""
    brief = example("hatch", own=["coupler-89-102"])
    found = told(tmp_path, brief, loop(), clamp("my-tiny", least="8 mm", most="12 mm"))
    asked = ("why", str(tmp_path / "brief.yaml"), "--catalogue", str(tmp_path / "shelf"))
    of_shelf = run(*asked, "coupler-89-102", "coupler-45", "--json").answer["parts"]
    assert [part["code"] for part in (*found.values(), *of_shelf)] == ["serves-nothing"] * 3
    assert {part["way_out"] for part in (*found.values(), *of_shelf)} == {
        "Nothing has to: the kits are whole without it."
    }


def test_a_clamp_and_a_wye_of_charge_air_are_told_that_no_pipe_is_known(tmp_path: Path) -> None:
    brief = example("hatch", engine__charger_outlet=None, engine__throttle=None)
    wye = shipped_part("charge-wye-57", kind="wye", id="my-wye")
    found = told(tmp_path, brief, loop(), clamp("my-t-bolt"), wye)
    for one in found.values():
        assert one["code"] == "serves-nothing" and "neither charger_outlet nor throttle" in one["text"]


def test_a_wye_and_a_valve_where_no_flow_divides_are_told_so(tmp_path: Path) -> None:
    wye = shipped_part("wye-19", kind="wye", id="my-wye")
    valve = shipped_part("valve-19", kind="valve", id="my-valve")
    found = told(tmp_path, example("hatch"), loop(), wye, valve)
    assert {one["code"] for one in found.values()} == {"serves-nothing"}
    assert "nowhere in these kits does the coolant divide or meet" in found["my-wye"]["text"]
    assert "no loop of these kits has a bypass" in found["my-valve"]["text"]


def test_a_charge_wye_is_held_against_the_pipes_of_charger_and_core(tmp_path: Path) -> None:
    """Two outlets of 51 mm into a core of 76 mm, 1.4 bar of boost: 1.75 bar (common practice, no source)."""
    good = shipped_part("charge-wye-76-51", kind="wye", id="my-good")
    weak = shipped_part("charge-wye-76-51", kind="wye", id="my-weak", through__working="1 bar")
    odd = shipped_part("charge-wye-76-51", kind="wye", id="my-odd")
    odd["through"]["ends"][1:] = [{**end, "size": "30 mm", "bore": "27 mm"} for end in odd["through"]["ends"][1:]]
    coolant = shipped_part("wye-19", kind="wye", id="my-water-wye")
    found = told(tmp_path, opened(example("hatch", **TWO_OUTLETS)), wye_shelf(), good, weak, odd, coolant)
    assert {part: one["code"] for part, one in found.items()} == {
        "my-good": "shelf-serves",
        "my-weak": "refused-there",
        "my-odd": "serves-nothing",
        "my-water-wye": "serves-nothing",
    }
    assert "seen there: engine to core" in found["my-good"]["text"]
    assert found["my-weak"]["found"] == 100000 < found["my-weak"]["limit"]
    assert "30 mm spigot" in found["my-odd"]["text"]


def test_valve_and_wye_of_a_bypass_are_held_against_their_neighbours(tmp_path: Path) -> None:
    good = {
        "my-valve": shipped_part("valve-25", kind="valve", id="my-valve"),
        "my-wye": shipped_part("wye-25", kind="wye", id="my-wye"),
    }
    weak = {
        "my-weak-valve": shipped_part("valve-25", kind="valve", id="my-weak-valve", through__working="0.01 bar"),
        "my-cold-wye": shipped_part("wye-25", kind="wye", id="my-cold-wye", through__hottest="40 degC"),
    }
    odd = {
        "my-odd-valve": shipped_part("valve-25", kind="valve", id="my-odd-valve"),
        "my-odd-wye": shipped_part("wye-25", kind="wye", id="my-odd-wye"),
    }
    for part in odd.values():
        part["through"]["ends"] = [
            {"name": end["name"], "form": "flare45", "size": "-5", "sex": "male"} for end in part["through"]["ends"]
        ]
    brief = iced(layouts=["bypass"])
    found = told(tmp_path, brief, bypass_shelf(), *good.values(), *weak.values(), *odd.values())
    assert {part: one["code"] for part, one in found.items()} == {
        **dict.fromkeys(good, "shelf-serves"), **dict.fromkeys(weak, "refused-there"),
        **dict.fromkeys(odd, "serves-nothing"),
    }  # fmt: skip
    assert "core to exchanger and wye" in found["my-valve"]["text"]
    assert "exchanger and valve to reservoir" in found["my-wye"]["text"]
    assert found["my-weak-valve"]["found"] == 1000 < found["my-weak-valve"]["limit"]
    assert found["my-cold-wye"]["limit"] < found["my-cold-wye"]["found"]
    assert all("45° flare -5" in found[part]["text"] for part in odd)


def test_an_adapter_with_an_end_that_nobody_knows_is_asked_for_it(tmp_path: Path) -> None:
    """It was judged by its other end, which fits."""
    barb = shipped_part("barb-orb-12-19", kind="adapter", id="my-barb")
    names = [end["form"] for end in barb["through"]["ends"]]
    at = names.index("orb")
    barb["through"]["ends"][at] = {"name": barb["through"]["ends"][at]["name"], "form": "unknown", "size": "27 mm"}
    coupler = shipped_part("coupler-57", kind="adapter", id="my-coupler")
    coupler["through"]["ends"][0] = {"name": "a", "form": "unknown", "size": "unknown"}
    found = told(tmp_path, example("hatch"), loop(), barb, coupler)
    assert {one["code"] for one in found.values()} == {"unknown-end"}
    assert "27 mm unknown end cannot be judged. Ask the customer: Measure" in found["my-barb"]["text"]
    assert "pitch" in found["my-barb"]["text"] and "pitch" not in found["my-coupler"]["text"]
    assert all(one["way_out"].startswith("The answer to that question") for one in found.values())


def test_a_core_and_a_pump_with_an_end_that_nobody_knows_are_asked_for_it(tmp_path: Path) -> None:
    core = shipped_part("core-260-short", kind="core", id="my-core")
    core["charge"]["ends"][0] = {**core["charge"]["ends"][0], "form": "unknown", "size": "unknown"}
    core["charge"]["ends"][0].pop("bead")
    pump = shipped_part("pump-40-small", kind="pump", id="my-pump")
    pump["coolant"]["ends"][1] = {**pump["coolant"]["ends"][1], "form": "unknown", "size": "20 mm"}
    pump["coolant"]["ends"][1].pop("barb")
    found = told(tmp_path, example("hatch"), loop(), core, pump)
    for one in found.values():
        assert "Ask the customer: Measure" in one["screen"] and "missing:" not in one["screen"]
        assert "The answer to that question" in one["screen"]
    assert "pitch" in found["my-pump"]["screen"] and "outside diameter and the bore" in found["my-core"]["screen"]


def test_a_piece_of_the_shelf_on_no_bill_has_its_own_reason(tmp_path: Path) -> None:
    """All had one sentence that named every reason at once."""
    told(tmp_path, example("hatch"), loop(), clamp("my-t-bolt"))
    asked = {
        "clamp-worm-8-12": "closes on 8 mm to 12 mm, and the nearest hose of these kits",
        "clamp-steady-22-32": "another of the shelf closes there and costs no more",
        "fuse-40": "it is rated 40.0 A, Small 40 litre pump",
        "relay-40": "the least is taken, and that is another of the shelf",
        "coupler-89-102": "it joins no two pipes of core and engine that these kits have",
        "hose-silicone-19": "another of the shelf serves better (fewer pieces",
    }
    words = ("why", str(tmp_path / "brief.yaml"), "--catalogue", str(tmp_path / "shelf"), *asked, "--json")
    for part in run(*words).answer["parts"]:
        assert part["code"] == "serves-nothing" and asked[part["part"]] in part["text"], part["text"]


def test_wiring_of_the_customer_that_serves_no_motor_says_why(tmp_path: Path) -> None:
    fuses = [shipped_part("fuse-07.5", kind="fuse", id=f"my-{rated}", rated=f"{rated} A") for rated in ("1", "7.5")]
    small, right = told(tmp_path, example("hatch"), loop(), *fuses).values()
    assert (small["code"], right["code"]) == ("serves-nothing", "shelf-serves")
    assert "it is rated 1.0 A" in small["text"] or "it is rated 1 A" in small["text"]


def test_where_every_kit_misses_the_aim_pieces_are_held_against_the_nearest(tmp_path: Path) -> None:
    """They were told that kits are made of the shelf alone."""
    brief = example("hatch", aim__charge_air="30 degC")
    small, worm = told(
        tmp_path, brief, loop(), clamp("my-tiny", least="8 mm", most="12 mm"), clamp("my-worm", style="worm")
    ).values()
    assert (small["code"], worm["code"]) == ("serves-nothing", "refused-there")
    assert "is 68 mm outside as fitted" in small["text"]


def test_ids_of_pieces_are_not_broken_at_their_hyphens(tmp_path: Path) -> None:
    told(tmp_path, example("hatch"), loop(), clamp("my-t-bolt"))
    ran = run("why", str(tmp_path / "brief.yaml"), "--catalogue", str(tmp_path / "shelf"))
    lines = [line for line in ran.out.splitlines() if line.startswith(" " * 26) and "barb-" in line]
    assert len(lines) > 3 and not any(line.endswith("-") for line in lines)


def test_a_core_that_cannot_be_joined_is_told_in_a_whole_sentence(tmp_path: Path) -> None:
    core = shipped_part("core-350-sturdy", kind="core", id="my-core")
    (found,) = told(tmp_path, example("hatch"), loop(), core).values()
    texts = [reason["text"] for reason in found["breaks"] if reason["code"] == "ends-do-not-meet"]
    assert len(texts) == 1 and texts[0].endswith("mm.")
