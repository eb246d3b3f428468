"""Which ends mate: over the whole product of forms and sizes, against lists typed by hand."""

from __future__ import annotations

from itertools import combinations_with_replacement, product

import pytest

from configurator.joining.mating import mate
from configurator.joining.mating_verdict import MatingMedium
from tests.joining.made_parts import end, told

DASHES = ("-4", "-5", "-6", "-8", "-10", "-12", "-14", "-16", "-20")
FLARES_45 = ("-4", "-5", "-6", "-8", "-10", "-12")
FACE_SEALS = ("-4", "-6", "-8", "-10", "-12", "-16", "-20")
PIPES = ("1/8", "1/4", "3/8", "1/2", "3/4", "1", "1-1/4")
METRICS = (
    *("M8x1", "M10x1", "M12x1.5", "M14x1.5", "M16x1.5", "M18x1.5"),
    *("M22x1.5", "M27x2", "M33x2", "M42x2", "M48x2", "M60x2"),
)
OWN_KINDS = {
    "orb": DASHES,
    "flare37": DASHES,
    "flare45": FLARES_45,
    "orfs": FACE_SEALS,
    "npt": PIPES,
    "g": PIPES,
    "metric": METRICS,
    "metric-flat": METRICS,
}
EVERY_THREAD = [
    *(f"{form}:{size}:{sex}" for form, sizes in OWN_KINDS.items() for size in sizes for sex in ("male", "female")),
    *(f"{form}:{size}" for form in ("r", "rc", "rp") for size in PIPES),
    "flare37:-10:female:swivel",
    "g:1/2:female:swivel",
]
EVERY_END = [
    *EVERY_THREAD,
    *(f"hose:{bore}mm" for bore in ("12.7", "16", "19", "25", "32")),
    *(f"spigot:{od}mm:barb" for od in ("12.7", "16", "19", "25", "32")),
    "spigot:19mm:plain",
    *(f"coupler:{size}mm" for size in ("51", "57", "63.5", "76")),
    *(f"spigot:{size}mm:bead" for size in ("51", "57", "63.5", "76")),
    "spigot:76mm:plain",
    *(f"neck:{size}mm:{sex}" for size in ("32", "45") for sex in ("male", "female")),
    *(f"qc-coolant:{size}:{sex}" for size in ("form16", "form20", "16mm") for sex in ("male", "female")),
    *(f"qc-coolant:16mm:{sex}:{maker}" for maker in ("a", "b") for sex in ("male", "female")),
    *(f"qc-fuel:{size}:{sex}" for size in ("7.89mm", "9.49mm") for sex in ("male", "female")),
    *(f"vband:76mm:{sex}:{maker}" for maker in ("a", "b") for sex in ("male", "female")),
    *(f"vband:76mm:{sex}" for sex in ("male", "female")),
    *(f"flange:57mm:{maker}" for maker in ("a", "b")),
    "unknown",
    "unknown:22mm",
]
MAY_BE_DIRECT = {
    *(frozenset((f"orb:{size}:male", f"orb:{size}:female")) for size in DASHES),
    *(frozenset((f"flare37:{size}:male", f"flare37:{size}:female")) for size in DASHES),
    frozenset(("flare37:-10:male", "flare37:-10:female:swivel")),
    *(frozenset((f"flare45:{size}:male", f"flare45:{size}:female")) for size in FLARES_45),
    *(frozenset((f"orfs:{size}:male", f"orfs:{size}:female")) for size in FACE_SEALS),
    *(frozenset((f"npt:{size}:male", f"npt:{size}:female")) for size in PIPES),
    *(frozenset((f"g:{size}:male", f"g:{size}:female")) for size in PIPES),
    frozenset(("g:1/2:male", "g:1/2:female:swivel")),
    *(frozenset((f"r:{size}", f"rc:{size}")) for size in PIPES),
    *(frozenset((f"r:{size}", f"rp:{size}")) for size in PIPES),
    *(frozenset((f"r:{size}", f"g:{size}:female")) for size in PIPES),
    *(frozenset((f"metric:{size}:male", f"metric:{size}:female")) for size in METRICS),
    *(frozenset((f"metric-flat:{size}:male", f"metric-flat:{size}:female")) for size in METRICS),
    frozenset(("hose:12.7mm", "spigot:12.7mm:barb")),
    frozenset(("hose:16mm", "spigot:16mm:barb")),
    frozenset(("hose:19mm", "spigot:19mm:barb")),
    frozenset(("hose:25mm", "spigot:25mm:barb")),
    frozenset(("hose:32mm", "spigot:32mm:barb")),
    frozenset(("coupler:51mm", "spigot:51mm:bead")),
    frozenset(("coupler:57mm", "spigot:57mm:bead")),
    frozenset(("coupler:63.5mm", "spigot:63.5mm:bead")),
    frozenset(("coupler:76mm", "spigot:76mm:bead")),
    frozenset(("neck:32mm:male", "neck:32mm:female")),
    frozenset(("neck:45mm:male", "neck:45mm:female")),
    frozenset(("qc-coolant:form16:male", "qc-coolant:form16:female")),
    frozenset(("qc-coolant:form20:male", "qc-coolant:form20:female")),
    frozenset(("qc-coolant:16mm:male:a", "qc-coolant:16mm:female:a")),
    frozenset(("qc-coolant:16mm:male:b", "qc-coolant:16mm:female:b")),
    frozenset(("qc-fuel:7.89mm:male", "qc-fuel:7.89mm:female")),
    frozenset(("qc-fuel:9.49mm:male", "qc-fuel:9.49mm:female")),
    frozenset(("vband:76mm:male:a", "vband:76mm:female:a")),
    frozenset(("vband:76mm:male:b", "vband:76mm:female:b")),
    frozenset(("flange:57mm:a",)),
    frozenset(("flange:57mm:b",)),
}
"""Seals by SAE J1926-1, J514, J512, J1453, J2044, J3207, ASME B1.20.1, ISO 228-1, ISO 7-1, ISO 6149-1, ISO 9974-1
(published); R in a fixed G port and all sleeves are common practice."""

