"""Threads that nearly fit each other among the parts of one kit or one box."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from configurator.joining.mating import mate
from configurator.joining.mating_verdict import Mating
from configurator.joining.words import end_words
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Hose, Part, RigidPart
from configurator.parts.kit import Joint
from configurator.questions.whole_bill import Made
from configurator.standards.threads import THREADS


@dataclass(frozen=True)
class LookAlike:
    """Two ends of the box that seem to fit each other and must not be joined.

    `trap`: the first is a piece that no joint of the loop wants, so that it can only go wrong.
    """

    part: str
    end: str
    other: str
    other_end: str
    why: str
    hazard: str
    trap: bool


def nearly_fits(a: End, b: End) -> Mating | None:
    """The verdict on two threaded ends that go together and must not; None where they do not, or may."""
    if a.form not in THREADS or b.form not in THREADS or a.gender == b.gender:
        return None
    mating = mate(a, b, medium="coolant")
    if mating.rule == "npt-against-bsp" and a.size != b.size:
        return None  # of another nominal size neither begins to enter the other, or it drops right through
    return mating if mating.verdict == "refuse" else None


def threaded_ends(part: Part) -> tuple[End, ...]:
    """Every threaded end of a part, whatever flows through it."""
    if isinstance(part, Adapter):
        ends = part.through.ends
    elif isinstance(part, RigidPart):
        ends = tuple(end for passage in part.passages().values() for end in passage.ends)
    else:
        ends = ()
    return tuple(end for end in ends if end.form in THREADS)


def look_alikes_of_pieces(made: Made, part_of: Callable[[str], Part]) -> Iterator[tuple[Part, str, Mating]]:
    """Adapters of a kit's joints and the ends of its parts that each nearly fits; told once for each kind of end."""
    pieces = sorted({piece for joint in made.joints for piece in joint.through})
    for piece in map(part_of, pieces):
        yield from near_ends(piece, made.flow)


def near_ends(piece: Part, flow: Iterable[tuple[str, RigidPart]]) -> Iterator[tuple[Part, str, Mating]]:
    """The ends of a loop's parts that a piece nearly fits, each kind of end at each slot once."""
    told = set()
    for slot, part in flow:
        for end in threaded_ends(part):
            for own in threaded_ends(piece):
                mating = nearly_fits(own, end)
                key = (slot, own.identity, end.identity)
                if mating is not None and key not in told:
                    told.add(key)
                    yield piece, f"{slot}.{end.name} ({end_words(end)})", mating


def look_alikes_in_box(
    slots: Sequence[tuple[str, Part]], small: Sequence[Part], joints: Sequence[Joint], *, ends_known: bool
) -> tuple[LookAlike, ...]:
    """Pairs of ends in a box that seem to fit and must not be joined; loose pieces first, each pair once.

    A loose piece that no joint wants and that seems to fit a part of the loop is a trap: there is nothing right that
    it could be used for here. Unless it is known what every end is (`ends_known`) nobody can say that.
    """
    wanted = {piece for joint in joints for piece in (*joint.through, joint.hose)}
    loose = [*small, *(part for _, part in slots)]
    found: dict[tuple[object, ...], LookAlike] = {}
    for place, part in enumerate(loose):
        for other in loose[place + 1 :]:
            for own, end in product(_ends(part), _ends(other)):
                mating = _seems_to_fit(own, end)
                key = (part.id, own.identity, other.id, end.identity)
                if mating is None or part.id == other.id or key in found:
                    continue
                on_part = not isinstance(part, RigidPart) and isinstance(other, RigidPart)
                trap = ends_known and on_part and part.id not in wanted
                found[key] = LookAlike(
                    part.id, end_words(own), other.id, end_words(end), mating.why, mating.hazard, trap
                )
    return tuple(found.values())


def _ends(part: Part) -> tuple[End, ...]:
    """All ends of a part; a hose counts by its bore."""
    if isinstance(part, Hose):
        size = f"{float(part.bore_m) * 1000:g} mm"
        return (End.model_validate({"name": "hose", "form": "hose", "size": size}),)
    if isinstance(part, RigidPart):
        return tuple(end for passage in part.passages().values() for end in passage.ends)
    return part.through.ends if isinstance(part, Adapter) else ()


def _seems_to_fit(a: End, b: End) -> Mating | None:
    """The verdict on two threads, or on a hose and a spigot, that go together and must not."""
    if {a.form, b.form} == {"hose", "spigot"}:
        mating = mate(a, b, medium="coolant")
        return mating if mating.verdict == "refuse" else None
    return nearly_fits(a, b)
