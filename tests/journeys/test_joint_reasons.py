"""Why two ends do not meet: the reason told is the one that would have to change, in `check`, `why` and `mate`."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.journeys.checks import check, flowing, kit_file, run
from tests.journeys.kitwright import example, shipped_part, small_shelf, written

SAY_THE_BEAD = "write 'bead: true' or 'barb: true' in its end"


def core_without_a_bead_told() -> dict[str, Any]:
    """A box whose core says nothing of a bead on its charge pipes."""
    core = {**shipped_part("core-260-short", id="my-core"), "kind": "core"}
    for end in core["charge"]["ends"]:
        end.pop("bead", None)
    parts = [core if str(part).startswith("core") else part for part in kit_file("good")["parts"]]
    return {**kit_file("good"), "parts": parts}


def test_a_core_that_says_nothing_of_a_bead_is_told_how_to_write_it() -> None:
    kit = core_without_a_bead_told()
    ran = check(kit)
    assert ran.code == 1
    assert SAY_THE_BEAD in flowing(ran.out) and "too tight" not in flowing(ran.out)
    for end in kit["parts"][[isinstance(part, dict) for part in kit["parts"]].index(True)]["charge"]["ends"]:
        end["bead"] = True
    assert check(kit).code == 0


def test_mate_says_which_pieces_of_the_shelf_fit_and_are_too_weak() -> None:
    ran = run("mate", "spigot:57mm:bead", "spigot:57mm:bead", "--boost", "20 bar")
    told = flowing(ran.out)
    assert "Missing: a 57 mm coupler, that holds 25.0 bar" in told
    assert "On the shelf: " in told and "too weak" in told and "the joint may see 25.0 bar" in told


def test_mate_says_that_not_every_coupler_holds_the_boost() -> None:
    """1.25 times 4 bar: common practice, no source."""
    ends = ("mate", "coupler:57mm", "spigot:57mm:bead", "--hottest", "60 degC", "--boost")
    high, low = run(*ends, "4 bar", "--json").answer, run(*ends, "1 bar", "--json").answer
    (caution,) = high["cautions"]
    assert caution["code"] == "coupler-rating" and "5.00 bar" in caution["text"]
    assert "coupler-aramid-57" in caution["text"] and low["cautions"] == []


def test_mate_says_which_hose_of_the_shelf_stands_what_was_told() -> None:
    """The shelf's hoses of 19 mm: rubber for 3 bar and 125 degC, wired for 5 bar, silicone for 5 bar and 175 degC."""
    ends = ("mate", "hose:19mm", "spigot:19mm:bead")
    for more, words in (
        (("--pressure", "9 bar"), "Take a hose that holds 9.00 bar: none of 19 mm on the shelf does."),
        (("--pressure", "4 bar"), "2 of the 3 of 19 mm on the shelf do: hose-silicone-19, hose-wired-19."),
        (("--hottest", "140 degC"), "stands 140 degC: 1 of the 3 of 19 mm on the shelf does: hose-silicone-19."),
    ):
        ran = run(*ends, *more, "--json")
        (caution,) = ran.answer["cautions"]
        assert ran.code == 0 and caution["code"] == "hose-rating" and caution["text"].endswith(words)
    assert run(*ends, "--pressure", "2 bar", "--hottest", "100 degC", "--json").answer["cautions"] == []
    (told,) = run("mate", "hose:19mm", "flare37:-10:female", "--pressure", "9 bar", "--json").answer["cautions"]
    assert told["code"] == "hose-rating"


