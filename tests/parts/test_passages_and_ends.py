"""Passages and ends: ratings that follow from what is stated, roles, sizes as names and as lengths."""

from __future__ import annotations

import re
from typing import Any

import pytest
from pydantic import ValidationError

from configurator.parts.ends import End
from configurator.parts.passages import BoredPassage, LossPassage, Passage

HOSE_END = {"name": "in", "form": "hose", "size": "19 mm"}


def _passage(**keys: Any) -> Passage:
    return Passage.model_validate({"ends": [HOSE_END], **keys})


@pytest.mark.parametrize(
    ("stated", "working_pa", "stated_as"),
    [
        ({"working": "3 bar"}, 300_000, "working"),
        # common practice, no source: proof is 1.5 times, burst 4 times the working pressure
        ({"proof": "3 bar"}, 200_000, "proof"),
        ({"burst": "12 bar"}, 300_000, "burst"),
    ],
)
def test_the_rating_follows_from_what_is_stated(
    stated: dict[str, str], working_pa: float, stated_as: str
) -> None:
    rating = _passage(**stated).rating
    assert rating.working_pa_gauge == pytest.approx(working_pa)
    assert rating.stated_as == stated_as


@pytest.mark.parametrize("stated", [{}, {"working": "unknown"}])
def test_without_a_statement_a_passage_is_unproven(stated: dict[str, str]) -> None:
    rating = _passage(**stated).rating
    assert (rating.working_pa_gauge, rating.stated_as) == (None, "unknown")


@pytest.mark.parametrize(
    "stated",
    [
        {"working": "3 bar", "burst": "9 bar"},
        {"proof": "3 bar", "burst": "9 bar"},
        {"working": "unknown", "proof": "1 bar"},
    ],
)
def test_two_statements_are_refused(stated: dict[str, str]) -> None:
    with pytest.raises(ValidationError, match="exactly one of working, proof or burst"):
        _passage(**stated)


@pytest.mark.parametrize("stated", [{"loss": "3 kPa"}, {"loss_at": "20 L/min"}])
def test_a_loss_needs_its_flow(stated: dict[str, str]) -> None:
    with pytest.raises(ValidationError, match="a loss is stated with the flow"):
        LossPassage.model_validate({"ends": [HOSE_END], **stated})
    whole = LossPassage.model_validate({"ends": [HOSE_END], "loss": "3 kPa", "loss_at": "20 L/min"}).stated_loss
    assert whole is not None
    assert (whole.pa, whole.at_m3_per_s) == (pytest.approx(3000), pytest.approx(20 / 60e3))


@pytest.mark.parametrize("nothing", [{"loss": "0 kPa"}, {"loss_at": "0 L/min"}])
def test_a_loss_of_nothing_is_refused(nothing: dict[str, str]) -> None:
    stated = {"loss": "3 kPa", "loss_at": "20 L/min", **nothing}
    with pytest.raises(ValidationError, match="must be more than nothing"):
        LossPassage.model_validate({"ends": [HOSE_END], **stated})


@pytest.mark.parametrize("key", ["loss", "loss_at", "bore"])
def test_what_would_be_read_and_not_used_is_refused(key: str) -> None:
    """A loss is used of cores and exchangers, a bore of adapters; other passages know neither key."""
    value = {"loss": "3 kPa", "loss_at": "20 L/min", "bore": "16 mm"}[key]
    with pytest.raises(ValidationError, match="Extra inputs"):
        _passage(**{key: value})
    for record, keys in ((LossPassage, {"loss", "loss_at"}), (BoredPassage, {"bore"})):
        known = {field.alias or name for name, field in record.model_fields.items()}
        assert (key in known) == (key in keys)


def test_the_role_is_the_one_written_else_the_name_else_either() -> None:
    def role(**keys: str) -> str:
        return End.model_validate({**HOSE_END, **keys}).role

    assert role() == "in"
    assert role(name="bleed") == "bleed"
    assert role(name="left") == "either"
    assert role(name="in", role="out") == "out"
    assert (role(name="inlet"), role(name="outlet")) == ("in", "out")