MADE = {text: told(text) for text in EVERY_END}


def _medium(a: str, b: str) -> MatingMedium:
    if "coupler" in a + b:
        return "charge"
    return "fuel" if a.startswith("qc-fuel") and b.startswith("qc-fuel") else "coolant"


def test_direct_pairs_are_the_closed_list_and_the_order_of_ends_never_matters() -> None:
    direct = set()
    for a, b in combinations_with_replacement(EVERY_END, 2):
        medium = _medium(a, b)
        mating = mate(MADE[a], MADE[b], medium=medium, boost_pa_gauge=1.4e5)
        assert mating == mate(MADE[b], MADE[a], medium=medium, boost_pa_gauge=1.4e5), (a, b)
        assert bool(mating.hazard) == (mating.verdict == "refuse"), (a, b)
        assert bool(mating.question) == (mating.verdict == "ask"), (a, b)
        assert not mating.needs or mating.verdict == "direct", (a, b)
        if mating.verdict == "direct":
            direct.add(frozenset((a, b)))
    assert direct == MAY_BE_DIRECT


@pytest.mark.parametrize("medium", ["coolant", "charge", "fuel"])
def test_two_ends_of_one_sex_are_never_direct(medium: MatingMedium) -> None:
    for sex in ("male", "female"):
        alike = [end for end in MADE.values() if end.gender == sex]
        assert len(alike) > 80
        verdicts = {mate(a, b, medium=medium).verdict for a, b in combinations_with_replacement(alike, 2)}
        assert "direct" not in verdicts
    sleeves = [end for end in MADE.values() if end.form in {"hose", "coupler"}]
    spigots = [end for end in MADE.values() if end.form == "spigot"]
    for alike in (sleeves, spigots):
        assert all(mate(a, b, medium=medium).verdict != "direct" for a, b in product(alike, alike))


def test_two_threads_of_one_sex_are_strangers() -> None:
    for sex in ("male", "female"):
        threads = [MADE[text] for text in EVERY_THREAD if MADE[text].gender == sex]
        assert {mate(a, b, medium="coolant").verdict for a, b in product(threads, threads)} == {"adapter"}


