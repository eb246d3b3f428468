"""The commissioning sheet for other programs: figures with what they may read, leak tests, bleed points."""

from __future__ import annotations

from typing import Any

from configurator.foundations.units import celsius
from configurator.presentation.commission_rows import rows_of
from configurator.presentation.commission_words import missing
from configurator.questions.commissioning import TEST_S, Commissioning, LeakTest

_DIGITS = 2


def commission_json(sheet: Commissioning) -> dict[str, Any]:
    """The sheet as plain data; a pressure that no rating allows to be named is null."""
    return {
        "air_c": round(celsius(sheet.runs.air_k), _DIGITS),
        "figures": [
            {
                "step": row.step,
                "figure": row.code,
                "predicted": round(row.predicted, _DIGITS),
                "low": None if row.low is None else round(row.low, _DIGITS),
                "high": round(row.high, _DIGITS),
                "tolerance_from": row.by,
            }
            for row in rows_of(sheet)
        ],
        "heat": {
            "coolant_w_per_k": round(sheet.runs.rate_w_per_k.nominal, 1),
            "pull_coolant_w": round(sheet.runs.pull_coolant_w.nominal, 1),
            "pull_charge_w": round(sheet.runs.pull_charge_w.nominal, 1),
            "settles_s": round(sheet.runs.settles_s.nominal, 1),
        },
        "leak_tests": [_test(test) for test in sheet.leak_tests],
        "bleed_points": [
            {
                "number": point.number,
                "slot": point.slot,
                "port": None if point.port is None else point.port.name,
                "top_mm": point.top_mm,
                "above_reservoir": point.above_reservoir,
                "fill_tower": point.tower,
            }
            for point in sheet.bleed_points
        ],
        "coolant": {
            "kind": sheet.coolant.kind,
            "glycol_by_volume": round(sheet.coolant.glycol_by_volume, 4),
            "fill_l": round(sheet.fill_l, _DIGITS),
        },
        "cap_opens_pa_gauge": None if sheet.cap_pa_gauge is None else round(sheet.cap_pa_gauge),
        "boost_pa_gauge": round(sheet.boost_pa_gauge),
        "missing": list(missing(sheet)),
    }


def _test(test: LeakTest) -> dict[str, Any]:
    known = test.weakest is not None
    return {
        "side": test.side,
        "low_pa_gauge": round(test.low_pa) if known else None,
        "high_pa_gauge": round(test.high_pa) if known else None,
        "seconds": TEST_S if test.side == "coolant" else None,
        "reservoir_shut_off": test.vented,
        "weakest": None
        if test.weakest is None
        else {"part": test.weakest.part, "place": test.weakest.place, "rating_pa_gauge": round(test.weakest_pa)},
        "unrated": list(test.unrated),
    }