def test_a_filler_neck_is_the_seat_of_a_cap_whatever_it_is_called() -> None:
    neck = {"name": "filler", "form": "neck", "size": "45 mm", "sex": "male"}
    assert End.model_validate(neck).role == "cap"
    assert _passage(ends=[neck, {**HOSE_END, "name": "a"}, {**HOSE_END, "name": "b"}]).end_for("in").name == "a"


def test_beside_an_end_of_a_stated_role_the_other_serves_the_other_way() -> None:
    """A tank with its outlet written first: the way out is not the second of two."""
    tank = _passage(ends=[{**HOSE_END, "name": "outlet"}, {**HOSE_END, "name": "return"}])
    assert [tank.end_for(role).name for role in ("in", "out")] == ["return", "outlet"]


@pytest.mark.parametrize(("name", "meant"), [("outt", "out"), ("otu", "out"), ("Out", "out"), ("drian", "drain")])
def test_a_role_that_is_mistyped_as_a_name_is_refused(name: str, meant: str) -> None:
    """It would serve as way in and way out alike; with its role beside it any name will do."""
    words = {"form": "spigot", "size": "19 mm", "name": name}
    with pytest.raises(ValidationError, match=f"did you mean '{meant}'\\? Another name needs its role"):
        End.model_validate(words)
    assert End.model_validate({**words, "role": "in"}).role == "in"


@pytest.mark.parametrize("name", ["a", "b", "n", "stem", "branch", "one", "other", "bypass", "end", "left", "suction"])
def test_other_names_of_ends_stay_free(name: str) -> None:
    assert End.model_validate({"form": "spigot", "size": "19 mm", "name": name}).role == "either"


def test_ends_that_may_be_either_serve_as_in_and_out_where_none_is_named_so() -> None:
    both = _passage(ends=[{**HOSE_END, "name": "a"}, {**HOSE_END, "name": "b"}])
    assert [end.name for end in both.ends_for("in")] == ["a", "b"]
    assert both.ends_for("bleed") == ()
    mixed = _passage(ends=[HOSE_END, {**HOSE_END, "name": "b"}])
    assert [end.name for end in mixed.ends_for("in")] == ["in"]
    assert [end.name for end in mixed.ends_for("out")] == ["b"]


def test_a_measured_size_is_one_size_however_it_is_spelled() -> None:
    inch = End.model_validate({**HOSE_END, "size": "3/4 in"})
    metric = End.model_validate({**HOSE_END, "size": "19.05 mm"})
    assert inch.size_m == pytest.approx(0.01905)
    assert inch.identity == metric.identity
    assert inch.identity != End.model_validate(HOSE_END).identity


@pytest.mark.parametrize(("size", "as_read"), [(-12, "-12"), ("-12", "-12")])
def test_a_dash_size_is_a_name(size: object, as_read: str) -> None:
    end = End.model_validate({"name": "in", "form": "orb", "size": size, "sex": "female"})
    assert (end.size, end.size_m) == (as_read, None)


