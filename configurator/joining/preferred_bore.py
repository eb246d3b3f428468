"""A loop in hose of one bore, as far as its ends take it: what has no such run keeps the best one there is."""

from __future__ import annotations

from collections.abc import Iterable

from configurator.foundations.verdicts import Verdict
from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.run_refusal import RunConditions
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Clamp, Hose
from configurator.parts.kit import Joint


class PreferredBore(HoseJoiner):
    """Joins with the hoses given first; where they make no proven run, with all hoses, as ever."""

    def __init__(
        self,
        first: Iterable[Hose],
        hoses: Iterable[Hose],
        adapters: Iterable[Adapter],
        clamps: Iterable[Clamp],
    ) -> None:
        """`first`: hoses of the bore that is preferred, among `hoses`."""
        adapters, clamps = tuple(adapters), tuple(clamps)
        super().__init__(hoses, adapters, clamps)
        self._first = HoseJoiner(first, adapters, clamps)

    def join(
        self, start: tuple[str, End], finish: tuple[str, End], length_m: float, conditions: RunConditions
    ) -> Joint | Verdict:
        """The best run in the preferred bore, else the best run; see `HoseJoiner.join`."""
        made = self._first.join(start, finish, length_m, conditions)
        if isinstance(made, Joint) and all(member.working_pa_gauge is not None for member in made.members):
            return made
        return super().join(start, finish, length_m, conditions)
