"""Answers as they are read, and the brief that they make: it loads, says what was said, and marks what was not."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.brief.request import Brief, CoolantWish, Engine, Site
from configurator.errors import Problem
from configurator.files.answers_file import answers_text, from_file, from_flags, read_given
from configurator.files.asked_brief import brief_text
from configurator.files.check_asked import answer_to_blame, brief_problems
from configurator.files.find_catalogue import shipped_catalogue
from configurator.files.load_brief import LoadedBrief, brief_of, load_brief
from configurator.files.load_catalogue import load_catalogue
from configurator.files.plain_text import as_yaml
from configurator.files.read_answer import choices_of, read_answer
from configurator.files.read_yaml import read_text
from configurator.fitting.room import KEEP_OFF_MM
from configurator.foundations.coolants import Coolant
from configurator.foundations.units import UNITS
from configurator.prediction.conditions import altitude_m, choose_coolant
from configurator.prediction.zone_air import ASSUMED_RAM_SHARE
from configurator.questions.ask import Answers, Asked, answered, with_defaults
from configurator.questions.ask_table import BY_KEY, DEFAULT, QUESTIONS, UNMEASURED
from tests.files.asked_files import MEASURED

ROOT = Path(__file__).resolve().parents[2]
CATALOGUE, TABLES = load_catalogue(shipped_catalogue())
CHOICES = choices_of(CATALOGUE, TABLES)
HOSTILE = [
    "[nose]: {a}",
    "nose: # not a remark",
    "it's \"quoted\" \\ and\\n back",
    "- list, & anchor * alias ! tag | > % @ `",
    "yes",
    "null",
    "~",
    "1.5",
    "0x1F",
    "2024-01-01",
    "two\nlines: here",
    "tab\there, line\u2028break, \x85 next",
    "right\u202eto left\u202c, \u200fmark",
    "\ufeffmark of order",
    "---",
    "日本の車 🚗",
    "x" * 200,
]


def answers_of(text: str, tmp_path: Path, **flags: Any) -> tuple[Answers, tuple[Problem, ...]]:
    """The answers of a file, with those of the command line over them."""
    path = tmp_path / "answers.yaml"
    path.write_text(text, encoding="utf-8")
    named = {key.replace("_", "-"): value for key, value in flags.items()}
    return read_given(from_flags(named, from_file(path)), CHOICES, whole=True)


def loaded(answers: Answers) -> LoadedBrief:
    return brief_of(read_text(brief_text(answers), "made.yaml"), CATALOGUE, TABLES)


def good(text: str, tmp_path: Path, **flags: Any) -> LoadedBrief:
    answers, problems = answers_of(text, tmp_path, **flags)
    assert problems == ()
    return loaded(with_defaults(answers))


def read(key: str, text: Any, answers: Answers | None = None) -> tuple[str, ...]:
    return read_answer(BY_KEY[key], text, CHOICES, answers or Answers())


def test_the_brief_is_that_of_the_example(tmp_path: Path) -> None:
    """The example was written by hand: what it says besides (`enough`, runs, tolerance) is not asked for."""
    made = good(MEASURED, tmp_path).brief
    example = load_brief(ROOT / "examples" / "hatch.yaml", CATALOGUE, TABLES).brief
    assert made.bay is not None and example.bay is not None
    bay = example.bay.model_copy(update={"runs": {}, "tolerance_m": None})
    assert made == example.model_copy(update={"enough_k": None, "bay": bay})


def test_a_flag_stands_before_the_file(tmp_path: Path) -> None:
    made = good(MEASURED, tmp_path, boost="20 psi", gap_wide={"nose": "18 in"}).brief
    assert made.engine.boost_pa_gauge.text == "20 psi" and made.bay is not None
    assert made.bay.zones["nose"].wide_m == pytest.approx(0.4572)  # 1 in is 25.4 mm by definition: NIST SP 811
    assert made.bay.zones["side"].wide_m == pytest.approx(0.220)


def test_what_was_not_said_is_marked(tmp_path: Path) -> None:
    answers, _ = answers_of(MEASURED, tmp_path)
    text = brief_text(with_defaults(answers))
    for key in ("charger-outlets", "after", "currency", "without", "in-stock"):
        default = BY_KEY[key].default
        assert default is not None
        assert any(line.lstrip().startswith("#") and line.endswith(f"taken: {default}") for line in text.split("\n"))
    assert "  # altitude" not in text and "  altitude: 900 m" in text


def test_a_gap_with_a_size_unmeasured_is_kept_as_a_remark(tmp_path: Path) -> None:
    answers, problems = answers_of(MEASURED.replace("side: 240 mm}", "side: not measured yet}"), tmp_path)
    assert problems == () and answers.of("gap-deep", "side") == (UNMEASURED,)
    answers = with_defaults(answers)
    assert loaded(answers).brief.bay is None
    text = brief_text(answers)
    assert "\nbay: unmeasured" in text and "#       wide: 460 mm" in text
    measured = text.replace(text[text.index("bay: unmeasured") : text.index("# bay:")], "")
    remark = measured[measured.index("# bay:") : measured.index("# own:")]
    again = measured.replace(remark, "".join(f"{line[2:]}\n" for line in remark.splitlines()))
    again = again.replace("deep: not measured yet", "deep: 240 mm")
    assert brief_of(read_text(again, "x"), CATALOGUE, TABLES).brief == good(MEASURED, tmp_path).brief


def test_an_own_pattern_and_own_parts_and_ice(tmp_path: Path) -> None:
    pattern = 'driving: own\nstretches: "20 s at 80 % at 65 km/h; 20 s 20% 45 km/h"'
    text = MEASURED.replace("driving: hill-climb", pattern)
    text = text.replace("coolant: [water, ethylene glycol]", "coolant: water\nice: crushed\nice-mass: 22 lb")
    made = good(f"{text}total: 12 min\nown: core-160-short, pump-40-small fitted\nin-stock: true\n", tmp_path)
    assert [(float(one.share), one.speed_m_per_s.text) for one in made.driving.stretches] == [
        (0.8, "65 km/h"),
        (0.2, "45 km/h"),
    ]
    assert [(own.part.id, own.fitted) for own in made.own] == [("core-160-short", False), ("pump-40-small", True)]
    assert made.brief.ice is not None and made.brief.in_stock
    assert made.brief.ice.mass_kg == pytest.approx(22 * 0.45359237)  # the pound by definition: NIST SP 811


@pytest.mark.parametrize("name", HOSTILE, ids=ascii)
def test_hostile_names_come_back_as_they_were(name: str, tmp_path: Path) -> None:
    text = MEASURED.replace("name: Hill-climb hatch", f"name: {as_yaml(name)}")
    assert good(text, tmp_path).brief.brief == name
    if any(letter in name for letter in ",;=\n\t\x85\u2028") or len(name) > 60:
        with pytest.raises(ValueError, match=r"cannot be a name|too long"):
            read("gaps", [name])
        return
    text = MEASURED.replace("nose", as_yaml(name)).replace("brake cylinder", as_yaml(f"{name} too"))
    bay = good(text, tmp_path).brief.bay
    assert bay is not None and [*bay.zones] == [name, "bulkhead", "side"]
    assert bay.obstacles[0].name == f"{name} too"


@given(st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=80))
def test_any_name_loads_as_it_was_or_is_refused(name: str) -> None:
    try:
        words = read("name", name)
    except ValueError as refused:
        assert "cannot be printed" in str(refused) or "has to be answered" in str(refused)
        return
    document = read_text(f"brief: {as_yaml(words[0])}\n", "x")
    assert document.problems == [] and document.data == {"brief": name.strip()}


@pytest.mark.parametrize(
    "key, text, words",
    [
        ("power", "230", "no unit"),
        ("power", "230 kw", "did you mean 'kW'"),
        ("boost", "1,4 bar", "decimal point"),
        ("boost", "20 psig", "gauge already"),
        ("fuel", "petrl", "did you mean 'petrol'"),
        ("driving", "hil climb", "did you mean 'hill-climb'"),
        ("air", "300 degC", "out of range"),
        ("price", "1400 EUR", "bare number"),
        ("price", "0", "over 0"),
        ("price", "1400.505", "^'1400.505' has 3 decimals; a price has 2 at most, as in '1400.50'$"),
        ("price", "0.001", "has 3 decimals"),
        ("name", "x" * 10_000, "10000 letters, at most 200"),
        ("name", "   ", "has to be answered"),
        ("name", "bell \x07", r"U\+0007"),
        ("gaps", "nose, nose", "named twice"),
        ("gaps", ", ,", "name at least one"),
        ("gap-open", "front, backk", "did you mean 'back'"),
        ("obstacle-from", "left 1 mm, right 2 mm, front 1 mm, floor 1 mm", "left or the right"),
        ("obstacle-from", "left 180 mm, front 200 mm", "floor or the top"),
        ("stretches", "20 s 80 %", "a road speed"),
        ("own", "core-160-shrt", "did you mean 'core-160-short'"),
        ("own", "core-165-short fitted", r"^the shelf has no 'core-165-short' \(of its kind core: core-150-light, "),
        ("without", "core-165-short", r"^the shelf has no 'core-165-short' \(of its kind core: core-150-light, "),
        ("without", "pumpp", "did you mean 'pump'"),
        ("ice", "dry ice", "suffocates"),
        ("power", ["1 kW"], "found a list"),
        ("power", {"a": "1 kW"}, "found keys and values"),
    ],
)
def test_what_cannot_be_used_is_refused_with_words(key: str, text: Any, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        read(key, text)


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("gap-open", "front back left", ("front", "back", "left")),
        ("gap-open", "front, back and left", ("front", "back", "left")),
        ("gap-takes", "Core reservoir", ("core", "reservoir")),
        ("coolant", "water ethylene glycol", ("water", "ethylene glycol")),
        ("own", "core-160-short pump-40-small fitted", ("core-160-short", "pump-40-small fitted")),
        ("without", "fan pump-40-small", ("fan", "pump-40-small")),
        ("obstacle-from", "left 180 mm front 200 mm and floor 80 mm", ("left 180 mm", "front 200 mm", "floor 80 mm")),
    ],
)
def test_a_list_is_taken_without_its_commas(key: str, text: str, words: tuple[str, ...]) -> None:
    assert read(key, text) == words


LEADS_TO: dict[str, dict[str, Any]] = {
    "total": {"driving": "own", "stretches": "1 s 50 % 65 km/h"},
    "above-air": {"aim": "above-air"},
    "after-run": {"after": "5 min standstill"},
    "gap-face-speed": {"gap-air": {"nose": "face-speed"}},
    "ice-mass": {"coolant": "water", "ice": "crushed"},
}
"""For some questions, the answers by which they are asked."""

FIGURES = [question.key for question in QUESTIONS if question.reads in ("figure", "standstill")]
SIZES = ("-1000000", "-300", "-1", "0", "0.001", "1", "60", "1000", "100000", "100000000")


@pytest.mark.parametrize("key", FIGURES)
def test_a_figure_is_taken_just_where_the_brief_takes_it(key: str, tmp_path: Path) -> None:
    """In bounds that are the brief's own, also for the sizes of gaps: it is refused at its own question."""
    flags = {name.replace("-", "_"): said for name, said in LEADS_TO.get(key, {}).items()}
    answers, _ = answers_of(MEASURED, tmp_path, **flags)
    question = BY_KEY[key]
    item = {"": "", "gaps": "nose", "obstacles": "brake cylinder"}[question.each]
    unit = next(one for units in UNITS.values() for one in units if taken(key, f"60 {one}", answers))
    shown = [taken(key, f"{size} {unit}", answers) for size in SIZES]
    good_ones = []
    for size in SIZES:
        word = f"{size} {unit}" + (" standstill" if question.reads == "standstill" else "")
        full = with_defaults(answered(answers, Asked(question, item), (word,)))
        problems = brief_problems(brief_text(full), "made.yaml", CATALOGUE, TABLES)
        good_ones.append(all("is shorter than one round" in one.text for one in problems))
    assert shown == good_ones
    assert any(shown)


