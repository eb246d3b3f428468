"""Threads against their published designations, look-alike figures, hose classes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from configurator.standards.forms import FORMS, size_fault
from configurator.standards.hose_classes import HOSE_CLASSES, class_of
from configurator.standards.threads import (
    DASH_THREADS,
    FACE_SEAL_THREADS,
    FLARE45_THREADS,
    G_THREADS,
    METRIC_PORTS,
    NPT_THREADS,
    R_THREADS,
    RC_THREADS,
    RP_THREADS,
    THREADS,
    Thread,
    bore_of,
    pitch_difference,
    thread_depth,
    threads_near,
)


def test_dash_threads_are_what_their_names_say() -> None:
    """Unified threads (ASME B1.1, published): the name is the major diameter in inches and threads per inch."""
    for thread in (*DASH_THREADS.values(), *FLARE45_THREADS.values(), *FACE_SEAL_THREADS.values()):
        *inches, per_inch = thread.designation.split(" ", 1)[0].split("-")
        assert thread.major_mm == pytest.approx(25.4 * float(sum(map(Fraction, inches))), abs=0.006)
        assert thread.pitch_mm == pytest.approx(25.4 / int(per_inch), abs=0.001)


@pytest.mark.parametrize(
    ("threads", "names"),
    [
        (
            DASH_THREADS,
            "7/16-20 1/2-20 9/16-18 3/4-16 7/8-14 1-1/16-12 1-3/16-12 1-5/16-12 1-5/8-12",
        ),
        (FLARE45_THREADS, "7/16-20 1/2-20 5/8-18 3/4-16 7/8-14 1-1/16-14"),
        (FACE_SEAL_THREADS, "9/16-18 11/16-16 13/16-16 1-14 1-3/16-12 1-7/16-12 1-11/16-12"),
    ],
)
def test_inch_threads_by_dash_size(threads: dict[str, Thread], names: str) -> None:
    """Typed from charts of SAE J1926-1/J514, J512 and J1453; the face seal and 45° -6 from memory of them."""
    assert [thread.designation.rsplit(" ", 1)[0] for thread in threads.values()] == names.split()


def test_pipe_threads_of_iso_7_have_the_profile_of_iso_228() -> None:
    """ISO 7-1 and ISO 228-1 (published): one profile, R and Rc tapered, Rp parallel."""
    for size, parallel in G_THREADS.items():
        for threads, tapered in ((R_THREADS, True), (RC_THREADS, True), (RP_THREADS, False)):
            thread = threads[size]
            assert (thread.major_mm, thread.pitch_mm, thread.flank_deg) == (parallel.major_mm, parallel.pitch_mm, 55.0)
            assert thread.tapered is tapered


def test_threads_near_a_measured_diameter() -> None:
    """Outside diameters about 27 mm: 1-1/16 in, M27, NPT 3/4 (26.67) and G 3/4 (26.44 mm), published."""
    near = threads_near(27.0)
    assert near[0] == "M27x2"
    assert {"1-1/16-12 UN", "1-1/16-14 UN", "M27x2", "3/4-14 NPT", "G 3/4-14"} <= set(near)
    assert threads_near(38.0) == ()


def test_metric_ports_are_what_their_names_say() -> None:
    for name, thread in METRIC_PORTS.items():
        assert name == f"M{thread.major_mm:g}x{thread.pitch_mm:g}"


@pytest.mark.parametrize(
    ("size", "npt_od_in", "npt_per_inch", "g_major_mm", "g_per_inch"),
    [
        ("1/8", 0.405, 27, 9.728, 28),
        ("1/4", 0.540, 18, 13.157, 19),
        ("3/8", 0.675, 18, 16.662, 19),
        ("1/2", 0.840, 14, 20.955, 14),
        ("3/4", 1.050, 14, 26.441, 14),
        ("1", 1.315, 11.5, 33.249, 11),
        ("1-1/4", 1.660, 11.5, 41.910, 11),
    ],
)
def test_pipe_threads(size: str, npt_od_in: float, npt_per_inch: float, g_major_mm: float, g_per_inch: float) -> None:
    """Published: ASME B1.20.1 (pipe outside diameters, threads per inch), ISO 228-1."""
    assert NPT_THREADS[size].major_mm == pytest.approx(25.4 * npt_od_in, abs=0.006)
    assert NPT_THREADS[size].pitch_mm == pytest.approx(25.4 / npt_per_inch, abs=0.001)
    assert G_THREADS[size].major_mm == g_major_mm
    assert G_THREADS[size].pitch_mm == pytest.approx(25.4 / g_per_inch, abs=0.001)


@pytest.mark.parametrize(
    ("male", "female", "depth", "pitch"),
    [
        (G_THREADS["1/2"], METRIC_PORTS["M22x1.5"], 0.357, 0.209),
        (NPT_THREADS["1/2"], DASH_THREADS["-10"], 0.549, 0.0),
        (NPT_THREADS["3/4"], G_THREADS["3/4"], 1.099, 0.0),
        (METRIC_PORTS["M27x2"], DASH_THREADS["-12"], 1.01, 0.055),
        (METRIC_PORTS["M18x1.5"], DASH_THREADS["-8"], 0.389, 0.0552),
        (METRIC_PORTS["M14x1.5"], DASH_THREADS["-6"], 0.811, 0.063),
        (NPT_THREADS["1"], DASH_THREADS["-16"], 1.03, 0.0434),
        (METRIC_PORTS["M22x1.5"], DASH_THREADS["-10"], 0.886, 0.173),
    ],
)
def test_depth_and_pitch_of_look_alikes(male: Thread, female: Thread, depth: float, pitch: float) -> None:
    """Worked by hand from exact inch sizes: G 1/2 (20.955) in M22x1.5 has (20.955 - 20.376) / 1.624 = 0.357.

    The tables are rounded to 0.01 mm, hence 2 %.
    """
    assert thread_depth(male, female)[0] == pytest.approx(depth, rel=0.02)
    assert pitch_difference(male, female) == pytest.approx(pitch, rel=0.02)


def test_a_tapered_male_is_judged_at_both_ends_of_its_taper() -> None:
    """1 mm thinner at the small end (common practice, no source), in a thread 1.9637 mm deep."""
    big, small = thread_depth(NPT_THREADS["1/2"], DASH_THREADS["-10"])
    assert big - small == pytest.approx(1.0 / (1.0825 * 25.4 / 14), rel=1e-3)
    assert len(thread_depth(METRIC_PORTS["M22x1.5"], DASH_THREADS["-10"])) == 1


def test_a_thread_in_its_own_kind_is_full() -> None:
    for threads in THREADS.values():
        for thread in threads.values():
            assert thread_depth(thread, thread)[0] == pytest.approx(1.0)
            assert pitch_difference(thread, thread) == 0.0


def test_every_thread_form_has_a_bore_smaller_than_its_thread() -> None:
    for form, sizes in THREADS.items():
        assert form in FORMS
        for size, thread in sizes.items():
            bore = bore_of(form, size)
            assert bore is not None and 0.3 * thread.major_mm < bore * 1e3 < thread.minor_mm
    assert bore_of("spigot", "19 mm") is None


def test_an_unknown_size_is_answered_with_the_nearest() -> None:
    assert size_fault("orb", "-12") is None
    text = size_fault("orb", "-11")
    assert text is not None and "did you mean '-1" in text


@pytest.mark.parametrize(
    ("label", "coldest_c", "hottest_c"),
    [("A silicone", -55, 175), ("B NBR", -40, 100), ("D-1 EPDM", -40, 125), ("D-3 EPDM", -40, 150)],
)
def test_hose_classes(label: str, coldest_c: float, hottest_c: float) -> None:
    """Published: SAE J20 (2022), class table."""
    known = class_of(label)
    assert known is not None
    assert (known.coldest_k, known.hottest_k) == (coldest_c + 273.15, hottest_c + 273.15)


def test_labels_without_a_class() -> None:
    assert class_of("house brand") is None
    assert class_of("") is None
    assert set(HOSE_CLASSES) == {"A", "B", "C", "D-1", "D-2", "D-3", "E"}
