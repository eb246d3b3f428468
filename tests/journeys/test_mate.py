"""`kitwright mate` as a person at the counter uses it: what it says, what it exits with, what it asks for."""

from __future__ import annotations

import contextlib
import importlib
import io
import json
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any
from unittest.mock import patch

import pytest

from tests.house.checkout import kitwright
from tests.journeys.kitwright import CATALOGUE, command, shipped, written

CODES = {"direct": 0, "adapter": 0, "refuse": 1, "ask": 4}


@pytest.fixture(autouse=True)
def _one_shelf() -> Iterator[None]:
    """The same folder is read once."""
    command = importlib.import_module("configurator.cli.mate_command")
    with patch.object(command, "load_catalogue", _kept_catalogue(command.load_catalogue)):
        yield


@cache
def _kept_catalogue(load: Any) -> Any:
    return cache(load)


def mate(*words: str) -> tuple[int, str, str]:
    """Exit code, stdout and stderr of one run in this process."""
    run = importlib.import_module("configurator.cli.start").run
    out, err, code = io.StringIO(), io.StringIO(), 0
    with (
        patch.object(sys, "argv", ["kitwright", "mate", *words]),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
    ):
        try:
            run()
        except SystemExit as stop:
            code = int(stop.code or 0)
    return code, out.getvalue(), err.getvalue()


def answer(*words: str) -> dict[str, Any]:
    """The JSON document of one run, whose exit code suits its verdict."""
    code, out, err = mate(*words, "--json")
    document: dict[str, Any] = json.loads(out)
    assert err == "" and document["format"] == 1
    assert code == CODES[document["verdict"]]
    return document


BOOST = ("--boost", "1.5 bar")
CASES = [
    ("orb:-10:male", "orb:-10:female", (), "direct"),
    ("orb:-12:male", "orb:-10:female", (), "adapter"),
    ("flare37:-10:male", "flare37:-10:female:swivel", (), "direct"),
    ("orb:-10:male", "flare37:-10:female:swivel", (), "refuse"),
    ("flare37:-8:male", "orb:-8:female", (), "refuse"),
    ("flare37:-8:male", "flare45:-8:female", (), "refuse"),
    ("flare37:-12:male", "flare45:-12:female", (), "refuse"),
    ("npt:1/2:male", "npt:1/2:female", (), "direct"),
    ("npt:1/2:male", "rc:1/2:female", (), "refuse"),
    ("npt:1/2:male", "g:1/2:female", (), "refuse"),
    ("npt:1/2:male", "orb:-10:female", (), "refuse"),
    ("r:3/4:male", "rp:3/4:female", (), "direct"),
    ("g:1/2:male", "g:1/2:female", (), "direct"),
    ("g:1/2:male", "metric:M22x1.5:female", (), "refuse"),
    ("metric:M22x1.5:male", "metric:M22x1.5:female", (), "direct"),
    ("metric:M27x2:male", "orb:-12:female", (), "refuse"),
    ("orfs:-4:male", "flare37:-6:female", (), "refuse"),
    ("hose:19mm", "spigot:19.05mm:barb", (), "direct"),
    ("hose:19mm", "spigot:16mm:bead", (), "adapter"),
    ("hose:25mm", "spigot:26mm:bead", (), "direct"),
    ("hose:16mm", "spigot:19mm:bead", (), "adapter"),
    ("hose:19mm", "spigot:18mm:barb", (), "refuse"),
    ("coupler:76.2mm", "spigot:76.2mm:bead", BOOST, "direct"),
    ("coupler:63.5mm", "spigot:63.5mm:plain", BOOST, "refuse"),
    ("coupler:63.5mm", "spigot:50.8mm:bead", BOOST, "adapter"),
    ("qc-fuel:9.49mm:male", "qc-coolant:form16:female", ("--medium", "coolant"), "refuse"),
    ("qc-coolant:form16:male", "qc-coolant:form16:female", (), "direct"),
    ("orb:-16:female", "hose:25.4mm", (), "adapter"),
]
"""SAE J1926-1, J514, J512, J1453, J2044, J3207, ASME B1.20.1, ISO 228-1, ISO 7-1, ISO 6149-1 (published); sleeves and
boost are common practice; G 1/2 in M22x1.5 is a published hazard (commentary on EN ISO 4413)."""


