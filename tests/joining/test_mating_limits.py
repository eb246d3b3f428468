"""What flows, how hot, under suction: limits of ends beside their shape; profiles; and ends that nobody knows."""

from __future__ import annotations

import pytest

from configurator.joining.mating import mate
from configurator.joining.mating_verdict import Mating, MatingMedium
from tests.joining.made_parts import told


def _mate(a: str, b: str, medium: MatingMedium = "coolant", **more: object) -> Mating:
    forward = mate(told(a), told(b), medium=medium, **more)  # type: ignore[arg-type]
    assert forward == mate(told(b), told(a), medium=medium, **more)  # type: ignore[arg-type]
    return forward


@pytest.mark.parametrize("medium", ["coolant", "charge"])
@pytest.mark.parametrize(
    "other", ["qc-coolant:form16:female", "qc-fuel:9.49mm:female", "spigot:9.5mm:bead", "orb:-6:female"]
)
def test_a_fuel_quick_connect_is_refused_on_anything_in_coolant_and_charge(medium: MatingMedium, other: str) -> None:
    """SAE J2044 is scoped to liquid fuel and its vapour (published)."""
    mating = _mate("qc-fuel:9.49mm:male", other, medium)
    assert (mating.verdict, mating.rule) == ("refuse", "wrong-medium")


def test_quick_connects_go_together_in_their_own_medium_alone() -> None:
    """SAE J2044: liquid fuel; SAE J3207: coolant, to 206 kPa (published scopes)."""
    assert _mate("qc-fuel:9.49mm:male", "qc-fuel:9.49mm:female", "fuel").verdict == "direct"
    coolant = _mate("qc-coolant:form16:male", "qc-coolant:form16:female")
    assert coolant.verdict == "direct"
    assert [caution.code for caution in coolant.cautions] == ["quick-connect-limit"]
    assert "2.06 bar" in coolant.cautions[0].text
    assert _mate("qc-coolant:form16:male", "qc-coolant:form16:female", "charge").verdict == "refuse"


@pytest.mark.parametrize(
    ("a", "b", "medium"),
    [
        ("hose:57mm", "spigot:57mm:bead", "charge"),
        ("hose:8mm", "spigot:8mm:barb", "fuel"),
        ("hose:19mm", "orb:-16:female", "charge"),
        ("hose:19mm", "spigot:57mm:bead", "charge"),
        ("coupler:25mm", "spigot:25mm:bead", "coolant"),
        ("coupler:57mm", "spigot:57mm:bead", "fuel"),
        ("neck:32mm:male", "neck:32mm:female", "charge"),
    ],
)
def test_sleeves_and_necks_are_refused_in_a_medium_they_are_not_made_for(
    a: str, b: str, medium: MatingMedium
) -> None:
    """Whatever their sizes. Common practice, no source: coolant hose bursts on boost, silicone swells in fuel."""
    assert _mate(a, b, medium).rule == "wrong-medium"


@pytest.mark.parametrize(
    ("a", "b", "medium", "words"),
    [
        ("hose:57mm", "spigot:57mm:bead", "charge", "written coupler:57mm"),
        ("coupler:57mm", "spigot:57mm:bead", "coolant", "written hose:57mm"),
        ("hose:8mm", "spigot:8mm:barb", "fuel", "sold for fuel"),
    ],
)
def test_a_sleeve_in_the_wrong_medium_is_sent_to_the_one_that_is_made_for_it(
    a: str, b: str, medium: MatingMedium, words: str
) -> None:
    assert words in _mate(a, b, medium).remedy


def test_a_quick_connect_is_refused_above_what_its_form_is_made_for() -> None:
    """SAE J3207: 206 kPa (published scope)."""
    ends = ("qc-coolant:19mm:male:a", "qc-coolant:19mm:female:a")
    assert _mate(*ends, pressure_pa_gauge=2.06e5).verdict == "direct"
    over = _mate(*ends, pressure_pa_gauge=2.07e5)
    assert (over.verdict, over.rule) == ("refuse", "rating-below-pressure")
    assert "2.06 bar at most, the joint may see 2.07 bar" in over.why


def test_the_rubber_of_a_ring_follows_what_flows() -> None:
    """EPDM stands glycol and no oil; FKM stands oil mist and fuel. Common practice, no source."""
    needs = {
        medium: _mate("orb:-8:male", "orb:-8:female", medium).needs[0].item for medium in ("coolant", "charge", "fuel")
    }
    assert needs == {"coolant": "O-ring -8, EPDM", "charge": "O-ring -8, FKM", "fuel": "O-ring -8, FKM"}


@pytest.mark.parametrize(
    ("a", "b", "medium", "limit_c"),
    [
        ("qc-coolant:form16:male", "qc-coolant:form16:female", "coolant", 125),  # SAE J3207, published scope
        ("hose:19mm", "spigot:19mm:barb", "coolant", 175),  # SAE J20 class A, published
        ("orb:-8:male", "orb:-8:female", "coolant", 150),  # EPDM ring, common practice
        ("orb:-8:male", "orb:-8:female", "charge", 200),  # FKM ring, common practice
        ("coupler:57mm", "spigot:57mm:bead", "charge", 225),  # lined silicone: a published material specification
    ],
)
def test_an_end_is_refused_above_what_its_rubber_stands(
    a: str, b: str, medium: MatingMedium, limit_c: float
) -> None:
    assert _mate(a, b, medium, hottest_k=limit_c + 273.15).verdict == "direct"
    above = _mate(a, b, medium, hottest_k=limit_c + 273.65)
    assert (above.verdict, above.rule) == ("refuse", "too-hot")
    assert f"{limit_c} degC" in above.why


