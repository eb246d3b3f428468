"""The adapter that is missing where nothing on the shelf brings two ends together: the one thing to buy."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Final

from configurator.foundations.verdicts import Verdict
from configurator.joining.bore_steps import end_bore_m
from configurator.joining.sleeve_mating import sleeve_fit
from configurator.joining.words import end_words
from configurator.parts.ends import End
from configurator.parts.kinds import Hose

OTHER_SEX: Final = {"male": "female", "female": "male"}
OTHER_FORM: Final = {"r": "rc", "rc": "r", "rp": "r"}
"""Taper threads whose form says their sex: the form that goes with each."""


@dataclass(frozen=True)
class MissingAdapter:
    """An adapter to buy, by its two ends."""

    near: End
    far: End

    @property
    def text(self) -> str:
        """The adapter in a customer's words."""
        return f"an adapter from {_words(self.near)} to {_words(self.far)}"

    @property
    def codes(self) -> tuple[str, str]:
        """Both ends as `form:size:sex`, as ends are written on the command line."""
        return end_code(self.near), end_code(self.far)


@dataclass(frozen=True)
class EndsApart(Verdict):
    """Two ends that nothing on the shelf brings together, and what would: one adapter, or one for each end.

    `missing` is empty where no adapter would help, as on a spigot without bead or barb.
    """

    missing: tuple[MissingAdapter, ...] = ()


def end_code(end: End) -> str:
    """An end as it is written on the command line: `orb:-12:male`, `spigot:19mm:barb`."""
    size = end.size if end.size_m is None else f"{end.size_m * 1000:g}mm"
    held = "bead" if end.bead else "barb" if end.barb else "plain"
    last = held if end.form == "spigot" else end.sex
    return ":".join(word for word in (end.form, size, last) if word)


def missing_adapters(
    start: End, finish: End, reach: Mapping[str, Mapping[Hose, int]], hoses: Collection[Hose]
) -> tuple[MissingAdapter, ...]:
    """What to buy so that two ends meet over a hose of the shelf: the fewest pieces, then the nearest bore.

    `reach`: for "start" and "finish" the hoses that the end can be brought into, with the pieces it takes.
    Where neither end reaches any hose, one adapter for each; where an end takes no adapter at all, none.
    """
    ends = {"start": start, "finish": finish}
    near = {side: _near(end, hoses) for side, end in ends.items()}
    one = [
        (pieces + (2 if end.form == "spigot" else 1), _bore_apart(hose, end), float(hose.bore_m), side)
        for side, other in (("start", "finish"), ("finish", "start"))
        if (end := near[side]) is not None
        for hose, pieces in reach[other].items()
    ]
    if one:
        *_, bore, side = min(one)
        end = near[side]
        assert end is not None
        return (MissingAdapter(end, _barb(bore)),)
    a, b = near["start"], near["finish"]
    if a is None or b is None or not hoses:
        return ()
    both = min((_bore_apart(hose, a) + _bore_apart(hose, b), float(hose.bore_m)) for hose in hoses)
    return (MissingAdapter(a, _barb(both[1])), MissingAdapter(b, _barb(both[1])))


def _near(end: End, hoses: Collection[Hose]) -> End | None:
    """The adapter's end that meets this one: the other sex of a thread, a spigot or a sleeve for a spigot."""
    if end.form == "spigot":
        size = end.size_m or 0.0
        if any(sleeve_fit("hose", size, float(hose.bore_m)) == "direct" for hose in hoses):
            return _barb(size) if end.bead or end.barb else None
        return End.model_validate({"name": "near", "form": "hose", "size": f"{size * 1000:g} mm"})
    if end.form in OTHER_FORM:
        return End.model_validate({"name": "near", "form": OTHER_FORM[end.form], "size": end.size})
    if end.sex is None or end.form == "unknown":
        return None
    written = {"name": "near", "form": end.form, "size": end.size, "sex": OTHER_SEX[end.sex]}
    return End.model_validate(written if end.profile is None else {**written, "profile": end.profile})


def _barb(bore_m: float) -> End:
    return End.model_validate({"name": "hose", "form": "spigot", "size": f"{bore_m * 1000:g} mm", "barb": True})


def _bore_apart(hose: Hose, end: End) -> float:
    """How far [m] the barb for a hose is from an end's through-bore, to a micrometre; 0 where nobody knows that."""
    if end_bore_m(end) == 0.0:
        return 0.0
    return round(abs(end_bore_m(_barb(float(hose.bore_m))) - end_bore_m(end)), 6)


def _words(end: End) -> str:
    return f"{(end.size_m or 0.0) * 1000:g} mm barb" if end.form == "spigot" else end_words(end)