def test_mate_sells_wired_hose_alone_before_the_pump_and_keeps_its_cautions() -> None:
    for size in ("25mm", "32mm"):
        ran = run("mate", f"spigot:{size}:bead", f"spigot:{size}:bead", "--suction", "--json")
        assert [hose["part"] for hose in ran.answer["buy"]["hoses"]] == [f"hose-wired-{size[:-2]}"]
        assert [caution["code"] for caution in ran.answer["cautions"]] == ["suction-hose"]
    through = run("mate", "orb:-16:female", "spigot:25mm:bead", "--suction", "--json").answer
    assert [hose["part"] for hose in through["buy"]["hoses"]] == ["hose-wired-25"]
    assert {caution["code"] for caution in through["cautions"]} == {"ring-rubber", "suction-hose"}
    hot = run("mate", "spigot:25mm:bead", "spigot:25mm:bead", "--suction", "--hottest", "130 degC", "--json").answer
    assert hot["buy"] is None and "none is wired or rated for vacuum" in hot["refused"]


def test_mate_takes_charge_to_be_as_hot_as_check_does_where_nobody_says() -> None:
    """At 150 degC 2.50 bar of silicone is 1.75, and 1.45 bar of boost asks 1.81: common practice, no source. A reducer
    that `check` lists as too weak in a box is not sold for the same joint by `mate`."""
    ends = ("mate", "spigot:57mm:bead", "spigot:70mm:bead", "--medium", "charge", "--boost", "1.45 bar")
    unsaid, hot, cool = (
        run(*ends, *more, "--json").answer for more in ((), ("--hottest", "150 degC"), ("--hottest", "80 degC"))
    )
    assert unsaid["buy"] == hot["buy"] != cool["buy"]
    assert (unsaid["hottest_k"], unsaid["assumed_hottest_k"]) == (None, 423.15)
    assert (hot["hottest_k"], hot["assumed_hottest_k"]) == (423.15, None)
    assert "up to 150 degC, assumed (--hottest says otherwise)" in flowing(run(*ends).out)
    sold = cool["buy"]["adapter"]["part"]
    assert sold == "coupler-57-70"
    box = {**kit_file("good"), "boost": "1.45 bar", "parts": [*LOOP.values(), "cap-45-vented", sold]}
    (refused,) = check(box, "--json").answer["refused"]
    assert (refused["rule"], refused["subjects"][0]) == ("rating-below-pressure", sold)
    assert refused["found"] == pytest.approx(1.75e5)
    assert run("mate", "spigot:25mm:bead", "spigot:25mm:bead", "--json").answer["assumed_hottest_k"] is None


def test_boost_is_no_pressure_of_coolant_and_pressure_none_of_charge() -> None:
    quick = ("mate", "qc-coolant:19mm:male:a", "qc-coolant:19mm:female:a")
    for more in (("--boost", "3 bar", "--medium", "coolant"), ("--pressure", "3 bar", "--medium", "charge")):
        ran = run(*quick, *more)
        assert ran.code == 3 and ("--pressure" in ran.err and "boost" in ran.err)
    assert run(*quick, "--pressure", "3 bar").code == 1
    held = run(*quick, "--pressure", "2 bar", "--json")
    assert held.code == 0 and held.answer["pressure_pa_gauge"] == 200000


LOOP = {
    "cores": "core-260-short", "exchangers": "exchanger-350-slim", "pumps": "pump-40-small",
    "reservoirs": "reservoir-8-cube",
}  # fmt: skip


def test_why_says_that_a_coupler_fits_and_is_too_weak_when_hot(tmp_path: Path) -> None:
    """Charger 57 mm, core 70 mm; 1.25 times 1.4 bar is 1.75 bar (common practice, no source)."""
    (tmp_path / "shelf").mkdir()
    shelf = small_shelf(**{kind: [shipped_part(part)] for kind, part in LOOP.items()})
    (tmp_path / "shelf" / "parts.yaml").write_text(written(shelf), encoding="utf-8")
    brief = tmp_path / "brief.yaml"
    brief.write_text(written(example("hatch")), encoding="utf-8")
    asked = ("why", str(brief), "--catalogue", str(tmp_path / "shelf"), "coupler-57-70", "coupler-89-102", "--json")
    weak, useless = run(*asked).answer["parts"]
    assert (weak["code"], useless["code"]) == ("refused-there", "serves-nothing")
    assert weak["found"] < weak["limit"] == 175000 and "engine to core" in weak["text"] and "degC" in weak["text"]
    assert weak["way_out"].startswith("No change of the brief mends this")


