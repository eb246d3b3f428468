"""What a sheet tells a workshop to do before and in the first runs, and that the bill has what it takes."""

from __future__ import annotations

import re
from functools import cache
from html import unescape
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.house.checkout import ROOT
from tests.journeys.checks import run


@cache
def sheet(name: str) -> str:
    """The sheet of an example as one line of text."""
    with TemporaryDirectory() as folder:
        out = Path(folder) / "sheet.html"
        run("sheet", str(ROOT / "examples" / f"{name}.yaml"), "-o", str(out))
        page = re.sub(r"<style.*?</style>|<[^>]+>", " ", out.read_text(encoding="utf-8"), flags=re.DOTALL)
    return " ".join(unescape(page).split())


def test_a_vented_reservoir_never_takes_the_air_of_the_leak_test() -> None:
    """The ice tank of the drag car is rated under what its loop is tested with."""
    told = sheet("drag")
    test = re.search(
        r"Water side, with air: first both hoses off the reservoir, plugged: no air into it "
        r"\(rated ([\d.]+) bar\), filling shows its leaks\. Then ([\d.]+) bar",
        told,
    )
    assert test and float(test[1]) < float(test[2])
    assert "with the same pressures, the reservoir still off," in told
    assert "Let the water of the leak test out, put the hoses back on the reservoir;" in told
    assert "25 mm plug for a hose off the reservoir, for the leak test 2 pieces bring" in told


def test_a_reservoir_under_a_cap_stays_in_the_leak_test() -> None:
    told = sheet("road")
    assert "Water side, with air: 0.50 to 0.75 bar (1.0 to 1.5 times the cap, p)" in told
    assert "off the reservoir" not in told and "the reservoir still off" not in told