def taken(key: str, text: str, answers: Answers) -> bool:
    try:
        return read(key, text, answers) != (DEFAULT,)
    except ValueError:
        return False


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("charger-outlet", "12 in", "'12 in' is out of range: it must be at most 7.87401 in (200 mm)"),
        ("charger-outlet", "1 mm", "'1 mm' is out of range: it must be at least 3 mm"),
        ("throttle", "1 m", "'1 m' is out of range: it must be at most 0.2 m (200 mm)"),
        ("boost", "200 psi", "'200 psi' is out of range: it must be at most 145.037 psi (10 bar)"),
        ("gap-wide", "40 ft", "'40 ft' is out of range: it must be at most 32.8083 ft (10 m)"),
        ("altitude", "90000 ft", "'90000 ft' is out of range: it must be at most 19685 ft (6000 m)"),
        ("price", "1234567890", "'1234567890' is out of range: it must be at most 999999999.99"),
        ("obstacle-from", "left 200 m, front 1 mm, floor 1 mm", "'200 m' is out of range: it must be at most 100 m"),
        ("stretches", "20 s 180 % 65 km/h", "'180 %' is out of range: it must be at most 100 %"),
    ],
)
def test_a_figure_out_of_range_is_told_what_is_allowed_in_its_unit(key: str, text: str, words: str) -> None:
    with pytest.raises(ValueError, match="out of range") as refusal:
        read(key, text)
    assert str(refusal.value).startswith(words)


