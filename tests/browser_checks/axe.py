"""axe-core, a general-purpose accessibility library: one version, fetched from its registry and held to its hash.

What it holds a page to are the success criteria of WCAG 2.0 to 2.2, levels A and AA (published), and its own best
practices. Fetched into a folder of the run's own by npm, for it is used by these checks alone.
"""

from __future__ import annotations

import hashlib
import json
import shutil
import subprocess
import tarfile
from dataclasses import dataclass
from pathlib import Path

from tests.browser_checks.browser import Browser

VERSION = "4.14.1"
SHA256 = "29348999450cdf2849a8e70b7912fc2da85a849da39c0d0d5394f51d4a9ed95c"
"""Of axe.min.js in that version's package."""
BARRED = frozenset({"serious", "critical"})
_ASK = "axe.run(document, {preload: false, resultTypes: ['violations']})"
_FOUND = (
    ".then((r) => JSON.stringify({version: r.testEngine.version, passed: r.passes.length, violations: r.violations.map("
    "(v) => ({rule: v.id, impact: v.impact, help: v.help, places: v.nodes.map((n) => n.target.join(' '))}))}))"
)


@dataclass(frozen=True)
class Violation:
    """A rule that a page breaks, with how bad that is and where."""

    rule: str
    impact: str
    help: str
    places: tuple[str, ...]


def fetched(folder: Path) -> str:
    """The script, from the registry of npm."""
    npm = shutil.which("npm")
    assert npm is not None, "no npm on this machine, and axe-core comes by it: apt-get install npm"
    told = subprocess.run(
        [npm, "pack", f"axe-core@{VERSION}", "--ignore-scripts", "--pack-destination", str(folder)],
        capture_output=True, text=True, timeout=120, cwd=folder, check=False,
    )  # fmt: skip
    assert told.returncode == 0, told.stderr
    with tarfile.open(folder / f"axe-core-{VERSION}.tgz") as package:
        member = package.extractfile("package/axe.min.js")
        assert member is not None
        script = member.read()
    return checked(script)


def checked(script: bytes) -> str:
    """The script, if it is the one that is meant."""
    assert hashlib.sha256(script).hexdigest() == SHA256, "this is not the axe-core that was looked over"
    return script.decode("utf-8")


def violations(browser: Browser, script: str) -> list[Violation]:
    """What axe finds on the page that is open."""
    browser.value(f"{script}\n;undefined")
    told = json.loads(browser.value(_ASK + _FOUND))
    assert told["version"] == VERSION and told["passed"] > 5
    return [Violation(one["rule"], one["impact"], one["help"], tuple(one["places"])) for one in told["violations"]]


def barred(found: list[Violation]) -> list[Violation]:
    """Those that no page may have; all others are printed."""
    for one in found:
        if one.impact not in BARRED:
            print(f"axe, {one.impact}: {one.rule}: {one.help}: {', '.join(one.places[:3])}")
    return [one for one in found if one.impact in BARRED]