def _opposite(a_form: str, a_size: str, b_form: str, b_size: str) -> set[frozenset[str]]:
    return {
        frozenset((f"{a_form}:{a_size}:{sex}", f"{b_form}:{b_size}:{other}"))
        for sex, other in (("male", "female"), ("female", "male"))
    }


MUST_BE_REFUSED = set().union(
    *(_opposite("orb", size, "flare37", size) for size in DASHES),
    # 45° and 37° flare share these threads (SAE J512, published); at -12 14 against 12 threads to the inch
    *(_opposite("flare45", size, form, size) for size in ("-4", "-5", "-8", "-10") for form in ("flare37", "orb")),
    *(_opposite("flare45", "-12", form, "-12") for form in ("flare37", "orb")),
    # face seal -4 has the thread of dash -6, -12 that of dash -14 (SAE J1453, from memory)
    *(_opposite("orfs", "-4", form, "-6") for form in ("flare37", "orb")),
    *(_opposite("orfs", "-12", form, "-14") for form in ("flare37", "orb")),
    *(_opposite("npt", npt, "g", g) for npt, g in product(PIPES, PIPES)),
    *(_opposite("metric", size, "metric-flat", size) for size in METRICS),
    {frozenset((f"npt:{npt}:female", f"r:{r}")) for npt, r in product(PIPES, PIPES)},
    {frozenset((f"npt:{npt}:male", f"{form}:{size}")) for npt, size, form in product(PIPES, PIPES, ("rc", "rp"))},
    {frozenset((f"g:{size}:male", f"{form}:{size}")) for size, form in product(PIPES, ("rc", "rp"))},
    {frozenset(("r:1/2", "g:1/2:female:swivel")), frozenset(("hose:19mm", "spigot:19mm:plain"))},
)
"""Pairs that go together and do not seal: common practice, no source, but for the threads named."""


def test_look_alike_families_are_refused_in_every_size() -> None:
    for a, b in map(sorted, MUST_BE_REFUSED):
        mating = mate(told(a), told(b), medium="coolant")
        assert mating.verdict == "refuse" and mating.hazard and mating.why, (a, b)


@pytest.mark.parametrize(
    ("male", "female", "share", "hazard"),
    [
        ("g:1/2:male", "metric:M22x1.5:female", 0.357, "thrown out"),
        ("npt:1/2:male", "orb:-10:female", 0.549, "thrown out"),
        ("metric:M18x1.5:male", "orb:-8:female", 0.389, "thrown out"),
        ("metric:M14x1.5:male", "flare37:-6:female", 0.811, "crosses the thread"),
        ("metric:M22x1.5:male", "orb:-10:female", 0.886, "crosses the thread"),
        ("metric:M27x2:male", "orb:-12:female", 1.01, "crosses the thread"),
        ("npt:1:male", "orb:-16:female", 1.03, "wedges"),
    ],
)
def test_threads_that_nearly_fit_are_refused_with_the_share_they_hold(
    male: str, female: str, share: float, hazard: str
) -> None:
    """Shares worked by hand from exact inch sizes; G 1/2 in M22x1.5: commentary on EN ISO 4413 (published)."""
    mating = mate(told(male), told(female), medium="coolant")
    assert mating.verdict == "refuse" and hazard in mating.hazard
    shown = int(mating.why.split("% of the thread depth")[0].rsplit(" ", 1)[1])
    assert shown == pytest.approx(100 * min(share, 1.0), abs=0.02 * 100 * share + 0.5)


def test_a_tapered_male_is_caught_by_its_small_end_too() -> None:
    """NPT 3/4 in G 3/4 stands at 1.10 by its big end; R 1/8 (9.728, 8.73 small) enters M10x1 by its big end alone."""
    assert mate(told("r:1/8"), told("metric:M10x1:female"), medium="coolant").verdict == "refuse"
    # big end 1.15 < h: (13.72 - 10.376) / (12 - 10.376) = 2.06; small end (12.72 - 10.376) / 1.624 = 1.44: a stranger
    assert mate(told("npt:1/4:male"), told("metric:M12x1.5:female"), medium="coolant").verdict == "adapter"
    # big end (17.15 - 14.376) / 1.624 = 1.71, small end (16.15 - 14.376) / 1.624 = 1.09, pitches 6 % apart
    assert mate(told("npt:3/8:male"), told("metric:M16x1.5:female"), medium="coolant").verdict == "refuse"