@pytest.mark.parametrize(
    "typed",
    [
        "20 s 80 % 65 km/h; 20 s 20 % 45 km/h",
        "20 s 80 % 65 km/h, 20 s 20 % 45 km/h",
        "20 s, 80 %, 65 km/h, 20 s, 20 %, 45 km/h",
        "20 s, 80 %, 65 km/h; 20 s at 20 % at 45 km/h;",
        ["20 s 80 % 65 km/h", "20 s 20 % 45 km/h"],
        ["20 s, 80 %, 65 km/h", "20 s, 20 %, 45 km/h"],
        ["20 s", "80 %", "65 km/h", "20 s", "20 %", "45 km/h"],
    ],
)
def test_stretches_have_commas_or_semicolons_between(typed: Any) -> None:
    assert read("stretches", typed) == ("20 s, 80 %, 65 km/h", "20 s, 20 %, 45 km/h")


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("20 s 80 % 65 km/h, 20 s 20 %", "'20 s 20 %' is not a time, a share of full power and a road speed"),
        ("20 s 80 % 65 km/h 20 s 20 % 45 km/h", "after a comma or a semicolon: 20 s 80 % 65 km/h, 20 s 20 % 45 km/h"),
        ("lots; 20 s 20 % 45 km/h", "'lots' is not a time"),
        ("20,5 s 80 % 65 km/h", "'20,5 s' has a decimal comma; write a decimal point, as in '20.5 s'"),
        ("20 s 80 % 65,5 km/h, 20 s 20 % 45 km/h", "'65,5 km/h' has a decimal comma"),
        ("80 % 20 s 65 km/h", "'%' is not a unit of time"),
    ],
)
def test_stretches_that_cannot_be_told_apart_say_how_several_are_written(typed: str, words: str) -> None:
    with pytest.raises(ValueError, match=r"is not a|decimal comma") as refusal:
        read("stretches", typed)
    assert words in str(refusal.value)


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("$4,000", "4000"),
        ("4,000", "4000"),
        ("$4000", "4000"),
        ("1400 EUR", "1400"),
        ("1,50", "1.50"),
        ("$1,234,567.50", "1234567.50"),
        ("1.234,50 EUR", "1234.50"),
        ("4.000", "4000"),
        ("4'000.-", None),
        ("4'000", "4000"),
        ("1,2,3", None),
        ("1,234,50", None),
        ("-5", None),
        ("two", None),
        ("$0", None),
        ("0014", "14"),
    ],
)
def test_what_is_offered_for_a_price_is_taken_when_it_is_typed(typed: str, offered: str | None) -> None:
    with pytest.raises(ValueError, match="bare number over 0") as refusal:
        read("price", typed)
    assert str(refusal.value).endswith(f"found '{typed}'" if offered is None else f"; write '{offered}'")
    assert offered is None or read("price", offered) == (offered,)


