"""An answer in the terminal: first a sentence for the customer, then a short table, then what it rests on."""

from __future__ import annotations

import shutil
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import replace

from rich.console import Console
from rich.table import Table
from rich.text import Text

from configurator.presentation.facts import AnswerFacts, KitFacts
from configurator.presentation.layout_words import STAYS
from configurator.presentation.lines import WIDTH, hung, listed, wrapped
from configurator.presentation.ways_facts import OWN_UNUSED, WANTED_OUT

OF_THE_CLOSEST = " of the closest"
BAND = "In brackets the charge with every uncertain figure of the kit at its good end, and at its bad end."
MARKS = "Marks are among these kits, coolest by its bad end."
KEY = {"bring": "bring: not in the price, bring it yourself", "yours": "yours: you have it"}
"""What stands in a bill in the place of a price."""


def terminal_lines(
    facts: AnswerFacts,
    next_command: str,
    *,
    wide: bool,
    kit: int = 1,
    one_change: Sequence[str] = (),
    proof: tuple[str, Sequence[str]] = ("", ()),
) -> str:
    """The whole screen as text without colour; `wide` adds the bill, joints and every exclusion.

    `kit`: the rank of that whose parts and figures are told. `one_change`: what one change buys, as blocks; they stand
    behind the table of kits. `proof`: why nothing better was missed, a title and a line each.
    """
    width = max(WIDTH, shutil.get_terminal_size((WIDTH, 24)).columns) if wide else WIDTH
    blocks = [*_blocks(facts, next_command, width, wide, kit, one_change, proof)]
    return "\n\n".join(block.rstrip() for block in blocks if block.strip()) + "\n"


def _blocks(
    facts: AnswerFacts,
    next_command: str,
    width: int,
    wide: bool,
    rank: int,
    one_change: Sequence[str],
    proof: tuple[str, Sequence[str]],
) -> Iterator[str]:
    yield wrapped(facts.before, width)
    yield wrapped(facts.sentence, width)
    yield wrapped(facts.why_none, width)
    yield listed(WANTED_OUT, facts.wanted_out, width)
    yield listed(OWN_UNUSED, facts.own_unused, width)
    yield listed(*facts.ways_out, width)
    shown = facts.kits
    if facts.kits:
        yield _table(shown, width)
        marks = (MARKS,) if any(kit.marks for kit in shown[1:]) else ()
        yield wrapped(" ".join((*_band_told(shown), *marks, *facts.which)), width)
        yield from one_change
        for told in facts.kits[rank - 1 : rank]:
            yield _kit_block(told, width)
            if wide:
                yield listed(f"Joints of kit {told.rank}", told.joints, width)
                yield bill_block(f"Bill of kit {told.rank}", told.lines, width, told.price, told.notes)
    if facts.closest and (wide or not facts.kits):
        shown = (*shown, *(replace(kit, rank=f"{kit.rank}{OF_THE_CLOSEST}") for kit in facts.closest))
        yield "Closest, but each misses something the brief asks:\n" + _table(facts.closest, width, missed=True)
        if not facts.kits:
            yield wrapped(" ".join(_band_told(facts.closest)), width)
    if not facts.kits:
        yield from one_change
    yield listed("Measure these first", facts.sizes_to_measure, width)
    yield listed("Assumed, where the brief is silent", facts.assumed, width)
    yield listed("Not checked yet", facts.not_checked, width)
    several = "" if len(shown) < 2 else ", of every kit above where none is named"
    yield listed(f"Cautions{several}", (*cautions_of(shown), *facts.cautions), width)
    yield listed("Parts left out, commonest causes", facts.causes, width)
    if wide:
        yield listed("Parts left out, one by one", facts.exclusions, width)
    yield listed(*proof, width)
    yield wrapped(facts.counted + ".", width)
    yield f"Next: {next_command}"


def _band_told(kits: Sequence[KitFacts]) -> tuple[str, ...]:
    """What stands in the brackets of the table, where it has them."""
    return () if any(kit.restart for kit in kits) else (BAND,)