@pytest.mark.parametrize(
    ("a", "b", "verdict"),
    [
        ("r:1/2", "g:1/2:female", "direct"),
        ("r:1/2", "g:1/2:female:swivel", "refuse"),
        ("r:1/2", "g:3/4:female", "adapter"),
        ("g:1/2:male", "rp:1/2", "refuse"),
        ("r:1/2", "npt:1/2:female", "refuse"),
    ],
)
def test_taper_and_parallel_pipe_threads(a: str, b: str, verdict: str) -> None:
    """R in a fixed G port is done in practice and outside ISO 228 (common practice, two thread pages)."""
    mating = mate(told(a), told(b), medium="coolant")
    assert mating.verdict == verdict
    outside = [caution.code for caution in mating.cautions]
    assert outside == (["outside-iso-228"] if verdict == "direct" else [])


@pytest.mark.parametrize(
    ("a", "b", "verdict"),
    [
        ("orb -12 male", "orb -10 female", "adapter"),
        ("orb -10 male", "flare37 -10 female swivel", "refuse"),
        ("flare37 -8 male", "orb -8 female", "refuse"),
        ("npt 1/2 male", "g 1/2 female", "refuse"),
        ("npt 1/2 male", "orb -10 female", "refuse"),
        ("g 1/2 male", "metric M22x1.5 female", "refuse"),
        ("metric M27x2 male", "orb -12 female", "refuse"),
        ("metric M18x1.5 male", "orb -8 female", "refuse"),
        ("metric M14x1.5 male", "flare37 -6 female", "refuse"),
        ("npt 1 male", "orb -16 female", "refuse"),
        ("metric M22x1.5 male", "orb -10 female", "refuse"),
        ("hose 19", "spigot 19.05 barb", "direct"),
        ("hose 19", "spigot 16 bead", "adapter"),
        ("hose 25", "spigot 26 bead", "direct"),
        ("hose 16", "spigot 19 bead", "adapter"),
        ("hose 19", "spigot 18 barb", "refuse"),
        ("orb -16 female", "hose 25.4", "adapter"),
        ("neck 32 male", "neck 45 female", "refuse"),
    ],
)
def test_cases_of_the_trade_in_coolant(a: str, b: str, verdict: str) -> None:
    """G 1/2 in M22x1.5 is a published ejection hazard (commentary on EN ISO 4413); the rest common practice."""
    assert mate(end(a), end(b), medium="coolant").verdict == verdict


@pytest.mark.parametrize(
    ("a", "b", "boost_bar", "verdict"),
    [
        ("coupler 76.2", "spigot 76.2 bead", 1.5, "direct"),
        ("coupler 63.5", "spigot 63.5", 1.5, "refuse"),
        ("coupler 63.5", "spigot 63.5", 0.5, "direct"),
        ("coupler 63.5", "spigot 63.5", 0.51, "refuse"),
        ("coupler 63.5", "spigot 50.8 bead", 1.5, "adapter"),
        ("hose 57", "spigot 57 bead", 0.3, "refuse"),
    ],
)
def test_cases_of_the_trade_in_charge_air(a: str, b: str, boost_bar: float, verdict: str) -> None:
    """Common practice, no source: a bead above about half a bar; coolant hose never on boost."""
    assert mate(end(a), end(b), medium="charge", boost_pa_gauge=boost_bar * 1e5).verdict == verdict


