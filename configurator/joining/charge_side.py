"""One side of the charge, before the cores or behind them: pipe to pipe, or one pipe with two through the best wye."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from configurator.foundations.verdicts import Verdict
from configurator.joining.bore_steps import pipe_bore_m
from configurator.joining.charge_joint import ChargeConditions, ChargeJoiner
from configurator.joining.words import bars_apart, celsius_words, end_words, mm_words
from configurator.joining.wyes import with_wye
from configurator.parts.ends import End
from configurator.parts.kinds import Wye
from configurator.parts.kit import Joint, path_per_m4

Place = tuple[str, End]
Joints = tuple[Joint, ...]


class ChargeSideJoiner:
    """Joins the pipe ends of one side of the charge."""

    def __init__(self, joiners: Sequence[ChargeJoiner], wyes: Iterable[Wye]) -> None:
        """`joiners`: each joint is made by the first that can. Of the wyes only those for charge air count."""
        self._joiners = tuple(joiners)
        self._wyes = tuple(wye for wye in wyes if wye.medium == "charge")

    def join(
        self, starts: Sequence[Place], finishes: Sequence[Place], conditions: ChargeConditions, wye_slot: str
    ) -> tuple[Joint | Verdict, ...]:
        """The joints of one side in flow order; a broken rule where one cannot be made.

        As many ends on both sides are joined in pairs. One and two meet through a wye, which goes by `wye_slot`: a
        coupler on each of its three ends. The best wye: proven, least loss on the whole charge, price, id; found by
        trying all (each takes as many pieces as any other). Every branch carries half of the charge.
        """
        if len(starts) == len(finishes):
            pairs = zip(starts, finishes, strict=True)
            return tuple(_with_share(self._one(*pair, conditions), 1 / len(starts)) for pair in pairs)
        found = []
        for wye in self._wyes:
            if _short_of(wye, conditions) is None:
                joints = self._through(wye, starts, finishes, conditions, wye_slot)
                if joints is not None:
                    found.append((_order(wye, joints), joints))
        if found:
            return min(found, key=lambda entry: entry[0])[1]
        return (self._refusal(starts, finishes, conditions, wye_slot),)

    def judged(
        self, wye: Wye, starts: Sequence[Place], finishes: Sequence[Place], conditions: ChargeConditions, wye_slot: str
    ) -> Verdict | None:
        """Whether a wye serves a side: kept, what it does not stand, or the end of it that no coupler joins.

        None where the side takes no wye, as it has as many ends before it as behind.
        """
        if len(starts) == len(finishes) or wye.medium != "charge":
            return None
        trunk, branches = self._made(wye, starts, finishes, conditions, wye_slot)
        before, behind = (" and ".join(dict.fromkeys(slot for slot, _ in ends)) for ends in (starts, finishes))
        place = f"{before} to {behind}"
        for made in (trunk, *branches):
            if isinstance(made, Verdict):
                return Verdict("ends-do-not-meet", "broken", (wye.id, place), text=f"{place}: {made.text}")
        short = _short_of(wye, conditions)
        if short is None:
            return Verdict("charge-joint", "kept", (wye.id, place))
        return replace(short, subjects=(wye.id, place), text=f"{place}: {short.text}")

    def _one(self, start: Place, finish: Place, conditions: ChargeConditions) -> Joint | Verdict:
        """One joint by the first joiner that can make it, else what the last of them says."""
        made = self._joiners[0].join(start, finish, conditions)
        for joiner in self._joiners[1:]:
            if isinstance(made, Joint):
                break
            made = joiner.join(start, finish, conditions)
        return made

    def _through(
        self,
        wye: Wye,
        starts: Sequence[Place],
        finishes: Sequence[Place],
        conditions: ChargeConditions,
        wye_slot: str,
    ) -> Joints | None:
        """Trunk and branches through one wye; None where a coupler is missing."""
        divides = len(starts) == 1
        trunk, made = self._made(wye, starts, finishes, conditions, wye_slot)
        halves = tuple(replace(joint, share=0.5) for joint in made if isinstance(joint, Joint))
        if isinstance(trunk, Verdict) or len(halves) < len(made):
            return None
        whole = with_wye(trunk, wye, stem_bore_m=pipe_bore_m(wye.stem), at_end=divides)
        return (whole, *halves) if divides else (*halves, whole)

    def _made(
        self,
        wye: Wye,
        starts: Sequence[Place],
        finishes: Sequence[Place],
        conditions: ChargeConditions,
        wye_slot: str,
    ) -> tuple[Joint | Verdict, list[Joint | Verdict]]:
        """Trunk and branches through one wye, as far as couplers go."""
        divides = len(starts) == 1
        stem, branches = (wye_slot, wye.stem), [(wye_slot, end) for end in wye.branches]
        ends = zip(branches, finishes, strict=True) if divides else zip(starts, branches, strict=True)
        made = [self._one(*pair, conditions) for pair in ends]
        return self._one(starts[0], stem, conditions) if divides else self._one(stem, finishes[0], conditions), made

    def _refusal(
        self, starts: Sequence[Place], finishes: Sequence[Place], conditions: ChargeConditions, wye_slot: str
    ) -> Verdict:
        """What is wrong with a wye that would join; else the wye to buy; else the coupler that is missing as well."""
        names = tuple(f"{slot}.{end.name}" for slot, end in (starts[0], finishes[0]))
        for wye in self._wyes:
            short = _short_of(wye, conditions)
            if short is not None and self._through(wye, starts, finishes, conditions, wye_slot) is not None:
                return replace(short, subjects=names)
        divides = len(starts) == 1
        trunk, branches = (starts, finishes) if divides else (finishes, starts)
        sizes = []
        for pipes, flows_in in ((trunk, divides), (branches, not divides)):
            size = self._size_for(pipes, conditions, wye_slot, flows_in=flows_in)
            if isinstance(size, Verdict):
                return replace(size, subjects=names)
            sizes.append(size)
        one, two = (end_words(pipes[0][1]) for pipes in (trunk, branches))
        text = (
            f"no charge wye on the shelf brings {one} and two of {two} together; missing: a charge wye (Y-piece) of "
            f"{mm_words(sizes[0])} stem and two {mm_words(sizes[1])} branches"
        )
        return Verdict("ends-do-not-meet", "broken", names, two, one, "", text)

    def _size_for(
        self, pipes: Sequence[Place], conditions: ChargeConditions, wye_slot: str, *, flows_in: bool
    ) -> float | Verdict:
        """The outside diameter [m] of a wye's end that couplers join to all these pipes, the nearest to theirs.

        Where there is none, what keeps an end of their own size from being joined.
        """
        own = pipes[0][1].size_m or 0.0
        sold = {size for joiner in self._joiners for size in joiner.sizes_m}
        refused: list[Verdict] = []
        for size in sorted({own, *sold}, key=lambda size: (abs(size - own), size)):
            written = {"name": "end", "form": "spigot", "size": mm_words(size), "bead": True}
            end = (wye_slot, End.model_validate(written))
            made = [self._one(*((pipe, end) if flows_in else (end, pipe)), conditions) for pipe in pipes]
            verdicts = [joint for joint in made if isinstance(joint, Verdict)]
            if not verdicts:
                return size
            refused += verdicts
        return refused[0]


def _with_share(made: Joint | Verdict, share: float) -> Joint | Verdict:
    return made if isinstance(made, Verdict) or share == 1.0 else replace(made, share=share)


def _short_of(wye: Wye, conditions: ChargeConditions) -> Verdict | None:
    """What a wye does not stand; where it says nothing it is unproven, not out."""
    passage, rated = wye.through, wye.through.rating.working_pa_gauge
    if passage.hottest_k is not None and passage.hottest_k < conditions.hottest_k:
        stands, sees = celsius_words(passage.hottest_k), celsius_words(conditions.hottest_k)
        text = f"'{wye.id}' stands {stands}, the charge is {sees}"
        return Verdict("too-hot", "broken", (), conditions.hottest_k, float(passage.hottest_k), "K", text)
    if rated is not None and rated < conditions.design_pa_gauge:
        design = conditions.design_pa_gauge
        holds, sees = bars_apart(rated, design)
        text = f"'{wye.id}' is good for {holds}, the charge pipe may see {sees}"
        return Verdict("rating-below-pressure", "broken", (), rated, design, "Pa", text)
    return None


def _order(wye: Wye, joints: Joints) -> tuple[object, ...]:
    members = [member for joint in joints for member in joint.members]
    unproven = any(member.working_pa_gauge is None or member.hottest_k is None for member in members)
    return (unproven, round(path_per_m4(joints)), sum(joint.price_cents for joint in joints), wye.id)
