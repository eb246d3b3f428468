"""A mistake in a brief: told with its line, column, key path and a sentence; all of them at once."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from configurator.errors import Problem
from tests.files.good_files import BRIEF, broken

Read = Callable[[str], tuple[Problem, ...]]

CAP = (
    "kind: cap, name: C, price: 0, opens: 0.5 bar, "
    "coolant: {working: 1 bar, ends: [{name: cap, form: neck, size: 32 mm, sex: female}]}"
)
ONE_MISTAKE = [
    pytest.param(
        "power: 230 kW",
        "power: »230 kw",
        "engine.power",
        "'kw' is not a unit of power; did you mean 'kW'? (allowed: kW, W, hp, bhp, PS, metric hp)",
        id="wrong unit",
    ),
    pytest.param(
        "fuel: petrol",
        "fuel: »pump gas",
        "engine.fuel",
        "fuel 'pump gas' is not known; did you mean 'petrol'? (allowed: diesel, petrol)",
        id="a fuel as it is called elsewhere",
    ),
    pytest.param(
        "limits: {price: 1400}",
        "limits: {price: »$4,000}",
        "limits.price",
        "a bare number is expected here, without a unit or quotes: '4,000' has a decimal comma; write a decimal point, "
        "as in '4.000', or '4000' where the comma parts thousands",
        id="a sum with the sign of its currency",
    ),
    pytest.param(
        "air: 24 degC",
        "air: »24 C",
        "site.air",
        "'C' is not a unit of temperature; did you mean 'degC'? (allowed: degC, °C, K, degF, °F)",
        id="degrees without their scale",
    ),
    pytest.param(
        "air: 24 degC",
        "air: »240 degC",
        "site.air",
        "'240 degC' is out of range: it must be at most 60 degC",
        id="hardly possible weather",
    ),
    pytest.param(
        "aim: {charge_air: 80 degC}",
        "aim: {charge_air: 80 degC, after: »5 min}",
        "aim.after",
        "'5 min' is not a time and what the car does in it: write it like 5 min standstill",
        id="a time without its standstill",
    ),
    pytest.param(
        "aim: {charge_air: 80 degC}",
        "aim: {charge_air: 80 degC, after: »5 minutes standstill}",
        "aim.after",
        "'minutes' is not a unit of time; did you mean 'min'? (allowed: s, min, h)",
        id="a standstill in no known unit",
    ),
    pytest.param(
        "aim: {charge_air: 80 degC}",
        "aim: {charge_air: 80 degC, after: »25 h standstill}",
        "aim.after",
        "'25 h' is out of range: it must be at most 24 h (86400 s)",
        id="a standstill of more than a day",
    ),
    pytest.param(
        "aim: {charge_air: 80 degC}",
        "aim: {charge_air: 80 degC}\nafter_run: »5 min",
        "after_run",
        "after_run only counts after a standstill: aim: {charge_air: 50 degC, after: 5 min standstill}",
        id="an after-run without a standstill",
    ),
    pytest.param(
        "aim: {charge_air: 80 degC}",
        "ice: {kind: cubes, mass: 5 kg}\naim: {charge_air: 80 degC, after: »5 min standstill}",
        "aim.after",
        "an aim after a standstill is not reckoned with ice in the tank",
        id="ice left standing",
    ),
    pytest.param(
        "boost: 1.4 bar",
        "boost: »1,4 bar",
        "engine.boost",
        "'1,4 bar' has a decimal comma; write a decimal point, as in '1.4 bar'",
        id="decimal comma",
    ),
    pytest.param(
        "boost: 1.4 bar",
        "boost: »1.4",
        "engine.boost",
        "'1.4' has no unit; write it like '1.4 bar' (allowed: bar, mbar, kPa, Pa, psi, MPa, mH2O, mmH2O, inH2O, ftH2O)",
        id="no unit",
    ),
    pytest.param(
        "engine: {power: 230 kW, fuel: petrol, charger: turbo, boost: 1.4 bar}",
        "engine: »{power: 230 kW, fuel: petrol, charger: turbo}",
        "engine.boost",
        "missing key 'boost' in engine (write it like: boost: 1.4 bar)",
        id="missing key",
    ),
    pytest.param(
        BRIEF.split("\n")[0] + "\n" + BRIEF.split("\n")[1],
        "»" + BRIEF.split("\n")[0],
        "engine",
        "missing key 'engine' (write it like: engine: "
        "{power: 230 kW, fuel: petrol, charger: turbo, boost: 1.4 bar})",
        id="missing section",
    ),
    pytest.param(
        "altitude: 900 m",
        "»altitud: 900 m",
        "site.altitud",
        "unknown key 'altitud' in site; did you mean 'altitude'? (allowed: air, humidity, altitude, coldest)",
        id="unknown key",
    ),
    pytest.param(
        "fuel: petrol",
        "fuel: »petrl",
        "engine.fuel",
        "fuel 'petrl' is not known; did you mean 'petrol'? (allowed: diesel, petrol)",
        id="unknown fuel",
    ),
    pytest.param(
        "fuel: petrol, charger: turbo",
        "fuel: diesel, charger: »turbo",
        "engine.charger",
        "charger 'turbo' has no consumption for fuel 'diesel' (it has: petrol)",
        id="a fuel that the charger's table lacks",
    ),
    pytest.param(
        "charger: turbo",
        "charger: »trubo",
        "engine.charger",
        "charger 'trubo' is not known; did you mean 'turbo'? (allowed: turbo)",
        id="unknown charger",
    ),
    pytest.param(
        "driving: hill-climb",
        "driving: »hill climb",
        "driving",
        "driving 'hill climb' is not known; did you mean 'hill-climb'? (allowed: hill-climb)",
        id="unknown driving",
    ),
    pytest.param(
        "aim: {charge_air: 80 degC}",
        "aim: {charge_air: 80 degC, above_air: »35 K}",
        "aim.above_air",
        "an aim is either charge_air: 80 degC (a ceiling) or above_air: 35 K (a rise), exactly one",
        id="two aims",
    ),
    pytest.param(
        "aim: {charge_air: 80 degC}",
        "aim: »{}",
        "aim",
        "an aim is either charge_air: 80 degC (a ceiling) or above_air: 35 K (a rise), exactly one",
        id="no aim",
    ),
    pytest.param(
        "limits: {price: 1400}",
        "limits: {price: »-5}",
        "limits.price",
        "-5 is out of range: it must be more than 0",
        id="negative price",
    ),
    pytest.param(
        "limits: {price: 1400}",
        "limits: {price: 1400}\nenough: »-5 K",
        "enough",
        "'-5 K' is out of range: it must be at least 0 K",
        id="negative enough",
    ),
    pytest.param(
        "nose: {wide: 460 mm, high: 150 mm, deep: 60 mm",
        "nose: {wide: 460 mm, high: 150 mm, deep: »0 mm",
        "bay.zones.nose.deep",
        "'0 mm' is out of range: it must be more than 0 mm",
        id="zero box",
    ),
    pytest.param(
        "wide: 60 mm, high: 100 mm",
        "wide: »-60 mm, high: 100 mm",
        "bay.obstacles[0].wide",
        "'-60 mm' is out of range: it must be more than 0 mm",
        id="negative box",
    ),
    pytest.param(
        "takes: [core]",
        "takes: [»corre]",
        "bay.zones.bulkhead.takes[0]",
        "'corre' is not allowed here; did you mean 'core'? (allowed: core, exchanger, pump, reservoir, fan)",
        id="a zone that takes an unknown kind",
    ),
    pytest.param(
        "takes: [core]",
        "takes: »[]",
        "bay.zones.bulkhead.takes",
        "nothing is listed here; at least 1 is needed",
        id="a zone that takes nothing",
    ),
    pytest.param(
        "air: {kind: ram, share: 25 %}",
        "air: {kind: »ram}",
        "bay.zones.nose.air.kind",
        "ram air needs its share of road speed: {kind: ram, share: 25 %}",
        id="ram air without its share",
    ),
    pytest.param(
        "in: bulkhead",
        "in: »bulk",
        "bay.obstacles[0].in",
        "there is no zone 'bulk'; did you mean 'bulkhead'? (the zones are nose, bulkhead)",
        id="obstacle in no zone",
    ),
    pytest.param(
        "from: {left: 180 mm, front: 200 mm, floor: 80 mm}",
        "from: »{left: 180 mm, front: 200 mm}",
        "bay.obstacles[0].from",
        "give the obstacle's distance from the floor or the top of its zone, one of the two",
        id="obstacle without a height",
    ),
    pytest.param(
        "runs: {nose-bulkhead: 1.2 m}",
        "runs: {nose-tail: »1.2 m}",
        "bay.runs.nose-tail",
        "'nose-tail' does not name two zones, as in a-b; the zones are nose, bulkhead",
        id="run to no zone",
    ),
    pytest.param(
        "without: []",
        "without: [»pumps]",
        "without[0]",
        "'pumps' is neither the id of a part nor a kind of part; did you mean 'pump'? "
        "(kinds: core, exchanger, pump, reservoir, cap, hose, adapter, wye, valve, clamp, fan, timer, fuse, relay, "
        "wire)",
        id="without nothing known",
    ),
    pytest.param(
        "own: []",
        "own: [»pump-b]",
        "own[0]",
        "part 'pump-b' is not known; did you mean 'pump-a'? (allowed: core-a, pump-a); "
        "or write the whole part here, with its kind",
        id="own part that is not known",
    ),
    pytest.param(
        "own: []",
        "own: [{kind: relay, id: r, name: R, price: »12.505, rated: 20 A, volts: 12}]",
        "r.price",
        "12.505 is not a price: two decimals at most",
        id="parts of a cent of an own part",
    ),
    pytest.param(
        "own: []",
        "own: [{id: pump-a, fitted: »1}]",
        "pump-a.fitted",
        "write true or false",
        id="fitted is no number",
    ),
    pytest.param(
        "own: []",
        "own: [{id: pump-a, fitted: true, in: »nose}]",
        "pump-a.in",
        "an own part names no zone: one that stays takes no room of the bay, any other is placed by the search; for "
        "the air of a front exchanger that stays write front_in: its zone under bay",
        id="a zone of an own part",
    ),
    pytest.param(
        "  obstacles:",
        "  front_in: »nose\n  obstacles:",
        "bay.front_in",
        "front_in is the zone of a front exchanger that stays: none under own has fitted: true",
        id="a zone for a front that does not stay",
    ),
    pytest.param(
        "  obstacles:",
        "  front_in: »noes\n  obstacles:",
        "bay.front_in",
        "there is no zone 'noes'; did you mean 'nose'? (the zones are nose, bulkhead)",
        id="an unknown zone for a front that stays",
    ),
    pytest.param(
        "own: []",
        "own: [pump-a, »pump-a]",
        "own[1]",
        "'pump-a' is listed twice under own",
        id="own part twice",
    ),
    pytest.param(
        "own: []",
        "own: [{id: mine-1, fitted: true, " + CAP + "}, {id: mine-2, fitted: »true, " + CAP + "}]",
        "mine-2.fitted",
        "'mine-1' stays in the car already (fitted: true): of a kind one part can, take it off this one",
        id="a second cap that stays",
    ),
    pytest.param(
        "own: []",
        "own: [»{id: my-pump, price: 5}]",
        "my-pump",
        "a whole part says its kind, like 'kind: core'",
        id="own part without its kind",
    ),
    pytest.param(
        "own: []",
        "own: [{id: my-fuse, kind: »fuze}]",
        "my-fuse.kind",
        "kind 'fuze' is not known; did you mean 'fuse'? "
        "(allowed: adapter, cap, clamp, core, exchanger, fan, fuse, "
        "hose, pump, relay, reservoir, timer and 3 more)",
        id="own part of an unknown kind",
    ),
    pytest.param(
        "own: []",
        "own: [{id: my-fuse, kind: fuse, name: F, price: 1, rated: »10}]",
        "my-fuse.rated",
        "'10' has no unit; write it like '10 A' (allowed: A, mA)",
        id="mistake inside an own part",
    ),
    pytest.param(
        "own: []",
        "own: [{id: »core-a, kind: fuse, name: F, price: 1, rated: 10 A}]",
        "core-a.id",
        "id 'core-a' is a part of the catalogue: write just the id, or give your part another one",
        id="own part with a taken id",
    ),
    pytest.param(
        "without: []",
        "without: []\nin_stock: »NO",
        "in_stock",
        "write true or false, found 'NO'",
        id="NO for false",
    ),
    pytest.param(
        "without: []",
        "without: []\ncoolant: {start: »cold}",
        "coolant.start",
        "'cold' is not a temperature; write it like '12 degC', or write soaked",
        id="neither a temperature nor the word",
    ),
]


@pytest.mark.parametrize(("old", "new", "key", "sentence"), ONE_MISTAKE)
def test_one_mistake_is_one_problem_at_its_place(
    brief_problems: Read, old: str, new: str, key: str, sentence: str
) -> None:
    text, place = broken(BRIEF, old, new)
    problems = brief_problems(text)
    assert [(p.key, p.line, p.column, p.text) for p in problems] == [(key, *place, sentence)]
    assert problems[0].source_line == text.split("\n")[place[0] - 1]


REMEDY = "there is no zone: measure the gaps, or write bay: unmeasured"


@pytest.mark.parametrize("zones", ["zones: »{}", "zones: »[]", "»zones:", "zones: »none"])
def test_a_bay_without_zones_is_told_the_way_out(brief_problems: Read, zones: str) -> None:
    bay = BRIEF[BRIEF.index("bay:") : BRIEF.index("own:")]
    text, place = broken(BRIEF, bay, f"bay:\n  {zones}\n")
    problems = brief_problems(text)
    assert [(p.key, p.line, p.column) for p in problems] == [("bay.zones", *place)]
    assert zones.endswith("none") or problems[0].text == REMEDY


@pytest.mark.parametrize("bay", ["measured", "unmeasurd"])
def test_a_bay_is_zones_or_the_one_word(brief_problems: Read, bay: str) -> None:
    old = BRIEF[BRIEF.index("bay:") : BRIEF.index("own:")]
    text, place = broken(BRIEF, old, f"bay: »{bay}\n")
    problems = brief_problems(text)
    assert [(p.key, p.line, p.column) for p in problems] == [("bay", *place)]
    assert problems[0].text == f"keys and values are expected here, like {{key: value}}; found '{bay}'"


EIGHT = [
    ("power: 230 kW", "power: 230 kw", "engine.power"),
    ("fuel: petrol", "fuel: petrl", "engine.fuel"),
    ("air: 24 degC", "air: 24,5 degC", "site.air"),
    ("altitude: 900 m", "altitud: 900 m", "site.altitud"),
    ("aim: {charge_air: 80 degC}", "aim: {charge_air: 80 degC, above_air: 5 K}", "aim.above_air"),
    ("limits: {price: 1400}", "limits: {price: 1400 EUR}", "limits.price"),
    ("in: bulkhead", "in: bulk", "bay.obstacles[0].in"),
    ("takes: [core]", "takes: [corre]", "bay.zones.bulkhead.takes[0]"),
]


def test_eight_mistakes_are_told_at_once(brief_problems: Read) -> None:
    text = BRIEF
    for old, new, _ in EIGHT:
        assert text.count(old) == 1
        text = text.replace(old, new)
    problems = brief_problems(text)
    assert sorted(problem.key for problem in problems) == sorted(key for _, _, key in EIGHT)
    assert list(problems) == sorted(problems)


@pytest.mark.parametrize("text", ["", "# nothing but a remark\n", "just a sentence\n", "- a\n- list\n"])
def test_a_file_that_is_no_brief(brief_problems: Read, text: str) -> None:
    problems = brief_problems(text)
    assert len(problems) == 1
    assert problems[0].text in {
        "the file is empty",
        "a brief is keys and values, beginning with 'brief: a name for it'",
    }