@pytest.mark.parametrize(
    ("ratio", "on_hose", "in_coupler"),
    [
        (0.899, "adapter", "adapter"),
        (0.90, "refuse", "refuse"),
        (0.979, "refuse", "refuse"),
        (0.98, "direct", "direct"),
        (1.03, "direct", "direct"),
        (1.031, "direct", "refuse"),
        (1.06, "direct", "refuse"),
        (1.061, "refuse", "refuse"),
        (1.15, "refuse", "refuse"),
        (1.151, "adapter", "adapter"),
    ],
)
def test_edges_of_the_bands_of_sleeves(ratio: float, on_hose: str, in_coupler: str) -> None:
    """Bands of outside over inside diameter: common practice, no source."""
    spigot = end(f"spigot {50 * ratio:.2f} bead")
    assert mate(end("hose 50"), spigot, medium="coolant").verdict == on_hose
    assert mate(end("coupler 50"), spigot, medium="charge", boost_pa_gauge=1e5).verdict == in_coupler


def test_a_direct_joint_names_what_it_needs() -> None:
    def items(a: str, b: str) -> list[str]:
        return [need.item for need in mate(end(a), end(b), medium="coolant").needs]

    assert items("orb -10 male", "orb -10 female") == ["O-ring -10, EPDM"]
    assert items("flare37 -10 male", "flare37 -10 female") == []
    assert items("npt 1/4 male", "npt 1/4 female") == ["thread sealant"]
    assert items("g 1/2 male", "g 1/2 female") == ["bonded washer G 1/2"]
    assert items("metric M22x1.5 male", "metric M22x1.5 female") == ["O-ring M22x1.5, EPDM"]
    assert items("hose 19", "spigot 19 barb") == ["hose clamp"]


@pytest.mark.parametrize(
    ("a", "b", "medium"),
    [
        ("orb -10 male", "orb -10 female", "coolant"),
        ("npt 1/4 male", "npt 1/4 female", "coolant"),
        ("g 1/2 male", "g 1/2 female", "coolant"),
        ("r 1/2", "g 1/2 female", "coolant"),
        ("hose 19", "spigot 19 barb", "coolant"),
        ("coupler 57", "spigot 57 bead", "charge"),
    ],
)
def test_one_joint_takes_one_of_what_holds_or_seals_it(a: str, b: str, medium: MatingMedium) -> None:
    """One clamp to a spigot, one ring or washer to a port, sealant for one joint: common practice, no source."""
    assert [need.quantity for need in mate(end(a), end(b), medium=medium).needs] == [1]


@pytest.mark.parametrize(
    ("a", "b", "rule"),
    [
        ("g 1/2 male", "rc 1/2", "parallel-in-taper"),
        ("g 1/2 male", "rp 1/2", "same-thread-other-seal"),
        ("g 1/2 male", "rc 3/4", "strangers"),
        ("r 1/2", "g 1/2 female", "taper-in-parallel"),
        ("npt 1/2 male", "rc 1/2", "npt-against-bsp"),
        ("npt 1/2 male", "g 3/4 female", "npt-against-bsp"),
    ],
)
def test_pipe_threads_are_refused_for_their_own_reason(a: str, b: str, rule: str) -> None:
    """ISO 7-1 and ISO 228-1 share their threads and not their seals (published); NPT has other flanks (B1.20.1)."""
    assert mate(end(a), end(b), medium="coolant").rule == mate(end(b), end(a), medium="coolant").rule == rule


def test_weak_threads_are_told_as_thrown_out_and_full_ones_are_not() -> None:
    weak = mate(end("g 1/2 male"), end("metric M22x1.5 female"), medium="coolant")
    full = mate(end("metric M27x2 male"), end("orb -12 female"), medium="coolant")
    assert "thrown out" in weak.hazard and "36%" in weak.why
    assert "thrown out" not in full.hazard and "crosses the thread" in full.hazard


@pytest.mark.parametrize(
    ("medium", "asked", "not_asked"),
    [
        ("charge", "outside diameter and the bore, and look what it is: a plain pipe", "pitch"),
        ("coolant", "the pitch, and look where it seals", "plain pipe"),
    ],
)
def test_an_end_that_nobody_knows_is_asked_for_what_its_side_has(
    medium: MatingMedium, asked: str, not_asked: str
) -> None:
    """A charge pipe has no thread: it was asked for the pitch of one."""
    judged = mate(told("unknown:60mm"), told("spigot:57mm:bead"), medium=medium, boost_pa_gauge=1e5)
    assert judged.verdict == "ask" and asked in judged.question and not_asked not in judged.question
