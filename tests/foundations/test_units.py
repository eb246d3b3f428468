"""Figures with their units: what is read, what is refused, and with which sentence."""

from __future__ import annotations

import math
import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.foundations.units import UNITS, Figure, read_figure

# Exact by definition; published: NIST Special Publication 811 (2008), appendix B; typed in from memory.
BY_DEFINITION = [
    ("1 in", "length", 0.0254),
    ("1 ft", "length", 0.3048),
    ("1 lb", "mass", 0.45359237),
    ("1 psi", "pressure", 6894.757293168361),
    ("1 bar", "pressure", 100_000.0),
    ("1 mH2O", "pressure", 9806.65),
    ("1 mmH2O", "pressure", 9.80665),
    ("1 inH2O", "pressure", 249.08891),
    ("1 ftH2O", "pressure", 2989.06692),
    ("1 hp", "power", 745.6998715822702),
    ("1 PS", "power", 735.49875),
    ("1 bhp", "power", 745.6998715822702),
    ("1 US gal", "volume", 0.003785411784),
    ("1 mph", "speed", 0.44704),
    ("32 degF", "temperature", 273.15),
    ("212 degF", "temperature", 373.15),
    ("0 degC", "temperature", 273.15),
]


@pytest.mark.parametrize(("text", "kind", "si"), BY_DEFINITION)
def test_factors_exact_by_definition(text: str, kind: str, si: float) -> None:
    assert read_figure(text, kind) == pytest.approx(si, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("620 mm", "length", 0.620),
        ("620mm", "length", 0.620),
        ("  620  mm ", "length", 0.620),
        ("620\u00a0mm", "length", 0.620),
        ("1 1/2 in", "length", 0.0381),
        ("-1 1/2 in", "length", -0.0381),
        ("3/4 in", "length", 0.01905),
        (".5 in", "length", 0.0127),
        ("-230 mm", "length", -0.230),
        ("46 L/min", "volume flow", 46e-3 / 60),
        ("46 lpm", "volume flow", 46e-3 / 60),
        ("25 %", "share", 0.25),
        ("25%", "share", 0.25),
        ("7400 rpm", "rotational speed", 7400 / 60),
        ("350 hp", "power", 350 * 550 * 0.3048 * 4.4482216152605),
        ("2  US   gal", "volume", 2 * 0.003785411784),
    ],
)
def test_spellings_that_people_use(text: str, kind: str, si: float) -> None:
    figure = read_figure(text, kind)
    assert figure == pytest.approx(si, rel=1e-12)
    assert figure.text == text.strip()


@pytest.mark.parametrize(
    ("text", "kind", "sentence"),
    [
        ("0,5 bar", "pressure", "'0,5 bar' has a decimal comma; write a decimal point, as in '0.5 bar'"),
        ("1,2,3 bar", "pressure", "'1,2,3 bar' has a decimal comma; write a decimal point, as in '1.5'"),
        (
            "1,200 mm",
            "length",
            "'1,200 mm' has a decimal comma; write a decimal point, as in '1.200 mm', or '1200 mm' where the comma "
            "parts thousands",
        ),
        ("1e300 kW", "power", "'1e300 kW' has a power of ten; write the number out, as '1500' for 1.5e3"),
        (0.25, "share", "'0.25' has no unit; write it like '25 %' (allowed: %)"),
        ("0.5", "share", "'0.5' has no unit; say '0.5 %' or '50 %' (allowed: %)"),
        ("1.5", "share", "'1.5' has no unit; write it like '1.5 %' (allowed: %)"),
        (
            "0.5 mi",
            "length",
            "'mi' is not a unit of length; '0.5 mi' is '804.672 m' (allowed: mm, cm, m, in, inch, ft)",
        ),
        ("2 km", "length", "'km' is not a unit of length; '2 km' is '2000 m' (allowed: mm, cm, m, in, inch, ft)"),
        (620, "length", "'620' has no unit; write it like '620 mm' (allowed: mm, cm, m, in, inch, ft)"),
        (
            "1.4",
            "pressure",
            "'1.4' has no unit; write it like '1.4 bar' (allowed: bar, mbar, kPa, Pa, psi, MPa, mH2O, mmH2O, inH2O, "
            "ftH2O)",
        ),
        ("3/4", "length", "'3/4' has no unit; write it like '3/4 mm' (allowed: mm, cm, m, in, inch, ft)"),
        (
            "600 Mm",
            "length",
            "'Mm' is not a unit of length; did you mean 'mm'? (allowed: mm, cm, m, in, inch, ft)",
        ),
        ("57 mn", "length", "'mn' is not a unit of length; did you mean 'mm'? (allowed: mm, cm, m, in, inch, ft)"),
        (
            "5 kg",
            "length",
            "'kg' is not a unit of length, it is one of mass (allowed: mm, cm, m, in, inch, ft)",
        ),
        ("1/0 mm", "length", "'1/0 mm' divides by zero"),
        ("7\u00bc in", "length", "'7\u00bc in' has a fraction of one letter; write '7 1/4 in'"),
        ("\u00be in", "length", "'\u00be in' has a fraction of one letter; write '3/4 in'"),
        ("2-3/8 in", "length", "'2-3/8 in' has a dash between inch and fraction; write '2 3/8 in'"),
        ("-300 degC", "temperature", "'-300 degC' is below absolute zero"),
        (True, "length", "a length is expected here, write it like '12 mm'"),
        (["620 mm"], "length", "a length is expected here, write it like '12 mm'"),
        (["620 mm2"], "area", "an area is expected here, write it like '12 mm2'"),
        ("wide", "area", "'wide' is not an area; write it like '12 mm2'"),
        ("1" * 61, "area", "too long for an area; write it like '12 mm2'"),
        ("nan mm", "length", "'nan mm' is not a length; write it like '12 mm'"),
        ("inf mm", "length", "'inf mm' is not a length; write it like '12 mm'"),
        ("", "length", "'' is not a length; write it like '12 mm'"),
        ("mm", "length", "'mm' is not a length; write it like '12 mm'"),
        ("٣ mm", "length", "'٣ mm' is not a length; write it like '12 mm'"),
    ],
)
def test_what_is_refused_and_how(text: object, kind: str, sentence: str) -> None:
    with pytest.raises(ValueError) as refusal:
        read_figure(text, kind)
    assert str(refusal.value) == sentence


