"""What one change buys, on a screen of 80 columns: what to buy first, what it costs and brings, what brings nothing."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

from configurator.presentation.improve_text import ROWS, improve_blocks
from configurator.questions.gains import Gain, Improvement, with_shown
from configurator.search.loosening import Change

FRONT = Gain(
    kind="exchanger", part="front-large", replaced="front-small", along=(), change=None, larger=True, runs=0, moved=(),
    layout="single", twins=(), margin_k=4.0, plateau_k=-20.0, recovery_s=-600.0, clearance_mm=-5.0, price_cents=16_000,
    mass_dry_g=900, current_a=0.0, breaks=(), newly=(),
)  # fmt: skip
PUMP = replace(FRONT, kind="pump", part="pump-b", replaced="pump-a", margin_k=0.2, larger=False)


def screen(*gains: Gain, missed: tuple[str, ...] = (), margin_k: float = 3.0, wide: bool = False, **more: Any) -> str:
    """The blocks for a kit, as they stand under each other."""
    thermal = SimpleNamespace(margin_k=margin_k, standstill=None, charge_out_worst_k=353.15 - margin_k)
    fit = SimpleNamespace(decided=True, clearance_mm=12.0)
    kit: Any = SimpleNamespace(rank=1, missed=missed, price_cents=100_000, thermal=thermal, fit=fit)
    ordered = tuple(with_shown(sorted(gains, key=lambda gain: -gain.margin_k)))
    told = Improvement(kit, ordered, ("exchanger", "pump", "reservoir"), more.get("enough_k", 6.0), False)
    blocks = improve_blocks(told, "EUR", wide=wide)
    text = "\n\n".join(block for block in blocks if block)
    assert all(len(line) <= 80 for line in text.splitlines())
    return text


def flowing(text: str) -> str:
    return " ".join(text.split())


def test_a_reader_learns_what_to_buy_first_its_price_and_what_it_brings() -> None:
    cheap = replace(FRONT, part="front-middle", margin_k=2.0, price_cents=4_000)
    text = flowing(screen(FRONT, cheap, PUMP))
    assert "buy first: larger front: front-middle, in place of front-small. It brings 2.0 K for 40.00 EUR more" in text


def test_what_takes_margin_at_the_bad_end_of_its_figures_is_not_bought_first_and_says_so() -> None:
    guessed = replace(FRONT, part="front-guessed", margin_k=2.0, price_cents=4_000, margin_low_k=-3.2)
    text = flowing(screen(replace(FRONT, margin_low_k=3.5), guessed))
    assert "buy first: larger front: front-large" in text
    assert "front-guessed: with every uncertain figure at its bad end it takes 3.2 K of margin." in text
    alone = flowing(screen(guessed))
    assert "buy first: larger front: front-guessed" in alone
    takes = "With every uncertain figure at its bad end it takes 3.2 K"
    assert f"the most margin for the money of what is told here. {takes}" in alone


def test_a_reader_learns_what_brings_nothing_and_what_does_not_go_in() -> None:
    text = flowing(screen(FRONT, PUMP))
    assert "or takes margin, the best of each kind: - another pump: pump-b: 0.2 K" in text
    assert "no part on this shelf joins, holds and fits: a larger tank." in text


def test_what_buys_just_too_little_is_not_told_as_half_a_kelvin() -> None:
    text = flowing(screen(FRONT, replace(PUMP, margin_k=0.48)))
    assert "Buys nothing (less than 0.5 K)" in text and "another pump: pump-b: 0.48 K" in text


def test_a_kit_that_keeps_its_aim_needs_none_of_it() -> None:
    assert "It keeps" not in (text := flowing(screen(FRONT)))
    assert "keeps the aim of 80 degC by 3.0 K: none of this is needed for that." in text
    assert "the brief counts no margin beyond 6 K" in flowing(screen(FRONT, margin_k=6.0))


def test_a_kit_short_of_its_aim_is_told_what_reaches_it_first() -> None:
    better = replace(FRONT, part="front-middle", margin_k=2.0, price_cents=4_000, breaks=("aim",))
    text = flowing(screen(FRONT, better, missed=("aim",), margin_k=-3.0))
    assert "Buy first: larger front: front-large" in text, "the cheaper one leaves the aim missed"
    assert "(still misses the aim)" in text and "Now it misses: aim; margin -3.0 K." in text


def test_nothing_worth_buying_is_said_plainly() -> None:
    text = flowing(screen(PUMP))
    assert "buy first: nothing. No single part on this shelf brings 0.5 K within the limits." in text
    assert "Margin gained" not in text


def test_what_no_shelf_sells_has_no_price_and_its_condition_beside_it() -> None:
    change = Change("start", 24.0, 5, "degC")
    chilled = replace(
        FRONT, kind="start", part=None, replaced=None, change=change, margin_k=11.0, price_cents=None, larger=False
    )
    text = screen(chilled, FRONT)
    row = next(line for line in text.splitlines() if line.startswith("coolant chilled to 5 degC"))
    assert "+11.0 K" in row and "not sold" in row
    assert "only where the class allows it" in flowing(text) and "buy first: larger front" in flowing(text)


def test_a_colder_start_that_a_long_drive_outlasts_is_never_said_to_take_margin() -> None:
    change = Change("start", 24.0, 5, "degC")
    chilled = replace(
        FRONT, kind="start", part=None, replaced=None, change=change, margin_k=-0.3, price_cents=None, larger=False
    )
    assert "coolant chilled to 5 degC: nothing, the drive outlasts it" in flowing(screen(chilled, FRONT))


def test_the_short_table_has_few_rows_and_the_wide_screen_every_change() -> None:
    kinds = [replace(FRONT, kind=kind, part=f"{kind}-{at}", margin_k=9.0 - at, price_cents=1000 * (9 - at))
             for kind in ("exchanger", "core", "pump", "reservoir", "fan", "timer") for at in range(3)]  # fmt: skip
    table = screen(*kinds).split("Margin gained")[0]
    assert sum("+" in line and " K " in line for line in table.splitlines()) <= ROWS
    every = screen(*kinds, wide=True).split("Every change that was tried:")[1]
    assert every.count("  - ") == len(kinds)


def test_what_a_timer_in_the_kit_is_worth_is_told() -> None:
    without = replace(
        FRONT, kind="timer", part=None, replaced="timer-5", margin_k=-7.8, price_cents=-2600, larger=False
    )
    assert "without the timer: 7.8 K less margin, 26.00 EUR less to pay" in flowing(screen(without))
