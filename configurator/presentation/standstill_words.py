"""The standstill of a kit in words: beside the worst of the drive, whichever of them the aim is for."""

from __future__ import annotations

from configurator.foundations.units import celsius
from configurator.joining.words import celsius_words
from configurator.prediction.report import StandstillTold, Thermal


def time_words(seconds: float) -> str:
    """A standstill or an after-run as people say it: whole minutes where it is some."""
    return f"{seconds / 60:g} min" if seconds >= 60 and seconds % 60 == 0 else f"{seconds:g} s"


def restart_band(told: StandstillTold) -> str:
    """The low and high end of the charge on the restart."""
    return f"{celsius(told.restart_good_end_k):.0f} to {celsius(told.restart_bad_end_k):.0f}"


def restart_sentence(t: Thermal, day: str, drive: str) -> str:
    """The middle of the first sentence, for an aim after a standstill; the words of `drive` and `day` go before it."""
    told = t.standstill
    assert told is not None
    judged = f"{celsius_words(told.restart_k)} ({restart_band(told)})"
    return (
        f"after {drive} on {day} and {time_words(told.seconds)} standstill the engine restarts with the charge "
        f"at {judged}; at worst the drive has it at {celsius_words(t.charge_out_worst_k)}"
    )


def standstill_rows(told: StandstillTold | None, *, fan: bool) -> tuple[tuple[str, str], ...]:
    """What happens while the car stands and on the restart; nothing where the aim names no standstill.

    `fan`: whether the kit has one.
    """
    if told is None:
        return ()
    what = "pump and fan" if fan else "pump"
    bay = f"bay at {celsius_words(told.bay_k)}"
    if told.after_run_s <= 0.0:
        runs = "pump off at key-off"
    elif told.after_run_s < told.seconds:
        runs = f"{what} on for {time_words(told.after_run_s)} of it"
    else:
        runs = f"{what} on all the while"
    return (
        (
            "charge on restart",
            f"{celsius_words(told.restart_k)} ({restart_band(told)}) at idle after {time_words(told.seconds)} "
            f"standstill, engine off, {bay}, {runs}; {celsius_words(told.pull_away_k)} if full power follows at "
            "once",
        ),
    )
