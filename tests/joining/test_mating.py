"""Which ends mate: over the whole product of forms and sizes, against lists typed by hand."""

from __future__ import annotations

from itertools import product

import pytest

from configurator.joining.mating import mate
from tests.joining.made_parts import end

DASHES = ("-4", "-6", "-8", "-10", "-12", "-16", "-20")
PIPES = ("1/8", "1/4", "3/8", "1/2", "3/4", "1", "1-1/4")
METRICS = (
    "M8x1",
    "M10x1",
    "M12x1.5",
    "M14x1.5",
    "M16x1.5",
    "M18x1.5",
    "M22x1.5",
    "M27x2",
    "M33x2",
    "M42x2",
    "M48x2",
    "M60x2",
)
THREADS = {"orb": DASHES, "flare37": DASHES, "npt": PIPES, "g": PIPES, "metric": METRICS}
EVERY_END = [
    *(f"{form} {size} {sex}" for form, sizes in THREADS.items() for size in sizes for sex in ("male", "female")),
    *(f"hose {bore}" for bore in ("12.7", "16", "19", "25", "32")),
    *(f"spigot {od} barb" for od in ("12.7", "16", "19", "25", "32")),
    "spigot 19",
    *(f"coupler {size}" for size in ("51", "57", "63.5", "76")),
    *(f"spigot {size} bead" for size in ("51", "57", "63.5", "76")),
    *(f"neck {size} {sex}" for size in ("32", "45") for sex in ("male", "female")),
]
MAY_BE_DIRECT = {
    *(frozenset((f"orb {size} male", f"orb {size} female")) for size in DASHES),
    *(frozenset((f"flare37 {size} male", f"flare37 {size} female")) for size in DASHES),
    *(frozenset((f"npt {size} male", f"npt {size} female")) for size in PIPES),
    *(frozenset((f"g {size} male", f"g {size} female")) for size in PIPES),
    *(frozenset((f"metric {size} male", f"metric {size} female")) for size in METRICS),
    frozenset(("hose 12.7", "spigot 12.7 barb")),
    frozenset(("hose 16", "spigot 16 barb")),
    frozenset(("hose 19", "spigot 19 barb")),
    frozenset(("hose 25", "spigot 25 barb")),
    frozenset(("hose 32", "spigot 32 barb")),
    frozenset(("coupler 51", "spigot 51 bead")),
    frozenset(("coupler 57", "spigot 57 bead")),
    frozenset(("coupler 63.5", "spigot 63.5 bead")),
    frozenset(("coupler 76", "spigot 76 bead")),
    frozenset(("neck 32 male", "neck 32 female")),
    frozenset(("neck 45 male", "neck 45 female")),
}
"""Seals by SAE J1926-1, J514, ASME B1.20.1, ISO 228-1, ISO 6149-1 (published); sleeves are common practice."""

MUST_BE_REFUSED = {
    *(
        frozenset((f"orb {size} {a}", f"flare37 {size} {b}"))
        for size in DASHES
        for a, b in (("male", "female"), ("female", "male"))
    ),
    *(
        frozenset((f"npt {npt} {a}", f"g {g} {b}"))
        for npt, g in product(PIPES, PIPES)
        for a, b in (("male", "female"), ("female", "male"))
    ),
    frozenset(("hose 19", "spigot 19")),
}


def test_direct_pairs_are_the_closed_list_and_the_order_of_ends_never_matters() -> None:
    made = {text: end(text) for text in EVERY_END}
    direct = set()
    for a, b in product(EVERY_END, EVERY_END):
        medium = "charge" if "coupler" in a + b else "coolant"
        mating = mate(made[a], made[b], medium=medium, boost_pa_gauge=1.4e5)
        assert mating == mate(made[b], made[a], medium=medium, boost_pa_gauge=1.4e5), (a, b)
        assert bool(mating.hazard) == (mating.verdict == "refuse"), (a, b)
        if mating.verdict == "direct":
            direct.add(frozenset((a, b)))
    assert direct == MAY_BE_DIRECT


def test_look_alike_families_are_refused_in_every_size() -> None:
    for a, b in map(tuple, MUST_BE_REFUSED):
        assert mate(end(a), end(b), medium="coolant").verdict == "refuse", (a, b)


def test_two_threads_of_one_sex_are_never_taken_for_a_fit() -> None:
    for sex in ("male", "female"):
        threads = [end(f"{form} {size} {sex}") for form, sizes in THREADS.items() for size in sizes]
        verdicts = {mate(a, b, medium="coolant").verdict for a, b in product(threads, threads)}
        assert verdicts == {"adapter"}


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
        ("neck 32 male", "neck 45 female", "adapter"),
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


def test_weak_threads_are_told_as_thrown_out_and_full_ones_are_not() -> None:
    weak = mate(end("g 1/2 male"), end("metric M22x1.5 female"), medium="coolant")
    full = mate(end("metric M27x2 male"), end("orb -12 female"), medium="coolant")
    assert "thrown out" in weak.hazard and "36%" in weak.why
    assert "thrown out" not in full.hazard and "crosses the thread" in full.hazard