@pytest.mark.parametrize(
    ("form", "size", "words"),
    [
        ("orb", "-13", "not a size of form 'orb'"),
        ("npt", "-12", "not a size of form 'npt'"),
        ("hose", "-12", "is a dash size"),
        ("hose", "2 mm", "out of range: 3 mm to 200 mm"),
        ("spigot", "201 mm", "out of range: 3 mm to 200 mm"),
    ],
)
def test_sizes_that_a_form_does_not_know(form: str, size: str, words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        End.model_validate({"name": "in", "form": form, "size": size, "sex": "female"})


@pytest.mark.parametrize(
    ("form", "size", "sex", "words"),
    [
        ("r", "1/2", "female", "is always male"),
        ("rc", "1/2", "male", "is always female"),
        ("hose", "19 mm", "male", "is always female"),
        ("spigot", "19 mm", "female", "is always male"),
    ],
)
def test_some_forms_have_one_sex_alone(form: str, size: str, sex: str, words: str) -> None:
    """ISO 7-1 (published): R is the male, Rc and Rp are female threads; a hose goes over, a spigot under."""
    with pytest.raises(ValidationError, match=words):
        End.model_validate({"name": "in", "form": form, "size": size, "sex": sex})


def test_an_iso_7_thread_needs_no_sex_to_be_said() -> None:
    for form, gender in (("r", "male"), ("rc", "female"), ("rp", "female")):
        end = End.model_validate({"name": "in", "form": form, "size": "3/4"})
        assert (end.sex, end.gender, end.identity[2]) == (None, gender, gender)


@pytest.mark.parametrize("form", ["qc-coolant", "qc-fuel", "vband", "flange", "unknown"])
@pytest.mark.parametrize(
    ("size", "words"),
    [
        ("5/8", "is that in inches, written '5/8 in'"),
        ("19 min", "'min' is not a unit of length, it is one of time"),
        ("19", "'19' has no unit"),
        (19, "'19' has no unit"),
        (-12, "'-12' is a dash size: ask how many mm the tube of"),
        ("0 mm", "of '0 mm' is out of range: 3 mm to 200 mm"),
        ("-19 mm", "of '-19 mm' is out of range: 3 mm to 200 mm"),
        ("1000000 mm", "of '1000000 mm' is out of range: 3 mm to 200 mm"),
    ],
)
def test_a_tube_is_measured_or_named(form: str, size: object, words: str) -> None:
    with pytest.raises(ValidationError, match=re.escape(words)):
        End.model_validate({"name": "in", "form": form, "size": size, "sex": "male"})


@pytest.mark.parametrize(
    ("form", "size", "sound", "wider"),
    [
        ("spigot", "19 mm", "15.5 mm", "155 mm"),
        ("hose", "19 mm", "19 mm", "19.1 mm"),
        ("qc-coolant", "16 mm", "14 mm", "17 mm"),
        ("npt", "1/2", "13.5 mm", "1 in"),  # the thread measures 21.34 mm, published: ASME B1.20.1
        ("orb", "-12", "15.5 mm", "27.1 mm"),
    ],
)
def test_a_bore_is_no_wider_than_its_end(form: str, size: str, sound: str, wider: str) -> None:
    written = {"name": "in", "form": form, "size": size} | ({} if form in ("spigot", "hose") else {"sex": "female"})
    assert End.model_validate({**written, "bore": sound}).bore_m is not None
    with pytest.raises(ValidationError, match=f"a bore of {wider} is wider than its end"):
        End.model_validate({**written, "bore": wider})


def test_of_a_named_tube_any_bore_is_believed() -> None:
    assert End.model_validate({"name": "in", "form": "flange", "size": "form16", "bore": "60 mm"}).bore_m is not None


@pytest.mark.parametrize("size", ["form16", "4-bolt", "T 3"])
def test_the_size_of_a_maker_is_a_name(size: str) -> None:
    end = End.model_validate({"name": "in", "form": "flange", "size": size})
    assert (end.tube_m, end.profile_id) == (None, size)


def test_a_profile_tells_makers_apart() -> None:
    def flange(**keys: str) -> End:
        return End.model_validate({"name": "in", "form": "vband", **keys})

    by_tube = flange(size="3 in", profile="a")
    assert (by_tube.profile_id, by_tube.tube_m) == ("a", pytest.approx(0.0762))
    assert by_tube.identity == flange(size="76.2 mm", profile="a").identity
    assert by_tube.identity != flange(size="76.2 mm", profile="b").identity
    by_name = flange(size="form16")
    assert (by_name.profile_id, by_name.tube_m) == ("form16", None)
    assert flange(size="76 mm").profile_id is None
    with pytest.raises(ValidationError, match="has no profile"):
        End.model_validate({**HOSE_END, "profile": "a"})


@pytest.mark.parametrize("form", ["orb", "flare37", "npt", "g"])
def test_a_thread_needs_its_sex_and_a_hose_does_not(form: str) -> None:
    size = "-8" if form in {"orb", "flare37"} else "1/2"
    with pytest.raises(ValidationError, match="needs its sex"):
        End.model_validate({"name": "in", "form": form, "size": size})
    assert End.model_validate(HOSE_END).sex is None
