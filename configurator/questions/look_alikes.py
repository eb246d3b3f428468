"""Threads that nearly fit each other among the parts of one kit or one box."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from configurator.joining.mating import mate
from configurator.joining.mating_verdict import Mating
from configurator.joining.words import end_words
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Part, RigidPart
from configurator.questions.whole_bill import Made
from configurator.standards.threads import THREADS


def nearly_fits(a: End, b: End) -> Mating | None:
    """The verdict on two threaded ends that go together and must not; None where they do not, or may."""
    if a.form not in THREADS or b.form not in THREADS or a.sex == b.sex:
        return None
    mating = mate(a, b, medium="coolant")
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