def cautions_of(shown: Sequence[KitFacts]) -> list[str]:
    """The cautions of single kits, each with the kits that it is of; without them where it is of every kit shown."""
    belong: dict[str, list[str]] = {}
    for kit in shown:
        for text in kit.cautions:
            belong.setdefault(text, []).append(kit.rank)
    return [text if len(of) == len(shown) else f"{_kits(of)}: {text}" for text, of in belong.items()]


def _kits(ranks: Sequence[str]) -> str:
    """`Kit 1, 3 and 1 of the closest`."""
    near = [rank.removesuffix(OF_THE_CLOSEST) for rank in ranks if rank.endswith(OF_THE_CLOSEST)]
    plain = [rank for rank in ranks if not rank.endswith(OF_THE_CLOSEST)]
    listed_near = [f"{', '.join(near)}{OF_THE_CLOSEST}"] if near else []
    return "Kit " + " and ".join([*([", ".join(plain)] if plain else []), *listed_near])


def _table(kits: Sequence[KitFacts], width: int, *, missed: bool = False) -> str:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_edge=False)
    table.add_column("kit", justify="right", no_wrap=True)
    table.add_column("price", justify="right", no_wrap=True)
    restart = any(kit.restart for kit in kits)
    table.add_column("on restart; worst" if restart else "charge at worst", no_wrap=True)
    table.add_column("margin", justify="right", no_wrap=True)
    table.add_column("misses" if missed else "room", no_wrap=not missed)
    table.add_column("core + exchanger", overflow="fold")
    for kit in kits:
        marks = [kit.marks] if kit.marks and not missed else []
        notes = ", ".join((*marks, *kit.doubts))
        choice = "\n".join((kit.core, kit.front, *kit.beside, *([f"({notes})"] if notes else [])))
        table.add_row(
            *(
                Text(cell)
                for cell in (
                    kit.rank,
                    kit.price,
                    f"{kit.restart}; {kit.worst}" if restart else f"{kit.worst} ({kit.band})",
                    kit.margin,
                    kit.missed if missed else kit.room,
                    choice,
                )
            )
        )
    console = Console(width=width, color_system=None, force_terminal=False, highlight=False, markup=False)
    with console.capture() as captured:
        console.print(table)
    return "\n".join(line.rstrip() for line in captured.get().splitlines())


def _kit_block(kit: KitFacts, width: int) -> str:
    lines = [f"Kit {kit.rank}"]
    for slot, name, zone, turn in kit.parts:
        where = zone if zone == STAYS else f"in {zone}" if zone else ""
        lines += hung(slot, ", ".join(words for words in (name, where, turn) if words), width)
    lines.append("")
    for words, figure in kit.figures:
        lines += hung(words, figure, width)
    return "\n".join(lines)


def bill_block(
    title: str, bill: Sequence[tuple[str, str, str, str, str]], width: int, total: str, notes: Sequence[str]
) -> str:
    """A bill, group by group: quantity, price, item, part; its sum, and what its metres and words stand for."""
    wide = max(9, *(len(line[4]) for line in bill), len(total))
    lines = [title]
    group = ""
    for of_group, item, quantity, part, price in bill:
        if of_group != group:
            group = of_group
            lines.append(f"  {group}")
        text = f"{quantity:>9}  {price:>{wide}}  {item}" + (f" [{part}]" if part else "")
        lines += textwrap.wrap(
            text, width, initial_indent="    ", subsequent_indent=" " * (17 + wide), break_on_hyphens=False
        )
    lines.append(f"    {'sum':>9}  {total:>{wide}}")
    for note in notes:
        lines += textwrap.wrap(note, width, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False)
    prices = {row[4] for row in bill}
    key = [words for word, words in KEY.items() if word in prices]
    if key:
        lines.append(f"  {'; '.join(key)}")
    return "\n".join(lines)
