"""The fork before any kit in words: plain air-to-air, only ice, or no liquid loop at all, with the figures."""

from __future__ import annotations

from configurator.foundations.units import celsius


def fork_text(code: str, loop_k: float, other_k: tuple[float, float], ceiling_k: float, front: str, zone: str) -> str:
    """What is said before any kit; `loop_k`, `other_k` as of `questions.fork.Fork`; `front`: its spoken name."""
    cool, warm = (_degrees(kelvin) for kelvin in other_k)
    loop, aim = _degrees(loop_k), _degrees(ceiling_k)
    if code == "air-to-air":
        return (
            "Before you buy a liquid loop: this drive lasts until a loop is warm right through, and the front is open. "
            f"A plain air-to-air cooler with the face of {front}, in {zone}, usually comes to {cool} to {warm} degC "
            f"there, however long the drive; the aim is {aim} degC, and the coolest loop told here comes to {loop}. It "
            "needs no pump, coolant or current, but charge pipes to the front and back, which lose more pressure and "
            "boost (not reckoned here). Choose a loop where those pipes find no way, or where the hard drive is "
            "shorter."
        )
    colds = (
        f"with coolant that stays as cold as this brief allows, the best core here still leaves the charge at {loop} "
        f"degC at the worst moment, and the aim is {aim} degC."
    )
    iced = f"Coolant that stays at 0 degC could bring {cool} at best."
    if code == "only-ice":
        return f"Without ice no loop will do: {colds} {iced} State `ice` in the brief, or set a higher aim."
    return f"No liquid loop will do: {colds} {iced} Set a higher aim."


def _degrees(kelvin: float) -> str:
    return f"{celsius(kelvin):.0f}"
