"""A charger with two outlets, and two cores behind one: wyes of the charge side through the command line."""

from __future__ import annotations

import csv
import io
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from tests.journeys.checks import bought, check, flowing, run
from tests.journeys.kitwright import Run, Tree, example, opened, shipped, shipped_part, small_shelf, suggest, written

TWO_OUTLETS = {"engine__charger_outlet": "51 mm", "engine__charger_outlets": 2, "layouts": ["single"]}
BOX = ["reservoir-5-square", "cap-45-0.5", "pump-60-medium", "exchanger-440-double"]


def shelf(wyes: list[Tree] | None = None, core: str = "core-210-short") -> Tree:
    """One kit's parts for the hatch, and wyes."""
    return small_shelf(
        cores=[shipped_part(core)],
        exchangers=[shipped_part("exchanger-380-slim"), shipped_part("exchanger-398-double")],
        pumps=[shipped_part("pump-46-small")],
        reservoirs=[shipped_part("reservoir-6-vented")],
        wyes=shipped("wyes") if wyes is None else wyes,
    )


def asked(wyes: list[Tree] | None = None, *options: str, **changes: Any) -> Run:
    """The hatch with two outlets of 51 mm into one core, of 76 mm inside and out."""
    return suggest(opened(example("hatch", **{**TWO_OUTLETS, **changes})), *options, shelf=shelf(wyes))


def pieces(kit: Tree, before: bool) -> Counter[str]:
    """What is between charger and core, or between core and throttle: pieces and clamps."""
    found: Counter[str] = Counter()
    for joint in kit["joints"]:
        if joint["hose"] is None and joint["from"].startswith(("engine", "charge-wye-in")) == before:
            found.update(joint["through"])
            for need in joint["needs"]:
                found[need["part"]] += need["quantity"]
    return found


def kinds(found: Counter[str]) -> tuple[int, int, int]:
    """Wyes, couplers and clamps."""
    begins = ("charge-wye-", "coupler-", "clamp-t-bolt-")
    wyes, couplers, clamps = (sum(n for part, n in found.items() if part.startswith(word)) for word in begins)
    return wyes, couplers, clamps


def test_two_outlets_take_a_wye_three_couplers_and_six_clamps() -> None:
    """Two outlets, two couplers, the wye, a coupler to the core; behind the core one coupler. Two clamps a coupler."""
    answer = asked(None, "--json").answer
    assert answer["outcome"] == "kits"
    assert "half of the charge comes out of each of the charger's two outlets" in [a["text"] for a in answer["assumed"]]
    for kit in answer["kits"]:
        assert kinds(pieces(kit, before=True)) == (1, 3, 6)
        assert kinds(pieces(kit, before=False)) == (0, 1, 2)
        lines = {line["part"]: line for line in kit["lines"] if line["group"] == "charge side" and line["part"]}
        for part, count in (pieces(kit, before=True) + pieces(kit, before=False)).items():
            assert lines[part]["quantity"] == count and lines[part]["price_cents"] > 0
            assert lines[part]["bring_yourself"] is False
        thrust = [caution["text"] for caution in kit["cautions"] if caution["code"] == "thrust"]
        assert len(thrust) == 1 and "charge-wye-in stem to core in" in thrust[0]


def test_the_screen_and_the_table_show_the_wye(tmp_path: Path) -> None:
    names = {wye["id"]: wye["name"] for wye in shipped("wyes")}
    (kit, *_) = asked(None, "--json").kits
    (held,) = [part for part in pieces(kit, before=True) if part in names]
    screen = flowing(asked(None, "--wide").out)
    assert f"adapter: {names[held]}" in screen and "charger outlet 2 to charge-wye-in end 'right'" in screen
    (tmp_path / "brief.yaml").write_text(written(opened(example("hatch", **TWO_OUTLETS))), encoding="utf-8")
    (tmp_path / "shelf.yaml").write_text(written(shelf()), encoding="utf-8")
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf.yaml").rename(tmp_path / "shelf" / "parts.yaml")
    words = ["--catalogue", str(tmp_path / "shelf"), "--bill", str(tmp_path / "bill.csv")]
    assert run("suggest", str(tmp_path / "brief.yaml"), *words).code == 0
    table = list(csv.DictReader(io.StringIO((tmp_path / "bill.csv").read_text(encoding="utf-8-sig"))))
    counted = Counter({row["part"]: round(float(row["quantity"])) for row in table if row["group"] == "charge side"})
    needed = pieces(kit, before=True) + pieces(kit, before=False)
    assert {part: counted[part] for part in needed} == dict(needed) and needed[held] == 1


def test_without_a_wye_the_reason_names_the_one_to_buy_and_with_it_there_are_kits() -> None:
    answer = asked([], "--json").answer
    assert answer["outcome"] == "no_kit"
    (reason,) = [out for out in answer["exclusions"] if out["part"] == "core-210-short"]
    assert reason["code"] == "ends-do-not-meet"
    assert "missing: a charge wye (Y-piece) of 76 mm stem and two 51 mm branches" in reason["text"]
    bought_one = [wye for wye in shipped("wyes") if wye["id"] == "charge-wye-76-51"]
    assert asked(bought_one, "--json").answer["outcome"] == "kits"