def test_check_says_of_a_spare_coupler_that_it_fits_and_is_too_weak_when_hot() -> None:
    kit = {**kit_file("good"), "parts": [*LOOP.values(), "cap-45-vented", "coupler-57-70", "coupler-57"]}
    kit |= {"boost": "1.4 bar", "charger_outlet": "57 mm", "throttle": "64 mm"}
    brief = example("hatch")
    answer = check(kit, "--json", brief=brief).answer
    assert answer["outcome"] == "fits_together" and answer["spare"] == ["coupler-57-70", "coupler-57"]
    (refused,) = answer["refused"]
    assert refused["rule"] == "rating-below-pressure" and refused["subjects"] == ["coupler-57-70", "engine to core"]
    told = flowing(check(kit, brief=brief).out)
    assert "57 to 70 mm fits a joint and does not stand it: engine to core: 'coupler-57-70' is good for" in told
    assert "No joint of the loop wants: Four-ply coupler, 57 mm." in told


def capped(cap: str) -> dict[str, Any]:
    """A box whose exchanger holds 1.20 bar, under a cap of which the pressure alone is known."""
    kit = {key: value for key, value in kit_file("good").items() if key not in ("charger_outlet", "throttle")}
    return kit | {"parts": list(LOOP.values()), "cap": cap}


def test_the_cap_that_would_do_is_told_to_a_hundredth_and_is_true_there_and_not_above() -> None:
    """By hand: 1.20 less 0.42 of the pump at no flow and 0.05 of liquid is 0.73 bar, over 1.1 is 0.66 (0.663) bar."""
    (text,) = [rule["text"] for rule in check(capped("1.1 bar"), "--json").answer["broken"]]
    told = float(text.partition("with a cap of at most ")[2].split()[0])
    assert told == 0.66 and check(capped(f"{told:.2f} bar")).code == 0
    over = check(capped(f"{told + 0.01:.2f} bar"), "--json").answer["broken"]
    assert [rule["rule"] for rule in over] == ["rating-below-pressure"] and "at most" in over[0]["text"]


def test_a_cap_rated_for_what_it_opens_at_is_told_to_be_rated_for_more_and_no_other_cap() -> None:
    weak = {**shipped_part("cap-45-0.5", id="my-cap"), "kind": "cap"}
    weak["coolant"]["working"] = weak["opens"]
    kit = {key: value for key, value in capped("").items() if key != "cap"}
    (rule,) = check({**kit, "parts": [*LOOP.values(), weak]}, "--json").answer["broken"]
    assert rule["subjects"] == ["my-cap", "cap"]
    assert rule["text"].endswith("a tenth more than it opens at: take a cap that is rated for that")


@pytest.mark.parametrize(("extra", "kind"), [("pump-46-small", "pump"), ("reservoir-8-cube", "reservoir")])
def test_of_two_pumps_or_tanks_the_first_alone_is_judged_and_priced(extra: str, kind: str) -> None:
    one = {**kit_file("good"), "parts": [*LOOP.values(), "cap-45-vented"]}
    alone, both = (check({**one, "parts": [*one["parts"], *more]}, "--json").answer for more in ([], [extra]))
    assert (alone["outcome"], both["outcome"]) == ("fits_together", "unproven")
    (rule,) = both["unknown"]
    assert rule["rule"] == "one-too-many" and LOOP[f"{kind}s"] in rule["text"]
    assert (both["too_many"], both["without_them"]) == ([extra], "fits_together")
    for key in ("joints", "to_buy", "price_cents", "pressure", "broken"):
        assert both[key] == alone[key], key
    told = flowing(check({**one, "parts": [*one["parts"], extra]}).out)
    assert "for a loop here has one: so these parts go together" in told


