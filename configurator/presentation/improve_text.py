"""What one change of a kit buys, in the terminal: a short table, what to buy first, and what buys nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from configurator.foundations.units import celsius
from configurator.joining.words import told_apart
from configurator.presentation.bill_words import money
from configurator.presentation.lines import WIDTH, listed, wrapped
from configurator.questions.gains import NOTHING_K, Gain, Improvement
from configurator.reasons.improve_words import LIMITS, change_words, kind_words, note_of

ROWS = 8
"""As many rows as a person takes in at once; `--wide` tells every change."""

COLUMNS = ("change", "margin\ngained", "plateau\nmoves", "price\nmore", "gained\nper 100", "room\nleft")
KEY = (
    "Margin gained: how much cooler the charge gets at {when}. Plateau: the charge if this drive never ends, minus is "
    "cooler. Gained per 100: margin for each 100 of price. Room left: the gap round every part{now}."
)
BUYS_NOTHING = f"Buys nothing (less than {NOTHING_K:g} K) or takes margin"
NONE_FITS = "Tried, and no part on this shelf joins, holds and fits"
BEFORE_BUYING = (
    "Each row is a whole kit with its hoses, adapters and clamps priced again. It has joints and cautions of its own: "
    "see them before you buy, with `kitwright check` and its parts."
)
_TAKES = "With every uncertain figure at its bad end it takes {:.1f} K of margin"
_OF_FAN = {"fan", "timer", "fan and timer"}


def improve_blocks(told: Improvement, currency: str, *, wide: bool) -> tuple[str, ...]:
    """The blocks of the screen; `wide` adds every change that was tried, one by one."""
    shown = told.shown[:ROWS]
    blocks = [wrapped(_title(told, currency), WIDTH), wrapped(_first(told, currency), WIDTH)]
    if shown:
        when = "its worst moment" if told.kit.thermal.standstill is None else "the restart"
        now = f", {told.kit.fit.clearance_mm:g} mm now" if told.kit.fit.decided else ""
        blocks += [_table(shown, told.kit.fit.clearance_mm), wrapped(KEY.format(when=when, now=now), WIDTH)]
    blocks.append(listed("Mind", tuple(dict.fromkeys(_notes(shown))), WIDTH))
    blocks.append(listed(f"{BUYS_NOTHING}, the best of each kind", tuple(_nothing(told)), WIDTH))
    blocks.append(listed("What is in it already", tuple(_in_it(told, currency)), WIDTH))
    blocks.append(wrapped(_none_fits(told), WIDTH))
    if shown:
        blocks.append(wrapped(BEFORE_BUYING, WIDTH))
    if wide:
        every = tuple(gain_text(gain, currency) for gain in told.gains)
        blocks.append(listed("Every change that was tried", every, WIDTH))
    return tuple(blocks)


def improve_sentences(told: Improvement, currency: str) -> tuple[str, ...]:
    """The same for a page: what to buy first, each change of the short table with its figures, what buys nothing."""
    return (
        _title(told, currency),
        _first(told, currency),
        *(f"{gain_text(gain, currency)}." for gain in told.shown[:ROWS]),
        *(note for note in dict.fromkeys(_notes(told.shown[:ROWS]))),
        *(f"{BUYS_NOTHING}: {words}." for words in _nothing(told)),
        *(f"What is in it already: {words}." for words in _in_it(told, currency)),
    )


def gain_text(gain: Gain, currency: str) -> str:
    """One change with all its figures, in a sentence."""
    figures = [
        f"margin {_more(gain.margin_k)} K",
        f"plateau {_more(gain.plateau_k)} K",
        "recovery not known" if gain.recovery_s is None else f"recovery {_more(gain.recovery_s / 60)} min",
        "room not known" if gain.clearance_mm is None else f"room {_more(gain.clearance_mm)} mm",
        "no price on this shelf" if gain.price_cents is None else f"price {_signed(gain.price_cents, currency)}",
        f"dry mass {_more(gain.mass_dry_g / 1e3, 2)} kg",
        f"current {_more(gain.current_a)} A",
    ]
    if gain.kelvin_per_100 is not None:
        figures.append(f"{gain.kelvin_per_100:.1f} K per 100")
    moved = "".join(f"; {slot} then in {zone}" for slot, zone in gain.moved)
    runs = f"; on {gain.runs} run{'s' if gain.runs > 1 else ''}" if gain.runs else ""
    broken = f"; {_broken(gain)}" if gain.breaks else ""
    return f"{change_words_of(gain)}{_instead(gain)}: {', '.join(figures)}{runs}{moved}{broken}"


def _title(told: Improvement, currency: str) -> str:
    kit, margin = told.kit, told.kit.thermal.margin_k
    name = "your kit" if told.in_box else f"kit {kit.rank} of the closest" if kit.missed else f"kit {kit.rank}"
    price = "" if told.in_box else f" ({money(kit.price_cents, currency)})"
    text = f"What one change of {name}{price} buys, all else as it is."
    if kit.missed:
        return f"{text} Now it misses: {', '.join(kit.missed)}; margin {margin:+.1f} K."
    stood = kit.thermal.standstill
    reached_k = kit.thermal.charge_out_worst_k if stood is None else stood.restart_k
    aim = f"the aim of {reached_k + celsius(margin):.0f} degC"
    needless = f"{text} Now it keeps {aim} by {margin:.1f} K: none of this is needed for that"
    if margin >= told.enough_k:
        needless += f", and the brief counts no margin beyond {told.enough_k:.3g} K"
    return f"{needless}."


def _first(told: Improvement, currency: str) -> str:
    """What to buy first: most margin for the money, of the short table's that is sold and breaks no limit."""
    sold = [gain for gain in told.shown if not gain.newly and gain.price_cents is not None]
    first_of_all = "Buy first" if told.kit.missed else "If anything, buy first"
    if not sold:
        return f"{first_of_all}: nothing. No single part on this shelf brings {NOTHING_K:g} K within the limits."
    sure = [gain for gain in sold if not gain.unsure] or sold
    first = max([gain for gain in sure if not gain.breaks] or sure, key=_worth)
    among = "of what is told here" + (" and gains at its bad end too" if len(sure) < len(sold) else "")
    paid = first.price_cents or 0
    cost = f"{money(abs(paid), currency)} {'more' if paid > 0 else 'less'} to pay" if paid else "the same price"
    brings = f"It brings {first.margin_k:.1f} K for {cost}, the most margin for the money {among}."
    brings += f" {_TAKES.format(-(first.margin_low_k or 0.0))}." if first.unsure else ""
    return f"{first_of_all}: {change_words_of(first)}{_instead(first)}. {brings}"


