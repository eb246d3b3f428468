"""A mistake in a catalogue file: told with its line, column, key path and a sentence; all of them at once."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from configurator.errors import Problem
from tests.files.good_files import SHELF, TABLES, broken

Read = Callable[..., tuple[Problem, ...]]

ONE_MISTAKE = [
    pytest.param(
        "working: 3.5 bar",
        "working: »3.5 bra",
        "core-a.charge.working",
        "'bra' is not a unit of pressure; did you mean 'bar'? "
        "(allowed: bar, mbar, kPa, Pa, psi, MPa, mH2O, mmH2O, inH2O, ftH2O), or write unknown",
        id="wrong unit",
    ),
    pytest.param(
        "    mass: 3.9 kg\n",
        "    mass: »3.9\n",
        "core-a.mass",
        "'3.9' has no unit; write it like '3.9 kg' (allowed: kg, g, lb, oz)",
        id="no unit",
    ),
    pytest.param(
        "mass: 3.9 kg",
        "mass: »3,9 kg",
        "core-a.mass",
        "'3,9 kg' has a decimal comma; write a decimal point, as in '3.9 kg'",
        id="decimal comma",
    ),
    pytest.param(
        "charge_pressure: 1.2 bar",
        "charge_pressure: »1,2 bar",
        "core-a.performance.measured[0].charge_pressure",
        "'1,2 bar' has a decimal comma; write a decimal point, as in '1.2 bar'",
        id="decimal comma inside braces, where YAML cuts at it",
    ),
    pytest.param(
        "price: 340",
        "price: »1,340",
        "core-a.price",
        "'1,340' has a decimal comma; write a decimal point, as in '1.340', or '1340' where the comma parts thousands",
        id="comma in a bare number",
    ),
    pytest.param(
        "bead: true, face: -x",
        "bead: true, face: »x",
        "core-a.charge.ends[0].face",
        "'x' is not allowed here; did you mean '+x' or '-x'? (allowed: +x, -x, +y, -y, +z, -z)",
        id="a face without its side",
    ),
    pytest.param(
        "price: 340",
        "price: »340 EUR",
        "core-a.price",
        "a bare number is expected here, without a unit or quotes, found '340 EUR'",
        id="unit on a bare number",
    ),
    pytest.param(
        "price: 340",
        "price: »1.349",
        "core-a.price",
        "1.349 is not a price: two decimals at most",
        id="parts of a cent",
    ),
    pytest.param(
        "  - id: core-a\n    name: Core A\n    price: 340\n    mass: 3.9 kg\n",
        "  - »id: core-a\n    name: Core A\n    price: 340\n",
        "core-a.mass",
        "missing key 'mass' in core-a (write it like: mass: 3.9 kg)",
        id="missing key of a part",
    ),
    pytest.param(
        "arrangement: {flow: counter-flow, passes: 1}",
        "arrangement: »{flow: counter-flow}",
        "core-a.arrangement.passes",
        "missing key 'passes' in core-a.arrangement (write it like: passes: 1)",
        id="missing key inside a part",
    ),
    pytest.param(
        "arrangement: {flow: counter-flow, passes: 1}",
        "arrangement: {flow: counter-flow, passes: 1, »pases: 2}",
        "core-a.arrangement.pases",
        "unknown key 'pases' in core-a.arrangement; did you mean 'passes'? "
        "(allowed: flow, passes, pass_order)",
        id="unknown key",
    ),
    pytest.param(
        "arrangement: {flow: counter-flow, passes: 1}",
        "arrangement: {flow: counter-flow, »pases: 1}",
        "core-a.arrangement.pases",
        "unknown key 'pases' in core-a.arrangement; did you mean 'passes'? "
        "(allowed: flow, passes, pass_order)",
        id="misspelt key that must be there is told once",
    ),
    pytest.param(
        "flow: counter-flow",
        "flow: »counterflow",
        "core-a.arrangement.flow",
        "'counterflow' is not allowed here; did you mean 'counter-flow'? "
        "(allowed: counter-flow, parallel-flow, "
        "cross-flow both unmixed, cross-flow air mixed, cross-flow coolant mixed)",
        id="unknown word",
    ),
    pytest.param(
        "passes: 1}",
        "passes: »2}",
        "core-a.arrangement.passes",
        "above one pass, pass_order is needed: in turn, or side by side",
        id="several passes without their order",
    ),
    pytest.param(
        "size: {x: 230 mm, y: 150 mm",
        "size: {x: 230 mm, y: »0 mm",
        "core-a.size.y",
        "'0 mm' is out of range: it must be more than 0 mm",
        id="zero box",
    ),
    pytest.param(
        "size: {x: 230 mm, y: 150 mm",
        "size: {x: 230 mm, y: »-150 mm",
        "core-a.size.y",
        "'-150 mm' is out of range: it must be more than 0 mm",
        id="negative box",
    ),
    pytest.param(
        "head: 45 kPa",
        "head: »65 kPa",
        "pump-a.curve[1].head",
        "the curve rises: head 65 kPa at 20 L/min is not below 60 kPa at 0 L/min",
        id="pump curve that rises",
    ),
    pytest.param(
        "flow: 40 L/min",
        "flow: »20 L/min",
        "pump-a.curve[2].flow",
        "the curve's flows must rise: 20 L/min comes after 20 L/min",
        id="pump curve that turns back",
    ),
    pytest.param(
        "flow: 0 L/min",
        "flow: »5 L/min",
        "pump-a.curve[0].flow",
        "the curve starts at no flow: its first point is {flow: 0 L/min, head: ...}",
        id="pump curve without dead head",
    ),
    pytest.param(
        "effectiveness: 82 %",
        "effectiveness: »104 %",
        "core-a.performance.measured[0].effectiveness",
        "'104 %' is out of range: it must be at most 100 %",
        id="effectiveness over 1",
    ),
    pytest.param(
        "{x: 170 mm, y: 75 mm}",
        "{x: »270 mm, y: 75 mm}",
        "core-a.coolant.ends[1].at.x",
        "coolant end 'out' is off its face: x 270 mm lies outside 0 mm to 230 mm",
        id="end off its face",
    ),
    pytest.param(
        "{x: 170 mm, y: 75 mm}",
        "»{x: 170 mm, z: 75 mm}",
        "core-a.coolant.ends[1].at",
        "coolant end 'out' sits on face +z: give its x and y, nothing else",
        id="end placed in another face",
    ),
    pytest.param(
        "name: out, form: orb, size: -12",
        "name: out, form: orb, size: »-13",
        "core-a.coolant.ends[1].size",
        "'-13' is not a size of form 'orb'; did you mean '-12' or '-14'? "
        "(allowed: -4, -5, -6, -8, -10, -12, -14, -16, -20)",
        id="size that the form does not know",
    ),
    pytest.param(
        "{name: out, form: orb, size: -12, sex: female",
        "»{name: out, form: orb, size: -12",
        "core-a.coolant.ends[1].sex",
        "an end of form 'orb' needs its sex: male or female",
        id="thread without its sex",
    ),
    pytest.param(
        "      working: 1.5 bar\n",
        "      working: 1.5 bar\n      burst: »6 bar\n",
        "core-a.coolant.burst",
        "working and burst are both stated: state exactly one of working, proof or burst",
        id="two pressures",
    ),
    pytest.param(
        "name: out, form: orb",
        "name: »in, form: orb",
        "core-a.coolant.ends[1].name",
        "two ends are named 'in': each end of a passage needs a name of its own",
        id="two ends of one name",
    ),
    pytest.param(
        "id: pump-a",
        "id: »core-a",
        "core-a.id",
        "id 'core-a' is given twice, first at {file}:2:9; every id is given once",
        id="duplicate id",
    ),
    pytest.param(
        "id: pump-a",
        "id: »Pump A",
        "Pump A.id",
        "'Pump A' cannot be an id: lower-case letters, digits, '-' and '.', as in 'core-230-short'",
        id="id that is none",
    ),
    pytest.param(
        "    volts: 12\n",
        "    volts: 12\n    »volts: 24\n",
        "pump-a",
        "key 'volts' stands here twice (first in line 35); keep one",
        id="duplicate key",
    ),
    pytest.param(
        "    volts: 12\n",
        "    volts: 12\n    »mass:\n",
        "pump-a.mass",
        "nothing is written after 'mass:'; write a value, or take the key out",
        id="key without a value",
    ),
    pytest.param(
        "bead: true, face: -x",
        "bead: »yes, face: -x",
        "core-a.charge.ends[0].bead",
        "write true or false, found 'yes'",
        id="yes for true",
    ),
    pytest.param(
        "volts: 12",
        "volts: »true",
        "pump-a.volts",
        "a bare number is expected here, without a unit or quotes, found true",
        id="true for a number",
    ),
    pytest.param(
        "name: Pump A",
        "name: »2030",
        "pump-a.name",
        'text is expected here; put it in quotes: "2030"',
        id="number for text",
    ),
    pytest.param(
        "size: {x: 120 mm, y: 80 mm, z: 80 mm}",
        "size: »120 mm",
        "pump-a.size",
        "keys and values are expected here, like {key: value}; found '120 mm'",
        id="value for a mapping",
    ),
    pytest.param(
        "pumps:\n",
        "»pump:\n",
        "pump",
        "unknown section 'pump'; did you mean 'pumps'? "
        "(allowed: cores, exchangers, pumps, reservoirs, caps, hoses, "
        "adapters, wyes, valves, clamps, fans, timers, fuses, relays, wires, layouts, fuels, chargers, "
        "driving, coolants, ice, soak, sources, bounds)",
        id="unknown kind",
    ),
]


@pytest.mark.parametrize(("old", "new", "key", "sentence"), ONE_MISTAKE)
def test_one_mistake_is_one_problem_at_its_place(
    catalogue_problems: Read, old: str, new: str, key: str, sentence: str
) -> None:
    text, place = broken(SHELF, old, new)
    problems = catalogue_problems(shelf=text)
    assert [(p.line, p.column) for p in problems] == [place]
    assert problems[0].key == key
    assert problems[0].text == sentence.replace("{file}", problems[0].file)
    assert problems[0].file.endswith("shelf.yaml")
    assert problems[0].source_line == text.split("\n")[place[0] - 1]


EIGHT = [
    ("price: 340", "price: 340 EUR", "core-a.price"),
    ("mass: 3.9 kg", "mass: 3,9 kg", "core-a.mass"),
    ("size: {x: 230 mm, y: 150 mm", "size: {x: 230 mm, y: 0 mm", "core-a.size.y"),
    ("working: 1.5 bar", "working: 1.5 bar\n      proof: 2 bar", "core-a.coolant.proof"),
    ("{x: 170 mm, y: 75 mm}", "{x: 270 mm, y: 75 mm}", "core-a.coolant.ends[1].at.x"),
    ("effectiveness: 82 %", "effectiveness: 104 %", "core-a.performance.measured[0].effectiveness"),
    ("head: 45 kPa", "head: 65 kPa", "pump-a.curve[1].head"),
    ("current: 4 A", "curent: 4 A\n    current: 4 A", "pump-a.curent"),
]


def test_eight_mistakes_of_a_file_are_told_at_once(catalogue_problems: Read) -> None:
    """Among them checks between figures, which plain field-by-field reading would hide behind the others."""
    text = SHELF
    for old, new, _ in EIGHT:
        assert text.count(old) == 1
        text = text.replace(old, new)
    problems = catalogue_problems(shelf=text)
    assert sorted(problem.key for problem in problems) == sorted(key for _, _, key in EIGHT)
    assert list(problems) == sorted(problems), "in the order of the file"


def test_mistakes_of_all_files_are_told_at_once(catalogue_problems: Read) -> None:
    problems = catalogue_problems(
        a_pumps="pumps: 5\n", b_cores="cores: [5]\n", c_text="just text\n", d_broken="cores: [\n", e_none=""
    )
    names = [problem.file.rsplit("/", 1)[1] for problem in problems]
    assert names == ["a_pumps.yaml", "b_cores.yaml", "c_text.yaml", "d_broken.yaml", "e_none.yaml"]
    assert problems[0].text == "a list is expected under 'pumps', each entry beginning with '- id:'"
    assert problems[1].text == "keys and values are expected here, beginning with 'id:'"
    assert problems[2].text == "a catalogue file names its sections, like 'pumps:' with a list of pumps below"
    assert problems[4].text == "the file is empty"


def test_an_id_given_in_two_files_names_both_places(catalogue_problems: Read) -> None:
    problems = catalogue_problems(a=SHELF, b=SHELF)
    assert [(p.key, p.line, p.column) for p in problems] == [("core-a.id", 2, 9), ("pump-a.id", 23, 9)]
    first = problems[0].file.replace("b.yaml", "a.yaml")
    assert problems[0].text == f"id 'core-a' is given twice, first at {first}:2:9; every id is given once"


def test_a_cited_source_must_be_listed(catalogue_problems: Read) -> None:
    old = "air_fuel_ratio: 20, standing: common practice, source: book"
    text, place = broken(TABLES, old, old.replace("book", "»boook"))
    problems = catalogue_problems(shelf=SHELF, tables=text)
    sentence = (
        "source 'boook' is not known; did you mean 'book'? (allowed: book); "
        "sources are listed under 'sources:', as in sources.yaml: add yours"
    )
    assert [(p.key, p.line, p.column, p.text) for p in problems] == [("diesel.source", *place, sentence)]


def test_a_cited_source_of_one_figure_must_be_listed(catalogue_problems: Read) -> None:
    figure = "mass: {value: 3.9 kg, standing: measured, source: »bench}"
    text, place = broken(SHELF, "mass: 3.9 kg", figure)
    problems = catalogue_problems(shelf=text, tables=TABLES)
    assert [(p.key, p.line, p.column) for p in problems] == [("core-a.mass.source", *place)]


@pytest.mark.parametrize(
    ("old", "new", "key", "sentence"),
    [
        (
            "loop: [reservoir, pump, core]",
            "loop: »[reservoir, pump, cor]",
            "single.loop",
            "the loop names each slot of the coolant path once: reservoir, pump, core; it names reservoir, pump, cor",
        ),
        (
            "kind: core, least: 1, most: 1",
            "kind: core, least: 2, most: »1",
            "single.slots[2].most",
            "most 1 is below least 2",
        ),
        (
            "consumption: {petrol",
            "consumption: {»petrl",
            "turbo.consumption.petrl",
            "fuel 'petrl' is not known; did you mean 'petrol'? (allowed: diesel, petrol)",
        ),
        (
            "{share: 100 %, boost: 100 %}]",
            "»{share: 0 %, boost: 100 %}, {share: 100 %, boost: 100 %}]",
            "turbo.part_load[1]",
            "the part-load table must rise: shares one after another, boost never falling",
        ),
        (
            "    total: 90 s\n",
            "    total: »60 s\n",
            "hill-climb.total",
            "total 60 s is shorter than one round of the stretches (90 s)",
        ),
        (
            "price_per_litre: 0",
            "price_per_litre: »0.005",
            "water.price_per_litre",
            "0.005 is not a price: two decimals at most",
        ),
        (
            "holds_boost_at: throttle",
            "holds_boost_at: »trottle",
            "turbo.holds_boost_at",
            "'trottle' is not allowed here; did you mean 'throttle'? (allowed: throttle, outlet)",
        ),
        (
            "  - id: hill-climb\n",
            "  - »name: a climb\n",
            "driving[0].id",
            "missing key 'id' in driving[0] (write it like: id: hill-climb)",
        ),
    ],
)
def test_mistakes_in_tables(catalogue_problems: Read, old: str, new: str, key: str, sentence: str) -> None:
    tables = TABLES.replace("    name: a climb\n", "") if "name: a climb" in new else TABLES
    text, place = broken(tables, old, new)
    problems = catalogue_problems(shelf=SHELF, tables=text)
    assert [(p.key, p.line, p.column, p.text) for p in problems] == [(key, *place, sentence)]


def test_no_sentence_speaks_of_the_machinery(catalogue_problems: Read) -> None:
    """Words of the libraries and names of classes have no business in what a user reads."""
    text = SHELF
    for old, new, _ in EIGHT:
        text = text.replace(old, new)
    problems = catalogue_problems(
        shelf=text, b="cores: [{id: 5, name: [], size: 1, charge: x, performance: 3}]\n"
    )
    assert len(problems) > 12
    for problem in problems:
        for word in (
            "pydantic",
            "Input should",
            "Field required",
            "validation",
            "dict",
            "tuple",
            "None",
            "Record",
        ):
            assert word not in problem.text


@pytest.mark.parametrize("loop", ["[reservoir, core, pump]", "[pump, reservoir, core]"])
def test_a_flow_order_that_starves_the_pump_is_a_problem_of_the_layout(catalogue_problems: Read, loop: str) -> None:
    text, place = broken(TABLES, "loop: [reservoir, pump, core]", f"loop: »{loop}")
    problems = catalogue_problems(shelf=SHELF, tables=text)
    assert {(p.key, p.line, p.column) for p in problems} == {("single.loop", *place)}
    assert [p.text.split(":")[0] for p in problems] == [
        "the pump is fed by core",
        "the reservoir lies on the pump's outlet",
    ]
