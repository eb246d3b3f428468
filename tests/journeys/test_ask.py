"""`kitwright ask` as three people meet it in a terminal: a retailer with every gap measured, a builder who has measured
little, and someone who types nonsense, goes back, interrupts and goes on later.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from configurator.cli.ask_command import refuse_early
from configurator.errors import CannotWrite
from configurator.files.find_catalogue import shipped_catalogue
from configurator.files.load_brief import LoadedBrief, load_brief
from configurator.files.load_catalogue import load_catalogue
from tests.files.asked_files import MEASURED
from tests.files.good_files import SHELF, TABLES
from tests.journeys.kitwright import command
from tests.journeys.person import CTRL_C, CTRL_D, Talk, talk

ENGINE = ["Hill-climb hatch", "230 kW", "petrol", "turbo", "1.4 bar", "1.6 L", "7400 rpm", "57 mm", "", "64 mm"]
PLACE = ["24 degC", "50 %", "900 m", "-5 degC"]
AIM = ["ceiling", "80 degC", "12 kPa", ""]
LIMITS = ["1400", "16 kg", "20 A", ""]
NOSE = ["exchanger", "460 mm", "150 mm", "60 mm", "front, back, left, right", "ram", "25 %"]
BULKHEAD = ["core", "240 mm", "180 mm", "320 mm", "front, back, left", "450 mm", "-260 mm", "620 mm"]
SIDE = ["reservoir, pump", "220 mm", "380 mm", "240 mm", "up", "", "", ""]
OBSTACLE = ["bulkhead", "left 180 mm, front 200 mm, floor 80 mm", "60 mm", "100 mm", "120 mm", "plain"]
WISHES = ["", "", "", "water, ethylene glycol", ""]
GAPS = ["nose, bulkhead, side", *NOSE, "60 mm", "-230 mm", "300 mm", *BULKHEAD, *SIDE, "brake cylinder", *OBSTACLE]
RETAILER = [*ENGINE, "hill-climb", *PLACE, *AIM, *LIMITS, *GAPS, *WISHES, "no"]
BUILDER = [
    *["My car", "310 hp", "petrol", "turbo", "20 psi", "", "", "", "track", "95 degF", "", "", "", "above-air", "35 K"],
    *["", "", "", "", "", "", "nose, somewhere", "exchanger", "18 in", "6 in", "not measured yet", "", "", "", "", ""],
    *["core, pump, reservoir", "not measured yet", "not measured yet", "not measured yet", "", "", "", "", ""],
    *["", "", "", "", "", "no"],
]

COOLANT = "coolant: [water, ethylene glycol]"


def told(*words: str) -> tuple[int, str]:
    """Exit code and stderr of a run without a terminal, in this process."""
    run = command(*words)
    return run.code, run.err


def widest(screen: str) -> int:
    return max(map(len, screen.split("\n")))


@pytest.mark.parametrize("folder", [".", "/", "", ".."])
def test_a_folder_is_no_file_to_write_a_brief_into(
    folder: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("answers.yaml").write_text(MEASURED, encoding="utf-8")
    words = f"'{folder or '.'}' is there and is no file; nothing was written: choose another name"
    assert told("ask", "-o", folder, "--answers", "answers.yaml") == (3, f"kitwright: {words}\n")


def made(folder: Path, name: str = "car.yaml") -> LoadedBrief:
    return load_brief(folder / name, *load_catalogue(shipped_catalogue()))


@pytest.fixture(scope="module")
def retailer(tmp_path_factory: pytest.TempPathFactory) -> tuple[Talk, Path]:
    folder = tmp_path_factory.mktemp("retailer")
    return talk(folder, ["ask", "-o", "car.yaml"], RETAILER), folder


def test_a_retailer_with_all_measured_gets_a_brief(retailer: tuple[Talk, Path]) -> None:
    spoken, folder = retailer
    assert spoken.code == 0 and spoken.asked == len(RETAILER), spoken.screen[-1500:]
    bay = made(folder).brief.bay
    assert bay is not None and [*bay.zones] == ["nose", "bulkhead", "side"] and len(bay.obstacles) == 1
    assert "Next: kitwright suggest car.yaml" in spoken.screen
    assert "Taken, and marked in the brief: no limit" not in spoken.screen
    assert "Taken, and marked in the brief: none is printed." in spoken.screen
    assert not (folder / "car.draft.yaml").exists()


def test_the_engine_is_checked_once_it_is_told(retailer: tuple[Talk, Path]) -> None:
    """230 kW at 300 g/kWh and 11.8 kg of air for each of fuel: 0.226 kg/s. 1.6 L at 7400 rpm draws 0.0987 m3/s in four
    strokes, 95 % filled; at 2.41 bar and 55 degC (gas law, 287 J/kg/K) that is 0.240 kg/s. Reckoned by hand.
    """
    screen = " ".join(retailer[0].screen.split())
    assert pytest.approx(0.226, abs=5e-4) == 230 * 0.3 / 3600 * 11.8
    assert pytest.approx(0.240, abs=5e-4) == 1.6e-3 * 7400 / 120 * 0.95 * 241325 / (287.05 * 328.15)
    wanted = "needs about 0.23 kg/s of air, displacement and revs give 0.24: plausible"
    assert f"230 kW at 1.4 bar on 1.6 L {wanted}" in screen
    assert screen.index(wanted) < screen.index("How is the car driven?")


def test_questions_fit_80_columns_and_one_picture_shows_how_to_measure(retailer: tuple[Talk, Path]) -> None:
    conversation = retailer[0].screen.split("# What the car is")[0]
    assert widest(conversation) <= 80 and "  turbo            turbo, wastegated\n" in conversation
    assert conversation.count("Measure each at the narrowest") == 1


def test_a_builder_who_has_not_measured_gets_an_unmeasured_bay(tmp_path: Path) -> None:
    spoken = talk(tmp_path, ["ask", "-o", "car.yaml"], BUILDER)
    assert spoken.code == 0 and spoken.asked == len(BUILDER), spoken.screen[-1500:]
    assert made(tmp_path).brief.bay is None
    assert "310 hp at 20 psi needs about" in spoken.screen and widest(spoken.screen.split("# What the car is")[0]) <= 80
    written = (tmp_path / "car.yaml").read_text(encoding="utf-8")
    assert "bay: unmeasured" in written and "#       wide: 18 in" in written
    assert "  # altitude: not said; taken: sea level" in written


def test_nonsense_back_ctrl_c_and_going_on(retailer: tuple[Talk, Path], tmp_path: Path) -> None:
    """However often it was interrupted, the brief is the same in the end."""
    first = ["back", "???", "back", "Hill-climb hatch", "lots", "230", "230 kW", "petrol", "?", "steam", "back"]
    begun = talk(tmp_path, ["ask", "-o", "car.yaml"], [*first, "petrol", "turbo", "1,4 bar", CTRL_C])
    assert begun.code == 4 and not (tmp_path / "car.yaml").exists()
    for words in ("this is the first question", "'lots' is not a power", "no unit", "'steam' is not known", "decimal"):
        assert words in begun.screen, words
    assert "Kept in car.draft.yaml" in begun.screen and "Traceback" not in begun.screen
    with pytest.raises(CannotWrite, match="--resume"):
        refuse_early(tmp_path / "car.yaml", tmp_path / "car.draft.yaml", resume=False, force=False)
    rest = [*RETAILER[4:33], CTRL_D]
    further = talk(tmp_path, ["ask", "-o", "car.yaml", "--resume"], rest)
    assert further.code == 4 and further.asked == len(rest)
    assert "How much boost at the throttle?" in further.screen and "Which fuel?" not in further.screen
    ended = talk(tmp_path, ["ask", "-o", "car.yaml", "--resume"], RETAILER[33:])
    assert ended.code == 0, ended.screen[-1500:]
    assert not (tmp_path / "car.draft.yaml").exists()
    assert (tmp_path / "car.yaml").read_bytes() == (retailer[1] / "car.yaml").read_bytes()


def test_a_figure_out_of_range_is_refused_at_its_own_question_and_asked_again(tmp_path: Path) -> None:
    replies = ["200 psi", "20 psi", "1.6 L", "", "12 in", "1 mm", "2.25 in", "", "1 m", "64 mm", "stop"]
    engine = ["--name", "Car", "--power", "300 PS", "--fuel", "petrol", "--charger", "turbo"]
    spoken = talk(tmp_path, ["ask", "-o", "car.yaml", *engine], replies)
    assert spoken.code == 4 and "Traceback" not in spoken.screen and "How is the car driven?" in spoken.screen
    for words in ("at most 145.037 psi (10 bar)", "at most 7.87401 in (200 mm)", "at least 3 mm", "at most 0.2 m"):
        assert f"out of range: it must be {words}" in " ".join(spoken.screen.split())
    draft = (tmp_path / "car.draft.yaml").read_text(encoding="utf-8")
    assert 'boost: "20 psi"' in draft and 'charger-outlet: "2.25 in"' in draft and 'throttle: "64 mm"' in draft


@pytest.mark.parametrize("how", ["flags", "answers", "resume"])
def test_figures_out_of_range_are_all_told_however_they_are_given(
    how: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    figures = {"boost": "200 psi", "charger-outlet": "900 mm", "throttle": "1 m"}
    lines = (line.partition(": ") for line in MEASURED.splitlines())
    text = "".join(f"{key}: {figures.get(key, value)}\n" for key, _, value in lines)
    (tmp_path / "bad.yaml").write_text(text.replace("nose: 60 mm", "nose: 40 ft", 1), encoding="utf-8")
    (tmp_path / "car.draft.yaml").write_text(text, encoding="utf-8")
    ways = {
        "flags": [word for key, figure in figures.items() for word in (f"--{key}", figure)],
        "answers": ["--answers", "bad.yaml"],
        "resume": ["--resume"],
    }
    code, err = told("ask", "-o", "car.yaml", *ways[how])
    assert code == 3 and all(f"'{figure}' is out of range" in err for figure in figures.values())
    assert ("bad.yaml:25:18: gap-deep.nose: '40 ft' is out of range" in err) is (how == "answers")
    assert (tmp_path / "car.draft.yaml").read_text(encoding="utf-8") == text


def test_back_is_an_answer_where_it_names_a_side_and_previous_goes_back_there(tmp_path: Path) -> None:
    passed_by = ("charger-outlets", "after", "currency")
    draft = MEASURED.split("gap-open:")[0] + "".join(f"{key}: default\n" for key in passed_by)
    (tmp_path / "car.draft.yaml").write_text(draft, encoding="utf-8")
    replies = ["?", "previous", "6 cm", "Back", "back", "back", "stop"]
    spoken = talk(tmp_path, ["ask", "-o", "car.yaml", "--resume"], replies)
    screen = " ".join(spoken.screen.split())
    assert spoken.code == 4 and screen.count("(back is an answer here; previous goes one question back)") == 4
    assert screen.count("nose: How deep is it?") == 1 and screen.count("nose: Which sides are open?") == 3
    draft = (tmp_path / "car.draft.yaml").read_text(encoding="utf-8")
    assert 'nose: "6 cm"' in draft and "gap-open:\n  nose: [back]" in draft and "gap-air" not in draft


@pytest.mark.parametrize(
    ("night", "replies", "words"),
    [
        ("23 degF", ["water", "stop"], "water freezes in a night of 23 degF: no kit will be found; name a glycol"),
        ("5 degC", ["water", "stop"], ""),
        ("23 degF", ["", "cubes", "stop"], "Ice goes with plain water alone, which freezes in a night of 23 degF"),
        ("-40 degC", ["water, ethylene glycol", "stop"], ""),
    ],
)
def test_a_coolant_that_freezes_is_told_when_it_is_named(
    tmp_path: Path, night: str, replies: list[str], words: str
) -> None:
    draft = MEASURED.split("gaps:")[0].replace("coldest: -5 degC", f"coldest: {night}") + "gaps: not measured yet\n"
    passed_by = ("charger-outlets", "after", "currency", "own", "without", "in-stock")
    draft += "".join(f"{key}: default\n" for key in passed_by)
    (tmp_path / "car.draft.yaml").write_text(draft, encoding="utf-8")
    spoken = talk(tmp_path, ["ask", "-o", "car.yaml", "--resume"], replies)
    screen = " ".join(spoken.screen.split())
    assert "Which coolants are welcome" in screen
    assert ("no kit will be found" in screen) is bool(words) and words in screen


def test_a_coolant_that_freezes_by_day_is_told_where_no_night_is(tmp_path: Path) -> None:
    draft = MEASURED.split("gaps:")[0].replace("coldest: -5 degC", "coldest: default").replace("24 degC", "-10 degC")
    draft += "gaps: not measured yet\n"
    passed_by = ("charger-outlets", "after", "currency", "own", "without", "in-stock")
    draft += "".join(f"{key}: default\n" for key in passed_by)
    (tmp_path / "car.draft.yaml").write_text(draft, encoding="utf-8")
    spoken = talk(tmp_path, ["ask", "-o", "car.yaml", "--resume"], ["water", "stop"])
    screen = " ".join(spoken.screen.split())
    assert "water freezes in a day of -10 degC: no kit will be found; name a glycol as well" in screen


@pytest.mark.parametrize(
    ("changed", "line", "words"),
    [
        ({COOLANT: "coolant: water"}, "coolant: water", "name a glycol as well"),
        ({COOLANT: "", "coldest: -5 degC": "coldest: -60 degC"}, "coldest: -60 degC", "change 'coldest'"),
        ({COOLANT: "coolant: water\nice: cubes\nice-mass: 4 kg"}, "ice: cubes", "leave the ice out"),
    ],
)
def test_answers_of_a_file_that_freeze_are_refused_at_their_line(
    changed: dict[str, str], line: str, words: str, tmp_path: Path
) -> None:
    text = MEASURED
    for before, after in changed.items():
        assert before in text
        text = text.replace(before, after)
    (tmp_path / "answers.yaml").write_text(text, encoding="utf-8")
    ran = command("ask", "-o", tmp_path / "car.yaml", "--answers", tmp_path / "answers.yaml")
    assert ran.code == 3 and not (tmp_path / "car.yaml").exists()
    told = " ".join(ran.err.split())
    at = text.splitlines().index(line) + 1
    assert f"answers.yaml:{at}:" in ran.err and "no kit will be found" in told and words in told


def test_a_draft_that_was_edited_by_hand_is_told_line_by_line_and_stays(tmp_path: Path) -> None:
    text = "name: Car\npower: 230\nboosst: 1.4 bar\n"
    (tmp_path / "car.draft.yaml").write_text(text, encoding="utf-8")
    spoken = talk(tmp_path, ["ask", "-o", "car.yaml", "--resume"], [])
    screen = " ".join(spoken.screen.split())
    assert spoken.code == 3 and "car.draft.yaml:2:8" in screen and "car.draft.yaml:3:" in screen
    assert "2 problems to mend; car.draft.yaml stays as it is, and nothing that was said is lost." in screen
    assert screen.endswith("Then go on: kitwright ask -o car.yaml --resume")
    assert (tmp_path / "car.draft.yaml").read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    ("replies", "kinds"),
    [
        (["water", "water, ethylene glycol", "no"], "[water, ethylene glycol]"),
        (["water", "water", "no"], "[water]"),
    ],
)
def test_a_coolant_that_freezes_is_asked_for_again_and_taken_when_it_is_named_twice(
    replies: list[str], kinds: str, tmp_path: Path
) -> None:
    """Also where the coolant is the last question, as an aim after a standstill leaves none for ice."""
    draft = MEASURED.split("gaps:")[0] + "after: 5 min standstill\nafter-run: default\ngaps: not measured yet\n"
    passed_by = ("charger-outlets", "currency", "own", "without", "in-stock")
    draft += "".join(f"{key}: default\n" for key in passed_by)
    (tmp_path / "car.draft.yaml").write_text(draft, encoding="utf-8")
    spoken = talk(tmp_path, ["ask", "-o", "car.yaml", "--resume"], replies)
    assert spoken.code == 0 and spoken.asked == 3, spoken.screen
    assert spoken.screen.count("no kit will be found") == 1
    assert f"kinds: {kinds}" in (tmp_path / "car.yaml").read_text(encoding="utf-8")


def test_flags_are_not_asked_again_and_hostile_names_are_kept(tmp_path: Path) -> None:
    flags = ["--name", "[a]: # b", "--power", "230 kW", "--charger", "roots", "--gap-wide", "nose=1 m"]
    replies = ["diesel", "\x1b[A\u202eturbo", "turbo", "1.4 bar", "", "stop"]
    spoken = talk(tmp_path, ["ask", "-o", "car.yaml", *flags], replies)
    assert spoken.code == 4 and "How much power" not in spoken.screen
    assert "charger 'roots' is not known (allowed: turbo)" in spoken.screen
    draft = (tmp_path / "car.draft.yaml").read_text(encoding="utf-8")
    assert 'name: "[a]: # b"' in draft and "gap-wide:\n  nose: \"1 m\"" in draft, "it is kept until the gaps are named"


def test_without_a_terminal_all_that_is_missing_is_told_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    code, err = told("ask", "-o", "car.yaml", "--power", "230", "--gap-wide", "460 mm")
    assert code == 3 and "does not say which of the gaps" in err
    code, err = told("ask", "-o", "car.yaml", "--power", "230")
    assert code == 3
    for key in ("name", "fuel", "charger", "boost", "driving", "air", "aim", "gaps"):
        assert f"missing key '{key}' (--{key})" in err
    assert "--power: '230' has no unit" in err and "missing key 'power'" not in err
    assert [*tmp_path.iterdir()] == []


def test_an_option_of_a_list_given_twice_counts_twice_and_of_one_figure_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "answers.yaml").write_text(MEASURED, encoding="utf-8")
    words = ["ask", "-o", "car.yaml", "--answers", "answers.yaml"]
    own = ["--driving", "own", "--total", "2 min"]
    own += ["--stretches", "20 s 80 % 65 km/h", "--stretches", "20 s 20 % 45 km/h"]
    listed = ["--without", "fan", "--without", "pump-40-small", "--gap-open", "side=up", "--gap-open", "side=left"]
    assert told(*words, *own, *listed) == (0, "")
    brief = made(tmp_path).brief
    assert not isinstance(brief.driving, str) and len(brief.driving.stretches) == 2 and brief.bay is not None
    assert brief.without == ("fan", "pump-40-small") and brief.bay.zones["side"].open == ("up", "left")
    code, err = told(*words, "--force", "--gap-wide", "nose=1 m", "--gap-wide", "nose=46 cm")
    assert code == 3 and "--gap-wide: 'nose' is told twice, '1 m' and '46 cm'; leave one of them out" in err


def test_a_total_shorter_than_its_stretches_is_refused_at_its_own_question(tmp_path: Path) -> None:
    flags = ["--name", "Car", "--power", "300 PS", "--fuel", "petrol", "--charger", "turbo", "--boost", "20 psi"]
    flags += ["--displacement", "default", "--charger-outlet", "default", "--throttle", "default", "--driving", "own"]
    replies = ["20 s 80 % 65 km/h, 20 s 20 % 45 km/h", "10 s", "12 min", "stop"]
    spoken = talk(tmp_path, ["ask", "-o", "car.yaml", *flags], replies)
    assert spoken.asked == 4 and "total 10 s is shorter than one round" in " ".join(spoken.screen.split())
    assert 'total: "12 min"' in (tmp_path / "car.draft.yaml").read_text(encoding="utf-8")


def test_what_cannot_be_written_or_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    code, err = told("ask", "-o", "nowhere/car.yaml")
    assert code == 3 and "there is no folder 'nowhere'" in err
    code, err = told("ask", "--resume")
    assert code == 3 and "my-car.draft.yaml:1:1: cannot be read" in err
    assert told("ask", "--resume", "--answers", "a.yaml")[0] == 2


def test_a_file_of_answers_gives_the_same_brief(
    retailer: tuple[Talk, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody is asked: there is no terminal. A brief that is there is left alone."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "answers.yaml").write_text(MEASURED, encoding="utf-8")
    assert told("ask", "-o", "car.yaml", "--answers", "answers.yaml") == (0, "")
    assert (tmp_path / "car.yaml").read_bytes() == (retailer[1] / "car.yaml").read_bytes()
    (tmp_path / "car.yaml").write_text("mine", encoding="utf-8")
    code, err = told("ask", "-o", "car.yaml", "--answers", "answers.yaml")
    assert code == 3 and "--force" in err and (tmp_path / "car.yaml").read_text(encoding="utf-8") == "mine"


def test_whether_to_look_for_kits_is_asked_until_it_is_yes_or_no(tmp_path: Path) -> None:
    passed_by = ("charger-outlets", "after", "currency", "own", "without", "in-stock")
    answers = "".join(f"{key}: default\n" for key in passed_by)
    draft = MEASURED.split("gaps:")[0] + "gaps: not measured yet\ncoolant: default\n" + answers
    (tmp_path / "car.draft.yaml").write_text(draft, encoding="utf-8")
    spoken = talk(tmp_path, ["ask", "-o", "car.yaml", "--resume"], ["", "maybe", "later", "no"])
    assert spoken.code == 0 and spoken.asked == 4
    assert "! 'maybe' is neither yes nor no" in spoken.screen and "! 'later' is neither" in spoken.screen


def test_the_next_command_may_follow_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a shelf of another folder, which the next command names; what it prints is what that command prints."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "all.yaml").write_text(SHELF + TABLES, encoding="utf-8")
    answers = MEASURED.split("gaps:")[0] + "gaps: not measured yet\n"
    (tmp_path / "answers.yaml").write_text(answers, encoding="utf-8")
    words = ["--answers", "answers.yaml", "--catalogue", "shelf", "--then-suggest"]
    both = command("ask", "-o", "car.yaml", *words)
    assert "\nNext: kitwright suggest car.yaml --catalogue shelf\n" in both.out, both.err
    alone = command("suggest", "car.yaml", "--catalogue", "shelf")
    assert both.code == alone.code and alone.out and both.out.endswith(alone.out)