@pytest.mark.parametrize(("a", "b", "options", "verdict"), CASES)
def test_cases_of_the_trade_in_both_orders(a: str, b: str, options: tuple[str, ...], verdict: str) -> None:
    forward, backward = answer(a, b, *options), answer(b, a, *options)
    assert forward["verdict"] == verdict
    assert forward["ends"] == backward["ends"][::-1]
    assert {**forward, "ends": []} == {**backward, "ends": []}
    assert forward["why"]
    assert (forward["hazard"] is not None) == (verdict == "refuse")
    if verdict in {"adapter", "refuse"}:
        ways_out = [forward[key] for key in ("buy", "missing", "remedy") if forward[key] is not None]
        assert len(ways_out) == 1
    else:
        assert forward["buy"] is forward["missing"] is forward["remedy"] is None


def test_the_same_is_said_in_words() -> None:
    code, out, _ = mate("orb:-10:male", "flare37:-10:female:swivel")
    told = " ".join(out.split())
    assert code == 1
    assert told.startswith("No: never put O-ring boss -10 male and 37° flare -10 female together.")
    assert "share a thread but seal apart" in told and "Hazard: feels tight and sprays hot coolant" in told
    assert "an adapter with 37° flare -10 male at one end and O-ring boss -10 female at the other" in told
    assert max(map(len, out.splitlines())) <= 80
    code, out, _ = mate("coupler:63.5mm", "spigot:63.5mm:plain", *BOOST)
    # 1.5e5 Pa × pi / 4 × (63.5 mm)² = 475 N, worked by hand
    assert code == 1 and "475 N" in out and "have a bead rolled" in out
    code, out, _ = mate("npt:1/8:male", "npt:1/8:female")
    assert code == 0 and out.startswith("Yes: ") and "It takes: thread sealant" in out


def test_a_hazard_and_a_caution_are_in_table_and_json_alike() -> None:
    document = answer("r:1/2", "g:1/2:female")
    _, out, _ = mate("r:1/2", "g:1/2:female")
    assert [caution["code"] for caution in document["cautions"]] == ["outside-iso-228"]
    assert document["cautions"][0]["text"] in " ".join(out.split())
    refused = answer("g:1/2:male", "metric:M22x1.5:female")
    _, out, _ = mate("g:1/2:male", "metric:M22x1.5:female")
    assert refused["hazard"] in " ".join(out.split())


def _shelf(folder: Path, *adapters: dict[str, Any]) -> str:
    (folder / "parts.yaml").write_text(
        written({"adapters": list(adapters), "hoses": shipped("hoses")}), encoding="utf-8"
    )
    return str(folder)


def _adapter(part_id: str, price: float, one: dict[str, Any], other: dict[str, Any], **more: Any) -> dict[str, Any]:
    ends = [{"name": "one", **one}, {"name": "other", **other}]
    through = {"working": "10 bar", "hottest": "150 degC", "ends": ends, **more}
    facts = {"shape": "adapter", "medium": "coolant", "length": "40 mm"}
    return {"id": part_id, "name": part_id, "price": price, **facts, "through": through}


BOSS = {"form": "orb", "size": "-12", "sex": "male"}
FLARE = {"form": "flare37", "size": "-12", "sex": "female"}
BARB = {"form": "spigot", "size": "19 mm", "barb": True}


def test_the_cheapest_single_adapter_that_really_joins_is_bought(tmp_path: Path) -> None:
    shelf = _shelf(
        tmp_path,
        _adapter("dear", 30, BOSS, FLARE),
        _adapter("cheap", 20, FLARE, BOSS),
        _adapter("wrong-seal", 1, {**BOSS, "form": "flare37"}, FLARE),
        _adapter("wrong-sex", 2, {**BOSS, "sex": "female"}, FLARE),
    )
    document = answer("orb:-12:female", "flare37:-12:male", "--catalogue", shelf)
    assert document["verdict"] == "refuse" and document["missing"] is None
    assert document["buy"]["adapter"] == {"part": "cheap", "price_cents": 2000}
    assert document["buy"]["price_cents"] == 2000
    assert [need["item"] for need in document["buy"]["needs"]] == ["O-ring -12, EPDM"]


def test_where_the_shelf_has_none_the_missing_one_is_named(tmp_path: Path) -> None:
    shelf = _shelf(tmp_path, _adapter("wrong", 1, BOSS, BARB))
    document = answer("orb:-12:female", "flare37:-12:male", "--catalogue", shelf)
    assert document["buy"] is None
    assert "37° flare -12 female" in document["missing"] and "O-ring boss -12 male" in document["missing"]
    found = answer("orb:-12:female", "hose:19mm", "--catalogue", shelf)
    assert found["buy"]["adapter"]["part"] == "wrong"


