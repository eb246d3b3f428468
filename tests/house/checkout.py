"""The checkout that is under test, and the command run in it as a user would."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "configurator"
GUIDE = ROOT / "examples" / "guide"


def kitwright(*arguments: str, cwd: Path = ROOT) -> subprocess.CompletedProcess[str]:
    """Run the command in a process of its own: 80 columns, no colour, no catalogue of the caller's."""
    environment = {key: value for key, value in os.environ.items() if key != "KITWRIGHT_CATALOGUE"}
    environment |= {"COLUMNS": "80", "NO_COLOR": "1", "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8"}
    command = [sys.executable, "-m", "configurator", *arguments]
    return subprocess.run(command, cwd=cwd, env=environment, capture_output=True, encoding="utf-8", check=False)


def text_files() -> list[Path]:
    """Every file of the product that people write, at its fixed places."""
    found = [ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "pyproject.toml", ROOT / ".gitignore"]
    found += [ROOT / ".ci" / "run"] if (ROOT / ".ci").is_dir() else []
    for folder in ("configurator", "catalogue", "tests", "examples"):
        found += [
            path
            for path in sorted((ROOT / folder).rglob("*"))
            if path.is_file() and "__pycache__" not in path.parts and path.suffix not in (".pyc", ".png")
        ]
    return found
