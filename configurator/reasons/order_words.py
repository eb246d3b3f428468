"""Why one kit stands before another, and what would turn that round, in words."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.search.loosening import Change

_SAME: Mapping[str, str] = {
    "proven": "kit 1 is proven, this one is not: some part of it states no rating, or its fit is not decided",
    "ids": "nothing but the ids of its parts: all else that the order looks at is equal",
}


def step_text(step: str, first: str, this: str) -> str:
    """What decided between kit 1 and another; `first`, `this`: their figures in that step, ready to print."""
    if step == "margin":
        return f"margin at the low end, in steps of 2 K up to what is enough: kit 1 has {first}, this one {this}"
    if step == "room":
        return f"room, in steps of 5 mm up to 25 mm: kit 1 has {first}, this one {this}; the margin counts the same"
    if step == "price":
        return f"price: kit 1 costs {first}, this one {this}; margin and room count the same"
    return _SAME[step]


def flip_text(change: Change, kit: str, part: str, dearer: str) -> str:
    """What would put another kit first. `kit`: its name; `part`, `dearer`: whose price, and by how much it rises."""
    before, after = (f"{figure:,.2f}".rstrip("0").rstrip(".") for figure in (change.before, change.after))
    wish = {
        "enough": f"if {after} K of margin were `enough` instead of {before} K",
        "aim": f"with an aim of {after} {change.unit} instead of {before}",
        "air": f"on a day of {after} degC instead of {before}",
        "driving": f"driven at {after} % of this drive's shares of power",
        "price": f"if {part} cost {dearer} more",
    }[change.what]
    return f"{wish}: {kit}"