def weak_pieces() -> dict[str, dict[str, Any]]:
    """A hose and a barb of the shipped shelf, made weaker: 60 degC, and 0.03 bar."""
    hose = {**shipped_part("hose-rubber-19", id="thin-hose", hottest="60 degC"), "kind": "hose"}
    barb = {**shipped_part("barb-orb-12-19", id="toy-barb"), "kind": "adapter"}
    barb["through"] = {**barb["through"], "working": "0.03 bar"}
    return {"hoses": hose, "adapters": barb}


def test_check_says_of_spare_hose_and_barb_what_they_do_not_stand() -> None:
    """By hand: the pump of the kit makes 0.42 bar at no flow, the liquid above 0.05 bar: more than 0.03 bar."""
    kit = {**capped("0 bar"), "parts": [*LOOP.values(), "cap-45-vented", *weak_pieces().values()]}
    del kit["cap"]
    ran = check(kit, "--json")
    hose, barb = ran.answer["refused"]
    assert ran.answer["outcome"] != "does_not" and ran.answer["spare"] == ["thin-hose", "toy-barb"]
    assert (hose["rule"], hose["subjects"][0], barb["rule"], barb["subjects"][0]) == (
        "too-hot", "thin-hose", "rating-below-pressure", "toy-barb",
    )  # fmt: skip
    told = flowing(check(kit).out)
    assert "'toy-barb' is good for 0.03 bar, the run may see" in told
    assert "'thin-hose' stands 60 degC, the run sees 100 degC" in told


def test_why_says_of_hose_and_barb_what_they_do_not_stand(tmp_path: Path) -> None:
    shelf = small_shelf(**{kind: [shipped_part(part)] for kind, part in LOOP.items()})
    for section, part in weak_pieces().items():
        shelf[section] = [*shelf[section], {key: value for key, value in part.items() if key != "kind"}]
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "parts.yaml").write_text(written(shelf), encoding="utf-8")
    brief = tmp_path / "brief.yaml"
    brief.write_text(written(example("hatch")), encoding="utf-8")
    asked = ("thin-hose", "toy-barb", "hose-wired-32")
    hose, barb, wired = run("why", str(brief), "--catalogue", str(tmp_path / "shelf"), *asked, "--json").answer["parts"]
    assert [part["code"] for part in (hose, barb, wired)] == ["refused-there", "refused-there", "serves-nothing"]
    assert hose["found"] == pytest.approx(373.15) and "'thin-hose' stands 60 degC" in hose["text"]
    assert barb["found"] == 3000 < barb["limit"] and "'toy-barb' is good for 0.03 bar" in barb["text"]


def own_pieces() -> dict[str, dict[str, Any]]:
    """Pieces that a customer has, as they are written whole: what each is, told by its id."""
    barb = shipped_part("barb-orb-12-19", kind="adapter", id="my-barb")
    return {
        "my-hose": shipped_part("hose-rubber-19", kind="hose", id="my-hose"),
        "my-barb": barb,
        "my-worn-hose": shipped_part("hose-rubber-19", kind="hose", id="my-worn-hose", hottest="60 degC"),
        "my-fuel-hose": shipped_part("hose-rubber-19", kind="hose", id="my-fuel-hose", media=["fuel"]),
        "my-fine-hose": shipped_part("hose-rubber-19", kind="hose", id="my-fine-hose", bore="6 mm"),
        "my-coupler": shipped_part("coupler-aramid-57-70", kind="adapter", id="my-coupler"),
        "my-fuse": shipped_part("fuse-07.5", kind="fuse", id="my-fuse"),
    }