def test_a_spigot_is_reached_by_a_piece_of_hose(tmp_path: Path) -> None:
    shelf = _shelf(tmp_path, _adapter("boss-to-barb", 10, BOSS, BARB))
    bought = answer("orb:-12:female", "spigot:19mm:bead", "--catalogue", shelf)["buy"]
    assert bought["adapter"]["part"] == "boss-to-barb"
    assert len(bought["hoses"]) == 1
    assert [(need["item"], need["quantity"]) for need in bought["needs"]] == [
        ("O-ring -12, EPDM", 1),
        ("hose clamp", 2),
    ]
    plain = answer("orb:-12:female", "spigot:19mm:plain", "--catalogue", shelf)
    assert plain["buy"] is None and plain["missing"] is not None


def test_before_the_pump_no_narrow_adapter_is_sold(tmp_path: Path) -> None:
    """Least area ratio before the pump 0.80: common practice, no source. (14 / 15.5)² = 0.82, (13.5 / 15.5)² = 0.76."""
    narrow, fair = (
        _adapter("narrow", 5, BOSS, BARB, bore="13.5 mm"),
        _adapter("fair", 9, BOSS, BARB, bore="14 mm"),
    )
    shelf = _shelf(tmp_path, narrow, fair)
    ends = ("orb:-12:female", "hose:19mm", "--catalogue", shelf)
    assert answer(*ends)["buy"]["adapter"]["part"] == "narrow"
    assert answer(*ends, "--suction")["buy"]["adapter"]["part"] == "fair"
    step = answer("orb:-16:female", "orb:-12:female", "--suction")
    assert (step["verdict"], step["rule"]) == ("refuse", "suction-step")


def test_no_coupler_is_sold_that_does_not_stand_the_boost(tmp_path: Path) -> None:
    """Design pressure: 1.25 times the boost, at least 0.3 bar above it. Common practice, no source."""
    ends = ({"form": "coupler", "size": "57 mm"}, {"form": "coupler", "size": "63.5 mm"})
    weak, strong = _adapter("weak", 5, *ends), _adapter("strong", 9, *ends)
    for part, working in ((weak, "1.8 bar"), (strong, "1.9 bar")):
        part["medium"], part["shape"], part["through"]["working"] = "charge", "reducer", working
    words = ("spigot:57mm:bead", "spigot:63.5mm:bead", "--catalogue", _shelf(tmp_path, weak, strong))
    words = (*words, "--hottest", "23 degC", "--boost")
    assert answer(*words, "1.44 bar")["buy"]["adapter"]["part"] == "weak"
    assert answer(*words, "1.46 bar")["buy"]["adapter"]["part"] == "strong"
    assert answer(*words, "1.6 bar")["buy"] is None


@pytest.mark.parametrize(
    ("words", "rule", "asked_for"),
    [
        (("unknown", "orb:-10:female"), "unknown-end", "Measure the outside diameter"),
        (("hose:19mm", "spigot:19mm"), "holding-unknown", "a bead or a barb, or is it plain"),
        (("coupler:63.5mm", "spigot:63.5mm:plain"), "boost-unknown", "How much boost"),
        (("coupler:63.5mm", "spigot:63.5mm", *BOOST), "holding-unknown", "a bead or a barb"),
        (("vband:76mm:male", "vband:76mm:female"), "profile-unknown", "Who made each"),
        (("qc-coolant:16mm:male", "qc-coolant:16mm:female"), "profile-unknown", "Who made each"),
    ],
)
def test_what_the_verdict_hangs_on_is_asked(words: tuple[str, ...], rule: str, asked_for: str) -> None:
    document = answer(*words)
    assert (document["verdict"], document["rule"]) == ("ask", rule)
    assert asked_for in document["question"]
    _, out, _ = mate(*words)
    assert "Ask the customer:" in out


def test_what_the_verdict_does_not_hang_on_is_not_asked() -> None:
    """No bead saves a pipe of another size, and a beaded pipe needs no boost to be told."""
    assert answer("coupler:63.5mm", "spigot:50.8mm")["verdict"] == "adapter"
    assert answer("hose:19mm", "spigot:18mm")["verdict"] == "refuse"
    assert answer("coupler:63.5mm", "spigot:63.5mm:bead")["verdict"] == "direct"
    low = answer("coupler:63.5mm", "spigot:63.5mm", "--boost", "0.4 bar")
    assert low["verdict"] == "direct" and low["cautions"][0]["code"] == "bead-not-told"


