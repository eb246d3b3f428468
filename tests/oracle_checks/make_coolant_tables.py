"""Makes configurator/foundations/coolant_tables.json from CoolProp; run it by hand, from the top of the
checkout.

Glycols: CoolProp AEG and APG, which are fits of the ASHRAE Fundamentals tables of inhibited ethylene and
propylene glycol by VOLUME. (Its MEG and MPG are by mass and its INCOMP::Water is a loose fit: neither is
used.) Water: IAPWS-95, at 3 bar, so that the liquid goes on above 100 degC as it does in a capped loop.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import numpy as np
from CoolProp.CoolProp import PropsSI

TABLES = Path(__file__).parents[2] / "configurator" / "foundations" / "coolant_tables.json"
QUANTITIES = {"density": "D", "specific_heat": "C", "viscosity": "V", "conductivity": "L"}
SHARES = [round(0.05 * n, 2) for n in range(2, 13)]
GLYCOL_T_K = [238.15 + 5 * n for n in range(28)]
WATER_T_K = [273.16] + [273.15 + 5 * n for n in range(1, 27)]
PRESSURE_PA = 3e5


def make() -> dict[str, Any]:
    """The whole content of the file."""
    return {
        "source": "CoolProp: AEG, APG (ASHRAE tables, shares by volume), Water (IAPWS-95, 3 bar)",
        "ethylene glycol": _glycol("AEG"),
        "propylene glycol": _glycol("APG"),
        "water": {
            "t_k": WATER_T_K,
            "share": [0.0],
            "freezing_k": [273.15],
            **{
                name: [[_figures(PropsSI(letter, "T", t, "P", PRESSURE_PA, "Water")) for t in WATER_T_K]]
                for name, letter in QUANTITIES.items()
            },
        },
    }


def _glycol(fluid: str) -> dict[str, Any]:
    names = [f"INCOMP::{fluid}[{share}]" for share in SHARES]
    freezing = [PropsSI("T_freeze", "T", 300.0, "P", PRESSURE_PA, name) for name in names]
    rows = {
        quantity: [_row(letter, name, cold) for name, cold in zip(names, freezing, strict=True)]
        for quantity, letter in QUANTITIES.items()
    }
    return {"t_k": GLYCOL_T_K, "share": SHARES, "freezing_k": [_figures(t) for t in freezing], **rows}


def _row(letter: str, name: str, freezing_k: float) -> list[float]:
    """One share over all temperatures. Below freezing the row goes on in a straight line (viscosity: its
    logarithm),
    so that the cell in which the mixture freezes can be interpolated.
    """
    liquid = [t for t in GLYCOL_T_K if t > freezing_k]
    values = np.array([PropsSI(letter, "T", t, "P", PRESSURE_PA, name) for t in liquid])
    scaled = np.log(values) if letter == "V" else values
    frozen = len(GLYCOL_T_K) - len(liquid)
    below = [scaled[0] - (scaled[1] - scaled[0]) * step for step in range(frozen, 0, -1)]
    whole = np.concatenate([below, scaled])
    return [_figures(value) for value in (np.exp(whole) if letter == "V" else whole)]


def _figures(value: float) -> float:
    return float(f"{value:.7g}")


def text(tables: dict[str, Any]) -> str:
    """The file as it is written: a row of figures on one line."""
    spread = json.dumps(tables, indent=1)
    joined = re.sub(r",\n\s+(?=[-\d])", ", ", re.sub(r"\[\n\s+(?=[-\d])", "[", spread))
    return re.sub(r"(?<=\d)\n\s+\]", "]", joined) + "\n"


if __name__ == "__main__":
    TABLES.write_text(text(make()), encoding="utf-8")
