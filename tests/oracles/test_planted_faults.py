"""Faults put into the search on purpose: the comparison with trying everything finds each of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from configurator.fitting import kit_fit, why_not
from configurator.joining import charge_joint, charge_side, run_refusal
from configurator.prediction import bench
from configurator.questions import searches
from configurator.questions import suggest as question
from configurator.ranking.order import default_key
from configurator.search import fill, needs, sieve, skeletons
from tests.oracles.comparison import SEEDS, answer, differences, judged, shelf, short_list

Patch = pytest.MonkeyPatch


def _bound_too_tight(patch: Patch) -> None:
    """The aim is only met where the margin is above 1 % of the aim's distance from the outside air."""
    real = fill._missed_by_loop

    def tighter(job, pump, margin, loss):
        one_percent = 0.01 * (job.conditions.ceiling_k - job.conditions.ambient_k)
        return real(job, pump, margin - one_percent, loss)

    patch.setattr(fill, "_missed_by_loop", tighter)


def _tie_dropped(patch: Patch) -> None:
    """Of kits that only their ids tell apart, the first alone is kept."""
    real = question.ranked

    def without_ties(kits, order, enough_k):
        first = {}
        for kit in real(kits, order, enough_k):
            first.setdefault(default_key(kit, enough_k)[:-1], kit)
        return list(first.values())

    patch.setattr(question, "ranked", without_ties)


def _more_flow_taken_for_better(patch: Patch) -> None:
    """Of pumps that join alike, the one of the largest free flow alone is kept."""
    real = skeletons.interface_classes

    def strongest(kind, parts, zones, *makes):
        found = real(kind, parts, zones, *makes)
        if kind != "pump":
            return found
        return {
            name: replace(known, members=(max(known.members, key=lambda pump: pump.curve[-1].flow_m3_per_s),))
            for name, known in found.items()
        }

    patch.setattr(skeletons, "interface_classes", strongest)


def _adapter_lost(patch: Patch) -> None:
    """The last coolant adapter of the shelf is never looked at."""
    real = searches.HoseJoiner
    patch.setattr(searches, "HoseJoiner", lambda hoses, adapters, clamps: real(hoses, adapters[:-1], clamps))


def _plain_hose_before_the_pump(patch: Patch) -> None:
    """Any wide hose is taken to stand the pump's suction."""
    patch.setattr(run_refusal, "stands_vacuum", lambda hose: True)


def _wye_for_nothing(patch: Patch) -> None:
    """The wye of two outlets is neither paid for nor weighed, and takes no pressure."""
    patch.setattr(charge_side, "with_wye", lambda trunk, wye, *, stem_bore_m, at_end: trunk)


def _clamp_short(patch: Patch) -> None:
    """A charge joint is made with one clamp where it needs two."""
    real = charge_joint._joint

    def short(sleeve, *rest):
        return real(replace(sleeve, clamped=sleeve.clamped[:1]), *rest)

    patch.setattr(charge_joint, "_joint", short)


def _branches_whole(patch: Patch) -> None:
    """Each of two branches is taken to carry all of the charge."""
    patch.setattr(bench, "path_per_m4", lambda joints: sum(joint.loss_per_m4 for joint in joints))


def _boiling_forgotten(patch: Patch) -> None:
    """The coolant is taken for liquid under any cap."""
    real = fill.boil_margin_k
    patch.setattr(fill, "boil_margin_k", lambda *told: max(real(*told), 0.0))


def _without(need: str) -> Callable[[Patch], None]:
    """What a part needs of one sort in its zone is never looked at."""
    nothing = {"reaches": (), "heights": None}[need]

    def fault(patch: Patch) -> None:
        real = needs._needs_of
        patch.setattr(needs, "_needs_of", lambda *asked: replace(real(*asked), **{need: nothing}))

    fault.__name__ = f"_{need}_ignored"
    return fault


def _sides_to_face_ignored(patch: Patch) -> None:
    """Ends may look anywhere, whatever their zone asks."""
    for room in (needs, sieve):
        patch.setattr(room, "faces_used", lambda part: ())


def _tight_runs_never_tried(patch: Patch) -> None:
    """A zone that is too full for the best runs is taken for full."""
    real = skeletons.SkeletonMaker._but_for_cap
    patch.setattr(
        skeletons.SkeletonMaker,
        "_but_for_cap",
        lambda maker, alike: [replace(made, tight=made.runs) for made in real(maker, alike)],
    )


def _way_in_ignored(patch: Patch) -> None:
    """Parts come into a zone whatever its opening."""
    patch.setattr(why_not, "goes_through", lambda *asked: 0)


def _surfaces_between_zones_ignored(patch: Patch) -> None:
    """Heights are looked at within each zone, and not from one to another."""
    patch.setattr(kit_fit._Levels, "levelled", lambda levels: levels.fits)


class _OneShort(list):
    def __getitem__(self, at):
        return super().__getitem__(slice(at.start, at.stop - 1) if isinstance(at, slice) else at)


def _one_too_few(patch: Patch) -> None:
    """The short list ends one before the number asked for."""
    real = question.one_per_choice
    patch.setattr(question, "one_per_choice", lambda kits: _OneShort(real(kits)))


FAULTS: tuple[tuple[Callable[[Patch], None], bool, int], ...] = (
    (_bound_too_tight, True, 666),
    (_tie_dropped, True, 24),
    (_more_flow_taken_for_better, True, 347),
    (_adapter_lost, True, 51),
    (_plain_hose_before_the_pump, True, 120),
    (_wye_for_nothing, True, 10),
    (_clamp_short, True, 10),
    (_branches_whole, True, 10),
    (_boiling_forgotten, True, 1010),
    (_without("reaches"), True, 14),
    (_without("heights"), True, 34),
    (_sides_to_face_ignored, True, 43),
    (_tight_runs_never_tried, True, 10),
    (_way_in_ignored, True, 188),
    (_surfaces_between_zones_ignored, True, 39),
    (_one_too_few, False, 14),
)
"""Each fault, whether all variants are asked for, and a shelf that shows it: asked first, the rest only if it is
silent, as it may be once shelves are drawn otherwise."""


@pytest.mark.parametrize(
    ("fault", "all_variants", "shown_on"), FAULTS, ids=[fault.__name__.strip("_") for fault, _, _ in FAULTS]
)
def test_a_planted_fault_is_found(
    fault: Callable[[Patch], None], all_variants: bool, shown_on: int, monkeypatch: Patch
) -> None:
    fault(monkeypatch)
    top = 10**9 if all_variants else 3
    for seed in (shown_on, *SEEDS):
        wanted = judged(seed) if all_variants else short_list(judged(seed), top)
        if differences(wanted, answer(shelf(seed), all_variants=all_variants, top=top)):
            return
    pytest.fail(f"no shelf shows the fault {fault.__name__}")