def test_words_are_taken_however_they_are_written() -> None:
    assert read("fuel", " PETROL ") == ("petrol",)
    assert read("after", "5 min") == read("after", "5 min standstill") == ("5 min standstill",)
    assert read("gap-open", "Front,back") == ("front", "back")
    assert read("price", "") == read("price", "default") == read("price", "no limit") == (DEFAULT,)
    assert read("own", "none") == (DEFAULT,) and read("gap-air", "none") == ("none",)
    assert read("gap-air", "unknown") == (DEFAULT,) and read("in-stock", "no") == ("no",)


def test_patterns_of_driving_are_told_apart_by_what_is_shown_of_them() -> None:
    shown = [*CHOICES.lists["driving"].values()]
    assert CHOICES.lists["driving"]["road"] == "ordinary road, 8 s on and 25 s off, 65 to 80 km/h"
    assert CHOICES.lists["driving"]["drift"].endswith(", 35 km/h")
    assert len({words.partition(", ")[2] for words in shown}) == len(shown)


def test_a_charger_is_one_for_the_fuel() -> None:
    diesel = read_given(from_flags({"fuel": "diesel"}), CHOICES, whole=False)[0]
    assert read("charger", "roots") == ("roots",)
    with pytest.raises(ValueError, match="allowed: turbo"):
        read("charger", "roots", diesel)