def test_metal_cones_and_pipe_threads_have_no_rubber_to_burn() -> None:
    for form in ("flare37:-8", "flare45:-8", "npt:1/2"):
        assert _mate(f"{form}:male", f"{form}:female", hottest_k=500.0).verdict == "direct"


def test_a_hot_charge_wants_a_lined_coupler_and_says_so() -> None:
    """Plain silicone to 175 degC, lined to 225 degC: a carmaker's public hose specification."""

    def codes(hottest_c: float) -> list[str]:
        mating = _mate("coupler:57mm", "spigot:57mm:bead", "charge", hottest_k=hottest_c + 273.15)
        return [caution.code for caution in mating.cautions]

    assert codes(175) == []
    assert codes(176) == ["lined-coupler"]


def test_suction_is_cautioned_on_wide_hose_and_on_couplers() -> None:
    """Unwired hose over 19 mm is sucked flat; a closed throttle pulls 0.7 bar. Common practice, no source."""

    def codes(a: str, b: str, medium: MatingMedium, suction: bool) -> list[str]:
        return [caution.code for caution in _mate(a, b, medium, suction=suction).cautions]

    assert codes("hose:19mm", "spigot:19mm:bead", "coolant", True) == []
    assert codes("hose:25mm", "spigot:25mm:bead", "coolant", True) == ["suction-hose"]
    assert codes("hose:25mm", "spigot:25mm:bead", "coolant", False) == []
    assert codes("coupler:57mm", "spigot:57mm:bead", "charge", True) == ["vacuum-coupler"]


@pytest.mark.parametrize(
    ("a", "b", "verdict", "rule"),
    [
        ("vband:76mm:male:a", "vband:76mm:female:a", "direct", "own-kind"),
        ("vband:76mm:male:a", "vband:76mm:female:b", "refuse", "other-profile"),
        ("vband:76mm:male:a", "vband:63.5mm:female:b", "adapter", "other-tube"),
        ("vband:3in:male:a", "vband:76mm:female:a", "direct", "own-kind"),  # one tube: 76.2 mm
        ("qc-coolant:3/4in:male", "qc-coolant:19mm:female", "ask", "profile-unknown"),
        ("vband:76mm:male:a", "vband:77mm:female:a", "adapter", "other-tube"),
        ("vband:76mm:male:a", "vband:76mm:male:a", "adapter", "sexes-alike"),
        ("vband:76mm:male", "vband:76mm:female:a", "ask", "profile-unknown"),
        ("vband:76mm:male:a", "vband:76mm:a", "ask", "sex-unknown"),
        ("vband:76mm:a", "vband:76mm:a", "direct", "own-kind"),
        ("flange:57mm:a", "flange:57mm:b", "refuse", "other-profile"),
        ("flange:57mm:a", "vband:57mm:a", "adapter", "strangers"),
        ("qc-coolant:16mm:male", "qc-coolant:16mm:female", "ask", "profile-unknown"),
        ("qc-coolant:form16:male", "qc-coolant:form20:female", "refuse", "other-profile"),
    ],
)
def test_profiles_of_makers(a: str, b: str, verdict: str, rule: str) -> None:
    """No common standard of V-band profiles or quick-connect forms is known: only like goes on like."""
    mating = _mate(a, b, "charge" if "qc" not in a else "coolant")
    assert (mating.verdict, mating.rule) == (verdict, rule)


@pytest.mark.parametrize(
    ("a", "b", "medium", "needs"),
    [
        ("vband:76mm:male:a", "vband:76mm:female:a", "charge", {("V-band clamp for a", 1), ("O-ring or gasket", 1)}),
        ("flange:57mm:a", "flange:57mm:a", "charge", {("bolt set for a", 1), ("O-ring or gasket", 1)}),
        ("qc-coolant:form16:male", "qc-coolant:form16:female", "coolant", {("seal and clip", 1)}),
    ],
)
def test_a_joint_of_one_profile_takes_one_of_each_thing_that_holds_and_seals_it(
    a: str, b: str, medium: MatingMedium, needs: set[tuple[str, int]]
) -> None:
    """One clamp or one set of bolts, and one ring: so these joints are made (common practice, no source)."""
    found = [(need.item, need.quantity) for need in _mate(a, b, medium).needs]
    assert len(found) == len(needs)
    assert all(any(item.startswith(start) and count == of for item, count in found) for start, of in needs)


def test_an_unknown_end_is_always_a_question_with_what_it_may_be() -> None:
    """Outside diameters near 22 mm: 1/2 NPT 21.3, G 1/2 21.0, M22x1.5 and 7/8-14 22.2 mm (published)."""
    for other in ("orb:-10:female", "hose:22mm", "qc-fuel:9.49mm:male", "unknown"):
        assert _mate("unknown", other).verdict == "ask"
    question = _mate("unknown:22mm", "orb:-10:female").question
    for name in ("M22x1.5", "7/8-14 UNF", "1/2-14 NPT"):
        assert name in question
    assert "3/4" not in question


@pytest.mark.parametrize(
    ("sleeve", "thread", "verdict"),
    [
        ("hose:19mm", "orb:-8:male", "refuse"),
        ("hose:19mm", "flare37:-8:male", "refuse"),
        ("hose:19mm", "orb:-8:female", "adapter"),
        ("hose:25mm", "orb:-8:male", "adapter"),
        ("hose:16mm", "npt:3/8:male", "refuse"),
    ],
)
def test_a_hose_is_never_pushed_on_a_male_thread(sleeve: str, thread: str, verdict: str) -> None:
    """Edges cut it and there is no bead. Common practice, no source."""
    assert _mate(sleeve, thread).verdict == verdict
