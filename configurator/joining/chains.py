"""The best chain through a shelf's adapters, exactly: the answer is that of trying all.

A run holds up to `MOST_ADAPTERS` adapters over both its ends. Fittings stacked on one port are a lever on it and
leak at each joint, so they are taken only where one adapter at each end does not do (common practice, no source).

First only *stops* are followed, piece by piece (what a chain ends in: tip, last bore, adapters so far, proven or
not), which tells how few pieces do. Then the chains with just so many pieces are built backwards from the stops that
the two ends can meet at. Of two chains with the same stop, one that is no better in loss either way, price or
ids can never be part of a better run and is dropped.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Final, NamedTuple

from configurator.joining.bore_steps import area_ratio, end_bore_m
from configurator.joining.links import Link, Links
from configurator.joining.run_ways import REFERENCE_DENSITY, REFERENCE_FLOW_M3_PER_S, Chain, HalfRun
from configurator.parts.ends import End
from configurator.parts.kinds import Hose

MOST_ADAPTERS: Final = 4
"""Adapters in one run at most, over both its ends."""

MOST_UNSTACKED: Final = 4
"""Pieces in a run with one adapter at each end at most: two adapters, each held by a stub."""

SUCTION_AREA_RATIO: Final = 0.80
"""Least area ratio of a step before the pump. Common practice, no source."""

Key = tuple[object, ...]


class _Stop(NamedTuple):
    """What a chain ends in: all that decides what may follow it."""

    tip: Key
    bore_m: float
    adapters: int
    unproven: bool


class _Meeting(NamedTuple):
    """Two stops from which one hose leads to the other, and the pieces that the first takes."""

    pieces_out: int
    out: _Stop
    into: _Stop
    hose: Hose
    unproven: bool

    @property
    def grade(self) -> tuple[bool, bool]:
        """Unproven or not, then stacked or not: less is better, before anything is counted."""
        return self.unproven, max(self.out.adapters, self.into.adapters) > 1


class _InHoses(NamedTuple):
    """A stop that goes into hoses, those hoses and their ids."""

    stop: _Stop
    hoses: tuple[Hose, ...]
    ids: frozenset[str]


class _Stops:
    """The stops of one end by number of pieces, each with those it is reached from; and which of them go into hoses."""

    def __init__(self, end: End) -> None:
        bore = end_bore_m(end)
        first = _Stop(end.identity, bore, 0, False)
        self.by_pieces: list[dict[_Stop, set[tuple[int, _Stop]]]] = [{first: set()}]
        bare = Chain(end, (), (), (), (bore,), (bore,), (), None, ())
        self.in_hoses: list[list[_InHoses]] = []
        self.ways: dict[tuple[int, _Stop, str], list[HalfRun]] = {}
        self.chains: dict[tuple[int, _Stop], list[Chain]] = {(0, first): [bare]}


class ChainFinder:
    """Finds runs among the pieces of a shelf that are allowed. What it found it keeps."""

    def __init__(
        self,
        links: Links,
        allowed: frozenset[str],
        *,
        suction: bool = False,
        clamped: bool = True,
        most: int = MOST_ADAPTERS,
        beaten_too: bool = False,
    ) -> None:
        """`allowed`: ids of hoses and adapters. `suction`: no step below `SUCTION_AREA_RATIO`. `clamped`: nothing
        that no clamp closes on. `most`: adapters at one end. `beaten_too`: keep what another chain beats, for
        those who look at every one.
        """
        self._links, self._allowed = links, allowed
        self._suction, self._clamped, self._most, self._beaten_too = suction, clamped, most, beaten_too
        self._tips: dict[Key, End] = {}
        self._after: dict[Key, tuple[Link, ...]] = {}
        self._next: dict[Key, tuple[tuple[Key, float, bool, int], ...]] = {}
        self._onto: dict[Key, tuple[Hose, ...]] = {}
        self._stops: dict[Key, _Stops] = {}
        self._friction: dict[str, float] = {}

    def best(self, start: End, finish: End, length_m: float) -> tuple[HalfRun, HalfRun] | None:
        """The best pair of ways over one hose [length in m], or None where there is none.

        Best: proven, adapters not stacked on one end, fewest pieces, least loss at the reference flow (to 1 Pa),
        price, ids.
        """
        found: dict[tuple[bool, bool], tuple[int, list[_Meeting]]] = {}
        for pieces in range(2 * MOST_ADAPTERS + 1):
            graded: dict[tuple[bool, bool], list[_Meeting]] = {}
            for meeting in self._meetings(start, finish, pieces):
                graded.setdefault(meeting.grade, []).append(meeting)
            found = {**{grade: (pieces, meetings) for grade, meetings in graded.items()}, **found}
            if (False, False) in found or (pieces >= MOST_UNSTACKED and (False, True) in found):
                break
        if not found:
            return None
        pieces, meetings = found[min(found)]
        pairs = [pair for at in meetings for pair in self._pairs_at(start, finish, pieces, at)]
        return min(pairs, key=lambda pair: self.order(pair[0], pair[1], length_m))

    def pairs(self, start: End, finish: End, pieces: int) -> Iterator[tuple[HalfRun, HalfRun]]:
        """Every pair of ways over one hose with that many pieces besides the hose."""
        for meeting in self._meetings(start, finish, pieces):
            yield from self._pairs_at(start, finish, pieces, meeting)

    def reach(self, end: End) -> dict[Hose, int]:
        """The hoses that an end can be brought into with one adapter to spare, and the fewest pieces."""
        found: dict[Hose, int] = {}
        for pieces in range(2 * (MOST_ADAPTERS - 1) + 1):
            for stop in self._stops_of(end, pieces).by_pieces[pieces]:
                if stop.adapters < MOST_ADAPTERS:
                    for hose in self._hoses_on(stop.tip):
                        found.setdefault(hose, pieces)
        return found

    def _pairs_at(self, start: End, finish: End, pieces: int, at: _Meeting) -> Iterator[tuple[HalfRun, HalfRun]]:
        outs = self._ways(start, at.pieces_out, at.out, at.hose)
        ins = self._ways(finish, pieces - at.pieces_out, at.into, at.hose)
        return ((out, into) for out in outs for into in ins)

    def order(self, out: HalfRun, into: HalfRun, length_m: float) -> tuple[object, ...]:
        """What tells runs of as many pieces apart: loss at the reference flow (to 1 Pa), price, ids."""
        hose = out.hose
        if hose.id not in self._friction:
            self._friction[hose.id] = out.friction_pa_per_m
        steps = REFERENCE_DENSITY / 2.0 * REFERENCE_FLOW_M3_PER_S**2 * (out.out_per_m4 + into.in_per_m4)
        loss = steps + self._friction[hose.id] * length_m
        price = out.price_cents + into.price_cents + round(hose.price_cents * length_m)
        return (round(loss), price, out.ids, hose.id, into.ids)

    def _meetings(self, start: End, finish: End, pieces: int) -> Iterator[_Meeting]:
        """Where the two ends can meet with that many pieces."""
        for of_start in range(pieces + 1):
            outs, ins = self._in_hoses(start, of_start), self._in_hoses(finish, pieces - of_start)
            for (out, _, over), (into, hoses, _) in product(outs, ins):
                if out.adapters + into.adapters > MOST_ADAPTERS or not self._passes(out.bore_m, into.bore_m):
                    continue
                for hose in hoses:
                    if hose.id in over:
                        unknown = out.unproven or into.unproven or hose.working_pa_gauge is None
                        yield _Meeting(of_start, out, into, hose, unknown)

    def _in_hoses(self, end: End, pieces: int) -> list[_InHoses]:
        """The stops of an end with that many pieces that go into hoses."""
        stops = self._stops_of(end, pieces)
        for level in stops.by_pieces[len(stops.in_hoses) : pieces + 1]:
            held = ((stop, self._hoses_on(stop.tip)) for stop in level)
            stops.in_hoses.append(
                [_InHoses(stop, hoses, frozenset(hose.id for hose in hoses)) for stop, hoses in held if hoses]
            )
        return stops.in_hoses[pieces]

    def _stops_of(self, end: End, pieces: int) -> _Stops:
        """The stops of an end with up to that many pieces: from those with one (thread) or two (stub) fewer."""
        key = (*end.identity, end.bore_m)
        if key not in self._stops:
            self._tips.setdefault(end.identity, end)
            self._stops[key] = _Stops(end)
        stops = self._stops[key]
        levels = stops.by_pieces
        while len(levels) <= pieces:
            at, level = len(levels), dict[_Stop, set[tuple[int, _Stop]]]()
            for before in (at - 1, at - 2):
                for stop in levels[before] if before >= 0 else ():
                    if stop.adapters == self._most:
                        continue
                    for tip, bore, unproven, added in self._next_of(stop.tip):
                        if added == at - before and self._passes(stop.bore_m, bore):
                            reached = _Stop(tip, bore, stop.adapters + 1, stop.unproven or unproven)
                            level.setdefault(reached, set()).add((before, stop))
            levels.append(level)
        return stops

    def _next_of(self, tip: Key) -> tuple[tuple[Key, float, bool, int], ...]:
        """What may follow a tip, without telling links apart that lead to the same."""
        if tip not in self._next:
            found: dict[tuple[Key, float, bool, int], None] = {}
            for link in self._links_of(tip):
                self._tips.setdefault(link.far.identity, link.far)
                found[link.far.identity, link.bore_m, link.unproven, link.pieces] = None
            self._next[tip] = tuple(found)
        return self._next[tip]

    def _links_of(self, tip: Key) -> tuple[Link, ...]:
        if tip not in self._after:
            self._after[tip] = tuple(
                link
                for link in self._links.after(self._tips[tip])
                if link.adapter.id in self._allowed
                and (link.stub is None or link.stub.id in self._allowed)
                and not (self._clamped and None in link.clamps)
            )
        return self._after[tip]

    def _hoses_on(self, tip: Key) -> tuple[Hose, ...]:
        """The hoses that hold on a tip, and have a clamp there where that is asked for."""
        if tip not in self._onto:
            spigot = self._tips[tip]
            self._onto[tip] = tuple(
                hose
                for hose in self._links.hoses_on(spigot)
                if hose.id in self._allowed
                and not (self._clamped and self._links.clamp_for(spigot, hose)[1] is None)
            )
        return self._onto[tip]

    def _ways(self, end: End, pieces: int, stop: _Stop, hose: Hose) -> list[HalfRun]:
        """The ways of an end to one of its stops and into a hose."""
        stops, key = self._stops[*end.identity, end.bore_m], (pieces, stop, hose.id)
        if key not in stops.ways:
            od, clamp = self._links.clamp_for(self._tips[stop.tip], hose)
            stops.ways[key] = [
                HalfRun(chain, hose, clamp, chain.bare_od_m if clamp is not None else od)
                for chain in self._chains(stops, pieces, stop)
            ]
        return stops.ways[key]

    def _chains(self, stops: _Stops, pieces: int, stop: _Stop) -> list[Chain]:
        """The chains of that many pieces to a stop that no other beats."""
        if (pieces, stop) not in stops.chains:
            found: list[Chain] = []
            for before, earlier in sorted(stops.by_pieces[pieces][stop]):
                links = [
                    link
                    for link in self._links_of(earlier.tip)
                    if (link.far.identity, link.bore_m, link.pieces) == (stop.tip, stop.bore_m, pieces - before)
                    and (earlier.unproven or link.unproven) == stop.unproven
                ]
                found += [_add(chain, link) for chain in self._chains(stops, before, earlier) for link in links]
            stops.chains[pieces, stop] = found if self._beaten_too else _unbeaten(found)
        return stops.chains[pieces, stop]

    def _passes(self, one_bore_m: float, other_bore_m: float) -> bool:
        return not self._suction or area_ratio(one_bore_m, other_bore_m) >= SUCTION_AREA_RATIO


def _add(chain: Chain, link: Link) -> Chain:
    """The chain with one link more."""
    stub = link.stub
    bare = next((od for od, clamp in zip(link.od_m, link.clamps, strict=True) if clamp is None), chain.bare_od_m)
    return Chain(
        tip=link.far,
        adapters=(*chain.adapters, link.adapter),
        stubs=chain.stubs if stub is None else (*chain.stubs, stub),
        ids=(*chain.ids, link.adapter.id, *(() if stub is None else (stub.id,))),
        bores_m=(*chain.bores_m, *(() if stub is None else (float(stub.bore_m),)), link.bore_m),
        fitting_bores_m=(*chain.fitting_bores_m, link.bore_m),
        clamps=(*chain.clamps, *(clamp for clamp in link.clamps if clamp is not None)),
        bare_od_m=bare,
        needs=(*chain.needs, *link.needs),
        cautions=(*chain.cautions, *link.cautions),
        clamped_m=(
            *chain.clamped_m,
            *(od for od, clamp in zip(link.od_m, link.clamps, strict=True) if clamp is not None),
        ),
    )


def _unbeaten(found: list[Chain]) -> list[Chain]:
    """Those that no other with the same stop beats or equals in everything."""
    kept: list[Chain] = []
    for chain in sorted(found, key=lambda chain: chain.ids):
        if not any(_beats(rival, chain) for rival in kept):
            kept.append(chain)
    return kept


def _beats(rival: Chain, chain: Chain) -> bool:
    """Whether a rival whose ids come first is no worse in loss either way and in price."""
    return (
        rival.elbow == chain.elbow
        and rival.price_cents <= chain.price_cents
        and rival.out_per_m4 + rival.turns_per_m4 <= chain.out_per_m4 + chain.turns_per_m4
        and rival.in_per_m4 + rival.turns_per_m4 <= chain.in_per_m4 + chain.turns_per_m4
    )