def test_every_problem_of_a_file_is_told_with_its_place(tmp_path: Path) -> None:
    text = MEASURED.replace("power: 230 kW", "power: 230").replace("fuel:", "feul:")
    text = text.replace("nose: 150 mm", "noze: 1 m")
    _, problems = answers_of(text, tmp_path)
    assert {(one.line, one.column) for one in problems} >= {(2, 8), (24, 18)}
    told = "\n".join(one.text for one in problems)
    assert "'230' has no unit" in told and "did you mean 'fuel'" in told
    assert "missing key 'gap-high' of 'nose'" in told


def test_what_is_missing_is_told_beside_what_is_written_twice_empty_or_wrong(tmp_path: Path) -> None:
    text = MEASURED.replace("power: 230 kW\n", "powr: 230 kW\n").replace("fuel: petrol", "fuel:")
    text = text.replace("air: 24 degC", "air: 24 degC\nair: 26 degC").replace("boost: 1.4 bar\n", "")
    text = text.replace("gap-wide: {nose: 460 mm, bulkhead: 240 mm, side: 220 mm}", "gap-wide: {nose: 0 mm, side: 1 m}")
    _, problems = answers_of(text, tmp_path)
    said = sorted(one.text.split(" (")[0] for one in problems)
    assert said == [
        "'0 mm' is out of range: it must be more than 0 mm",
        "key 'air' stands here twice",
        "missing key 'boost'",
        "missing key 'gap-wide' of 'bulkhead'",
        "nothing is written after 'fuel:'; write a value, or take the key out",
        "unknown key 'powr'; did you mean 'power'?",
    ]


def test_a_file_that_cannot_be_read_has_no_keys_to_miss(tmp_path: Path) -> None:
    for text in ("name: [X\npower: 1 kW\n", "- name\n"):
        _, problems = answers_of(text, tmp_path)
        assert len(problems) == 1 and "missing key" not in problems[0].text


def test_answers_of_gaps_are_not_in_vain_where_the_gaps_are_missing(tmp_path: Path) -> None:
    _, problems = answers_of(MEASURED.replace("gaps: [nose, bulkhead, side]\n", ""), tmp_path)
    assert [one.text.split(" (")[0] for one in problems] == ["missing key 'gaps'"]


def test_an_answer_that_changes_nothing_is_a_problem(tmp_path: Path) -> None:
    _, problems = answers_of(MEASURED.replace("displacement: 1.6 L\n", ""), tmp_path)
    assert [(one.line, one.key) for one in problems] == [(6, "rev-limit")]
    assert "answer 'displacement'" in problems[0].text
    _, problems = answers_of(MEASURED, tmp_path, gap_face_speed={"nose": "5 m/s"})
    assert [one.file for one in problems] == ["command line"] and "gap-air" in problems[0].text


def test_of_two_aims_one_is_to_be_taken_out(tmp_path: Path) -> None:
    both = MEASURED.replace("aim: ceiling\n", "") + "above-air: 35 degF\n"
    _, problems = answers_of(both, tmp_path)
    assert [(one.key, one.text) for one in problems if "take one out" in one.text] == [
        ("above-air", "ceiling is given as well, and a kit has one aim: take one out")
    ]
    assert len(problems) == 2 and "'degF' is not a unit of temperature difference" in problems[1].text
    _, problems = answers_of(MEASURED.replace("aim: ceiling\n", ""), tmp_path, above_air="35 K")
    assert [(one.file, one.text[:12]) for one in problems] == [("command line", "--above-air:")]