def test_a_wye_that_is_too_weak_is_named_with_its_rating() -> None:
    """1.25 x 1.4 bar is 1.75 bar."""
    weak = {**shipped_part("charge-wye-76-51"), "id": "weak"}
    weak["through"] = {**weak["through"], "working": "1.7 bar"}
    (reason,) = [out for out in asked([weak], "--json").answer["exclusions"] if out["part"] == "core-210-short"]
    assert "'weak' is good for 1.70 bar, the charge pipe may see 1.75 bar" in reason["text"]


def test_what_the_brief_does_not_want_is_no_wye_either() -> None:
    taken = {part for part in pieces(asked(None, "--json").kits[0], before=True) if part.startswith("charge-wye-")}
    other = asked(None, "--json", without=sorted(taken)).kits[0]
    assert not taken & set(pieces(other, before=True))
    assert kinds(pieces(other, before=True)) == (1, 3, 6)
    assert asked(None, "--json", without=["wye"]).answer["outcome"] == "no_kit"


def box(*more: str, cores: int = 1, **keys: Any) -> Tree:
    """A kit file with small cores of 57 mm inside and out, between pipes of 51 mm."""
    kit = {"kit": "made", "boost": "1.4 bar", "throttle": "51 mm", "charger_outlet": "51 mm"}
    return {**kit, "parts": [*BOX, *["core-175-short"] * cores, *more], **keys}


@pytest.mark.parametrize(("cores", "outlets", "wyes"), [(1, 1, 0), (1, 2, 1), (2, 1, 2), (2, 2, 1)])
def test_a_box_needs_a_wye_wherever_one_pipe_and_two_meet(cores: int, outlets: int, wyes: int) -> None:
    answer = check(box(cores=cores, charger_outlets=outlets), "--json").answer
    assert answer["broken"] == []
    buys = Counter(bought(answer))
    joints = 1 * (cores == outlets == 1) + 2 * (cores == outlets == 2) + 3 * (cores != outlets)
    joints += 1 if cores == 1 else 3
    assert kinds(buys) == (wyes, joints, 2 * joints)
    assert not [line for line in answer["to_buy"] if line["item"].startswith("charge wye")]


def test_the_outlets_of_the_brief_count_whatever_the_kit_file_says() -> None:
    car = example("road", bay="unmeasured", engine__charger_outlets=2)
    kit = {key: value for key, value in box().items() if key not in ("charger_outlet", "throttle", "boost")}
    answer = check(kit, "--json", brief=car).answer
    assert kinds(Counter(bought(answer)))[0] == 1
    assert answer["in_car"]["thermal"] is not None
    other = check({**kit, "charger_outlets": 1}, "--json", brief=car).answer
    assert kinds(Counter(bought(other)))[0] == 1
    told = [one["text"] for one in other["assumed"] if one["about"] == "charger outlets"]
    assert told == ["charger outlets 2, as the brief says, not 1, as the kit file does"]
    silent = check({**kit, "charger_outlets": 2}, "--json", brief=example("road", bay="unmeasured")).answer
    assert kinds(Counter(bought(silent)))[0] == 1, "a brief that does not say how many leaves it to the kit file"


def test_a_wye_in_the_box_is_taken_before_the_shelf_and_may_be_the_weakest() -> None:
    """By hand: 2.4 bar over 1.25 x 1.5 bar is 1.28, over 1.25 x 1.6 bar 1.2, below the usual 1.25."""
    mine = ["charge-wye-moulded-57-51", *["coupler-aramid-51-57"] * 5]
    for boost, margin in (("1.5 bar", 1.28), ("1.6 bar", 1.20)):
        ran = check(box(*mine, cores=2, charger_outlets=2, boost=boost), "--json", shelf=with_moulded())
        side = ran.answer["pressure"]["charge"]
        assert (side["limited_by"], side["place"]) == ("charge-wye-moulded-57-51", "charge-wye-out to engine")
        assert side["margin"] == pytest.approx(margin, abs=0.005)
        told = [c["text"] for c in ran.answer["cautions"] if c["code"] == "thin-margin" and "charge side" in c["text"]]
        assert bool(told) is (margin < 1.25)
        assert ran.answer["spare"] == [] and kinds(Counter(bought(ran.answer)))[0] == 0


def with_moulded() -> Tree:
    """The shipped shelf and a moulded wye of two 51 mm branches."""
    sections = ("cores", "exchangers", "pumps", "reservoirs", "adapters", "caps", "clamps", "fuses", "hoses", "relays")
    made = {**shipped_part("charge-wye-moulded-63.5-51"), "id": "charge-wye-moulded-57-51", "name": "Moulded, 57 to 51"}
    ends = [{**end, "size": "57 mm" if end["name"] == "stem" else end["size"]} for end in made["through"]["ends"]]
    for end in ends:
        del end["bore"]
    made["through"] = {**made["through"], "ends": ends}
    return {**{name: shipped(name) for name in (*sections, "wires")}, "wyes": [*shipped("wyes"), made]}


def test_a_box_that_is_joined_by_nothing_says_which_wye_is_missing() -> None:
    less = {**with_moulded(), "wyes": []}
    answer = check(box(charger_outlets=2), "--json", shelf=less).answer
    (rule,) = answer["broken"]
    assert rule["rule"] == "ends-do-not-meet" and rule["text"].startswith("engine to core: no charge wye")
    assert "missing: a charge wye (Y-piece) of 57 mm stem and two 51 mm branches" in rule["text"]
