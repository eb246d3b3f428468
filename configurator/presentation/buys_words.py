"""What a kit buys in density of the charge, and the warmer air it hands on, in words."""

from __future__ import annotations

from configurator.prediction.what_it_buys import Bought


def buys_rows(bought: Bought, power_w: float) -> tuple[tuple[str, str], ...]:
    """The rows of a kit's figures: density, and the air behind each exchanger; `power_w`: the engine's."""
    if not bought.air_rises:
        return (("what it buys", _density_words(bought, power_w)),)
    worst = " and ".join(f"{rise.at_worst_k:.0f}" for rise in bought.air_rises)
    mean = " and ".join(f"{rise.mean_k:.0f}" for rise in bought.air_rises)
    return (
        ("what it buys", _density_words(bought, power_w)),
        (
            "air behind the front",
            f"hands air {worst} K warmer to the radiator behind it at the worst moment, {mean} K in the mean of the "
            "drive",
        ),
    )


def _density_words(bought: Bought, power_w: float) -> str:
    low, high = (round(100 * gain) for gain in (bought.density_gain_low, bought.density_gain_high))
    span = f"{low} %" if low == high else f"{low} to {high} %"
    gain = f"denser charge by {span}" if low > 0 else f"no sure gain in density, {span}"
    share = f"{100 * bought.pump_w / power_w:.2f} %"
    return (
        f"{gain} against no cooling, hottest at hardest power, the pressure lost taken off; the pump takes "
        f"{bought.pump_w:.0f} W, {share} of the engine's power; no promise of power"
    )