@pytest.mark.parametrize(
    ("text", "kind", "hint"),
    [
        ("80 C", "temperature", "did you mean 'degC'?"),
        ("80 F", "temperature", "did you mean 'degF'?"),
        ("80 degrees", "temperature", "say of which scale: 'degC' or 'degF'"),
        ("20 psig", "pressure", "pressures here are gauge already"),
        ("2 bara", "pressure", "pressures here are gauge already"),
        ("12 gpm", "volume flow", "say which gallon"),
        ("2 gal", "volume", "say which gallon"),
        ("500 ps", "power", "did you mean 'PS'?"),
        ("200 whp", "power", "; power at the crank is wanted, measured or as stated by the maker"),
        ("150 rwkW", "power", "power at the wheels lacks what the drivetrain takes"),
        ('24"', "length", "; did you mean 'in'?"),
        ("24\u201d", "length", "; did you mean 'in'?"),
        ("2'", "length", "; did you mean 'ft'?"),
        ("12 kpa", "pressure", "did you mean 'kPa'?"),
        ("2 brs", "pressure", "did you mean 'bar'?"),
        ("4.5 m", "pressure", "it is one of length; for metres of head of water write 'mH2O' (allowed: bar"),
        ("30 degC", "temperature difference", "it is one of temperature"),
        ("63 degF", "temperature difference", "'63 degF' as a rise is '35 K'"),
        ("30 mi/h", "speed", "did you mean 'mph'?"),
    ],
)
def test_a_wrong_unit_comes_with_a_hint(text: str, kind: str, hint: str) -> None:
    with pytest.raises(ValueError, match="is not a unit of") as refusal:
        read_figure(text, kind)
    assert hint in str(refusal.value)


EVERY_UNIT = [(kind, unit) for kind, units in UNITS.items() for unit in units]


@given(
    st.sampled_from(EVERY_UNIT),
    st.decimals(min_value=0, max_value=10**6, places=3, allow_nan=False, allow_infinity=False),
)
def test_every_unit_reads_back_what_was_written(kind_and_unit: tuple[str, str], number: object) -> None:
    kind, unit = kind_and_unit
    factor, offset = UNITS[kind][unit]
    figure = read_figure(f"{number} {unit}", kind)
    # relative to the largest term: taking the offset off again costs its digits
    assert (figure - offset) / factor == pytest.approx(
        float(str(number)), rel=1e-12, abs=1e-12 * (1 + offset / factor)
    )
    assert figure.text == f"{number} {unit}"


HOSTILE = [
    "9**9**9**9 mm",
    "10**10**8 mm",
    "9" * 5000 + " mm",
    "9" * 50 + " mm",
    "1" + "/" * 30 + "2 mm",
    "__import__('os') mm",
    "1 1 1/2 in",
    "1/2/3 in",
    "+-3 mm",
    "1.2.3 mm",
    "\x00",
    "mm 620",
    "1e9999 mm",
    "½ in",
]


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_a_number_or_a_sentence(text: str) -> None:
    _number_or_sentence(text, "length")


@given(st.text(max_size=80), st.sampled_from(sorted(UNITS)))
def test_any_text_is_a_number_or_a_sentence(text: str, kind: str) -> None:
    _number_or_sentence(text, kind)


@given(st.text(alphabet="0123456789 ./-+,einmbarpsL%", max_size=30), st.sampled_from(sorted(UNITS)))
def test_text_that_looks_like_a_figure_is_a_number_or_a_sentence(text: str, kind: str) -> None:
    _number_or_sentence(text, kind)


def _number_or_sentence(text: str, kind: str) -> None:
    try:
        figure = read_figure(text, kind)
    except ValueError as refusal:
        assert 10 < len(str(refusal)) < 400
    else:
        assert math.isfinite(figure)
        assert figure.text == text.strip()


def test_a_figure_keeps_its_spelling_and_standing_when_copied() -> None:
    figure = Figure(0.82, "82 %", "measured", "own-bench")
    copy = pickle.loads(pickle.dumps(figure))
    assert (copy, copy.text, copy.standing, copy.source) == (0.82, "82 %", "measured", "own-bench")