def test_a_draft_reads_back_as_what_was_said(tmp_path: Path) -> None:
    """Also where questions are still open, and where a name needs quotes."""
    answers, _ = answers_of(MEASURED.replace("nose", "'[a]: #'"), tmp_path)
    full = with_defaults(answers)
    for length in range(1, len(full.said) + 1, 5):
        part = Answers(full.said[:length])
        path = tmp_path / "draft.yaml"
        path.write_text(answers_text(part), encoding="utf-8")
        read_back, problems = read_given(from_file(path), CHOICES, whole=False)
        assert problems == () and {*read_back.said} == {*part.said}


def test_a_fault_between_answers_leads_back_to_one_of_them(tmp_path: Path) -> None:
    text = MEASURED.replace("driving: hill-climb", "driving: own\nstretches: 20 s 80 % 65 km/h\ntotal: 10 s")
    answers, problems = answers_of(text, tmp_path)
    assert problems == ()
    found = brief_problems(brief_text(with_defaults(answers)), "made.yaml", CATALOGUE, TABLES)
    assert [one.key for one in found] == ["driving.total"]
    blamed = answer_to_blame(found[0], with_defaults(answers))
    assert blamed is not None and blamed.question.key == "total"


def test_the_answers_of_the_guide_are_answers(tmp_path: Path) -> None:
    page = (ROOT / "examples" / "guide" / "commands.md").read_text(encoding="utf-8")
    text = next(block for block in page.split("```yaml\n")[1:] if block.startswith("name:")).split("```")[0]
    assert good(text, tmp_path).brief.bay is None
    measured = text.replace("not measured yet}", "240 mm}")
    own = "driving: own\nstretches: [20 s 80 % 65 km/h, 20 s 20 % 45 km/h]\ntotal: 12 min"
    bay = good(measured.replace("driving: hill-climb", own), tmp_path).brief.bay
    assert bay is not None and [*bay.zones] == ["nose", "side"]


def test_the_defaults_told_are_those_that_are_taken() -> None:
    """The table of questions says in words what the brief and the sums take by themselves."""
    fields = {"charger-outlets": Engine.model_fields["charger_outlets"], "in-stock": Brief.model_fields["in_stock"]}
    assert BY_KEY["charger-outlets"].default == str(fields["charger-outlets"].default)
    assert fields["in-stock"].default is False and BY_KEY["in-stock"].default == "no"
    assert BY_KEY["coolant"].default == ", ".join(CoolantWish().kinds)
    assert f"{100 * ASSUMED_RAM_SHARE:.0f} % of road speed" in str(BY_KEY["gap-air"].default)
    example = load_brief(ROOT / "examples" / "hatch.yaml", CATALOGUE, TABLES).brief
    silent = example.model_copy(update={"site": Site.model_validate({"air": "24 degC"})})
    told = example.model_copy(update={"site": Site.model_validate({"air": "24 degC", "coldest": "5 degC"})})
    assert str(BY_KEY["coldest"].default).startswith("5 degC: no antifreeze")
    assert choose_coolant(silent) == choose_coolant(told) == Coolant("water", 0.0)
    assert altitude_m(silent) == 0.0 and BY_KEY["altitude"].default == "sea level"


def test_the_room_told_for_kinds_of_obstacles_is_that_which_fitting_keeps() -> None:
    """Those that are not kept off have their own box alone: `fitting/room.py`."""
    assert {*CHOICES.lists["obstacles"]} == {*KEEP_OFF_MM, "plain", "crash"}
    assert KEEP_OFF_MM == {"hot": 50, "moving": 25}
    explains = BY_KEY["obstacle-kind"].explains
    assert "hot (exhaust) is kept clear by 50 mm" in explains and "on its mounts) by 25 mm" in explains
    assert "of plain and crash (beams) their own box alone" in explains


@pytest.mark.parametrize(
    ("key", "said", "hint"),
    [
        ("fuel", "Gasoline", "did you mean 'petrol'?"),
        ("charger", "supercharger", "did you mean 'centrifugal', 'high-helix roots', 'roots' or 'twin-screw'?"),
    ],
)
def test_what_people_call_a_fuel_or_a_charger_gets_the_word_of_the_catalogue(key: str, said: str, hint: str) -> None:
    with pytest.raises(ValueError, match="is not known") as refusal:
        read_answer(BY_KEY[key], said, CHOICES, Answers())
    assert hint in str(refusal.value)