def _worth(gain: Gain) -> tuple[float, float]:
    """Margin for the money; what costs nothing comes before all else, the most margin first."""
    per_100 = gain.kelvin_per_100
    return (float("inf") if per_100 is None else per_100, gain.margin_k)


def _table(shown: Sequence[Gain], room_mm: float) -> str:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_edge=False)
    for name in COLUMNS:
        table.add_column(name, justify="left" if name == "change" else "right", no_wrap=name != "change")
    for gain in shown:
        words = change_words_of(gain).replace(": ", ":\n", 1) if gain.part is not None else change_words_of(gain)
        cells = (
            f"{words}\n({_broken(gain)})" if gain.breaks else words,
            f"{_more(gain.margin_k)} K",
            f"{_more(gain.plateau_k)} K",
            "not sold" if gain.price_cents is None else _signed(gain.price_cents, ""),
            "-" if gain.kelvin_per_100 is None else f"{gain.kelvin_per_100:.1f} K",
            "-" if gain.clearance_mm is None else f"{room_mm + gain.clearance_mm:g} mm",
        )
        table.add_row(*(Text(cell) for cell in cells))
    console = Console(width=WIDTH, color_system=None, force_terminal=False, highlight=False, markup=False)
    with console.capture() as captured:
        console.print(table)
    return "\n".join(line.rstrip() for line in captured.get().splitlines())


def _notes(shown: Sequence[Gain]) -> Iterator[str]:
    for gain in shown:
        if note := note_of(gain.kind, gain.change):
            yield f"{change_words_of(gain)}: {note}."
        if gain.unsure:
            yield f"{change_words_of(gain)}: {_TAKES[0].lower()}{_TAKES[1:].format(-(gain.margin_low_k or 0.0))}."


def _nothing(told: Improvement) -> Iterator[str]:
    """Of each kind that buys nothing the best there is; of cores the best larger one too."""
    for kind in dict.fromkeys(gain.kind for gain in told.gains):
        tried = [gain for gain in told.gains if gain.kind == kind and not gain.takes_out]
        if not tried or tried[0].margin_k >= NOTHING_K:
            continue
        best = [tried[0], *[gain for gain in tried if gain.larger][:1]] if kind == "core" else tried[:1]
        yield "; ".join(f"{change_words_of(gain)}: {_brings(gain)}" for gain in dict.fromkeys(best))


def _in_it(told: Improvement, currency: str) -> Iterator[str]:
    """What a fan or a timer that the kit has is worth."""
    for gain in told.gains:
        if gain.takes_out:
            yield f"{change_words_of(gain)}: {_brings(gain)}, {money(-(gain.price_cents or 0), currency)} less to pay"


def _none_fits(told: Improvement) -> str:
    """Kinds of change for which no part goes in, everything else held."""
    found = {gain.kind for gain in told.gains if not gain.takes_out}
    if found & _OF_FAN:
        found |= _OF_FAN
    none = [kind_words(kind) for kind in told.tried if kind not in found]
    return f"{NONE_FITS}: {', '.join(none)}." if none else ""


def change_words_of(gain: Gain) -> str:
    """One change in few words, with the ids of what goes in."""
    return change_words(
        gain.kind, gain.part, gain.replaced, gain.along, gain.change, gain.twins, larger=gain.larger
    )


def _instead(gain: Gain) -> str:
    return f", in place of {gain.replaced}" if gain.replaced is not None and gain.part is not None else ""


def _broken(gain: Gain) -> str:
    """The limits that the changed kit breaks; an aim that was missed before is still missed."""
    still = {"aim"} - set(gain.newly)
    return ", ".join(f"still {LIMITS[code]}" if code in still else LIMITS[code] for code in gain.breaks)


def _more(figure: float, digits: int = 1) -> str:
    """A figure with its sign, and no sign where it is rounded to nothing."""
    rounded = round(figure, digits)
    return f"{'+' if rounded > 0 else '-' if rounded < 0 else ''}{abs(rounded):.{digits}f}"


def _signed(cents: int, currency: str) -> str:
    return f"{'-' if cents < 0 else '+' if cents > 0 else ''}{money(abs(cents), currency)}"


def _brings(gain: Gain) -> str:
    if gain.kind == "start" and gain.margin_k < 0.05:
        # No colder start makes a charge hotter. One temperature stands for the coolant of the whole drive, and as that
        # falls the flow does: a few tenths of a kelvin at the end of a long drive, which are none.
        return "nothing, the drive outlasts it"
    if abs(gain.margin_k) < 0.05:
        return "0.0 K"
    if gain.margin_k < 0:
        return f"{-gain.margin_k:.1f} K less margin"
    return told_apart(gain.margin_k, NOTHING_K, "K", 1)[0]  # what buys nothing is not told as the least that buys some