def test_why_has_a_true_reason_for_hose_adapter_and_wiring_that_the_customer_has(tmp_path: Path) -> None:
    """Of the shelf alone kits are made: such a piece is on no bill, and is told what it would stand."""
    own = own_pieces()
    shelf = small_shelf(**{kind: [shipped_part(part)] for kind, part in LOOP.items()})
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "parts.yaml").write_text(written(shelf), encoding="utf-8")
    brief = tmp_path / "brief.yaml"
    brief.write_text(written(example("hatch", own=list(own.values()))), encoding="utf-8")
    ran = run("why", str(brief), "--catalogue", str(tmp_path / "shelf"), *own, "--json")
    told = {part["part"]: part for part in ran.answer["parts"]}
    assert ran.code == 1 and {part: one["code"] for part, one in told.items()} == {
        "my-hose": "shelf-serves",
        "my-barb": "shelf-serves",
        "my-worn-hose": "refused-there",
        "my-fuel-hose": "other-medium",
        "my-fine-hose": "serves-nothing",
        "my-coupler": "shelf-serves",
        "my-fuse": "shelf-serves",
    }
    assert "pump to core" in told["my-hose"]["text"] and "pump to core" in told["my-barb"]["text"]
    assert "core" in told["my-coupler"]["text"].partition("seen there")[2]
    assert "seen there" not in told["my-fuse"]["text"]
    assert (told["my-fuel-hose"]["found"], told["my-fuel-hose"]["limit"]) == ("fuel", "coolant")
    assert all(part["way_out"] for part in told.values())
    every = run("why", str(brief), "--catalogue", str(tmp_path / "shelf"), "--json")
    assert every.code == 1 and {part["part"] for part in every.answer["parts"]} >= own.keys()


def test_a_run_is_said_to_see_what_pump_and_cap_make_not_the_next_rating_of_the_shelf(tmp_path: Path) -> None:
    """`pump-40-small` makes 0.42 bar at no flow and 0.05 bar is liquid: hose of 0.4 bar once was told to see 6 bar."""
    (tmp_path / "shelf").mkdir()
    shelf = small_shelf(**{kind: [shipped_part(part)] for kind, part in LOOP.items()})
    shelf["hoses"] = [{**part, "working": "0.4 bar"} for part in shelf["hoses"]]
    (tmp_path / "shelf" / "parts.yaml").write_text(written(shelf), encoding="utf-8")
    brief = tmp_path / "brief.yaml"
    brief.write_text(written(example("hatch")), encoding="utf-8")
    core, hose = run(
        "why", str(brief), "--catalogue", str(tmp_path / "shelf"), "core-260-short", "hose-rubber-19", "--json"
    ).answer["parts"]
    told = str(core)
    assert "'hose-rubber-19' is good for 0.40 bar, the run may see 0.47 bar" in told and "6.00" not in told
    assert hose["code"] == "no-kit-to-serve"


def test_a_core_whose_coupler_is_too_weak_is_in_with_less_boost(tmp_path: Path) -> None:
    """Once told that no change of the brief mends it, while `suggest` named less boost as a way out."""
    (tmp_path / "shelf").mkdir()
    shelf = small_shelf(**{kind: [shipped_part(part)] for kind, part in LOOP.items()})
    shelf["adapters"] = [part for part in shelf["adapters"] if "lined" not in part["id"] and "aramid" not in part["id"]]
    (tmp_path / "shelf" / "parts.yaml").write_text(written(shelf), encoding="utf-8")
    for boost, power, code in (("1.4 bar", "230 kW", 1), ("0.9 bar", "150 kW", 0)):
        brief = tmp_path / "brief.yaml"
        engine = {**example("hatch")["engine"], "boost": boost, "power": power}
        brief.write_text(written(example("hatch", engine=engine)), encoding="utf-8")
        ran = run("why", str(brief), "--catalogue", str(tmp_path / "shelf"), "core-260-short", "--json")
        assert ran.code == code
        if code:
            assert ran.answer["parts"][0]["way_out"].startswith("Less boost")