def test_the_medium_is_taken_from_the_ends_unless_it_is_told() -> None:
    assert answer("coupler:57mm", "spigot:57mm:bead")["medium"] == "charge"
    assert answer("hose:57mm", "spigot:57mm:bead")["medium"] == "coolant"
    boosted = answer("hose:57mm", "spigot:57mm:bead", "--boost", "0.3 bar")
    assert (boosted["medium"], boosted["verdict"]) == ("charge", "refuse")
    assert answer("qc-fuel:9.49mm:male", "qc-fuel:9.49mm:female")["verdict"] == "refuse"
    assert answer("qc-fuel:9.49mm:male", "qc-fuel:9.49mm:female", "--medium", "fuel")["verdict"] == "direct"
    hot = answer("hose:19mm", "spigot:19mm:bead", "--hottest", "180 degC")
    assert (hot["verdict"], hot["rule"]) == ("refuse", "too-hot")


def test_all_that_was_said_of_the_joint_is_said_back() -> None:
    told = ("--medium", "charge", "--boost", "1.4 bar", "--hottest", "170 degC", "--suction")
    said = " ".join(command("mate", "coupler:70mm", "spigot:70mm:bead", *told).out.split())
    assert "Judged for: charge air, 1.40 bar of boost, up to 170 degC, under suction" in said


@pytest.mark.parametrize(
    ("words", "column", "asked_for"),
    [
        (("3/4", "orb:-12:female"), 1, "npt:3/4"),
        (("metric:M22:female", "orb:-12:female"), 8, "pitch"),
        (("M22", "orb:-12:female"), 1, "pitch"),
        (("hose:-12", "orb:-12:female"), 6, "how many mm is its inside"),
        (("-12", "orb:-12:female"), 1, "dash size"),
        (("banjo:12mm", "orb:-12:female"), 1, "not a form"),
        (("flare38:-12:male", "orb:-12:female"), 1, "did you mean 'flare37'"),
        (("orb:-12:female", "orb:-12"), 8, "male or the female"),
        (("coupler:57mm", "spigot:57mm:bead", "--boost", "1.4"), 1, "no unit"),
        (("coupler:57mm", "spigot:57mm:bead", "--boost", "-1 bar"), 1, "below nothing"),
        (("coupler:57mm", "spigot:57mm:bead", "--boost", "1001 bar"), 1, "it must be at most 1000 bar"),
        (("orb:-8:male", "orb:-8:female", "--pressure", "1000000 bar"), 1, "it must be at most 1000 bar"),
        (("orb:-8:male", "orb:-8:female", "--hottest", "5000 degC"), 1, "it must be at most 1226.85 degC"),
        (("hose:19mm", "spigot:19mm:bead", "--hottest", "100"), 1, "no unit"),
    ],
)
def test_bad_input_is_refused_with_the_question_to_ask(words: tuple[str, ...], column: int, asked_for: str) -> None:
    code, out, err = mate(*words)
    assert (code, out) == (3, "") and asked_for in err and "Traceback" not in err
    code, out, err = mate(*words, "--json")
    document = json.loads(out)
    assert (code, err) == (3, "") and document["outcome"] == "bad_input"
    assert [problem["column"] for problem in document["problems"]] == [column]
    assert asked_for in document["problems"][0]["text"]


def test_every_problem_is_told_at_once() -> None:
    _, out, _ = mate("3/4", "hose:-12", "--boost", "1.4", "--json")
    assert [problem["key"] for problem in json.loads(out)["problems"]] == ["first end", "second end", "--boost"]


@pytest.mark.parametrize(
    "words",
    [(), ("orb:-12:female",), ("orb:-12:female", "--sucton"), ("orb:-12:male", "orb:-12:female", "--medium", "oil")],
)
def test_a_wrong_command_line_ends_with_2(words: tuple[str, ...]) -> None:
    code, out, err = mate(*words)
    assert code == 2 and out == "" and err


def test_a_folder_that_is_none_is_bad_input(tmp_path: Path) -> None:
    code, out, err = mate("orb:-12:male", "orb:-12:female", "--catalogue", str(tmp_path / "none"))
    assert (code, out) == (3, "") and "not a folder" in err


def test_in_a_process_of_its_own_and_with_the_shipped_shelf() -> None:
    done = kitwright("mate", "orb:-12:female", "hose:19mm", "--catalogue", str(CATALOGUE))
    assert done.returncode == 0 and done.stderr == ""
    assert "[barb-orb-12-19]" in done.stdout
    helped = kitwright("mate", "--help").stdout
    assert "kitwright mate orb:-10:male" in helped and "--suction" in helped
